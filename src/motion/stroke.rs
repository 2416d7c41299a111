//! The positions of the stroke: equal steps of handle angle from open to shut.

use super::error::MotionError;
use super::events::Happening;
use super::path::Waypoint;
use super::signal::Signal;
use super::solver::Solver;
use super::targets::Survey;
use super::walk::Walk;
use crate::numeric::follow::between;
use std::sync::Arc;

/// The stroke on a surveyed motion.
#[derive(Debug, Clone)]
pub struct Stroke {
    survey: Arc<Survey>,
    /// Pieces between which the handle turns one way, in the order of the stroke.
    pieces: Vec<Piece>,
    /// Whole travel of the pace: handle angle (rad), or path of the first grip (mm) when the
    /// handle does not turn.
    travel: f64,
    /// Whether the handle turns.
    turns: bool,
    /// +1 when the stroke runs along the path, −1 against it.
    sense: f64,
    row: Vec<f64>,
    signal: Signal,
}

/// A piece of the stroke on which the pace is monotone.
#[derive(Debug, Clone, Copy)]
struct Piece {
    from: Waypoint,
    to: Waypoint,
    /// Pace at both ends and travel at the first.
    values: [f64; 2],
    before: f64,
}

/// A solved position: the solver stands there, its gradients factored.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stance {
    /// Handle angle travelled since open, rad.
    pub travel: f64,
    /// Handle angle, rad, continuous over the stroke.
    pub handle: f64,
    /// The closing tangent is this times the solver's: +1 or −1.
    pub sense: f64,
}

impl Stroke {
    /// The motion that it is part of.
    #[must_use]
    pub fn survey(&self) -> &Survey {
        &self.survey
    }

    /// The same, to be shared.
    #[must_use]
    pub fn shared_survey(&self) -> &Arc<Survey> {
        &self.survey
    }

    /// The stroke of a survey.
    ///
    /// # Errors
    /// When an end cannot be solved again.
    pub fn new(survey: Arc<Survey>, solver: &mut Solver) -> Result<Self, MotionError> {
        let linkage = Arc::clone(&solver.linkage);
        let mut row = vec![0.0; linkage.coordinates];
        linkage.handle_row(&mut row);
        let (open, shut) = (survey.open, survey.shut);
        let sense = if open.before(shut) { 1.0 } else { -1.0 };
        let inside = |s: Waypoint| {
            let (low, high) = if sense > 0.0 {
                (open, shut)
            } else {
                (shut, open)
            };
            low.before(s) && s.before(high)
        };
        let mut knots: Vec<Waypoint> = survey
            .events
            .iter()
            .filter(|e| matches!(e.what, Happening::Dead | Happening::TurnsBack) && inside(e.spot))
            .map(|e| e.spot)
            .collect();
        if sense < 0.0 {
            knots.reverse();
        }
        knots.insert(0, open);
        knots.push(shut);
        let mut this = Self {
            survey,
            pieces: Vec::new(),
            travel: 0.0,
            turns: true,
            sense,
            row,
            signal: Signal::Handle,
        };
        this.cut(&knots, solver)?;
        let place = |s: Waypoint| {
            this.survey
                .lengths
                .get(s.node)
                .map_or(f64::NAN, |l| l + s.ahead)
        };
        let way_length = (place(open) - place(shut)).abs();
        if this.travel < 1e-9 * way_length {
            // The handle slides: pace by the first grip's way along the line from open to shut.
            let mut ends = Vec::new();
            for spot in [open, shut] {
                let _ = this
                    .survey
                    .path
                    .stand(solver, spot)
                    .ok_or(MotionError::Unsolved { travel: 0.0 })?;
                ends.push(solver.pose.place(linkage.hand.grips[0].at));
            }
            let way = ends[1] - ends[0];
            let length = way.length();
            if length < 1e-9 * linkage.size * way_length {
                return Err(MotionError::StillHand);
            }
            this.turns = false;
            this.signal = Signal::Shift(way / length);
            this.cut(&[open, shut], solver)?;
        }
        Ok(this)
    }

    fn cut(&mut self, knots: &[Waypoint], solver: &mut Solver) -> Result<(), MotionError> {
        self.pieces.clear();
        self.travel = 0.0;
        let mut values = Vec::new();
        for &spot in knots {
            let t = self
                .survey
                .path
                .stand(solver, spot)
                .ok_or(MotionError::Unsolved {
                    travel: self.travel,
                })?;
            values.push(self.signal.read(solver, &t));
        }
        for (pair, ends) in knots.windows(2).zip(values.windows(2)) {
            self.pieces.push(Piece {
                from: pair[0],
                to: pair[1],
                values: [ends[0], ends[1]],
                before: self.travel,
            });
            self.travel += (ends[1] - ends[0]).abs();
        }
        Ok(())
    }

    /// Whether the handle turns over the stroke; otherwise positions are equal steps of the first
    /// grip's way.
    #[must_use]
    pub fn turns(&self) -> bool {
        self.turns
    }

    /// The whole pace from open to shut: handle angle travelled (rad), or way of the first grip
    /// (mm) when the handle slides.
    #[must_use]
    pub fn pace(&self) -> f64 {
        self.travel
    }

    /// The pace at a spot of the stroke; `None` where it is off the stroke or cannot be solved again.
    #[must_use]
    pub fn pace_at(&self, solver: &mut Solver, spot: Waypoint) -> Option<f64> {
        let holds =
            |p: &&Piece| spot == p.from || spot == p.to || p.from.before(spot) != p.to.before(spot);
        let piece = *self.pieces.iter().find(holds)?;
        let tangent = self.survey.path.stand(solver, spot)?;
        let value = self.signal.read(solver, &tangent);
        Some(piece.before + (value - piece.values[0]).abs())
    }

    /// Rate of the pace for a tangent of the motion: rad, or mm.
    #[must_use]
    pub fn pace_rate(&self, solver: &Solver, tangent: &[f64]) -> f64 {
        let rate: f64 = match self.signal {
            Signal::Shift(direction) => {
                let mut row = vec![0.0; tangent.len()];
                let spot = solver.linkage.hand.grips[0].at;
                let place = solver.pose.place(spot);
                solver
                    .linkage
                    .add_gradient(&solver.pose, spot.body, place, direction, &mut row);
                row.iter().zip(tangent).map(|(r, t)| r * t).sum()
            }
            _ => self.row.iter().zip(tangent).map(|(r, t)| r * t).sum(),
        };
        rate.abs()
    }

    /// Stands `solver` where the pace has travelled this far since open; beyond an end, at it.
    ///
    /// # Errors
    /// [`MotionError::Unsolved`] if the loops cannot be closed there.
    pub fn at(
        &self,
        solver: &mut Solver,
        walk: &mut Walk,
        pace: f64,
    ) -> Result<Stance, MotionError> {
        if pace <= 0.0 {
            self.position(solver, walk, 0, 1)
        } else if pace >= self.travel {
            self.position(solver, walk, 1, 1)
        } else {
            self.at_travel(solver, walk, pace)
        }
    }

    /// A walk over the stroke's positions.
    #[must_use]
    pub fn walk(&self) -> Walk {
        Walk::new(self.survey.open.node, self.row.len())
    }

    /// Stands `solver` at position `k` of `steps`.
    ///
    /// # Errors
    /// [`MotionError::Unsolved`] if the loops cannot be closed there.
    pub fn position(
        &self,
        solver: &mut Solver,
        walk: &mut Walk,
        k: usize,
        steps: usize,
    ) -> Result<Stance, MotionError> {
        if k == 0 || k >= steps {
            let (spot, travel) = if k == 0 {
                (self.survey.open, 0.0)
            } else {
                (self.survey.shut, self.travel)
            };
            walk.node = spot.node;
            return self.at_spot(solver, spot, travel);
        }
        self.at_travel(solver, walk, self.travel * k as f64 / steps as f64)
    }

    fn at_spot(
        &self,
        solver: &mut Solver,
        spot: Waypoint,
        travel: f64,
    ) -> Result<Stance, MotionError> {
        self.survey
            .path
            .stand(solver, spot)
            .ok_or(MotionError::Unsolved { travel })?;
        Ok(self.stance(solver, travel, self.sense))
    }

    fn stance(&self, solver: &Solver, travel: f64, sense: f64) -> Stance {
        Stance {
            travel: if self.turns { travel } else { 0.0 },
            handle: solver.linkage.handle(&solver.pose.q) - self.survey.turns_off,
            sense,
        }
    }

    fn at_travel(
        &self,
        solver: &mut Solver,
        walk: &mut Walk,
        travel: f64,
    ) -> Result<Stance, MotionError> {
        let unsolved = || MotionError::Unsolved { travel };
        let found = self.pieces.iter().rev().find(|p| p.before <= travel);
        let piece = found.or(self.pieces.first()).ok_or_else(unsolved)?;
        let rising = piece.values[1] > piece.values[0];
        let sense = if rising { 1.0 } else { -1.0 };
        let target = piece.values[0] + (travel - piece.before) * sense;
        walk.node = self
            .node_before(solver, piece, target, walk.node)
            .ok_or_else(unsolved)?;
        if self.turns && self.by_handle(solver, walk, target) {
            return Ok(self.stance(solver, travel, sense));
        }
        walk.known = 0;
        let range = self.range(piece, walk.node);
        let spot = self
            .survey
            .path
            .root_between(solver, self.signal, target, walk.node, range)
            .ok_or_else(unsolved)?;
        self.at_spot(solver, spot, travel)
    }

    /// The node before the place where the pace is `target`, looked for from `hint` on.
    fn node_before(
        &self,
        solver: &mut Solver,
        piece: &Piece,
        target: f64,
        hint: usize,
    ) -> Option<usize> {
        let mut value_at = |node: usize| {
            if self.turns {
                self.survey.handles.get(node).copied()
            } else {
                let t = self
                    .survey
                    .path
                    .stand(solver, Waypoint { node, ahead: 0.0 })?;
                Some(self.signal.read(solver, &t))
            }
        };
        // Between inner nodes the pace is monotone, so the place is where it passes the target.
        let forward = piece.from.before(piece.to);
        let rising = (piece.values[1] > piece.values[0]) == forward;
        let past = |v: f64| if rising { v > target } else { v < target };
        let (a, b) = (piece.from.node, piece.to.node);
        let (first, last) = (a.min(b), a.max(b));
        let mut node = hint.clamp(first, last);
        while node < last && !past(value_at(node + 1)?) {
            node += 1;
        }
        while node > first && past(value_at(node)?) {
            node -= 1;
        }
        Some(node)
    }

    /// The range ahead of a node that belongs to a piece.
    fn range(&self, piece: &Piece, node: usize) -> [f64; 2] {
        let (low, high) = if piece.from.before(piece.to) {
            (piece.from, piece.to)
        } else {
            (piece.to, piece.from)
        };
        let pick = |s: Waypoint, fallback: f64| if s.node == node { s.ahead } else { fallback };
        [pick(low, 0.0), pick(high, self.survey.path.reach(node))]
    }

    /// Solves the position by handle angle. `false` where the handle hardly moves, or when the
    /// solution is not the one between the node and the next.
    fn by_handle(&self, solver: &mut Solver, walk: &mut Walk, target: f64) -> bool {
        let nodes = &self.survey.path.nodes;
        let span = walk.span(solver, nodes, &self.row);
        let Some(span) = span.filter(|span| span.by_handle) else {
            return false;
        };
        let (a, b) = (&nodes[walk.node], &nodes[walk.node + 1]);
        if solver.redundant() {
            solver.choose_rows(&a.q);
        }
        let level = target - solver.linkage.hand.chord;
        if span.closed && solver.close_by_handle(level, &walk.sides, &a.q) {
            walk.known = 0;
            return true;
        }
        let handles = &self.survey.handles;
        let (ha, hb) = (handles[walk.node], handles[walk.node + 1]);
        let closed = if walk.predict(target) {
            solver.hold_border(&self.row);
            solver.close_from_step(&walk.step, level)
        } else {
            let mut u = (target - ha) / (hb - ha);
            // The handle angle of the cubic is not linear in u: two corrections bring the guess
            // to the accuracy of the cubic.
            for _ in 0..2 {
                between(a, b, u, &mut solver.pose.q);
                u += (target - solver.linkage.handle(&solver.pose.q)) / (hb - ha);
            }
            between(a, b, u, &mut solver.pose.q);
            solver.hold_border(&self.row);
            solver.close_from_pose(level)
        };
        if !closed || solver.moved() > 1e-3 {
            return false;
        }
        walk.keep(solver, target);
        true
    }
}
