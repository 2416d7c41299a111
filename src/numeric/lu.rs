//! Dense LU factors on storage that is used again and again.
//!
//! The systems of a linkage are small (a four-bar has three unknowns) and are factored at every
//! position, so nothing is allocated here after [`Lu::new`]. Partial pivoting, row-major.

use super::dot;

/// LU factors of a square matrix, with room for one.
#[derive(Debug, Clone)]
pub struct Lu {
    n: usize,
    a: Vec<f64>,
    swaps: Vec<usize>,
    inverse: Vec<f64>,
    odd: bool,
    /// Smallest and largest pivot.
    pivots: [f64; 2],
}

impl Lu {
    /// Storage for `n` × `n`.
    #[must_use]
    pub fn new(n: usize) -> Self {
        Self {
            n,
            a: vec![0.0; n * n],
            swaps: vec![0; n],
            inverse: vec![0.0; n],
            odd: false,
            pivots: [0.0, 1.0],
        }
    }

    /// The matrix to be factored, row-major, `n * n` numbers.
    pub fn matrix(&mut self) -> &mut [f64] {
        &mut self.a
    }

    /// Factors the matrix in place. Returns `false` when a pivot is exactly zero or not finite;
    /// near-singularity is for the caller to judge by [`Lu::pivot_ratio`].
    pub fn factor(&mut self) -> bool {
        let n = self.n;
        let a = &mut self.a[..n * n];
        self.odd = false;
        let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
        for k in 0..n {
            let mut p = k;
            let mut size = a[k * n + k].abs();
            for i in k + 1..n {
                let v = a[i * n + k].abs();
                if v > size {
                    size = v;
                    p = i;
                }
            }
            if !(size > 0.0 && size < f64::INFINITY) {
                self.pivots = [0.0, 1.0];
                return false;
            }
            least = least.min(size);
            most = most.max(size);
            self.swaps[k] = p;
            if p != k {
                self.odd = !self.odd;
                for j in 0..n {
                    a.swap(k * n + j, p * n + j);
                }
            }
            // Reciprocals of the pivots: the solves behind multiply, which is quicker.
            let inverse = 1.0 / a[k * n + k];
            self.inverse[k] = inverse;
            let (done, rest) = a.split_at_mut((k + 1) * n);
            let pivot = &done[k * n..];
            for row in rest.chunks_exact_mut(n) {
                let factor = row[k] * inverse;
                row[k] = factor;
                for (value, p) in row[k + 1..].iter_mut().zip(&pivot[k + 1..]) {
                    *value -= factor * p;
                }
            }
        }
        self.pivots = [least, most];
        true
    }

    /// Smallest over largest pivot: a cheap sign of a nearly singular matrix.
    #[must_use]
    pub fn pivot_ratio(&self) -> f64 {
        self.pivots[0] / self.pivots[1]
    }

    /// Sign of the determinant.
    #[must_use]
    pub fn determinant_positive(&self) -> bool {
        let negatives = (0..self.n).filter(|k| self.a[k * self.n + k] < 0.0).count();
        (negatives % 2 == 1) == self.odd
    }

    /// Solves `A x = b` in place.
    #[inline]
    pub fn solve(&self, b: &mut [f64]) {
        let n = self.n;
        let b = &mut b[..n];
        for (k, &p) in self.swaps.iter().enumerate() {
            b.swap(k, p);
        }
        for k in 1..n {
            b[k] -= dot(&self.a[k * n..k * n + k], &b[..k]);
        }
        for k in (0..n).rev() {
            let sum = dot(&self.a[k * n + k + 1..(k + 1) * n], &b[k + 1..]);
            b[k] = (b[k] - sum) * self.inverse[k];
        }
    }

    /// Solves `Aᵀ x = b` in place, with the same factors.
    #[inline]
    pub fn solve_transposed(&self, b: &mut [f64]) {
        let n = self.n;
        let b = &mut b[..n];
        for (k, row) in self.a.chunks_exact(n.max(1)).enumerate() {
            let (done, rest) = b.split_at_mut(k + 1);
            let v = done[k] * self.inverse[k];
            done[k] = v;
            for (x, a) in rest.iter_mut().zip(&row[k + 1..]) {
                *x -= a * v;
            }
        }
        for (k, row) in self.a.chunks_exact(n.max(1)).enumerate().rev() {
            let (rest, known) = b.split_at_mut(k);
            let v = known[0];
            for (x, a) in rest.iter_mut().zip(row) {
                *x -= a * v;
            }
        }
        for (k, &p) in self.swaps.iter().enumerate().rev() {
            b.swap(k, p);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Lu;
    use crate::numeric::noise::noise;
    use nalgebra::DMatrix;

    fn random(n: usize, seed: u64) -> DMatrix<f64> {
        let mut next = noise(seed);
        DMatrix::from_fn(n, n, |_, _| next())
    }

    #[test]
    fn agrees_with_nalgebra_in_both_senses() {
        for n in 1..12 {
            let a = random(n, n as u64 + 7);
            let b = random(n, 99).column(0).into_owned();
            let mut lu = Lu::new(n);
            lu.matrix().copy_from_slice(a.transpose().as_slice()); // row-major
            assert!(lu.factor());
            assert_eq!(lu.determinant_positive(), a.determinant() > 0.0);
            let (mut x, mut y) = (b.as_slice().to_vec(), b.as_slice().to_vec());
            lu.solve(&mut x);
            lu.solve_transposed(&mut y);
            let expected = a.clone().lu().solve(&b).unwrap();
            let transposed = a.transpose().lu().solve(&b).unwrap();
            for i in 0..n {
                approx::assert_relative_eq!(
                    x[i],
                    expected[i],
                    epsilon = 1e-10,
                    max_relative = 1e-9
                );
                approx::assert_relative_eq!(
                    y[i],
                    transposed[i],
                    epsilon = 1e-10,
                    max_relative = 1e-9
                );
            }
        }
    }

    #[test]
    fn a_singular_matrix_is_refused_or_shows_in_the_pivot_ratio() {
        let mut lu = Lu::new(3);
        lu.matrix()
            .copy_from_slice(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0]);
        assert!(!lu.factor() || lu.pivot_ratio() < 1e-12);
        lu.matrix().copy_from_slice(&[0.0; 9]);
        assert!(!lu.factor());
        lu.matrix().copy_from_slice(&[f64::NAN; 9]);
        assert!(!lu.factor());
    }
}
