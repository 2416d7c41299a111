//! A tool at one position: what can be read there, and why something cannot.
//!
//! A position is asked, not searched through: each reading solves what it needs, for the grip it
//! needs, and answers with a number or with the reason why there is none.

use super::answer::Answer;
use super::ask::{Answers, Ask};
use super::forces::Forces;
use super::loaded::Hold;
use super::sheet::Sheet;
use super::sheeted::Sheeted;
use crate::geometry::Vec2;
use crate::model::{Direction, GripId, JawId, JointId, Met, PartId, StopId, Tool};
use crate::motion::{Signal, Solver, Stance};

/// Why there is no number at a position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Absent {
    /// The jaw stands still there.
    Toggle,
    /// Friction lets no hand force through.
    Locked,
    /// A contact that only pushes would have to pull.
    LiftsOff,
    /// The hand does not overcome the springs.
    Slack,
    /// The jaws never come to the work on the stroke.
    Untouched,
    /// The stroke ends before the work is done.
    CutShort,
    /// The dies of a jaw have met before.
    DiesMeet,
    /// A stop has been met before.
    StopMet,
    /// The contact has come to the end of a cam's face before.
    FaceEnds,
    /// The hand does not bring the tool to that stop.
    NotAtStop,
    /// The stroke does not come to that stop.
    NoStop,
    /// The tool has no ratchet.
    NoRatchet,
    /// The ratchet has no teeth on the stroke.
    NoTeeth,
    /// The tool has no spring of wire that carries a load.
    NoSpring,
    /// The tool has no second handle.
    NoSpan,
    /// The hand has no limit at that span.
    NoLimit,
    /// Nothing says how often the tool is used.
    NoJob,
    /// The force is more than the hand has.
    AboveStrength,
    /// The work has not been touched yet.
    NoWork,
    /// It is no measure of a position.
    OfTheStroke,
    /// It is no measure of the whole stroke.
    OfAPosition,
    /// Friction locks the tool somewhere on the stroke.
    LocksOnTheWay,
    /// Nothing has the section, material and diameter that a strength factor needs.
    NoFactor,
    /// The tool does not have that grip.
    NoGrip,
    /// No force is put in that friction could take from.
    NoForce,
    /// It comes out as no number.
    NoNumber,
    /// The position is not on the stroke.
    OffTheStroke,
    /// The jaw measures along the line between its points, so nothing is across.
    NoAxis,
    /// The motion meets no toggle and no dead position beyond shut.
    NoToggle,
    /// No made tools were sampled, or nothing else is demanded of them.
    NotSampled,
    /// A part has no outline, thickness or density.
    NotWeighed,
    /// No two parts with outlines share a layer, or not these.
    NoLayer,
    /// Neither handle has an outline, or nothing comes near one.
    NoPinch,
    /// The part has no outline that tells its section, or carries no load.
    NoCut,
}

/// What was solved last: for which grip, which answers, which hand force and which work (N).
#[derive(Debug, Clone, Copy, PartialEq)]
struct Solved {
    grip: GripId,
    answers: Answers,
    hand: f64,
    work: Option<f64>,
}

/// A tool standing at a position. Lengths in mm, angles in rad, forces in N.
#[derive(Debug)]
pub struct Stand<'s> {
    tool: &'s Tool,
    solver: &'s Solver,
    forces: &'s mut Forces,
    ask: &'s mut Ask,
    stance: Stance,
    /// Rate of the pace along the closing tangent.
    pace_rate: f64,
    solved: Option<Solved>,
}

impl<'s> Stand<'s> {
    /// `forces` stand where the solver does, see [`Forces::stand`]; `pace_rate`: what the pace of the
    /// stroke gains per unit of the closing tangent.
    pub fn new(
        tool: &'s Tool,
        solver: &'s Solver,
        forces: &'s mut Forces,
        ask: &'s mut Ask,
        stance: Stance,
        pace_rate: f64,
    ) -> Self {
        Self {
            tool,
            solver,
            forces,
            ask,
            stance,
            pace_rate: pace_rate.abs(),
            solved: None,
        }
    }

    /// The tool.
    #[must_use]
    pub fn tool(&self) -> &'s Tool {
        self.tool
    }

    /// The direction of the stroke that its forces are for.
    #[must_use]
    pub fn direction(&self) -> Direction {
        self.ask.burden.direction
    }

    /// What has met before, so that there are no forces.
    #[must_use]
    pub fn ended(&self) -> Option<Absent> {
        self.forces.ended.map(|met| match met {
            Met::Dies(_) => Absent::DiesMeet,
            Met::Stop(_) => Absent::StopMet,
            Met::Face(_) => Absent::FaceEnds,
        })
    }

    /// Distance of the faces of a stop.
    #[must_use]
    pub fn apart(&self, stop: StopId) -> Option<f64> {
        let linkage = &self.solver.linkage;
        let stop = linkage.stops.get(stop.index())?;
        Some(linkage.gap(&self.solver.pose, &stop.faces))
    }

    /// Rate at which the faces of a stop come together per unit of the closing tangent, mm.
    #[must_use]
    pub fn stop_closing(&self, stop: StopId) -> Option<f64> {
        let linkage = &self.solver.linkage;
        let frame = linkage.stops.get(stop.index())?;
        let signal = Signal::StopRate(stop);
        let rate = -signal.read(self.solver, self.forces.rates());
        // Between two points it is half of the square of their distance that the signal is about.
        Some(match frame.faces.axis {
            Some(_) => rate,
            None => rate * linkage.size / self.tool.stop(stop)?.closed,
        })
    }

    /// Closing rate of a jaw, per unit of the closing tangent, mm.
    #[must_use]
    pub fn closing(&self, jaw: JawId) -> f64 {
        self.forces.closing(jaw)
    }

    /// Angle of one part's axes against those of another, not reduced to one turn.
    #[must_use]
    pub fn turned(&self, part: PartId, against: PartId) -> f64 {
        let (linkage, pose) = (&*self.solver.linkage, &self.solver.pose);
        pose.angle(linkage, part) - pose.angle(linkage, against)
    }

    /// Its change per unit of the closing tangent.
    #[must_use]
    pub fn turning(&self, part: PartId, against: PartId) -> f64 {
        self.forces.spin(part) - self.forces.spin(against)
    }

    /// Power with which a force at the first jaw and the springs open the tool, the hand off, per unit of the
    /// closing tangent: N mm. Friction, which holds against it, is left out.
    #[must_use]
    pub fn opening_power(&self, jaw_force: f64) -> f64 {
        let closing = self.forces.closing(JawId::FIRST);
        jaw_force * closing - self.forces.spring_power(self.solver, self.ask)
    }

    /// Power of a hand of 1 N at a grip, per unit of the closing tangent.
    #[must_use]
    pub fn hand_power(&self, grip: GripId) -> f64 {
        self.forces.power(grip)
    }

    /// Gap of a jaw.
    #[must_use]
    pub fn gap(&self, jaw: JawId) -> Option<f64> {
        self.forces.gap.get(jaw.index()).copied()
    }

    /// How far the points of a jaw are off each other across its axis, mm: none where it measures
    /// along the line between them.
    #[must_use]
    pub fn offset(&self, jaw: JawId) -> Option<f64> {
        let (linkage, pose) = (&self.solver.linkage, &self.solver.pose);
        let jaw = linkage.jaws.get(jaw.index())?;
        let axis = jaw.axis?;
        let axis = pose.frames.get(jaw.against.body.index())?.direction(axis);
        Some(axis.cross(linkage.jaw_offset(pose, jaw)).abs())
    }

    /// Handle angle.
    #[must_use]
    pub fn handle(&self) -> f64 {
        self.stance.handle
    }

    /// Handle angle travelled since open.
    #[must_use]
    pub fn travel(&self) -> f64 {
        self.stance.travel
    }

    /// Grip span.
    ///
    /// # Errors
    /// [`Absent::NoSpan`].
    pub fn span(&self, grip: GripId) -> Result<f64, Absent> {
        let span = self.solver.linkage.span(&self.solver.pose, grip);
        span.ok_or(Absent::NoSpan)
    }

    /// Force that the job needs at the first jaw; `None` without work.
    #[must_use]
    pub fn work(&self) -> Option<f64> {
        let size = self.solver.linkage.size;
        let gap = self.gap(JawId::FIRST)?;
        (self.tool.work()).map(|work| work.at(gap, size))
    }

    /// Jaw force per hand force, without friction and springs.
    ///
    /// # Errors
    /// At a toggle and beyond where dies meet.
    pub fn ratio(&mut self, grip: GripId, jaw: JawId) -> Result<f64, Absent> {
        self.forces_at(jaw)?;
        let answers = first_or_all(jaw, Answers::Ratio);
        self.solve(grip, answers, self.tool.hand.force);
        let found = self.forces.ratio(grip, jaw);
        found
            .filter(|ratio| ratio.is_finite())
            .ok_or(Absent::NoGrip)
    }

    /// What a jaw answers to a hand force.
    ///
    /// # Errors
    /// At a toggle and beyond where dies meet.
    pub fn answer(&mut self, grip: GripId, jaw: JawId, hand: f64) -> Result<Answer, Absent> {
        self.forces_at(jaw)?;
        self.solve(grip, first_or_all(jaw, Answers::JawForce), hand);
        self.forces.answer(grip, jaw).ok_or(Absent::NoGrip)
    }

    /// Jaw force for a hand force; zero where the springs hold the hand.
    ///
    /// # Errors
    /// At a toggle, where friction locks, and beyond where dies meet.
    pub fn jaw_force(&mut self, grip: GripId, jaw: JawId, hand: f64) -> Result<f64, Absent> {
        force(self.answer(grip, jaw, hand)?)
    }

    /// Hand force that the work needs; zero where the springs do the work.
    ///
    /// # Errors
    /// Without work, at a toggle, where friction locks, and beyond where dies meet.
    pub fn hand_force(&mut self, grip: GripId) -> Result<f64, Absent> {
        let work = self.work().ok_or(Absent::NoWork);
        self.forces_at(JawId::FIRST)?;
        self.hand_force_for(grip, work?)
    }

    /// Hand force for this force at the first jaw; zero where the springs hold it.
    ///
    /// # Errors
    /// At a toggle, where friction locks, and beyond where dies meet.
    pub fn hand_force_for(&mut self, grip: GripId, jaw_force: f64) -> Result<f64, Absent> {
        force(self.hand_answer(grip, jaw_force)?)
    }

    /// What the hand answers to this force at the first jaw.
    ///
    /// # Errors
    /// At a toggle and beyond where dies meet.
    pub fn hand_answer(&mut self, grip: GripId, jaw_force: f64) -> Result<Answer, Absent> {
        self.forces_at(JawId::FIRST)?;
        let hand = self.tool.hand.force;
        self.solve_for(grip, Answers::HandForce, hand, Some(jaw_force));
        self.forces.needed(grip).ok_or(Absent::NoGrip)
    }

    /// Force of a pin joint on its later part for a hand force.
    ///
    /// # Errors
    /// At a toggle, where friction locks or springs hold the hand, and beyond where dies meet.
    pub fn pin(&mut self, joint: JointId, grip: GripId, hand: f64) -> Result<Vec2, Absent> {
        self.moves(grip, hand)?;
        let found = self.forces.pin(joint, grip);
        found.filter(|force| force.is_finite()).ok_or(Absent::Slack)
    }

    /// That the tool moves at the first jaw for a hand force.
    fn moves(&mut self, grip: GripId, hand: f64) -> Result<(), Absent> {
        match self.answer(grip, JawId::FIRST, hand)? {
            Answer::Moves { .. } => Ok(()),
            Answer::Slack => Err(Absent::Slack),
            Answer::Locked => Err(Absent::Locked),
            Answer::LiftsOff => Err(Absent::LiftsOff),
            Answer::Ended => Err(Absent::DiesMeet),
        }
    }

    /// Normal force of a joint that is no pin, N, for a hand force.
    ///
    /// # Errors
    /// As of [`Stand::pin`].
    pub fn contact(&mut self, joint: JointId, grip: GripId, hand: f64) -> Result<f64, Absent> {
        self.signed(joint, grip, hand).map(f64::abs)
    }

    /// The same with its sign, which tells on which flanks teeth touch: above zero where the first part is pushed along
    /// the pitch line.
    ///
    /// # Errors
    /// As of [`Stand::pin`].
    pub fn signed(&mut self, joint: JointId, grip: GripId, hand: f64) -> Result<f64, Absent> {
        self.moves(grip, hand)?;
        let found = self.forces.contact(joint, grip);
        found.filter(|force| force.is_finite()).ok_or(Absent::Slack)
    }

    /// Angle between the push of a cam and the way of the point that it pushes, rad; `None` for what is no
    /// cam, and where that point stands still.
    #[must_use]
    pub fn pressure_angle(&self, joint: JointId) -> Option<f64> {
        self.forces.pressure_angle(self.solver, joint)
    }

    /// Every force on every part, the first jaw holding the work, for a hand force (N) at a grip;
    /// and the jaw force. `None` at a toggle and where there is no such equilibrium.
    #[must_use]
    pub fn sheet(&mut self, grip: GripId, hand: f64) -> Option<(Sheet, f64)> {
        self.sheeted(grip, hand, None)
    }

    /// The same for a force at the first jaw, N, which may be nearly none; and the hand force.
    #[must_use]
    pub fn sheet_under(&mut self, grip: GripId, jaw_force: f64) -> Option<(Sheet, f64)> {
        self.sheeted(grip, 0.0, Some(jaw_force))
    }

    fn sheeted(&mut self, grip: GripId, hand: f64, under: Option<f64>) -> Option<(Sheet, f64)> {
        if self.ended().is_some() {
            return None;
        }
        let mut hold = Hold {
            grip,
            side: *self.ask.sides.get(grip.index())?,
            force: hand,
            power: self.forces.power(grip),
        };
        // What was solved before is overwritten.
        self.solved = None;
        let answer = self.forces.single(self.solver, self.ask, hold, under)?;
        let Answer::Moves { force, .. } = answer else {
            return None;
        };
        let jaw_force = under.unwrap_or(force);
        if under.is_some() {
            hold.force = force;
        }
        let case = Sheeted {
            burden: &self.ask.burden,
            hold,
            jaw_force,
            rubs: &self.forces.rubs(&self.ask.burden),
        };
        Some((self.forces.sheet(self.tool, self.solver, case), force))
    }

    /// Way of the hand at a grip along its push, per unit of pace (mm/rad, or mm/mm).
    #[must_use]
    pub fn hand_rate(&self, grip: GripId) -> f64 {
        self.per_pace(self.forces.power(grip))
    }

    /// Closing of a jaw per unit of pace (mm/rad, or mm/mm).
    #[must_use]
    pub fn jaw_rate(&self, jaw: JawId) -> f64 {
        self.per_pace(self.forces.closing(jaw))
    }

    fn per_pace(&self, rate: f64) -> f64 {
        if self.pace_rate == 0.0 {
            0.0
        } else {
            rate / self.pace_rate
        }
    }

    fn forces_at(&self, jaw: JawId) -> Result<(), Absent> {
        if let Some(ended) = self.ended() {
            return Err(ended);
        }
        match self.forces.toggle.get(jaw.index()) {
            Some(false) => Ok(()),
            _ => Err(Absent::Toggle),
        }
    }

    fn solve(&mut self, grip: GripId, answers: Answers, hand: f64) {
        let work = self.work();
        self.solve_for(grip, answers, hand, work);
    }

    fn solve_for(&mut self, grip: GripId, answers: Answers, hand: f64, work: Option<f64>) {
        // Without friction and springs one solution answers all.
        let answers = if self.ask.burden.is_none() {
            Answers::All
        } else {
            answers
        };
        let wanted = Solved {
            grip,
            answers,
            hand,
            work,
        };
        if self.solved == Some(wanted) {
            return;
        }
        self.ask.only = Some(grip);
        self.ask.answers = answers;
        self.ask.hand_force = hand;
        self.forces.solve(self.solver, self.ask, work);
        self.solved = Some(wanted);
        self.ask.only = None;
        self.ask.answers = Answers::All;
        self.ask.hand_force = self.tool.hand.force;
    }
}

/// Only all answers hold those of a further jaw.
fn first_or_all(jaw: JawId, answers: Answers) -> Answers {
    if jaw == JawId::FIRST {
        answers
    } else {
        Answers::All
    }
}

fn force(answer: Answer) -> Result<f64, Absent> {
    match answer {
        Answer::Moves { force, .. } => Ok(force),
        Answer::Slack => Ok(0.0),
        Answer::Locked => Err(Absent::Locked),
        Answer::LiftsOff => Err(Absent::LiftsOff),
        Answer::Ended => Err(Absent::DiesMeet),
    }
}
