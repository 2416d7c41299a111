//! The least value of one function in an interval: Brent's method.
//!
//! Source: R. P. Brent, *Algorithms for Minimization without Derivatives* (1973), ch. 5.

/// Share of the longer side that a golden-section step takes.
const GOLDEN: f64 = 0.381_966_011_250_105_1;
/// Where parabolas lead nowhere (a kink), golden-section steps end within this many.
const MOST_STEPS: usize = 100;

/// Where `f` is least between `a` and `b`, within `tolerance`, and its value there; a local least
/// value if there are several. The ends themselves are not tried. What is no number counts as
/// great.
///
/// # Errors
/// The first error of `f`.
pub fn least<F, E>(mut f: F, a: f64, b: f64, tolerance: f64) -> Result<(f64, f64), E>
where
    F: FnMut(f64) -> Result<f64, E>,
{
    let mut f = |x: f64| f(x).map(|y| if y.is_nan() { f64::INFINITY } else { y });
    let (mut a, mut b) = (a.min(b), a.max(b));
    // The best point, the second best, and the one that was second best before.
    let mut x = a + GOLDEN * (b - a);
    let (mut w, mut v) = (x, x);
    let mut fx = f(x)?;
    let (mut fw, mut fv) = (fx, fx);
    let (mut step, mut last) = (0.0_f64, 0.0_f64);
    for _ in 0..MOST_STEPS {
        let middle = 0.5 * (a + b);
        let near = f64::EPSILON * x.abs() + 0.5 * tolerance;
        if (x - middle).abs() <= 2.0 * near - 0.5 * (b - a) {
            break;
        }
        // A parabola through the three points, if they say anything.
        let (mut p, mut q) = (0.0, 0.0);
        if last.abs() > near && fv.is_finite() {
            let r = (x - w) * (fx - fv);
            q = (x - v) * (fx - fw);
            p = (x - v) * q - (x - w) * r;
            q = 2.0 * (q - r);
            if q > 0.0 {
                p = -p;
            }
            q = q.abs();
        }
        let before = last;
        last = step;
        if p.abs() < (0.5 * q * before).abs() && p > q * (a - x) && p < q * (b - x) {
            step = p / q;
            let to = x + step;
            if to - a < 2.0 * near || b - to < 2.0 * near {
                step = near.copysign(middle - x);
            }
        } else {
            last = if x < middle { b - x } else { a - x };
            step = GOLDEN * last;
        }
        let u = x + if step.abs() >= near {
            step
        } else {
            near.copysign(step)
        };
        let fu = f(u)?;
        if fu <= fx {
            if u < x {
                b = x
            } else {
                a = x
            }
            (v, fv) = (w, fw);
            (w, fw) = (x, fx);
            (x, fx) = (u, fu);
        } else {
            if u < x {
                a = u
            } else {
                b = u
            }
            if fu <= fw || w == x {
                (v, fv) = (w, fw);
                (w, fw) = (u, fu);
            } else if fu <= fv || v == x || v == w {
                (v, fv) = (u, fu);
            }
        }
    }
    Ok((x, fx))
}

#[cfg(test)]
mod tests {
    use super::least;
    use std::convert::Infallible;

    fn of(f: impl Fn(f64) -> f64, a: f64, b: f64) -> (f64, f64, usize) {
        let mut calls = 0;
        let found = least(
            |x| {
                calls += 1;
                Ok::<_, Infallible>(f(x))
            },
            a,
            b,
            1e-9,
        );
        let Ok((x, y)) = found;
        (x, y, calls)
    }

    #[test]
    fn smooth_kinked_and_one_sided_functions() {
        // x - ln x is least, 1, at 1.
        let (x, y, calls) = of(|x| x - x.ln(), 0.2, 3.0);
        assert!((x - 1.0).abs() < 1e-7 && (y - 1.0).abs() < 1e-14, "{x} {y}");
        assert!(calls < 20, "{calls}");
        let (x, _, calls) = of(|x| (x - 0.3).abs() * (1.0 + x), 0.0, 1.0);
        assert!((x - 0.3).abs() < 1e-8 && calls < 60, "{x} {calls}");
        let (x, _, _) = of(|x| -x, 0.0, 2.0);
        assert!(x > 2.0 - 1e-8 && x < 2.0);
    }

    #[test]
    fn what_is_no_number_is_avoided_and_errors_come_out() {
        let (x, _, _) = of(
            |x| if x > 0.6 { f64::NAN } else { (x - 0.5).powi(2) },
            0.0,
            1.0,
        );
        assert!((x - 0.5).abs() < 1e-7, "{x}");
        assert_eq!(least(|_| Err::<f64, _>("no"), 0.0, 1.0, 1e-9), Err("no"));
    }
}
