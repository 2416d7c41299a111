//! Shapes that plotters places and our backend draws: curves with dashes, areas, text, marks.
//!
//! Each shape takes points either in the units of a chart's axes or in tenths of a pixel.

use plotters::element::{Drawable, PointCollection};
use plotters_backend::BackendCoord;

use super::palette::Pen;
use super::svg_backend::{Never, SvgBackend, escaped, path, px};

/// A line of one or several pieces, drawn as one element.
pub(super) struct Curve<C> {
    points: Vec<C>,
    ends: Vec<usize>,
    pen: Pen,
    class: &'static str,
}

impl<C> Curve<C> {
    pub(super) fn new(pieces: Vec<Vec<C>>, pen: Pen, class: &'static str) -> Self {
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

    pub(super) fn line(from: C, to: C, pen: Pen, class: &'static str) -> Self {
        Self::new(vec![vec![from, to]], pen, class)
    }
}

/// A filled shape without an outline.
pub(super) struct Area<C> {
    pub(super) points: Vec<C>,
    pub(super) colour: &'static str,
    pub(super) opacity: f64,
}

/// Which point of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// One line of text; its place is on the base line.
pub(super) struct Words<C> {
    pub(super) at: C,
    pub(super) text: String,
    pub(super) size: f64,
    pub(super) bold: bool,
    pub(super) colour: &'static str,
    pub(super) anchor: Anchor,
}

/// A ring with a cross in it.
pub(super) struct StallMark<C> {
    pub(super) at: C,
    pub(super) colour: &'static str,
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

one_point!(Words, StallMark);
many_points!(Curve, Area);

impl<C> Drawable<SvgBackend<'_>> for Curve<C> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        points: I,
        backend: &mut SvgBackend<'_>,
        _: (u32, u32),
    ) -> Result<(), Never> {
        let places: Vec<BackendCoord> = points.collect();
        let (mut data, mut start) = (String::new(), 0);
        for &end in &self.ends {
            let piece = places.get(start..end).unwrap_or_default();
            data.push_str(&path(piece.iter().copied()));
            if let [lone] = piece {
                data.push_str(&format!(" L{} {}", px(lone.0), px(lone.1)));
            }
            start = end;
        }
        if data.is_empty() {
            return Ok(());
        }
        let Pen {
            colour,
            width,
            dash,
        } = self.pen;
        let ends = match dash {
            "" => " stroke-linecap=\"round\"".to_owned(),
            dash => format!(" stroke-dasharray=\"{dash}\""),
        };
        let class = self.class;
        backend.write(format_args!(
            "<path class=\"{class}\" d=\"{data}\" fill=\"none\" stroke=\"{colour}\" \
             stroke-width=\"{width}\" stroke-linejoin=\"round\"{ends}/>"
        ));
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
        let data = path(points);
        let (colour, opacity) = (self.colour, self.opacity);
        backend.write(format_args!(
            "<path class=\"area\" d=\"{data} Z\" fill=\"{colour}\" fill-opacity=\"{opacity}\"/>"
        ));
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
        let Some((x, y)) = points.next() else {
            return Ok(());
        };
        let anchor = match self.anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let weight = if self.bold {
            " font-weight=\"600\""
        } else {
            ""
        };
        let (x, y, size, colour) = (px(x), px(y), self.size, self.colour);
        backend.write(format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" fill=\"{colour}\"{weight}{anchor}>{}</text>",
            escaped(&self.text)
        ));
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
        let Some((x, y)) = points.next() else {
            return Ok(());
        };
        let (cx, cy, colour) = (px(x), px(y), self.colour);
        let cross = [(-28, -28, 28, 28), (-28, 28, 28, -28)]
            .map(|(a, b, c, d)| path([(x + a, y + b), (x + c, y + d)]))
            .join(" ");
        backend.write(format_args!(
            "<g class=\"stall\" stroke=\"{colour}\" stroke-width=\"1.6\" fill=\"#ffffff\">\
             <circle cx=\"{cx}\" cy=\"{cy}\" r=\"5.5\"/><path d=\"{cross}\"/></g>"
        ));
        Ok(())
    }
}
