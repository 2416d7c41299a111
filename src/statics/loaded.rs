//! Forces with friction and springs, at one position, for one jaw.

use super::answer::Answer;
use super::balance::Balance;
use super::friction::Contact;
use super::rubbing::{Columns, Rubbing};
use super::sheet::{ForceKind, PointForce, Sheet};
use super::springs::Springs;
use crate::geometry::Vec2;
use crate::mechanism::{Kind, Linkage, Pose, PushFrame, Rates, Take};
use crate::model::{Direction, GripId, JawId, JointId, PartId, Tool};
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
}

impl Burden {
    /// Whether there is neither friction nor a spring.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.springs.is_empty() && self.contacts.is_empty()
    }
}

/// Equilibrium with friction and springs, on storage that is reused.
#[derive(Debug, Clone)]
pub struct Loaded {
    /// Hand of 1 N at each grip, then the springs, then unit friction at each contact.
    columns: Columns,
    rubbing: Rubbing,
    rates: Vec<f64>,
    spring_power: f64,
    grips: usize,
}

impl Loaded {
    /// Storage for `linkage` with this burden.
    #[must_use]
    pub fn new(linkage: &Linkage, burden: &Burden) -> Self {
        let (grips, contacts) = (linkage.hand.held, burden.contacts.len());
        Self {
            columns: Columns::new(grips + 1 + contacts, contacts),
            rubbing: Rubbing::new(contacts),
            rates: vec![0.0; contacts],
            spring_power: 0.0,
            grips,
        }
    }

    /// How many Newton matrices of the contact forces have been factored so far.
    #[must_use]
    pub fn factored(&self) -> u64 {
        self.rubbing.factored
    }

    /// Prepares a position: the rubbing rates and the springs' power.
    #[inline]
    pub fn stand(&mut self, solver: &Solver, rates: &Rates, burden: &Burden) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        for (rate, contact) in self.rates.iter_mut().zip(&burden.contacts) {
            *rate = contact.rate(linkage, pose, rates);
        }
        self.spring_power = burden.springs.power(linkage, pose, rates);
    }

    /// Prepares a jaw: its answers to springs and unit frictions.
    #[inline]
    pub fn prepare(
        &mut self,
        solver: &Solver,
        balance: &mut Balance,
        burden: &Burden,
        jaw: JawId,
        axis: Vec2,
    ) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        if burden.springs.is_empty() {
            self.columns.get_mut(self.grips).fill(0.0);
        } else {
            balance.clear();
            burden.springs.load(linkage, pose, balance);
            self.column(solver, balance, burden, jaw, axis, self.grips);
        }
        for k in 0..burden.contacts.len() {
            let sense = self.sense(burden, k);
            balance.clear();
            burden.contacts[k].load(linkage, pose, balance, sense, 1.0);
            self.column(solver, balance, burden, jaw, axis, self.grips + 1 + k);
        }
    }

    /// Keeps the answer to a hand of 1 N at a grip, which `balance` has just solved.
    #[inline]
    pub fn keep_hand(&mut self, balance: &Balance, burden: &Burden, grip: GripId, jaw_force: f64) {
        write(
            self.columns.get_mut(grip.index()),
            balance,
            burden,
            jaw_force,
        );
    }

    fn column(
        &mut self,
        solver: &Solver,
        balance: &mut Balance,
        burden: &Burden,
        jaw: JawId,
        axis: Vec2,
        k: usize,
    ) {
        let jaw_force = balance.solve(solver, jaw, axis);
        write(self.columns.get_mut(k), balance, burden, jaw_force);
    }

    /// Sign of the rubbing at contact `k` in the direction of the stroke.
    #[inline]
    fn sense(&self, burden: &Burden, k: usize) -> f64 {
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
        let (base, rest) = rubbing.inputs();
        for (k, value) in base.iter_mut().enumerate() {
            *value = hand * columns.get(grip.index())[k] + columns.get(*grips)[k];
        }
        let without = base[0];
        let stride = base.len();
        for (i, column) in rest.chunks_exact_mut(stride).enumerate() {
            column.copy_from_slice(columns.get(*grips + 1 + i));
        }
        if !(without > 0.0) {
            return Answer::Slack;
        }
        if !rubbing.solve(&burden.contacts, |now| now[0]) {
            return Answer::Locked;
        }
        let force = rubbing.total();
        if force > 0.0 {
            Answer::Moves { force, without }
        } else {
            Answer::Locked
        }
    }

    /// Hand force (N) at a grip for a jaw force. The jaw force is given, so the hand force is
    /// taken out of every column: what is left of a column is its answer at a constant jaw force.
    #[inline]
    pub fn hand_force(&mut self, burden: &Burden, grip: GripId, jaw_force: f64) -> Answer {
        let Self {
            columns,
            rubbing,
            grips,
            ..
        } = self;
        let hand = columns.get(grip.index());
        let per_hand = hand[0];
        if !(per_hand > 0.0) {
            return Answer::Locked; // a dead position: no hand force reaches the jaw
        }
        let (base, rest) = rubbing.inputs();
        let stride = base.len();
        let springs = columns.get(*grips);
        let without = (jaw_force - springs[0]) / per_hand;
        for k in 1..stride {
            base[k] = springs[k] + without * hand[k];
        }
        base[0] = without;
        for (i, column) in rest.chunks_exact_mut(stride).enumerate() {
            let own = columns.get(*grips + 1 + i);
            let share = -own[0] / per_hand;
            for k in 1..stride {
                column[k] = own[k] + share * hand[k];
            }
            column[0] = share;
        }
        let found = if without > 0.0 {
            rubbing.solve(&burden.contacts, |now| now[0])
        } else {
            // The springs would do it alone, but friction may still ask for the hand.
            rubbing.grow(&burden.contacts, |_| true)
        };
        let force = rubbing.total();
        match (found, force > 0.0) {
            (true, true) => Answer::Moves {
                force,
                without: without.max(0.0),
            },
            (true, false) if !(without > 0.0) => Answer::Slack,
            _ => Answer::Locked,
        }
    }

    /// Puts the whole load case into `balance` for the contact forces just found: hand, springs
    /// and friction. Gives the jaw force by virtual work.
    #[inline]
    pub fn whole_case(
        &self,
        solver: &Solver,
        balance: &mut Balance,
        burden: &Burden,
        hand: Hold,
        closing_rate: f64,
    ) -> f64 {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        balance.clear();
        balance.add_hand(linkage, pose, hand.grip, hand.side, hand.force);
        burden.springs.load(linkage, pose, balance);
        let mut power = hand.force * hand.power + self.spring_power;
        let direction = burden.direction.sign();
        for (k, contact) in burden.contacts.iter().enumerate() {
            let size = self.rubbing.sizes[k];
            contact.load(linkage, pose, balance, self.sense(burden, k), size);
            power += direction * size * contact.rub.power(self.rates[k]);
        }
        power / closing_rate
    }
}

/// A load case whose forces are to be listed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sheeted<'a> {
    pub burden: &'a Burden,
    pub hold: Hold,
    /// Jaw force of the first jaw, N.
    pub jaw_force: f64,
}

impl Loaded {
    /// Lists every force on every part: joints with their friction, springs, hand, jaw. `balance`
    /// has just solved the case.
    pub(super) fn sheet(
        &self,
        tool: &Tool,
        solver: &Solver,
        balance: &Balance,
        case: Sheeted,
        axis: Vec2,
    ) -> Sheet {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let mut sheet = Sheet::new(linkage.bodies.len());
        for (turn, frame) in sheet.turn.iter_mut().zip(&pose.frames) {
            *turn = frame.turn;
        }
        let mut put = |part: PartId, what: ForceKind, at: Vec2, force: Vec2, moment: f64| {
            let local = pose.frames[part].own_place(at) + linkage.bodies[part].entry;
            sheet.part_forces[part].push(PointForce {
                what,
                at,
                local,
                force,
                moment,
            });
        };
        let opposite = |f: Vec2| -f;
        for (j, joint) in JointId::each(&linkage.joints) {
            let contact = (case.burden.contacts.iter().enumerate()).find(|(_, c)| c.joint == j);
            let friction = contact.map_or(0.0, |(k, c)| {
                c.friction(self.sense(case.burden, k), self.rubbing.sizes[k])
            });
            let mut on = OnBodies {
                pose,
                bodies: Vec::new(),
            };
            joint.act(pose, balance.load[j.index()], &mut on);
            joint.drag(pose, friction, &mut on);
            for on in on.bodies {
                put(on.body, ForceKind::Joint(j), on.at, on.force, on.moment);
            }
        }
        for (k, pull) in case.burden.springs.pulls(linkage, pose).enumerate() {
            for end in pull {
                put(
                    end.body,
                    ForceKind::Spring(k),
                    end.at,
                    end.force,
                    end.moment,
                );
            }
        }
        let frame = &linkage.hand.grips[case.hold.grip];
        let u = linkage.push_direction(pose, frame, case.hold.side);
        let hand = u * case.hold.force;
        put(
            frame.at.body,
            ForceKind::Hand,
            pose.place(frame.at),
            hand,
            0.0,
        );
        if let Some(on) = linkage.reaction(pose, frame, hand) {
            let what = match linkage.hand.push {
                PushFrame::Across => ForceKind::Opposite,
                _ => ForceKind::Palm,
            };
            put(on.body, what, on.at, opposite(hand), on.couple);
        }
        if let (Some(jaw), Some(_)) = (linkage.jaws.first(), tool.jaws.first()) {
            let f = axis * case.jaw_force;
            let on = pose.place(jaw.on);
            put(jaw.on.body, ForceKind::Jaw(JawId::FIRST), on, f, 0.0);
            put(
                jaw.against.body,
                ForceKind::Jaw(JawId::FIRST),
                on,
                opposite(f),
                0.0,
            );
        }
        sheet
    }
}

/// What a joint does to one body.
struct OnBody {
    body: PartId,
    at: Vec2,
    force: Vec2,
    moment: f64,
}

/// What a joint does to each of its bodies, a body once.
struct OnBodies<'a> {
    pose: &'a Pose,
    bodies: Vec<OnBody>,
}

impl OnBodies<'_> {
    fn add(&mut self, body: PartId, at: Vec2, force: Vec2, moment: f64) {
        match self.bodies.iter_mut().find(|on| on.body == body) {
            Some(on) => {
                on.force += force;
                on.moment += moment;
            }
            None => self.bodies.push(OnBody {
                body,
                at,
                force,
                moment,
            }),
        }
    }
}

impl Take for OnBodies<'_> {
    fn force(&mut self, body: PartId, _arm: Vec2, place: Vec2, force: Vec2) {
        self.add(body, place, force, 0.0);
    }

    fn couple(&mut self, body: PartId, moment: f64) {
        self.add(body, self.pose.frames[body].origin, Vec2::ZERO, moment);
    }
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
