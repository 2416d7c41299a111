//! The door of the library: a tool, and everything that is asked of it.
//!
//! An [`Analysis`] finds the motion, the stroke and the strength of its tool once each, when they are
//! first asked for, and every command asks the same one. Here of a plain lever, from its file:
//!
//! ```
//! use jawforce::analysis::{Analysis, Direction};
//! use jawforce::input::read_tool;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! # let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-data");
//! # let text = std::fs::read_to_string(format!("{folder}/eyelet-toggle.toml"))?;
//! # let beside = |name: &str| std::fs::read_to_string(format!("{folder}/{name}")).map_err(|e| e.to_string());
//! let tool = read_tool(&text, &beside)?.tool;
//! let analysis = Analysis::of(tool);
//! let stroke = analysis.stroke(Direction::Closing)?;
//! println!("{} positions", stroke.positions.len());
//! for demand in analysis.demands(Direction::Closing)? {
//!     println!("demand {}: {:?}, met: {}", demand.demand, demand.reading, demand.met);
//! }
//! let weakest = analysis.strength(Direction::Closing)?.safety(None);
//! # assert!(weakest.is_some());
//! # Ok(())
//! # }
//! ```

mod agree;
mod cams;
mod failure;
mod gears;
mod grips;
mod heights;
mod judge;
mod life;
mod loads;
mod operators;
mod ratchet;
mod room;
mod safety;
mod setup;
mod springs;
mod stops;
mod strength;
mod stroke;
mod verdict;
mod wound;

pub use crate::model::Direction;
pub(crate) use crate::strength::{MadePlates, Redrawn};
pub use cams::CamSeen;
pub use failure::Failure;
pub use gears::GearsSeen;
pub use grips::{grips_of, with_grips};
pub use heights::Heights;
pub use judge::{DemandError, Judge, Outcome, ReadError};
pub use life::LifeSeen;
pub use loads::{CaseLoads, LoadsError, case_loads, loads_at};
pub use operators::{GroupCase, group_cases};
pub use ratchet::{RatchetSeen, ToothSeen, tooth_angles};
pub use room::{RoomSeen, touching};
pub(crate) use safety::{FAR, Safeties};
pub use setup::{AtEnd, Setting, at_end, settings};
pub use springs::SpringsSeen;
pub use stops::{SharedLoad, StopPlace, StopSeen};
pub use stroke::{AtGrip, Meets, Position, Solved, Worked, solve};
pub use verdict::{HandCase, NotJudged, hand_case, hand_cases, hand_is_judged};

use crate::give::{Give, give};
use crate::measure::{Measure, Reading};
use crate::model::{At, GripId, JawId, Tool};
use crate::statics::{MountError, Mounted, Rig, locate};
use crate::strength::Strength;
use std::cell::OnceCell;
use std::sync::OnceLock;

/// A tool and what has been found of it so far. Lengths in mm, forces in N, angles in rad.
///
/// A tool with other dimensions, grips or forces needs another one.
#[derive(Debug, Clone)]
pub struct Analysis {
    tool: Tool,
    mounted: OnceLock<Mounted>,
    /// Closing and opening.
    strokes: [OnceLock<Solved>; 2],
    /// Over the tool's own grips, closing and opening.
    strengths: [OnceLock<Strength>; 2],
    /// Share of the made tools that meet every demand, once they are sampled.
    made: OnceLock<f64>,
    room: OnceLock<RoomSeen>,
    /// The tool facing each of its jaws but the first.
    facing: Vec<OnceLock<Analysis>>,
}

impl Analysis {
    /// Nothing is found yet.
    #[must_use]
    pub fn of(tool: Tool) -> Self {
        Self {
            facing: vec![OnceLock::new(); tool.jaws.len().saturating_sub(1)],
            tool,
            mounted: OnceLock::new(),
            strokes: Default::default(),
            strengths: Default::default(),
            made: OnceLock::new(),
            room: OnceLock::new(),
        }
    }

    /// The tool.
    #[must_use]
    pub fn tool(&self) -> &Tool {
        &self.tool
    }

    /// The share of the made tools that meet every demand but those on the yield itself; `None` until
    /// they are sampled, which is not for this module to do.
    #[must_use]
    pub fn made(&self) -> Option<f64> {
        self.made.get().copied()
    }

    /// Keeps what was sampled, see [`Analysis::made`].
    pub fn set_made(&self, share: f64) {
        let _ = self.made.set(share);
    }

    /// Its motion.
    ///
    /// # Errors
    /// [`MountError`]: there is no stroke, or the hand does not close the jaw on it.
    pub fn motion(&self) -> Result<&Mounted, MountError> {
        once(&self.mounted, || Mounted::new(&self.tool))
    }

    /// The same of the tool that faces a jaw, see [`Tool::facing`]: itself where that is in view already, or
    /// there is none.
    #[must_use]
    pub fn facing(&self, jaw: JawId) -> &Self {
        let cell = jaw.index().checked_sub(1).and_then(|k| self.facing.get(k));
        cell.map_or(self, |cell| {
            cell.get_or_init(|| Self::of(self.tool.facing(jaw)))
        })
    }

    /// The tool at all grips that it names, mounted.
    fn gripped(&self) -> Result<(Tool, Mounted), MountError> {
        let (whole, mounted) = (with_grips(&self.tool), self.motion()?);
        let mounted = if whole.hand.grips.len() == self.tool.hand.grips.len() {
            mounted.clone()
        } else {
            mounted.regripped(&whole)?
        };
        Ok((whole, mounted))
    }

    /// The tool set up at the open end of its stroke.
    ///
    /// # Errors
    /// As [`Analysis::motion`].
    pub fn rig(&self, direction: Direction) -> Result<Rig<'_>, MountError> {
        Ok(Rig::new(&self.tool, self.motion()?, direction)?)
    }

    /// The stroke from open to shut, at every grip.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn stroke(&self, direction: Direction) -> Result<&Solved, Failure> {
        once(of(&self.strokes, direction), || {
            stroke::solve_mounted(&self.tool, self.motion()?, direction)
        })
    }

    /// Hands the tool, set up at all grips that it names, to `ask`: for many readings at once.
    ///
    /// # Errors
    /// [`Failure`]: it cannot be set up.
    pub fn judge<'f, T>(
        &'f self,
        direction: Direction,
        ask: impl for<'r> FnOnce(&mut Judge<'f, 'r>) -> T,
    ) -> Result<T, Failure> {
        let (whole, mounted) = self.gripped()?;
        let faced = vec![OnceCell::new(); self.tool.jaws.len()];
        let rig = Rig::new(&whole, &mounted, direction)?;
        Ok(ask(&mut Judge::new(self, &faced, rig, direction)))
    }

    /// A measure of a jaw at a position, or over the stroke (`at`: `None`): at the `grip` named, mm along the hand
    /// line, one that the tool names somewhere; else at its first one (`safety`: over all of its own).
    ///
    /// # Errors
    /// [`ReadError`]: it cannot be read; a [`Reading`] says why there is no value where it can.
    pub fn measure(
        &self,
        measure: &Measure,
        jaw: JawId,
        at: Option<At>,
        grip: Option<f64>,
        direction: Direction,
    ) -> Result<Reading, ReadError> {
        let read = self.judge(direction, |judge| judge.read(measure, jaw, at, grip));
        read.map_err(ReadError::Failure)?
    }

    /// Every demand at each of its grips.
    ///
    /// # Errors
    /// [`DemandError`]: the first that cannot be read.
    pub fn demands(&self, direction: Direction) -> Result<Vec<Outcome>, DemandError> {
        let read = self.judge(direction, |judge| judge.demands());
        read.unwrap_or_else(|failure| {
            let why = ReadError::Failure(failure);
            Err(DemandError { demand: 0, why })
        })
    }

    /// How its plates come near each other over the stroke, and where fingers may be caught.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn room(&self) -> Result<&RoomSeen, Failure> {
        once(&self.room, || {
            let mut rig = self.rig(Direction::Closing)?;
            room::room(&mut rig)
        })
    }

    /// The strength factors of the whole stroke, at the tool's own grips.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn strength(&self, direction: Direction) -> Result<&Strength, Failure> {
        match of(&self.strengths, direction).get() {
            Some(strength) => Ok(strength),
            None => self.judge(direction, |judge| judge.strength())?,
        }
    }

    /// All loads at one position for a hand force (N) at a grip (index).
    ///
    /// # Errors
    /// [`LoadsError`].
    pub fn loads(
        &self,
        at: At,
        grip: GripId,
        hand_force: f64,
        direction: Direction,
    ) -> Result<CaseLoads, LoadsError> {
        let rig = self.rig(direction).map_err(Failure::from);
        loads_at(&mut rig.map_err(LoadsError::Failure)?, at, grip, hand_force)
    }

    /// How far the jaws spread per unit of jaw force, the hand held at a grip (index).
    ///
    /// # Errors
    /// [`LoadsError`].
    pub fn compliance(&self, at: At, grip: GripId) -> Result<Give, LoadsError> {
        let rig = self.rig(Direction::Closing).map_err(Failure::from);
        let mut rig = rig.map_err(LoadsError::Failure)?;
        let pace = locate(&mut rig, at, grip).map_err(LoadsError::Locate)?;
        rig.go_to(pace)?;
        give(&mut rig, grip).map_err(|_| LoadsError::NoForces)
    }
}

/// What a cell holds, found now if it holds nothing yet.
fn once<T, E>(cell: &OnceLock<T>, find: impl FnOnce() -> Result<T, E>) -> Result<&T, E> {
    if let Some(found) = cell.get() {
        return Ok(found);
    }
    let found = find()?;
    Ok(cell.get_or_init(|| found))
}

fn of<T>([closing, opening]: &[T; 2], direction: Direction) -> &T {
    match direction {
        Direction::Closing => closing,
        Direction::Opening => opening,
    }
}
