//! A ratchet by hand: a lever with teeth about its own pin.
//!
//! The lever turns about the origin; its nose is 30 mm to the right, over an anvil level with the pin, so that the
//! gap is 30 sin φ, and φ falls as the tool closes. The teeth stand on the lever, the pawl on the base. From gap 6
//! on, sin φ = 0.2, there is a tooth for every 2 degrees less, to where the gap is 0.3 at the latest, sin φ = 0.01.

use jawforce::analysis::{Analysis, Direction, RatchetSeen};
use jawforce::geometry::Vec2;
use jawforce::input::read_tool;
use jawforce::measure::Measure;
use jawforce::model::{At, GripId, JawId, PartId, Tool};
use jawforce::statics::{ForceKind, Mounted, Rig};

pub const LEVER: &str = r#"
[tool]
name  = "Ratchet lever"
units = "mm-N"
[parts.base]
fixed = true
pins  = { heel = [0, 0] }
marks = { anvil = [30, 0], hook = [-40, -30] }
[parts.lever]
pins  = { heel = [0, 0] }
marks = { nose = [30, 0], eye = [-40, 0] }
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
[stroke]
open = { gap = 8 }
shut = { gap = 0 }
[work]
need = [[6, 0], [0, 300]]
[[springs]]
from = "lever.eye"
to   = "base.hook"
rate = 0.5
free = 20
[materials.plate]
yield = 355
[ratchet]
teeth-on    = "lever"
about       = "heel"
pawl        = { on = "base", pin = [-16, 16], length = 8, spring = 12 }
radius      = 20
pitch       = 2
engages     = { gap = 6 }
frees       = { gap = 0.3 }
over-travel = 0.5
height      = 1.2
face        = 4
flank       = 12
friction    = 0.15
material    = "plate"
"#;

fn tool(text: &str) -> Tool {
    let read = read_tool(text, &|name| Err(format!("{name} is not there")));
    read.unwrap_or_else(|problems| panic!("{problems}")).tool
}

fn seen(text: &str) -> RatchetSeen {
    let analysis = Analysis::of(tool(text));
    let solved = analysis.stroke(Direction::Closing).expect("a stroke");
    let ratchet = solved.ratchet.clone().expect("a ratchet");
    ratchet.expect("teeth")
}

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within * expected.abs().max(1.0),
        "{found} is not {expected}"
    );
}

/// The angle of the lever as the pawl falls behind a tooth, from 0.
fn angle(k: usize) -> f64 {
    0.2_f64.asin() - (2.0 * k as f64).to_radians()
}

fn gap(k: usize) -> f64 {
    30.0 * angle(k).sin()
}

#[test]
fn every_tooth_stands_where_it_does_by_hand() {
    let seen = seen(LEVER);
    // (asin 0.2 − asin 0.01) / 2° = 5.48: six teeth, the first counted.
    assert_eq!(seen.teeth.len(), 6);
    for (k, tooth) in seen.teeth.iter().enumerate() {
        near(tooth.tooth.gap, gap(k), 1e-9);
        match tooth.step {
            Some(step) => near(step, gap(k) - gap(k + 1), 1e-9),
            None => assert_eq!(k, 5),
        }
    }
    near(seen.left, angle(5), 1e-9);
    near(seen.shut, 0.0, 1e-9);
}

/// The pawl holds the moment of the work, 300 (1 − gap/6) N at 30 cos φ, and of the spring between eye and hook.
#[test]
fn the_pawl_carries_the_moment_of_work_and_spring() {
    let seen = seen(LEVER);
    for (k, tooth) in seen.teeth.iter().enumerate() {
        near(tooth.pawl, resists(angle(k)) / 20.0, 1e-9);
    }
}

/// Moment about the heel with which work and spring open the lever.
fn resists(phi: f64) -> f64 {
    let work = 300.0 * (1.0 - 30.0 * phi.sin() / 6.0).max(0.0);
    let eye = [-40.0 * phi.cos(), -40.0 * phi.sin()];
    let pull = [-40.0 - eye[0], -30.0 - eye[1]];
    let length = pull[0].hypot(pull[1]);
    let force = 0.5 * (length - 20.0);
    let turns = force * (eye[0] * pull[1] - eye[1] * pull[0]) / length;
    work * 30.0 * phi.cos() + turns
}

/// The hand at 120 mm works against the drag of the pawl too, from the first tooth to the last, closing only, and
/// the two parts are still in balance.
#[test]
fn the_hand_works_against_the_drag_while_there_are_teeth() {
    let tool = tool(LEVER);
    let drag = 1.5 * 1.2 / 2_f64.to_radians() + 0.15 * 1.5 * 20.0;
    let analysis = Analysis::of(tool.clone());
    let hand = |phi: f64, direction| {
        let at = At::Gap(30.0 * phi.sin());
        let measure = Measure::HandForce;
        let read = analysis.measure(&measure, JawId::FIRST, Some(at), Some(120.0), direction);
        read.expect("it can be read").expect("a value")
    };
    let a_little = 1e-6;
    for (phi, engaged) in [
        (angle(0) + a_little, false),
        (angle(0) - a_little, true),
        (angle(3) + 0.01, true),
        (angle(5) + a_little, true),
        (angle(5) - a_little, false),
    ] {
        let pawl = if engaged { drag } else { 0.0 };
        near(
            hand(phi, Direction::Closing),
            (resists(phi) + pawl) / 120.0,
            1e-9,
        );
        near(hand(phi, Direction::Opening), resists(phi) / 120.0, 1e-9);
    }
    let mounted = Mounted::new(&tool).expect("mounted");
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).expect("a rig");
    rig.go_to(rig.pace() * 0.6).expect("a position");
    let (sheet, _) = rig.sheet(GripId::FIRST, 90.0).expect("a sheet");
    let lever = PartId::new(1);
    let couple = sheet.part_forces[lever]
        .iter()
        .find(|f| f.what == ForceKind::Pawl);
    near(couple.expect("the pawl").moment, drag, 1e-9);
    let (force, moment) = sheet.sum(lever, Vec2::ZERO);
    assert!(
        force.length() < 1e-9 && moment.abs() < 1e-7,
        "{force:?} {moment}"
    );
}

#[test]
fn drag_and_stress_of_a_tooth_by_hand() {
    let seen = seen(LEVER);
    let (tip, pitch) = (12.0 / 8.0, 2_f64.to_radians());
    let drag = tip * 1.2 / pitch + 0.15 * tip * 20.0;
    near(seen.drag.expect("a drag"), drag, 1e-12);
    for tooth in &seen.teeth {
        // On a lever of 120 mm, pushed square.
        near(tooth.drag[0].expect("a drag"), drag / 120.0, 1e-9);
    }
    let most = seen.teeth.iter().map(|t| t.pawl).fold(0.0, f64::max);
    let root = 20.0 * pitch;
    let [bending, shear] = seen.tooth.expect("stresses");
    near(bending, 6.0 * most * 1.2 / (4.0 * root * root), 1e-12);
    near(shear, 1.5 * most / (4.0 * root), 1e-12);
}

/// A pawl is drawn in where the tangent of the flank exceeds the coefficient of friction (common practice; for
/// instance m.dalirigging.com, news 4968916: the angle of the flank is greater than that of friction, whose
/// coefficient is 0.13 to 0.2).
#[test]
fn an_undercut_flank_draws_the_pawl_in() {
    assert!(seen(LEVER).engages_itself);
    for (flank, draws) in [("8.6", true), ("8.5", false), ("0", false)] {
        let text = LEVER.replace("flank       = 12", &format!("flank = {flank}"));
        assert_eq!(
            seen(&text).engages_itself,
            draws,
            "tan {flank} deg against 0.15"
        );
    }
}

/// The same teeth told by handle angles, and by a lever that is driven through a link by another handle.
#[test]
fn measures_read_the_same() {
    let analysis = Analysis::of(tool(LEVER));
    let read = |measure: Measure| {
        let read = analysis.measure(&measure, JawId::FIRST, None, None, Direction::Closing);
        read.expect("it can be read").expect("a value")
    };
    near(read(Measure::RatchetFree), gap(5), 1e-9);
    near(read(Measure::RatchetStep), gap(4) - gap(5), 1e-9);
}

/// On made tools the teeth stand where they do on the drawn one, and the nose does not: with the nose at y' = δ in
/// the lever's axes the gap at the last tooth is 30 sin φ + δ cos φ.
#[test]
fn made_tools_let_go_at_gaps_of_their_own() {
    let text = LEVER.to_owned()
        + "[tolerances]\n\"lever.nose.y\" = 0.1\n\
           [[demand]]\nmeasure = \"ratchet.free_gap\"\nmax = 0.83\n\
           [[demand]]\nmeasure = \"ratchet.step\"\nmax = 2\n";
    let analysis = Analysis::of(tool(&text));
    let study = analysis
        .tolerance(&jawforce::tolerance::Sampling {
            samples: 20_000,
            seed: 1,
            spread: jawforce::tolerance::Spread::Normal,
            ..Default::default()
        })
        .expect("a study");
    let free = (study.findings.iter())
        .find(|finding| finding.subject.measure == Measure::RatchetFree)
        .expect("read off samples");
    near(free.nominal, gap(5), 1e-9);
    near(free.worst, 0.1 * angle(5).cos(), 1e-6);
    // Normal with three standard deviations in the tolerance: the share below the limit.
    let sigma = 0.1 / 3.0 * angle(5).cos();
    let expected = normal((0.83 - gap(5)) / sigma);
    let share = free.met.expect("a demand") as f64 / 20_000.0;
    assert!(
        (share - expected).abs() < 4.0 * (expected * (1.0 - expected) / 20_000.0).sqrt(),
        "{share} {expected}"
    );
    // What is not read off samples is said.
    let unread = study
        .unread
        .iter()
        .any(|one| one.subject.measure == Measure::RatchetStep);
    assert!(unread);
}

/// Share of a standard normal variable below `x`: Abramowitz and Stegun, *Handbook of Mathematical Functions*, 26.2.17
/// (error below 7.5e-8).
fn normal(x: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * x.abs());
    let sum = t
        * (0.319_381_53
            + t * (-0.356_563_782
                + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    let tail = (-0.5 * x * x).exp() / (2.0 * std::f64::consts::PI).sqrt() * sum;
    if x > 0.0 { 1.0 - tail } else { tail }
}
