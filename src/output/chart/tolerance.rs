//! `tolerance` as bars and histograms.

use super::palette::curve;
use super::ticks::Ticks;
use crate::output::sentences::phrase::phrase_of;
use crate::output::sentences::tolerance::{SHARES, titled};
use crate::output::svg::labels::{shorten, text_width};
use crate::output::svg::pen::INK;
use crate::output::svg::writer::{READERS_FONTS, Sheet, Svg, Way};
use crate::output::text::{clean, figures, range};
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::{MeasureSpread, ToleranceReport, UnitNames};

const WIDTH: f64 = 960.0;
/// Least distance of text from the edges of the page.
const EDGE: f64 = 8.0;
const HEAD: f64 = 16.0;
const LEFT: f64 = 200.0;
const BARS_END: f64 = 430.0;
const HISTOGRAM: [f64; 2] = [540.0, 930.0];
const ROW: f64 = 20.0;
const SMALL: f64 = 12.0;
const SAMPLES: &str = "#9aa5ae";

/// For each measure: its greatest shares as ranked bars, and beside them the histogram of the
/// samples with the demand's limits.
/// `id`: start of the ids in the file, for pages that hold several charts.
///
/// # Errors
/// When a number of the report is not finite.
pub fn tolerance_chart(report: &ToleranceReport, id: &str) -> Result<String, OutputError> {
    check_finite(report)?;
    let block = |m: &MeasureSpread| 76.0 + rows(m);
    let height = 64.0 + report.measures.iter().map(block).sum::<f64>();
    let title = format!("Tolerances: {}", clean(&report.tool));
    let about = format!(
        "For each of {} measures the greatest shares of the dimensions, and a histogram of {} samples.",
        report.measures.len(),
        report.samples
    );
    let mut out = open(height, id, &title, &about);
    let name = shorten(&clean(&report.tool), 18.0, true, WIDTH - HEAD - EDGE);
    words(&mut out, [HEAD, 28.0], &name, 18.0, true, "start");
    let sub = format!(
        "shares of the dimensions (±), and {} samples, {}",
        report.samples, report.spread
    );
    words(&mut out, [HEAD, 48.0], &sub, SMALL, false, "start");
    let mut y = 64.0;
    for m in &report.measures {
        draw(&mut out, m, &report.units, y);
        y += block(m);
    }
    Ok(out.finish())
}

/// The same for one measure (by index), without a heading; `None` where there is no such measure.
#[must_use]
pub fn tolerance_panel(report: &ToleranceReport, measure: usize, id: &str) -> Option<String> {
    let m = report.measures.get(measure)?;
    let about = format!(
        "The greatest shares of the dimensions, and a histogram of {} samples.",
        report.samples
    );
    let mut out = open(
        44.0 + rows(m),
        id,
        &phrase_of(&m.name, &report.units),
        &about,
    );
    draw(&mut out, m, &report.units, -12.0);
    Some(out.finish())
}

/// Height of the bars of a measure.
fn rows(m: &MeasureSpread) -> f64 {
    ROW * m.shares.len().clamp(5, SHARES) as f64
}

fn draw(out: &mut Svg, m: &MeasureSpread, units: &UnitNames, top: f64) {
    let first = top + 34.0;
    let limits = histogram(out, m, [first, first + rows(m) - 8.0]);
    let room = HISTOGRAM[1] - HEAD - text_width(&limits, SMALL, false) - 2.0 * EDGE;
    let title = shorten(&titled(m, units), 13.0, true, room);
    words(out, [HEAD, top + 20.0], &title, 13.0, true, "start");
    words(
        out,
        [HISTOGRAM[1], top + 20.0],
        &limits,
        SMALL,
        false,
        "end",
    );
    let greatest = m.shares.first().map_or(0.0, |s| s.1.abs());
    for (k, (name, share)) in m.shares.iter().take(SHARES).enumerate() {
        let y = first + ROW * k as f64;
        let length = if greatest > 0.0 {
            (BARS_END - LEFT) * share.abs() / greatest
        } else {
            0.0
        };
        let name = shorten(&clean(name), SMALL, false, LEFT - 2.0 * EDGE);
        words(out, [LEFT - EDGE, y + 12.0], &name, SMALL, false, "end");
        let colour = curve(0).colour;
        bar(out, [LEFT, y + 1.0], [length, 13.0], colour);
        let number = figures(*share).replace('-', "\u{2212}");
        let at = [LEFT + length + 6.0, y + 12.0];
        words(out, at, &number, SMALL, false, "start");
    }
}

/// The samples as bars between the heights `rows`, with the limits of the demand; says what the
/// limits are and where they stand.
fn histogram(out: &mut Svg, m: &MeasureSpread, rows: [f64; 2]) -> String {
    let (Some(first), Some(last)) = (m.edges.first(), m.edges.last()) else {
        return String::new();
    };
    let limits: Vec<f64> = [m.min, m.max].into_iter().flatten().collect();
    // A limit far from all samples is named, not drawn, so that the bars keep their room.
    let near = |v: &f64| *v > first - 1.5 * (last - first) && *v < last + 1.5 * (last - first);
    let drawn: Vec<f64> = limits.iter().copied().filter(near).collect();
    let low = drawn.iter().fold(*first, |a, &b| a.min(b));
    let high = drawn.iter().fold(*last, |a, &b| a.max(b));
    if !(high > low) {
        return String::new();
    }
    let x = |v: f64| HISTOGRAM[0] + (HISTOGRAM[1] - HISTOGRAM[0]) * (v - low) / (high - low);
    let most = m.bars.iter().copied().max().unwrap_or(1).max(1) as f64;
    for (count, edge) in m.bars.iter().zip(m.edges.windows(2)) {
        let tall = (rows[1] - rows[0]) * *count as f64 / most;
        let size = [(x(edge[1]) - x(edge[0])).max(0.1), tall];
        bar(out, [x(edge[0]), rows[1] - tall], size, SAMPLES);
    }
    let base = out.element("path");
    let base = base.way(&straight([HISTOGRAM[0], rows[1]], [HISTOGRAM[1], rows[1]]));
    base.with("stroke", INK).number("stroke-width", 1.0).end();
    let ticks = Ticks::over(low, high, 4);
    for value in ticks.at.iter().copied().filter(|v| *v >= low && *v <= high) {
        let number = ticks.text(value);
        let farthest = WIDTH - EDGE - 0.5 * text_width(&number, SMALL, false);
        let at = [x(value).min(farthest), rows[1] + 16.0];
        words(out, at, &number, SMALL, false, "middle");
    }
    for limit in &drawn {
        let path = out.element("path");
        let path = path.way(&straight([x(*limit), rows[0] - 4.0], [x(*limit), rows[1]]));
        let path = path.with("stroke", curve(1).colour);
        let path = path.number("stroke-width", 2.0);
        path.with("stroke-dasharray", "6 3").end();
    }
    let place = match drawn.len() {
        0 => "beyond the axis",
        n if n == limits.len() => "dashed",
        _ => "dashed where on the axis",
    };
    range(m.min, m.max, figures).map_or_else(String::new, |limits| {
        format!("required: {limits} ({place})")
    })
}

fn open(height: f64, id: &str, title: &str, about: &str) -> Svg {
    let mut svg = Svg::new(&Sheet {
        size: [WIDTH, height],
        unit: "",
        fonts: READERS_FONTS,
        id: &format!("{id}-"),
        title,
        about,
    });
    svg.paper();
    svg
}

/// To a tenth of a pixel, which is finer than any screen.
fn tenths(lengths: [f64; 2]) -> [f64; 2] {
    lengths.map(|v| (10.0 * v).round() / 10.0)
}

fn straight(from: [f64; 2], to: [f64; 2]) -> Way {
    let mut way = Way::spaced();
    way.piece([tenths(from), tenths(to)]);
    way
}

fn bar(out: &mut Svg, corner: [f64; 2], size: [f64; 2], colour: &str) {
    let rect = out.element("rect").at(["x", "y"], tenths(corner));
    let rect = rect.at(["width", "height"], tenths(size));
    rect.with("fill", colour).end();
}

fn words(out: &mut Svg, at: [f64; 2], text: &str, size: f64, bold: bool, anchor: &str) {
    let element = out.element("text").at(["x", "y"], tenths(at));
    let element = element.number("font-size", size);
    let element = element.maybe("font-weight", bold.then_some("bold"));
    let element = element.with("text-anchor", anchor).with("fill", INK);
    element.text(text);
}
