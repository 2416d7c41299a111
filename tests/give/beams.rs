//! Handles under forces written down by hand.

use super::{E, near, tool};
use jawforce::geometry::Vec2;
use jawforce::give::{Elastic, Give};
use jawforce::model::{Depth, JointId, PartId, Place, Tool};
use jawforce::statics::{ForceKind, PointForce, Sheet};

/// Invented for these tests: a lever presses a bar through its knee.
const LEVER: &str = r#"
[tool]
name = "Give trial"
units = "mm-N"
[parts.frame]
fixed = true
pins  = { heel = [0, 0] }
marks = { anvil = [20, -40] }
[parts.lever]
pins  = { heel = [0, 0] }
marks = { nose = [20, 0] }
[hand]
part  = "lever"
line  = [[0, 0], [-180, 0]]
grips = [90]
[[jaw]]
name    = "nose"
on      = "lever.nose"
against = "frame.anvil"
axis    = 90
[stroke]
open = { handle = 175 }
shut = { handle = 185 }
[materials.plate]
yield = 355
modulus = "205 GPa"
[sections.lever]
width = 12
thickness = 6
material = "plate"
"#;

/// The lever clamped at its heel, with a force on its tip and what holds it.
fn clamped(tool: &Tool, tip: [f64; 2], force: [f64; 2]) -> Give {
    let heel = tool.joints.iter().position(|j| j.pin == "heel").unwrap();
    let heel = JointId::new(heel);
    let mut sheet = Sheet::new(tool.parts.len()).with(PartId::new(1), ForceKind::Hand, tip, force);
    sheet.part_forces[1].push(PointForce {
        what: ForceKind::Joint(heel),
        at: Vec2::new(0.0, 0.0),
        local: Vec2::new(0.0, 0.0),
        force: force.map(|v| -v).into(),
        moment: tip[1] * force[0] - tip[0] * force[1],
    });
    Elastic::new(tool).under(&sheet)
}

/// Tip deflection P L³ / (3 E I): J. M. Gere, *Mechanics of Materials*, 6th ed., table G-1, case 4.
/// 150 N at 90 mm on 6 × 12 mm of E = 205 GPa: 0.2058 mm by arithmetic.
#[test]
fn cantilever() {
    let tool = tool(LEVER);
    let give = clamped(&tool, [-90.0, 0.0], [0.0, 1.0]);
    let second = 6.0 * 12.0_f64.powi(3) / 12.0;
    near(give.per_force, 90.0_f64.powi(3) / (3.0 * E * second), 1e-12);
    assert!((give.spread(150.0) - 0.2058).abs() < 5e-5);
    assert!((give.gap_under(1.0, 150.0) - 1.2058).abs() < 5e-5);
    let stretched = clamped(&tool, [-90.0, 0.0], [-1.0, 0.0]);
    near(stretched.per_force, 90.0 / (E * 72.0), 1e-12);
    near(
        stretched.share("lever").unwrap().flexure.axial,
        stretched.per_force,
        1e-12,
    );
    // The heel carries the tip's force alone: all of it only moves the hand.
    near(give.hand_side, give.per_force, 1e-12);
}

/// A depth that tapers in a straight line from w₀ to w₁ over L. With w = w₀ + (w₁ − w₀) s / L and
/// the moment L − s, the integral of 12 (L − s)² / (E t w³) by Simpson's rule.
#[test]
fn tapered_cantilever() {
    let mut tool = tool(LEVER);
    let (w0, w1, length) = (24.0, 8.0, 180.0);
    tool.sections[0].width = Depth::Stations(vec![[0.0, w0], [length, w1]]);
    let give = clamped(&tool, [-length, 0.0], [0.0, 1.0]);
    let n = 20_000;
    let at = |k: i32| {
        let s = length * f64::from(k) / f64::from(n);
        let w: f64 = w0 + (w1 - w0) * s / length;
        12.0 * (length - s).powi(2) / (E * 6.0 * w.powi(3))
    };
    let inner: f64 = (1..n).map(|k| f64::from(2 + 2 * (k % 2)) * at(k)).sum();
    let simpson = (at(0) + inner + at(n)) * length / f64::from(3 * n);
    near(give.per_force, simpson, 1e-9);
}

/// A quarter circle, clamped at one end, its free end loaded square to the bar there: bending
/// π P R³ / (4 E I), and axial π P R / (4 E A): S. P. Timoshenko, *Strength of Materials*, part I,
/// 3rd ed., ch. on curved bars (from memory); the moment is P R sin φ from the free end, the axial
/// force P sin φ.
#[test]
fn quarter_circle() {
    let mut tool = tool(LEVER);
    let r = 80.0;
    let n = 120;
    let place = |k: i32| {
        let a = std::f64::consts::FRAC_PI_2 * f64::from(k) / f64::from(n);
        [-r * a.sin(), r - r * a.cos()]
    };
    tool.hand.handle.points = (0..=n).map(|k| Place::At(place(k))).collect();
    tool.hand.handle.smooth = true;
    // From (0, 0) to (−R, R): there the bar runs along y, and x is square to it.
    let give = clamped(&tool, [-r, r], [1.0, 0.0]);
    let quarter = std::f64::consts::FRAC_PI_4;
    let of_lever = give.share("lever").unwrap().flexure;
    let second = 6.0 * 12.0_f64.powi(3) / 12.0;
    near(of_lever.bending, quarter * r.powi(3) / (E * second), 1e-5);
    near(of_lever.axial, quarter * r / (E * 72.0), 1e-5);
}

/// A part that something outside the tool holds does not balance: it is taken as rigid, and said so.
#[test]
fn what_cannot_give_is_listed() {
    let mut tool = tool(LEVER);
    let sheet = Sheet::new(2).with(PartId::new(1), ForceKind::Hand, [-90.0, 0.0], [0.0, 1.0]);
    let give = Elastic::new(&tool).under(&sheet);
    assert_eq!(give.per_force, 0.0);
    let listed: Vec<(&str, &str)> = give
        .rigid
        .iter()
        .map(|r| (r.name.as_str(), r.why.text()))
        .collect();
    assert_eq!(
        listed,
        [
            ("frame", "no table in [sections]"),
            ("lever", "its forces do not add up"),
            ("heel", "no `diameter` in [joints]"),
        ]
    );
    tool.materials[0].modulus = None;
    let give = Elastic::new(&tool).under(&sheet);
    assert_eq!(give.rigid[1].why.text(), "its material has no `modulus`");
}
