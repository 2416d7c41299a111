//! Factors of a system that has been cut into blocks.

use super::plan::{Block, Line, Plan};

/// Below this a pivot of a block, over the greatest number of its row within the block, counts as
/// small: the block is near a dead position of its own, and a method that looks at all rows at once
/// does better.
const SMALL: f64 = 1e-4;

/// Factors of the blocks of a [`Plan`], with room for one system.
#[derive(Debug, Clone)]
pub struct Factors {
    /// The numbers of the system, row by row, see [`Plan::row`].
    pub values: Vec<f64>,
    /// Small matrices, row-major: for one and two rows the inverse, otherwise L and U.
    store: Vec<f64>,
    swaps: Vec<usize>,
    scratch: Vec<f64>,
    positive: bool,
}

impl Factors {
    /// Room for a system of this structure.
    #[must_use]
    pub fn new(plan: &Plan) -> Self {
        Self {
            values: vec![0.0; plan.values()],
            store: vec![0.0; plan.room],
            swaps: vec![0; plan.len()],
            scratch: vec![0.0; plan.len()],
            positive: true,
        }
    }

    /// Factors the system of [`Factors::values`]. `false` where a block is singular, or nearly.
    #[inline]
    pub fn factor(&mut self, plan: &Plan) -> bool {
        let mut positive = !plan.odd;
        for block in &plan.blocks {
            let own = match block.lines.as_slice() {
                [line] => match line.inner.as_slice() {
                    [entry] => {
                        let value = self.values[entry.at];
                        self.store[block.store] = 1.0 / value;
                        (value.abs() > 0.0 && value.is_finite()).then_some(value > 0.0)
                    }
                    _ => None,
                },
                [_, _] => self.pair(block),
                _ => self.small(block),
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
    fn pair(&mut self, block: &Block) -> Option<bool> {
        let mut m = [0.0; 4];
        for (k, line) in block.lines.iter().enumerate() {
            for entry in &line.inner {
                m[2 * k + entry.column] = self.values[entry.at];
            }
        }
        let (plus, minus) = (m[0] * m[3], m[1] * m[2]);
        let det = plus - minus;
        let scale = (m[0] * m[0] + m[2] * m[2]) * (m[1] * m[1] + m[3] * m[3]);
        if !(det * det > SMALL * SMALL * scale && scale < f64::INFINITY) {
            return None;
        }
        let inverse = 1.0 / det;
        self.store[block.store..block.store + 4].copy_from_slice(&[
            m[3] * inverse,
            -m[1] * inverse,
            -m[2] * inverse,
            m[0] * inverse,
        ]);
        Some(det > 0.0)
    }

    /// L and U of a block, with partial pivoting; `Some`: whether its determinant is positive.
    fn small(&mut self, block: &Block) -> Option<bool> {
        let n = block.lines.len();
        let a = &mut self.store[block.store..block.store + n * n];
        let swaps = &mut self.swaps[block.first..block.first + n];
        a.fill(0.0);
        let mut greatest = 0.0_f64;
        for (line, row) in block.lines.iter().zip(a.chunks_exact_mut(n)) {
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

    /// Solves A x = b in place: rows in, columns out.
    #[inline]
    pub fn solve(&mut self, plan: &Plan, b: &mut [f64]) {
        let Self {
            values,
            store,
            swaps,
            scratch: x,
            ..
        } = self;
        for block in &plan.blocks {
            let n = block.lines.len();
            let left = |line: &Line, b: &[f64], x: &[f64]| {
                (line.outer.iter()).fold(b[line.row], |sum, e| sum - values[e.at] * x[e.column])
            };
            let m = &store[block.store..block.store + n * n];
            match block.lines.as_slice() {
                [line] => x[block.columns[0]] = left(line, b, x) * m[0],
                [first, second] => {
                    let (p, q) = (left(first, b, x), left(second, b, x));
                    x[block.columns[0]] = m[0] * p + m[1] * q;
                    x[block.columns[1]] = m[2] * p + m[3] * q;
                }
                lines => {
                    // The rows of the block are its own in `b`: they hold the answer on its way.
                    for line in lines {
                        b[line.row] = left(line, b, x);
                    }
                    for (k, &p) in swaps[block.first..block.first + n].iter().enumerate() {
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
                    for (line, &column) in lines.iter().zip(&block.columns) {
                        x[column] = b[line.row];
                    }
                }
            }
        }
        b.copy_from_slice(x);
    }

    /// Solves Aᵀ y = g: columns in, rows out. What is left in `g` is of no use.
    #[inline]
    pub fn solve_transposed(&self, plan: &Plan, g: &mut [f64], y: &mut [f64]) {
        let Self {
            values,
            store,
            swaps,
            ..
        } = self;
        for block in plan.blocks.iter().rev() {
            let n = block.lines.len();
            let m = &store[block.store..block.store + n * n];
            match block.lines.as_slice() {
                [line] => y[line.row] = g[block.columns[0]] * m[0],
                [first, second] => {
                    let (p, q) = (g[block.columns[0]], g[block.columns[1]]);
                    y[first.row] = m[0] * p + m[2] * q;
                    y[second.row] = m[1] * p + m[3] * q;
                }
                lines => {
                    for k in 0..n {
                        let sum: f64 = (0..k).map(|j| m[j * n + k] * y[lines[j].row]).sum();
                        y[lines[k].row] = (g[block.columns[k]] - sum) / m[k * n + k];
                    }
                    for k in (0..n).rev() {
                        let sum: f64 = (k + 1..n).map(|j| m[j * n + k] * y[lines[j].row]).sum();
                        y[lines[k].row] -= sum;
                    }
                    for (k, &p) in (swaps[block.first..block.first + n].iter().enumerate()).rev() {
                        y.swap(lines[k].row, lines[p].row);
                    }
                }
            }
            for line in &block.lines {
                let force = y[line.row];
                for entry in &line.outer {
                    g[entry.column] -= values[entry.at] * force;
                }
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
                    factors.solve(&plan, &mut x);
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
