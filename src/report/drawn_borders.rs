//! True outlines of plates for drawings: borders where their part stands.

use super::drawing::{DrawnBorder, DrawnStep, DrawnTouch};
use super::show::Shown;
use crate::analysis::touching;
use crate::geometry::Frame;
use crate::outline::{Piece, Shape};
use crate::room::Contact;
use crate::scene::Scene;

/// Arcs are drawn in steps of this at most, rad, so that a chain of their ends is near enough to them for labels
/// and for the size of the page.
const STEP: f64 = 0.5;

/// The borders of a shape whose axes stand at `frame`, the outer one first.
pub(super) fn borders(shape: &Shape, frame: &Frame) -> Vec<DrawnBorder> {
    let placed = |range: std::ops::Range<usize>| {
        let pieces = shape.pieces().get(range)?;
        let placed: Vec<Piece> = pieces.iter().map(|piece| piece.placed(frame)).collect();
        border(&placed)
    };
    shape.borders().filter_map(placed).collect()
}

impl Shown<'_> {
    /// Plates of one layer that touch, with their borders.
    pub(super) fn touches(&self, scene: &Scene) -> Vec<DrawnTouch> {
        let touch = |contact: Contact| DrawnTouch {
            parts: contact.parts.map(|part| self.part(part)),
            at: contact.at.xy(),
            borders: (contact.borders.iter())
                .filter_map(|pieces| border(pieces))
                .collect(),
        };
        let all = touching(self.tool, &scene.frames);
        all.into_iter().map(touch).collect()
    }
}

/// One closed border; `None` without pieces.
fn border(pieces: &[Piece]) -> Option<DrawnBorder> {
    Some(DrawnBorder {
        from: pieces.first()?.from.xy(),
        steps: pieces.iter().flat_map(steps).collect(),
    })
}

fn steps(piece: &Piece) -> Vec<DrawnStep> {
    let Some(arc) = piece.arc else {
        return vec![DrawnStep {
            to: piece.to.xy(),
            radius: None,
            left: false,
        }];
    };
    let count = (arc.sweep.abs() / STEP).ceil().max(1.0);
    (1..=count as usize)
        .map(|k| DrawnStep {
            to: piece.point(k as f64 / count).xy(),
            radius: Some(arc.radius),
            left: arc.sweep > 0.0,
        })
        .collect()
}
