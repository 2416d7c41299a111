//! Errors of all stages without their tool: one line each, in mm, N and degrees, joints, parts and jaws
//! by their place in the tool's lists. With the tool at hand, `words` and `text` say more, by name.

use crate::analysis::Failure;
use crate::analysis::LoadsError;
use crate::analysis::{DemandError, ReadError};
use crate::give::{NoGive, NoPress};
use crate::model::{Fixed, FixedBy, ModelError};
use crate::motion::MotionError;
use crate::statics::{LocateError, MountError};
use crate::tolerance::StudyError;
use crate::tune::TuneError;
use crate::units::{UnitSystem, trimmed};
use std::error::Error;
use std::fmt::{self, Display, Formatter};

/// A value in mm, or in degrees.
fn shown(by: FixedBy, value: f64) -> String {
    match by {
        FixedBy::Gap(_) | FixedBy::Span | FixedBy::Stop(_) => format!("{} mm", trimmed(value, 4)),
        FixedBy::Handle | FixedBy::Turned(..) => format!("{} deg", trimmed(value.to_degrees(), 4)),
    }
}

impl Display for MotionError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Open { joint, distance } => {
                write!(
                    f,
                    "a loop does not close: joint {joint} stays {} mm apart",
                    trimmed(*distance, 4)
                )
            }
            Self::Rigid => f.write_str("the linkage cannot move"),
            Self::Loose { degrees, .. } => {
                write!(
                    f,
                    "the linkage has {degrees} degrees of freedom, a tool needs one"
                )
            }
            Self::ChangeAtSketch => f.write_str("the sketched position is a change point"),
            Self::StillJaw(jaw) => write!(f, "jaw {jaw} does not move when the handle does"),
            Self::StopBeforeOpen(stop, past) => write!(
                f,
                "stop {stop} is met before the stroke is open: its faces are {} mm past each other",
                trimmed(*past, 4)
            ),
            Self::OffFace(cam, past) => write!(
                f,
                "with the tool open the contact of cam {cam} is {} mm beyond the end of its face",
                trimmed(*past, 4)
            ),
            Self::StillHand => f.write_str("the hand's part does not move with the linkage"),
            Self::PushedOpen(open) => {
                write!(
                    f,
                    "the hand at grip {} opens the first jaw: ratio {}",
                    open.grip,
                    trimmed(open.ratio, 4)
                )
            }
            Self::Unreachable {
                end,
                fixed: Fixed { by, value },
                reach,
                ..
            } => write!(
                f,
                "the {end} position is out of reach: {} runs from {} to {}, and {} is not in that",
                by.words(),
                shown(*by, reach.low),
                shown(*by, reach.high),
                shown(*by, *value)
            ),
            Self::Opens { .. } => f.write_str("the first jaw opens on the way from open to shut"),
            Self::NoneCloses { .. } => {
                f.write_str("on no way from open to shut does the first jaw close all the way")
            }
            Self::Unsettled { end } => write!(f, "the {end} position could not be solved"),
            Self::NoStroke => f.write_str("open and shut are the same position"),
            Self::Unsolved { travel } => write!(
                f,
                "the position {} deg of travel from open could not be solved",
                trimmed(travel.to_degrees(), 4)
            ),
        }
    }
}

impl Display for ModelError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        self.words(UnitSystem::MmN).fmt(f)
    }
}

impl Display for MountError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Model(error) => error.fmt(f),
            Self::Motion(error) => error.fmt(f),
        }
    }
}

impl Display for LocateError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange {
                fixed: Fixed { by, value },
                reach,
            } => write!(
                f,
                "{} = {} is not on the stroke, which runs from {} to {}",
                by.word(),
                shown(*by, *value),
                shown(*by, reach.low),
                shown(*by, reach.high)
            ),
            Self::NoSpan => f.write_str("there is no span: the tool has no second handle"),
            Self::NotAPosition => f.write_str("a peak or least value needs a measure"),
            Self::Motion(error) => error.fmt(f),
        }
    }
}

impl Display for Failure {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Model(error) => error.fmt(f),
            Self::Motion(error) => error.fmt(f),
            Self::Overlap { layer, area, .. } => write!(
                f,
                "two plates overlap by {} mm2 in layer {layer} with the tool open",
                trimmed(*area, 3)
            ),
            Self::Check {
                what,
                found,
                allowed,
            } => write!(f, "{what} is off by {found:.1e}, more than {allowed:.0e}"),
        }
    }
}

impl Display for LoadsError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Failure(error) => error.fmt(f),
            Self::Locate(error) => error.fmt(f),
            Self::NoForces => f.write_str(
                "there are no forces there: the jaw stands still, friction locks the tool, a cam lifts off, or the springs hold the hand",
            ),
            Self::Stop(why) => f.write_str(why.words()),
            Self::DiesMet => f.write_str("there are no forces there: the dies of a jaw meet before it"),
        }
    }
}

impl Display for NoGive {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoHold => f.write_str(
                "the hand cannot hold the jaw here, or statics alone cannot tell the forces",
            ),
        }
    }
}

impl Display for NoPress {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::DoesNotFit { open } => {
                write!(
                    f,
                    "the piece does not fit the open gap of {} mm",
                    trimmed(*open, 4)
                )
            }
            Self::NotTouched { least } => {
                write!(
                    f,
                    "the piece is not touched: the gap stays above {} mm",
                    trimmed(*least, 4)
                )
            }
            Self::HandSpent => {
                f.write_str("springs or friction stop the hand before the piece is touched")
            }
            Self::AllRigid => f.write_str("every part between the hand and the piece is rigid"),
            Self::NoGive(error) => error.fmt(f),
            Self::Motion(error) => error.fmt(f),
        }
    }
}

impl Display for ReadError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Locate(error) => error.fmt(f),
            Self::Failure(error) => error.fmt(f),
        }
    }
}

impl Display for DemandError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "demand {}: {}", self.demand, self.why)
    }
}

impl Display for StudyError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoTolerances => f.write_str("the tool has no tolerances"),
            Self::NothingVaries => f.write_str("the tolerances give no dimension any room"),
            Self::Mount(error) => error.fmt(f),
            Self::Motion(error) => error.fmt(f),
            Self::Failure(error) => error.fmt(f),
            Self::Position { measure, error } => write!(f, "`{measure}`: {error}"),
            Self::Threads(why) => f.write_str(why),
            Self::TooManyMeasures(count) => {
                write!(f, "{count} measures would take minutes to read off samples")
            }
            Self::TooManySamples { most } => {
                write!(f, "so many samples do not fit in memory; at most {most} do")
            }
        }
    }
}

impl Display for TuneError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing(what) => write!(f, "the tool has no {what}"),
            Self::Aim(error) => write!(f, "aim: {error}"),
            Self::NoPoint => f.write_str("no point of the ranges can be solved"),
            Self::NoStep(step) => {
                write!(
                    f,
                    "no point of the ranges in steps of {step} mm can be solved"
                )
            }
            Self::TooMuch => f.write_str("the search would take minutes"),
        }
    }
}

macro_rules! errors {
    ($($error:ty),*) => { $(impl Error for $error {})* };
}

errors!(
    ModelError,
    MotionError,
    MountError,
    LocateError,
    Failure,
    LoadsError,
    NoGive,
    NoPress,
    ReadError,
    DemandError,
    StudyError,
    TuneError
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Target;
    use crate::motion::Reach;

    #[test]
    fn an_error_without_its_tool_is_one_line_in_mm_and_degrees() {
        let error = MotionError::Unreachable {
            end: "shut",
            fixed: Target::Handle(std::f64::consts::PI).fixed(),
            reach: Reach {
                low: 0.0,
                high: std::f64::consts::FRAC_PI_2,
            },
            passing: None,
            cut_short: false,
        };
        let boxed: Box<dyn Error> = Failure::from(error).into();
        assert_eq!(
            boxed.to_string(),
            "the shut position is out of reach: the handle angle runs from 0 deg to 90 deg, and \
             180 deg is not in that"
        );
    }
}
