//! A backend for plotters that writes SVG in tenths of a pixel.
//!
//! No font is needed: text stays text, and the reader's machine picks the font. The library places
//! things; it draws none of its own elements here, only the shapes of `shapes`: dashed curves of
//! several pieces, filled areas and text with a weight.

use std::convert::Infallible;
use std::fmt::Write;

use plotters_backend::{BackendColor, BackendCoord, DrawingBackend, DrawingErrorKind};

/// Tenths of a pixel in a pixel.
pub(in crate::output) const TENTHS: f64 = 10.0;

/// Nothing can go wrong when writing to a string.
pub(in crate::output) type Never = DrawingErrorKind<Infallible>;

/// Writes elements to a string; the page is `size` tenths of a pixel.
pub(in crate::output) struct SvgBackend<'a> {
    out: &'a mut String,
    size: (u32, u32),
}

/// Fonts for all text, the reader's own first.
pub(in crate::output) const FONTS: &str = "system-ui, 'Segoe UI', 'DejaVu Sans', Arial, sans-serif";

/// Opens the document: size, title and description for readers that cannot see it.
pub(in crate::output) fn open(
    width: f64,
    height: f64,
    id: &str,
    title: &str,
    description: &str,
) -> String {
    let (id, title, description) = (escaped(id), escaped(title), escaped(description));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\" \
         aria-labelledby=\"{id}-title {id}-desc\" \
         font-family=\"{FONTS}\">\n\
         <title id=\"{id}-title\">{title}</title>\n<desc id=\"{id}-desc\">{description}</desc>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>\n"
    )
}

/// Closes the document.
pub(in crate::output) const CLOSE: &str = "</svg>\n";

impl<'a> SvgBackend<'a> {
    /// A backend for a page of this many pixels, which appends to `out`.
    pub(in crate::output) fn new(out: &'a mut String, width: f64, height: f64) -> Self {
        Self {
            out,
            size: ((width * TENTHS) as u32, (height * TENTHS) as u32),
        }
    }

    /// Writes one element. Writing to a string cannot fail.
    pub(in crate::output) fn write(&mut self, element: std::fmt::Arguments<'_>) {
        let _ = self.out.write_fmt(element);
        self.out.push('\n');
    }
}

/// A coordinate in pixels.
pub(in crate::output) fn px(tenths: i32) -> String {
    let whole = tenths / 10;
    match tenths % 10 {
        0 => whole.to_string(),
        rest if tenths < 0 => format!("-{}.{}", whole.abs(), rest.abs()),
        rest => format!("{whole}.{rest}"),
    }
}

/// Path data through the points.
pub(in crate::output) fn path(points: impl IntoIterator<Item = BackendCoord>) -> String {
    let mut data = String::new();
    for (index, (x, y)) in points.into_iter().enumerate() {
        let lead = if index == 0 { "M" } else { " L" };
        let _ = write!(data, "{lead}{} {}", px(x), px(y));
    }
    data
}

/// Text fit to stand between tags or in an attribute.
pub(in crate::output) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in crate::output::text::clean(text).chars() {
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
        let (x, y, (r, g, b)) = (px(at.0), px(at.1), colour.rgb);
        self.write(format_args!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"0.1\" height=\"0.1\" fill=\"#{r:02x}{g:02x}{b:02x}\"/>"
        ));
        Ok(())
    }
}
