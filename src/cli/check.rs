//! `check`: what a file describes, and every problem in it.

use super::args::CheckArgs;
use super::load::load;
use super::loaded::Loaded;
use super::locate::stop;
use super::stroke::judged_stroke;
use super::verdict::ending;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::model::{At, GripId};
use crate::output::{check_text, demands_text, json_text};
use crate::report::{CheckReport, StrokeReport, check_report, plates_report, room_report};
use crate::scene::scenes;

pub(super) fn run(args: &CheckArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    if args.json {
        return data(args, streams);
    }
    let mut worst = Exit::Done;
    for (k, path) in args.files.iter().enumerate() {
        if k > 0 && !args.tool.quiet {
            streams.print("\n")?;
        }
        let ended = load(path, &args.tool).and_then(|loaded| one(&loaded, args, streams));
        match ended {
            Ok(outcome) => worst = worst.max(outcome),
            Err(stop) => worst = worst.max(streams.stopped(&stop)),
        }
    }
    Ok(worst)
}

/// JSON whatever happens: one object for one file, one list for several.
fn data(args: &CheckArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let (mut worst, mut texts) = (Exit::Done, Vec::new());
    for path in &args.files {
        let found = load(path, &args.tool).and_then(|loaded| report(&loaded, args, streams));
        let (outcome, text) = match found {
            Ok((found, _, outcome)) => (outcome, json_text(&found).map_err(Stop::bug)?),
            Err(stop) => {
                let text = json_text(&stop.data()).map_err(Stop::bug)?;
                (streams.stopped(&stop), text)
            }
        };
        worst = worst.max(outcome);
        texts.push(text.trim_end().to_owned());
    }
    match texts.as_slice() {
        [one] => streams.print(&format!("{one}\n"))?,
        all => streams.print(&format!("[\n{}\n]\n", all.join(",\n")))?,
    }
    Ok(worst)
}

fn one(loaded: &Loaded, args: &CheckArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let (report, stroke, outcome) = report(loaded, args, streams)?;
    let text = streams.answer(false, args.tool.quiet, &report, |width| {
        let demands = stroke.as_ref().map(|s| demands_text(s, width));
        check_text(&report, width, args.all) + &demands.unwrap_or_default()
    })?;
    streams.print(&text)?;
    Ok(outcome)
}

/// What a file describes, its stroke where demands are asked for, and how the run ends for it.
fn report(
    loaded: &Loaded,
    args: &CheckArgs,
    streams: &mut Streams,
) -> Result<(CheckReport, Option<StrokeReport>, Exit), Stop> {
    if !args.tool.quiet {
        streams.advise(&loaded.advice, &loaded.text);
    }
    let solved = loaded.stroke(Direction::Closing)?;
    let given = |key: &str| {
        let by_hand = key == "hand.force" && args.tool.hand_force.is_some();
        by_hand || loaded.spans.contains_key(key)
    };
    let mut report = check_report(
        loaded.tool(),
        solved,
        &loaded.source(),
        loaded.units,
        &given,
    );
    if let Some(eaten) = loaded.analysis.eaten_margin() {
        report.add_margin(&eaten, loaded.units);
    }
    if !loaded.tool().springs.is_empty() {
        let seen = loaded.analysis.springs().map_err(|e| stop(e, loaded))?;
        report.add_springs(loaded.tool(), &seen, loaded.units);
    }
    report.add_wound(loaded.tool(), &loaded.wound_springs()?, loaded.units);
    if !loaded.tool().outlines.is_empty() {
        let ends = [At::Open, At::Shut];
        let ends = scenes(&mut loaded.rig(Direction::Closing)?, &ends, GripId::FIRST).ok();
        report.plates = plates_report(loaded.tool(), ends.as_ref(), loaded.units);
        let seen = loaded.analysis.room().map_err(|e| stop(e, loaded))?;
        let whole = loaded.rig(Direction::Closing)?.whole();
        report.room = room_report(loaded.tool(), seen, whole, loaded.units);
    }
    let stroke = match args.demands {
        true => Some(judged_stroke(loaded, Direction::Closing)?),
        false => None,
    };
    if let Some(stroke) = &stroke {
        report.verdict = stroke.verdict.clone();
        // What was assumed has a list of its own here.
        report.verdict.assumed.clear();
        report.unread_demands = 0;
        report.demands = Some(stroke.demands.clone());
    }
    let outcome = stroke.as_ref().map_or(Exit::Done, ending);
    Ok((report, stroke, outcome))
}
