//! Jaws by name, wherever a table may say which one is meant.

use super::around::{Around, Jaws};
use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Fields, Reader, Value};
use super::spelling;
use crate::model::{JawId, Measure, Suffix};

impl Reader<'_> {
    /// The jaw that `jaw` names, the first where it is left out; `None` where there is none of that name.
    pub(super) fn jaw_of(&mut self, fields: &Fields<'_>, jaws: Jaws<'_>) -> Option<JawId> {
        match fields.get("jaw") {
            Some(value) => self.named_jaw(value, jaws),
            None => Some(JawId::FIRST),
        }
    }

    pub(super) fn named_jaw(&mut self, value: &Value<'_>, jaws: Jaws<'_>) -> Option<JawId> {
        let name = self.text(value, "`jaw`")?;
        let known = jaws.list.iter().position(|jaw| jaw.name == name);
        if known.is_none() && jaws.complete {
            let names: Vec<&str> = jaws.list.iter().map(|jaw| jaw.name.as_str()).collect();
            let problem = Diagnostic::error(
                code::UNKNOWN_JAW,
                value.span(),
                format!("no jaw is called `{name}`"),
            );
            self.report(problem.help(spelling::hint(name, "jaws", &names)));
        }
        known.map(JawId::new)
    }

    /// The jaw that a measure is of: named behind it, or by the key `jaw` of its table, else the first.
    pub(super) fn measured_jaw(
        &mut self,
        fields: &Fields<'_>,
        measure: &Measure,
        suffix: Option<JawId>,
        around: Around<'_>,
    ) -> Option<JawId> {
        let Some(value) = fields.get("jaw") else {
            return Some(suffix.unwrap_or(JawId::FIRST));
        };
        let word = measure.kind().word;
        let wrong =
            |message: String| Diagnostic::error(code::TOGETHER, fields.span_of("jaw"), message);
        let named = self.named_jaw(value, around.jaws)?;
        if suffix.is_some_and(|suffix| suffix != named) {
            let message = "`measure` names one jaw and `jaw` another".to_owned();
            self.report(wrong(message).help("take one of them out"));
            return None;
        }
        let by_gap = fields.get("at").is_some_and(|at| {
            let table = at.get_ref().as_table();
            table.is_some_and(|table| table.get("gap").is_some())
        });
        if matches!(measure, Measure::Safety(_)) {
            let message = format!("`{word}` is the least over the work at every jaw");
            let help = "take `jaw` out: a tool must bear the work in every nest, and `jawforce loads` says in which \
                        one each factor is worst";
            self.report(wrong(message).help(help));
            return None;
        }
        if !measure.per_jaw() && !by_gap {
            let message = format!("`{word}` is the same whichever jaw is meant");
            self.report(
                wrong(message).help("take `jaw` out; it says whose gap `at = { gap = .. }` is"),
            );
            return None;
        }
        Some(named)
    }

    /// What may stand behind the full stop of a measure, and how it is said.
    pub(super) fn behind(
        &self,
        word: &str,
        suffix: Suffix,
        around: Around<'_>,
    ) -> (Vec<String>, String) {
        let joints = || around.draft.joint_labels();
        match suffix {
            Suffix::None => (Vec::new(), format!("write `{word}`: nothing follows it")),
            Suffix::Joint => (joints(), format!("name a pin: \"{word}.NAME\"")),
            Suffix::PartOrPin => {
                let parts = around.draft.parts.iter().map(|part| part.name.clone());
                let pins = around.draft.pin_names().into_iter().map(str::to_owned);
                (
                    parts.chain(pins).chain(joints()).collect(),
                    format!("write \"{word}\", or name a part or pin: \"{word}.NAME\""),
                )
            }
            Suffix::Part => {
                let parts = around.draft.parts.iter().map(|part| part.name.clone());
                (parts.collect(), format!("name a part: \"{word}.NAME\""))
            }
            Suffix::TwoParts => {
                let parts: Vec<&str> = (around.draft.parts.iter())
                    .map(|part| part.name.as_str())
                    .collect();
                let pair = |(k, first): (usize, &&str)| {
                    let others = parts.iter().enumerate().filter(move |(j, _)| *j != k);
                    let first = (*first).to_owned();
                    others
                        .map(move |(_, other)| format!("{first}.{other}"))
                        .collect::<Vec<_>>()
                };
                (
                    parts.iter().enumerate().flat_map(pair).collect(),
                    format!("write \"{word}\", or name two parts: \"{word}.PART.PART\""),
                )
            }
            Suffix::Contact | Suffix::Cam => (
                (around.contacts.list.iter())
                    .filter(|of| of.cam || suffix == Suffix::Contact)
                    .map(|of| of.name.clone())
                    .collect(),
                match suffix {
                    Suffix::Cam => format!("name a cam: \"{word}.NAME\""),
                    _ => format!(
                        "name a cam, slot or pair of gears: \"{word}.NAME\", \"{word}.slots.1\""
                    ),
                },
            ),
            Suffix::Stop => (
                around.stops.list.iter().map(|s| s.name.clone()).collect(),
                match around.stops.list {
                    [] => "add a stop: a table [[stops]]".to_owned(),
                    _ => format!("name a stop: \"{word}.NAME\""),
                },
            ),
            Suffix::Jaw => (
                around
                    .jaws
                    .list
                    .iter()
                    .map(|jaw| jaw.name.clone())
                    .collect(),
                format!("write \"{word}\", or name a jaw: \"{word}.NAME\""),
            ),
        }
    }
}
