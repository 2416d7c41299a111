//! Building tools in code, in the few words that the tests need.

use jawforce::model::{
    Hand, Jaw, JawId, Part, PartId, Place, PointRef, Slot, SlotLine, Stroke, Target, Tool,
};

/// A part with pins and marks, drawn in place unless moved by `sketch`.
pub fn part(
    name: &str,
    pins: &[(&str, [f64; 2])],
    marks: &[(&str, [f64; 2])],
    sketch: [f64; 3],
) -> Part {
    Part {
        sketch,
        ..Part::new(name, pins, marks)
    }
}

/// A tool of these parts, the first of them fixed, with one jaw and a square push.
pub fn tool(
    parts: Vec<Part>,
    handle: (&str, Vec<[f64; 2]>),
    grips: Vec<f64>,
    jaw: (&str, &str, Option<f64>),
) -> Tool {
    let index = |name: &str| {
        parts
            .iter()
            .position(|p| p.name == name)
            .map(PartId::new)
            .expect("a part of that name")
    };
    let reference = |text: &str| {
        let (part, point) = text.split_once('.').expect("part.point");
        let part = index(part);
        PointRef {
            part,
            point: parts[part]
                .point_index(point)
                .expect("a point of that name"),
        }
    };
    let hand = Hand::new(index(handle.0), &handle.1, &grips);
    let jaw = Jaw {
        name: "nose".to_owned(),
        on: reference(jaw.0),
        against: reference(jaw.1),
        axis: jaw.2,
        closed: 0.0,
        work: None,
    };
    let stroke = Stroke {
        open: Target::Gap(10.0, JawId::FIRST),
        shut: Target::Gap(0.0, JawId::FIRST),
        steps: 24,
        lead: JawId::FIRST,
    };
    Tool::new("model", parts, hand, jaw, stroke)
}

/// The gap counted from far below: the points of the jaw pass each other as the linkage has them, and
/// no dies meet on the way.
pub fn no_dies(tool: &mut Tool) {
    for jaw in &mut tool.jaws {
        jaw.closed = -500.0;
    }
}

/// A slot without friction.
pub fn slot(
    rider: PointRef,
    on: PartId,
    through: [f64; 2],
    angle: f64,
    keyed: Option<f64>,
) -> Slot {
    Slot {
        name: None,
        rider,
        on,
        line: SlotLine::Straight {
            through: Place::At(through),
            angle,
        },
        keyed,
        friction: 0.0,
        width: None,
        roller: None,
        material: None,
    }
}
