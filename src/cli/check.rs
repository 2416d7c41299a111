//! `check`: what a file describes, and every problem in it.

use super::args::CheckArgs;
use super::load::load;
use super::loaded::Loaded;
use super::locate::stop;
use super::measure::read_demands;
use super::verdict::{complete, look_at_made};
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::output::{check_text, demands_text};
use crate::report::{check_report, stroke_report};

pub(super) fn run(args: &CheckArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let mut worst = Exit::Done;
    for (k, path) in args.files.iter().enumerate() {
        if k > 0 && !args.json && !args.tool.quiet {
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

fn one(loaded: &Loaded, args: &CheckArgs, streams: &mut Streams) -> Result<Exit, Stop> {
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
    let stroke = if args.demands {
        let made = look_at_made(loaded, Direction::Closing)?;
        let read = read_demands(loaded, Direction::Closing)?;
        let (source, units) = (loaded.source(), loaded.units);
        let mut stroke = stroke_report(loaded.tool(), solved, &read, &source, units);
        let made = made
            .as_ref()
            .map(|made| made.as_ref().map_err(String::as_str));
        complete(&mut stroke.verdict, loaded, Direction::Closing, made)?;
        // What was assumed has a list of its own here.
        stroke.verdict.assumed.clear();
        Some(stroke)
    } else {
        None
    };
    if let Some(stroke) = &stroke {
        report.verdict = stroke.verdict.clone();
        report.unread_demands = 0;
        report.demands = Some(stroke.demands.clone());
    }
    let text = streams.answer(args.json, args.tool.quiet, &report, |width| {
        let demands = stroke.as_ref().map(|s| demands_text(s, width));
        check_text(&report, width) + &demands.unwrap_or_default()
    })?;
    streams.print(&text)?;
    let met = stroke.is_none_or(|s| s.demands.iter().all(|d| d.met) && !s.verdict.hand_fails());
    Ok(if met { Exit::Done } else { Exit::NotMet })
}
