//! `tolerance` for the terminal, as CSV, and as bars and histograms.

use super::labels::shorten;
use super::svg_backend::{self, escaped};
use super::text::{clean, figures, right, trimmed, wrap};
use super::{OutputError, ticks::Ticks};
use crate::report::{MeasureSpread, ToleranceReport};
use std::fmt::Write;

/// Shares that are printed and drawn for each measure.
const SHARES: usize = 8;

/// The study as text, 80 columns wide.
#[must_use]
pub fn tolerance_text(report: &ToleranceReport) -> String {
    let mut lines = vec![
        clean(&report.tool),
        clean(&report.file),
        format!(
            "{} dimensions vary; {} samples, seed {}, {}",
            report.varied.len(),
            report.samples,
            report.seed,
            report.spread
        ),
    ];
    for measure in &report.measures {
        lines.push(String::new());
        self::measure(report, measure, &mut lines);
    }
    if let Some(met) = report.all_met {
        lines.push(String::new());
        lines.push(format!(
            "All demands together: met by {met} of {} samples ({} %)",
            report.samples,
            trimmed((1e4 * met as f64 / report.samples.max(1) as f64).round() / 100.0)
        ));
    }
    for note in &report.notes {
        lines.extend(wrap("Note: ", &clean(note), 80, 6));
    }
    lines.push(String::new());
    lines.join("\n")
}

fn measure(report: &ToleranceReport, m: &MeasureSpread, lines: &mut Vec<String>) {
    let unit = &m.unit;
    let loaded = m
        .loaded
        .filter(|l| (l - m.nominal).abs() > 1e-9 * m.nominal.abs().max(1e-9));
    let loaded = loaded.map_or_else(String::new, |v| {
        format!(", with play taken up {}", figures(v))
    });
    lines.extend(wrap(
        "",
        &format!(
            "{}: {} {unit} as drawn{loaded}",
            clean(&m.name),
            figures(m.nominal)
        ),
        80,
        2,
    ));
    if let (Some(worst), Some(root)) = (m.worst_case, m.root_sum_square) {
        lines.push(format!(
            "  worst case ± {} {unit}; root-sum-square ± {} {unit}",
            figures(worst),
            figures(root)
        ));
    } else {
        let names: Vec<String> = m.without_share.iter().map(|n| clean(n)).collect();
        lines.extend(wrap(
            "  ",
            &format!(
                "no worst case and no root-sum-square: there is no such number a little to either side of {}",
                names.join(", ")
            ),
            80,
            2,
        ));
    }
    let greatest = m.shares.first().map_or(0.0, |s| s.1.abs());
    for (name, share) in m
        .shares
        .iter()
        .take(SHARES)
        .filter(|s| s.1.abs() > 0.005 * greatest)
    {
        let bar = "#".repeat((24.0 * share.abs() / greatest).round() as usize);
        lines.push(format!(
            "    {:<24}{} {unit}  {bar}",
            clean(name),
            right(&figures(*share), 11)
        ));
    }
    if let (Some(mean), Some(deviation)) = (m.mean, m.deviation) {
        lines.push(format!(
            "  samples: mean {}, standard deviation {} {unit}",
            figures(mean),
            figures(deviation)
        ));
        let pairs = report.percentiles.iter().zip(&m.at_percentiles);
        let words: Vec<String> = pairs
            .map(|(p, v)| format!("{p} %: {}", figures(*v)))
            .collect();
        lines.extend(wrap("  ", &words.join("   "), 80, 2));
    }
    if let Some(met) = m.met {
        let wanted = match (m.min, m.max) {
            (Some(min), Some(max)) => format!("{} to {}", figures(min), figures(max)),
            (Some(min), None) => format!("at least {}", figures(min)),
            (None, Some(max)) => format!("at most {}", figures(max)),
            (None, None) => String::new(),
        };
        let share = 100.0 * met as f64 / report.samples.max(1) as f64;
        lines.push(format!(
            "  {wanted} {unit}: met by {met} of {} samples ({share:.2} %)",
            report.samples
        ));
    }
    for (why, count) in &m.failed {
        lines.push(format!("  {count} samples: the tool {why}"));
    }
}

/// One line for each measure and dimension.
///
/// # Errors
/// When the library that writes CSV gives up.
pub fn tolerance_csv(report: &ToleranceReport) -> Result<String, OutputError> {
    let fail = |e: csv::Error| OutputError::Writer(e.to_string());
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer
        .write_record(["measure", "unit", "dimension", "share"])
        .map_err(fail)?;
    for m in &report.measures {
        for (name, share) in &m.shares {
            writer
                .write_record([&m.name, &m.unit, name, &format!("{share:.9}")])
                .map_err(fail)?;
        }
        for (name, value) in [
            ("worst case", m.worst_case),
            ("root-sum-square", m.root_sum_square),
        ] {
            let value = value.map_or_else(String::new, |value| format!("{value:.9}"));
            writer
                .write_record([&m.name, &m.unit, name, &value])
                .map_err(fail)?;
        }
    }
    let bytes = writer
        .into_inner()
        .map_err(|e| OutputError::Writer(e.to_string()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

const WIDTH: f64 = 960.0;
const LEFT: f64 = 200.0;
const BARS_END: f64 = 430.0;
const HISTOGRAM: [f64; 2] = [540.0, 930.0];
const ROW: f64 = 20.0;
const BLUE: &str = "#0072B2";

/// For each measure: its greatest shares as ranked bars, and beside them the histogram of the
/// samples with the demand's limits.
/// `id`: start of the ids in the file, for pages that hold several charts.
#[must_use]
pub fn tolerance_chart(report: &ToleranceReport, id: &str) -> String {
    let block = |m: &MeasureSpread| 76.0 + ROW * m.shares.len().clamp(5, SHARES) as f64;
    let height = 64.0 + report.measures.iter().map(block).sum::<f64>();
    let title = format!("Tolerances: {}", clean(&report.tool));
    let about = format!(
        "For each of {} measures the greatest shares of the dimensions, and a histogram of {} samples.",
        report.measures.len(),
        report.samples
    );
    let mut out = svg_backend::open(WIDTH, height, id, &title, &about);
    words(
        &mut out,
        [16.0, 28.0],
        &clean(&report.tool),
        18.0,
        true,
        "start",
    );
    let sub = format!(
        "shares of the dimensions (±), and {} samples, {}",
        report.samples, report.spread
    );
    words(&mut out, [16.0, 48.0], &sub, 12.0, false, "start");
    let mut y = 64.0;
    for m in &report.measures {
        draw(&mut out, m, y);
        y += block(m);
    }
    out.push_str(svg_backend::CLOSE);
    out
}

/// The same for one measure (by index), without a heading; `None` where there is no such measure.
#[must_use]
pub fn tolerance_panel(report: &ToleranceReport, measure: usize, id: &str) -> Option<String> {
    let m = report.measures.get(measure)?;
    let height = 44.0 + ROW * m.shares.len().clamp(5, SHARES) as f64;
    let about = format!(
        "The greatest shares of the dimensions, and a histogram of {} samples.",
        report.samples
    );
    let mut out = svg_backend::open(WIDTH, height, id, &clean(&m.name), &about);
    draw(&mut out, m, -12.0);
    out.push_str(svg_backend::CLOSE);
    Some(out)
}

fn draw(out: &mut String, m: &MeasureSpread, top: f64) {
    let unit = if m.unit.is_empty() {
        String::new()
    } else {
        format!(", {}", m.unit)
    };
    words(
        out,
        [16.0, top + 20.0],
        &format!("{}{unit}", clean(&m.name)),
        13.0,
        true,
        "start",
    );
    let greatest = m.shares.first().map_or(0.0, |s| s.1.abs());
    for (k, (name, share)) in m.shares.iter().take(SHARES).enumerate() {
        let y = top + 34.0 + ROW * k as f64;
        let length = if greatest > 0.0 {
            (BARS_END - LEFT) * share.abs() / greatest
        } else {
            0.0
        };
        words(
            out,
            [LEFT - 8.0, y + 12.0],
            &clean(name),
            12.0,
            false,
            "end",
        );
        let _ = writeln!(
            out,
            "<rect x=\"{LEFT:.1}\" y=\"{:.1}\" width=\"{length:.1}\" height=\"13\" fill=\"{BLUE}\"/>",
            y + 1.0
        );
        words(
            out,
            [LEFT + length + 6.0, y + 12.0],
            &figures(*share),
            12.0,
            false,
            "start",
        );
    }
    histogram(
        out,
        m,
        [
            top + 34.0,
            top + 34.0 + ROW * m.shares.len().clamp(5, SHARES) as f64 - 8.0,
        ],
    );
}

fn histogram(out: &mut String, m: &MeasureSpread, rows: [f64; 2]) {
    let (Some(first), Some(last)) = (m.edges.first(), m.edges.last()) else {
        return;
    };
    let limits = [m.min, m.max].into_iter().flatten();
    // A limit far from all samples is named, not drawn, so that the bars keep their room.
    let near = |v: &f64| *v > first - 1.5 * (last - first) && *v < last + 1.5 * (last - first);
    let drawn: Vec<f64> = limits.clone().filter(near).collect();
    let low = drawn.iter().fold(*first, |a, &b| a.min(b));
    let high = drawn.iter().fold(*last, |a, &b| a.max(b));
    if !(high > low) {
        return;
    }
    let x = |v: f64| HISTOGRAM[0] + (HISTOGRAM[1] - HISTOGRAM[0]) * (v - low) / (high - low);
    let most = m.bars.iter().copied().max().unwrap_or(1).max(1) as f64;
    for (bar, edge) in m.bars.iter().zip(m.edges.windows(2)) {
        let tall = (rows[1] - rows[0]) * *bar as f64 / most;
        let _ = writeln!(
            out,
            "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{tall:.1}\" fill=\"#9AA5AE\"/>",
            x(edge[0]),
            rows[1] - tall,
            (x(edge[1]) - x(edge[0])).max(0.1)
        );
    }
    let _ = writeln!(
        out,
        "<path d=\"M{:.1} {:.1}H{:.1}\" stroke=\"#222222\" stroke-width=\"1\"/>",
        HISTOGRAM[0], rows[1], HISTOGRAM[1]
    );
    let ticks = Ticks::over(low, high, 4);
    for value in ticks.at.iter().copied().filter(|v| *v >= low && *v <= high) {
        words(
            out,
            [x(value), rows[1] + 16.0],
            &ticks.text(value),
            12.0,
            false,
            "middle",
        );
    }
    for limit in limits {
        if drawn.contains(&limit) {
            let _ = writeln!(
                out,
                "<path d=\"M{:.1} {:.1}V{:.1}\" stroke=\"#D55E00\" stroke-width=\"2\" stroke-dasharray=\"6 3\"/>",
                x(limit),
                rows[0] - 4.0,
                rows[1]
            );
        }
    }
    let wanted = match (m.min, m.max) {
        (Some(min), Some(max)) => format!("limits {} and {} (dashed)", figures(min), figures(max)),
        (Some(min), None) => format!("at least {} (dashed where near)", figures(min)),
        (None, Some(max)) => format!("at most {} (dashed where near)", figures(max)),
        (None, None) => return,
    };
    words(
        out,
        [HISTOGRAM[1], rows[0] - 14.0],
        &wanted,
        12.0,
        false,
        "end",
    );
}

fn words(out: &mut String, at: [f64; 2], text: &str, size: f64, bold: bool, anchor: &str) {
    let room = if anchor == "end" {
        at[0] - 8.0
    } else {
        WIDTH - at[0] - 8.0
    };
    let text = shorten(text, size, bold, room);
    let weight = if bold { " font-weight=\"bold\"" } else { "" };
    let _ = writeln!(
        out,
        "<text x=\"{:.1}\" y=\"{:.1}\" font-size=\"{size}\"{weight} text-anchor=\"{anchor}\" fill=\"#222222\">{}</text>",
        at[0],
        at[1],
        escaped(&text)
    );
}
