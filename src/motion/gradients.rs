//! Factors of the closure gradients, bordered by one more row: block by block where that can be,
//! otherwise of the whole matrix.

use crate::mechanism::{Linkage, Pose, Sparse};
use crate::numeric::blocks::Factors;
use crate::numeric::dot;
use crate::numeric::lu::Lu;
use std::sync::Arc;

/// Share of a border that must lie along the motion for blocks to be of use: where their driver hardly
/// moves beside the rest they lose digits.
const LEAST_SHARE: f64 = 0.02;
/// A driver is kept as long as its part of the border is at least this much of the greatest.
const KEEPS: f64 = 0.4;

/// Factors of `[closure gradients; border]` at a pose, on storage that is used again. Rows are in mm:
/// the border is taken times the tool's size.
#[derive(Debug, Clone)]
pub(super) struct Gradients {
    lu: Lu,
    /// By the handle first, then by other coordinates, as they are asked for.
    ways: Vec<Blocks>,
    /// The one in use.
    way: usize,
    by_blocks: bool,
    /// The row beside the closure equations, see [`Gradients::take_border`].
    pub(super) border: Vec<f64>,
    jacobian: Vec<f64>,
    spare: Vec<f64>,
    /// The motion for a rate of 1 of the border, where it is not that of the driver.
    tangent: Vec<f64>,
}

/// The way by blocks, with one driver.
#[derive(Debug, Clone)]
struct Blocks {
    sparse: Arc<Sparse>,
    factors: Factors,
    scratch: Vec<f64>,
    /// Right-hand side: a rate of 1 of the driver.
    rate: Vec<f64>,
    /// The driver's row, and its column where it is one coordinate.
    driver: Vec<f64>,
    column: Option<usize>,
    /// Motion for a rate of 1 of the driver.
    along: Vec<f64>,
    /// The border is the driver's row.
    driven: bool,
    /// Border times `along`.
    share: f64,
    size: f64,
}

impl Blocks {
    fn new(
        linkage: &Linkage,
        sparse: Arc<Sparse>,
        driver: Vec<f64>,
        column: Option<usize>,
    ) -> Self {
        let n = linkage.coordinates;
        Self {
            factors: Factors::new(&sparse.plan),
            scratch: vec![0.0; sparse.scratch(linkage)],
            rate: vec![0.0; n],
            sparse,
            driver,
            column,
            along: vec![0.0; n],
            driven: false,
            share: 1.0,
            size: linkage.size,
        }
    }

    #[inline]
    fn factor(
        &mut self,
        linkage: &Linkage,
        pose: &Pose,
        border: &[f64],
        residual: &mut [f64],
    ) -> bool {
        let plan = &self.sparse.plan;
        let values = &mut self.factors.values;
        (self.sparse).fill(linkage, pose, values, residual, &mut self.scratch);
        let n = linkage.coordinates;
        for (at, &column) in plan.row(n - 1).zip(plan.columns(n - 1)) {
            values[at] = self.driver[column] * linkage.size;
        }
        if !self.factors.factor(plan) {
            return false;
        }
        self.rate.fill(0.0);
        self.rate[n - 1] = linkage.size;
        (self.factors).solve(plan, &mut self.rate, &mut self.along);
        if self.driven {
            return true;
        }
        let square = |v: &[f64]| dot(v, v);
        self.share = dot(border, &self.along);
        let whole = (square(border) * square(&self.along)).sqrt();
        let driver = square(&self.driver) * square(&self.along);
        let least = LEAST_SHARE.min(0.5 / (n as f64).sqrt());
        self.share.abs() > least * whole && driver < (1.0 / least).powi(2)
    }
}

impl Gradients {
    /// Room for the gradients of `linkage`.
    #[must_use]
    pub(super) fn new(linkage: &Linkage) -> Self {
        let n = linkage.coordinates;
        let by_handle = linkage.sparse.as_ref().map(|sparse| {
            let mut driver = vec![0.0; n];
            linkage.handle_row(&mut driver);
            Blocks::new(linkage, Arc::clone(sparse), driver, None)
        });
        Self {
            lu: Lu::new(n),
            ways: by_handle.into_iter().collect(),
            way: 0,
            by_blocks: false,
            border: vec![0.0; n],
            jacobian: vec![0.0; linkage.equations * n],
            spare: vec![0.0; n],
            tangent: vec![0.0; n],
        }
    }

    /// Takes notice of a border that has been written: the handle's row, or one with whose greatest
    /// coordinate as the driver the blocks do best.
    pub(super) fn take_border(&mut self, linkage: &Linkage) {
        self.by_blocks = false;
        let Some(by_handle) = self.ways.first_mut() else {
            return;
        };
        by_handle.driven = by_handle.driver == self.border;
        self.way = if by_handle.driven {
            0
        } else {
            self.pick(linkage)
        };
    }

    /// Takes the handle's row for the border; gives whether another was there before.
    #[inline]
    pub(super) fn hold_handle(&mut self) -> bool {
        match self.ways.first_mut() {
            Some(by_handle) if self.way != 0 || !by_handle.driven => {
                self.border.copy_from_slice(&by_handle.driver);
                by_handle.driven = true;
                self.way = 0;
                self.by_blocks = false;
                true
            }
            _ => false,
        }
    }

    /// The way that suits the border; made if there is none yet.
    fn pick(&mut self, linkage: &Linkage) -> usize {
        let border = &self.border;
        let mut most = 0;
        for (column, b) in border.iter().enumerate() {
            if b.abs() > border[most].abs() {
                most = column;
            }
        }
        let good = |way: &Blocks| {
            let along = match way.column {
                Some(column) => border[column].abs(),
                None => dot(border, &way.driver).abs(),
            };
            along > KEEPS * border[most].abs()
        };
        if good(&self.ways[self.way]) {
            return self.way;
        }
        if let Some(known) = self.ways.iter().position(good) {
            return known;
        }
        let mut driver = vec![0.0; border.len()];
        driver[most] = 1.0;
        let Some(sparse) = linkage.sparse_by(&driver) else {
            return 0;
        };
        let made = Blocks::new(linkage, Arc::new(sparse), driver, Some(most));
        self.ways.push(made);
        self.ways.len() - 1
    }

    /// Writes the residuals of all equations at `pose` and factors the gradients there. `rows`: the
    /// equations to be used; empty: all. `false` where the matrix is singular.
    #[inline]
    pub(super) fn factor(
        &mut self,
        linkage: &Linkage,
        pose: &Pose,
        rows: &[usize],
        residual: &mut [f64],
    ) -> bool {
        let Self { ways, border, .. } = self;
        let way = ways.get_mut(self.way).filter(|_| rows.is_empty());
        self.by_blocks = match way {
            Some(blocks) => blocks.factor(linkage, pose, border, residual),
            None => {
                linkage.residual(pose, residual);
                false
            }
        };
        if !self.by_blocks && !self.factor_whole(linkage, pose, rows) {
            return false;
        }
        self.find_tangent(linkage);
        true
    }

    fn factor_whole(&mut self, linkage: &Linkage, pose: &Pose, rows: &[usize]) -> bool {
        let n = linkage.coordinates;
        let matrix = self.lu.matrix();
        if rows.is_empty() {
            linkage.jacobian(pose, matrix);
        } else {
            linkage.jacobian(pose, &mut self.jacobian);
            for (k, &row) in rows.iter().enumerate() {
                matrix[k * n..(k + 1) * n].copy_from_slice(&self.jacobian[row * n..(row + 1) * n]);
            }
        }
        for (value, b) in matrix[(n - 1) * n..].iter_mut().zip(&self.border) {
            *value = b * linkage.size; // in mm, as the other rows
        }
        self.lu.factor()
    }

    /// Solves `A x = b` in place.
    #[inline]
    pub(super) fn solve(&mut self, b: &mut [f64]) {
        let (true, Some(blocks)) = (self.by_blocks, self.ways.get(self.way)) else {
            return self.lu.solve(b);
        };
        let plan = &blocks.sparse.plan;
        let rows = &mut self.spare;
        rows.copy_from_slice(b);
        if blocks.driven {
            return blocks.factors.solve(plan, rows, b);
        }
        // With the driver held, and then along the motion as far as the border asks for.
        let last = b.len() - 1;
        let value = std::mem::take(&mut rows[last]) / blocks.size;
        blocks.factors.solve(plan, rows, b);
        let ahead = (value - dot(&self.border, b)) / blocks.share;
        for (x, t) in b.iter_mut().zip(&blocks.along) {
            *x += ahead * t;
        }
    }

    fn find_tangent(&mut self, linkage: &Linkage) {
        match self.ways.get(self.way) {
            Some(blocks) if self.by_blocks => {
                if !blocks.driven {
                    for (out, t) in self.tangent.iter_mut().zip(&blocks.along) {
                        *out = t / blocks.share;
                    }
                }
            }
            _ => {
                self.tangent.fill(0.0);
                if let Some(last) = self.tangent.last_mut() {
                    *last = linkage.size;
                }
                self.lu.solve(&mut self.tangent);
            }
        }
    }

    /// The motion for a rate of 1 of the border.
    #[inline]
    #[must_use]
    pub(super) fn tangent(&self) -> &[f64] {
        match self.ways.get(self.way) {
            Some(blocks) if self.by_blocks && blocks.driven => &blocks.along,
            _ => &self.tangent,
        }
    }

    /// Solves `Aᵀ x = b` in place; `spare` has as much room.
    #[inline]
    pub(super) fn solve_transposed(&self, b: &mut [f64], spare: &mut [f64]) {
        let (true, Some(blocks)) = (self.by_blocks, self.ways.get(self.way)) else {
            return self.lu.solve_transposed(b);
        };
        if blocks.driven {
            spare.copy_from_slice(b);
            return blocks
                .factors
                .solve_transposed(&blocks.sparse.plan, spare, b);
        }
        // The border takes what has power in the motion; the driver's row has then nothing left.
        let last = b.len() - 1;
        let taken = dot(b, &blocks.along) / blocks.share;
        for ((left, b), border) in spare.iter_mut().zip(b.iter()).zip(&self.border) {
            *left = b - taken * border;
        }
        blocks
            .factors
            .solve_transposed(&blocks.sparse.plan, spare, b);
        b[last] = taken / blocks.size;
    }

    /// Whether the determinant is positive.
    #[must_use]
    pub(super) fn positive(&self) -> bool {
        match self.ways.get(self.way) {
            Some(blocks) if self.by_blocks => {
                let along = blocks.driven || blocks.share > 0.0;
                blocks.factors.positive() == along
            }
            _ => self.lu.determinant_positive(),
        }
    }
}
