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

/// One blue from light to dark, for what has an order; the lightest has a contrast of 3 to white.
const SHADES: [&str; 12] = [
    "#4a97cd", "#438dc2", "#3c84b8", "#357aad", "#2f71a2", "#296898", "#245f8d", "#1e5682",
    "#194e77", "#14456c", "#0f3d62", "#0a3557",
];

fn pick(list: &[&'static str], index: usize) -> &'static str {
    list.get(index % list.len()).copied().unwrap_or_default()
}

/// The pen of the curve with this index; 60 differ.
pub(super) fn curve(index: usize) -> Pen {
    Pen {
        colour: pick(&COLOURS, index),
        width: 1.9,
        dash: pick(&DASHES, index),
    }
}

/// The pen of a grip, one of all that are shown. The longest has a full line; from four on they go from light to dark
/// with the length.
pub(super) fn grip(grips: &[f64], index: usize) -> Pen {
    let own = grips.get(index).copied().unwrap_or_default();
    let before = |k: usize, at: f64| at > own || (at == own && k > index);
    let longer = (grips.iter().enumerate())
        .filter(|(k, at)| before(*k, **at))
        .count();
    let last = grips.len().saturating_sub(1);
    Pen {
        dash: pick(&DASHES, longer),
        ..ordered(last.saturating_sub(longer), grips.len(), index)
    }
}

/// The pen of one of `count` curves that have an order; few of them have the colour of their `index`.
pub(super) fn ordered(rank: usize, count: usize, index: usize) -> Pen {
    let last = count.saturating_sub(1);
    let colour = match last {
        0..=2 => pick(&COLOURS, index),
        _ => pick(&SHADES, rank * (SHADES.len() - 1) / last),
    };
    Pen {
        colour,
        ..curve(index)
    }
}

/// Of a curve the part that the tool never reaches.
pub(super) fn beyond(pen: Pen) -> Pen {
    Pen {
        width: 0.5 * pen.width,
        ..pen
    }
}

/// Where more is needed than the hand's limit.
pub(super) const OVER: &str = "#b3261e";

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

    /// How bright a colour is, 0 to 1 (W3C, Web Content Accessibility Guidelines 2.2, "relative luminance").
    fn luminance(colour: &str) -> f64 {
        let part = |k: usize| {
            let c = f64::from(u8::from_str_radix(&colour[k..k + 2], 16).unwrap()) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                ((c + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
    }

    #[test]
    fn grips_go_from_light_to_dark_and_the_longest_is_a_full_line() {
        for count in [1, 2, 3, 4, 5, 8, 12, 30] {
            // From long to short: the order of the list does not matter.
            let grips: Vec<f64> = (0..count).map(|k| 200.0 - 5.0 * f64::from(k)).collect();
            let pens: Vec<Pen> = (0..grips.len()).map(|k| grip(&grips, k)).collect();
            assert_eq!(pens[0].dash, "", "{count}");
            for (k, pen) in pens.iter().enumerate() {
                assert!(!pens[..k].contains(pen), "{count}: {k}");
                assert!(
                    1.05 / (luminance(pen.colour) + 0.05) >= 3.0,
                    "{}",
                    pen.colour
                );
                assert!(pen.colour != INK && pen.colour != "#000000", "{count}");
            }
            if count > 3 {
                let bright: Vec<f64> = pens.iter().map(|p| luminance(p.colour)).collect();
                assert!(
                    bright.is_sorted() && bright[0] < 0.5 * bright[bright.len() - 1],
                    "{count}"
                );
            }
        }
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
