//! `[job]` and `[[operators]]`: how often the tool is used, and by whom; the size of its handle.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::{Sign, plain_problem};
use super::spelling;
use crate::limits;
use crate::model::{Hand, HandleSize, Job, Operators, Speed, Values};
use crate::units::Quantity;

impl Reader<'_> {
    /// `[job]`; `hand`: as far as it could be read.
    pub(super) fn job(&mut self, entry: &Entry<'_>, hand: Option<&Hand>) -> Option<Job> {
        let fields = self.known_table(entry, "[job]", &keys::JOB)?;
        let strokes = self.need(&fields, "strokes");
        let strokes = strokes.and_then(|v| self.quantity(v, Quantity::Frequency, Sign::Positive));
        let held = self.need(&fields, "held");
        let held = held.and_then(|v| self.quantity(v, Quantity::Time, Sign::Positive));
        let hours = self.plain_of(&fields, "hours", "8", Values::Hours);
        let wrist = fields.get("wrist");
        let wrist = wrist.map(|v| self.quantity(v, Quantity::Angle, Sign::Any));
        let speed = fields.get("speed");
        let speed = speed.map(|v| self.speed(v));
        let population = fields.get("population");
        let population = population.map(|v| self.group(v));
        let share = self.plain_of(&fields, "share", "0.75", Values::Share);
        let strong = population.is_some() || hand.is_none_or(|hand| hand.limit.is_some());
        if !strong && !fields.meant("population") {
            let message = "[job] does not say how strong the hands are";
            self.report(
                Diagnostic::error(code::TOGETHER, fields.span.clone(), message)
                    .help("add population = \"w-20-24\", or `limit` in [hand]"),
            );
        }
        let job = Job {
            strokes: strokes?,
            held: held?,
            hours: hours.unwrap_or(Some(Job::HOURS))?,
            wrist: wrist.unwrap_or(Some(0.0))?,
            speed: speed.unwrap_or(Some(Speed::default()))?,
            population: match population {
                Some(group) => Some(group?),
                None => None,
            },
            share: share.unwrap_or(Some(Job::SHARE))?,
        };
        if job.duty() > 1.0 + f64::EPSILON {
            let message =
                "so many strokes of this length take longer than the time there is for them";
            self.report(
                Diagnostic::error(code::TOGETHER, fields.span_of("held"), message)
                    .help("`held` times `strokes` is the share of the time that the hand squeezes: 1 at most"),
            );
        }
        Some(job)
    }

    /// `[[operators]]`.
    pub(super) fn operators(&mut self, entry: &Entry<'_>) -> Vec<Operators> {
        let tables = self.tables(entry, "[[operators]]", &keys::OPERATORS);
        let each = tables.iter().filter_map(|fields| {
            let group = self.need(fields, "group");
            let group = group.and_then(|value| self.group(value));
            let count = self.plain_of(fields, "count", "12", Values::Positive);
            Some(Operators {
                group: group?,
                count: count.unwrap_or(Some(1.0))?,
            })
        });
        each.collect()
    }

    /// `handle` of `[hand]`.
    pub(super) fn handle_size(&mut self, entry: &Entry<'_>) -> Option<HandleSize> {
        let fields = self.known_table(entry, "`handle`", &keys::HANDLE_SIZE)?;
        let length = self.need(&fields, "length");
        let mut one = |value: Option<&Value<'_>>| {
            value.map(|value| self.quantity(value, Quantity::Length, Sign::Positive))
        };
        let (length, width, depth) = (
            one(length),
            one(fields.get("width")),
            one(fields.get("depth")),
        );
        Some(HandleSize {
            length: length.flatten()?,
            width: width.flatten(),
            depth: depth.flatten(),
        })
    }

    /// A plain number that must be one of these; `None` where the key is not there.
    pub(super) fn plain_of(
        &mut self,
        fields: &Fields<'_>,
        key: &str,
        example: &str,
        values: Values,
    ) -> Option<Option<f64>> {
        let value = fields.get(key)?;
        let number = self.plain(value, &format!("`{key}`"), example);
        let problem = number.and_then(|number| plain_problem(number, values));
        Some(match problem {
            Some((what, help)) => {
                self.report(Diagnostic::error(code::SIZE, value.span(), what).help(help));
                None
            }
            None => number,
        })
    }

    fn speed(&mut self, value: &Value<'_>) -> Option<Speed> {
        let words = Speed::ALL.map(|(word, _)| word);
        let word = self.word(value, "speed", &words)?;
        let own = Speed::ALL.iter().find(|(own, _)| *own == word);
        own.map(|(_, speed)| *speed)
    }

    /// The name of a published group of people.
    pub(super) fn group(&mut self, value: &Value<'_>) -> Option<String> {
        let text = self.text(value, "a group")?;
        if limits::group(text).is_none() {
            let names: Vec<&str> = limits::groups().map(|group| group.name.as_str()).collect();
            let message = format!("no group of people is called `{text}`");
            self.report(
                Diagnostic::error(code::UNKNOWN_GROUP, value.span(), message)
                    .help(spelling::hint(text, "groups", &names)),
            );
            return None;
        }
        Some(text.to_owned())
    }
}
