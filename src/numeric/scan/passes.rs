//! Where a curve passes given values, and where it turns.

use crate::numeric::least::least;
use crate::numeric::root::root;

/// A place at which a curve was looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Knot {
    /// The place.
    pub at: f64,
    /// The value there.
    pub value: f64,
    /// An end, or a place where the curve turns: there a value may be touched and not passed.
    pub turns: bool,
}

/// Looks at `f` in all `places`.
///
/// # Errors
/// The first error of `f`.
pub fn knots<E>(
    mut f: impl FnMut(f64) -> Result<f64, E>,
    places: impl IntoIterator<Item = f64>,
) -> Result<Vec<Knot>, E> {
    let look = |at| {
        Ok(Knot {
            at,
            value: f(at)?,
            turns: false,
        })
    };
    let mut knots = places
        .into_iter()
        .map(look)
        .collect::<Result<Vec<_>, _>>()?;
    if let Some(first) = knots.first_mut() {
        first.turns = true;
    }
    if let Some(last) = knots.last_mut() {
        last.turns = true;
    }
    Ok(knots)
}

/// The knots, and among them the places where the curve turns, each found within `share` of the
/// stretch that it lies in.
///
/// # Errors
/// The first error of `f`.
pub fn with_turns<E>(
    mut f: impl FnMut(f64) -> Result<f64, E>,
    knots: &[Knot],
    share: f64,
) -> Result<Vec<Knot>, E> {
    let mut all = knots.to_vec();
    for three in knots.windows(3) {
        let [a, b, c] = three else { continue };
        let above = b.value > a.value;
        if b.value == a.value || above != (b.value > c.value) {
            continue;
        }
        let sign = if above { -1.0 } else { 1.0 };
        let near = share * (c.at - a.at).abs();
        let (at, value) = least(|at| f(at).map(|y| sign * y), a.at, c.at, near)?;
        all.push(Knot {
            at,
            value: sign * value,
            turns: true,
        });
    }
    all.sort_by(|a, b| a.at.total_cmp(&b.at));
    Ok(all)
}

/// The first place at which one of the `levels` is met: passed between two knots, or touched to within
/// `touch` at one where the curve turns or ends.
///
/// # Errors
/// The first error of `f`.
pub fn first_met<E>(
    mut f: impl FnMut(f64) -> Result<f64, E>,
    knots: &[Knot],
    levels: &[f64],
    touch: f64,
) -> Result<Option<f64>, E> {
    let within = |low: f64, high: f64| {
        let inside = levels.iter().copied().filter(|l| *l >= low && *l <= high);
        inside.min_by(f64::total_cmp)
    };
    let mut before: Option<&Knot> = None;
    for knot in knots {
        if let Some(from) = before {
            let level = within(from.value.min(knot.value), from.value.max(knot.value));
            let found = match level {
                Some(level) => match pass(&mut f, level, [from.at, knot.at], 0.0)? {
                    None => at_end(level, [from, knot], touch),
                    found => found,
                },
                None => None,
            };
            if found.is_some() {
                return Ok(found);
            }
        }
        if knot.turns && within(knot.value - touch, knot.value + touch).is_some() {
            return Ok(Some(knot.at));
        }
        before = Some(knot);
    }
    Ok(None)
}

/// The nearer of two knots with a level between them, if that is its value to within `touch`: read again, a
/// value may come out by rounding on the other side of the level, which is then not passed.
fn at_end(level: f64, ends: [&Knot; 2], touch: f64) -> Option<f64> {
    let off = |knot: &Knot| (knot.value - level).abs();
    let near = ends.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
    (off(near) <= touch).then_some(near.at)
}

/// All places between the first of `places` and the last, both left out, at which the curve passes one
/// of these values, found within `near`; they rise.
///
/// # Errors
/// The first error of `f`.
pub fn passes<E>(
    mut f: impl FnMut(f64) -> Result<f64, E>,
    places: impl IntoIterator<Item = f64>,
    values: &[f64],
    near: f64,
) -> Result<Vec<f64>, E> {
    let mut found = Vec::new();
    if values.is_empty() {
        return Ok(found);
    }
    let mut values = values.to_vec();
    values.sort_by(f64::total_cmp);
    let (mut ends, mut before): (Option<[f64; 2]>, Option<[f64; 2]>) = (None, None);
    for at in places {
        let here = f(at)?;
        let from = ends.map_or(at, |[from, _]| from);
        ends = Some([from, at]);
        if let Some([last, there]) = before {
            let (low, high) = (there.min(here), there.max(here));
            let first = values.partition_point(|v| *v <= low);
            let inside = values.get(first..).unwrap_or(&[]);
            let inside = inside.get(..inside.partition_point(|v| *v <= high));
            let rises = here > there;
            among(
                &mut f,
                inside.unwrap_or(&[]),
                [last, at],
                rises,
                near,
                &mut found,
            )?;
        }
        before = Some([at, here]);
    }
    let [from, to] = ends.unwrap_or_default();
    found.retain(|at| *at > from && *at < to);
    found.sort_by(f64::total_cmp);
    found.dedup();
    Ok(found)
}

/// So many values in one stretch are looked for in the whole of it.
const FEW: usize = 8;

/// Where the curve, which `rises` or falls between two places, passes each of these rising values: of
/// many the middle one first, which leaves less of the stretch to the others.
fn among<E>(
    f: &mut impl FnMut(f64) -> Result<f64, E>,
    values: &[f64],
    ends: [f64; 2],
    rises: bool,
    near: f64,
    found: &mut Vec<f64>,
) -> Result<(), E> {
    if values.len() <= FEW {
        for &value in values {
            found.extend(pass(f, value, ends, near)?);
        }
        return Ok(());
    }
    let (low, high) = values.split_at(values.len() / 2);
    let Some((&middle, high)) = high.split_first() else {
        return Ok(());
    };
    // A value that is all but that of an end is not passed between them to rounding.
    let Some(at) = pass(f, middle, ends, near)? else {
        found.extend(ends);
        return Ok(());
    };
    found.push(at);
    let (first, second) = if rises { (low, high) } else { (high, low) };
    among(f, first, [ends[0], at], rises, near, found)?;
    among(f, second, [at, ends[1]], rises, near, found)
}

/// The place between two at which the curve is `level`, found within `near`; `None` where it is not.
fn pass<E>(
    f: &mut impl FnMut(f64) -> Result<f64, E>,
    level: f64,
    [from, to]: [f64; 2],
    near: f64,
) -> Result<Option<f64>, E> {
    let mut failed = Ok(());
    let miss = |at| match f(at) {
        Ok(value) => Some(value - level),
        Err(error) => {
            failed = Err(error);
            None
        }
    };
    let found = root(miss, from, to, near);
    failed.map(|()| found)
}

#[cfg(test)]
mod tests {
    use super::{first_met, knots, passes, with_turns};
    use crate::numeric::scan::even;
    use std::convert::Infallible;
    use std::f64::consts::PI;

    fn sine(x: f64) -> Result<f64, Infallible> {
        Ok(x.sin())
    }

    /// sin x is ½ at π/6 and 5π/6, 1 at π/2 where it turns, and never 1.1.
    #[test]
    fn values_are_met_first_where_they_are_passed_or_touched() {
        let places = even([0.0, 3.0], 7);
        let Ok(few) = knots(sine, places);
        let Ok(all) = with_turns(sine, &few, 1e-9);
        assert_eq!(all.len(), few.len() + 1);
        let met = |levels: &[f64]| {
            let Ok(found) = first_met(sine, &all, levels, 1e-9);
            found
        };
        assert!((met(&[0.5]).unwrap() - PI / 6.0).abs() < 1e-12);
        assert!((met(&[1.0]).unwrap() - PI / 2.0).abs() < 1e-4);
        assert!((met(&[1.1, 0.9]).unwrap() - 0.9_f64.asin()).abs() < 1e-12);
        assert_eq!(met(&[1.1]), None);
        assert_eq!(met(&[-5e-10]), Some(0.0), "touched at an end");
    }

    /// A value that is that of a knot to rounding, and is read a little lower the second time: neither the
    /// stretch before the knot nor the one after it passes the level then.
    #[test]
    fn a_value_at_a_knot_is_met_however_it_rounds() {
        let mut calls = 0;
        let mut line = |x: f64| {
            calls += 1;
            let rounding = if calls <= 3 {
                f64::EPSILON
            } else {
                -f64::EPSILON
            };
            Ok::<_, Infallible>(x + rounding)
        };
        let Ok(three) = knots(&mut line, [0.0, 1.0, 2.0]);
        let Ok(met) = first_met(&mut line, &three, &[1.0], 1e-9);
        assert_eq!(met, Some(1.0));
    }

    /// By hand: of x² from −2 to 2 the values 1 (at ±1) and 2.25 (at ±1.5), both ends left out.
    #[test]
    fn all_passes_rise_and_leave_the_ends_out() {
        let square = |x: f64| Ok::<_, Infallible>(x * x);
        let Ok(found) = passes(square, even([-2.0, 2.0], 8), &[2.25, 1.0, 4.0, 9.0], 1e-13);
        let expected = [-1.5, -1.0, 1.0, 1.5];
        assert_eq!(found.len(), 4, "{found:?}");
        for (a, b) in found.iter().zip(expected) {
            assert!((a - b).abs() < 1e-12, "{found:?}");
        }
        // Many values in one stretch, either way.
        let many: Vec<f64> = (1..100).map(f64::from).collect();
        for sign in [1.0, -1.0] {
            let line = |x: f64| Ok::<_, Infallible>(50.0 + sign * x);
            let Ok(found) = passes(line, [-50.0, 50.0], &many, 1e-13);
            assert_eq!(found.len(), 99);
            assert!((found[0] + 49.0).abs() < 1e-9 && found[98] == -found[0]);
        }
        let failing = passes(|_| Err("no"), [0.0, 1.0], &[0.5], 0.0);
        assert_eq!(failing, Err("no"));
    }
}
