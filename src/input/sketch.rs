//! `[sketch]`: rough places of pins and marks in the fixed part's axes, in the file's units or in
//! pixels of a picture.

use std::collections::BTreeMap;
use std::ops::Range;

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::Sign;
use super::spelling;
use crate::geometry::Pixels;
use crate::model::{PartId, PointKind, PointRef};
use crate::units::Quantity;

/// A point of the tool: a pin, which several parts share, or a mark of one part.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Spot {
    Pin(String),
    Mark(PointRef),
}

/// A sketched place that cannot be read: reported, and not missing.
const UNREADABLE: [f64; 2] = [f64::NAN, f64::NAN];

/// Sketched places, mm, in the fixed part's axes; NaN where one cannot be read.
pub(super) type Sketch = BTreeMap<Spot, [f64; 2]>;

/// A sketched place before its scale is known.
struct Raw<'d> {
    spot: Spot,
    name: String,
    value: &'d Value<'d>,
}

impl Draft {
    pub(super) fn spot(&self, at: PointRef) -> Option<Spot> {
        let point = self.parts.get(at.part.index())?.points.get(at.point)?;
        Some(match point.kind {
            PointKind::Pin => Spot::Pin(point.name.clone()),
            PointKind::Mark => Spot::Mark(at),
        })
    }
}

impl Reader<'_> {
    pub(super) fn sketch(&mut self, entry: &Entry<'_>, draft: &Draft) -> Sketch {
        let Some(fields) = self.table(entry, "[sketch]") else {
            return Sketch::new();
        };
        let mut raw = Vec::new();
        let (mut scale, mut origin) = (None, None);
        for entry in &fields.entries {
            match (entry.key, entry.value.get_ref()) {
                ("scale", DeValue::Table(_)) => scale = Some(entry.clone()),
                ("origin", DeValue::String(_)) => origin = Some(entry.value),
                (part, DeValue::Table(table)) => {
                    // `lever.tip = [..]` without quotes is a table of a part's points.
                    if let Some(index) = self.part_named(draft, part, entry.key_span.clone()) {
                        for inner in Fields::of(table, part, entry.value.span()).entries {
                            self.qualified(draft, index, &inner, inner.key, &mut raw);
                        }
                    }
                }
                (name, _) => match name.split_once('.') {
                    Some((part, point)) => {
                        let span = entry.key_span.clone();
                        if let Some(index) = self.part_named(draft, part, span) {
                            self.qualified(draft, index, entry, point, &mut raw);
                        }
                    }
                    None => self.unqualified(draft, entry, &mut raw),
                },
            }
        }
        match scale {
            Some(scale) => self
                .in_pixels(draft, &raw, &scale, origin)
                .unwrap_or_else(|| raw.iter().map(|r| (r.spot.clone(), UNREADABLE)).collect()),
            None => {
                if let Some(origin) = origin {
                    self.report(
                        Diagnostic::error(
                            code::SKETCH_SCALE,
                            origin.span(),
                            "`origin` is for a sketch in pixels, and there is no `scale`",
                        )
                        .help("add scale = { from = [212, 540], to = [212, 871], length = 50 }"),
                    );
                }
                let mut place = |r: &Raw<'_>| self.coordinates(r.value).unwrap_or(UNREADABLE);
                raw.iter()
                    .map(|r| (r.spot.clone(), place(r)))
                    .collect::<Sketch>()
            }
        }
    }

    fn qualified<'d>(
        &mut self,
        draft: &Draft,
        part: PartId,
        entry: &Entry<'d>,
        name: &str,
        raw: &mut Vec<Raw<'d>>,
    ) {
        if let Some(point) = self.point_of(draft, part, name, entry.key_span.clone())
            && let Some(spot) = draft.spot(PointRef { part, point })
        {
            raw.push(Raw {
                spot,
                name: name.to_owned(),
                value: entry.value,
            });
        }
    }

    fn unqualified<'d>(&mut self, draft: &Draft, entry: &Entry<'d>, raw: &mut Vec<Raw<'d>>) {
        let mut spots: Vec<(Spot, Range<usize>, String)> = Vec::new();
        for (part, of) in PartId::each(&draft.parts) {
            if let Some(point) = of.point_index(entry.key) {
                let at = PointRef { part, point };
                let Some(spot) = draft.spot(at) else { continue };
                let span = draft
                    .spans
                    .get(part.index())
                    .and_then(|s| s.points.get(point))
                    .cloned();
                if !spots.iter().any(|(known, _, _)| *known == spot) {
                    spots.push((spot, span.unwrap_or(0..0), draft.label(at)));
                }
            }
        }
        let name = entry.key;
        match spots.as_slice() {
            [(spot, _, _)] => {
                raw.push(Raw {
                    spot: spot.clone(),
                    name: name.to_owned(),
                    value: entry.value,
                });
            }
            [] => {
                let message = format!("no part has a pin or mark `{name}`");
                let span = entry.key_span.clone();
                let problem = Diagnostic::error(code::UNKNOWN_POINT, span, message);
                self.report(self.hinted(problem, || {
                    let mut names = draft.pin_names();
                    let marks = draft.parts.iter().flat_map(|part| &part.points);
                    names.extend(
                        marks
                            .filter(|p| p.kind == PointKind::Mark)
                            .map(|p| p.name.as_str()),
                    );
                    names.sort_unstable();
                    names.dedup();
                    spelling::hint(name, "points", &names)
                }));
            }
            [(_, first, a), (_, second, b), ..] => self.report(
                Diagnostic::error(
                    code::SKETCH_AMBIGUOUS,
                    entry.key_span.clone(),
                    format!("`{name}` stands for points of several parts"),
                )
                .also(first.clone(), "one of them")
                .also(second.clone(), "another")
                .help(format!(
                    "say which: \"{a}\" or \"{b}\" as the key, in quotes"
                )),
            ),
        }
    }

    /// Pixels, y down, to mm in the fixed part's axes.
    fn in_pixels(
        &mut self,
        draft: &Draft,
        raw: &[Raw<'_>],
        scale: &Entry<'_>,
        origin: Option<&Value<'_>>,
    ) -> Option<Sketch> {
        let fields = self.known_table(scale, "`scale`", &keys::SCALE)?;
        let from = self.need(&fields, "from");
        let from = from.and_then(|v| self.pixel(v));
        let to = self.need(&fields, "to").and_then(|v| self.pixel(v));
        let length = self.need(&fields, "length");
        let length = length.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
        let pixels: Vec<_> = raw.iter().map(|r| (r, self.pixel(r.value))).collect();
        let Some(origin) = origin.or_else(|| fields.get("origin")) else {
            self.report(
                Diagnostic::error(
                    code::SKETCH_SCALE,
                    scale.key_span.clone(),
                    "a sketch in pixels needs `origin`",
                )
                .help("name the sketched point that is the fixed part's datum: origin = \"heel\""),
            );
            return None;
        };
        let name = self.text(origin, "`origin`")?;
        let Some((start, Some(zero))) = pixels.iter().find(|(r, _)| r.name == name) else {
            let names: Vec<&str> = raw.iter().map(|r| r.name.as_str()).collect();
            self.report(
                Diagnostic::error(
                    code::SKETCH_SCALE,
                    origin.span(),
                    format!("`origin` must be a point of the sketch, and `{name}` is none"),
                )
                .help(spelling::hint(name, "sketched points", &names)),
            );
            return None;
        };
        let (from, to, length) = (from?, to?, length?);
        let span = (to[0] - from[0]).hypot(to[1] - from[1]);
        let factor = length / span;
        if !(span >= 1.0 && factor.is_finite()) {
            self.report(
                Diagnostic::error(
                    code::SKETCH_SCALE,
                    fields.span_of("to"),
                    "`from` and `to` are nearer to each other than one pixel",
                )
                .help("pick two points far apart whose true distance is known"),
            );
            return None;
        }
        // The datum of the fixed part is where its table has the origin point.
        let datum = fixed_place(draft, &start.spot).unwrap_or([0.0, 0.0]);
        let lies = Pixels {
            pixel: *zero,
            place: datum,
            mm: factor,
        };
        self.pixels = Some(lies);
        let places = pixels
            .iter()
            .map(|(r, p)| (r.spot.clone(), p.map_or(UNREADABLE, |p| lies.place_of(p))));
        Some(places.collect())
    }

    fn pixel(&mut self, value: &Value<'_>) -> Option<[f64; 2]> {
        let items = self.list(value, "a pixel is a pair [x, y]")?;
        let [x, y] = items else {
            self.report(
                Diagnostic::error(code::TYPE, value.span(), "a pixel is a pair [x, y]")
                    .help("write two numbers: [212, 540]"),
            );
            return None;
        };
        let one = |reader: &mut Self, v| reader.plain(v, "a pixel coordinate", "540");
        let pair = [one(self, x)?, one(self, y)?];
        if pair.iter().all(|v| v.abs() <= 1e6) {
            return Some(pair);
        }
        self.report(
            Diagnostic::error(code::SIZE, value.span(), "no picture has that many pixels")
                .help("give pixel coordinates of at most a million"),
        );
        None
    }
}

/// Whether a sketch says that it is in pixels.
pub(super) fn has_scale(sketch: &Entry<'_>) -> bool {
    matches!(sketch.value.get_ref(), DeValue::Table(table) if table.get("scale").is_some())
}

/// Where the fixed part's own dimensions put a spot.
pub(super) fn fixed_place(draft: &Draft, spot: &Spot) -> Option<[f64; 2]> {
    let part = draft.fixed?;
    let count = draft.parts.get(part.index())?.points.len();
    (0..count)
        .map(|point| PointRef { part, point })
        .find(|&at| draft.spot(at).as_ref() == Some(spot))
        .and_then(|at| draft.at(at))
}
