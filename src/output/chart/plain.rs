//! Bars, lines and words to a tenth of a pixel, which is finer than any screen.

use crate::output::svg::pen::{INK, Pen};
use crate::output::svg::writer::{Svg, Way};

/// Size of the words beside bars and axes, px.
pub(super) const SMALL: f64 = 12.0;

fn tenths(lengths: [f64; 2]) -> [f64; 2] {
    lengths.map(|v| (10.0 * v).round() / 10.0)
}

/// A straight line.
pub(super) fn rule(out: &mut Svg, from: [f64; 2], to: [f64; 2], pen: &Pen) {
    let mut way = Way::spaced();
    way.piece([tenths(from), tenths(to)]);
    let path = out.element("path").way(&way).with("stroke", pen.colour);
    let path = path.number("stroke-width", pen.width);
    let dash = Some(pen.dash).filter(|dash| !dash.is_empty());
    path.maybe("stroke-dasharray", dash).end();
}

/// A filled bar from its upper left corner.
pub(super) fn bar(out: &mut Svg, corner: [f64; 2], size: [f64; 2], colour: &str) {
    let rect = out.element("rect").at(["x", "y"], tenths(corner));
    let rect = rect.at(["width", "height"], tenths(size));
    rect.with("fill", colour).end();
}

/// The outline of a bar, within its size.
pub(super) fn hollow(out: &mut Svg, corner: [f64; 2], size: [f64; 2], colour: &str) {
    let rect = out.element("rect").at(["x", "y"], tenths(corner));
    let rect = rect.at(["width", "height"], tenths(size));
    let rect = rect.with("fill", "none").with("stroke", colour);
    rect.number("stroke-width", 1.4).end();
}

/// Lines across a bar, at the same heights in all bars of one picture.
pub(super) fn hatch(out: &mut Svg, corner: [f64; 2], size: [f64; 2], colour: &str) {
    const APART: f64 = 4.0;
    let mut way = Way::spaced();
    let first = (corner[1] / APART).ceil() as i64;
    let last = ((corner[1] + size[1]) / APART).floor() as i64;
    for line in first..=last {
        let y = APART * line as f64;
        way.piece([tenths([corner[0], y]), tenths([corner[0] + size[0], y])]);
    }
    if !way.is_empty() {
        let path = out.element("path").way(&way).with("stroke", colour);
        path.number("stroke-width", 1.0).end();
    }
}

pub(super) fn words(out: &mut Svg, at: [f64; 2], text: &str, size: f64, bold: bool, anchor: &str) {
    let element = out.element("text").at(["x", "y"], tenths(at));
    let element = element.number("font-size", size);
    let element = element.maybe("font-weight", bold.then_some("bold"));
    let element = element.with("text-anchor", anchor).with("fill", INK);
    element.text(text);
}
