//! Friction at pins and slides. Each test says whose rule it uses: the friction circle r sin φ
//! (exact for a pin loose in its hole, and this program's) or μ r (its small-angle form, in many
//! books). A book's μ r is met by a pin larger by μ / sin φ.

use super::{Drawing, Reading, close};
use jawforce::analysis::Direction;
use jawforce::statics::Answer;

/// `[joints.NAME]` lines for a friction circle of μ r.
fn circle_mu_r(pin: &str, radius: f64, friction: f64) -> String {
    let diameter = 2.0 * radius * friction / friction.atan().sin();
    format!("[joints.{pin}]\ndiameter = {diameter}\nfriction = {friction}")
}

/// `[joints.NAME]` lines for a friction circle of r sin φ.
fn circle_r_sin_phi(pin: &str, radius: f64, friction: f64) -> String {
    format!(
        "[joints.{pin}]\ndiameter = {}\nfriction = {friction}",
        2.0 * radius
    )
}

/// A lever with the pivot between: the load at `near` to the left, the hand at `far` to the right,
/// both square to it.
fn clamp_lever(near: f64, far: f64, load: f64, pin: &str) -> Reading {
    Drawing::new("mm-N")
        .fixed("base", &[("A", [0.0; 2])], &[("seat", [-near, 0.0])])
        .part("lever", &[("A", [0.0; 2])], &[("pad", [-near, 0.0])])
        .hand("lever", [0.0; 2], [far, 0.0], "-90", 100.0)
        .jaw("pad", "lever.pad", "base.seat", -90.0)
        .stroke("gap", 0.0, -0.1)
        .work(load)
        .add(pin)
        .solve()
}

/// R. A. Walsh, *Handbook of Machining and Metalworking Calculations* (2001), clamps:
/// Q = P (l + r f)/(l1 − r f); with P 1000 N, l 25, l1 100, r 3 mm, f 0.12 (inputs our own):
/// 254.516 N, efficiency 0.98226.
#[test]
fn clamp_lever_with_pin_friction_by_mu_r() {
    let found = clamp_lever(25.0, 100.0, 1000.0, &circle_mu_r("A", 3.0, 0.12));
    let [force, without] = found.hand_force();
    close("clamp ideal", without, 250.0, 1e-9);
    close("clamp mu r", force, 254.516, 1e-4);
    close("clamp efficiency", without / force, 0.98226, 1e-4);
    let formula = 1000.0 * (25.0 + 3.0 * 0.12) / (100.0 - 3.0 * 0.12);
    close("clamp mu r by formula", force, formula, 1e-9);
}

/// The same with the exact friction circle: 254.484 N.
#[test]
fn clamp_lever_with_pin_friction_by_r_sin_phi() {
    let found = clamp_lever(25.0, 100.0, 1000.0, &circle_r_sin_phi("A", 3.0, 0.12));
    let circle = 3.0 * 0.12_f64.atan().sin();
    let [force, _] = found.hand_force();
    close("clamp r sin phi", force, 254.484, 1e-5);
    let formula = 1000.0 * (25.0 + circle) / (100.0 - circle);
    close("clamp r sin phi by formula", force, formula, 1e-9);
}

/// The bell crank of R. C. Hibbeler, *Engineering Mechanics: Statics and Dynamics*, 14th ed.,
/// prob. 8-126 and 8-127: F = 50 lb down at 10 in to the left, P at 45° with an arm of 12 in, pin
/// of 0.5 in. `drives` is the force that moves it.
fn bell_crank(drives: &str, friction: f64) -> Drawing {
    let f = [-10.0, 0.0];
    let half = 12.0 * std::f64::consts::FRAC_1_SQRT_2;
    let p = [half, -half];
    let drawing = Drawing::new("in-lbf");
    let drawing = drawing
        .fixed("base", &[("A", [0.0; 2])], &[("f", f), ("p", p)])
        .part("crank", &[("A", [0.0; 2])], &[("f", f), ("p", p)]);
    let drawing = if drives == "F" {
        drawing
            .hand("crank", [0.0; 2], f, "-90", 50.0)
            .jaw("P", "crank.p", "base.p", 225.0)
    } else {
        drawing
            .hand("crank", [0.0; 2], p, "225", 42.177)
            .jaw("F", "crank.f", "base.f", -90.0)
            .work(50.0)
    };
    drawing
        .stroke("gap", 0.0, -0.01)
        .add(&circle_r_sin_phi("A", 0.25, friction))
}

/// Prob. 8-127: about to turn counter-clockwise with P = 41 lb: Rx 28.99, Ry 78.99 lb,
/// μ = 0.411 (from memory).
#[test]
fn bell_crank_on_a_loose_pin_by_r_sin_phi() {
    let found = bell_crank("F", 0.4112).solve();
    let [force, without] = found.jaw_force();
    close("8-127 P", force, 41.0, 1e-5);
    // What tells the rules apart is the friction alone: μ r would be 8 % more.
    close("8-127 friction moment", 12.0 * (without - force), 8.0, 1e-3);
    let [x, y] = found.pin("A");
    close("8-127 Rx", x, 28.99, 1e-3);
    close("8-127 Ry", y, 78.99, 1e-3);
    close("8-127 R", found.pin_load("A"), 84.144, 1e-4);
}

/// Prob. 8-126: μ = 0.3, P to turn it clockwise: 42.2 lb (from memory; 42.177 recomputed, μ r
/// would give 42.199), counter-clockwise 41.162 lb (recomputed), without friction 41.667 lb.
#[test]
fn bell_crank_both_ways_by_r_sin_phi() {
    let [clockwise, without] = bell_crank("P", 0.3).solve().hand_force();
    close("8-126 clockwise", clockwise, 42.2, 1e-3);
    close("8-126 clockwise recomputed", clockwise, 42.177, 2e-5);
    close("8-126 without friction", without, 41.667, 2e-5);
    let [counter, _] = bell_crank("F", 0.3).solve().jaw_force();
    close("8-126 counter-clockwise", counter, 41.162, 2e-5);
}

/// The pulley of F. P. Beer and E. R. Johnston, *Vector Mechanics for Engineers: Statics*, sample
/// problem 8.6: radius 2 in, shaft radius 1 in, μ 0.20, 500 lb (radii partly from memory). A
/// pulley is a lever with arms of its radius.
fn pulley(across: bool, direction: Direction, pin: &str) -> f64 {
    let load = [-2.0, 0.0];
    let (rope, push) = if across {
        ([0.0, 2.0], "0")
    } else {
        ([2.0, 0.0], "-90")
    };
    let found = Drawing::new("in-lbf")
        .fixed("base", &[("A", [0.0; 2])], &[("load", load)])
        .part("pulley", &[("A", [0.0; 2])], &[("load", load)])
        .hand("pulley", [0.0; 2], rope, push, 100.0)
        .jaw("load", "pulley.load", "base.load", -90.0)
        .stroke("gap", 0.0, -0.01)
        .work(500.0)
        .add(pin)
        .solve_to(direction);
    found.hand_force()[0]
}

/// Sample problem 8.6: raise 611 lb, hold 409 lb, raise with a horizontal pull 577 lb.
#[test]
fn pulley_on_a_shaft_by_mu_r() {
    let pin = circle_mu_r("A", 1.0, 0.2);
    close(
        "8.6 raise",
        pulley(false, Direction::Closing, &pin),
        611.0,
        2e-3,
    );
    close(
        "8.6 hold",
        pulley(false, Direction::Opening, &pin),
        409.0,
        2e-3,
    );
    close(
        "8.6 across",
        pulley(true, Direction::Closing, &pin),
        577.0,
        2e-3,
    );
    close(
        "8.6 raise recomputed",
        pulley(false, Direction::Closing, &pin),
        611.11,
        2e-5,
    );
    close(
        "8.6 hold recomputed",
        pulley(false, Direction::Opening, &pin),
        409.09,
        2e-5,
    );
}

/// The same with the exact friction circle (recomputed): 608.72, 410.70, 574.7 lb.
#[test]
fn pulley_on_a_shaft_by_r_sin_phi() {
    let pin = circle_r_sin_phi("A", 1.0, 0.2);
    close(
        "8.6 raise",
        pulley(false, Direction::Closing, &pin),
        608.72,
        2e-5,
    );
    close(
        "8.6 hold",
        pulley(false, Direction::Opening, &pin),
        410.70,
        2e-5,
    );
    close(
        "8.6 across",
        pulley(true, Direction::Closing, &pin),
        574.7,
        1e-4,
    );
}

/// A wedge on a floor, driven to the left under a block that rises in a vertical guide. No pins at
/// all. Friction at the floor, at the slope and at the guide.
fn wedge(units: &str, degrees: f64, friction: [f64; 3], load: f64) -> Drawing {
    let rub = |mu: f64| format!("friction = {mu}");
    Drawing::new(units)
        .fixed("frame", &[], &[("floor", [0.0; 2]), ("shelf", [0.0, 3.0])])
        .part("wedge", &[], &[("heel", [0.0; 2]), ("toe", [5.0, 0.0])])
        .part("block", &[], &[("foot", [0.0, 1.0]), ("top", [0.0, 3.0])])
        .slot("wedge.heel", "frame", [0.0; 2], 0.0, true)
        .add(&rub(friction[0]))
        .slot("block.foot", "wedge", [0.0, 1.0], degrees, false)
        .add(&rub(friction[1]))
        .slot("block.foot", "frame", [0.0, 1.0], 90.0, true)
        .add(&rub(friction[2]))
        .hand("wedge", [0.0; 2], [5.0, 0.0], "180", 100.0)
        .jaw("block", "block.top", "frame.shelf", -90.0)
        .stroke("gap", 0.0, -0.01)
        .work(load)
}

/// F. P. Beer and E. R. Johnston, *Vector Mechanics for Engineers: Statics*, sample problem 8.4:
/// 400 lb, 8° wedge, μ 0.35 on all three faces: 423 lb to raise. It does not come down by itself:
/// 206 lb are needed to draw the wedge out.
#[test]
fn wedge_with_three_rubbing_faces() {
    let drawing = wedge("in-lbf", 8.0, [0.35; 3], 400.0);
    let [raise, without] = drawing.solve().hand_force();
    close("8.4 raise", raise, 423.0, 3e-3);
    close("8.4 raise recomputed", raise, 422.69, 2e-5);
    close(
        "8.4 without friction",
        without,
        400.0 * 8.0_f64.to_radians().tan(),
        1e-9,
    );
    let back = drawing.solve_to(Direction::Opening);
    let needed = back.solved.positions[0].grips[0].needed;
    assert_eq!(needed, Some(Answer::Locked), "holds the block by itself");
}

/// The same problem, drawing the wedge out from under the block: 206 lb. The block's weight pulls
/// the tool shut here (a long, soft spring stands for it), and only friction holds it.
#[test]
fn wedge_drawn_out_against_three_rubbing_faces() {
    let found = Drawing::new("in-lbf")
        .fixed(
            "frame",
            &[],
            &[("shelf", [0.0, 3.0]), ("earth", [0.0, -1000.0])],
        )
        .part("wedge", &[], &[("heel", [0.0; 2]), ("toe", [5.0, 0.0])])
        .part("block", &[], &[("foot", [0.0, 1.0]), ("top", [0.0, 3.0])])
        .slot("wedge.heel", "frame", [0.0; 2], 0.0, true)
        .add("friction = 0.35")
        .slot("block.foot", "wedge", [0.0, 1.0], 8.0, false)
        .add("friction = 0.35")
        .slot("block.foot", "frame", [0.0, 1.0], 90.0, true)
        .add("friction = 0.35")
        .hand("wedge", [0.0; 2], [5.0, 0.0], "0", 100.0)
        .jaw("block", "block.top", "frame.shelf", 90.0)
        .stroke("gap", 0.0, -0.01)
        .work(0.0)
        .add(
            "[[springs]]\nfrom = \"block.top\"\nto = \"frame.earth\"\n\
             rate = 0.0001\npreload = 400\nacts = \"pull\"",
        )
        .solve();
    let [force, _] = found.hand_force();
    close("8.4 draw out", force, 206.0, 3e-3);
    close("8.4 draw out recomputed", force, 205.50, 3e-5);
}

/// Engineering Statics (D. W. Baker and W. Haynes), sec. 9.3: 10 lb block against rollers, 25°
/// wedge, μ 0.20 on floor and slope: 9.35 lb to raise, 0.436 lb to hold.
#[test]
fn wedge_under_a_block_against_rollers() {
    let drawing = wedge("in-lbf", 25.0, [0.20, 0.20, 0.0], 10.0);
    let [raise, without] = drawing.solve().hand_force();
    close("9.3 raise", raise, 9.35, 2e-3);
    close("9.3 raise recomputed", raise, 9.3484, 2e-5);
    close("9.3 efficiency", without / raise, 0.4988, 2e-4);
    let [hold, _] = drawing.solve_to(Direction::Opening).hand_force();
    close("9.3 hold", hold, 0.436, 2e-3);
    close("9.3 hold recomputed", hold, 0.4359, 2e-4);
}

/// T. Bevan, *The Theory of Machines*, ch. 6, ex. 7: 6 tons on the piston, crank 8 in, rod 80 in,
/// 60° past the inner dead centre, μ 0.05, pins of radius 4.4 (crosshead), 15 (crank) and 7 in
/// (shaft): 3.64 ton ft without and 3.06 ton ft with friction, efficiency 84.17 %.
///
/// The torque taken off is a couple: a spring about the shaft. The hand force is what holds it.
#[test]
fn engine_with_friction_circles_by_mu_r() {
    let (r, l, t) = (8.0, 80.0, 60.0_f64.to_radians());
    let b = [-r * t.cos(), r * t.sin()];
    let rod = (r * t.sin() / l).asin();
    let c = [b[0] - l * rod.cos(), 0.0];
    // Inner dead centre to the left; the piston moves right and turns the crank clockwise.
    let engine = |torque: f64| {
        let found = Drawing::new("in-lbf")
            .fixed("bed", &[("O", [0.0; 2])], &[("c", c)])
            .part("crank", &[("O", [0.0; 2]), ("B", b)], &[])
            .part("rod", &[("B", b), ("C", c)], &[])
            .part("piston", &[("C", c)], &[("face", [c[0] - 5.0, 0.0])])
            .slot("piston.C", "bed", c, 0.0, true)
            .hand("piston", c, [c[0] - 5.0, 0.0], "0", 6.0)
            .jaw("none", "piston.C", "bed.c", 180.0)
            .stroke("gap", 0.0, -0.01)
            .work(0.0)
            .add("[joints]\nfriction = 0.0\ndiameter = 1.0")
            .add(&circle_mu_r("C", 4.4, 0.05))
            .add(&circle_mu_r("B", 15.0, 0.05))
            .add(&circle_mu_r("O", 7.0, 0.05))
            .add(&format!(
                "[[springs]]\npin = \"O\"\nrate = \"0.0001 in lbf/deg\"\npreload = {torque}"
            ));
        found.solve().hand_force()
    };
    let [with, without] = engine(12.0 * 3.0620);
    close("6.7 with friction", with, 6.0, 1e-3);
    close("6.7 efficiency", without / with, 0.8417, 1e-3);
    // Forces grow in step: the torque for 6 tons.
    close("6.7 torque with friction", 3.0620 * 6.0 / with, 3.06, 1e-3);
    close(
        "6.7 torque without friction",
        3.0620 * 6.0 / without,
        3.64,
        1e-3,
    );
    close("6.7 torque recomputed", 3.0620 * 6.0 / with, 3.0620, 2e-5);
    close("6.7 efficiency recomputed", without / with, 0.84169, 2e-5);
}
