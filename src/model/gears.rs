//! Tooth sectors: two parts that turn with each other, or one that drives a rack.

use super::{PartId, Place, PointRef, Tool};

/// Two tooth sectors in mesh, or a sector and a rack.
#[derive(Debug, Clone, PartialEq)]
pub struct Gears {
    /// Name, where the file gives one.
    pub name: Option<String>,
    /// The carrier: the part that holds both centres, or the centre and the rack's slot.
    pub on: PartId,
    /// The two toothed parts; of a rack and pinion the rack is the second.
    pub parts: [PartId; 2],
    /// On each of them the pin that it turns about; on a rack the point that rides in its slot.
    pub about: [usize; 2],
    /// The pins as points of the carrier; of a rack and pinion both the pinion's.
    pub centres: [usize; 2],
    /// The witness marks: points on the pitch circles, or the pitch line, that meet.
    pub marks: [usize; 2],
    /// How the teeth stand to each other.
    pub mesh: Mesh,
    /// Teeth in the full circle; 0 for a rack.
    pub teeth: [u32; 2],
    /// How much of the circle is cut, rad, middle at the witness mark.
    pub sector: [Option<f64>; 2],
    /// Pressure angle, rad.
    pub angle: f64,
    /// Width of the teeth, mm.
    pub face: Option<f64>,
    /// Play at the pitch circle, mm.
    pub backlash: Option<f64>,
    /// Coefficient of friction of the teeth.
    pub friction: f64,
    /// Material of the teeth: index into [`Tool::materials`].
    pub material: Option<usize>,
}

/// How the teeth of a pair stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mesh {
    /// Both have their teeth outside.
    External,
    /// The one with more teeth has them inside.
    Internal,
    /// The second is straight and rides in this keyed slot ([`Tool::slots`]).
    Rack {
        /// Index of the slot.
        slot: usize,
    },
}

impl Gears {
    /// The witness mark of one of the two.
    #[must_use]
    pub fn mark(&self, side: usize) -> PointRef {
        PointRef {
            part: self.parts[side],
            point: self.marks[side],
        }
    }

    /// Angle of the pressure line, rad, at the distance that the pins of `tool` stand apart. The stated angle is
    /// that of wheels whose witness circles touch; moved apart from there (an eccentric pin, holes as made) the
    /// base circles stay, and cos α' = cos α (r1 ± r2) / a. Involute teeth, any textbook on gears. A rack has
    /// straight flanks: its angle stays.
    #[must_use]
    pub fn working_angle(&self, tool: &Tool) -> f64 {
        let at = |part: PartId, point: usize| {
            let point = tool.part(part)?.points.get(point)?;
            Some(point.at)
        };
        let apart = |part: PartId, [a, b]: [usize; 2]| {
            let ([ax, ay], [bx, by]) = (at(part, a)?, at(part, b)?);
            Some((bx - ax).hypot(by - ay))
        };
        let arm = |side: usize| apart(self.parts[side], [self.about[side], self.marks[side]]);
        let cosine = || {
            let (first, second) = (arm(0)?, arm(1)?);
            let touching = match self.mesh {
                Mesh::External => first + second,
                Mesh::Internal => (first - second).abs(),
                Mesh::Rack { .. } => return None,
            };
            Some(self.angle.cos() * touching / apart(self.on, self.centres)?)
        };
        cosine().map_or(self.angle, |cosine| cosine.min(1.0).acos())
    }

    /// What the pair is called: its name, or its number in the file.
    #[must_use]
    pub fn label(&self, index: usize) -> String {
        self.name
            .clone()
            .unwrap_or_else(|| format!("gears.{}", index + 1))
    }

    /// All places that must be there.
    pub(super) fn places(&self) -> [(PartId, Place); 6] {
        let of = |part: PartId, point: usize| (part, Place::Point(point));
        [
            of(self.parts[0], self.about[0]),
            of(self.parts[1], self.about[1]),
            of(self.on, self.centres[0]),
            of(self.on, self.centres[1]),
            of(self.parts[0], self.marks[0]),
            of(self.parts[1], self.marks[1]),
        ]
    }

    /// Whether the numbers are such that there is a mesh: teeth on both (none on a rack), a pressure angle
    /// and a friction that can be, and the slot of the rack.
    pub(super) fn is_sound(&self, tool: &Tool) -> bool {
        let rack = match self.mesh {
            Mesh::Rack { slot } => {
                let keyed = (tool.slots.get(slot)).is_some_and(|slot| slot.keyed.is_some());
                keyed && self.teeth[1] == 0
            }
            Mesh::External => self.teeth[1] > 0,
            Mesh::Internal => self.teeth[1] > 0 && self.teeth[0] != self.teeth[1],
        };
        rack && self.teeth[0] > 0
            && self.parts[0] != self.parts[1]
            && self.angle > 0.0
            && self.angle < std::f64::consts::FRAC_PI_4
            && self.friction >= 0.0
            && self.friction.is_finite()
    }
}
