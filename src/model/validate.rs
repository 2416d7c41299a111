//! The promises that a [`Tool`] keeps, checked once for those built in Rust.

use super::{HandLine, Palm, PartId, Place, PointRef, SpringEnds, Tool};

/// Why a [`Tool`] cannot be solved as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModelError(pub String);

impl std::fmt::Display for ModelError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for ModelError {}

fn fail(text: &str) -> Result<(), ModelError> {
    Err(ModelError(text.to_owned()))
}

impl Tool {
    /// Checks that every index points at something and every coordinate is finite, so that the
    /// stages behind may rely on it.
    ///
    /// # Errors
    /// The first promise that is broken.
    pub fn validate(&self) -> Result<(), ModelError> {
        if self.part(self.fixed).is_none() {
            return fail("the fixed part is not among the parts");
        }
        for part in &self.parts {
            let finite = part.points.iter().flat_map(|p| p.at).all(f64::is_finite);
            if !finite || !part.sketch.iter().all(|v| v.is_finite()) {
                return fail("a coordinate is not a finite number");
            }
        }
        for joint in self.all_joints() {
            for (part, place) in joint.parts().into_iter().zip(joint.places()) {
                self.has_place(part, place)?;
            }
        }
        for jaw in &self.jaws {
            self.has(jaw.on)?;
            self.has(jaw.against)?;
            if jaw.on.part == jaw.against.part {
                return fail("a jaw needs two different parts");
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
                        return fail("a spring names a part that does not exist");
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
            return fail("the palm holds a part that does not exist, or the handle itself");
        }
        if self.jaws.is_empty() || self.hand.grips.is_empty() {
            return fail("a tool needs a jaw and a grip");
        }
        if self.joint_data.len() != self.joints.len() {
            return fail("every pin joint needs an entry in joint_data");
        }
        if self.stroke.steps < 2 {
            return fail("a stroke needs two steps or more");
        }
        Ok(())
    }

    fn has(&self, at: PointRef) -> Result<(), ModelError> {
        match self.part(at.part).map(|p| at.point < p.points.len()) {
            Some(true) => Ok(()),
            _ => fail("a point is named that does not exist"),
        }
    }

    fn has_place(&self, part: PartId, place: Place) -> Result<(), ModelError> {
        match place {
            Place::At(at) if self.part(part).is_some() && at.iter().all(|v| v.is_finite()) => {
                Ok(())
            }
            Place::At(_) => fail("a place is on a part that does not exist, or not finite"),
            Place::Point(point) => self.has(PointRef { part, point }),
        }
    }

    fn has_line(&self, line: &HandLine) -> Result<(), ModelError> {
        if line.points.len() < 2 {
            return fail("a hand line needs two points or more");
        }
        line.points
            .iter()
            .try_for_each(|&place| self.has_place(line.part, place))
    }
}
