//! The parts as far as they are read, and names that point into them.

use std::ops::Range;

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Reader, Value};
use super::spelling;
use crate::model::{Part, PartId, PinJoint, Place, PointKind, PointRef};

/// Parts with the places where they are named. A coordinate that is not known (yet) is NaN.
#[derive(Default)]
pub(super) struct Draft {
    pub(super) parts: Vec<Part>,
    pub(super) spans: Vec<PartSpans>,
    pub(super) fixed: Option<PartId>,
    pub(super) joints: Vec<PinJoint>,
    /// The sketch is in pixels.
    pub(super) pixels: bool,
}

/// Where a part is named.
pub(super) struct PartSpans {
    pub(super) name: Range<usize>,
    /// Of each of the part's points.
    pub(super) points: Vec<Range<usize>>,
    /// Of each point: only named, so that its place comes from the sketch.
    pub(super) listed: Vec<bool>,
}

impl Draft {
    pub(super) fn part_names(&self) -> Vec<&str> {
        self.parts.iter().map(|part| part.name.as_str()).collect()
    }

    /// Names of all pins, each once, in file order.
    pub(super) fn pin_names(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for point in self.parts.iter().flat_map(|part| &part.points) {
            if point.kind == PointKind::Pin && !names.contains(&point.name.as_str()) {
                names.push(&point.name);
            }
        }
        names
    }

    /// The parts on a pin, in file order, with the index of the pin among each one's points.
    pub(super) fn on_pin(&self, pin: &str) -> Vec<PointRef> {
        let mut on = Vec::new();
        for (part, of) in PartId::each(&self.parts) {
            for (point, p) in of.points.iter().enumerate() {
                if p.kind == PointKind::Pin && p.name == pin {
                    on.push(PointRef { part, point });
                    break;
                }
            }
        }
        on
    }

    /// Whether a point is only named, so that its place comes from the sketch.
    pub(super) fn listed(&self, at: PointRef) -> bool {
        let part = self.spans.get(at.part.index());
        part.and_then(|spans| spans.listed.get(at.point)) == Some(&true)
    }

    /// A place in its part's axes, if it is known.
    pub(super) fn at(&self, point: PointRef) -> Option<[f64; 2]> {
        let at = self
            .parts
            .get(point.part.index())?
            .points
            .get(point.point)?
            .at;
        at.iter().all(|v| v.is_finite()).then_some(at)
    }

    pub(super) fn place_at(&self, part: PartId, place: Place) -> Option<[f64; 2]> {
        match place {
            Place::At(at) => Some(at),
            Place::Point(point) => self.at(PointRef { part, point }),
        }
    }

    pub(super) fn label(&self, point: PointRef) -> String {
        let part = self.parts.get(point.part.index());
        let name = part.and_then(|part| part.points.get(point.point));
        match (part, name) {
            (Some(part), Some(point)) => format!("{}.{}", part.name, point.name),
            _ => String::new(),
        }
    }
}

impl Reader<'_> {
    /// A part by its name.
    pub(super) fn part(&mut self, draft: &Draft, value: &Value<'_>, key: &str) -> Option<PartId> {
        let name = self.text(value, &format!("`{key}`"))?;
        self.part_named(draft, name, value.span())
    }

    pub(super) fn part_named(
        &mut self,
        draft: &Draft,
        name: &str,
        span: Range<usize>,
    ) -> Option<PartId> {
        let found = draft.parts.iter().position(|part| part.name == name);
        let found = found.map(PartId::new);
        if found.is_none() {
            self.report(
                Diagnostic::error(
                    code::UNKNOWN_PART,
                    span,
                    format!("no part is called `{name}`"),
                )
                .help(spelling::hint(name, "parts", &draft.part_names())),
            );
        }
        found
    }

    /// A pin or mark of a part, by its name alone.
    pub(super) fn point_of(
        &mut self,
        draft: &Draft,
        part: PartId,
        name: &str,
        span: Range<usize>,
    ) -> Option<usize> {
        let of = draft.parts.get(part.index())?;
        let found = of.point_index(name);
        if found.is_none() {
            let problem = Diagnostic::error(
                code::UNKNOWN_POINT,
                span,
                format!("part `{}` has no pin or mark `{name}`", of.name),
            );
            let mut problem = self.hinted(problem, || {
                let names: Vec<&str> = of.points.iter().map(|p| p.name.as_str()).collect();
                spelling::hint(name, "its points", &names)
            });
            if let Some(defined) = draft.spans.get(part.index()) {
                problem = problem.also(defined.name.clone(), "this part");
            }
            self.report(problem);
        }
        found
    }

    /// `"part.point"`.
    pub(super) fn point(
        &mut self,
        draft: &Draft,
        value: &Value<'_>,
        key: &str,
    ) -> Option<PointRef> {
        let text = self.text(value, &format!("`{key}`"))?;
        let Some((part, point)) = text.split_once('.') else {
            let owners: Vec<String> = draft
                .parts
                .iter()
                .filter(|part| part.point_index(text).is_some())
                .map(|part| format!("{}.{text}", part.name))
                .collect();
            let help = match owners.is_empty() {
                true => "write it as \"part.point\"".to_owned(),
                false => format!("write it as \"part.point\": {}", owners.join(" or ")),
            };
            self.report(
                Diagnostic::error(
                    code::UNKNOWN_POINT,
                    value.span(),
                    format!("`{text}` does not say on which part the point is"),
                )
                .help(help),
            );
            return None;
        };
        let part = self.part_named(draft, part, value.span())?;
        let point = self.point_of(draft, part, point, value.span())?;
        Some(PointRef { part, point })
    }

    /// A place on a part: coordinates, or the name of one of its points.
    pub(super) fn place(
        &mut self,
        draft: &Draft,
        part: PartId,
        value: &Value<'_>,
    ) -> Option<Place> {
        match value.get_ref() {
            DeValue::String(name) => {
                let point = self.point_of(draft, part, name, value.span())?;
                Some(Place::Point(point))
            }
            _ => self.coordinates(value).map(Place::At),
        }
    }
}
