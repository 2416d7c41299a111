//! A plain lever and plain work for the tests of single functions.

use super::{Hand, Jaw, JawId, Part, PartId, PointRef, Stroke, Target, Tool, Work};

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

impl Work {
    /// These rows, gap mm and force N, as a file gives them, and nothing else.
    pub(crate) fn of_rows(need: &[[f64; 2]]) -> Self {
        Self {
            need: need.to_vec(),
            note: None,
            rigid: None,
            scale: 1.0,
            estimate: None,
            finish: None,
        }
    }
}
