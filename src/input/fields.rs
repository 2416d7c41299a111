//! Tables of the document: which keys they have, which they must have, which are unknown.

use std::collections::BTreeMap;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::code;
use super::diagnostic::Diagnostic;
use super::keys::{Key, Kind, Table};
use super::modelled::not_modelled;
use super::spelling;
use crate::geometry::Pixels;
use crate::units::UnitSystem;

/// Problems of one kind that get such a help.
const MOST_HINTED: usize = 100;

/// A value of the document with its place.
pub(super) type Value<'d> = Spanned<DeValue<'d>>;

/// What all readers of tables share.
pub(super) struct Reader<'a> {
    /// The whole file.
    pub(super) text: &'a str,
    /// What bare numbers mean.
    pub(super) units: UnitSystem,
    /// Problems found so far.
    pub(super) found: Vec<Diagnostic>,
    /// How many of each kind.
    counts: BTreeMap<&'static str, usize>,
    /// Names of slots, cams and gears so far, which measures of their forces share.
    pub(super) contact_names: Vec<String>,
    /// Places worth knowing later, by path (`parts.strut`, `stroke.shut`, `demand.0`).
    pub(super) spans: BTreeMap<String, Range<usize>>,
    /// Where the picture of the sketch lies.
    pub(super) pixels: Option<Pixels>,
}

/// One key of a table.
#[derive(Clone)]
pub(super) struct Entry<'d> {
    pub(super) key: &'d str,
    pub(super) key_span: Range<usize>,
    pub(super) value: &'d Value<'d>,
}

/// The keys of one table, in file order.
#[derive(Clone)]
pub(super) struct Fields<'d> {
    /// What the user calls it: `[hand]`.
    pub(super) title: String,
    /// Its header, for what is missing in it.
    pub(super) span: Range<usize>,
    pub(super) entries: Vec<Entry<'d>>,
    /// Keys that are unknown here, and reported.
    pub(super) unknown: Vec<&'d str>,
    /// The keys that it may have, where they are known.
    pub(super) known: &'static [Key],
}

impl<'a> Reader<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self {
            text,
            units: UnitSystem::MmN,
            found: Vec::new(),
            counts: BTreeMap::new(),
            contact_names: Vec::new(),
            spans: BTreeMap::new(),
            pixels: None,
        }
    }

    pub(super) fn report(&mut self, problem: Diagnostic) {
        *self.counts.entry(problem.code).or_default() += 1;
        self.found.push(problem);
    }

    /// The problem with a help that is looked for among all names, unless there are more of its kind than
    /// anyone is shown: twenty thousand unknown names are not each held against a thousand.
    pub(super) fn hinted(&self, problem: Diagnostic, help: impl FnOnce() -> String) -> Diagnostic {
        if self.few(problem.code) {
            problem.help(help())
        } else {
            problem
        }
    }

    /// Whether there are few problems of a kind as yet, so that the next may be shown with its help.
    pub(super) fn few(&self, code: &str) -> bool {
        self.counts
            .get(code)
            .is_none_or(|&count| count < MOST_HINTED)
    }

    /// The value as a table with any keys.
    pub(super) fn table<'d>(&mut self, entry: &Entry<'d>, title: &str) -> Option<Fields<'d>> {
        match entry.value.get_ref() {
            DeValue::Table(table) => {
                let span = self.header(entry.value.span(), &entry.key_span);
                Some(Fields::of(table, title, span))
            }
            _ => {
                let help = format!(
                    "write it as a table, such as {{ key = value }} or under its own header ({title})"
                );
                self.wrong_type(entry.value, &format!("{title} is a table"), &help);
                None
            }
        }
    }

    /// The value as a table of which all keys are known.
    pub(super) fn known_table<'d>(
        &mut self,
        entry: &Entry<'d>,
        title: &str,
        known: &'static Table,
    ) -> Option<Fields<'d>> {
        let mut fields = self.table(entry, title)?;
        self.refuse_unknown(&mut fields, known);
        Some(fields)
    }

    /// The value as an array of tables (`[[jaw]]`), each of which has known keys only.
    pub(super) fn tables<'d>(
        &mut self,
        entry: &Entry<'d>,
        title: &str,
        known: &'static Table,
    ) -> Vec<Fields<'d>> {
        let DeValue::Array(items) = entry.value.get_ref() else {
            self.report(
                Diagnostic::error(
                    code::TYPE,
                    entry.key_span.clone(),
                    format!("`{}` stands for a list of tables", entry.key),
                )
                .help(format!("write the header with double brackets: {title}")),
            );
            return Vec::new();
        };
        let mut all = Vec::new();
        for item in items.iter() {
            let one = Entry {
                key: entry.key,
                key_span: item.span(),
                value: item,
            };
            all.extend(self.known_table(&one, title, known));
        }
        all
    }

    /// Reports the keys that the table does not know, and notes them.
    pub(super) fn refuse_unknown(&mut self, fields: &mut Fields<'_>, known: &'static Table) {
        fields.known = known.keys;
        let keys = &known.names();
        let names = fields.entries.iter().map(|entry| entry.key);
        fields.unknown = names.filter(|name| !keys.contains(name)).collect();
        for entry in &fields.entries {
            if !keys.contains(&entry.key) {
                let what = format!("keys of {}", fields.title);
                if let Some(way) = not_modelled(entry.key) {
                    let message = format!("`{}` in {} is not modelled", entry.key, fields.title);
                    let span = entry.key_span.clone();
                    self.report(Diagnostic::error(code::NOT_MODELLED, span, message).help(way));
                    continue;
                }
                self.report(
                    Diagnostic::error(
                        code::UNKNOWN_KEY,
                        entry.key_span.clone(),
                        format!("unknown key `{}` in {}", entry.key, fields.title),
                    )
                    .help(spelling::hint(entry.key, &what, keys)),
                );
            }
        }
    }

    /// A key that must be there; what is said where it is not has the key's example.
    pub(super) fn need<'d>(&mut self, fields: &Fields<'d>, key: &str) -> Option<&'d Value<'d>> {
        let known = fields.known.iter().find(|known| known.name == key);
        let value = known.map_or(String::new(), |known| match known.kind {
            Kind::Words(_) => known.kind.in_words(),
            _ => known.example.to_owned(),
        });
        self.need_as(fields, key, &format!("{key} = {value}"))
    }

    /// A key that must be there; `example` is a line that would be right.
    pub(super) fn need_as<'d>(
        &mut self,
        fields: &Fields<'d>,
        key: &str,
        example: &str,
    ) -> Option<&'d Value<'d>> {
        let found = fields.get(key);
        if !fields.meant(key) {
            self.report(
                Diagnostic::error(
                    code::MISSING,
                    fields.span.clone(),
                    format!("{} lacks `{key}`", fields.title),
                )
                .help(format!("add it, such as: {example}")),
            );
        }
        found
    }

    pub(super) fn wrong_type(&mut self, value: &Value<'_>, wanted: &str, help: &str) {
        self.report(
            Diagnostic::error(
                code::TYPE,
                value.span(),
                format!("{wanted}, not {}", in_words(value.get_ref())),
            )
            .label(in_words(value.get_ref()))
            .help(help),
        );
    }

    /// Where to point for a whole table: at its header or braces, or at its key where the document
    /// gives the table no place of its own.
    fn header(&self, table: Range<usize>, key: &Range<usize>) -> Range<usize> {
        let opens = self
            .text
            .get(table.start..)
            .is_some_and(|t| t.starts_with(['[', '{']));
        if opens && !table.is_empty() {
            table
        } else {
            key.clone()
        }
    }
}

impl<'d> Fields<'d> {
    pub(super) fn of(table: &'d DeTable<'d>, title: &str, span: Range<usize>) -> Self {
        let mut entries: Vec<Entry<'d>> = table
            .iter()
            .map(|(key, value)| Entry {
                key: key.get_ref().as_ref(),
                key_span: key.span(),
                value,
            })
            .collect();
        entries.sort_by_key(|entry| entry.key_span.start);
        Self {
            title: title.to_owned(),
            span,
            entries,
            unknown: Vec::new(),
            known: &[],
        }
    }

    /// The keys among those given that are there.
    pub(super) fn among(&self, keys: &[&str]) -> Vec<&Entry<'d>> {
        self.entries
            .iter()
            .filter(|entry| keys.contains(&entry.key))
            .collect()
    }

    /// Whether a key is there, or one that looks like it: a mistyped key is one problem, not two.
    pub(super) fn meant(&self, key: &str) -> bool {
        let mut mistyped = self.unknown.iter();
        self.entry(key).is_some() || mistyped.any(|name| spelling::nearest(name, [key]).is_some())
    }

    /// Whether there are unknown keys, which are reported.
    pub(super) fn has_unknown(&self) -> bool {
        !self.unknown.is_empty()
    }

    pub(super) fn entry(&self, key: &str) -> Option<&Entry<'d>> {
        self.entries.iter().find(|entry| entry.key == key)
    }

    pub(super) fn get(&self, key: &str) -> Option<&'d Value<'d>> {
        self.entry(key).map(|entry| entry.value)
    }

    /// Place of a key, or of the table's header where the key is absent.
    pub(super) fn span_of(&self, key: &str) -> Range<usize> {
        self.entry(key)
            .map_or_else(|| self.span.clone(), |entry| entry.key_span.clone())
    }
}

/// The type of a value in words.
pub(super) fn in_words(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
