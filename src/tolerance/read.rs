//! Reading a measure where a sampled tool stands.

use crate::measure::{Measure, hand_share};
use crate::mechanism::Linkage;
use crate::model::Tool;
use crate::motion::Solver;
use crate::statics::{Answer, Answers, Ask, Forces};

/// Why a sample has no value. None is ever left out of a count in silence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// Its loops do not close, at the position's nominal handle angle either.
    NotAssembled,
    /// It assembles, but does not come to the position.
    OutOfReach,
    /// The jaw opens there as the hand closes: it is beyond its toggle.
    PastToggle,
    /// It stands there, but has no such number: at a toggle, or friction locks it.
    NoValue,
}

impl Fate {
    /// All, in order.
    pub const ALL: [Self; 4] = [
        Self::NotAssembled,
        Self::OutOfReach,
        Self::PastToggle,
        Self::NoValue,
    ];
}

/// A tool standing at a position.
pub(super) struct Standing<'s> {
    pub(super) tool: &'s Tool,
    pub(super) solver: &'s Solver,
    pub(super) forces: &'s mut Forces,
    pub(super) ask: &'s mut Ask,
    pub(super) grip: usize,
    /// Rate of the pace along the closing tangent.
    pub(super) pace_rate: f64,
    /// Which answers have been solved for the tool's hand force.
    pub(super) solved: Option<Answers>,
}

impl Standing<'_> {
    fn linkage(&self) -> &Linkage {
        &self.solver.linkage
    }

    /// What the work needs here.
    fn work(&self) -> Option<f64> {
        let work = self.tool.work.as_ref()?;
        Some(work.at(self.forces.gap[0], self.linkage().size))
    }

    fn solve(&mut self, hand_force: f64, answers: Answers) {
        self.ask.hand_force = hand_force;
        self.ask.answers = answers;
        let work = self.work();
        self.forces.solve(self.solver, self.ask, work);
    }

    fn solve_once(&mut self, answers: Answers) {
        if self.solved != Some(answers) {
            self.solve(self.tool.hand.force, answers);
            self.solved = Some(answers);
        }
    }

    /// The measure here. For work over the stroke: its growth per unit of pace.
    pub(super) fn read(&mut self, measure: &Measure) -> Result<f64, Fate> {
        let pose = &self.solver.pose;
        match measure {
            Measure::Gap => return Ok(self.forces.gap[0]),
            Measure::Handle | Measure::Travel => return Ok(self.linkage().handle(&pose.q)),
            Measure::Span => {
                return self.linkage().span(pose, self.grip).ok_or(Fate::NoValue);
            }
            Measure::Safety(_) => return Err(Fate::NoValue),
            Measure::JawWork => {
                if let Some(work) = self.work() {
                    return Ok(work * self.forces.closing(0) / self.pace_rate.abs());
                }
            }
            _ => {}
        }
        if self.forces.toggle[0] {
            return Err(Fate::NoValue);
        }
        self.solve_once(measure.answers(self.tool.work.is_some()));
        let jaws = self.forces.gap.len();
        let (answer, needed) = (
            self.forces.answer[self.grip * jaws],
            self.forces.needed[self.grip],
        );
        match measure {
            Measure::Ratio => Ok(self.forces.ratio[self.grip * jaws]),
            Measure::JawForce => force(answer),
            Measure::Efficiency => match answer {
                Answer::Moves { force, without } => Ok(force / without),
                _ => Err(Fate::NoValue),
            },
            Measure::HandForce => force(needed),
            Measure::HandShare => {
                let span = self.linkage().span(&self.solver.pose, self.grip);
                hand_share(force(needed)?, self.tool, span).ok_or(Fate::NoValue)
            }
            Measure::PinLoad(joint) => self.pin_load(*joint, needed),
            Measure::HandWork => {
                let hand = if self.tool.work.is_some() {
                    force(needed)?
                } else {
                    self.tool.hand.force
                };
                Ok(hand * self.forces.power(self.grip) / self.pace_rate.abs())
            }
            Measure::JawWork => Ok(force(answer)? * self.forces.closing(0) / self.pace_rate.abs()),
            _ => Err(Fate::NoValue),
        }
    }

    fn pin_load(&mut self, joint: usize, needed: Answer) -> Result<f64, Fate> {
        if self.tool.work.is_some() {
            let hand = force(needed)?;
            self.solve(hand, Answers::JawForce);
            self.solved = None;
        }
        let joints = self.linkage().pins;
        let [x, y] = self.forces.pins[self.grip * joints + joint];
        let load = x.hypot(y);
        if load.is_finite() {
            Ok(load)
        } else {
            Err(Fate::NoValue)
        }
    }
}

fn force(answer: Answer) -> Result<f64, Fate> {
    match answer {
        Answer::Moves { force, .. } => Ok(force),
        Answer::Slack => Ok(0.0),
        Answer::Locked | Answer::Ended => Err(Fate::NoValue),
    }
}
