//! Handles: bending, axial force and shear along the hand line.
//!
//! The line is cut at many stations, from the free end inwards. All forces outward of a cut (those
//! that the part carries at a greater distance along the line, see [`seat`]) give what the section
//! carries. A straight-beam formula, also on a curved line.

use super::beams::{away_squared, inputs, seat};
use super::cases::Case;
use super::formulas::SHEAR_SHARE;
use super::formulas::beam::{BENDING, Rectangle, SHEAR};
use super::holes::Plates;
use super::knots::{Knot, moment};
use super::ledger::{Finding, Ledger, force, length, number};
use super::result::{Place, Subject};
use crate::geometry::Vec2;
use crate::model::{Depth, HandLine, Tool};
use crate::numeric::Curve;
use crate::units::Quantity;

/// Even cuts along a hand line; more come at stations of the depth, holes and corners, and
/// where forces are carried.
const CUTS: u32 = 200;
/// Cuts between those that are looked at first when a nearest place is sought.
const COARSE: usize = 8;
/// A force whose seat is nearer than this to a cut acts in it, mm.
const IN_CUT: f64 = 1e-3;
/// Cuts nearer than this are at the same place, mm.
const SAME_CUT: f64 = 1e-6;

/// Share of the line's length about the worst place of a drawn tool within which that of made ones lies.
const NEAR: f64 = 0.02;

/// A hand line, cut.
#[derive(Debug, Clone)]
pub(super) struct Handle {
    curve: Curve,
    cuts: Vec<Cut>,
    /// Distances along the line near which it is looked at; `None`: everywhere.
    places: Option<Vec<f64>>,
}

/// A force on a part with a hand line, mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seated {
    pub(super) knot: Knot,
    /// Distance along the line of the place nearest to it.
    nearest: f64,
    /// And of the place where the part carries it, see [`seat`].
    pub(super) seat: f64,
}

impl Seated {
    /// Whether it acts off the line, and not before its first point.
    pub(super) fn has_arm(&self) -> bool {
        self.nearest > SAME_CUT && self.seat == 0.0
    }
}

#[derive(Debug, Clone, Copy)]
struct Cut {
    along: f64,
    /// Parameter of the curve there, see [`Curve::chord`].
    chord: f64,
    at: Vec2,
    tangent: Vec2,
    /// The greatest hole through whose middle it goes: index into [`Plates::holes`].
    hole: Option<usize>,
}

impl Cut {
    fn new(along: f64, curve: &Curve) -> Self {
        let chord = curve.chord(along);
        Self {
            along,
            chord,
            at: curve.at_chord(chord).into(),
            tangent: curve.direction(chord).into(),
            hole: None,
        }
    }

    fn section(&self, plates: &Plates<'_>) -> Rectangle {
        let hole = self.hole.and_then(|hole| plates.holes.get(hole)?.hole);
        Rectangle {
            depth: plates.depth(self.along),
            thickness: plates.thickness(),
            hole: hole.unwrap_or(0.0),
        }
    }
}

/// The worst of a load case along the line.
#[derive(Debug, Clone, Copy)]
struct Worst<'a> {
    stress: f64,
    cut: &'a Cut,
    /// Axial force (N) and moment (N mm), or shear force (N) and nothing.
    carried: [f64; 2],
}

impl Handle {
    /// The cuts along a hand line of the tool; `None` when the line cannot be drawn.
    pub(super) fn new(tool: &Tool, line: &HandLine, plates: &Plates<'_>) -> Option<Self> {
        let part = tool.part(line.part)?;
        let at = line.points.iter().map(|&place| part.place(place));
        let points = at.collect::<Option<Vec<_>>>()?;
        let curve = Curve::through(&points, line.smooth)?;
        let cut = |along: f64| Cut::new(along, &curve);
        let step = curve.length() / f64::from(CUTS);
        let mut handle = Self {
            cuts: (0..=CUTS).map(|k| cut(f64::from(k) * step)).collect(),
            curve: curve.clone(),
            places: None,
        };
        let mut more: Vec<f64> = Vec::new();
        if let Depth::Stations(rows) = &plates.section.width {
            more.extend(rows.iter().map(|row| row[0]));
        }
        more.extend(points.iter().map(|&p| handle.nearest(p.into())[0]));
        more.extend(plates.holes.iter().map(|h| handle.nearest(h.local)[0]));
        more.retain(|&s| s > 0.0 && s < curve.length());
        handle.cuts.extend(more.into_iter().map(cut));
        handle.cuts.sort_by(|a, b| a.along.total_cmp(&b.along));
        handle.drill(plates);
        Some(handle)
    }

    /// The same, looked at only near these distances along the line.
    pub(super) fn near(mut self, places: Vec<f64>) -> Self {
        self.places = Some(places);
        self
    }

    /// Whether a cut at a distance along the line is looked at.
    fn is_looked_at(&self, along: f64) -> bool {
        let near = NEAR * self.curve.length();
        let places = self.places.as_ref();
        places.is_none_or(|places| places.iter().any(|place| (along - place).abs() <= near))
    }

    /// Distance along the line of the place where the part carries what acts at a point.
    pub(super) fn seat(&self, plates: &Plates<'_>, at: Vec2) -> f64 {
        let [_, seat] = self.nearest_and_seat(plates, at);
        seat
    }

    fn nearest_and_seat(&self, plates: &Plates<'_>, at: Vec2) -> [f64; 2] {
        let [along, off] = self.nearest(at);
        [along, seat(along, off, plates.depth(along))]
    }

    /// Where the part carries each of the forces on it.
    pub(super) fn seated(&self, plates: &Plates<'_>, knots: &[Knot]) -> Vec<Seated> {
        let seated = knots.iter().map(|&knot| {
            let [nearest, seat] = self.nearest_and_seat(plates, knot.at);
            Seated {
                knot,
                nearest,
                seat,
            }
        });
        seated.collect()
    }

    /// Distance along the line of its place nearest to a point, and how far that is from it: first
    /// the nearest of every eighth cut, then the pieces around it, then on the curve itself.
    fn nearest(&self, to: Vec2) -> [f64; 2] {
        let coarse = self.cuts.iter().enumerate().step_by(COARSE);
        let about =
            coarse.min_by(|a, b| away_squared(to, a.1.at).total_cmp(&away_squared(to, b.1.at)));
        let about = about.map_or(0, |(k, _)| k);
        let pieces = self
            .cuts
            .windows(2)
            .skip(about.saturating_sub(COARSE))
            .take(2 * COARSE);
        let mut best = (f64::INFINITY, 0.0);
        for pair in pieces {
            let [a, b] = pair else { continue };
            let d = b.at - a.at;
            let square = away_squared(a.at, b.at);
            if square <= 0.0 {
                continue;
            }
            let t = ((to[0] - a.at[0]) * d[0] + (to[1] - a.at[1]) * d[1]) / square;
            let t = t.clamp(0.0, 1.0);
            let off = away_squared(to, Vec2::new(a.at[0] + t * d[0], a.at[1] + t * d[1]));
            if off < best.0 {
                best = (off, a.chord + t * (b.chord - a.chord));
            }
        }
        self.curve.square_to(to.xy(), best.1)
    }

    /// Takes the holes out of the sections at the cuts through their centres, where the centre is
    /// inside the depth.
    fn drill(&mut self, plates: &Plates<'_>) {
        for (h, hole) in plates.holes.iter().enumerate() {
            let Some(diameter) = hole.hole else { continue };
            let [along, _] = self.nearest(hole.local);
            for cut in &mut self.cuts {
                let section = cut.section(plates);
                let inside = (hole.local - cut.at).length() < 0.5 * section.depth;
                if inside && (cut.along - along).abs() < SAME_CUT && diameter > section.hole {
                    cut.hole = Some(h);
                }
            }
        }
    }

    /// Bending and shear at the worst cut, in one load case whose forces on the part add up.
    pub(super) fn check(
        &self,
        plates: &Plates<'_>,
        case: &Case<'_>,
        forces: &[Seated],
        ledger: &mut Ledger,
    ) {
        // The hand, and a slot, wander along the line: there is a cut where each force is carried.
        let seats = forces.iter().map(|on| on.seat);
        let seats: Vec<Cut> = seats
            .filter(|&along| along > 0.0 && self.is_looked_at(along))
            .map(|along| Cut::new(along, &self.curve))
            .collect();
        let (mut bent, mut sheared) = (None, None);
        let looked = self.cuts.iter().filter(|cut| self.is_looked_at(cut.along));
        for cut in looked.chain(&seats) {
            let section = cut.section(plates);
            if section.hole >= section.depth {
                continue;
            }
            // What acts in the cut itself jumps there: both sides of it are looked at.
            let within = |on: &Seated| (on.seat - cut.along).abs() < IN_CUT;
            let sides = match forces.iter().any(within) {
                true => &[false, true][..],
                false => &[false],
            };
            for with in sides {
                let (mut sum, mut bending) = (Vec2::ZERO, 0.0);
                for on in forces {
                    let beyond = match within(on) {
                        true => *with,
                        false => on.seat > cut.along,
                    };
                    if beyond {
                        sum += on.knot.force;
                        bending += moment(&on.knot, cut.at);
                    }
                }
                let t = cut.tangent;
                let axial = sum[0] * t[0] + sum[1] * t[1];
                let shear = sum[1] * t[0] - sum[0] * t[1];
                worse(
                    &mut bent,
                    cut,
                    section.stress(axial, bending),
                    [axial, bending],
                );
                worse(&mut sheared, cut, section.shear(shear), [shear, 0.0]);
            }
        }
        let finding = |worst: &Worst<'_>| Finding {
            subject: Subject::Part(plates.part),
            formula: BENDING,
            value: worst.stress,
            allowable: plates.material.yield_strength,
            against: "yield",
            quantity: Quantity::Stress,
            place: Some(Place::Along(worst.cut.along)),
            stretch: 0,
        };
        if let Some(worst) = bent {
            let [axial, bending] = worst.carried;
            ledger.offer(case, finding(&worst), || {
                inputs(plates, worst.cut.section(plates), axial, bending)
            });
        }
        if let Some(worst) = sheared {
            let sheared = Finding {
                formula: SHEAR,
                allowable: SHEAR_SHARE * plates.material.yield_strength,
                against: "0.577 yield",
                ..finding(&worst)
            };
            ledger.offer(case, sheared, || {
                let section = worst.cut.section(plates);
                vec![
                    force("V", worst.carried[0]),
                    length("w", section.depth),
                    length("d", section.hole),
                    length("t", plates.section.thickness),
                    number("n", f64::from(plates.section.plates)),
                ]
            });
        }
    }
}

/// Keeps the greater stress; one that is no number is kept for good, to be reported.
fn worse<'a>(worst: &mut Option<Worst<'a>>, cut: &'a Cut, stress: f64, carried: [f64; 2]) {
    let greater =
        worst.is_none_or(|w| stress > w.stress || (stress.is_nan() && !w.stress.is_nan()));
    if greater {
        *worst = Some(Worst {
            stress,
            cut,
            carried,
        });
    }
}
