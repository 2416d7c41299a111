//! The free-body sheet of 1 N at the first jaw, held by the hand, without friction and springs.

use super::ask::{Ask, Holding};
use super::forces::Forces;
use super::friction::{Contact, spreads};
use super::loaded::{Burden, Hold};
use super::sheet::{ForceKind, PointForce, Sheet};
use super::sheeted::Sheeted;
use crate::geometry::Vec2;
use crate::model::{GripId, Tool};
use crate::motion::Solver;

/// Every force on every part for 1 N at the first jaw, held by the hand, without friction and
/// springs, where `forces` stands; and the hand force (N) or moment on the handle (N mm) that holds
/// it. It exists at a toggle, where that is zero. `None` at a dead position, and in a linkage with
/// redundant bars, whose forces statics alone cannot tell.
///
/// By virtual work each force of the sheet is also the derivative of the gap by a displacement of
/// its point in its direction, with the hand held so.
#[must_use]
pub fn unit_sheet(
    tool: &Tool,
    solver: &Solver,
    forces: &mut Forces,
    ask: &Ask,
    holding: Holding,
) -> Option<(Sheet, f64)> {
    unit_case(tool, solver, forces, ask, (holding, &[]))
}

/// The same with the forces that press gears apart, which have no power: what the parts carry for 1 N at the jaw,
/// but no derivative of the gap.
pub(super) fn pressed_sheet(
    tool: &Tool,
    solver: &Solver,
    forces: &mut Forces,
    ask: &Ask,
    holding: Holding,
) -> Option<(Sheet, f64)> {
    let spreads = spreads(tool, &solver.linkage);
    unit_case(tool, solver, forces, ask, (holding, &spreads))
}

fn unit_case(
    tool: &Tool,
    solver: &Solver,
    forces: &mut Forces,
    ask: &Ask,
    (holding, spreads): (Holding, &[Contact]),
) -> Option<(Sheet, f64)> {
    if solver.redundant() {
        return None;
    }
    let held = forces.unit(solver, holding)?;
    let rubs = if spreads.is_empty() {
        Vec::new()
    } else {
        forces.unit_pressed(solver, spreads)
    };
    let grip = match holding {
        Holding::Grip(grip) => Some(grip),
        Holding::Angle => None,
    };
    let shown = grip.unwrap_or(GripId::FIRST);
    let hold = Hold {
        grip: shown,
        side: *ask.sides.get(shown.index())?,
        force: grip.map_or(0.0, |_| held),
        power: 0.0,
    };
    let bare = Burden::default();
    let case = Sheeted {
        burden: &bare,
        hold,
        jaw_force: 1.0,
        rubs: &rubs,
    };
    let mut sheet = forces.sheet(tool, solver, case);
    if holding == Holding::Angle {
        add_moments(solver, held, &mut sheet);
    }
    Some((sheet, held))
}

/// The moment (N mm) that holds the handle, and its opposite on the other handle.
fn add_moments(solver: &Solver, held: f64, sheet: &mut Sheet) {
    let (linkage, pose) = (&*solver.linkage, &solver.pose);
    let hand = &linkage.hand;
    for (body, moment, what) in [
        (Some(hand.body), held, ForceKind::Hand),
        (hand.against, -held, ForceKind::Opposite),
    ] {
        let Some(body) = body else { continue };
        let (Some(stands), Some(frame), Some(forces)) = (
            pose.frames.get(body.index()),
            linkage.bodies.get(body.index()),
            sheet.part_forces.get_mut(body.index()),
        ) else {
            continue;
        };
        forces.push(PointForce {
            what,
            at: stands.origin,
            local: frame.entry,
            force: Vec2::ZERO,
            moment,
        });
    }
}
