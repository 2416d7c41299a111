//! `[tolerances]` and `[[tune]]`: both speak of dimension addresses.

use std::ops::Range;

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::setting::setting_problem;
use super::size::{Sign, value_problem};
use super::spelling;
use crate::model::dimension::{DimensionSlot, all_addresses, find};
use crate::model::{
    Adjuster, JawId, Stated, Tie, ToleranceClass, ToleranceRule, Tolerances, Tool, Tune, WorkNumber,
};
use crate::units::Quantity;

/// A number of the file by its address.
pub(super) type Known = (String, DimensionSlot);

/// First words of addresses that are no parts.
const TABLES: &[&str] = &[
    "joints",
    "slots",
    "cams",
    "springs",
    "hand",
    "jaw",
    "stroke",
    "sections",
    "materials",
    "work",
    "outlines",
    "stops",
    "adjusters",
];

/// The numbers of a file by their addresses.
pub(super) struct Addresses {
    pub(super) known: Vec<Known>,
    /// Those that follow others, once they are read.
    pub(super) ties: Vec<Tie>,
    /// Whether they are all; else what other tables state is not known, as those cannot be read.
    pub(super) all: bool,
}

impl Addresses {
    fn find(&self, address: &str) -> Option<DimensionSlot> {
        let mut known = self.known.iter();
        known
            .find(|(known, _)| known == address)
            .map(|(_, slot)| *slot)
    }

    /// Whether nothing can be said of an address, since its table cannot be read.
    fn unread(&self, address: &str) -> bool {
        !self.all && TABLES.contains(&address.split('.').next().unwrap_or(""))
    }
}

/// Most names of an address: `outlines.frame.path.7.smooth.2.x`.
pub(super) const MOST_NAMES: usize = 7;

impl Reader<'_> {
    pub(super) fn tolerances(&mut self, entry: &Entry<'_>, known: &Addresses) -> Tolerances {
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

    fn nested(&mut self, entry: &Entry<'_>, path: &str, known: &Addresses, to: &mut Tolerances) {
        let DeValue::Table(table) = entry.value.get_ref() else {
            return;
        };
        for inner in Fields::of(table, path, entry.value.span()).entries {
            let address = format!("{path}.{}", inner.key);
            // An address has five names at most; deeper is unknown, and is reported as that.
            if inner.value.get_ref().is_table() && address.split('.').count() < MOST_NAMES {
                self.nested(&inner, &address, known, to);
            } else {
                self.rule(&inner, address, known, to);
            }
        }
    }

    fn rule(&mut self, entry: &Entry<'_>, address: String, known: &Addresses, to: &mut Tolerances) {
        let Some(slot) = self.dimension(&address, entry.key_span.clone(), known, true) else {
            return;
        };
        if let DimensionSlot::Stated(number) = slot
            && !number.is_made()
        {
            let why = match number {
                Stated::Grip(_) => {
                    "a grip says where the hand holds every made tool, not how it is made"
                }
                Stated::Material(..) => {
                    "what a plate weighs and costs does not enter what samples are read for"
                }
                Stated::Ratchet(_) => "made tools are taken to have their teeth and pawl as drawn",
                Stated::StopRate(_) => "what a stop gives does not enter what samples are read for",
                Stated::Setting { .. } => "it is set on the finished tool, not made",
                Stated::Room(_) => "it is asked of the tool as drawn",
                Stated::Hand(_) => "the limit of the hand belongs to no tool",
                Stated::Work(..) => "the rigid workpiece does not enter what samples are read for",
                _ => {
                    "the ends of the stroke say where every made tool is taken to, not how it is made"
                }
            };
            let message = format!("`{address}` has no tolerance: {why}");
            let problem = Diagnostic::error(code::NO_TOLERANCE, entry.key_span.clone(), message);
            self.report(
                problem.help("take it out; `compare --vary` shows what another value does"),
            );
            return;
        }
        let value = self.value_of(entry.value, slot, Sign::NotNegative);
        if let Some(value) = value {
            self.spans
                .insert(format!("tolerances.{address}"), entry.key_span.clone());
            to.rules.push(ToleranceRule {
                dimension: address,
                value,
            });
        }
    }

    /// What estimated work curves may be off by, as tolerances, where the file states none.
    pub(super) fn spread_work(&mut self, tool: &mut Tool) {
        let mut found = Vec::new();
        for (jaw, of) in JawId::each(&tool.jaws) {
            let Some((work, estimate)) = of.work.as_ref().and_then(|w| Some((w, w.estimate?)))
            else {
                continue;
            };
            let slot = DimensionSlot::Stated(Stated::Work(jaw, WorkNumber::Scale));
            let stated = |rule: &ToleranceRule| find(tool, &rule.dimension) == Some(slot);
            let mut all = all_addresses(tool).into_iter();
            let address = all.find(|(_, of)| *of == slot).map(|(address, _)| address);
            let Some(address) = address.filter(|_| !tool.tolerances.rules.iter().any(stated))
            else {
                continue;
            };
            found.push(ToleranceRule {
                dimension: address,
                value: estimate.spread * work.scale,
            });
        }
        tool.tolerances.rules.extend(found);
    }

    /// Reports tolerances that reach values which cannot be, and numbers that are given two: a spring by its
    /// name and by its place.
    pub(super) fn tolerances_fit(&mut self, tool: &Tool) {
        let mut known: Vec<(DimensionSlot, Range<usize>)> = Vec::new();
        for rule in &tool.tolerances.rules {
            let address = &rule.dimension;
            let (Some(slot), Some(place)) = (
                find(tool, address),
                self.spans.get(&format!("tolerances.{address}")).cloned(),
            ) else {
                continue;
            };
            let least = slot.get(tool).map(|value| value - rule.value);
            if matches!(slot, DimensionSlot::Stated(_)) && least.is_some_and(|v| !slot.allows(v)) {
                let message =
                    format!("with this tolerance `{address}` may come to a value that cannot be");
                let problem = Diagnostic::error(code::NO_TOLERANCE, place.clone(), message);
                self.report(
                    problem.help(
                        "give a smaller one: its value less the tolerance must stay possible",
                    ),
                );
            }
            if let Some((_, first)) = known.iter().find(|(other, _)| *other == slot) {
                let message = format!("`{address}` has a tolerance already, by another address");
                let problem = Diagnostic::error(code::NAME_TWICE, place.clone(), message);
                self.report(
                    problem
                        .also(first.clone(), "here")
                        .help("take one of the two out"),
                );
            }
            known.push((slot, place));
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

    pub(super) fn tunes(
        &mut self,
        entry: &Entry<'_>,
        known: &Addresses,
        adjusters: &[Adjuster],
    ) -> Vec<Tune> {
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
                self.tuned_setting(&tune, fields, known, adjusters);
                self.spans
                    .insert(format!("tune.{}", tune.dimension), fields.span.clone());
                tunes.push(tune);
            }
        }
        tunes
    }

    /// Reports a range of an adjuster's setting that it cannot have.
    fn tuned_setting(
        &mut self,
        tune: &Tune,
        fields: &Fields<'_>,
        known: &Addresses,
        adjusters: &[Adjuster],
    ) {
        let Some(DimensionSlot::Stated(Stated::Setting { adjuster, .. })) =
            known.find(&tune.dimension)
        else {
            return;
        };
        let Some(adjuster) = adjusters.get(adjuster) else {
            return;
        };
        if adjuster.notches.is_some() {
            let message = format!("`{}` has notches, and is not tuned", tune.dimension);
            let problem = Diagnostic::error(code::ADJUSTER, fields.span_of("dimension"), message);
            self.report(problem.help("`setup` shows what each of its notches does"));
            return;
        }
        for (key, bound) in [("from", tune.from), ("to", tune.to)] {
            if let Some((what, help)) = setting_problem(adjuster, bound, self.units) {
                self.report(Diagnostic::error(code::RANGE, fields.span_of(key), what).help(help));
            }
        }
    }

    fn tune(&mut self, fields: &Fields<'_>, known: &Addresses) -> Option<Tune> {
        let name = self.need(fields, "dimension");
        let name = name.and_then(|v| Some((self.text(v, "`dimension`")?, v.span())));
        let found = name.and_then(|(text, span)| {
            let slot = self.dimension(text, span, known, false)?;
            Some((text, slot))
        });
        let from = self.need(fields, "from");
        let from = from.and_then(|v| self.bound_of(v, found.map(|(_, slot)| slot)));
        let to = self.need(fields, "to");
        let to = to.and_then(|v| self.bound_of(v, found.map(|(_, slot)| slot)));
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

    /// An end of a range, which the number may have as its value. Of one that is not known nothing can be
    /// said.
    fn bound_of(&mut self, value: &Value<'_>, slot: Option<DimensionSlot>) -> Option<f64> {
        let slot = slot?;
        let bound = self.value_of(value, slot, Sign::of(slot))?;
        let Some((what, help)) = value_problem(bound, slot, self.units) else {
            return Some(bound);
        };
        self.report(Diagnostic::error(code::SIZE, value.span(), what).help(help));
        None
    }

    /// The number of that address; reports it if there is none. `class` is a further key where
    /// tolerances are given.
    pub(super) fn dimension(
        &mut self,
        address: &str,
        span: Range<usize>,
        known: &Addresses,
        class: bool,
    ) -> Option<DimensionSlot> {
        let found = known.find(address);
        if found.is_none() && !known.unread(address) {
            let problem = unknown_dimension(address, span.clone());
            let problem = self.hinted(problem, || known_dimensions(address, &known.known));
            self.report(if class && !address.contains('.') {
                problem.help(
                    "`class` is for every length that is not named: class = \"ISO 2768-m\", or one \
                     figure for all, such as class = \"0.1 mm\"",
                )
            } else {
                problem
            });
        }
        let tied = found.and_then(|slot| known.ties.iter().find(|tie| tie.slot == slot));
        if let Some(tie) = tied {
            let (what, help) = follows(address, tie);
            self.report(Diagnostic::error(code::TIED, span, what).help(help));
            return None;
        }
        found
    }
}

/// Why a number that follows others has no values, ranges and tolerances of its own, and what to do.
pub(super) fn follows(address: &str, tie: &Tie) -> (String, String) {
    (
        format!("`{address}` follows `{}`, as [ties] says", tie.text),
        "change what it follows, or take its tie out".to_owned(),
    )
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
