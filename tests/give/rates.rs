//! Derivatives of the gap against central differences of the closed linkage.

use super::tool;
use crate::models::{build, four_bar::FourBar};
use jawforce::give::{gap_derivatives, gap_rates};
use jawforce::mechanism::Linkage;
use jawforce::model::dimension::DimensionSlot;
use jawforce::model::{Direction, JawId, JointId, PartId, Place, PointRef, Push, Target, Tool};
use jawforce::motion::Solver;
use jawforce::statics::{Mounted, Rig};

/// Step of the differences, mm. The loops close to about 1e-13 of the size, so that the difference
/// quotient is good to about 1e-8.
const STEP: f64 = 1e-3;

/// What is held while a dimension is changed.
#[derive(Clone, Copy)]
enum Held {
    Handle,
    /// x of the origin of this part, which slides.
    Slide(usize),
}

/// Gap of the first jaw with this tool's dimensions, near where `rig` stands.
fn gap(tool: &Tool, rig: &Rig<'_>, held: Held) -> f64 {
    let linkage = std::sync::Arc::new(Linkage::new(tool).unwrap());
    let (old, q) = (&rig.solver().linkage, &rig.solver().pose.q);
    let mut solver = Solver::new(linkage.clone());
    solver.pose.q.copy_from_slice(q);
    // Places count in the tool's size, which changes with its dimensions.
    for body in linkage.bodies.iter().filter(|b| b.slide < usize::MAX) {
        for k in [body.slide, body.slide + 1] {
            solver.pose.q[k] *= old.size / linkage.size;
        }
    }
    let mut row = vec![0.0; linkage.coordinates];
    let value = match held {
        Held::Handle => {
            linkage.handle_row(&mut row);
            old.handle(q) - linkage.hand.chord
        }
        Held::Slide(part) => {
            let k = linkage.bodies[part].slide;
            row[k] = 1.0;
            q[k] * old.size / linkage.size
        }
    };
    solver.set_border(&row);
    assert!(solver.close_from_pose(value), "the changed tool closes");
    linkage.gap(&solver.pose, &linkage.jaws[0])
}

/// Every dimension at a few positions.
fn check(tool: &Tool, held: Held, steps: &[usize]) {
    let mounted = Mounted::new(tool).unwrap();
    let mut rig = Rig::new(tool, &mounted, Direction::Closing).unwrap();
    for &k in steps {
        rig.go_to_step(k, 12).unwrap();
        let rates = gap_rates(&mut rig).unwrap();
        let named = gap_derivatives(&mut rig).unwrap();
        let all = jawforce::model::dimension::dimensions(tool);
        assert_eq!(named.len(), all.len());
        let mut moved = 0;
        for (dimension, (address, rate)) in all.iter().zip(named) {
            assert_eq!(dimension.address, address);
            assert_eq!(rates.of(dimension.slot), Some(rate));
            let at = |off: f64| {
                let mut changed = tool.clone();
                assert!(dimension.slot.set(&mut changed, dimension.value + off));
                gap(&changed, &rig, held)
            };
            // Fourth-order central difference: M. Abramowitz and I. A. Stegun, table 25.2.
            let h = STEP;
            let expected = (8.0 * (at(h) - at(-h)) - (at(2.0 * h) - at(-2.0 * h))) / (12.0 * h);
            assert!(
                (rate - expected).abs() < 1e-6 * expected.abs().max(1.0),
                "{} at {k}: {address} {rate} by forces, {expected} by differences",
                tool.name
            );
            moved += usize::from(rate.abs() > 1e-3);
        }
        assert!(
            moved >= 4,
            "{}: only {moved} dimensions move the gap",
            tool.name
        );
        clearances(tool, &rig, &rates);
    }
}

/// A hole of the carrier that holds one joint and nothing else, moved within the carrier, moves the
/// later part's hole from where the carrier's was.
fn clearances(tool: &Tool, rig: &Rig<'_>, rates: &jawforce::give::GapRates) {
    for (j, joint) in tool.joints.iter().enumerate() {
        let at = PointRef {
            part: joint.carrier,
            point: joint.carrier_point,
        };
        let others = tool.joints.iter().filter(|o| o.pin == joint.pin).count();
        let x = rates.of(DimensionSlot::X(at));
        let y = rates.of(DimensionSlot::Y(at));
        let (1, Some(x), Some(y)) = (others, x, y) else {
            continue;
        };
        let named = |place: &Place| *place == Place::Point(at.point);
        if at.part == tool.hand.handle.part && tool.hand.handle.points.iter().any(named) {
            continue;
        }
        let [c, s] = rig.solver().pose.frames[at.part].turn.xy();
        let turned = [c * x - s * y, s * x + c * y];
        for (found, expected) in rates.pins[j].xy().iter().zip(turned) {
            assert!((found - expected).abs() < 1e-9, "{}", joint.pin);
        }
        let size = 0.5 * x.hypot(y);
        assert!((rates.clearance(JointId::new(j)).unwrap() - size).abs() < 1e-9);
    }
}

#[test]
fn demo_tools() {
    for text in [
        include_str!("../../demo-data/eyelet-toggle.toml"),
        include_str!("../../demo-data/pin-plunger.toml"),
        include_str!("../../demo-data/excluder-cutter.toml"),
        include_str!("../../demo-data/wire-crimp-pliers.toml"),
    ] {
        check(&tool(text), Held::Handle, &[0, 5, 12]);
    }
}

#[test]
fn four_bar_with_named_hand_line() {
    let bar = FourBar {
        a: 22.0,
        b: 61.0,
        c: 40.0,
        d: 55.0,
        e: 47.0,
        grip: 120.0,
        axis: 2.0,
        side: 1.0,
    };
    let mut tool = bar.tool(1.0, 0.8, 1.3);
    // The chord then turns with two named points of the crank.
    tool.hand.handle.points = vec![Place::Point(0), Place::At([90.0, 12.0]), Place::Point(1)];
    tool.parts[1].points[1].at = [22.0, 3.0];
    tool.hand.grips = vec![60.0];
    tool.stroke.open = Target::Handle(1.2);
    tool.stroke.shut = Target::Handle(0.85);
    check(&tool, Held::Handle, &[0, 6, 12]);
    // No stated axis: the gap is the distance of the two points.
    tool.jaws[0].axis = None;
    check(&tool, Held::Handle, &[3]);
}

/// A handle that slides and does not turn: a keyed bar whose peg rides in a slot of a rocker.
#[test]
fn sliding_handle() {
    let parts = vec![
        build::part(
            "frame",
            &[("D", [0.0, 0.0])],
            &[("bore", [0.0, 30.0]), ("anvil", [40.0, -9.0])],
            [0.0; 3],
        ),
        build::part(
            "bar",
            &[],
            &[("peg", [0.0, 0.0]), ("guide", [-30.0, -2.0])],
            [8.0, 32.0, 0.0],
        ),
        build::part(
            "rocker",
            &[("D", [0.0, 0.0])],
            &[("way", [2.0, 20.0]), ("tip", [40.0, 0.0])],
            [0.0; 3],
        ),
    ];
    let mut tool = build::tool(
        parts,
        ("bar", vec![[-10.0, 0.0], [-80.0, 0.0]]),
        vec![40.0],
        (
            "rocker.tip",
            "frame.anvil",
            Some(std::f64::consts::FRAC_PI_2),
        ),
    );
    let point = |part, point| PointRef {
        part: PartId::new(part),
        point,
    };
    let mut guide = build::slot(point(1, 1), PartId::FIRST, [0.0, 30.0], 0.0, Some(0.0));
    *guide.line.place_mut() = Place::Point(1);
    let mut way = build::slot(point(1, 0), PartId::new(2), [0.0, 0.0], 1.5, None);
    *way.line.place_mut() = Place::Point(1);
    tool.slots = vec![guide, way];
    tool.hand.push = Push::Fixed(0.0);
    tool.stroke.open = Target::Gap(8.0, JawId::FIRST);
    tool.stroke.shut = Target::Gap(2.0, JawId::FIRST);
    check(&tool, Held::Slide(1), &[0, 6, 12]);
}

/// Pins and witness marks of toothed parts, and of what carries them.
#[test]
fn tooth_sectors() {
    let stroke = "[stroke]\nopen = { handle = 150 }\nshut = { handle = 200 }\nsteps = 4";
    let train = crate::gears::train(12, 60, "").add(stroke).tool();
    check(&train, Held::Handle, &[0, 6, 11]);
    let press = crate::gears::press("").tool();
    check(&press, Held::Handle, &[0, 6, 12]);
}
