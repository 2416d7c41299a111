//! The border between where something still holds and where it no longer does.

/// Halvings of the stretch in which a border is: to the last digit of a place.
const HALVINGS: u32 = 60;

/// Both sides of the border between `low`, where `holds` is true, and `high`, where it is not, closed
/// in on by halving.
///
/// # Errors
/// The first error of `holds`.
pub fn border<E>(
    mut holds: impl FnMut(f64) -> Result<bool, E>,
    low: f64,
    high: f64,
) -> Result<[f64; 2], E> {
    let (mut low, mut high) = (low, high);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if holds(middle)? {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok([low, high])
}

/// The first of these places at which `holds` is no longer true, and the one before it: the same one
/// twice where it does not hold at the first. `None` where it holds at all.
///
/// # Errors
/// The first error of `holds`.
pub fn first_border<E>(
    mut holds: impl FnMut(f64) -> Result<bool, E>,
    places: impl IntoIterator<Item = f64>,
) -> Result<Option<[f64; 2]>, E> {
    let mut before = None;
    for place in places {
        if !holds(place)? {
            return Ok(Some([before.unwrap_or(place), place]));
        }
        before = Some(place);
    }
    Ok(None)
}

#[cfg(test)]
mod tests {
    use super::{border, first_border};
    use std::convert::Infallible;

    #[test]
    fn the_border_lies_between_both_sides() {
        let Ok([low, high]) = border(|x| Ok::<_, Infallible>(x * x < 2.0), 0.0, 2.0);
        assert!(low * low < 2.0 && high * high >= 2.0 && high - low < 1e-14);
        // Downwards as well, and an error ends it.
        let Ok([low, high]) = border(|x| Ok::<_, Infallible>(x > -1.0), 0.0, -3.0);
        assert!(low > -1.0 && high <= -1.0 && low - high < 1e-13);
        assert_eq!(border(|_| Err("no"), 0.0, 1.0), Err("no"));
    }

    #[test]
    fn the_first_place_beyond_the_border_and_the_one_before() {
        let first = |limit: f64| {
            let Ok(found) = first_border(|x| Ok::<_, Infallible>(x < limit), [0.0, 1.0, 2.0]);
            found
        };
        assert_eq!(first(1.5), Some([1.0, 2.0]));
        assert_eq!(first(0.0), Some([0.0, 0.0]));
        assert_eq!(first(9.0), None);
        assert_eq!(first_border(|_| Err("no"), [1.0]), Err("no"));
    }
}
