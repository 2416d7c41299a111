//! `new`: starter files.

use super::args::{Concept, NewArgs};
use super::files::{Target, keep};
use super::outputs::failed;
use super::{Exit, Stop, Streams};
use crate::units::UnitSystem;
use std::path::Path;

pub(super) fn run(args: &NewArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let inch = args.units == UnitSystem::InLbf.name();
    let text = starter(args.concept, inch);
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

/// The starter of a concept, in inches and pounds-force or in millimetres and newtons.
fn starter(concept: Concept, inch: bool) -> &'static str {
    let [metric, imperial] = match concept {
        Concept::Pliers => [
            include_str!("starters/pliers.toml"),
            include_str!("starters/inch/pliers.toml"),
        ],
        Concept::Toggle => [
            include_str!("starters/toggle.toml"),
            include_str!("starters/inch/toggle.toml"),
        ],
        Concept::Plunger => [
            include_str!("starters/plunger.toml"),
            include_str!("starters/inch/plunger.toml"),
        ],
        Concept::Compound => [
            include_str!("starters/compound.toml"),
            include_str!("starters/inch/compound.toml"),
        ],
        Concept::Nests => [
            include_str!("starters/nests.toml"),
            include_str!("starters/inch/nests.toml"),
        ],
        Concept::Geared => [
            include_str!("starters/geared.toml"),
            include_str!("starters/inch/geared.toml"),
        ],
        Concept::Cam => [
            include_str!("starters/cam.toml"),
            include_str!("starters/inch/cam.toml"),
        ],
        Concept::Picture => [
            include_str!("starters/picture.toml"),
            include_str!("starters/inch/picture.toml"),
        ],
    };
    if inch { imperial } else { metric }
}
