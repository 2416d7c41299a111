//! Where the force that the work asks for jumps: a lever on one pin, by hand.
//!
//! The tool is `tests/files/stepped-press.toml`. With the lever at φ above the level, the gap is
//! 30 sin φ and the hand needs cos φ / 4 of the jaw's force.

use jawforce::analysis::{Direction, solve};
use jawforce::input::read_tool;
use jawforce::measure::{Measure, Reader, Reading};
use jawforce::model::{At, Target, Tool, dimension};
use jawforce::statics::{Mounted, Rig};
use jawforce::tolerance::{Sampling, Spread, study};

fn press() -> Tool {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/files/stepped-press.toml"
    );
    let text = std::fs::read_to_string(path).expect("the test file");
    let read = read_tool(&text, &|_| Err(String::new()));
    read.expect("a good file").tool
}

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within * expected.abs().max(1.0),
        "{found} is not {expected}"
    );
}

/// The jumps: gap, and the greater force.
const JUMPS: [(f64, f64); 3] = [(8.0, 300.0), (5.0, 900.0), (2.0, 900.0)];

/// Hand force (N) for a force at the jaw where a lever of this reach stands at a gap.
fn hand(force: f64, gap: f64, reach: f64) -> f64 {
    force * (1.0 - (gap / reach).powi(2)).sqrt() * reach / 120.0
}

fn measure(tool: &Tool, measure: &Measure, at: Option<At>) -> f64 {
    let mounted = Mounted::new(tool).expect("a stroke");
    let mut rig = Rig::new(tool, &mounted, Direction::Closing).expect("its open end");
    let mut reader = Reader::new(&mut rig);
    let reading = match at {
        Some(at) => reader.at(measure, at, 0).expect("on the stroke"),
        None => reader.over_stroke(measure, 0).expect("a reading"),
    };
    match reading {
        Reading::Value(value) => value,
        Reading::Missing(why) => panic!("{why}"),
    }
}

/// The tool with a nose at another place, so that rounding falls to either side of the jumps.
fn with_nose(reach: f64) -> Tool {
    let mut tool = press();
    assert!(dimension::set(&mut tool, "lever.nose.x", reach));
    tool
}

#[test]
fn a_measure_at_a_jump_is_that_of_the_greater_force() {
    for k in 0..60 {
        let reach = 30.0 + f64::from(k) / 7.0;
        let tool = with_nose(reach);
        for (gap, force) in JUMPS {
            let found = measure(&tool, &Measure::HandForce, Some(At::Gap(gap)));
            near(found, hand(force, gap, reach), 1e-9);
        }
    }
}

#[test]
fn the_ends_of_a_stroke_and_its_sheets_stand_at_the_greater_force() {
    for k in 0..30 {
        let reach = 30.0 + f64::from(k) / 7.0;
        for [open, shut] in [[0, 1], [1, 2], [0, 2]] {
            let mut tool = with_nose(reach);
            tool.stroke.open = Target::Gap(JUMPS[open].0);
            tool.stroke.shut = Target::Gap(JUMPS[shut].0);
            let solved = solve(&tool, Direction::Closing).expect("a stroke");
            near(solved.work[0], JUMPS[open].1, 1e-12);
            near(solved.work[solved.work.len() - 1], JUMPS[shut].1, 1e-12);
        }
    }
}

/// A nose that moves by a hair leaves the gap at the jump: the hand's force there goes with the reach
/// alone, dF/dx = 900/120 · x / √(x² − gap²), and so does that of every sample.
#[test]
fn sampled_tools_stand_at_the_greater_force_too() {
    let sampling = Sampling {
        samples: 300,
        fewer: false,
        seed: 3,
        spread: Spread::Uniform,
        threads: Some(1),
    };
    let found = study(&press(), &sampling).expect("a study");
    let at = |gap: f64| {
        let mut all = found.findings.iter();
        let one = all.find(|f| f.subject.at == Some(At::Gap(gap)));
        one.expect("a finding")
    };
    for gap in [5.0, 2.0] {
        let finding = at(gap);
        near(finding.nominal, hand(900.0, gap, 30.0), 1e-9);
        let share = 0.1 * 900.0 / 120.0 * 30.0 / (900.0 - gap * gap).sqrt();
        let x = found
            .plan
            .varied
            .iter()
            .position(|v| v.address == "lever.nose.x");
        near(finding.shares[x.expect("the reach")].share, share, 1e-6);
        let samples = finding.summary.as_ref().expect("samples");
        // Half the step of 0.1 mm in height turns the nose against the lever as well: a few parts in ten
        // thousand of the force.
        let most = 1.1 * share + 1e-3 * finding.nominal;
        assert!(
            samples.percentiles[0] > finding.nominal - most,
            "{samples:?}"
        );
        assert!(
            samples.percentiles[6] < finding.nominal + most,
            "{samples:?}"
        );
    }
}
