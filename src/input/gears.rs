//! `[[gears]]`: two tooth sectors in mesh, or a sector and a rack.

mod pitch;

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::Sign;
use super::spelling;
use crate::model::{Gears, Material, Mesh, PartId, PointKind, PointRef, Slot};
use crate::units::Quantity;
use std::f64::consts::{FRAC_PI_4, TAU};

/// Fewest teeth of a wheel that are taken, and most.
const FEWEST: i64 = 4;
const MOST: i64 = 1000;

/// What the readers of one table look things up in.
#[derive(Clone, Copy)]
struct Known<'a> {
    draft: &'a Draft,
    slots: &'a [Slot],
    materials: &'a [Material],
}

impl Reader<'_> {
    pub(super) fn gears(
        &mut self,
        entry: &Entry<'_>,
        draft: &Draft,
        slots: &[Slot],
        materials: &[Material],
    ) -> Vec<Gears> {
        let known = Known {
            draft,
            slots,
            materials,
        };
        let mut all: Vec<Gears> = Vec::new();
        for fields in &self.tables(entry, "[[gears]]", &keys::GEARS) {
            let Some(gears) = self.pair_of_gears(fields, known) else {
                continue;
            };
            all.push(gears);
        }
        all
    }

    fn pair_of_gears(&mut self, fields: &Fields<'_>, known: Known<'_>) -> Option<Gears> {
        let name = self.contact_name(fields);
        let teeth = self.teeth(fields);
        let parts = self.toothed(fields, known.draft);
        let about = match (parts, teeth) {
            (Some(parts), Some(teeth)) => self.turns_about(fields, known, parts, teeth[1] == 0),
            _ => None,
        };
        let marks = parts.and_then(|parts| self.witness(fields, known.draft, parts));
        let angle = self.pressure(fields);
        let sector = match teeth {
            Some(teeth) => self.sectors(fields, teeth[1] == 0),
            None => [None; 2],
        };
        let mut length = |key: &str, sign: Sign| {
            let value = fields.get(key)?;
            self.quantity(value, Quantity::Length, sign)
        };
        let face = length("face", Sign::Positive);
        let backlash = length("backlash", Sign::NotNegative);
        let friction = fields.get("friction").and_then(|v| self.friction(v));
        let material = fields.get("material");
        let material = material.and_then(|v| self.material(known.materials, v));
        let internal = fields.get("internal");
        let internal = internal.and_then(|v| self.flag(v, "internal"));
        let (about, teeth) = (about?, teeth?);
        let mut gears = Gears {
            name,
            on: about.on,
            parts: parts?,
            about: about.pins,
            centres: about.centres,
            marks: marks?,
            mesh: about
                .slot
                .map_or(Mesh::External, |slot| Mesh::Rack { slot }),
            teeth,
            sector,
            angle: angle?,
            face,
            backlash,
            friction: friction.unwrap_or(0.0),
            material,
        };
        self.pitch_fits(fields, known.draft, known.slots, internal, &mut gears)?;
        self.sectors_have_teeth(fields, known.draft, &gears);
        Some(gears)
    }

    /// The two values of a list.
    fn two<'d>(&mut self, value: &'d Value<'d>, key: &str) -> Option<&'d [Value<'d>; 2]> {
        let items = self.list(
            value,
            &format!("`{key}` is a list of two, one for each part"),
        )?;
        let two = items.try_into().ok();
        if two.is_none() {
            let message = format!(
                "`{key}` has {} value{}, and there are two toothed parts",
                items.len(),
                if items.len() == 1 { "" } else { "s" }
            );
            let problem = Diagnostic::error(code::TYPE, value.span(), message);
            self.report(problem.help("write one for each part, in the order of `parts`"));
        }
        two
    }

    fn teeth(&mut self, fields: &Fields<'_>) -> Option<[u32; 2]> {
        let value = self.need(fields, "teeth")?;
        let two = self.two(value, "teeth")?;
        let first = self.teeth_of(&two[0], false);
        let second = self.teeth_of(&two[1], true);
        Some([first?, second?])
    }

    fn teeth_of(&mut self, value: &Value<'_>, may_be_rack: bool) -> Option<u32> {
        let count = self.whole(value, "teeth")?;
        if (FEWEST..=MOST).contains(&count) || (may_be_rack && count == 0) {
            return u32::try_from(count).ok();
        }
        let message = format!("a wheel with {count} teeth is not taken");
        let problem = Diagnostic::error(code::GEARS, value.span(), message);
        self.report(
            problem.help(match count {
                0 => "a rack is the second of the two: change the order in every list of the table"
                    .to_owned(),
                _ => {
                    format!("count those of the full circle, from {FEWEST} to {MOST}; 0 for a rack")
                }
            }),
        );
        None
    }

    fn toothed(&mut self, fields: &Fields<'_>, draft: &Draft) -> Option<[PartId; 2]> {
        let value = self.need(fields, "parts")?;
        let two = self.two(value, "parts")?;
        let first = self.part(draft, &two[0], "parts");
        let second = self.part(draft, &two[1], "parts");
        let (first, second) = (first?, second?);
        if first == second {
            let message = "a part cannot be in mesh with itself";
            let problem = Diagnostic::error(code::GEARS, value.span(), message);
            self.report(problem.help("`parts` names the two parts that have the teeth"));
            return None;
        }
        Some([first, second])
    }

    fn witness(
        &mut self,
        fields: &Fields<'_>,
        draft: &Draft,
        parts: [PartId; 2],
    ) -> Option<[usize; 2]> {
        let value = self.need(fields, "meet")?;
        let two = self.two(value, "meet")?;
        let mut marks = [None; 2];
        for side in 0..2 {
            let Some(mark) = self.point(draft, &two[side], "meet") else {
                continue;
            };
            if mark.part == parts[side] {
                marks[side] = Some(mark.point);
                continue;
            }
            let part = draft.parts.get(parts[side].index());
            let part = part.map_or("", |part| part.name.as_str());
            let message = format!("this mark is not on `{part}`");
            let problem = Diagnostic::error(code::GEARS, two[side].span(), message);
            self.report(problem.help("`meet` names a mark of each part, in the order of `parts`"));
            return None;
        }
        Some([marks[0]?, marks[1]?])
    }

    fn pressure(&mut self, fields: &Fields<'_>) -> Option<f64> {
        let value = self.need(fields, "angle")?;
        let angle = self.quantity(value, Quantity::Angle, Sign::Positive)?;
        if angle < FRAC_PI_4 {
            return Some(angle);
        }
        let message = "teeth with such a pressure angle are not made";
        let problem = Diagnostic::error(code::GEARS, value.span(), message);
        self.report(problem.help("20 degrees is usual, 14.5 on old wheels; it must be below 45"));
        None
    }

    fn sectors(&mut self, fields: &Fields<'_>, rack: bool) -> [Option<f64>; 2] {
        let Some(value) = fields.get("sector") else {
            return [None; 2];
        };
        let Some(two) = self.two(value, "sector") else {
            return [None; 2];
        };
        let first = self.quantity(&two[0], Quantity::Angle, Sign::Positive);
        let second = match rack {
            true => Quantity::Length,
            false => Quantity::Angle,
        };
        let second = self.quantity(&two[1], second, Sign::Positive);
        [first, second]
    }

    /// A sector of fewer than two teeth holds nothing, and more than the circle is not there.
    fn sectors_have_teeth(&mut self, fields: &Fields<'_>, draft: &Draft, gears: &Gears) {
        for side in 0..2 {
            let Some(cut) = gears.sector[side] else {
                continue;
            };
            let rack = gears.teeth[side] == 0;
            let whole = match rack {
                true => match self.pitch_radius(draft, gears, 0) {
                    Some(radius) => TAU * radius / f64::from(gears.teeth[0]),
                    None => continue,
                },
                false => TAU / f64::from(gears.teeth[side]),
            };
            let part = draft.parts.get(gears.parts[side].index());
            let part = part.map_or("", |part| part.name.as_str());
            let teeth = cut / whole;
            if teeth < 2.0 - 1e-9 {
                let message = format!(
                    "the sector of `{part}` has room for {} teeth",
                    super::size::short(teeth)
                );
                let problem = Diagnostic::error(code::GEARS, fields.span_of("sector"), message);
                self.report(
                    problem.help("two or more must be cut, so that one takes over from the other"),
                );
            } else if !rack && cut > TAU * (1.0 + 1e-9) {
                let message = format!("the sector of `{part}` is more than the full circle");
                let problem = Diagnostic::error(code::GEARS, fields.span_of("sector"), message);
                self.report(problem.help("write how much of the circle is cut: \"70 deg\""));
            }
        }
    }
}

/// What the two turn about.
struct About {
    on: PartId,
    pins: [usize; 2],
    centres: [usize; 2],
    slot: Option<usize>,
}

impl Reader<'_> {
    fn turns_about(
        &mut self,
        fields: &Fields<'_>,
        known: Known<'_>,
        parts: [PartId; 2],
        rack: bool,
    ) -> Option<About> {
        let value = self.need(fields, "about")?;
        let two = self.two(value, "about")?;
        let first = self.pin_about(known.draft, &two[0], parts[0]);
        if rack {
            let slot = self.rack_slot(known, &two[1], parts[1]);
            let (first, (slot, point)) = (first?, slot?);
            let on = known.slots.get(slot)?.on;
            let centre = self.centre(known.draft, &two[0], first.0, on)?;
            return Some(About {
                on,
                pins: [first.1, point],
                centres: [centre; 2],
                slot: Some(slot),
            });
        }
        let second = self.pin_about(known.draft, &two[1], parts[1]);
        let (first, second) = (first?, second?);
        if first.0 == second.0 {
            let message =
                "both turn about the same pin, so that their teeth never move past each other";
            let problem = Diagnostic::error(code::GEARS, value.span(), message);
            self.report(
                problem.help("`about` names the pin of each part, in the order of `parts`"),
            );
            return None;
        }
        let both = PartId::each(&known.draft.parts).find_map(|(part, of)| {
            let has = [of.pin_index(first.0)?, of.pin_index(second.0)?];
            (!parts.contains(&part)).then_some((part, has))
        });
        let Some((on, centres)) = both else {
            let message = format!("no part carries both `{}` and `{}`", first.0, second.0);
            let problem = Diagnostic::error(code::GEARS, value.span(), message);
            self.report(problem.help(
                "the distance of the two pins must be fixed: give both to one part beside the two toothed ones",
            ));
            return None;
        };
        Some(About {
            on,
            pins: [first.1, second.1],
            centres,
            slot: None,
        })
    }

    /// A pin of a part, by its name alone.
    fn pin_about<'d>(
        &mut self,
        draft: &Draft,
        value: &'d Value<'d>,
        part: PartId,
    ) -> Option<(&'d str, usize)> {
        let name = self.text(value, "`about`")?;
        let point = self.point_of(draft, part, name, value.span())?;
        let of = draft.parts.get(part.index())?;
        if of.points.get(point)?.kind == PointKind::Pin {
            return Some((name, point));
        }
        let message = format!("`{name}` is a mark of `{}`, and no pin", of.name);
        let problem = Diagnostic::error(code::GEARS, value.span(), message);
        self.report(problem.help("a toothed part turns about a pin: list the point under `pins`"));
        None
    }

    /// The pinion's pin on the part that has the rack's slot.
    fn centre(&mut self, draft: &Draft, value: &Value<'_>, pin: &str, on: PartId) -> Option<usize> {
        let of = draft.parts.get(on.index())?;
        let found = of.pin_index(pin);
        if found.is_none() {
            let message = format!(
                "`{}`, which has the rack's slot, has no pin `{pin}`",
                of.name
            );
            let problem = Diagnostic::error(code::GEARS, value.span(), message);
            self.report(problem.help(
                "the part in which the rack slides must also carry the pin that the pinion turns about",
            ));
        }
        found
    }

    /// The keyed slot in which a point of the rack rides.
    fn rack_slot(
        &mut self,
        known: Known<'_>,
        value: &Value<'_>,
        rack: PartId,
    ) -> Option<(usize, usize)> {
        let name = self.text(value, "`about`")?;
        let point = self.point_of(known.draft, rack, name, value.span())?;
        let rider = PointRef { part: rack, point };
        let rides = |slot: &Slot| slot.keyed.is_some() && slot.rider == rider;
        if let Some(slot) = known.slots.iter().position(rides) {
            return Some((slot, point));
        }
        let others: Vec<&str> = (known.slots.iter())
            .filter(|slot| slot.keyed.is_some() && slot.rider.part == rack)
            .filter_map(|slot| {
                known
                    .draft
                    .parts
                    .get(rack.index())?
                    .points
                    .get(slot.rider.point)
            })
            .map(|point| point.name.as_str())
            .collect();
        let message = format!("`{name}` rides in no keyed slot, as a rack must");
        let problem = Diagnostic::error(code::GEARS, value.span(), message);
        self.report(problem.help(match others.as_slice() {
            [] => "let it slide straight: [[slots]] with `keyed = true`".to_owned(),
            others => spelling::hint(name, "points that do", others),
        }));
        None
    }
}
