//! Roots of one function in a bracket: Brent's method.
//!
//! Source: R. P. Brent, *Algorithms for Minimization without Derivatives* (1973), ch. 4.

/// A root of `f` between `a` and `b`, where `f` has opposite signs. Stops when the bracket is
/// narrower than `tolerance` (plus rounding) or `f` is exactly zero.
///
/// `None` without a sign change, or when `f` gives something that is not a number (or `None`) in
/// the bracket.
pub fn root<F>(mut f: F, a: f64, b: f64, tolerance: f64) -> Option<f64>
where
    F: FnMut(f64) -> Option<f64>,
{
    let (mut a, mut b) = (a, b);
    let (mut fa, mut fb) = (f(a)?, f(b)?);
    if fa.is_nan() || fb.is_nan() {
        return None;
    }
    if fa == 0.0 {
        return Some(a);
    }
    if fb == 0.0 {
        return Some(b);
    }
    if (fa > 0.0) == (fb > 0.0) {
        return None;
    }
    let (mut c, mut fc) = (a, fa);
    let mut step = b - a;
    let mut last = step;
    for _ in 0..200 {
        if fc.abs() < fb.abs() {
            (a, b, c) = (b, c, b);
            (fa, fb, fc) = (fb, fc, fb);
        }
        let near = 2.0 * f64::EPSILON * b.abs() + 0.5 * tolerance;
        let half = 0.5 * (c - b);
        if half.abs() <= near || fb == 0.0 {
            return Some(b);
        }
        if last.abs() < near || fa.abs() <= fb.abs() {
            step = half;
            last = half;
        } else {
            let s = fb / fa;
            let (mut p, mut q) = if a == c {
                (2.0 * half * s, 1.0 - s)
            } else {
                let (q, r) = (fa / fc, fb / fc);
                (
                    s * (2.0 * half * q * (q - r) - (b - a) * (r - 1.0)),
                    (q - 1.0) * (r - 1.0) * (s - 1.0),
                )
            };
            if p > 0.0 {
                q = -q;
            } else {
                p = -p;
            }
            if 2.0 * p < (3.0 * half * q - (near * q).abs()).min((last * q).abs()) {
                last = step;
                step = p / q;
            } else {
                step = half;
                last = half;
            }
        }
        a = b;
        fa = fb;
        b += if step.abs() > near {
            step
        } else {
            near.copysign(half)
        };
        fb = f(b)?;
        if fb.is_nan() {
            return None;
        }
        if (fb > 0.0) == (fc > 0.0) {
            c = a;
            fc = fa;
            step = b - a;
            last = step;
        }
    }
    Some(b)
}

#[cfg(test)]
mod tests {
    use super::root;

    #[test]
    fn known_roots_are_found() {
        let x = root(|x| Some(x.cos() - x.powi(3)), 0.0, 10.0, 1e-14).unwrap();
        approx::assert_relative_eq!(x.cos(), x.powi(3), max_relative = 1e-13);
        let scaled = root(|x| Some(1e-9 * (x - 0.3)), 0.0, 1.0, 1e-14).unwrap();
        approx::assert_relative_eq!(scaled, 0.3, max_relative = 1e-13);
    }

    #[test]
    fn the_work_is_bounded() {
        let mut calls = 0;
        let x = root(
            |x| {
                calls += 1;
                Some(x.powi(9))
            },
            -1.0,
            1.5,
            1e-12,
        )
        .unwrap();
        assert!(x.abs() < 1e-2 && calls < 200, "{calls} calls");
    }

    #[test]
    fn no_sign_change_and_nan_give_none() {
        assert!(root(|x| Some(x * x + 1.0), -1.0, 1.0, 1e-12).is_none());
        assert!(root(|_| Some(f64::NAN), -1.0, 1.0, 1e-12).is_none());
        assert!(
            root(
                |x| if x > 0.0 { None } else { Some(-1.0) },
                -1.0,
                1.0,
                1e-12
            )
            .is_none()
        );
    }
}
