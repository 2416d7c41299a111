//! Velocities of all bodies, for a rate of every coordinate.

use super::{Linkage, Pose, ROOT};
use crate::geometry::Vec2;
use crate::model::PartId;

/// Velocities of all bodies for one motion at one position, on storage that is reused.
#[derive(Debug, Clone)]
pub struct Rates {
    /// Rate of every coordinate.
    pub tangent: Vec<f64>,
    /// Angular rate of every body.
    pub spin: Vec<f64>,
    /// Velocity of every body's entry, mm.
    entry: Vec<Vec2>,
    /// Length of the tangent.
    length: f64,
}

impl Rates {
    /// Storage for `linkage`.
    #[must_use]
    pub fn new(linkage: &Linkage) -> Self {
        let bodies = linkage.bodies.len();
        Self {
            tangent: vec![0.0; linkage.coordinates],
            spin: vec![0.0; bodies],
            entry: vec![Vec2::ZERO; bodies],
            length: 0.0,
        }
    }

    /// Takes over the motion along `tangent` at `pose`, forwards (`sense` 1) or backwards (−1).
    #[inline]
    pub fn set(&mut self, linkage: &Linkage, pose: &Pose, tangent: &[f64], sense: f64) {
        let mut square = 0.0;
        for (own, t) in self.tangent.iter_mut().zip(tangent) {
            *own = t * sense;
            square += t * t;
        }
        self.length = square.sqrt();
        for &b in &linkage.order {
            let body = &linkage.bodies[b];
            self.spin[b.index()] = self.tangent[body.angle];
            self.entry[b.index()] = if body.parent == ROOT {
                Vec2::new(self.tangent[body.slide], self.tangent[body.slide + 1]) * linkage.size
            } else {
                self.of(pose, body.parent, pose.frames[b].origin)
            };
        }
    }

    /// Length of the tangent.
    #[inline]
    #[must_use]
    pub fn length(&self) -> f64 {
        self.length
    }

    /// Velocity of the point of `body` that stands at `place`.
    #[inline]
    #[must_use]
    pub fn of(&self, pose: &Pose, body: PartId, place: Vec2) -> Vec2 {
        let arm = place - pose.frames[body].origin;
        let (v, w) = (self.entry[body.index()], self.spin[body.index()]);
        Vec2::new(v[0] - w * arm[1], v[1] + w * arm[0])
    }
}
