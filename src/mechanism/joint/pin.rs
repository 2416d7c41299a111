//! A pin: two parts that turn about one point.
//!
//! Off the tree it has two equations, P(carrier) − P(part) = 0, x and y. On the tree it has none: it is
//! what places the outer part, and its force is the sum of all that acts on that part and beyond.
//!
//! Friction: a pin loose in its hole passes its force R on along a line that touches the friction
//! circle, radius r sin φ with φ = atan μ, so that its moment is r sin φ |R| against the relative
//! rotation (D. W. Baker and W. Haynes, *Engineering Statics: Open and Interactive*, sec. 9.6).
//! Some books write μ r, the small-angle form; at μ = 0.2 that is 2 % more.

use super::kind::{Kind, Tally, spot_of, unplaced};
use super::rub::{ContactForce, Rub, Wall};
use crate::geometry::Vec2;
use crate::mechanism::{Body, Linkage, Pose, Rates, Spot, Take, Wrench};
use crate::model::{JointId, PartId, PinJoint, PointRef, Tool};
use std::ops::Range;

/// A pin joint as the equations see it.
#[derive(Debug, Clone, Copy)]
pub struct PinFrame {
    /// Which of [`Tool::joints`].
    pub index: JointId,
    /// The pin on the carrier.
    pub carrier: Spot,
    /// The pin on the other, later part.
    pub part: Spot,
    /// How the joint is held.
    pub held: Held,
}

/// The two ways in which a pin joint enters the equations.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// By the tree; the child is the later part (`true`) or the carrier (`false`).
    Tree {
        /// Whether the outer body is the later part.
        child_is_part: bool,
    },
    /// By two equations, of which this is the first row.
    Cut {
        /// Row of the x equation; y follows.
        row: usize,
    },
}

impl PinFrame {
    pub(super) fn new(
        index: JointId,
        pin: &PinJoint,
        child_is_part: Option<bool>,
        tally: &mut Tally,
    ) -> Self {
        let held = match child_is_part {
            Some(child_is_part) => Held::Tree { child_is_part },
            None => {
                tally.equations += 2;
                Held::Cut {
                    row: tally.equations - 2,
                }
            }
        };
        Self {
            index,
            carrier: unplaced(pin.carrier),
            part: unplaced(pin.part),
            held,
        }
    }
}

impl Kind for PinFrame {
    #[inline]
    fn bodies(&self) -> [PartId; 2] {
        [self.part.body, self.carrier.body]
    }

    #[inline]
    fn rows(&self) -> Range<usize> {
        match self.held {
            Held::Tree { .. } => 0..0,
            Held::Cut { row } => row..row + 2,
        }
    }

    fn place(&mut self, tool: &Tool, bodies: &[Body]) {
        let joint = &tool.joints[self.index];
        let of = |part, point| spot_of(tool, bodies, PointRef { part, point });
        self.carrier = of(joint.carrier, joint.carrier_point);
        self.part = of(joint.part, joint.part_point);
    }

    #[inline]
    fn residual(&self, _linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
        let gap = pose.place(self.carrier) - pose.place(self.part);
        (out[0], out[1]) = (gap[0], gap[1]);
    }

    #[inline]
    fn gradient(&self, linkage: &Linkage, pose: &Pose, rows: &mut [f64]) {
        let (x_row, y_row) = rows.split_at_mut(linkage.coordinates);
        for (spot, sign) in [(self.carrier, 1.0), (self.part, -1.0)] {
            linkage.add_both_gradients(pose, spot.body, pose.place(spot), sign, x_row, y_row);
        }
    }

    fn apart(&self, residual: &[f64]) -> f64 {
        residual[0].hypot(residual[1])
    }

    #[inline]
    fn load(&self, _size: f64, multipliers: &[f64]) -> [f64; 2] {
        match self.held {
            Held::Cut { row } => [-multipliers[row], -multipliers[row + 1]],
            Held::Tree { .. } => [0.0; 2],
        }
    }

    #[inline]
    fn hung_load(&self, sums: &[Wrench]) -> [f64; 2] {
        match self.held {
            Held::Tree {
                child_is_part: true,
            } => (-sums[self.part.body].force).xy(),
            Held::Tree {
                child_is_part: false,
            } => sums[self.carrier.body].force.xy(),
            Held::Cut { .. } => [0.0; 2],
        }
    }

    #[inline]
    fn act(&self, pose: &Pose, load: [f64; 2], to: &mut (impl Take + ?Sized)) {
        let (part, carrier) = (self.part, self.carrier);
        let load = Vec2::from(load);
        let back = -load;
        to.force(part.body, pose.arm(part), pose.place(part), load);
        to.force(carrier.body, pose.arm(carrier), pose.place(carrier), back);
    }

    fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub> {
        let data = tool.joint_data.get(self.index.index())?;
        let radius = 0.5 * data.diameter? * data.friction.atan().sin();
        (radius > 0.0 && wall == Wall::First).then_some(Rub {
            drag: radius,
            force: ContactForce::Length,
            lifts: false,
        })
    }

    #[inline]
    fn rate(&self, _pose: &Pose, rates: &Rates, _wall: Wall) -> f64 {
        rates.spin[self.part.body.index()] - rates.spin[self.carrier.body.index()]
    }

    #[inline]
    fn usual_rate(&self, _size: f64) -> f64 {
        1.0
    }

    #[inline]
    fn drag(&self, _pose: &Pose, friction: f64, _wall: Wall, to: &mut (impl Take + ?Sized)) {
        to.couple(self.part.body, friction);
        to.couple(self.carrier.body, -friction);
    }

    /// On the tree the outer body's entry moves; off it, the carrier's side of the equation.
    fn play(&mut self, bodies: &mut [Body], shift: Vec2) {
        let moved = |arm: Vec2, sign: f64| arm + shift * sign;
        match self.held {
            Held::Tree {
                child_is_part: true,
            } => {
                let body = &mut bodies[self.part.body];
                body.exit = moved(body.exit, 1.0);
            }
            Held::Tree {
                child_is_part: false,
            } => {
                let body = &mut bodies[self.carrier.body];
                body.exit = moved(body.exit, -1.0);
            }
            Held::Cut { .. } => self.carrier.arm = moved(self.carrier.arm, 1.0),
        }
    }

    fn play_axes(&self) -> PartId {
        match self.held {
            Held::Tree {
                child_is_part: false,
            } => self.part.body,
            _ => self.carrier.body,
        }
    }
}
