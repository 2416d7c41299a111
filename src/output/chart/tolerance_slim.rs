//! The spread of one measure for a narrow screen, whose letters need not shrink there: the histogram below the shares.

use super::made::{SLIM, caption, histogram};
use super::plain::{SMALL, words};
use super::tolerance::{HEAD, LINE, about, open, rows, shares};
use crate::output::sentences::phrase::phrase_of;
use crate::output::sentences::tolerance::titled;
use crate::output::svg::labels::{lines, shorten};
use crate::report::ToleranceReport;

/// Font size of the title, and from one of its lines to the next.
const TITLE: [f64; 2] = [13.0, 17.0];
/// From the lower edge of the bars to the histogram: what the bars are in, and the limits, stand between.
const BETWEEN: f64 = 40.0;
/// Height of the histogram.
const TALL: f64 = 84.0;
/// From its axis to the first line of the caption.
const BELOW: f64 = 38.0;

/// The picture of a measure (by index); `None` where there is no such measure.
pub(in crate::output) fn tolerance_slim(
    report: &ToleranceReport,
    measure: usize,
    id: &str,
) -> Option<String> {
    let m = report.measures.get(measure)?;
    let room = SLIM.width - 2.0 * HEAD;
    // Broken as if a little larger: the title is bold.
    let title = lines(&titled(m, &report.units), 1.12 * TITLE[0], room);
    let below = lines(&caption(m, report.samples), SMALL, room);
    let first = 14.0 + TITLE[1] * title.len() as f64;
    let top = first + rows(m) + BETWEEN;
    let under = top + TALL + BELOW;
    let name = phrase_of(&m.name, &report.units);
    let size = [SLIM.width, under + LINE * below.len() as f64];
    let mut out = open(size, id, &name, &about(report));
    for (k, line) in title.iter().enumerate() {
        let at = [HEAD, 20.0 + TITLE[1] * k as f64];
        words(&mut out, at, line, TITLE[0], true, "start");
    }
    shares(&mut out, m, &SLIM, first);
    let limits = histogram(&mut out, m, report.samples, &SLIM, [top, top + TALL]);
    let limits = shorten(&limits, SMALL, false, room);
    words(&mut out, [HEAD, top - 12.0], &limits, SMALL, false, "start");
    for (k, line) in below.iter().enumerate() {
        let at = [HEAD, under + LINE * k as f64];
        words(&mut out, at, line, SMALL, false, "start");
    }
    Some(out.finish())
}
