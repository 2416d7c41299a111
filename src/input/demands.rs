//! `[[demand]]` and `[aim]`: measures, the positions where they are read, and what is wanted.

use toml::de::DeValue;

use super::around::Around;
use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Entry, Fields, Reader, Value};
use super::hand::curve_of;
use super::keys;
use super::size::Sign;
use super::spelling;
use crate::model::{
    Aim, At, Bound, Demand, JawId, MEASURES, Measure, MeasureKind, Named, Reads, Suffix, Want,
};
use crate::units::Quantity;

const POSITIONS: &str = "\"open\", \"shut\", \"peak\", \"least\", { gap = .. }, { handle = .. }, { span = .. } or { stop = .. }";

impl Reader<'_> {
    pub(super) fn demands(&mut self, entry: &Entry<'_>, around: Around<'_>) -> Vec<Demand> {
        let tables = self.tables(entry, "[[demand]]", &keys::DEMAND);
        let mut demands = Vec::new();
        for fields in &tables {
            if let Some(demand) = self.demand(fields, around) {
                self.spans
                    .insert(format!("demand.{}", demands.len()), fields.span.clone());
                demands.push(demand);
            }
        }
        demands
    }

    fn demand(&mut self, fields: &Fields<'_>, around: Around<'_>) -> Option<Demand> {
        let (measure, jaw, name) = self.measure(fields, around)?;
        let kind = measure.kind();
        let at = self.at(fields, name, kind, (around, jaw));
        let grip = self.grip(fields, around);
        let min = fields.get("min").map(|v| self.of_kind(v, kind));
        let max = fields.get("max").map(|v| self.of_kind(v, kind));
        if min.is_none() && max.is_none() {
            self.report(
                Diagnostic::error(
                    code::BOUND,
                    fields.span.clone(),
                    format!("the demand on `{name}` has no limit"),
                )
                .help("add `min`, `max` or both"),
            );
        }
        let bound = Bound {
            min: min.flatten(),
            max: max.flatten(),
        };
        if let (Some(low), Some(high)) = (bound.min, bound.max)
            && low > high
        {
            self.report(
                Diagnostic::error(code::BOUND, fields.span_of("max"), "`max` is below `min`")
                    .help("no value can meet this: the two may be swapped"),
            );
        }
        Some(Demand {
            measure,
            jaw: jaw?,
            at: at?,
            grip,
            bound,
        })
    }

    pub(super) fn aim(
        &mut self,
        entry: &Entry<'_>,
        around: Around<'_>,
        some_tune: bool,
    ) -> Option<Aim> {
        let fields = self.known_table(entry, "[aim]", &keys::AIM)?;
        if !some_tune {
            self.report(
                Diagnostic::error(
                    code::AIM,
                    fields.span.clone(),
                    "an aim, and nothing to tune",
                )
                .help("add a table [[tune]] with `dimension`, `from` and `to`"),
            );
        }
        let want = self.need(&fields, "want");
        let (measure, jaw, name) = self.measure(&fields, around)?;
        let kind = measure.kind();
        let at = self.at(&fields, name, kind, (around, jaw));
        let grip = self.grip(&fields, around);
        let want = want.and_then(|value| match value.get_ref() {
            DeValue::String(word) if word.starts_with(char::is_alphabetic) => {
                match self.word(value, "want", &["least", "most"])? {
                    "least" => Some(Want::Least),
                    _ => Some(Want::Most),
                }
            }
            _ => self.of_kind(value, kind).map(Want::Value),
        });
        Some(Aim {
            measure,
            jaw: jaw?,
            at: at?,
            grip,
            want: want?,
        })
    }

    /// The measure, which jaw it is of, and its name as it stands in the file.
    fn measure<'f>(
        &mut self,
        fields: &Fields<'f>,
        around: Around<'_>,
    ) -> Option<(Measure, Option<JawId>, &'f str)> {
        let value = self.need(fields, "measure")?;
        let name = self.text(value, "`measure`")?;
        let (first, suffix) = match name.split_once('.') {
            Some((first, suffix)) => (first, Some(suffix)),
            None => (name, None),
        };
        let Some(kind) = Measure::of_name(name).map(|measure| measure.kind()) else {
            let names: Vec<&str> = MEASURES.iter().map(|m| m.kind().word).collect();
            self.report(
                Diagnostic::error(
                    code::UNKNOWN_MEASURE,
                    value.span(),
                    format!("no measure is called `{name}`"),
                )
                .help(spelling::hint(name, "measures", &names)),
            );
            return None;
        };
        let joints = around.draft.joint_labels();
        let (allowed, what) = self.behind(first, kind.suffix, around);
        let needs_name = matches!(
            kind.suffix,
            Suffix::Joint | Suffix::Stop | Suffix::Contact | Suffix::Cam
        );
        let good = match suffix {
            _ if kind.word == name => !needs_name,
            None => !needs_name,
            Some(suffix) => allowed.iter().any(|name| name == suffix),
        };
        let unknown = match kind.suffix {
            Suffix::Jaw => !around.jaws.complete,
            Suffix::Stop => !around.stops.complete,
            Suffix::Contact | Suffix::Cam => !around.contacts.complete,
            _ => false,
        };
        if !good && unknown {
            return None;
        }
        if !good {
            let allowed: Vec<&str> = allowed.iter().map(String::as_str).collect();
            let names = spelling::hint(suffix.unwrap_or(""), "names", &allowed);
            let mut problem = Diagnostic::error(
                code::UNKNOWN_MEASURE,
                value.span(),
                format!("`{name}` is not a measure of this tool"),
            )
            .help(what);
            if !allowed.is_empty() {
                problem = problem.help(names);
            }
            self.report(problem);
            return None;
        }
        let jaws: Vec<String> = around.jaws.list.iter().map(|j| j.name.clone()).collect();
        let stops: Vec<String> = (around.stops.list.iter()).map(|s| s.name.clone()).collect();
        let names = Named {
            joints: &joints,
            jaws: &jaws,
            stops: &stops,
            contacts: around.contacts.list,
        };
        let (measure, jaw) = Measure::named(name, names)?;
        let jaw = self.measured_jaw(fields, &measure, jaw, around);
        let states = |known: &Option<JawId>| known.is_none() || *known == jaw;
        let works = jaw.is_none() || around.work.iter().any(states);
        if measure == Measure::Span {
            self.span_possible(value, around.hand);
        }
        if measure == Measure::HandForce && !works {
            self.report(
                Diagnostic::error(
                    code::TOGETHER,
                    value.span(),
                    match around.work {
                        [] => "`hand_force` is what the work needs, and there is no [work]",
                        _ => "`hand_force` is what the work needs, and there is no [[work]] for that jaw",
                    },
                )
                .help("add [work] with `need`, or use `jaw_force`, at the hand force of [hand]"),
            );
        }
        let repeated = matches!(
            measure,
            Measure::Effort
                | Measure::StrainIndex
                | Measure::AcceptableForce
                | Measure::HandActivity
        );
        if repeated && !around.job {
            let message = format!("`{name}` is about repeated use, and there is no [job]");
            self.report(
                Diagnostic::error(code::TOGETHER, value.span(), message)
                    .help("add [job] with `strokes`, `held` and `population`"),
            );
        }
        if matches!(measure, Measure::Effort | Measure::StrainIndex) && !works {
            let message = format!(
                "`{name}` follows from what the work needs of the hand, and there is no work at that jaw"
            );
            self.report(
                Diagnostic::error(code::TOGETHER, value.span(), message)
                    .help("add [work] with `need`"),
            );
        }
        if measure == Measure::Yield && !around.tolerances {
            self.report(
                Diagnostic::error(
                    code::TOGETHER,
                    value.span(),
                    "`yield` is the share of the made tools that meet every other demand, and there is no \
                     [tolerances]",
                )
                .help("add [tolerances] with a `class` or with a value for each dimension that matters"),
            );
        }
        if measure == Measure::HandShare
            && !(works && around.hand.is_none_or(|h| h.limit.is_some()))
        {
            self.report(
                Diagnostic::error(
                    code::TOGETHER,
                    value.span(),
                    "`hand_share` is what the work needs of the hand over its limit, and one of the two \
                     is not given",
                )
                .help("add [work] with `need`, and `limit` in [hand]"),
            );
        }
        Some((measure, jaw, name))
    }

    /// A number of a measure's kind.
    fn of_kind(&mut self, value: &Value<'_>, kind: MeasureKind) -> Option<f64> {
        match kind.quantity {
            Some(quantity) => self.quantity(value, quantity, Sign::Any),
            None => self.plain(value, "this measure", "2.5"),
        }
    }

    /// `None`: not usable. `Some(None)`: a measure of the whole stroke.
    fn at(
        &mut self,
        fields: &Fields<'_>,
        measure: &str,
        kind: MeasureKind,
        (around, jaw): (Around<'_>, Option<JawId>),
    ) -> Option<Option<At>> {
        match (kind.reads, fields.get("at")) {
            (Reads::Stroke, None) => Some(None),
            (Reads::Stroke, Some(_)) => {
                self.report(
                    Diagnostic::error(
                        code::AT,
                        fields.span_of("at"),
                        format!("`{measure}` is of the whole stroke, not of one position"),
                    )
                    .help("take `at` out"),
                );
                None
            }
            (Reads::Position, None) => {
                self.report(
                    Diagnostic::error(
                        code::AT,
                        fields.span.clone(),
                        format!("`{measure}` is read at one position, and `at` is missing"),
                    )
                    .help(format!("add `at`: {POSITIONS}")),
                );
                None
            }
            (Reads::Position, Some(value)) => self.position(value, around, jaw).map(Some),
        }
    }

    fn position(
        &mut self,
        value: &Value<'_>,
        around: Around<'_>,
        jaw: Option<JawId>,
    ) -> Option<At> {
        if !value.get_ref().is_table() {
            if !value.get_ref().is_str() {
                let help = format!("write one of: {POSITIONS}");
                self.wrong_type(value, "`at` is a position", &help);
                return None;
            }
            return match self.word(value, "at", &["open", "shut", "peak", "least"])? {
                "open" => Some(At::Open),
                "shut" => Some(At::Shut),
                "peak" => Some(At::Peak),
                _ => Some(At::Least),
            };
        }
        let entry = Entry {
            key: "at",
            key_span: value.span(),
            value,
        };
        let fields = self.known_table(&entry, "`at`", &keys::AT)?;
        match fields.among(keys::AT.one_of).as_slice() {
            [] if fields.has_unknown() => None,
            [one] => match one.key {
                "gap" => {
                    let gap = self.quantity(one.value, Quantity::Length, Sign::Any)?;
                    self.gap_possible(
                        gap,
                        one.value,
                        jaw.and_then(|jaw| around.jaws.list.get(jaw.index())),
                    );
                    Some(At::Gap(gap))
                }
                "span" => {
                    let span = self.quantity(one.value, Quantity::Length, Sign::Positive)?;
                    self.span_possible(one.value, around.hand);
                    Some(At::Span(span))
                }
                "stop" => self.named_stop(one.value, around.stops).map(At::Stop),
                "handle" => self
                    .quantity(one.value, Quantity::Angle, Sign::Any)
                    .map(At::Handle),
                _ => None,
            },
            _ => {
                self.report(
                    Diagnostic::error(code::TOGETHER, value.span(), "`at` is exactly one position")
                        .help(format!("one of: {POSITIONS}")),
                );
                None
            }
        }
    }

    /// A grip that is not among those of [hand] is fine, as long as it is on the line.
    pub(super) fn grip(&mut self, fields: &Fields<'_>, around: Around<'_>) -> Option<f64> {
        let value = fields.get("grip")?;
        let grip = self.quantity(value, Quantity::Length, Sign::NotNegative)?;
        if let Some(hand) = around.hand {
            let curve = curve_of(around.draft, &hand.handle);
            self.on_line(grip, value.span(), curve.as_ref(), "hand line");
        }
        Some(grip)
    }
}
