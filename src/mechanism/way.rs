//! The way round a loop, from one spot to another, over the bodies between them.

use super::{Body, GROUND, Linkage, Pose, Spot};
use crate::geometry::Vec2;
use crate::model::PartId;

/// The way round a loop: the sum of vectors, each turned with its body, between two spots.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Way {
    /// What the fixed part gives.
    pub(super) fixed: Vec2,
    /// Bodies of known turn, with their vectors in their axes.
    pub(super) known: Vec<(PartId, Vec2)>,
    /// Bodies that slide, whose places are to be added so many times.
    slides: Vec<(PartId, f64)>,
}

impl Linkage {
    /// Adds the vectors of the way from a spot down to its root to `way`: those of `unknown` bodies
    /// to their arms.
    pub(super) fn add_way(
        &self,
        from: Spot,
        sign: f64,
        way: &mut Way,
        unknown: &[PartId],
        arms: &mut [Vec2],
    ) {
        let mut at = from;
        loop {
            let vector = at.arm * sign;
            let add = |to: &mut Vec2| *to += vector;
            let Body {
                angle,
                parent,
                exit,
                slide,
                ..
            } = self.bodies[at.body];
            if angle == GROUND {
                add(&mut way.fixed);
                return;
            }
            if let Some(k) = unknown.iter().position(|&b| b == at.body) {
                add(&mut arms[k]);
            } else if let Some((_, known)) = way.known.iter_mut().find(|(b, _)| *b == at.body) {
                add(known);
            } else {
                way.known.push((at.body, vector));
            }
            if slide != GROUND {
                match way.slides.iter_mut().find(|(b, _)| *b == at.body) {
                    Some((_, times)) => *times += sign,
                    None => way.slides.push((at.body, sign)),
                }
                return;
            }
            at = Spot {
                body: parent,
                arm: exit,
            };
        }
    }
}

impl Way {
    /// The sum of what is known.
    #[inline]
    pub(super) fn sum(&self, pose: &Pose) -> Vec2 {
        let mut sum = self.fixed;
        for &(body, vector) in &self.known {
            let v = pose.frames[body].direction(vector);
            sum += v;
        }
        for &(body, times) in &self.slides {
            sum += pose.frames[body].origin * times;
        }
        sum
    }

    /// Leaves out bodies that the way passes both up and down: their vectors cancel.
    pub(super) fn tidy(&mut self) {
        self.known.retain(|(_, v)| *v != Vec2::ZERO);
        self.slides.retain(|(_, times)| *times != 0.0);
    }

    /// Takes the place of a sliding body out: how many times it is to be added. `None` where it is not in it.
    pub(super) fn take_slide(&mut self, body: PartId) -> Option<f64> {
        let at = self.slides.iter().position(|(b, _)| *b == body)?;
        Some(self.slides.swap_remove(at).1)
    }

    /// Whether nothing is known of it, and nothing fixed.
    pub(super) fn is_empty(&self) -> bool {
        self.known.is_empty() && self.slides.is_empty() && self.fixed == Vec2::ZERO
    }
}
