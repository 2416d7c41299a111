//! A handle: bending and axial force along its hand line, and its head as a beam.
//!
//! The line is cut as for strength: all forces outward of a cut (those that the part carries at a
//! greater distance along the line, see [`seat`]) give what the section carries there. The rest is
//! the head (the pins, as a rule): a beam through its force points and the first point of the line,
//! to which the line hands on its load. A straight-beam formula, also on a curved line.

use super::beam::{self, Stiffness};
use super::result::Flexure;
use crate::geometry::Vec2;
use crate::model::{Depth, HandLine, Section, Tool};
use crate::numeric::Curve;
use crate::numeric::gauss::{FIVE, nodes};
use crate::strength::{Knot, moment, seat};

/// Even pieces along a line, besides those that its corners, the stations of the depth and the
/// forces make.
const PIECES: u32 = 40;
/// Distances nearer than this are one, mm.
const SAME: f64 = 1e-6;

/// A hand line with its section.
#[derive(Debug, Clone)]
pub(super) struct Line {
    curve: Curve,
    /// Where to cut, increasing.
    cuts: Vec<f64>,
    /// The places of the cuts.
    places: Vec<Vec2>,
    depth: Depth,
    thickness: f64,
    modulus: f64,
}

/// What a handle gives.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Bent {
    pub all: Flexure,
    /// The length that carries nothing but the hand force.
    pub hand_side: Flexure,
}

impl Line {
    /// The hand line of a handle; `None` when it cannot be drawn.
    pub(super) fn new(
        tool: &Tool,
        line: &HandLine,
        section: &Section,
        modulus: f64,
    ) -> Option<Self> {
        let part = tool.part(line.part)?;
        let points = line.points.iter().map(|&p| part.place(p));
        let points = points.collect::<Option<Vec<_>>>()?;
        let curve = Curve::through(&points, line.smooth)?;
        let length = curve.length();
        let even = (0..=PIECES).map(|k| length * f64::from(k) / f64::from(PIECES));
        let mut cuts: Vec<f64> = even.collect();
        if !line.smooth {
            let mut corner = 0.0;
            for pair in points.windows(2) {
                if let [a, b] = pair {
                    corner += (Vec2::from(*a) - Vec2::from(*b)).length();
                    cuts.push(corner);
                }
            }
        }
        if let Depth::Stations(rows) = &section.width {
            cuts.extend(rows.iter().map(|row| row[0]));
        }
        cuts.retain(|&s| (0.0..=length).contains(&s));
        cuts.sort_by(f64::total_cmp);
        Some(Self {
            places: cuts.iter().map(|&s| curve.point(s).into()).collect(),
            curve,
            cuts,
            depth: section.width.clone(),
            thickness: section.all_plates(),
            modulus,
        })
    }

    fn stiffness(&self, along: f64) -> Stiffness {
        Stiffness::new(self.depth.at(along), self.thickness, self.modulus)
    }

    /// Distance along the line of the place where the part carries what acts at a point.
    pub(super) fn seat(&self, at: Vec2) -> f64 {
        let [along, off] = self.nearest(at);
        seat(along, off, self.depth.at(along))
    }

    /// Distance along the line of its place nearest to a point, and how far off that is.
    fn nearest(&self, to: Vec2) -> [f64; 2] {
        let mut best = (f64::INFINITY, 0.0);
        for (along, ends) in self.cuts.windows(2).zip(self.places.windows(2)) {
            let ([a, b], [from, end]) = (along, ends) else {
                continue;
            };
            let d = *end - *from;
            let square = d[0] * d[0] + d[1] * d[1];
            if !(square > 0.0) {
                continue;
            }
            let t = ((to[0] - from[0]) * d[0] + (to[1] - from[1]) * d[1]) / square;
            let t = t.clamp(0.0, 1.0);
            let off = (to - (*from + d * t)).length();
            if off < best.0 {
                best = (off, a + t * (b - a));
            }
        }
        self.curve.square_to(to.xy(), self.curve.chord(best.1))
    }

    /// What the handle gives under these forces. `others`: the greatest distance along the line of
    /// any force but the hand's.
    pub(super) fn flexure(&self, knots: &[Knot], others: f64) -> Bent {
        let placed: Vec<(f64, Knot)> = knots.iter().map(|k| (self.seat(k.at), *k)).collect();
        let reach = placed.iter().fold(0.0_f64, |most, (s, _)| most.max(*s));
        let mut cuts = self.cuts.clone();
        cuts.extend(placed.iter().map(|(s, _)| *s));
        cuts.push(others);
        cuts.retain(|&s| s <= reach);
        cuts.sort_by(f64::total_cmp);
        let mut bent = Bent::default();
        for pair in cuts.windows(2) {
            let [a, b] = pair else { continue };
            if b - a < SAME {
                continue;
            }
            let outward: Vec<Knot> = placed
                .iter()
                .filter(|(s, _)| *s > 0.5 * (a + b))
                .map(|(_, k)| *k)
                .collect();
            let piece = self.piece(&outward, *a, *b);
            bent.all = bent.all.plus(piece);
            if *a >= others - SAME {
                bent.hand_side = bent.hand_side.plus(piece);
            }
        }
        bent.all = bent.all.plus(self.head(&placed));
        bent
    }

    /// One piece of the line, by a rule of Gauss and Legendre that is exact for a straight piece of
    /// constant section.
    fn piece(&self, outward: &[Knot], from: f64, to: f64) -> Flexure {
        let mut sum = Flexure::default();
        for (s, weight) in nodes(&FIVE, from, to) {
            let (at, t) = self.curve.point_and_tangent(s);
            let (mut axial, mut bending) = (0.0, 0.0);
            for k in outward {
                axial += k.force[0] * t[0] + k.force[1] * t[1];
                bending += moment(k, at.into());
            }
            let stiffness = self.stiffness(s);
            sum.axial += weight * axial * axial / stiffness.axial;
            sum.bending += weight * bending * bending / stiffness.bending;
        }
        sum
    }

    /// The head: the force points that are not on the line, and its first point, where the load of
    /// the line is handed on.
    fn head(&self, placed: &[(f64, Knot)]) -> Flexure {
        let root = self.curve.point(0.0);
        let mut handed = Knot {
            at: root.into(),
            force: Vec2::ZERO,
            moment: 0.0,
        };
        let mut head: Vec<Knot> = Vec::new();
        for (s, k) in placed {
            if *s > SAME && (k.at - root.into()).length() > SAME {
                handed.force += k.force;
                handed.moment += moment(k, root.into());
            } else {
                head.push(*k);
            }
        }
        if head.len() < placed.len() {
            match head
                .iter_mut()
                .find(|k| (k.at - root.into()).length() < SAME)
            {
                Some(k) => {
                    k.force += handed.force;
                    k.moment += handed.moment;
                }
                None => head.push(handed),
            }
        }
        beam::flexure(head, self.stiffness(0.0))
    }
}
