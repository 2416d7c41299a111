//! Building tools in code, without a tool file.

use jawforce::model::{
    Hand, HandLine, Jaw, JointData, Part, PinJoint, Place, Point, PointKind, PointRef, Push, Shape,
    Slot, Stroke, Target, Tolerances, Tool,
};
use jawforce::units::UnitSystem;

/// A part with pins and marks, drawn in place unless moved by `sketch`.
pub fn part(
    name: &str,
    pins: &[(&str, [f64; 2])],
    marks: &[(&str, [f64; 2])],
    sketch: [f64; 3],
) -> Part {
    let point = |kind: PointKind| {
        move |(name, at): &(&str, [f64; 2])| Point {
            name: (*name).to_owned(),
            at: *at,
            kind,
        }
    };
    let points = pins
        .iter()
        .map(point(PointKind::Pin))
        .chain(marks.iter().map(point(PointKind::Mark)));
    Part {
        name: name.to_owned(),
        points: points.collect(),
        shape: Shape::Coordinates,
        sketch,
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
    let mut joints: Vec<PinJoint> = Vec::new();
    for (carrier, first) in parts.iter().enumerate() {
        for (carrier_point, pin) in first
            .points
            .iter()
            .enumerate()
            .filter(|(_, p)| p.kind == PointKind::Pin)
        {
            if parts[..carrier]
                .iter()
                .any(|p| p.point_index(&pin.name).is_some())
            {
                continue;
            }
            for (part, other) in parts.iter().enumerate().skip(carrier + 1) {
                if let Some(part_point) = other.point_index(&pin.name) {
                    joints.push(PinJoint {
                        pin: pin.name.clone(),
                        carrier,
                        carrier_point,
                        part,
                        part_point,
                    });
                }
            }
        }
    }
    let hand = Hand {
        handle: HandLine {
            part: index(handle.0),
            points: handle.1.into_iter().map(Place::At).collect(),
            smooth: false,
        },
        against: None,
        grips,
        push: Push::Square,
        force: 100.0,
        limit: None,
        thickness: 0.0,
    };
    let jaws = vec![Jaw {
        name: "nose".to_owned(),
        on: reference(jaw.0),
        against: reference(jaw.1),
        axis: jaw.2,
        closed: 0.0,
    }];
    Tool {
        name: "model".to_owned(),
        note: None,
        units: UnitSystem::MmN,
        fixed: 0,
        joint_data: vec![JointData::default(); joints.len()],
        joints,
        slots: Vec::new(),
        hand,
        jaws,
        stroke: Stroke {
            open: Target::Gap(10.0),
            shut: Target::Gap(0.0),
            steps: 24,
        },
        work: None,
        springs: Vec::new(),
        materials: Vec::new(),
        sections: Vec::new(),
        demands: Vec::new(),
        tolerances: Tolerances::default(),
        tunes: Vec::new(),
        aim: None,
        parts,
    }
}

/// A slot without friction.
pub fn slot(rider: PointRef, on: usize, through: [f64; 2], angle: f64, keyed: Option<f64>) -> Slot {
    Slot {
        rider,
        on,
        through: Place::At(through),
        angle,
        keyed,
        friction: 0.0,
        width: None,
    }
}
