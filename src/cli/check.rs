//! `check`: what a file describes, and every problem in it.

use super::args::CheckArgs;
use super::load::{Loaded, load, solved};
use super::{Outcome, Stop, Streams};
use crate::analysis::Direction;
use crate::input::render_all;
use crate::report::check_report;

pub(super) fn run(args: &CheckArgs, streams: &mut Streams) -> Result<Outcome, Stop> {
    let mut worst = Outcome::Done;
    for (k, path) in args.files.iter().enumerate() {
        if k > 0 && !args.json && !args.tool.quiet {
            streams.print("\n")?;
        }
        let ended = load(path, &args.tool, streams).and_then(|loaded| one(&loaded, args, streams));
        match ended {
            Ok(outcome) => worst = worst.max(outcome),
            Err(stop) => {
                streams.tell(&stop.text);
                worst = worst.max(stop.outcome);
            }
        }
    }
    Ok(worst)
}

fn one(loaded: &Loaded, args: &CheckArgs, streams: &mut Streams) -> Result<Outcome, Stop> {
    if !loaded.advice.is_empty() && !args.tool.quiet {
        streams.tell(&render_all(
            &loaded.advice,
            &loaded.text.name,
            &loaded.text.text,
            streams.styled,
        ));
    }
    let solved = solved(loaded, Direction::Closing, streams.styled)?;
    let given = |key: &str| {
        let by_hand = key == "hand.force" && args.tool.hand_force.is_some();
        by_hand || loaded.spans.contains_key(key)
    };
    let report = check_report(
        &loaded.tool,
        &solved,
        &loaded.source(),
        loaded.units,
        &given,
    );
    if args.json {
        let text = serde_json::to_string_pretty(&report).map_err(|e| Stop {
            outcome: Outcome::Cannot,
            text: format!("error: {e}"),
        })?;
        streams.print(&format!("{text}\n"))?;
    } else if !args.tool.quiet {
        streams.print(&crate::output::check_text(&report))?;
    }
    Ok(Outcome::Done)
}
