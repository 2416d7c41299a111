//! The shapes of a drawing as SVG elements: presentation attributes only, micrometres of paper.

use super::ink::{Fill, Ink, Line, Shape, Step, V};
use crate::output::svg::backend::escaped;
use crate::output::text::trimmed;
use std::fmt::Write;

impl Ink {
    /// All shapes as SVG elements; ids are used with this prefix.
    pub(super) fn write(&self, prefix: &str, out: &mut String) {
        for shape in &self.shapes {
            shape.write(prefix, out);
        }
    }
}

impl Shape {
    // Writing to a string cannot fail.
    fn write(&self, prefix: &str, out: &mut String) {
        let _ = match self {
            Self::Path {
                from,
                steps,
                closed,
                fill,
                line,
            } => {
                let mut d = format!("M{}", pair(*from));
                for step in steps {
                    match *step {
                        Step::To(p) => d.push_str(&format!("L{}", pair(p))),
                        Step::Round { radius, to, right } => {
                            let (r, right) = (number(radius), u8::from(right));
                            d.push_str(&format!("A{r} {r} 0 0 {right} {}", pair(to)));
                        }
                    }
                }
                if *closed {
                    d.push('Z');
                }
                let fill = match fill {
                    Fill::None => "none".to_owned(),
                    Fill::Colour(colour) => (*colour).to_owned(),
                    Fill::Hatch => format!("url(#{prefix}hatch)"),
                };
                writeln!(
                    out,
                    "<path d=\"{d}\" fill=\"{fill}\"{}/>",
                    line.map_or_else(String::new, stroke)
                )
            }
            Self::Hatched { points, width } => {
                let d: Vec<String> = points.iter().map(|p| pair(*p)).collect();
                writeln!(
                    out,
                    "<path d=\"M{}\" fill=\"none\" stroke=\"url(#{prefix}hatch)\" stroke-width=\"{}\" \
                     stroke-linecap=\"round\" stroke-linejoin=\"round\"/>",
                    d.join("L"),
                    number(*width)
                )
            }
            Self::Circle {
                at,
                radius,
                fill,
                line,
                pin,
            } => {
                let name = pin.as_ref().map_or_else(String::new, |name| {
                    format!(" data-pin=\"{}\"", escaped(name))
                });
                writeln!(
                    out,
                    "<circle{name} cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{fill}\"{}/>",
                    number(at[0]),
                    number(at[1]),
                    number(*radius),
                    stroke(*line)
                )
            }
            Self::Text(words) => {
                let weight = if words.bold {
                    " font-weight=\"bold\""
                } else {
                    ""
                };
                let style = if words.italic {
                    " font-style=\"italic\""
                } else {
                    ""
                };
                let place = format!(
                    "x=\"{}\" y=\"{}\" font-size=\"{}\"{weight}{style} text-anchor=\"{}\"",
                    number(words.at[0]),
                    number(words.at[1]),
                    number(words.size),
                    words.anchor
                );
                let text = escaped(&words.text);
                // The rim is an element of its own: not every program that shows or prints an SVG
                // knows how to paint a stroke below its fill, and the letters would vanish.
                if words.rim {
                    let _ = writeln!(
                        out,
                        "<text {place} fill=\"none\" stroke=\"#ffffff\" stroke-width=\"0.7\" \
                         stroke-linejoin=\"round\" aria-hidden=\"true\">{text}</text>"
                    );
                }
                writeln!(out, "<text {place} fill=\"{}\">{text}</text>", words.colour)
            }
        };
    }
}

fn stroke(line: Line) -> String {
    let dash = if line.dash.is_empty() {
        String::new()
    } else {
        format!(" stroke-dasharray=\"{}\"", line.dash)
    };
    format!(
        " stroke=\"{}\" stroke-width=\"{}\" stroke-linejoin=\"round\" stroke-linecap=\"round\"{dash}",
        line.colour,
        number(line.width)
    )
}

fn pair(at: V) -> String {
    format!("{} {}", number(at[0]), number(at[1]))
}

/// A micrometre of paper, no more digits than needed.
pub(super) fn number(value: f64) -> String {
    trimmed((value * 1000.0).round() / 1000.0)
}
