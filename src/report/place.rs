//! Where on a part a factor is, in words.

use crate::model::Tool;
use crate::strength::{Factor, Place, Subject};
use crate::units::{Quantity, UnitSystem};
use crate::words::number;

/// The place of a factor, if its check looks at several.
pub(super) fn place_text(tool: &Tool, factor: &Factor, units: UnitSystem) -> Option<String> {
    let part = match factor.subject {
        Subject::Part(part) => tool.part(part),
        Subject::Pin(_) | Subject::Contact(_) => None,
    };
    let length = |mm: f64| number(mm, Quantity::Length, units);
    factor.place.map(|place| match place {
        Place::Point(point) => {
            let name = part
                .and_then(|p| p.points.get(point))
                .map_or("", |p| p.name.as_str());
            format!("at {name}")
        }
        Place::Along(mm) => format!("{} along the hand line", length(mm)),
        Place::At([x, y]) | Place::Cut([[x, y], _]) => {
            format!("at ({}, {}) of the part", length(x), length(y))
        }
    })
}
