//! `springs`: what can be bought for each place of a spring.

use super::args::SpringsArgs;
use super::load::load;
use super::locate::stop;
use super::{Exit, Stop, Streams};
use crate::coils::{INCH_WIRES, METRIC_WIRES, Wire};
use crate::input::typed;
use crate::model::{Spring, SpringEnds, Tool};
use crate::output::springs_text;
use crate::report::springs_report;
use crate::strength::{WireWish, choose_wire, judge_spring};
use crate::units::{Quantity, UnitSystem};

pub(super) fn run(args: &SpringsArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    let tool = loaded.tool();
    let outside = match &args.outside {
        None => None,
        Some(text) => {
            let value = typed(text, Quantity::Length, loaded.units);
            let value = value
                .map_err(|(what, help)| Stop::input(format!("error: --outside: {what}; {help}")))?;
            if value <= 0.0 {
                return Err(Stop::input(
                    "error: --outside: give a diameter greater than zero, such as 12",
                ));
            }
            Some(value)
        }
    };
    let wish = WireWish {
        of: (args.made_of.as_deref())
            .and_then(|name| Wire::ALL.into_iter().find(|wire| wire.name() == name)),
        outside,
        cycles: args.cycles.map(|cycles| cycles as f64),
        mandrel: None,
    };
    let wires: Vec<f64> = match loaded.units {
        UnitSystem::MmN => METRIC_WIRES.to_vec(),
        UnitSystem::InLbf => INCH_WIRES.iter().map(|inches| 25.4 * inches).collect(),
    };
    let travels = match tool.springs.is_empty() {
        true => Vec::new(),
        false => loaded
            .analysis
            .spring_travels()
            .map_err(|e| stop(e, &loaded))?,
    };
    let springs = tool.springs.iter().zip(&travels);
    let sought: Vec<_> = springs
        .map(|(spring, travel)| {
            let mandrel = pin_diameter(tool, spring);
            let tried = choose_wire(spring, travel, &wires, &WireWish { mandrel, ..wish });
            (travel, judge_spring(spring, travel), tried)
        })
        .collect();
    let report = springs_report(tool, &sought, &loaded.source(), loaded.units);
    let text = streams.answer(args.json, args.tool.quiet, &report, |width| {
        springs_text(&report, width)
    })?;
    streams.print(&text)?;
    let all = report.springs.iter().all(|spring| spring.none.is_none());
    Ok(if all { Exit::Done } else { Exit::NotMet })
}

/// Diameter of the pin that a spring acts about, which it must at least go round.
fn pin_diameter(tool: &Tool, spring: &Spring) -> Option<f64> {
    let SpringEnds::Pin { first, second } = spring.ends else {
        return None;
    };
    let mut joints = tool.joints.iter().zip(&tool.joint_data);
    let about = joints.find(|(joint, _)| joint.touches(first) && joint.touches(second));
    about.and_then(|(_, data)| data.diameter)
}
