//! Reading measures.

use super::integrals;
use super::name::Measure;
use crate::limits::limit_at;
use crate::model::{At, Tool};
use crate::motion::MotionError;
use crate::statics::{Answer, Answers, LocateError, Rig, locate};

/// What a measure says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reading {
    /// Its value in internal units.
    Value(f64),
    /// There is none, and why.
    Missing(&'static str),
}

impl Reading {
    /// Why there is no value, if there is none.
    #[must_use]
    pub fn why(self) -> Option<&'static str> {
        match self {
            Self::Value(_) => None,
            Self::Missing(why) => Some(why),
        }
    }

    /// The value, if there is one.
    #[must_use]
    pub fn value(self) -> Option<f64> {
        match self {
            Self::Value(value) => Some(value),
            Self::Missing(_) => None,
        }
    }
}

/// Where a peak or least value was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Pace from open, see [`Rig::go_to`].
    pub pace: f64,
    /// Gap there, mm.
    pub gap: f64,
    /// Handle angle there, rad.
    pub handle: f64,
    /// Handle angle travelled since open, rad.
    pub travel: f64,
}

impl Place {
    /// Where the rig stands, which has gone to this pace.
    pub(super) fn of(rig: &Rig, pace: f64) -> Self {
        Self {
            pace,
            gap: rig.forces().gap[0],
            handle: rig.stance().handle,
            travel: rig.stance().travel,
        }
    }
}

/// Reads measures off a tool that is set up.
#[derive(Debug)]
pub struct Reader<'r, 'a> {
    pub(super) rig: &'r mut Rig<'a>,
    hand_force: f64,
}

pub(super) const AT_TOGGLE: &str = "the jaw stands still there (toggle)";
const NO_FORCE: &str = "no force is put in there that friction could take from";
const LOCKS: &str = "friction locks the tool there";
const SLACK: &str = "the hand does not overcome the springs there";
const NO_LIMIT: &str = "the hand has no limit at that span";
const NO_WORK: &str = "the work asks for nothing there yet";
const ENDED: &str = "the dies of a jaw meet before it: the stroke ends there";
const NO_SPAN: &str = "there is no second handle";

impl<'r, 'a> Reader<'r, 'a> {
    /// A reader on `rig`, for the tool's hand force.
    pub fn new(rig: &'r mut Rig<'a>) -> Self {
        let hand_force = rig.tool().hand.force;
        Self { rig, hand_force }
    }

    /// The tool that is read.
    #[must_use]
    pub fn tool(&self) -> &'a Tool {
        self.rig.tool()
    }

    /// Reads a measure of a position, for the hand at a grip (index).
    ///
    /// # Errors
    /// When the position does not lie in the stroke or cannot be solved.
    pub fn at(&mut self, measure: &Measure, at: At, grip: usize) -> Result<Reading, LocateError> {
        match at {
            At::Peak => Ok(self.extreme(measure, grip, 1.0)?.0),
            At::Least => Ok(self.extreme(measure, grip, -1.0)?.0),
            _ => {
                let pace = locate(self.rig, at, grip)?;
                self.rig.go_to(pace)?;
                let reading = self.here(measure, grip);
                self.rig.ask_for_all();
                Ok(reading)
            }
        }
    }

    /// Reads a measure of the whole stroke, strength factors left out (they belong to
    /// [`crate::strength`]).
    ///
    /// # Errors
    /// When a position cannot be solved.
    pub fn over_stroke(&mut self, measure: &Measure, grip: usize) -> Result<Reading, MotionError> {
        let reading = match measure {
            Measure::HandWork => integrals::hand_work(self.rig, grip),
            Measure::JawWork => integrals::jaw_work(self.rig, grip),
            _ => Ok(Reading::Missing("it is no measure of the stroke")),
        };
        self.rig.ask_for_all();
        reading
    }

    /// Reads a measure where the rig stands.
    pub(super) fn here(&mut self, measure: &Measure, grip: usize) -> Reading {
        if self.rig.ended() {
            return Reading::Missing(ENDED);
        }
        match measure {
            Measure::Gap => return Reading::Value(self.rig.forces().gap[0]),
            Measure::Handle => return Reading::Value(self.rig.stance().handle),
            Measure::Travel => return Reading::Value(self.rig.stance().travel),
            Measure::Span => {
                return self
                    .rig
                    .span(grip)
                    .map_or(Reading::Missing(NO_SPAN), Reading::Value);
            }
            _ => {}
        }
        if self.rig.forces().toggle[0] {
            return Reading::Missing(AT_TOGGLE);
        }
        self.rig.set_hand_force(self.hand_force);
        self.rig
            .ask_for(Some(grip), measure.answers(self.rig.work().is_some()));
        self.rig.solve();
        let jaws = self.rig.forces().gap.len();
        let (answer, needed) = (
            self.rig.forces().answer[grip * jaws],
            self.rig.forces().needed[grip],
        );
        match measure {
            Measure::Ratio => Reading::Value(self.rig.forces().ratio[grip * jaws]),
            Measure::JawForce => match answer {
                Answer::Moves { force, .. } => Reading::Value(force),
                Answer::Slack => Reading::Value(0.0),
                Answer::Locked => Reading::Missing(LOCKS),
                Answer::Ended => Reading::Missing(ENDED),
            },
            Measure::Efficiency => match answer {
                Answer::Moves { .. } => (answer.efficiency(self.rig.direction()))
                    .map_or(Reading::Missing(NO_FORCE), Reading::Value),
                Answer::Slack => Reading::Missing(SLACK),
                Answer::Locked => Reading::Missing(LOCKS),
                Answer::Ended => Reading::Missing(ENDED),
            },
            Measure::HandForce => hand(needed),
            Measure::HandShare => match hand(needed) {
                Reading::Value(force) => hand_share(force, self.rig.tool(), self.rig.span(grip))
                    .map_or(Reading::Missing(NO_LIMIT), Reading::Value),
                missing => missing,
            },
            Measure::PinLoad(joint) => self.pin_load(grip, *joint, needed),
            _ => Reading::Missing("it is a measure of the whole stroke"),
        }
    }

    /// Load of a joint under the work, or at the tool's hand force where there is none.
    fn pin_load(&mut self, grip: usize, joint: usize, needed: Answer) -> Reading {
        if let Some(work) = self.rig.work() {
            if work == 0.0 {
                return Reading::Missing(NO_WORK);
            }
            match hand(needed) {
                Reading::Value(force) => {
                    self.rig.set_hand_force(force);
                    self.rig.ask_for(Some(grip), Answers::JawForce);
                    self.rig.solve();
                    self.rig.set_hand_force(self.hand_force);
                }
                missing => return missing,
            }
        }
        let joints = self.rig.tool().joints.len();
        let [x, y] = self.rig.forces().pins[grip * joints + joint];
        let load = x.hypot(y);
        if load.is_finite() {
            Reading::Value(load)
        } else {
            Reading::Missing(SLACK)
        }
    }
}

impl Measure {
    /// Which answers it is read off at a position; `works`: there is work at the jaw.
    #[must_use]
    pub fn answers(&self, works: bool) -> Answers {
        match self {
            Self::Ratio => Answers::Ratio,
            Self::HandForce | Self::HandShare => Answers::HandForce,
            Self::PinLoad(_) | Self::HandWork if works => Answers::HandForce,
            _ => Answers::JawForce,
        }
    }
}

fn hand(needed: Answer) -> Reading {
    match needed {
        Answer::Moves { force, .. } => Reading::Value(force),
        Answer::Slack => Reading::Value(0.0),
        Answer::Locked => Reading::Missing(LOCKS),
        Answer::Ended => Reading::Missing(ENDED),
    }
}

/// A hand force (N) over the hand's limit at a span (mm), where there is one.
#[must_use]
pub fn hand_share(force: f64, tool: &Tool, span: Option<f64>) -> Option<f64> {
    let limit = limit_at(tool.hand.limit.as_ref()?, span)?;
    (limit > 0.0).then(|| force / limit)
}

/// Whether a measure has no value because it grows without bound there.
pub(super) fn unbounded(measure: &Measure, why: &'static str) -> bool {
    match measure {
        Measure::HandForce | Measure::HandShare => why == LOCKS,
        Measure::Ratio | Measure::JawForce | Measure::PinLoad(_) => why == AT_TOGGLE,
        _ => false,
    }
}
