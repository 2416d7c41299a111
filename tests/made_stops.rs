//! Tools as made that meet a stop before they are shut, or before their work is done, though the drawn one does not.

use crate::level::level;
use jawforce::analysis::Analysis;
use jawforce::input::read_tool;
use jawforce::measure::Measure;
use jawforce::tolerance::{Fate, Sampling, Spread, Study};

const SAMPLES: usize = 20_000;

const POST: &str = "[[stops]]\nname = \"post\"\non = \"lever.pad\"\nagainst = \"base.post\"\naxis = 90\nends = \"shut\"\n";
/// The same two points as a further jaw.
const DIES: &str =
    "[[jaw]]\nname = \"inner\"\non = \"lever.pad\"\nagainst = \"base.post\"\naxis = 90\n";

/// A level lever, its pad 20 mm from the pin on the side of the nose, over a post this far below it where it is shut; the
/// post's height is 0.05 mm (3 sigma) off at most.
fn study(what: &str, below: f64, shut: &str) -> Study {
    let more = r#"[work]
need = [[5, 0], [0, 200]]
[tolerances]
"base.post.y" = 0.05
[[demand]]
measure = "hand_force"
at = "peak"
max = 1000
[[demand]]
measure = "jaw_force"
at = "shut"
min = 1
[[demand]]
measure = "jaw_force"
at = { gap = 2 }
min = 1
"#;
    let seats = format!(", post = [20, {}]", -below);
    let text = level(
        40.0,
        &seats,
        "[100]",
        "force = 50\nlimit = 300",
        &format!("{what}{more}"),
    )
    .replace("nose = [40, 0] }", "nose = [40, 0], pad = [20, 0] }")
    .replace("shut = { gap = 0 }", shut)
    .replacen("[[jaw]]\non", "[[jaw]]\nname = \"nose\"\non", 1);
    let read = read_tool(&text, &crate::models::beside).unwrap();
    let sampling = Sampling {
        samples: SAMPLES,
        fewer: false,
        seed: 7,
        spread: Spread::Normal,
        threads: None,
    };
    Analysis::of(read.tool).tolerance(&sampling).unwrap()
}

fn met(study: &Study, demand: usize) -> usize {
    study.findings[demand].met.unwrap()
}

/// Where the post stands 0.01 mm below, the pad meets it before shut if it is made more than 0.6 standard deviations too
/// high. The normal distribution at 0.6: 0.725 746 9 (M. Abramowitz and I. A. Stegun, *Handbook of Mathematical Functions*,
/// table 26.1). The dies of a further jaw at the same
/// points do the same. Those tools neither come to shut nor to the end of their work; nothing keeps any from a gap of 2 mm.
#[test]
fn a_stop_just_beyond_shut_is_met_before_it_by_some() {
    let expected = 0.725_746_9 * SAMPLES as f64;
    let spread = (expected * (1.0 - 0.725_746_9)).sqrt();
    for what in [POST, DIES] {
        let study = study(what, 0.01, "shut = { gap = 0 }");
        for demand in [0, 1] {
            let found = met(&study, demand);
            assert!((found as f64 - expected).abs() < 4.0 * spread, "{found}");
            let stopped = Fate::ALL.iter().position(|fate| *fate == Fate::Stopped);
            let failed = study.findings[demand].failed[stopped.unwrap()];
            assert_eq!(found + failed, SAMPLES);
        }
        assert_eq!(met(&study, 2), SAMPLES);
        assert_eq!(study.all_met, Some(met(&study, 0)));
    }
}

/// A stop out of reach is not met by any, and where shut is the stop itself every tool ends at its own: with the post
/// 0.1 mm above the level the dies are then 0.2 mm apart.
#[test]
fn a_stop_out_of_reach_and_one_that_is_the_end_hinder_nothing() {
    for (below, shut) in [
        (0.2, "shut = { gap = 0 }"),
        (-0.1, "shut = { stop = \"post\" }"),
    ] {
        let study = study(POST, below, shut);
        assert_eq!(study.all_met, Some(SAMPLES), "{shut}");
    }
}

/// Where dies meet before shut, a stop that would come after them ends no stroke: all do their work.
#[test]
fn a_stop_behind_dies_that_meet_is_none() {
    let study = study(POST, 0.1, "shut = { gap = -0.4 }");
    let mut findings = study.findings.iter();
    let force = findings.find(|found| found.subject.measure == Measure::HandForce);
    assert_eq!(force.map(|found| found.met), Some(Some(SAMPLES)));
}
