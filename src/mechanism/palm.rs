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

/// The part in the palm.
#[derive(Debug, Clone)]
pub struct PalmFrame {
    /// Its body.
    pub body: PartId,
    /// Its hand line, if it has one, with distances along it between which it crosses a straight line
    /// once at most.
    line: Option<(Curve, Vec<f64>)>,
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
                let mut cuts: Vec<f64> = curve.stations().collect();
                if line.smooth {
                    let step = curve.length() / f64::from(PIECES);
                    cuts.extend((1..PIECES).map(|k| f64::from(k) * step));
                    cuts.sort_by(f64::total_cmp);
                }
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

/// Where a curve meets a straight line: of several places the one nearest to `at`. Its nearest place
/// where it does not; and whether it does.
fn on_line(curve: &Curve, cuts: &[f64], at: Vec2, way: Vec2) -> (Vec2, bool) {
    let off = |s: f64| way.cross(Vec2::from(curve.point(s)) - at);
    let near = FOUND * curve.length();
    let (mut met, mut past): (Option<(f64, f64)>, _) = (None, (f64::INFINITY, 0));
    for (k, pair) in cuts.windows(2).enumerate() {
        let &[a, b] = pair else { continue };
        if let Some(s) = root(|s| Some(off(s)), a, b, near) {
            let away = way.dot(Vec2::from(curve.point(s)) - at).abs();
            if met.is_none_or(|(known, _)| away < known) {
                met = Some((away, s));
            }
        }
        for (off, k) in [(off(a).abs(), k), (off(b).abs(), k + 1)] {
            if off < past.0 {
                past = (off, k);
            }
        }
    }
    if let Some((_, s)) = met {
        return (curve.point(s).into(), true);
    }
    let end = |k: usize| cuts.get(k).or(cuts.last()).copied().unwrap_or(0.0);
    let (low, high) = (end(past.1.saturating_sub(1)), end(past.1 + 1));
    let between = least(|s| Ok::<_, ()>(off(s).abs()), low, high, near);
    let nearest = match between {
        Ok((s, off)) if off < past.0 => curve.point(s),
        _ => curve.point(end(past.1)),
    };
    (nearest.into(), false)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn met(points: &[[f64; 2]], smooth: bool, at: [f64; 2], way: [f64; 2]) -> ([f64; 2], bool) {
        let curve = Curve::through(points, smooth).expect("a curve");
        let mut cuts: Vec<f64> = curve.stations().collect();
        if smooth {
            let step = curve.length() / f64::from(PIECES);
            cuts.extend((1..PIECES).map(|k| f64::from(k) * step));
            cuts.sort_by(f64::total_cmp);
        }
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
