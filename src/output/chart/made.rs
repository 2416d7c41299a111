//! What the made tools come to: their histogram, and how many of them fail.

use super::palette::curve;
use super::plain::{SMALL, bar, hatch, rule, words};
use super::ticks::Ticks;
use crate::output::sentences::tolerance::sampled_tools_meet;
use crate::output::svg::labels::text_width;
use crate::output::svg::pen::{INK, Pen};
use crate::output::svg::writer::Svg;
use crate::output::text::{figures, range};
use crate::report::MeasureSpread;

/// Where things stand across a picture, px.
pub(super) struct Across {
    pub(super) width: f64,
    /// Where the bars of the shares begin, and where the longest ends.
    pub(super) shares: [f64; 2],
    /// From the histogram's left end to the right end of the column beside it.
    pub(super) spread: [f64; 2],
    /// Right end of the histogram beside a column.
    beside: f64,
    /// The column of all tools.
    column: [f64; 2],
}

/// Across a page of its own.
pub(super) const WIDE: Across = Across {
    width: 960.0,
    shares: [250.0, 460.0],
    spread: [540.0, 930.0],
    beside: 872.0,
    column: [902.0, 926.0],
};
/// Across half a page, where the letters of a wide picture would be too small to read.
pub(super) const NARROW: Across = Across {
    width: 640.0,
    shares: [186.0, 290.0],
    spread: [356.0, 626.0],
    beside: 568.0,
    column: [598.0, 622.0],
};
/// Least height of a piece of the column, px: one tool of very many must be seen.
const LEAST: f64 = 2.0;
/// Tools within the limits, or read where nothing is demanded.
const WITHIN: &str = "#9aa5ae";
const PAPER: &str = "#ffffff";

const AXIS: Pen = Pen {
    colour: INK,
    width: 1.0,
    dash: "",
};

/// Samples that have a value beyond the limits of the demand, and such as have none.
fn failed(m: &MeasureSpread, samples: usize) -> [usize; 2] {
    let without: usize = m.failed.iter().map(|(_, count)| count).sum();
    let beyond = m.met.map_or(0, |met| samples.saturating_sub(met + without));
    [beyond, without]
}

/// How many samples fail.
pub(super) fn failing(m: &MeasureSpread, samples: usize) -> usize {
    failed(m, samples).iter().sum()
}

/// The samples as bars between the heights `rows`, with the limits of the demand, and beside them a column
/// of all samples where there are some that may fail. Says what the limits are and where they stand.
pub(super) fn histogram(
    out: &mut Svg,
    m: &MeasureSpread,
    samples: usize,
    across: &Across,
    rows: [f64; 2],
) -> String {
    let with_column = m.met.is_some() || failing(m, samples) > 0;
    if with_column {
        column(out, m, samples, across.column, rows);
    }
    let [start, whole] = across.spread;
    let end = if with_column { across.beside } else { whole };
    let limits: Vec<f64> = [m.min, m.max].into_iter().flatten().collect();
    let drawn = bars(out, m, &limits, [start, end], rows);
    let place = match drawn {
        0 => "beyond the axis",
        n if n == limits.len() => "dashed",
        _ => "dashed where on the axis",
    };
    range(m.min, m.max, figures).map_or_else(String::new, |limits| {
        format!("required: {limits} ({place})")
    })
}

/// Writes the bars over the ends `across`; how many of the limits stand on the axis.
fn bars(
    out: &mut Svg,
    m: &MeasureSpread,
    limits: &[f64],
    across: [f64; 2],
    rows: [f64; 2],
) -> usize {
    let Some(([low, high], drawn)) = axis(m) else {
        return 0;
    };
    if !(high > low) {
        return 0;
    }
    let x = |v: f64| across[0] + (across[1] - across[0]) * (v - low) / (high - low);
    let most = m.bars.iter().copied().max().unwrap_or(1).max(1) as f64;
    for (count, edge) in m.bars.iter().zip(m.edges.windows(2)) {
        let tall = (rows[1] - rows[0]) * *count as f64 / most;
        // A bar that a limit cuts is in two pieces.
        let [from, to] = [edge[0], edge[1]];
        let mut cuts = vec![from];
        cuts.extend(
            limits
                .iter()
                .copied()
                .filter(|cut| *cut > from && *cut < to),
        );
        cuts.push(to);
        cuts.sort_by(f64::total_cmp);
        for piece in cuts.windows(2) {
            let corner = [x(piece[0]), rows[1] - tall];
            let size = [(x(piece[1]) - x(piece[0])).max(0.1), tall];
            let middle = 0.5 * (piece[0] + piece[1]);
            let beyond =
                m.min.is_some_and(|min| middle < min) || m.max.is_some_and(|max| middle > max);
            if beyond {
                beyond_limits(out, corner, size);
            } else {
                bar(out, corner, size, WITHIN);
            }
        }
    }
    rule(out, [across[0], rows[1]], [across[1], rows[1]], &AXIS);
    let ticks = Ticks::over(low, high, 4);
    for value in ticks.at.iter().copied().filter(|v| *v >= low && *v <= high) {
        let number = ticks.text(value);
        let farthest = across[1] + 22.0 - 0.5 * text_width(&number, SMALL, false);
        let at = [x(value).min(farthest), rows[1] + 16.0];
        words(out, at, &number, SMALL, false, "middle");
    }
    if on_axis(m) {
        let top = [x(m.nominal), rows[0] - 4.0];
        rule(out, top, [x(m.nominal), rows[1]], &AXIS);
    }
    let limit = Pen {
        colour: curve(1).colour,
        width: 2.0,
        dash: "6 3",
    };
    for at in &drawn {
        rule(out, [x(*at), rows[0] - 4.0], [x(*at), rows[1]], &limit);
    }
    drawn.len()
}

/// From where to where the axis of the bars goes, and the limits on it.
fn axis(m: &MeasureSpread) -> Option<([f64; 2], Vec<f64>)> {
    let (first, last) = m.edges.first().zip(m.edges.last())?;
    // A limit far from all samples is named, not drawn, so that the bars keep their room.
    let near = |v: &f64| *v > first - 1.5 * (last - first) && *v < last + 1.5 * (last - first);
    let limits = [m.min, m.max].into_iter().flatten();
    let drawn: Vec<f64> = limits.filter(near).collect();
    let low = drawn.iter().fold(*first, |a, &b| a.min(b));
    let high = drawn.iter().fold(*last, |a, &b| a.max(b));
    Some(([low, high], drawn))
}

/// Whether the tool as drawn stands on the axis.
fn on_axis(m: &MeasureSpread) -> bool {
    axis(m).is_some_and(|([low, high], _)| m.nominal >= low && m.nominal <= high)
}

/// All samples as one column: those that fail for want of a value at the top, those beyond the limits below
/// them, the others at the bottom.
fn column(
    out: &mut Svg,
    m: &MeasureSpread,
    samples: usize,
    [left, right]: [f64; 2],
    rows: [f64; 2],
) {
    let [beyond, without] = failed(m, samples);
    let height = rows[1] - rows[0];
    let tall = |count: usize| match count {
        0 => 0.0,
        _ => (height * count as f64 / samples.max(1) as f64).max(LEAST),
    };
    let width = right - left;
    bar(out, [left, rows[0]], [width, height], WITHIN);
    let (above, below) = (tall(without), tall(beyond));
    if without > 0 {
        let (corner, size) = ([left, rows[0]], [width, above]);
        bar(out, corner, size, PAPER);
        hatch(out, corner, size, INK);
    }
    if beyond > 0 {
        beyond_limits(out, [left, rows[0] + above], [width, below]);
    }
    let middle = 0.5 * (left + right);
    words(out, [middle, rows[1] + 16.0], "all", SMALL, false, "middle");
}

fn beyond_limits(out: &mut Svg, corner: [f64; 2], size: [f64; 2]) {
    bar(out, corner, size, curve(1).colour);
    hatch(out, corner, size, PAPER);
}

/// What the picture shows, counted.
pub(super) fn caption(m: &MeasureSpread, samples: usize) -> String {
    let place = match (on_axis(m), m.edges.is_empty()) {
        (true, _) => " (thin line)",
        // Play taken up may shift all samples off it.
        (false, false) => " (beyond the axis)",
        (false, true) => "",
    };
    let mut text = format!("as drawn {}{place}", figures(m.nominal));
    let [beyond, _] = failed(m, samples);
    if let Some(met) = m.met {
        text.push_str(&format!("; {}", sampled_tools_meet("it", met, samples)));
        if beyond > 0 {
            text.push_str(&format!(", {beyond} beyond"));
        }
    }
    for why in &m.without_value {
        text.push_str(&format!("; {why}"));
    }
    text
}
