//! `[[adjusters]]`: eccentric pins, screws, shims.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Entry, Fields, Reader};
use super::keys;
use super::setting::setting_problem;
use super::size::{Sign, value_problem};
use super::spelling;
use super::tolerances::Addresses;
use crate::model::dimension::DimensionSlot;
use crate::model::{Adjuster, Adjusts, JointId, PartId, PointKind, PointRef, Shape, Tool};
use crate::units::Quantity;

/// Most notches: nobody counts more. `setup` sets the tool up once for each.
const MOST_NOTCHES: i64 = 200;
const MOST_ADJUSTERS: usize = 20;

impl Reader<'_> {
    pub(super) fn adjusters(
        &mut self,
        entry: &Entry<'_>,
        tool: &Tool,
        known: &Addresses,
    ) -> Vec<Adjuster> {
        let mut all: Vec<Adjuster> = Vec::new();
        let tables = self.tables(entry, "[[adjusters]]", &keys::ADJUSTER);
        if tables.len() > MOST_ADJUSTERS {
            let message = format!("{} adjusters are more than are taken", tables.len());
            let span = entry.key_span.clone();
            let problem = Diagnostic::error(code::TOO_MANY, span, message);
            self.report(problem.help(format!("at most {MOST_ADJUSTERS} are taken")));
            return all;
        }
        for fields in &tables {
            let Some(adjuster) = self.adjuster(fields, tool, known) else {
                continue;
            };
            if all.iter().any(|known| known.name == adjuster.name) {
                let message = format!("an adjuster is called `{}` already", adjuster.name);
                let span = fields.span_of("name");
                let problem = Diagnostic::error(code::NAME_TWICE, span, message);
                self.report(problem.help("give each adjuster a name of its own"));
            }
            all.push(adjuster);
        }
        all
    }

    fn adjuster(
        &mut self,
        fields: &Fields<'_>,
        tool: &Tool,
        known: &Addresses,
    ) -> Option<Adjuster> {
        let name = self.need(fields, "name");
        let name = name.and_then(|v| Some((self.text(v, "`name`")?, v.span())));
        let name = name.filter(|(name, span)| self.good_name(name, span.clone()));
        let (pin, number) = (fields.get("pin"), fields.get("dimension"));
        if pin.is_some() == number.is_some() {
            let problem = Diagnostic::error(
                code::TOGETHER,
                fields.span.clone(),
                "an adjuster turns an eccentric `pin`, or moves a `dimension`: one of the two",
            );
            self.report(problem.help("write `pin`, `on` and `throw`, or `dimension`"));
            return None;
        }
        let turns = pin.is_some();
        let others: &[&str] = match turns {
            true => &["pitch"],
            false => &["on", "throw"],
        };
        for key in others {
            if fields.get(key).is_some() {
                let with = if turns { "dimension" } else { "pin" };
                let problem = Diagnostic::error(
                    code::TOGETHER,
                    fields.span_of(key),
                    format!("`{key}` goes with `{with}` only"),
                );
                self.report(problem.help("take it out"));
            }
        }
        let moves = match turns {
            true => self.eccentric(fields, tool, known),
            false => self.moved(fields, known),
        };
        let quantity = match turns {
            true => Quantity::Angle,
            false => Quantity::Length,
        };
        let from = self.need(fields, "from");
        let from = from.and_then(|v| self.quantity(v, quantity, Sign::Any));
        let to = self.need(fields, "to");
        let to = to.and_then(|v| self.quantity(v, quantity, Sign::Any));
        let now = match fields.get("now") {
            Some(value) => self.quantity(value, quantity, Sign::Any),
            None => Some(0.0),
        };
        let (from, to, now) = (from?, to?, now?);
        if from >= to {
            let span = fields.span_of("to");
            let problem = Diagnostic::error(code::RANGE, span, "`to` is not greater than `from`");
            self.report(problem.help("give the range from its least to its greatest setting"));
            return None;
        }
        let notches = match fields.get("notches") {
            None => None,
            Some(value) => {
                let count = self.whole(value, "notches")?;
                if !(2..=MOST_NOTCHES).contains(&count) {
                    let message = format!("{count} notches are not possible");
                    let problem = Diagnostic::error(code::RANGE, value.span(), message);
                    self.report(problem.help(format!(
                        "`notches` counts them from `from` to `to`, both with them: from 2 to {MOST_NOTCHES}"
                    )));
                    return None;
                }
                usize::try_from(count).ok()
            }
        };
        let moves = moves?;
        if let Adjusts::Number { slot, .. } = &moves {
            self.stays_possible(fields, tool, *slot, [from - now, to - now]);
        }
        let adjuster = Adjuster {
            name: name?.0.to_owned(),
            moves,
            from,
            to,
            now,
            notches,
        };
        if let Some((what, help)) = setting_problem(&adjuster, now, self.units) {
            let span = match fields.get("now") {
                Some(value) => value.span(),
                None => fields.span.clone(),
            };
            let message =
                format!("`now`, with which the tool is drawn (0 where it is left out): {what}");
            let problem = Diagnostic::error(code::RANGE, span, message);
            self.report(problem.help(help));
        }
        Some(adjuster)
    }

    fn eccentric(
        &mut self,
        fields: &Fields<'_>,
        tool: &Tool,
        known: &Addresses,
    ) -> Option<Adjusts> {
        let part = self.need(fields, "on");
        let part = part.and_then(|v| Some((self.text(v, "`on`")?, v.span())));
        let throw = self.need(fields, "throw");
        let throw = throw.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
        let (part, span) = part?;
        let Some(on) = tool.part_index(part) else {
            let names: Vec<&str> = tool.parts.iter().map(|part| part.name.as_str()).collect();
            let message = format!("no part is called `{part}`");
            let problem = Diagnostic::error(code::UNKNOWN_PART, span, message);
            self.report(problem.help(spelling::hint(part, "parts", &names)));
            return None;
        };
        let value = fields.get("pin")?;
        let name = self.text(value, "`pin`")?;
        let of = tool.part(on)?;
        let Some(point) = of.pin_index(name) else {
            let (message, help) = match of.point_index(name) {
                Some(_) => (
                    format!("`{name}` is a mark of `{part}`, not a pin"),
                    "an eccentric turns in a hole: name a pin; a mark is moved by `dimension`"
                        .to_owned(),
                ),
                None => {
                    let pins = of.points.iter().filter(|p| p.kind == PointKind::Pin);
                    let pins: Vec<&str> = pins.map(|p| p.name.as_str()).collect();
                    (
                        format!("`{part}` has no pin `{name}`"),
                        spelling::hint(name, "pins", &pins),
                    )
                }
            };
            let problem = Diagnostic::error(code::UNKNOWN_PIN, value.span(), message);
            self.report(problem.help(help));
            return None;
        };
        let pin = PointRef { part: on, point };
        if of.shape == Shape::Length {
            let problem = Diagnostic::error(
                code::ADJUSTER,
                value.span(),
                format!("`{part}` has a length in place of coordinates, so its hole has no axes"),
            );
            self.report(problem.help("give its pins as coordinates"));
            return None;
        }
        let tied = |slot| known.ties.iter().any(|tie| tie.slot == slot);
        if tied(DimensionSlot::X(pin)) || tied(DimensionSlot::Y(pin)) {
            let problem = Diagnostic::error(
                code::TIED,
                value.span(),
                format!("the place of `{name}` follows another number, as [ties] says"),
            );
            self.report(problem.help("take its tie out"));
            return None;
        }
        let throw = throw?;
        if let Some(radius) = radius(tool, on, name)
            && throw >= radius
        {
            let show = |mm: f64| super::size::short(self.units.show(mm, Quantity::Length));
            let message = format!(
                "the throw is not smaller than the pin's radius of {} {}",
                show(radius),
                self.units.symbol(Quantity::Length)
            );
            let problem = Diagnostic::error(code::ADJUSTER, fields.span_of("throw"), message);
            self.report(problem.help("a smaller throw, or a thicker pin: `diameter` in [joints]"));
        }
        Some(Adjusts::Eccentric { pin, throw })
    }

    fn moved(&mut self, fields: &Fields<'_>, known: &Addresses) -> Option<Adjusts> {
        let value = fields.get("dimension")?;
        let address = self.text(value, "`dimension`")?;
        let slot = self.dimension(address, value.span(), known, false)?;
        if slot.quantity() != Some(Quantity::Length) {
            let problem = Diagnostic::error(
                code::ADJUSTER,
                value.span(),
                format!("`{address}` is not a length"),
            );
            self.report(problem.help("screws and shims move lengths: name one"));
            return None;
        }
        let pitch = match fields.get("pitch") {
            Some(value) => Some(self.quantity(value, Quantity::Length, Sign::Positive)?),
            None => None,
        };
        Some(Adjusts::Number {
            dimension: address.to_owned(),
            slot,
            pitch,
        })
    }

    /// A dimension may have its value at both ends of the range.
    fn stays_possible(
        &mut self,
        fields: &Fields<'_>,
        tool: &Tool,
        slot: DimensionSlot,
        ends: [f64; 2],
    ) {
        let Some(value) = slot.get(tool) else { return };
        for (key, by) in ["from", "to"].into_iter().zip(ends) {
            if let Some((what, help)) = value_problem(value + by, slot, self.units) {
                let message = format!("with this setting: {what}");
                let problem = Diagnostic::error(code::SIZE, fields.span_of(key), message);
                self.report(problem.help(help));
            }
        }
    }
}

/// Half the least diameter that a pin of a part has in any of its joints, mm.
fn radius(tool: &Tool, part: PartId, pin: &str) -> Option<f64> {
    let joints = JointId::each(&tool.joints);
    let of = joints.filter(|(_, joint)| joint.pin == pin && joint.touches(part));
    let known = of.filter_map(|(joint, _)| tool.joint_data.get(joint.index())?.diameter);
    known.reduce(f64::min).map(|diameter| 0.5 * diameter)
}
