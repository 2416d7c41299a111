//! `[tolerances]` and `[[tune]]`: both speak of dimension addresses.

use std::ops::Range;

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::Sign;
use super::spelling;
use crate::model::dimension::DimensionSlot;
use crate::model::{ToleranceClass, ToleranceRule, Tolerances, Tune};
use crate::units::Quantity;

/// A dimension of the file by its address.
pub(super) type Known = (String, DimensionSlot);

impl Reader<'_> {
    pub(super) fn tolerances(&mut self, entry: &Entry<'_>, known: &[Known]) -> Tolerances {
        let mut tolerances = Tolerances::default();
        let Some(fields) = self.table(entry, "[tolerances]") else {
            return tolerances;
        };
        for entry in &fields.entries {
            match (entry.key, entry.value.get_ref()) {
                ("class", _) => tolerances.class = self.class(entry.value),
                // `strut.length = 0.05` without quotes is a table in TOML; it means the same.
                (_, DeValue::Table(_)) => self.nested(entry, entry.key, known, &mut tolerances),
                _ => self.rule(entry, entry.key.to_owned(), known, &mut tolerances),
            }
        }
        tolerances
    }

    fn nested(&mut self, entry: &Entry<'_>, path: &str, known: &[Known], to: &mut Tolerances) {
        let DeValue::Table(table) = entry.value.get_ref() else {
            return;
        };
        for inner in Fields::of(table, path, entry.value.span()).entries {
            let address = format!("{path}.{}", inner.key);
            // An address has three names at most; deeper is unknown, and is reported as that.
            if inner.value.get_ref().is_table() && address.split('.').count() < 3 {
                self.nested(&inner, &address, known, to);
            } else {
                self.rule(&inner, address, known, to);
            }
        }
    }

    fn rule(&mut self, entry: &Entry<'_>, address: String, known: &[Known], to: &mut Tolerances) {
        let Some(slot) = self.dimension(&address, entry.key_span.clone(), known, true) else {
            return;
        };
        let value = self.quantity(entry.value, slot.quantity(), Sign::NotNegative);
        if let Some(value) = value {
            to.rules.push(ToleranceRule {
                dimension: address,
                value,
            });
        }
    }

    fn class(&mut self, value: &Value<'_>) -> Option<ToleranceClass> {
        match value.get_ref() {
            DeValue::String(text) if text.starts_with(char::is_alphabetic) => {
                let words = &["ISO 2768-f", "ISO 2768-m", "ISO 2768-c", "ISO 2768-v"];
                match self.word(value, "class", words)?.chars().last() {
                    Some('f') => Some(ToleranceClass::Fine),
                    Some('m') => Some(ToleranceClass::Medium),
                    Some('c') => Some(ToleranceClass::Coarse),
                    _ => Some(ToleranceClass::VeryCoarse),
                }
            }
            _ => {
                let plain = self.quantity(value, Quantity::Length, Sign::NotNegative);
                plain.map(ToleranceClass::Plain)
            }
        }
    }

    pub(super) fn tunes(&mut self, entry: &Entry<'_>, known: &[Known]) -> Vec<Tune> {
        let tables = self.tables(entry, "[[tune]]", &keys::TUNE);
        let mut tunes: Vec<Tune> = Vec::new();
        for fields in &tables {
            if let Some(tune) = self.tune(fields, known) {
                if tunes.iter().any(|known| known.dimension == tune.dimension) {
                    self.report(
                        Diagnostic::error(
                            code::NAME_TWICE,
                            fields.span_of("dimension"),
                            format!("`{}` is tuned already", tune.dimension),
                        )
                        .help("give one range for each dimension"),
                    );
                }
                self.spans
                    .insert(format!("tune.{}", tune.dimension), fields.span.clone());
                tunes.push(tune);
            }
        }
        tunes
    }

    fn tune(&mut self, fields: &Fields<'_>, known: &[Known]) -> Option<Tune> {
        let name = self.need(fields, "dimension");
        let name = name.and_then(|v| Some((self.text(v, "`dimension`")?, v.span())));
        let found = name.and_then(|(text, span)| {
            let slot = self.dimension(text, span, known, false)?;
            Some((text, slot))
        });
        // The range of a dimension that is not known is read as that of a coordinate.
        let (quantity, sign) = found.map_or((Quantity::Length, Sign::Any), |(_, slot)| {
            (slot.quantity(), Sign::of(slot))
        });
        let from = self.need(fields, "from");
        let from = from.and_then(|v| self.quantity(v, quantity, sign));
        let to = self.need(fields, "to");
        let to = to.and_then(|v| self.quantity(v, quantity, sign));
        if let (Some(from), Some(to)) = (from, to)
            && from >= to
        {
            self.report(
                Diagnostic::error(
                    code::RANGE,
                    fields.span_of("to"),
                    "`to` is not greater than `from`",
                )
                .help("give the range from its least to its greatest value"),
            );
        }
        Some(Tune {
            dimension: found?.0.to_owned(),
            from: from?,
            to: to?,
        })
    }

    /// The dimension of that address; reports it if there is none. `class` is a further key where
    /// tolerances are given.
    fn dimension(
        &mut self,
        address: &str,
        span: Range<usize>,
        known: &[Known],
        class: bool,
    ) -> Option<DimensionSlot> {
        let found = known.iter().find(|(known, _)| known == address);
        if found.is_none() {
            let problem = unknown_dimension(address, span);
            let problem = self.hinted(problem, || known_dimensions(address, known));
            self.report(if class && !address.contains('.') {
                problem.help(
                    "`class` is for every length that is not named: class = \"ISO 2768-m\", or one \
                     figure for all, such as class = \"0.1 mm\"",
                )
            } else {
                problem
            });
        }
        found.map(|(_, slot)| *slot)
    }
}

pub(super) fn unknown_dimension(address: &str, span: Range<usize>) -> Diagnostic {
    let message = format!("no dimension is called `{address}`");
    Diagnostic::error(code::UNKNOWN_DIMENSION, span, message)
}

/// Says which addresses there are: those of the same part, or those that look alike.
pub(super) fn known_dimensions(address: &str, known: &[Known]) -> String {
    let part = address.split('.').next().unwrap_or("");
    let all: Vec<&str> = known.iter().map(|(address, _)| address.as_str()).collect();
    let of_part: Vec<&str> = (all.iter().copied())
        .filter(|known| known.split('.').next() == Some(part))
        .collect();
    let (what, list) = match of_part.is_empty() {
        true => ("dimensions".to_owned(), &all),
        false => (format!("dimensions of `{part}`"), &of_part),
    };
    match spelling::nearest(address, all.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? {what}: {}", spelling::list(list)),
        None => format!("{what}: {}", spelling::list(list)),
    }
}
