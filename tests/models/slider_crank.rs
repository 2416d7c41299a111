//! A slider-crank in closed form: position, ratio and pin forces.
//!
//! Crank AB of length r about the origin A; rod BC of length l; C rides along the line y = e, the
//! whole turned by `tilt`. The hand pushes the crank at right angles at distance `grip` from A;
//! the work pushes the slider along the guide. Position and forces by elementary trigonometry
//! and the rod being a two-force link (common practice, no source).

use super::build;
use jawforce::model::{PartId, PointRef, Target, Tool};

/// Lengths in mm, angles in rad.
#[derive(Debug, Clone, Copy)]
pub struct SliderCrank {
    pub r: f64,
    pub l: f64,
    pub e: f64,
    pub grip: f64,
    pub tilt: f64,
    /// +1 or −1: C ahead of B along the guide, or behind it.
    pub ahead: f64,
}

/// At one crank angle, for a hand force of 1 N that turns the crank counter-clockwise. Places and
/// forces in the tool's axes.
#[derive(Debug, Clone, Copy)]
pub struct Answer {
    pub rod: f64,
    pub b: [f64; 2],
    pub c: [f64; 2],
    /// Jaw force along the guide's +x (the work pushes the slider that way).
    pub ratio: f64,
    /// Force on the crank at A, on the rod at B, on the slider at C.
    pub pins: [[f64; 2]; 3],
}

impl SliderCrank {
    pub fn assembles(&self, crank: f64) -> bool {
        (self.e - self.r * crank.sin()).abs() < 0.97 * self.l
    }

    pub fn solve(&self, crank: f64) -> Answer {
        let (sin, cos) = crank.sin_cos();
        let rise = self.e - self.r * sin;
        let run = self.ahead * (self.l * self.l - rise * rise).sqrt();
        let b = [self.r * cos, self.r * sin];
        let c = [b[0] + run, self.e];
        let u = [run / self.l, rise / self.l];
        // Compression t of the rod from moments on the crank about A; the slider holds its share
        // along the guide.
        let t = self.grip / (b[0] * u[1] - b[1] * u[0]);
        let ratio = -t * u[0];
        let turn = |v: [f64; 2]| {
            let (s, c) = self.tilt.sin_cos();
            [c * v[0] - s * v[1], s * v[0] + c * v[1]]
        };
        let push = [t * u[0], t * u[1]];
        Answer {
            rod: rise.atan2(run) + self.tilt,
            b: turn(b),
            c: turn(c),
            ratio,
            pins: [turn([push[0] + sin, push[1] - cos]), turn(push), turn(push)],
        }
    }

    /// The tool, roughly sketched at a crank angle, with a stroke between two crank angles (all
    /// measured from the guide). `keyed`: C is a pin of a keyed slider, else a pin of the rod that
    /// rides in the slot.
    pub fn tool(&self, sketched: f64, open: f64, shut: f64, keyed: bool) -> Tool {
        let at = self.solve(sketched);
        let mut parts = vec![
            build::part("frame", &[("A", [0.0; 2])], &[("stop", [0.0; 2])], [0.0; 3]),
            build::part(
                "crank",
                &[("A", [0.0; 2]), ("B", [self.r, 0.0])],
                &[],
                [0.0, 0.0, sketched + self.tilt + 0.01],
            ),
            build::part(
                "rod",
                &[("B", [0.0; 2]), ("C", [self.l, 0.0])],
                &[],
                [at.b[0], at.b[1], at.rod - 0.015],
            ),
        ];
        let rider = if keyed { "slider" } else { "rod" };
        if keyed {
            parts.push(build::part(
                "slider",
                &[("C", [0.0; 2])],
                &[],
                [at.c[0] + 0.01 * self.r, at.c[1], self.tilt],
            ));
        }
        let mut tool = build::tool(
            parts,
            ("crank", vec![[0.0; 2], [self.grip * 1.5, 0.0]]),
            vec![self.grip],
            (&format!("{rider}.C"), "frame.stop", Some(self.tilt)),
        );
        let part = tool.part_index(rider).expect("the rider");
        let point = tool.parts[part].point_index("C").expect("C");
        let (s, c) = self.tilt.sin_cos();
        tool.slots.push(build::slot(
            PointRef { part, point },
            PartId::FIRST,
            [-s * self.e, c * self.e],
            self.tilt,
            keyed.then_some(self.tilt),
        ));
        tool.stroke.open = Target::Handle(open + self.tilt);
        tool.stroke.shut = Target::Handle(shut + self.tilt);
        tool
    }
}
