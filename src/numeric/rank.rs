//! Rank, independent rows and null space of a small matrix.
//!
//! Complete-pivoting LU (nalgebra), which reveals rank reliably at these sizes; called a handful
//! of times per tool, so it may allocate.

use nalgebra::{DMatrix, FullPivLU};

/// What a matrix leaves free and what it says twice.
#[derive(Debug, Clone)]
pub struct Rank {
    /// Its rank.
    pub rank: usize,
    /// Indices of `rank` linearly independent rows, in ascending order.
    pub rows: Vec<usize>,
    /// A basis of the vectors x with A x = 0, each of unit length.
    pub null: Vec<Vec<f64>>,
    /// Smallest accepted pivot over the largest.
    pub margin: f64,
}

/// Rank of `a` (row-major, `rows` × `columns`), pivots below `tolerance` times the largest
/// counting as zero.
#[must_use]
pub fn rank(a: &[f64], rows: usize, columns: usize, tolerance: f64) -> Rank {
    if rows == 0 || columns == 0 {
        let unit = |k: usize| (0..columns).map(|i| f64::from(u8::from(i == k))).collect();
        return Rank {
            rank: 0,
            rows: Vec::new(),
            null: (0..columns).map(unit).collect(),
            margin: 1.0,
        };
    }
    let lu = FullPivLU::new(DMatrix::from_row_slice(rows, columns, a));
    let u = lu.u();
    let size = |k: usize| u[(k, k)].abs();
    let count = rows.min(columns);
    let largest = size(0);
    let rank = (0..count)
        .take_while(|&k| size(k) > tolerance * largest && size(k) > 0.0)
        .count();
    let margin = if rank == 0 {
        0.0
    } else {
        size(rank - 1) / largest
    };

    let mut row_order = DMatrix::from_fn(rows, 1, |i, _| i as f64);
    lu.p().permute_rows(&mut row_order);
    let mut independent: Vec<usize> = row_order.iter().take(rank).map(|&i| i as usize).collect();
    independent.sort_unstable();

    // Which original column stands at each permuted place: (1..n) Q.
    let mut column_order = DMatrix::from_fn(1, columns, |_, j| j as f64);
    lu.q().permute_columns(&mut column_order);
    let mut null = Vec::new();
    for free in rank..columns {
        let mut x = vec![0.0; columns];
        x[free] = 1.0;
        for i in (0..rank).rev() {
            let sum: f64 = (i + 1..columns).map(|j| u[(i, j)] * x[j]).sum();
            x[i] = -sum / u[(i, i)];
        }
        let length = x.iter().map(|v| v * v).sum::<f64>().sqrt();
        let mut vector = vec![0.0; columns];
        for (place, value) in x.iter().enumerate() {
            vector[column_order[(0, place)] as usize] = value / length;
        }
        null.push(vector);
    }
    Rank {
        rank,
        rows: independent,
        null,
        margin,
    }
}

#[cfg(test)]
mod tests {
    use super::rank;

    #[test]
    fn null_vectors_are_mapped_to_zero_and_rows_are_independent() {
        // Third row is the sum of the first two.
        let a = [1.0, 2.0, 3.0, 0.5, 0.0, 1.0, -1.0, 2.0, 1.0, 3.0, 2.0, 2.5];
        let r = rank(&a, 3, 4, 1e-10);
        assert_eq!(r.rank, 2);
        assert_eq!(r.rows.len(), 2);
        assert_eq!(r.null.len(), 2);
        for x in &r.null {
            for row in a.chunks(4) {
                let sum: f64 = row.iter().zip(x).map(|(p, q)| p * q).sum();
                assert!(sum.abs() < 1e-12);
            }
        }
    }

    #[test]
    fn the_empty_matrix_leaves_everything_free() {
        let r = rank(&[], 0, 3, 1e-10);
        assert_eq!((r.rank, r.null.len()), (0, 3));
    }

    #[test]
    fn a_zero_matrix_has_rank_zero() {
        assert_eq!(rank(&[0.0; 6], 2, 3, 1e-10).rank, 0);
    }
}
