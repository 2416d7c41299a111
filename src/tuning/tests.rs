use super::looks::{mirrored, primes};
use super::{Depth, Found, Goal, Judged, Look, Seen, Task};

const FINE: f64 = 1e-9;

fn free(aim: f64) -> Option<Seen> {
    kept(aim, &[])
}

fn kept(aim: f64, limits: &[f64]) -> Option<Seen> {
    let limits = limits.to_vec();
    Some(Seen { aim, limits })
}

fn task<'t>(range: &'t [[f64; 2]], look: &'t Look<'t>) -> Task<'t> {
    let goal = Goal::Least;
    Task { range, goal, look }
}

fn search(
    range: &[[f64; 2]],
    start: &[f64],
    fine: f64,
    one: &(dyn Fn(&[f64]) -> Option<Seen> + Sync),
) -> Option<Found> {
    task(range, &|x, _| one(x)).search(start, fine)
}

#[test]
fn a_parabola_has_its_least_where_it_has() {
    let found = search(&[[-3.0, 5.0]], &[4.0], FINE, &|x| {
        free((x[0] - 1.234_567).powi(2))
    })
    .unwrap();
    assert!((found.at[0] - 1.234_567).abs() < 1e-5, "{found:?}");
}

/// H. H. Rosenbrock, *An automatic method for finding the greatest or least value of a
/// function* (1960): least at (1, 1).
#[test]
fn rosenbrocks_valley_is_followed() {
    let f = |x: &[f64]| (1.0 - x[0]).powi(2) + 100.0 * (x[1] - x[0] * x[0]).powi(2);
    let found = search(&[[-2.0, 2.0], [-1.0, 3.0]], &[-1.2, 1.0], FINE, &|x| {
        free(f(x))
    })
    .unwrap();
    assert!(f(&found.at) < 1e-4, "{found:?}");
}

/// Least of x + y on the disc of radius 1: −√2, on its edge.
#[test]
fn a_limit_is_kept_and_reached() {
    let judge = |x: &[f64]| {
        let r = x[0].hypot(x[1]);
        kept(x[0] + x[1], &[r - 1.0])
    };
    let found = search(&[[-2.0, 2.0], [-2.0, 2.0]], &[0.0, 0.0], FINE, &judge).unwrap();
    assert!(found.judged.breach <= 0.0);
    assert!(found.judged.aim < -1.40, "{found:?}");
}

/// Three to the power of so many is beyond any count.
#[test]
fn fifty_dimensions_are_not_too_many() {
    let range = [[0.0, 1.0]; 50];
    let judge = |x: &[f64]| free(x.iter().map(|v| (v - 0.5) * (v - 0.5)).sum());
    let found = search(&range, &[0.2; 50], FINE, &judge).unwrap();
    assert!(found.judged.aim < 1e-9, "{}", found.judged.aim);
}

/// The whole of every range is looked at, not a corner of it.
#[test]
fn no_dimension_of_many_is_left_out_of_the_first_look() {
    let judge = |x: &[f64]| {
        if x[11] < 0.6 {
            None
        } else {
            free(x.iter().sum())
        }
    };
    let found = search(&[[0.0, 1.0]; 12], &[0.0; 12], 1e-6, &judge).unwrap();
    assert!((found.judged.aim - 0.6).abs() < 1e-4, "{found:?}");
}

/// Halton's points to the bases 2 and 3, as he gives them: 1/2, 1/4, 3/4, 1/8 and 1/3, 2/3, 1/9.
#[test]
fn the_even_spread_is_haltons() {
    let to = |base, count| (1..=count).map(|k| mirrored(k, base)).collect::<Vec<_>>();
    assert_eq!(to(2, 4), [0.5, 0.25, 0.75, 0.125]);
    for (found, expected) in to(3, 3).iter().zip([1.0 / 3.0, 2.0 / 3.0, 1.0 / 9.0]) {
        assert!((found - expected).abs() < 1e-15);
    }
    assert_eq!(primes(6), [2, 3, 5, 7, 11, 13]);
}

/// What is no number is no kept limit and no small aim, whichever of two points comes first.
#[test]
fn no_number_is_the_worst_of_all() {
    let of = |aim, breach| Judged { aim, breach };
    let missed = of(0.0, 0.5);
    for unknown in [of(0.0, f64::NAN), of(-1.0, f64::INFINITY)] {
        assert!(missed.beats(unknown) && !unknown.beats(missed));
        assert!(of(9.0, 0.0).beats(unknown) && !unknown.beats(of(9.0, 0.0)));
    }
    let aimless = of(f64::NAN, 0.0);
    assert!(of(9.0, 0.0).beats(aimless) && !aimless.beats(of(9.0, 0.0)));
}

#[test]
fn points_without_an_answer_are_passed_over() {
    let judge = |x: &[f64]| if x[0] < 0.3 { None } else { free(x[0]) };
    let found = search(&[[0.0, 1.0]], &[0.9], FINE, &judge).unwrap();
    assert!((found.at[0] - 0.3).abs() < 1e-6, "{found:?}");
    assert!(search(&[[0.0, 0.2]], &[0.1], FINE, &judge).is_none());
}

#[test]
fn rounding_keeps_the_limit() {
    // 0.3 is kept by 0.31, not by 0.30 − a little.
    let judge = |x: &[f64]| kept(x[0], &[0.302 - x[0]]);
    let found = task(&[[0.0, 1.0]], &|x, _| judge(x))
        .round(&[0.302], 0.01)
        .unwrap();
    assert!((found.at[0] - 0.31).abs() < 1e-12);
}

/// Every multiple of the box is looked at: none is better than the one found from the best place of
/// all, along edges that bend and along lines on which an aim is zero.
#[test]
fn no_multiple_is_better() {
    let range = [[1.0, 1.8], [1.0, 1.8]];
    let step = 0.01;
    for bend in [0.7, 1.3, 2.9] {
        let look = |x: &[f64], goal: Goal| match goal {
            Goal::Least => kept(x[0] + bend * x[1], &[2.6 - x[0] * x[1].powf(bend) * 1.1]),
            Goal::Zero => free(x[0].powf(bend) * x[1] - 1.9),
        };
        for goal in [Goal::Least, Goal::Zero] {
            let look = |x: &[f64], _: Depth| look(x, goal);
            let look: &Look<'_> = &look;
            let range = &range;
            let task = Task { range, goal, look };
            let start = task.search(&[1.4, 1.4], 1e-4).unwrap();
            let found = task.round(&start.at, step).unwrap();
            for k in 0..81 * 81 {
                let at = [k % 81, k / 81].map(|k| f64::from(100 + k) * step);
                let there = task.judged(&at, Depth::All).unwrap();
                assert!(!there.beats(found.judged), "{found:?} {at:?} {there:?}");
            }
        }
    }
}
