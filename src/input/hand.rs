//! `[hand]`: handles, grips, direction and size of the hand force.

use std::ops::Range;

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::{Sign, short};
use crate::model::{Hand, HandLine, Palm, Place, Push};
use crate::numeric::Curve;
use crate::units::Quantity;

/// Hand force where the file gives none, N: a round number to draw the curves for.
const FORCE: f64 = 100.0;

/// Handles longer than this many times the reach of the linkage's own points are not seen on hand
/// tools (common practice, no source); ten pixels to the mm are a usual picture.
const FAR_OFF: f64 = 5.0;

impl Reader<'_> {
    pub(super) fn hand(&mut self, entry: &Entry<'_>, draft: &Draft) -> Option<Hand> {
        let fields = self.known_table(entry, "[hand]", &keys::HAND)?;
        for entry in &fields.entries {
            let place = entry.key_span.clone();
            self.spans.insert(format!("hand.{}", entry.key), place);
        }
        let smooth = fields
            .get("smooth")
            .and_then(|v| self.flag(v, "smooth"))
            .unwrap_or(false);
        let handle = self.hand_line(&fields, draft, smooth);
        let other = fields.entry("against").map(|entry| {
            let fields = self.known_table(entry, "`against`", &keys::AGAINST)?;
            let own = fields.get("smooth").and_then(|v| self.flag(v, "smooth"));
            self.hand_line(&fields, draft, own.unwrap_or(smooth))
        });
        let grips = self.grips(&fields);
        let push = self.push(&fields, other.is_some());
        let palm = self.palm(&fields, draft, push, handle.as_ref(), other.as_ref());
        let number = |reader: &mut Self, key, quantity, sign| {
            fields
                .get(key)
                .and_then(|value| reader.quantity(value, quantity, sign))
        };
        let size = fields.entry("handle").map(|entry| self.handle_size(entry));
        let glove = number(self, "glove", Quantity::Length, Sign::NotNegative);
        let force = number(self, "force", Quantity::Force, Sign::Positive);
        let thickness = number(self, "thickness", Quantity::Length, Sign::NotNegative);
        let limit = fields
            .get("limit")
            .and_then(|v| self.limit(v, other.is_some()));
        let other = other.flatten();
        if let Some(handle) = &handle {
            self.held_parts(&fields, draft, handle, other.as_ref());
            let curve = curve_of(draft, handle);
            let facing = other.as_ref().and_then(|line| curve_of(draft, line));
            for (grip, span) in &grips {
                if self.on_line(*grip, span.clone(), curve.as_ref(), "hand line") {
                    let line = "line of the other handle";
                    self.on_line(*grip, span.clone(), facing.as_ref(), line);
                }
            }
        }
        Some(Hand {
            handle: handle?,
            against: other,
            grips: grips.into_iter().map(|(grip, _)| grip).collect(),
            push: push?,
            palm: palm?,
            force: force.unwrap_or(FORCE),
            limit,
            thickness: thickness.unwrap_or(0.0),
            size: match size {
                Some(size) => Some(size?),
                None => None,
            },
            glove: glove.unwrap_or(0.0),
        })
    }

    fn hand_line(&mut self, fields: &Fields<'_>, draft: &Draft, smooth: bool) -> Option<HandLine> {
        let part = self.need(fields, "part");
        let part = part.and_then(|v| self.part(draft, v, "part"));
        let line = self.need(fields, "line")?;
        let items = self.rows_of(line, "`line` is a list of places, from the pivot end")?;
        let part = part?;
        let places: Vec<Option<Place>> = items
            .iter()
            .map(|item| self.place(draft, part, item))
            .collect();
        if items.len() < 2 {
            self.report(
                Diagnostic::error(
                    code::LINE,
                    line.span(),
                    "a hand line needs two places or more",
                )
                .help("give at least its pivot end and its free end"),
            );
            return None;
        }
        let at: Vec<Option<[f64; 2]>> =
            places.iter().map(|p| draft.place_at(part, (*p)?)).collect();
        self.pixels_for_lengths(draft, line, &places);
        let mut good = true;
        for (i, pair) in at.windows(2).enumerate() {
            if let [Some(a), Some(b)] = pair
                && (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-3
            {
                good = false;
                self.report(
                    Diagnostic::error(
                        code::LINE,
                        items.get(i + 1).map_or(line.span(), Value::span),
                        "the hand line does not move on from the place before",
                    )
                    .help("take the repeated place out"),
                );
            }
        }
        let ends = (at.first().copied().flatten(), at.last().copied().flatten());
        if let (Some(a), Some(b)) = ends
            && good
            && (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-3
        {
            self.report(
                Diagnostic::error(
                    code::LINE,
                    line.span(),
                    "the hand line ends where it begins",
                )
                .help(
                    "its chord gives the handle angle: let it run from the pivot to the free end",
                ),
            );
        }
        let points = places.into_iter().collect::<Option<Vec<Place>>>()?;
        good.then_some(HandLine {
            part,
            points,
            smooth,
        })
    }

    /// Advice where the places of a line lie as far off as they do when they are read off the
    /// picture that the sketch was read off.
    fn pixels_for_lengths(&mut self, draft: &Draft, line: &Value<'_>, places: &[Option<Place>]) {
        let points = draft.parts.iter().flat_map(|part| &part.points);
        let from_datum = points.map(|p| p.at[0].hypot(p.at[1]));
        let reach = from_datum.filter(|r| r.is_finite()).fold(0.0_f64, f64::max);
        let far = places
            .iter()
            .flatten()
            .any(|place| matches!(place, Place::At([x, y]) if x.hypot(*y) > FAR_OFF * reach));
        if draft.pixels && far {
            let message = "these places lie far off the tool: they are lengths in the part's axes, \
                           not pixels of the picture";
            self.report(Diagnostic::advice(code::PIXELS, line.span(), message).help(
                "list marks on the part, give their pixels in [sketch], and name them here: \
                 line = [\"inner-end\", \"outer-end\"]",
            ));
        }
    }

    fn grips(&mut self, fields: &Fields<'_>) -> Vec<(f64, Range<usize>)> {
        let Some(value) = self.need(fields, "grips") else {
            return Vec::new();
        };
        let Some(items) = self.list(value, "`grips` is a list of distances along the line") else {
            return Vec::new();
        };
        if items.is_empty() {
            self.report(
                Diagnostic::error(code::MISSING, value.span(), "there is no grip in `grips`")
                    .help("give the distances along the line at which the tool is held: [70, 100]"),
            );
        }
        let mut grips: Vec<(f64, Range<usize>)> = Vec::new();
        for item in items {
            let Some(grip) = self.quantity(item, Quantity::Length, Sign::NotNegative) else {
                continue;
            };
            if grips.iter().any(|(known, _)| (known - grip).abs() < 1e-9) {
                self.report(
                    Diagnostic::error(code::NAME_TWICE, item.span(), "this grip is given twice")
                        .help("take one of the two out"),
                );
            }
            grips.push((grip, item.span()));
        }
        grips
    }

    fn push(&mut self, fields: &Fields<'_>, facing: bool) -> Option<Push> {
        let Some(value) = fields.get("push") else {
            return Some(if facing { Push::Across } else { Push::Square });
        };
        let DeValue::String(word) = value.get_ref() else {
            return self
                .quantity(value, Quantity::Angle, Sign::Any)
                .map(Push::Fixed);
        };
        match word.as_ref() {
            "across" if facing => Some(Push::Across),
            "across" => {
                self.report(
                    Diagnostic::error(
                        code::TOGETHER,
                        value.span(),
                        "\"across\" pushes towards the other handle, and there is none",
                    )
                    .help("add `against` with its `part` and `line`, or take push = \"square\""),
                );
                None
            }
            "square" => Some(Push::Square),
            text if text.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c)) => self
                .quantity(value, Quantity::Angle, Sign::Any)
                .map(Push::Fixed),
            text => {
                let words = &["across", "square", "a direction in degrees"];
                self.unknown_word(value.span(), "push", text, words);
                None
            }
        }
    }

    fn palm(
        &mut self,
        fields: &Fields<'_>,
        draft: &Draft,
        push: Option<Push>,
        handle: Option<&HandLine>,
        other: Option<&Option<HandLine>>,
    ) -> Option<Palm> {
        let Some(value) = fields.get("palm") else {
            return Some(Palm::Usual);
        };
        let palm = match value.get_ref() {
            DeValue::Boolean(false) => Palm::Bench,
            DeValue::String(name) => Palm::Part(self.part_named(draft, name, value.span())?),
            _ => {
                let help = "name the part that the palm holds, or write palm = false for a tool on a bench";
                self.wrong_type(value, "`palm` is a part's name or false", help);
                return None;
            }
        };
        let across = other
            .and_then(Option::as_ref)
            .map(|line| Palm::Part(line.part));
        if push == Some(Push::Across) && across.is_some_and(|across| across != palm) {
            let message = "a push across puts the opposite force on the other handle, not here";
            self.report(
                Diagnostic::error(code::TOGETHER, value.span(), message)
                    .help("leave `palm` out, or take push = \"square\" or a direction"),
            );
        } else if handle.is_some_and(|handle| palm == Palm::Part(handle.part)) {
            let message = "the palm holds the handle that the fingers close";
            self.report(
                Diagnostic::error(code::HAND_PART, value.span(), message)
                    .help("name the part that lies in the palm, or write palm = false for a tool on a bench"),
            );
        }
        Some(palm)
    }

    fn held_parts(
        &mut self,
        fields: &Fields<'_>,
        draft: &Draft,
        handle: &HandLine,
        other: Option<&HandLine>,
    ) {
        let (message, help, key) = match other {
            Some(other) if other.part == handle.part => (
                "both handles are the same part",
                "`against` names the other handle",
                "against",
            ),
            None if draft.fixed == Some(handle.part) => (
                "the hand holds the fixed part, which does not move",
                "name the handle that the fingers close, or make another part the fixed one",
                "part",
            ),
            _ => return,
        };
        self.report(Diagnostic::error(code::HAND_PART, fields.span_of(key), message).help(help));
    }

    /// Whether a grip is on a line; reports it if not.
    pub(super) fn on_line(
        &mut self,
        grip: f64,
        span: Range<usize>,
        curve: Option<&Curve>,
        line: &str,
    ) -> bool {
        let Some(length) = curve.map(Curve::length) else {
            return true;
        };
        if grip <= length * (1.0 + 1e-9) {
            return true;
        }
        let show = |value| short(self.units.show(value, Quantity::Length));
        let unit = self.units.symbol(Quantity::Length);
        let message = format!(
            "a grip at {} {unit} is off the end of the {line}, which is {} {unit} long",
            show(grip),
            show(length)
        );
        self.report(
            Diagnostic::error(code::GRIP_OFF, span, message)
                .help("hold nearer to the first point of the line, or make the line longer"),
        );
        false
    }

    /// A list of pairs, two or more.
    pub(super) fn rows(
        &mut self,
        value: &Value<'_>,
        want: [(Quantity, Sign); 2],
        what: &str,
    ) -> Option<Vec<[f64; 2]>> {
        let items = self.rows_of(value, what)?;
        let rows: Vec<_> = items
            .iter()
            .map(|item| self.pair(item, want, what))
            .collect();
        if items.len() < 2 {
            self.report(
                Diagnostic::error(
                    code::TABLE,
                    value.span(),
                    "this table needs two rows or more",
                )
                .help(format!("{what}: give at least the first and the last")),
            );
            return None;
        }
        rows.into_iter().collect()
    }

    /// Whether the first column of a table rises from row to row; reports it if not.
    pub(super) fn rising(&mut self, value: &Value<'_>, rows: &[[f64; 2]], what: &str) {
        for (i, pair) in rows.windows(2).enumerate() {
            if let [a, b] = pair
                && b[0] <= a[0]
            {
                let row = match value.get_ref() {
                    DeValue::Array(items) => items.get(i + 1).map(Value::span),
                    _ => None,
                };
                let span = row.unwrap_or_else(|| value.span());
                let message = format!("the {what} does not grow from the row before");
                let help = format!("sort the rows by {what}, each one once");
                self.report(Diagnostic::error(code::TABLE, span, message).help(help));
            }
        }
    }
}

/// The curve of a hand line, where all its places are known.
pub(super) fn curve_of(draft: &Draft, line: &HandLine) -> Option<Curve> {
    let at = line
        .points
        .iter()
        .map(|&place| draft.place_at(line.part, place));
    let points = at.collect::<Option<Vec<[f64; 2]>>>()?;
    Curve::through(&points, line.smooth)
}
