//! Where the peaks of sampled tools are looked for.

use crate::models::demo;
use jawforce::analysis::Analysis;
use jawforce::tolerance::{READ_IN_PART, Sampling};

/// Many samples are read only where their peaks may stand, as the drawn tool foretells it. With one sample more than are
/// read all along their stroke, and otherwise the same, mean and deviation must stay, but for what that
/// one sample does: at six deviations it moves the mean by 6/512 of one.
#[test]
fn samples_read_in_part_have_the_peaks_of_those_read_all_along() {
    let mut compared = 0;
    for name in [
        "eyelet-toggle",
        "eyelet-toggle-b",
        "excluder-cutter",
        "pin-plunger",
    ] {
        let tool = demo(name);
        let found = Analysis::of(tool);
        let study = |samples| {
            let sampling = Sampling {
                samples,
                fewer: false,
                ..Sampling::default()
            };
            found.tolerance(&sampling).unwrap().findings
        };
        let (all, part) = (study(READ_IN_PART - 1), study(READ_IN_PART));
        for (all, part) in all.iter().zip(&part) {
            let what = format!("{name} {:?}", all.subject);
            for (all, part) in all.failed.iter().zip(&part.failed) {
                assert!(part - all <= 1, "{what}");
            }
            let (Some(all), Some(part)) = (&all.summary, &part.summary) else {
                continue;
            };
            let room = 6.0 / READ_IN_PART as f64 * all.deviation + 1e-4 * all.mean.abs();
            let off = (all.mean - part.mean).abs();
            assert!(off <= room, "{what}: mean {} and {}", all.mean, part.mean);
            let off = (all.deviation - part.deviation).abs();
            assert!(off <= 3.0 * room, "{what}: deviation off by {off}");
            compared += usize::from(what.contains("Peak"));
        }
    }
    assert!(compared >= 4, "{compared} peaks");
}
