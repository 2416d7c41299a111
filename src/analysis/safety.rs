//! The least strength factor where a tool stands, the load at the jaw that it faces: for the many made
//! tools of one drawing.

use super::failure::Failure;
use super::strength::strength;
use crate::measure::Reading;
use crate::model::{GripId, JawId, Tool};
use crate::statics::{Absent, Rig, Stand};
use crate::strength::{Case, Checks, Factor, Strength, heaviest};

/// Pins, parts and places whose factor is more than so many times the least of the drawn tool are not looked
/// at on made tools: no tolerance brings them down to it.
pub(crate) const FAR: f64 = 4.0;

/// The checks that may give the least factor of a made tool.
#[derive(Debug, Clone)]
pub(crate) struct Weakest<'a> {
    /// Of this part or pin; `None`: of everything.
    name: Option<String>,
    tool: &'a Tool,
    /// The hand lines of made tools are not those of the drawn one.
    redrawn: bool,
    near: Vec<Factor>,
    checks: Checks<'a>,
}

/// Every factor of the drawn tool over the stroke, at one grip.
///
/// # Errors
/// [`Failure`].
pub(crate) fn strength_at_grip(rig: &mut Rig, grip: GripId) -> Result<Strength, Failure> {
    strength(&mut [(JawId::FIRST, rig)], &[grip])
}

impl<'a> Weakest<'a> {
    /// Of this part or pin, or of everything; none yet.
    pub(crate) fn new(tool: &'a Tool, name: Option<String>, redrawn: bool) -> Self {
        Self {
            name,
            tool,
            redrawn,
            near: Vec::new(),
            checks: Checks::only(tool, &[]),
        }
    }

    /// Those that are weak on the drawn tool at one more grip; pace and gap (mm) where they are, least factor
    /// first.
    pub(crate) fn add(&mut self, found: &Strength) -> Vec<(f64, f64)> {
        let own = || found.of(self.name.as_deref());
        let most = own().next().map_or(0.0, |least| FAR * least.factor);
        let near: Vec<Factor> = own().filter(|f| f.factor <= most).cloned().collect();
        self.near.extend_from_slice(&near);
        self.checks = Checks::only(self.tool, &self.near);
        let places = near.iter().filter_map(|factor| found.position(factor));
        places.map(|at| (at.pace, at.gap)).collect()
    }

    /// Whether they are of this part or pin, or of everything.
    pub(crate) fn is_of(&self, name: Option<&str>) -> bool {
        self.name.as_deref() == name
    }

    /// The least factor where a tool of these parts stands, the hand at a grip (index).
    ///
    /// # Errors
    /// [`Absent`]: there are no forces, or nothing is loaded.
    pub(crate) fn at(&self, stand: &mut Stand, grip: GripId) -> Reading {
        let (load, hand_force) = heaviest(stand, grip).ok_or(Absent::NoForce)?;
        let (sheet, _) = stand.sheet(grip, hand_force).ok_or(Absent::NoForce)?;
        let mut checks = self
            .checks
            .remade(stand.tool(), self.redrawn)
            .ok_or(Absent::NoFactor)?;
        checks.add(&Case {
            position: 0,
            jaw: JawId::FIRST,
            grip,
            hand_force,
            load,
            sheet: &sheet,
        });
        checks.least().ok_or(Absent::NoFactor)
    }
}
