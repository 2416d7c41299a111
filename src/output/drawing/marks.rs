//! What is written into a drawing: jaws with their gap, pins, marks, grips, names of parts.

use super::ink::{Fill, V, across, dot, length, minus, plus, times, unit};
use super::labels::Label;
use super::outline::arc_points;
use super::tool::{CLOSED, LABEL, Plate, THIN, WHITE, name, pen};
use crate::output::svg::labels::text_width;
use crate::output::svg::pen::INK;
use crate::output::text::{length as length_text, trimmed, true_minus};
use crate::report::{
    DrawnGrip, DrawnHandle, DrawnJaw, DrawnPart, DrawnPin, DrawnPosition, DrawnStop, UnitNames,
};
use crate::units::MM_PER_IN;
use std::f64::consts::TAU;

/// Radius of a pin without a diameter, mm of paper.
const PLAIN_PIN: f64 = 1.2;
/// Half the length of the face of a jaw, mm of paper.
const HALF_FACE: f64 = 3.0;
/// How much a dimension line is in the way of texts: a number with a line through it reads as another.
const DIMENSION: f64 = 4.0;
/// The same where there is little room, and texts that stand wide of a line would make the tool smaller.
const TIGHT_DIMENSION: f64 = 2.0;
/// A gap smaller than this on paper has no dimension line, only its number.
const NO_GAP: f64 = 0.4;

/// The distance at which the gap of a jaw counts as zero, in the unit of the report.
pub(super) fn closed(jaw: &DrawnJaw, units: &UnitNames) -> f64 {
    match units.length {
        "in" => jaw.closed / MM_PER_IN,
        _ => jaw.closed,
    }
}

/// Out of the other face at a point, by its part and name: shut, both stand in one place. `None` for a point that is
/// no end of it.
fn out_of([on, against]: &[[String; 2]; 2], axis: Option<V>, point: [&str; 2]) -> Option<V> {
    let is = |end: &[String; 2]| end[0] == point[0] && end[1] == point[1];
    match axis? {
        axis if is(on) => Some(axis),
        axis if is(against) => Some(times(-1.0, axis)),
        _ => None,
    }
}

/// Out of the work at a point of a jaw.
fn face(jaws: &[DrawnJaw], point: [&str; 2]) -> Option<V> {
    (jaws.iter()).find_map(|jaw| out_of(&jaw.ends, jaw.axis, point))
}

/// Out of the other face at a point of a stop.
fn stop_face(stops: &[DrawnStop], point: [&str; 2]) -> Option<V> {
    (stops.iter()).find_map(|stop| out_of(&stop.ends, Some(stop.axis), point))
}

/// Across an axis, on the side that is farther from the middle of the tool.
fn outer(axis: V, from_middle: V) -> V {
    let side = across(axis);
    match dot(side, from_middle) < 0.0 {
        true => times(-1.0, side),
        false => side,
    }
}

impl Plate {
    pub(super) fn grip_labels(&mut self, handle: &DrawnHandle, middle: V) {
        // In a small drawing only the grip that is held.
        let named = |grip: &&DrawnGrip| grip.held || !self.numbered;
        let grips: Vec<DrawnGrip> = handle.grips.iter().filter(named).cloned().collect();
        let half = 0.5 * handle.thickness * self.scale;
        let away = |at: V, along: V| match (across(along), dot(across(along), minus(at, middle))) {
            (side, off) if off < 0.0 => times(-1.0, side),
            (side, _) => side,
        };
        let ends: Vec<(V, V)> = (grips.iter())
            .map(|grip| {
                let at = self.at(grip.at);
                let away = away(at, Self::towards(grip.along));
                (plus(at, times(half + 1.5, away)), away)
            })
            .collect();
        for (k, (grip, (end, away))) in grips.iter().zip(&ends).enumerate() {
            let text = format!("grip {}", trimmed((grip.distance * 1e3).round() / 1e3));
            self.label(text, *end, 1.0, Some(*away));
            if let Some(label) = self.labels.last_mut() {
                let others = ends.iter().enumerate().filter(|(other, _)| *other != k);
                label.rivals = others.map(|(_, (end, _))| *end).collect();
            }
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
        let gap = true_minus(&length_text(jaw.gap, units));
        let mut text = format!("gap {gap} {}", units.length);
        if all.len() > 1 {
            text = format!("{}: {text}", name(&jaw.name));
        }
        // The gaps of further jaws are told beside a brief drawing: there is no room for them within.
        let left_out = index > 0 && self.close < 1.0;
        let Some(axis) = jaw.axis.map(Self::towards) else {
            if !left_out {
                self.label(text, on, 4.0, Some(minus(on, middle)));
            }
            return;
        };
        let shut = plus(against, times(jaw.closed * self.scale, axis));
        let side = outer(axis, minus(on, middle));
        for at in [on, against] {
            let half = times(HALF_FACE, side);
            let face = pen(INK, 0.7, "");
            self.ink.line(&[minus(at, half), plus(at, half)], face, 1.0);
        }
        self.finished_work(jaw, (against, shut), side, units);
        if left_out {
            return;
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
        let reach = farthest + self.close * (10.0 + 9.0 * index as f64);
        let foot = |p: V| plus(p, times(reach - dot(p, side), side));
        for p in [on, shut] {
            let far = plus(foot(p), times(1.2, side));
            self.ink.line(&[plus(p, times(3.6, side)), far], THIN, 0.6);
        }
        let (a, b) = (foot(on), foot(shut));
        self.dimension(a, b);
        self.label(text, times(0.5, plus(a, b)), 1.8, Some(side));
    }

    /// The work as the jaws leave it, where the gap counts from its face: else a gap of zero would stand beside
    /// faces that are visibly apart.
    fn finished_work(&mut self, jaw: &DrawnJaw, ends: (V, V), side: V, units: &UnitNames) {
        let (against, face) = ends;
        if jaw.closed <= 0.0 || length(minus(face, against)) < NO_GAP {
            return;
        }
        let half = times(HALF_FACE, side);
        let corners = [
            minus(against, half),
            plus(against, half),
            plus(face, half),
            minus(face, half),
        ];
        self.ink.poly(&corners, true, Fill::None, Some(CLOSED));
        self.ink.crowd_along(&corners, 0.6);
        // Told beside a brief drawing.
        if self.close < 1.0 {
            return;
        }
        let text = format!(
            "work {} {}",
            length_text(closed(jaw, units), units),
            units.length
        );
        let edge = minus(times(0.5, plus(against, face)), half);
        self.label(text, edge, 1.5, Some(times(-1.0, side)));
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
        let weight = match self.close < 1.0 {
            true => TIGHT_DIMENSION,
            false => DIMENSION,
        };
        self.ink.line(&[low, high], THIN, weight);
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
        for (k, pin) in position.pins.iter().enumerate() {
            let on = |p: &DrawnPart| p.points.iter().any(|q| q.pin && q.name == pin.name);
            if only.is_some_and(|p| !on(p)) {
                continue;
            }
            let (at, radius) = self.hole(pin);
            let text = match self.numbered {
                true => pin_letter(k),
                false => name(&pin.name),
            };
            self.label(text, at, radius + 1.0, Some(minus(at, middle)));
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

    /// Marks with their names. Where marks of one name stand apart, each is named with its part; where the two of a
    /// jaw are as near as their letters, one name does for both.
    pub(super) fn marks(
        &mut self,
        parts: &[DrawnPart],
        (jaws, stops): (&[DrawnJaw], &[DrawnStop]),
        middle: V,
    ) {
        let marks = |part: &DrawnPart| -> Vec<(String, String, V)> {
            let own = part.points.iter().filter(|p| !p.pin);
            own.map(|p| (part.name.clone(), p.name.clone(), p.at))
                .collect()
        };
        let all: Vec<(String, String, V)> = parts.iter().flat_map(marks).collect();
        let mut seen: Vec<(&str, V)> = Vec::new();
        for (part, point, place) in &all {
            let at = self.at(*place);
            let face = face(jaws, [part, point]);
            // In a small drawing only those on which the work pushes.
            if self.numbered && face.is_none() {
                continue;
            }
            let near = if face.is_some() { 2.0 * LABEL } else { 0.5 };
            let one = |(name, p): &(&str, V)| *name == point && length(minus(*p, at)) < near;
            let known = seen.iter().any(one);
            let drawn = seen.iter().any(|(_, p)| length(minus(*p, at)) < 0.01);
            seen.push((point, at));
            if !drawn {
                for half in [[1.1, 1.1], [1.1, -1.1]] {
                    self.ink.line(&[minus(at, half), plus(at, half)], THIN, 1.0);
                }
            }
            if known {
                continue;
            }
            let apart = |other: &(String, String, V)| {
                other.1 == *point && length(minus(self.at(other.2), at)) >= near
            };
            let text = match all.iter().any(apart) {
                true => name(&format!("{part}.{point}")),
                false => name(point),
            };
            match (face, stop_face(stops, [part, point])) {
                (Some(out), _) => self.face_label(text, at, out, middle),
                (None, Some(out)) => self.stop_label(text, at, out, middle),
                (None, None) => self.label(text, at, 1.6, Some(minus(at, middle))),
            }
        }
    }

    /// The name of a point of a stop: as that of a jaw, or farther within its own part, which may be narrow.
    fn stop_label(&mut self, text: String, at: V, out: V, middle: V) {
        self.face_label(text, at, out, middle);
        let within = Self::towards(out);
        if let Some(label) = self.labels.last_mut() {
            let straight = [2.0, 3.5, 5.0, 7.0, 9.0, 11.0].map(|far| plus(at, times(far, within)));
            label.spots.extend(straight);
        }
    }

    /// The name of a jaw's point: on its own side of the face, away from the other point and from the gap's
    /// dimension.
    fn face_label(&mut self, text: String, at: V, out: V, middle: V) {
        let out = Self::towards(out);
        let side = outer(out, minus(at, middle));
        let wide = 0.5 * text_width(&text, LABEL, false);
        // Half of what the letters take along the face and across it.
        let along = wide * side[0].abs() + 0.6 * LABEL * side[1].abs();
        let rise = wide * out[0].abs() + 0.6 * LABEL * out[1].abs() + 0.8;
        let beside = |off: f64| plus(plus(at, times(rise, out)), times(off, side));
        let clear = HALF_FACE + along;
        self.labels.push(Label {
            text,
            at,
            clear: 2.0,
            size: LABEL,
            bold: false,
            italic: false,
            first: true,
            balloon: false,
            colour: INK,
            towards: Some(minus(out, side)),
            spots: vec![beside(-clear), beside(-clear - 2.0), beside(clear)],
            rivals: Vec::new(),
        });
    }
}

/// What a part is called in a small drawing: its number in the order of the file.
pub(super) fn part_number(k: usize) -> String {
    (k + 1).to_string()
}

/// What a pin is called in a small drawing: a letter, none that reads like a digit.
fn pin_letter(k: usize) -> String {
    const LETTERS: &str = "ABCDEFGHJKLMNPQRSTUVWXYZ";
    let turn = k / LETTERS.len();
    let letter = LETTERS.chars().nth(k % LETTERS.len()).unwrap_or('A');
    match turn {
        0 => letter.to_string(),
        _ => format!("{letter}{turn}"),
    }
}

/// What the numbers and letters of a small drawing stand for.
pub(super) fn names(position: &DrawnPosition) -> String {
    let list = |all: Vec<String>| all.join(", ");
    let parts = position.parts.iter().enumerate();
    let parts = parts.map(|(k, part)| format!("{} {}", part_number(k), name(&part.name)));
    let pins = position.pins.iter().enumerate();
    let pins = pins.map(|(k, pin)| format!("{} {}", pin_letter(k), name(&pin.name)));
    format!(
        "parts: {}; pins: {}",
        list(parts.collect()),
        list(pins.collect())
    )
}
