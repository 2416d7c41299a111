//! The structure of a sparse square system: what stands where, and in which order it is solved.

use super::order::{Order, order};

/// Where a number of a row stands among the values, and which column it belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Entry {
    /// Index among the values.
    pub(super) at: usize,
    /// Column; for an inner entry, its place in the block.
    pub(super) column: usize,
}

/// A row of a block: its numbers in the block's own columns and in those of blocks before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Line {
    pub(super) row: usize,
    pub(super) inner: Vec<Entry>,
    pub(super) outer: Vec<Entry>,
}

/// A row by itself: its own number stands at `at`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Single {
    pub(super) row: usize,
    pub(super) column: usize,
    pub(super) at: usize,
    pub(super) outer: Vec<Entry>,
}

/// Two rows that are solved together. Where a row has no number there, the place is that of the zero
/// that stands behind all values.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pair {
    pub(super) rows: [usize; 2],
    pub(super) columns: [usize; 2],
    /// Its own four numbers, row by row.
    pub(super) inner: [usize; 4],
    /// Numbers of both rows in columns of blocks before.
    pub(super) outer: Vec<([usize; 2], usize)>,
}

/// Three rows or more that are solved together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Large {
    pub(super) lines: Vec<Line>,
    pub(super) columns: Vec<usize>,
    /// First of its places in lists of all rows in the order of solving.
    pub(super) first: usize,
}

/// Rows that are solved together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Rows {
    One(Single),
    Two(Pair),
    More(Large),
}

/// Some rows that are solved together, and the first of their places in the store of small matrices.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) rows: Rows,
    pub(super) store: usize,
}

/// The structure of a system: found once, used at every position.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// For each row, the first of its values; one more at the end.
    starts: Vec<usize>,
    /// Column of every value.
    columns: Vec<usize>,
    pub(super) blocks: Vec<Block>,
    /// Room for all small matrices.
    pub(super) room: usize,
    /// Whether rows and columns, in the order of solving, are permuted against each other by an odd
    /// number of swaps.
    pub(super) odd: bool,
}

impl Rows {
    /// `zero`: where the zero behind all values stands.
    fn new(lines: Vec<Line>, columns: Vec<usize>, zero: usize, first: usize) -> Self {
        match (lines.as_slice(), columns.as_slice()) {
            ([line], &[column]) => {
                let at = line.inner.first().map_or(zero, |entry| entry.at);
                Self::One(Single {
                    row: line.row,
                    column,
                    at,
                    outer: line.outer.clone(),
                })
            }
            ([one, two], &[left, right]) => Self::Two(Pair::new([one, two], [left, right], zero)),
            _ => Self::More(Large {
                lines,
                columns,
                first,
            }),
        }
    }
}

impl Pair {
    fn new(lines: [&Line; 2], columns: [usize; 2], zero: usize) -> Self {
        let mut inner = [zero; 4];
        let mut outer: Vec<([usize; 2], usize)> = Vec::new();
        for (k, line) in lines.into_iter().enumerate() {
            for entry in &line.inner {
                inner[2 * k + entry.column] = entry.at;
            }
            for entry in &line.outer {
                let known = outer.iter().position(|(_, column)| *column == entry.column);
                let known = known.unwrap_or_else(|| {
                    outer.push(([zero; 2], entry.column));
                    outer.len() - 1
                });
                outer[known].0[k] = entry.at;
            }
        }
        Self {
            rows: lines.map(|line| line.row),
            columns,
            inner,
            outer,
        }
    }
}

impl Plan {
    /// The structure of a square system of which row `k` has numbers in the columns `pattern[k]`.
    /// `None` where its rows cannot each have a column of their own: it is singular whatever its
    /// numbers are.
    #[must_use]
    pub fn new(pattern: &[Vec<usize>]) -> Option<Self> {
        let Order { blocks } = order(pattern, pattern.len())?;
        let mut starts = vec![0];
        for row in pattern {
            starts.push(starts[starts.len() - 1] + row.len());
        }
        let (mut room, mut first) = (0, 0);
        let mut made = Vec::new();
        let mut by_column = vec![0; pattern.len()];
        for (rows, columns) in blocks {
            let line = |&row: &usize| {
                let (mut inner, mut outer) = (Vec::new(), Vec::new());
                for (k, &column) in pattern[row].iter().enumerate() {
                    let at = starts[row] + k;
                    match columns.binary_search(&column) {
                        Ok(column) => inner.push(Entry { at, column }),
                        Err(_) => outer.push(Entry { at, column }),
                    }
                }
                Line { row, inner, outer }
            };
            for (&row, &column) in rows.iter().zip(&columns) {
                by_column[column] = row;
            }
            let count = rows.len();
            let lines: Vec<Line> = rows.iter().map(line).collect();
            let zero = starts[pattern.len()];
            made.push(Block {
                rows: Rows::new(lines, columns, zero, first),
                store: room,
            });
            room += count * count;
            first += count;
        }
        Some(Self {
            starts,
            columns: pattern.iter().flatten().copied().collect(),
            blocks: made,
            room,
            odd: odd(&by_column),
        })
    }

    /// Number of rows, and of columns.
    #[must_use]
    pub fn len(&self) -> usize {
        self.starts.len() - 1
    }

    /// Whether there are no rows.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Number of values.
    #[must_use]
    pub fn values(&self) -> usize {
        self.columns.len()
    }

    /// Where the values of a row stand.
    #[inline]
    #[must_use]
    pub fn row(&self, row: usize) -> std::ops::Range<usize> {
        self.starts[row]..self.starts[row + 1]
    }

    /// Columns of the values of a row.
    #[inline]
    #[must_use]
    pub fn columns(&self, row: usize) -> &[usize] {
        &self.columns[self.row(row)]
    }

    /// The blocks in the order in which they are solved: rows and columns of each.
    pub fn blocks(&self) -> impl Iterator<Item = (Vec<usize>, &[usize])> {
        self.blocks.iter().map(|block| match &block.rows {
            Rows::One(one) => (vec![one.row], std::slice::from_ref(&one.column)),
            Rows::Two(pair) => (pair.rows.to_vec(), pair.columns.as_slice()),
            Rows::More(large) => {
                let rows = large.lines.iter().map(|line| line.row).collect();
                (rows, large.columns.as_slice())
            }
        })
    }
}

/// Whether a permutation is made of an odd number of swaps.
fn odd(permutation: &[usize]) -> bool {
    let mut seen = vec![false; permutation.len()];
    let mut swaps = 0;
    for start in 0..permutation.len() {
        let mut at = start;
        let mut cycle = 0;
        while !std::mem::replace(&mut seen[at], true) {
            at = permutation[at];
            cycle += 1;
        }
        swaps += usize::saturating_sub(cycle, 1);
    }
    swaps % 2 == 1
}
