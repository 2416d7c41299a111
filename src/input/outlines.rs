//! `[outlines.PART]`: the border of a part's plates and the holes in them.

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::Sign;
use super::spelling;
use crate::model::{Border, By, Drilled, Leg, Outline, PartId, Place, PointKind};
use crate::units::Quantity;

/// The keys that say what a border is.
const BORDERS: [&str; 3] = ["round", "path", "mirror"];
/// The keys that say how a leg gets to its end.
const WAYS: [&str; 3] = ["arc", "through", "smooth"];
/// The most pieces, places of smooth runs, discs of belts and holes taken, of all outlines together: one that was
/// traced by a machine has thousands, which no hand tool needs and nothing here is quick for.
const MOST_ROWS: usize = 2000;

impl Reader<'_> {
    pub(super) fn outlines(&mut self, entry: &Entry<'_>, draft: &Draft) -> Vec<Outline> {
        let Some(tables) = self.table(entry, "[outlines]") else {
            return Vec::new();
        };
        if self.too_many_rows(&tables) {
            return Vec::new();
        }
        let mut outlines = Vec::new();
        for one in &tables.entries {
            let part = self.part_named(draft, one.key, one.key_span.clone());
            let title = format!("[outlines.{}]", one.key);
            let fields = self.known_table(one, &title, &keys::OUTLINE);
            let table = format!("outlines.{}", one.key);
            self.spans.insert(table.clone(), one.key_span.clone());
            if let (Some(part), Some(fields)) = (part, fields) {
                outlines.extend(self.outline(&fields, &table, part, draft));
            }
        }
        outlines
    }

    fn too_many_rows(&mut self, outlines: &Fields<'_>) -> bool {
        let mut count = 0;
        let over = outlines.entries.iter().find(|one| {
            count += rows(one.value);
            count > MOST_ROWS
        });
        let Some(over) = over else {
            return false;
        };
        let all: usize = outlines.entries.iter().map(|one| rows(one.value)).sum();
        let message = format!(
            "{all} pieces, places and holes of outlines are more than the {MOST_ROWS} that are taken"
        );
        let problem = Diagnostic::error(code::TOO_MANY, over.key_span.clone(), message);
        self.report(problem.help("draw a curve as arcs, or as one smooth run through few places"));
        true
    }

    fn outline(
        &mut self,
        fields: &Fields<'_>,
        table: &str,
        part: PartId,
        draft: &Draft,
    ) -> Option<Outline> {
        for entry in &fields.entries {
            let place = format!("{table}.{}", entry.key);
            self.spans.insert(place, entry.key_span.clone());
        }
        let given = fields.among(&BORDERS);
        let [border] = given.as_slice() else {
            let span = given
                .get(1)
                .map_or(fields.span.clone(), |e| e.key_span.clone());
            // A mistyped key is told as such.
            if given.is_empty() && fields.has_unknown() {
                return None;
            }
            let message = match given.is_empty() {
                true => format!("{} does not say what its border is", fields.title),
                false => format!("{} gives its border in two ways", fields.title),
            };
            self.report(Diagnostic::error(code::TOGETHER, span, message).help(
                "give one of: round = { PIN = radius, ... }; start and path = [{ to = [x, y] }, ...]; mirror = { of = \"part\", about = [[0, 0], [1, 0]] }",
            ));
            return None;
        };
        let only = |reader: &mut Self, keys: &[&str], with: &str| {
            for entry in fields.among(keys) {
                if border.key != with {
                    let message = format!("`{}` goes with `{with}`", entry.key);
                    let span = entry.key_span.clone();
                    reader.report(
                        Diagnostic::error(code::TOGETHER, span, message)
                            .help(format!("this border is given by `{}`", border.key)),
                    );
                }
            }
        };
        only(self, &["belts", "throat"], "round");
        only(self, &["start"], "path");
        let border = match border.key {
            "round" => self.round(border, fields, table, part, draft),
            "path" => self.path(border, fields, table, part, draft),
            _ => self.mirror(border, part, draft),
        };
        let holes = fields
            .entry("holes")
            .map_or(Vec::new(), |entry| self.holes(entry, table, part, draft));
        Some(Outline {
            part,
            border: border?,
            holes,
        })
    }

    fn length_of(&mut self, fields: &Fields<'_>, key: &str, sign: Sign) -> Option<f64> {
        let value = fields.get(key)?;
        self.quantity(value, Quantity::Length, sign)
    }

    fn round(
        &mut self,
        entry: &Entry<'_>,
        fields: &Fields<'_>,
        table: &str,
        part: PartId,
        draft: &Draft,
    ) -> Option<Border> {
        let radii = self.table(entry, "`round`")?;
        let mut discs = Vec::new();
        for one in &radii.entries {
            let place = format!("{table}.round.{}", discs.len() + 1);
            self.spans.insert(place, one.key_span.clone());
            let point = self.point_of(draft, part, one.key, one.key_span.clone());
            let radius = self.quantity(one.value, Quantity::Length, Sign::Positive);
            discs.push((point?, radius?));
        }
        if discs.is_empty() {
            let span = entry.key_span.clone();
            let problem = Diagnostic::error(code::MISSING, span, "`round` names no pin or mark");
            self.report(problem.help("give a radius about each: round = { heel = 9, nose = 6 }"));
            return None;
        }
        let mut belts = Vec::new();
        if let Some(value) = fields.get("belts") {
            for belt in self.list(value, "`belts` is a list of lists of names")? {
                let place = format!("{table}.belts.{}", belts.len() + 1);
                self.spans.insert(place, belt.span());
                belts.push(self.belt(belt, &discs, part, draft)?);
            }
            let in_none = |k: &usize| belts.iter().all(|belt: &Vec<usize>| !belt.contains(k));
            let alone = (0..discs.len()).find(in_none).filter(|_| !belts.is_empty());
            if let Some(one) = alone.and_then(|k| radii.entries.get(k)) {
                let message = format!("no belt goes round `{}`", one.key);
                self.report(
                    Diagnostic::error(code::TOGETHER, one.key_span.clone(), message)
                        .help("name it in a belt, or leave its radius out"),
                );
            }
        }
        Some(Border::Round {
            discs,
            belts,
            throat: self.length_of(fields, "throat", Sign::NotNegative),
        })
    }

    /// One belt: the discs that it goes round.
    fn belt(
        &mut self,
        value: &Value<'_>,
        discs: &[(usize, f64)],
        part: PartId,
        draft: &Draft,
    ) -> Option<Vec<usize>> {
        let mut around = Vec::new();
        for name in self.list(value, "a belt is a list of names")? {
            let text = self.text(name, "the name of a pin or mark")?;
            let point = self.point_of(draft, part, text, name.span())?;
            let disc = discs.iter().position(|(known, _)| *known == point);
            if disc.is_none() {
                let message = format!("no disc stands about `{text}`");
                self.report(
                    Diagnostic::error(code::TOGETHER, name.span(), message)
                        .help(format!("give it a radius: round = {{ {text} = 8, ... }}")),
                );
            }
            around.push(disc?);
        }
        Some(around)
    }

    fn path(
        &mut self,
        entry: &Entry<'_>,
        fields: &Fields<'_>,
        table: &str,
        part: PartId,
        draft: &Draft,
    ) -> Option<Border> {
        let start = self.need(fields, "start");
        let start = start.and_then(|value| self.place(draft, part, value));
        let rows = self.tables(entry, "path", &keys::LEG);
        let mut legs = Vec::with_capacity(rows.len());
        for (k, row) in rows.iter().enumerate() {
            let place = format!("{table}.path.{}", k + 1);
            self.spans.insert(place, row.span.clone());
            legs.push(self.leg(row, part, draft));
        }
        Some(Border::Path {
            start: start?,
            legs: legs.into_iter().collect::<Option<_>>()?,
        })
    }

    fn leg(&mut self, row: &Fields<'_>, part: PartId, draft: &Draft) -> Option<Leg> {
        let to = self.need(row, "to");
        let to = to.and_then(|value| self.place(draft, part, value));
        let ways = row.among(&WAYS);
        if let [_, second, ..] = ways.as_slice() {
            let message = format!("`{}` is a second way to get there", second.key);
            let span = second.key_span.clone();
            let problem = Diagnostic::error(code::TOGETHER, span, message);
            self.report(
                problem.help(
                    "give one of `arc`, `through`, `smooth`; none of them for a straight piece",
                ),
            );
        }
        if row.get("tangent").is_some() && row.get("smooth").is_none() {
            let span = row.span_of("tangent");
            let problem = Diagnostic::error(code::TOGETHER, span, "`tangent` goes with `smooth`");
            self.report(problem.help("give the places on the way: smooth = [[86, 10], [72, 14]]"));
        }
        let tangent = row.get("tangent").and_then(|v| self.flag(v, "tangent"));
        let by = match ways.first() {
            None => Some(By::Line),
            Some(way) if way.key == "arc" => {
                let radius = self.quantity(way.value, Quantity::Length, Sign::Any);
                if radius == Some(0.0) {
                    let span = way.value.span();
                    let problem = Diagnostic::error(code::SIZE, span, "an arc without a radius");
                    self.report(problem.help(
                        "positive turns left, negative right; leave `arc` out for a straight piece",
                    ));
                }
                radius.filter(|radius| *radius != 0.0).map(By::Arc)
            }
            Some(way) if way.key == "through" => {
                self.place(draft, part, way.value).map(By::Through)
            }
            Some(way) => {
                let places = self.rows_of(way.value, "`smooth` is a list of places");
                let places = places.map(|places| {
                    let each = places.iter().map(|value| self.place(draft, part, value));
                    each.collect::<Vec<Option<Place>>>()
                });
                let through = places.and_then(|places| places.into_iter().collect());
                through.map(|through| By::Smooth {
                    through,
                    tangent: tangent.unwrap_or(false),
                })
            }
        };
        let round = self.length_of(row, "round", Sign::NotNegative);
        Some(Leg {
            to: to?,
            by: by?,
            round,
        })
    }

    fn mirror(&mut self, entry: &Entry<'_>, part: PartId, draft: &Draft) -> Option<Border> {
        let row = self.known_table(entry, "`mirror`", &keys::MIRROR)?;
        let of = self.need(&row, "of");
        let of = of.and_then(|value| {
            let name = self.text(value, "`of`")?;
            self.part_named(draft, name, value.span())
        });
        let about = self.need(&row, "about")?;
        let places = self.rows_of(about, "`about` is two places on a line")?;
        let [first, second] = places else {
            let span = about.span();
            let problem = Diagnostic::error(code::TYPE, span, "`about` is two places on a line");
            self.report(problem.help("such as about = [[0, 0], [1, 0]] for the x axis"));
            return None;
        };
        let about = [first, second].map(|value| self.place(draft, part, value));
        let [Some(first), Some(second)] = about else {
            return None;
        };
        Some(Border::Mirror {
            of: of?,
            about: [first, second],
        })
    }

    fn holes(
        &mut self,
        entry: &Entry<'_>,
        table: &str,
        part: PartId,
        draft: &Draft,
    ) -> Vec<Drilled> {
        let rows = self.tables(entry, "holes", &keys::HOLE);
        let mut holes = Vec::with_capacity(rows.len());
        for (k, row) in rows.iter().enumerate() {
            let place = format!("{table}.holes.{}", k + 1);
            self.spans.insert(place, row.span.clone());
            holes.extend(self.hole(row, part, draft));
        }
        holes
    }

    fn hole(&mut self, row: &Fields<'_>, part: PartId, draft: &Draft) -> Option<Drilled> {
        let given = row.among(&["at", "pin", "slot"]);
        let [what] = given.as_slice() else {
            let message = "a hole is at a place, of a pin, or a slot: one of these";
            let problem = Diagnostic::error(code::TOGETHER, row.span.clone(), message);
            self.report(problem.help(
                "such as { at = [20, 0], diameter = 4 }, { pin = \"heel\", clearance = 0.03 } or { slot = [[40, 0], [55, 0]], width = 8 }",
            ));
            return None;
        };
        let others: &[&str] = match what.key {
            "at" => &["clearance", "width"],
            "pin" => &["width"],
            _ => &["clearance", "diameter"],
        };
        for entry in row.among(others) {
            let message = format!("`{}` does not go with `{}`", entry.key, what.key);
            let span = entry.key_span.clone();
            let help = "at: diameter; pin: clearance or diameter; slot: width";
            self.report(Diagnostic::error(code::TOGETHER, span, message).help(help));
        }
        match what.key {
            "at" => {
                let at = self.place(draft, part, what.value);
                let diameter = self.need(row, "diameter");
                let diameter =
                    diameter.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
                Some(Drilled::Round {
                    at: at?,
                    diameter: diameter?,
                })
            }
            "pin" => {
                let name = self.text(what.value, "`pin`")?;
                let point = self.point_of(draft, part, name, what.value.span())?;
                let pins = draft.parts.get(part.index());
                let kind = pins.and_then(|part| Some(part.points.get(point)?.kind));
                if kind == Some(PointKind::Mark) {
                    let message = format!("`{name}` is a mark of this part, not a pin");
                    let problem = Diagnostic::error(code::UNKNOWN_PIN, what.value.span(), message);
                    self.report(problem.help(format!(
                        "a hole of its own there: {{ at = \"{name}\", diameter = 4 }}"
                    )));
                    return None;
                }
                let given = row.among(&["clearance", "diameter"]);
                if given.len() != 1 {
                    let message = "the hole of a pin has a `clearance` or a `diameter` here";
                    let problem = Diagnostic::error(code::TOGETHER, row.span.clone(), message);
                    self.report(problem.help(
                        "a clearance of its own, a diameter, or diameter = 0 for a pin that is fast in the plate; \
                         without this row the hole is that of [joints]",
                    ));
                    return None;
                }
                Some(Drilled::Pin {
                    point,
                    clearance: self.length_of(row, "clearance", Sign::NotNegative),
                    diameter: self.length_of(row, "diameter", Sign::NotNegative),
                })
            }
            _ => {
                let places = self.rows_of(what.value, "`slot` is the two middles of its ends")?;
                let [first, second] = places else {
                    let span = what.value.span();
                    let message = "`slot` is the two middles of its ends";
                    let problem = Diagnostic::error(code::TYPE, span, message);
                    self.report(problem.help("such as slot = [[40, 0], [55, 0]]"));
                    return None;
                };
                let ends = [first, second].map(|value| self.place(draft, part, value));
                let width = self.need(row, "width");
                let width = width.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
                let [Some(first), Some(second)] = ends else {
                    return None;
                };
                Some(Drilled::Slot {
                    ends: [first, second],
                    width: width?,
                })
            }
        }
    }

    /// Whether what is mirrored is there; shapes are looked at when the tool is complete.
    pub(super) fn images_exist(&mut self, outlines: &[Outline], draft: &Draft) {
        for outline in outlines {
            let Border::Mirror { of, .. } = &outline.border else {
                continue;
            };
            if outlines.iter().any(|other| other.part == *of) {
                continue;
            }
            let name = |part: PartId| {
                let part = draft.parts.get(part.index());
                part.map_or("", |part| part.name.as_str()).to_owned()
            };
            let place = format!("outlines.{}.mirror", name(outline.part));
            let span = self.spans.get(&place).cloned().unwrap_or(0..0);
            let named: Vec<String> = outlines.iter().map(|o| name(o.part)).collect();
            let named: Vec<&str> = named.iter().map(String::as_str).collect();
            let message = format!("part `{}` has no outline to mirror", name(*of));
            self.report(
                Diagnostic::error(code::OUTLINE, span, message).help(spelling::hint(
                    &name(*of),
                    "parts with an outline",
                    &named,
                )),
            );
        }
    }
}

/// How many rows an outline has.
fn rows(outline: &Value<'_>) -> usize {
    let DeValue::Table(table) = outline.get_ref() else {
        return 0;
    };
    let list = |value: &DeValue<'_>| value.as_array().map_or(0, |items| items.len());
    let inner = |value: &Value<'_>| match value.get_ref() {
        DeValue::Table(leg) => leg.get("smooth").map_or(0, |run| list(run.get_ref())),
        DeValue::Array(names) => names.len(),
        _ => 0,
    };
    let of = |key: &str| {
        table.get(key).map_or(0, |value| match value.get_ref() {
            DeValue::Array(items) => items.len() + items.iter().map(inner).sum::<usize>(),
            DeValue::Table(discs) => discs.len(),
            _ => 0,
        })
    };
    ["path", "holes", "belts", "round"]
        .into_iter()
        .map(of)
        .sum()
}
