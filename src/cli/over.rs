//! `draw --over`: the linkage over the picture that its sketch was read off.

use super::args::DrawArgs;
use super::files::shown;
use super::load::load;
use super::loads::say;
use super::outputs::Outputs;
use super::points::picture;
use super::position::positions;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::model::GripId;
use crate::output::over_picture;
use crate::report::drawing_report;
use crate::scene::{scenes, sketched};
use std::path::Path;

pub(super) fn over(args: &DrawArgs, file: &Path, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    let Some(pixels) = loaded.pixels else {
        return Err(Stop::input(format!(
            "error: --over: {} has no [sketch] with `scale` and `origin`, which say how the tool lies on a picture; \
             `jawforce points {}` makes a page to read one off",
            loaded.text.name,
            shown(file)
        )));
    };
    let picture = picture(file)?;
    let inputs = [loaded.inputs.as_slice(), &[file.to_path_buf()]].concat();
    let outputs = Outputs::prepare(&[("--svg", &args.svg)], false, &inputs)?;
    let direction = Direction::of(args.opening);
    let scenes = match &args.at {
        None => sketched(loaded.tool()),
        Some(text) => {
            let positions = positions(loaded.tool(), text)?;
            if positions.len() > 1 {
                return Err(Stop::input(
                    "error: --over: one position is drawn over a picture; name one with --at",
                ));
            }
            let mut rig = loaded.rig(direction)?;
            scenes(&mut rig, &positions, GripId::FIRST)
                .map_err(|e| say(e, &loaded, "a position"))?
        }
    };
    let (source, units) = (loaded.source(), loaded.units);
    let report = drawing_report(loaded.tool(), &scenes, None, direction, &source, units);
    let text = over_picture(&report, &picture, &pixels).map_err(Stop::bug)?;
    let Some(name) = &args.svg else {
        streams.print(&text)?;
        return Ok(Exit::Done);
    };
    outputs.finish(streams, [Some(text)], |_| {
        let done = format!("{}: the linkage over {}.\n", shown(name), shown(file));
        Ok(if args.tool.quiet { String::new() } else { done })
    })?;
    Ok(Exit::Done)
}
