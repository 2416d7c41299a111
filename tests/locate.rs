//! Positions of the stroke are found where they are known to be.

use jawforce::input::read_tool;
use jawforce::model::{At, Direction, GripId};
use jawforce::statics::{Mounted, Rig, locate};

/// A lever of 50 mm on a pin, its tip the jaw: gap = 50 sin a. The facing point of the grip,
/// 100 mm out, stands 40 mm out at 40 degrees: there the span turns.
const LEVER: &str = r#"
[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { heel = [0, 0] }
marks = { anvil = [50, 0] }
[parts.lever]
pins = { heel = [0, 0] }
marks = { tip = [50, 0], end = [120, 0] }
[hand]
part = "lever"
line = ["heel", "end"]
against = { part = "frame", line = [[-45.96266658713868, -38.56725658119236], [45.96266658713868, 38.56725658119236]] }
grips = [100]
[[jaw]]
on = "lever.tip"
against = "frame.anvil"
axis = 90
[stroke]
open = { handle = 80 }
shut = { handle = 1 }
"#;

#[test]
fn positions_are_found_exactly_and_from_open() {
    let tool = read_tool(LEVER, &|_| Err(String::new())).unwrap().tool;
    let mounted = Mounted::new(&tool).unwrap();
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
    let deg = |d: f64| d.to_radians();
    let gap = |d: f64| At::Gap(50.0 * deg(d).sin());
    let span = |d: f64| At::Span((11_600.0 - 8000.0 * deg(d - 40.0).cos()).sqrt());
    for (at, angle) in [
        (At::Open, 80.0),
        (At::Shut, 1.0),
        (At::Handle(deg(80.0)), 80.0),
        (At::Handle(deg(12.34)), 12.34),
        (At::Handle(deg(12.34 - 360.0)), 12.34),
        (At::Handle(deg(1.0)), 1.0),
        (gap(80.0), 80.0),
        (gap(30.0), 30.0),
        (gap(1.0), 1.0),
        // Met at 57 and at 23 degrees; near the turn at 40.3 and 39.7.
        (span(23.0), 57.0),
        (span(39.7), 40.3),
    ] {
        let pace = locate(&mut rig, at, GripId::FIRST).unwrap();
        assert!((pace - deg(80.0 - angle)).abs() < 1e-11, "{at:?}: {pace}");
    }
    // Just touched where it turns: there a root is only as sharp as the square root.
    let pace = locate(&mut rig, span(40.0), GripId::FIRST).unwrap();
    assert!((pace - deg(40.0)).abs() < 1e-4, "{pace}");
    for (at, word) in [
        (At::Gap(50.1), "gap runs from 0.873 mm to 49.24 mm"),
        (At::Handle(deg(-1.0)), "handle runs from 1 deg to 80 deg"),
        (At::Span(59.9), "span = 59.9 mm is not on the stroke"),
        (At::Peak, "measure"),
    ] {
        let error = locate(&mut rig, at, GripId::FIRST).unwrap_err();
        let text = error.text(&tool, tool.units);
        assert!(text.contains(word), "{text}");
    }
}
