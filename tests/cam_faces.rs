//! Cams with a curved face: a disc through points, an ellipse by its closed form, the ends of a face.

use crate::arc_slots::{near, stroke};
use crate::cams::press;
use jawforce::analysis::{Direction, Failure, Solved, solve};
use jawforce::model::{CamFace, Met, Roller, Tool};
use jawforce::motion::MotionError;
use jawforce::statics::Answer;
use std::f64::consts::{FRAC_PI_2, PI};

const THROW: f64 = 12.0;
const DISC: f64 = 20.0;
const ARM: f64 = 150.0;

fn roller() -> Roller {
    Roller {
        diameter: 10.0,
        pin: 4.0,
        width: None,
    }
}

/// Places of an ellipse about `[x, 0]`, counter-clockwise, from one angle (of its parameter) to another.
fn ellipse(x: f64, [a, b]: [f64; 2], [from, to]: [f64; 2], places: usize) -> CamFace {
    let step = (to - from) / (places - 1) as f64;
    let at = |k: usize| {
        let (sin, cos) = (from + step * k as f64).sin_cos();
        [x + a * cos, b * sin]
    };
    CamFace::Curve((0..places).map(at).collect())
}

fn curved(mut tool: Tool, face: CamFace) -> Tool {
    tool.cams[0].face = face;
    tool
}

/// Greatest difference of ratio and jaw force (with friction at rim, roller and pivot), of themselves.
fn off(one: &Solved, other: &Solved) -> f64 {
    let mut most = 0.0_f64;
    for (a, b) in one.positions.iter().zip(&other.positions) {
        let (a, b) = (&a.grips[0], &b.grips[0]);
        let ratio = (b.ratio[0].expect("a ratio"), a.ratio[0].expect("a ratio"));
        let (Some(Answer::Moves { force: f, .. }), Some(Answer::Moves { force: g, .. })) =
            (a.answer[0], b.answer[0])
        else {
            panic!("forces");
        };
        most = most.max((ratio.0 / ratio.1 - 1.0).abs());
        most = most.max((g / f - 1.0).abs());
    }
    most
}

/// A curve through places of a circle does what the disc does, the better the more there are: a cubic spline is
/// off by the fourth power of the way between its points, its direction by the third.
#[test]
fn a_curve_through_places_of_a_disc_is_the_disc() {
    for follower in [None, Some(roller())] {
        let disc = press(THROW, follower, 0.1, Some(8.0), -0.3);
        let exact = stroke(&disc).expect("a stroke");
        let with = |places: usize| {
            let face = ellipse(THROW, [DISC; 2], [0.4, PI - 0.4], places);
            off(
                &exact,
                &stroke(&curved(disc.clone(), face)).expect("a stroke"),
            )
        };
        let (some, more) = (with(24), with(47));
        assert!(some < 5e-4, "{some}");
        assert!(more < some / 6.0 && with(185) < 1e-6, "{some}, then {more}");
    }
}

/// A flat that rides on an ellipse stands at h = √(a² sin² θ + b² cos² θ) over the pivot at its centre, θ the turn
/// of the ellipse: dh/dθ = (a² − b²) sin θ cos θ / h.
#[test]
fn a_flat_on_an_ellipse_by_hand() {
    let (a, b) = (26.0, 18.0);
    let mut tool = press(THROW, None, 0.0, None, 0.3);
    let foot = (a * a * 0.3_f64.sin().powi(2) + b * b * 0.3_f64.cos().powi(2)).sqrt();
    tool.parts[jawforce::model::PartId::new(2)].sketch = [0.0, foot, 0.0];
    let tool = curved(tool, ellipse(0.0, [a, b], [0.0, PI], 121));
    for position in &stroke(&tool).expect("a stroke").positions {
        let (sin, cos) = position.handle.sin_cos();
        let lift = (a * a * sin * sin + b * b * cos * cos).sqrt();
        let at = position.points[2][0][1];
        assert!((at - lift).abs() < 1e-6, "{at}, {lift}");
        let rate = (a * a - b * b) * sin * cos / lift;
        let ratio = position.grips[0].ratio[0].expect("a ratio");
        assert!((ratio * rate / ARM - 1.0).abs() < 1e-5, "{ratio}");
    }
}

/// The contact of a disc under a flat stands straight above its centre: at a quarter turn less the lever's angle.
/// A face that begins there ends the stroke where the lever is at that angle.
#[test]
fn the_stroke_ends_where_the_face_does() {
    let disc = press(THROW, None, 0.1, None, -0.3);
    let ends_at = 0.05;
    let face = ellipse(THROW, [DISC; 2], [FRAC_PI_2 - ends_at, PI - 0.4], 190);
    let solved = stroke(&curved(disc.clone(), face)).expect("a stroke");
    let meets = solved.meets.expect("an end");
    assert_eq!(meets.what, Met::Face(0));
    let at = &solved.positions[meets.position];
    // A natural spline has no curvature at its end, and so points there by some thousandths of a radian beside the
    // circle.
    assert!((at.handle - ends_at).abs() < 3e-3, "{}", at.handle);
    near(
        "left",
        solved.cams[0].left.expect("a curve").min(0.0),
        0.0,
        1.0,
    );
    for (k, position) in solved.positions.iter().enumerate() {
        let answer = position.grips[0].answer[0];
        match k > meets.position {
            true => assert!(!matches!(answer, Some(Answer::Moves { .. }))),
            false => assert!(matches!(answer, Some(Answer::Moves { .. }))),
        }
    }
    // Cut off above the contact at open, it has nothing to begin with.
    let face = ellipse(THROW, [DISC; 2], [0.4, FRAC_PI_2 + 0.2], 60);
    let failure = solve(&curved(disc, face), Direction::Closing).expect_err("off its face");
    assert!(matches!(
        failure,
        Failure::Motion(MotionError::OffFace(0, _))
    ));
}

/// In a hollow that is narrower than the roller it rests on both sides: said so.
#[test]
fn a_hollow_narrower_than_the_roller_is_seen() {
    let disc = press(THROW, Some(roller()), 0.0, None, -0.3);
    let bump = |k: i32| {
        let angle = 0.4 + 0.1 * f64::from(k);
        let (sin, cos) = angle.sin_cos();
        let r = if k == 11 { DISC - 1.0 } else { DISC };
        [THROW + r * cos, r * sin]
    };
    let face = CamFace::Curve((0..24).map(bump).collect());
    let solved = stroke(&curved(disc.clone(), face)).expect("a stroke");
    let hollow = solved.cams[0].hollow.expect("a hollow");
    assert!(hollow < 5.0, "{hollow}");
    let round = ellipse(THROW, [DISC; 2], [0.4, PI - 0.4], 40);
    let solved = stroke(&curved(disc, round)).expect("a stroke");
    assert_eq!(solved.cams[0].hollow, None);
}
