//! Counts of made tools to the last tool, and play in a stack-up by hand.

use crate::cli::Bench;
use crate::level::level;
use serde_json::Value;

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

/// Gap at the open end of a lever on one pin, its nose 40 mm from the pin, with these demands on it.
fn lever(more: &str) -> Bench {
    let tables = format!("[tolerances]\n\"lever.nose.y\" = 0.2\n{more}");
    Bench::with(&level(40.0, "", "[100]", "", &tables))
}

fn demand(bound: &str) -> String {
    format!("[[demand]]\nmeasure = \"gap\"\nat = \"open\"\n{bound}\n")
}

fn study(bench: &Bench, samples: usize) -> Value {
    let samples = samples.to_string();
    bench
        .run(&["tolerance", "tool.toml", "--samples", &samples, "--json"])
        .json()
}

/// Of 2001 tools in order the value at 95 per cent is that of number 1900, counted from 0 (R. J. Hyndman and Y. Fan,
/// "Sample quantiles in statistical packages", *Am. Statist.* 50 (1996), definition 7: place p (n - 1)). So 1901
/// tools are at or below it, and as many at or above that at 5 per cent; 1801 are between.
#[test]
fn samples_that_meet_a_demand_are_counted_to_the_last() {
    let samples = 2001;
    let first = study(&lever(&demand("min = 0")), samples);
    let gap = &first["measures"][0];
    assert_eq!(gap["met"], samples);
    let at = |k: usize| gap["at_percentiles"][k].as_f64().unwrap();
    let percent: Vec<f64> = list(&first["percentiles"])
        .iter()
        .filter_map(Value::as_f64)
        .collect();
    assert_eq!((percent[1], percent[5]), (5.0, 95.0));
    // Far below what is between two tools (some 3e-4 mm), far above rounding.
    let hair = 1e-6;
    let (low, high) = (at(1) - hair, at(5) + hair);
    for (bounds, met, all) in [
        (vec![format!("max = {high:?}")], vec![1901], 1901),
        (vec![format!("min = {low:?}")], vec![1901], 1901),
        (
            vec![format!("min = {low:?}\nmax = {high:?}")],
            vec![1801],
            1801,
        ),
        (
            vec![format!("min = {:?}", low + 2.0 * hair)],
            vec![1900],
            1900,
        ),
    ] {
        let bench = lever(&bounds.iter().map(|b| demand(b)).collect::<String>());
        let report = study(&bench, samples);
        let found: Vec<u64> = list(&report["measures"])
            .iter()
            .filter_map(|m| m["met"].as_u64())
            .collect();
        assert_eq!(found, met, "{bounds:?}");
        assert_eq!(report["all_met"], all, "{bounds:?}");
        let made = &report["verdict"]["made"];
        assert_eq!(
            (made["met"].as_u64(), made["samples"].as_u64()),
            (Some(all), Some(2001))
        );
        assert_eq!(made["cause_tools"].as_u64(), Some(2001 - all));
        // The same in words: the share in whole per cent, and the count.
        let text = bench
            .run(&["tolerance", "tool.toml", "--samples", "2001"])
            .out;
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let said = format!("{:.0} % of the sampled tools", 100.0 * all as f64 / 2001.0);
        assert!(flat.contains(&said), "{said}: {flat}");
        assert!(flat.contains(&format!("({all} of 2001)")), "{all}: {flat}");
    }
}

/// By hand: with the handle held the gap is that of the nose, at an angle a with sin a = 5 / 40. A nose higher by t
/// lifts it by t cos a; a heel that lies anywhere in a hole wider by c lifts it by up to c / 2. With t = 0.2 and c = 0.3
/// that is 0.198 and 0.150 mm: worst case 0.348, root-sum-square 0.249. Without the play it would be 0.198.
#[test]
fn play_of_a_pin_is_in_both_stack_ups() {
    let bench = lever(&format!(
        "[joints]\nclearance = 0.3\n[work]\nneed = [[2, 0], [0, 100]]\n{}",
        demand("min = 0")
    ));
    let report = study(&bench, 100);
    let gap = &report["measures"][0];
    let number = |key: &str| gap[key].as_f64().unwrap();
    let nose = 0.2 * (1.0 - (5.0_f64 / 40.0).powi(2)).sqrt();
    let near = |value: f64, wanted: f64| assert!((value - wanted).abs() < 1e-6, "{value} {wanted}");
    let shares = list(&gap["shares"]);
    assert_eq!(
        (shares[0][0].as_str(), shares[1][0].as_str()),
        (Some("lever.nose.y"), Some("play of heel"))
    );
    near(shares[0][1].as_f64().unwrap().abs(), nose);
    near(shares[1][1].as_f64().unwrap(), 0.15);
    near(number("worst_case"), nose + 0.15);
    near(number("root_sum_square"), nose.hypot(0.15));
    let text = bench
        .run(&["tolerance", "tool.toml", "--samples", "100"])
        .out;
    assert!(text.contains("0.348") && text.contains("0.249"), "{text}");
}
