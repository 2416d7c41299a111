//! What the chart library draws, as whole elements of an SVG; its pixels are tenths of ours.
//!
//! No font is needed: text stays text, and the reader's machine picks the font. The charts here are
//! made of the shapes of `shapes`, which the library places; what it draws of its own would be lines,
//! areas and text all the same.

use std::convert::Infallible;

use plotters_backend::text_anchor::{HPos, VPos};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
    FontStyle, FontTransform,
};

use super::labels::text_width;
use super::writer::{Element, Svg, Way};

/// Tenths of a pixel in a pixel.
pub(in crate::output) const TENTHS: f64 = 10.0;

/// Nothing can go wrong when writing to a string.
pub(in crate::output) type Never = DrawingErrorKind<Infallible>;

/// Writes elements to a document; the page is `size` tenths of a pixel.
pub(in crate::output) struct SvgBackend<'a> {
    pub(super) svg: &'a mut Svg,
    size: (u32, u32),
}

impl<'a> SvgBackend<'a> {
    /// A backend for a page of this many pixels, which adds to `svg`.
    pub(in crate::output) fn new(svg: &'a mut Svg, width: f64, height: f64) -> Self {
        Self {
            svg,
            size: ((width * TENTHS) as u32, (height * TENTHS) as u32),
        }
    }
}

/// A place in pixels.
pub(super) fn px((x, y): BackendCoord) -> [f64; 2] {
    [x, y].map(|tenths| f64::from(tenths) / TENTHS)
}

fn hex(colour: BackendColor) -> String {
    let (r, g, b) = colour.rgb;
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// A colour as the value of `fill` or `stroke`, with its opacity where one can see through it.
fn colour<'e>(element: Element<'e>, role: &str, colour: BackendColor) -> Element<'e> {
    let element = element.with(role, &hex(colour));
    if colour.alpha < 1.0 {
        element.number(&format!("{role}-opacity"), colour.alpha)
    } else {
        element
    }
}

fn outline<'e, S: BackendStyle>(element: Element<'e>, style: &S) -> Element<'e> {
    colour(element, "stroke", style.color())
        .number("stroke-width", f64::from(style.stroke_width()) / TENTHS)
}

/// A closed shape: filled, or its outline.
fn closed<'e, S: BackendStyle>(element: Element<'e>, style: &S, fill: bool) -> Element<'e> {
    if fill {
        colour(element, "fill", style.color())
    } else {
        outline(element.with("fill", "none"), style)
    }
}

fn hidden<S: BackendStyle>(style: &S) -> bool {
    style.color().alpha <= 0.0
}

impl DrawingBackend for SvgBackend<'_> {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }

    fn ensure_prepared(&mut self) -> Result<(), Never> {
        Ok(())
    }

    fn present(&mut self) -> Result<(), Never> {
        Ok(())
    }

    fn draw_pixel(&mut self, at: BackendCoord, style: BackendColor) -> Result<(), Never> {
        self.draw_rect(at, (at.0 + 1, at.1 + 1), &style, true)
    }

    fn draw_line<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
    ) -> Result<(), Never> {
        if !hidden(style) {
            let line = self.svg.element("line").at(["x1", "y1"], px(from));
            outline(line.at(["x2", "y2"], px(to)), style).end();
        }
        Ok(())
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        (left, top): BackendCoord,
        (right, bottom): BackendCoord,
        style: &S,
        fill: bool,
    ) -> Result<(), Never> {
        if !hidden(style) {
            let corner = px((left.min(right), top.min(bottom)));
            let size = px(((right - left).abs(), (bottom - top).abs()));
            let rect = self.svg.element("rect").at(["x", "y"], corner);
            closed(rect.at(["width", "height"], size), style, fill).end();
        }
        Ok(())
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Result<(), Never> {
        let mut way = Way::spaced();
        way.piece(path.into_iter().map(px));
        if !hidden(style) && !way.is_empty() {
            closed(self.svg.element("path").way(&way), style, false)
                .with("stroke-linejoin", "round")
                .end();
        }
        Ok(())
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        centre: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Result<(), Never> {
        if !hidden(style) {
            let circle = self.svg.element("circle").at(["cx", "cy"], px(centre));
            let circle = circle.number("r", f64::from(radius) / TENTHS);
            closed(circle, style, fill).end();
        }
        Ok(())
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        corners: I,
        style: &S,
    ) -> Result<(), Never> {
        let mut way = Way::spaced();
        way.piece(corners.into_iter().map(px));
        if !hidden(style) && !way.is_empty() {
            way.close();
            closed(self.svg.element("path").way(&way), style, true).end();
        }
        Ok(())
    }

    fn draw_text<T: BackendTextStyle>(
        &mut self,
        text: &str,
        style: &T,
        at: BackendCoord,
    ) -> Result<(), Never> {
        if style.color().alpha <= 0.0 {
            return Ok(());
        }
        let (place, size) = (px(at), style.size() / TENTHS);
        let words = self.svg.element("text").at(["x", "y"], place);
        let words = words.number("font-size", size);
        let words = words.maybe("font-family", Some(style.family().as_str()));
        let words = match style.style() {
            FontStyle::Bold => words.with("font-weight", "bold"),
            FontStyle::Italic | FontStyle::Oblique => words.with("font-style", "italic"),
            FontStyle::Normal => words,
        };
        let words = words.maybe(
            "text-anchor",
            match style.anchor().h_pos {
                HPos::Left => None,
                HPos::Center => Some("middle"),
                HPos::Right => Some("end"),
            },
        );
        // A capital is some three quarters of the size high.
        let words = match style.anchor().v_pos {
            VPos::Top => words.number("dy", 0.75 * size),
            VPos::Center => words.number("dy", 0.375 * size),
            VPos::Bottom => words,
        };
        let turned = match style.transform() {
            FontTransform::None => None,
            FontTransform::Rotate90 => Some(90),
            FontTransform::Rotate180 => Some(180),
            FontTransform::Rotate270 => Some(270),
        };
        let turned = turned.map(|angle| format!("rotate({angle} {} {})", place[0], place[1]));
        let words = words.maybe("transform", turned.as_deref());
        colour(words, "fill", style.color()).text(text);
        Ok(())
    }

    fn estimate_text_size<T: BackendTextStyle>(
        &self,
        text: &str,
        style: &T,
    ) -> Result<(u32, u32), Never> {
        let bold = matches!(style.style(), FontStyle::Bold);
        let wide = text_width(text, style.size(), bold).ceil();
        Ok((wide as u32, style.size().ceil() as u32))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::svg::writer::{READERS_FONTS, Sheet};
    use plotters::prelude::*;
    use plotters::style::text_anchor::Pos;

    fn drawn(draw: impl FnOnce(&mut SvgBackend<'_>)) -> String {
        let mut svg = Svg::new(&Sheet {
            size: [100.0, 50.0],
            unit: "",
            fonts: READERS_FONTS,
            id: "",
            title: "t",
            about: "",
        });
        draw(&mut SvgBackend::new(&mut svg, 100.0, 50.0));
        let out = svg.finish();
        roxmltree::Document::parse(&out).unwrap();
        let (_, after) = out.split_once("</title>\n").unwrap();
        after.trim_end_matches("</svg>\n").to_owned()
    }

    /// Each thing that the library may ask for is one element, and none is made of pixels.
    #[test]
    fn every_call_is_one_element() {
        let thick = ShapeStyle::from(RGBColor(1, 2, 255)).stroke_width(15);
        let see_through = RGBColor(0, 128, 0).mix(0.5).filled();
        let out = drawn(|b| {
            b.draw_pixel((2, 2), BLACK.to_backend_color()).unwrap();
            b.draw_line((0, 5), (100, 25), &thick).unwrap();
            b.draw_rect((50, 40), (10, 20), &thick, false).unwrap();
            b.draw_path([(0, 0), (10, 10), (20, 0)], &thick).unwrap();
            b.draw_circle((100, 100), 25, &see_through, true).unwrap();
            b.fill_polygon([(0, 0), (10, 0), (10, 10)], &see_through)
                .unwrap();
            b.draw_line((0, 0), (9, 9), &TRANSPARENT).unwrap();
        });
        let stroke = "stroke=\"#0102ff\" stroke-width=\"1.5\"";
        let fill = "fill=\"#008000\" fill-opacity=\"0.5\"";
        let wanted = [
            "<rect x=\"0.2\" y=\"0.2\" width=\"0.1\" height=\"0.1\" fill=\"#000000\"/>".to_owned(),
            format!("<line x1=\"0\" y1=\"0.5\" x2=\"10\" y2=\"2.5\" {stroke}/>"),
            format!("<rect x=\"1\" y=\"2\" width=\"4\" height=\"2\" fill=\"none\" {stroke}/>"),
            format!(
                "<path d=\"M0 0 L1 1 L2 0\" fill=\"none\" {stroke} stroke-linejoin=\"round\"/>"
            ),
            format!("<circle cx=\"10\" cy=\"10\" r=\"2.5\" {fill}/>"),
            format!("<path d=\"M0 0 L1 0 L1 1 Z\" {fill}/>"),
        ];
        assert_eq!(out.lines().collect::<Vec<_>>(), wanted);
    }

    #[test]
    fn text_stays_text() {
        let style = ("serif", 120)
            .into_font()
            .style(FontStyle::Bold)
            .color(&BLACK);
        let style = style.pos(Pos::new(HPos::Center, VPos::Top));
        let out = drawn(|b| {
            b.draw_text("a < b", &style, (500, 30)).unwrap();
            let wide = b.estimate_text_size("mm", &style).unwrap();
            assert_eq!(wide, (269, 120)); // by hand: 2 * 1.0 * 120 * 1.12 = 268.8
        });
        assert_eq!(
            out,
            "<text x=\"50\" y=\"3\" font-size=\"12\" font-family=\"serif\" font-weight=\"bold\" \
             text-anchor=\"middle\" dy=\"9\" fill=\"#000000\">a &lt; b</text>\n"
        );
    }
}
