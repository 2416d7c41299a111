//! Where the force that the work asks for jumps: a lever on one pin, by hand.
//!
//! The tool is `tests/files/stepped-press.toml`. With the lever at φ above the level, the gap is
//! 30 sin φ and the hand needs cos φ / 4 of the jaw's force.

use crate::models::read::read;
use jawforce::analysis::{Analysis, Direction, solve};
use jawforce::input::read_tool;
use jawforce::measure::Measure;
use jawforce::model::{At, JawId, Target, Tool, dimension};
use jawforce::tolerance::{Fate, Finding, Sampling, Spread, Study};

fn press() -> Tool {
    changed(&[])
}

/// The tool, each of these texts of its file replaced by another.
fn changed(changes: &[(&str, &str)]) -> Tool {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/files/stepped-press.toml"
    );
    let mut text = std::fs::read_to_string(path).expect("the test file");
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    let read = read_tool(&text, &|_| Err(String::new()));
    read.expect("a good file").tool
}

fn studied(tool: &Tool, samples: usize) -> Study {
    let sampling = Sampling {
        samples,
        fewer: false,
        seed: 3,
        spread: Spread::Uniform,
        threads: Some(1),
    };
    Analysis::of(tool.clone())
        .tolerance(&sampling)
        .expect("a study")
}

fn finding<'s>(study: &'s Study, name: &str, at: Option<At>) -> &'s Finding {
    let mut all = study.findings.iter();
    let named = |f: &&Finding| f.subject.measure.kind().word == name && f.subject.at == at;
    all.find(named).expect("a finding")
}

/// The share of a dimension.
fn share(study: &Study, finding: &Finding, address: &str) -> f64 {
    let at = study.plan.varied.iter().position(|v| v.address == address);
    finding.shares[at.expect("what varies")].share
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
    match read(tool, measure, at) {
        Ok(value) => value,
        Err(why) => panic!("{why:?}"),
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
            tool.stroke.open = Target::Gap(JUMPS[open].0, JawId::FIRST);
            tool.stroke.shut = Target::Gap(JUMPS[shut].0, JawId::FIRST);
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
    let found = studied(&press(), 300);
    for gap in [5.0, 2.0] {
        let finding = finding(&found, "hand_force", Some(At::Gap(gap)));
        near(finding.nominal, hand(900.0, gap, 30.0), 1e-9);
        let by_hand = 0.1 * 900.0 / 120.0 * 30.0 / (900.0 - gap * gap).sqrt();
        near(share(&found, finding, "lever.nose.x"), by_hand, 1e-6);
        let samples = finding.summary.as_ref().expect("samples");
        // Half the step of 0.1 mm in height turns the nose against the lever as well: a few parts in ten
        // thousand of the force.
        let most = 1.1 * by_hand + 1e-3 * finding.nominal;
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

/// What the work asks for between the rows of the file, N, by hand.
fn need(gap: f64) -> f64 {
    match gap {
        g if g > 8.0 => 0.0,
        g if g > 5.0 => 300.0 - 100.0 * (8.0 - g) / 3.0,
        g if g > 2.0 => 900.0,
        g if g > 0.0 => 400.0 + 50.0 * (2.0 - g),
        _ => 500.0,
    }
}

/// Area under the rows from the first to a gap below 2, N mm, by hand: 750 and 2700 before it.
fn area(gap: f64) -> f64 {
    let long = 2.0 - gap;
    750.0 + 2700.0 + 400.0 * long + 25.0 * long * long
}

/// Gap with the lever at so many degrees above the level, nose and anvil off their places by these.
fn gap(degrees: f64, [x, y, anvil]: [f64; 3]) -> f64 {
    let (sin, cos) = degrees.to_radians().sin_cos();
    (30.0 + x) * sin + y * cos - anvil
}

const ADDRESSES: [&str; 3] = ["lever.nose.x", "lever.nose.y", "base.anvil.y"];

/// Without friction and springs the hand's work is the jaw's: the area under the rows from the gap where
/// the lever stands open, beyond the first row, to where it is shut. A dimension moves it by what the
/// work asks for there times how it moves that gap.
#[test]
fn work_moves_with_the_dimensions_as_the_area_under_its_rows_does() {
    let tool = press();
    let found = studied(&tool, 4000);
    let shut = gap(2.0, [0.0; 3]);
    let force = need(shut);
    let (sin, cos) = 2_f64.to_radians().sin_cos();
    let by_hand = [-sin, -cos, 1.0].map(|slope| 0.1 * force * slope);
    for name in ["hand_work", "jaw_work"] {
        let work = finding(&found, name, None);
        near(work.nominal, area(shut), 1e-9);
        for (address, expected) in ADDRESSES.iter().zip(by_hand) {
            let found = share(&found, work, address);
            assert!(
                (found - expected).abs() < 1e-5 * by_hand[2],
                "{name} {address}: {found} {expected}"
            );
        }
        // All dimensions at the ends of their tolerances that lower the work, that raise it.
        for (corner, sign) in work.corners.iter().zip([1.0, -1.0]) {
            let moved = [0.1, 0.1, -0.1].map(|d| sign * d);
            near(corner.expect("a corner"), area(gap(2.0, moved)), 1e-9);
        }
        // Even within ± t: a standard deviation of t / √3 for each. That of 4000 samples is known to some
        // 1 %.
        let samples = work.summary.as_ref().expect("samples");
        let squares: f64 = by_hand.iter().map(|share| share * share).sum();
        near(samples.deviation, (squares / 3.0).sqrt(), 0.05);
        assert_eq!(samples.count, 4000);
    }
}

/// A stroke that ends at a handle angle goes on to there on the tools whose dies do not meet before, and
/// ends where they meet on the others, whichever the tool as drawn is.
///
/// The gap at the end is g = g₀ + y − a, with nose and anvil even within ±0.1: a triangle of ±0.2. With
/// c = 0.2 − |g₀|, the part of it beyond |g₀| has the mean c³/0.24 and the mean square c⁴/0.48.
#[test]
fn the_work_of_a_made_tool_ends_where_its_own_dies_meet() {
    for degrees in [0.1_f64, -0.1] {
        let shut = format!("shut  = {{ handle = {} }}", 180.0 + degrees);
        let tool = changed(&[("shut  = { handle = 182 }", shut.as_str())]);
        let found = studied(&tool, 4000);
        let drawn = gap(degrees, [0.0; 3]);
        let c = 0.2 - drawn.abs();
        let beyond = [c.powi(3) / 0.24, c.powi(4) / 0.48];
        // Of the gap where it is above zero, and zero elsewhere.
        let [mean, square] = if drawn > 0.0 {
            [drawn + beyond[0], drawn * drawn + 0.04 / 6.0 - beyond[1]]
        } else {
            beyond
        };
        let by_hand = 4350.0 - 500.0 * mean + 25.0 * square;
        for name in ["hand_work", "jaw_work"] {
            let work = finding(&found, name, None);
            near(work.nominal, area(drawn.max(0.0)), 1e-9);
            let samples = work.summary.as_ref().expect("samples");
            assert_eq!(samples.count, 4000);
            // Five standard errors.
            let within = 5.0 * samples.deviation / 4000_f64.sqrt();
            assert!(
                (samples.mean - by_hand).abs() < within,
                "{name} {degrees}: {samples:?}"
            );
            near(samples.percentiles[6], area(0.0), 1e-6);
        }
        let tools = finding(&found, "jaw_work", None).corners;
        if drawn > 0.0 {
            near(
                tools[0].expect("a corner"),
                area(gap(degrees, [0.1, 0.1, -0.1])),
                1e-9,
            );
            near(tools[1].expect("a corner"), area(0.0), 1e-9);
        }
    }
}

/// Five standard errors of a share of 4000 samples.
#[track_caller]
fn near_share(found: f64, expected: f64) {
    let within = 5.0 * (expected * (1.0 - expected) / 4000.0).sqrt();
    assert!((found - expected).abs() < within, "{found} for {expected}");
}

/// A made tool whose dies meet before the handle is at its end does not come there. By hand, with the gap
/// of the test before: dies meet on a share of (0.2 − g₀)²/0.08 of the tools.
#[test]
fn a_made_tool_whose_dies_meet_before_has_no_value_beyond() {
    let tool = changed(&[("shut  = { handle = 182 }", "shut  = { handle = 180.1 }")]);
    let found = studied(&tool, 4000);
    let beyond = (0.2 - gap(0.1, [0.0; 3])).powi(2) / 0.08;
    for name in ["gap", "ratio"] {
        let shut = finding(&found, name, Some(At::Shut));
        near_share(shut.failed[Fate::DiesMeet as usize] as f64 / 4000.0, beyond);
        let summary = shut.summary.as_ref().expect("samples");
        assert!(summary.percentiles[0] > 0.0, "{name}");
    }
}

/// The force steps up at a gap 0.05 mm before the end of the stroke as drawn. By hand: the end of a made
/// tool is at or beyond that on all but a share of 0.15²/0.08; these ask the hand for no more than 100/4 N.
#[test]
fn work_beyond_the_end_of_a_made_tool_is_not_its_peak() {
    let corner = gap(2.0, [0.0; 3]) + 0.05;
    let rows = format!("[[8, 100], [{corner}, 100], [{corner}, 900], [0, 900]]");
    let tool = changed(&[
        (
            "[[8, 300], [5, 200], [5, 900], [2, 900], [2, 400], [0, 500]]",
            rows.as_str(),
        ),
        (
            "at      = \"peak\"\nmax     = 225",
            "at      = \"peak\"\nmax     = 26",
        ),
    ]);
    let found = studied(&tool, 4000);
    let peak = finding(&found, "hand_force", Some(At::Peak));
    near(peak.nominal, hand(900.0, gap(2.0, [0.0; 3]), 30.0), 1e-6);
    near_share(
        peak.met.expect("a demand") as f64 / 4000.0,
        0.15 * 0.15 / 0.08,
    );
}

/// With friction at the pin and a spring that goes slack on the way, against the program's own work of
/// tools with other dimensions, read over many more steps than the study takes.
#[test]
fn shares_of_work_are_those_of_tools_with_other_dimensions() {
    let sprung = [
        ("nose = [30, 0]", "nose = [30, 0], tail = [-20, 0]"),
        ("anvil = [30, 0]", "anvil = [30, 0], hook = [-20, -30]"),
        (
            "[tolerances]",
            "[joints]\nfriction = 0.25\ndiameter = 14\n\n[[springs]]\nfrom = \"lever.tail\"\nto = \"base.hook\"\n\
             rate = 12\nfree = 27\nacts = \"push\"\n\n[tolerances]\n\"base.hook.y\" = 0.1\n\"lever.tail.x\" = 0.1",
        ),
        ("steps = 18", "steps = 1800"),
    ];
    let tool = changed(&sprung);
    let study = studied(&tool, 2000);
    let works = [
        ("hand_work", Measure::HandWork),
        ("jaw_work", Measure::JawWork),
    ];
    for (name, kind) in works {
        let work = finding(&study, name, None);
        let mut compared = 0;
        for varied in &study.plan.varied {
            let moved = |by: f64| {
                let mut other = tool.clone();
                assert!(dimension::set(
                    &mut other,
                    &varied.address,
                    varied.nominal + by
                ));
                measure(&other, &kind, None)
            };
            let step = 2e-3;
            let difference = (moved(step) - moved(-step)) / (2.0 * step) * varied.tolerance;
            let found = share(&study, work, &varied.address);
            assert!(
                (found - difference).abs() < 1e-4 * work.worst,
                "{name} {}: {found} {difference}",
                varied.address
            );
            compared += usize::from(difference.abs() > 1e-3 * work.worst);
        }
        assert!(
            compared >= if name == "hand_work" { 5 } else { 3 },
            "{name}: {compared}"
        );
        // Nearly linear within the tolerances: the samples spread as the stack-up says.
        let samples = work.summary.as_ref().expect("samples");
        near(samples.deviation, work.root_sum_square / 3f64.sqrt(), 0.06);
    }
}

/// A peak of the work far narrower than what the study looks at, on the way: it is in the area.
#[test]
fn a_narrow_spike_is_counted() {
    let rows = "need = [[8, 100], [5.001, 100], [5, 50000], [4.999, 100], [0, 100]]";
    let tool = changed(&[(
        "need = [[8, 300], [5, 200], [5, 900], [2, 900], [2, 400], [0, 500]]",
        rows,
    )]);
    let found = studied(&tool, 2000);
    for name in ["hand_work", "jaw_work"] {
        let work = finding(&found, name, None);
        // By hand: 100 N from 8 to shut, and a triangle of 0.002 by 49900.
        let shut = gap(2.0, [0.0; 3]);
        near(work.nominal, 100.0 * (8.0 - shut) + 0.001 * 49_900.0, 1e-9);
        let (sin, cos) = 2_f64.to_radians().sin_cos();
        for (address, slope) in ADDRESSES.iter().zip([-sin, -cos, 1.0]) {
            let found = share(&found, work, address);
            assert!(
                (found - 10.0 * slope).abs() < 1e-3,
                "{name} {address}: {found}"
            );
        }
        let samples = work.summary.as_ref().expect("samples");
        let squares = 100.0 * (sin * sin + cos * cos + 1.0);
        near(samples.deviation, (squares / 3.0).sqrt(), 0.05);
    }
}

/// With play at the pin, the load lifts the lever by half of it along the sum of what work and hand push
/// with: W (0, 1) and W cos φ / 4 (−sin φ, cos φ). The gap at shut is wider by as much of that as goes up.
/// The work's jump, at which the play is taken up, is counted once.
#[test]
fn play_is_taken_up_where_the_work_begins() {
    let tool = changed(&[("[tolerances]", "[joints]\nclearance = 0.2\n\n[tolerances]")]);
    let found = studied(&tool, 2000);
    let (sin, cos) = 2_f64.to_radians().sin_cos();
    let push = [-sin * cos / 4.0, 1.0 + cos * cos / 4.0];
    let up = 0.1 * push[1] / push[0].hypot(push[1]);
    let expected = area(30.0 * sin + up);
    let work = finding(&found, "jaw_work", None);
    near(work.loaded.expect("a value"), expected, 1e-9);
    // What the hand does while the play turns with the load is far below a thousandth.
    let work = finding(&found, "hand_work", None);
    near(work.loaded.expect("a value"), expected, 1e-3);
    let samples = work.summary.as_ref().expect("samples");
    near(samples.mean, work.loaded.expect("a value"), 2e-3);
    near(samples.deviation, work.root_sum_square / 3f64.sqrt(), 0.06);
}
