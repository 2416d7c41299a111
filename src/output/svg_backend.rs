//! A backend for plotters that writes SVG in tenths of a pixel.
//!
//! No font is needed: text stays text, and the reader's machine picks the font. Besides what the
//! library asks of a backend it draws the shapes of `svg_shapes`: dashed curves of several pieces,
//! filled areas and text with a weight.

use std::convert::Infallible;
use std::fmt::Write;

use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
};

/// Tenths of a pixel in a pixel.
pub(super) const TENTHS: f64 = 10.0;

/// Nothing can go wrong when writing to a string.
pub(super) type Never = DrawingErrorKind<Infallible>;

/// Writes elements to a string; the page is `size` tenths of a pixel.
pub(super) struct SvgBackend<'a> {
    out: &'a mut String,
    size: (u32, u32),
}

/// Opens the document: size, title and description for readers that cannot see it.
pub(super) fn open(width: f64, height: f64, id: &str, title: &str, description: &str) -> String {
    let (id, title, description) = (escaped(id), escaped(title), escaped(description));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\" \
         aria-labelledby=\"{id}-title {id}-desc\" \
         font-family=\"system-ui, 'Segoe UI', 'DejaVu Sans', Arial, sans-serif\">\n\
         <title id=\"{id}-title\">{title}</title>\n<desc id=\"{id}-desc\">{description}</desc>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>\n"
    )
}

/// Closes the document.
pub(super) const CLOSE: &str = "</svg>\n";

impl<'a> SvgBackend<'a> {
    /// A backend for a page of this many pixels, which appends to `out`.
    pub(super) fn new(out: &'a mut String, width: f64, height: f64) -> Self {
        Self {
            out,
            size: ((width * TENTHS) as u32, (height * TENTHS) as u32),
        }
    }

    /// Writes one element. Writing to a string cannot fail.
    pub(super) fn write(&mut self, element: std::fmt::Arguments<'_>) {
        let _ = self.out.write_fmt(element);
        self.out.push('\n');
    }
}

/// A coordinate in pixels.
pub(super) fn px(tenths: i32) -> String {
    let whole = tenths / 10;
    match tenths % 10 {
        0 => whole.to_string(),
        rest if tenths < 0 => format!("-{}.{}", whole.abs(), rest.abs()),
        rest => format!("{whole}.{rest}"),
    }
}

/// Path data through the points.
pub(super) fn path(points: impl IntoIterator<Item = BackendCoord>) -> String {
    let mut data = String::new();
    for (index, (x, y)) in points.into_iter().enumerate() {
        let lead = if index == 0 { "M" } else { " L" };
        let _ = write!(data, "{lead}{} {}", px(x), px(y));
    }
    data
}

/// Text fit to stand between tags or in an attribute.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in super::text::clean(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

fn paint(attribute: &str, colour: BackendColor) -> String {
    let (r, g, b) = colour.rgb;
    let mut text = format!("{attribute}=\"#{r:02x}{g:02x}{b:02x}\"");
    if colour.alpha < 1.0 {
        let _ = write!(text, " {attribute}-opacity=\"{:.2}\"", colour.alpha);
    }
    text
}

fn stroke<S: BackendStyle>(style: &S) -> String {
    let width = f64::from(style.stroke_width()) / TENTHS;
    format!(
        "fill=\"none\" {} stroke-width=\"{width}\"",
        paint("stroke", style.color())
    )
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

    fn draw_pixel(&mut self, at: BackendCoord, colour: BackendColor) -> Result<(), Never> {
        let (x, y) = (px(at.0), px(at.1));
        let fill = paint("fill", colour);
        self.write(format_args!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"0.1\" height=\"0.1\" {fill}/>"
        ));
        Ok(())
    }

    fn draw_line<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
    ) -> Result<(), Never> {
        self.draw_path([from, to], style)
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
        fill: bool,
    ) -> Result<(), Never> {
        let corners = [from, (to.0, from.1), to, (from.0, to.1)];
        if fill {
            self.fill_polygon(corners, style)
        } else {
            self.draw_path(corners.into_iter().chain([from]), style)
        }
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        points: I,
        style: &S,
    ) -> Result<(), Never> {
        let data = path(points);
        self.write(format_args!("<path d=\"{data}\" {}/>", stroke(style)));
        Ok(())
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        centre: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Result<(), Never> {
        let (x, y) = (px(centre.0), px(centre.1));
        let r = f64::from(radius) / TENTHS;
        let look = if fill {
            paint("fill", style.color())
        } else {
            stroke(style)
        };
        self.write(format_args!(
            "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" {look}/>"
        ));
        Ok(())
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        points: I,
        style: &S,
    ) -> Result<(), Never> {
        let data = path(points);
        self.write(format_args!(
            "<path d=\"{data} Z\" {}/>",
            paint("fill", style.color())
        ));
        Ok(())
    }

    fn draw_text<S: BackendTextStyle>(
        &mut self,
        text: &str,
        style: &S,
        at: BackendCoord,
    ) -> Result<(), Never> {
        let size = style.size() / TENTHS;
        let (x, y) = (px(at.0), px(at.1 + style.size() as i32));
        let (fill, text) = (paint("fill", style.color()), escaped(text));
        self.write(format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" {fill}>{text}</text>"
        ));
        Ok(())
    }

    fn estimate_text_size<S: BackendTextStyle>(
        &self,
        text: &str,
        style: &S,
    ) -> Result<(u32, u32), Never> {
        let width = super::labels::text_width(text, style.size(), false);
        Ok((width.ceil() as u32, style.size().ceil() as u32))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use plotters::prelude::*;

    #[test]
    fn tenths_of_a_pixel_and_valid_xml_whatever_the_text() {
        let mut out = open(100.0, 50.0, "c", "<&\"'\u{1}>", "d");
        {
            let area = SvgBackend::new(&mut out, 100.0, 50.0).into_drawing_area();
            area.draw(&PathElement::new([(5, 3), (123, 10)], BLACK))
                .unwrap();
            area.draw(&Circle::new((50, 50), 15, RED.mix(0.5).filled()))
                .unwrap();
            area.draw(&Rectangle::new([(0, 0), (10, 10)], BLUE))
                .unwrap();
            area.draw(&Text::new("a < b", (1, 1), ("sans-serif", 120)))
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
        assert!(out.contains("M0.5 0.3 L12.3 1"), "{out}");
    }
}
