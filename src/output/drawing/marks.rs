//! What is written into a drawing: jaws with their gap, pins, marks, grips, names of parts.

use super::ink::{Fill, V, across, dot, length, minus, plus, times, unit};
use super::labels::Label;
use super::outline::arc_points;
use super::tool::{LABEL, Plate, THIN, WHITE, centre, name, pen};
use crate::output::svg::pen::{GREY, INK};
use crate::output::text::{length as length_text, trimmed};
use crate::report::{DrawnHandle, DrawnJaw, DrawnPart, DrawnPin, DrawnPosition, UnitNames};
use std::f64::consts::TAU;

/// Radius of a pin without a diameter, mm of paper.
const PLAIN_PIN: f64 = 1.2;
/// Half the length of the face of a jaw, mm of paper.
const HALF_FACE: f64 = 3.0;
/// A gap smaller than this on paper has no dimension line, only its number.
const NO_GAP: f64 = 0.4;

impl Plate {
    pub(super) fn grip_labels(&mut self, handle: &DrawnHandle, middle: V) {
        for grip in &handle.grips {
            let at = self.at(grip.at);
            let half = 0.5 * handle.thickness * self.scale;
            let side = across(Self::towards(grip.along));
            let away = if dot(side, minus(at, middle)) < 0.0 {
                times(-1.0, side)
            } else {
                side
            };
            let end = plus(at, times(half + 1.5, away));
            let text = format!("grip {}", trimmed((grip.distance * 1e3).round() / 1e3));
            self.label(text, end, 1.0, Some(away));
        }
    }

    /// The faces of a jaw and its gap, as a dimension beside it; it is the one at `index` of all.
    pub(super) fn jaw(
        &mut self,
        jaw: &DrawnJaw,
        middle: V,
        (index, all): (usize, &[DrawnJaw]),
        units: &UnitNames,
    ) {
        let (on, against) = (self.at(jaw.on), self.at(jaw.against));
        let mut text = format!("gap {} {}", length_text(jaw.gap, units), units.length);
        if all.len() > 1 {
            text = format!("{}: {text}", name(&jaw.name));
        }
        let Some(axis) = jaw.axis.map(Self::towards) else {
            self.label(text, on, 4.0, Some(minus(on, middle)));
            return;
        };
        let shut = plus(against, times(jaw.closed * self.scale, axis));
        let mut side = across(axis);
        if dot(side, minus(on, middle)) < 0.0 {
            side = times(-1.0, side);
        }
        for at in [on, against] {
            let half = times(HALF_FACE, side);
            let face = pen(INK, 0.7, "");
            self.ink.line(&[minus(at, half), plus(at, half)], face, 1.0);
        }
        if length(minus(on, shut)) < NO_GAP {
            let edge = plus(on, times(HALF_FACE, side));
            self.label(text, edge, 2.0, Some(side));
            return;
        }
        // The dimension stands beside both points, that of each further jaw farther away.
        let ends = all.iter().flat_map(|j| [j.on, j.against]);
        let farthest = ends
            .map(|p| dot(self.at(p), side))
            .fold(f64::NEG_INFINITY, f64::max);
        let reach = farthest + 10.0 + 9.0 * index as f64;
        let foot = |p: V| plus(p, times(reach - dot(p, side), side));
        for p in [on, shut] {
            let far = plus(foot(p), times(1.2, side));
            self.ink.line(&[plus(p, times(3.6, side)), far], THIN, 0.6);
        }
        let (a, b) = (foot(on), foot(shut));
        self.dimension(a, b);
        self.label(text, times(0.5, plus(a, b)), 1.8, Some(side));
    }

    /// A dimension line with arrowheads inside, or outside where there is no room.
    pub(super) fn dimension(&mut self, a: V, b: V) {
        let d = minus(b, a);
        let inside = length(d) > 6.0;
        let along = unit(d);
        let (low, high) = if inside {
            (a, b)
        } else {
            (plus(a, times(-6.0, along)), plus(b, times(6.0, along)))
        };
        self.ink.line(&[low, high], THIN, 0.8);
        let out = if inside { along } else { times(-1.0, along) };
        self.head(b, out, 2.5, 0.45, INK);
        self.head(a, times(-1.0, out), 2.5, 0.45, INK);
    }

    /// A filled arrowhead with its tip at a point.
    pub(super) fn head(&mut self, tip: V, way: V, long: f64, half: f64, colour: &'static str) {
        let back = minus(tip, times(long, way));
        let side = times(half, across(way));
        let corners = [tip, plus(back, side), minus(back, side)];
        self.ink.poly(
            &corners,
            true,
            Fill::Colour(colour),
            Some(pen(colour, 0.1, "")),
        );
        self.ink.crowd_along(&[back, tip], 2.0);
    }

    pub(super) fn pins(&mut self, position: &DrawnPosition, only: Option<&DrawnPart>, middle: V) {
        for pin in &position.pins {
            let on = |p: &DrawnPart| p.points.iter().any(|q| q.pin && q.name == pin.name);
            if only.is_some_and(|p| !on(p)) {
                continue;
            }
            let (at, radius) = self.hole(pin);
            self.label(name(&pin.name), at, radius + 1.0, Some(minus(at, middle)));
        }
    }

    /// A pin with its cross: where its middle is on paper, and its radius there.
    pub(super) fn hole(&mut self, pin: &DrawnPin) -> (V, f64) {
        let at = self.at(pin.at);
        let radius = pin
            .diameter
            .map_or(PLAIN_PIN, |d| 0.5 * d * self.scale)
            .max(0.3);
        self.ink.circle(
            at,
            radius,
            WHITE,
            pen(INK, 0.35, ""),
            Some(pin.name.clone()),
        );
        self.ink.crowd_along(&arc_points(at, radius, 0.0, TAU), 1.5);
        for half in [[radius + 1.5, 0.0], [0.0, radius + 1.5]] {
            self.ink
                .line(&[minus(at, half), plus(at, half)], pen(INK, 0.18, ""), 1.5);
        }
        (at, radius)
    }

    pub(super) fn marks(&mut self, parts: &[DrawnPart], middle: V) {
        let mut seen: Vec<(String, V)> = Vec::new();
        for part in parts {
            for point in part.points.iter().filter(|p| !p.pin) {
                let at = self.at(point.at);
                let known = |(n, p): &(String, V)| *n == point.name && length(minus(*p, at)) < 0.5;
                if seen.iter().any(known) {
                    continue;
                }
                seen.push((point.name.clone(), at));
                for half in [[1.1, 1.1], [1.1, -1.1]] {
                    self.ink.line(&[minus(at, half), plus(at, half)], THIN, 1.0);
                }
                self.label(name(&point.name), at, 1.6, Some(minus(at, middle)));
            }
        }
    }

    /// The name of a part, where it can be seen: `above` is what is drawn over it.
    pub(super) fn name(&mut self, part: &DrawnPart, above: &[&DrawnPart], pins: &[DrawnPin]) {
        let corners = self.corners(part);
        let pins: Vec<V> = pins.iter().map(|p| self.at(p.at)).collect();
        // How clear a place is: of what covers the part, of its own edge, of pins.
        let clear = |p: V| {
            let own = -self.off(part, p);
            let covers = above.iter().map(|over| self.off(over, p));
            let near = pins.iter().map(|q| length(minus(p, *q)) - 2.0);
            covers.chain(near).fold(own, f64::min)
        };
        let middle = centre(&corners);
        let tries = corners.iter().flat_map(|&c| {
            let next = corners.iter().map(move |&d| times(0.5, plus(c, d)));
            next.flat_map(move |m| {
                (0..8).map(move |k| plus(middle, times(k as f64 / 7.0, minus(m, middle))))
            })
        });
        let mut spots: Vec<(f64, V)> = tries.map(|p| (clear(p), p)).collect();
        spots.sort_by(|a, b| b.0.total_cmp(&a.0));
        let at = spots.first().map_or(middle, |s| s.1);
        let seen = spots.into_iter().filter(|s| s.0 > 1.5).map(|s| s.1);
        self.labels.push(Label {
            text: name(&part.name),
            at,
            clear: 0.0,
            size: LABEL,
            bold: false,
            italic: true,
            colour: GREY,
            towards: None,
            spots: seen.collect(),
        });
    }
}
