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

/// A lever whose straight face lifts a roller of 10 mm radius in an upright guide 20 mm from the lever's pin, up to the level at
/// shut. At an angle t the face is touched (20 + 10 sin t) / cos t from the pin: at the level right below the roller. It
/// ends 0.01 mm beyond that, and the guide is made 0.05 mm (3 sigma) off at most. `last`: gap of the last row of the work.
fn lifted(last: f64) -> Study {
    let text = format!(
        r#"
[tool]
name = "Lifter"
units = "mm-N"
[parts.base]
fixed = true
pins = {{ heel = [0, 0] }}
marks = {{ anvil = [20, 40] }}
[parts.lever]
pins = {{ heel = [0, 0] }}
[parts.ram]
marks = {{ wheel = [20, 10], nose = [20, 40] }}
[[slots]]
part = "ram"
point = "wheel"
on = "base"
through = [20, 0]
angle = 90
keyed = true
[[cams]]
part = "lever"
pushes = "ram.wheel"
face = {{ points = [[20.01, 0], [18, 0], [15, 0], [10, 0]] }}
roller = {{ diameter = 20, pin = 8 }}
[hand]
part = "lever"
line = [[0, 0], [150, 0]]
push = "square"
grips = [100]
force = 50
[[jaw]]
on = "ram.nose"
against = "base.anvil"
axis = -90
[stroke]
open = {{ handle = -5.5 }}
shut = {{ handle = 0 }}
[work]
need = [[1.5, 0], [{last}, 200]]
[tolerances]
"slots.1.through.x" = 0.05
[[demand]]
measure = "hand_force"
at = "peak"
max = 1000
[[demand]]
measure = "ratio"
at = "shut"
min = 1
"#
    );
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

/// Those whose guide is more than 0.6 standard deviations too far out run off the face before shut (the share as above),
/// at 4 standard deviations by 0.06 mm or 0.006 rad, which is 0.12 mm of the gap: work that is done 0.3 mm before shut they
/// all do, work up to shut none of these.
#[test]
fn a_face_that_ends_too_early_hinders_only_work_that_is_left() {
    let expected = 0.725_746_9 * SAMPLES as f64;
    let spread = (expected * (1.0 - 0.725_746_9)).sqrt();
    let near = |found: usize| assert!((found as f64 - expected).abs() < 4.0 * spread, "{found}");
    let study = lifted(0.0);
    near(met(&study, 0));
    near(met(&study, 1));
    let study = lifted(0.3);
    assert_eq!(met(&study, 0), SAMPLES);
    near(met(&study, 1));
}
