//! Strength factors, give and pressing in the report of `loads`.

use super::loads::{FactorReport, GiveReport, PressReport};
use super::place::place_text;
use super::show::{Shown, cited};
use super::spot::spot_text;
use crate::analysis::CaseLoads;
use crate::give::{Give, NoPress, Press, Stop};
use crate::model::{JawId, Tool};
use crate::strength::{Factor, LoadCase, Position};
use crate::units::Quantity;
use crate::words::number;

impl Shown<'_> {
    pub(super) fn give(&self, case: &CaseLoads, give: &Give) -> GiveReport {
        let whole = give.per_force;
        GiveReport {
            per_thousand: self.units.show(1000.0 * whole, Quantity::Length)
                * self.units.factor(Quantity::Force),
            spread: self.show(give.spread(case.jaw_force), Quantity::Length),
            gap: self.show(give.gap_under(case.gap, case.jaw_force), Quantity::Length),
            shares: give
                .shares
                .iter()
                .map(|s| (s.name.clone(), s.per_force / whole))
                .collect(),
            rigid: give
                .rigid
                .iter()
                .map(|r| format!("{}: {}", r.name, r.why.text()))
                .collect(),
        }
    }

    pub(super) fn press(&self, case: &CaseLoads, press: &Result<Press, NoPress>) -> PressReport {
        let work = self.tool.jaw(case.jaw).and_then(|jaw| jaw.work.as_ref());
        let thickness = work.and_then(|w| w.rigid).unwrap_or(0.0);
        let length = |mm: f64| number(mm, Quantity::Length, self.units);
        let force = |n: f64| number(n, Quantity::Force, self.units);
        let piece = format!("a rigid piece of {}", length(thickness));
        let text = match press {
            Ok(p) => {
                let end = match p.stop {
                    Stop::Hand => "the hand can push no further".to_owned(),
                    Stop::End => "the stroke ends before the hand is spent".to_owned(),
                    Stop::Toggle => format!(
                        "the tool snaps through its toggle; the hand had to supply at most {}",
                        force(p.hand_peak)
                    ),
                };
                format!(
                    "{piece} is pressed with {} and springs the jaws open by {}: {end}",
                    force(p.jaw_force),
                    length(p.spread)
                )
            }
            Err(NoPress::DoesNotFit { open }) => {
                format!("{piece} does not fit the open gap of {}", length(*open))
            }
            Err(NoPress::NotTouched { least }) => format!(
                "{piece} is not touched: the gap stays above {}",
                length(*least)
            ),
            Err(NoPress::HandSpent) => {
                format!("{piece} is not touched: springs or friction stop the hand before")
            }
            Err(NoPress::AllRigid) => {
                format!(
                    "{piece}: everything is taken as rigid, since no part has a section with a modulus"
                )
            }
            Err(NoPress::NoGive(_)) => format!("{piece}: statics cannot tell the compliance"),
            Err(NoPress::Motion(error)) => error.text(self.tool, self.units),
        };
        let pressed = press.as_ref().ok();
        PressReport {
            thickness: self.show(thickness, Quantity::Length),
            jaw_force: pressed.map(|p| self.show(p.jaw_force, Quantity::Force)),
            spread: pressed.map(|p| self.show(p.spread, Quantity::Length)),
            text,
        }
    }

    pub(super) fn factor(&self, factor: &Factor, position: Option<Position>) -> FactorReport {
        let unit = |q: Option<Quantity>| q.map_or("", |q| self.units.symbol(q)).to_owned();
        let input = |i: &crate::strength::Input| {
            let value = i.quantity.map_or(i.value, |q| self.show(i.value, q));
            (i.symbol.to_owned(), value, unit(i.quantity))
        };
        let (source, unconfirmed) = cited(factor.formula.source);
        FactorReport {
            subject: factor.name.clone(),
            check: factor.formula.check.to_owned(),
            formula: factor.formula.text.to_owned(),
            source,
            unconfirmed,
            inputs: factor.inputs.iter().map(input).collect(),
            value: self.show(factor.value, factor.quantity),
            allowable: self.show(factor.allowable, factor.quantity),
            unit: self.units.symbol(factor.quantity).to_owned(),
            against: factor.against.to_owned(),
            factor: factor.factor,
            place: place_text(self.tool, factor, self.units),
            spot: spot_text(self.tool, factor, self.units),
            handle: position.map(|p| self.show(p.handle, Quantity::Angle)),
            gap: position.map(|p| self.show(p.gap, Quantity::Length)),
            grip: (self.tool.grip(factor.grip)).map(|g| self.show(g, Quantity::Length)),
            hand_force: self.show(factor.hand_force, Quantity::Force),
            case: case_words(self.tool, factor.load, factor.jaw),
        }
    }
}

/// What sets the hand force of a load case; with the jaw that carries it, where several may.
pub(super) fn case_words(tool: &Tool, load: LoadCase, jaw: JawId) -> String {
    let several = tool.working_jaws().len() > 1;
    match tool.jaw(jaw).filter(|_| several) {
        Some(jaw) => format!("{}, in {}", load_words(load), jaw.name),
        None => load_words(load).to_owned(),
    }
}

/// What sets a hand force, in words.
fn load_words(load: LoadCase) -> &'static str {
    match load {
        LoadCase::HandLimit => "at the hand's limit (L)",
        LoadCase::HandForce => "at the stated hand force (H)",
        LoadCase::Work => "under the work (W)",
    }
}
