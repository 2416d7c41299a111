//! Tooth sectors against closed forms, and against linkages that do the same.

use crate::published::{Drawing, close};
use jawforce::analysis::{CaseLoads, Direction, Solved, loads_at, solve};
use jawforce::geometry::{Rim, Vec2, mesh_loss};
use jawforce::input::read_tool;
use jawforce::mechanism::{JointFrame, Linkage, Pose};
use jawforce::model::dimension::find;
use jawforce::model::{At, GripId, JointId, Mesh, PartId, Tool};
use jawforce::numeric::angle::wrapped;
use jawforce::statics::{ForceKind, Holding, Mounted, PointForce, Rig, Sheet};

/// Two halves on a plate, geared one to one; the jaw of the upper one works against the plate, and the hand
/// pulls both handles together. Drawn in place where the marks meet.
pub(crate) const PAIR: &str = r#"
[tool]
name = "Geared pair"
units = "mm-N"
[parts.plate]
fixed = true
pins = { upper-heel = [0, 12], lower-heel = [0, -12] }
marks = { anvil = [-20, -8] }
[parts.upper]
pins = { upper-heel = [0, 12] }
marks = { witness = [0, 0], nose = [-20, 12] }
[parts.lower]
pins = { lower-heel = [0, -12] }
marks = { witness = [0, 0] }
[[gears]]
parts = ["upper", "lower"]
about = ["upper-heel", "lower-heel"]
meet = ["upper.witness", "lower.witness"]
teeth = [14, 14]
angle = 20
[hand]
part = "upper"
line = [[0, 12], [-100, 12]]
against = { part = "lower", line = [[0, -12], [-100, -12]] }
grips = [100]
push = "across"
force = 150
[[jaw]]
name = "nose"
on = "upper.nose"
against = "plate.anvil"
axis = 90
closed = 20
[stroke]
open = { gap = 0 }
shut = { gap = -1 }
steps = 2
"#;

pub(crate) fn tool(text: &str) -> Tool {
    let read = read_tool(text, &|name| Err(format!("{name} is not there")));
    read.unwrap_or_else(|problems| panic!("{problems}")).tool
}

pub(crate) fn solved(tool: &Tool) -> Solved {
    solve(tool, Direction::Closing).unwrap_or_else(|failure| panic!("{}", failure.text(tool)))
}

/// The loads at the open end, at the hand force of the file.
pub(crate) fn loads(tool: &Tool) -> CaseLoads {
    loads_along(tool, Direction::Closing)
}

fn loads_along(tool: &Tool, direction: Direction) -> CaseLoads {
    let mounted = Mounted::new(tool).expect("a stroke");
    let mut rig = Rig::new(tool, &mounted, direction).expect("its open end");
    loads_at(&mut rig, At::Open, GripId::FIRST, tool.hand.force).expect("loads")
}

/// What a joint, or what else, does to a part.
#[track_caller]
fn force(case: &CaseLoads, part: PartId, what: ForceKind) -> PointForce {
    let found = case.sheet.on(part).iter().find(|f| f.what == what);
    *found.expect("such a force on the part")
}

/// The force of the first pair's teeth on its first part.
pub(crate) fn teeth(tool: &Tool, case: &CaseLoads) -> PointForce {
    let joint = JointId::new(tool.joints.len() + tool.slots.len());
    force(case, tool.gears[0].parts[0], ForceKind::Joint(joint))
}

/// The force on a part by its pin of that name, from whichever side it is listed.
fn on_pin(tool: &Tool, case: &CaseLoads, part: &str, pin: &str) -> Vec2 {
    let part = tool.part_index(part).expect("a part of that name");
    let mut sum = Vec2::ZERO;
    for (j, joint) in JointId::each(&tool.joints) {
        if joint.pin == pin && joint.touches(part) {
            sum += force(case, part, ForceKind::Joint(j)).force;
        }
    }
    sum
}

/// Every part in balance: sums of forces and of moments about the origin.
fn balanced(tool: &Tool, case: &CaseLoads) {
    for part in PartId::ids(tool.parts.len()) {
        let forces = case.sheet.on(part);
        let (mut sum, mut moment, mut most) = (Vec2::ZERO, 0.0, 0.0_f64);
        for f in forces {
            sum += f.force;
            moment += f.at.cross(f.force) + f.moment;
            most = most.max(f.force.length());
        }
        assert!(most > 0.0);
        // A tool in the hand: the fixed part is in balance too.
        assert!(sum.length() < 1e-9 * most, "{sum:?} on {}", part.index());
        assert!(moment.abs() < 1e-7 * most, "{moment} on {}", part.index());
    }
}

/// Both handles with F at arm L, the jaw at arm b on one half, both pitch radii r: the geared half hands on
/// all of its moment, so that Q = 2 F L / b and the pitch-line force is F L / r.
#[test]
fn a_geared_pair_doubles_what_one_handle_does() {
    let tool = tool(PAIR);
    let case = loads(&tool);
    close("jaw force", case.jaw_force, 1500.0, 1e-9);
    let found = teeth(&tool, &case);
    let pitch = 150.0 * 100.0 / 12.0;
    close("pitch line", found.force[0].abs(), pitch, 1e-9);
    close(
        "separating",
        found.force[1],
        pitch * 20_f64.to_radians().tan(),
        1e-9,
    );
    close("tooth", found.force.length(), 1330.22, 1e-5);
    close("separating", found.force[1], 454.96, 1e-5);
    // At the pitch point, and the other half gets the opposite.
    assert!(found.at.length() < 1e-9, "{:?}", found.at);
    let joint = JointId::new(tool.joints.len());
    let back = force(&case, tool.gears[0].parts[1], ForceKind::Joint(joint));
    assert!((back.force + found.force).length() < 1e-9);
    // Handle, teeth, jaw: the pin of the upper half carries the rest.
    let pin = on_pin(&tool, &case, "upper", "upper-heel");
    let hand = force(&case, tool.gears[0].parts[0], ForceKind::Hand).force;
    let jaw = Vec2::new(0.0, 1500.0);
    assert!((pin + hand + jaw + found.force).length() < 1e-9);
    balanced(&tool, &case);
    assert!(case.residual < 1e-9);
}

/// At one position a pair of gears is a link along the pressure line, between the feet of the
/// perpendiculars from the two pins: the same ratio, the same forces on the pins.
#[test]
fn gears_are_a_link_along_the_pressure_line() {
    let pressure = 20_f64.to_radians();
    let foot = 12.0 * pressure.sin();
    // Of the two lines the one on which the teeth are pressed together.
    let along = [pressure.cos(), pressure.sin()];
    let at = |sign: f64| [sign * foot * along[0], sign * foot * along[1]];
    let [upper, lower] = [at(1.0), at(-1.0)];
    let (gears, rest) = (PAIR.find("[[gears]]"), PAIR.find("[hand]"));
    let text = format!(
        "{}{}",
        &PAIR[..gears.expect("gears")],
        &PAIR[rest.expect("a hand")..]
    );
    let text = text
        .replace(
            "pins = { upper-heel = [0, 12] }",
            &format!(
                "pins = {{ upper-heel = [0, 12], a = [{}, {}] }}",
                upper[0], upper[1]
            ),
        )
        .replace(
            "pins = { lower-heel = [0, -12] }",
            &format!(
                "pins = {{ lower-heel = [0, -12], b = [{}, {}] }}\n[parts.link]\n\
                 pins = {{ a = [{}, {}], b = [{}, {}] }}",
                lower[0], lower[1], upper[0], upper[1], lower[0], lower[1]
            ),
        )
        // The marks of the lower half went to the link with its header.
        .replace("marks = { witness = [0, 0] }\n[hand]", "[hand]");
    let (geared, linked) = (tool(PAIR), tool(&text));
    let (one, other) = (loads(&geared), loads(&linked));
    close("jaw force", one.jaw_force, other.jaw_force, 1e-9);
    for (part, pin) in [("upper", "upper-heel"), ("lower", "lower-heel")] {
        let [a, b] =
            [(&geared, &one), (&linked, &other)].map(|(tool, case)| on_pin(tool, case, part, pin));
        assert!((a - b).length() < 1e-8, "{pin}: {a:?} and {b:?}");
    }
    let link = linked.part_index("link").expect("the link");
    let axial = force(&other, link, ForceKind::Joint(linked_joint(&linked, "a")));
    close(
        "tooth",
        teeth(&geared, &one).force.length(),
        axial.force.length(),
        1e-9,
    );
    // Pressed together: the force at the upper end points to the lower one.
    let down = Vec2::from(lower) - Vec2::from(upper);
    assert!(axial.force.dot(down) > 0.0);
}

fn linked_joint(tool: &Tool, pin: &str) -> JointId {
    let mut all = JointId::each(&tool.joints);
    let found = all.find(|(_, joint)| joint.pin == pin);
    found.expect("a joint of that name").0
}

/// How far a part has turned since the first position, by two of its points.
fn turned(tool: &Tool, solved: &Solved, part: &str, points: [&str; 2]) -> Vec<f64> {
    let index = tool.part_index(part).expect("a part");
    let of = |name: &str| tool.parts[index].point_index(name).expect("a point");
    let [a, b] = points.map(of);
    let angle = |k: usize| {
        let points = &solved.positions[k].points[index.index()];
        (Vec2::from(points[b]) - Vec2::from(points[a])).angle()
    };
    let mut sum = 0.0;
    (0..solved.positions.len())
        .map(|k| {
            if k > 0 {
                sum += wrapped(angle(k) - angle(k - 1));
            }
            sum
        })
        .collect()
}

/// A lever with a small wheel, its fixed pin, and a greater wheel that carries the jaw.
pub(crate) fn train(small: u32, great: u32, extra: &str) -> Drawing {
    let (r, big) = (f64::from(small), f64::from(great));
    Drawing::new("mm-N")
        .fixed(
            "base",
            &[("p", [0.0, 0.0]), ("q", [r + big, 0.0])],
            &[("anvil", [r + big + 40.0, -100.0])],
        )
        .part("lever", &[("p", [0.0, 0.0])], &[("w", [r, 0.0])])
        .part(
            "wheel",
            &[("q", [r + big, 0.0])],
            &[("w", [r, 0.0]), ("nose", [r + big + 40.0, 0.0])],
        )
        .hand("lever", [0.0, 0.0], [-200.0, 0.0], "\"square\"", 100.0)
        .add("palm = false")
        .jaw("nose", "wheel.nose", "base.anvil", 90.0)
        .add(&format!(
            "[[gears]]\nparts = [\"lever\", \"wheel\"]\nabout = [\"p\", \"q\"]\n\
             meet = [\"lever.w\", \"wheel.w\"]\nteeth = [{small}, {great}]\nangle = 20\n{extra}"
        ))
}

/// A geared five-bar: two wheels of 16 and 24 teeth, an arm on each, and two links that meet.
pub(crate) fn five_bar() -> Drawing {
    let (a, b, c) = ([-6.0, 22.0], [47.0, 25.0], [14.0, 58.0]);
    Drawing::new("mm-N")
        .fixed(
            "base",
            &[("p", [0.0, 0.0]), ("q", [40.0, 0.0])],
            &[("anvil", [14.0, 20.0])],
        )
        .part(
            "lever",
            &[("p", [0.0, 0.0]), ("a", a)],
            &[("w", [16.0, 0.0])],
        )
        .part(
            "wheel",
            &[("q", [40.0, 0.0]), ("b", b)],
            &[("w", [16.0, 0.0])],
        )
        .part("first", &[("a", a), ("c", c)], &[("nose", [16.0, 66.0])])
        .part("second", &[("b", b), ("c", c)], &[])
        .hand("lever", [0.0, 0.0], [-150.0, 20.0], "\"square\"", 100.0)
        .add("palm = false")
        .jaw("nose", "first.nose", "base.anvil", 90.0)
        .add(
            "[[gears]]\nparts = [\"lever\", \"wheel\"]\nabout = [\"p\", \"q\"]\n\
             meet = [\"lever.w\", \"wheel.w\"]\nteeth = [16, 24]\nangle = 20\nfriction = 0.1",
        )
        .add("[stroke]\nopen = { gap = 46 }\nshut = { gap = 42 }\nsteps = 60")
}

/// The two routes to every force agree where gears drive links, and all parts are in balance.
#[test]
fn a_geared_five_bar_balances() {
    let tool = five_bar().tool();
    let linkage = Linkage::new(&tool).expect("equations");
    assert!(linkage.closed.is_some(), "not in closed form");
    let found = solved(&tool);
    assert!(found.virtual_work < 1e-9 && found.free_body < 1e-9 && found.closure < 1e-12);
    // By differences: the hand's way at its grip over the change of the gap, without friction.
    let grip = 150_f64.hypot(20.0);
    for k in 1..found.positions.len() - 1 {
        let [before, here, after] = [k - 1, k, k + 1].map(|k| &found.positions[k]);
        let ratio = here.grips[0].ratio[0].expect("a ratio");
        let slope = (after.handle - before.handle).abs() / (before.gap[0] - after.gap[0]).abs();
        close("ratio", ratio, grip * slope, 1e-3);
    }
}

/// Both parts turn by the ratio of their teeth, nearly a whole turn of the smaller one, and the jaw is where
/// the greater one's turn says.
#[test]
fn a_wheel_turns_by_the_ratio_of_the_teeth() {
    let tool = train(12, 60, "")
        .add("[stroke]\nopen = { handle = 20 }\nshut = { handle = 340 }\nsteps = 40")
        .tool();
    let linkage = Linkage::new(&tool).expect("equations");
    assert!(linkage.closed.is_some(), "not in closed form");
    let found = solved(&tool);
    let lever = turned(&tool, &found, "lever", ["p", "w"]);
    let wheel = turned(&tool, &found, "wheel", ["q", "nose"]);
    let last = lever.last().expect("positions").abs();
    assert!((last - 320_f64.to_radians()).abs() < 1e-9, "{last}");
    for (k, (one, other)) in lever.iter().zip(&wheel).enumerate() {
        assert!((one * 12.0 + other * 60.0).abs() < 1e-9 * 12.0, "{k}");
        // The nose stands level where the handle is at half a turn, and so do the marks.
        let stands = -(found.positions[k].handle - std::f64::consts::PI) / 5.0;
        close(
            "gap",
            found.positions[k].gap[0],
            100.0 + 40.0 * stands.sin(),
            1e-9,
        );
        let ratio = found.positions[k].grips[0].ratio[0].expect("a ratio");
        close("ratio", ratio, 200.0 / (40.0 * stands.cos() / 5.0), 1e-9);
    }
    let seen = &found.gears[0];
    close("travel", seen.turned[0][1], 160_f64.to_radians(), 1e-9);
    close("travel", -seen.turned[1][0], 32_f64.to_radians(), 1e-9);
}

/// What friction lets through is η = 1 − μ H, whichever of the two drives: the jaw force closing over that
/// without friction, and the hand force that holds the work back opening.
#[test]
fn the_efficiency_of_a_mesh_is_exact_both_ways() {
    let stroke = "[stroke]\nopen = { handle = 175 }\nshut = { handle = 190 }\nsteps = 4\n\
                  [work]\nneed = [[0, 500], [200, 500]]";
    let tool = train(12, 60, "friction = 0.12").add(stroke).tool();
    let rims = [12.0, 60.0].map(|z| Rim::full_depth(Some(z), false));
    let efficiency = 1.0 - 0.12 * mesh_loss(rims, 20_f64.to_radians());
    let found = solved(&tool);
    for position in &found.positions {
        let answer = position.grips[0].answer[0].expect("an answer");
        let share = answer.efficiency(Direction::Closing).expect("it moves");
        close("closing", share, efficiency, 1e-9);
    }
    let found = solve(&tool, Direction::Opening).expect("it opens");
    for position in &found.positions {
        let needed = position.grips[0].needed.expect("work");
        let jawforce::statics::Answer::Moves { force, without } = needed else {
            panic!("{needed:?}");
        };
        close("opening", force / without, efficiency, 1e-9);
    }
    for direction in [Direction::Closing, Direction::Opening] {
        let case = loads_along(&tool, direction);
        assert!(case.residual < 1e-9);
    }
}

/// A wheel in a ring of twice its size: a point of its pitch circle runs along a diameter of the ring
/// (the circles of Cardano). The wheel's arm is the handle, the ring the fixed part.
#[test]
fn a_wheel_in_a_ring_of_twice_its_size_draws_a_straight_line() {
    for order in [["base", "wheel"], ["wheel", "base"]] {
        let counts = match order[0] {
            "base" => [40, 20],
            _ => [20, 40],
        };
        let about = match order[0] {
            "base" => ["p", "q"],
            _ => ["q", "p"],
        };
        let (start, crank, turn) = (30.0_f64, 20.0, 60_f64.to_radians());
        let q = [crank * turn.cos(), crank * turn.sin()];
        // On the diameter along x the tracing point stands at 2 r cos φ.
        let trace = [2.0 * q[0], 0.0];
        let witness = [2.0 * q[0], 2.0 * q[1]];
        let tool = Drawing::new("mm-N")
            .fixed(
                "base",
                &[("p", [0.0; 2])],
                &[("anvil", [-60.0, 0.0]), ("w", witness)],
            )
            .part("arm", &[("p", [0.0; 2]), ("q", q)], &[])
            .part("wheel", &[("q", q)], &[("w", witness), ("trace", trace)])
            .hand(
                "arm",
                [0.0; 2],
                [90.0 * turn.cos(), 90.0 * turn.sin()],
                "\"square\"",
                100.0,
            )
            .add("palm = false")
            .jaw("nose", "wheel.trace", "base.anvil", 0.0)
            .add(&format!(
                "[[gears]]\nparts = [\"{}\", \"{}\"]\nabout = [\"{}\", \"{}\"]\n\
                 meet = [\"{}.w\", \"{}.w\"]\nteeth = [{}, {}]\nangle = 20",
                order[0], order[1], about[0], about[1], order[0], order[1], counts[0], counts[1]
            ))
            .add(&format!(
                "[stroke]\nopen = {{ handle = {start} }}\nshut = {{ handle = 150 }}\nsteps = 12"
            ))
            .tool();
        assert_eq!(tool.gears[0].mesh, Mesh::Internal);
        let linkage = Linkage::new(&tool).expect("equations");
        assert!(linkage.closed.is_some(), "not in closed form");
        let found = solved(&tool);
        let wheel = tool.part_index("wheel").expect("the wheel");
        let at = tool.parts[wheel].point_index("trace").expect("the point");
        for position in &found.positions {
            let [x, y] = position.points[wheel.index()][at];
            let phi = position.handle;
            assert!(y.abs() < 1e-9, "{y} off the line");
            assert!((x - 40.0 * phi.cos()).abs() < 1e-9);
            // Hand at 90, d x/d φ = -40 sin φ.
            let ratio = position.grips[0].ratio[0].expect("a ratio");
            close("ratio", ratio, 90.0 / (40.0 * phi.sin()), 1e-9);
        }
        let case = loads(&tool);
        assert!(case.residual < 1e-9);
        // Moments on the wheel about its pin: the jaw's force at the tracing point, the pitch-line force
        // at 20 mm; and the teeth press the wheel away from the ring's rim, towards its own pin.
        let phi = start.to_radians();
        let jaw = case.jaw_force;
        let found = teeth(&tool, &case);
        let sign = if order[0] == "wheel" { 1.0 } else { -1.0 };
        let on_wheel = found.force * sign;
        let out = Vec2::new(phi.cos(), phi.sin());
        close(
            "pitch line",
            on_wheel.cross(out).abs(),
            jaw * phi.sin(),
            1e-9,
        );
        let in_wards = -on_wheel.dot(out);
        close(
            "separating",
            in_wards,
            jaw * phi.sin() * 20_f64.to_radians().tan(),
            1e-9,
        );
    }
}

/// A rack and pinion press: the pinion on the handle, the rack a ram in its guide; `extra` lines of the table.
pub(crate) fn press(extra: &str) -> Drawing {
    Drawing::new("mm-N")
        .fixed(
            "frame",
            &[("axle", [0.0, 0.0])],
            &[("anvil", [36.0, -100.0])],
        )
        .part("pinion", &[("axle", [0.0, 0.0])], &[("w", [36.0, 0.0])])
        .part(
            "ram",
            &[],
            &[
                ("guide", [50.0, 30.0]),
                ("w", [36.0, 0.0]),
                ("nose", [36.0, -60.0]),
            ],
        )
        .slot("ram.guide", "frame", [50.0, 0.0], 90.0, true)
        .hand("pinion", [0.0, 0.0], [-500.0, 0.0], "\"square\"", 500.0)
        .add("palm = false")
        .jaw("nose", "ram.nose", "frame.anvil", 90.0)
        .add(&format!(
            "[[gears]]\nparts = [\"pinion\", \"ram\"]\nabout = [\"axle\", \"guide\"]\n\
             meet = [\"pinion.w\", \"ram.w\"]\nteeth = [18, 0]\nangle = 20\n{extra}"
        ))
        .add("[work]\nneed = [[0, 500], [100, 500]]")
        .add("[stroke]\nopen = { gap = 40 }\nshut = { gap = 10 }\nsteps = 6")
}

/// An exercise without author (18 teeth of module 4, handle of 500 mm, 500 N): the ram falls by the radius
/// times the turn, and 500 N on it ask for 500 · 36 / 500 N of the hand.
#[test]
fn a_rack_goes_by_the_radius_of_its_pinion() {
    let tool = press("").tool();
    let found = solved(&tool);
    let handle = |k: usize| found.positions[k].handle;
    for (k, position) in found.positions.iter().enumerate() {
        let gone = 40.0 - position.gap[0];
        close(
            "turn",
            36.0 * (handle(k) - handle(0)).abs(),
            gone,
            if k == 0 { 1.0 } else { 1e-9 },
        );
        let needed = position.grips[0].needed.expect("work");
        let jawforce::statics::Answer::Moves { force, .. } = needed else {
            panic!("{needed:?}");
        };
        close("hand", force, 36.0, 1e-9);
    }
    let mounted = Mounted::new(&tool).expect("a stroke");
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).expect("its open end");
    let case = loads_at(&mut rig, At::Gap(20.0), GripId::FIRST, 36.0).expect("loads");
    close("ram", case.jaw_force, 500.0, 1e-9);
    let found = teeth(&tool, &case);
    close("tooth", found.force.length(), 532.09, 1e-5);
    // Away from the rack, which is to the right.
    close(
        "separating",
        -found.force[0],
        500.0 * 20_f64.to_radians().tan(),
        1e-9,
    );
    assert!((found.at - Vec2::new(36.0, 0.0)).length() < 1e-9);
    // The guide takes the separating force, and its moment with that of the work.
    let guide = force(
        &case,
        tool.gears[0].parts[1],
        ForceKind::Joint(JointId::new(1)),
    );
    close("guide", -guide.force[0], -found.force[0], 1e-9);
    balanced_ram(&case, tool.gears[0].parts[1]);
}

fn balanced_ram(case: &CaseLoads, ram: PartId) {
    let (mut sum, mut moment) = (Vec2::ZERO, 0.0);
    for f in case.sheet.on(ram) {
        sum += f.force;
        moment += f.at.cross(f.force) + f.moment;
    }
    assert!(sum.length() < 1e-9 * 500.0 && moment.abs() < 1e-9 * 500.0 * 500.0);
}

/// Friction of a rack, either way, and with friction in the guide that the separating force asks for.
#[test]
fn a_rack_loses_what_its_mesh_says() {
    let tool = press("friction = 0.1").tool();
    let rims = [
        Rim::full_depth(Some(18.0), false),
        Rim::full_depth(None, false),
    ];
    let efficiency = 1.0 - 0.1 * mesh_loss(rims, 20_f64.to_radians());
    for (direction, power) in [(Direction::Closing, -1), (Direction::Opening, 1)] {
        let found = solve(&tool, direction).expect("it moves");
        for position in &found.positions {
            let needed = position.grips[0].needed.expect("work");
            let jawforce::statics::Answer::Moves { force, without } = needed else {
                panic!("{needed:?}");
            };
            close("without", without, 36.0, 1e-9);
            close("hand", force, 36.0 * efficiency.powi(power), 1e-9);
        }
    }
}

/// The friction of a pin feels the separating force: a lever and a wheel, each on a pin of radius 5, by hand.
#[test]
fn pins_rub_under_the_force_along_the_pressure_line() {
    let stroke = "[stroke]\nopen = { handle = 180 }\nshut = { handle = 190 }\nsteps = 4\n\
                  [joints]\ndiameter = 10\nfriction = 0.1";
    let tool = train(20, 60, "").add(stroke).tool();
    let found = solved(&tool).positions[0].grips[0].answer[0].expect("an answer");
    let jawforce::statics::Answer::Moves { force, .. } = found else {
        panic!("{found:?}");
    };
    // Level, the hand pushes down at 200 to the left with 100: the lever turns counter-clockwise, its rim
    // pushes the wheel's up with F, and outwards with F tan 20 deg. Pins: r sin φ times the load.
    let arm = 5.0 * 0.1_f64.atan().sin();
    let tan = 20_f64.to_radians().tan();
    let mut pitch = 1000.0_f64;
    for _ in 0..200 {
        // Lever: down 100 by the hand, F down and F tan to the left by the teeth.
        let pin = (100.0 + pitch).hypot(pitch * tan);
        pitch = (100.0 * 200.0 - arm * pin) / 20.0;
    }
    let mut jaw = 1500.0_f64;
    for _ in 0..200 {
        // Wheel: F up at its left rim, the work up at its nose, 40 to the right of its pin.
        let pin = (pitch + jaw).hypot(pitch * tan);
        jaw = (pitch * 60.0 - arm * pin) / 40.0;
    }
    close("jaw", force, jaw, 1e-9);
}

/// The pins of a pair stand 24.6 mm apart where the circles through the marks would touch at 24: the base circles
/// of 12 cos 20 deg stay, so that the teeth push with (moment of the hand) / (base radius) along a line at α',
/// cos α' = 24 cos 20 / 24.6, and press the pins apart with sin α' of it.
#[test]
fn teeth_further_apart_push_at_a_greater_angle() {
    let mut tool = tool(PAIR);
    let plate = tool.part_index("plate").expect("the plate");
    for (pin, y) in [("upper-heel", 12.3), ("lower-heel", -12.3)] {
        let points = &mut tool.parts[plate].points;
        let point = points.iter_mut().find(|point| point.name == pin);
        point.expect("a pin").at[1] = y;
    }
    let case = loads(&tool);
    let found = teeth(&tool, &case);
    let alpha = 20_f64.to_radians();
    let working = (24.0 * alpha.cos() / 24.6).acos();
    let hand = force(&case, tool.gears[0].parts[1], ForceKind::Opposite);
    let heel = Vec2::new(0.0, -12.3);
    let moment = (hand.at - heel).cross(hand.force).abs();
    let tooth = moment / (12.0 * alpha.cos());
    close("tooth", found.force.length(), tooth, 1e-9);
    close("separating", found.force[1], tooth * working.sin(), 1e-9);
    assert!(working > 1.15 * alpha, "{working}");
}

/// What the parts carry for 1 N at the jaw has the force that presses the wheels apart in it, the derivatives of
/// the gap have not: it has no power.
#[test]
fn parts_carry_the_separating_force_for_1_n_at_the_jaw() {
    let stroke = "[stroke]\nopen = { handle = 180 }\nshut = { handle = 190 }\nsteps = 4";
    let tool = train(20, 60, "").add(stroke).tool();
    let mounted = Mounted::new(&tool).expect("a stroke");
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).expect("its open end");
    let holding = Holding::Grip(GripId::FIRST);
    let lever = tool.part_index("lever").expect("the lever");
    let pin = |sheet: &Sheet| {
        let on = sheet
            .on(lever)
            .iter()
            .find(|f| f.what == ForceKind::Joint(JointId::FIRST));
        on.expect("its pin").force
    };
    // Level: the wheel holds 1 N at 40 mm with F at 60, the lever F at 20 with the hand at 200.
    let pitch = 40.0 / 60.0;
    let hand = pitch * 20.0 / 200.0;
    let (plain, held) = rig.unit_sheet(holding).expect("a sheet");
    close("hand", held, hand, 1e-9);
    close("pin", pin(&plain).length(), hand + pitch, 1e-9);
    let (pressed, held) = rig.pressed_sheet(holding).expect("a sheet");
    close("hand", held, hand, 1e-9);
    let across = pitch * 20_f64.to_radians().tan();
    close(
        "pin, pressed",
        pin(&pressed).length(),
        (hand + pitch).hypot(across),
        1e-9,
    );
    let (force, moment) = pressed.sum(lever, Vec2::ZERO);
    assert!(
        force.length() < 1e-12 && moment.abs() < 1e-10,
        "{force:?} {moment}"
    );
}

/// The pair with the upper half drawn in axes of its own, turned by 150 deg: in the sketch the angle of its mark comes
/// out a whole turn off.
const WOUND: [(&str, &str); 3] = [
    (
        "pins = { upper-heel = [0, 12] }\nmarks = { witness = [0, 0], nose = [-20, 12] }",
        "pins = { upper-heel = [0, 0] }\nmarks = { witness = [-6, 10.392304845413264], nose = [17.32050807568877, 10] }",
    ),
    (
        "line = [[0, 12], [-100, 12]]\nagainst",
        "line = [[0, 0], [86.60254037844386, 50]]\nagainst",
    ),
    ("[hand]", "[sketch]\n\"upper.nose\" = [-20, 12]\n[hand]"),
];

/// What samples and worst cases take over of a tool must be what the same tool has when it is drawn so: here with the
/// pins further apart, and so with greater wheels.
#[test]
fn a_pair_that_is_wound_by_a_whole_turn_takes_over_its_radii() {
    let text = WOUND.iter().fold(PAIR.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    });
    let drawn = tool(&text);
    let mut made = drawn.clone();
    let apart = find(&drawn, "plate.upper-heel.y").expect("a dimension");
    assert!(apart.set(&mut made, 12.5));
    let mut linkage = Linkage::new(&drawn).expect("a linkage");
    linkage.redimension(&made).expect("a linkage");
    let anew = Linkage::new(&made).expect("a linkage");
    let pose = Pose::new(&anew);
    let residual = |linkage: &Linkage| {
        let mut out = vec![0.0; linkage.equations];
        linkage.residual(&pose, &mut out);
        out
    };
    let turns = |linkage: &Linkage| match linkage.joints.iter().last() {
        Some(JointFrame::Gear(gear)) => gear.turns,
        _ => panic!("no gears"),
    };
    assert!(turns(&linkage).iter().any(|turns| *turns != 0.0));
    for (one, other) in residual(&linkage).iter().zip(residual(&anew)) {
        assert!((one - other).abs() < 1e-12, "{one} {other}");
    }
}
