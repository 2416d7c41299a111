//! Slots: walls as far as the rider goes, straight or arcs, the rider's guide or roller, the centre line.

use super::ink::{Fill, V, across, minus, plus, times};
use super::outline::arc_points;
use super::tool::{CENTRE, EDGE, Plate, WHITE, pen};
use crate::output::svg::pen::INK;
use crate::report::{DrawnArc, DrawnSlot};
use std::f64::consts::TAU;

impl Plate {
    /// The walls of a slot, and the guided length of a keyed slider.
    pub(super) fn slot(&mut self, slot: &DrawnSlot) {
        self.walls(slot);
        self.guide(slot);
    }

    /// The walls of a slot.
    pub(super) fn walls(&mut self, slot: &DrawnSlot) {
        let wide = self.half_way(slot);
        let walls = [-1.0, 1.0].map(|sign| self.beside(slot, sign * (wide + 0.4)));
        for wall in walls {
            self.ink.line(&wall, pen(INK, 0.5, ""), 1.0);
        }
    }

    /// The guided length of a keyed slider.
    pub(super) fn guide(&mut self, slot: &DrawnSlot) {
        let wide = self.half_way(slot);
        if let Some(guide) = slot.guide {
            let along = Self::towards(slot.along);
            let (at, half) = (self.at(slot.rider), 0.5 * guide * self.scale);
            let (along, off) = (times(half, along), times(wide, across(along)));
            let corners = [
                plus(plus(at, along), off),
                plus(minus(at, along), off),
                minus(minus(at, along), off),
                minus(plus(at, along), off),
            ];
            let line = Some(pen(INK, EDGE, ""));
            self.ink.poly(&corners, true, Fill::Colour(WHITE), line);
        }
    }

    /// Half of what rides in a slot is wide on paper, with its edge.
    fn half_way(&self, slot: &DrawnSlot) -> f64 {
        slot.half * self.scale + 0.5 * EDGE
    }

    /// The centre line of a slot, and the roller that rides in it.
    pub(super) fn slot_line(&mut self, slot: &DrawnSlot) {
        self.roller(slot);
        self.slot_centre(slot);
    }

    /// The roller that rides in a slot.
    pub(super) fn roller(&mut self, slot: &DrawnSlot) {
        if let Some(diameter) = slot.roller {
            let (at, radius) = (self.at(slot.rider), 0.5 * diameter * self.scale);
            self.ink.circle(at, radius, WHITE, pen(INK, EDGE, ""), None);
        }
    }

    /// The centre line of a slot.
    pub(super) fn slot_centre(&mut self, slot: &DrawnSlot) {
        let line = self.beside(slot, 0.0);
        self.ink.line(&line, CENTRE, 0.5);
    }

    /// A line beside the centre line of a slot, on paper: along the way of the rider, and some more.
    fn beside(&self, slot: &DrawnSlot, off: f64) -> Vec<V> {
        let more = (0.5 * slot.guide.unwrap_or(0.0)).max(1.6 * slot.half) * self.scale + 3.0;
        if let Some(arc) = &slot.arc {
            return self.beside_arc(arc, off, more);
        }
        let [a, b] = slot.reach.map(|p| self.at(p));
        let along = Self::towards(slot.along);
        let off = times(off, across(along));
        vec![
            plus(plus(a, times(-more, along)), off),
            plus(plus(b, times(more, along)), off),
        ]
    }

    fn beside_arc(&self, arc: &DrawnArc, off: f64, more: f64) -> Vec<V> {
        let radius = arc.radius * self.scale;
        let [from, to] = arc.from_to.map(f64::to_radians);
        // Up is minus y on paper, and no arc is more than a circle.
        let more = (more / radius).min(0.5 * (TAU - (to - from)).max(0.0));
        arc_points(
            self.at(arc.centre),
            (radius + off).max(0.0),
            -from + more,
            -to - more,
        )
    }
}
