//! A four-bar in closed form: position, ratio and all four pin forces.
//!
//! Ground pins A (0, 0) and D (d, 0), crank AB of length a, coupler BC of length b, rocker DC of
//! length c. The hand pushes the crank at right angles at distance g from A; the jaw is a point of
//! the rocker at distance e from D along the rocker, and pushes the frame along a fixed axis.
//!
//! Position by the law of cosines (common practice, no source: any text on mechanisms, e.g.
//! R. L. Norton, *Design of Machinery*, sec. 4.5); forces from the coupler being a two-force link.

use jawforce::model::{Target, Tool};

/// Lengths in mm, angles in rad.
#[derive(Debug, Clone, Copy)]
pub struct FourBar {
    pub a: f64,
    pub b: f64,
    pub c: f64,
    pub d: f64,
    pub e: f64,
    pub grip: f64,
    pub axis: f64,
    /// +1 or −1: the side of BD on which C lies.
    pub side: f64,
}

/// What the closed form gives at one crank angle, for a hand force of 1 N that turns the crank
/// counter-clockwise when `push` is +1.
#[derive(Debug, Clone, Copy)]
pub struct Answer {
    pub rocker: f64,
    pub coupler: f64,
    pub jaw_point: [f64; 2],
    pub ratio: f64,
    /// Force on the crank at A, on the coupler at B, on the rocker at C, on the rocker at D.
    pub pins: [[f64; 2]; 4],
}

impl FourBar {
    pub fn assembles(&self, crank: f64) -> bool {
        let (x, y) = (self.a * crank.cos() - self.d, self.a * crank.sin());
        let f = x.hypot(y);
        f < 0.98 * (self.b + self.c) && f > 1.02 * (self.b - self.c).abs()
    }

    pub fn solve(&self, crank: f64, push: f64) -> Answer {
        let (sin, cos) = crank.sin_cos();
        let b = [self.a * cos, self.a * sin];
        let f = [b[0] - self.d, b[1]];
        let square = f[0] * f[0] + f[1] * f[1];
        // C from D: along DB by p, across by h.
        let p = (square + self.c * self.c - self.b * self.b) / (2.0 * square);
        let h = self.side * (self.c * self.c / square - p * p).sqrt();
        let c = [p * f[0] - h * f[1], p * f[1] + h * f[0]];
        let rocker = c[1].atan2(c[0]);
        let link = [c[0] + self.d - b[0], c[1] - b[1]];
        let coupler = link[1].atan2(link[0]);
        let u = [link[0] / self.b, link[1] / self.b];
        let jaw = [c[0] / self.c * self.e, c[1] / self.c * self.e];
        // Coupler compression T from moments on the crank about A: hand force at arm `grip`.
        let arm_crank = b[0] * u[1] - b[1] * u[0];
        let t = push * self.grip / arm_crank;
        // The coupler pushes the rocker at C with T u; the work resists at the jaw point.
        let axis = [self.axis.cos(), self.axis.sin()];
        let arm_rocker = c[0] * u[1] - c[1] * u[0];
        let arm_jaw = jaw[0] * axis[1] - jaw[1] * axis[0];
        let ratio = -t * arm_rocker / arm_jaw;
        let hand = [-sin * push, cos * push];
        let on_rocker = [t * u[0], t * u[1]];
        Answer {
            rocker,
            coupler,
            jaw_point: [jaw[0] + self.d, jaw[1]],
            ratio,
            pins: [
                [on_rocker[0] - hand[0], on_rocker[1] - hand[1]],
                on_rocker,
                on_rocker,
                [
                    -on_rocker[0] - ratio * axis[0],
                    -on_rocker[1] - ratio * axis[1],
                ],
            ],
        }
    }

    /// The tool, sketched at the crank angle given (roughly), with a stroke between two crank
    /// angles.
    pub fn tool(&self, sketched: f64, open: f64, shut: f64) -> Tool {
        let at = self.solve(sketched, 1.0);
        let b = [self.a * sketched.cos(), self.a * sketched.sin()];
        let parts = vec![
            super::build::part(
                "frame",
                &[("A", [0.0, 0.0]), ("D", [self.d, 0.0])],
                &[("anvil", [self.d, -40.0])],
                [0.0; 3],
            ),
            super::build::part(
                "crank",
                &[("A", [0.0, 0.0]), ("B", [self.a, 0.0])],
                &[],
                [0.0, 0.0, sketched + 0.01],
            ),
            super::build::part(
                "coupler",
                &[("B", [0.0, 0.0]), ("C", [self.b, 0.0])],
                &[],
                [b[0], b[1], at.coupler - 0.02],
            ),
            super::build::part(
                "rocker",
                &[("D", [0.0, 0.0]), ("C", [self.c, 0.0])],
                &[("tip", [self.e, 0.0])],
                [self.d, 0.0, at.rocker + 0.015],
            ),
        ];
        let mut tool = super::build::tool(
            parts,
            ("crank", vec![[0.0, 0.0], [self.grip * 1.5, 0.0]]),
            vec![self.grip],
            ("rocker.tip", "frame.anvil", Some(self.axis)),
        );
        tool.stroke.open = Target::Handle(open);
        tool.stroke.shut = Target::Handle(shut);
        tool
    }
}
