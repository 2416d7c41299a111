//! `[[slots]]`: a point of one part rides in a straight slot of another.

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::{Sign, plain_problem};
use crate::model::{PointRef, Slot, Values};
use crate::units::Quantity;

impl Reader<'_> {
    pub(super) fn slots(&mut self, entry: &Entry<'_>, draft: &Draft) -> Vec<Slot> {
        let tables = self.tables(entry, "[[slots]]", &keys::SLOT);
        tables
            .iter()
            .filter_map(|fields| self.slot(fields, draft))
            .collect()
    }

    fn slot(&mut self, fields: &Fields<'_>, draft: &Draft) -> Option<Slot> {
        let part = self.need(fields, "part");
        let part = part.and_then(|v| self.part(draft, v, "part"));
        let point = self.need(fields, "point");
        let point = match (part, point) {
            (Some(part), Some(value)) => self
                .text(value, "`point`")
                .and_then(|name| self.point_of(draft, part, name, value.span())),
            _ => None,
        };
        let on = self.need(fields, "on");
        let on = on.and_then(|v| self.part(draft, v, "on"));
        if let (Some(a), Some(b)) = (part, on)
            && a == b
        {
            self.report(
                Diagnostic::error(
                    code::SLOT_SAME_PART,
                    fields.span_of("on"),
                    "the slot is on the part that rides in it",
                )
                .help("`on` names the other part, the one that has the slot"),
            );
        }
        let through = self.need(fields, "through");
        let through = match (on, through) {
            (Some(on), Some(value)) => self.place(draft, on, value),
            _ => None,
        };
        let angle = self.need(fields, "angle");
        let angle = angle.and_then(|v| self.quantity(v, Quantity::Angle, Sign::Any));
        let keyed = fields
            .get("keyed")
            .and_then(|v| self.flag(v, "keyed"))
            .unwrap_or(false);
        let turn = fields
            .get("turn")
            .and_then(|v| self.quantity(v, Quantity::Angle, Sign::Any));
        for key in ["turn", "width"] {
            if !keyed && fields.get(key).is_some() {
                self.report(
                    Diagnostic::error(
                        code::TOGETHER,
                        fields.span_of(key),
                        format!("`{key}` is for a slider that may not turn"),
                    )
                    .help(format!("add `keyed = true`, or take `{key}` out")),
                );
            }
        }
        let friction = fields.get("friction").and_then(|v| self.friction(v));
        let width = fields.get("width");
        let width = width.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
        Some(Slot {
            rider: PointRef {
                part: part?,
                point: point?,
            },
            on: on?,
            through: through?,
            angle: angle?,
            keyed: keyed.then_some(turn.unwrap_or(0.0)),
            friction: friction.unwrap_or(0.0),
            width,
        })
    }

    /// A coefficient of friction.
    pub(super) fn friction(&mut self, value: &Value<'_>) -> Option<f64> {
        let friction = self.plain(value, "`friction`", "0.12")?;
        let Some((what, help)) = plain_problem(friction, Values::Friction) else {
            return Some(friction);
        };
        self.report(Diagnostic::error(code::FRICTION, value.span(), what).help(help));
        None
    }
}
