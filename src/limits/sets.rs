//! The named sets that `hand.limit` may ask for.

use std::sync::LazyLock;

use super::norms::people;
use super::reduced::{Reduction, base_force};
use super::set::{LimitSet, Status};

const HFDS: &str =
    "FAA Human Factors Design Standard HF-STD-001 (2003), exhibit 14.5.2.1, hand grip";
const MIL: &str = "MIL-STD-1472, arm, hand and thumb-finger strength, hand grip";
const EN: &str = "EN 1005-3:2002+A1, basic force of a power grip with one hand";
static SETS: LazyLock<Vec<LimitSet>> = LazyLock::new(build);

/// The set of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static LimitSet> {
    SETS.iter().find(|set| set.name == name)
}

/// The names of all sets.
pub fn names() -> impl Iterator<Item = &'static str> {
    SETS.iter().map(|set| set.name.as_str())
}

fn build() -> Vec<LimitSet> {
    let mut sets = Vec::new();
    standards(&mut sets);
    let plain = people();
    sets.extend(plain.iter().map(|(_, set)| set.clone()));
    // The same with the fall over wide spans, where the sex, and so the best span, is known.
    sets.extend(plain.into_iter().map(|(sex, set)| LimitSet {
        name: format!("{}-span", set.name),
        what: format!("{}, less 10 % for each cm above the best span", set.what),
        falloff: Some(sex.falloff()),
        ..set
    }));
    sets
}

/// Figures of standards, which name no span.
fn standards(sets: &mut Vec<LimitSet>) {
    let mut add = |name: &str, what: &str, source, status, force| {
        sets.push(LimitSet {
            name: name.to_owned(),
            what: what.to_owned(),
            source,
            status,
            force,
            falloff: None,
        });
    };
    for (hand, hfds, momentary, sustained) in [
        ("right", 208.0, 260.0, 155.0),
        ("left", 200.0, 250.0, 145.0),
    ] {
        let what = |time: &str| format!("hand grip, {hand} hand, {time}, 5th percentile of men");
        let name = |body: &str, time: &str| format!("{body}-grip-{hand}-{time}");
        let (short, long) = (what("momentary"), what("sustained"));
        add(&name("hfds", "momentary"), &short, HFDS, Status::Read, hfds);
        // The momentary pair is confirmed by HFDS, which takes 0.8 of it.
        add(
            &name("mil1472", "momentary"),
            &short,
            MIL,
            Status::FromMemory,
            momentary,
        );
        add(
            &name("mil1472", "sustained"),
            &long,
            MIL,
            Status::FromMemory,
            sustained,
        );
    }
    for (people, professional) in [("professional", true), ("domestic", false)] {
        let base = base_force(professional);
        let what = format!("power grip, {people} use");
        let mut en = |tail: &str, more: &str, force| {
            let name = format!("en1005-grip-{people}{tail}");
            add(
                &name,
                &format!("{what}{more}"),
                EN,
                Status::FromMemory,
                force,
            );
        };
        en("", ", before any reduction", base);
        let rare = Reduction::default();
        en(
            "-low-risk",
            ", slow, rare, up to 1 h a day, risk multiplier 0.5",
            rare.apply(base),
        );
        let often = Reduction {
            moving: true,
            per_minute: 10.0,
            hours: 2.0,
            ..rare
        };
        en(
            "-repeated",
            ", moving, 2 to 20 short actions a minute, 1 to 2 h a day, risk multiplier 0.5",
            often.apply(base),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq as near;

    fn force(name: &str) -> f64 {
        find(name).unwrap_or_else(|| panic!("no set {name}")).force
    }

    /// Mathiowetz 1985, converted at 1 lbf = 4.44822 N; 5th percentiles computed from the
    /// published means and deviations.
    #[test]
    fn grip_norms_in_newtons() {
        near!(force("norm-grip-m-30-34-mean"), 541.8, epsilon = 0.1);
        near!(force("norm-grip-m-30-34-p5"), 377.9, epsilon = 0.1);
        near!(force("norm-grip-w-20-24-p5"), 207.1, epsilon = 0.1);
        near!(force("norm-grip-w-60-64-p5"), 171.2, epsilon = 0.1);
        near!(force("norm-grip-w-65-69-p5"), 149.7, epsilon = 0.1);
        near!(
            force("norm-grip-left-m-75-up-mean"),
            55.0 * 4.44822,
            epsilon = 0.1
        );
    }

    /// FAA HFDS 2003 exhibit 14.5.2.1 gives lbf beside N, and is 0.8 of MIL-STD-1472's momentary
    /// pair (that pair from memory).
    #[test]
    fn hand_grip_of_the_5th_percentile_man() {
        near!(
            force("hfds-grip-left-momentary"),
            44.8 * 4.44822,
            epsilon = 1.0
        );
        near!(
            force("hfds-grip-right-momentary"),
            47.2 * 4.44822,
            epsilon = 2.0
        );
        for hand in ["left", "right"] {
            let mil = force(&format!("mil1472-grip-{hand}-momentary"));
            near!(
                force(&format!("hfds-grip-{hand}-momentary")),
                0.8 * mil,
                epsilon = 1e-9
            );
            assert!(force(&format!("mil1472-grip-{hand}-sustained")) < mil);
        }
        near!(
            force("mil1472-grip-right-sustained"),
            35.0 * 4.44822,
            epsilon = 1.0
        );
        near!(
            force("mil1472-grip-left-sustained"),
            33.0 * 4.44822,
            epsilon = 2.0
        );
    }

    /// EN 1005-3 from memory; the arithmetic of its multipliers.
    #[test]
    fn reduced_power_grip() {
        near!(force("en1005-grip-professional"), 250.0, epsilon = 1e-9);
        near!(
            force("en1005-grip-professional-low-risk"),
            125.0,
            epsilon = 1e-9
        );
        near!(
            force("en1005-grip-professional-repeated"),
            40.0,
            epsilon = 1e-9
        );
        near!(force("en1005-grip-domestic-low-risk"), 92.0, epsilon = 1e-9);
        assert!(
            find("en1005-grip-domestic")
                .is_some_and(|s| s.source_text().contains("unconfirmed figure"))
        );
    }

    /// Fransson and Winkel 1991: 10 % per cm above 50-60 mm (women), 55-65 mm (men).
    #[test]
    fn the_limit_falls_off_above_the_best_span() {
        for (sex, best) in [("m", 65.0), ("w", 60.0)] {
            let set = find(&format!("norm-grip-{sex}-40-44-mean-span")).expect("a set");
            let share = |span| set.falloff.expect("a falloff").share(span);
            assert_eq!(share(best - 5.0), 1.0);
            assert_eq!(share(best), 1.0);
            near!(share(best + 10.0), 0.9, epsilon = 1e-12);
            near!(share(best + 25.0), 0.75, epsilon = 1e-12);
            assert_eq!(share(best + 200.0), 0.0, "never below nothing");
        }
    }

    #[test]
    fn every_name_is_new_and_every_force_is_positive() {
        let mut seen = std::collections::HashSet::new();
        for name in names() {
            assert!(seen.insert(name), "{name} twice");
            let set = find(name).expect("itself");
            assert!(set.force > 0.0 && !set.source.is_empty() && !set.what.is_empty());
            assert!(name.starts_with(char::is_alphabetic));
        }
        assert!(seen.len() > 100);
    }
}
