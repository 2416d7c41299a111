//! Rows and columns of a sparse square system in the order in which it can be solved.
//!
//! A perfect matching of rows and columns, then the strongly connected components of the rows, each
//! of which needs the columns matched to others (A. L. Dulmage and N. S. Mendelsohn, Can. J. Math. 10
//! (1958) 517; R. Tarjan, SIAM J. Comput. 1 (1972) 146). Every component is a block that can be solved
//! once those before it are.

/// A system cut into blocks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Order {
    /// The blocks in the order in which they are solved: rows and as many columns.
    pub blocks: Vec<(Vec<usize>, Vec<usize>)>,
}

/// Cuts the system whose row `k` has numbers in the columns `pattern[k]` into blocks. `None` where
/// some rows cannot each have a column of their own, or the system is not square.
#[must_use]
pub fn order(pattern: &[Vec<usize>], columns: usize) -> Option<Order> {
    if pattern.len() != columns {
        return None;
    }
    let column_of = matching(pattern, columns)?;
    let mut row_of = vec![0; columns];
    for (row, &column) in column_of.iter().enumerate() {
        row_of[column] = row;
    }
    let mut search = Search {
        pattern,
        row_of: &row_of,
        index: vec![None; columns],
        low: vec![0; columns],
        open: vec![false; columns],
        stack: Vec::new(),
        next: 0,
        found: Vec::new(),
    };
    for row in 0..columns {
        if search.index[row].is_none() {
            search.visit(row);
        }
    }
    // A component is found after all that it needs.
    let blocks = search
        .found
        .into_iter()
        .map(|mut rows| {
            rows.sort_unstable();
            let mut taken: Vec<usize> = rows.iter().map(|&row| column_of[row]).collect();
            taken.sort_unstable();
            (rows, taken)
        })
        .collect();
    Some(Order { blocks })
}

/// A column of its own for every row, by augmenting paths.
fn matching(pattern: &[Vec<usize>], columns: usize) -> Option<Vec<usize>> {
    let mut row_of: Vec<Option<usize>> = vec![None; columns];
    for row in 0..pattern.len() {
        let mut tried = vec![false; columns];
        if !augment(pattern, row, &mut tried, &mut row_of) {
            return None;
        }
    }
    let mut column_of = vec![0; pattern.len()];
    for (column, row) in row_of.iter().enumerate() {
        column_of[(*row)?] = column;
    }
    Some(column_of)
}

/// Finds `row` a column, other rows moving to others where they can. As deep as there are rows.
fn augment(
    pattern: &[Vec<usize>],
    row: usize,
    tried: &mut [bool],
    row_of: &mut [Option<usize>],
) -> bool {
    for &column in &pattern[row] {
        if std::mem::replace(&mut tried[column], true) {
            continue;
        }
        let free = match row_of[column] {
            None => true,
            Some(other) => augment(pattern, other, tried, row_of),
        };
        if free {
            row_of[column] = Some(row);
            return true;
        }
    }
    false
}

/// Tarjan's search for strongly connected components.
struct Search<'a> {
    pattern: &'a [Vec<usize>],
    row_of: &'a [usize],
    index: Vec<Option<usize>>,
    low: Vec<usize>,
    open: Vec<bool>,
    stack: Vec<usize>,
    next: usize,
    found: Vec<Vec<usize>>,
}

impl Search<'_> {
    fn visit(&mut self, row: usize) {
        let own = self.next;
        self.next += 1;
        (self.index[row], self.low[row], self.open[row]) = (Some(own), own, true);
        self.stack.push(row);
        for &column in &self.pattern[row] {
            let needs = self.row_of[column];
            match self.index[needs] {
                None => {
                    self.visit(needs);
                    self.low[row] = self.low[row].min(self.low[needs]);
                }
                Some(index) if self.open[needs] => self.low[row] = self.low[row].min(index),
                Some(_) => {}
            }
        }
        if self.low[row] == own {
            let mut rows = Vec::new();
            while let Some(last) = self.stack.pop() {
                self.open[last] = false;
                rows.push(last);
                if last == row {
                    break;
                }
            }
            self.found.push(rows);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::order;

    /// By hand: column 0 from row 2 alone, then rows 0 and 1 together, then row 3.
    #[test]
    fn blocks_by_hand() {
        let pattern = [vec![0, 1, 2], vec![1, 2], vec![0], vec![2, 3]];
        let blocks = order(&pattern, 4).unwrap().blocks;
        let expected = [
            (vec![2], vec![0]),
            (vec![0, 1], vec![1, 2]),
            (vec![3], vec![3]),
        ];
        assert_eq!(blocks, expected);
    }

    #[test]
    fn rows_without_a_column_of_their_own_are_refused() {
        assert_eq!(order(&[vec![0], vec![0]], 2), None);
        assert_eq!(order(&[vec![0]], 2), None);
        assert!(order(&[], 0).unwrap().blocks.is_empty());
    }

    /// A row that must give its column away to one that has no other.
    #[test]
    fn columns_are_given_away() {
        let pattern = [vec![0, 1], vec![0], vec![1, 2]];
        assert_eq!(order(&pattern, 3).unwrap().blocks.len(), 3);
    }
}
