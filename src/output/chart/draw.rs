//! Draws the parts of the chart: panels, end labels, the axis across the stroke.

use plotters::chart::ChartBuilder;
use plotters::coord::Shift;
use plotters::drawing::{DrawingArea, DrawingAreaErrorKind};
use std::convert::Infallible;

use super::layout::{
    Frame, LABEL_STEP, LEADER, Names, SAMPLE, SMALL, TITLE, TITLE_STEP, TURNING_STEP, rows,
};
use super::line::{Kind, Line};
use super::palette::{self, AXIS, GRID, TURNING};
use super::panel::Panel;
use super::polyline::{Point, pieces};
use super::ticks::Ticks;
use super::turnings::TurningMark;
use crate::output::svg::backend::{SvgBackend, TENTHS};
use crate::output::svg::labels::{shorten, spread};
use crate::output::svg::pen::{GREY, INK, Pen};
use crate::output::svg::shapes::{Anchor, Area, BoundMark, Curve, ReadingMark, StallMark, Words};

pub(super) type Drawn = Result<(), DrawingAreaErrorKind<Infallible>>;

/// The page, in pixels.
pub(super) struct Canvas<'a, 'b> {
    root: &'a DrawingArea<SvgBackend<'b>, Shift>,
}

/// A line's end and its label.
struct EndLabel<'a> {
    line: &'a Line,
    /// Last point that can be seen, pixels.
    end: Point,
}

fn tenths(pixels: f64) -> i32 {
    (pixels * TENTHS).round() as i32
}

fn at(point: Point) -> (i32, i32) {
    (tenths(point.0), tenths(point.1))
}

impl<'a, 'b> Canvas<'a, 'b> {
    pub(super) fn new(root: &'a DrawingArea<SvgBackend<'b>, Shift>) -> Self {
        Self { root }
    }

    /// One line of text on its base line.
    pub(super) fn words(
        &self,
        place: Point,
        text: &str,
        size: f64,
        bold: bool,
        colour: &'static str,
        anchor: Anchor,
    ) -> Drawn {
        self.root.draw(&Words {
            at: at(place),
            text: text.to_owned(),
            size,
            bold,
            colour,
            anchor,
        })
    }

    /// Text from the left, cut to the room there is.
    pub(super) fn short(
        &self,
        place: Point,
        text: &str,
        size: f64,
        bold: bool,
        colour: &'static str,
        room: f64,
    ) -> Drawn {
        let text = shorten(text, size, bold, room);
        self.words(place, &text, size, bold, colour, Anchor::Start)
    }

    pub(super) fn rule(&self, from: Point, to: Point, colour: &'static str, width: f64) -> Drawn {
        let pen = Pen {
            colour,
            width,
            dash: "",
        };
        self.root.draw(&Curve::line(at(from), at(to), pen, "rule"))
    }

    /// A panel with its axis, lines and end labels; the axis across it runs from 0 to `end`, with faint lines
    /// `upright` where it has a round number.
    pub(super) fn panel(
        &self,
        panel: &Panel,
        frame: &Frame,
        end: f64,
        upright: &[f64],
        turnings: &[TurningMark],
    ) -> Drawn {
        let room = frame.right - frame.left;
        for (line, title) in frame.titles.iter().enumerate() {
            let place = (frame.title_left(), frame.title + TITLE_STEP * line as f64);
            self.words(place, title, TITLE, true, INK, Anchor::Start)?;
        }
        let area = self.root.clone().shrink(
            at((frame.left, frame.top)),
            at((room, frame.bottom - frame.top)),
        );
        let mut chart =
            ChartBuilder::on(&area).build_cartesian_2d(0.0..end, panel.low..panel.high)?;
        let pixel = |point: &Point| {
            let (x, y) = chart.backend_coord(point);
            (f64::from(x) / TENTHS, f64::from(y) / TENTHS)
        };
        for value in &panel.ticks.at {
            let (_, y) = pixel(&(0.0, *value));
            let colour = if *value == 0.0 { AXIS } else { GRID };
            // At the lower edge the axis itself is drawn.
            if frame.bottom - y > 0.5 {
                self.rule((frame.left, y), (frame.right, y), colour, 1.0)?;
            }
            let number = panel.ticks.text(*value);
            self.words(
                (frame.left - 8.0, y + 4.0),
                &number,
                SMALL,
                false,
                GREY,
                Anchor::End,
            )?;
        }
        self.rule(
            (frame.left, frame.bottom),
            (frame.right, frame.bottom),
            AXIS,
            1.0,
        )?;
        let mut ends = Vec::new();
        for line in &panel.lines {
            let seen = pieces(&line.points, panel.low, panel.high);
            if let Some(end) = seen.last().and_then(|piece| piece.last()) {
                ends.push(EndLabel {
                    line,
                    end: pixel(end),
                });
            }
        }
        for x in upright {
            let x = frame.left + room * x / end;
            self.rule((x, frame.top), (x, frame.bottom), GRID, 1.0)?;
        }
        for mark in turnings {
            let line = Curve::line(
                (mark.place, panel.low),
                (mark.place, panel.high),
                TURNING,
                "turning",
            );
            chart.draw_series([line])?;
        }
        for line in &panel.lines {
            let [seen, beyond] = line
                .reached()
                .map(|points| pieces(points, panel.low, panel.high));
            match line.kind {
                Kind::Work => chart.draw_series(seen.iter().map(|piece| below(piece, panel)))?,
                Kind::Limit if panel.shows.hand() => {
                    chart.draw_series(seen.iter().filter_map(|piece| above(piece, panel)))?
                }
                _ => chart.draw_series(None::<Area<Point>>)?,
            };
            chart.draw_series([Curve::new(seen, line.pen, line.kind.class())])?;
            chart.draw_series([Curve::new(beyond, palette::beyond(line.pen), "beyond")])?;
        }
        let seen = |at: (f64, f64)| (panel.low..=panel.high).contains(&at.1);
        let measured = panel.measured.iter().filter(|m| seen(m.at));
        chart.draw_series(measured.map(|reading| ReadingMark {
            at: reading.at,
            colour: reading.colour,
        }))?;
        let demands = panel.demands.iter().filter(|d| seen(d.at));
        chart.draw_series(demands.map(|demand| BoundMark {
            at: demand.at,
            colour: demand.colour,
            lid: demand.lid,
            met: demand.met,
        }))?;
        let stalls = panel.stalls.iter().filter(|s| seen(s.at));
        chart.draw_series(stalls.map(|stall| StallMark {
            at: stall.at,
            colour: stall.colour,
        }))?;
        match frame.names {
            Names::Beside => self.end_labels(ends, frame),
            Names::Above => self.names_above(panel, frame),
        }
    }

    /// Names at the ends of the lines, each with a sample of its line, spread apart.
    fn end_labels(&self, mut ends: Vec<EndLabel<'_>>, frame: &Frame) -> Drawn {
        // Of several lines cut at the top the one that leaves first is the highest.
        ends.sort_by(|a, b| {
            a.end
                .1
                .total_cmp(&b.end.1)
                .then(a.end.0.total_cmp(&b.end.0))
        });
        let wanted: Vec<f64> = ends.iter().map(|e| e.end.1).collect();
        let places = spread(&wanted, LABEL_STEP, frame.top, frame.bottom);
        for (label, y) in ends.iter().zip(places) {
            self.name(label.line, (frame.right + LEADER - 6.0 - SAMPLE, y))?;
            if label.end.0 > frame.right - 1.0 {
                let from = (frame.right + 3.0, label.end.1);
                self.rule(from, (frame.right + 15.0, y), AXIS, 0.8)?;
            }
        }
        Ok(())
    }

    /// Names above the plot.
    fn names_above(&self, panel: &Panel, frame: &Frame) -> Drawn {
        let first = frame.title + TITLE_STEP * frame.titles.len() as f64 - 3.0;
        let named = panel.lines.iter().filter(|line| !line.label.is_empty());
        for (line, (row, left)) in named.zip(rows(panel, self.width())) {
            if !pieces(&line.points, panel.low, panel.high).is_empty() {
                self.name(line, (left, first + LABEL_STEP * row as f64))?;
            }
        }
        Ok(())
    }

    /// A sample of a line and its name behind it.
    fn name(&self, line: &Line, (left, y): Point) -> Drawn {
        let (end, bold) = (left + SAMPLE, line.kind.bold());
        let sample = Curve::line(at((left, y)), at((end, y)), line.pen, "sample");
        self.root.draw(&sample)?;
        let room = self.width() - end - 12.0;
        let text = shorten(&line.label, SMALL, bold, room);
        self.words((end + 6.0, y + 4.0), &text, SMALL, bold, INK, Anchor::Start)
    }

    /// Of the page.
    fn width(&self) -> f64 {
        f64::from(self.root.dim_in_pixel().0) / TENTHS
    }

    /// The labels of toggles and dead positions, above the first panel.
    pub(super) fn turning_labels(&self, marks: &[TurningMark], frame: &Frame) -> Drawn {
        for mark in marks.iter().filter(|m| !m.label.is_empty()) {
            let y = frame.top - 6.0 - TURNING_STEP * mark.row as f64;
            self.words((mark.x, y), &mark.label, SMALL, false, INK, Anchor::Middle)?;
        }
        Ok(())
    }

    /// A row of numbers below a plot whose left edge stands for one value and whose right edge for another, with
    /// its name; where a value stands.
    pub(super) fn values(
        &self,
        frame: &Frame,
        name: &str,
        [left, right]: [f64; 2],
    ) -> Result<impl Fn(f64) -> f64 + use<>, DrawingAreaErrorKind<Infallible>> {
        let (low, high) = (left.min(right), left.max(right));
        let (from, room) = (frame.left, frame.right - frame.left);
        let x = move |value: f64| from + room * (value - left) / (right - left);
        let ticks = Ticks::over(low, high, (room / 56.0).max(1.0) as usize);
        let row = frame.bottom + 19.0;
        self.row_name(frame, row, name)?;
        for value in &ticks.at {
            let at = x(*value);
            self.rule((at, frame.bottom), (at, frame.bottom + 5.0), AXIS, 1.0)?;
            self.words(
                (at, row),
                &ticks.text(*value),
                SMALL,
                false,
                INK,
                Anchor::Middle,
            )?;
        }
        Ok(x)
    }

    /// What the numbers of a row below a plot are, left of them.
    pub(super) fn row_name(&self, frame: &Frame, row: f64, name: &str) -> Drawn {
        let place = (frame.left - 26.0, row);
        self.words(place, name, 11.0, false, GREY, Anchor::End)
    }

    /// Which end of the stroke is which.
    pub(super) fn ends(&self, frame: &Frame, row: f64) -> Drawn {
        for (x, name) in [(frame.left, "open"), (frame.right, "shut")] {
            self.words((x, row), name, SMALL, true, INK, Anchor::Middle)?;
        }
        Ok(())
    }
}

/// The light area below the work's line.
fn below(piece: &[Point], panel: &Panel) -> Area<Point> {
    area(piece, panel.low.max(0.0), INK, 0.07)
}

/// The zone above the hand's limit.
fn above(piece: &[Point], panel: &Panel) -> Option<Area<Point>> {
    let room = piece.iter().any(|point| point.1 < panel.high);
    room.then(|| area(piece, panel.high, palette::OVER, 0.07))
}

/// What lies between a line and a level.
fn area(piece: &[Point], level: f64, colour: &'static str, opacity: f64) -> Area<Point> {
    let mut points = piece.to_vec();
    points.extend(piece.last().map(|p| (p.0, level)));
    points.extend(piece.first().map(|p| (p.0, level)));
    Area {
        points,
        colour,
        opacity,
    }
}
