//! `[[springs]]`: what they act between, how stiff they are, where they are slack.

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::Sign;
use super::wound::{WITH_WIRE, spring_flaw};
use crate::coils::CoilEnds;
use crate::model::{Acts, Form, Made, Spring, SpringEnds, SpringSet, Wound};
use crate::units::Quantity;

impl Reader<'_> {
    pub(super) fn springs(&mut self, entry: &Entry<'_>, draft: &Draft) -> Vec<Spring> {
        let tables = self.tables(entry, "[[springs]]", &keys::SPRING);
        self.spring_names(&tables);
        tables
            .iter()
            .filter_map(|fields| self.spring(fields, draft))
            .collect()
    }

    /// Each name once; and none that is a number, by which the springs are counted.
    fn spring_names(&mut self, tables: &[Fields<'_>]) {
        let mut known: Vec<(&str, std::ops::Range<usize>)> = Vec::new();
        for value in tables.iter().filter_map(|fields| fields.get("name")) {
            let Some(name) = self.text(value, "`name`") else {
                continue;
            };
            if !self.good_name(name, value.span()) {
                continue;
            }
            if name.chars().all(|c| c.is_ascii_digit()) {
                let problem = Diagnostic::error(
                    code::NAME,
                    value.span(),
                    format!("`{name}` cannot be a name"),
                );
                self.report(
                    problem.help("springs are counted by numbers: take letters for a name"),
                );
            } else if let Some((_, first)) = known.iter().find(|(known, _)| *known == name) {
                let message = format!("a spring is called `{name}` already");
                let problem = Diagnostic::error(code::NAME_TWICE, value.span(), message);
                self.report(
                    problem
                        .also(first.clone(), "this one")
                        .help("give each spring a name of its own"),
                );
            }
            known.push((name, value.span()));
        }
    }

    fn spring(&mut self, fields: &Fields<'_>, draft: &Draft) -> Option<Spring> {
        let name = fields.get("name").map(Value::get_ref);
        let name = name.and_then(DeValue::as_str).map(str::to_owned);
        let about_pin = fields.get("pin").is_some();
        let ends = match fields.get("pin") {
            Some(value) => {
                if let Some(key) = ["from", "to"]
                    .into_iter()
                    .find(|key| fields.get(key).is_some())
                {
                    self.together(fields, key, "`pin` and `from`/`to` exclude each other");
                }
                self.spring_pin(draft, value)
            }
            None => self.spring_points(draft, fields),
        };
        let kinds = match about_pin {
            true => [Quantity::TurnRate, Quantity::Angle, Quantity::Torque],
            false => [Quantity::Rate, Quantity::Length, Quantity::Force],
        };
        let made = match fields.meant("wire") {
            true => self.wound(fields, about_pin).map(Made::Wound),
            false => self.stated_rate(fields, kinds[0]),
        };
        let acts = self.acts(fields, about_pin, made.as_ref());
        let set = self.spring_set(fields, acts, kinds[1], kinds[2], about_pin);
        let spring = Spring {
            name,
            ends: ends?,
            made: made?,
            set: set?,
            acts,
        };
        if let Some((key, message, help)) = spring_flaw(&spring, self.units) {
            let span = fields.span_of(key);
            self.report(Diagnostic::error(code::SPRING_WOUND, span, message).help(help));
        }
        Some(spring)
    }

    /// The rate of a spring that is not given by its wire, and nothing that goes with a wire.
    fn stated_rate(&mut self, fields: &Fields<'_>, kind: Quantity) -> Option<Made> {
        for entry in fields.among(&WITH_WIRE) {
            let key = entry.key;
            let message =
                format!("`{key}` says what a spring of wire is like, and there is no `wire`");
            let problem = Diagnostic::error(code::TOGETHER, entry.key_span.clone(), message);
            self.report(problem.help(format!(
                "give the diameter of the `wire` in place of `rate`, or take `{key}` out"
            )));
        }
        let rate = self.need_as(
            fields,
            "rate",
            "rate = 1.8 (or what is bought: wire = 1.2 and so on)",
        );
        rate.and_then(|v| self.quantity(v, kind, Sign::Positive))
            .map(Made::Rate)
    }

    /// In which sense it acts: one of wire as its ends are.
    fn acts(&mut self, fields: &Fields<'_>, about_pin: bool, made: Option<&Made>) -> Acts {
        let stated = fields
            .get("acts")
            .and_then(|v| self.word(v, "acts", &["both", "push", "pull"]));
        let acts = match stated {
            Some("push") => Some(Acts::Push),
            Some("pull") => Some(Acts::Pull),
            Some(_) => Some(Acts::Both),
            None => None,
        };
        if about_pin && acts.is_some_and(|acts| acts != Acts::Both) {
            self.together(fields, "acts", "a spring about a pin acts both ways");
        }
        let Some(Made::Wound(Wound {
            form: Form::Helical { ends, .. },
            ..
        })) = made
        else {
            return acts.unwrap_or(Acts::Both);
        };
        let own = match ends {
            CoilEnds::Hooks => Acts::Pull,
            _ => Acts::Push,
        };
        if acts.is_some_and(|acts| acts != own) {
            let message = match own {
                Acts::Pull => "a spring with hooks pulls",
                _ => "a spring without hooks pushes: its ends are not held the other way",
            };
            self.together(fields, "acts", message);
        }
        own
    }

    fn together(&mut self, fields: &Fields<'_>, key: &str, message: &str) {
        self.report(
            Diagnostic::error(code::TOGETHER, fields.span_of(key), message).help(format!(
                "take `{key}` out, or see the two forms of [[springs]]"
            )),
        );
    }

    fn spring_set(
        &mut self,
        fields: &Fields<'_>,
        acts: Acts,
        free_kind: Quantity,
        load_kind: Quantity,
        about_pin: bool,
    ) -> Option<SpringSet> {
        match (fields.get("free"), fields.get("preload")) {
            (Some(free), None) => {
                let sign = if about_pin { Sign::Any } else { Sign::Positive };
                self.quantity(free, free_kind, sign).map(SpringSet::Free)
            }
            (None, Some(preload)) => {
                let sign = if acts == Acts::Both {
                    Sign::Any
                } else {
                    Sign::NotNegative
                };
                let load = self.quantity(preload, load_kind, sign)?;
                // The model counts a push as positive; a spring that only pulls states its pull.
                Some(SpringSet::Preload(if acts == Acts::Pull {
                    -load
                } else {
                    load
                }))
            }
            (free, _) => {
                let (span, message) = match free {
                    Some(_) => (
                        fields.span_of("preload"),
                        "a spring has `free` or `preload`, not both",
                    ),
                    None => (fields.span.clone(), "a spring needs `free` or `preload`"),
                };
                self.report(Diagnostic::error(code::TOGETHER, span, message).help(
                    "give the free length (or slack angle), or the force at the open end of the stroke",
                ));
                None
            }
        }
    }

    fn spring_points(&mut self, draft: &Draft, fields: &Fields<'_>) -> Option<SpringEnds> {
        let from = self.need_as(fields, "from", "from = \"lever.tail\" (or pin = \"heel\")");
        let from = from.and_then(|v| self.point(draft, v, "from"));
        let to = self.need(fields, "to");
        let to = to.and_then(|v| self.point(draft, v, "to"));
        let (from, to) = (from?, to?);
        if from.part == to.part {
            self.report(
                Diagnostic::error(
                    code::SPRING_SAME_PART,
                    fields.span_of("to"),
                    "both ends of the spring are on the same part, so it never moves",
                )
                .help("name a point of another part"),
            );
            return None;
        }
        Some(SpringEnds::Points(from, to))
    }

    fn spring_pin(&mut self, draft: &Draft, value: &Value<'_>) -> Option<SpringEnds> {
        let name = self.text(value, "`pin`")?;
        let on = draft.on_pin(name);
        match on.as_slice() {
            [first, second, ..] => Some(SpringEnds::Pin {
                first: first.part,
                second: second.part,
            }),
            [_] => {
                self.report(
                    Diagnostic::error(
                        code::SPRING_PIN,
                        value.span(),
                        format!("pin `{name}` does not join two parts"),
                    )
                    .help("a spring about a pin acts between two parts on that pin"),
                );
                None
            }
            [] => {
                self.unknown_pin(draft, name, value.span());
                None
            }
        }
    }
}
