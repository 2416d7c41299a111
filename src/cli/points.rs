//! `points`: a page in which the pins and marks of a tool are read off a picture.

use super::args::PointsArgs;
use super::files::{read_picture, shown};
use super::outputs::{Outputs, failed};
use super::{Exit, Stop, Streams};
use crate::output::{Picture, points_page};
use std::path::Path;

pub(super) fn run(args: &PointsArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let picture = picture(&args.picture)?;
    let asked = [("--output", &args.output)];
    let outputs = Outputs::prepare(&asked, false, std::slice::from_ref(&args.picture))?;
    let name = args.picture.file_name().unwrap_or_default();
    let name = name.to_string_lossy();
    let page = points_page(&picture, &name, env!("CARGO_PKG_VERSION")).map_err(Stop::bug)?;
    let Some(file) = &args.output else {
        streams.print(&page)?;
        return Ok(Exit::Done);
    };
    let size = page.len().div_ceil(1024);
    outputs.finish(streams, [Some(page)], |_| Ok(String::new()))?;
    if !args.quiet && file != Path::new("-") {
        streams.tell(&format!(
            "wrote {}, {size} kB; open it in a browser, click the pins, and copy what it shows into a tool file",
            shown(file)
        ));
    }
    Ok(Exit::Done)
}

/// A picture from its file.
pub(super) fn picture(path: &Path) -> Result<Picture, Stop> {
    let bytes = read_picture(path).map_err(failed)?;
    Picture::of(bytes).map_err(|why| failed(format!("{}: {why}", shown(path))))
}
