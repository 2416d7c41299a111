//! A rigid workpiece pressed by an elastic tool: the finite jaw force near a toggle.
//!
//! A rigid piece holds the jaw at a gap of its thickness t. Where the rigid tool would stand at a gap
//! g < t, the tool is spread by t − g, which takes the jaw force F = (t − g) / c, with c its give per
//! unit of force there. The hand goes on until the force that it needs for this F has risen to what
//! it gives. Nearer to the toggle it needs less and less: when the hand has not been stopped before,
//! the tool snaps through, and the greatest force is that at the toggle, however hard the hand
//! pushes on. From first principles.
//!
//! A position here is that of the handle at its root: a handle that bends between grip and pin lets
//! the hand go further, but moves the linkage no further. So c is [`Give::linkage`], without that
//! length. The way from root position to forces is that of the undeformed tool (small
//! deformations): where the spread is not small against the rise of the toggle's knee over its
//! straight line, this is a first approximation.

use super::elastic::Elastic;
use super::result::{Give, NoGive};
use crate::model::{GripId, JawId};
use crate::motion::MotionError;
use crate::numeric::scan::{border, climb, even, first_border};
use crate::statics::{Absent, Rig};

/// Places looked at between touching the piece and the end.
const LOOKS: usize = 240;
/// How closely the place of the greatest hand force is found, over the whole pace.
const PLACE: f64 = 1e-9;

/// What ends the pressing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stop {
    /// The hand: it cannot push further.
    Hand,
    /// The end of the stroke, before the hand is spent.
    End,
    /// The toggle, before the hand is spent: the tool snaps through, and this is the peak.
    Toggle,
}

/// A rigid workpiece pressed.
#[derive(Debug, Clone, PartialEq)]
pub struct Press {
    /// What ends it.
    pub stop: Stop,
    /// Force on the piece there, N.
    pub jaw_force: f64,
    /// How far the piece spreads the jaws there, mm.
    pub spread: f64,
    /// Hand force that holds it there, N; none at a toggle.
    pub hand_force: Option<f64>,
    /// The most that the hand has had to give on the way from touching the piece, N.
    pub hand_peak: f64,
    /// Where that is: pace of the stroke since open, see [`Rig::go_to`].
    pub pace: f64,
    /// Handle angle there, rad.
    pub handle: f64,
    /// Where the piece is touched, same measure as `pace`.
    pub touched: f64,
    /// Jaw force of the rigid tool at the touch, N, with friction and springs; `None` when it stands
    /// at a toggle there, where it has no limit.
    pub ideal: Option<f64>,
    /// The give there, and what it comes from.
    pub give: Give,
}

/// Why a rigid workpiece is not pressed.
#[derive(Debug, Clone, PartialEq)]
pub enum NoPress {
    /// The piece is thicker than the open gap (mm).
    DoesNotFit {
        /// Gap at the open end of the stroke.
        open: f64,
    },
    /// The jaw does not come down to the piece: this is the least gap (mm).
    NotTouched {
        /// Least gap before the end of the stroke or a toggle.
        least: f64,
    },
    /// Springs or friction stop the hand before the piece is touched.
    HandSpent,
    /// No part between the hand and the piece gives: there is no section, or none with a modulus.
    AllRigid,
    /// There is no give at some position.
    NoGive(NoGive),
    /// The loops cannot be closed at some position.
    Motion(MotionError),
}

impl From<MotionError> for NoPress {
    fn from(error: MotionError) -> Self {
        Self::Motion(error)
    }
}

impl From<NoGive> for NoPress {
    fn from(error: NoGive) -> Self {
        Self::NoGive(error)
    }
}

/// Presses a rigid piece of `thickness` (mm, as a gap of the first jaw) with a hand force (N) at a
/// grip, from the open end of the stroke of `rig`. Springs and friction count. Leaves `rig` where it
/// ends.
///
/// # Errors
/// [`NoPress`] says why it is not pressed.
pub fn press(rig: &mut Rig<'_>, grip: GripId, hand: f64, thickness: f64) -> Result<Press, NoPress> {
    rig.put_in_piece(thickness > 0.0);
    let pressed = pressed(rig, grip, hand, thickness);
    rig.put_in_piece(false);
    pressed
}

fn pressed(rig: &mut Rig<'_>, grip: GripId, hand: f64, thickness: f64) -> Result<Press, NoPress> {
    let mut bench = Bench {
        elastic: Elastic::new(rig.tool()),
        rig,
        grip,
        thickness,
    };
    let whole = bench.rig.pace();
    let touched = bench.touch(hand, whole)?;
    let (limit, toggle) = bench.toggle(touched, whole)?;
    let looks: Vec<f64> = even([touched, limit], LOOKS).skip(1).collect();
    // There is no such force at a toggle.
    let needed = |at| Ok::<f64, NoPress>(bench.needed(at)?.unwrap_or(f64::NEG_INFINITY));
    let found = climb(needed, &looks, hand, PLACE * whole)?;
    if let Some([low, pace]) = found.above {
        let low = if low < pace { low } else { touched };
        let holds = |at| Ok::<_, NoPress>(bench.needed(at)?.is_none_or(|n| n <= hand));
        let [low, _] = border(holds, low, pace)?;
        return bench.conclude(Stop::Hand, low, touched, hand, hand);
    }
    let peak = found.greatest[1].max(0.0);
    let stop = if toggle { Stop::Toggle } else { Stop::End };
    bench.conclude(stop, limit, touched, hand, peak)
}

/// The tool with the piece in it.
struct Bench<'r, 't> {
    rig: &'r mut Rig<'t>,
    elastic: Elastic<'t>,
    grip: GripId,
    thickness: f64,
}

impl Bench<'_, '_> {
    fn gap(&self) -> f64 {
        self.rig
            .forces()
            .gap
            .first()
            .copied()
            .unwrap_or(f64::INFINITY)
    }

    /// Whether the jaw closes on here; not at a toggle.
    fn closes(&self) -> bool {
        let forces = self.rig.forces();
        forces.closing(JawId::FIRST) > 0.0 && forces.toggle.first() != Some(&true)
    }

    /// Where the piece is touched.
    fn touch(&mut self, hand: f64, whole: f64) -> Result<f64, NoPress> {
        self.rig.go_to(0.0)?;
        let open = self.gap();
        if open < self.thickness {
            return Err(NoPress::DoesNotFit { open });
        }
        let mut least = open;
        let free = |at| {
            self.rig.go_to(at)?;
            least = least.min(self.gap());
            let free = self.gap() > self.thickness;
            if free && self.spent(hand) {
                return Err(NoPress::HandSpent);
            }
            Ok(free)
        };
        let Some([low, high]) = first_border(free, even([0.0, whole], LOOKS))? else {
            return Err(NoPress::NotTouched { least });
        };
        let free = |at| {
            self.rig.go_to(at)?;
            Ok::<_, NoPress>(self.gap() > self.thickness)
        };
        let [_, touched] = border(free, low, high)?;
        self.rig.go_to(touched)?;
        if self.spent(hand) {
            return Err(NoPress::HandSpent);
        }
        Ok(touched)
    }

    /// Whether the hand cannot even move the empty tool here.
    fn spent(&mut self, hand: f64) -> bool {
        let needed = self.hand_for(0.0);
        needed.is_some_and(|needed| needed > hand)
    }

    /// Where the jaw first stops closing after `from`, and `true`; or the end.
    fn toggle(&mut self, from: f64, whole: f64) -> Result<(f64, bool), NoPress> {
        let mut closes = |at| {
            self.rig.go_to(at)?;
            Ok::<_, NoPress>(self.closes())
        };
        match first_border(&mut closes, even([from, whole], LOOKS))? {
            Some([low, high]) => Ok((border(closes, low, high)?[1], true)),
            None => Ok((whole, false)),
        }
    }

    /// The give at a place, and the force on the piece, N.
    fn force(&mut self, pace: f64) -> Result<(Give, f64), NoPress> {
        self.rig.go_to(pace)?;
        let spread = (self.thickness - self.gap()).max(0.0);
        let give = self.elastic.at(self.rig, self.grip)?;
        if !(give.linkage() > 0.0) {
            return Err(NoPress::AllRigid);
        }
        let force = spread / give.linkage();
        Ok((give, force))
    }

    /// Hand force that holds the piece at a place, N; `None` at a toggle.
    fn needed(&mut self, pace: f64) -> Result<Option<f64>, NoPress> {
        let (_, force) = self.force(pace)?;
        Ok(self.hand_for(force))
    }

    /// Hand force for a force (N) at the first jaw, N: none where springs do it alone, without limit
    /// where friction locks; `None` at a toggle.
    fn hand_for(&mut self, jaw_force: f64) -> Option<f64> {
        match self.rig.here().hand_force_for(self.grip, jaw_force) {
            Ok(force) => Some(force),
            Err(Absent::Toggle) => None,
            Err(_) => Some(f64::INFINITY),
        }
    }

    fn conclude(
        &mut self,
        stop: Stop,
        pace: f64,
        touched: f64,
        hand: f64,
        hand_peak: f64,
    ) -> Result<Press, NoPress> {
        self.rig.go_to(touched)?;
        let ideal = match self.rig.here().jaw_force(self.grip, JawId::FIRST, hand) {
            Err(Absent::Toggle) => None,
            ideal => Some(ideal.unwrap_or(0.0)),
        };
        let (give, jaw_force) = self.force(pace)?;
        let needed = self.hand_for(jaw_force);
        Ok(Press {
            stop,
            jaw_force,
            spread: (self.thickness - self.gap()).max(0.0),
            hand_force: needed.filter(|n| n.is_finite() && stop != Stop::Toggle),
            hand_peak,
            pace,
            handle: self.rig.stance().handle,
            touched,
            ideal,
            give,
        })
    }
}
