//! `tolerance` for the terminal.

use crate::output::sentences::tolerance::{SHARES, sampled_tools_meet, taken_up};
use crate::output::sentences::verdict::first_lines;
use crate::output::text::{
    aligned, clean, columns, figures, joined, left, range, right, significant, wrap,
};
use crate::report::{MeasureSpread, ToleranceReport};

/// Columns of the longest bar, where there is room for it.
const BAR: usize = 24;

/// The study as text, at most `width` columns wide where words and numbers allow it.
#[must_use]
pub fn tolerance_text(report: &ToleranceReport, width: usize) -> String {
    let about = format!(
        "{} dimensions vary; {} samples, seed {}, {}",
        report.varied.len(),
        report.samples,
        report.seed,
        report.spread
    );
    let mut lines = wrap("", &clean(&report.tool), width, 2);
    lines.extend(wrap("", &clean(&report.file), width, 2));
    lines.extend(wrap("", &about, width, 2));
    for sentence in first_lines(&report.verdict, &report.units) {
        lines.extend(wrap("", &sentence.painted(), width, 2));
    }
    for measure in &report.measures {
        lines.push(String::new());
        self::measure(report, measure, width, &mut lines);
    }
    for note in &report.notes {
        lines.extend(wrap("Note: ", &clean(note), width, 6));
    }
    joined(&lines)
}

fn measure(report: &ToleranceReport, m: &MeasureSpread, width: usize, lines: &mut Vec<String>) {
    let with_unit = |number: String| format!("{number} {}", m.unit).trim_end().to_owned();
    let loaded = taken_up(m).map_or_else(String::new, |v| {
        format!("; {} with clearance taken up", figures(v))
    });
    lines.extend(wrap(
        "",
        &format!(
            "{}: {} nominal{loaded}",
            clean(&m.name),
            with_unit(figures(m.nominal))
        ),
        width,
        2,
    ));
    if let (Some(worst), Some(root)) = (m.worst_case, m.root_sum_square) {
        let text = format!(
            "worst case ± {}; root-sum-square ± {}",
            with_unit(figures(worst)),
            with_unit(figures(root))
        );
        lines.extend(wrap("  ", &text, width, 4));
    } else {
        let names: Vec<String> = m.without_share.iter().map(|n| clean(n)).collect();
        lines.extend(wrap(
            "  ",
            &format!(
                "no worst case and no root-sum-square: there is no such number a little to either side of {}",
                names.join(", ")
            ),
            width,
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
        let row = format!(
            "    {}{} {}  ",
            left(&clean(name), 24),
            right(&significant(*share), 11),
            m.unit
        );
        let longest = BAR.min(width.saturating_sub(columns(&row)));
        let bar = "#".repeat((longest as f64 * share.abs() / greatest).round() as usize);
        lines.push(row + &bar);
    }
    if let (Some(mean), Some(deviation)) = (m.mean, m.deviation) {
        let text = format!(
            "samples: mean {}, standard deviation {}",
            figures(mean),
            with_unit(figures(deviation))
        );
        lines.extend(wrap("  ", &text, width, 4));
        let percents = report.percentiles.iter().map(|p| format!("{p} %"));
        let rows = [
            std::iter::once("percentile".to_owned())
                .chain(percents)
                .collect::<Vec<_>>(),
            std::iter::once(m.unit.to_owned())
                .chain(m.at_percentiles.iter().map(|v| figures(*v)))
                .collect(),
        ];
        lines.extend(
            aligned(&rows, &[0])
                .iter()
                .map(|line| format!("    {line}")),
        );
    }
    if let Some(met) = m.met {
        let wanted = range(m.min, m.max, figures).unwrap_or_default();
        let text = format!(
            "{}: {}",
            with_unit(wanted),
            sampled_tools_meet("it", met, report.samples)
        );
        lines.extend(wrap("  ", &text, width, 4));
    }
    for text in &m.without_value {
        lines.extend(wrap("  ", text, width, 4));
    }
}
