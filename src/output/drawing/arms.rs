//! What a free body needs beside its forces: the arms of their moments, and which way x, y and a moment count.

use super::forces::way;
use super::ink::{V, across, dot, length, minus, plus, times, unit};
use super::outline::arc_points;
use super::page::{SMALL, write};
use super::tool::{CENTRE, Plate, THIN, pen};
use crate::output::svg::pen::{GREY, INK};
use crate::output::text::figures;
use crate::report::DrawnPosition;
use std::f64::consts::FRAC_PI_2;

/// Two arms nearer than this run into each other, mm of paper.
const BESIDE: f64 = 4.0;
/// From one arm to the next one that runs beside it, mm of paper.
const STEP: f64 = 6.0;
/// Length of the axes, mm of paper.
const AXIS: f64 = 9.0;

impl Plate {
    /// The arm of every force about the sheet's place: the shortest way to its line of action. Arms that would lie on
    /// each other stand side by side.
    pub(super) fn arms(&mut self, position: &DrawnPosition) {
        let (Some(sheet), Some(about)) = (&position.sheet, position.about) else {
            return;
        };
        let about = self.at(about);
        let mut drawn: Vec<[V; 2]> = Vec::new();
        for (force, line) in position.forces.iter().zip(&sheet.forces) {
            let (Some(way), Some(size), Some(moment), Some(couple)) =
                (way(force), force.size, line.moment, line.couple)
            else {
                continue;
            };
            let at = self.at(force.at);
            let normal = across(way);
            let foot = plus(about, times(dot(minus(at, about), normal), normal));
            if length(minus(foot, about)) < 2.0 || !(size > 0.0) {
                continue;
            }
            let free = |k: &i32| {
                let by = times(f64::from(*k) * STEP, way);
                let arm = [plus(about, by), plus(foot, by)];
                !drawn.iter().any(|other| beside(&arm, other))
            };
            let step = [0, 1, -1, 2, -2, 3, -3].into_iter().find(free).unwrap_or(4);
            let by = times(f64::from(step) * STEP, way);
            let [from, to] = [about, foot].map(|p| plus(p, by));
            // The line of action as far as the foot.
            let past = times(2.0, unit(minus(to, at)));
            self.ink
                .line(&[at, plus(to, past)], pen(GREY, 0.18, CENTRE.dash), 0.4);
            if step != 0 {
                let past = times(1.2, unit(by));
                self.ink.line(&[about, plus(from, past)], THIN, 0.4);
            }
            self.dimension(from, to);
            drawn.push([from, to]);
            let arm = ((moment - couple) / size).abs();
            let text = format!("arm {}", figures(arm));
            self.label(text, times(0.5, plus(from, to)), 1.0, Some(way));
        }
    }

    /// Axes and the way a moment counts, as a small sign in a corner that nothing takes, else below all.
    pub(super) fn axes(&mut self, taken: &[super::labels::Room]) {
        let wide = [AXIS + 4.0, AXIS + 5.0];
        let [low, high] = self.ink.bounds;
        if !low.iter().chain(&high).all(|v| v.is_finite()) {
            return;
        }
        let corners = [
            [low[0], high[1]],
            [high[0] - wide[0], high[1]],
            [low[0], low[1] + wide[1]],
            [high[0] - wide[0], low[1] + wide[1]],
        ];
        let free = |at: &&V| {
            let room = super::labels::Room([at[0], at[1] - wide[1]], [at[0] + wide[0], at[1]]);
            let crowded = self
                .ink
                .crowd
                .within([room.0, room.1], 1.0)
                .next()
                .is_some();
            !crowded && !taken.iter().any(|t| t.overlaps(&room, 1.0))
        };
        let below = [low[0], high[1] + wide[1] + 2.0];
        let at = corners.iter().find(free).copied().unwrap_or(below);
        self.ink_axes([at[0] + 1.0, at[1] - 1.0]);
    }

    fn ink_axes(&mut self, at: V) {
        for (along, name, by) in [
            ([1.0, 0.0], "x", [1.0, 0.9]),
            ([0.0, -1.0], "y", [-0.7, -0.9]),
        ] {
            let tip = plus(at, times(AXIS, along));
            self.ink.line(&[at, tip], THIN, 0.0);
            self.head(tip, along, 2.0, 0.5, INK);
            let place = plus(tip, by);
            write(
                &mut self.ink,
                place,
                name.to_owned(),
                SMALL,
                false,
                "start",
                INK,
            );
        }
        let turn = arc_points(at, 0.55 * AXIS, 0.0, -FRAC_PI_2);
        self.ink.line(&turn, THIN, 0.0);
        if let [.., before, tip] = turn.as_slice() {
            let (tip, way) = (*tip, unit(minus(*tip, *before)));
            self.head(tip, way, 1.8, 0.5, INK);
        }
        let place = plus(at, [0.5 * AXIS, -0.5 * AXIS]);
        write(
            &mut self.ink,
            place,
            "+M".to_owned(),
            SMALL,
            false,
            "start",
            INK,
        );
    }
}

/// Whether two arms from about one place run side by side, too near to be told apart.
fn beside([a, b]: &[V; 2], [c, d]: &[V; 2]) -> bool {
    let off = |p: V, from: V, to: V| {
        let way = minus(to, from);
        let share = (dot(minus(p, from), way) / dot(way, way).max(1e-9)).clamp(0.0, 1.0);
        length(minus(p, plus(from, times(share, way))))
    };
    let middle = |p: V, q: V| times(0.5, plus(p, q));
    // The middles too: two arms that meet in one end alone are far apart there.
    let near = |p: V, from: V, to: V| off(p, from, to) < BESIDE;
    let (first, second) = (middle(*a, *b), middle(*c, *d));
    near(first, *c, *d) || near(second, *a, *b)
}
