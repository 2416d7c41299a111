//! What common jobs ask of the jaws, estimated from size and strength of the work: lengths in mm, strengths in MPa,
//! forces in N.
//!
//! Estimates for a first design: strengths scatter, edges wear, and clearances differ, so that each is worth its
//! spread and no more until the work is measured. Sources stand beside the formulas.

use std::f64::consts::PI;

/// A job, with its sizes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Job {
    /// A round hole is pierced.
    Pierce {
        /// Diameter of the hole.
        hole: f64,
        /// Thickness of the sheet.
        thickness: f64,
        /// Shear strength.
        shear: f64,
        /// Share of the thickness that the punch goes in until the slug breaks out.
        penetration: f64,
    },
    /// A strip is sheared along a line.
    Shear {
        /// Length of the cut.
        width: f64,
        /// Thickness of the sheet.
        thickness: f64,
        /// Shear strength.
        shear: f64,
        /// Share of the thickness until it breaks.
        penetration: f64,
        /// By how much one end of a slanted blade leads the other; 0: parallel blades.
        rise: f64,
    },
    /// A round wire is cut.
    CutWire {
        /// Its diameter.
        diameter: f64,
        /// Its tensile strength.
        tensile: f64,
        /// Share of the diameter until it parts.
        penetration: f64,
    },
    /// A strip is bent.
    Bend {
        /// Length of the bend.
        width: f64,
        /// Thickness of the sheet.
        thickness: f64,
        /// Its tensile strength.
        tensile: f64,
        /// Width of the opening that it is pressed into.
        opening: f64,
        /// Into a V, or round an edge.
        into: Bend,
    },
    /// The shank of a rivet is upset between flat dies.
    Upset {
        /// Its diameter.
        diameter: f64,
        /// Length that stands out before.
        from: f64,
        /// Length that is left.
        to: f64,
        /// Flow stress.
        flow: f64,
        /// Coefficient of friction on the dies.
        friction: f64,
    },
}

/// How a strip is bent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bend {
    /// Pressed into a V.
    Vee,
    /// Wiped round an edge.
    Wiped,
}

/// A number that a job is estimated from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum Size {
    Hole,
    Thickness,
    Width,
    Diameter,
    Opening,
    From,
    To,
    Shear,
    Tensile,
    Flow,
    Penetration,
    Rise,
    Friction,
}

impl Size {
    /// All, with the words of the tool file.
    pub const ALL: [(&'static str, Self); 13] = [
        ("hole", Self::Hole),
        ("thickness", Self::Thickness),
        ("width", Self::Width),
        ("diameter", Self::Diameter),
        ("opening", Self::Opening),
        ("from", Self::From),
        ("to", Self::To),
        ("shear", Self::Shear),
        ("tensile", Self::Tensile),
        ("flow", Self::Flow),
        ("penetration", Self::Penetration),
        ("rise", Self::Rise),
        ("friction", Self::Friction),
    ];
}

/// Rows of an upsetting curve.
const ROWS: usize = 12;

impl Job {
    /// A number of this job, to be read or changed; `None` where it has no such number.
    pub fn size_mut(&mut self, size: Size) -> Option<&mut f64> {
        match (self, size) {
            (Self::Pierce { hole, .. }, Size::Hole) => Some(hole),
            (
                Self::Pierce { thickness, .. }
                | Self::Shear { thickness, .. }
                | Self::Bend { thickness, .. },
                Size::Thickness,
            ) => Some(thickness),
            (Self::Shear { width, .. } | Self::Bend { width, .. }, Size::Width) => Some(width),
            (Self::CutWire { diameter, .. } | Self::Upset { diameter, .. }, Size::Diameter) => {
                Some(diameter)
            }
            (Self::Bend { opening, .. }, Size::Opening) => Some(opening),
            (Self::Upset { from, .. }, Size::From) => Some(from),
            (Self::Upset { to, .. }, Size::To) => Some(to),
            (Self::Pierce { shear, .. } | Self::Shear { shear, .. }, Size::Shear) => Some(shear),
            (Self::CutWire { tensile, .. } | Self::Bend { tensile, .. }, Size::Tensile) => {
                Some(tensile)
            }
            (Self::Upset { flow, .. }, Size::Flow) => Some(flow),
            (
                Self::Pierce { penetration, .. }
                | Self::Shear { penetration, .. }
                | Self::CutWire { penetration, .. },
                Size::Penetration,
            ) => Some(penetration),
            (Self::Shear { rise, .. }, Size::Rise) => Some(rise),
            (Self::Upset { friction, .. }, Size::Friction) => Some(friction),
            _ => None,
        }
    }

    /// Whether its sizes go together: a rivet is upset to less than stands out.
    #[must_use]
    pub fn fits(&self) -> bool {
        match self {
            Self::Upset { from, to, .. } => from > to,
            _ => true,
        }
    }

    /// The formula of the force, and where it stands.
    #[must_use]
    pub fn source(&self) -> [&'static str; 2] {
        match self {
            Self::Pierce { .. } => ["F = \u{3c0} d t \u{3c4}", PRODUCTION],
            Self::Shear { rise, .. } if *rise > 0.0 => {
                ["F = L t \u{3c4} k t / (k t + i)", PRODUCTION]
            }
            Self::Shear { .. } => ["F = L t \u{3c4}", PRODUCTION],
            Self::CutWire { .. } => ["F = 0.8 \u{3c3} A", "TU Delft, wbmttt report 2338, eq. 3"],
            Self::Bend { .. } => ["F = k L \u{3c3} t\u{b2} / w", PRODUCTION],
            Self::Upset { .. } => [
                "F = Y \u{3c0} r\u{b2} (1 + 2 \u{3bc} r / (3 h))",
                "S. Kalpakjian and S. R. Schmid, Manufacturing Engineering and Technology, sec. 14.1",
            ],
        }
    }

    /// Greatest force.
    #[must_use]
    pub fn force(&self) -> f64 {
        match *self {
            Self::Pierce {
                hole,
                thickness,
                shear,
                ..
            } => PI * hole * thickness * shear,
            Self::Shear {
                width,
                thickness,
                shear,
                penetration,
                rise,
            } => {
                let depth = penetration * thickness;
                width * thickness * shear * depth / (depth + rise)
            }
            Self::CutWire {
                diameter, tensile, ..
            } => 0.8 * tensile * PI * diameter * diameter / 4.0,
            Self::Bend {
                width,
                thickness,
                tensile,
                opening,
                into,
            } => {
                let k = match into {
                    Bend::Vee => 1.33,
                    Bend::Wiped => 0.67,
                };
                k * width * tensile * thickness * thickness / opening
            }
            Self::Upset { to, .. } => self.upset(to),
        }
    }

    /// Force with the shank of a rivet at this length, its volume kept.
    fn upset(&self, length: f64) -> f64 {
        let Self::Upset {
            diameter,
            from,
            flow,
            friction,
            ..
        } = *self
        else {
            return 0.0;
        };
        let radius = 0.5 * diameter * (from / length).sqrt();
        flow * PI * radius * radius * (1.0 + 2.0 * friction * radius / (3.0 * length))
    }

    /// How far the jaws go from the first touch until the force is gone; `None` where it lasts to the end.
    #[must_use]
    pub fn travel(&self) -> Option<f64> {
        match *self {
            Self::Pierce {
                thickness,
                penetration,
                ..
            } => Some(penetration * thickness),
            Self::Shear {
                thickness,
                penetration,
                rise,
                ..
            } => Some(penetration * thickness + rise),
            Self::CutWire {
                diameter,
                penetration,
                ..
            } => Some(penetration * diameter),
            Self::Bend { .. } | Self::Upset { .. } => None,
        }
    }

    /// Gap at which the work is touched, of a tool whose dies meet (cut, pierce) or have done the job (rivet) at a
    /// gap of nothing; `None` where the sizes do not tell.
    #[must_use]
    pub fn starts(&self) -> Option<f64> {
        match *self {
            Self::Pierce { thickness, .. } => Some(thickness),
            Self::Shear {
                thickness, rise, ..
            } => Some(thickness + rise),
            Self::CutWire { diameter, .. } => Some(diameter),
            Self::Bend { .. } => None,
            Self::Upset { from, to, .. } => Some(from - to),
        }
    }

    /// `[gap, force]` from the touch at `starts` on: the greatest force all the way until the work parts, which
    /// asks for more energy than any real curve; of a rivet as its shank grows thicker.
    #[must_use]
    pub fn curve(&self, starts: f64) -> Vec<[f64; 2]> {
        let force = self.force();
        if let Some(travel) = self.travel() {
            let ends = starts - travel;
            return vec![[starts, 0.0], [starts, force], [ends, force], [ends, 0.0]];
        }
        let Self::Upset { from, to, .. } = *self else {
            return vec![
                [starts, 0.0],
                [starts, force],
                [starts.min(0.0) - 1e-3, force],
            ];
        };
        let at = |k: usize| {
            let gone = (from - to) * k as f64 / ROWS as f64;
            [starts - gone, self.upset(from - gone)]
        };
        std::iter::once([starts, 0.0])
            .chain((0..=ROWS).map(at))
            .collect()
    }
}

const PRODUCTION: &str = "P. C. Sharma, A Textbook of Production Engineering, ch. 2";

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn near(found: f64, expected: f64, within: f64) {
        assert!(
            (found / expected - 1.0).abs() < within,
            "{found} is not {expected}"
        );
    }

    /// Sharma, *Production Engineering*, ex. 2.1: rings of 50 and 24 mm, 4 mm, 360 MPa: 226.2 and 108.57 kN.
    #[test]
    fn piercing_as_printed() {
        for (hole, force) in [(50.0, 226.2e3), (24.0, 108.57e3)] {
            let job = Job::Pierce {
                hole,
                thickness: 4.0,
                shear: 360.0,
                penetration: 0.35,
            };
            near(job.force(), force, 2e-4);
        }
    }

    /// The same, ex. 2.4: 25 × 30 mm out of 1.5 mm, 450 MPa: 74.25 kN, and 27.84 J at a penetration of 0.25; ex. 2.6:
    /// a cut of π (25.4 + 12.7) mm in 1.5 mm, 280 MPa: 50.27 kN, and 23.8 kN with 1 mm of shear at k = 0.6.
    #[test]
    fn shearing_as_printed() {
        let job = |width: f64, shear: f64, penetration: f64, rise: f64| Job::Shear {
            width,
            thickness: 1.5,
            shear,
            penetration,
            rise,
        };
        let blank = job(2.0 * (25.0 + 30.0), 450.0, 0.25, 0.0);
        near(blank.force(), 74.25e3, 1e-9);
        let curve = blank.curve(1.5);
        let work = curve[1][1] * (curve[1][0] - curve[2][0]);
        near(work, 27.84e3, 2e-4);
        let round = PI * (25.4 + 12.7);
        near(job(round, 280.0, 0.6, 0.0).force(), 50.27e3, 2e-4);
        near(job(round, 280.0, 0.6, 1.0).force(), 23.8e3, 1e-3);
    }

    /// The same, ex. 2.12: V of 8 t, 1200 mm, 1.6 mm, 455 MPa: 145.24 kN; ex. 2.11: wiped, 900 mm, 3.2 mm, 400 MPa, an
    /// opening of 22.2 mm: 111.25 kN.
    #[test]
    fn bending_as_printed() {
        let bend = |width, thickness, tensile, opening, into| Job::Bend {
            width,
            thickness,
            tensile,
            opening,
            into,
        };
        let vee = bend(1200.0, 1.6, 455.0, 8.0 * 1.6, Bend::Vee);
        near(vee.force(), 145.24e3, 1e-4);
        let wiped = bend(900.0, 3.2, 400.0, 22.2, Bend::Wiped);
        near(wiped.force(), 111.25e3, 1e-4);
    }

    /// Kalpakjian and Schmid, sec. 14.1, p. 344: a disc of 150 mm and 100 mm upset to 50 mm at 1000 MPa, friction 0.2:
    /// 45 MN (recomputed 45.34).
    #[test]
    fn upsetting_as_printed() {
        let job = Job::Upset {
            diameter: 150.0,
            from: 100.0,
            to: 50.0,
            flow: 1000.0,
            friction: 0.2,
        };
        near(job.force(), 45.34e6, 1e-4);
        near(job.force(), 45e6, 1e-2);
        let curve = job.curve(50.0);
        assert_eq!(curve.last().map(|row| row[0]), Some(0.0));
        near(
            curve[1][1],
            1000.0 * PI * 75.0 * 75.0 * (1.0 + 2.0 * 0.2 * 75.0 / 300.0),
            1e-12,
        );
        // It only grows.
        assert!(curve.windows(2).all(|pair| pair[0][1] < pair[1][1]));
    }

    #[test]
    fn the_force_is_gone_when_the_work_parts() {
        let job = Job::CutWire {
            diameter: 2.0,
            tensile: 500.0,
            penetration: 0.5,
        };
        near(job.force(), 0.8 * 500.0 * PI, 1e-12);
        assert_eq!(
            job.curve(2.0),
            [
                [2.0, 0.0],
                [2.0, job.force()],
                [1.0, job.force()],
                [1.0, 0.0]
            ]
        );
    }
}
