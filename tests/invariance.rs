//! A tool does not depend on how it is drawn: axes, size, handedness, units, order of parts.

use crate::models::build::no_dies;
use crate::models::four_bar::FourBar;
use crate::models::moved::{mirrored, redrawn, reordered, scaled};
use crate::models::random::{self, Dice};
use crate::models::{DEMOS, demo};
use jawforce::analysis::{Direction, Solved, solve};
use jawforce::input::read_tool;
use jawforce::model::{JawId, PartId, Target, Tool};
use jawforce::statics::Answer;
use proptest::prelude::*;

/// Allowed difference, relative to the greatest value of its kind.
const SAME: f64 = 1e-9;

fn solved(tool: &Tool) -> Solved {
    solve(tool, Direction::Closing).unwrap_or_else(|failure| panic!("{}", failure.text(tool)))
}

fn near(what: &str, a: f64, b: f64, scale: f64) {
    assert!(
        (a - b).abs() <= SAME * scale.abs().max(b.abs()),
        "{what}: {a} is not {b}"
    );
}

fn force(answer: &Option<Answer>) -> f64 {
    match answer {
        Some(Answer::Moves { force, .. }) => *force,
        Some(Answer::Slack) => -1.0,
        Some(Answer::Locked) => -2.0,
        Some(Answer::Ended) => -4.0,
        Some(Answer::LiftsOff) => -5.0,
        None => -3.0,
    }
}

/// Ratios, gaps over `scale`, jaw and hand forces and sizes of pin forces are the same; pin joints
/// are compared by their order, which none of the changes here touches.
fn same(tool: &Tool, a: &Solved, b: &Solved, scale: f64) {
    assert_eq!(a.positions.len(), b.positions.len());
    assert_eq!(a.events.len(), b.events.len());
    same_teeth(a, b, scale);
    for (p, q) in a.positions.iter().zip(&b.positions) {
        near("travel", q.travel, p.travel, 1.0);
        for jaw in 0..tool.jaws.len() {
            near("gap", q.gap[jaw] / scale, p.gap[jaw], 10.0);
            assert_eq!(p.toggle[jaw], q.toggle[jaw]);
        }
        for (g, h) in p.grips.iter().zip(&q.grips) {
            if let (Some(s), Some(t)) = (g.span, h.span) {
                near("span", t / scale, s, 1.0);
            }
            for jaw in 0..tool.jaws.len() {
                let (r, s) = (g.ratio[jaw], h.ratio[jaw]);
                near("ratio", s.unwrap_or(0.0), r.unwrap_or(0.0), 1.0);
                near(
                    "jaw force",
                    force(&h.answer[jaw]),
                    force(&g.answer[jaw]),
                    1.0,
                );
            }
            near("hand force", force(&h.needed), force(&g.needed), 1.0);
            let size = |f: &Option<[f64; 2]>| f.map_or(-1.0, |[x, y]| x.hypot(y));
            let most = g.pins.iter().map(size).fold(1.0, f64::max);
            for (f, k) in g.pins.iter().zip(&h.pins) {
                near("pin", size(k), size(f), most);
            }
            for (f, k) in g.axial.iter().zip(&h.axial) {
                near("axial", k.unwrap_or(-1.0), f.unwrap_or(-1.0), most);
            }
        }
    }
}

/// Teeth stand at the same gaps and hold the same forces.
fn same_teeth(a: &Solved, b: &Solved, scale: f64) {
    let (Some(a), Some(b)) = (&a.ratchet, &b.ratchet) else {
        assert_eq!(a.ratchet.is_some(), b.ratchet.is_some());
        return;
    };
    let (a, b) = (a.as_ref().expect("teeth"), b.as_ref().expect("teeth"));
    assert_eq!(a.teeth.len(), b.teeth.len());
    for (p, q) in a.teeth.iter().zip(&b.teeth) {
        near("tooth", q.tooth.gap / scale, p.tooth.gap, 10.0);
        near("pawl", q.pawl, p.pawl, 1.0);
    }
    near("left", b.left, a.left, 1.0);
}

/// Everything that may be done to a tool without changing it.
fn unchanged(tool: &Tool) {
    let before = solved(tool);
    for p in PartId::ids(tool.parts.len()) {
        let after = redrawn(tool, p, 0.7 + p.index() as f64, [13.0, -8.0]);
        same(tool, &before, &solved(&after), 1.0);
    }
    for factor in [0.1, 25.4, 3.0] {
        same(tool, &before, &solved(&scaled(tool, factor)), factor);
    }
    same(tool, &before, &solved(&mirrored(tool)), 1.0);
}

#[test]
fn demo_tools_may_be_turned_shifted_scaled_and_mirrored() {
    for (name, _) in DEMOS {
        println!("{name}");
        unchanged(&demo(name));
    }
}

#[test]
fn demo_tools_may_list_their_parts_in_any_order() {
    for (name, _) in DEMOS {
        println!("{name}");
        let tool = demo(name);
        let before = solved(&tool);
        let n = tool.parts.len();
        for shift in 0..n {
            // Backwards, beginning anywhere.
            let to: Vec<usize> = (0..n).map(|k| (2 * n - k - 1 + shift) % n).collect();
            let other = reordered(&tool, &to);
            let after = solved(&other);
            // Two-pin links come in the order of the parts.
            let mut after_sorted = after.clone();
            let order: Vec<usize> = before
                .links
                .parts()
                .map(|p| {
                    after
                        .links
                        .parts()
                        .position(|q| q.index() == to[p.index()])
                        .expect("the same link")
                })
                .collect();
            for position in &mut after_sorted.positions {
                for grip in &mut position.grips {
                    grip.axial = order.iter().map(|&k| grip.axial[k]).collect();
                }
            }
            same(&tool, &before, &after_sorted, 1.0);
        }
    }
}

/// The pin force listed is the one on the later part: it turns round with the order.
#[test]
fn a_pin_force_turns_round_when_the_later_part_comes_first() {
    let tool = demo("eyelet-toggle");
    let n = tool.parts.len();
    let to: Vec<usize> = (0..n).rev().collect();
    let (a, b) = (solved(&tool), solved(&reordered(&tool, &to)));
    for (f, k) in a.positions[0].grips[0]
        .pins
        .iter()
        .zip(&b.positions[0].grips[0].pins)
    {
        let (f, k) = (f.expect("a force"), k.expect("a force"));
        near("x", -k[0], f[0], 1000.0);
        near("y", -k[1], f[1], 1000.0);
    }
}

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(config(60))]

    #[test]
    fn loaded_four_bars_may_be_turned_shifted_scaled_and_mirrored(
        sizes in (20.0..50.0_f64, 40.0..90.0_f64, 30.0..80.0_f64, 40.0..90.0_f64),
        crank in 0.0..std::f64::consts::TAU, side in any::<bool>(),
        more in proptest::collection::vec(0.0..1.0_f64, 40),
    ) {
        let (a, b, c, d) = sizes;
        let side = if side { 1.0 } else { -1.0 };
        let mut bar = FourBar { a, b, c, d, e: 40.0, grip: 120.0, axis: 0.3, side };
        let travel = 0.2;
        prop_assume!((-2..=12).all(|k| bar.assembles(crank + 0.1 * travel * f64::from(k))));
        if bar.solve(crank, 1.0).ratio < 0.0 {
            bar.axis += std::f64::consts::PI;
        }
        let ratios: Vec<f64> = (-2..=12).map(|k| bar.solve(crank + 0.1 * travel * f64::from(k), 1.0).ratio).collect();
        prop_assume!(ratios.iter().all(|r| *r > 0.05 && *r < 50.0));
        let mut tool = bar.tool(crank + 0.4 * travel, crank, crank + travel);
        no_dies(&mut tool);
        random::load(&mut tool, &mut Dice::new(&more));
        tool.hand.force = 300.0;
        tool.stroke.steps = 6;
        unchanged(&tool);
    }
}

/// One tool with everything, in either set of units: a factor on each number.
fn text(units: &str, length: f64, force: f64) -> String {
    let l = |mm: f64| format!("{}", mm / length);
    let f = |newton: f64| format!("{}", newton / force);
    let rate = |v: f64| format!("{}", v * length / force);
    let torque = |v: f64| format!("{}", v / length / force);
    format!(
        r#"
[tool]
units = "{units}"
[parts.frame]
fixed = true
pins = {{ heel = [0, 0], post = [{}, {}] }}
marks = {{ anvil = [{}, {}], perch = [{}, 0] }}
[parts.lever]
pins = {{ heel = [0, 0], knee = [{}, {}] }}
marks = {{ cup = [{}, 0] }}
[parts.strut]
pins = ["knee", "wrist"]
length = {}
[parts.ram]
pins = {{ post = [0, 0], wrist = [{}, {}] }}
marks = {{ nose = [{}, {}] }}
[sketch]
knee = [{}, {}]
wrist = [0, {}]
[hand]
part = "lever"
line = [[0, 0], [{}, 0]]
grips = [{}]
push = "square"
force = {}
[[jaw]]
on = "ram.nose"
against = "frame.anvil"
axis = 90
[stroke]
open = {{ gap = {} }}
shut = {{ gap = {} }}
[work]
need = [[{}, 0], [{}, {}]]
[joints]
diameter = {}
friction = 0.12
[[springs]]
from = "lever.cup"
to = "frame.perch"
rate = {}
free = {}
[[springs]]
pin = "heel"
rate = {}
free = 30
"#,
        l(-20.0),
        l(-50.0),
        l(20.0),
        l(-58.4),
        l(-30.0),
        l(-2.0),
        l(-24.0),
        l(-24.0),
        l(24.0),
        l(20.0),
        l(2.0),
        l(40.0),
        l(-1.5),
        l(-6.0),
        l(-23.0),
        l(-46.0),
        l(-120.0),
        l(100.0),
        f(150.0),
        l(14.0),
        l(7.2),
        l(9.0),
        l(7.0),
        f(900.0),
        l(5.0),
        rate(1.5),
        l(12.0),
        torque(3.0),
    )
}

#[test]
fn a_tool_in_inches_and_pounds_is_the_tool_in_millimetres_and_newtons() {
    let none = |path: &str| Err(format!("no file {path}"));
    let read = |text: &str| {
        read_tool(text, &none)
            .unwrap_or_else(|found| panic!("{found:?}"))
            .tool
    };
    let metric = read(&text("mm-N", 1.0, 1.0));
    let inch = read(&text("in-lbf", 25.4, 4.448_221_615_260_5));
    let (a, b) = (solved(&metric), solved(&inch));
    same(&metric, &a, &b, 1.0);
    assert!(matches!(
        a.positions[60].grips[0].needed,
        Some(Answer::Moves { .. })
    ));
    assert_eq!(metric.stroke.open, Target::Gap(14.0, JawId::FIRST));
}
