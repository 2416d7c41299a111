//! The panels of the chart of one stroke, before anything is drawn.

use super::axis::StrokeAxis;
use super::corners::{self, corners, into_hand};
use super::demands::{self, demand_marks};
use super::line::{Line, Points, value_at};
use super::palette;
use super::panel::{Measured, Panel, Shows, Stall};
use crate::output::sentences::way::{hand_title, jaw_title, opens, stall_word};
use crate::output::text::{self, figures, length};
use crate::report::{JawForces, LimitReport, StrokeReport};

/// Error of a gap that is read, over the change of the gap (common practice, no source).
const GAUGE: f64 = 0.02;

/// The panels of the chart: jaw force, and below it the hand force that the work needs.
pub(in crate::output) fn panels(report: &StrokeReport, axis: &StrokeAxis) -> Vec<Panel> {
    let Some(jaw) = report.jaws.first() else {
        return Vec::new();
    };
    let mut out = vec![jaw_panel(report, axis, jaw)];
    out.extend(hand_panel(report, axis, jaw));
    out
}

fn jaw_panel(report: &StrokeReport, axis: &StrokeAxis, jaw: &str) -> Panel {
    let mut lines = grip_lines(report, axis, jaw, |_, _, f| f.jaw_force);
    let about = (report, axis, jaw);
    let demands = demand_marks(about, false, &lines, |_, _, force| Some(force));
    let mut must_show = demands::must_show(&demands, &lines);
    if let Some(work) = &report.work {
        // Up to where dies meet, as all curves.
        let needed = report.positions.iter().zip(&work.needed);
        let needed = needed.map(|(position, force)| (!position.beyond).then_some(*force));
        let mut line = Line::work(axis.values.iter().copied().zip(needed).collect());
        if opens(report) {
            "the work pushes back".clone_into(&mut line.label);
        }
        corners::into_work(
            &mut line.points,
            &corners(report, axis.end, |gap| axis.place_of_gap(report, jaw, gap)),
            axis.end,
        );
        must_show = line.greatest().unwrap_or(0.0).max(must_show);
        lines.insert(0, line);
    }
    lines.extend(line_at_limit(report, axis, jaw));
    let measured = readings(report, axis, jaw);
    let must_show = (measured.iter().map(|m| m.at.1)).fold(must_show, f64::max);
    let shows = (Shows::JawForce, report.units.force);
    let mut panel = Panel::new(jaw_title(report), shows, lines, must_show);
    panel.measured = measured;
    panel.demands = demands;
    panel
}

/// What was measured on the bench and belongs to the curves, in their colours; not what lies beyond an end of the
/// stroke, where the axis has no place for it.
fn readings(report: &StrokeReport, axis: &StrokeAxis, jaw: &str) -> Vec<Measured> {
    let all = report.measured.iter().flat_map(|m| &m.readings);
    let placed = all.filter_map(|reading| {
        let place = axis.place_of_gap(report, jaw, reading.gap);
        let place = place.or_else(|| at_an_end(report, axis, (jaw, reading.gap)))?;
        Some(Measured {
            at: (place, reading.jaw_force),
            colour: palette::grip(&report.grips, reading.grip).colour,
        })
    });
    placed.collect()
}

/// A gap that is read at an end of the stroke may lie beyond it by the error of the gauge.
fn at_an_end(report: &StrokeReport, axis: &StrokeAxis, (jaw, gap): (&str, f64)) -> Option<f64> {
    let last = report.positions.len().checked_sub(1)?;
    let (open, shut) = (report.gap(0, jaw)?, report.gap(last, jaw)?);
    let near = |end: f64| (gap - end).abs() <= GAUGE * (open - shut).abs();
    match (near(shut), near(open)) {
        (true, _) => Some(axis.end),
        (false, true) => axis.values.first().copied(),
        (false, false) => None,
    }
}

/// The name of a hand's limit that is the same everywhere.
pub(super) fn limit_label(most: f64, report: &StrokeReport) -> String {
    format!("hand limit {} {}", figures(most), report.units.force)
}

/// Without work there is no second panel to show the hand's limit in. Then one thin line tells the
/// most that the strongest grip gives: its jaw force at the limit. Jaw force goes with hand force
/// only where no spring adds to it, so with springs there is no such line.
fn line_at_limit(report: &StrokeReport, axis: &StrokeAxis, jaw: &str) -> Option<Line> {
    if report.limit.is_none() || report.work.is_some() {
        return None;
    }
    let mut best: Option<(usize, Vec<Option<f64>>, f64)> = None;
    for grip in 0..report.grips.len() {
        let mut values = Vec::new();
        for (index, position) in report.positions.iter().enumerate() {
            let forces = position.forces(grip, jaw)?;
            let most = report.limit_at(index, grip);
            values.push(match (forces.jaw_force, most) {
                (Some(force), Some(most)) => {
                    let loss = forces.efficiency?;
                    // Opening, friction adds to what the hand holds back.
                    let friction = if opens(report) { 1.0 / loss } else { loss };
                    let without_springs = forces.ratio? * friction * report.hand_force;
                    if (force - without_springs).abs() > 1e-6 * force.abs() {
                        return None;
                    }
                    Some(force / report.hand_force * most).filter(|v| v.is_finite())
                }
                _ => None,
            });
        }
        // Nowhere near a toggle: the grip that is best in the middle of the stroke.
        let middle = values.get(values.len() / 2).copied().flatten()?;
        if best.as_ref().is_none_or(|(.., most)| middle > *most) {
            best = Some((grip, values, middle));
        }
    }
    let (grip, values, _) = best?;
    let at = report.grips.get(grip)?;
    let label = format!("grip {} at the limit", text::grip(*at, &report.units));
    let mut line = Line::limit(label, axis.values.iter().copied().zip(values).collect());
    line.pen.width = 1.2;
    Some(line)
}

fn hand_panel(report: &StrokeReport, axis: &StrokeAxis, jaw: &str) -> Option<Panel> {
    let work = report.work.as_ref()?;
    let common = report.limit.as_ref().map(Limit::of);
    // Where every grip has a limit of its own, force against its limit keeps to one line.
    let relative = matches!(common, Some(Limit::Differs));
    let value = |position: usize, grip: usize, forces: &JawForces| {
        let needs = forces.hand_force?;
        if !relative {
            return Some(needs);
        }
        let most = report.limit_at(position, grip)?;
        (most > 0.0).then(|| 100.0 * needs / most)
    };
    let mut lines = grip_lines(report, axis, jaw, value);
    let shown = |place: f64, grip: usize, force: f64| match relative {
        true => {
            let most = limit_at(report, axis, place, grip)?;
            (most > 0.0).then(|| 100.0 * force / most)
        }
        false => Some(force),
    };
    let corners = corners(report, axis.end, |gap| axis.place_of_gap(report, jaw, gap));
    let mut stalls = Vec::new();
    for (grip, line) in lines.iter_mut().enumerate() {
        let about = (report, jaw, grip);
        into_hand(
            &mut line.points,
            &corners,
            about,
            (&axis.values, axis.end),
            |x, f| shown(x, grip, f),
        );
        if let Some(peak) = work.peaks.get(grip) {
            let limit = peak.limit.filter(|most| *most > 0.0);
            let shown = match relative {
                true => (peak.hand_force).and_then(|f| Some(100.0 * f / limit?)),
                false => peak.hand_force,
            };
            line.take_in(axis.place_of_peak(report, jaw, peak), shown);
        }
        line.label.push_str(&peak_or_stall(report, grip, relative));
        let Some(gap) = work.stalls.get(grip).copied().flatten() else {
            continue;
        };
        let place = axis.place_of_gap(report, jaw, gap);
        let limit = match work.stall_limits.get(grip).copied().flatten() {
            Some(_) if relative => Some(100.0),
            limit => limit,
        };
        line.take_in(place, limit);
        if let Some((x, y)) = place.and_then(|x| Some((x, value_at(&line.points, x)?))) {
            stalls.push(Stall {
                at: (x, y),
                colour: line.pen.colour,
            });
            line.until = Some(x).filter(|_| !opens(report));
        }
    }
    let demands = demand_marks((report, axis, jaw), true, &lines, |x, grip, f| {
        shown(x, grip, f)
    });
    let limit_line = common.map(|common| match common {
        Limit::Differs => {
            let points = axis.values.iter().map(|x| (*x, Some(100.0)));
            Line::limit("hand limit".to_owned(), points.collect())
        }
        Limit::Common { constant } => {
            let label =
                constant.map_or_else(|| "hand limit".to_owned(), |f| limit_label(f, report));
            let points = axis.values.iter().enumerate();
            Line::limit(
                label,
                points.map(|(i, x)| (*x, report.limit_at(i, 0))).collect(),
            )
        }
    });
    let mut must_show = demands::must_show(&demands, &lines);
    if let Some(line) = limit_line {
        must_show = line.greatest().unwrap_or(0.0).max(must_show);
        lines.insert(0, line);
    }
    let (title, shows) = if relative {
        (
            hand_title(report, "% of the hand's limit there"),
            (Shows::ShareOfLimit, "%"),
        )
    } else {
        (
            hand_title(report, report.units.force),
            (Shows::HandForce, report.units.force),
        )
    };
    let mut panel = Panel::new(title, shows, lines, must_show);
    panel.stalls = stalls;
    panel.demands = demands;
    Some(panel)
}

/// What is asked of a curve first, to stand behind its name: where the tool stalls, else the greatest hand force;
/// with its share of the limit where the panel is `relative`.
pub(super) fn peak_or_stall(report: &StrokeReport, grip: usize, relative: bool) -> String {
    let Some(work) = &report.work else {
        return String::new();
    };
    if let Some(gap) = work.stalls.get(grip).copied().flatten() {
        let (word, gap) = (stall_word(report), length(gap, &report.units));
        return format!(", {word} {gap} {}", report.units.length);
    }
    let Some(peak) = work.peaks.get(grip) else {
        return String::new();
    };
    let Some(force) = peak.hand_force.filter(|force| *force > 0.0) else {
        return String::new();
    };
    let limit = peak.limit.filter(|most| relative && *most > 0.0);
    let share = limit.map(|most| format!(" ({} %)", figures(100.0 * force / most)));
    let share = share.unwrap_or_default();
    format!(", {} {}{share} at peak", figures(force), report.units.force)
}

/// The hand's limit at a grip, between positions on the straight line.
fn limit_at(report: &StrokeReport, axis: &StrokeAxis, place: f64, grip: usize) -> Option<f64> {
    let points = axis.values.iter().enumerate();
    let points: Points = points
        .map(|(k, x)| (*x, report.limit_at(k, grip)))
        .collect();
    value_at(&points, place)
}

/// Whether one line can show the limit of all grips.
#[derive(Clone, Copy)]
enum Limit {
    Common { constant: Option<f64> },
    Differs,
}

impl Limit {
    fn of(limit: &LimitReport) -> Self {
        let first = |row: &[Option<f64>]| row.first().copied().flatten();
        let common = (limit.hand_force.iter()).all(|row| row.iter().all(|v| *v == first(row)));
        if !common {
            return Self::Differs;
        }
        let constant = limit.hand_force.first().and_then(|row| first(row));
        let same = limit.hand_force.iter().all(|row| first(row) == constant);
        Self::Common {
            constant: constant.filter(|_| same),
        }
    }
}

fn grip_lines(
    report: &StrokeReport,
    axis: &StrokeAxis,
    jaw: &str,
    value: impl Fn(usize, usize, &JawForces) -> Option<f64>,
) -> Vec<Line> {
    let line = |(grip, at): (usize, &f64)| {
        let points = report.positions.iter().zip(&axis.values).enumerate();
        let points = points.map(|(index, (position, x))| {
            let forces = position.forces(grip, jaw);
            (*x, forces.and_then(|f| value(index, grip, f)))
        });
        let label = format!("grip {}", text::grip(*at, &report.units));
        let pen = palette::grip(&report.grips, grip);
        Line {
            pen,
            ..Line::curve(label, grip, points.collect())
        }
    };
    report.grips.iter().enumerate().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::samples::Sample;
    use crate::report::{MeasuredPoint, MeasuredReport};

    fn panels_of(sample: &Sample) -> Vec<Panel> {
        let report = sample.build();
        panels(&report, &StrokeAxis::of(&report))
    }

    #[test]
    fn far_from_a_toggle_the_axis_shows_everything() {
        let panels = panels_of(&Sample::pliers());
        assert_eq!(panels.len(), 1);
        assert_eq!(panels[0].cut, None);
        assert_eq!((panels[0].low, panels[0].high), (0.0, 600.0));
    }

    #[test]
    fn near_a_toggle_the_axis_is_cut_but_shows_the_work() {
        for sample in [
            Sample::knee().shut_at_toggle(),
            Sample::knee().through_toggle(),
        ] {
            let panel = &panels_of(&sample)[0];
            assert!(panel.cut.unwrap().1 > panel.high);
            assert!((2600.0..12_000.0).contains(&panel.high), "{}", panel.high);
        }
    }

    #[test]
    fn the_limit_is_one_line_or_the_panel_is_relative() {
        let common = &panels_of(&Sample::knee())[1];
        assert_eq!(common.unit, "N");
        assert!(common.lines[0].label == "hand limit 220 N");
        let relative = &panels_of(&Sample::knee().limit_by_span())[1];
        assert_eq!(relative.unit, "%");
        assert!(
            relative.lines[0]
                .points
                .iter()
                .all(|(_, y)| *y == Some(100.0))
        );
    }

    #[test]
    fn stalls_stand_on_the_limit() {
        let panel = &panels_of(&Sample::knee().steps(2000))[1];
        assert_eq!(panel.stalls.len(), 2);
        for stall in &panel.stalls {
            assert!((stall.at.1 - 220.0).abs() < 1.0, "{}", stall.at.1);
        }
    }

    #[test]
    fn readings_taken_off_a_curve_lie_on_it() {
        let mut report = Sample::pliers().build();
        let at = |index: usize, grip: usize, report: &StrokeReport| MeasuredPoint {
            grip,
            gap: report.gap(index, "nose").unwrap(),
            jaw_force: report.positions[index].grips[grip].jaws["nose"]
                .jaw_force
                .unwrap(),
        };
        let last = report.positions.len() - 1;
        let mut readings = vec![at(0, 0, &report), at(3, 1, &report), at(last, 0, &report)];
        let change = report.gap(0, "nose").unwrap() - readings[2].gap;
        // Read a little less than shut, it is at that end; far beyond, it is nowhere.
        for beyond in [0.01, 0.1] {
            let gap = readings[2].gap - beyond * change;
            readings.push(MeasuredPoint { gap, ..readings[2] });
        }
        report.measured = Some(MeasuredReport {
            data: "bench.csv".to_owned(),
            readings,
            others: 0,
        });
        let axis = StrokeAxis::of(&report);
        let panel = &panels(&report, &axis)[0];
        let places: Vec<f64> = panel.measured.iter().map(|m| m.at.0).collect();
        let expected = [0.0, axis.values[3], axis.end, axis.end];
        assert_eq!(places.len(), expected.len());
        for (grip, (mark, place)) in [0, 1, 0, 0].iter().zip(panel.measured.iter().zip(expected)) {
            assert!((mark.at.0 - place).abs() < 1e-9, "{places:?}");
            let line = &panel.lines[*grip];
            let on_line = value_at(&line.points, place).unwrap();
            assert!((mark.at.1 - on_line).abs() < 1e-9 * on_line, "{place}");
            assert_eq!(mark.colour, line.pen.colour);
        }
    }

    #[test]
    fn odd_values_give_an_axis_all_the_same() {
        for force in [
            None,
            Some(0.0),
            Some(1e308),
            Some(-1e308),
            Some(1e-300),
            Some(-5.0),
        ] {
            let mut report = Sample::pliers().build();
            for position in &mut report.positions {
                for grip in &mut position.grips {
                    grip.jaws["nose"].jaw_force = force;
                }
            }
            let panel = &panels(&report, &StrokeAxis::of(&report))[0];
            assert!(panel.low < panel.high, "{force:?}");
            assert!((panel.high - panel.low).is_finite(), "{force:?}");
        }
    }
}
