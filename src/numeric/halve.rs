//! The border between where something still holds and where it no longer does.

/// Closes in on the border by halving: `low` is where `holds` is true, `high` where it is not. Gives
/// both sides of the border after so many halvings.
///
/// # Errors
/// The first error of `holds`.
pub fn halve<E>(
    mut holds: impl FnMut(f64) -> Result<bool, E>,
    low: f64,
    high: f64,
    times: u32,
) -> Result<[f64; 2], E> {
    let (mut low, mut high) = (low, high);
    for _ in 0..times {
        let middle = 0.5 * (low + high);
        if holds(middle)? {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok([low, high])
}

#[cfg(test)]
mod tests {
    use super::halve;
    use std::convert::Infallible;

    #[test]
    fn the_border_lies_between_both_sides() {
        let Ok([low, high]) = halve(|x| Ok::<_, Infallible>(x * x < 2.0), 0.0, 2.0, 50);
        assert!(low * low < 2.0 && high * high >= 2.0 && high - low < 1e-14);
        // Downwards as well, and an error ends it.
        let Ok([low, high]) = halve(|x| Ok::<_, Infallible>(x > -1.0), 0.0, -3.0, 40);
        assert!(low > -1.0 && high <= -1.0 && low - high < 1e-11);
        assert_eq!(halve(|_| Err("no"), 0.0, 1.0, 3), Err("no"));
    }
}
