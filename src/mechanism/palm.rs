//! The palm: the part that takes the opposite of a push that is not across, and where.
//!
//! Fingers and palm squeeze the tool between them, so that their forces lie on one line of action.
//! For the motion only the part matters, since a force may slide along its line. A sheet shows it
//! where that line meets the hand line of the palm's part: only there do the sheets of both handles add
//! up without a couple. Where the line goes past (or the part has no hand line) it acts at the nearest
//! place, with the couple that this takes.

use super::hand_curve;
use crate::geometry::Vec2;
use crate::model::{HandLine, ModelError, PartId, Tool};
use crate::numeric::Curve;
use crate::numeric::least::least;
use crate::numeric::root::root;

/// Even pieces of a smooth hand line between which a meeting is looked for; its own points come too.
const PIECES: u32 = 64;
/// How near a meeting is found, over the length of the line.
const FOUND: f64 = 1e-12;

/// A place on the line, found once: its parameter (where it is asked for again and again, arc length
/// would cost ten times the rest) and its point.
#[derive(Debug, Clone, Copy)]
struct Cut {
    chord: f64,
    at: Vec2,
}

/// The part in the palm.
#[derive(Debug, Clone)]
pub struct PalmFrame {
    /// Its body.
    pub body: PartId,
    /// Its hand line, if it has one, with cuts between which it crosses a straight line once at most.
    line: Option<(Curve, Vec<Cut>)>,
    /// Its pins and marks.
    points: Vec<Vec2>,
}

impl PalmFrame {
    /// The palm on a part of the tool.
    ///
    /// # Errors
    /// When its hand line has no length.
    pub(super) fn new(tool: &Tool, part: PartId) -> Result<Self, ModelError> {
        let own = |line: &&HandLine| line.part == part;
        let line = match tool.hand.against.as_ref().filter(own) {
            None => None,
            Some(line) => {
                let curve = hand_curve(tool, line)?;
                let cuts = cuts(&curve, line.smooth);
                Some((curve, cuts))
            }
        };
        let mut palm = Self {
            body: part,
            line,
            points: Vec::new(),
        };
        palm.redimension(tool);
        Ok(palm)
    }

    /// Takes over the points of its part.
    pub(super) fn redimension(&mut self, tool: &Tool) {
        self.points.clear();
        let points = tool.part(self.body).map(|part| part.points.iter());
        self.points
            .extend(points.into_iter().flatten().map(|p| Vec2::from(p.at)));
    }

    /// Where the palm takes a force along the line through `at` in direction `way` (a unit vector), all
    /// in the body's axes, mm; and whether that place is on the line.
    pub(super) fn place(&self, at: Vec2, way: Vec2) -> (Vec2, bool) {
        match &self.line {
            Some((curve, cuts)) => on_line(curve, cuts, at, way),
            None => {
                let off = |p: &&Vec2| way.cross(**p - at).abs();
                let nearest = (self.points.iter()).min_by(|a, b| off(a).total_cmp(&off(b)));
                (nearest.copied().unwrap_or(at), nearest.is_none())
            }
        }
    }
}

fn cuts(curve: &Curve, smooth: bool) -> Vec<Cut> {
    let mut distances: Vec<f64> = curve.stations().collect();
    if smooth {
        let step = curve.length() / f64::from(PIECES);
        distances.extend((1..PIECES).map(|k| f64::from(k) * step));
        distances.sort_by(f64::total_cmp);
    }
    let cut = |distance| {
        let chord = curve.chord(distance);
        Cut {
            chord,
            at: curve.at_chord(chord).into(),
        }
    };
    distances.into_iter().map(cut).collect()
}

/// Where a curve meets a straight line: of several places the one nearest to `at`. Its nearest place
/// where it does not; and whether it does.
fn on_line(curve: &Curve, cuts: &[Cut], at: Vec2, way: Vec2) -> (Vec2, bool) {
    let off = |place: Vec2| way.cross(place - at);
    let on = |chord: f64| Vec2::from(curve.at_chord(chord));
    let near = FOUND * curve.length();
    let (mut met, mut past): (Option<(f64, Vec2)>, _) = (None, (f64::INFINITY, 0));
    for (k, cut) in cuts.iter().enumerate() {
        let here = off(cut.at);
        if here.abs() < past.0 {
            past = (here.abs(), k);
        }
        let Some(next) = cuts.get(k + 1) else { break };
        // Only where the sign changes is there anything to solve.
        if here * off(next.at) > 0.0 {
            continue;
        }
        let crossing = root(|chord| Some(off(on(chord))), cut.chord, next.chord, near);
        if let Some(place) = crossing.map(on) {
            let away = way.dot(place - at).abs();
            if met.is_none_or(|(known, _)| away < known) {
                met = Some((away, place));
            }
        }
    }
    if let Some((_, place)) = met {
        return (place, true);
    }
    let end = |k: usize| cuts.get(k).or(cuts.last());
    let (Some(low), Some(nearest), Some(high)) =
        (end(past.1.saturating_sub(1)), end(past.1), end(past.1 + 1))
    else {
        return (at, false);
    };
    let away = |chord| Ok::<_, ()>(off(on(chord)).abs());
    match least(away, low.chord, high.chord, near) {
        Ok((chord, off)) if off < past.0 => (on(chord), false),
        _ => (nearest.at, false),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn met(points: &[[f64; 2]], smooth: bool, at: [f64; 2], way: [f64; 2]) -> ([f64; 2], bool) {
        let curve = Curve::through(points, smooth).expect("a curve");
        let cuts = cuts(&curve, smooth);
        let (place, met) = on_line(&curve, &cuts, at.into(), way.into());
        (place.xy(), met)
    }

    fn near((a, met): ([f64; 2], bool), b: [f64; 2], meets: bool) {
        assert!(
            met == meets && (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-9,
            "{a:?} {b:?}"
        );
    }

    #[test]
    fn meets_the_line_at_the_place_nearest_to_the_push() {
        // By hand: x = 3 crosses the slope y = 2 x at 6, and the level at y = 10.
        let hook = [[0.0, 0.0], [5.0, 10.0], [0.0, 10.0]];
        near(met(&hook, false, [3.0, -4.0], [0.0, 1.0]), [3.0, 6.0], true);
        near(
            met(&hook, false, [3.0, 40.0], [0.0, -1.0]),
            [3.0, 10.0],
            true,
        );
        // A straight line that is called smooth.
        let line = [[0.0, 0.0], [40.0, 20.0], [100.0, 50.0]];
        near(
            met(&line, true, [30.0, 90.0], [0.0, -1.0]),
            [30.0, 15.0],
            true,
        );
    }

    /// Looked for along the distance in every piece of 1/128 of the line, signs or none: where the push
    /// meets the line it is the same place; where it goes past, as near.
    #[test]
    fn the_same_as_along_the_distance() {
        let lines: [&[[f64; 2]]; 3] = [
            &[[0.0, 0.0], [30.0, 6.0], [70.0, -4.0], [110.0, 9.0]],
            &[[0.0, 0.0], [20.0, 18.0], [45.0, 3.0], [20.0, -9.0]],
            &[[-5.0, 2.0], [-60.0, 8.0]],
        ];
        let (mut meetings, mut past) = (0, 0);
        for points in lines {
            let curve = Curve::through(points, true).unwrap();
            let (length, cuts) = (curve.length(), cuts(&curve, true));
            for k in 0..40 {
                let share = |prime: f64| (f64::from(k) * prime.sqrt()).fract();
                let at = Vec2::new(160.0 * share(2.0) - 50.0, 80.0 * share(3.0) - 40.0);
                let way = Vec2::unit(6.3 * share(5.0));
                let off = |s: f64| way.cross(Vec2::from(curve.point(s)) - at);
                let node = |j: i32| length * f64::from(j) / 128.0;
                let roots = (0..128)
                    .filter_map(|j| root(|s| Some(off(s)), node(j), node(j + 1), 1e-13 * length));
                let away = |p: &Vec2| way.dot(*p - at).abs();
                let expected = roots
                    .map(|s| Vec2::from(curve.point(s)))
                    .min_by(|a, b| away(a).total_cmp(&away(b)));
                let (place, met) = on_line(&curve, &cuts, at, way);
                assert_eq!(met, expected.is_some());
                if let Some(expected) = expected {
                    meetings += 1;
                    assert!((place - expected).length() <= 1e-12 * length);
                } else {
                    past += 1;
                    let nearest = (0..=128).map(|j| off(node(j)).abs());
                    let nearest = nearest.fold(f64::INFINITY, f64::min);
                    assert!(way.cross(place - at).abs() <= nearest + 1e-12 * length);
                }
            }
        }
        assert!(meetings > 15 && past > 15, "{meetings} {past}");
    }

    #[test]
    fn goes_past_the_nearest_place() {
        let line = [[0.0, 0.0], [-50.0, 0.0], [-100.0, 10.0]];
        near(
            met(&line, false, [-120.0, 50.0], [0.0, -1.0]),
            [-100.0, 10.0],
            false,
        );
        near(
            met(&line, false, [7.0, 50.0], [0.0, -1.0]),
            [0.0, 0.0],
            false,
        );
        // A smooth hump, symmetric, that a level push passes above: its top.
        let hump = [[-10.0, 0.0], [0.0, 5.0], [10.0, 0.0]];
        near(
            met(&hump, true, [40.0, 6.0], [-1.0, 0.0]),
            [0.0, 5.0],
            false,
        );
    }
}
