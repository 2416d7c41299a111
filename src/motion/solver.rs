//! Closing the loops at one position: the innermost part of every calculation.

use super::gradients::Gradients;
use crate::geometry::{Frame, Vec2};
use crate::mechanism::{Linkage, Pose, freedom};
use crate::model::PartId;
use crate::numeric::follow::System;
use crate::numeric::greatest;
use std::sync::Arc;

/// Closure residual that counts as closed, over the tool's size.
pub const CLOSED: f64 = 1e-13;
/// Residual that is accepted when rounding allows no better.
const NEARLY: f64 = 1e-12;

/// Solves closure together with one linear equation `row · q = value`, on storage of its own.
/// After a solution the factors of the bordered gradients are those at the solution.
#[derive(Debug, Clone)]
pub struct Solver {
    /// The equations: shared with whoever else solves them, see [`Solver::linkage_mut`].
    pub linkage: Arc<Linkage>,
    /// The pose of the last solution.
    pub pose: Pose,
    /// Factors of `[closure gradients; row]` at the pose.
    gradients: Gradients,
    /// Independent equations, by row; empty when all are.
    rows: Vec<usize>,
    residual: Vec<f64>,
    step: Vec<f64>,
    /// Turns of the moving bodies, from the roots outwards, before a solution in closed form.
    before: Vec<Vec2>,
    moved: f64,
    /// 1 / the tool's size.
    per_size: f64,
    warm: bool,
}

impl Solver {
    /// A solver at the sketched position, using all equations.
    #[must_use]
    pub fn new(linkage: Arc<Linkage>) -> Self {
        let n = linkage.coordinates;
        Self {
            pose: Pose::new(&linkage),
            gradients: Gradients::new(&linkage),
            rows: Vec::new(),
            residual: vec![0.0; linkage.equations],
            step: vec![0.0; n],
            before: vec![Vec2::X; linkage.order.len()],
            moved: 0.0,
            per_size: 1.0 / linkage.size,
            warm: false,
            linkage,
        }
    }

    /// Where the axes of a part stand, as its file has them; unmoved without such a part.
    #[must_use]
    pub fn frame(&self, part: PartId) -> Frame {
        let Some(own) = self.pose.frames.get(part.index()).copied() else {
            return Frame::UNMOVED;
        };
        Frame {
            origin: self.pose.place(self.linkage.spot(part, Vec2::ZERO)),
            ..own
        }
    }

    /// Chooses independent equations at the coordinates `q`, for linkages with redundant bars.
    pub fn choose_rows(&mut self, q: &[f64]) {
        self.pose.set(&self.linkage, q);
        self.warm = false;
        let found = freedom(&self.linkage, &self.pose);
        self.rows = if found.redundant == 0 {
            Vec::new()
        } else {
            found.rows
        };
    }

    /// Sets the bordering row.
    pub fn set_border(&mut self, row: &[f64]) {
        self.gradients.border.copy_from_slice(row);
        self.gradients.take_border(&self.linkage);
        self.warm = false;
    }

    /// Sets the bordering row, keeping the factors if it is the row they were made with.
    pub fn hold_border(&mut self, row: &[f64]) {
        if self.gradients.border != row {
            self.set_border(row);
        }
    }

    /// Rows in use.
    #[must_use]
    pub fn used_rows(&self) -> usize {
        if self.rows.is_empty() {
            self.linkage.equations
        } else {
            self.rows.len()
        }
    }

    /// The equation that stands at place `k` of the factored matrix.
    #[must_use]
    pub fn row_at(&self, k: usize) -> usize {
        self.rows.get(k).copied().unwrap_or(k)
    }

    /// Whether the linkage has equations that are not in use.
    #[must_use]
    pub fn redundant(&self) -> bool {
        !self.rows.is_empty()
    }

    /// Greatest residual of *all* equations at the pose, over the tool's size.
    #[must_use]
    pub fn closure(&self) -> f64 {
        greatest(0.0, &self.residual) / self.linkage.size
    }

    /// Greatest residual of the equations in use, over the size.
    #[inline]
    fn worst(&self) -> f64 {
        if self.rows.is_empty() {
            greatest(0.0, &self.residual) * self.per_size
        } else {
            let sizes = self.rows.iter().map(|&k| self.residual[k].abs());
            sizes.fold(0.0, f64::max) * self.per_size
        }
    }

    /// How far the border is from its value at the pose.
    #[inline]
    fn off(&self, value: f64) -> f64 {
        (self.gradients.border)
            .iter()
            .zip(&self.pose.q)
            .fold(value, |off, (b, q)| off - b * q)
    }

    /// Residuals at the pose, and the bordered gradients there, factored.
    #[inline]
    fn factor(&mut self) -> bool {
        let Self {
            linkage,
            pose,
            rows,
            residual,
            ..
        } = self;
        self.warm = self.gradients.factor(linkage, pose, rows, residual);
        self.warm
    }

    /// One Newton step with the factors at hand.
    #[inline]
    fn correct(&mut self, value: f64) {
        let n = self.linkage.coordinates;
        let off = self.off(value);
        if self.rows.is_empty() {
            for (step, r) in self.step.iter_mut().zip(&self.residual) {
                *step = -r;
            }
        } else {
            for (k, &row) in self.rows.iter().enumerate() {
                self.step[k] = -self.residual[row];
            }
        }
        self.step[n - 1] = off * self.linkage.size;
        self.gradients.solve(&mut self.step);
        self.moved = self
            .step
            .iter()
            .fold(self.moved, |most, s| most.max(s.abs()));
        self.pose.shift(&self.linkage, &self.step);
    }

    /// Newton from the coordinates in the pose to `border · q = value`. The first step uses the
    /// factors of the last solution when there are any: near it they are good enough, and a step
    /// with fresh ones follows only if the residual asks for it.
    pub fn close_from_pose(&mut self, value: f64) -> bool {
        self.pose.update(&self.linkage);
        self.close(value)
    }

    /// The same from a step off the pose, whose turns are then carried on by series.
    pub fn close_from_step(&mut self, step: &[f64], value: f64) -> bool {
        self.pose.shift(&self.linkage, step);
        self.close(value)
    }

    fn close(&mut self, value: f64) -> bool {
        if self.used_rows() + 1 != self.linkage.coordinates {
            return false;
        }
        self.moved = 0.0;
        if self.warm {
            self.linkage.residual(&self.pose, &mut self.residual);
            self.correct(value);
        }
        let mut best = f64::INFINITY;
        for _ in 0..12 {
            if !self.factor() {
                return false;
            }
            let error = self.worst().max(self.off(value).abs());
            if error <= CLOSED || (error <= NEARLY && error >= 0.5 * best) {
                return true;
            }
            best = best.min(error);
            self.correct(value);
        }
        false
    }

    /// The position at which the handle's row has this value, in closed form, on the side of every
    /// block that `signs` tell ([`crate::mechanism::Closed::signs`]); whole turns are those of `near`.
    /// `false` where that cannot be, and for linkages with blocks that have no closed form.
    #[inline]
    pub fn close_by_handle(&mut self, value: f64, signs: &[f64], near: &[f64]) -> bool {
        let linkage = &*self.linkage;
        let Some(closed) = linkage.closed.as_ref().filter(|_| self.rows.is_empty()) else {
            return false;
        };
        if self.gradients.hold_handle() {
            self.warm = false;
        }
        for (before, &b) in self.before.iter_mut().zip(&linkage.order) {
            *before = self.pose.frames[b].turn;
        }
        if !closed.turn(&mut self.pose, value, signs, near) {
            // Whatever was turned already is put back.
            self.pose.update(linkage);
            return false;
        }
        self.pose.follow_turns(linkage, &self.before, near);
        self.moved = 0.0;
        self.factor() && (self.worst() <= CLOSED || self.close(value))
    }

    /// Newton from the coordinates in the pose to where `held` is zero: `held` gives how far the
    /// pose is off (over the tool's size) and writes its gradient by the coordinates. The border is
    /// then that gradient, made afresh at every step; the factors and the tangent follow as after
    /// [`Solver::close_from_pose`].
    pub fn close_on(&mut self, mut held: impl FnMut(&Linkage, &Pose, &mut [f64]) -> f64) -> bool {
        if self.used_rows() + 1 != self.linkage.coordinates {
            return false;
        }
        self.pose.update(&self.linkage);
        self.moved = 0.0;
        let mut best = f64::INFINITY;
        for _ in 0..12 {
            self.gradients.border.fill(0.0);
            let off = held(&self.linkage, &self.pose, &mut self.gradients.border);
            self.gradients.take_border(&self.linkage);
            if !off.is_finite() || !self.factor() {
                return false;
            }
            let error = self.worst().max(off.abs());
            if error <= CLOSED || (error <= NEARLY && error >= 0.5 * best) {
                return true;
            }
            best = best.min(error);
            // `correct` asks for border · q = value: the step that takes `off` away.
            let here = -self.off(0.0);
            self.correct(here - off);
        }
        false
    }

    /// The equations, to be given other dimensions: a copy of this solver's own if they are shared.
    /// Factors of the old ones are forgotten.
    pub fn linkage_mut(&mut self) -> &mut Linkage {
        self.warm = false;
        Arc::make_mut(&mut self.linkage)
    }

    /// Solves the transposed equations of the last solution in place: generalised forces in, forces of
    /// the equations in use and of the border (N) out. `spare` has as much room.
    #[inline]
    pub fn solve_transposed(&self, forces: &mut [f64], spare: &mut [f64]) {
        self.gradients.solve_transposed(forces, spare);
    }

    /// Whether the determinant of the bordered gradients is positive at the last solution.
    #[must_use]
    pub fn positive(&self) -> bool {
        self.gradients.positive()
    }

    /// Tangent of the motion at the last solution, with `border · t = 1`.
    #[inline]
    #[must_use]
    pub fn tangent(&self) -> &[f64] {
        self.gradients.tangent()
    }

    /// Largest step of a coordinate on the way to the last solution.
    #[must_use]
    pub fn moved(&self) -> f64 {
        self.moved
    }
}

impl System for Solver {
    fn close(&mut self, q: &mut [f64], row: &[f64], value: f64) -> bool {
        self.set_border(row);
        self.pose.q.copy_from_slice(q);
        if !self.close_from_pose(value) {
            return false;
        }
        q.copy_from_slice(&self.pose.q);
        true
    }

    fn tangent(&mut self, t: &mut [f64]) {
        t.copy_from_slice(Solver::tangent(self));
    }

    fn positive(&self) -> bool {
        Solver::positive(self)
    }

    fn settle(&mut self, q: &[f64]) {
        if self.redundant() {
            self.choose_rows(q);
        }
    }
}
