//! `[parts.NAME]`: names, pins, marks, own dimensions; and which pins join which parts.

use std::ops::Range;

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::{Draft, PartSpans};
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::Sign;
use crate::model::{Part, PartId, Point, PointKind, Shape, pin_joints};
use crate::units::Quantity;

/// The most parts taken: the cost of a position grows with the square of their number, and a
/// hand tool has a dozen.
pub const MOST_PARTS: usize = 60;
/// The most joints taken, pins and slots together.
pub const MOST_JOINTS: usize = 200;
/// The most pins and marks taken, of all parts together: each is held against all others.
const MOST_POINTS: usize = 1000;

/// A point while its part is read.
struct Raw {
    point: Point,
    span: Range<usize>,
    /// Only named: its place comes from the sketch.
    listed: bool,
}

/// No coordinates yet: they come from the sketch.
const UNKNOWN: [f64; 2] = [f64::NAN, f64::NAN];

impl Reader<'_> {
    /// All parts, with the joints that their common pins make.
    pub(super) fn parts(&mut self, entry: &Entry<'_>) -> Draft {
        let mut draft = Draft::default();
        let Some(tables) = self.table(entry, "[parts]") else {
            return draft;
        };
        if tables.entries.len() > MOST_PARTS {
            let (count, most) = (tables.entries.len(), MOST_PARTS);
            let problem = Diagnostic::error(
                code::TOO_MANY,
                tables
                    .entries
                    .get(MOST_PARTS)
                    .map_or(0..0, |e| e.key_span.clone()),
                format!("{count} parts are more than the {most} that are taken"),
            );
            self.report(problem.help("leave out what does not move, or split the tool"));
            return draft;
        }
        if self.too_many_points(&tables) {
            return draft;
        }
        for one in &tables.entries {
            self.good_name(one.key, one.key_span.clone());
            if let Some(fields) =
                self.known_table(one, &format!("[parts.{}]", one.key), &keys::PART)
            {
                self.one_part(&mut draft, one, &fields);
            }
        }
        self.one_fixed(&mut draft, &tables);
        draft.joints = pin_joints(&draft.parts);
        draft
    }

    fn too_many_points(&mut self, parts: &Fields<'_>) -> bool {
        let points = |part: &Entry<'_>| match part.value.get_ref() {
            DeValue::Table(part) => ["pins", "marks"]
                .iter()
                .map(|key| match part.get(*key).map(|value| value.get_ref()) {
                    Some(DeValue::Table(points)) => points.len(),
                    Some(DeValue::Array(names)) => names.len(),
                    _ => 0,
                })
                .sum(),
            _ => 0,
        };
        let mut count = 0;
        let over = parts.entries.iter().find(|part| {
            count += points(part);
            count > MOST_POINTS
        });
        let Some(over) = over else {
            return false;
        };
        let all: usize = parts.entries.iter().map(points).sum();
        let message =
            format!("{all} pins and marks are more than the {MOST_POINTS} that are taken");
        let problem = Diagnostic::error(code::TOO_MANY, over.key_span.clone(), message);
        self.report(problem.help("leave out the marks that nothing else names"));
        true
    }

    fn one_part(&mut self, draft: &mut Draft, entry: &Entry<'_>, fields: &Fields<'_>) {
        let mut points: Vec<Raw> = Vec::new();
        let pins = fields.get("pins");
        if let Some(value) = pins {
            self.points(value, "pins", PointKind::Pin, &mut points);
        }
        let pin_count = points.len();
        if let Some(value) = fields.get("marks") {
            self.points(value, "marks", PointKind::Mark, &mut points);
        }
        self.names_once(&points);
        self.pins_apart(&points);
        let listed = pins.is_some_and(|value| value.get_ref().is_array());
        let mut shape = if listed {
            Shape::Sketch
        } else {
            Shape::Coordinates
        };
        if let Some(value) = fields.get("length") {
            let length = self.quantity(value, Quantity::Length, Sign::Positive);
            if !listed || pin_count != 2 {
                self.report(
                    Diagnostic::error(
                        code::LINK,
                        fields.span_of("length"),
                        format!(
                            "`length` on a part that is not a list of two pins ({})",
                            fields.title
                        ),
                    )
                    .help(
                        "write pins = [\"a\", \"b\"] with `length`, or give coordinates without it",
                    ),
                );
            } else {
                shape = Shape::Length;
                let length = length.unwrap_or(f64::NAN);
                for (point, x) in points.iter_mut().zip([0.0, length]) {
                    point.point.at = [x, 0.0];
                    point.listed = false;
                }
                self.spans
                    .insert(format!("{}.length", entry.key), value.span());
            }
        } else if pins.is_none() && points.iter().any(|raw| raw.listed) {
            // Nothing but names: the sketch gives the shape.
            shape = Shape::Sketch;
        }
        if let Some(true) = fields.get("fixed").and_then(|v| self.flag(v, "fixed")) {
            match draft.fixed {
                None => draft.fixed = Some(PartId::new(draft.parts.len())),
                Some(first) => {
                    let mut problem = Diagnostic::error(
                        code::FIXED,
                        fields.span_of("fixed"),
                        format!("`{}` is a second fixed part", entry.key),
                    )
                    .help("exactly one part is fixed: take `fixed = true` off the others");
                    if let Some(spans) = draft.spans.get(first.index()) {
                        problem = problem.also(spans.name.clone(), "fixed already");
                    }
                    self.report(problem);
                }
            }
        }
        for Raw { point, span, .. } in &points {
            self.spans
                .insert(format!("parts.{}.{}", entry.key, point.name), span.clone());
        }
        self.spans
            .insert(format!("parts.{}", entry.key), entry.key_span.clone());
        let listed = points.iter().map(|raw| raw.listed).collect();
        let (points, spans) = points.into_iter().map(|raw| (raw.point, raw.span)).unzip();
        draft.spans.push(PartSpans {
            name: entry.key_span.clone(),
            points: spans,
            listed,
        });
        draft.parts.push(Part {
            name: entry.key.to_owned(),
            points,
            shape,
            sketch: [0.0; 3],
        });
    }

    /// `pins` or `marks`: a table of places, or a list of names whose places the sketch knows.
    fn points(&mut self, value: &Value<'_>, key: &str, kind: PointKind, points: &mut Vec<Raw>) {
        let mut push = |name: &str, at, span, listed| {
            let name = name.to_owned();
            points.push(Raw {
                point: Point { name, at, kind },
                span,
                listed,
            });
        };
        match value.get_ref() {
            DeValue::Table(table) => {
                for entry in Fields::of(table, key, value.span()).entries {
                    self.good_name(entry.key, entry.key_span.clone());
                    let at = self.coordinates(entry.value);
                    push(entry.key, at.unwrap_or(UNKNOWN), entry.key_span, false);
                }
            }
            DeValue::Array(items) => {
                for item in items.iter() {
                    if let Some(name) = self.text(item, &format!("a name in `{key}`")) {
                        self.good_name(name, item.span());
                        push(name, UNKNOWN, item.span(), true);
                    }
                }
            }
            _ => self.wrong_type(
                value,
                &format!("`{key}` is a table of places or a list of names"),
                &format!("write {key} = {{ a = [0, 0], b = [15, 0] }} or {key} = [\"a\", \"b\"]"),
            ),
        }
    }

    fn names_once(&mut self, points: &[Raw]) {
        for (i, Raw { point, span, .. }) in points.iter().enumerate() {
            if let Some(first) = points
                .iter()
                .take(i)
                .find(|raw| raw.point.name == point.name)
            {
                self.report(
                    Diagnostic::error(
                        code::NAME_TWICE,
                        span.clone(),
                        format!("this part has a pin or mark `{}` already", point.name),
                    )
                    .also(first.span.clone(), "first named here")
                    .help("give one of the two another name, or take it out"),
                );
            }
        }
    }

    fn pins_apart(&mut self, points: &[Raw]) {
        for (i, Raw { point, span, .. }) in points.iter().enumerate() {
            let same = |raw: &&Raw| {
                let p = &raw.point;
                p.kind == PointKind::Pin && p.at == point.at && p.name != point.name
            };
            if point.kind != PointKind::Pin {
                continue;
            }
            if let Some(first) = points.iter().take(i).find(same) {
                self.report(
                    Diagnostic::error(
                        code::PINS_COINCIDE,
                        span.clone(),
                        format!(
                            "pins `{}` and `{}` are at the same place",
                            first.point.name, point.name
                        ),
                    )
                    .also(first.span.clone(), "the other pin")
                    .help("two holes of a part cannot coincide: correct one of them"),
                );
            }
        }
    }

    fn one_fixed(&mut self, draft: &mut Draft, tables: &Fields<'_>) {
        let said = |entry: &Entry<'_>| match entry.value.get_ref() {
            DeValue::Table(part) => part.get("fixed").is_some_and(|v| !v.get_ref().is_bool()),
            _ => false,
        };
        // Said in a way that cannot be read: reported already.
        if draft.fixed.is_none() && !tables.entries.iter().any(said) {
            self.report(
                Diagnostic::error(code::FIXED, tables.span.clone(), "no part is fixed")
                    .help("add `fixed = true` to the part whose axes are the tool's axes"),
            );
        }
    }
}
