//! Handles: bending, axial force and shear along the hand line.
//!
//! The line is cut at many stations, from the free end inwards. All forces outward of a cut (those
//! that act at a greater distance along the line) give what the section carries; what acts beside
//! the line counts at the nearest place of it. A straight-beam formula, also on a curved line.

use super::beams::{Knot, away, inputs, knots, moment};
use super::cases::Case;
use super::formulas::SHEAR_SHARE;
use super::formulas::beam::{BENDING, Rectangle, SHEAR};
use super::holes::Plates;
use super::ledger::{Finding, Ledger, force, length, number};
use super::result::{Place, Subject};
use crate::model::{Depth, HandLine, Place as LinePlace, Tool};
use crate::numeric::Curve;
use crate::units::Quantity;

/// Even cuts along a hand line; more come at stations of the depth, holes and corners.
const CUTS: u32 = 200;

/// A hand line, cut.
#[derive(Debug, Clone)]
pub(super) struct Handle {
    part: usize,
    cuts: Vec<Cut>,
}

#[derive(Debug, Clone, Copy)]
struct Cut {
    along: f64,
    at: [f64; 2],
    tangent: [f64; 2],
}

impl Handle {
    /// The cuts along a hand line of the tool; `None` when the line cannot be drawn.
    pub(super) fn new(tool: &Tool, line: &HandLine, plates: &Plates<'_>) -> Option<Self> {
        let part = tool.parts.get(line.part)?;
        let place = |p: &LinePlace| match *p {
            LinePlace::At(at) => Some(at),
            LinePlace::Point(point) => part.points.get(point).map(|p| p.at),
        };
        let points = line.points.iter().map(place).collect::<Option<Vec<_>>>()?;
        let curve = Curve::through(&points, line.smooth)?;
        let cut = |along: f64| Cut {
            along,
            at: curve.point(along),
            tangent: curve.tangent(along),
        };
        let step = curve.length() / f64::from(CUTS);
        let mut handle = Self {
            part: line.part,
            cuts: (0..=CUTS).map(|k| cut(f64::from(k) * step)).collect(),
        };
        let mut more: Vec<f64> = Vec::new();
        if let Depth::Stations(rows) = &plates.section.width {
            more.extend(rows.iter().map(|row| row[0]));
        }
        more.extend(points.iter().map(|&p| handle.nearest(p)));
        more.extend(plates.holes.iter().map(|h| handle.nearest(h.local)));
        more.retain(|&s| s > 0.0 && s < curve.length());
        handle.cuts.extend(more.into_iter().map(cut));
        handle.cuts.sort_by(|a, b| a.along.total_cmp(&b.along));
        Some(handle)
    }

    /// Whether it is the hand line of that part.
    pub(super) fn is_on(&self, part: usize) -> bool {
        self.part == part
    }

    /// Distance along the line of its place nearest to a point.
    pub(super) fn nearest(&self, to: [f64; 2]) -> f64 {
        let mut best = (f64::INFINITY, 0.0);
        for pair in self.cuts.windows(2) {
            let [a, b] = pair else { continue };
            let d = [b.at[0] - a.at[0], b.at[1] - a.at[1]];
            let square = d[0] * d[0] + d[1] * d[1];
            if square <= 0.0 {
                continue;
            }
            let t = ((to[0] - a.at[0]) * d[0] + (to[1] - a.at[1]) * d[1]) / square;
            let t = t.clamp(0.0, 1.0);
            let off = away(to, [a.at[0] + t * d[0], a.at[1] + t * d[1]]);
            if off < best.0 {
                best = (off, a.along + t * (b.along - a.along));
            }
        }
        best.1
    }

    /// Bending and shear at every cut, in one load case.
    pub(super) fn check(&self, plates: &Plates<'_>, case: &Case<'_>, ledger: &mut Ledger) {
        let forces: Vec<(f64, Knot)> = knots(plates.part, case)
            .into_iter()
            .map(|k| (self.nearest(k.at), k))
            .collect();
        for cut in &self.cuts {
            let (mut sum, mut bending) = ([0.0; 2], 0.0);
            for (_, k) in forces.iter().filter(|(along, _)| *along > cut.along) {
                sum = [sum[0] + k.force[0], sum[1] + k.force[1]];
                bending += moment(k, cut.at);
            }
            let t = cut.tangent;
            let axial = sum[0] * t[0] + sum[1] * t[1];
            let shear = sum[1] * t[0] - sum[0] * t[1];
            let section = self.section(plates, cut);
            if section.hole >= section.depth {
                continue;
            }
            let finding = Finding {
                subject: Subject::Part(plates.part),
                formula: BENDING,
                value: section.stress(axial, bending),
                allowable: plates.material.yield_strength,
                against: "yield",
                quantity: Quantity::Stress,
                place: Some(Place::Along(cut.along)),
            };
            ledger.offer(case, finding, || inputs(plates, section, axial, bending));
            let sheared = Finding {
                formula: SHEAR,
                value: section.shear(shear),
                allowable: SHEAR_SHARE * plates.material.yield_strength,
                against: "0.577 yield",
                ..finding
            };
            ledger.offer(case, sheared, || {
                vec![
                    force("V", shear),
                    length("w", section.depth),
                    length("d", section.hole),
                    length("t", plates.section.thickness),
                    number("n", f64::from(plates.section.plates)),
                ]
            });
        }
    }

    /// The section at a cut, less a hole whose centre is there and inside the depth.
    fn section(&self, plates: &Plates<'_>, cut: &Cut) -> Rectangle {
        let depth = plates.depth(cut.along);
        let here = |h: &&super::holes::Hole| {
            away(h.local, cut.at) < 0.5 * depth && (self.nearest(h.local) - cut.along).abs() < 1e-6
        };
        let holes = plates.holes.iter().filter(here).filter_map(|h| h.hole);
        Rectangle {
            depth,
            thickness: plates.thickness(),
            hole: holes.fold(0.0, f64::max),
        }
    }
}
