//! Single values: quantities of a sensible size, pairs, words, names.

use std::ops::Range;

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Fields, Reader, Value};
use super::size::{Sign, size_problem};
use super::spelling;
use crate::model::dimension::DimensionSlot;
use crate::units::{self, ParseError, ParseErrorKind, Quantity};

impl Reader<'_> {
    /// A quantity: a bare number in the file's units, or a text with its own unit.
    pub(super) fn quantity(
        &mut self,
        value: &Value<'_>,
        want: Quantity,
        sign: Sign,
    ) -> Option<f64> {
        let number = match value.get_ref() {
            DeValue::String(text) => match units::parse(text, want, None) {
                Ok(number) => number,
                Err(error) => {
                    self.bad_quantity(value, text, &error);
                    return None;
                }
            },
            DeValue::Integer(_) | DeValue::Float(_) => {
                self.number(value)? * self.units.factor(want)
            }
            _ => {
                let wanted = format!(
                    "{} is a number, or a text with a unit",
                    units::article(want)
                );
                let help = format!("write {}", units::examples(want));
                self.wrong_type(value, &wanted, &help);
                return None;
            }
        };
        match size_problem(number, want, sign, self.units) {
            None => Some(number),
            Some((message, help)) => {
                let problem = Diagnostic::error(code::SIZE, value.span(), message).help(help);
                self.report(problem);
                None
            }
        }
    }

    /// A value of a number of the tool, in the file's units where it is bare.
    pub(super) fn value_of(
        &mut self,
        value: &Value<'_>,
        slot: DimensionSlot,
        sign: Sign,
    ) -> Option<f64> {
        match slot.quantity() {
            Some(quantity) => self.quantity(value, quantity, sign),
            None => self.plain(value, "this", "0.12"),
        }
    }

    /// A number without a unit; `example` is one that would be right.
    pub(super) fn plain(&mut self, value: &Value<'_>, what: &str, example: &str) -> Option<f64> {
        match value.get_ref() {
            DeValue::Integer(_) | DeValue::Float(_) => self.number(value),
            _ => {
                self.wrong_type(
                    value,
                    &format!("{what} is a number without a unit"),
                    &format!("write digits without quotes: {example}"),
                );
                None
            }
        }
    }

    fn number(&mut self, value: &Value<'_>) -> Option<f64> {
        let (text, number) = match value.get_ref() {
            DeValue::Integer(whole) if whole.radix() != 10 => {
                // Hexadecimal and the like: exact up to 128 bits, which is far beyond any size.
                let exact = i128::from_str_radix(whole.as_str(), whole.radix()).ok();
                (whole.as_str(), exact.map(|n| n as f64))
            }
            DeValue::Integer(whole) => (whole.as_str(), whole.as_str().parse::<f64>().ok()),
            DeValue::Float(float) => (float.as_str(), units::parse_plain(float.as_str()).ok()),
            _ => ("", None),
        };
        match number.filter(|n| n.is_finite()) {
            Some(number) => Some(number),
            None => {
                self.report(
                    Diagnostic::error(
                        code::NOT_FINITE,
                        value.span(),
                        format!("`{text}` is not a finite number that can be held"),
                    )
                    .help("write a finite number"),
                );
                None
            }
        }
    }

    fn bad_quantity(&mut self, value: &Value<'_>, text: &str, error: &ParseError) {
        let code = match error.kind {
            ParseErrorKind::Number { .. } => code::NUMBER,
            ParseErrorKind::NotFinite => code::NOT_FINITE,
            ParseErrorKind::NoUnit { .. } | ParseErrorKind::UnknownUnit { .. } => code::UNIT,
            ParseErrorKind::WrongKind { .. } => code::UNIT_KIND,
        };
        let span = self.inside(value.span(), text, error.at.clone());
        let mut problem = Diagnostic::error(code, span, error.to_string()).help(error.help());
        if matches!(error.kind, ParseErrorKind::NoUnit { .. }) {
            problem = problem.help("or write a bare number, without quotes, in the file's units");
        }
        self.report(problem);
    }

    /// Bytes of the file that are given bytes of a text's content; all of the text where escapes
    /// stand in the way, or where the bytes are none.
    pub(super) fn inside(&self, whole: Range<usize>, text: &str, at: Range<usize>) -> Range<usize> {
        let content = whole.start + 1;
        let same = self
            .text
            .get(content..)
            .is_some_and(|rest| rest.starts_with(text));
        if same && !at.is_empty() {
            content + at.start..content + at.end
        } else {
            whole
        }
    }

    /// A pair of quantities.
    pub(super) fn pair(
        &mut self,
        value: &Value<'_>,
        want: [(Quantity, Sign); 2],
        what: &str,
    ) -> Option<[f64; 2]> {
        // What must not be negative has no negative example.
        let help = match want[1].1 {
            Sign::Any => "write two numbers: [12, -50]",
            Sign::Positive | Sign::NotNegative => "write two numbers: [12, 50]",
        };
        let DeValue::Array(items) = value.get_ref() else {
            self.wrong_type(value, what, help);
            return None;
        };
        match items.as_ref() {
            [a, b] => {
                let first = self.quantity(a, want[0].0, want[0].1);
                let second = self.quantity(b, want[1].0, want[1].1);
                Some([first?, second?])
            }
            _ => {
                self.report(
                    Diagnostic::error(
                        code::TYPE,
                        value.span(),
                        format!("{what}, and the number of values here is {}", items.len()),
                    )
                    .help(help),
                );
                None
            }
        }
    }

    /// Coordinates in a part's axes.
    pub(super) fn coordinates(&mut self, value: &Value<'_>) -> Option<[f64; 2]> {
        let one = (Quantity::Length, Sign::Any);
        self.pair(value, [one, one], "a place is a pair [x, y]")
    }

    /// A list of values.
    pub(super) fn list<'d>(&mut self, value: &'d Value<'d>, what: &str) -> Option<&'d [Value<'d>]> {
        match value.get_ref() {
            DeValue::Array(items) => Some(items.as_ref()),
            _ => {
                self.wrong_type(value, what, "write it in brackets: [first, second]");
                None
            }
        }
    }

    /// A list of rows, pairs or places; reports one that holds bare numbers, most likely one row
    /// without the brackets around it.
    pub(super) fn rows_of<'d>(
        &mut self,
        value: &'d Value<'d>,
        what: &str,
    ) -> Option<&'d [Value<'d>]> {
        let items = self.list(value, what)?;
        let bare = |item: &Value<'_>| {
            let item = item.get_ref();
            item.is_integer() || item.is_float()
        };
        if items.is_empty() || !items.iter().all(bare) {
            return Some(items);
        }
        let message = format!("{what}, and these are bare numbers");
        self.report(
            Diagnostic::error(code::TYPE, value.span(), message)
                .help("put each pair in brackets of its own: [[0, 10], [5, 20]]"),
        );
        None
    }

    /// A text.
    pub(super) fn text<'d>(&mut self, value: &'d Value<'d>, what: &str) -> Option<&'d str> {
        match value.get_ref() {
            DeValue::String(text) => Some(text.as_ref()),
            _ => {
                self.wrong_type(
                    value,
                    &format!("{what} is a text"),
                    "write it in quotes: \"lever\"",
                );
                None
            }
        }
    }

    /// True or false.
    pub(super) fn flag(&mut self, value: &Value<'_>, key: &str) -> Option<bool> {
        match value.get_ref() {
            DeValue::Boolean(flag) => Some(*flag),
            _ => {
                let help = format!("write {key} = true or {key} = false");
                self.wrong_type(value, &format!("`{key}` is true or false"), &help);
                None
            }
        }
    }

    /// A whole number.
    pub(super) fn whole(&mut self, value: &Value<'_>, key: &str) -> Option<i64> {
        if let DeValue::Integer(whole) = value.get_ref()
            && let Ok(number) = i64::from_str_radix(whole.as_str(), whole.radix())
        {
            return Some(number);
        }
        self.wrong_type(
            value,
            &format!("`{key}` is a whole number"),
            "write digits only: 60",
        );
        None
    }

    /// One of several words.
    pub(super) fn word<'d>(
        &mut self,
        value: &'d Value<'d>,
        key: &str,
        words: &[&str],
    ) -> Option<&'d str> {
        let DeValue::String(text) = value.get_ref() else {
            let help = format!("write it in quotes: {}", spelling::quoted(words));
            self.wrong_type(
                value,
                &format!("`{key}` is one of the words {}", spelling::quoted(words)),
                &help,
            );
            return None;
        };
        let text: &str = text.as_ref();
        if words.contains(&text) {
            return Some(text);
        }
        self.unknown_word(value.span(), key, text, words);
        None
    }

    pub(super) fn unknown_word(
        &mut self,
        span: Range<usize>,
        key: &str,
        text: &str,
        words: &[&str],
    ) {
        self.report(
            Diagnostic::error(code::WORD, span, format!("`{key}` cannot be `{text}`"))
                .help(spelling::hint(text, "it may be", words)),
        );
    }

    /// The name of a slot, a cam or a pair of gears, where it has one; no two of them all share one.
    pub(super) fn contact_name(&mut self, fields: &Fields<'_>) -> Option<String> {
        let value = fields.get("name")?;
        let name = self.text(value, "`name`")?.to_owned();
        if !self.good_name(&name, value.span()) {
            return None;
        }
        if self.contact_names.contains(&name) {
            let message = format!("a slot, a cam or a pair of gears is called `{name}` already");
            let problem = Diagnostic::error(code::NAME_TWICE, value.span(), message);
            self.report(
                problem.help("give each a name of its own: measures name their forces by it"),
            );
        }
        self.contact_names.push(name.clone());
        Some(name)
    }

    /// Whether a name has only the characters that names may have; reports it if not.
    pub(super) fn good_name(&mut self, name: &str, span: Range<usize>) -> bool {
        let good = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_');
        let ok = !name.is_empty() && name.chars().all(good) && name.chars().count() <= 64;
        if !ok {
            self.report(
                Diagnostic::error(code::NAME, span, format!("`{name}` cannot be a name"))
                    .help("names are letters, digits, `-` and `_`, at most 64 of them"),
            );
        }
        ok
    }
}
