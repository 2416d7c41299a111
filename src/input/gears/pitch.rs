//! Whether teeth, pitch circles and centres go together.

use crate::geometry::Vec2;
use crate::input::code;
use crate::input::diagnostic::Diagnostic;
use crate::input::draft::Draft;
use crate::input::fields::{Fields, Reader};
use crate::input::size::short;
use crate::model::{Gears, Mesh, PartId, PointRef, Slot, SlotLine};
use crate::units::Quantity;

/// How far pitch radii may be off, over the distance of the centres: what coordinates lose that are
/// rounded to calipers. The ratio of the teeth is kept exactly whatever they say.
const ROUNDED: f64 = 2e-3;

impl Reader<'_> {
    /// Tells outside from inside teeth, and checks that the pitch circles touch and hold the teeth. `None`
    /// where they do not, or where it is not known.
    pub(super) fn pitch_fits(
        &mut self,
        fields: &Fields<'_>,
        draft: &Draft,
        slots: &[Slot],
        internal: Option<bool>,
        gears: &mut Gears,
    ) -> Option<()> {
        let first = self.pitch_radius(draft, gears, 0)?;
        if self.on_its_pin(fields, draft, gears, 0, first) {
            return None;
        }
        if let Mesh::Rack { slot } = gears.mesh {
            let apart = line_off(draft, slots.get(slot)?, gears)?;
            return self.rack_fits(fields, gears, [first, apart], internal);
        }
        let second = self.pitch_radius(draft, gears, 1)?;
        if self.on_its_pin(fields, draft, gears, 1, second) {
            return None;
        }
        let at = |side: usize| {
            let point = gears.centres[side];
            let part = gears.on;
            draft.at(PointRef { part, point }).map(Vec2::from)
        };
        let apart = (at(1)? - at(0)?).length();
        let radii = [first, second];
        let (outside, inside) = (first + second, (first - second).abs());
        let ring = internal.unwrap_or((inside - apart).abs() < (outside - apart).abs());
        if ring {
            gears.mesh = Mesh::Internal;
        }
        let found = if ring { inside } else { outside };
        let [one, other] = gears.teeth.map(f64::from);
        let sum = if ring {
            (one - other).abs()
        } else {
            one + other
        };
        if !(apart > 0.0 && sum > 0.0) {
            let message = match sum > 0.0 {
                true => "both pins stand at one place on the part that carries them",
                false => "a ring has more teeth than the wheel inside it",
            };
            let problem = Diagnostic::error(code::GEARS, fields.span_of("teeth"), message);
            self.report(
                problem.help("check the places of the pins in `about` and the numbers of `teeth`"),
            );
            return None;
        }
        let module = 2.0 * apart / sum;
        let fitting = gears.teeth.map(|teeth| 0.5 * module * f64::from(teeth));
        if (found - apart).abs() > ROUNDED * apart {
            let does = if ring { "differ by" } else { "add up to" };
            let message = format!(
                "the pitch radii {} and {} {does} {}, and the pins are {} apart: {} too {}",
                self.mm(radii[0]),
                self.mm(radii[1]),
                self.mm(found),
                self.mm(apart),
                self.mm((found - apart).abs()),
                if found > apart { "much" } else { "little" }
            );
            self.do_not_fit(fields, "meet", message, gears, module, &fitting);
            return None;
        }
        // The mark of the smaller wheel tells its teeth best.
        if (radii[0] * other - radii[1] * one).abs() > ROUNDED * apart * one.max(other) {
            let message = format!(
                "{} and {} teeth do not go with pitch radii of {} and {}",
                gears.teeth[0],
                gears.teeth[1],
                self.mm(radii[0]),
                self.mm(radii[1])
            );
            self.do_not_fit(fields, "teeth", message, gears, module, &fitting);
            return None;
        }
        Some(())
    }

    fn do_not_fit(
        &mut self,
        fields: &Fields<'_>,
        key: &str,
        message: String,
        gears: &Gears,
        module: f64,
        fitting: &[f64; 2],
    ) {
        let problem = Diagnostic::error(code::GEARS, fields.span_of(key), message);
        let help = format!(
            "{} and {} teeth between these pins have module {}: the witness marks then stand {} and {} from \
             their pins",
            gears.teeth[0],
            gears.teeth[1],
            self.mm(module),
            self.mm(fitting[0]),
            self.mm(fitting[1])
        );
        self.report(problem.help(help));
    }

    fn rack_fits(
        &mut self,
        fields: &Fields<'_>,
        gears: &Gears,
        [radius, apart]: [f64; 2],
        internal: Option<bool>,
    ) -> Option<()> {
        if internal == Some(true) {
            let span = fields.span_of("internal");
            let problem = Diagnostic::error(code::TOGETHER, span, "a rack is no ring");
            self.report(problem.help("take `internal` out, or give the second part teeth"));
            return None;
        }
        if (radius - apart).abs() <= ROUNDED * radius {
            return Some(());
        }
        let message = format!(
            "the pitch radius of the pinion is {}, and the rack's pitch line passes its pin at {}",
            self.mm(radius),
            self.mm(apart)
        );
        let problem = Diagnostic::error(code::GEARS, fields.span_of("meet"), message);
        self.report(problem.help(format!(
            "{} teeth on a radius of {} have module {}; the two witness marks must be able to meet",
            gears.teeth[0],
            self.mm(radius),
            self.mm(2.0 * radius / f64::from(gears.teeth[0]))
        )));
        None
    }

    /// Distance of a witness mark from the pin that its part turns about, mm.
    pub(super) fn pitch_radius(&self, draft: &Draft, gears: &Gears, side: usize) -> Option<f64> {
        let part = gears.parts[side];
        let at = |point: usize| draft.at(PointRef { part, point }).map(Vec2::from);
        Some((at(gears.marks[side])? - at(gears.about[side])?).length())
    }

    fn on_its_pin(
        &mut self,
        fields: &Fields<'_>,
        draft: &Draft,
        gears: &Gears,
        side: usize,
        radius: f64,
    ) -> bool {
        if radius > 0.0 {
            return false;
        }
        let mark = draft.label(gears.mark(side));
        let message =
            format!("the witness mark `{mark}` stands on the pin that its part turns about");
        let problem = Diagnostic::error(code::GEARS, fields.span_of("meet"), message);
        self.report(
            problem.help("a witness mark stands on the pitch circle, where the teeth meet"),
        );
        true
    }

    fn mm(&self, length: f64) -> String {
        let shown = short(self.units.show(length, Quantity::Length));
        format!("{shown} {}", self.units.symbol(Quantity::Length))
    }
}

/// Distance of the pinion's pin from the rack's pitch line, mm.
fn line_off(draft: &Draft, slot: &Slot, gears: &Gears) -> Option<f64> {
    let at = |part: PartId, point: usize| draft.at(PointRef { part, point }).map(Vec2::from);
    let turn = slot.keyed?;
    let SlotLine::Straight { through, angle } = slot.line else {
        return None;
    };
    let through = Vec2::from(draft.place_at(slot.on, through)?);
    let pin = (at(gears.on, gears.centres[0])? - through).turned_back(Vec2::unit(turn));
    let rack = gears.parts[1];
    let mark = at(rack, gears.marks[1])? - at(rack, slot.rider.point)?;
    Some(Vec2::unit(angle - turn).cross(mark - pin).abs())
}
