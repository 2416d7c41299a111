//! `[ratchet]`: teeth, and a pawl that lets the tool close and not open.

use super::around::Around;
use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader};
use super::keys;
use super::size::Sign;
use super::spelling;
use crate::model::{JointId, Material, PartId, Pawl, Ratchet};
use crate::units::Quantity;
use std::f64::consts::TAU;

/// Most teeth in the full circle: finer ones nobody cuts, and each is looked for on the stroke.
const MOST_TEETH: f64 = 1000.0;

impl Reader<'_> {
    pub(super) fn ratchet(
        &mut self,
        entry: &Entry<'_>,
        around: Around<'_>,
        materials: &[Material],
    ) -> Option<Ratchet> {
        let draft = around.draft;
        let fields = self.known_table(entry, "[ratchet]", &keys::RATCHET)?;
        let teeth_on = self.need(&fields, "teeth-on");
        let teeth_on = teeth_on.and_then(|v| self.part(draft, v, "teeth-on"));
        let pawl = self.need(&fields, "pawl");
        let pawl = pawl.and_then(|value| {
            let entry = Entry {
                key: "pawl",
                key_span: fields.span_of("pawl"),
                value,
            };
            self.pawl(&entry, draft)
        });
        let about = self.need(&fields, "about");
        let about = match (about, teeth_on, &pawl) {
            (Some(value), Some(teeth_on), Some(pawl)) => self
                .text(value, "`about`")
                .and_then(|name| self.turning_pin(&fields, draft, name, [teeth_on, pawl.on])),
            _ => None,
        };
        let positive = |reader: &mut Self, key: &str, quantity| {
            let value = reader.need(&fields, key)?;
            reader.quantity(value, quantity, Sign::Positive)
        };
        let radius = positive(self, "radius", Quantity::Length);
        let pitch = positive(self, "pitch", Quantity::Angle);
        let over_travel = positive(self, "over-travel", Quantity::Angle);
        if let Some(pitch) = pitch
            && pitch > TAU / 4.0
        {
            let span = fields.span_of("pitch");
            let problem = Diagnostic::error(
                code::RATCHET,
                span,
                "a tooth cannot take a quarter of a turn",
            );
            self.report(problem.help("`pitch` is the angle from one tooth to the next, such as 3"));
        }
        if let Some(pitch) = pitch
            && pitch < TAU / MOST_TEETH
        {
            let span = fields.span_of("pitch");
            let message = format!("this comes to more than {MOST_TEETH} teeth in the full circle");
            let problem = Diagnostic::error(code::RATCHET, span, message);
            self.report(problem.help("`pitch` is the angle from one tooth to the next, such as 3"));
        }
        let some = |reader: &mut Self, key: &str| {
            let value = fields.get(key)?;
            reader.quantity(value, Quantity::Length, Sign::Positive)
        };
        let (height, face) = (some(self, "height"), some(self, "face"));
        let flank = fields.get("flank");
        let flank = match flank {
            None => Some(0.0),
            Some(value) => self.quantity(value, Quantity::Angle, Sign::NotNegative),
        };
        if let (Some(flank), Some(value)) = (flank, fields.get("flank"))
            && flank >= TAU / 8.0
        {
            let problem = Diagnostic::error(
                code::RATCHET,
                value.span(),
                "a flank cannot be undercut by 45 degrees or more",
            );
            self.report(problem.help("`flank` is its angle to the radius, such as 12"));
        }
        let friction = fields.get("friction").and_then(|v| self.friction(v));
        let place = |reader: &mut Self, key: &str| {
            let value = reader.need(&fields, key)?;
            reader.target(&fields, key, value, around)
        };
        let engages = place(self, "engages");
        let frees = place(self, "frees");
        if engages.is_some() && engages == frees {
            let span = fields.span_of("frees");
            let problem = Diagnostic::error(code::RATCHET, span, "it lets go where it engages");
            self.report(
                problem.help("`engages` is the first tooth on the way to shut, `frees` the last"),
            );
        }
        let material = fields.get("material");
        let material = material.and_then(|value| self.material(materials, value));
        let found = Ratchet {
            teeth_on: teeth_on?,
            about: about?,
            pawl: pawl?,
            radius: radius?,
            pitch: pitch?,
            engages: engages?,
            frees: frees?,
            over_travel: over_travel?,
            height,
            face,
            flank: flank?,
            friction: friction.unwrap_or(0.0),
            material,
        };
        self.reaches(&fields, draft, &found);
        Some(found)
    }

    fn pawl(&mut self, entry: &Entry<'_>, draft: &Draft) -> Option<Pawl> {
        let fields = self.known_table(entry, "`pawl`", &keys::PAWL)?;
        let on = self.need(&fields, "on");
        let on = on.and_then(|v| self.part(draft, v, "on"));
        let pin = self.need(&fields, "pin");
        let pin = match (on, pin) {
            (Some(on), Some(value)) => self.place(draft, on, value),
            _ => None,
        };
        let length = self.need(&fields, "length");
        let length = length.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
        let spring = self.need(&fields, "spring");
        let spring = spring.and_then(|v| self.quantity(v, Quantity::Torque, Sign::Positive));
        let on = on?;
        let pin = draft.place_at(on, pin?);
        Some(Pawl {
            on,
            pin: pin?,
            length: length?,
            spring: spring?,
        })
    }

    /// The pin joint of that name between two parts.
    fn turning_pin(
        &mut self,
        fields: &Fields<'_>,
        draft: &Draft,
        name: &str,
        [teeth_on, pawl_on]: [PartId; 2],
    ) -> Option<JointId> {
        let part = |part: PartId| {
            draft
                .parts
                .get(part.index())
                .map_or("", |p| p.name.as_str())
        };
        if teeth_on == pawl_on {
            let message = format!("the teeth and the pawl are both on `{}`", part(pawl_on));
            let problem = Diagnostic::error(code::RATCHET, fields.span_of("pawl"), message);
            self.report(
                problem.help("the pawl stands on another part, against which the teeth turn"),
            );
            return None;
        }
        let joints = || JointId::each(&draft.joints);
        let both =
            |joint: &crate::model::PinJoint| joint.touches(teeth_on) && joint.touches(pawl_on);
        let found = joints().find(|(_, joint)| joint.pin == name && both(joint));
        if found.is_none() {
            let names: Vec<&str> = (joints().filter(|(_, joint)| both(joint)))
                .map(|(_, joint)| joint.pin.as_str())
                .collect();
            let message = format!(
                "`{}` does not turn about a pin `{name}` on `{}`",
                part(teeth_on),
                part(pawl_on)
            );
            let problem = Diagnostic::error(code::UNKNOWN_PIN, fields.span_of("about"), message);
            self.report(
                problem.help(match names.as_slice() {
                    [] => {
                        "the two parts share no pin: put the pawl on a part that the other turns on"
                            .to_owned()
                    }
                    names => spelling::hint(name, "pins of both", names),
                }),
            );
        }
        found.map(|(joint, _)| joint)
    }

    /// Reports a pawl that cannot touch the tips of the teeth.
    fn reaches(&mut self, fields: &Fields<'_>, draft: &Draft, ratchet: &Ratchet) {
        let name = draft
            .joints
            .get(ratchet.about.index())
            .map(|joint| joint.pin.as_str());
        let centre = draft
            .parts
            .get(ratchet.pawl.on.index())
            .zip(name)
            .and_then(|(part, name)| part.points.iter().find(|point| point.name == name));
        let Some(centre) = centre else { return };
        let [x, y] = ratchet.pawl.pin;
        let far = (x - centre.at[0]).hypot(y - centre.at[1]);
        let (radius, length) = (ratchet.radius, ratchet.pawl.length);
        if (far - radius).abs() <= length && length <= far + radius {
            return;
        }
        let show = |mm: f64| {
            let value = super::size::short(self.units.show(mm, Quantity::Length));
            format!("{value} {}", self.units.symbol(Quantity::Length))
        };
        let message = format!(
            "the pawl does not reach the tips of the teeth: its pin stands {} from the pin of the teeth, their radius \
             is {}, its length {}",
            show(far),
            show(radius),
            show(length)
        );
        let problem = Diagnostic::error(code::RATCHET, fields.span_of("pawl"), message);
        self.report(problem.help(
            "tip, pin and centre are the corners of a triangle: move the pin, or change the length",
        ));
    }
}
