//! The page of a chart: heading, panels one below the other, the axis across them, notes.

use plotters::prelude::IntoDrawingArea;

use super::draw::{Canvas, Drawn};
use super::layout::{
    EDGE, Frame, LABEL_STEP, LEFT, Names, SMALL, TITLE_STEP, TURNING_STEP, rows, titles,
};
use super::panel::Panel;
use super::turnings::TurningMark;
use crate::output::error::OutputError;
use crate::output::svg::backend::SvgBackend;
use crate::output::svg::labels::lines;
use crate::output::svg::pen::{GREY, INK};
use crate::output::svg::shapes::Anchor;
use crate::output::svg::writer::{READERS_FONTS, Sheet, Svg};

/// Font size of notes.
const FINE: f64 = 11.0;
const NOTE_STEP: f64 = 15.0;
/// What one row of numbers below the plots takes, and the names of the ends.
pub(super) const FOOT: f64 = 72.0;
const SUBTITLE_STEP: f64 = 16.0;

/// What stands on the page; all lengths in pixels.
pub(super) struct ChartPage<'a> {
    pub(super) width: f64,
    /// Right edge of the plots, see [`right_edge`].
    pub(super) right: f64,
    /// Start of the ids in the file.
    pub(super) id: &'a str,
    /// Title and description for readers that cannot see it.
    pub(super) title: &'a str,
    pub(super) description: &'a str,
    /// Empty where it is said beside the chart.
    pub(super) name: &'a str,
    /// Lines below the name.
    pub(super) subtitles: &'a [String],
    pub(super) panels: &'a [Panel],
    pub(super) names: Names,
    /// Least heights of the plots, the last one for all that follow.
    pub(super) heights: &'a [f64],
    /// Where the axis across the plots ends; it begins at 0.
    pub(super) end: f64,
    /// Where it has faint upright lines through all plots.
    pub(super) upright: &'a [f64],
    /// What stands below the last plot takes so much, pixels.
    pub(super) foot: f64,
    pub(super) turnings: &'a [TurningMark],
    pub(super) notes: &'a [String],
}

/// A finished picture.
pub(in crate::output) struct Chart {
    pub(in crate::output) svg: String,
    /// Pixels.
    pub(in crate::output) height: f64,
    /// Where the plots of its panels stand.
    pub(super) frames: Vec<Frame>,
}

impl ChartPage<'_> {
    /// Draws the page; `axis` draws what stands below the last plot.
    pub(super) fn draw(
        &self,
        axis: impl FnOnce(&Canvas<'_, '_>, &Frame) -> Drawn,
    ) -> Result<Chart, OutputError> {
        let frames = self.frames();
        let Some((first, last)) = frames.first().zip(frames.last()) else {
            return Err(OutputError::NothingToDraw);
        };
        let room = self.width - 2.0 * EDGE;
        let notes: Vec<String> = (self.notes.iter())
            .flat_map(|note| lines(note, FINE, room))
            .collect();
        let notes_start = last.bottom + self.foot;
        let height = (notes_start + NOTE_STEP * notes.len() as f64).ceil();
        let mut svg = Svg::new(&Sheet {
            size: [self.width, height],
            unit: "",
            fonts: READERS_FONTS,
            id: &format!("{}-", self.id),
            title: self.title,
            about: self.description,
        });
        svg.paper();
        let root = SvgBackend::new(&mut svg, self.width, height).into_drawing_area();
        let canvas = Canvas::new(&root);
        let drawn = (|| {
            if !self.name.is_empty() {
                canvas.short((EDGE, 28.0), self.name, 18.0, true, INK, room)?;
            }
            for (line, text) in self.subtitles.iter().enumerate() {
                let y = self.head() + SUBTITLE_STEP * line as f64;
                canvas.short((EDGE, y), text, SMALL, false, GREY, room)?;
            }
            for (panel, frame) in self.panels.iter().zip(&frames) {
                canvas.panel(panel, frame, self.end, self.upright, self.turnings)?;
            }
            canvas.turning_labels(self.turnings, first)?;
            axis(&canvas, last)?;
            for (line, text) in notes.iter().enumerate() {
                let y = notes_start + NOTE_STEP * line as f64;
                canvas.words((EDGE, y), text, FINE, false, GREY, Anchor::Start)?;
            }
            root.present()
        })();
        drop(root);
        drawn.map_err(|e| OutputError::Writer(e.to_string()))?;
        let svg = svg.finish();
        Ok(Chart {
            svg,
            height,
            frames,
        })
    }

    /// Base line of the first line below the name.
    fn head(&self) -> f64 {
        if self.name.is_empty() { 16.0 } else { 48.0 }
    }

    /// Where the plots stand. The first has the labels of the turnings above it.
    fn frames(&self) -> Vec<Frame> {
        let marked = self.turnings.iter().map(|t| t.row + 1).max().unwrap_or(0);
        let mut strip = if marked > 0 {
            TURNING_STEP * marked as f64 + 4.0
        } else {
            0.0
        };
        let mut title = self.head() + 8.0 + SUBTITLE_STEP * self.subtitles.len() as f64;
        let mut frames = Vec::new();
        for (index, panel) in self.panels.iter().enumerate() {
            let least = self.heights.get(index).or(self.heights.last());
            let least = least.copied().unwrap_or_default();
            let (above, height) = match self.names {
                Names::Beside => {
                    let labels = LABEL_STEP * (panel.lines.len() + 1) as f64;
                    (0.0, least.max(labels))
                }
                Names::Above => {
                    let last = rows(panel, self.width).last().map_or(0, |(row, _)| row + 1);
                    (LABEL_STEP * last as f64 + 4.0, least)
                }
            };
            let titles = titles(&panel.title, self.names, self.width);
            let more = TITLE_STEP * titles.len().saturating_sub(1) as f64;
            let top = title + more + 14.0 + above + strip;
            let bottom = top + height;
            frames.push(Frame {
                left: LEFT,
                right: self.right,
                top,
                bottom,
                title,
                titles,
                names: self.names,
            });
            title = bottom + 36.0;
            strip = 0.0;
        }
        frames
    }
}
