//! Random linkages, each built from a real pose: every part gets axes of its own somewhere, and a
//! sketch that is off by a little.

use super::build;
use jawforce::model::{
    Acts, HandLine, JawId, JointData, Made, PartId, Place, PointKind, PointRef, Push, Roller, Slot,
    SlotLine, Spring, SpringEnds, SpringSet, Target, Tool, pin_joints,
};

/// A supply of numbers in 0..1.
#[derive(Debug)]
pub struct Dice<'a> {
    numbers: std::slice::Iter<'a, f64>,
}

impl<'a> Dice<'a> {
    pub fn new(numbers: &'a [f64]) -> Self {
        Self {
            numbers: numbers.iter(),
        }
    }

    pub fn one(&mut self) -> f64 {
        *self.numbers.next().expect("numbers enough")
    }

    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.one()
    }

    fn spot(&mut self) -> [f64; 2] {
        [self.within(0.0, 100.0), self.within(0.0, 100.0)]
    }
}

/// Handle travel of the strokes, rad: short, so that central differences are exact enough even
/// where the linkage is nearly dead.
pub const TRAVEL: f64 = 0.006;

type Named<'a> = (&'a str, [f64; 2]);

fn minus(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    let [x, y] = minus(a, b);
    x.hypot(y)
}

/// |sin| of the angle between the ways from `at` to `a` and to `b`.
fn square(a: [f64; 2], at: [f64; 2], b: [f64; 2]) -> f64 {
    let (u, v) = (minus(a, at), minus(b, at));
    (u[0] * v[1] - u[1] * v[0]).abs() / (distance(a, at) * distance(b, at))
}

/// A part whose points stand at these places, in axes of its own, its sketch off by up to
/// 0.02 rad and 0.5 mm.
fn moved(
    dice: &mut Dice<'_>,
    name: &str,
    pins: &[Named<'_>],
    marks: &[Named<'_>],
) -> jawforce::model::Part {
    let angle = dice.within(-3.0, 3.0);
    let origin = dice.spot();
    let (s, c) = angle.sin_cos();
    let own = |&(name, at): &Named<'_>| -> (String, [f64; 2]) {
        let [x, y] = minus(at, origin);
        (name.to_owned(), [c * x + s * y, c * y - s * x])
    };
    let keep = |points: &[Named<'_>]| points.iter().map(own).collect::<Vec<_>>();
    let (pins, marks) = (keep(pins), keep(marks));
    let lent = |points: &[(String, [f64; 2])]| -> Vec<(&'static str, [f64; 2])> {
        points
            .iter()
            .map(|(name, at)| (&*name.clone().leak(), *at))
            .collect()
    };
    let sketch = [
        origin[0] + dice.within(-0.5, 0.5),
        origin[1] + dice.within(-0.5, 0.5),
        angle + dice.within(-0.02, 0.02),
    ];
    build::part(name, &lent(&pins), &lent(&marks), sketch)
}

/// Hand from pin A to mark `grip` of the crank, a stroke of `travel` (rad) on from the pose.
fn finish(parts: Vec<jawforce::model::Part>, jaw: (&str, &str, Option<f64>), travel: f64) -> Tool {
    let crank = parts
        .iter()
        .position(|p| p.name == "crank")
        .expect("a crank");
    let own = |name: &str| {
        let point = parts[crank]
            .point_index(name)
            .expect("a point of the crank");
        parts[crank].points[point].at
    };
    let (a, grip) = (own("A"), own("grip"));
    let way = minus(grip, a);
    let open = parts[crank].sketch[2] + way[1].atan2(way[0]);
    let mut tool = build::tool(
        parts,
        ("crank", vec![a, grip]),
        vec![distance(a, grip)],
        jaw,
    );
    tool.stroke.open = Target::Handle(open);
    tool.stroke.shut = Target::Handle(open + travel);
    build::no_dies(&mut tool);
    tool
}

/// A six-bar: a four-bar A B C D with a dyad E F G, E on the coupler or on the rocker, G on the
/// frame, the crank or the rocker (Watt's and Stephenson's chains). `None` where the pose is
/// nearly dead.
pub fn six_bar(dice: &mut Dice<'_>) -> Option<Tool> {
    let [a, b, c, d, e, f, g, tip, grip] = [(); 9].map(|()| dice.spot());
    let good = [
        distance(a, b),
        distance(b, c),
        distance(c, d),
        distance(e, f),
        distance(f, g),
        distance(a, grip),
        distance(tip, g),
        distance(a, d),
    ];
    if good.iter().any(|&l| l < 25.0)
        || square(b, c, d) < 0.5
        || square(a, b, c) < 0.5
        || square(e, f, g) < 0.5
    {
        return None;
    }
    let kind = (4.0 * dice.one()) as usize;
    let (e_on, g_on) = [
        ("coupler", "frame"),
        ("rocker", "frame"),
        ("coupler", "rocker"),
        ("rocker", "crank"),
    ][kind];
    let with = |base: &[Named<'static>], name: &str| {
        let mut pins = base.to_vec();
        if e_on == name {
            pins.push(("E", e));
        }
        if g_on == name {
            pins.push(("G", g));
        }
        pins
    };
    let parts = vec![
        build::part(
            "frame",
            &with(&[("A", a), ("D", d)], "frame"),
            &[("anvil", [0.0; 2])],
            [0.0; 3],
        ),
        moved(
            dice,
            "crank",
            &with(&[("A", a), ("B", b)], "crank"),
            &[("grip", grip)],
        ),
        moved(
            dice,
            "coupler",
            &with(&[("B", b), ("C", c)], "coupler"),
            &[],
        ),
        moved(dice, "rocker", &with(&[("C", c), ("D", d)], "rocker"), &[]),
        moved(dice, "link", &[("E", e), ("F", f)], &[]),
        moved(dice, "output", &[("F", f), ("G", g)], &[("tip", tip)]),
    ];
    let axis = dice.within(0.0, std::f64::consts::TAU);
    Some(finish(
        parts,
        ("output.tip", "frame.anvil", Some(axis)),
        TRAVEL,
    ))
}

/// A crank whose pin rides in a slot of a rocker: a quick-return drive.
pub fn pin_in_slot(dice: &mut Dice<'_>) -> Option<Tool> {
    let [a, b, d, tip, grip] = [(); 5].map(|()| dice.spot());
    let tilt = dice.within(-3.0, 3.0);
    let good = [
        distance(a, b),
        distance(b, d),
        distance(a, d),
        distance(a, grip),
        distance(tip, d),
    ];
    // The slot's normal must have an arm about D, and the pin must move along it.
    let normal = [b[0] - tilt.sin(), b[1] + tilt.cos()];
    if good.iter().any(|&l| l < 25.0) || square(d, b, normal) < 0.5 || square(a, b, normal) < 0.5 {
        return None;
    }
    let rocker = moved(dice, "rocker", &[("D", d)], &[("tip", tip), ("slot", b)]);
    let through = rocker.points[rocker.point_index("slot").expect("slot")].at;
    let own_angle = {
        let (p, q) = (&rocker.points[0].at, &rocker.points[2].at);
        let (own, true_way) = (minus(*q, *p), minus(b, d));
        tilt - (true_way[1].atan2(true_way[0]) - own[1].atan2(own[0]))
    };
    let parts = vec![
        build::part(
            "frame",
            &[("A", a), ("D", d)],
            &[("anvil", [0.0; 2])],
            [0.0; 3],
        ),
        moved(dice, "crank", &[("A", a)], &[("grip", grip), ("B", b)]),
        rocker,
    ];
    let axis = dice.within(0.0, std::f64::consts::TAU);
    let mut tool = finish(parts, ("rocker.tip", "frame.anvil", Some(axis)), TRAVEL);
    let point = tool.parts[1].point_index("B").expect("B");
    let rider = PointRef {
        part: PartId::new(1),
        point,
    };
    tool.slots
        .push(build::slot(rider, PartId::new(2), through, own_angle, None));
    Some(tool)
}

/// A six-bar whose free link is left out: an arc slot about one of its pins, on the part that had that
/// pin, leads the other. In half of them the other pin has a roller.
pub fn arc_slot(dice: &mut Dice<'_>) -> Option<Tool> {
    let mut tool = arc_for_link(&six_bar(dice)?);
    let rolls = dice.one() < 0.5;
    let diameter = dice.within(4.0, 12.0);
    tool.slots[0].roller = rolls.then_some(Roller {
        diameter,
        pin: 0.4 * diameter,
        width: None,
    });
    Some(tool)
}

/// The same tool with an arc slot in place of its part `link`, of the pins E and F.
pub fn arc_for_link(linked: &Tool) -> Tool {
    let link = linked.part_index("link").expect("a link");
    let own = |name: &str| {
        let link = &linked.parts[link];
        link.points[link.pin_index(name).expect("a pin")].at
    };
    let mut tool = linked.clone();
    tool.parts.remove(link.index());
    let to = |part: PartId| PartId::new(part.index() - usize::from(part > link));
    for part in &mut tool.parts {
        let alone = |name: &str| name == "E" || name == "F";
        for point in part.points.iter_mut().filter(|p| alone(&p.name)) {
            point.kind = PointKind::Mark;
        }
    }
    let carried = |name: &str| {
        let mut parts = PartId::each(&tool.parts);
        let found = parts.find_map(|(part, of)| Some((part, of.point_index(name)?)));
        let (part, point) = found.expect("a part with that point");
        PointRef { part, point }
    };
    let (centre, rider) = (carried("E"), carried("F"));
    tool.slots = vec![Slot {
        name: None,
        rider,
        on: centre.part,
        line: SlotLine::Arc {
            centre: Place::Point(centre.point),
            radius: distance(own("E"), own("F")),
        },
        keyed: None,
        friction: 0.0,
        width: None,
        roller: None,
        material: None,
    }];
    for jaw in &mut tool.jaws {
        jaw.on.part = to(jaw.on.part);
        jaw.against.part = to(jaw.against.part);
    }
    tool.joints = pin_joints(&tool.parts);
    tool.joint_data = vec![JointData::default(); tool.joints.len()];
    tool
}

/// A bar whose two ends ride in two slots of the frame: no pin at all.
pub fn trammel(dice: &mut Dice<'_>) -> Option<Tool> {
    let [a, b, grip, tip] = [(); 4].map(|()| dice.spot());
    let (first, second) = (dice.within(0.0, 3.1), dice.within(0.0, 3.1));
    let apart = [a, b, grip, tip];
    if (0..4).any(|i| (0..i).any(|j| distance(apart[i], apart[j]) < 15.0))
        || (first - second).sin().abs() < 0.5
    {
        return None;
    }
    // Where the normals of both slots meet, everything stands still: keep hand and tip off it.
    let parts = vec![
        build::part(
            "frame",
            &[],
            &[("anvil", [0.0; 2]), ("a", a), ("b", b)],
            [0.0; 3],
        ),
        moved(
            dice,
            "crank",
            &[],
            &[("A", a), ("b", b), ("grip", grip), ("tip", tip)],
        ),
    ];
    let axis = dice.within(0.0, std::f64::consts::TAU);
    let mut tool = finish(parts, ("crank.tip", "frame.anvil", Some(axis)), TRAVEL);
    for (point, through, angle) in [(0, a, first), (1, b, second)] {
        let rider = PointRef {
            part: PartId::new(1),
            point,
        };
        tool.slots
            .push(build::slot(rider, PartId::FIRST, through, angle, None));
    }
    Some(tool)
}

/// Two handles on a hinge that rides in a slot of the plate, each driving a jaw that is pinned to
/// the plate: both handles move, the hand squeezes across, the jaws work against each other.
pub fn compound(dice: &mut Dice<'_>) -> Option<Tool> {
    let hinge = [dice.within(55.0, 65.0), 0.0];
    let knuckle = [dice.within(35.0, 45.0), dice.within(6.0, 15.0)];
    let pivot = [0.0, dice.within(4.0, 8.0)];
    let edge = [-dice.within(10.0, 25.0), dice.within(1.0, 3.0)];
    let end = [dice.within(150.0, 220.0), dice.within(20.0, 40.0)];
    let mirrored = |[x, y]: [f64; 2]| [x, -y];
    let parts = vec![
        build::part(
            "plate",
            &[("C", pivot), ("CC", mirrored(pivot))],
            &[("line", hinge)],
            [0.0; 3],
        ),
        moved(
            dice,
            "jaw",
            &[("C", pivot), ("B", knuckle)],
            &[("edge", edge)],
        ),
        moved(
            dice,
            "jaw2",
            &[("CC", mirrored(pivot)), ("BB", mirrored(knuckle))],
            &[("edge", mirrored(edge))],
        ),
        moved(
            dice,
            "crank",
            &[("B", knuckle), ("A", hinge)],
            &[("grip", end)],
        ),
        moved(
            dice,
            "handle2",
            &[("BB", mirrored(knuckle)), ("A", hinge)],
            &[("grip", mirrored(end))],
        ),
    ];
    let other = |name: &str| {
        let point = parts[4]
            .point_index(name)
            .expect("a point of the other handle");
        Place::At(parts[4].points[point].at)
    };
    let line = HandLine {
        part: PartId::new(4),
        points: vec![other("A"), other("grip")],
        smooth: false,
    };
    let mut tool = finish(parts, ("jaw.edge", "jaw2.edge", None), 0.0);
    let distance = tool.hand.grips[0];
    tool.hand.grips = vec![0.999 * distance, 0.7 * distance];
    tool.hand.against = Some(line);
    tool.hand.push = Push::Across;
    let point = tool.parts[3].point_index("A").expect("A");
    let rider = PointRef {
        part: PartId::new(3),
        point,
    };
    tool.slots
        .push(build::slot(rider, PartId::FIRST, hinge, 0.0, None));
    tool.jaws[0].closed = 0.0;
    let gap = 2.0 * edge[1];
    tool.stroke.open = Target::Gap(gap, JawId::FIRST);
    tool.stroke.shut = Target::Gap(0.9 * gap, JawId::FIRST);
    Some(tool)
}

/// Friction at every pin and a spring of each kind.
pub fn load(tool: &mut Tool, dice: &mut Dice<'_>) {
    for data in &mut tool.joint_data {
        *data = JointData {
            diameter: Some(dice.within(3.0, 8.0)),
            friction: dice.within(0.05, 0.25),
            ..JointData::default()
        };
    }
    for slot in &mut tool.slots {
        slot.friction = dice.within(0.05, 0.25);
    }
    // On the coupler: the check finds a slider's slot force without a spring on the slider.
    let (first, last) = (tool.joints[0].clone(), PartId::new(2));
    tool.springs = vec![
        Spring {
            name: None,
            ends: SpringEnds::Points(
                PointRef {
                    part: PartId::FIRST,
                    point: 0,
                },
                PointRef {
                    part: last,
                    point: tool.parts[last].points.len() - 1,
                },
            ),
            made: Made::Rate(dice.within(0.05, 0.3)),
            set: SpringSet::Preload(dice.within(-10.0, 10.0)),
            acts: Acts::Both,
        },
        Spring {
            name: None,
            ends: SpringEnds::Pin {
                first: first.carrier,
                second: first.part,
            },
            made: Made::Rate(dice.within(50.0, 500.0)),
            set: SpringSet::Preload(dice.within(-300.0, 300.0)),
            acts: Acts::Both,
        },
    ];
}
