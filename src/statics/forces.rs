//! All forces at one position: every grip, every jaw.

use super::answer::Answer;
use super::balance::Balance;
use super::loaded::{Burden, Hold, Loaded, Sheeted};
use super::sheet::Sheet;
use crate::mechanism::{Linkage, Rates};
use crate::model::Tool;
use crate::motion::{Solver, Stance};

/// What is asked at every position.
#[derive(Debug, Clone)]
pub struct Ask {
    /// Hand force that the jaw forces and pin loads are for, N.
    pub hand_force: f64,
    /// Side of a square push at each grip.
    pub sides: Vec<f64>,
    /// Friction and springs.
    pub burden: Burden,
    /// The one grip (index) that is asked for; `None`: every grip.
    pub only: Option<usize>,
    /// Which answers are asked for.
    pub answers: Answers,
}

/// Which answers are asked for. With friction or springs each costs a solution of its own; without
/// them all come at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Answers {
    /// All, of every jaw.
    #[default]
    All,
    /// The ratio of the first jaw.
    Ratio,
    /// The first jaw's answer to the hand force, and the pin forces under it.
    JawForce,
    /// The hand force for the work.
    HandForce,
}

/// How the hand holds the tool still while the jaw is loaded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holding {
    /// At a grip (index), along its push: the grip cannot give way there.
    Grip(usize),
    /// By the handle angle, with a pure moment on the handle and its opposite on the other one.
    Angle,
}

/// A hold whose rate is below this (over the length of the tangent, and the tool's size for a
/// grip) stands still in the motion, so that it cannot hold the jaw: a dead position.
const NO_HOLD: f64 = 1e-6;

/// Forces at one position, on storage that is reused.
#[derive(Debug, Clone)]
pub struct Forces {
    rates: Rates,
    balance: Balance,
    loaded: Loaded,
    axes: Vec<[f64; 2]>,
    closing: Vec<f64>,
    power: Vec<f64>,
    /// The dies of a jaw have met before this position, and there are no forces: set by who knows the
    /// stroke, after [`Forces::stand`].
    pub ended: bool,
    /// For each jaw: it stands still here.
    pub toggle: Vec<bool>,
    /// For each jaw: its gap, mm.
    pub gap: Vec<f64>,
    /// Jaw force per hand force, without friction and springs: grips × jaws. NaN at a toggle.
    pub ratio: Vec<f64>,
    /// Answer to the hand force asked, with friction and springs: grips × jaws.
    pub answer: Vec<Answer>,
    /// Hand force for the work asked, first jaw: one for each grip.
    pub needed: Vec<Answer>,
    /// Pin force on the later part at the hand force asked: grips × joints, first jaw. NaN where
    /// there is no answer.
    pub pins: Vec<[f64; 2]>,
    /// Greatest difference of the two routes so far, relative.
    pub virtual_work: f64,
    /// Greatest residual of any part so far, relative.
    pub free_body: f64,
}

impl Forces {
    /// Storage for `linkage` with this burden.
    #[must_use]
    pub fn new(linkage: &Linkage, burden: &Burden) -> Self {
        let (jaws, grips, joints) = (linkage.jaws.len(), linkage.hand.held, linkage.pins);
        Self {
            rates: Rates::new(linkage),
            balance: Balance::new(linkage),
            loaded: Loaded::new(linkage, burden),
            axes: vec![[1.0, 0.0]; jaws],
            closing: vec![0.0; jaws],
            power: vec![0.0; grips],
            ended: false,
            toggle: vec![false; jaws],
            gap: vec![0.0; jaws],
            ratio: vec![f64::NAN; grips * jaws],
            answer: vec![Answer::Locked; grips * jaws],
            needed: vec![Answer::Slack; grips],
            pins: vec![[f64::NAN; 2]; grips * joints],
            virtual_work: 0.0,
            free_body: 0.0,
        }
    }

    /// Stands at a position: rates, gaps, toggles. Nothing is allocated, here or in
    /// [`Forces::solve`].
    #[inline]
    pub fn stand(&mut self, solver: &Solver, stance: Stance, ask: &Ask) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        self.ended = false;
        self.rates.read(solver, stance.sense);
        for jaw in 0..linkage.jaws.len() {
            let (axis, rate) = self.rates.jaw(linkage, pose, jaw);
            self.axes[jaw] = axis;
            self.closing[jaw] = rate;
            self.toggle[jaw] = self.rates.stands_still(linkage, rate);
            self.gap[jaw] = linkage.gap(pose, &linkage.jaws[jaw]);
        }
        for grip in 0..linkage.hand.held {
            self.power[grip] = self.rates.hand_power(linkage, pose, grip, ask.sides[grip]);
        }
        self.balance.stand(solver, &self.axes);
        if !ask.burden.is_none() {
            self.loaded.stand(solver, &self.rates, &ask.burden);
        }
    }

    /// All forces where [`Forces::stand`] stood. `work`: jaw force that the job needs here, N.
    #[inline]
    pub fn solve(&mut self, solver: &Solver, ask: &Ask, work: Option<f64>) {
        self.ratio.fill(f64::NAN);
        self.pins.fill([f64::NAN; 2]);
        if self.ended {
            self.answer.fill(Answer::Ended);
            self.needed.fill(Answer::Ended);
        } else if ask.burden.is_none() {
            self.solve_plain(solver, ask, work);
        } else {
            self.solve_burdened(solver, ask, work);
        }
    }

    /// Without friction and springs: everything follows from one solution for each grip and jaw.
    #[inline]
    fn solve_plain(&mut self, solver: &Solver, ask: &Ask, work: Option<f64>) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let (jaws, joints) = (linkage.jaws.len(), linkage.pins);
        for jaw in 0..jaws {
            if self.toggle[jaw] {
                continue;
            }
            for grip in ask.only.map_or(0..linkage.hand.held, |g| g..g + 1) {
                let ratio = self.power[grip] / self.closing[jaw];
                self.ratio[grip * jaws + jaw] = ratio;
                self.balance.clear();
                self.balance
                    .add_hand(linkage, pose, grip, ask.sides[grip], ask.hand_force);
                let jaw_force = self.balance.solve(solver, jaw, self.axes[jaw]);
                let force = ratio * ask.hand_force;
                self.note(force, jaw_force, ask.hand_force);
                self.answer[grip * jaws + jaw] = if force > 0.0 {
                    Answer::Moves {
                        force,
                        without: force,
                    }
                } else {
                    Answer::Slack
                };
                if jaw != 0 {
                    continue;
                }
                if let Some(work) = work {
                    let force = work / ratio;
                    self.needed[grip] = if ratio > 0.0 {
                        Answer::Moves {
                            force,
                            without: force,
                        }
                    } else {
                        Answer::Locked
                    };
                }
                if force > 0.0 {
                    self.pins[grip * joints..(grip + 1) * joints]
                        .copy_from_slice(&self.balance.load[..joints]);
                }
            }
        }
    }

    /// With friction or springs: what is asked for, each answer with a solution of its own.
    /// Kept out of the frictionless path, which is the innermost loop.
    #[inline(never)]
    fn solve_burdened(&mut self, solver: &Solver, ask: &Ask, work: Option<f64>) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let (jaws, joints) = (linkage.jaws.len(), linkage.pins);
        let (answers, needs) = match ask.answers {
            Answers::All => (true, true),
            Answers::Ratio => (false, false),
            Answers::JawForce => (true, false),
            Answers::HandForce => (false, true),
        };
        let wanted = if ask.answers == Answers::All { jaws } else { 1 };
        for jaw in 0..wanted {
            if self.toggle[jaw] {
                continue;
            }
            if answers || needs {
                self.loaded
                    .prepare(solver, &mut self.balance, &ask.burden, jaw, self.axes[jaw]);
            }
            for grip in ask.only.map_or(0..linkage.hand.held, |g| g..g + 1) {
                let ratio = self.power[grip] / self.closing[jaw];
                self.ratio[grip * jaws + jaw] = ratio;
                self.balance.clear();
                self.balance
                    .add_hand(linkage, pose, grip, ask.sides[grip], 1.0);
                let jaw_force = self.balance.solve(solver, jaw, self.axes[jaw]);
                self.note(ratio, jaw_force, 1.0);
                if !(answers || needs) {
                    continue;
                }
                self.loaded
                    .keep_hand(&self.balance, &ask.burden, grip, jaw_force);
                if let (true, 0, Some(work)) = (needs, jaw, work) {
                    self.needed[grip] = self.loaded.hand_force(&ask.burden, grip, work);
                }
                if !answers {
                    continue;
                }
                self.burdened(solver, ask, grip, jaw);
                if jaw == 0 && matches!(self.answer[grip * jaws], Answer::Moves { .. }) {
                    self.pins[grip * joints..(grip + 1) * joints]
                        .copy_from_slice(&self.balance.load[..joints]);
                }
            }
        }
    }

    /// How many matrices of the contact forces have been factored so far: a tool that friction
    /// brings near to locking takes many at a position, others a few.
    #[must_use]
    pub fn factored(&self) -> u64 {
        self.loaded.factored()
    }

    /// Power of a hand of 1 N at a grip, per unit of the tangent.
    #[must_use]
    pub fn power(&self, grip: usize) -> f64 {
        self.power.get(grip).copied().unwrap_or(0.0)
    }

    /// Closing rate of a jaw, per unit of the tangent, mm.
    #[must_use]
    pub fn closing(&self, jaw: usize) -> f64 {
        self.closing.get(jaw).copied().unwrap_or(0.0)
    }

    /// The closing tangent at the position.
    #[must_use]
    pub fn rates(&self) -> &[f64] {
        &self.rates.tangent
    }

    /// The answer of the first jaw to one hand force, whose whole load case is left solved for
    /// [`Forces::sheet`]. `None` at a toggle.
    pub(super) fn single(&mut self, solver: &Solver, ask: &Ask, hold: Hold) -> Option<Answer> {
        if self.toggle[0] {
            return None;
        }
        let (linkage, pose, axis) = (&*solver.linkage, &solver.pose, self.axes[0]);
        self.loaded.stand(solver, &self.rates, &ask.burden);
        self.loaded
            .prepare(solver, &mut self.balance, &ask.burden, 0, axis);
        self.balance.clear();
        self.balance
            .add_hand(linkage, pose, hold.grip, hold.side, 1.0);
        let unit = self.balance.solve(solver, 0, axis);
        self.loaded
            .keep_hand(&self.balance, &ask.burden, hold.grip, unit);
        let answer = self.loaded.jaw_force(&ask.burden, hold.grip, hold.force);
        if let Answer::Moves { .. } = answer {
            let by_work = self.loaded.whole_case(
                solver,
                &mut self.balance,
                &ask.burden,
                hold,
                self.closing[0],
            );
            let jaw_force = self.balance.solve(solver, 0, axis);
            self.note(by_work, jaw_force, hold.force);
        }
        Some(answer)
    }

    /// A force of 1 N at the first jaw, held by the hand, without friction and springs: the hand
    /// force (N) or moment on the handle (N mm) that holds it. The case is left solved for
    /// [`Forces::sheet`]. Defined at a toggle (there it is zero); `None` at a dead position.
    pub(super) fn unit(&mut self, solver: &Solver, ask: &Ask, holding: Holding) -> Option<f64> {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let axis = *self.axes.first()?;
        self.balance.clear();
        let (rate, scale) = match holding {
            Holding::Grip(grip) => {
                let side = *ask.sides.get(grip)?;
                self.balance.add_hand(linkage, pose, grip, side, 1.0);
                (self.power(grip), linkage.size)
            }
            Holding::Angle => {
                let spin = |body: usize| self.rates.spin.get(body).copied().unwrap_or(0.0);
                let hand = &linkage.hand;
                self.balance.add_moment(linkage, hand.body, 1.0);
                if let Some(against) = hand.against {
                    self.balance.add_moment(linkage, against, -1.0);
                }
                (spin(hand.body) - hand.against.map_or(0.0, spin), 1.0)
            }
        };
        if !(rate.abs() > NO_HOLD * scale * self.rates.length()) {
            return None;
        }
        let factor = self.balance.hold(solver, 0, axis);
        self.free_body = self.free_body.max(self.balance.residual);
        Some(factor)
    }

    /// Every force on every part in the load case that [`Forces::single`] has just solved.
    pub(super) fn sheet(&self, tool: &Tool, solver: &Solver, case: Sheeted) -> Sheet {
        self.loaded
            .sheet(tool, solver, &self.balance, case, self.axes[0])
    }

    /// The answer with friction and springs, and its own check: the whole load case solved once
    /// more, against virtual work with the springs' power and the friction losses.
    #[inline]
    fn burdened(&mut self, solver: &Solver, ask: &Ask, grip: usize, jaw: usize) {
        let k = grip * solver.linkage.jaws.len() + jaw;
        self.answer[k] = self.loaded.jaw_force(&ask.burden, grip, ask.hand_force);
        if let Answer::Moves { .. } = self.answer[k] {
            let hand = Hold {
                grip,
                side: ask.sides[grip],
                force: ask.hand_force,
                power: self.power[grip],
            };
            let by_work = self.loaded.whole_case(
                solver,
                &mut self.balance,
                &ask.burden,
                hand,
                self.closing[jaw],
            );
            let jaw_force = self.balance.solve(solver, jaw, self.axes[jaw]);
            self.note(by_work, jaw_force, ask.hand_force);
        }
    }

    /// Keeps the worst disagreement of the two routes. Where the jaw force passes through zero
    /// (a dead position), a tenth of the hand force is the measure.
    #[inline]
    fn note(&mut self, virtual_work: f64, free_body: f64, hand_force: f64) {
        let scale = virtual_work.abs().max(0.1 * hand_force);
        let off = (virtual_work - free_body).abs();
        // Divided only where it is the worst so far (or no number): this is the innermost loop.
        if !(off <= self.virtual_work * scale) {
            self.virtual_work = off / scale;
        }
        if !(self.balance.residual <= self.free_body) {
            self.free_body = self.balance.residual;
        }
    }
}
