//! Numbers as text: rounded, without needless digits, and never a minus before a zero.

/// The number with fixed decimals, without the minus of a value that rounds to zero.
#[must_use]
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        _ => text,
    }
}

/// The number with at most so many decimals, trailing zeros left off.
#[must_use]
pub fn trimmed(value: f64, decimals: usize) -> String {
    let text = fixed(value, decimals);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// Decimals that give a value of this size three significant figures or more, at most `most`.
#[must_use]
pub fn decimals_for(size: f64, most: usize) -> usize {
    let mut decimals = 0;
    let mut enough = 100.0; // three figures before the point
    while size.abs() < enough && decimals < most {
        enough /= 10.0;
        decimals += 1;
    }
    decimals
}

/// The number to three or four significant figures, for use in a sentence.
#[must_use]
pub fn figures(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    fixed(value, decimals_for(value, 3))
}

/// Numbers for one column or list, all with the decimals that the longest of them needs, six at most.
#[must_use]
pub fn alike(values: &[f64]) -> Vec<String> {
    let decimals = |value: &f64| {
        trimmed(*value, 6)
            .split_once('.')
            .map_or(0, |(_, after)| after.len())
    };
    let decimals = values.iter().map(decimals).max().unwrap_or(0);
    values.iter().map(|value| fixed(*value, decimals)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_rounded_without_a_negative_zero() {
        assert_eq!(fixed(-0.001, 2), "0.00");
        assert_eq!(fixed(-0.01, 2), "-0.01");
        assert_eq!(trimmed(-1e-12, 6), "0");
        assert_eq!(trimmed(-1e-12, 0), "0");
        assert_eq!(trimmed(12.5, 6), "12.5");
        assert_eq!(trimmed(1200.0, 6), "1200");
        assert_eq!(trimmed(1200.0, 0), "1200");
    }

    #[test]
    fn numbers_of_a_column_have_the_same_decimals() {
        assert_eq!(alike(&[24.0, 24.25, -9.5]), ["24.00", "24.25", "-9.50"]);
        assert_eq!(alike(&[24.0, 25.0]), ["24", "25"]);
        assert_eq!(alike(&[1.0 / 3.0, 0.0]), ["0.333333", "0.000000"]);
    }

    #[test]
    fn three_figures_whatever_the_size() {
        assert_eq!(figures(2011.4), "2011");
        assert_eq!(figures(201.14), "201");
        assert_eq!(figures(20.114), "20.1");
        assert_eq!(figures(2.0114), "2.01");
        assert_eq!(figures(0.020_114), "0.020");
        assert_eq!(figures(0.0), "0");
    }
}
