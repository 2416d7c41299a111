//! Stops, by hand: a lever on one pin.
//!
//! The lever turns about the origin and stands φ above the level. Its nose, 30 mm to the right, works against an
//! anvil level with the pin, so that the gap is 30 sin φ; a lug 20 mm to the right meets a pad 2 mm above the
//! level, where sin φ = 0.1; a tail 20 mm to the left meets a rest 10 mm below the level, where sin φ = 0.5. The
//! hand pushes up, square to the lever, 120 mm to the left: the faces' forces are upright, so that moments about
//! the pin tell all.

use std::f64::consts::PI;

use jawforce::analysis::{Analysis, Direction, LoadsError, Solved, StopSeen, loads_at, solve};
use jawforce::input::read_tool;
use jawforce::measure::{Measure, stop_load};
use jawforce::model::{At, GripId, Met, PartId, StopId, Tool};
use jawforce::motion::MotionError;
use jawforce::statics::{Absent, ForceKind, MountError, Mounted, Rig};
use jawforce::tolerance::{Sampling, Spread};

const LEVER: &str = r#"
[tool]
units = "mm-N"
[parts.base]
fixed = true
pins  = { heel = [0, 0] }
marks = { anvil = [30, 0], pad = [20, 2], rest = [-20, -10] }
[parts.lever]
pins  = { heel = [0, 0] }
marks = { nose = [30, 0], lug = [20, 0], tail = [-20, 0] }
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
[[stops]]
name    = "tail"
on      = "lever.tail"
against = "base.rest"
axis    = 90
ends    = "open"
[stroke]
open = { stop = "tail" }
shut = { stop = "lug" }
"#;

fn edited(edits: &[(&str, &str)]) -> String {
    let mut text = LEVER.to_owned();
    for (from, to) in edits {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    text
}

fn tool(text: &str) -> Tool {
    let read = read_tool(text, &|name| Err(format!("{name} is not there")));
    read.unwrap_or_else(|problems| panic!("{problems}")).tool
}

fn solved(text: &str) -> Solved {
    let tool = tool(text);
    solve(&tool, Direction::Closing).unwrap_or_else(|e| panic!("{}", e.text(&tool)))
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= 1e-9 * expected.abs().max(1.0),
        "{found} is not {expected}"
    );
}

/// How far above the level the lever stands, rad.
fn above(handle: f64) -> f64 {
    (handle - PI).rem_euclid(2.0 * PI)
}

fn seen<'s>(solved: &'s Solved, tool: &Tool, name: &str) -> &'s StopSeen {
    let stop = tool.stop_named(name).expect("a stop");
    &solved.stops[stop.index()]
}

/// The lug stops the lever where the nose is 3 mm over the anvil. Lug and pad give by 1 mm under 400 N; the work
/// there gets harder by 600 N to the millimetre, and no part has a section, so that nothing else gives. For a turn of
/// the lever the nose goes down by 30 cos φ, the lug by 20 cos φ: the jaw has 600·30² to 400·20² of what the hand
/// gives beyond the 60 N that the work takes, as springs side by side.
#[test]
fn a_stop_that_gives_shares_with_the_jaw() {
    let text = edited(&[
        ("ends    = \"shut\"", "rate    = 400\nends    = \"shut\""),
        (
            "[stroke]",
            "[work]\nneed = [[3.1, 0], [2.9, 120]]\n[stroke]",
        ),
    ]);
    let tool = tool(&text);
    let solved = solved(&text);
    let stop = seen(&solved, &tool, "lug");
    let load = stop.loads[0].as_ref().expect("a load");
    near(load.jaw, 60.0);
    let cos = 0.99_f64.sqrt();
    // Moments about the pin: 90 N at 120 mm, less the work at 30 cos φ, is the stop's at 20 cos φ.
    let on_stop = |jaw: f64| (90.0 * 120.0 - jaw * 30.0 * cos) / (20.0 * cos);
    near(load.on.stop, on_stop(60.0));
    let shared = stop.shared[0].expect("a share");
    let share = 600.0 * 900.0 / (600.0 * 900.0 + 400.0 * 400.0);
    near(shared.share, share);
    let most = 90.0 * 120.0 / (30.0 * cos);
    let jaw = 60.0 + share * (most - 60.0);
    near(shared.jaw, jaw);
    near(shared.stop, on_stop(jaw));
    // As two springs: each carries its rate times what it is pressed in.
    let pressed = (shared.stop / 400.0) / (20.0 * cos);
    near((shared.jaw - 60.0) / 600.0 / (30.0 * cos), pressed);
}

#[test]
fn the_stroke_runs_from_stop_to_stop() {
    let solved = solved(LEVER);
    let (first, last) = (
        solved.positions.first().expect("open"),
        solved.positions.last().expect("shut"),
    );
    near(above(first.handle).sin(), 0.5);
    near(above(last.handle).sin(), 0.1);
    near(first.gap[0], 15.0);
    near(last.gap[0], 3.0);
    assert_eq!(solved.meets, None);
    let tool = tool(LEVER);
    let lug = seen(&solved, &tool, "lug");
    let place = lug.place.expect("it is met");
    near(place.gap, 3.0);
    near(place.left, 0.0);
    // The dies would meet at the level.
    near(lug.dies.expect("dies meet"), 0.1_f64.asin());
}

#[test]
fn a_stop_before_shut_ends_the_stroke_for_the_forces() {
    let text = edited(&[("shut = { stop = \"lug\" }", "shut = { gap = 0 }")]);
    let (found, lever) = (solved(&text), tool(&text));
    let meets = found.meets.expect("a stop that is met");
    let lug = lever.stop_named("lug").expect("a stop");
    assert!(meets.what == Met::Stop(lug) && meets.added);
    for (k, position) in found.positions.iter().enumerate() {
        assert_eq!(position.ended, k > meets.position);
    }
    near(found.positions[meets.position].gap[0], 3.0);
    let place = seen(&found, &lever, "lug").place.expect("a place");
    near(place.left, -0.1_f64.asin());
    let analysis = Analysis::of(lever);
    let jaw = analysis.tool().stroke.lead;
    let read = |at| {
        let read = analysis.measure(&Measure::JawForce, jaw, Some(at), None, Direction::Closing);
        read.expect("a reading")
    };
    assert_eq!(read(At::Shut), Err(Absent::StopMet));
    // At the stop, before its force is counted: all of the hand's 90 N through the jaw.
    let there = read(At::Stop(lug)).expect("a force");
    near(there, 90.0 * 120.0 / (30.0 * 0.99_f64.sqrt()));
}

#[test]
fn dies_that_meet_before_a_stop_end_the_stroke_there() {
    // A pad 4 mm below the level is met after the dies, at sin φ = −0.2.
    let text = edited(&[("pad = [20, 2]", "pad = [20, -4]")]);
    let (found, lever) = (solved(&text), tool(&text));
    let meets = found.meets.expect("dies that meet");
    assert_eq!(meets.what, Met::Dies(lever.stroke.lead));
    near(found.positions[meets.position].gap[0], 0.0);
    let lug = seen(&found, &lever, "lug");
    near(lug.dies.expect("dies"), -0.2_f64.asin());
    assert_eq!(lug.loads, [Err(Absent::DiesMeet)]);
}

#[test]
fn over_travel_is_what_is_left_to_the_stop() {
    let text = edited(&[("shut = { stop = \"lug\" }", "shut = { gap = 6 }")]);
    let (found, lever) = (solved(&text), tool(&text));
    assert_eq!(found.meets, None);
    let lug = seen(&found, &lever, "lug");
    near(
        lug.place.expect("a place").left,
        0.2_f64.asin() - 0.1_f64.asin(),
    );
    assert_eq!(lug.loads, [Err(Absent::NoStop)]);
    // An opening stop behind an open end that is not at it.
    let text = edited(&[("open = { stop = \"tail\" }", "open = { gap = 12 }")]);
    let (found, lever) = (solved(&text), tool(&text));
    let tail = seen(&found, &lever, "tail").place.expect("a place");
    near(tail.left, 0.5_f64.asin() - 0.4_f64.asin());
}

/// What the stop carries, with this friction at the heel: 120 H − 30 c J − 20 c S = r |R|, where r is that of the
/// friction circle and R balances hand, jaw and stop.
fn by_hand(hand: f64, jaw: f64, circle: f64) -> f64 {
    let sin = 0.1_f64;
    let cos = (1.0 - sin * sin).sqrt();
    let mut stop = 0.0;
    for _ in 0..200 {
        let pin = (hand * sin).hypot(hand * cos + jaw + stop);
        stop = (120.0 * hand - 30.0 * cos * jaw - circle * pin) / (20.0 * cos);
    }
    stop
}

#[test]
fn a_stop_carries_what_the_work_leaves_of_the_hand() {
    let work = "[work]\nneed = [[8, 0], [3, 100]]\n";
    let rough = "[joints]\ndiameter = 8\nfriction = 0.15\n";
    let limited = ("force = 90", "force = 90\nlimit = 140");
    let circle = 4.0 * 0.15_f64.atan().sin();
    let cases = [
        (edited(&[]), 90.0, 0.0, 0.0),
        (edited(&[]) + work, 90.0, 100.0, 0.0),
        (edited(&[limited]) + work, 140.0, 100.0, 0.0),
        (edited(&[limited]) + work + rough, 140.0, 100.0, circle),
    ];
    for (text, hand, jaw, circle) in cases {
        let (found, lever) = (solved(&text), tool(&text));
        let load = seen(&found, &lever, "lug").loads[0].as_ref();
        let load = load.expect("a load");
        near(load.hand, hand);
        near(load.jaw, jaw);
        near(load.on.stop, by_hand(hand, jaw, circle));
        assert!(load.on.virtual_work < 1e-9 && load.on.free_body < 1e-9);
        // The same as a measure, and its demand.
        let stop = lever.stop_named("lug").expect("a stop");
        let (measure, lead) = (Measure::StopLoad(stop), lever.stroke.lead);
        let analysis = Analysis::of(lever);
        let read = analysis.measure(&measure, lead, None, None, Direction::Closing);
        near(read.expect("a reading").expect("a value"), load.on.stop);
    }
    // A work that needs more than the hand can give: it does not come to the stop.
    let text = edited(&[]) + "[work]\nneed = [[8, 0], [3, 400]]\n";
    let (found, lever) = (solved(&text), tool(&text));
    assert_eq!(seen(&found, &lever, "lug").loads, [Err(Absent::NotAtStop)]);
}

#[test]
fn springs_press_on_the_stop_at_open_against_friction() {
    // 400 N mm turn the lever open; the pin carries what the stop does: 400 − 20 c S = ± r S, where what opens
    // the tool moves it against friction.
    let spring = "[[springs]]\npin = \"heel\"\nrate = \"50 N mm/rad\"\npreload = \"400 N mm\"\n";
    for (friction, circle) in [
        ("", 0.0),
        (
            "[joints]\ndiameter = 8\nfriction = 0.15\n",
            4.0 * 0.15_f64.atan().sin(),
        ),
    ] {
        let text = edited(&[]) + spring + friction;
        let (found, lever) = (solved(&text), tool(&text));
        let load = seen(&found, &lever, "tail").loads[0].as_ref();
        let cos = 0.75_f64.sqrt();
        near(load.expect("a load").on.stop, 400.0 / (20.0 * cos + circle));
    }
    let (found, lever) = (solved(LEVER), tool(LEVER));
    // Without anything that opens it, nothing presses.
    assert_eq!(seen(&found, &lever, "tail").loads, [Err(Absent::NotAtStop)]);
}

#[test]
fn the_sheets_hold_the_stop_and_add_up() {
    let text = edited(&[])
        + "[work]\nneed = [[8, 0], [3, 100]]\n[joints]\ndiameter = 8\nfriction = 0.15\n";
    let tool = tool(&text);
    let mounted = Mounted::new(&tool).expect("a stroke");
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).expect("its open end");
    let lug = tool.stop_named("lug").expect("a stop");
    let case = loads_at(&mut rig, At::Stop(lug), GripId::FIRST, 90.0).expect("loads");
    assert!(case.residual < 1e-9);
    near(case.jaw_force, 100.0);
    let on = |part: usize, what| {
        let forces = case.sheet.on(PartId::new(part)).iter();
        let found: Vec<_> = forces.filter(|f| f.what == what).collect();
        assert_eq!(found.len(), 1, "{what:?}");
        found[0].force
    };
    let circle = 4.0 * 0.15_f64.atan().sin();
    let stop = by_hand(90.0, 100.0, circle);
    near(on(1, ForceKind::Stop(lug)).xy()[1], stop);
    near(on(0, ForceKind::Stop(lug)).xy()[1], -stop);
    near(on(1, ForceKind::Jaw(tool.stroke.lead)).xy()[1], 100.0);
    // Where the stroke does not come to a stop there is no such load.
    let text = edited(&[("shut = { stop = \"lug\" }", "shut = { gap = 6 }")]);
    let short = self::tool(&text);
    let mounted = Mounted::new(&short).expect("a stroke");
    let mut rig = Rig::new(&short, &mounted, Direction::Closing).expect("its open end");
    let none = loads_at(&mut rig, At::Stop(lug), GripId::FIRST, 90.0);
    assert!(matches!(none, Err(LoadsError::Locate(_))), "{none:?}");
    let load = stop_load(&mut rig, StopId::FIRST, GripId::FIRST);
    assert_eq!(load.expect("solved"), Err(Absent::NoStop));
}

#[test]
fn a_stop_that_is_met_before_open_is_refused() {
    let past = |edits: &[(&str, &str)]| match Mounted::new(&tool(&edited(edits))) {
        Err(MountError::Motion(MotionError::StopBeforeOpen(stop, past))) => (stop, past),
        other => panic!("{other:?}"),
    };
    // A pad above where the lug stands at open: 20 · 0.5 = 10 mm up.
    let (stop, by) = past(&[
        ("pad = [20, 2]", "pad = [20, 11]"),
        ("shut = { stop = \"lug\" }", "shut = { gap = 0 }"),
    ]);
    assert_eq!(stop, StopId::FIRST);
    near(by, 1.0);
    // An open end beyond the opening stop: the tail 12 mm down, its rest 10 mm.
    let (stop, by) = past(&[("open = { stop = \"tail\" }", "open = { gap = 18 }")]);
    assert_eq!(stop, StopId::new(1));
    near(by, 2.0);
}

/// The gap at the stop is 30 sin φ with sin φ = pad / 20: it follows the pad one and a half times, to the last
/// digit of any size.
#[test]
fn the_gap_at_the_stop_follows_the_pad() {
    let text = edited(&[]) + "[tolerances]\n\"base.pad.y\" = 0.2\n\"stops.lug.closed\" = 0.1\n";
    let sampling = Sampling {
        samples: 500,
        fewer: false,
        seed: 3,
        spread: Spread::Uniform,
        threads: None,
    };
    let study = Analysis::of(tool(&text)).tolerance(&sampling);
    let study = study.expect("a study");
    let gap = (study.findings.iter()).find(|finding| finding.subject.measure == Measure::Gap);
    let gap = gap.expect("the gap at shut");
    near(gap.nominal, 3.0);
    near(gap.worst, 1.5 * 0.3);
}
