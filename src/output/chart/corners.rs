//! The corners of the work curve, which seldom fall on a position of the stroke: without them a sharp corner shows as
//! two blunt ones.

use super::line::Points;
use crate::output::sentences::way::opens;
use crate::report::{JawForces, PositionReport, StrokeReport};

/// With more rows than this the curve is as good as smooth.
const MOST_ROWS: usize = 200;
/// Share of the axis within which two places are one.
const SAME: f64 = 1e-9;

/// A row of the work, or several at one gap where the force jumps.
pub(super) struct Corner {
    /// On the axis across the stroke.
    place: f64,
    /// The forces of its rows, in their order.
    forces: Vec<f64>,
}

/// The rows of the work that lie within the stroke, each where `place` has its gap on an axis that ends at `end`.
pub(super) fn corners(
    report: &StrokeReport,
    end: f64,
    place: impl Fn(f64) -> Option<f64>,
) -> Vec<Corner> {
    let rows = report.work.as_ref().map_or(&[][..], |work| &work.need);
    let mut out: Vec<Corner> = Vec::new();
    if rows.len() > MOST_ROWS {
        return out;
    }
    // Before it is touched the work needs nothing.
    let first = rows.first().map(|row| [row[0], 0.0]);
    for [gap, force] in first.iter().chain(rows).copied() {
        let Some(place) = place(gap) else {
            continue;
        };
        match out.last_mut() {
            Some(last) if (last.place - place).abs() <= SAME * end => {
                if last.forces.last() != Some(&force) {
                    last.forces.push(force);
                }
            }
            _ => out.push(Corner {
                place,
                forces: vec![force],
            }),
        }
    }
    out
}

/// Puts the corners into the line of the work.
pub(super) fn into_work(points: &mut Points, corners: &[Corner], end: f64) {
    for corner in corners {
        let values: Vec<f64> = corner.forces.clone();
        insert(points, corner.place, &values, end);
    }
}

/// Puts the corners into the line of the hand force at a grip; `places`: of the positions, on an axis that ends at
/// `end`. Between two positions the hand force is that without
/// work and a part that grows with the work, and both of these are smooth where the work is not.
pub(super) fn into_hand(
    points: &mut Points,
    corners: &[Corner],
    (report, jaw, grip): (&StrokeReport, &str, usize),
    (places, end): (&[f64], f64),
    shown: impl Fn(f64, f64) -> Option<f64>,
) {
    let needed = report.work.as_ref().map_or(&[][..], |work| &work.needed);
    let at = |index: usize| -> Option<(f64, [f64; 2])> {
        let position = report.positions.get(index)?;
        let parts = parts(position, (jaw, grip), *needed.get(index)?, opens(report))?;
        Some((*places.get(index)?, parts))
    };
    if !places.is_sorted() {
        return; // the gap goes back and forth: a place has no single force
    }
    for corner in corners {
        let after = places.partition_point(|x| *x < corner.place);
        let Some(((from, a), (to, b))) = after.checked_sub(1).and_then(at).zip(at(after)) else {
            continue;
        };
        let share = (corner.place - from) / (to - from);
        let between = |k: usize| a[k] + share * (b[k] - a[k]);
        let force = |work: &f64| shown(corner.place, between(0) + work * between(1));
        let values: Option<Vec<f64>> = corner.forces.iter().map(force).collect();
        if let Some(values) = values.filter(|v| v.iter().all(|v| v.is_finite())) {
            insert(points, corner.place, &values, end);
        }
    }
}

/// Hand force without work, and for each unit of it.
fn parts(
    position: &PositionReport,
    (jaw, grip): (&str, usize),
    needed: f64,
    opening: bool,
) -> Option<[f64; 2]> {
    let JawForces {
        ratio,
        efficiency,
        hand_force,
        ..
    } = position.forces(grip, jaw)?;
    // Closing, friction takes from what the hand gives; opening, it adds to what it holds.
    let (ratio, loss) = (ratio.as_ref()?, efficiency.as_ref()?);
    let each = if opening {
        loss / ratio
    } else {
        1.0 / (ratio * loss)
    };
    let parts = [hand_force.as_ref()? - needed * each, each];
    parts.iter().all(|part| part.is_finite()).then_some(parts)
}

/// Puts values at a place between two that the line has, or in the place of one that stands there.
fn insert(points: &mut Points, place: f64, values: &[f64], end: f64) {
    let near = SAME * end;
    if !points.is_sorted_by(|a, b| a.0 <= b.0) {
        return;
    }
    let from = points.partition_point(|(x, _)| *x < place - near);
    let to = points.partition_point(|(x, _)| *x <= place + near);
    let known =
        |k: Option<usize>| k.is_some_and(|k| points.get(k).is_some_and(|(_, y)| y.is_some()));
    let stands = (from..to).all(|k| known(Some(k)));
    if !stands || !known(from.checked_sub(1)) || !known(Some(to)) {
        return;
    }
    let place = points
        .get(from)
        .filter(|_| from < to)
        .map_or(place, |(x, _)| *x);
    points.splice(from..to, values.iter().map(|value| (place, Some(*value))));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::chart::axis::StrokeAxis;
    use crate::output::chart::data::panels;
    use crate::output::samples::Sample;

    /// A knee whose work has a sharp corner between two positions, and a jump.
    fn with_corner() -> (StrokeReport, StrokeAxis, [f64; 2]) {
        let mut report = Sample::knee().build();
        let gap = |k: usize| report.gap(k, "nose").unwrap();
        let [corner, jump] = [30, 40].map(|k| 0.5 * (gap(k) + gap(k + 1)));
        let rows = vec![[corner, 1000.0], [jump, 1000.0], [jump, 1400.0]];
        let needed = |k: usize| match gap(k) {
            g if g > corner => 0.0,
            g if g > jump => 1000.0,
            _ => 1400.0,
        };
        let needed: Vec<f64> = (0..report.positions.len()).map(needed).collect();
        for (position, needed) in report.positions.iter_mut().zip(&needed) {
            for grip in &mut position.grips {
                let forces = &mut grip.jaws["nose"];
                let each = 1.0 / (0.93 * forces.ratio.unwrap());
                forces.hand_force = Some(7.0 + needed * each);
            }
        }
        let work = report.work.as_mut().unwrap();
        (work.need, work.needed) = (rows, needed);
        let axis = StrokeAxis::of(&report);
        (report, axis, [corner, jump])
    }

    #[test]
    fn the_work_stands_upright_where_it_jumps() {
        let (report, axis, gaps) = with_corner();
        let line = &panels(&report, &axis)[0].lines[0];
        let at = |gap: f64| -> Vec<f64> {
            let place = axis.place_of_gap(&report, "nose", gap).unwrap();
            let here = line.points.iter().filter(|(x, _)| *x == place);
            here.map(|(_, y)| y.unwrap()).collect()
        };
        assert_eq!(at(gaps[0]), [0.0, 1000.0]);
        assert_eq!(at(gaps[1]), [1000.0, 1400.0]);
    }

    /// 7 N for a spring, and the work over ratio and efficiency.
    #[test]
    fn the_hand_force_has_the_corner_too() {
        let (report, axis, gaps) = with_corner();
        let panel = &panels(&report, &axis)[1];
        let line = &panel.lines[1];
        let place = axis.place_of_gap(&report, "nose", gaps[0]).unwrap();
        let here: Vec<f64> = (line.points.iter().filter(|(x, _)| *x == place))
            .map(|(_, y)| y.unwrap())
            .collect();
        let ratio = |k: usize| report.positions[k].grips[0].jaws["nose"].ratio.unwrap();
        let each = 0.5 / 0.93 * (1.0 / ratio(30) + 1.0 / ratio(31));
        assert_eq!(here.len(), 2);
        assert!((here[0] - 7.0).abs() < 1e-9, "{here:?}");
        assert!(
            (here[1] - 7.0 - 1000.0 * each).abs() < 0.01 * here[1],
            "{here:?}"
        );
    }

    /// At a position the row takes its place and adds none.
    #[test]
    fn a_row_at_a_position_adds_nothing() {
        let mut points = vec![(0.0, Some(1.0)), (1.0, Some(2.0)), (2.0, Some(3.0))];
        insert(&mut points, 1.0 + 1e-12, &[2.0], 2.0);
        assert_eq!(points.len(), 3);
        insert(&mut points, 1.5, &[0.0, 5.0], 2.0);
        assert_eq!(points[2..4], [(1.5, Some(0.0)), (1.5, Some(5.0))]);
        points.push((3.0, None));
        insert(&mut points, 2.5, &[9.0], 2.0);
        assert_eq!(points.len(), 6, "nothing beside a place without a value");
    }
}
