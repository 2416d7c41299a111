//! Tables of two columns, the first of which rises.

/// The second column at a value of the first: straight lines between the rows, the first and the
/// last row's beyond them. `None` without rows.
#[must_use]
pub fn between(rows: &[[f64; 2]], at: f64) -> Option<f64> {
    let (first, last) = (rows.first()?, rows.last()?);
    if at <= first[0] {
        return Some(first[1]);
    }
    let inside = rows.windows(2).find(|w| at <= w[1][0]);
    Some(inside.map_or(last[1], |w| {
        w[0][1] + (w[1][1] - w[0][1]) * (at - w[0][0]) / (w[1][0] - w[0][0])
    }))
}
