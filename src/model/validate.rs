//! The promises that a [`Tool`] keeps, checked once for those built in Rust.

use super::{
    At, HandLine, JawId, Measure, Palm, PartId, Place, PointRef, SpringEnds, StopId, Target, Tool,
};

/// Why a [`Tool`] cannot be solved as it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ModelError {
    /// The fixed part is not among the parts.
    NoFixedPart,
    /// A coordinate is not a finite number.
    NotFinite,
    /// A jaw has both its points on one part.
    JawOnOnePart,
    /// A spring about a pin names a part that does not exist.
    NoSpringPart,
    /// The palm holds a part that does not exist, or the handle itself.
    NoPalmPart,
    /// The stroke, a demand or the aim names a jaw that does not exist.
    NoSuchJaw,
    /// A stop has both its points on one part.
    StopOnOnePart,
    /// The teeth of the ratchet, or its pawl, are on no part, or both are on one.
    RatchetParts,
    /// The stroke, a demand or the aim names a stop that does not exist.
    NoSuchStop,
    /// Teeth in mesh that cannot be: see [`super::Gears`].
    NoMesh,
    /// There is no jaw, or no grip.
    NoJawOrGrip,
    /// The data of pin joints are not as many as the pin joints.
    JointData,
    /// A stroke has fewer than two steps.
    FewSteps,
    /// A point is named that does not exist.
    NoPoint,
    /// A place is on a part that does not exist, or is not finite.
    NoPlace,
    /// A hand line has fewer than two points.
    ShortLine,
    /// All points of a hand line are one place.
    LineWithoutLength,
    /// A grip is off the end of a handle's line. Lengths in mm.
    GripOff {
        /// Whose line.
        handle: WhichHandle,
        /// Distance of the grip along the line.
        grip: f64,
        /// Length of the line.
        line: f64,
    },
}

/// One of the two handles.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhichHandle {
    /// That of the hand.
    Own,
    /// The one that it closes against.
    Other,
}

impl Tool {
    /// Checks that every index points at something and every coordinate is finite, so that the
    /// stages behind may rely on it.
    ///
    /// # Errors
    /// The first promise that is broken.
    pub fn validate(&self) -> Result<(), ModelError> {
        if self.part(self.fixed).is_none() {
            return Err(ModelError::NoFixedPart);
        }
        for part in &self.parts {
            let finite = part.points.iter().flat_map(|p| p.at).all(f64::is_finite);
            if !finite || !part.sketch.iter().all(|v| v.is_finite()) {
                return Err(ModelError::NotFinite);
            }
        }
        for joint in self.all_joints() {
            for (part, place) in joint.parts().into_iter().zip(joint.places()) {
                self.has_place(part, place)?;
            }
        }
        for gears in &self.gears {
            for (part, place) in gears.places() {
                self.has_place(part, place)?;
            }
            if !gears.is_sound(self) {
                return Err(ModelError::NoMesh);
            }
        }
        for jaw in &self.jaws {
            self.has(jaw.on)?;
            self.has(jaw.against)?;
            if jaw.on.part == jaw.against.part {
                return Err(ModelError::JawOnOnePart);
            }
        }
        for stop in &self.stops {
            self.has(stop.on)?;
            self.has(stop.against)?;
            if stop.on.part == stop.against.part {
                return Err(ModelError::StopOnOnePart);
            }
        }
        if let Some(ratchet) = &self.ratchet {
            let parts = [ratchet.teeth_on, ratchet.pawl.on];
            if parts.iter().any(|part| self.part(*part).is_none()) || parts[0] == parts[1] {
                return Err(ModelError::RatchetParts);
            }
        }
        for spring in &self.springs {
            match spring.ends {
                SpringEnds::Points(a, b) => {
                    self.has(a)?;
                    self.has(b)?;
                }
                SpringEnds::Pin { first, second } => {
                    if self.part(first.max(second)).is_none() {
                        return Err(ModelError::NoSpringPart);
                    }
                }
            }
        }
        self.has_line(&self.hand.handle)?;
        if let Some(line) = &self.hand.against {
            self.has_line(line)?;
        }
        if let Palm::Part(part) = self.hand.palm
            && (self.part(part).is_none() || part == self.hand.handle.part)
        {
            return Err(ModelError::NoPalmPart);
        }
        for outline in &self.outlines {
            for place in outline.places() {
                self.has_place(outline.part, place)?;
            }
        }
        if self.jaws.is_empty() || self.hand.grips.is_empty() {
            return Err(ModelError::NoJawOrGrip);
        }
        let of_ratchet = self.ratchet.iter();
        let of_ratchet = of_ratchet.flat_map(|ratchet| [ratchet.engages, ratchet.frees]);
        let targets = [self.stroke.open, self.stroke.shut].into_iter();
        let targets = targets.chain(of_ratchet).filter_map(|target| match target {
            Target::Gap(_, jaw) => Some(jaw),
            _ => None,
        });
        let asked = self.demands.iter().map(|demand| demand.jaw);
        let mut named = (targets.chain(asked))
            .chain(self.aim.iter().map(|aim| aim.jaw))
            .chain([self.stroke.lead]);
        if named.any(|jaw: JawId| self.jaw(jaw).is_none()) {
            return Err(ModelError::NoSuchJaw);
        }
        if self
            .stops_named()
            .any(|stop: StopId| self.stop(stop).is_none())
        {
            return Err(ModelError::NoSuchStop);
        }
        if self.joint_data.len() != self.joints.len() {
            return Err(ModelError::JointData);
        }
        if self.stroke.steps < 2 {
            return Err(ModelError::FewSteps);
        }
        Ok(())
    }

    /// The stops that the stroke, the demands and the aim name.
    fn stops_named(&self) -> impl Iterator<Item = StopId> {
        let ends = [self.stroke.open, self.stroke.shut].into_iter();
        let ends = ends.filter_map(|target| match target {
            Target::Stop(stop) => Some(stop),
            _ => None,
        });
        let places = (self.demands.iter()).map(|demand| (&demand.measure, demand.at));
        let aim = self.aim.iter().map(|aim| (&aim.measure, aim.at));
        let asked = places.chain(aim).flat_map(|(measure, at)| {
            let loaded = match measure {
                Measure::StopLoad(stop) => Some(*stop),
                _ => None,
            };
            let place = match at {
                Some(At::Stop(stop)) => Some(stop),
                _ => None,
            };
            loaded.into_iter().chain(place)
        });
        ends.chain(asked)
    }

    fn has(&self, at: PointRef) -> Result<(), ModelError> {
        match self.part(at.part).map(|p| at.point < p.points.len()) {
            Some(true) => Ok(()),
            _ => Err(ModelError::NoPoint),
        }
    }

    fn has_place(&self, part: PartId, place: Place) -> Result<(), ModelError> {
        match place {
            Place::At(at) if self.part(part).is_some() && at.iter().all(|v| v.is_finite()) => {
                Ok(())
            }
            Place::At(_) => Err(ModelError::NoPlace),
            Place::Point(point) => self.has(PointRef { part, point }),
        }
    }

    fn has_line(&self, line: &HandLine) -> Result<(), ModelError> {
        if line.points.len() < 2 {
            return Err(ModelError::ShortLine);
        }
        line.points
            .iter()
            .try_for_each(|&place| self.has_place(line.part, place))
    }
}
