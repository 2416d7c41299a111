//! Gears: tooth forces off the free bodies, contact of teeth from the geometry of their circles.
//!
//! R. S. Khurmi and J. K. Gupta, *Theory of Machines*, ch. 12; P. Wentzell, *Machine Design*, ch. 12.

use super::close;
use crate::gears::{loads, teeth, tool};
use jawforce::geometry::{Rim, contact_ratios};

const PRESSURE: f64 = 20.0 / 180.0 * std::f64::consts::PI;

/// A pinion of this pitch radius with the hand on it, and a greater wheel with the jaw; the torque at
/// the pinion, in the file's units.
fn pinion(units: &str, teeth: [u32; 2], radius: f64, torque: f64) -> String {
    let [small, great] = teeth;
    let big = radius * f64::from(great) / f64::from(small);
    let (apart, arm) = (radius + big, 10.0 * radius);
    format!(
        "[tool]\nunits = \"{units}\"\n\
         [parts.base]\nfixed = true\npins = {{ p = [0, 0], q = [{apart}, 0] }}\nmarks = {{ a = [{}, {}] }}\n\
         [parts.pinion]\npins = {{ p = [0, 0] }}\nmarks = {{ w = [{radius}, 0] }}\n\
         [parts.wheel]\npins = {{ q = [{apart}, 0] }}\nmarks = {{ w = [{radius}, 0], nose = [{}, 0] }}\n\
         [[gears]]\nparts = [\"pinion\", \"wheel\"]\nabout = [\"p\", \"q\"]\nmeet = [\"pinion.w\", \"wheel.w\"]\n\
         teeth = [{small}, {great}]\nangle = 20\n\
         [hand]\npart = \"pinion\"\nline = [[0, 0], [{}, 0]]\ngrips = [{arm}]\nforce = {}\npalm = false\n\
         [[jaw]]\non = \"wheel.nose\"\nagainst = \"base.a\"\naxis = 90\n\
         [stroke]\nopen = {{ handle = 180 }}\nshut = {{ handle = 185 }}\nsteps = 2\n",
        apart + big,
        -big,
        apart + big,
        -arm,
        torque / arm
    )
}

/// Pitch-line, separating and tooth force, N.
fn forces(text: &str) -> [f64; 3] {
    let tool = tool(text);
    let found = teeth(&tool, &loads(&tool)).force;
    [found[1].abs(), found[0].abs(), found.length()]
}

/// Wentzell, example 12.1: 5 hp at 1725 rpm on a pinion of 20 teeth, diametral pitch 8. The torque is
/// 63 000 hp/rpm (as the book rounds it), the pitch radius 1.25 in.
#[test]
fn tooth_forces_of_a_pinion_in_inches() {
    let torque = 63_000.0 * 5.0 / 1725.0;
    let pound = 4.448_221_615_260_5;
    let found = forces(&pinion("in-lbf", [20, 50], 1.25, torque)).map(|f| f / pound);
    close("Ft", found[0], 146.09, 1e-4);
    close("separating", found[1], 53.17, 1e-4);
    close("tooth", found[2], 155.46, 1e-4);
}

/// Khurmi and Gupta, example 12.1: 120 kW at 650 rpm on a pinion of 250 mm.
#[test]
fn tooth_force_of_a_pinion_in_millimetres() {
    let speed = std::f64::consts::TAU * 650.0 / 60.0;
    let torque = 120e6 / speed;
    let found = forces(&pinion("mm-N", [25, 50], 125.0, torque));
    close("tooth", found[2], 15_010.0, 1e-3);
    close("tooth recomputed", found[2], 15_009.0, 5e-5);
}

/// Khurmi and Gupta, example 12.3: 30 and 80 teeth of module 12, addendum 10.
#[test]
fn path_arc_and_ratio_of_contact() {
    let rims = [30.0, 80.0].map(|z| Rim::Outside {
        radius: 6.0 * z,
        addendum: 10.0,
    });
    let path: f64 = rims.iter().map(|rim| rim.path(PRESSURE)).sum();
    close("path", path, 52.3, 1e-3);
    close("path recomputed", path, 52.258, 1e-5);
    close("arc", path / PRESSURE.cos(), 55.61, 1e-4);
    let ratio: f64 = contact_ratios(rims, 12.0, PRESSURE).iter().sum();
    // The book rounds up to 1.5.
    close("contact ratio", ratio, 1.475, 3e-4);
}

/// The same, example 12.4: 20 and 40 teeth of module 5, addendum 5, 1.2 m/s at the pitch circle: the pinion
/// turns through 29.43 degrees while a pair is in contact, and the teeth slide at 455.3 mm/s where it begins.
#[test]
fn turn_of_a_pinion_during_one_contact_and_sliding() {
    let rims = [20.0, 40.0].map(|z| Rim::Outside {
        radius: 2.5 * z,
        addendum: 5.0,
    });
    let [recess, approach] = rims.map(|rim| rim.path(PRESSURE));
    let turn = (recess + approach) / PRESSURE.cos() / 50.0;
    close("turn", turn.to_degrees(), 29.43, 2e-4);
    let sliding = (1200.0 / 50.0 + 1200.0 / 100.0) * approach;
    close("sliding", sliding, 455.3, 1e-4);
}

/// The same, example 12.6: 17 and 49 teeth of module 6, addendum 6: 34.6 degrees, and sliding over rolling
/// where a contact begins 0.41.
#[test]
fn sliding_over_rolling() {
    let rims = [17.0, 49.0].map(|z| Rim::Outside {
        radius: 3.0 * z,
        addendum: 6.0,
    });
    let [recess, approach] = rims.map(|rim| rim.path(PRESSURE));
    let turn = (recess + approach) / PRESSURE.cos() / 51.0;
    close("turn", turn.to_degrees(), 34.6, 1e-3);
    close("turn recomputed", turn.to_degrees(), 34.581, 1e-4);
    // Rolling at the pitch circle: ω1 r1; sliding (ω1 + ω2) times the path.
    let share = (1.0 / 51.0 + 1.0 / 147.0) * approach;
    close("sliding over rolling", share, 0.41, 2e-3);
    close("sliding over rolling recomputed", share, 0.4096, 3e-4);
}
