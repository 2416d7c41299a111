//! The dimensions of a tool, by address: `strut.length`, `lever.knee.x`.
//!
//! What may be toleranced, tuned or set from outside. A part dimensioned by its length has that one
//! dimension (and the coordinates of its marks); every other part has the coordinates of its points.

use super::{Part, PointRef, Shape, Tool};

/// A dimension that a tool has.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// `part.length`, `part.point.x` or `part.point.y`.
    pub address: String,
    /// The same without text, for use in a loop.
    pub slot: DimensionSlot,
    /// Its value now, mm.
    pub value: f64,
}

/// Where a dimension lives in a [`Tool`]; valid as long as no part or point is added or removed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DimensionSlot {
    /// Distance of the two pins of this part.
    Length(usize),
    /// x of a point in its part's axes.
    X(PointRef),
    /// y of a point in its part's axes.
    Y(PointRef),
}

/// All dimensions of a tool, in file order.
#[must_use]
pub fn dimensions(tool: &Tool) -> Vec<Dimension> {
    of_parts(&tool.parts)
        .into_iter()
        .filter_map(|slot| {
            Some(Dimension {
                address: address(&tool.parts, slot)?,
                slot,
                value: slot.get(tool)?,
            })
        })
        .collect()
}

/// The dimension of that address.
#[must_use]
pub fn find(tool: &Tool, address_given: &str) -> Option<DimensionSlot> {
    let same = |slot: &DimensionSlot| address(&tool.parts, *slot).as_deref() == Some(address_given);
    of_parts(&tool.parts).into_iter().find(same)
}

/// Value of the dimension of that address, mm.
#[must_use]
pub fn get(tool: &Tool, address: &str) -> Option<f64> {
    find(tool, address)?.get(tool)
}

/// Sets the dimension of that address, mm; `false` if the tool has none such.
#[must_use]
pub fn set(tool: &mut Tool, address: &str, value: f64) -> bool {
    find(tool, address).is_some_and(|slot| slot.set(tool, value))
}

impl DimensionSlot {
    /// Its value, mm.
    #[must_use]
    pub fn get(self, tool: &Tool) -> Option<f64> {
        let (at, axis) = self.coordinate();
        tool.parts
            .get(at.part)?
            .points
            .get(at.point)?
            .at
            .get(axis)
            .copied()
    }

    /// Sets it, mm; `false` if the tool has no such point.
    pub fn set(self, tool: &mut Tool, value: f64) -> bool {
        let (at, axis) = self.coordinate();
        let point = tool
            .parts
            .get_mut(at.part)
            .and_then(|part| part.points.get_mut(at.point));
        match point.and_then(|point| point.at.get_mut(axis)) {
            Some(coordinate) => {
                *coordinate = value;
                true
            }
            None => false,
        }
    }

    /// A link's length is the x of its second pin: its axes begin at the first and run through it.
    fn coordinate(self) -> (PointRef, usize) {
        match self {
            Self::Length(part) => (PointRef { part, point: 1 }, 0),
            Self::X(at) => (at, 0),
            Self::Y(at) => (at, 1),
        }
    }
}

/// The address of a dimension.
#[must_use]
pub fn address(parts: &[Part], slot: DimensionSlot) -> Option<String> {
    let of = |at: PointRef, axis| {
        let part = parts.get(at.part)?;
        Some(format!(
            "{}.{}.{axis}",
            part.name,
            part.points.get(at.point)?.name
        ))
    };
    match slot {
        DimensionSlot::Length(part) => Some(format!("{}.length", parts.get(part)?.name)),
        DimensionSlot::X(at) => of(at, 'x'),
        DimensionSlot::Y(at) => of(at, 'y'),
    }
}

/// All dimensions that parts have, in file order.
#[must_use]
pub fn of_parts(parts: &[Part]) -> Vec<DimensionSlot> {
    let mut slots = Vec::new();
    for (part, of) in parts.iter().enumerate() {
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
