//! The shapes of a drawing as SVG elements.

use super::ink::{Fill, Ink, Line, Shape, Step, V, Words};
use crate::output::svg::writer::{Element, Svg, Way};

impl Ink {
    /// All shapes as SVG elements; ids are used with this prefix.
    pub(super) fn write(&self, prefix: &str, svg: &mut Svg) {
        for shape in &self.shapes {
            shape.write(prefix, svg);
        }
    }
}

fn hatch(prefix: &str) -> String {
    format!("url(#{prefix}hatch)")
}

/// The pattern that hatched shapes are filled with.
pub(super) fn hatching(svg: &mut Svg, prefix: &str) {
    svg.element("defs").holding(|svg| {
        let pattern = svg.element("pattern").with("id", &format!("{prefix}hatch"));
        let pattern = pattern.with("patternUnits", "userSpaceOnUse");
        let pattern = pattern.at(["width", "height"], [3.0, 3.0]);
        let pattern = pattern.with("patternTransform", "rotate(45)");
        pattern.holding(|svg| {
            let mut way = Way::default();
            way.piece([[1.5, 0.0], [1.5, 3.0]]);
            let line = svg.element("path").way(&way).with("stroke", "#9a9a9a");
            line.number("stroke-width", 0.18).end();
        });
    });
}

impl Shape {
    fn write(&self, prefix: &str, svg: &mut Svg) {
        match self {
            Self::Path {
                from,
                steps,
                closed,
                fill,
                line,
            } => {
                let mut way = Way::default();
                walk(&mut way, *from, steps);
                if *closed {
                    way.close();
                }
                let path = filled(svg.element("path").way(&way), *fill, prefix);
                match line {
                    Some(line) => stroke(path, *line).end(),
                    None => path.end(),
                }
            }
            Self::Region {
                borders,
                fill,
                line,
            } => {
                let mut way = Way::default();
                for (from, steps) in borders {
                    walk(&mut way, *from, steps);
                    way.close();
                }
                let path = svg.element("path").way(&way).with("fill-rule", "evenodd");
                let path = filled(path, *fill, prefix);
                match line {
                    Some(line) => stroke(path, *line).end(),
                    None => path.end(),
                }
            }
            Self::Hatched { points, width } => {
                let mut way = Way::default();
                if let Some((first, rest)) = points.split_first() {
                    way.begin(*first);
                    rest.iter().for_each(|p| way.line(*p));
                }
                let path = svg.element("path").way(&way).with("fill", "none");
                let path = path.with("stroke", &hatch(prefix));
                let path = path.number("stroke-width", *width);
                let path = path.with("stroke-linecap", "round");
                path.with("stroke-linejoin", "round").end();
            }
            Self::Circle {
                at,
                radius,
                fill,
                line,
                pin,
            } => {
                let circle = svg.element("circle").maybe("data-pin", pin.as_deref());
                let circle = circle.at(["cx", "cy"], *at).number("r", *radius);
                stroke(circle.with("fill", fill), *line).end();
            }
            Self::Text(words) => {
                // The rim is an element of its own: not every program that shows or prints an SVG
                // knows how to paint a stroke below its fill, and the letters would vanish.
                if words.rim {
                    let rim = placed(svg, words).with("fill", "none");
                    let rim = rim.with("stroke", "#ffffff").number("stroke-width", 0.7);
                    let rim = rim.with("stroke-linejoin", "round");
                    rim.with("aria-hidden", "true").text(&words.text);
                }
                placed(svg, words)
                    .with("fill", words.colour)
                    .text(&words.text);
            }
        }
    }
}

fn walk(way: &mut Way, from: V, steps: &[Step]) {
    way.begin(from);
    for step in steps {
        match *step {
            Step::To(p) => way.line(p),
            Step::Round { radius, to, right } => way.arc(radius, to, right),
        }
    }
}

fn filled<'s>(path: Element<'s>, fill: Fill, prefix: &str) -> Element<'s> {
    match fill {
        Fill::None => path.with("fill", "none"),
        Fill::Colour(colour) => path.with("fill", colour),
        Fill::Hatch => path.with("fill", &hatch(prefix)),
    }
}

fn placed<'s>(svg: &'s mut Svg, words: &Words) -> Element<'s> {
    let text = svg.element("text").at(["x", "y"], words.at);
    let text = text.number("font-size", words.size);
    let text = text.maybe("font-weight", words.bold.then_some("bold"));
    let text = text.maybe("font-style", words.italic.then_some("italic"));
    text.with("text-anchor", words.anchor)
}

fn stroke(element: Element<'_>, line: Line) -> Element<'_> {
    let element = element.with("stroke", line.colour);
    let element = element.number("stroke-width", line.width);
    let element = element.with("stroke-linejoin", "round");
    let element = element.with("stroke-linecap", "round");
    element.maybe(
        "stroke-dasharray",
        (!line.dash.is_empty()).then_some(line.dash),
    )
}
