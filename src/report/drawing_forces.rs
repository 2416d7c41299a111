//! The forces of a drawing, in the units asked for.

use super::drawing::{DrawnForce, DrawnKind};
use super::loads_build::is_known;
use super::show::Shown;
use crate::analysis::CaseLoads;
use crate::model::{Look, PartId};
use crate::statics::{ForceKind, PointForce};
use crate::units::Quantity;

impl Shown<'_> {
    /// The fixed part first, then the others as in the file.
    pub(super) fn fixed_first(&self) -> impl Iterator<Item = PartId> + '_ {
        let fixed = self.tool.fixed;
        let others = PartId::ids(self.tool.parts.len()).filter(move |&p| p != fixed);
        std::iter::once(fixed).chain(others)
    }

    /// All forces on the part whose free body is drawn; else those of hand and work on the tool, but
    /// for the palm's, which mirrors the hand's and would take the room of the parts.
    pub(super) fn forces(&self, case: &CaseLoads, alone: Option<PartId>) -> Vec<DrawnForce> {
        let outside = |f: &PointForce| {
            matches!(
                f.what,
                ForceKind::Hand | ForceKind::Opposite | ForceKind::Jaw(_) | ForceKind::Stop(_)
            )
        };
        let mut forces = Vec::new();
        for part in self.fixed_first() {
            let wanted = |f: &&PointForce| match alone {
                Some(only) => only == part,
                None => outside(f),
            };
            let on = case.sheet.on(part).iter().filter(wanted);
            forces.extend(on.map(|f| self.drawn_force(case, part, f)));
        }
        forces.extend(alone.and_then(|part| self.on_bench(case, part)));
        forces
    }

    /// What the bench does to the part whose free body is drawn, at the place of its sheet.
    fn on_bench(&self, case: &CaseLoads, part: PartId) -> Option<DrawnForce> {
        let sheet = self.sheet(case, part);
        let [x, y, moment] = sheet.bench?;
        let (_, at) = self.datum(case, part);
        Some(DrawnForce {
            what: "from the bench".to_owned(),
            kind: DrawnKind::Bench,
            on: sheet.part,
            at,
            force: Some([x, y]),
            size: Some(x.hypot(y)),
            couple: Some(moment),
        })
    }

    fn drawn_force(&self, case: &CaseLoads, part: PartId, force: &PointForce) -> DrawnForce {
        let known = !matches!(force.what, ForceKind::Joint(j) if !is_known(case, j));
        let shown = known.then(|| self.pair(force.force.xy(), Quantity::Force));
        DrawnForce {
            what: self.what(force.what),
            kind: match force.what {
                ForceKind::Joint(k) => match self.tool.joint(k).and_then(|j| j.look(self.tool)) {
                    Some(Look::Way(_) | Look::Cam(_)) => DrawnKind::Slot,
                    _ => DrawnKind::Pin,
                },
                ForceKind::Hand | ForceKind::Opposite | ForceKind::Palm => DrawnKind::Hand,
                ForceKind::Jaw(_) | ForceKind::Stop(_) => DrawnKind::Work,
                ForceKind::Spring(_) | ForceKind::Pawl => DrawnKind::Spring,
                ForceKind::Bench => DrawnKind::Bench,
            },
            on: self.part(part),
            at: force.at.xy(),
            force: shown,
            size: shown.map(|[x, y]| x.hypot(y)),
            couple: known.then(|| self.show(force.moment, Quantity::Torque)),
        }
    }
}
