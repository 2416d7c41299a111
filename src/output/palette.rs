//! Colours and dashes of the curves.
//!
//! Five colours of Okabe and Ito's set (M. Okabe, K. Ito, "Color Universal Design", 2008) that keep
//! apart for colour-blind readers and have a contrast of at least 3 to white. Every curve has a
//! dash pattern too, so that a black-and-white print tells them apart.

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pen {
    /// `#rrggbb`.
    pub(super) colour: &'static str,
    /// Pixels.
    pub(super) width: f64,
    /// `stroke-dasharray`, empty for a solid line.
    pub(super) dash: &'static str,
}

/// Text and the work.
pub(super) const INK: &str = "#1a1a1a";
/// Secondary text.
pub(super) const GREY: &str = "#555555";
/// Grid lines.
pub(super) const GRID: &str = "#e2e2e2";
/// Axis lines.
pub(super) const AXIS: &str = "#8a8a8a";

const COLOURS: [&str; 5] = ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#000000"];
const DASHES: [&str; 5] = ["", "9 3", "2 2.5", "12 3 2 3", "5 2"];

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

/// The pen of the curve with this index; 25 differ.
pub(super) fn curve(index: usize) -> Pen {
    let pick = |list: [&'static str; 5], at: usize| list.get(at % 5).copied().unwrap_or_default();
    Pen {
        colour: pick(COLOURS, index),
        width: 1.9,
        dash: pick(DASHES, index + index / 5),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twelve_curves_have_twelve_pens() {
        let pens: Vec<Pen> = (0..12).map(curve).collect();
        for (index, pen) in pens.iter().enumerate() {
            assert!(!pens[..index].contains(pen), "{index}");
        }
        let first_five: std::collections::BTreeSet<_> = pens[..5].iter().map(|p| p.dash).collect();
        assert_eq!(first_five.len(), 5, "told apart without colour");
    }
}
