use super::*;
use crate::model::{
    Border, By, Depth, Drilled, Hand, Jaw, JawId, JointData, Leg, Material, Part, PointRef,
    Section, Stroke, Target,
};
use crate::outline::Fault;
use std::f64::consts::{FRAC_PI_4, PI};

fn leg(to: [f64; 2]) -> Leg {
    Leg {
        to: Place::At(to),
        by: By::Line,
        round: None,
    }
}

/// A plate of 40 by 20 whose lower left corner is 10 left of and 10 below the datum.
fn rectangle() -> Border {
    Border::Path {
        start: Place::At([-10.0, -10.0]),
        legs: [[30.0, -10.0], [30.0, 10.0], [-10.0, 10.0]]
            .map(leg)
            .to_vec(),
    }
}

/// Base and lever on a pin of 6 with 0.1 of clearance; the lever's plate is the rectangle.
fn tool() -> Tool {
    let at = [0.0, 0.0];
    let parts = vec![
        Part::new("base", &[("heel", at)], &[("anvil", [25.0, 0.0])]),
        Part::new(
            "lever",
            &[("heel", at)],
            &[("nose", [25.0, 0.0]), ("end", [30.0, 10.0])],
        ),
    ];
    let point = |part| PointRef {
        part: PartId::new(part),
        point: 1,
    };
    let jaw = Jaw {
        name: "jaw".to_owned(),
        on: point(1),
        against: point(0),
        axis: Some(1.0),
        closed: 0.0,
        work: None,
    };
    let stroke = Stroke {
        open: Target::Gap(5.0, JawId::FIRST),
        shut: Target::Gap(0.0, JawId::FIRST),
        steps: 10,
        lead: JawId::FIRST,
    };
    let hand = Hand::new(PartId::new(1), &[at, [90.0, 0.0]], &[80.0]);
    let mut tool = Tool::new("tool", parts, hand, jaw, stroke);
    tool.joint_data[0] = JointData {
        diameter: Some(6.0),
        clearance: 0.1,
        material: Some(0),
        ..JointData::default()
    };
    tool.materials = vec![Material {
        name: "steel".to_owned(),
        yield_strength: 355.0,
        ultimate: None,
        modulus: None,
        density: Some(7.85e-6),
        price: None,
        surface: None,
    }];
    let section = |part, thickness, plates| Section {
        part: PartId::new(part),
        width: Depth::Outlined,
        thickness,
        plates,
        layers: Vec::new(),
        edge: None,
        material: 0,
    };
    tool.sections = vec![section(0, 4.0, 1), section(1, 3.0, 2)];
    tool.outlines = vec![Outline {
        part: PartId::new(1),
        border: rectangle(),
        holes: Vec::new(),
    }];
    tool
}

fn lever(tool: &Tool) -> Result<Shape, Flaw> {
    shape(tool, PartId::new(1)).unwrap()
}

fn area(tool: &Tool) -> f64 {
    lever(tool).unwrap().moments().area
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= 1e-9 * expected.abs().max(1.0),
        "{found} {expected}"
    );
}

/// By hand: 40 × 20 less a circle of 6.1; of 6.3 with a clearance of its own; of 9; none.
#[test]
fn pins_have_their_holes_by_themselves() {
    let mut tool = tool();
    let less = |d: f64| 800.0 - FRAC_PI_4 * d * d;
    near(area(&tool), less(6.1));
    let row = |clearance, diameter| {
        vec![Drilled::Pin {
            point: 0,
            clearance,
            diameter,
        }]
    };
    for (holes, expected) in [
        (row(Some(0.3), None), less(6.3)),
        (row(None, Some(9.0)), less(9.0)),
        (row(None, Some(0.0)), 800.0),
    ] {
        tool.outlines[0].holes = holes;
        near(area(&tool), expected);
    }
    tool.outlines[0].holes = Vec::new();
    tool.joint_data[0].diameter = None;
    near(area(&tool), 800.0);
    assert_eq!(
        shape(&tool, PartId::new(0)),
        None,
        "a part without an outline"
    );
}

/// By hand: a slot 10 long and 4 wide between its centres takes 10 × 4 and a circle of 4.
#[test]
fn listed_holes_and_a_mirror_image() {
    let mut tool = tool();
    tool.outlines[0].holes = vec![
        Drilled::Round {
            at: Place::Point(1),
            diameter: 5.0,
        },
        Drilled::Slot {
            ends: [Place::At([10.0, 4.0]), Place::At([20.0, 4.0])],
            width: 4.0,
        },
    ];
    let less = FRAC_PI_4 * (6.1_f64.powi(2) + 25.0 + 16.0) + 40.0;
    near(area(&tool), 800.0 - less);
    let own = lever(&tool).unwrap().moments();
    // The base is the same about y = 1: the hole of its pin stays where the pin is.
    tool.outlines.push(Outline {
        part: PartId::new(0),
        border: Border::Mirror {
            of: PartId::new(1),
            about: [Place::At([0.0, 1.0]), Place::At([7.0, 1.0])],
        },
        holes: Vec::new(),
    });
    let image = shape(&tool, PartId::new(0)).unwrap().unwrap();
    near(image.moments().area, own.area);
    let (pin, whole) = (FRAC_PI_4 * 6.1 * 6.1, own.area);
    near(image.moments().centroid.x(), own.centroid.x());
    // Without the pin's hole, which is at y = 0 in both, the two centroids are mirror images.
    let plain = |y: f64| y * whole / (whole + pin);
    let image_y = plain(image.moments().centroid.y());
    near(image_y, 2.0 - plain(own.centroid.y()));
    assert!(!image.holds(Vec2::new(15.0, -2.0)) && image.holds(Vec2::new(15.0, 4.0)));
}

#[test]
fn flaws_say_which_and_where() {
    let part = PartId::new(1);
    let flaw = |change: &dyn Fn(&mut Tool)| {
        let mut tool = tool();
        change(&mut tool);
        let flaw = lever(&tool).unwrap_err();
        assert_eq!(flaw.part, part);
        flaw.why
    };
    let round = |x| Drilled::Round {
        at: Place::At([x, 0.0]),
        diameter: 4.0,
    };
    let over = flaw(&|tool| tool.outlines[0].holes = vec![round(29.0)]);
    let Why::Holes(Fault::HoleOverEdge { hole, entry, .. }, owners) = over else {
        panic!("{over:?}");
    };
    assert_eq!((owners[hole], entry), (HoleOf::Row(0), 1));
    let pin = flaw(&|tool| tool.joint_data[0].diameter = Some(21.0));
    let Why::Holes(Fault::HoleOverEdge { hole, .. }, owners) = pin else {
        panic!("{pin:?}");
    };
    assert_eq!(owners[hole], HoleOf::Pin(0));
    let outside = flaw(&|tool| tool.parts[1].points[0].at = [-11.0, 0.0]);
    assert_eq!(outside, Why::PinOutside(0));
    let itself = Border::Mirror {
        of: part,
        about: [Place::At([0.0, 0.0]), Place::At([1.0, 0.0])],
    };
    let image = flaw(&|tool| tool.outlines[0].border = itself.clone());
    assert_eq!(image, Why::NoImage);
    let unfinished = flaw(&|tool| {
        if let Border::Path { legs, .. } = &mut tool.outlines[0].border {
            legs[2].to = Place::At([0.0, -20.0]);
        }
    });
    assert!(
        matches!(unfinished, Why::Border(Fault::Crosses { .. })),
        "{unfinished:?}"
    );
}

/// An arc through a place keeps its leg: three quarters of a circle count as one.
#[test]
fn an_arc_through_a_place_is_one_leg() {
    let mut tool = tool();
    tool.outlines[0].border = Border::Path {
        start: Place::At([10.0, 0.0]),
        legs: vec![
            Leg {
                to: Place::At([0.0, -10.0]),
                by: By::Through(Place::At([-10.0, 0.0])),
                round: None,
            },
            leg([10.0, -10.0]),
        ],
    };
    near(
        area(&tool),
        0.75 * PI * 100.0 + 100.0 - FRAC_PI_4 * 6.1 * 6.1,
    );
    let shape = lever(&tool).unwrap();
    let entries: Vec<usize> = shape
        .pieces()
        .get(shape.border(0))
        .unwrap()
        .iter()
        .map(|p| p.entry)
        .collect();
    assert_eq!(entries, [0, 0, 0, 1, 2]);
}

/// A mark on the border belongs to the plate, one in a hole too; one beside it does not.
#[test]
fn marks_off_the_plate_are_found() {
    let mut tool = tool();
    let shape = lever(&tool).unwrap();
    assert!(marks_outside(&tool, PartId::new(1), &shape).is_empty());
    tool.parts[1].points[1].at = [1.0, 1.0];
    tool.parts[1].points[2].at = [30.0, 10.2];
    assert_eq!(marks_outside(&tool, PartId::new(1), &shape), [2]);
}

/// By hand: two plates of 3 mm, 7850 kg/m3; a pin of 6 through 4 + 6 mm. The lever stands at (100, 0), turned by a
/// quarter.
#[test]
fn plates_and_pins_are_weighed() {
    let tool = tool();
    let weight = weigh(&tool);
    let hole = FRAC_PI_4 * 6.1 * 6.1;
    let area = 800.0 - hole;
    let [plate] = weight.plates.as_slice() else {
        panic!("{weight:?}");
    };
    let mass = 7.85e-6 * 6.0 * area;
    near(plate.mass.unwrap(), mass);
    near(plate.middle.x(), 8000.0 / area); // the rectangle's middle is at x = 10, the hole's at 0
    let pin = 7.85e-6 * FRAC_PI_4 * 36.0 * 10.0;
    assert_eq!(weight.pins.len(), 1);
    near(weight.pins[0].1.mass, pin);
    assert_eq!(weight.unweighed, [PartId::new(0)]);
    let frames = [
        crate::geometry::Frame::UNMOVED,
        crate::geometry::Frame {
            origin: Vec2::new(100.0, 0.0),
            turn: Vec2::new(0.0, 1.0),
        },
    ];
    let all = weight.together(&frames).unwrap();
    near(all.mass, mass + pin);
    near(all.at.x(), 100.0 * mass / (mass + pin)); // the pin is the base's, at its datum
    near(all.at.y(), 8000.0 / area * mass / (mass + pin));
    let mut light = tool;
    light.materials[0].density = None;
    assert_eq!(weigh(&light).together(&frames), None);
}
