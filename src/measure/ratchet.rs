//! Where the teeth of a ratchet stand on the stroke.

use crate::model::{At, JawId, Ratchet};
use crate::motion::MotionError;
use crate::numeric::root::root;
use crate::statics::{Absent, LocateError, Rig, ratchet_ends};

/// Why the teeth of a ratchet have no places on the stroke.
#[derive(Debug, Clone, PartialEq)]
pub enum NoTeeth {
    /// The tool has no ratchet.
    NoRatchet,
    /// The stroke does not come to where it engages (`"engages"`) or lets go (`"frees"`).
    Off(&'static str, LocateError),
    /// It lets go before it engages.
    FreesFirst,
    /// It turns by this much (rad) from the one to the other, which is less than a tooth.
    LessThanATooth(f64),
    /// The part with the teeth turns back on the way.
    TurnsBack,
}

impl NoTeeth {
    /// As a reason why a measure has no value.
    #[must_use]
    pub fn absent(&self) -> Absent {
        match self {
            Self::NoRatchet => Absent::NoRatchet,
            _ => Absent::NoTeeth,
        }
    }
}

/// A tooth whose tip the pawl has passed; mm, rad.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tooth {
    /// Pace of the stroke, see [`Rig::go_to`].
    pub pace: f64,
    /// Gap of the first jaw.
    pub gap: f64,
    /// Angle of the part with the teeth against that of the pawl.
    pub turned: f64,
}

/// All teeth, from the first to the last, after which the pawl is free.
///
/// # Errors
/// When a position cannot be solved; [`NoTeeth`].
pub fn teeth(rig: &mut Rig) -> Result<Result<Vec<Tooth>, NoTeeth>, MotionError> {
    let tool = rig.tool();
    let Some(ratchet) = &tool.ratchet else {
        return Ok(Err(NoTeeth::NoRatchet));
    };
    let [from, to] = match ratchet_ends(rig, ratchet) {
        Ok([[from, _], [to, _]]) => [from, to],
        Err((_, LocateError::Motion(error))) => return Err(error),
        Err((word, error)) => return Ok(Err(NoTeeth::Off(word, error))),
    };
    if to <= from {
        return Ok(Err(NoTeeth::FreesFirst));
    }
    let (first, last) = (stand(rig, ratchet, from)?, stand(rig, ratchet, to)?);
    let turned = last.turned - first.turned;
    let count = ratchet.pitches(turned);
    if count == 0 {
        return Ok(Err(NoTeeth::LessThanATooth(turned.abs())));
    }
    let mut before = first.turned;
    for k in 1..=LOOKS {
        let pace = first.pace + (last.pace - first.pace) * k as f64 / LOOKS as f64;
        let now = stand(rig, ratchet, pace)?.turned;
        if (now - before) * turned <= 0.0 {
            return Ok(Err(NoTeeth::TurnsBack));
        }
        before = now;
    }
    let mut found = vec![first];
    for k in 1..=count {
        let angle = first.turned + turned.signum() * ratchet.pitch * k as f64;
        let mut failed = None;
        let read = |pace: f64| match stand(rig, ratchet, pace) {
            Ok(tooth) => Some(tooth.turned - angle),
            Err(error) => {
                failed = Some(error);
                None
            }
        };
        let within = (last.pace - first.pace) * CLOSE;
        // The last tooth may stand at the very end but for rounding.
        let pace = root(read, first.pace, last.pace, within).unwrap_or(last.pace);
        if let Some(error) = failed {
            return Err(error);
        }
        found.push(stand(rig, ratchet, pace)?);
    }
    Ok(Ok(found))
}

/// Places at which it is looked whether the teeth go one way.
const LOOKS: usize = 120;
/// How closely a tooth is found, over the way of all.
const CLOSE: f64 = 1e-13;

fn stand(rig: &mut Rig, ratchet: &Ratchet, pace: f64) -> Result<Tooth, MotionError> {
    rig.go_to(pace)?;
    let here = rig.here();
    Ok(Tooth {
        pace,
        gap: here.gap(JawId::FIRST).unwrap_or(f64::NAN),
        turned: here.turned(ratchet.teeth_on, ratchet.pawl.on),
    })
}

/// The greatest gap that the tool opens by when the hand lets go between two teeth.
#[must_use]
pub fn greatest_step(teeth: &[Tooth]) -> Option<f64> {
    let steps = teeth
        .windows(2)
        .map(|pair| (pair[0].gap - pair[1].gap).abs());
    steps.reduce(f64::max)
}

/// The position at which the last tooth lets go, by the angle at which it stands on the tool as drawn: the
/// teeth of made tools stand where they do on that one.
///
/// # Errors
/// As [`teeth`].
pub fn lets_go(rig: &mut Rig) -> Result<Result<At, NoTeeth>, MotionError> {
    let Some(ratchet) = &rig.tool().ratchet else {
        return Ok(Err(NoTeeth::NoRatchet));
    };
    Ok(teeth(rig)?.and_then(|teeth| {
        let last = teeth.last().ok_or(NoTeeth::NoRatchet)?;
        Ok(At::Turned(ratchet.teeth_on, ratchet.pawl.on, last.turned))
    }))
}
