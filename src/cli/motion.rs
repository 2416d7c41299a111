//! The tool in motion, for `report` and for `draw --page`.

use super::args::DrawArgs;
use super::load::load;
use super::loaded::Loaded;
use super::loads::say;
use super::outputs::Outputs;
use super::stroke::stroke_in;
use super::{Exit, Stop, Streams};
use crate::analysis::{Direction, LoadsError};
use crate::model::{At, GripId};
use crate::output::motion_page;
use crate::report::{
    MotionReport, StrokeReport, ToolInMotion, drawing_report, motion_report, motion_rows,
};
use crate::scene::{poses, scenes};

/// Where the parts stand at the positions of a stroke.
pub(super) fn motion(
    loaded: &Loaded,
    stroke: &StrokeReport,
    direction: Direction,
) -> Result<Option<MotionReport>, Stop> {
    let rows = motion_rows(stroke);
    let solved = loaded.stroke(direction)?;
    let positions = rows.iter().filter_map(|row| solved.positions.get(*row));
    let mut rig = loaded.rig(direction)?;
    let frames = poses(&mut rig, positions.map(|p| p.pace)).map_err(|e| lost(e, loaded))?;
    Ok(motion_report(loaded.tool(), stroke, rows, &frames))
}

fn lost(error: LoadsError, loaded: &Loaded) -> Stop {
    say(error, loaded, "a position")
}

/// `draw --page`.
pub(super) fn page(args: &DrawArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    let outputs = Outputs::prepare(&[("--page", &args.page)], false, &loaded.inputs)?;
    let direction = Direction::of(args.opening);
    let stroke = stroke_in(loaded.units, &loaded, direction)?;
    let scenes = scenes(
        &mut loaded.rig(direction)?,
        &[At::Open, At::Shut],
        GripId::FIRST,
    )
    .map_err(|e| lost(e, &loaded))?;
    let (source, units) = (loaded.source(), loaded.units);
    let drawing = drawing_report(loaded.tool(), &scenes, None, direction, &source, units);
    let motion = motion(&loaded, &stroke, direction)?;
    let motion = motion.ok_or_else(|| Stop::bug("a stroke without positions"))?;
    let report = ToolInMotion {
        version: env!("CARGO_PKG_VERSION"),
        stroke,
        drawing,
        motion,
    };
    let text = outputs.text("--page", || motion_page(&report))?;
    let size = text.as_ref().map_or(0, |text| text.len().div_ceil(1024));
    outputs.finish(streams, [text], |_| Ok(String::new()))?;
    if let (Some(file), false) = (&args.page, args.tool.quiet) {
        let name = file.display();
        streams.tell(&format!(
            "wrote {name}, {size} kB; it opens in any browser, and its still pictures print from there"
        ));
    }
    Ok(Exit::Done)
}
