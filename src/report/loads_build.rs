//! From load cases to the report of `loads`, in the units asked for.

use super::life::life_report;
use super::loads::{
    BaseReport, CaseReport, ForceReport, LinkReport, LoadsReport, PinReport, SheetReport,
};
use super::loads_factors::case_words;
use super::show::{Shown, Source};
use super::stroke::UnitNames;
use super::wound::wound_report;
use crate::analysis::{CaseLoads, LifeSeen};
use crate::geometry::Vec2;
use crate::model::{JointId, PartId, PinJoint, Point, Tool};
use crate::statics::{ForceKind, PointForce};
use crate::strength::{SpringFound, Strength};
use crate::units::{Quantity, UnitSystem};

/// What must be said wherever loads are printed.
const CAUTIONS: [&str; 3] = [
    "Calculated forces can hurt people when they are wrong: mind pinch points, stored energy and parts \
     that fail under load; prove the tool with a test piece and a load cell, behind a guard, before use.",
    "Local codes and a licensed or otherwise competent engineer decide; these factors are no approval.",
    "The model is planar, quasi-static and rigid; weights, fatigue and impact are left out, and the forces \
     at a toggle itself, where only the tool's compliance limits them, are not among these.",
];

/// The report of some load cases, and the factors and springs of wire of the whole stroke.
#[must_use]
pub fn loads_report(
    tool: &Tool,
    cases: &[CaseLoads],
    (strength, springs, life): (&Strength, &[(usize, SpringFound)], Option<&LifeSeen>),
    source: &Source,
    units: UnitSystem,
) -> LoadsReport {
    let build = Shown { tool, units };
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
            .map(|f| build.factor(f, strength.position(f)))
            .collect(),
        springs: wound_report(tool, springs, units),
        life: life_report(tool, life, units),
        notes,
        cautions: CAUTIONS
            .map(|text| match tool.life {
                Some(_) => text.replace("weights, fatigue and impact", "weights and impact"),
                None => text.to_owned(),
            })
            .to_vec(),
    }
}

impl Shown<'_> {
    fn case(&self, case: &CaseLoads) -> CaseReport {
        let pin = |(j, joint): (JointId, &PinJoint)| {
            let force = self.force_of(case, joint.part, ForceKind::Joint(j))?;
            let known = is_known(case, j).then(|| self.pair(force.force.xy(), Quantity::Force));
            Some(PinReport {
                pin: self.tool.joint_label(j),
                on: self.part(joint.part),
                by: self.part(joint.carrier),
                x: known.map(|f| f[0]),
                y: known.map(|f| f[1]),
                size: known.map(|[x, y]| x.hypot(y)),
            })
        };
        let links = case.axial.iter().map(|&(part, axial)| LinkReport {
            part: self.part(part),
            axial: self.show(axial, Quantity::Force),
        });
        CaseReport {
            handle: self.show(case.handle, Quantity::Angle),
            travel: self.show(case.travel, Quantity::Angle),
            gap: self.show(case.gap, Quantity::Length),
            grip: self.show(case.grip, Quantity::Length),
            span: case.span.map(|s| self.show(s, Quantity::Length)),
            hand_force: self.show(case.hand_force, Quantity::Force),
            case: case.load.map_or_else(
                || "at the stated hand force (H)".to_owned(),
                |load| case_words(self.tool, load, case.jaw),
            ),
            jaw_force: self.show(case.jaw_force, Quantity::Force),
            pins: JointId::each(&self.tool.joints).filter_map(pin).collect(),
            links: links.collect(),
            slots: self.slots(case),
            cams: self.cams(case),
            gears: self.gears(case),
            springs: self.springs(case),
            sheets: PartId::ids(self.tool.parts.len())
                .map(|p| self.sheet(case, p))
                .collect(),
            residual: case.residual,
            give: case.give.as_ref().map(|g| self.give(case, g)),
            press: case.press.as_ref().map(|p| self.press(case, p)),
        }
    }

    pub(super) fn sheet(&self, case: &CaseLoads, part: PartId) -> SheetReport {
        let forces = case.sheet.on(part);
        let (name, about) = self.datum(case, part);
        let (sum, moment) = case.sheet.sum(part, about.into());
        let [x, y] = sum.xy();
        let known = |f: &PointForce| !matches!(f.what, ForceKind::Joint(j) if !is_known(case, j));
        let line = |f: &PointForce| {
            let arm = [f.at[0] - about[0], f.at[1] - about[1]];
            let turning = arm[0] * f.force[1] - arm[1] * f.force[0] + f.moment;
            let known = known(f);
            ForceReport {
                what: self.what(f.what),
                point: self.point(part, f.local.xy()),
                at: self.pair(f.at.xy(), Quantity::Length),
                force: known.then(|| self.pair(f.force.xy(), Quantity::Force)),
                couple: known.then(|| self.show(f.moment, Quantity::Torque)),
                moment: known.then(|| self.show(turning, Quantity::Torque)),
            }
        };
        let [px, py] = self.pair(about, Quantity::Length);
        let sums = forces.iter().all(known).then(|| {
            let [x, y] = self.pair([x, y], Quantity::Force);
            [x, y, self.show(moment, Quantity::Torque)]
        });
        let fixed = part == self.tool.fixed;
        SheetReport {
            part: self.part(part),
            about: (name, px, py),
            fixed,
            forces: forces.iter().map(line).collect(),
            bench: sums
                .filter(|_| fixed && self.tool.palm().is_none() && self.tool.bench.is_none())
                .map(|s| s.map(|v| -v)),
            base: self.base(case, part),
            sums,
        }
    }

    /// What the base of a tool on a bench carries.
    fn base(&self, case: &CaseLoads, part: PartId) -> Option<BaseReport> {
        let bench = self.tool.bench?;
        let force = self.force_of(case, part, ForceKind::Bench)?;
        let known = |f: &PointForce| !matches!(f.what, ForceKind::Joint(j) if !is_known(case, j));
        if !case.sheet.on(part).iter().all(known) {
            return None;
        }
        let up = Vec2::unit(bench.up);
        let along = Vec2::new(up.y(), -up.x());
        Some(BaseReport {
            at: self.pair(force.at.xy(), Quantity::Length),
            axial: self.show(-force.force.dot(up), Quantity::Force),
            shear: self.show(force.force.dot(along), Quantity::Force),
            moment: self.show(force.moment, Quantity::Torque),
        })
    }

    /// The named point of a part at a place in its axes.
    fn point(&self, part: PartId, local: [f64; 2]) -> Option<String> {
        let points = &self.tool.part(part)?.points;
        let near = |p: &&Point| (p.at[0] - local[0]).hypot(p.at[1] - local[1]) < 1e-6;
        points.iter().find(near).map(|p| p.name.clone())
    }

    /// The force of that kind on a part.
    pub(super) fn force_of<'c>(
        &self,
        case: &'c CaseLoads,
        part: PartId,
        kind: ForceKind,
    ) -> Option<&'c PointForce> {
        case.sheet.on(part).iter().find(|f| f.what == kind)
    }

    /// The place that moments of a part are taken about: its first pin that carries a force, else
    /// the first force's place.
    pub(super) fn datum(&self, case: &CaseLoads, part: PartId) -> (String, [f64; 2]) {
        let forces = case.sheet.on(part);
        let pin = forces.iter().find_map(|f| match f.what {
            ForceKind::Joint(j) => Some((self.tool.pin(j)?.pin.clone(), f.at)),
            _ => None,
        });
        pin.or_else(|| forces.first().map(|f| (self.what(f.what), f.at)))
            .map_or_else(
                || ("origin".to_owned(), [0.0; 2]),
                |(name, at)| (name, at.xy()),
            )
    }

    pub(super) fn what(&self, kind: ForceKind) -> String {
        let tool = self.tool;
        match kind {
            ForceKind::Joint(k) => (tool.joint(k)).map_or_else(String::new, |j| j.name(tool)),
            ForceKind::Hand => "hand".to_owned(),
            ForceKind::Opposite => "hand reaction".to_owned(),
            ForceKind::Stop(s) => {
                format!("stop {}", tool.stop(s).map_or("", |s| s.name.as_str()))
            }
            ForceKind::Palm => "hand reaction".to_owned(),
            ForceKind::Bench => "bench".to_owned(),
            ForceKind::Jaw(j) => format!("work at {}", tool.jaw(j).map_or("", |j| j.name.as_str())),
            ForceKind::Spring(s) => format!("spring {}", s + 1),
            ForceKind::Pawl => "pawl".to_owned(),
        }
    }
}

/// Whether statics alone can tell the force of a joint.
pub(super) fn is_known(case: &CaseLoads, joint: JointId) -> bool {
    case.indeterminate.get(joint.index()) != Some(&true)
}
