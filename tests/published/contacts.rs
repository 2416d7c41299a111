//! Contacts: published machines with a link of theirs drawn as an arc slot about one of its pins, or as an
//! eccentric that pushes a roller.

use super::{Drawing, close};
use std::f64::consts::TAU;

/// R. S. Khurmi and J. K. Gupta, *Theory of Machines*, ex. 7.1, p. 148: AB 40, BC 150, CD 80, AD 150 mm,
/// crank at 60° and 120 rpm, vC 0.385 m/s (graphical). The rocker CD is an arc slot about D; the jaw
/// measures across CD, along which C does not move.
#[test]
fn crank_and_coupler_in_an_arc_slot() {
    let (a, d) = ([0.0; 2], [150.0, 0.0]);
    let b = [
        40.0 * 60_f64.to_radians().cos(),
        40.0 * 60_f64.to_radians().sin(),
    ];
    // C by the two circles, on the left of the way from B to D.
    let way = [d[0] - b[0], d[1] - b[1]];
    let far = way[0].hypot(way[1]);
    let along = (far * far + 150_f64.powi(2) - 80_f64.powi(2)) / (2.0 * far);
    let off = (150_f64.powi(2) - along * along).sqrt();
    let unit = way.map(|v| v / far);
    let c = [
        b[0] + along * unit[0] - off * unit[1],
        b[1] + along * unit[1] + off * unit[0],
    ];
    let rocker = (c[1] - d[1]).atan2(c[0] - d[0]).to_degrees();
    let found = Drawing::new("mm-N")
        .fixed("frame", &[("A", a)], &[("c", c)])
        .part("crank", &[("A", a), ("B", b)], &[])
        .part("coupler", &[("B", b)], &[("C", c)])
        .arc_slot("coupler.C", "frame", d, 80.0)
        .hand("crank", a, b, "\"square\"", 100.0)
        .jaw("rocker", "coupler.C", "frame.c", rocker - 90.0)
        .stroke("handle", 60.0, 61.0)
        .solve();
    let crank = 0.040 * 120.0 / 60.0 * TAU;
    let speed = crank / found.ratio(0);
    close("7.1 vC", speed, 0.385, 1e-2); // graphical; 0.38277 is exact
    // Half of a unit in the last of five figures.
    close("7.1 vC recomputed", speed, 0.38277, 1.31e-5);
}

/// W. F. Riley and L. D. Sturges, *Engineering Mechanics: Statics*, 2nd ed., prob. 7-87, the can press
/// with its link CD (601.8 lb) as an arc slot of 10 in about C: 588.7 lb on the can.
#[test]
fn can_press_with_an_arc_slot() {
    let c = [0.0; 2];
    let polar = |length: f64, degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        [length * cos, length * sin]
    };
    let plus = |a: [f64; 2], b: [f64; 2]| [a[0] + b[0], a[1] + b[1]];
    let d = polar(10.0, -78.0);
    let b = plus(d, polar(12.0, -180.0 + 67.0));
    let e = plus(d, [14.0, 0.0]);
    let (f, hand) = (plus(e, [0.0, -8.0]), plus(e, [0.0, 22.0]));
    let found = Drawing::new("in-lbf")
        .fixed("frame", &[("F", f)], &[("bed", b)])
        .part("lever", &[("F", f), ("E", e)], &[])
        .part("DE", &[("E", e), ("D", d)], &[])
        .part("BD", &[("D", d), ("B", b)], &[])
        .part("piston", &[("B", b)], &[])
        .arc_slot("DE.D", "frame", c, 10.0)
        .slot("piston.B", "frame", b, 90.0, true)
        .hand("lever", f, hand, "180", 100.0)
        .jaw("piston", "piston.B", "frame.bed", 90.0)
        .stroke("gap", 0.0, -0.01)
        .solve();
    close("can press DE", found.pin_load("E"), 375.0, 1e-3);
    close("can press BD", found.pin_load("B"), 639.5, 1e-3);
    close("can press force", found.jaw_force()[0], 588.7, 1e-3);
    close("can press wall", found.slot_load(0), 601.8, 1e-3);
    close(
        "can press wall recomputed",
        found.slot_load(0),
        601.82,
        1e-5,
    );
}

/// R. S. Khurmi and J. K. Gupta, *Theory of Machines*, ex. 6.2: crank 100, rod 400 mm, 45°, 10 rad/s, slider
/// 0.82 m/s (graphical). The crank is an eccentric of throw 100 whose disc and roller have 400 mm of radius
/// between them; the rod's angle, 10.182° by its sine, is the pressure angle, whose cosine is the share of
/// the contact force that the slider gives on.
#[test]
fn slider_crank_as_an_eccentric() {
    let turn = 45_f64.to_radians();
    let throw = 100.0;
    let c = [throw * turn.cos(), throw * turn.sin()];
    let slider = [c[0] + (400_f64.powi(2) - c[1] * c[1]).sqrt(), 0.0];
    let found = Drawing::new("mm-N")
        .fixed(
            "frame",
            &[("A", [0.0; 2])],
            &[("bed", [slider[0] + 200.0, 0.0])],
        )
        .part("disc", &[("A", [0.0; 2])], &[("C", c)])
        .part("slider", &[], &[("P", slider)])
        .slot("slider.P", "frame", slider, 0.0, true)
        .add(
            "[[cams]]\npart = \"disc\"\nface = { centre = \"C\", radius = 370 }\n\
             pushes = \"slider.P\"\nroller = { diameter = 60, pin = 20 }",
        )
        .hand("disc", [0.0; 2], c, "\"square\"", 100.0)
        .jaw("slider", "slider.P", "frame.bed", 180.0)
        .stroke("handle", 45.0, 44.0)
        .solve();
    let speed = 10.0 * 0.001 * throw / found.ratio(0);
    close("6.2 slider", speed, 0.82, 2e-2); // graphical; 0.83411 is exact
    // Half of a unit in the last of five figures.
    close("6.2 slider recomputed", speed, 0.83411, 6e-6);
    let share = found.jaw_force()[0] / found.cam_load(0);
    close(
        "6.2 pressure angle",
        share.acos().to_degrees(),
        10.182,
        5e-5,
    );
}
