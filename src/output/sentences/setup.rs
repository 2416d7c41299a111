//! What an adjuster does, in sentences.

use crate::output::text::{figures, fixed, length};
use crate::report::{AdjusterReport, SetupReport};

/// Why no setting changes the gap.
pub(in crate::output) const BY_GAP: &str = "the stroke is shut by a gap, which no setting changes; end it at a stop \
     (`shut = { stop = .. }`) or at a handle angle to see what the settings do to the gap.";

/// What the range covers, what a notch or a turn does, what would turn it.
pub(in crate::output) fn of_adjuster(
    report: &SetupReport,
    adjuster: &AdjusterReport,
) -> Vec<String> {
    let (units, mut out) = (&report.units, Vec::new());
    let show = |v: f64| length(v, units);
    if let (Some([low, high]), Some(step), Some([less, more])) =
        (adjuster.gap_range, adjuster.step, adjuster.room)
    {
        let kind = if adjuster.notches {
            "notches"
        } else {
            "settings"
        };
        let mut text = format!(
            "{} {kind}: gap {} to {} {}, from {} less to {} more than now",
            adjuster.settings.len(),
            show(low),
            show(high),
            units.length,
            show(less),
            show(more)
        );
        if adjuster.notches {
            text.push_str(&format!(
                "; one notch is {} {} at most",
                show(step),
                units.length
            ));
        }
        if let Some(turn) = adjuster.per_turn {
            text.push_str(&format!("; one turn is {} {}", show(turn), units.length));
        }
        out.push(format!("{text}."));
    }
    out.extend(turning(report, adjuster));
    if let Some(tolerance) = adjuster.tolerance {
        out.push(format!(
            "The worst case of the gap within the tolerances, \u{b1} {} {}, is {}.",
            show(tolerance.worst),
            units.length,
            if tolerance.covered {
                "covered"
            } else {
                "NOT covered"
            }
        ));
    }
    out
}

/// What would turn an eccentric pin at its worst setting, and whether friction holds it.
fn turning(report: &SetupReport, adjuster: &AdjusterReport) -> Option<String> {
    let loads = (adjuster.settings.iter()).filter_map(|s| Some((s.torque?.abs(), s)));
    let (torque, worst) = loads.max_by(|a, b| a.0.total_cmp(&b.0))?;
    let start = format!(
        "The pin's load turns it with at most {} {}, at {} {}",
        figures(torque),
        report.torque_unit,
        fixed(worst.at, 2),
        adjuster.unit
    );
    let loose = (adjuster.settings.iter())
        .any(|s| matches!((s.torque, s.friction_torque), (Some(t), Some(f)) if t.abs() > f));
    Some(match worst.friction_torque {
        None => {
            format!("{start}: what locks it must hold that (no friction is stated at the pin).")
        }
        Some(held) => format!(
            "{start}, where friction at the pin's own radius holds {}: {}.",
            figures(held),
            match loose {
                true => "it needs a lock",
                false => "friction holds it at every setting",
            }
        ),
    })
}
