//! What text, chart and page have in common when they tell of tolerances.

use super::phrase::phrase_of;
use crate::output::text::fixed;
use crate::report::{MeasureSpread, UnitNames};

/// Shares that are printed and drawn for each measure.
pub(in crate::output) const SHARES: usize = 8;

/// What colours mean in the pictures of samples.
pub(in crate::output) const COLOURS: &str = "orange: beyond the limits; black on white: no value there; the column \
     beside a histogram: all samples";

/// The measure with its unit: in brackets, since its name may end in a grip.
pub(in crate::output) fn titled(m: &MeasureSpread, units: &UnitNames) -> String {
    let name = phrase_of(&m.name, units);
    if m.unit.is_empty() {
        name
    } else {
        format!("{name} ({})", m.unit)
    }
}

/// The value with clearance taken up, where it is another than as drawn: samples lie about it.
pub(in crate::output) fn taken_up(m: &MeasureSpread) -> Option<f64> {
    let moved = |loaded: &f64| (loaded - m.nominal).abs() > 1e-9 * m.nominal.abs().max(1e-9);
    m.loaded.filter(moved)
}

/// How many of the sampled tools meet a demand, to stand in a table: a whole percentage, which says
/// nothing of none or all where some do and some do not.
pub(in crate::output) fn share(count: usize, of: usize) -> String {
    match count {
        0 => "none".to_owned(),
        n if n >= of => "all".to_owned(),
        n => percent(n as f64 / of as f64),
    }
}

/// The same as a sentence: how many of the sampled tools meet `what`.
pub(in crate::output) fn sampled_tools_meet(what: &str, count: usize, of: usize) -> String {
    match count {
        0 => format!("none of the {of} sampled tools meets {what}"),
        n if n >= of => format!("all {of} sampled tools meet {what}"),
        n => format!(
            "{} of the sampled tools meet {what} ({n} of {of})",
            percent(n as f64 / of as f64)
        ),
    }
}

/// A share above nothing and below the whole as a whole percentage.
pub(in crate::output) fn percent(share: f64) -> String {
    match 100.0 * share {
        p if p < 1.0 => "less than 1 %".to_owned(),
        p if p > 99.0 => "more than 99 %".to_owned(),
        p => format!("{} %", fixed(p, 0)),
    }
}

/// The first letter as at the beginning of a sentence.
pub(in crate::output) fn begun(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_says_none_and_all_of_none_and_all_only() {
        for (count, of, words) in [
            (0, 5000, "none"),
            (1, 5000, "less than 1 %"),
            (49, 5000, "less than 1 %"),
            (50, 5000, "1 %"),
            (2040, 5000, "41 %"),
            (4950, 5000, "99 %"),
            (4951, 5000, "more than 99 %"),
            (4999, 5000, "more than 99 %"),
            (5000, 5000, "all"),
        ] {
            assert_eq!(share(count, of), words, "{count} of {of}");
        }
    }

    #[test]
    fn sampled_tools_meet_a_demand_in_a_sentence() {
        let say = |count| begun(&sampled_tools_meet("every demand", count, 1000));
        assert_eq!(say(0), "None of the 1000 sampled tools meets every demand");
        assert_eq!(
            say(408),
            "41 % of the sampled tools meet every demand (408 of 1000)"
        );
        assert_eq!(say(1000), "All 1000 sampled tools meet every demand");
    }
}
