//! Where things stand on the page of a chart; all lengths are pixels.

use super::panel::Panel;
use crate::output::svg::labels::{lines, shorten, text_width};

/// Left of the plot: numbers of the axis, and the names of the rows below it.
pub(super) const LEFT: f64 = 108.0;
/// From the plot to the text of an end label: leader and sample of the line.
pub(super) const LEADER: f64 = 50.0;
/// Between neighbouring end labels.
pub(super) const LABEL_STEP: f64 = 16.0;
/// Font size of labels and axis numbers.
pub(super) const SMALL: f64 = 12.0;
/// Length of the sample of a line beside its name, pixels.
pub(super) const SAMPLE: f64 = 26.0;
/// Height of a row of labels above the first plot.
pub(super) const TURNING_STEP: f64 = 14.0;
/// Least distance of text from the edges of the page.
pub(super) const EDGE: f64 = 16.0;

/// Font size of the title of a panel.
pub(super) const TITLE: f64 = 13.0;
/// Between the lines of a title.
pub(super) const TITLE_STEP: f64 = 17.0;

/// Where the names of the lines stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Names {
    /// Right of the plot, each where its line ends.
    Beside,
    /// Above the plot, as many in a row as there is room for: where there is none beside it.
    Above,
}

/// Between two names in a row, pixels.
const NAMES_APART: f64 = 14.0;

/// Where the names of a panel's lines stand above its plot, each after a sample of its line: row and left end. A line
/// without a name is what the title says.
pub(super) fn rows(panel: &Panel, width: f64) -> Vec<(usize, f64)> {
    let (mut row, mut left) = (0, EDGE);
    let mut out = Vec::new();
    for line in panel.lines.iter().filter(|line| !line.label.is_empty()) {
        let wide = SAMPLE + 6.0 + text_width(&line.label, SMALL, line.kind.bold());
        if left > EDGE && left + wide > width - EDGE {
            (row, left) = (row + 1, EDGE);
        }
        out.push((row, left));
        left += wide + NAMES_APART;
    }
    out
}

/// The plot of a panel on the page, pixels.
pub(super) struct Frame {
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) top: f64,
    pub(super) bottom: f64,
    /// Base line of the panel's title.
    pub(super) title: f64,
    /// The title, in as many lines as it takes.
    pub(super) titles: Vec<String>,
    pub(super) names: Names,
}

impl Frame {
    /// Left edge of the title.
    pub(super) fn title_left(&self) -> f64 {
        match self.names {
            Names::Beside => self.left,
            Names::Above => EDGE,
        }
    }
}

/// The title of a panel: cut to one line beside the axis, broken into lines where the page is narrow.
pub(super) fn titles(text: &str, names: Names, width: f64) -> Vec<String> {
    match names {
        Names::Beside => vec![shorten(text, TITLE, true, width - LEFT - 6.0)],
        // Broken as if a little larger: the title is bold.
        Names::Above => lines(text, 1.12 * TITLE, width - 2.0 * EDGE),
    }
}

/// Pixels that the longest name of a line takes.
pub(super) fn labels_width(panels: &[Panel]) -> f64 {
    (panels.iter().flat_map(|p| &p.lines))
        .map(|line| text_width(&line.label, SMALL, line.kind.bold()))
        .fold(0.0, f64::max)
}

/// The most of a page that the end labels get: enough for a grip with its peak beside text.
const LABELS: f64 = 0.48;

/// Right edge of the plots on a page of this width: beyond it stand the end labels.
pub(super) fn right_edge(labels: f64, width: f64) -> f64 {
    width - (LEADER + labels + EDGE).min(LABELS * width)
}
