//! Forces with friction and springs, at one position, for one jaw.

use super::answer::Answer;
use super::balance::Balance;
use super::friction::Contact;
use super::pawl::PawlDrag;
use super::rubbing::{Columns, Rubbing};
use super::springs::Springs;
use crate::geometry::Vec2;
use crate::mechanism::{Linkage, Pose, Push, Rates};
use crate::model::{Direction, GripId, JawId, PartId, Tool};
use crate::motion::Solver;

/// What loads a tool besides hand and work.
#[derive(Debug, Clone, Default)]
pub struct Burden {
    /// Springs.
    pub springs: Springs,
    /// Places that rub.
    pub contacts: Vec<Contact>,
    /// Direction of the stroke: opening, friction acts the other way round.
    pub direction: Direction,
    /// A jaw that a force (N) is held at, whatever the one in view does.
    pub held: Option<(JawId, f64)>,
    /// The pawl of a ratchet, as the tool closes.
    pub pawl: Option<PawlDrag>,
}

impl Burden {
    /// Takes over the numbers of `tool`, which is the one that the burden was found for but for their values:
    /// coefficients of friction, diameters, springs. What has no friction left rubs without any.
    pub fn take(&mut self, tool: &Tool, linkage: &Linkage) {
        for contact in &mut self.contacts {
            match contact.effect.of(&linkage.joints[contact.joint], tool) {
                Some(rub) => contact.rub = rub,
                None => contact.rub.drag = 0.0,
            }
        }
        self.springs.take(tool);
        if let Some(pawl) = &mut self.pawl {
            pawl.take(tool, linkage);
        }
    }

    /// Whether there is neither friction nor a spring or a pawl, nor a force held.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.contacts.is_empty() && self.is_free()
    }

    /// Whether no force acts but those of hand, work and friction.
    fn is_free(&self) -> bool {
        self.springs.is_empty() && self.held.is_none() && self.pawl.is_none()
    }

    /// Adds springs and pawl as loads.
    #[inline]
    fn load(&self, linkage: &Linkage, pose: &Pose, balance: &mut Balance) {
        self.springs.load(linkage, pose, balance);
        if let Some(pawl) = &self.pawl {
            pawl.load(linkage, pose, balance);
        }
    }
}

/// Equilibrium with friction and springs, on storage that is reused.
#[derive(Debug, Clone)]
pub struct Loaded {
    /// Hand of 1 N at each grip, then springs and pawl, then unit friction at each contact.
    columns: Columns,
    /// Answers to unit friction at a constant jaw force.
    held: Vec<f64>,
    pub(super) rubbing: Rubbing,
    rates: Vec<f64>,
    /// Power of springs, pawl and of the force held at a jaw.
    given_power: f64,
    /// That force and its opposite.
    pub(super) pair: Option<[Held; 2]>,
    grips: usize,
    /// The jaw whose answers stand in the columns, and the grips whose hand does: found once a position.
    jaw: Option<JawId>,
    hands: Vec<bool>,
}

impl Loaded {
    /// Storage for `linkage` with this burden.
    #[must_use]
    pub fn new(linkage: &Linkage, burden: &Burden) -> Self {
        let (grips, contacts) = (linkage.hand.held, burden.contacts.len());
        Self {
            columns: Columns::new(grips + 1 + contacts, contacts),
            held: vec![0.0; contacts * (1 + 2 * contacts)],
            rubbing: Rubbing::new(contacts),
            rates: vec![0.0; contacts],
            given_power: 0.0,
            pair: None,
            grips,
            jaw: None,
            hands: vec![false; grips],
        }
    }

    /// How many Newton steps of the contact forces have been taken so far.
    #[must_use]
    pub fn newton_steps(&self) -> u64 {
        self.rubbing.newton_steps
    }

    /// Prepares a position: the rubbing rates and the springs' power.
    #[inline]
    pub fn stand(&mut self, solver: &Solver, rates: &Rates, burden: &Burden) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        for (rate, contact) in self.rates.iter_mut().zip(&burden.contacts) {
            *rate = contact.rate(linkage, pose, rates);
        }
        for k in 0..self.rates.len() {
            self.rubbing.senses[k] = self.sense(burden, k);
        }
        self.given_power = burden.springs.power(linkage, pose, rates);
        if let Some(pawl) = &burden.pawl {
            self.given_power += pawl.power(linkage, pose, rates);
        }
        self.pair = None;
        if let Some((jaw, force)) = burden.held {
            let (axis, closing) = rates.jaw(linkage, pose, jaw);
            let frame = &linkage.jaws[jaw];
            let at = pose.place(frame.on);
            let on = |body, force| Held { body, at, force };
            self.pair = Some([
                on(frame.on.body, axis * force),
                on(frame.against.body, -(axis * force)),
            ]);
            self.given_power -= force * closing;
        }
        self.jaw = None;
    }

    /// Prepares a jaw: its answers to springs and unit frictions, unless they are there.
    #[inline]
    pub fn prepare(
        &mut self,
        solver: &Solver,
        balance: &mut Balance,
        burden: &Burden,
        jaw: JawId,
        axis: Vec2,
    ) {
        if self.jaw == Some(jaw) {
            return;
        }
        self.jaw = Some(jaw);
        self.hands.fill(false);
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        if burden.is_free() {
            self.columns.get_mut(self.grips).fill(0.0);
        } else {
            balance.clear();
            burden.load(linkage, pose, balance);
            self.load_held(pose, balance);
            let jaw_force = balance.solve_unchecked(solver, jaw, axis);
            write(self.columns.get_mut(self.grips), balance, burden, jaw_force);
        }
        for (k, contact) in burden.contacts.iter().enumerate() {
            let friction = contact.friction(self.sense(burden, k), 1.0);
            let column = self.columns.get_mut(self.grips + 1 + k);
            if friction == 0.0 {
                column.fill(0.0);
            } else {
                let jaw_force = balance.solve_drag(solver, contact, friction, jaw, axis);
                write(column, balance, burden, jaw_force);
            }
        }
    }

    /// Adds the force that is held at a jaw as a load.
    #[inline]
    fn load_held(&self, pose: &Pose, balance: &mut Balance) {
        for held in self.pair.iter().flatten() {
            balance.add_force(pose, held.body, held.at, held.force);
        }
    }

    /// Whether a jaw's answer to the hand at a grip is there.
    #[inline]
    pub fn has_hand(&self, jaw: JawId, grip: GripId) -> bool {
        self.jaw == Some(jaw) && self.hands[grip.index()]
    }

    /// Keeps the answer to a hand of 1 N at a grip, which `balance` has just solved for the jaw that is
    /// prepared.
    #[inline]
    pub fn keep_hand(&mut self, balance: &Balance, burden: &Burden, grip: GripId, jaw_force: f64) {
        write(
            self.columns.get_mut(grip.index()),
            balance,
            burden,
            jaw_force,
        );
        self.hands[grip.index()] = true;
    }

    /// Sign of the rubbing at contact `k` in the direction of the stroke.
    #[inline]
    pub(super) fn sense(&self, burden: &Burden, k: usize) -> f64 {
        let rate = self.rates[k];
        let sense = if rate == 0.0 { 0.0 } else { rate.signum() };
        burden.direction.sign() * sense
    }

    /// Jaw force for a hand force (N) at a grip.
    #[inline]
    pub fn jaw_force(&mut self, burden: &Burden, grip: GripId, hand: f64) -> Answer {
        let Self {
            columns,
            rubbing,
            grips,
            ..
        } = self;
        let base = rubbing.base();
        let (by_hand, springs) = (columns.get(grip.index()), columns.get(*grips));
        for ((value, per_hand), spring) in base.iter_mut().zip(by_hand).zip(springs) {
            *value = hand * per_hand + spring;
        }
        let without = base[0];
        let reaches = without > 0.0;
        let columns = columns.from(*grips + 1);
        let found = match (reaches, burden.direction) {
            (true, _) => rubbing.solve(&burden.contacts, columns),
            // The hand alone does not hold the springs, but the tool as it rubs on its way back may.
            (false, Direction::Opening) => rubbing.grow(&burden.contacts, columns, |_| true),
            (false, Direction::Closing) => return Answer::Slack,
        };
        let force = rubbing.total();
        match (found, force > 0.0) {
            (true, true) if rubbing.lifts(&burden.contacts) => Answer::LiftsOff,
            (true, true) => Answer::Moves {
                force,
                without: without.max(0.0),
            },
            (true, false) if !reaches => Answer::Slack,
            (true, false) if rubbing.lifts(&burden.contacts) => Answer::LiftsOff,
            _ => Answer::Locked,
        }
    }

    /// Hand force (N) at a grip for a jaw force. The jaw force is given, so the hand force is
    /// taken out of every column: what is left of a column is its answer at a constant jaw force.
    #[inline]
    pub fn hand_force(&mut self, burden: &Burden, grip: GripId, jaw_force: f64) -> Answer {
        let Self {
            columns,
            held,
            rubbing,
            grips,
            ..
        } = self;
        let hand = columns.get(grip.index());
        let per_hand = hand[0];
        if !(per_hand > 0.0) {
            return Answer::Locked; // a dead position: no hand force reaches the jaw
        }
        let base = rubbing.base();
        let stride = base.len();
        let springs = columns.get(*grips);
        let without = (jaw_force - springs[0]) / per_hand;
        for k in 1..stride {
            base[k] = springs[k] + without * hand[k];
        }
        base[0] = without;
        for (i, column) in held.chunks_exact_mut(stride).enumerate() {
            let own = columns.get(*grips + 1 + i);
            let share = -own[0] / per_hand;
            for k in 1..stride {
                column[k] = own[k] + share * hand[k];
            }
            column[0] = share;
        }
        let found = if without > 0.0 {
            rubbing.solve(&burden.contacts, held)
        } else {
            // The springs would do it alone, but friction may still ask for the hand.
            rubbing.grow(&burden.contacts, held, |_| true)
        };
        let force = rubbing.total();
        match (found, force > 0.0) {
            (true, true) if rubbing.lifts(&burden.contacts) => Answer::LiftsOff,
            (true, true) => Answer::Moves {
                force,
                without: without.max(0.0),
            },
            (true, false) if !(without > 0.0) => Answer::Slack,
            _ => Answer::Locked,
        }
    }

    /// What rubs, and how hard, in the case that was solved last.
    pub(super) fn rubs(&self, burden: &Burden) -> Vec<(Contact, f64)> {
        let contacts = burden.contacts.iter().enumerate();
        contacts
            .map(|(k, contact)| {
                let size = self.rubbing.sizes[k];
                (*contact, contact.friction(self.sense(burden, k), size))
            })
            .collect()
    }

    /// Puts the whole load case into `balance` for the contact forces just found: hand, springs
    /// and friction. Gives the jaw force by virtual work.
    #[inline]
    pub fn whole_case(
        &self,
        solver: &Solver,
        balance: &mut Balance,
        burden: &Burden,
        (hand, push): (Hold, &Push),
        closing_rate: f64,
    ) -> f64 {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        balance.clear();
        balance.add_hand(pose, push, hand.force);
        burden.load(linkage, pose, balance);
        self.load_held(pose, balance);
        let mut power = hand.force * hand.power + self.given_power;
        let direction = burden.direction.sign();
        for (k, contact) in burden.contacts.iter().enumerate() {
            let size = self.rubbing.sizes[k];
            balance.rub(contact, linkage, pose, self.sense(burden, k), size);
            power += direction * size * contact.rub.power(self.rates[k]);
        }
        power / closing_rate
    }
}

/// A force on a body, N, and where it acts, mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Held {
    pub body: PartId,
    pub at: Vec2,
    pub force: Vec2,
}

/// A hand at a grip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hold {
    /// Index of the grip.
    pub grip: GripId,
    /// Side of a square push.
    pub side: f64,
    /// Force, N.
    pub force: f64,
    /// Power of 1 N there, for the closing motion.
    pub power: f64,
}

/// Writes a solved load case as a column.
#[inline]
fn write(column: &mut [f64], balance: &Balance, burden: &Burden, jaw_force: f64) {
    column[0] = jaw_force;
    for (k, contact) in burden.contacts.iter().enumerate() {
        let pair = balance.load[contact.joint.index()];
        column[1 + 2 * k] = pair[0];
        column[2 + 2 * k] = pair[1];
    }
}
