//! Factors of the closure gradients, bordered by one more row: block by block where that can be,
//! otherwise of the whole matrix.

use crate::mechanism::{Linkage, Pose};
use crate::numeric::blocks::Factors;
use crate::numeric::lu::Lu;

/// Share of a border that must lie along the motion for the blocks to be of use: they take the handle
/// for the driver, and where it hardly moves beside the rest they lose digits.
const LEAST_SHARE: f64 = 0.02;

/// Factors of `[closure gradients; border]` at a pose, on storage that is used again. Rows are in mm:
/// the border is taken times the tool's size.
#[derive(Debug, Clone)]
pub(super) struct Gradients {
    lu: Lu,
    blocks: Option<Blocks>,
    by_blocks: bool,
    jacobian: Vec<f64>,
}

/// What the way by blocks needs.
#[derive(Debug, Clone)]
struct Blocks {
    factors: Factors,
    scratch: Vec<f64>,
    /// The handle's row.
    driver: Vec<f64>,
    /// Motion for a rate of 1 of the driver.
    along: Vec<f64>,
    /// The border is the driver's row.
    driven: bool,
    /// Border times `along`, and the border.
    share: f64,
    border: Vec<f64>,
    size: f64,
}

impl Gradients {
    /// Room for the gradients of `linkage`. `by_blocks`: whether blocks may be used at all.
    #[must_use]
    pub(super) fn new(linkage: &Linkage, by_blocks: bool) -> Self {
        let n = linkage.coordinates;
        let sparse = linkage.sparse.as_ref().filter(|_| by_blocks);
        let blocks = sparse.map(|sparse| {
            let mut driver = vec![0.0; n];
            linkage.handle_row(&mut driver);
            Blocks {
                factors: Factors::new(&sparse.plan),
                scratch: vec![0.0; sparse.scratch(linkage)],
                driver,
                along: vec![0.0; n],
                driven: false,
                share: 1.0,
                border: vec![0.0; n],
                size: linkage.size,
            }
        });
        Self {
            lu: Lu::new(n),
            blocks,
            by_blocks: false,
            jacobian: vec![0.0; linkage.equations * n],
        }
    }

    /// Takes notice of a new border.
    pub(super) fn set_border(&mut self, border: &[f64]) {
        if let Some(blocks) = &mut self.blocks {
            blocks.driven = blocks.driver == border;
            blocks.border.copy_from_slice(border);
        }
    }

    /// Factors the gradients at `pose`. `rows`: the equations to be used; empty: all. `false` where
    /// the matrix is singular.
    #[inline]
    pub(super) fn factor(
        &mut self,
        linkage: &Linkage,
        pose: &Pose,
        rows: &[usize],
        border: &[f64],
    ) -> bool {
        self.by_blocks = rows.is_empty() && self.factor_blocks(linkage, pose);
        self.by_blocks || self.factor_whole(linkage, pose, rows, border)
    }

    #[inline]
    fn factor_blocks(&mut self, linkage: &Linkage, pose: &Pose) -> bool {
        let (Some(blocks), Some(sparse)) = (&mut self.blocks, &linkage.sparse) else {
            return false;
        };
        let values = &mut blocks.factors.values;
        sparse.fill(linkage, pose, values, &mut blocks.scratch);
        let n = linkage.coordinates;
        let last = sparse.plan.row(n - 1);
        for (at, &column) in last.zip(sparse.plan.columns(n - 1)) {
            values[at] = blocks.driver[column] * linkage.size;
        }
        if !blocks.factors.factor(&sparse.plan) {
            return false;
        }
        blocks.along.fill(0.0);
        blocks.along[n - 1] = linkage.size;
        blocks.factors.solve(&sparse.plan, &mut blocks.along);
        if blocks.driven {
            return true;
        }
        let square = |v: &[f64]| v.iter().map(|v| v * v).sum::<f64>();
        blocks.share = dot(&blocks.border, &blocks.along);
        let whole = (square(&blocks.border) * square(&blocks.along)).sqrt();
        let driver = square(&blocks.driver) * square(&blocks.along);
        blocks.share.abs() > LEAST_SHARE * whole && driver < (1.0 / LEAST_SHARE).powi(2)
    }

    fn factor_whole(
        &mut self,
        linkage: &Linkage,
        pose: &Pose,
        rows: &[usize],
        border: &[f64],
    ) -> bool {
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
        for (value, b) in matrix[(n - 1) * n..].iter_mut().zip(border) {
            *value = b * linkage.size; // in mm, as the other rows
        }
        self.lu.factor()
    }

    /// Solves `A x = b` in place.
    #[inline]
    pub(super) fn solve(&mut self, linkage: &Linkage, b: &mut [f64]) {
        let (true, Some(blocks), Some(sparse)) =
            (self.by_blocks, &mut self.blocks, &linkage.sparse)
        else {
            return self.lu.solve(b);
        };
        if blocks.driven {
            return blocks.factors.solve(&sparse.plan, b);
        }
        // With the driver held, and then along the motion as far as the border asks for.
        let last = b.len() - 1;
        let value = std::mem::take(&mut b[last]) / blocks.size;
        blocks.factors.solve(&sparse.plan, b);
        let ahead = (value - dot(&blocks.border, b)) / blocks.share;
        for (x, t) in b.iter_mut().zip(&blocks.along) {
            *x += ahead * t;
        }
    }

    /// The motion for a rate of 1 of the border.
    #[inline]
    pub(super) fn tangent(&mut self, linkage: &Linkage, out: &mut [f64]) {
        if let (true, Some(blocks)) = (self.by_blocks, &self.blocks) {
            if blocks.driven {
                out.copy_from_slice(&blocks.along);
            } else {
                for (out, t) in out.iter_mut().zip(&blocks.along) {
                    *out = t / blocks.share;
                }
            }
            return;
        }
        out.fill(0.0);
        if let Some(last) = out.last_mut() {
            *last = linkage.size;
        }
        self.lu.solve(out);
    }

    /// Solves `Aᵀ x = b` in place; `spare` has as much room.
    #[inline]
    pub(super) fn solve_transposed(&self, linkage: &Linkage, b: &mut [f64], spare: &mut [f64]) {
        let (true, Some(blocks), Some(sparse)) = (self.by_blocks, &self.blocks, &linkage.sparse)
        else {
            return self.lu.solve_transposed(b);
        };
        if blocks.driven {
            spare.copy_from_slice(b);
            return blocks.factors.solve_transposed(&sparse.plan, spare, b);
        }
        // The border takes what has power in the motion; the driver's row has then nothing left.
        let last = b.len() - 1;
        let taken = dot(b, &blocks.along) / blocks.share;
        for ((left, b), border) in spare.iter_mut().zip(b.iter()).zip(&blocks.border) {
            *left = b - taken * border;
        }
        blocks.factors.solve_transposed(&sparse.plan, spare, b);
        b[last] = taken / blocks.size;
    }

    /// Whether the determinant is positive.
    #[must_use]
    pub(super) fn positive(&self) -> bool {
        match &self.blocks {
            Some(blocks) if self.by_blocks => {
                let along = blocks.driven || blocks.share > 0.0;
                blocks.factors.positive() == along
            }
            _ => self.lu.determinant_positive(),
        }
    }
}

#[inline]
fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
