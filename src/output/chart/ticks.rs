//! Where the marks of an axis stand: steps of 1, 2 or 5 times a power of ten.

/// The marks of an axis and the decimals their numbers need.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::output) struct Ticks {
    /// Values, rising.
    pub(in crate::output) at: Vec<f64>,
    /// Distance of two marks.
    pub(in crate::output) step: f64,
    /// Decimals that show every value exactly.
    pub(in crate::output) decimals: usize,
}

/// No more marks than this, whatever is asked for.
const MOST: usize = 40;

impl Ticks {
    /// About `wanted` marks from `low` to `high`, both ends included where they fall on a step.
    /// A range without width gets one mark.
    pub(in crate::output) fn over(low: f64, high: f64, wanted: usize) -> Self {
        let (step, decimals) = nice_step((high - low) / wanted.max(1) as f64);
        let mut at = Vec::new();
        let first = (low / step - 1e-9).ceil();
        for index in 0..MOST {
            let value = (first + index as f64) * step;
            if value > high + 1e-9 * step {
                break;
            }
            at.push(value + 0.0); // turns -0 into 0
        }
        Self { at, step, decimals }
    }

    /// The number of a mark, thousands set apart by a no-break space; very large and very small
    /// ones with a power of ten.
    pub(in crate::output) fn text(&self, value: f64) -> String {
        if self.step >= 1e7 || self.decimals > 5 {
            return format!("{value:.1e}").replace('-', "\u{2212}");
        }
        with_thousands(&crate::output::text::fixed(value, self.decimals))
    }
}

/// The step of 1, 2 or 5 times a power of ten that is not smaller than `rough`, with its decimals.
fn nice_step(rough: f64) -> (f64, usize) {
    if !rough.is_finite() || rough < 1e-12 {
        return (1.0, 0);
    }
    let power = rough.log10().floor();
    let unit = 10f64.powf(power);
    let factor = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .find(|f| f * unit >= rough * (1.0 - 1e-9))
        .unwrap_or(10.0);
    let power = if factor == 10.0 { power + 1.0 } else { power };
    (factor * unit, (-power).clamp(0.0, 12.0) as usize)
}

/// Groups the digits before the point by three; numbers below 10 000 stay whole.
pub(in crate::output) fn with_thousands(number: &str) -> String {
    let (sign, rest) = match number.strip_prefix('-') {
        Some(rest) => ("\u{2212}", rest),
        None => ("", number),
    };
    let whole = rest.split('.').next().unwrap_or_default().len();
    if whole < 5 || rest.contains('e') {
        return format!("{sign}{rest}");
    }
    let mut out = sign.to_owned();
    for (index, c) in rest.chars().enumerate() {
        if index > 0 && index < whole && (whole - index) % 3 == 0 {
            out.push('\u{a0}');
        }
        out.push(c);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_one_two_five() {
        assert_eq!(
            Ticks::over(0.0, 29.0, 6).at,
            [0.0, 5.0, 10.0, 15.0, 20.0, 25.0]
        );
        assert_eq!(Ticks::over(0.0, 4000.0, 5).step, 1000.0);
        let small = Ticks::over(-0.05, 0.11, 6);
        assert_eq!(small.decimals, 2);
        assert_eq!(small.text(small.at[0]), "\u{2212}0.05");
    }

    #[test]
    fn odd_ranges_end() {
        for (low, high) in [
            (0.0, 0.0),
            (5.0, 4.0),
            (0.0, 1e308),
            (-1e308, 1e308),
            (0.0, 1e-300),
        ] {
            let ticks = Ticks::over(low, high, 6);
            assert!(ticks.at.len() <= MOST, "{low} {high}");
            assert!(ticks.at.iter().all(|v| v.is_finite()), "{low} {high}");
        }
    }

    #[test]
    fn thousands_are_set_apart() {
        assert_eq!(with_thousands("1234567"), "1\u{a0}234\u{a0}567");
        assert_eq!(with_thousands("2600"), "2600");
        assert_eq!(with_thousands("-12345.5"), "\u{2212}12\u{a0}345.5");
    }
}
