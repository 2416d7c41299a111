//! Writes SVG: whole elements, with escaping and the format of numbers in one place.
//!
//! Charts and drawings are made of presentation attributes only, so that every program that reads
//! SVG shows them alike.

use crate::output::text::{clean, trimmed};

/// Fonts for the text of charts, the reader's own first.
pub(in crate::output) const READERS_FONTS: &str =
    "system-ui, 'Segoe UI', 'DejaVu Sans', Arial, sans-serif";
/// Fonts for the text of drawings, the widest first: labels find their room by its widths.
pub(in crate::output) const WIDE_FONTS: &str = "'DejaVu Sans', 'Segoe UI', Arial, sans-serif";

/// The outermost element of a document.
pub(in crate::output) struct Sheet<'a> {
    /// Width and height, in user units.
    pub(in crate::output) size: [f64; 2],
    /// What a user unit is on paper; empty: a pixel.
    pub(in crate::output) unit: &'static str,
    pub(in crate::output) fonts: &'static str,
    /// Start of the ids of title and description.
    pub(in crate::output) id: &'a str,
    /// For readers that cannot see it.
    pub(in crate::output) title: &'a str,
    /// Empty: none, and the title needs no id.
    pub(in crate::output) about: &'a str,
}

/// A document under way.
pub(in crate::output) struct Svg {
    out: String,
    /// Elements that are open within an element of a line of its own.
    depth: usize,
    size: [f64; 2],
}

impl Svg {
    /// Opens the document with title and description.
    pub(in crate::output) fn new(sheet: &Sheet<'_>) -> Self {
        let [width, height] = sheet.size.map(number);
        let (unit, fonts, id) = (sheet.unit, sheet.fonts, escaped(sheet.id));
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}{unit}\" height=\"{height}{unit}\" \
             viewBox=\"0 0 {width} {height}\" role=\"img\""
        );
        let (title, about) = (escaped(sheet.title), escaped(sheet.about));
        if about.is_empty() {
            out.push_str(&format!(
                " font-family=\"{fonts}\">\n<title>{title}</title>\n"
            ));
        } else {
            out.push_str(&format!(
                " aria-labelledby=\"{id}title {id}desc\" font-family=\"{fonts}\">\n\
                 <title id=\"{id}title\">{title}</title>\n<desc id=\"{id}desc\">{about}</desc>\n"
            ));
        }
        Self {
            out,
            depth: 0,
            size: sheet.size,
        }
    }

    /// Opens a document that has neither title nor words, in user units of `unit`.
    pub(in crate::output) fn bare(size: [f64; 2], unit: &'static str) -> Self {
        let [width, height] = size.map(number);
        let out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}{unit}\" height=\"{height}{unit}\" \
             viewBox=\"0 0 {width} {height}\">\n"
        );
        Self {
            out,
            depth: 0,
            size,
        }
    }

    /// White paper below all that follows.
    pub(in crate::output) fn paper(&mut self) {
        let [width, height] = self.size;
        let rect = self.element("rect").number("width", width);
        rect.number("height", height).with("fill", "#ffffff").end();
    }

    /// Begins an element.
    pub(in crate::output) fn element(&mut self, name: &'static str) -> Element<'_> {
        self.out.push('<');
        self.out.push_str(name);
        Element { svg: self, name }
    }

    /// A finished document at a place in this one; it keeps its own size.
    pub(in crate::output) fn document(&mut self, at: [f64; 2], document: &str) {
        let [x, y] = at.map(number);
        let placed = format!("<svg x=\"{x}\" y=\"{y}\" ");
        self.out.push_str(&document.replacen("<svg ", &placed, 1));
        self.out.push('\n');
    }

    /// Closes the document.
    pub(in crate::output) fn finish(mut self) -> String {
        self.out.push_str("</svg>\n");
        self.out
    }
}

/// An element whose attributes are being written.
#[must_use]
pub(in crate::output) struct Element<'a> {
    svg: &'a mut Svg,
    name: &'static str,
}

impl Element<'_> {
    /// An attribute that is a text.
    pub(in crate::output) fn with(self, name: &str, value: &str) -> Self {
        self.raw(name, &escaped(value))
    }

    /// An attribute that is there only where it has a text.
    pub(in crate::output) fn maybe(self, name: &str, value: Option<&str>) -> Self {
        match value {
            Some(value) => self.with(name, value),
            None => self,
        }
    }

    /// An attribute that is a number.
    pub(in crate::output) fn number(self, name: &str, value: f64) -> Self {
        self.raw(name, &number(value))
    }

    /// A place, by the names of its two coordinates.
    pub(in crate::output) fn at(self, names: [&str; 2], at: [f64; 2]) -> Self {
        self.number(names[0], at[0]).number(names[1], at[1])
    }

    /// The way of a path.
    pub(in crate::output) fn way(self, way: &Way) -> Self {
        self.raw("d", &way.data)
    }

    fn raw(self, name: &str, value: &str) -> Self {
        let out = &mut self.svg.out;
        out.push(' ');
        out.push_str(name);
        out.push_str("=\"");
        out.push_str(value);
        out.push('"');
        self
    }

    /// Ends an element that holds nothing.
    pub(in crate::output) fn end(self) {
        self.svg.out.push_str("/>");
        self.line_ends();
    }

    /// Ends an element that holds a text.
    pub(in crate::output) fn text(self, text: &str) {
        let close = format!(">{}</{}>", escaped(text), self.name);
        self.svg.out.push_str(&close);
        self.line_ends();
    }

    /// Ends an element that holds others, all on one line.
    pub(in crate::output) fn holding(self, inner: impl FnOnce(&mut Svg)) {
        self.svg.out.push('>');
        self.svg.depth += 1;
        inner(self.svg);
        self.svg.depth -= 1;
        self.svg.out.push_str(&format!("</{}>", self.name));
        self.line_ends();
    }

    fn line_ends(self) {
        if self.svg.depth == 0 {
            self.svg.out.push('\n');
        }
    }
}

/// The way of a path: lines and arcs, in one or several pieces.
#[derive(Default)]
pub(in crate::output) struct Way {
    data: String,
    /// Stands before all but the beginnings of pieces.
    gap: &'static str,
}

impl Way {
    /// A way whose points stand apart, so that a script may split it at blanks.
    pub(in crate::output) fn spaced() -> Self {
        let data = String::new();
        Self { data, gap: " " }
    }

    /// Adds a piece through these points; of a lone point it is a line without length, which round ends
    /// make a dot.
    pub(in crate::output) fn piece(&mut self, points: impl IntoIterator<Item = [f64; 2]>) {
        let mut points = points.into_iter();
        let Some(first) = points.next() else { return };
        self.begin(first);
        let mut lone = true;
        for point in points {
            self.line(point);
            lone = false;
        }
        if lone {
            self.line(first);
        }
    }

    /// Begins a piece.
    pub(in crate::output) fn begin(&mut self, at: [f64; 2]) {
        self.data.push_str(&format!("M{}", pair(at)));
    }

    /// Goes on straight.
    pub(in crate::output) fn line(&mut self, to: [f64; 2]) {
        self.data.push_str(&format!("{}L{}", self.gap, pair(to)));
    }

    /// Goes on along the shorter arc of a circle.
    pub(in crate::output) fn arc(&mut self, radius: f64, to: [f64; 2], right: bool) {
        let (gap, r, right) = (self.gap, number(radius), u8::from(right));
        (self.data).push_str(&format!("{gap}A{r} {r} 0 0 {right} {}", pair(to)));
    }

    /// Back to where the piece began.
    pub(in crate::output) fn close(&mut self) {
        self.data.push_str(self.gap);
        self.data.push('Z');
    }

    pub(in crate::output) fn is_empty(&self) -> bool {
        self.data.is_empty()
    }
}

fn pair(at: [f64; 2]) -> String {
    format!("{} {}", number(at[0]), number(at[1]))
}

/// A number of at most three decimals, a micrometre of paper, no more digits than needed.
pub(in crate::output) fn number(value: f64) -> String {
    trimmed((value * 1000.0).round() / 1000.0)
}

/// Text fit to stand between tags or in an attribute.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in clean(text).chars() {
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

#[cfg(test)]
mod tests {
    use super::*;

    const SHEET: Sheet<'_> = Sheet {
        size: [100.0, 50.0],
        unit: "",
        fonts: READERS_FONTS,
        id: "c-",
        title: "<&\"'\u{1}>",
        about: "d",
    };

    #[test]
    fn valid_xml_whatever_the_text() {
        let mut svg = Svg::new(&SHEET);
        svg.paper();
        svg.element("text").with("class", "a\"<b").text("a < b");
        svg.element("g").holding(|svg| {
            svg.element("circle").at(["cx", "cy"], [1.0, 2.0]).end();
        });
        let out = svg.finish();
        let document = roxmltree::Document::parse(&out).unwrap();
        let of = |tag: &str| {
            document
                .descendants()
                .find(|n| n.has_tag_name(tag))
                .unwrap()
        };
        assert_eq!(of("title").text(), Some("<&\"' >"));
        assert_eq!(of("text").text(), Some("a < b"));
        assert_eq!(of("text").attribute("class"), Some("a\"<b"));
        assert!(
            out.contains("<g><circle cx=\"1\" cy=\"2\"/></g>\n"),
            "{out}"
        );
    }

    #[test]
    fn numbers_have_no_digits_to_spare_and_no_minus_before_a_zero() {
        let numbers = [-0.3, -2.5, -1.0, -0.0001, 12.3456, 1e6].map(number);
        assert_eq!(numbers, ["-0.3", "-2.5", "-1", "0", "12.346", "1000000"]);
    }

    #[test]
    fn a_way_has_pieces_arcs_and_dots() {
        let mut way = Way::default();
        way.piece([[0.5, 0.3], [12.3, 1.0]]);
        way.piece([[0.7, 0.7]]);
        way.begin([1.0, 2.0]);
        way.arc(3.0, [4.0, 5.0], true);
        way.close();
        assert_eq!(
            way.data,
            "M0.5 0.3L12.3 1M0.7 0.7L0.7 0.7M1 2A3 3 0 0 1 4 5Z"
        );
        let mut way = Way::spaced();
        way.piece([[0.5, 0.3], [12.3, 1.0]]);
        way.close();
        assert_eq!(way.data, "M0.5 0.3 L12.3 1 Z");
    }
}
