//! The linkage drawn over the picture that its points were read off: whether pins sit on the holes is seen at a glance.

use super::ink::{Fill, Ink, Line, V, minus, plus, times};
use super::labels::{WIDER, place};
use super::outline::outline;
use super::tool::{Plate, WHITE, name, pen};
use super::write::hatching;
use crate::geometry::Pixels;
use crate::output::error::OutputError;
use crate::output::finite::check_finite;
use crate::output::picture::Picture;
use crate::output::svg::writer::{Sheet, Svg, WIDE_FONTS};
use crate::output::text::clean;
use crate::report::{DrawingReport, DrawnPosition};

/// Length of the picture's longer side on paper, mm.
const LONG: f64 = 270.0;
/// Seen on photos and on drawings alike.
const COLOUR: &str = "#b0009f";
/// Radius of a pin without a diameter, mm of paper.
const PLAIN_PIN: f64 = 1.5;

/// The first position of a report over a picture, as an SVG document that holds both.
///
/// # Errors
/// [`OutputError`] when the report holds a number that is not finite, or no position.
pub fn over_picture(
    report: &DrawingReport,
    picture: &Picture,
    lies: &Pixels,
) -> Result<String, OutputError> {
    check_finite(report)?;
    let Some(position) = report.positions.first() else {
        return Err(OutputError::NothingToDraw);
    };
    let [wide, tall] = picture.size;
    let paper = LONG / wide.max(tall);
    let mut plate = Plate::new(paper / lies.mm);
    plate.traced(position);
    let corner = minus(times(paper, lies.pixel), plate.at(lies.place));
    let (mut ink, mut labels) = (plate.ink, plate.labels);
    // In its own colour: the picture may have words of its own.
    for label in &mut labels {
        label.colour = COLOUR;
    }
    place(&mut ink, labels, WIDER);
    let mut page = Ink::new();
    page.take(ink, corner);
    let size = [wide * paper, tall * paper];
    let title = format!("{}: over the picture", clean(&report.tool));
    let mut svg = Svg::new(&Sheet {
        size,
        unit: "mm",
        fonts: WIDE_FONTS,
        id: "over-",
        title: &title,
        about: "Outlines, pins and marks of the tool over the picture that they were read off.",
    });
    hatching(&mut svg, "over-");
    let image = svg.element("image").with("href", &picture.address());
    let image = image.number("width", size[0]).number("height", size[1]);
    image.with("preserveAspectRatio", "none").end();
    page.write("over-", &mut svg);
    Ok(svg.finish())
}

impl Plate {
    /// Outlines, pins and marks as lines with white rims, so that what is below stays seen.
    fn traced(&mut self, position: &DrawnPosition) {
        let rimmed =
            |width: f64| -> [Line; 2] { [pen(WHITE, width + 0.7, ""), pen(COLOUR, width, "")] };
        for part in &position.parts {
            let borders = self.borders(part);
            for line in rimmed(0.35) {
                if !borders.is_empty() {
                    self.ink.region(&borders, Fill::None, Some(line));
                } else if let Some((from, steps)) =
                    outline(&self.corners(part), part.round * self.scale)
                {
                    self.ink.path(from, steps, true, Fill::None, Some(line));
                }
            }
        }
        let cross = |plate: &mut Self, at: V, arm: f64| {
            for line in rimmed(0.25) {
                for half in [[arm, 0.0], [0.0, arm]] {
                    plate
                        .ink
                        .line(&[minus(at, half), plus(at, half)], line, 1.0);
                }
            }
        };
        for pin in &position.pins {
            let at = self.at(pin.at);
            let radius = pin
                .diameter
                .map_or(PLAIN_PIN, |d| 0.5 * d * self.scale)
                .max(0.3);
            cross(self, at, radius + 2.0);
            let [rim, line] = rimmed(0.35);
            self.ink.circle(at, radius, "none", rim, None);
            self.ink
                .circle(at, radius, "none", line, Some(pin.name.clone()));
            self.label(name(&pin.name), at, radius + 1.0, None);
        }
        let marks = position.parts.iter().flat_map(|part| &part.points);
        for mark in marks.filter(|mark| !mark.pin) {
            let at = self.at(mark.at);
            cross(self, at, 1.6);
            self.label(name(&mark.name), at, 1.8, None);
        }
    }
}
