//! `new`: starter files.

use super::args::{Concept, NewArgs};
use super::files::{Target, keep};
use super::outputs::failed;
use super::{Exit, Stop, Streams};
use std::path::Path;

pub(super) fn run(args: &NewArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let text = match args.concept {
        Concept::Pliers => include_str!("starters/pliers.toml"),
        Concept::Toggle => include_str!("starters/toggle.toml"),
        Concept::Plunger => include_str!("starters/plunger.toml"),
        Concept::Compound => include_str!("starters/compound.toml"),
    };
    let file = args.output.as_ref().filter(|p| *p != Path::new("-"));
    let Some(path) = file else {
        streams.print(text)?;
        return Ok(Exit::Done);
    };
    keep(path, args.force).map_err(failed)?;
    let target = Target::prepare(path, &[]).map_err(failed)?;
    target.write(text.to_owned()).map_err(failed)?;
    streams.tell(&format!(
        "wrote {}; now: jawforce stroke {}",
        path.display(),
        path.display()
    ));
    Ok(Exit::Done)
}
