//! The demands on jaw force and hand force, where they stand among the curves.

use super::axis::StrokeAxis;
use super::line::Line;
use super::panel::DemandMark;
use crate::report::{CurvePlace, DemandOnCurve, DemandResult, StrokeReport};

/// A bound that is further away than this many times the greatest force of the curves gets no room on the axis.
const FAR: f64 = 2.0;

/// The marks of the demands on the hand force, or on the jaw force, at the grips in view. `lines`: the curve of each
/// grip; `shown`: a force at a place and grip as the panel shows it.
pub(super) fn demand_marks(
    (report, axis, jaw): (&StrokeReport, &StrokeAxis, &str),
    hand: bool,
    lines: &[Line],
    shown: impl Fn(f64, usize, f64) -> Option<f64>,
) -> Vec<DemandMark> {
    let mut out = Vec::new();
    for demand in &report.demands {
        let Some(on) = demand.curve.filter(|on| on.hand == hand) else {
            continue;
        };
        let grip = demand.grip.and_then(|at| grip_at(report, at));
        let Some((grip, line)) = grip.and_then(|g| Some((g, lines.get(g)?))) else {
            continue;
        };
        let Some(place) = place((report, axis, jaw), on, grip, line) else {
            continue;
        };
        for (lid, bound) in [(true, demand.max), (false, demand.min)] {
            if let Some(value) = bound.and_then(|bound| shown(place, grip, bound)) {
                out.push(DemandMark {
                    at: (place, value),
                    colour: line.pen.colour,
                    lid,
                    met: keeps(demand, lid),
                });
            }
        }
    }
    out
}

/// The greatest value that the axis should show for the marks' sake.
pub(super) fn must_show(marks: &[DemandMark], lines: &[Line]) -> f64 {
    let most = lines.iter().filter_map(Line::greatest).fold(0.0, f64::max);
    let near = marks.iter().map(|mark| mark.at.1);
    near.filter(|value| *value <= FAR * most)
        .fold(0.0, f64::max)
}

fn grip_at(report: &StrokeReport, at: f64) -> Option<usize> {
    let near = |grip: &f64| (grip - at).abs() <= 1e-9 * at.abs().max(1.0);
    report.grips.iter().position(near)
}

/// Of two bounds one may hold and the other not.
fn keeps(demand: &DemandResult, lid: bool) -> bool {
    let Some(value) = demand.value else {
        return false;
    };
    demand.met
        || match lid {
            true => demand.max.is_none_or(|max| value <= max),
            false => demand.min.is_none_or(|min| value >= min),
        }
}

fn place(
    (report, axis, jaw): (&StrokeReport, &StrokeAxis, &str),
    on: DemandOnCurve,
    grip: usize,
    line: &Line,
) -> Option<f64> {
    match on.place {
        CurvePlace::Open => axis.values.first().copied(),
        CurvePlace::Shut => Some(axis.end),
        CurvePlace::Gap(gap) => axis.place_of_gap(report, jaw, gap),
        CurvePlace::Peak if on.hand => {
            let peak = report.work.as_ref()?.peaks.get(grip)?;
            axis.place_of_peak(report, jaw, peak)
        }
        CurvePlace::Peak => {
            let known = line.points.iter().filter_map(|(x, y)| Some((*x, (*y)?)));
            let most = known.reduce(|a, b| if b.1 > a.1 { b } else { a });
            most.map(|(x, _)| x)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::chart::data::panels;
    use crate::output::samples::Sample;
    use crate::report::Digits;

    fn demand(report: &StrokeReport, on: DemandOnCurve, value: f64) -> DemandResult {
        DemandResult {
            measure: "hand_force".to_owned(),
            at: None,
            grip: Some(report.grips[1]),
            unit: report.units.force,
            value: Some(value),
            why: None,
            min: Some(100.0),
            max: Some(190.0),
            met: (100.0..=190.0).contains(&value),
            digits: Digits::Figures,
            curve: Some(on),
        }
    }

    /// Each bound has its mark at the place that the demand names, and only the bound that is overstepped is missed.
    #[test]
    fn a_bound_stands_at_its_place_and_is_met_or_missed() {
        let mut report = Sample::knee().build();
        let gap = report.gap(20, "nose").unwrap();
        for (value, lid, floor) in [
            (150.0, true, true),
            (194.0, false, true),
            (60.0, true, false),
        ] {
            for (place, index) in [(CurvePlace::Gap(gap), 20), (CurvePlace::Open, 0)] {
                report.demands = vec![demand(&report, DemandOnCurve { hand: true, place }, value)];
                let axis = StrokeAxis::of(&report);
                let panels = panels(&report, &axis);
                assert!(panels[0].demands.is_empty());
                let marks = &panels[1].demands;
                let seen: Vec<_> = marks.iter().map(|m| (m.at.1, m.lid, m.met)).collect();
                assert_eq!(seen, [(190.0, true, lid), (100.0, false, floor)], "{value}");
                assert!(
                    marks
                        .iter()
                        .all(|m| (m.at.0 - axis.values[index]).abs() < 1e-9)
                );
                assert!(
                    marks
                        .iter()
                        .all(|m| m.colour == panels[1].lines[2].pen.colour)
                );
            }
        }
    }

    #[test]
    fn the_peak_of_the_hand_force_is_where_the_report_has_it() {
        let mut report = Sample::knee().build();
        let on = |hand| DemandOnCurve {
            hand,
            place: CurvePlace::Peak,
        };
        report.demands = vec![
            demand(&report, on(true), 150.0),
            demand(&report, on(false), 150.0),
        ];
        let axis = StrokeAxis::of(&report);
        let panels = panels(&report, &axis);
        let peak = report.work.as_ref().unwrap().peaks[1];
        assert_eq!(panels[1].demands[0].at.0, peak.travel);
        assert_eq!(
            panels[0].demands[0].at.0, axis.end,
            "greatest where it is shut"
        );
    }

    /// Without a value nothing is met; a grip out of view has no curve to stand at.
    #[test]
    fn what_cannot_be_read_is_missed_and_other_grips_have_no_mark() {
        let mut report = Sample::knee().build();
        let on = DemandOnCurve {
            hand: true,
            place: CurvePlace::Shut,
        };
        let absent = DemandResult {
            value: None,
            met: false,
            ..demand(&report, on, 0.0)
        };
        let elsewhere = DemandResult {
            grip: Some(12.0),
            ..absent.clone()
        };
        report.demands = vec![absent, elsewhere];
        let marks = &panels(&report, &StrokeAxis::of(&report))[1].demands;
        assert_eq!(marks.len(), 2);
        assert!(marks.iter().all(|mark| !mark.met));
    }
}
