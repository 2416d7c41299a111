//! Factors of a system that has been cut into blocks.

use super::plan::{Entry, Large, Pair, Plan, Rows};

/// Below this a pivot of a block, over the greatest number of its row within the block, counts as
/// small: the block is near a dead position of its own, and a method that looks at all rows at once
/// does better.
const SMALL: f64 = 1e-4;

/// Factors of the blocks of a [`Plan`], with room for one system.
#[derive(Debug, Clone)]
pub struct Factors {
    /// The numbers of the system, row by row, see [`Plan::row`]; behind them a zero.
    pub values: Vec<f64>,
    /// Small matrices, row-major: for one and two rows the inverse, otherwise L and U.
    store: Vec<f64>,
    swaps: Vec<usize>,
    positive: bool,
}

impl Factors {
    /// Room for a system of this structure.
    #[must_use]
    pub fn new(plan: &Plan) -> Self {
        Self {
            values: vec![0.0; plan.values() + 1],
            store: vec![0.0; plan.room],
            swaps: vec![0; plan.len()],
            positive: true,
        }
    }

    /// Factors the system of [`Factors::values`]. `false` where a block is singular, or nearly.
    #[inline]
    pub fn factor(&mut self, plan: &Plan) -> bool {
        let mut positive = !plan.odd;
        for block in &plan.blocks {
            let own = match &block.rows {
                Rows::One(one) => {
                    let value = self.values[one.at];
                    self.store[block.store] = 1.0 / value;
                    (value.abs() > 0.0 && value.is_finite()).then_some(value > 0.0)
                }
                Rows::Two(two) => self.pair(two, block.store),
                Rows::More(more) => self.large(more, block.store),
            };
            match own {
                Some(own) => positive = positive == own,
                None => return false,
            }
        }
        self.positive = positive;
        true
    }

    /// The inverse of a block of two rows; `Some`: whether its determinant is positive.
    #[inline]
    fn pair(&mut self, two: &Pair, store: usize) -> Option<bool> {
        let m = two.inner.map(|at| self.values[at]);
        let (plus, minus) = (m[0] * m[3], m[1] * m[2]);
        let det = plus - minus;
        let scale = (m[0] * m[0] + m[2] * m[2]) * (m[1] * m[1] + m[3] * m[3]);
        if !(det * det > SMALL * SMALL * scale && scale < f64::INFINITY) {
            return None;
        }
        let inverse = 1.0 / det;
        self.store[store..store + 4].copy_from_slice(&[
            m[3] * inverse,
            -m[1] * inverse,
            -m[2] * inverse,
            m[0] * inverse,
        ]);
        Some(det > 0.0)
    }

    /// L and U of a block, with partial pivoting; `Some`: whether its determinant is positive.
    fn large(&mut self, more: &Large, store: usize) -> Option<bool> {
        let n = more.lines.len();
        let a = &mut self.store[store..store + n * n];
        let swaps = &mut self.swaps[more.first..more.first + n];
        a.fill(0.0);
        let mut greatest = 0.0_f64;
        for (line, row) in more.lines.iter().zip(a.chunks_exact_mut(n)) {
            for entry in &line.inner {
                row[entry.column] = self.values[entry.at];
                greatest = greatest.max(row[entry.column].abs());
            }
        }
        let mut positive = true;
        for k in 0..n {
            let mut p = k;
            for i in k + 1..n {
                if a[i * n + k].abs() > a[p * n + k].abs() {
                    p = i;
                }
            }
            let pivot = a[p * n + k];
            if !(pivot.abs() > SMALL * greatest && pivot.is_finite()) {
                return None;
            }
            swaps[k] = p;
            positive = positive == (pivot > 0.0);
            if p != k {
                positive = !positive;
                for j in 0..n {
                    a.swap(k * n + j, p * n + j);
                }
            }
            let (done, rest) = a.split_at_mut((k + 1) * n);
            let pivot_row = &done[k * n..];
            for row in rest.chunks_exact_mut(n) {
                let factor = row[k] / pivot;
                row[k] = factor;
                for (value, p) in row.iter_mut().zip(pivot_row).skip(k + 1) {
                    *value -= factor * p;
                }
            }
        }
        Some(positive)
    }

    /// Whether the determinant is positive.
    #[must_use]
    pub fn positive(&self) -> bool {
        self.positive
    }

    /// Solves A x = b: rows in, columns out. What is left in `b` is of no use.
    #[inline]
    pub fn solve(&self, plan: &Plan, b: &mut [f64], x: &mut [f64]) {
        let values = self.values.as_slice();
        for block in &plan.blocks {
            let store = &self.store[block.store..];
            match &block.rows {
                Rows::One(one) => {
                    let known = |sum: f64, e: &Entry| sum - values[e.at] * x[e.column];
                    x[one.column] = one.outer.iter().fold(b[one.row], known) * store[0];
                }
                Rows::Two(two) => {
                    let [mut p, mut q] = two.rows.map(|row| b[row]);
                    for (at, column) in &two.outer {
                        let known = x[*column];
                        p -= values[at[0]] * known;
                        q -= values[at[1]] * known;
                    }
                    let m = &store[..4];
                    x[two.columns[0]] = m[0] * p + m[1] * q;
                    x[two.columns[1]] = m[2] * p + m[3] * q;
                }
                Rows::More(more) => self.solve_large(more, store, b, x),
            }
        }
    }

    fn solve_large(&self, more: &Large, m: &[f64], b: &mut [f64], x: &mut [f64]) {
        let lines = more.lines.as_slice();
        let n = lines.len();
        // The rows of the block are its own in `b`: they hold the answer on its way.
        for line in lines {
            let known = |sum: f64, e: &Entry| sum - self.values[e.at] * x[e.column];
            b[line.row] = line.outer.iter().fold(b[line.row], known);
        }
        for (k, &p) in self.swaps[more.first..more.first + n].iter().enumerate() {
            b.swap(lines[k].row, lines[p].row);
        }
        for k in 1..n {
            let sum: f64 = (0..k).map(|j| m[k * n + j] * b[lines[j].row]).sum();
            b[lines[k].row] -= sum;
        }
        for k in (0..n).rev() {
            let sum: f64 = (k + 1..n).map(|j| m[k * n + j] * b[lines[j].row]).sum();
            b[lines[k].row] = (b[lines[k].row] - sum) / m[k * n + k];
        }
        for (line, &column) in lines.iter().zip(&more.columns) {
            x[column] = b[line.row];
        }
    }

    /// Solves Aᵀ y = g: columns in, rows out. What is left in `g` is of no use.
    #[inline]
    pub fn solve_transposed(&self, plan: &Plan, g: &mut [f64], y: &mut [f64]) {
        let values = self.values.as_slice();
        for block in plan.blocks.iter().rev() {
            let store = &self.store[block.store..];
            match &block.rows {
                Rows::One(one) => {
                    let force = g[one.column] * store[0];
                    y[one.row] = force;
                    for entry in &one.outer {
                        g[entry.column] -= values[entry.at] * force;
                    }
                }
                Rows::Two(two) => {
                    let [p, q] = two.columns.map(|column| g[column]);
                    let m = &store[..4];
                    let forces = [m[0] * p + m[2] * q, m[1] * p + m[3] * q];
                    y[two.rows[0]] = forces[0];
                    y[two.rows[1]] = forces[1];
                    for (at, column) in &two.outer {
                        g[*column] -= values[at[0]] * forces[0] + values[at[1]] * forces[1];
                    }
                }
                Rows::More(more) => self.solve_large_transposed(more, store, g, y),
            }
        }
    }

    fn solve_large_transposed(&self, more: &Large, m: &[f64], g: &mut [f64], y: &mut [f64]) {
        let lines = more.lines.as_slice();
        let n = lines.len();
        for k in 0..n {
            let sum: f64 = (0..k).map(|j| m[j * n + k] * y[lines[j].row]).sum();
            y[lines[k].row] = (g[more.columns[k]] - sum) / m[k * n + k];
        }
        for k in (0..n).rev() {
            let sum: f64 = (k + 1..n).map(|j| m[j * n + k] * y[lines[j].row]).sum();
            y[lines[k].row] -= sum;
        }
        let swaps = &self.swaps[more.first..more.first + n];
        for (k, &p) in swaps.iter().enumerate().rev() {
            y.swap(lines[k].row, lines[p].row);
        }
        for line in lines {
            for entry in &line.outer {
                g[entry.column] -= self.values[entry.at] * y[line.row];
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Factors, Plan};
    use crate::numeric::noise::noise;
    use nalgebra::{DMatrix, DVector};

    /// Random sparse systems against dense factors of nalgebra.
    #[test]
    fn sparse_systems_are_solved_as_dense_ones() {
        let (mut solved, mut large) = (0, 0);
        for seed in 0..400 {
            let mut next = noise(seed);
            let n = 1 + (seed as usize % 9);
            let density = if seed % 3 == 0 { 0.3 } else { 0.7 };
            let pattern: Vec<Vec<usize>> = (0..n)
                .map(|row| {
                    let own = (row + seed as usize) % n;
                    (0..n).filter(|&c| c == own || next() > density).collect()
                })
                .collect();
            let Some(plan) = Plan::new(&pattern) else {
                continue;
            };
            let mut factors = Factors::new(&plan);
            let mut dense = DMatrix::zeros(n, n);
            for row in 0..n {
                for (at, &column) in plan.row(row).zip(plan.columns(row)) {
                    factors.values[at] = next();
                    dense[(row, column)] = factors.values[at];
                }
            }
            if !factors.factor(&plan) {
                continue;
            }
            solved += 1;
            large += usize::from(plan.blocks().any(|(rows, _)| rows.len() > 2));
            assert_eq!(factors.positive(), dense.determinant() > 0.0, "seed {seed}");
            let b = DVector::from_fn(n, |_, _| next());
            for transposed in [false, true] {
                let mut x = b.as_slice().to_vec();
                let matrix = if transposed {
                    let mut g = x.clone();
                    factors.solve_transposed(&plan, &mut g, &mut x);
                    dense.transpose()
                } else {
                    factors.solve(&plan, &mut b.as_slice().to_vec(), &mut x);
                    dense.clone()
                };
                let expected = matrix.lu().solve(&b).unwrap();
                let scale = expected.amax().max(1.0);
                for (x, e) in x.iter().zip(&expected) {
                    assert!((x - e).abs() < 1e-9 * scale * scale, "seed {seed}: {x} {e}");
                }
            }
        }
        assert!(solved > 150 && large > 40, "{solved} {large}");
    }

    #[test]
    fn a_block_near_a_dead_position_is_refused() {
        let plan = Plan::new(&[vec![0, 1], vec![0, 1]]).unwrap();
        let mut factors = Factors::new(&plan);
        factors.values = vec![1.0, 2.0, 1.0, 2.0 + 1e-6];
        assert!(!factors.factor(&plan));
        factors.values = vec![1.0, 2.0, 1.0, f64::NAN];
        assert!(!factors.factor(&plan));
        factors.values = vec![1.0, 2.0, 1.0, 3.0];
        assert!(factors.factor(&plan));
    }
}
