//! Colours and dashes of the curves.
//!
//! Five colours of Okabe and Ito's set (M. Okabe, K. Ito, "Color Universal Design", 2008) that keep
//! apart for colour-blind readers and have a contrast of at least 3 to white. Every curve has a
//! dash pattern too: up to twelve curves, as many as a picture of variants has, are told apart in a
//! black-and-white print.

use crate::output::svg::pen::{GREY, INK, Pen};

/// Grid lines.
pub(super) const GRID: &str = "#e2e2e2";
/// Axis lines.
pub(super) const AXIS: &str = "#8a8a8a";

const COLOURS: [&str; 5] = ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#000000"];
/// One period is no longer than the sample beside the name of a curve.
const DASHES: [&str; 12] = [
    "",
    "9 3",
    "2 2.5",
    "12 3 2 3",
    "5 2",
    "18 4",
    "9 3 2 3 2 3",
    "4 5",
    "6 2 6 7",
    "2 6",
    "2 2 2 7",
    "8 7",
];

/// What the work needs: heavier than any curve.
pub(super) const WORK: Pen = Pen {
    colour: INK,
    width: 3.4,
    dash: "",
};

/// The most that the hand may be asked for.
pub(super) const LIMIT: Pen = Pen {
    colour: INK,
    width: 2.2,
    dash: "14 4 3 4",
};

/// A place where something stands still.
pub(super) const TURNING: Pen = Pen {
    colour: GREY,
    width: 1.0,
    dash: "4 3",
};

/// The pen of the curve with this index; 60 differ.
pub(super) fn curve(index: usize) -> Pen {
    let pick = |list: &[&'static str]| list.get(index % list.len()).copied().unwrap_or_default();
    Pen {
        colour: pick(&COLOURS),
        width: 1.9,
        dash: pick(&DASHES),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::MOST_CURVES;
    use crate::output::chart::layout::SAMPLE;
    use std::collections::BTreeSet;

    #[test]
    fn no_two_pens_are_alike() {
        let pens: Vec<Pen> = (0..60).map(curve).collect();
        for (index, pen) in pens.iter().enumerate() {
            assert!(!pens[..index].contains(pen), "{index}");
        }
        let all: BTreeSet<_> = pens[..MOST_CURVES].iter().map(|p| p.dash).collect();
        assert_eq!(all.len(), MOST_CURVES, "told apart without colour");
        assert!(!all.contains(WORK.dash) || curve(0).width < 0.6 * WORK.width);
        assert!(!all.contains(LIMIT.dash) && !all.contains(TURNING.dash));
    }

    #[test]
    fn a_sample_shows_a_whole_period() {
        for dash in DASHES {
            let period: f64 = dash
                .split_whitespace()
                .map(|d| d.parse::<f64>().unwrap())
                .sum();
            assert!(period <= SAMPLE, "{dash}");
        }
    }
}
