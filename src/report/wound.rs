//! Springs of wire: what is bought, how near it comes to its limits, whether it has room.

use super::show::{Shown, cited, number};
use crate::coils::CoilEnds;
use crate::model::{Form, Spring, Tool, Wound};
use crate::strength::{SpringCheck, SpringCheckKind, SpringFault, SpringFound};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A spring of wire over the stroke.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WoundReport {
    /// Its number in the file, from 1.
    pub spring: usize,
    /// Its name; null without one.
    pub name: Option<String>,
    /// It acts about a pin.
    pub about_pin: bool,
    /// Kind of wire.
    pub made_of: &'static str,
    /// The standard that the strength is of; null where the file states the strength.
    pub standard: Option<&'static str>,
    /// Diameter of the wire.
    pub wire: f64,
    /// Mean diameter of the coils.
    pub coil: f64,
    /// Outside diameter.
    pub outside: f64,
    /// Active coils, or those of the body.
    pub turns: f64,
    /// Ends of a spring between two points; null about a pin.
    pub ends: Option<&'static str>,
    /// Force per length, or torque per angle about a pin.
    pub rate: f64,
    /// Its unit.
    pub rate_unit: &'static str,
    /// Shear modulus that the rate is found with; about a pin, modulus of elasticity.
    pub modulus: f64,
    /// Tensile strength of the wire.
    pub ultimate: f64,
    /// Unit of both, and of the stresses below.
    pub stress_unit: &'static str,
    /// Least and greatest load over the stroke.
    pub loads: [f64; 2],
    /// Their unit.
    pub load_unit: &'static str,
    /// Gap of the first jaw where the load is greatest.
    pub gap: f64,
    /// Stress there at the inside of the coil, curvature counted.
    pub stress: f64,
    /// Factors against its limits, in the order steady, hooks, repeated; none without load.
    pub checks: Vec<WoundCheck>,
    /// Why a repeated load was not checked although the file says how often; null otherwise.
    pub not_checked: Option<&'static str>,
    /// It lies loose with the tool open.
    pub loose: bool,
    /// Length with all coils touching, of one with hooks between their insides; null about a pin.
    pub solid: Option<f64>,
    /// Shortest length on the stroke; null about a pin.
    pub shortest: Option<f64>,
    /// Length below which it buckles; null where it does not.
    pub buckles_at: Option<f64>,
    /// Least play in its guide, on the diameter, or about its mandrel, to each side; null without.
    pub clearance: Option<f64>,
    /// What cannot be, in sentences.
    pub faults: Vec<String>,
}

/// A stress of a spring against its limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WoundCheck {
    /// Under what.
    pub check: String,
    /// Stress.
    pub stress: f64,
    /// What is allowed.
    pub allowable: f64,
    /// Allowable over stress.
    pub factor: f64,
    /// Share of the tensile strength that the limit is; of a repeated load, from zero to most.
    pub share: f64,
    /// The formula.
    pub formula: &'static str,
    /// Where it and the limit come from.
    pub source: String,
    /// Whether the figure has still to be looked up there.
    pub unconfirmed: bool,
}

/// The springs of wire of a tool, in these units.
#[must_use]
pub fn wound_report(
    tool: &Tool,
    found: &[(usize, SpringFound)],
    units: UnitSystem,
) -> Vec<WoundReport> {
    let shown = Shown { tool, units };
    let one = |(k, found): &(usize, SpringFound)| {
        let spring = tool.springs.get(*k)?;
        Some(shown.wound(*k, spring, spring.wound()?, found))
    };
    found.iter().filter_map(one).collect()
}

/// What cannot be with the springs of wire of a tool, in sentences.
pub(super) fn wound_faults(
    tool: &Tool,
    found: &[(usize, SpringFound)],
    units: UnitSystem,
) -> Vec<String> {
    let reports = wound_report(tool, found, units).into_iter();
    reports.flat_map(|report| report.faults).collect()
}

impl Shown<'_> {
    fn wound(&self, k: usize, spring: &Spring, wound: &Wound, found: &SpringFound) -> WoundReport {
        let about_pin = matches!(wound.form, Form::Torsion { .. });
        let (rate, load) = match about_pin {
            true => (Quantity::TurnRate, Quantity::Torque),
            false => (Quantity::Rate, Quantity::Force),
        };
        let length = |mm: f64| self.show(mm, Quantity::Length);
        let stress = |mpa: f64| self.show(mpa, Quantity::Stress);
        let [e, g] = wound.moduli();
        let repeated = |check: &SpringCheck| matches!(check.kind, SpringCheckKind::Repeated(_));
        let loaded = found.loads[1] > 0.0;
        let missing = wound.cycles.is_some() && loaded && !found.checks.iter().any(repeated);
        let name = match &spring.name {
            Some(name) => format!("spring {name}"),
            None => format!("spring {}", k + 1),
        };
        let hooks = wound
            .helical()
            .is_some_and(|coil| coil.ends == CoilEnds::Hooks);
        WoundReport {
            spring: k + 1,
            name: spring.name.clone(),
            about_pin,
            made_of: wound.of.name(),
            standard: wound.ultimate.is_none().then(|| wound.of.standard()),
            wire: length(wound.wire),
            coil: length(wound.coil()),
            outside: length(wound.coil() + wound.wire),
            turns: wound.turns,
            ends: match wound.form {
                Form::Helical { ends, .. } => Some(ends_word(ends)),
                Form::Torsion { .. } => None,
            },
            rate: self.show(found.rate, rate),
            rate_unit: self.units.symbol(rate),
            modulus: stress(if about_pin { e } else { g }),
            ultimate: stress(found.strength),
            stress_unit: self.units.symbol(Quantity::Stress),
            loads: found.loads.map(|v| self.show(v, load)),
            load_unit: self.units.symbol(load),
            gap: length(found.worst.gap),
            stress: stress(found.stress),
            checks: found
                .checks
                .iter()
                .map(|check| self.wound_check(check))
                .collect(),
            not_checked: missing
                .then_some("no published figure for this kind of wire in bending is at hand"),
            loose: found.loose,
            solid: found.solid.map(length),
            shortest: found.shortest.map(length),
            buckles_at: found.buckles_at.map(length),
            clearance: found.clearance.map(length),
            faults: (found.faults.iter())
                .map(|fault| self.fault((&name, hooks), fault, found.shortest))
                .collect(),
        }
    }

    fn wound_check(&self, check: &SpringCheck) -> WoundCheck {
        let formula = check.formula();
        let (source, unconfirmed) = cited(formula.source);
        WoundCheck {
            check: match check.kind {
                SpringCheckKind::Repeated(cycles) => format!("{} times", number(cycles)),
                _ => formula.check.to_owned(),
            },
            stress: self.show(check.stress, Quantity::Stress),
            allowable: self.show(check.allowable, Quantity::Stress),
            factor: check.factor,
            share: check.share,
            formula: formula.text,
            source,
            unconfirmed,
        }
    }

    fn fault(
        &self,
        (name, hooks): (&str, bool),
        fault: &SpringFault,
        shortest: Option<f64>,
    ) -> String {
        let length = |mm: f64| {
            let value = number(self.show(mm, Quantity::Length));
            format!("{value} {}", self.units.symbol(Quantity::Length))
        };
        let stress = |mpa: f64| {
            let value = number(self.show(mpa, Quantity::Stress));
            format!("{value} {}", self.units.symbol(Quantity::Stress))
        };
        match *fault {
            SpringFault::Overstressed(check) => {
                let both = format!(
                    "{}, allowed {}",
                    stress(check.stress),
                    stress(check.allowable)
                );
                match check.kind {
                    SpringCheckKind::Steady => format!("{name} is overstressed ({both})"),
                    SpringCheckKind::Hook => {
                        format!("{name} is overstressed at its hooks ({both})")
                    }
                    SpringCheckKind::Repeated(cycles) => {
                        format!("{name} does not last {} times ({both})", number(cycles))
                    }
                }
            }
            SpringFault::Solid(by) if hooks => format!(
                "{name} cannot be as short as its free length: its closed coils and hooks are {} longer",
                length(by)
            ),
            SpringFault::Solid(by) => format!(
                "{name} goes solid: the stroke makes it {} shorter than its coils allow",
                length(by)
            ),
            SpringFault::Buckles(at) => format!(
                "{name} buckles below {}, and comes down to {}: guide it",
                length(at),
                length(shortest.unwrap_or(0.0))
            ),
            SpringFault::Jams(by) => {
                format!("{name} does not fit its guide ({} too little)", length(by))
            }
            SpringFault::Grips(by) => format!(
                "{name} closes on its mandrel where it is wound up most ({} too little to each side)",
                length(by)
            ),
        }
    }
}

/// The word of the tool file for the ends of a spring.
fn ends_word(ends: CoilEnds) -> &'static str {
    match ends {
        CoilEnds::Plain => "plain",
        CoilEnds::Squared => "squared",
        CoilEnds::Ground => "ground",
        CoilEnds::Hooks => "hooks",
    }
}
