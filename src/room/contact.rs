//! Which plates touch or run into each other at one position.

use super::{Body, common_eyes, edges, in_one_layer};
use crate::geometry::{Frame, Vec2};
use crate::model::{PartId, Tool};
use crate::outline::{Piece, overlap};

/// Two parts whose plates touch in one layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Contact {
    /// The parts, in the tool's order.
    pub parts: [PartId; 2],
    /// Where: the middle of what both claim, or the place where they touch.
    pub at: Vec2,
    /// Area that both claim, mm²; 0 where they only touch.
    pub area: f64,
    /// The borders of that area; empty where they only touch.
    pub borders: Vec<Vec<Piece>>,
}

/// Nearer than this plates are drawn as touching, mm: first touches are found within half of it.
const TOUCHING: f64 = 0.02;

/// Which of these bodies touch with the parts at `frames` (in the tool's order); `apart` as for
/// [`meetings`](super::meetings).
#[must_use]
pub fn contacts(tool: &Tool, bodies: &[Body<'_>], frames: &[Frame], apart: f64) -> Vec<Contact> {
    let pairs = in_one_layer(bodies).filter_map(|(first, second, _)| {
        let own = frames.get(first.part.index())?;
        let there = frames.get(second.part.index())?;
        let discs = common_eyes(tool, first, second, apart);
        let seen: Vec<(Vec2, f64)> = (discs.iter())
            .map(|(at, radius)| (own.place(at[0]), *radius))
            .collect();
        let parts = [first.part, second.part];
        if let Some(both) = overlap((first.shape, own), (second.shape, there), &seen) {
            return Some(Contact {
                parts,
                at: both.middle,
                area: both.area,
                borders: both.borders,
            });
        }
        let [one, other] = edges([first, second], &discs)?;
        let gap = one.gap(own, &other, there, TOUCHING)?;
        Some(Contact {
            parts,
            at: (gap.points[0] + gap.points[1]) * 0.5,
            area: 0.0,
            borders: Vec::new(),
        })
    });
    pairs.collect()
}
