//! Which stroke is taken: the one on which the jaw closes all the way, nearest to the sketch.

mod anywhere;
mod barriers;

use crate::models::build::{self, part};
use crate::models::slider_crank::SliderCrank;
use jawforce::analysis::{Direction, Failure, Solved, solve};
use jawforce::model::{HandLine, JawId, PartId, Place, Target, Tool};
use jawforce::motion::{Happening, MotionError, Refusal};
use jawforce::units::UnitSystem;
use jawforce::words::as_near;
use std::f64::consts::{FRAC_PI_2, PI};

fn solved(tool: &Tool) -> Solved {
    solve(tool, Direction::Closing).unwrap_or_else(|failure| panic!("{}", failure.text(tool)))
}

fn refused(tool: &Tool) -> MotionError {
    match solve(tool, Direction::Closing) {
        Err(Failure::Motion(error)) => error,
        other => panic!("{other:?}"),
    }
}

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within:e}");
}

/// Pliers of one rivet: the jaw 25 mm, the hand 99.2 mm from it, drawn with the jaws opened by
/// `turn`. Where they touch, the handles stand 25.25° apart; the jaw measures up.
fn pliers(turn: f64, open: Target, shut: Target) -> Tool {
    let apart = 25.25_f64.to_radians();
    let grip = [-99.2 * apart.cos(), -99.2 * apart.sin()];
    let parts = vec![
        part(
            "fixed",
            &[("rivet", [0.0; 2])],
            &[("low", [25.0, 0.0])],
            [0.0; 3],
        ),
        part(
            "press",
            &[("rivet", [0.0; 2])],
            &[("high", [25.0, 0.0])],
            [0.0, 0.0, turn],
        ),
    ];
    let hand = ("press", vec![[0.0; 2], grip.map(|v| 1.3 * v)]);
    let mut tool = build::tool(
        parts,
        hand,
        vec![99.2],
        ("press.high", "fixed.low", Some(FRAC_PI_2)),
    );
    tool.hand.against = Some(HandLine {
        part: PartId::FIRST,
        points: vec![Place::At([0.0; 2]), Place::At([-130.0, 0.0])],
        smooth: false,
    });
    tool.hand.force = 100.0;
    tool.stroke.open = open;
    tool.stroke.shut = shut;
    tool
}

const SPAN: Target = Target::Span(70.0, None);
const GAP: Target = Target::Gap(1.0, JawId::FIRST);

/// By hand: the grips are 2 · 99.2 mm · sin(half the angle of the handles) apart, the gap is
/// 25 mm · sin(turn), and the ratio 99.2 / (25 · cos(turn)).
fn right_stroke(tool: &Tool) {
    let found = solved(tool);
    let open = 2.0 * (35.0 / 99.2_f64).asin() - 25.25_f64.to_radians();
    let shut = (1.0 / 25.0_f64).asin();
    let (first, last) = (
        found.positions.first().unwrap(),
        found.positions.last().unwrap(),
    );
    for (position, turn) in [(first, open), (last, shut)] {
        near(position.gap[0], 25.0 * turn.sin(), 1e-9);
        let grip = &position.grips[0];
        near(grip.ratio[0].unwrap(), 99.2 / (25.0 * turn.cos()), 1e-9);
    }
    near(first.gap[0], 6.92, 0.005);
    near(last.gap[0], 1.0, 1e-9);
    near(first.grips[0].ratio[0].unwrap(), 4.13, 0.005);
    near(last.grips[0].ratio[0].unwrap(), 3.97, 0.005);
    let force = |k: usize| match found.positions[k].grips[0].answer[0] {
        Some(jawforce::statics::Answer::Moves { force, .. }) => force,
        other => panic!("{other:?}"),
    };
    near(force(0), 413.0, 0.5);
    near(force(found.positions.len() - 1), 397.0, 0.5);
    assert!(found.survey.rivals.is_empty());
}

#[test]
fn pliers_drawn_with_their_jaws_touching_work_beside_that() {
    right_stroke(&pliers(0.0, SPAN, GAP));
}

/// There is one way only on which these pliers close, wherever they are drawn.
#[test]
fn pliers_drawn_anywhere_take_one_stroke() {
    let open = 2.0 * (35.0 / 99.2_f64).asin() - 25.25_f64.to_radians();
    let shut = (1.0 / 25.0_f64).asin();
    for end in [open, shut] {
        for off in [0.0, 1e-13, 1e-11, 1e-9, 1e-7, 1e-5, 0.01] {
            right_stroke(&pliers(end + off, SPAN, GAP));
            right_stroke(&pliers(end - off, SPAN, GAP));
        }
    }
    for degrees in (-170..=180).step_by(10) {
        right_stroke(&pliers(f64::from(degrees).to_radians(), SPAN, GAP));
    }
}

/// The handles cross at 25.25° beyond shut, so the span of 20 mm is met twice while the jaw goes on
/// closing: the stroke ends where it is met first.
#[test]
fn a_stroke_does_not_meet_its_own_target_twice() {
    let half = (10.0 / 99.2_f64).asin();
    let [first, second] = [2.0 * half, -2.0 * half].map(|v| v - 25.25_f64.to_radians());
    for drawn in [0.1, first, second, second - 0.1] {
        let found = solved(&pliers(
            drawn,
            Target::Gap(8.0, JawId::FIRST),
            Target::Span(20.0, None),
        ));
        near(
            found.positions.last().unwrap().gap[0],
            25.0 * first.sin(),
            1e-9,
        );
    }
    // Where the handle's angle says the second, nothing is met twice.
    let crossed = Target::Handle(PI + second + 25.25_f64.to_radians());
    let found = solved(&pliers(0.1, Target::Gap(8.0, JawId::FIRST), crossed));
    near(
        found.positions.last().unwrap().gap[0],
        25.0 * second.sin(),
        1e-9,
    );
}

#[test]
fn a_jaw_that_opens_is_reported_with_both_ends() {
    let apart = |turn: f64| PI + 25.25_f64.to_radians() + turn;
    let shut = (1.0 / 25.0_f64).asin();
    match refused(&pliers(0.0, GAP, Target::Handle(apart(0.28)))) {
        MotionError::Opens { candidates, .. } => {
            let one = candidates[0];
            assert_eq!(one.refusal, Refusal::Opens);
            near(one.open.gap, 1.0, 1e-9);
            near(one.shut.gap, 25.0 * 0.28_f64.sin(), 1e-9);
            near(one.open.handle.rem_euclid(2.0 * PI), apart(shut), 1e-9);
            near(one.shut.handle - one.open.handle, 0.28 - shut, 1e-9);
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_stroke_of_a_millionth_of_a_micrometre_is_none() {
    for drawn in [0.2, 0.3, 2.0] {
        let tool = pliers(
            drawn,
            Target::Gap(5.0, JawId::FIRST),
            Target::Gap(5.0 - 1e-9, JawId::FIRST),
        );
        assert_eq!(refused(&tool), MotionError::NoStroke);
    }
    let found = solved(&pliers(
        0.0,
        Target::Gap(5.0, JawId::FIRST),
        Target::Gap(5.0 - 1e-4, JawId::FIRST),
    ));
    near(found.positions.last().unwrap().gap[0], 5.0 - 1e-4, 1e-9);
}

/// In line and drawn at its toggle, the slider-crank has a stroke on either side, as near as one
/// another. That is said, and does not change with a sketch that is off by 1e-9.
#[test]
fn of_two_strokes_as_near_the_choice_is_said() {
    let bar = SliderCrank {
        r: 30.0,
        l: 80.0,
        e: 0.0,
        grip: 60.0,
        tilt: 0.0,
        ahead: 1.0,
    };
    let drawn = |crank: f64, open: Target, shut: Target| {
        let mut tool = bar.tool(crank, 0.0, 1.0, true);
        tool.parts[1].sketch = [0.0, 0.0, crank];
        let at = bar.solve(crank);
        tool.parts[2].sketch = [at.b[0], at.b[1], at.rod];
        tool.parts[3].sketch = [at.c[0], at.c[1], 0.0];
        // The gap is 120 mm less the slider's way, 10 mm where all lies in line.
        tool.jaws[0].axis = Some(PI);
        tool.jaws[0].closed = -120.0;
        tool.stroke.open = open;
        tool.stroke.shut = shut;
        tool
    };
    let (open, shut) = (
        Target::Gap(30.0, JawId::FIRST),
        Target::Gap(12.0, JawId::FIRST),
    );
    // By the law of cosines in the triangle of 30, 80 mm and the slider's way.
    let angle = |gap: f64| {
        let way: f64 = 120.0 - gap;
        ((30.0 * 30.0 + way * way - 80.0 * 80.0) / (2.0 * 30.0 * way)).acos()
    };
    for crank in [0.0, 1e-9, -1e-9] {
        let found = solved(&drawn(crank, open, shut)).survey;
        let [other] = found.rivals[..] else {
            panic!("{:?}", found.rivals);
        };
        near(found.ends[0].handle.abs(), angle(30.0), 1e-9);
        near(found.ends[1].handle.abs(), angle(12.0), 1e-9);
        near(other[0].handle, -found.ends[0].handle, 1e-9);
        near(other[1].handle, -found.ends[1].handle, 1e-9);
        let text = as_near(&found, UnitSystem::MmN).unwrap();
        let degrees = format!("{:.2}", found.ends[0].handle.to_degrees());
        assert!(
            text.contains(&format!("`open = {{ handle = {degrees} }}`")),
            "{text}"
        );
    }
    // Drawn a little to one side, or asked for by handle angle, there is one.
    for side in [1.0, -1.0] {
        let found = solved(&drawn(0.01 * side, open, shut)).survey;
        near(found.ends[0].handle, side * angle(30.0), 1e-9);
        assert!(found.rivals.is_empty() && as_near(&found, UnitSystem::MmN).is_none());
        let asked = [30.0, 12.0].map(|gap| Target::Handle(side * angle(gap)));
        let found = solved(&drawn(0.0, asked[0], asked[1])).survey;
        near(found.ends[0].gap, 30.0, 1e-9);
        assert!(found.rivals.is_empty());
    }
}

/// By hand: the two handles of the compound are equally long and hang on the jaws at knuckles that
/// stand at ±atan(20/24) about the rivet. Turned open by twice that the knuckles meet, and the handles
/// may turn about them freely: a change point. The jaw edge, 2.44 mm from the rivet, then stands at
/// 2.44 sin(2 atan(20/24)) = 2.44 · 960/976 = 2.4 mm.
#[test]
fn a_stroke_that_ends_at_a_change_point_is_refused_as_that() {
    let text = include_str!("../../src/cli/starters/compound.toml");
    let text = text.replacen("[22, 0] }          # any", "[2.44, 0] }        # any", 1);
    let text = text.replacen(
        "[22, 0] }          # meets",
        "[2.44, 0] }        # meets",
        1,
    );
    let beside = |_: &str| Err("no file".to_owned());
    let tool = jawforce::input::read_tool(&text, &beside)
        .expect("a good file")
        .tool;
    let MotionError::NoneCloses { candidates, .. } = refused(&tool) else {
        panic!("another refusal");
    };
    let Refusal::Past(what, at) = candidates[0].refusal else {
        panic!("{:?}", candidates[0]);
    };
    assert_eq!(what, Happening::ChangePoint);
    near(at.gap, 2.4, 1e-6);
}
