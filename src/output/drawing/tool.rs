//! The tool at one position: parts, handles, slots, springs, jaws and pins, true to scale.

use super::ink::{Fill, Ink, Line, Shape, Step, V, across, length, minus, plus, times, unit};
use super::labels::Label;
use super::outline::{arc_points, hull, outline, walked, zigzag};
use crate::output::svg::labels::shorten;
use crate::output::svg::pen::INK;
use crate::output::text::clean;
use crate::report::{
    DrawnBorder, DrawnHandle, DrawnPart, DrawnPin, DrawnPose, DrawnPosition, DrawnRatchet,
    DrawnRim, DrawnStep, DrawnStop, UnitNames,
};
use std::f64::consts::{FRAC_PI_2, PI};

/// Font size of labels, mm: capitals are then 2.5 mm high, a height of ISO 3098.
pub(super) const LABEL: f64 = 3.4;
/// Visible width of the outline of a part, mm.
pub(super) const EDGE: f64 = 0.4;
pub(super) const THIN: Line = pen(INK, 0.25, "");
pub(super) const FAINT: Line = pen("#8f8f8f", 0.18, "");
/// Centre lines: long-dashed dotted narrow lines, type 04 of ISO 128.
pub(super) const CENTRE: Line = pen(INK, 0.25, "6 0.9 0.2 0.9");
/// Hidden edges: dashed narrow lines, type 02 of ISO 128.
pub(super) const HIDDEN: Line = pen(INK, 0.18, "3 0.75");
/// Round the finished work between two jaws.
pub(super) const CLOSED: Line = pen(INK, 0.25, "2 1");
/// How much the outline of a part is in the way of labels: their rims would cut it.
const OUTLINE: f64 = 1.2;
/// Half of what a face of a stop is long on paper, mm.
const PAD: f64 = 2.5;
const PAD_LINE: Line = pen(INK, 0.7, "");
const SPRING: Line = pen(INK, 0.35, "");
pub(super) const WHITE: &str = "#ffffff";

pub(super) const fn pen(colour: &'static str, width: f64, dash: &'static str) -> Line {
    Line {
        colour,
        width,
        dash,
    }
}

/// A name as it is written on the page: long ones are cut.
pub(super) fn name(text: &str) -> String {
    shorten(&clean(text), LABEL, true, 60.0)
}

/// One position on paper: the ink so far, and the labels that are still to be placed.
pub(super) struct Plate {
    pub ink: Ink,
    pub labels: Vec<Label>,
    /// Millimetres of paper for one of the tool.
    pub scale: f64,
    /// Share of their usual length on paper that arrows have and what stands aside: less in a brief drawing, whose tool
    /// else would be the smallest thing in it.
    pub close: f64,
    /// Parts and pins bear numbers and letters instead of their names, which a list beside the drawing tells: for
    /// drawings so small that a name would lie on other parts.
    pub numbered: bool,
}

impl Plate {
    pub(super) fn new(scale: f64) -> Self {
        Self {
            ink: Ink::new(),
            labels: Vec::new(),
            scale,
            close: 1.0,
            numbered: false,
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
            first: false,
            balloon: false,
            colour: INK,
            towards,
            spots: Vec::new(),
            rivals: Vec::new(),
        });
    }

    /// The whole tool.
    pub(super) fn tool(&mut self, position: &DrawnPosition, units: &UnitNames) {
        let [back, fixed, moving] = stacked(position);
        for part in &back {
            self.part(part, &position.handles);
        }
        for part in &fixed {
            self.part(part, &position.handles);
        }
        for part in back {
            self.hidden_behind(part, &fixed);
        }
        for slot in &position.slots {
            self.slot(slot);
        }
        for earlier in &position.earlier {
            self.ghost(earlier);
        }
        for part in moving {
            self.part(part, &position.handles);
        }
        for slot in &position.slots {
            self.slot_line(slot);
        }
        for cam in &position.cams {
            self.cam(cam);
        }
        for stop in &position.stops {
            self.pads(stop);
        }
        if let Some(ratchet) = &position.ratchet {
            self.teeth(ratchet);
            self.pawl(ratchet);
        }
        for rim in position.gears.iter().flat_map(|gears| &gears.sides) {
            self.rim(rim);
        }
        for handle in &position.handles {
            self.centre_line(handle);
        }
        for spring in &position.springs {
            self.spring(spring.ends, &position.pins);
        }
        let middle = self.middle(position);
        for (k, jaw) in position.jaws.iter().enumerate() {
            self.jaw(jaw, middle, (k, &position.jaws), units);
        }
        self.pins(position, None, middle);
        self.marks(&position.parts, (&position.jaws, &position.stops), middle);
        self.touches(position);
        if let Some(handle) = position.handles.first() {
            self.grip_labels(handle, middle);
        }
        self.span(position, units);
        self.travel(position, units);
        let mut seen: Vec<&DrawnPart> = position.parts.iter().collect();
        seen.sort_by(|a, b| {
            (!a.fixed)
                .cmp(&!b.fixed)
                .then(extent(b).total_cmp(&extent(a)))
        });
        for (k, part) in seen.iter().enumerate() {
            let number = position.parts.iter().position(|p| p.name == part.name);
            let above = seen.get(k + 1..).unwrap_or_default();
            self.name(part, number.unwrap_or_default(), above, position);
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
            self.marks(std::slice::from_ref(part), (&[], &[]), middle);
        }
    }

    /// The middle of all named points.
    fn middle(&self, position: &DrawnPosition) -> V {
        let points: Vec<V> = position.parts.iter().flat_map(all_points).collect();
        self.at(centre(&points))
    }

    pub(super) fn corners(&self, part: &DrawnPart) -> Vec<V> {
        let points: Vec<V> = all_points(part).into_iter().map(|p| self.at(p)).collect();
        hull(&points)
    }

    /// What moves, where it was before.
    fn ghost(&mut self, pose: &DrawnPose) {
        for part in &pose.parts {
            if let Some(outer) = self.borders(part).get(..1).filter(|b| !b.is_empty()) {
                self.ink.region(outer, Fill::None, Some(FAINT));
                continue;
            }
            if let Some((from, steps)) = outline(&self.corners(part), part.round * self.scale) {
                self.ink.path(from, steps, true, Fill::None, Some(FAINT));
            }
        }
        let plain = |handle: &&DrawnHandle| {
            let mut parts = pose.parts.iter();
            let whole = |part: &DrawnPart| {
                part.name == handle.part
                    && !part.borders.is_empty()
                    && !self.stands_off(part, handle)
            };
            !parts.any(whole)
        };
        let plain: Vec<&DrawnHandle> = pose.handles.iter().filter(plain).collect();
        for handle in plain {
            let line: Vec<V> = handle.line.iter().map(|&p| self.at(p)).collect();
            let half = 0.5 * handle.thickness * self.scale;
            let [left, right] = edges(&line, half);
            let mut points = left.into_iter();
            let (Some(from), Some(&tip)) = (points.next(), right.last()) else {
                continue;
            };
            let mut steps: Vec<Step> = points.map(Step::To).collect();
            steps.push(Step::Round {
                radius: half,
                to: tip,
                right: false,
            });
            steps.extend(right.into_iter().rev().skip(1).map(Step::To));
            self.ink.path(from, steps, false, Fill::None, Some(FAINT));
            if let Some(&end) = line.last() {
                self.ink.reach(end, half);
            }
        }
    }

    /// Outline of a part and its handle, as one silhouette: all edges first, then the fillings.
    pub(super) fn part(&mut self, part: &DrawnPart, handles: &[DrawnHandle]) {
        if !part.borders.is_empty() {
            let apart = |handle: &&DrawnHandle| self.stands_off(part, handle);
            let apart: Vec<&DrawnHandle> = handles.iter().filter(apart).collect();
            for handle in apart {
                let line: Vec<V> = handle.line.iter().map(|&p| self.at(p)).collect();
                let width = handle.thickness * self.scale;
                self.ink.line(&line, pen(INK, width + 2.0 * EDGE, ""), 0.0);
                self.ink.line(&line, pen(WHITE, width, ""), 0.0);
            }
            self.plate(part);
            return;
        }
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
            let ring = walked(from, &steps);
            let edge = pen(INK, 2.0 * EDGE, "");
            self.ink.path(from, steps, true, Fill::None, Some(edge));
            self.ink.crowd_along(&ring, OUTLINE);
        }
        for (line, width) in &bands {
            self.ink.line(line, pen(INK, width + 2.0 * EDGE, ""), 0.0);
        }
        if let Some((from, steps)) = hull.clone() {
            self.ink.path(from, steps, true, Fill::Colour(WHITE), None);
        }
        for (line, width) in &bands {
            self.ink.line(line, pen(WHITE, *width, ""), 0.0);
            for edge in edges(line, 0.5 * width) {
                self.ink.crowd_along(&edge, OUTLINE);
            }
        }
        if part.fixed {
            for (points, width) in bands {
                self.ink.shapes.push(Shape::Hatched { points, width });
            }
            // White between, so that no place is hatched twice.
            if let Some((from, steps)) = hull {
                let white = Fill::Colour(WHITE);
                self.ink.path(from, steps.clone(), true, white, None);
                self.ink.path(from, steps, true, Fill::Hatch, None);
            }
        }
    }

    /// A part by its true outline.
    fn plate(&mut self, part: &DrawnPart) {
        let borders = self.borders(part);
        let edge = pen(INK, 2.0 * EDGE, "");
        self.ink.region(&borders, Fill::None, Some(edge));
        self.ink.region(&borders, Fill::Colour(WHITE), None);
        if part.fixed {
            self.ink.region(&borders, Fill::Hatch, None);
        }
        for (from, steps) in &borders {
            self.ink.crowd_along(&walked(*from, steps), OUTLINE);
        }
    }

    /// Whether a part's outline ends before its handle: a grip that is no piece of the plate.
    fn stands_off(&self, part: &DrawnPart, handle: &DrawnHandle) -> bool {
        let end = handle.line.last();
        handle.part == part.name && end.is_some_and(|&end| self.off(part, self.at(end)) > 0.0)
    }

    /// The true borders of a part on the paper, the outer one first.
    pub(super) fn borders(&self, part: &DrawnPart) -> Vec<(V, Vec<Step>)> {
        part.borders
            .iter()
            .map(|border| self.border(border))
            .collect()
    }

    /// A closed border on the paper: where it starts, and its steps.
    pub(super) fn border(&self, border: &DrawnBorder) -> (V, Vec<Step>) {
        let step = |step: &DrawnStep| match step.radius {
            None => Step::To(self.at(step.to)),
            Some(radius) => Step::Round {
                radius: radius * self.scale,
                to: self.at(step.to),
                right: !step.left,
            },
        };
        let steps = border.steps.iter().map(step).collect();
        (self.at(border.from), steps)
    }

    /// The two faces of a stop, as short broad lines across the direction in which they part.
    fn pads(&mut self, stop: &DrawnStop) {
        let side = times(PAD, across(Self::towards(stop.axis)));
        for face in stop.faces {
            let at = self.at(face);
            self.ink
                .line(&[minus(at, side), plus(at, side)], PAD_LINE, 1.0);
        }
    }

    /// Teeth as a line from tip to root.
    pub(super) fn teeth(&mut self, ratchet: &DrawnRatchet) {
        let teeth: Vec<V> = ratchet.teeth.iter().map(|p| self.at(*p)).collect();
        self.ink.line(&teeth, pen(INK, 0.35, ""), 1.0);
    }

    /// The pawl from its pin to its tip.
    pub(super) fn pawl(&mut self, ratchet: &DrawnRatchet) {
        let pawl = ratchet.pawl.map(|p| self.at(p));
        self.ink.line(&pawl, PAD_LINE, 1.0);
    }

    /// Pitch circle and teeth of one part.
    pub(super) fn rim(&mut self, rim: &DrawnRim) {
        let points = |list: &[V]| -> Vec<V> { list.iter().map(|&p| self.at(p)).collect() };
        let (pitch, teeth) = (points(&rim.pitch), points(&rim.teeth));
        self.ink.line(&pitch, CENTRE, 0.5);
        self.ink.line(&teeth, pen(INK, 0.5, ""), 0.5);
    }

    pub(super) fn centre_line(&mut self, handle: &DrawnHandle) {
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

    pub(super) fn spring(&mut self, ends: [V; 2], pins: &[DrawnPin]) {
        let [a, b] = ends.map(|p| self.at(p));
        let d = length(minus(b, a));
        if d > 1.0 {
            let half = (0.12 * d).clamp(1.2, 3.0);
            let teeth = ((d / 3.2).round() as usize).clamp(4, 14);
            self.ink.line(&zigzag(a, b, teeth, half), SPRING, 0.8);
        } else {
            // About a pin: a coil round it with two legs.
            let near = |p: &&DrawnPin| length(minus(p.at, ends[0])) < 1e-6;
            let pin = pins.iter().find(near).and_then(|p| p.diameter);
            let r = (0.5 * pin.unwrap_or(0.0) * self.scale + 1.6).max(3.0);
            let mut coil = vec![plus(a, [r + 5.0, -r])];
            coil.extend(arc_points(a, r, -FRAC_PI_2, 2.5 * PI));
            coil.push(plus(a, [-r - 5.0, r]));
            self.ink.line(&coil, SPRING, 0.8);
            self.ink.reach(a, r + 1.0);
        }
    }
}

/// The parts from back to front: those behind the fixed one, that itself, those before it.
pub(super) fn stacked(position: &DrawnPosition) -> [Vec<&DrawnPart>; 3] {
    let (fixed, mut moving): (Vec<&DrawnPart>, Vec<&DrawnPart>) =
        position.parts.iter().partition(|p| p.fixed);
    // From back to front where the file says so; else small parts lie on large ones, so that none is hidden.
    let depth = |part: &DrawnPart| part.layer.unwrap_or(0);
    moving.sort_by(|a, b| (depth(b).cmp(&depth(a))).then(extent(b).total_cmp(&extent(a))));
    let ground = fixed.iter().find_map(|part| part.layer);
    let behind = |part: &&DrawnPart| part.layer.zip(ground).is_some_and(|(own, g)| own > g);
    let (back, moving) = moving.into_iter().partition(behind);
    [back, fixed, moving]
}

/// The two edges of a band of this half width.
fn edges(line: &[V], half: f64) -> [Vec<V>; 2] {
    [half, -half].map(|off| {
        let corner = |k: usize| {
            let at = *line.get(k)?;
            let before = line.get(k.saturating_sub(1))?;
            let after = line.get(k + 1).unwrap_or(&at);
            Some(plus(at, times(off, across(unit(minus(*after, *before))))))
        };
        (0..line.len()).filter_map(corner).collect()
    })
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
