//! What a hand measures on a tool: the span where it grips, and how far and which way the handle goes.

use super::ink::{V, across, dot, length, minus, plus, times, unit};
use super::tool::{Plate, THIN};
use crate::output::svg::labels::text_width;
use crate::output::svg::pen::INK;
use crate::output::text::{fixed, length as length_text};
use crate::report::{DrawnForce, DrawnGrip, DrawnHandle, DrawnKind, DrawnPosition, UnitNames};
use std::f64::consts::TAU;

/// From the grip to the dimension line of the span, towards the pivot, mm of paper.
const ASIDE: f64 = 4.0;
/// Least distance of a number from a dimension line, mm of paper.
const RIM: f64 = 1.0;
/// From the end of the handle to the arc of its travel, mm of paper.
const BEYOND: f64 = 3.0;
/// An arc shorter than this says nothing, mm of paper.
const SHORTEST: f64 = 4.0;
/// Straight pieces that the arc is drawn with.
const PIECES: u32 = 24;
/// Length of the arrow that says which way the handle goes from here, mm of paper.
const AHEAD: f64 = 7.0;
/// The handle has turned by the travel to this, deg: else the travel is the angle between two handles that both move,
/// and the arc bears no number.
const SAME: f64 = 0.02;

impl Plate {
    /// The span at the grip that is held, from the outside of one handle to that of the other.
    pub(super) fn span(&mut self, position: &DrawnPosition, units: &UnitNames) {
        let held = |handle: &DrawnHandle| -> Option<DrawnGrip> {
            handle.grips.iter().find(|grip| grip.held).cloned()
        };
        let ([one, other, ..], Some(span)) = (position.handles.as_slice(), position.span) else {
            return;
        };
        let (Some(a), Some(b)) = (held(one), held(other)) else {
            return;
        };
        let (at, end) = (self.at(a.at), self.at(b.at));
        let way = unit(minus(end, at));
        let outer = |handle: &DrawnHandle| 0.5 * handle.thickness * self.scale;
        let at = minus(at, times(outer(one), way));
        let end = plus(end, times(outer(other), way));
        if length(minus(end, at)) < SHORTEST {
            return;
        }
        // Beside the grip, on the side of the pivot, where no other grip is; farther off on the other side where the
        // number of a gap needs the room.
        let side = across(way);
        let side = times(-dot(side, Self::towards(a.along)).signum(), side);
        // How far a number that is written towards the grip would reach beyond it.
        let over = self.labels.iter().filter_map(|label| {
            let off = dot(minus(label.at, at), side);
            let here = off > 0.0 && label.towards.is_some_and(|t| dot(t, side) < 0.0);
            let wide = text_width(&label.text, label.size, label.bold);
            here.then_some(label.clear + wide + RIM - off)
        });
        let over = over.fold(f64::NEG_INFINITY, f64::max);
        let (side, aside) = match over > -ASIDE {
            true => (times(-1.0, side), over.max(ASIDE)),
            false => (side, ASIDE),
        };
        let foot = |p: V| plus(p, times(aside, side));
        for p in [at, end] {
            let past = plus(foot(p), times(1.2, side));
            self.ink.line(&[p, past], THIN, 0.6);
        }
        self.dimension(foot(at), foot(end));
        let text = format!("span {} {}", length_text(span, units), units.length);
        let middle = times(0.5, plus(foot(at), foot(end)));
        self.label(text, middle, 1.2, Some(side));
    }

    /// How far the handle has come since open, as an arc with an arrow beyond its end; at open, which way it goes.
    pub(super) fn travel(&mut self, position: &DrawnPosition, units: &UnitNames) {
        let Some(now) = position.handles.first() else {
            return;
        };
        let open = position.earlier.first().and_then(|pose| {
            let mut handles = pose.handles.iter();
            handles.find(|handle| handle.part == now.part)
        });
        match open {
            Some(open) => self.travelled(open, now, position.travel, units),
            None if position.travel.abs() < 1e-9 => self.ahead(now, &position.forces),
            None => {}
        }
    }

    fn travelled(&mut self, open: &DrawnHandle, now: &DrawnHandle, travel: f64, units: &UnitNames) {
        let ends = |handle: &DrawnHandle| Some([*handle.line.first()?, *handle.line.last()?]);
        let (Some([r0, t0]), Some([r1, t1])) = (ends(open), ends(now)) else {
            return;
        };
        let [r0, t0, r1, t1] = [r0, t0, r1, t1].map(|p| self.at(p));
        let (from, to) = (minus(t0, r0), minus(t1, r1));
        let turned = (from[0] * to[1] - from[1] * to[0]).atan2(dot(from, to));
        // The point about which the handle turned from there to here.
        let d = minus(t1, t0);
        let half = (0.5 * turned).tan();
        if half.abs() < 1e-3 {
            return;
        }
        let pole = plus(times(0.5, plus(t0, t1)), times(0.5 / half, across(d)));
        let radius = length(minus(t1, pole)) + 0.5 * now.thickness * self.scale + BEYOND;
        let angle = |p: V| (p[1] - pole[1]).atan2(p[0] - pole[0]);
        let start = angle(t0);
        let points: Vec<V> = (0..=PIECES)
            .map(|k| start + turned * f64::from(k) / f64::from(PIECES))
            .map(|a| plus(pole, times(radius, [a.cos(), a.sin()])))
            .collect();
        if radius * turned.abs() < SHORTEST || turned.abs() > 0.5 * TAU {
            return;
        }
        self.ink.line(&points, THIN, 0.8);
        // Where it began: a short line across.
        let out = [start.cos(), start.sin()];
        let ends = [radius - 2.0, radius + 1.2].map(|r| plus(pole, times(r, out)));
        self.ink.line(&ends, THIN, 0.8);
        if let [.., before, tip] = points.as_slice() {
            let (tip, way) = (*tip, unit(minus(*tip, *before)));
            self.head(tip, way, 2.5, 0.45, INK);
        }
        if (turned.to_degrees().abs() - travel.abs()).abs() > SAME {
            return;
        }
        let middle = points.get(points.len() / 2).copied().unwrap_or(t1);
        let text = format!("{} {}", fixed(travel.abs(), 1), units.angle);
        self.label(text, middle, 1.2, Some(minus(middle, pole)));
    }

    /// At the end of the handle, an arrow the way in which the hand pushes it.
    fn ahead(&mut self, now: &DrawnHandle, forces: &[DrawnForce]) {
        let hand = forces
            .iter()
            .find(|f| f.kind == DrawnKind::Hand && f.on == now.part);
        let (Some(force), [.., before, tip]) = (hand.and_then(|f| f.force), now.line.as_slice())
        else {
            return;
        };
        let along = unit(Self::towards(minus(*tip, *before)));
        let side = across(along);
        let way = times(dot(side, Self::towards(force)).signum(), side);
        let half = 0.5 * now.thickness * self.scale;
        let from = plus(self.at(*tip), times(half + BEYOND, along));
        let to = plus(from, times(AHEAD, way));
        self.ink.line(&[from, to], THIN, 0.8);
        self.head(to, way, 2.5, 0.45, INK);
    }
}
