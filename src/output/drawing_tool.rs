//! The tool at one position: parts, handles, slots, springs, jaws and pins, true to scale.

use super::drawing_ink::{
    Fill, Ink, Line, Shape, V, across, dot, length, minus, plus, times, unit,
};
use super::drawing_labels::Label;
use super::drawing_outline::{arc_points, hull, outline, zigzag};
use super::palette::{GREY, INK};
use super::text::{clean, length as length_text, trimmed};
use crate::report::{DrawnHandle, DrawnJaw, DrawnPart, DrawnPosition, DrawnSlot, UnitNames};

/// Font size of labels, mm: capitals are then 2.5 mm high, a height of ISO 3098.
pub(super) const LABEL: f64 = 3.4;
/// Visible width of the outline of a part, mm.
const EDGE: f64 = 0.4;
pub(super) const THIN: Line = pen(INK, 0.25, "");
const FAINT: Line = pen("#8f8f8f", 0.18, "");
/// Centre lines: long-dashed dotted narrow lines, type 04 of ISO 128.
pub(super) const CENTRE: Line = pen(INK, 0.25, "6 0.9 0.2 0.9");
const SPRING: Line = pen(INK, 0.35, "");
const FACE: Line = pen(INK, 0.7, "");
const WHITE: &str = "#ffffff";
/// Radius of a pin without a diameter, mm of paper.
const PLAIN_PIN: f64 = 1.2;

pub(super) const fn pen(colour: &'static str, width: f64, dash: &'static str) -> Line {
    Line {
        colour,
        width,
        dash,
    }
}

/// One position on paper: the ink so far, and the labels that are still to be placed.
pub(super) struct Plate {
    pub ink: Ink,
    pub labels: Vec<Label>,
    /// Millimetres of paper for one of the tool.
    pub scale: f64,
}

impl Plate {
    pub(super) fn new(scale: f64) -> Self {
        Self {
            ink: Ink::new(),
            labels: Vec::new(),
            scale,
        }
    }

    /// A place of the tool on the paper, where y runs down.
    pub(super) fn at(&self, p: V) -> V {
        [p[0] * self.scale, -p[1] * self.scale]
    }

    /// A direction of the tool on the paper.
    pub(super) fn towards(d: V) -> V {
        [d[0], -d[1]]
    }

    pub(super) fn label(&mut self, text: String, at: V, clear: f64, towards: Option<V>) {
        self.labels.push(Label {
            text,
            at,
            clear,
            size: LABEL,
            bold: false,
            italic: false,
            colour: INK,
            towards,
        });
    }

    /// The whole tool.
    pub(super) fn tool(&mut self, position: &DrawnPosition, units: &UnitNames) {
        for earlier in &position.earlier {
            for part in earlier {
                self.ghost(part);
            }
        }
        let (fixed, mut moving): (Vec<&DrawnPart>, Vec<&DrawnPart>) =
            position.parts.iter().partition(|p| p.fixed);
        // Small parts lie on large ones, so that none is hidden.
        moving.sort_by(|a, b| extent(b).total_cmp(&extent(a)));
        for part in fixed {
            self.part(part, &position.handles);
        }
        for slot in &position.slots {
            self.slot(slot);
        }
        for part in moving {
            self.part(part, &position.handles);
        }
        for slot in &position.slots {
            let (a, b) = self.slot_ends(slot);
            self.ink.line(&[a, b], CENTRE, 0.5);
        }
        for handle in &position.handles {
            self.centre_line(handle);
        }
        for spring in &position.springs {
            self.spring(spring.ends);
        }
        let middle = self.middle(position);
        for jaw in &position.jaws {
            self.jaw(jaw, middle, position.jaws.len() > 1, units);
        }
        self.pins(position, None, middle);
        self.marks(&position.parts, middle);
        if let Some(handle) = position.handles.first() {
            self.grip_labels(handle, middle);
        }
        for part in &position.parts {
            self.name(part);
        }
    }

    /// One part alone.
    pub(super) fn alone(&mut self, position: &DrawnPosition, name: &str) {
        let mine: Vec<DrawnPart> = (position.parts.iter())
            .filter(|p| p.name == name)
            .cloned()
            .collect();
        for part in &mine {
            self.part(part, &position.handles);
            let own = position.handles.iter().filter(|h| h.part == part.name);
            for handle in own {
                self.centre_line(handle);
            }
            let middle = self.at(centre(&all_points(part)));
            self.pins(position, Some(part), middle);
            self.marks(std::slice::from_ref(part), middle);
        }
    }

    /// The middle of all named points.
    fn middle(&self, position: &DrawnPosition) -> V {
        let points: Vec<V> = position.parts.iter().flat_map(all_points).collect();
        self.at(centre(&points))
    }

    fn corners(&self, part: &DrawnPart) -> Vec<V> {
        let points: Vec<V> = all_points(part).into_iter().map(|p| self.at(p)).collect();
        hull(&points)
    }

    fn ghost(&mut self, part: &DrawnPart) {
        if let Some((from, steps)) = outline(&self.corners(part), part.round * self.scale) {
            self.ink.path(from, steps, true, Fill::None, Some(FAINT));
        }
    }

    /// Outline of a part and its handle, as one silhouette: all edges first, then the fillings.
    fn part(&mut self, part: &DrawnPart, handles: &[DrawnHandle]) {
        let corners = self.corners(part);
        let round = part.round * self.scale;
        let hull = outline(&corners, round);
        let bands: Vec<(Vec<V>, f64)> = (handles.iter())
            .filter(|h| h.part == part.name)
            .map(|h| {
                let line = h.line.iter().map(|&p| self.at(p)).collect();
                let thickness = if h.thickness > 0.0 {
                    h.thickness
                } else {
                    part.round
                };
                (line, thickness * self.scale)
            })
            .collect();
        if let Some((from, steps)) = hull.clone() {
            let edge = pen(INK, 2.0 * EDGE, "");
            self.ink.path(from, steps, true, Fill::None, Some(edge));
            let mut ring = corners.clone();
            ring.extend(corners.first().copied());
            self.ink.crowd_along(&ring, 0.15);
        }
        for (line, width) in &bands {
            self.ink.line(line, pen(INK, width + 2.0 * EDGE, ""), 0.0);
        }
        if let Some((from, steps)) = hull.clone() {
            self.ink.path(from, steps, true, Fill::Colour(WHITE), None);
        }
        for (line, width) in &bands {
            self.ink.line(line, pen(WHITE, *width, ""), 0.0);
            for side in [0.5, -0.5] {
                let edge: Vec<V> = (line.windows(2))
                    .map(|w| {
                        let n = across(unit(minus(w[1], w[0])));
                        plus(w[0], times(side * width, n))
                    })
                    .collect();
                self.ink.crowd_along(&edge, 0.4);
            }
        }
        if part.fixed {
            if let Some((from, steps)) = hull {
                self.ink.path(from, steps, true, Fill::Hatch, None);
            }
            for (points, width) in bands {
                self.ink.shapes.push(Shape::Hatched { points, width });
            }
        }
    }

    /// The ends of a slot's centre line: the way of the rider, and some more.
    fn slot_ends(&self, slot: &DrawnSlot) -> (V, V) {
        let [a, b] = slot.reach.map(|p| self.at(p));
        let along = Self::towards(slot.along);
        let more = (0.5 * slot.guide.unwrap_or(0.0)).max(1.6 * slot.half) * self.scale + 3.0;
        (plus(a, times(-more, along)), plus(b, times(more, along)))
    }

    fn slot(&mut self, slot: &DrawnSlot) {
        let (a, b) = self.slot_ends(slot);
        let side = across(Self::towards(slot.along));
        let wide = slot.half * self.scale + 0.5 * EDGE;
        for sign in [-1.0, 1.0] {
            let off = times(sign * (wide + 0.4), side);
            let way = pen(INK, 0.5, "");
            self.ink.line(&[plus(a, off), plus(b, off)], way, 1.0);
        }
        // The guided length of a keyed slider.
        if let Some(guide) = slot.guide {
            let (at, half) = (self.at(slot.rider), 0.5 * guide * self.scale);
            let along = times(half, Self::towards(slot.along));
            let off = times(wide, side);
            let corners = [
                plus(plus(at, along), off),
                plus(minus(at, along), off),
                minus(minus(at, along), off),
                minus(plus(at, along), off),
            ];
            self.ink.poly(
                &corners,
                true,
                Fill::Colour(WHITE),
                Some(pen(INK, EDGE, "")),
            );
        }
    }

    fn centre_line(&mut self, handle: &DrawnHandle) {
        let line: Vec<V> = handle.line.iter().map(|&p| self.at(p)).collect();
        self.ink.line(&line, CENTRE, 0.6);
        let half = 0.5 * handle.thickness * self.scale + 1.5;
        for grip in &handle.grips {
            let side = times(half, across(Self::towards(grip.along)));
            let at = self.at(grip.at);
            let tick = pen(INK, if grip.held { 0.5 } else { 0.25 }, "");
            self.ink.line(&[plus(at, side), minus(at, side)], tick, 1.0);
        }
    }

    fn grip_labels(&mut self, handle: &DrawnHandle, middle: V) {
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

    fn spring(&mut self, ends: [V; 2]) {
        let [a, b] = ends.map(|p| self.at(p));
        let d = length(minus(b, a));
        if d > 1.0 {
            let half = (0.12 * d).clamp(1.2, 3.0);
            let teeth = ((d / 3.2).round() as usize).clamp(4, 14);
            self.ink.line(&zigzag(a, b, teeth, half), SPRING, 0.8);
        } else {
            // About a pin: a coil round it with two legs.
            let mut coil = vec![plus(a, [9.0, -4.2])];
            coil.extend(arc_points(a, 4.2, -1.57, 9.0));
            coil.push(plus(a, [-9.0, 1.8]));
            self.ink.line(&coil, SPRING, 0.8);
            self.ink.reach(a, 9.5);
        }
    }

    fn jaw(&mut self, jaw: &DrawnJaw, middle: V, named: bool, units: &UnitNames) {
        let (on, against) = (self.at(jaw.on), self.at(jaw.against));
        let mut text = format!("gap {} {}", length_text(jaw.gap, units), units.length);
        if named {
            text = format!("{}: {text}", clean(&jaw.name));
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
            let half = times(3.0, side);
            self.ink.line(&[minus(at, half), plus(at, half)], FACE, 1.0);
        }
        // The dimension stands beside both points.
        let reach = dot(on, side).max(dot(against, side)) + 10.0;
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

    fn pins(&mut self, position: &DrawnPosition, only: Option<&DrawnPart>, middle: V) {
        for pin in &position.pins {
            let on = |p: &DrawnPart| p.points.iter().any(|q| q.pin && q.name == pin.name);
            if only.is_some_and(|p| !on(p)) {
                continue;
            }
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
            for half in [[radius + 1.5, 0.0], [0.0, radius + 1.5]] {
                self.ink
                    .line(&[minus(at, half), plus(at, half)], pen(INK, 0.18, ""), 1.5);
            }
            let name = clean(&pin.name);
            self.label(name, at, radius + 1.0, Some(minus(at, middle)));
        }
    }

    fn marks(&mut self, parts: &[DrawnPart], middle: V) {
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
                self.label(clean(&point.name), at, 1.6, Some(minus(at, middle)));
            }
        }
    }

    fn name(&mut self, part: &DrawnPart) {
        let points = all_points(part);
        let at = self.at(centre(&points));
        self.labels.push(Label {
            text: clean(&part.name),
            at,
            clear: 0.5,
            size: LABEL,
            bold: false,
            italic: true,
            colour: GREY,
            towards: None,
        });
    }
}

/// Named points and the roots of handles.
pub(super) fn all_points(part: &DrawnPart) -> Vec<V> {
    let points = part.points.iter().map(|p| p.at);
    points.chain(part.roots.iter().copied()).collect()
}

pub(super) fn centre(points: &[V]) -> V {
    let sum = points.iter().fold([0.0; 2], |s, &p| plus(s, p));
    times(1.0 / points.len().max(1) as f64, sum)
}

fn extent(part: &DrawnPart) -> f64 {
    let points = all_points(part);
    let mut most = 0.0_f64;
    for (k, &a) in points.iter().enumerate() {
        for &b in points.iter().skip(k + 1) {
            most = most.max(length(minus(a, b)));
        }
    }
    most
}
