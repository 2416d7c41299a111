//! Shapes that plotters places and our backend draws: curves with dashes, areas, text, marks.
//!
//! Each shape takes points either in the units of a chart's axes or in tenths of a pixel.

use plotters::element::{Drawable, PointCollection};
use plotters_backend::BackendCoord;

use super::backend::{Never, SvgBackend, escaped, path, px};
use super::pen::Pen;

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::svg::backend::{CLOSE, open};
    use plotters::prelude::*;

    #[test]
    fn tenths_of_a_pixel_and_valid_xml_whatever_the_text() {
        let mut out = open(100.0, 50.0, "c", "<&\"'\u{1}>", "d");
        {
            let area = SvgBackend::new(&mut out, 100.0, 50.0).into_drawing_area();
            let pen = Pen {
                colour: "#d55e00",
                width: 1.9,
                dash: "9 3",
            };
            let pieces = vec![vec![(5, 3), (123, 10)], vec![(7, 7)]];
            area.draw(&Curve::new(pieces, pen, "curve")).unwrap();
            area.draw(&Area {
                points: vec![(0, 0), (10, 0), (10, 10)],
                colour: "#000000",
                opacity: 0.5,
            })
            .unwrap();
            area.draw(&StallMark {
                at: (50, 50),
                colour: "#000000",
            })
            .unwrap();
            area.draw(&Words {
                at: (1, 1),
                text: "a < b".to_owned(),
                size: 12.0,
                bold: true,
                colour: "#000000",
                anchor: Anchor::End,
            })
            .unwrap();
            area.draw_pixel((2, 2), &GREEN).unwrap();
        }
        out.push_str(CLOSE);
        let document = roxmltree::Document::parse(&out).unwrap();
        let text_of = |tag: &str| {
            (document.descendants().find(|n| n.has_tag_name(tag)))
                .and_then(|n| n.text().map(str::to_owned))
        };
        assert_eq!(text_of("title").as_deref(), Some("<&\"' >"));
        assert_eq!(text_of("text").as_deref(), Some("a < b"));
        assert_eq!(
            [px(-3), px(-25), px(-10), px(0)],
            ["-0.3", "-2.5", "-1", "0"]
        );
        // A piece of one point is a dot: a line of no length with round ends.
        assert!(out.contains("M0.5 0.3 L12.3 1M0.7 0.7 L0.7 0.7\""), "{out}");
        assert!(out.contains("fill=\"#00ff00\""), "{out}");
    }
}
