//! `[[slots]]`: a point of one part rides in a slot of another, straight or an arc.

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::{Sign, plain_problem};
use crate::model::{Material, PartId, PointRef, Roller, Slot, SlotLine, Values};
use crate::units::Quantity;

impl Reader<'_> {
    pub(super) fn slots(
        &mut self,
        entry: &Entry<'_>,
        draft: &Draft,
        materials: &[Material],
    ) -> Vec<Slot> {
        let tables = self.tables(entry, "[[slots]]", &keys::SLOT);
        tables
            .iter()
            .filter_map(|fields| self.slot(fields, draft, materials))
            .collect()
    }

    fn slot(&mut self, fields: &Fields<'_>, draft: &Draft, materials: &[Material]) -> Option<Slot> {
        let name = self.contact_name(fields);
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
        let line = self.slot_line(fields, draft, on);
        let keyed = fields
            .get("keyed")
            .and_then(|v| self.flag(v, "keyed"))
            .unwrap_or(false);
        let turn = fields
            .get("turn")
            .and_then(|v| self.quantity(v, Quantity::Angle, Sign::Any));
        for key in ["turn", "width"] {
            if !keyed && fields.get(key).is_some() {
                self.not_both(
                    fields,
                    key,
                    &format!("`{key}` is for a slider that may not turn"),
                    &format!("add `keyed = true`, or take `{key}` out"),
                );
            }
        }
        for key in ["centre", "roller"] {
            if keyed && fields.get(key).is_some() {
                self.not_both(
                    fields,
                    key,
                    &format!("a slider that may not turn has no `{key}`"),
                    &format!("take out `keyed`, or `{key}`"),
                );
            }
        }
        let friction = fields.get("friction").and_then(|v| self.friction(v));
        let width = fields.get("width");
        let width = width.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
        let material = fields.get("material");
        let material = material.and_then(|v| self.material(materials, v));
        let roller = fields.entry("roller").map(|entry| self.roller(entry));
        if let (Some(SlotLine::Arc { radius, .. }), Some(Some(roller))) = (line, roller)
            && radius <= 0.5 * roller.diameter
        {
            let problem = Diagnostic::error(
                code::ROLLER,
                fields.span_of("radius"),
                "the roller reaches beyond the centre of the arc",
            );
            self.report(problem.help(
                "`radius` is that of the centre line, and is greater than half the roller's diameter",
            ));
        }
        Some(Slot {
            name,
            rider: PointRef {
                part: part?,
                point: point?,
            },
            on: on?,
            line: line?,
            keyed: keyed.then_some(turn.unwrap_or(0.0)),
            friction: friction.unwrap_or(0.0),
            width,
            roller: match roller {
                Some(roller) => Some(roller?),
                None => None,
            },
            material,
        })
    }

    /// The centre line: `through` and `angle`, or `centre` and `radius`.
    fn slot_line(
        &mut self,
        fields: &Fields<'_>,
        draft: &Draft,
        on: Option<PartId>,
    ) -> Option<SlotLine> {
        let arc = fields.meant("centre") || fields.meant("radius");
        let (from, size) = if arc {
            ("centre", "radius")
        } else {
            ("through", "angle")
        };
        for key in ["through", "angle"] {
            if arc && fields.get(key).is_some() {
                self.not_both(
                    fields,
                    key,
                    &format!("an arc slot has no `{key}`"),
                    "write `centre` and `radius` for an arc, `through` and `angle` for a straight slot",
                );
            }
        }
        let place = self.need(fields, from);
        let place = match (on, place) {
            (Some(on), Some(value)) => self.place(draft, on, value),
            _ => None,
        };
        let value = self.need(fields, size);
        if arc {
            let radius = value.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
            let (centre, radius) = (place?, radius?);
            Some(SlotLine::Arc { centre, radius })
        } else {
            let angle = value.and_then(|v| self.quantity(v, Quantity::Angle, Sign::Any));
            let (through, angle) = (place?, angle?);
            Some(SlotLine::Straight { through, angle })
        }
    }

    /// `roller = { diameter, pin, width }`.
    pub(super) fn roller(&mut self, entry: &Entry<'_>) -> Option<Roller> {
        let fields = self.known_table(entry, "`roller`", &keys::ROLLER)?;
        let length = |reader: &mut Self, value: Option<&Value<'_>>| {
            value.and_then(|v| reader.quantity(v, Quantity::Length, Sign::Positive))
        };
        let diameter = self.need(&fields, "diameter");
        let diameter = length(self, diameter);
        let pin = self.need(&fields, "pin");
        let pin = length(self, pin);
        let width = length(self, fields.get("width"));
        let (diameter, pin) = (diameter?, pin?);
        if pin >= diameter {
            let message = "the roller's pin is not thinner than the roller";
            let problem = Diagnostic::error(code::ROLLER, fields.span_of("pin"), message);
            self.report(
                problem.help("`diameter` is that of its rim, `pin` that of the pin it turns on"),
            );
        }
        Some(Roller {
            diameter,
            pin,
            width,
        })
    }

    fn not_both(&mut self, fields: &Fields<'_>, key: &str, message: &str, help: &str) {
        let problem = Diagnostic::error(code::TOGETHER, fields.span_of(key), message);
        self.report(problem.help(help));
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
