//! Adjusters by hand: a lever on an eccentric pin, and a pad on a screw.
//!
//! The lever's pin stands at e = 0.4 (cos a, sin a) mm; a lug 20 mm to its right meets a pad 2 + v mm above the
//! origin, v being what a screw adds. There sin φ = (2 + v − e_y)/20, and the gap of the nose, 30 mm to the right,
//! above an anvil level with the origin is e_y + 30 sin φ.

use jawforce::analysis::{AtEnd, settings};
use jawforce::input::read_tool;
use jawforce::model::Tool;
use jawforce::report::{Source, setup_report};
use jawforce::units::UnitSystem;

pub const LEVER: &str = r#"
[tool]
units = "mm-N"
[parts.base]
fixed = true
pins  = { heel = [0.4, 0] }
marks = { anvil = [30, 0], pad = [20, 2] }
[parts.lever]
pins  = { heel = [0, 0] }
marks = { nose = [30, 0], lug = [20, 0] }
[sketch]
nose = [29, 7]
[hand]
part  = "lever"
line  = [[0, 0], [-120, 0]]
grips = [120]
force = 90
[[jaw]]
on      = "lever.nose"
against = "base.anvil"
axis    = 90
[[stops]]
name    = "lug"
on      = "lever.lug"
against = "base.pad"
axis    = 90
ends    = "shut"
[stroke]
open = { gap = 6 }
shut = { stop = "lug" }
[[adjusters]]
name    = "set-up"
pin     = "heel"
on      = "base"
throw   = 0.4
from    = -80
to      = 80
notches = 13
[[adjusters]]
name      = "screw"
dimension = "base.pad.y"
pitch     = 0.5
from      = -1
to        = 1
"#;

fn tool(text: &str) -> Tool {
    let read = read_tool(text, &|name| Err(format!("{name} is not there")));
    read.unwrap_or_else(|problems| panic!("{problems}")).tool
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= 1e-9 * expected.abs().max(1.0),
        "{found} is not {expected}"
    );
}

/// The end of the stroke by hand: gap, ratio, and the moment of the pin's load about the hole, the hand and the
/// jaw being what the pin carries.
fn by_hand(angle: f64, screw: f64) -> [f64; 3] {
    let [x, y] = [0.4 * angle.cos(), 0.4 * angle.sin()];
    let sin = (2.0 + screw - y) / 20.0;
    let cos = (1.0 - sin * sin).sqrt();
    let (hand, jaw) = (90.0, 90.0 * 120.0 / (30.0 * cos));
    [
        y + 30.0 * sin,
        120.0 / (30.0 * cos),
        x * (hand * cos + jaw) + y * hand * sin,
    ]
}

#[track_caller]
fn agrees(end: &AtEnd, [gap, ratio, torque]: [f64; 3], eccentric: bool) {
    near(end.gap, gap);
    near(end.ratio.expect("a ratio"), ratio);
    near(end.jaw.expect("a force"), 90.0 * ratio);
    match &end.turning {
        Some(found) => {
            let found = found.as_ref().expect("a torque");
            near(found.torque, torque);
            assert_eq!(found.friction, None);
        }
        None => assert!(!eccentric),
    }
}

#[test]
fn every_notch_of_an_eccentric_stands_where_it_does_by_hand() {
    let tool = tool(LEVER);
    let found = settings(&tool, 0);
    assert_eq!(found.len(), 13);
    for (k, setting) in found.iter().enumerate() {
        let angle = (-80.0 + 160.0 * k as f64 / 12.0).to_radians();
        near(setting.at, angle);
        let end = setting.end.as_ref().expect("a stroke");
        agrees(end, by_hand(angle, 0.0), true);
    }
}

#[test]
fn a_screw_adds_to_its_dimension_also_with_the_eccentric_turned() {
    let mut tool = tool(LEVER);
    let angle = 35.0_f64.to_radians();
    tool.adjust(0, angle);
    for setting in settings(&tool, 1) {
        let end = setting.end.as_ref().expect("a stroke");
        agrees(end, by_hand(angle, setting.at), false);
        assert_eq!(end.turning, None);
    }
    // There and back.
    tool.adjust(0, 0.0);
    near(tool.parts[0].points[0].at[0], 0.4);
    near(tool.parts[0].points[0].at[1], 0.0);
}

#[test]
fn the_report_says_what_a_notch_and_a_turn_do_and_what_is_covered() {
    let tool = tool(LEVER);
    // The pad to ± 0.2: the gap to ± 0.3 at the worst.
    let report = setup_report(&tool, &Source::default(), UnitSystem::MmN, Some(0.3));
    let [turned, screw] = report.adjusters.as_slice() else {
        panic!("two adjusters");
    };
    // With v = 0 the gap is 3 − 0.5 e_y; a notch is 13.33°, and does most about the middle.
    let (sin, step) = (
        80_f64.to_radians().sin(),
        (160.0_f64 / 12.0).to_radians().sin(),
    );
    let range = turned.gap_range.expect("a range");
    near(range[0], 3.0 - 0.2 * sin);
    near(range[1], 3.0 + 0.2 * sin);
    near(turned.step.expect("a step"), 0.2 * step);
    assert!(!turned.tolerance.expect("a tolerance").covered);
    // With e_y = 0 it is 1.5 (2 + v): a turn of 0.5 mm is 0.75.
    near(screw.per_turn.expect("a turn"), 0.75);
    near(screw.room.expect("room")[0], 1.5);
    assert!(screw.tolerance.expect("a tolerance").covered);
    near(screw.settings[0].turns.expect("turns"), -2.0);
}
