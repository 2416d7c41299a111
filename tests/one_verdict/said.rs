//! What the commands say of one tool, compared as it comes in.

use std::collections::BTreeMap;

/// What the commands say of one tool: numbers by name, each with who said it first.
#[derive(Default)]
pub struct Said {
    pub numbers: BTreeMap<String, (Option<f64>, String)>,
    pub met: BTreeMap<String, (bool, String)>,
    pub shared: usize,
}

impl Said {
    /// A number in full.
    pub fn number(&mut self, who: &str, what: &str, value: Option<f64>) {
        self.near(who, what, value, 0.0);
    }

    /// A number as it is printed: half a unit of its last digit is lost.
    pub fn printed(&mut self, who: &str, what: &str, text: &str) {
        let number = text.split_whitespace().next().unwrap_or("");
        if text == "no value" {
            return self.number(who, what, None);
        }
        let decimals = number.split_once('.').map_or(0, |(_, d)| d.len());
        let value: f64 = number
            .parse()
            .unwrap_or_else(|_| panic!("{who}: {what}: {text:?}"));
        // Whole numbers are printed to three figures at least.
        self.near(who, what, Some(value), 0.5 * 0.1_f64.powi(decimals as i32));
    }

    fn near(&mut self, who: &str, what: &str, value: Option<f64>, lost: f64) {
        let Some((known, by)) = self.numbers.get(what) else {
            self.numbers
                .insert(what.to_owned(), (value, who.to_owned()));
            return;
        };
        self.shared += 1;
        let same = match (known, value) {
            (Some(a), Some(b)) => (a - b).abs() <= 1.000_001 * lost + 1e-8 * a.abs() + 1e-9,
            (None, None) => true,
            _ => false,
        };
        assert!(same, "{what}: {known:?} by {by}, {value:?} by {who}");
    }

    pub fn verdict(&mut self, who: &str, what: &str, met: bool) {
        let (known, by) = self
            .met
            .entry(what.to_owned())
            .or_insert((met, who.to_owned()));
        self.shared += 1;
        assert_eq!(*known, met, "{what} met: {known} by {by}, {met} by {who}");
    }
}

/// A number as names have it.
pub fn short(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

pub fn name(measure: &str, at: Option<&str>, grip: Option<f64>) -> String {
    let at = at.map_or(String::new(), |at| format!(" at {at}"));
    let grip = grip.map_or(String::new(), |g| format!(", grip {}", short(g)));
    format!("{measure}{at}{grip}")
}
