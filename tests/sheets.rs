//! Free-body sheets and factors against what follows without them: energy, and statics by hand.

use jawforce::analysis::{Analysis, Direction, LoadsError, case_loads, loads_at};
use jawforce::input::{read_tool, render_all};
use jawforce::measure::{Measure, Reader};
use jawforce::model::{
    At, GripId, JointData, JointId, Made, PartId, Spring, SpringEnds, SpringSet, Tool,
};
use jawforce::statics::{ForceKind, Mounted, PointForce, Rig, Sheet};
use jawforce::strength::{Factor, Note};

use crate::models::four_bar::FourBar;

fn closing<'a>(tool: &'a Tool, mounted: &'a Mounted) -> Rig<'a> {
    Rig::new(tool, mounted, Direction::Closing).unwrap()
}

fn tool(text: &str) -> Tool {
    let beside = |name: &str| {
        std::fs::read_to_string(format!("{}/demo-data/{name}", env!("CARGO_MANIFEST_DIR")))
            .map_err(|e| e.to_string())
    };
    match read_tool(text, &beside) {
        Ok(read) => read.tool,
        Err(found) => panic!("{}", render_all(&found, "tool.toml", text, false)),
    }
}

fn demo(name: &str) -> Tool {
    let path = format!("{}/demo-data/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    tool(&std::fs::read_to_string(path).expect("a demo file"))
}

fn on(sheet: &Sheet, part: PartId, what: ForceKind) -> Option<&PointForce> {
    sheet.on(part).iter().find(|f| f.what == what)
}

/// Force of the first joint on the lever.
fn at_pivot(sheet: &Sheet) -> [f64; 2] {
    let joint = ForceKind::Joint(JointId::FIRST);
    on(sheet, PartId::new(1), joint).unwrap().force.xy()
}

/// What is needed of one position to sum up energies: places, angles and forces only, no rates.
struct Moment {
    sheet: Sheet,
    gap: f64,
    jaw: f64,
    springs: f64,
}

/// Work of the hand; what becomes of it: at the jaw, in pins, in slots, in springs.
struct Energy {
    hand: f64,
    spent: [f64; 4],
}

/// Sums of force times way by the trapezoidal rule over every `stride`th position.
fn summed(tool: &Tool, moments: &[Moment], stride: usize) -> Energy {
    let (mut hand, mut jaw, mut pins, mut slots) = (0.0, 0.0, 0.0, 0.0);
    let picked: Vec<&Moment> = moments.iter().step_by(stride).collect();
    for pair in picked.windows(2) {
        let [a, b] = pair else { continue };
        let (fa, fb) = (&a.sheet.part_forces, &b.sheet.part_forces);
        for (one, other) in fa.iter().flatten().zip(fb.iter().flatten()) {
            // The palm stands still here: its place wanders along the part, not with it.
            if matches!(one.what, ForceKind::Hand | ForceKind::Opposite) {
                for k in 0..2 {
                    hand += 0.5 * (one.force[k] + other.force[k]) * (other.at[k] - one.at[k]);
                }
            }
        }
        jaw += 0.5 * (a.jaw + b.jaw) * (a.gap - b.gap);
        // How far a part has turned from one position to the other.
        let turned = |part: PartId| {
            let [from, to] = [a, b].map(|m| m.sheet.turn[part.index()]);
            from.cross(to).atan2(from.dot(to))
        };
        for (j, joint) in JointId::each(&tool.joints) {
            let couple = |m: &Moment| {
                on(&m.sheet, joint.part, ForceKind::Joint(j))
                    .unwrap()
                    .moment
            };
            pins -= 0.5 * (couple(a) + couple(b)) * (turned(joint.part) - turned(joint.carrier));
        }
        for (s, slot) in tool.slots.iter().enumerate() {
            assert_eq!(
                slot.on, tool.fixed,
                "the rider's way is then that along the slot"
            );
            let rider = |m: &Moment| {
                *on(
                    &m.sheet,
                    slot.rider.part,
                    ForceKind::Joint(JointId::new(tool.joints.len() + s)),
                )
                .unwrap()
            };
            let (p, q) = (rider(a), rider(b));
            for k in 0..2 {
                slots -= 0.5 * (p.force[k] + q.force[k]) * (q.at[k] - p.at[k]);
            }
        }
    }
    let stored = picked.last().unwrap().springs - picked[0].springs;
    Energy {
        hand,
        spent: [jaw, pins, slots, stored],
    }
}

/// Hand work = jaw work + friction in pins and slots + energy taken up by springs, to 1e-6 of the
/// hand's work, by the trapezoidal rule with Richardson's extrapolation (steps n and n/2).
fn energy_is_kept(name: &str, tool: &Tool, hand_force: f64) -> [f64; 5] {
    let n = 720;
    let mounted = Mounted::new(tool).unwrap();
    let mut rig = closing(tool, &mounted);
    let moments: Vec<Moment> = (0..=n)
        .map(|k| {
            rig.go_to_step(k, n).unwrap();
            let (sheet, jaw) = rig.sheet(GripId::FIRST, hand_force).expect(name);
            Moment {
                sheet,
                jaw,
                gap: rig.forces().gap[0],
                springs: rig.spring_energy(),
            }
        })
        .collect();
    let (fine, coarse) = (summed(tool, &moments, 1), summed(tool, &moments, 2));
    let better = |f: f64, c: f64| f + (f - c) / 3.0;
    let hand = better(fine.hand, coarse.hand);
    let mut parts = [hand, 0.0, 0.0, 0.0, 0.0];
    for k in 0..4 {
        parts[k + 1] = better(fine.spent[k], coarse.spent[k]);
    }
    let left = hand - parts[1..].iter().sum::<f64>();
    assert!(
        hand > 0.0 && left.abs() < 1e-6 * hand,
        "{name}: {left} of {parts:?}"
    );
    parts
}

#[test]
fn energy_of_the_demo_tools_is_kept() {
    let mut lost = [0.0; 3];
    for (name, hand) in [
        ("wire-crimp-pliers", 150.0),
        ("eyelet-toggle", 150.0),
        ("eyelet-toggle-b", 150.0),
        ("pin-plunger", 120.0),
        ("excluder-cutter", 150.0),
    ] {
        let parts = energy_is_kept(name, &demo(name), hand);
        for k in 0..3 {
            lost[k] += parts[k + 2].abs();
        }
    }
    assert!(
        lost.iter().all(|l| *l > 1.0),
        "pins, slots and springs take their share: {lost:?}"
    );
}

#[test]
fn energy_of_a_four_bar_with_friction_and_a_spring_is_kept() {
    let bar = FourBar {
        a: 40.0,
        b: 90.0,
        c: 70.0,
        d: 100.0,
        e: 110.0,
        grip: 160.0,
        axis: 1.2,
        side: 1.0,
    };
    let mut tool = bar.tool(1.4, 1.8, 1.1);
    tool.joint_data = vec![
        JointData {
            diameter: Some(8.0),
            friction: 0.2,
            ..JointData::default()
        };
        tool.joints.len()
    ];
    let at = |part: usize, name: &str| jawforce::model::PointRef {
        part: PartId::new(part),
        point: tool.parts[part].point_index(name).unwrap(),
    };
    tool.springs = vec![Spring {
        name: None,
        ends: SpringEnds::Points(at(1, "B"), at(0, "D")),
        made: Made::Rate(3.0),
        set: SpringSet::Preload(40.0),
        acts: jawforce::model::Acts::Both,
    }];
    assert_eq!(tool.validate(), Ok(()));
    let [_, jaw, pins, slots, springs] = energy_is_kept("four-bar", &tool, 300.0);
    assert!(jaw > 0.0 && pins > 1.0 && slots == 0.0 && springs.abs() > 1.0);
}

/// A lever on one pin: hand at 200 mm square to it, jaw at 40 mm, pressing straight up.
const LEVER: &str = r#"
[tool]
name = "Lever"
units = "mm-N"
[parts.frame]
fixed = true
pins = { heel = [0, 0] }
marks = { anvil = [40, -30] }
[parts.lever]
pins = { heel = [0, 0] }
marks = { tip = [40, 0], end = [220, 0] }
[hand]
part = "lever"
line = ["heel", "end"]
grips = [200]
force = 100
[[jaw]]
on = "lever.tip"
against = "frame.anvil"
axis = 90
[stroke]
open = { handle = 0 }
shut = { handle = -10 }
[joints]
diameter = 5
shear = "single"
material = "pin"
[materials.pin]
yield = 600
[materials.plate]
yield = 355
[sections.lever]
width = 20
thickness = 5
edge = 10
material = "plate"
"#;

/// By hand, at 10 degrees: J = 100 N × 200 / (40 cos 10°); the pin takes J up and the hand's
/// 100 N square to the lever.
#[test]
fn a_lever_by_hand() {
    let tool = tool(LEVER);
    let (sin, cos) = 10.0_f64.to_radians().sin_cos();
    let jaw = 100.0 * 200.0 / (40.0 * cos);
    let pin = (100.0 * sin).hypot(jaw - 100.0 * cos);
    let mounted = Mounted::new(&tool).unwrap();
    let case = loads_at(
        &mut closing(&tool, &mounted),
        At::Shut,
        GripId::FIRST,
        100.0,
    )
    .unwrap();
    let near = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-9, "{a} is not {b}");
    near(case.jaw_force, jaw);
    near(case.travel, 10.0_f64.to_radians());
    let [x, y] = at_pivot(&case.sheet);
    near(x.hypot(y), pin);
    near(y, 100.0 * cos - jaw);

    let found = Analysis::of(tool.clone());
    let strength = found.strength(Direction::Closing).unwrap();
    let factor = |check: &str| -> &Factor {
        let found = strength
            .factors
            .iter()
            .find(|f| f.formula.check.starts_with(check));
        found.unwrap_or_else(|| panic!("{check} in {:?}", strength.factors))
    };
    // The pin force grows on the way down, so that the last position is the worst.
    let shear = factor("pin shear, single");
    let end = strength.position(shear).unwrap();
    near(end.handle, -10.0_f64.to_radians());
    let area = std::f64::consts::PI * 5.0 * 5.0 / 4.0;
    near(shear.factor, 0.577 * 600.0 / (pin / area));
    near(factor("bearing").factor, 355.0 / (pin / (5.0 * 5.0)));
    // Bending at the jaw: 100 N × 160 mm, and on the pin's side J sin 10° along the lever.
    let (modulus, section) = (5.0 * 20.0 * 20.0 / 6.0, 5.0 * 20.0);
    let stress = 100.0 * 160.0 / modulus + jaw * sin / section;
    near(factor("bending").factor, 355.0 / stress);
    assert!(
        strength
            .factors
            .windows(2)
            .all(|w| w[0].factor <= w[1].factor)
    );
}

/// The work has a peak far narrower than the steps of the stroke. By hand, at a gap of 27 mm: the lever
/// stands at sin a = 3 / 40, the hand gives H = 2000 N × 40 cos a / 200, and the pin takes up both.
#[test]
fn a_narrow_peak_of_the_work_is_not_stepped_over() {
    let work = "[work]\nneed = [[28, 0], [27.02, 10], [27, 2000], [26.98, 10], [23, 20]]\n[joints]";
    let sin: f64 = 3.0 / 40.0;
    let cos = (1.0 - sin * sin).sqrt();
    let hand = 2000.0 * 40.0 * cos / 200.0;
    let pin = (hand * sin).hypot(2000.0 - hand * cos);
    let shear = 0.577 * 600.0 / (pin / (std::f64::consts::PI * 5.0 * 5.0 / 4.0));
    for steps in [3, 8, 60, 401] {
        let end = format!("shut = {{ handle = -10 }}\nsteps = {steps}");
        let text = LEVER
            .replace("shut = { handle = -10 }", &end)
            .replace("[joints]", work);
        let tool = tool(&text);
        let mounted = Mounted::new(&tool).unwrap();
        let mut rig = closing(&tool, &mounted);
        let found = Analysis::of(tool.clone());
        let found = found.strength(Direction::Closing).unwrap();
        let worst = found.factors.iter().find(|f| f.name == "heel").unwrap();
        let near = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-6, "{steps}: {a} is not {b}");
        near(worst.factor, shear);
        near(worst.hand_force, hand);
        let place = found.position(worst).unwrap();
        near(place.gap, 27.0);
        let case = case_loads(&mut rig, place.pace, GripId::FIRST, worst.hand_force).unwrap();
        let [x, y] = at_pivot(&case.sheet);
        near(x.hypot(y), pin);
        let mut reader = Reader::new(&mut rig);
        for (measure, expected) in [
            (Measure::HandForce, hand),
            (Measure::PinLoad(JointId::FIRST), pin),
        ] {
            let read = reader.at(&measure, At::Peak, GripId::FIRST).unwrap();
            near(read.unwrap(), expected);
        }
    }
}

/// Three equal cranks side by side carry one bar: one of them is not needed.
const PARALLEL: &str = r#"
[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { a = [0, 0], b = [40, 0], c = [90, 0] }
marks = { anvil = [110, 60] }
[parts.lever]
pins = { a = [0, 0], d = [0, 30] }
marks = { end = [0, 150] }
[parts.second]
pins = { b = [40, 0], e = [40, 30] }
[parts.third]
pins = { c = [90, 0], f = [90, 30] }
[parts.bar]
pins = { d = [0, 30], e = [40, 30], f = [90, 30] }
marks = { nose = [110, 60] }
[hand]
part = "lever"
line = ["a", "end"]
grips = [120]
[[jaw]]
on = "bar.nose"
against = "frame.anvil"
axis = 0
closed = -10
[stroke]
open = { gap = 12 }
shut = { gap = 2 }
steps = 12
[joints]
diameter = 5
material = "steel"
[materials.steel]
yield = 355
modulus = "205 GPa"
[sections.bar]
width = 12
thickness = 4
material = "steel"
"#;

#[test]
fn what_a_redundant_bar_shares_is_not_reported() {
    let tool = tool(PARALLEL);
    let mounted = Mounted::new(&tool).unwrap();
    let case = loads_at(
        &mut closing(&tool, &mounted),
        At::Shut,
        GripId::FIRST,
        100.0,
    )
    .unwrap();
    let unknown: Vec<&str> = (tool.joints.iter().zip(&case.indeterminate))
        .filter(|(_, unknown)| **unknown)
        .map(|(joint, _)| joint.pin.as_str())
        .collect();
    assert!(
        unknown.contains(&"e") && unknown.contains(&"f"),
        "{unknown:?}"
    );
    assert!(case.axial.is_empty(), "{:?}", case.axial);
    let found = Analysis::of(tool.clone());
    let strength = found.strength(Direction::Closing).unwrap();
    for factor in &strength.factors {
        assert!(
            !unknown.contains(&factor.name.as_str()) && factor.name != "bar",
            "{factor:?}"
        );
    }
    let said = |n: &Note| matches!(n, Note::Indeterminate(pins, _) if pins.len() == unknown.len());
    assert!(strength.notes.iter().any(said), "{:?}", strength.notes);
}

/// The same lever pressed past the jaw's lowest point: the jaw stands still at -90 degrees.
#[test]
fn a_toggle_has_no_sheet_and_is_noted() {
    let text = LEVER
        .replace("shut = { handle = -10 }", "shut = { handle = -90 }")
        .replace("anvil = [40, -30]", "anvil = [40, -90]");
    let tool = tool(&text);
    let mounted = Mounted::new(&tool).unwrap();
    let shut = loads_at(
        &mut closing(&tool, &mounted),
        At::Shut,
        GripId::FIRST,
        100.0,
    );
    assert_eq!(shut, Err(LoadsError::NoForces));
    let found = Analysis::of(tool.clone());
    let strength = found.strength(Direction::Closing).unwrap();
    let note = Note::NoForces {
        toggles: 1,
        refused: 0,
    };
    assert!(strength.notes.contains(&note), "{:?}", strength.notes);
    assert!(note.text(&tool).contains("1 position at a toggle"));
    assert!(strength.least().is_some_and(|f| f.factor.is_finite()));
}
