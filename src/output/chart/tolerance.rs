//! `tolerance` as bars and histograms.

use super::made::{Across, NARROW, WIDE, caption, failing, histogram};
use super::palette::curve;
use super::plain::{SMALL, bar, hollow, words};
use crate::output::sentences::phrase::phrase_of;
use crate::output::sentences::tolerance::{COLOURS, share, titled};
use crate::output::svg::labels::{shorten, shorten_middle, text_width};
use crate::output::svg::writer::{READERS_FONTS, Sheet, Svg};
use crate::output::text::{clean, significant};
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::{MeasureSpread, ToleranceReport};

/// Least distance of text from the edges of the page.
const EDGE: f64 = 8.0;
const HEAD: f64 = 16.0;
/// Shares that are drawn of each measure.
const SHARES: usize = 6;
/// Measures that have a picture: as many as a printed page holds.
const PICTURES: usize = 6;
/// What the two fills of the shares mean.
const FILLS: &str = "bars: change of the measure when a dimension is larger by its tolerance; filled: greater, hollow: \
                     less";
const ROW: f64 = 20.0;
/// From a line of the caption to the next.
const LINE: f64 = 15.0;
/// Where the first measure begins.
const TOP: f64 = 94.0;

/// For each measure: its greatest shares as ranked bars, and beside them the histogram of the
/// samples with the demand's limits and those that fail. Which most of them fail stand first, and those after the
/// first six are only counted: what is drawn fits a page.
/// `id`: start of the ids in the file, for pages that hold several charts.
///
/// # Errors
/// When a number of the report is not finite.
pub fn tolerance_chart(report: &ToleranceReport, id: &str) -> Result<String, OutputError> {
    check_finite(report)?;
    let mut measures: Vec<&MeasureSpread> = report.measures.iter().collect();
    measures.sort_by_key(|m| std::cmp::Reverse(failing(m, report.samples)));
    let (shown, others) = measures.split_at(measures.len().min(PICTURES));
    let block = |m: &MeasureSpread| 76.0 + rows(m);
    let rest = others_met(others, report);
    let foot = if rest.is_some() { ROW } else { 0.0 };
    let height = TOP + shown.iter().map(|m| block(m)).sum::<f64>() + foot;
    let title = format!("Tolerances: {}", clean(&report.tool));
    let about = format!(
        "For {} of {} measures the greatest shares of the dimensions, and a histogram of {} samples.",
        shown.len(),
        report.measures.len(),
        report.samples
    );
    let mut out = open([WIDE.width, height], id, &title, &about);
    let name = shorten(&clean(&report.tool), 18.0, true, WIDE.width - HEAD - EDGE);
    words(&mut out, [HEAD, 28.0], &name, 18.0, true, "start");
    let mut sub = format!(
        "shares of the dimensions (±), and {} samples, {}",
        report.samples, report.spread
    );
    if let Some(met) = report.all_met {
        let share = share(met, report.samples);
        sub.push_str(&format!(
            "; {share} meet every demand that is read off them ({met})"
        ));
    }
    words(&mut out, [HEAD, 48.0], &sub, SMALL, false, "start");
    words(&mut out, [HEAD, 64.0], COLOURS, SMALL, false, "start");
    words(&mut out, [HEAD, 80.0], FILLS, SMALL, false, "start");
    let mut y = TOP;
    for m in shown {
        draw(&mut out, m, report, (&WIDE, y));
        y += block(m);
    }
    if let Some(rest) = rest {
        words(&mut out, [HEAD, y + 4.0], &rest, SMALL, true, "start");
    }
    Ok(out.finish())
}

/// What is to be said of the measures that have no picture: how many of the samples are good in each of them at
/// least.
fn others_met(others: &[&MeasureSpread], report: &ToleranceReport) -> Option<String> {
    let worst = others.iter().map(|m| failing(m, report.samples)).max()?;
    let count = others.len();
    Some(match worst {
        0 => format!("and {count} more: all met"),
        _ => format!(
            "and {count} more, each met by at least {} of {} samples",
            report.samples.saturating_sub(worst),
            report.samples
        ),
    })
}

/// The same for one measure (by index), for half a page and without a heading; `None` where there is no such measure.
#[must_use]
pub fn tolerance_panel(report: &ToleranceReport, measure: usize, id: &str) -> Option<String> {
    let m = report.measures.get(measure)?;
    let about = format!(
        "The greatest shares of the dimensions, and a histogram of {} samples.",
        report.samples
    );
    let more = LINE * (captions(m, report.samples, &NARROW).len() as f64 - 1.0).max(0.0);
    let mut out = open(
        [NARROW.width, 68.0 + rows(m) + more],
        id,
        &phrase_of(&m.name, &report.units),
        &about,
    );
    draw(&mut out, m, report, (&NARROW, -6.0));
    Some(out.finish())
}

/// What the picture shows: in one line, or where half a page has no room for it in several that break between what is
/// said.
fn captions(m: &MeasureSpread, samples: usize, across: &Across) -> Vec<String> {
    let room = across.spread[1] - HEAD;
    let all = caption(m, samples);
    let mut out: Vec<String> = Vec::new();
    for piece in all.split("; ") {
        match out.last_mut() {
            Some(line)
                if across.width >= WIDE.width
                    || text_width(&format!("{line}; {piece}"), SMALL, false) <= room =>
            {
                line.push_str(&format!("; {piece}"));
            }
            _ => out.push(piece.to_owned()),
        }
    }
    let fitted = out.iter().map(|line| shorten(line, SMALL, false, room));
    fitted.collect()
}

/// Height of the bars of a measure.
fn rows(m: &MeasureSpread) -> f64 {
    ROW * m.shares.len().clamp(5, SHARES) as f64
}

fn draw(out: &mut Svg, m: &MeasureSpread, report: &ToleranceReport, (across, top): (&Across, f64)) {
    let ([left, bars_end], right) = (across.shares, across.spread[1]);
    let first = top + 34.0;
    let limits = histogram(
        out,
        m,
        report.samples,
        across,
        [first, first + rows(m) - 8.0],
    );
    let room = right - HEAD - text_width(&limits, SMALL, false) - 2.0 * EDGE;
    let title = shorten(&titled(m, &report.units), 13.0, true, room);
    words(out, [HEAD, top + 20.0], &title, 13.0, true, "start");
    words(out, [right, top + 20.0], &limits, SMALL, false, "end");
    let below = captions(m, report.samples, across);
    for (k, line) in below.iter().enumerate() {
        let at = [right, first + rows(m) + 27.0 + LINE * k as f64];
        words(out, at, line, SMALL, false, "end");
    }
    if !m.unit.is_empty() {
        let at = [left, first + rows(m) + 8.0];
        words(
            out,
            at,
            &format!("change, {}", m.unit),
            SMALL,
            false,
            "start",
        );
    }
    let greatest = m.shares.first().map_or(0.0, |s| s.1.abs());
    for (k, (name, share)) in m.shares.iter().take(SHARES).enumerate() {
        let y = first + ROW * k as f64;
        let length = if greatest > 0.0 {
            (bars_end - left) * share.abs() / greatest
        } else {
            0.0
        };
        let name = shorten_middle(&clean(name), SMALL, false, left - 2.0 * EDGE);
        words(out, [left - EDGE, y + 12.0], &name, SMALL, false, "end");
        let colour = curve(0).colour;
        match *share < 0.0 {
            true => hollow(out, [left, y + 1.0], [length, 13.0], colour),
            false => bar(out, [left, y + 1.0], [length, 13.0], colour),
        }
        let number = significant(*share).replace('-', "\u{2212}");
        let at = [left + length + 6.0, y + 12.0];
        words(out, at, &number, SMALL, false, "start");
    }
}

fn open(size: [f64; 2], id: &str, title: &str, about: &str) -> Svg {
    let mut svg = Svg::new(&Sheet {
        size,
        unit: "",
        fonts: READERS_FONTS,
        id: &format!("{id}-"),
        title,
        about,
    });
    svg.paper();
    svg
}
