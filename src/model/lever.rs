//! A plain lever for the tests of single functions: base, lever, one grip, one jaw.

use super::{Hand, Jaw, JawId, Part, PartId, PointRef, Stroke, Target, Tool};

impl Tool {
    /// The lever, whose jaw's points are its heel on both parts: enough where the motion does not matter.
    pub(crate) fn lever() -> Self {
        let parts = ["base", "lever"].map(|name| Part::new(name, &[("heel", [0.0; 2])], &[]));
        let at = |part| PointRef {
            part: PartId::new(part),
            point: 0,
        };
        let jaw = Jaw {
            name: String::new(),
            on: at(1),
            against: at(0),
            axis: None,
            closed: 0.0,
            work: None,
        };
        let stroke = Stroke {
            open: Target::Gap(8.0, JawId::FIRST),
            shut: Target::Gap(0.0, JawId::FIRST),
            steps: 8,
            lead: JawId::FIRST,
        };
        let hand = Hand::new(PartId::new(1), &[[0.0, 0.0], [-120.0, 0.0]], &[120.0]);
        Self::new("lever", parts.to_vec(), hand, jaw, stroke)
    }
}
