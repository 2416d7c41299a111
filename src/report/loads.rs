//! Loads of pins and links, free-body sheets and strength factors: the answer of `loads`.

use super::build::Source;
use super::stroke::UnitNames;
use crate::give::{Give, NoPress, Press, Stop};
use crate::loads::CaseLoads;
use crate::model::Tool;
use crate::motion::number;
use crate::statics::{ForceKind, PointForce};
use crate::strength::{Factor, LoadCase, Place, Strength};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// What `loads` answers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LoadsReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub sha256: String,
    /// Units of every number below.
    pub units: UnitNames,
    /// Unit of moments.
    pub moment_unit: &'static str,
    /// The load cases asked for.
    pub cases: Vec<CaseReport>,
    /// Strength factors over the whole stroke, least first.
    pub factors: Vec<FactorReport>,
    /// What the factors leave out, and why.
    pub notes: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// One position, grip and hand force.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CaseReport {
    /// Handle angle.
    pub handle: f64,
    /// Gap of the first jaw.
    pub gap: f64,
    /// Grip along the hand line.
    pub grip: f64,
    /// Grip span.
    pub span: Option<f64>,
    /// Hand force.
    pub hand_force: f64,
    /// Force of the first jaw.
    pub jaw_force: f64,
    /// Every pin joint.
    pub pins: Vec<PinReport>,
    /// Every two-pin link: axial force, tension positive.
    pub links: Vec<LinkReport>,
    /// Free-body sheet of every part.
    pub sheets: Vec<SheetReport>,
    /// Greatest sum left on a moving part, over the greatest force (and the tool's size).
    pub residual: f64,
    /// How far the tool gives, the hand held; null where statics cannot tell.
    pub give: Option<GiveReport>,
    /// A rigid workpiece pressed, if the file has one.
    pub press: Option<PressReport>,
}

/// How far the jaws spread.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GiveReport {
    /// Spread per 1000 units of jaw force.
    pub per_thousand: f64,
    /// Spread at the case's jaw force.
    pub spread: f64,
    /// Gap under the case's jaw force.
    pub gap: f64,
    /// What it comes from: name and share of the whole, greatest first.
    pub shares: Vec<(String, f64)>,
    /// Parts and pins taken as rigid, and why: with them the give is too small.
    pub rigid: Vec<String>,
}

/// A rigid workpiece pressed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PressReport {
    /// Thickness of the piece.
    pub thickness: f64,
    /// Force on the piece; null if it is not pressed.
    pub jaw_force: Option<f64>,
    /// How far it spreads the jaws.
    pub spread: Option<f64>,
    /// The whole in words.
    pub text: String,
}

/// The force at a pin joint.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PinReport {
    /// The pin (`pin:part` where three parts share it).
    pub pin: String,
    /// The part that the force acts on.
    pub on: String,
    /// The part that exerts it.
    pub by: String,
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Magnitude.
    pub size: f64,
}

/// The axial force of a link.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LinkReport {
    /// The part.
    pub part: String,
    /// Tension positive.
    pub axial: f64,
}

/// Every force on one part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetReport {
    /// The part.
    pub part: String,
    /// The place that moments are taken about: name, x, y in the fixed part's axes.
    pub about: (String, f64, f64),
    /// The fixed part is held from outside; its sums need not vanish.
    pub fixed: bool,
    /// The forces.
    pub forces: Vec<ForceReport>,
    /// Sums of x, y and moment.
    pub sums: [f64; 3],
}

/// One force on a part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ForceReport {
    /// What exerts it.
    pub what: String,
    /// Where it acts, in the fixed part's axes.
    pub at: [f64; 2],
    /// Components.
    pub force: [f64; 2],
    /// Moment that comes with it (friction, key, spring about a pin).
    pub couple: f64,
    /// Moment about the sheet's place, the couple included.
    pub moment: f64,
}

/// A strength factor.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FactorReport {
    /// Pin or part.
    pub subject: String,
    /// Name of the check.
    pub check: String,
    /// The formula.
    pub formula: String,
    /// Where it comes from.
    pub source: String,
    /// The numbers put in: symbol, value, unit.
    pub inputs: Vec<(String, f64, String)>,
    /// What the formula gives.
    pub value: f64,
    /// What may not be exceeded.
    pub allowable: f64,
    /// Unit of both.
    pub unit: String,
    /// What the allowable value is.
    pub against: String,
    /// Allowable over value.
    pub factor: f64,
    /// Where on the part.
    pub place: Option<String>,
    /// Gap of the first jaw at the worst position.
    pub gap: f64,
    /// Grip.
    pub grip: f64,
    /// Hand force.
    pub hand_force: f64,
    /// What set it, in words.
    pub case: String,
}

/// What must be said wherever loads are printed.
const CAUTIONS: [&str; 3] = [
    "Calculated forces can hurt people when they are wrong: mind pinch points, stored energy and parts \
     that fail under load; prove the tool with a test piece and a load cell, behind a guard, before use.",
    "Local codes and a licensed or otherwise competent engineer decide; these factors are no approval.",
    "The model is planar, quasi-static and rigid; weights, fatigue and impact are left out, and the forces \
     at a toggle itself, where only the tool's give limits them, are not among these.",
];

/// The report of some load cases and the factors of the whole stroke.
#[must_use]
pub fn loads_report(
    tool: &Tool,
    cases: &[CaseLoads],
    strength: &Strength,
    gaps: &[f64],
    source: &Source,
    units: UnitSystem,
) -> LoadsReport {
    let build = Build { tool, units };
    let mut notes: Vec<String> = strength.notes.iter().map(|n| n.text(tool)).collect();
    notes.push(
        "a factor below 1 means failure; what factor is enough is for the engineer to say"
            .to_owned(),
    );
    LoadsReport {
        format: 1,
        tool: tool.name.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        units: UnitNames::of(units),
        moment_unit: units.symbol(Quantity::Torque),
        cases: cases.iter().map(|c| build.case(c)).collect(),
        factors: strength
            .factors
            .iter()
            .map(|f| build.factor(f, gaps))
            .collect(),
        notes,
        cautions: CAUTIONS
            .iter()
            .map(|s| s.split_whitespace().collect::<Vec<_>>().join(" "))
            .collect(),
    }
}

struct Build<'a> {
    tool: &'a Tool,
    units: UnitSystem,
}

impl Build<'_> {
    fn show(&self, value: f64, quantity: Quantity) -> f64 {
        self.units.show(value, quantity)
    }

    fn pair(&self, v: [f64; 2], quantity: Quantity) -> [f64; 2] {
        v.map(|x| self.show(x, quantity))
    }

    fn part(&self, part: usize) -> String {
        self.tool
            .parts
            .get(part)
            .map_or_else(String::new, |p| p.name.clone())
    }

    fn case(&self, case: &CaseLoads) -> CaseReport {
        let pins = self
            .tool
            .joints
            .iter()
            .enumerate()
            .filter_map(|(j, joint)| {
                let on = case.sheet.on(joint.part);
                let force = on.iter().find(|f| f.what == ForceKind::Pin(j))?.force;
                let [x, y] = self.pair(force, Quantity::Force);
                Some(PinReport {
                    pin: self.tool.joint_label(j),
                    on: self.part(joint.part),
                    by: self.part(joint.carrier),
                    x,
                    y,
                    size: x.hypot(y),
                })
            });
        let links = case.axial.iter().map(|&(part, axial)| LinkReport {
            part: self.part(part),
            axial: self.show(axial, Quantity::Force),
        });
        CaseReport {
            handle: self.show(case.handle, Quantity::Angle),
            gap: self.show(case.gap, Quantity::Length),
            grip: self.show(case.grip, Quantity::Length),
            span: case.span.map(|s| self.show(s, Quantity::Length)),
            hand_force: self.show(case.hand_force, Quantity::Force),
            jaw_force: self.show(case.jaw_force, Quantity::Force),
            pins: pins.collect(),
            links: links.collect(),
            sheets: (0..self.tool.parts.len())
                .map(|p| self.sheet(case, p))
                .collect(),
            residual: case.residual,
            give: case.give.as_ref().map(|g| self.give(case, g)),
            press: case.press.as_ref().map(|p| self.press(p)),
        }
    }

    fn give(&self, case: &CaseLoads, give: &Give) -> GiveReport {
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

    fn press(&self, press: &Result<Press, NoPress>) -> PressReport {
        let thickness = self.tool.work.as_ref().and_then(|w| w.rigid).unwrap_or(0.0);
        let length = |mm: f64| number(mm, Quantity::Length, self.units);
        let force = |n: f64| number(n, Quantity::Force, self.units);
        let piece = format!("a rigid piece of {}", length(thickness));
        let text = match press {
            Ok(p) => {
                let end = match p.stop {
                    Stop::Hand => "the hand can push no further".to_owned(),
                    Stop::End => "the stroke ends before the hand is spent".to_owned(),
                    Stop::Toggle => format!(
                        "the tool snaps through its toggle; the hand has had to give {} at most",
                        force(p.hand_peak)
                    ),
                };
                format!(
                    "{piece} gets {} and spreads the jaws by {}: {end}",
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
                format!("{piece}: nothing gives, since no part has a section with a modulus")
            }
            Err(NoPress::NoGive(_)) => format!("{piece}: statics cannot tell the give"),
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

    fn sheet(&self, case: &CaseLoads, part: usize) -> SheetReport {
        let forces = case.sheet.on(part);
        let (name, about) = self.datum(case, part);
        let ([x, y], moment) = case.sheet.sum(part, about);
        let line = |f: &PointForce| {
            let arm = [f.at[0] - about[0], f.at[1] - about[1]];
            let turning = arm[0] * f.force[1] - arm[1] * f.force[0] + f.moment;
            ForceReport {
                what: self.what(f.what),
                at: self.pair(f.at, Quantity::Length),
                force: self.pair(f.force, Quantity::Force),
                couple: self.show(f.moment, Quantity::Torque),
                moment: self.show(turning, Quantity::Torque),
            }
        };
        let [px, py] = self.pair(about, Quantity::Length);
        SheetReport {
            part: self.part(part),
            about: (name, px, py),
            fixed: part == self.tool.fixed,
            forces: forces.iter().map(line).collect(),
            sums: [
                self.show(x, Quantity::Force),
                self.show(y, Quantity::Force),
                self.show(moment, Quantity::Torque),
            ],
        }
    }

    /// The place that moments of a part are taken about: its first pin that carries a force, else
    /// the first force's place.
    fn datum(&self, case: &CaseLoads, part: usize) -> (String, [f64; 2]) {
        let forces = case.sheet.on(part);
        let pin = forces.iter().find_map(|f| match f.what {
            ForceKind::Pin(j) => Some((self.tool.joints.get(j)?.pin.clone(), f.at)),
            _ => None,
        });
        pin.or_else(|| forces.first().map(|f| (self.what(f.what), f.at)))
            .unwrap_or_else(|| ("origin".to_owned(), [0.0; 2]))
    }

    fn what(&self, kind: ForceKind) -> String {
        let tool = self.tool;
        match kind {
            ForceKind::Pin(j) => format!("pin {}", tool.joint_label(j)),
            ForceKind::Hand => "hand".to_owned(),
            ForceKind::Opposite => "hand, opposite".to_owned(),
            ForceKind::Jaw(j) => format!(
                "work at {}",
                tool.jaws.get(j).map_or("", |j| j.name.as_str())
            ),
            ForceKind::Slot(s) => {
                let slot = tool.slots.get(s);
                let rider =
                    slot.and_then(|s| tool.parts.get(s.rider.part)?.points.get(s.rider.point));
                format!("slot of {}", rider.map_or("", |p| p.name.as_str()))
            }
            ForceKind::Spring(s) => format!("spring {}", s + 1),
        }
    }

    fn factor(&self, factor: &Factor, gaps: &[f64]) -> FactorReport {
        let unit = |q: Option<Quantity>| q.map_or("", |q| self.units.symbol(q)).to_owned();
        let input = |i: &crate::strength::Input| {
            let value = i.quantity.map_or(i.value, |q| self.show(i.value, q));
            (i.symbol.to_owned(), value, unit(i.quantity))
        };
        let part = match factor.subject {
            crate::strength::Subject::Part(part) => self.tool.parts.get(part),
            crate::strength::Subject::Pin(_) => None,
        };
        let length = |mm: f64| {
            format!(
                "{:.1} {}",
                self.show(mm, Quantity::Length),
                self.units.symbol(Quantity::Length)
            )
        };
        let place = factor.place.map(|place| match place {
            Place::Point(point) => {
                let name = part
                    .and_then(|p| p.points.get(point))
                    .map_or("", |p| p.name.as_str());
                format!("at {name}")
            }
            Place::Along(mm) => format!("{} along the hand line", length(mm)),
            Place::At([x, y]) => format!("at ({}, {}) of the part", length(x), length(y)),
        });
        FactorReport {
            subject: factor.name.clone(),
            check: factor.formula.check.to_owned(),
            formula: factor.formula.text.to_owned(),
            source: factor
                .formula
                .source
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" "),
            inputs: factor.inputs.iter().map(input).collect(),
            value: self.show(factor.value, factor.quantity),
            allowable: self.show(factor.allowable, factor.quantity),
            unit: self.units.symbol(factor.quantity).to_owned(),
            against: factor.against.to_owned(),
            factor: factor.factor,
            place,
            gap: gaps
                .get(factor.position)
                .map_or(0.0, |&g| self.show(g, Quantity::Length)),
            grip: self
                .tool
                .hand
                .grips
                .get(factor.grip)
                .map_or(0.0, |&g| self.show(g, Quantity::Length)),
            hand_force: self.show(factor.hand_force, Quantity::Force),
            case: match factor.load {
                LoadCase::HandLimit => "at the hand's limit",
                LoadCase::HandForce => "at the hand force of the file",
                LoadCase::Work => "under the work",
            }
            .to_owned(),
        }
    }
}
