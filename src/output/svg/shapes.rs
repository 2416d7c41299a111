//! Shapes that plotters places and our backend draws: curves with dashes, areas, text, marks.
//!
//! Each shape takes points either in the units of a chart's axes or in tenths of a pixel.

use plotters::element::{Drawable, PointCollection};
use plotters_backend::BackendCoord;

use super::backend::{Never, SvgBackend, px};
use super::pen::Pen;
use super::writer::Way;

/// A line of one or several pieces, drawn as one element.
pub(in crate::output) struct Curve<C> {
    points: Vec<C>,
    ends: Vec<usize>,
    pen: Pen,
    class: &'static str,
}

impl<C> Curve<C> {
    pub(in crate::output) fn new(pieces: Vec<Vec<C>>, pen: Pen, class: &'static str) -> Self {
        let (mut points, mut ends) = (Vec::new(), Vec::new());
        for piece in pieces {
            points.extend(piece);
            ends.push(points.len());
        }
        Self {
            points,
            ends,
            pen,
            class,
        }
    }

    pub(in crate::output) fn line(from: C, to: C, pen: Pen, class: &'static str) -> Self {
        Self::new(vec![vec![from, to]], pen, class)
    }
}

/// A filled shape without an outline.
pub(in crate::output) struct Area<C> {
    pub(in crate::output) points: Vec<C>,
    pub(in crate::output) colour: &'static str,
    pub(in crate::output) opacity: f64,
}

/// Which point of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::output) enum Anchor {
    Start,
    Middle,
    End,
}

/// One line of text; its place is on the base line.
pub(in crate::output) struct Words<C> {
    pub(in crate::output) at: C,
    pub(in crate::output) text: String,
    pub(in crate::output) size: f64,
    pub(in crate::output) bold: bool,
    pub(in crate::output) colour: &'static str,
    pub(in crate::output) anchor: Anchor,
}

/// A ring with a cross in it.
pub(in crate::output) struct StallMark<C> {
    pub(in crate::output) at: C,
    pub(in crate::output) colour: &'static str,
}

/// A small cross, as a reading is marked by hand.
pub(in crate::output) struct ReadingMark<C> {
    pub(in crate::output) at: C,
    pub(in crate::output) colour: &'static str,
}

/// A bound of a force: a lid whose lower edge is the most that is allowed, or a floor whose upper edge is the least.
/// Hollow where it is kept, filled and crossed out where not.
pub(in crate::output) struct BoundMark<C> {
    pub(in crate::output) at: C,
    pub(in crate::output) colour: &'static str,
    pub(in crate::output) lid: bool,
    pub(in crate::output) met: bool,
}

macro_rules! one_point {
    ($($shape:ident),*) => {
        $(impl<'a, C> PointCollection<'a, C> for &'a $shape<C> {
            type Point = &'a C;
            type IntoIter = std::iter::Once<&'a C>;
            fn point_iter(self) -> Self::IntoIter {
                std::iter::once(&self.at)
            }
        })*
    };
}

macro_rules! many_points {
    ($($shape:ident),*) => {
        $(impl<'a, C> PointCollection<'a, C> for &'a $shape<C> {
            type Point = &'a C;
            type IntoIter = std::slice::Iter<'a, C>;
            fn point_iter(self) -> Self::IntoIter {
                self.points.iter()
            }
        })*
    };
}

one_point!(Words, StallMark, ReadingMark, BoundMark);
many_points!(Curve, Area);

impl<C> Drawable<SvgBackend<'_>> for Curve<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        points: I,
        backend: &mut SvgBackend<'_>,
        _: (u32, u32),
    ) -> Result<(), Never> {
        let places: Vec<[f64; 2]> = points.map(px).collect();
        let (mut way, mut start) = (Way::spaced(), 0);
        for &end in &self.ends {
            way.piece(places.get(start..end).unwrap_or_default().iter().copied());
            start = end;
        }
        if way.is_empty() {
            return Ok(());
        }
        let pen = self.pen;
        let path = backend.svg.element("path").with("class", self.class);
        let path = path.way(&way).with("fill", "none");
        let path = path.with("stroke", pen.colour);
        let path = path.number("stroke-width", pen.width);
        // One thin straight line has no corners, and no ends that could be seen.
        if places.len() == 2 && pen.width <= 1.0 && pen.dash.is_empty() {
            path.end();
            return Ok(());
        }
        let path = path.with("stroke-linejoin", "round");
        match pen.dash {
            "" => path.with("stroke-linecap", "round").end(),
            dash => path.with("stroke-dasharray", dash).end(),
        }
        Ok(())
    }
}

impl<C> Drawable<SvgBackend<'_>> for Area<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        points: I,
        backend: &mut SvgBackend<'_>,
        _: (u32, u32),
    ) -> Result<(), Never> {
        let mut way = Way::spaced();
        way.piece(points.map(px));
        way.close();
        let path = backend.svg.element("path").with("class", "area");
        let path = path.way(&way).with("fill", self.colour);
        path.number("fill-opacity", self.opacity).end();
        Ok(())
    }
}

impl<C> Drawable<SvgBackend<'_>> for Words<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        mut points: I,
        backend: &mut SvgBackend<'_>,
        _: (u32, u32),
    ) -> Result<(), Never> {
        let Some(at) = points.next() else {
            return Ok(());
        };
        let anchor = match self.anchor {
            Anchor::Start => None,
            Anchor::Middle => Some("middle"),
            Anchor::End => Some("end"),
        };
        let text = backend.svg.element("text").at(["x", "y"], px(at));
        let text = text.number("font-size", self.size);
        let text = text.with("fill", self.colour);
        let text = text.maybe("font-weight", self.bold.then_some("600"));
        text.maybe("text-anchor", anchor).text(&self.text);
        Ok(())
    }
}

impl<C> Drawable<SvgBackend<'_>> for StallMark<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        mut points: I,
        backend: &mut SvgBackend<'_>,
        _: (u32, u32),
    ) -> Result<(), Never> {
        let Some(at) = points.next() else {
            return Ok(());
        };
        let [x, y] = px(at);
        let mut cross = Way::spaced();
        for [a, b, c, d] in [[-2.8, -2.8, 2.8, 2.8], [-2.8, 2.8, 2.8, -2.8]] {
            cross.piece([[x + a, y + b], [x + c, y + d]]);
        }
        let mark = backend.svg.element("g").with("class", "stall");
        let mark = mark.with("stroke", self.colour);
        let mark = mark.number("stroke-width", 1.6).with("fill", "#ffffff");
        mark.holding(|svg| {
            let ring = svg.element("circle").at(["cx", "cy"], [x, y]);
            ring.number("r", 5.5).end();
            svg.element("path").way(&cross).end();
        });
        Ok(())
    }
}

impl<C> Drawable<SvgBackend<'_>> for ReadingMark<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        mut points: I,
        backend: &mut SvgBackend<'_>,
        _: (u32, u32),
    ) -> Result<(), Never> {
        let Some(at) = points.next() else {
            return Ok(());
        };
        let [x, y] = px(at);
        let mut cross = Way::spaced();
        cross.piece([[x - 3.5, y], [x + 3.5, y]]);
        cross.piece([[x, y - 3.5], [x, y + 3.5]]);
        let mark = backend.svg.element("path").with("class", "reading");
        let mark = mark.way(&cross).with("fill", "none");
        mark.with("stroke", self.colour)
            .number("stroke-width", 1.2)
            .end();
        Ok(())
    }
}

impl<C> Drawable<SvgBackend<'_>> for BoundMark<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        mut points: I,
        backend: &mut SvgBackend<'_>,
        _: (u32, u32),
    ) -> Result<(), Never> {
        let Some(at) = points.next() else {
            return Ok(());
        };
        let [x, y] = px(at);
        let (half, high) = (7.0, if self.lid { -7.0 } else { 7.0 });
        let mut case = Way::spaced();
        case.piece([
            [x - half, y],
            [x + half, y],
            [x + half, y + high],
            [x - half, y + high],
        ]);
        case.close();
        let (class, fill) = match self.met {
            true => ("demand met", "#ffffff"),
            false => ("demand missed", self.colour),
        };
        let mark = backend.svg.element("g").with("class", class);
        let mark = mark.with("stroke", self.colour).number("stroke-width", 1.4);
        mark.with("fill", fill).holding(|svg| {
            svg.element("path").way(&case).end();
            if !self.met {
                let mut cross = Way::spaced();
                cross.piece([[x - 4.0, y], [x + 4.0, y + high]]);
                cross.piece([[x - 4.0, y + high], [x + 4.0, y]]);
                svg.element("path")
                    .way(&cross)
                    .with("stroke", "#ffffff")
                    .end();
            }
        });
        Ok(())
    }
}
