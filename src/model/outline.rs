//! Outlines of plates, as they are given: nothing is drawn here.

use super::{PartId, Place};

/// The outline of a part's plates, in the part's axes.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// The part.
    pub part: PartId,
    /// Its border.
    pub border: Border,
    /// Holes beside those of its pins, and what is different about those.
    pub holes: Vec<Drilled>,
}

/// How a border is given.
#[derive(Debug, Clone, PartialEq)]
pub enum Border {
    /// Discs about points of the part, joined by belts.
    Round {
        /// Point of the part and radius, mm.
        discs: Vec<(usize, f64)>,
        /// Which discs each belt goes round: indices into `discs`. None: one belt round all.
        belts: Vec<Vec<usize>>,
        /// Radius of the fillet where belts meet in a hollow corner, mm.
        throat: Option<f64>,
    },
    /// From place to place, counter-clockwise.
    Path {
        /// Where it starts.
        start: Place,
        /// One leg after the other; a straight one closes it where it does not end at its start.
        legs: Vec<Leg>,
    },
    /// That of another part, mirrored about the line through two places of this one, its holes and slots too;
    /// the holes of pins are this part's own.
    Mirror {
        /// The other part.
        of: PartId,
        /// Two places on the line.
        about: [Place; 2],
    },
}

/// One leg of a path.
#[derive(Debug, Clone, PartialEq)]
pub struct Leg {
    /// Where it ends.
    pub to: Place,
    /// How it gets there.
    pub by: By,
    /// Radius of the corner at its end, mm.
    pub round: Option<f64>,
}

/// How a leg gets to its end.
#[derive(Debug, Clone, PartialEq)]
pub enum By {
    /// Straight.
    Line,
    /// By the shorter arc of this radius, mm: positive turns left, negative right.
    Arc(f64),
    /// By the arc through a third place.
    Through(Place),
    /// By one smooth run.
    Smooth {
        /// Through these places.
        through: Vec<Place>,
        /// It leaves and meets its neighbours without a corner.
        tangent: bool,
    },
}

/// A hole.
#[derive(Debug, Clone, PartialEq)]
pub enum Drilled {
    /// A round one.
    Round {
        /// Its middle.
        at: Place,
        /// mm.
        diameter: f64,
    },
    /// That of a pin, which is there by itself where the pin has a diameter.
    Pin {
        /// Point of the part.
        point: usize,
        /// Hole minus pin, mm; otherwise that of the joint.
        clearance: Option<f64>,
        /// Of the hole, mm; zero: there is none, the pin is fast in the plate.
        diameter: Option<f64>,
    },
    /// A slot with round ends.
    Slot {
        /// Middles of its ends.
        ends: [Place; 2],
        /// mm.
        width: f64,
    },
}

impl Outline {
    /// All places that it names or gives, on its own part.
    pub(super) fn places(&self) -> Vec<Place> {
        let mut all = Vec::new();
        match &self.border {
            Border::Round { discs, .. } => {
                all.extend(discs.iter().map(|&(point, _)| Place::Point(point)));
            }
            Border::Path { start, legs } => {
                all.push(*start);
                for leg in legs {
                    all.push(leg.to);
                    match &leg.by {
                        By::Line | By::Arc(_) => {}
                        By::Through(place) => all.push(*place),
                        By::Smooth { through, .. } => all.extend(through),
                    }
                }
            }
            Border::Mirror { about, .. } => all.extend(about),
        }
        for hole in &self.holes {
            match hole {
                Drilled::Round { at, .. } => all.push(*at),
                Drilled::Pin { point, .. } => all.push(Place::Point(*point)),
                Drilled::Slot { ends, .. } => all.extend(ends),
            }
        }
        all
    }
}
