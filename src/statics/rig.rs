//! A tool set up so that it can be solved at any position of its stroke.

use super::forces::{Answers, Ask, Forces, Holding};
use super::friction::contacts;
use super::loaded::{Answer, Burden, Hold, Sheeted};
use super::rates::closing_senses;
use super::sheet::Sheet;
use super::springs::Springs;
use super::unit::unit_sheet;
use crate::mechanism::Linkage;
use crate::model::{Direction, ModelError, Part, Point, Tool};
use crate::motion::{MotionError, Solver, Stance, Stroke, Survey, Walk, survey};
use std::sync::Arc;

/// The equations of a tool and the survey of its motion: what a [`Rig`] stands on.
#[derive(Debug, Clone)]
pub struct Mounted {
    /// The equations.
    pub linkage: Arc<Linkage>,
    /// The motion and the stroke on it.
    pub survey: Arc<Survey>,
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
    /// When the model breaks a promise or there is no stroke.
    pub fn new(tool: &Tool) -> Result<Self, MountError> {
        let linkage = Arc::new(Linkage::new(tool)?);
        let survey = Arc::new(survey(&linkage, &tool.stroke)?);
        Ok(Self { linkage, survey })
    }

    /// The same for `tool`, which is the one that was mounted but for its grips: its motion is known.
    ///
    /// # Errors
    /// When a grip is off the hand line.
    pub fn regripped(&self, tool: &Tool) -> Result<Self, ModelError> {
        Ok(Self {
            linkage: Arc::new(Linkage::new(tool)?),
            survey: Arc::clone(&self.survey),
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
}

impl<'a> Rig<'a> {
    /// Sets `tool` up at the open end of its stroke, for forces in this direction of the stroke.
    ///
    /// # Errors
    /// When an end of the stroke cannot be solved again.
    pub fn new(
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
        let mut walk = stroke.walk();
        let stance = stroke.position(&mut solver, &mut walk, 0, tool.stroke.steps)?;
        let springs = Springs::new(tool, linkage, &solver.pose);
        let burden = Burden {
            springs,
            contacts: contacts(tool, linkage),
            direction,
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
        };
        rig.stand(stance);
        Ok(rig)
    }

    fn stand(&mut self, stance: Stance) {
        self.stance = stance;
        self.forces.stand(&self.solver, stance, &self.ask);
    }

    /// Goes to position `k` of `steps`, equal in handle angle.
    ///
    /// # Errors
    /// When the loops cannot be closed there.
    pub fn go_to_step(&mut self, k: usize, steps: usize) -> Result<(), MotionError> {
        let stance = self
            .stroke
            .position(&mut self.solver, &mut self.walk, k, steps)?;
        self.stand(stance);
        Ok(())
    }

    /// Goes to where the pace has travelled this far from open (rad of the handle; mm of the
    /// first grip for a handle that slides). Beyond the ends: the ends.
    ///
    /// # Errors
    /// When the loops cannot be closed there.
    pub fn go_to(&mut self, pace: f64) -> Result<(), MotionError> {
        let stance = self.stroke.at(&mut self.solver, &mut self.walk, pace)?;
        self.stand(stance);
        Ok(())
    }

    /// The whole pace from open to shut, see [`Rig::go_to`].
    #[must_use]
    pub fn pace(&self) -> f64 {
        self.stroke.pace()
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
        self.tool.work.as_ref().map(|w| w.at(self.forces.gap[0]))
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
    pub fn span(&self, grip: usize) -> Option<f64> {
        self.solver.linkage.span(&self.solver.pose, grip)
    }

    /// Where every point of every part stands, mm: parts and points in the tool's order.
    #[must_use]
    pub fn points(&self) -> Vec<Vec<[f64; 2]>> {
        let (linkage, pose) = (&*self.solver.linkage, &self.solver.pose);
        let place = |(p, part): (usize, &Part)| {
            let at = |point: &Point| pose.place(linkage.spot(p, point.at));
            part.points.iter().map(at).collect()
        };
        self.tool.parts.iter().enumerate().map(place).collect()
    }

    /// Sets the hand force that [`Rig::solve`] is for, N.
    pub fn set_hand_force(&mut self, force: f64) {
        self.ask.hand_force = force;
    }

    /// Asks [`Rig::solve`] for one grip (index) only, or for every grip; and for which answers.
    /// What is not asked for is left as it was.
    pub fn ask_for(&mut self, grip: Option<usize>, answers: Answers) {
        self.ask.only = grip.filter(|&g| g < self.tool.hand.grips.len());
        self.ask.answers = answers;
    }

    /// Asks [`Rig::solve`] for everything again.
    pub fn ask_for_all(&mut self) {
        self.ask_for(None, Answers::All);
    }

    /// What is asked at every position.
    #[must_use]
    pub fn asked(&self) -> &Ask {
        &self.ask
    }

    /// Way of the hand at a grip along its push, per unit of pace (mm/rad, or mm/mm).
    #[must_use]
    pub fn hand_rate(&self, grip: usize) -> f64 {
        let pace = self.stroke.pace_rate(&self.solver, self.forces.rates());
        if pace == 0.0 {
            0.0
        } else {
            self.forces.power(grip) / pace
        }
    }

    /// Closing of the first jaw per unit of pace (mm/rad, or mm/mm).
    #[must_use]
    pub fn jaw_rate(&self) -> f64 {
        let pace = self.stroke.pace_rate(&self.solver, self.forces.rates());
        if pace == 0.0 {
            0.0
        } else {
            self.forces.closing(0) / pace
        }
    }

    /// Energy in the springs at the position, N mm.
    #[must_use]
    pub fn spring_energy(&self) -> f64 {
        self.ask
            .burden
            .springs
            .energy(&self.solver.linkage, &self.solver.pose)
    }

    /// Every force on every part, the first jaw holding the work, for a hand force (N) at a grip;
    /// and the jaw force. `None` at a toggle and where there is no such equilibrium.
    #[must_use]
    pub fn sheet(&mut self, grip: usize, hand: f64) -> Option<(Sheet, f64)> {
        let hold = Hold {
            grip,
            side: *self.ask.sides.get(grip)?,
            force: hand,
            power: self.forces.power(grip),
        };
        let answer = self.forces.single(&self.solver, &self.ask, hold)?;
        let Answer::Moves { force, .. } = answer else {
            return None;
        };
        let case = Sheeted {
            burden: &self.ask.burden,
            hold,
            jaw_force: force,
        };
        Some((self.forces.sheet(self.tool, &self.solver, case), force))
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

    /// Hand force at a grip for a force (N) at the first jaw, with friction and springs. The other
    /// forces at the position are solved for it too. `None` at a toggle.
    #[must_use]
    pub fn hand_for(&mut self, grip: usize, jaw_force: f64) -> Option<Answer> {
        self.forces.solve(&self.solver, &self.ask, Some(jaw_force));
        let toggle = self.forces.toggle.first().copied().unwrap_or(true);
        let answer = self.forces.needed.get(grip).copied();
        answer.filter(|_| !toggle)
    }
}
