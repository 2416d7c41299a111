//! What a part covers of the paper.

use super::ink::V;
use super::outline::{corners_of, off_region, outside};
use super::tool::Plate;
use crate::report::DrawnPart;

/// What lies between the borders of a part, or a hull with this round it.
pub(super) struct Area {
    rings: Vec<Vec<V>>,
    corners: Vec<V>,
    round: f64,
    /// Upper left and lower right corner of a rectangle round all of it.
    bounds: [V; 2],
}

impl Area {
    /// How far a place lies outside; inside as a negative number.
    pub(super) fn off(&self, p: V) -> f64 {
        match self.rings.is_empty() {
            true => outside(&self.corners, p) - self.round,
            false => off_region(&self.rings, p),
        }
    }

    /// Whether a place is farther off than this, mm. Of most places that is seen by the rectangle.
    pub(super) fn is_off(&self, p: V, by: f64) -> bool {
        let [low, high] = self.bounds;
        let aside = (0..2).map(|k| (low[k] - p[k]).max(p[k] - high[k]));
        aside.fold(0.0, f64::max) > by.max(0.0) || self.off(p) > by
    }
}

impl Plate {
    /// How far a place of the paper lies outside a part as it is drawn; inside it as a negative number.
    pub(super) fn off(&self, part: &DrawnPart, p: V) -> f64 {
        self.area(part).off(p)
    }

    /// The area of a part as it is drawn, to be asked about many places.
    pub(super) fn area(&self, part: &DrawnPart) -> Area {
        let borders = self.borders(part);
        let rings = borders.iter().map(|(from, steps)| corners_of(*from, steps));
        let rings: Vec<Vec<V>> = rings.collect();
        let corners = self.corners(part);
        let round = part.round * self.scale;
        let (points, round_them) = match rings.is_empty() {
            true => (corners.clone(), round),
            false => (rings.concat(), 0.0),
        };
        let mut bounds = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
        for p in points {
            for k in 0..2 {
                bounds[0][k] = bounds[0][k].min(p[k] - round_them);
                bounds[1][k] = bounds[1][k].max(p[k] + round_them);
            }
        }
        Area {
            rings,
            corners,
            round,
            bounds,
        }
    }
}
