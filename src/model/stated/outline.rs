//! The numbers of an outline: where they live in it, and what they are called.

use super::Values;
use crate::model::{Border, By, Drilled, Outline, Part, Place};

/// A number of an outline. Axes: 0 is x, 1 is y.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OutlineNumber {
    /// Radius of a disc.
    Radius(usize),
    /// Radius of the fillets where belts meet.
    Throat,
    /// Axis of the place where a path starts.
    Start(usize),
    /// Leg and axis of the place where it ends.
    To(usize, usize),
    /// Radius of a leg that is an arc.
    Arc(usize),
    /// Leg and axis of the place that an arc goes through.
    Through(usize, usize),
    /// Leg, place and axis of a smooth run.
    Smooth(usize, usize, usize),
    /// Radius of the corner at the end of a leg.
    Corner(usize),
    /// Which place, and axis, of the line to mirror about.
    About(usize, usize),
    /// Hole and axis of its middle.
    HoleAt(usize, usize),
    /// Diameter of a hole.
    Diameter(usize),
    /// Clearance of a pin's hole.
    Clearance(usize),
    /// Hole, end and axis of a slot.
    SlotEnd(usize, usize, usize),
    /// Width of a slot.
    SlotWidth(usize),
}

/// The number's place in an outline: `&` or `&mut`, from one text.
macro_rules! reach {
    ($name:ident, $coordinate:ident, $outline:ty, $place:ty, $number:ty, $get:ident, $opt:ident, $($r:tt)+) => {
        fn $coordinate(place: $place, axis: usize) -> Option<$number> {
            match place {
                Place::At(at) => at.$get(axis),
                Place::Point(_) => None,
            }
        }

        pub(super) fn $name(self, outline: $outline) -> Option<$number> {
            let hole = match self {
                Self::HoleAt(hole, _)
                | Self::Diameter(hole)
                | Self::Clearance(hole)
                | Self::SlotEnd(hole, ..)
                | Self::SlotWidth(hole) => Some(outline.holes.$get(hole)?),
                _ => None,
            };
            if let Some(hole) = hole {
                return match (self, hole) {
                    (Self::HoleAt(_, axis), Drilled::Round { at, .. }) => Self::$coordinate(at, axis),
                    (Self::Diameter(_), Drilled::Round { diameter, .. }) => Some(diameter),
                    (Self::Diameter(_), Drilled::Pin { diameter, .. }) => diameter.$opt(),
                    (Self::Clearance(_), Drilled::Pin { clearance, .. }) => clearance.$opt(),
                    (Self::SlotEnd(_, end, axis), Drilled::Slot { ends, .. }) => {
                        Self::$coordinate(ends.$get(end)?, axis)
                    }
                    (Self::SlotWidth(_), Drilled::Slot { width, .. }) => Some(width),
                    _ => None,
                };
            }
            match (self, $($r)+ outline.border) {
                (Self::Radius(disc), Border::Round { discs, .. }) => {
                    let (_, radius) = discs.$get(disc)?;
                    Some(radius)
                }
                (Self::Throat, Border::Round { throat, .. }) => throat.$opt(),
                (Self::Start(axis), Border::Path { start, .. }) => Self::$coordinate(start, axis),
                (Self::To(leg, axis), Border::Path { legs, .. }) => {
                    Self::$coordinate($($r)+ legs.$get(leg)?.to, axis)
                }
                (Self::Corner(leg), Border::Path { legs, .. }) => legs.$get(leg)?.round.$opt(),
                (
                    Self::Arc(leg) | Self::Through(leg, _) | Self::Smooth(leg, ..),
                    Border::Path { legs, .. },
                ) => match (self, $($r)+ legs.$get(leg)?.by) {
                    (Self::Arc(_), By::Arc(radius)) => Some(radius),
                    (Self::Through(_, axis), By::Through(place)) => Self::$coordinate(place, axis),
                    (Self::Smooth(_, place, axis), By::Smooth { through, .. }) => {
                        Self::$coordinate(through.$get(place)?, axis)
                    }
                    _ => None,
                },
                (Self::About(place, axis), Border::Mirror { about, .. }) => {
                    Self::$coordinate(about.$get(place)?, axis)
                }
                _ => None,
            }
        }
    };
}

impl OutlineNumber {
    reach!(at, coordinate, &Outline, &Place, &f64, get, as_ref, &);
    reach!(at_mut, coordinate_mut, &mut Outline, &mut Place, &mut f64, get_mut, as_mut, &mut);

    /// Which values it may have. That of a hole of its own is greater than zero; that of a pin's may be zero,
    /// which leaves the hole out.
    pub(super) fn values(self) -> Values {
        match self {
            Self::Radius(_) | Self::SlotWidth(_) => Values::Positive,
            Self::Throat | Self::Corner(_) | Self::Diameter(_) | Self::Clearance(_) => {
                Values::NotNegative
            }
            Self::Start(_)
            | Self::To(..)
            | Self::Arc(_)
            | Self::Through(..)
            | Self::Smooth(..)
            | Self::About(..)
            | Self::HoleAt(..)
            | Self::SlotEnd(..) => Values::Any,
        }
    }

    /// All numbers that an outline may have, with their addresses below its table.
    pub(super) fn all(outline: &Outline, part: &Part) -> Vec<(String, Self)> {
        let mut all = Vec::new();
        let mut pair = |path: String, x: Self, y: Self| {
            all.extend([(format!("{path}.x"), x), (format!("{path}.y"), y)]);
        };
        match &outline.border {
            Border::Round { discs, .. } => {
                for (k, (point, _)) in discs.iter().enumerate() {
                    if let Some(point) = part.points.get(*point) {
                        all.push((format!("round.{}", point.name), Self::Radius(k)));
                    }
                }
                all.push(("throat".to_owned(), Self::Throat));
            }
            Border::Path { legs, .. } => {
                pair("start".to_owned(), Self::Start(0), Self::Start(1));
                for (k, leg) in legs.iter().enumerate() {
                    let path = format!("path.{}", k + 1);
                    pair(format!("{path}.to"), Self::To(k, 0), Self::To(k, 1));
                    let through = format!("{path}.through");
                    pair(through, Self::Through(k, 0), Self::Through(k, 1));
                    if let By::Smooth { through, .. } = &leg.by {
                        for place in 0..through.len() {
                            let [x, y] = [0, 1].map(|axis| Self::Smooth(k, place, axis));
                            pair(format!("{path}.smooth.{}", place + 1), x, y);
                        }
                    }
                }
                for k in 0..legs.len() {
                    let path = format!("path.{}", k + 1);
                    all.push((format!("{path}.arc"), Self::Arc(k)));
                    all.push((format!("{path}.round"), Self::Corner(k)));
                }
            }
            Border::Mirror { .. } => {
                for place in 0..2 {
                    let [x, y] = [0, 1].map(|axis| Self::About(place, axis));
                    pair(format!("mirror.about.{}", place + 1), x, y);
                }
            }
        }
        for k in 0..outline.holes.len() {
            let hole = format!("holes.{}", k + 1);
            let [x, y] = [0, 1].map(|axis| Self::HoleAt(k, axis));
            all.extend([
                (format!("{hole}.at.x"), x),
                (format!("{hole}.at.y"), y),
                (format!("{hole}.diameter"), Self::Diameter(k)),
                (format!("{hole}.clearance"), Self::Clearance(k)),
                (format!("{hole}.width"), Self::SlotWidth(k)),
            ]);
            for end in 0..2 {
                let slot = format!("{hole}.slot.{}", end + 1);
                let [x, y] = [0, 1].map(|axis| Self::SlotEnd(k, end, axis));
                all.extend([(format!("{slot}.x"), x), (format!("{slot}.y"), y)]);
            }
        }
        all
    }
}
