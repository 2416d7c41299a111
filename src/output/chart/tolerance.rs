//! `tolerance` as bars and histograms.

use super::palette::curve;
use super::ticks::Ticks;
use crate::output::sentences::tolerance::{SHARES, titled};
use crate::output::svg::backend::{self, escaped};
use crate::output::svg::labels::{shorten, text_width};
use crate::output::svg::pen::INK;
use crate::output::text::{clean, figures, range};
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::{MeasureSpread, ToleranceReport, UnitNames};
use std::fmt::Write;

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
    let mut out = backend::open(WIDTH, height, id, &title, &about);
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
    out.push_str(backend::CLOSE);
    Ok(out)
}

/// The same for one measure (by index), without a heading; `None` where there is no such measure.
#[must_use]
pub fn tolerance_panel(report: &ToleranceReport, measure: usize, id: &str) -> Option<String> {
    let m = report.measures.get(measure)?;
    let about = format!(
        "The greatest shares of the dimensions, and a histogram of {} samples.",
        report.samples
    );
    let mut out = backend::open(WIDTH, 44.0 + rows(m), id, &clean(&m.name), &about);
    draw(&mut out, m, &report.units, -12.0);
    out.push_str(backend::CLOSE);
    Some(out)
}

/// Height of the bars of a measure.
fn rows(m: &MeasureSpread) -> f64 {
    ROW * m.shares.len().clamp(5, SHARES) as f64
}

fn draw(out: &mut String, m: &MeasureSpread, units: &UnitNames, top: f64) {
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
        let _ = writeln!(
            out,
            "<rect x=\"{LEFT:.1}\" y=\"{:.1}\" width=\"{length:.1}\" height=\"13\" fill=\"{colour}\"/>",
            y + 1.0
        );
        let number = figures(*share).replace('-', "\u{2212}");
        let at = [LEFT + length + 6.0, y + 12.0];
        words(out, at, &number, SMALL, false, "start");
    }
}

/// The samples as bars between the heights `rows`, with the limits of the demand; says what the
/// limits are and where they stand.
fn histogram(out: &mut String, m: &MeasureSpread, rows: [f64; 2]) -> String {
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
    for (bar, edge) in m.bars.iter().zip(m.edges.windows(2)) {
        let tall = (rows[1] - rows[0]) * *bar as f64 / most;
        let _ = writeln!(
            out,
            "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{tall:.1}\" fill=\"{SAMPLES}\"/>",
            x(edge[0]),
            rows[1] - tall,
            (x(edge[1]) - x(edge[0])).max(0.1)
        );
    }
    let _ = writeln!(
        out,
        "<path d=\"M{:.1} {:.1}H{:.1}\" stroke=\"{INK}\" stroke-width=\"1\"/>",
        HISTOGRAM[0], rows[1], HISTOGRAM[1]
    );
    let ticks = Ticks::over(low, high, 4);
    for value in ticks.at.iter().copied().filter(|v| *v >= low && *v <= high) {
        let number = ticks.text(value);
        let farthest = WIDTH - EDGE - 0.5 * text_width(&number, SMALL, false);
        let at = [x(value).min(farthest), rows[1] + 16.0];
        words(out, at, &number, SMALL, false, "middle");
    }
    for limit in &drawn {
        let _ = writeln!(
            out,
            "<path d=\"M{:.1} {:.1}V{:.1}\" stroke=\"{}\" stroke-width=\"2\" stroke-dasharray=\"6 3\"/>",
            x(*limit),
            rows[0] - 4.0,
            rows[1],
            curve(1).colour
        );
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

fn words(out: &mut String, at: [f64; 2], text: &str, size: f64, bold: bool, anchor: &str) {
    let weight = if bold { " font-weight=\"bold\"" } else { "" };
    let _ = writeln!(
        out,
        "<text x=\"{:.1}\" y=\"{:.1}\" font-size=\"{size}\"{weight} text-anchor=\"{anchor}\" fill=\"{INK}\">{}</text>",
        at[0],
        at[1],
        escaped(text)
    );
}
