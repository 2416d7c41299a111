//! Round gaps along the axis of a stroke: work and demands are stated at them. The axis goes by the handle's travel,
//! so they stand unevenly.

use super::axis::StrokeAxis;
use super::layout::SMALL;
use crate::output::svg::labels::text_width;
use crate::output::text::{fixed, length, trimmed};
use crate::report::StrokeReport;

/// A gap beside the axis.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct GapTick {
    /// On the axis across the stroke.
    pub(super) place: f64,
    pub(super) label: String,
}

/// Least distance between two numbers, pixels.
const APART: f64 = 12.0;
/// The finest step is this part of the way from open to shut.
const FINEST: f64 = 200.0;

/// The gaps at both ends, and between them as many round ones as `room` pixels hold: the roundest first.
pub(super) fn gap_ticks(report: &StrokeReport, axis: &StrokeAxis, room: f64) -> Vec<GapTick> {
    let (Some(jaw), Some(last)) = (report.jaws.first(), report.positions.len().checked_sub(1))
    else {
        return Vec::new();
    };
    let ends = [(0.0, 0), (axis.end, last)];
    let ends = ends.iter().filter_map(|(place, k)| {
        let gap = report.gap(*k, jaw)?;
        Some(tick(*place, end_text(gap, report)))
    });
    let mut out: Vec<GapTick> = ends.collect();
    let gaps = || report.positions.iter().filter_map(|p| p.gap(jaw));
    let (low, high) = (
        gaps().fold(f64::MAX, f64::min),
        gaps().fold(f64::MIN, f64::max),
    );
    for (step, decimals, below) in steps(high - low) {
        let (first, last) = ((low / step).ceil() as i64, (high / step).floor() as i64);
        for k in (first..=last).rev() {
            let gap = k as f64 * step;
            if gap.abs() >= below {
                continue;
            }
            let Some(place) = axis.place_of_gap(report, jaw, gap) else {
                continue;
            };
            let new = tick(place, fixed(gap, decimals));
            if out.iter().all(|other| apart(other, &new, room / axis.end)) {
                out.push(new);
            }
        }
    }
    out.sort_by(|a, b| a.place.total_cmp(&b.place));
    out
}

fn tick(place: f64, label: String) -> GapTick {
    let label = label.replace('-', "\u{2212}");
    GapTick { place, label }
}

/// The gap at an end: short where it is a round one.
fn end_text(gap: f64, report: &StrokeReport) -> String {
    let exact = length(gap, &report.units);
    let short = exact.parse().map_or(String::new(), trimmed);
    match (exact.parse::<f64>().unwrap_or(f64::NAN) - gap).abs() < 1e-6 * gap.abs().max(1e-3) {
        true => short,
        false => exact,
    }
}

fn apart(a: &GapTick, b: &GapTick, scale: f64) -> bool {
    let half = |tick: &GapTick| 0.5 * text_width(&tick.label, SMALL, false);
    (a.place - b.place).abs() * scale >= half(a) + half(b) + APART
}

/// Steps of 1, 2 or 5 times a power of ten with their decimals, from the whole range downwards, each with the gap below
/// which it is used: 0.2 and 0.3 are round, 2.2 and 2.3 are not beside 2 and 2.5.
fn steps(range: f64) -> Vec<(f64, usize, f64)> {
    let mut out = Vec::new();
    if !(1e-9..1e9).contains(&range) {
        return out;
    }
    let top = range.log10().ceil() as i32;
    for power in (top - 4..=top).rev() {
        for factor in [5.0, 2.0, 1.0] {
            let step = factor * 10_f64.powi(power);
            if step <= range && step >= range / FINEST {
                let digits = if factor == 5.0 { 2 } else { 1 };
                let below = 10_f64.powi(power + digits) * (1.0 - 1e-9);
                out.push((step, (-power).max(0) as usize, below));
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::samples::Sample;

    #[test]
    fn round_gaps_stand_where_the_jaw_has_them() {
        for report in [Sample::knee().build(), Sample::knee().inches().build()] {
            let axis = StrokeAxis::of(&report);
            let ticks = gap_ticks(&report, &axis, 600.0);
            assert!(ticks.len() >= 6, "{ticks:?}");
            let inner = 1..ticks.len() - 1;
            for (k, tick) in ticks.iter().enumerate() {
                let gap: f64 = tick.label.replace('\u{2212}', "-").parse().unwrap();
                let there = axis.gap_at(&report, "nose", tick.place).unwrap();
                let within = if inner.contains(&k) { 1e-9 } else { 0.0051 };
                assert!((gap - there).abs() <= within, "{tick:?} {there}");
                let digits = tick.label.trim_start_matches(['0', '.']).replace('.', "");
                assert!(!inner.contains(&k) || digits.len() <= 2, "{tick:?}");
            }
            let between = |t: &GapTick| ["2.2", "2.8", "1.2"].contains(&t.label.as_str());
            assert!(!ticks.iter().any(between), "{ticks:?}");
            let pairs = ticks.windows(2);
            assert!(pairs.clone().all(|p| apart(&p[0], &p[1], 600.0 / axis.end)));
        }
    }

    #[test]
    fn steps_fall_and_end() {
        let steps = steps(9.0);
        let first: Vec<_> = steps[..4].iter().map(|s| (s.0, s.1)).collect();
        assert_eq!(first, [(5.0, 0), (2.0, 0), (1.0, 0), (0.5, 1)]);
        assert!(steps.last().unwrap().0 >= 9.0 / FINEST);
        assert!(super::steps(0.0).is_empty() && super::steps(f64::NAN).is_empty());
    }
}
