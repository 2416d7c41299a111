//! Hand tools and simple machines in equilibrium, without friction.
//!
//! "Engineering Statics" below is D. W. Baker and W. Haynes, *Engineering Statics: Open and
//! Interactive* (CC BY-NC-SA), with its bank of exercises for chapter 6.

use super::{Drawing, close};

fn polar(radius: f64, degrees: f64) -> [f64; 2] {
    let (sin, cos) = degrees.to_radians().sin_cos();
    [radius * cos, radius * sin]
}

fn plus(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] + b[0], a[1] + b[1]]
}

/// One half of pliers on pin A: P down at arm `handle` to the right, Q square to the jaw's arm and
/// at `tilt` degrees from the vertical.
fn pliers(units: &str, jaw: f64, handle: f64, tilt: f64, force: f64) -> Drawing {
    let tip = polar(jaw, 180.0 - tilt);
    Drawing::new(units)
        .fixed("half", &[("A", [0.0; 2])], &[("anvil", tip)])
        .part("other", &[("A", [0.0; 2])], &[("tip", tip)])
        .hand("other", [0.0; 2], [handle, 0.0], "-90", force)
        .jaw("jaw", "other.tip", "half.anvil", 270.0 - tilt)
        .stroke("gap", 0.0, -0.01 * jaw)
}

/// Engineering Statics, exercise bank, "Machine: Pliers": Q = P d2/d1, Ax = Q sin θ,
/// Ay = P + Q cos θ. In these formulas Q stands at θ to the *vertical*, so the jaw's arm is drawn
/// at θ to the horizontal. P acts on each handle; force is that on one.
#[test]
fn slip_joint_pliers_by_the_force_on_one_handle() {
    for (d1, d2, degrees, p) in [
        (40.0, 160.0, 45.0, 300.0),
        (25.0, 180.0, 35.0, 400.0),
        (55.0, 140.0, 55.0, 200.0),
    ] {
        let found = pliers("mm-N", d1, d2, degrees, p).solve();
        let theta = f64::to_radians(degrees);
        let q = p * d2 / d1;
        close("pliers Q", found.jaw_force()[0], q, 1e-9);
        let [x, y] = found.pin("A");
        close("pliers Ax", x, q * theta.sin(), 1e-9);
        close("pliers Ay", y, p + q * theta.cos(), 1e-9);
    }
    let found = pliers("mm-N", 40.0, 160.0, 45.0, 300.0).solve();
    close("pliers A", found.pin_load("A"), 1427.96, 1e-3); // bank tolerance 0.2 %
    close(
        "pliers A exact",
        found.pin_load("A"),
        848.528_137_f64.hypot(1_148.528_137),
        1e-8,
    );
}

/// W. F. Riley and L. D. Sturges, *Engineering Mechanics: Statics*, 2nd ed., prob. 7-95.
#[test]
fn pipe_pliers_by_the_force_on_one_handle() {
    let found = pliers("in-lbf", 1.25, 9.0, 38.0, 25.0).solve();
    close("pipe pliers D", found.jaw_force()[0], 180.0, 5e-4);
    let [x, y] = found.pin("A");
    close("pipe pliers Ax", x, 110.82, 5e-4);
    close("pipe pliers Ay", y, 166.84, 5e-4);
}

/// Engineering Statics, exercise bank, "Machine: Vice grips" (coordinates inferred from the
/// published formulas): θ = atan(x3/y1), d = x2 cos θ − y2 sin θ, CE = P (x2+x3+x4)/d,
/// Bx = CE sin θ, A = Bx (y1+y2)/x1. Close to the toggle, d is a small difference.
#[test]
fn locking_pliers_by_the_force_on_one_handle() {
    let [x1, x2, x3, x4, y1, y2] = [43.0, 35.0, 61.0, 20.0, 24.0, 9.0];
    let top = y1 + y2;
    let (b, d, e, c) = ([0.0; 2], [0.0, top], [x2, y2], [x2 + x3, top]);
    let tip = [-x1, 0.0];
    let found = Drawing::new("mm-N")
        .fixed("upper", &[("D", d), ("C", c)], &[("anvil", tip)])
        .part("jaw", &[("D", d), ("B", b)], &[("tip", tip)])
        .part("lower", &[("B", b), ("E", e)], &[])
        .part("link", &[("C", c), ("E", e)], &[])
        .hand("lower", b, [x2 + x3 + x4, 0.0], "90", 100.0)
        .jaw("jaw", "jaw.tip", "upper.anvil", -90.0)
        .stroke("gap", 0.0, -0.01)
        .solve();
    let theta = (x3 / y1).atan();
    let arm = x2 * theta.cos() - y2 * theta.sin();
    let link = 100.0 * (x2 + x3 + x4) / arm;
    let bx = link * theta.sin();
    close("vice grips CE", -found.axial("link"), link, 1e-9);
    close(
        "vice grips CE/P",
        -found.axial("link") / 100.0,
        26.130,
        1e-3,
    );
    close(
        "vice grips Bx/P",
        found.pin("B")[0].abs() / 100.0,
        24.316,
        1e-3,
    );
    close(
        "vice grips By/P",
        found.pin("B")[1].abs() / 100.0,
        8.567,
        1e-3,
    );
    close("vice grips A", found.jaw_force()[0], bx * top / x1, 1e-9);
    close("vice grips A/P", found.ratio(0), 18.661, 1e-3);
    close(
        "vice grips Dx/P",
        found.pin("D")[0].abs() / 100.0,
        24.316,
        1e-3,
    );
    close(
        "vice grips Dy/P",
        found.pin("D")[1].abs() / 100.0,
        27.228,
        1e-3,
    );
}

/// Engineering Statics, exercise bank, "Machine: Pruning Shears": θ = atan(y1/x2),
/// DE = F d2/(x1 sin θ), cutting force = DE (y2 cos θ + (x1+x2) sin θ)/d1.
#[test]
fn compound_pruning_shears_by_the_force_on_one_handle() {
    let [d1, d2, x1, x2, y1, y2] = [60.0, 135.0, 30.0, 16.0, 16.0, 16.0];
    let (g, c) = ([0.0; 2], [0.0, y1 + y2]);
    let (d, e) = ([x1 + x2, y1], [x1, 0.0]);
    let tip = [-d1, y1 + y2];
    let found = Drawing::new("mm-N")
        .fixed("body", &[("G", g), ("C", c)], &[("anvil", tip)])
        .part("handle", &[("G", g), ("E", e)], &[])
        .part("blade", &[("C", c), ("D", d)], &[("tip", tip)])
        .part("link", &[("E", e), ("D", d)], &[])
        .hand("handle", g, [d2, 0.0], "90", 50.0)
        .jaw("blade", "blade.tip", "body.anvil", 90.0)
        .stroke("gap", 0.0, -0.01)
        .solve();
    close("shears DE", -found.axial("link"), 318.20, 2e-3);
    close("shears FA", found.jaw_force()[0], 232.50, 2e-3);
    close("shears ratio", found.ratio(0), 4.650, 2e-3);
    let theta = f64::atan2(y1, x2);
    let link = 50.0 * d2 / (x1 * theta.sin());
    let cut = link * (y2 * theta.cos() + (x1 + x2) * theta.sin()) / d1;
    close("shears FA by formula", found.jaw_force()[0], cut, 1e-9);
}

/// University of Oklahoma, eCourses *Statics*, sec. 6.4, case study "bolt cutter": 45 lb on each
/// handle. Half of the tool: the hinge of the handles stays on the line of symmetry.
#[test]
fn half_a_bolt_cutter_by_the_force_on_one_handle() {
    let (c, b, a) = ([0.0; 2], [2.5, 0.0], [3.75, 0.0]);
    let tip = [-0.75, 0.0];
    let found = Drawing::new("in-lbf")
        .fixed("plate", &[("C", c)], &[("anvil", tip)])
        .part("jaw", &[("C", c), ("B", b)], &[("tip", tip)])
        .part("handle", &[("B", b)], &[("A", a)])
        .slot("handle.A", "plate", a, 0.0, false)
        .hand("handle", a, [10.75, 0.0], "-90", 45.0)
        .jaw("jaw", "jaw.tip", "plate.anvil", 90.0)
        .stroke("gap", 0.0, -0.001)
        .solve();
    close("bolt cutter By", found.pin_load("B"), 252.0, 1e-9);
    close("bolt cutter Q", found.jaw_force()[0], 840.0, 1e-9);
    close("bolt cutter ratio", found.ratio(0), 18.667, 1e-4);
}

/// The same tool whole: both handles and both jaws move, the hand squeezes across. The jaws and
/// handles stand off the line of symmetry, which changes nothing since all forces are square to it.
#[test]
fn a_whole_bolt_cutter_by_the_force_on_one_handle() {
    let mirrored = |[x, y]: [f64; 2]| [x, -y];
    let (c, b, a) = ([0.0, 0.4], [2.5, 0.6], [3.75, 0.0]);
    let (tip, grip) = ([-0.75, 0.1], [10.75, 1.5]);
    let found = Drawing::new("in-lbf")
        .fixed("plate", &[("C", c), ("CC", mirrored(c))], &[])
        .part("jaw", &[("C", c), ("B", b)], &[("tip", tip)])
        .part(
            "jaw2",
            &[("CC", mirrored(c)), ("BB", mirrored(b))],
            &[("tip", mirrored(tip))],
        )
        .part("handle", &[("B", b), ("A", a)], &[])
        .part("handle2", &[("BB", mirrored(b)), ("A", a)], &[])
        .slot("handle.A", "plate", a, 0.0, false)
        .hand("handle", a, grip, "\"across\"", 45.0)
        .add(&format!(
            "against = {{ part = \"handle2\", line = [[{}, {}], [{}, {}]] }}",
            a[0], a[1], grip[0], -grip[1]
        ))
        .jaw("jaw", "jaw.tip", "jaw2.tip", 90.0)
        .stroke("gap", 0.2, 0.1)
        .solve();
    close("whole bolt cutter B", found.pin_load("B"), 252.0, 1e-9);
    close("whole bolt cutter BB", found.pin_load("BB"), 252.0, 1e-9);
    close("whole bolt cutter A", found.pin_load("A"), 297.0, 1e-9);
    close("whole bolt cutter Q", found.jaw_force()[0], 840.0, 1e-9);
}

/// W. F. Riley and L. D. Sturges, *Engineering Mechanics: Statics*, 2nd ed., prob. 7-87: a can
/// press with unequal toggle links. The scan of the solution prints one angle as 73°; only 78°
/// gives both of its link forces.
#[test]
fn can_press_by_the_force_on_its_lever() {
    let c = [0.0; 2];
    let d = polar(10.0, -78.0);
    let b = plus(d, polar(12.0, -180.0 + 67.0));
    let e = plus(d, [14.0, 0.0]);
    let (f, hand) = (plus(e, [0.0, -8.0]), plus(e, [0.0, 22.0]));
    let found = Drawing::new("in-lbf")
        .fixed("frame", &[("C", c), ("F", f)], &[("bed", b)])
        .part("lever", &[("F", f), ("E", e)], &[])
        .part("DE", &[("E", e), ("D", d)], &[])
        .part("CD", &[("C", c), ("D", d)], &[])
        .part("BD", &[("D", d), ("B", b)], &[])
        .part("piston", &[("B", b)], &[])
        .slot("piston.B", "frame", b, 90.0, true)
        .hand("lever", f, hand, "180", 100.0)
        .jaw("piston", "piston.B", "frame.bed", 90.0)
        .stroke("gap", 0.0, -0.01)
        .solve();
    close("can press DE", -found.axial("DE"), 375.0, 1e-3);
    close("can press BD", -found.axial("BD"), 639.5, 1e-3);
    close("can press CD", -found.axial("CD"), 601.8, 1e-3);
    close("can press force", found.jaw_force()[0], 588.7, 1e-3);
}

/// R. C. Hibbeler, *Engineering Mechanics: Statics and Dynamics*, 14th ed., prob. 6-82: 5 lb on
/// each handle. The force on the shank, 36.0 lb, is from memory.
#[test]
fn locking_pliers_on_a_shank_by_the_force_on_one_handle() {
    let (b, e) = ([0.0; 2], [0.0, -1.75]);
    let d = [1.0, -1.75];
    let c = plus(d, [3.0, 1.75]);
    let tip = [-1.5, -0.75];
    let found = Drawing::new("in-lbf")
        .fixed("upper", &[("B", b), ("C", c)], &[("anvil", tip)])
        .part("jaw", &[("B", b), ("E", e)], &[("tip", tip)])
        .part("lower", &[("E", e), ("D", d)], &[])
        .part("CD", &[("C", c), ("D", d)], &[])
        .hand("lower", e, [4.0, -1.75], "90", 5.0)
        .jaw("jaw", "jaw.tip", "upper.anvil", -70.0)
        .stroke("gap", 0.0, -0.001)
        .solve();
    close("shank CD", -found.axial("CD"), 39.70, 2e-3);
    close("shank Ex", found.pin("E")[0].abs(), 34.30, 2e-3);
    close("shank N", found.jaw_force()[0], 36.013, 1e-5);
}

/// R. C. Hibbeler, *Engineering Mechanics: Statics and Dynamics*, 14th ed., prob. 6-80: with
/// AB = a, AE = 1.5a, the handle 2a, C at (a/2, a/2) from B and the link 30° off the vertical, F_CD = 10.93 F and
/// B_x = 5.46 F; F_E = 3.64 F from memory. (Drawn so that its published moment equations hold.)
#[test]
fn toggle_clamp_by_the_force_on_its_handle() {
    let a = 40.0;
    let (b, pivot) = ([0.0; 2], [0.0, -a]);
    let c = [a / 2.0, a / 2.0];
    let d = plus(c, polar(60.0, -120.0));
    let pad = [1.5 * a, -a];
    let found = Drawing::new("mm-N")
        .fixed("base", &[("A", pivot), ("D", d)], &[("bed", pad)])
        .part("arm", &[("A", pivot), ("B", b)], &[("pad", pad)])
        .part("handle", &[("B", b), ("C", c)], &[])
        .part("CD", &[("D", d), ("C", c)], &[])
        .hand("handle", b, [2.0 * a, 0.0], "-90", 100.0)
        .jaw("pad", "arm.pad", "base.bed", 90.0)
        .stroke("gap", 0.0, -0.01)
        .solve();
    close("toggle clamp CD/F", -found.axial("CD") / 100.0, 10.93, 1e-3);
    close(
        "toggle clamp Bx/F",
        found.pin("B")[0].abs() / 100.0,
        5.46,
        1e-3,
    );
    close("toggle clamp E/F", found.ratio(0), 3.6427, 1e-4);
}

/// Levers: OpenStax, *College Physics*, sec. 9.5, nail puller (45 cm and 1.8 cm: advantage 25,
/// 50 N gives 1250 N; load on the surface 1.3 kN, to two figures, which the weight of 2.10 kg
/// does not change); tongs, 20 lb at 6 in, jaw at 2 in: 60 lb, pin 80 lb; metal shears, 40 N,
/// 20 and 5 cm: 160 N (the last two: exercise pages on the web without an author).
#[test]
fn levers_with_the_pivot_between_by_the_force_on_one_handle() {
    for (units, jaw, handle, force, expected, pin, rounding) in [
        ("mm-N", 18.0, 450.0, 50.0, 1250.0, 1300.0, 1e-9),
        ("in-lbf", 2.0, 6.0, 20.0, 60.0, 80.0, 1e-9),
        ("mm-N", 50.0, 200.0, 40.0, 160.0, 200.0, 1e-9),
    ] {
        let found = pliers(units, jaw, handle, 0.0, force).solve();
        close("lever force", found.jaw_force()[0], expected, rounding);
        close("lever pin", found.pin_load("A"), pin, rounding);
        close("lever ratio", found.ratio(0), handle / jaw, 1e-9);
    }
}

/// A lever with the load between pivot and hand, both to the right of the pivot.
fn second_class(jaw: f64, handle: f64, force: f64) -> Drawing {
    Drawing::new("mm-N")
        .fixed("base", &[("A", [0.0; 2])], &[("rest", [jaw, 0.0])])
        .part("lever", &[("A", [0.0; 2])], &[("load", [jaw, 0.0])])
        .hand("lever", [0.0; 2], [handle, 0.0], "90", force)
        .jaw("load", "lever.load", "base.rest", -90.0)
        .stroke("gap", 0.0, -0.01 * jaw)
}

/// OpenStax, *College Physics*, sec. 9.5, wheelbarrow: 45.0 kg at 7.50 cm, hands at 1.02 m,
/// g = 9.80 m/s²: 32.4 N and 409 N on the wheel; with 55.0 kg at 5.50 cm: advantage 18.5, 29.1 N,
/// 510 N.
#[test]
fn wheelbarrow_by_the_hand_force_that_its_load_needs() {
    for (mass, arm, hand, wheel) in [(45.0, 75.0, 32.4, 409.0), (55.0, 55.0, 29.1, 510.0)] {
        let found = second_class(arm, 1020.0, 1.0).work(mass * 9.80).solve();
        let [force, _] = found.hand_force();
        close("wheelbarrow hands", force, hand, 3e-3);
        // The pin force is that for a hand force of 1 N.
        close(
            "wheelbarrow wheel",
            found.pin_load("A") * force,
            wheel,
            3e-3,
        );
    }
    close(
        "wheelbarrow advantage",
        second_class(55.0, 1020.0, 1.0).solve().ratio(0),
        18.545,
        1e-4,
    );
}

/// Nutcracker, arms 0.4 m and 0.05 m, 100 N: 800 N (an exercise page on the web without an
/// author).
#[test]
fn nutcracker_by_the_force_on_one_handle() {
    let found = second_class(50.0, 400.0, 100.0).solve();
    close("nutcracker", found.jaw_force()[0], 800.0, 1e-9);
}

/// A. Bedford and W. Fowler, *Engineering Mechanics: Statics*, prob. 11.48: handles that close
/// 8 mm while the jaws close 1 mm give a jaw force of 8 F. Drawn as pliers with arms of 80 and
/// 10 mm and a jaw that measures along the line between its points.
#[test]
fn jaw_force_follows_from_the_ways_of_hand_and_jaw() {
    let other = polar(80.0, 20.0);
    let found = Drawing::new("mm-N")
        .fixed("half", &[("A", [0.0; 2])], &[("jaw", polar(10.0, -160.0))])
        .part("other", &[("A", [0.0; 2])], &[("jaw", polar(10.0, 160.0))])
        .hand("other", [0.0; 2], polar(80.0, -20.0), "\"across\"", 70.0)
        .add(&format!(
            "against = {{ part = \"half\", line = [[0, 0], [{}, {}]] }}",
            other[0], other[1]
        ))
        .add("[[jaw]]\non = \"other.jaw\"\nagainst = \"half.jaw\"")
        .add("[stroke]\nopen = { gap = 3.0 }\nshut = { gap = 2.0 }")
        .solve();
    let span = |k: usize| found.solved.positions[k].grips[0].span.expect("a span");
    close("way of the handles", span(0) - span(60), 8.0, 1e-9);
    close("jaw force over F", found.ratio(0), 8.0, 1e-9);
    close("jaw force", found.jaw_force()[0], 560.0, 1e-9);
}
