//! Tools built in Rust: what a tool file would leave out is left out here too.

use super::{
    Hand, HandLine, Jaw, JointData, Palm, Part, PartId, Place, Point, PointKind, Push, Room, Shape,
    Stock, Stroke, Tolerances, Tool, pin_joints,
};
use crate::units::UnitSystem;

impl Part {
    /// A part dimensioned by coordinates (mm) and drawn in place: its axes are the fixed part's in
    /// the sketched position. Set [`Part::sketch`] where they are not.
    #[must_use]
    pub fn new(name: &str, pins: &[(&str, [f64; 2])], marks: &[(&str, [f64; 2])]) -> Self {
        let points = |kind, list: &[(&str, [f64; 2])]| -> Vec<Point> {
            let point = |&(name, at): &(&str, [f64; 2])| Point {
                name: name.to_owned(),
                at,
                kind,
            };
            list.iter().map(point).collect()
        };
        let mut all = points(PointKind::Pin, pins);
        all.extend(points(PointKind::Mark, marks));
        Self {
            name: name.to_owned(),
            points: all,
            shape: Shape::Coordinates,
            sketch: [0.0; 3],
        }
    }
}

impl Hand {
    /// A hand that pushes square to the straight pieces through `line` (mm, axes of `part`) with
    /// 100 N, held at `grips` (mm along the line).
    #[must_use]
    pub fn new(part: PartId, line: &[[f64; 2]], grips: &[f64]) -> Self {
        Self {
            handle: HandLine {
                part,
                points: line.iter().copied().map(Place::At).collect(),
                smooth: false,
            },
            against: None,
            grips: grips.to_vec(),
            push: Push::Square,
            palm: Palm::Usual,
            force: 100.0,
            limit: None,
            thickness: 0.0,
            size: None,
            glove: 0.0,
        }
    }
}

impl Tool {
    /// A tool of these parts, the first of them fixed, joined wherever pins share a name: the
    /// first part that has a pin carries it. No friction, springs, work or demands.
    #[must_use]
    pub fn new(name: &str, parts: Vec<Part>, hand: Hand, jaw: Jaw, stroke: Stroke) -> Self {
        let joints = pin_joints(&parts);
        Self {
            name: name.to_owned(),
            note: None,
            units: UnitSystem::MmN,
            parts,
            fixed: PartId::FIRST,
            joint_data: vec![JointData::default(); joints.len()],
            joints,
            slots: Vec::new(),
            cams: Vec::new(),
            gears: Vec::new(),
            hand,
            jaws: vec![jaw],
            stroke,
            stops: Vec::new(),
            adjusters: Vec::new(),
            ratchet: None,
            springs: Vec::new(),
            life: None,
            trial: None,
            materials: Vec::new(),
            sections: Vec::new(),
            outlines: Vec::new(),
            room: Room::default(),
            stock: Stock::default(),
            bench: None,
            demands: Vec::new(),
            tolerances: Tolerances::default(),
            tunes: Vec::new(),
            aim: None,
            job: None,
            operators: Vec::new(),
            ties: Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{JawId, JointId, PointRef, Target};

    #[test]
    fn pins_of_one_name_are_joined_to_the_first_part_that_has_them() {
        let at = [0.0, 0.0];
        let parts = vec![
            Part::new("frame", &[("heel", at)], &[("knee", at)]),
            Part::new("lever", &[("heel", at), ("knee", [5.0, 0.0])], &[]),
            Part::new("strut", &[("knee", at)], &[]),
            Part::new("brace", &[("knee", at)], &[]),
        ];
        let point = |part, point| PointRef {
            part: PartId::new(part),
            point,
        };
        let jaw = Jaw {
            name: "jaw".to_owned(),
            on: point(1, 1),
            against: point(0, 1),
            axis: None,
            closed: 0.0,
            work: None,
        };
        let stroke = Stroke {
            open: Target::Gap(1.0, JawId::FIRST),
            shut: Target::Gap(0.0, JawId::FIRST),
            steps: 10,
            lead: JawId::FIRST,
        };
        let hand = Hand::new(PartId::new(1), &[[0.0, 0.0], [90.0, 0.0]], &[80.0]);
        let tool = Tool::new("tool", parts, hand, jaw, stroke);
        let labels: Vec<String> = JointId::ids(3).map(|j| tool.joint_label(j)).collect();
        // The frame's mark of the name `knee` joins nothing.
        assert_eq!(labels, ["heel", "knee:strut", "knee:brace"]);
        assert_eq!(
            (tool.joints[2].carrier.index(), tool.joints[2].part.index()),
            (1, 3)
        );
        assert_eq!(tool.validate(), Ok(()));
    }
}
