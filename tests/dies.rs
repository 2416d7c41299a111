//! Where dies meet, handles touch, and the hand opens the tool: a lever on one pin, by hand.
//!
//! The lever turns about the origin. Its nose, 30 mm to the right, works against an anvil level with
//! the pin: with the lever φ above the level, the gap is 30 sin φ. The hand holds it 120 mm to the
//! left, square to it, so that the ratio is 120 / (30 cos φ) and the handle angle 180° + φ.

use std::f64::consts::PI;

use crate::models::read::read;
use jawforce::analysis::{Direction, Failure, Solved, solve};
use jawforce::measure::Measure;
use jawforce::model::{
    At, Hand, HandLine, Jaw, JawId, Met, Part, PartId, Place, PointRef, Push, Stroke, Target, Tool,
};
use jawforce::motion::MotionError;
use jawforce::statics::{Absent, Mounted};

/// The lever from one angle above the level to another, degrees; `more`: a further mark of lever and
/// base.
fn lever(from: f64, to: f64, more: Option<[[f64; 2]; 2]>) -> Tool {
    let nose = [30.0, 0.0];
    let part = |name, k: usize| {
        let mut marks = vec![("nose", nose)];
        marks.extend(more.map(|more| ("more", more[k])));
        Part::new(name, &[("heel", [0.0, 0.0])], &marks)
    };
    let (base, lever) = (part("base", 1), part("lever", 0));
    let hand = Hand::new(PartId::new(1), &[[0.0, 0.0], [-120.0, 0.0]], &[120.0]);
    let stroke = Stroke {
        open: Target::Handle(PI + from.to_radians()),
        shut: Target::Handle(PI + to.to_radians()),
        steps: 37,
        lead: JawId::FIRST,
    };
    Tool::new(
        "lever",
        vec![base, lever],
        hand,
        jaw("nose", 1, 0.0),
        stroke,
    )
}

/// A jaw between the points with this index of lever and base, opening upwards.
fn jaw(name: &str, point: usize, closed: f64) -> Jaw {
    let of = |part| PointRef {
        part: PartId::new(part),
        point,
    };
    Jaw {
        name: name.to_owned(),
        on: of(1),
        against: of(0),
        axis: Some(0.5 * PI),
        closed,
        work: None,
    }
}

fn solved(tool: &Tool) -> Solved {
    solve(tool, Direction::Closing).unwrap_or_else(|e| panic!("{}", e.text(tool)))
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= 1e-9 * expected.abs().max(1.0),
        "{found} is not {expected}"
    );
}

/// How far above the level the lever stands, degrees.
fn above(handle: f64) -> f64 {
    (handle - PI).to_degrees().rem_euclid(360.0)
}

#[track_caller]
fn reads(tool: &Tool, measure: &Measure, at: Option<At>, expected: f64) {
    match read(tool, measure, at) {
        Ok(found) => near(found, expected),
        missing => panic!("{missing:?} is not {expected}"),
    }
}

#[track_caller]
fn missing(tool: &Tool, measure: &Measure, at: At) {
    match read(tool, measure, Some(at)) {
        Err(why) => assert_eq!(why, Absent::DiesMeet),
        value => panic!("{value:?}"),
    }
}

#[test]
fn the_stroke_ends_for_the_forces_where_the_dies_meet() {
    // From 30° above the level to 50° below it: the dies meet at the level.
    let tool = lever(30.0, -50.0, None);
    let solved = solved(&tool);
    let meets = solved.meets.expect("dies that meet");
    assert!(meets.what == Met::Dies(JawId::FIRST) && meets.added);
    assert_eq!(solved.positions.len(), 37 + 1 + 1);
    let at = &solved.positions[meets.position];
    near(at.gap[0], 0.0);
    near((at.handle - PI).sin(), 0.0);
    near(at.travel, 30f64.to_radians());
    for (k, position) in solved.positions.iter().enumerate() {
        let phi = (position.gap[0] / 30.0).asin();
        let grip = &position.grips[0];
        let beyond = k > meets.position;
        assert_eq!(position.ended, beyond);
        assert_eq!(grip.answer[0].is_none(), beyond);
        assert_eq!(grip.pins[0].is_none(), beyond);
        match grip.ratio[0] {
            Some(ratio) => near(ratio, 4.0 / phi.cos()),
            None => assert!(beyond),
        }
    }
}

#[test]
fn measures_look_up_to_there_and_have_no_value_beyond() {
    let tool = lever(30.0, -50.0, None);
    // 4 / cos φ would be 6.22 at 50° below; up to the level it is greatest at open, least at the level.
    reads(
        &tool,
        &Measure::Ratio,
        Some(At::Peak),
        4.0 / 30f64.to_radians().cos(),
    );
    reads(&tool, &Measure::Ratio, Some(At::Least), 4.0);
    // 100 N along an arc of 120 mm over 30°; without losses the jaw has the same.
    let work = 100.0 * 120.0 * 30f64.to_radians();
    reads(&tool, &Measure::HandWork, None, work);
    reads(&tool, &Measure::JawWork, None, work);
    reads(&tool, &Measure::JawForce, Some(At::Gap(0.0)), 400.0);
    for measure in [
        Measure::JawForce,
        Measure::Ratio,
        Measure::Gap,
        Measure::Travel,
    ] {
        missing(&tool, &measure, At::Shut);
        missing(&tool, &measure, At::Gap(-0.01));
    }
}

#[test]
fn a_stroke_that_ends_at_contact_does_not_go_beyond_it() {
    let size = |tool: &Tool| Mounted::new(tool).expect("a stroke").linkage.size;
    let with = |gap: f64| {
        let mut tool = lever(30.0, 0.0, None);
        tool.stroke.shut = Target::Gap(gap, JawId::FIRST);
        tool
    };
    let exact = with(0.0);
    let allowed = 1e-9 * size(&exact);
    for gap in [0.0, 1e-3, -0.5 * allowed] {
        let tool = with(gap);
        let solved = solved(&tool);
        assert_eq!(solved.meets, None, "{gap}");
        assert_eq!(solved.positions.len(), 38);
        assert!(solved.positions[37].grips[0].answer[0].is_some());
    }
    assert!(solved(&with(-3.0 * allowed)).meets.is_some());
    // The same by the handle's angle, and where `closed` moves the zero.
    assert_eq!(solved(&lever(30.0, 0.0, None)).meets, None);
    let mut passing = lever(30.0, -20.0, None);
    assert!(solved(&passing).meets.is_some());
    passing.jaws[0].closed = 30.0 * (-20f64).to_radians().sin();
    assert_eq!(solved(&passing).meets, None);
}

#[test]
fn the_dies_of_any_jaw_end_the_stroke() {
    // The second one 20 mm out, 5 mm thick: it meets at sin φ = 1/4, the nose 7.5 mm up.
    let mut tool = lever(30.0, 0.0, Some([[20.0, 0.0]; 2]));
    tool.jaws.push(jaw("shoulder", 2, 5.0));
    let solved = solved(&tool);
    let meets = solved.meets.expect("dies that meet");
    assert_eq!(meets.what, Met::Dies(JawId::new(1)));
    let at = &solved.positions[meets.position];
    near(at.gap[0], 7.5);
    near(at.gap[1], 0.0);
    missing(&tool, &Measure::JawForce, At::Gap(7.4));
    reads(
        &tool,
        &Measure::JawForce,
        Some(At::Gap(7.5)),
        400.0 / 0.9375f64.sqrt(),
    );
}

#[test]
fn points_that_come_together_without_an_axis_end_it_too() {
    // A point of the lever 20 mm out, and one of the base where it comes with the lever 10° up.
    let (sin, cos) = 10f64.to_radians().sin_cos();
    let there = [20.0 * cos, 20.0 * sin];
    let mut tool = lever(30.0, 0.0, Some([[20.0, 0.0], there]));
    tool.jaws.push(Jaw {
        axis: None,
        ..jaw("pin", 2, 0.0)
    });
    let solved = solved(&tool);
    let meets = solved.meets.expect("points that come together");
    assert_eq!(meets.what, Met::Dies(JawId::new(1)));
    near(above(solved.positions[meets.position].handle), 10.0);
}

/// The lever with another handle on the base.
fn two_handles(from: f64, to: f64, line: [[f64; 2]; 2], thickness: f64) -> Tool {
    let mut tool = lever(from, to, None);
    // The dies are far from meeting.
    tool.jaws[0].closed = -30.0;
    tool.hand.grips = vec![60.0];
    tool.hand.thickness = thickness;
    tool.hand.against = Some(HandLine {
        part: PartId::FIRST,
        points: line.map(Place::At).to_vec(),
        smooth: false,
    });
    tool
}

#[test]
fn handles_touch_where_their_lines_come_nearer_than_they_are_thick() {
    // The other line is 20° above the level to the left, so that the lines are 20° + φ apart: at the
    // grip, 60 mm out on both, their distance is 120 sin((20° + φ) / 2), and grows from there on.
    let (sin, cos) = 20f64.to_radians().sin_cos();
    let line = [[0.0, 0.0], [-120.0 * cos, 120.0 * sin]];
    let at = |phi: f64| 120.0 * (0.5 * (20.0 + phi)).to_radians().sin();
    let tool = two_handles(30.0, 0.0, line, at(10.0));
    let touch = solved(&tool).touch.expect("handles that touch");
    near(above(touch.handle), 10.0);
    near(touch.gap, 30.0 * 10f64.to_radians().sin() + 30.0);
    near(touch.along, 60.0);
    assert!(!touch.at_open && !touch.cross);
    // Just touching at the end is not nearer, and handles thinner than that do not touch.
    assert_eq!(solved(&two_handles(30.0, 10.0, line, at(10.0))).touch, None);
    assert_eq!(solved(&two_handles(30.0, 0.0, line, at(-1.0))).touch, None);
    // Thicker than they are apart at open.
    let touch = solved(&two_handles(30.0, 0.0, line, at(31.0))).touch;
    assert!(touch.is_some_and(|t| t.at_open));
}

#[test]
fn hand_lines_that_cross_are_found_whatever_the_thickness() {
    // The other line is level, 20 mm above the pin: the lever's free end goes through it where
    // 120 sin φ = −20.
    let tool = two_handles(30.0, -25.0, [[-10.0, 20.0], [-130.0, 20.0]], 0.0);
    let touch = solved(&tool).touch.expect("lines that cross");
    near(
        above(touch.handle),
        360.0 - (20.0_f64 / 120.0).asin().to_degrees(),
    );
    near(touch.along, 120.0);
    assert!(touch.cross && !touch.at_open);
    let clear = two_handles(30.0, -9.0, [[-10.0, 20.0], [-130.0, 20.0]], 0.0);
    assert_eq!(solved(&clear).touch, None);
}

/// Pushed to the right: the power at the grip, 120 mm out, goes with −sin φ.
fn pushed_right(from: f64, to: f64) -> Tool {
    let mut tool = lever(from, to, None);
    tool.jaws[0].closed = -30.0;
    tool.hand.push = Push::Fixed(0.0);
    tool
}

#[test]
fn a_hand_that_opens_the_jaw_all_the_way_is_refused() {
    let tool = pushed_right(40.0, 10.0);
    let Err(Failure::Motion(MotionError::PushedOpen(open))) = solve(&tool, Direction::Closing)
    else {
        panic!("it is refused");
    };
    // 120 · −sin φ over 30 cos φ, at open.
    near(open.ratio, -4.0 * 40f64.to_radians().tan());
    near(open.gap[0], 30.0 * 40f64.to_radians().sin() + 30.0);
    let text = Failure::Motion(MotionError::PushedOpen(open)).text(&tool);
    assert!(text.contains("`push = 180`"), "{text}");
    // The cure, and its closed form.
    let mut turned = tool;
    turned.hand.push = Push::Fixed(PI);
    let found = solved(&turned).positions[0].grips[0].ratio[0].expect("a ratio");
    near(found, 4.0 * 40f64.to_radians().tan());
}

#[test]
fn a_hand_that_opens_it_on_a_part_of_the_way_is_shown_as_it_is() {
    let solved = solved(&pushed_right(20.0, -40.0));
    for position in &solved.positions {
        let phi = position.handle - PI;
        near(
            position.grips[0].ratio[0].expect("a ratio"),
            -4.0 * phi.tan(),
        );
    }
}
