//! The numbers of a tool, by address: `strut.length`, `lever.knee.x`, `joints.friction`.
//!
//! What may be toleranced, tuned or set from outside. A part dimensioned by its length has that one
//! dimension (and the coordinates of its marks); every other part has the coordinates of its points. All
//! else that a file states as a number is a [`Stated`].
//!
//! Whoever reads, sets, varies or shows a dimension asks its slot what it measures and which values it
//! may have; nobody looks at the address for that.

use super::{JawId, Part, PartId, PointRef, Shape, Stated, Tool, Values, stated};
use crate::units::Quantity;

/// A dimension that a tool has.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// `part.length`, `part.point.x` or `part.point.y`; or that of another number.
    pub address: String,
    /// The same without text, for use in a loop.
    pub slot: DimensionSlot,
    /// Its value now, internal unit.
    pub value: f64,
}

/// Where a dimension lives in a [`Tool`]; valid as long as no part or point is added or removed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DimensionSlot {
    /// Distance of the two pins of this part.
    Length(PartId),
    /// x of a point in its part's axes.
    X(PointRef),
    /// y of a point in its part's axes.
    Y(PointRef),
    /// A number that is no dimension of a part.
    Stated(Stated),
}

/// All dimensions of a tool's parts, in file order.
#[must_use]
pub fn dimensions(tool: &Tool) -> Vec<Dimension> {
    valued(tool, addressed(&tool.parts))
}

/// All numbers of a tool that are no dimensions of parts.
#[must_use]
pub fn others(tool: &Tool) -> Vec<Dimension> {
    valued(tool, other_addresses(tool))
}

fn valued(tool: &Tool, all: Vec<(String, DimensionSlot)>) -> Vec<Dimension> {
    all.into_iter()
        .filter_map(|(address, slot)| {
            let value = slot.get(tool)?;
            Some(Dimension {
                address,
                slot,
                value,
            })
        })
        .collect()
}

/// The number of that address.
#[must_use]
pub fn find(tool: &Tool, address_given: &str) -> Option<DimensionSlot> {
    let same = |slot: &DimensionSlot| address(&tool.parts, *slot).as_deref() == Some(address_given);
    of_parts(&tool.parts).into_iter().find(same).or_else(|| {
        let mut others = other_addresses(tool).into_iter();
        others
            .find(|(known, _)| known == address_given)
            .map(|(_, slot)| slot)
    })
}

/// Value of that address, internal unit.
#[must_use]
pub fn get(tool: &Tool, address: &str) -> Option<f64> {
    find(tool, address)?.get(tool)
}

/// Sets the number of that address, internal unit; `false` if the tool has none such.
#[must_use]
pub fn set(tool: &mut Tool, address: &str, value: f64) -> bool {
    find(tool, address).is_some_and(|slot| slot.set(tool, value))
}

/// All addresses of a tool: the dimensions of its parts, then all other numbers.
#[must_use]
pub fn all_addresses(tool: &Tool) -> Vec<(String, DimensionSlot)> {
    let mut all = addressed(&tool.parts);
    all.extend(other_addresses(tool));
    all
}

fn other_addresses(tool: &Tool) -> Vec<(String, DimensionSlot)> {
    let all = stated::addressed(tool).into_iter();
    all.map(|(address, number)| (address, DimensionSlot::Stated(number)))
        .collect()
}

impl DimensionSlot {
    /// What it measures, which decides its unit on the way in and on the way out; `None`: a plain number.
    #[must_use]
    pub fn quantity(self) -> Option<Quantity> {
        match self {
            Self::Length(_) | Self::X(_) | Self::Y(_) => Some(Quantity::Length),
            Self::Stated(number) => number.quantity(),
        }
    }

    /// Whether it is a distance, which has no sign: it is made longer or shorter, where a coordinate
    /// is made greater or less.
    #[must_use]
    pub fn is_distance(self) -> bool {
        match self {
            Self::Length(_) => true,
            Self::X(_) | Self::Y(_) | Self::Stated(_) => false,
        }
    }

    /// Which values it may have: a distance stays greater than zero.
    #[must_use]
    pub fn values(self) -> Values {
        match self {
            Self::Length(_) => Values::Positive,
            Self::X(_) | Self::Y(_) => Values::Any,
            Self::Stated(number) => number.values(),
        }
    }

    /// Whether a tool can have this value.
    #[must_use]
    pub fn allows(self, value: f64) -> bool {
        self.values().allow(value)
    }

    /// Its value, internal unit.
    #[must_use]
    pub fn get(self, tool: &Tool) -> Option<f64> {
        let (at, axis) = match self.coordinate() {
            Ok(coordinate) => coordinate,
            Err(number) => return number.get(tool),
        };
        tool.parts
            .get(at.part.index())?
            .points
            .get(at.point)?
            .at
            .get(axis)
            .copied()
    }

    /// Sets it, internal unit; `false` if the tool has no such number.
    pub fn set(self, tool: &mut Tool, value: f64) -> bool {
        let (at, axis) = match self.coordinate() {
            Ok(coordinate) => coordinate,
            Err(number) => return number.set(tool, value),
        };
        let point = tool
            .parts
            .get_mut(at.part.index())
            .and_then(|part| part.points.get_mut(at.point));
        match point.and_then(|point| point.at.get_mut(axis)) {
            Some(coordinate) => {
                *coordinate = value;
                true
            }
            None => false,
        }
    }

    /// The same number in a tool that faces `jaw` instead of its first.
    #[must_use]
    pub fn seen_from(self, jaw: JawId) -> Self {
        match self {
            Self::Stated(number) => Self::Stated(number.seen_from(jaw)),
            _ => self,
        }
    }

    /// A link's length is the x of its second pin: its axes begin at the first and run through it.
    fn coordinate(self) -> Result<(PointRef, usize), Stated> {
        match self {
            Self::Length(part) => Ok((PointRef { part, point: 1 }, 0)),
            Self::X(at) => Ok((at, 0)),
            Self::Y(at) => Ok((at, 1)),
            Self::Stated(number) => Err(number),
        }
    }
}

/// The address of a dimension of a part.
#[must_use]
pub fn address(parts: &[Part], slot: DimensionSlot) -> Option<String> {
    let of = |at: PointRef, axis| {
        let part = parts.get(at.part.index())?;
        Some(format!(
            "{}.{}.{axis}",
            part.name,
            part.points.get(at.point)?.name
        ))
    };
    match slot {
        DimensionSlot::Length(part) => Some(format!("{}.length", parts.get(part.index())?.name)),
        DimensionSlot::X(at) => of(at, 'x'),
        DimensionSlot::Y(at) => of(at, 'y'),
        DimensionSlot::Stated(_) => None,
    }
}

/// All dimensions that parts have by their addresses, in file order.
#[must_use]
pub fn addressed(parts: &[Part]) -> Vec<(String, DimensionSlot)> {
    of_parts(parts)
        .into_iter()
        .filter_map(|slot| Some((address(parts, slot)?, slot)))
        .collect()
}

/// All dimensions that parts have, in file order.
#[must_use]
pub fn of_parts(parts: &[Part]) -> Vec<DimensionSlot> {
    let mut slots = Vec::new();
    for (part, of) in PartId::each(parts) {
        let link = of.shape == Shape::Length;
        if link {
            slots.push(DimensionSlot::Length(part));
        }
        for point in if link { 2 } else { 0 }..of.points.len() {
            let at = PointRef { part, point };
            slots.extend([DimensionSlot::X(at), DimensionSlot::Y(at)]);
        }
    }
    slots
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Point;
    use crate::model::PointKind;

    /// By hand: a link by its length has that and its mark's coordinates; a distance of zero is no link.
    #[test]
    fn a_distance_stays_one_and_a_coordinate_may_change_its_sign() {
        let point = |name: &str, kind| Point {
            name: name.to_owned(),
            at: [0.0; 2],
            kind,
        };
        let link = Part {
            name: "strut".to_owned(),
            points: vec![
                point("a", PointKind::Pin),
                point("b", PointKind::Pin),
                point("mark", PointKind::Mark),
            ],
            shape: Shape::Length,
            sketch: [0.0; 3],
        };
        let all = addressed(&[link]);
        let allowed: Vec<(&str, bool, [bool; 3])> = all
            .iter()
            .map(|(address, slot)| {
                let allows = [-1.0, 0.0, 1.0].map(|v| slot.allows(v));
                (address.as_str(), slot.is_distance(), allows)
            })
            .collect();
        assert_eq!(
            allowed,
            [
                ("strut.length", true, [false, false, true]),
                ("strut.mark.x", false, [true; 3]),
                ("strut.mark.y", false, [true; 3]),
            ]
        );
        assert!(
            all.iter()
                .all(|(_, slot)| slot.quantity() == Some(Quantity::Length))
        );
    }
}
