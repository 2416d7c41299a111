//! A tool set up so that it can be solved at any position of its stroke.

use super::ask::{Answers, Ask, Holding};
use super::forces::Forces;
use super::friction::contacts;
use super::loaded::Burden;
use super::pawl::PawlDrag;
use super::rates::closing_senses;
use super::sheet::Sheet;
use super::springs::{SpringState, Springs};
use super::squeeze::hand_closes;
use super::stand::Stand;
use super::unit::{pressed_sheet, unit_sheet};
use crate::geometry::{Frame, Vec2};
use crate::mechanism::Linkage;
use crate::model::{Direction, GripId, JawId, Met, ModelError, Part, PartId, Point, Tool};
use crate::motion::{
    Margin, Meeting, MotionError, Solver, Stance, Stroke, Survey, Walk, first_meeting,
    off_face_at_open, past_at_open, stop_met, survey,
};
use std::sync::Arc;

/// The equations of a tool and the survey of its motion: what a [`Rig`] stands on.
#[derive(Debug, Clone)]
pub struct Mounted {
    /// The equations.
    pub linkage: Arc<Linkage>,
    /// The motion and the stroke on it.
    pub survey: Arc<Survey>,
    /// Where the dies of a jaw or a stop meet before the stroke is at its end.
    pub meeting: Option<Meeting>,
    /// Where a stop does, be it after that.
    pub stop: Option<Meeting>,
}

/// Why a tool cannot be mounted.
#[derive(Debug, Clone, PartialEq)]
pub enum MountError {
    /// The model breaks a promise.
    Model(ModelError),
    /// The linkage cannot do what the stroke asks.
    Motion(MotionError),
}

impl From<ModelError> for MountError {
    fn from(error: ModelError) -> Self {
        Self::Model(error)
    }
}

impl From<MotionError> for MountError {
    fn from(error: MotionError) -> Self {
        Self::Motion(error)
    }
}

impl Mounted {
    /// Builds the equations of `tool` and surveys its motion.
    ///
    /// # Errors
    /// When the model breaks a promise, there is no stroke, the hand does not close the jaw on it, or a stop is
    /// met before it begins.
    pub fn new(tool: &Tool) -> Result<Self, MountError> {
        let linkage = Arc::new(Linkage::new(tool)?);
        let survey = Arc::new(survey(&linkage, &tool.stroke)?);
        hand_closes(&linkage, &survey)?;
        let mut solver = Solver::new(Arc::clone(&linkage));
        if let Some(node) = survey.path.nodes.get(survey.path.start) {
            solver.choose_rows(&node.q);
        }
        if let Some((stop, past)) = past_at_open(&mut solver, &survey) {
            return Err(MotionError::StopBeforeOpen(stop, past).into());
        }
        if let Some((cam, past)) = off_face_at_open(&mut solver, &survey) {
            return Err(MotionError::OffFace(cam, past).into());
        }
        let meeting = first_meeting(&mut solver, &survey);
        let stop = stop_met(&mut solver, &survey);
        Ok(Self {
            linkage,
            survey,
            meeting,
            stop,
        })
    }

    /// The same for `tool`, which is the one that was mounted but for its grips: its motion is known.
    ///
    /// # Errors
    /// When a grip is off the hand line, or a hand there does not close the jaw.
    pub fn regripped(&self, tool: &Tool) -> Result<Self, MountError> {
        let linkage = Arc::new(Linkage::new(tool)?);
        hand_closes(&linkage, &self.survey)?;
        Ok(Self {
            linkage,
            survey: Arc::clone(&self.survey),
            meeting: self.meeting,
            stop: self.stop,
        })
    }
}

/// A tool at a position of its stroke, with all forces there.
#[derive(Debug, Clone)]
pub struct Rig<'a> {
    tool: &'a Tool,
    solver: Solver,
    stroke: Stroke,
    walk: Walk,
    ask: Ask,
    forces: Forces,
    stance: Stance,
    /// Pace at which the stroke ends for the forces, and what meets there.
    end: f64,
    meets: Option<Met>,
    /// Pace at which it does with a piece in the first jaw.
    with_piece: f64,
    /// A piece lies in the first jaw: its dies do not meet.
    piece: bool,
}

/// A place beyond the end of the forces by less than this, over the whole pace, is that end.
const AT_END: f64 = 1e-9;

impl<'a> Rig<'a> {
    /// As [`Rig::new`], without the pawl of a ratchet.
    pub(super) fn bare(
        tool: &'a Tool,
        mounted: &Mounted,
        direction: Direction,
    ) -> Result<Self, MotionError> {
        let (linkage, survey) = (&mounted.linkage, &mounted.survey);
        let mut solver = Solver::new(Arc::clone(linkage));
        if let Some(node) = survey.path.nodes.get(survey.path.start) {
            solver.choose_rows(&node.q);
        }
        let sides = closing_senses(&mut solver, survey);
        let stroke = Stroke::new(Arc::clone(survey), &mut solver)?;
        let mut ends_at = |meeting: Option<Meeting>| {
            let at = meeting.and_then(|m| stroke.pace_at(&mut solver, m.spot));
            at.map_or(stroke.pace(), |at| at.min(stroke.pace()))
        };
        let (end, with_piece) = (ends_at(mounted.meeting), ends_at(mounted.stop));
        let mut walk = stroke.walk();
        let stance = stroke.position(&mut solver, &mut walk, 0, tool.stroke.steps)?;
        let springs = Springs::new(tool, linkage, &solver.pose);
        let burden = Burden {
            springs,
            contacts: contacts(tool, linkage),
            direction,
            held: None,
            pawl: None,
        };
        let forces = Forces::new(linkage, &burden);
        let ask = Ask {
            hand_force: tool.hand.force,
            sides,
            burden,
            only: None,
            answers: Answers::All,
        };
        let mut rig = Self {
            tool,
            solver,
            stroke,
            walk,
            ask,
            forces,
            stance,
            end,
            meets: mounted.meeting.map(|m| m.what),
            with_piece,
            piece: false,
        };
        rig.stand(stance, 0.0);
        Ok(rig)
    }

    /// Takes the pawl of a ratchet among what loads the tool, and goes back to the open end.
    pub(super) fn load_pawl(&mut self, pawl: Option<PawlDrag>) -> Result<(), MotionError> {
        self.ask.burden.pawl = pawl;
        self.forces = Forces::new(&self.solver.linkage, &self.ask.burden);
        self.go_to(0.0)
    }

    fn stand(&mut self, stance: Stance, pace: f64) {
        self.stance = stance;
        self.forces.stand(&self.solver, stance, &self.ask);
        let beyond = pace > self.pace() + AT_END * self.whole();
        self.forces.ended = self.meets.filter(|_| beyond);
    }

    /// Goes to position `k` of `steps`, equal in handle angle, up to where the stroke ends for the
    /// forces.
    ///
    /// # Errors
    /// When the loops cannot be closed there.
    pub fn go_to_step(&mut self, k: usize, steps: usize) -> Result<(), MotionError> {
        if k >= steps {
            return self.go_to(self.pace());
        }
        self.go_to(self.pace() * k as f64 / steps as f64)
    }

    /// Pace of position `k` of `steps`, equal in handle angle, from open to shut, whether the dies have
    /// met or not.
    #[must_use]
    pub fn row(&self, k: usize, steps: usize) -> f64 {
        if k >= steps {
            return self.whole();
        }
        self.whole() * k as f64 / steps as f64
    }

    /// Goes to where the pace has travelled this far from open (rad of the handle; mm of the
    /// first grip for a handle that slides). Beyond the ends of the stroke: its ends.
    ///
    /// # Errors
    /// When the loops cannot be closed there.
    pub fn go_to(&mut self, pace: f64) -> Result<(), MotionError> {
        let stance = self.stroke.at(&mut self.solver, &mut self.walk, pace)?;
        self.stand(stance, pace);
        Ok(())
    }

    /// The tool where the pace has travelled this far from open, see [`Rig::go_to`].
    ///
    /// # Errors
    /// When the loops cannot be closed there.
    pub fn at(&mut self, pace: f64) -> Result<Stand<'_>, MotionError> {
        self.go_to(pace)?;
        Ok(self.here())
    }

    /// The tool where the rig stands.
    pub fn here(&mut self) -> Stand<'_> {
        let pace_rate = self.stroke.pace_rate(&self.solver, self.forces.rates());
        Stand::new(
            self.tool,
            &self.solver,
            &mut self.forces,
            &mut self.ask,
            self.stance,
            pace_rate,
        )
    }

    /// Where the stroke ends for the forces: the pace from open to where the dies of a jaw or a stop meet, or
    /// to shut where none do. Beyond it there are no forces, whatever asks for them; peaks, work and
    /// strength are looked for up to here. See [`Rig::go_to`].
    #[must_use]
    pub fn pace(&self) -> f64 {
        if self.piece {
            self.with_piece
        } else {
            self.end
        }
    }

    /// The whole pace from open to shut: where the parts would go if no dies were in the way.
    #[must_use]
    pub fn whole(&self) -> f64 {
        self.stroke.pace()
    }

    /// Whether dies or a stop have met before the place where the rig stands.
    #[must_use]
    pub fn ended(&self) -> bool {
        self.forces.ended.is_some()
    }

    /// What meets where the stroke ends for the forces.
    #[must_use]
    pub fn meets(&self) -> Option<Met> {
        self.meets
    }

    /// A piece lies between the dies of the first jaw (or no more): they do not meet, and the tool
    /// may spring open round it. The dies of other jaws do.
    pub fn put_in_piece(&mut self, piece: bool) {
        self.piece = piece && self.meets == Some(Met::Dies(JawId::FIRST));
    }

    /// Whether the handle turns over the stroke.
    #[must_use]
    pub fn turns(&self) -> bool {
        self.stroke.turns()
    }

    /// Solves all forces at the position.
    pub fn solve(&mut self) {
        let work = self.work();
        self.forces.solve(&self.solver, &self.ask, work);
    }

    /// Jaw force that the job needs at the position, N.
    #[must_use]
    pub fn work(&self) -> Option<f64> {
        let size = self.solver.linkage.size;
        (self.tool.work()).map(|work| work.at(self.forces.gap[0], size))
    }

    /// Where the axes of a part stand, as its file has them; unmoved without such a part.
    #[must_use]
    pub fn frame(&self, part: PartId) -> Frame {
        self.solver.frame(part)
    }

    /// The tool.
    #[must_use]
    pub fn tool(&self) -> &'a Tool {
        self.tool
    }

    /// The solver, standing at the position.
    #[must_use]
    pub fn solver(&self) -> &Solver {
        &self.solver
    }

    /// The motion that the stroke is part of.
    #[must_use]
    pub fn survey(&self) -> &Survey {
        self.stroke.survey()
    }

    /// The same, to be shared.
    pub(super) fn shared_survey(&self) -> &Arc<Survey> {
        self.stroke.shared_survey()
    }

    /// Holds a force (N) at a jaw that is not in view, whatever else loads the tool.
    pub(super) fn hold(&mut self, held: (JawId, f64)) {
        self.ask.burden.held = Some(held);
    }

    /// How far shut is from the nearest toggle or dead position beyond it.
    #[must_use]
    pub fn margin(&self) -> Option<Margin> {
        self.stroke.survey().margin()
    }

    /// The position on the stroke.
    #[must_use]
    pub fn stance(&self) -> Stance {
        self.stance
    }

    /// The forces, after [`Rig::solve`]; gaps and toggles at once.
    #[must_use]
    pub fn forces(&self) -> &Forces {
        &self.forces
    }

    /// Grip span at the position, mm.
    #[must_use]
    pub fn span(&self, grip: GripId) -> Option<f64> {
        self.solver.linkage.span(&self.solver.pose, grip)
    }

    /// Where every point of every part stands, mm: parts and points in the tool's order.
    #[must_use]
    pub fn points(&self) -> Vec<Vec<Vec2>> {
        let (linkage, pose) = (&*self.solver.linkage, &self.solver.pose);
        let place = |(p, part): (PartId, &Part)| {
            let at = |point: &Point| pose.place(linkage.spot(p, point.at.into()));
            part.points.iter().map(at).collect()
        };
        PartId::each(&self.tool.parts).map(place).collect()
    }

    /// What is asked at every position.
    #[must_use]
    pub fn asked(&self) -> &Ask {
        &self.ask
    }

    /// Paces at which what loads the tool jumps: where the pawl of a ratchet meets the first tooth and leaves
    /// the last.
    #[must_use]
    pub fn jumps(&self) -> Vec<f64> {
        let pawl = self.ask.burden.pawl.iter();
        let ends = pawl.flat_map(|pawl| pawl.ends);
        ends.filter(|pace| *pace < self.pace()).collect()
    }

    /// The direction of the stroke that its forces are for.
    #[must_use]
    pub fn direction(&self) -> Direction {
        self.ask.burden.direction
    }

    /// What every spring is at the position.
    #[must_use]
    pub fn springs(&self) -> Vec<SpringState> {
        let springs = &self.ask.burden.springs;
        springs.states(&self.solver.linkage, &self.solver.pose)
    }

    /// Energy in the springs at the position, N mm.
    #[must_use]
    pub fn spring_energy(&self) -> f64 {
        self.ask
            .burden
            .springs
            .energy(&self.solver.linkage, &self.solver.pose)
    }

    /// [`Stand::sheet`] where the rig stands.
    #[must_use]
    pub fn sheet(&mut self, grip: GripId, hand: f64) -> Option<(Sheet, f64)> {
        self.here().sheet(grip, hand)
    }

    /// What the parts carry for 1 N at the first jaw where the rig stands, see [`Rig::unit_sheet`]: with the forces
    /// that press gears apart, so that it holds no derivatives.
    #[must_use]
    pub fn pressed_sheet(&mut self, holding: Holding) -> Option<(Sheet, f64)> {
        pressed_sheet(
            self.tool,
            &self.solver,
            &mut self.forces,
            &self.ask,
            holding,
        )
    }

    /// [`unit_sheet`] where the rig stands.
    #[must_use]
    pub fn unit_sheet(&mut self, holding: Holding) -> Option<(Sheet, f64)> {
        unit_sheet(
            self.tool,
            &self.solver,
            &mut self.forces,
            &self.ask,
            holding,
        )
    }
}
