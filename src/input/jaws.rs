//! `[[jaw]]` and `[stroke]`: between which points the tool works, and from where to where.

use super::around::Around;
use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::{Sign, short};
use crate::model::{Hand, Jaw, JawId, Stroke, Target};
use crate::numeric::angle::wrapped;
use crate::units::Quantity;
use std::f64::consts::PI;

const STEPS: usize = 60;
const MOST_STEPS: i64 = 100_000;

impl Reader<'_> {
    pub(super) fn jaws(&mut self, entry: &Entry<'_>, draft: &Draft) -> Vec<Jaw> {
        let tables = self.tables(entry, "[[jaw]]", &keys::JAW);
        let mut jaws: Vec<Jaw> = Vec::new();
        if entry
            .value
            .get_ref()
            .as_array()
            .is_some_and(|list| list.is_empty())
        {
            let problem =
                Diagnostic::error(code::MISSING, entry.key_span.clone(), "there is no jaw");
            self.report(problem.help("add a table [[jaw]] with `on` and `against`"));
        }
        for fields in &tables {
            if let Some(jaw) = self.jaw(fields, draft, tables.len() == 1) {
                if jaws.iter().any(|known| known.name == jaw.name) {
                    self.report(
                        Diagnostic::error(
                            code::NAME_TWICE,
                            fields.get("name").map_or(fields.span.clone(), Value::span),
                            format!("a jaw is called `{}` already", jaw.name),
                        )
                        .help("give each jaw a name of its own"),
                    );
                }
                self.spans
                    .insert(format!("jaw.{}", jaw.name), fields.span.clone());
                jaws.push(jaw);
            }
        }
        jaws
    }

    fn jaw(&mut self, fields: &Fields<'_>, draft: &Draft, only: bool) -> Option<Jaw> {
        let name = if only && fields.get("name").is_none() {
            "jaw"
        } else {
            let value = self.need(fields, "name");
            let name = value.and_then(|v| self.text(v, "`name`").map(|name| (name, v.span())));
            let (name, span) = name.unwrap_or(("jaw", fields.span.clone()));
            self.good_name(name, span);
            name
        };
        let on = self.need(fields, "on");
        let on = on.and_then(|v| self.point(draft, v, "on"));
        let against = self.need(fields, "against");
        let against = against.and_then(|v| self.point(draft, v, "against"));
        if let (Some(a), Some(b)) = (on, against)
            && a.part == b.part
        {
            self.report(
                Diagnostic::error(
                    code::JAW_SAME_PART,
                    fields.span_of("against"),
                    "both points of the jaw are on the same part, so it cannot open",
                )
                .help("`against` names a point of another part"),
            );
        }
        let axis = fields
            .get("axis")
            .map(|v| self.quantity(v, Quantity::Angle, Sign::Any));
        let closed = fields.get("closed");
        let closed = closed.and_then(|v| self.quantity(v, Quantity::Length, Sign::Any));
        Some(Jaw {
            name: name.to_owned(),
            on: on?,
            against: against?,
            axis: axis.flatten(),
            closed: closed.unwrap_or(0.0),
            work: None,
        })
    }

    pub(super) fn stroke(&mut self, entry: &Entry<'_>, around: Around<'_>) -> Option<Stroke> {
        let fields = self.known_table(entry, "[stroke]", &keys::STROKE)?;
        let open = self.need(&fields, "open");
        let open = open.and_then(|v| self.target(&fields, "open", v, around));
        let shut = self.need(&fields, "shut");
        let shut = shut.and_then(|v| self.target(&fields, "shut", v, around));
        if open.is_some() && open == shut {
            self.report(
                Diagnostic::error(
                    code::STROKE_SAME,
                    fields.span_of("shut"),
                    "the stroke is shut where it is open",
                )
                .help("give two different places on the motion"),
            );
        }
        if let (Some(Target::Gap(wide, JawId::FIRST)), Some(Target::Gap(narrow, JawId::FIRST))) =
            (open, shut)
            && wide < narrow
        {
            self.report(
                Diagnostic::error(
                    code::STROKE_SWAPPED,
                    fields.span_of("shut"),
                    "the gap at `shut` is wider than at `open`",
                )
                .help("the two may be swapped: a tool closes from the wide gap to the narrow one")
                .help(self.spreading(around.jaws.get(JawId::FIRST), wide, narrow)),
            );
        }
        let steps = fields.get("steps").and_then(|v| self.steps(v));
        for key in ["open", "shut", "steps"] {
            if let Some(value) = fields.get(key) {
                self.spans.insert(format!("stroke.{key}"), value.span());
            }
        }
        Some(Stroke {
            open: open?,
            shut: shut?,
            steps: steps.unwrap_or(STEPS),
            lead: JawId::FIRST,
        })
    }

    /// How a jaw is written that is meant to spread from one gap to a wider one (mm).
    fn spreading(&self, jaw: Option<&Jaw>, from: f64, to: f64) -> String {
        let Some((jaw, axis)) = jaw.and_then(|jaw| Some((jaw, jaw.axis?))) else {
            return "a jaw that works outwards has an `axis`, and that turned round, so that its gap shrinks too"
                .to_owned();
        };
        let length = |mm: f64| short(self.units.show(mm, Quantity::Length));
        let turned = short(self.units.show(wrapped(axis + PI), Quantity::Angle));
        format!(
            "a jaw that works outwards has its `axis` turned round, so that its gap shrinks too: `axis = {turned}` and \
             `closed = {}` in [[jaw]], `open = {{ gap = {} }}` and `shut = {{ gap = 0 }}` here",
            length(-(to + jaw.closed)),
            length(to - from)
        )
    }

    fn steps(&mut self, value: &Value<'_>) -> Option<usize> {
        let steps = self.whole(value, "steps")?;
        if (2..=MOST_STEPS).contains(&steps) {
            return usize::try_from(steps).ok();
        }
        self.report(
            Diagnostic::error(
                code::STEPS,
                value.span(),
                format!("{steps} steps are not possible"),
            )
            .help(format!(
                "`steps` counts the intervals of the stroke: from 2 to {MOST_STEPS}"
            )),
        );
        None
    }

    pub(super) fn target(
        &mut self,
        stroke: &Fields<'_>,
        key: &str,
        value: &Value<'_>,
        around: Around<'_>,
    ) -> Option<Target> {
        let example = format!("{key} = {{ gap = 9 }}");
        if !value.get_ref().is_table() {
            let help = format!("write {example}, or `span`, `handle` or `stop` in place of `gap`");
            self.wrong_type(value, &format!("`{key}` is a place on the motion"), &help);
            return None;
        }
        let entry = Entry {
            key: "",
            key_span: stroke.span_of(key),
            value,
        };
        let fields = self.known_table(&entry, &format!("`{key}`"), &keys::TARGET)?;
        let given = fields.among(keys::TARGET.one_of);
        if given.is_empty() && fields.has_unknown() {
            return None;
        }
        if given.len() != 1 {
            self.report(
                Diagnostic::error(
                    code::TOGETHER,
                    value.span(),
                    format!("`{key}` needs exactly one of `gap`, `span`, `handle`, `stop`"),
                )
                .help(format!("such as {example}")),
            );
            return None;
        }
        let grip = self.grip(&fields, around);
        if fields.get("grip").is_some() && fields.get("span").is_none() {
            self.report(
                Diagnostic::error(
                    code::TOGETHER,
                    fields.span_of("grip"),
                    "`grip` goes with `span` only",
                )
                .help("take it out: gap and handle angle are the same at every grip"),
            );
        }
        if fields.get("jaw").is_some() && fields.get("gap").is_none() {
            let problem = Diagnostic::error(
                code::TOGETHER,
                fields.span_of("jaw"),
                "`jaw` goes with `gap` only",
            );
            self.report(problem.help("take it out: span, handle angle and stop are of no jaw"));
        }
        match given.first().map(|entry| (entry.key, entry.value))? {
            ("gap", value) => {
                let gap = self.quantity(value, Quantity::Length, Sign::Any);
                let jaw = self.jaw_of(&fields, around.jaws)?;
                self.gap_possible(gap?, value, around.jaws.get(jaw));
                if fields.get("jaw").is_some() {
                    let named = fields.span_of("jaw");
                    self.spans.insert("stroke.jaw".to_owned(), named);
                }
                Some(Target::Gap(gap?, jaw))
            }
            ("span", value) => {
                let span = self.quantity(value, Quantity::Length, Sign::Positive)?;
                self.span_possible(value, around.hand);
                Some(Target::Span(span, grip))
            }
            ("stop", value) => {
                let stop = self.named_stop(value, around.stops)?;
                // A ratchet may let go where a stop is met at either end.
                if ["open", "shut"].contains(&key) {
                    self.stop_ends(value, (around.stops, stop), key);
                }
                Some(Target::Stop(stop))
            }
            ("handle", value) => self
                .quantity(value, Quantity::Angle, Sign::Any)
                .map(Target::Handle),
            _ => None,
        }
    }

    /// A gap along the line between two points is their distance: it cannot be less than nothing.
    pub(super) fn gap_possible(&mut self, gap: f64, value: &Value<'_>, jaw: Option<&Jaw>) {
        let impossible = jaw.is_some_and(|jaw| jaw.axis.is_none() && gap < -jaw.closed.max(0.0));
        if impossible {
            self.report(
                Diagnostic::error(
                    code::GAP,
                    value.span(),
                    "this gap is negative, and the jaw measures along the line between its points",
                )
                .help(
                    "state the jaw's `axis` if it may pass beyond contact, or ask for a gap from 0",
                ),
            );
        }
    }

    pub(super) fn span_possible(&mut self, value: &Value<'_>, hand: Option<&Hand>) {
        if hand.is_some_and(|hand| hand.against.is_none()) {
            self.report(
                Diagnostic::error(
                    code::NO_SPAN,
                    value.span(),
                    "a span is the distance to a second handle, and there is none",
                )
                .help("add `against` to [hand], or use `gap` or `handle`"),
            );
        }
    }
}
