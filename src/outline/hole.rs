//! Round holes and slots.

use super::{FARTHEST, Piece};
use crate::geometry::Vec2;
use std::f64::consts::PI;

/// A hole of a plate, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hole {
    /// A round one.
    Round {
        /// Its centre.
        at: Vec2,
        /// Its diameter.
        diameter: f64,
    },
    /// A slot with round ends.
    Slot {
        /// The centres of its two ends.
        ends: [Vec2; 2],
        /// Its width.
        width: f64,
    },
}

impl Hole {
    /// Its border, clockwise; `None` when a number is not finite, too large, or the size not positive. A slot
    /// without length is a round hole.
    #[must_use]
    pub fn border(&self) -> Option<Vec<Piece>> {
        let within = |p: Vec2| p.xy().iter().all(|v| v.abs() <= FARTHEST);
        let sized = |size: f64| (super::LEAST..=FARTHEST).contains(&size);
        match *self {
            Self::Round { at, diameter } => {
                (within(at) && sized(diameter)).then(|| round(at, 0.5 * diameter))
            }
            Self::Slot { ends, width } => {
                if !(ends.iter().all(|&p| within(p)) && sized(width)) {
                    return None;
                }
                let way = ends[1] - ends[0];
                let length = way.length();
                if length < super::LEAST {
                    return Some(round(ends[0], 0.5 * width));
                }
                let out = Vec2::new(-way.y(), way.x()) * (0.5 * width / length);
                let [a, b] = ends;
                let start = out.angle();
                let end = |at, start, from, to| Piece {
                    from,
                    to,
                    ..Piece::arc(at, 0.5 * width, start, -PI)
                };
                Some(vec![
                    Piece::line(a + out, b + out),
                    end(b, start, b + out, b - out),
                    Piece::line(b - out, a - out),
                    end(a, start + PI, a - out, a + out),
                ])
            }
        }
    }
}

/// A circle, clockwise, in two halves.
fn round(at: Vec2, radius: f64) -> Vec<Piece> {
    let (right, left) = (at + Vec2::X * radius, at - Vec2::X * radius);
    let half = |start, from, to| Piece {
        from,
        to,
        ..Piece::arc(at, radius, start, -PI)
    };
    vec![half(0.0, right, left), half(PI, left, right)]
}
