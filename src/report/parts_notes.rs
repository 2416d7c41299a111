//! What a shop that cuts plates would ask about: thin walls, small holes, sharp inner corners.
//!
//! Rules for laser work; common practice, no source.

use crate::geometry::Vec2;
use crate::outline::{Border, Piece, Shape};
use crate::units::{Quantity, UnitSystem, figures};

/// A turn to the right by more than this, rad, is a hollow corner.
const CORNER: f64 = 0.15;

/// Notes on a plate of this thickness, mm.
pub(super) fn notes(name: &str, shape: &Shape, thickness: f64, units: UnitSystem) -> Vec<String> {
    let length = |mm: f64| {
        let shown = figures(units.show(mm, Quantity::Length));
        format!("{shown} {}", units.symbol(Quantity::Length))
    };
    let at = |place: Vec2| {
        let [x, y] = place.xy().map(|v| figures(units.show(v, Quantity::Length)));
        format!("({x}, {y})")
    };
    let mut notes = Vec::new();
    let outer = &shape.pieces()[shape.border(0)];
    for (k, piece) in outer.iter().enumerate() {
        let next = &outer[(k + 1) % outer.len()];
        let (from, to) = (piece.tangent(1.0), next.tangent(0.0));
        if from.cross(to).atan2(from.dot(to)) < -CORNER {
            notes.push(format!(
                "{name}: sharp hollow corner at {}: round it by {} at least; the strength factors do not see how much it adds",
                at(piece.to),
                length(0.5 * thickness)
            ));
        }
        if let Some(arc) = piece
            .arc
            .filter(|arc| piece.is_hollow() && arc.radius < 0.5 * thickness)
        {
            notes.push(format!(
                "{name}: hollow corner of radius {} at {}: less than half the thickness",
                length(arc.radius),
                at(piece.point(0.5))
            ));
        }
    }
    for k in 1..shape.borders().count() {
        let range = shape.border(k);
        let Border::Hole(_) = shape.owner(range.start) else {
            continue;
        };
        let hole = &shape.pieces()[range];
        let bounds = hole.iter().map(Piece::bounds).reduce(|a, b| a.with(b));
        let Some(bounds) = bounds else { continue };
        let width = 2.0 * bounds.half.x().min(bounds.half.y());
        if width < thickness {
            notes.push(format!(
                "{name}: hole of {} at {}: narrower than the plate is thick",
                length(width),
                at(bounds.middle)
            ));
        }
        let wall = hole
            .iter()
            .map(|piece| wall(piece, outer))
            .fold(f64::INFINITY, f64::min);
        if wall < thickness {
            notes.push(format!(
                "{name}: wall of {} between the hole at {} and the edge: thinner than the plate",
                length(wall),
                at(bounds.middle)
            ));
        }
    }
    notes
}

/// The least distance from places along a piece of a hole to the outer border, mm.
fn wall(piece: &Piece, outer: &[Piece]) -> f64 {
    /// Places looked at along a piece.
    const PLACES: u32 = 24;
    let mut least = f64::INFINITY;
    for k in 0..=PLACES {
        let at = piece.point(f64::from(k) / f64::from(PLACES));
        for edge in outer {
            least = least.min((edge.nearest(at) - at).length());
        }
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::{Hole, Step, Way, path};

    /// An L of 4 mm plate with a sharp inner corner at (10, 10), a hole of 3 at 3.5 from the edge: by hand, its
    /// wall is 2.
    #[test]
    fn what_a_shop_would_ask() {
        let to = |x, y| Step {
            to: Vec2::new(x, y),
            way: Way::Straight,
            round: 0.0,
        };
        let steps = [
            to(30.0, 0.0),
            to(30.0, 10.0),
            to(10.0, 10.0),
            to(10.0, 40.0),
            to(0.0, 40.0),
        ];
        let hole = Hole::Round {
            at: Vec2::new(20.0, 3.5),
            diameter: 3.0,
        };
        let border = path(Vec2::ZERO, &steps).unwrap();
        let shape = Shape::new(border, Vec::new(), &[hole]).unwrap();
        let found = notes("a", &shape, 4.0, UnitSystem::MmN);
        let expected = [
            "a: sharp hollow corner at (10.0, 10.0): round it by 2.00 mm at least; the strength factors do not see how much it adds",
            "a: hole of 3.00 mm at (20.0, 3.50): narrower than the plate is thick",
            "a: wall of 2.00 mm between the hole at (20.0, 3.50) and the edge: thinner than the plate",
        ];
        assert_eq!(found, expected);
        assert!(notes("a", &shape, 1.0, UnitSystem::MmN).len() == 1);
    }
}
