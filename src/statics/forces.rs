//! All forces at one position: every grip, every jaw.

use super::answer::Answer;
use super::ask::{Answers, Ask, Holding};
use super::balance::Balance;
use super::friction::Contact;
use super::loaded::{Burden, Hold, Loaded};
use super::sheet::Sheet;
use super::sheeted::Sheeted;
use crate::geometry::Vec2;
use crate::mechanism::{JointFrame, Linkage, Push, Rates};
use crate::model::{GripId, JawId, JointId, Met, PartId, Tool};
use crate::motion::{Solver, Stance};

/// A hold whose rate is below this (over the length of the tangent, and the tool's size for a
/// grip) stands still in the motion, so that it cannot hold the jaw: a dead position.
const NO_HOLD: f64 = 1e-6;

/// A point that goes by less than this, over the length of the tangent and the tool's size, stands still.
const STILL: f64 = 1e-9;

/// Forces at one position, on storage that is reused.
#[derive(Debug, Clone)]
pub struct Forces {
    rates: Rates,
    /// The closing tangent over the solver's: +1 or −1.
    sense: f64,
    balance: Balance,
    loaded: Loaded,
    axes: Vec<Vec2>,
    closing: Vec<f64>,
    power: Vec<f64>,
    /// Hand of 1 N at each grip.
    pushes: Vec<Push>,
    /// What has met before this position, so that there are no forces: set by who knows the
    /// stroke, after [`Forces::stand`].
    pub ended: Option<Met>,
    /// For each jaw: it stands still here.
    pub toggle: Vec<bool>,
    /// For each jaw: its gap, mm.
    pub gap: Vec<f64>,
    /// Jaw force per hand force, without friction and springs: grips × jaws. NaN at a toggle.
    ratio: Vec<f64>,
    /// Answer to the hand force asked, with friction and springs: grips × jaws.
    answer: Vec<Answer>,
    /// Hand force for the work asked, first jaw: one for each grip.
    needed: Vec<Answer>,
    /// Pin force on the later part at the hand force asked: grips × joints, first jaw. NaN where
    /// there is no answer.
    pins: Vec<[f64; 2]>,
    joints: usize,
    /// The same of normal forces at the joints that are no pins, N: grips × those.
    contacts: Vec<f64>,
    others: usize,
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
        let others = linkage.joints.len() - joints;
        Self {
            rates: Rates::new(linkage),
            sense: 1.0,
            balance: Balance::new(linkage),
            loaded: Loaded::new(linkage, burden),
            axes: vec![Vec2::X; jaws],
            closing: vec![0.0; jaws],
            power: vec![0.0; grips],
            pushes: vec![Push::NONE; grips],
            ended: None,
            toggle: vec![false; jaws],
            gap: vec![0.0; jaws],
            ratio: vec![f64::NAN; grips * jaws],
            answer: vec![Answer::Locked; grips * jaws],
            needed: vec![Answer::Slack; grips],
            pins: vec![[f64::NAN; 2]; grips * joints],
            contacts: vec![f64::NAN; grips * others],
            others,
            joints,
            virtual_work: 0.0,
            free_body: 0.0,
        }
    }

    /// Stands at a position: rates, gaps, toggles. Nothing is allocated, here or in
    /// [`Forces::solve`].
    #[inline]
    pub fn stand(&mut self, solver: &Solver, stance: Stance, ask: &Ask) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        self.ended = None;
        self.rates.read(solver, stance.sense);
        self.sense = stance.sense;
        for jaw in JawId::ids(linkage.jaws.len()) {
            let (axis, rate) = self.rates.jaw(linkage, pose, jaw);
            self.axes[jaw.index()] = axis;
            self.closing[jaw.index()] = rate;
            self.toggle[jaw.index()] = self.rates.stands_still(linkage, rate);
            self.gap[jaw.index()] = linkage.gap(pose, &linkage.jaws[jaw]);
        }
        for grip in GripId::ids(linkage.hand.held) {
            let push = linkage.push(pose, grip, ask.sides[grip.index()]);
            self.power[grip.index()] = self.rates.hand_power(pose, &push);
            self.pushes[grip.index()] = push;
        }
        self.balance.stand();
        if !ask.burden.is_none() {
            self.loaded.stand(solver, &self.rates, &ask.burden);
        }
    }

    /// All forces where [`Forces::stand`] stood. `work`: jaw force that the job needs here, N.
    #[inline]
    pub fn solve(&mut self, solver: &Solver, ask: &Ask, work: Option<f64>) {
        self.ratio.fill(f64::NAN);
        self.pins.fill([f64::NAN; 2]);
        self.contacts.fill(f64::NAN);
        if self.ended.is_some() {
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
        for jaw in JawId::ids(linkage.jaws.len()) {
            if self.toggle[jaw.index()] {
                continue;
            }
            for grip in ask.grips(linkage) {
                let ratio = self.power[grip.index()] / self.closing[jaw.index()];
                let cell = self.cell(grip, jaw);
                self.ratio[cell] = ratio;
                self.balance.clear();
                (self.balance).add_hand(pose, &self.pushes[grip.index()], ask.hand_force);
                let force = ratio * ask.hand_force;
                self.check(solver, jaw, force, ask.hand_force);
                self.answer[cell] = if force > 0.0 {
                    Answer::Moves {
                        force,
                        without: force,
                    }
                } else {
                    Answer::Slack
                };
                if jaw != JawId::FIRST {
                    continue;
                }
                if let Some(work) = work {
                    let force = work / ratio;
                    self.needed[grip.index()] = if ratio > 0.0 {
                        Answer::Moves {
                            force,
                            without: force,
                        }
                    } else {
                        Answer::Locked
                    };
                }
                if force > 0.0 {
                    self.keep_pins(grip);
                }
            }
        }
    }

    /// With friction or springs: what is asked for, each answer with a solution of its own.
    /// Kept out of the frictionless path, which is the innermost loop.
    #[inline(never)]
    fn solve_burdened(&mut self, solver: &Solver, ask: &Ask, work: Option<f64>) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let (answers, needs) = match ask.answers {
            Answers::All => (true, true),
            Answers::Ratio => (false, false),
            Answers::JawForce => (true, false),
            Answers::HandForce => (false, true),
        };
        let jaws = match ask.answers {
            Answers::All => linkage.jaws.len(),
            _ => 1,
        };
        for jaw in JawId::ids(jaws) {
            if self.toggle[jaw.index()] {
                continue;
            }
            let axis = self.axes[jaw.index()];
            if answers || needs {
                (self.loaded).prepare(solver, &mut self.balance, &ask.burden, jaw, axis);
            }
            for grip in ask.grips(linkage) {
                let ratio = self.power[grip.index()] / self.closing[jaw.index()];
                let cell = self.cell(grip, jaw);
                self.ratio[cell] = ratio;
                if !self.loaded.has_hand(jaw, grip) {
                    self.balance.clear();
                    (self.balance).add_hand(pose, &self.pushes[grip.index()], 1.0);
                    let jaw_force = self.check(solver, jaw, ratio, 1.0);
                    if answers || needs {
                        (self.loaded).keep_hand(&self.balance, &ask.burden, grip, jaw_force);
                    }
                }
                if let (true, JawId::FIRST, Some(work)) = (needs, jaw, work) {
                    self.needed[grip.index()] = self.loaded.hand_force(&ask.burden, grip, work);
                }
                if !answers {
                    continue;
                }
                self.burdened(solver, ask, grip, jaw);
                if jaw == JawId::FIRST && matches!(self.answer[cell], Answer::Moves { .. }) {
                    self.keep_pins(grip);
                }
            }
        }
    }

    /// Jaw force per hand force, without friction and springs; NaN at a toggle. `None` without that grip
    /// or jaw, here and below.
    #[must_use]
    pub fn ratio(&self, grip: GripId, jaw: JawId) -> Option<f64> {
        self.ratio.get(self.cell(grip, jaw)).copied()
    }

    /// A jaw's answer to the hand force asked, with friction and springs.
    #[must_use]
    pub fn answer(&self, grip: GripId, jaw: JawId) -> Option<Answer> {
        self.answer.get(self.cell(grip, jaw)).copied()
    }

    /// Hand force for the work asked, first jaw.
    #[must_use]
    pub fn needed(&self, grip: GripId) -> Option<Answer> {
        self.needed.get(grip.index()).copied()
    }

    /// Force of a pin joint on the later part at the hand force asked, first jaw. NaN where there is no
    /// answer.
    #[must_use]
    pub fn pin(&self, joint: JointId, grip: GripId) -> Option<Vec2> {
        self.pins_at(grip).get(joint.index()).map(|&f| f.into())
    }

    /// The same for every pin joint.
    #[must_use]
    pub fn pins_at(&self, grip: GripId) -> &[[f64; 2]] {
        let first = grip.index() * self.joints;
        self.pins.get(first..first + self.joints).unwrap_or(&[])
    }

    /// Place of a grip and a jaw in the lists that hold one number for each of these pairs; beyond their
    /// end without such a jaw.
    #[inline]
    fn cell(&self, grip: GripId, jaw: JawId) -> usize {
        let jaws = self.gap.len();
        if jaw.index() < jaws {
            grip.index() * jaws + jaw.index()
        } else {
            usize::MAX
        }
    }

    /// Keeps the pin forces of the case that has just been solved.
    #[inline]
    fn keep_pins(&mut self, grip: GripId) {
        let first = grip.index() * self.joints;
        let (pins, others) = self.balance.load.split_at(self.joints);
        self.pins[first..first + self.joints].copy_from_slice(pins);
        let first = grip.index() * self.others;
        let contacts = &mut self.contacts[first..first + self.others];
        for (kept, load) in contacts.iter_mut().zip(others) {
            *kept = load[0];
        }
    }

    /// Normal force of a joint that is no pin at the hand force asked, first jaw, N, with the sign of the joint's
    /// equation. NaN where there is no answer; `None` for a pin.
    #[must_use]
    pub fn contact(&self, joint: JointId, grip: GripId) -> Option<f64> {
        let of = joint.index().checked_sub(self.joints)?;
        let of = (of < self.others).then_some(grip.index() * self.others + of)?;
        self.contacts.get(of).copied()
    }

    /// See [`super::Stand::pressure_angle`].
    pub(super) fn pressure_angle(&self, solver: &Solver, joint: JointId) -> Option<f64> {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let Some(JointFrame::Cam(cam)) = linkage.joints.get(joint.index()) else {
            return None;
        };
        let way = self.rates.of(pose, cam.pushed.body, pose.place(cam.pushed));
        let normal = cam.normal(pose);
        let still = way.length() <= STILL * (linkage.size * self.rates.length());
        (!still).then(|| way.cross(normal).abs().atan2(way.dot(normal).abs()))
    }

    /// How many Newton steps of the contact forces have been taken so far: a tool that friction
    /// brings near to locking takes many at a position, others a few.
    #[must_use]
    pub fn newton_steps(&self) -> u64 {
        self.loaded.newton_steps()
    }

    /// Power of a hand of 1 N at a grip, per unit of the tangent.
    #[must_use]
    pub fn power(&self, grip: GripId) -> f64 {
        self.power.get(grip.index()).copied().unwrap_or(0.0)
    }

    /// Closing rate of a jaw, per unit of the tangent, mm.
    #[must_use]
    pub fn closing(&self, jaw: JawId) -> f64 {
        self.closing.get(jaw.index()).copied().unwrap_or(0.0)
    }

    /// Angular rate of a part, rad per unit of the closing tangent.
    #[must_use]
    pub fn spin(&self, part: PartId) -> f64 {
        self.rates.spin.get(part.index()).copied().unwrap_or(0.0)
    }

    /// Power that the springs give to the closing motion, N mm per unit of the tangent.
    pub(super) fn spring_power(&self, solver: &Solver, ask: &Ask) -> f64 {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        ask.burden.springs.power(linkage, pose, &self.rates)
    }

    /// The closing tangent at the position.
    #[must_use]
    pub fn rates(&self) -> &[f64] {
        &self.rates.tangent
    }

    /// The answer of the first jaw to one hand force or, `under` a force at that jaw, of the hand, whose whole load
    /// case is left solved for [`Forces::sheet`]. `None` at a toggle.
    pub(super) fn single(
        &mut self,
        solver: &Solver,
        ask: &Ask,
        mut hold: Hold,
        under: Option<f64>,
    ) -> Option<Answer> {
        if self.toggle[0] {
            return None;
        }
        let (axis, push) = (self.axes[0], *self.pushes.get(hold.grip.index())?);
        self.loaded.stand(solver, &self.rates, &ask.burden);
        self.loaded
            .prepare(solver, &mut self.balance, &ask.burden, JawId::FIRST, axis);
        self.balance.clear();
        self.balance.add_hand(&solver.pose, &push, 1.0);
        let unit = self.balance.solve(solver, JawId::FIRST, axis);
        self.loaded
            .keep_hand(&self.balance, &ask.burden, hold.grip, unit);
        let answer = match under {
            None => (self.loaded).jaw_force(&ask.burden, hold.grip, hold.force),
            Some(force) => self.loaded.hand_force(&ask.burden, hold.grip, force),
        };
        if let Answer::Moves { force, .. } = answer {
            if under.is_some() {
                hold.force = force;
            }
            let by_work = self.loaded.whole_case(
                solver,
                &mut self.balance,
                &ask.burden,
                (hold, &push),
                self.closing[0],
            );
            let jaw_force = self.balance.solve(solver, JawId::FIRST, axis);
            self.note(by_work, jaw_force, hold.force);
        }
        Some(answer)
    }

    /// A force of 1 N at the first jaw, held by the hand, without friction and springs: the hand
    /// force (N) or moment on the handle (N mm) that holds it. The case is left solved for
    /// [`Forces::sheet`]. Defined at a toggle (there it is zero); `None` at a dead position.
    pub(super) fn unit(&mut self, solver: &Solver, holding: Holding) -> Option<f64> {
        let linkage = &*solver.linkage;
        let axis = *self.axes.first()?;
        self.balance.clear();
        let (rate, scale) = match holding {
            Holding::Grip(grip) => {
                let push = self.pushes.get(grip.index())?;
                self.balance.add_hand(&solver.pose, push, 1.0);
                (self.power(grip), linkage.size)
            }
            Holding::Angle => {
                let spin = |body: PartId| self.rates.spin.get(body.index()).copied().unwrap_or(0.0);
                let hand = &linkage.hand;
                self.balance.add_moment(hand.body, 1.0);
                if let Some(against) = hand.against {
                    self.balance.add_moment(against, -1.0);
                }
                (spin(hand.body) - hand.against.map_or(0.0, spin), 1.0)
            }
        };
        if !(rate.abs() > NO_HOLD * scale * self.rates.length()) {
            return None;
        }
        let factor = self.balance.hold(solver, JawId::FIRST, axis);
        self.free_body = self.free_body.max(self.balance.residual);
        Some(factor)
    }

    /// The case that [`Forces::unit`] has just solved, with what presses gears apart under it, which has no power
    /// and so asks for no more of the hand: how hard each of `spreads` presses.
    pub(super) fn unit_pressed(
        &mut self,
        solver: &Solver,
        spreads: &[Contact],
    ) -> Vec<(Contact, f64)> {
        let Some(axis) = self.axes.first() else {
            return Vec::new();
        };
        let size = |contact: &Contact| self.balance.load[contact.joint.index()][0].abs();
        let sizes: Vec<f64> = spreads.iter().map(size).collect();
        for (contact, size) in spreads.iter().zip(&sizes) {
            (self.balance).rub(contact, &solver.linkage, &solver.pose, 1.0, *size);
        }
        self.balance.held(solver, JawId::FIRST, *axis);
        self.free_body = self.free_body.max(self.balance.residual);
        let pressed = spreads.iter().zip(sizes);
        pressed
            .map(|(contact, size)| (*contact, contact.friction(1.0, size)))
            .collect()
    }

    /// What rubs in that case, and how hard.
    pub(super) fn rubs(&self, burden: &Burden) -> Vec<(Contact, f64)> {
        self.loaded.rubs(burden)
    }

    /// Every force on every part in the load case that [`Forces::single`] has just solved.
    pub(super) fn sheet(&self, tool: &Tool, solver: &Solver, case: Sheeted) -> Sheet {
        self.loaded
            .sheet(tool, solver, &self.balance, case, self.axes[0])
    }

    /// The answer with friction and springs, and its own check: the whole load case with the jaw force
    /// that virtual work gives, the springs' power and the friction losses counted.
    #[inline]
    fn burdened(&mut self, solver: &Solver, ask: &Ask, grip: GripId, jaw: JawId) {
        let k = self.cell(grip, jaw);
        self.answer[k] = self.loaded.jaw_force(&ask.burden, grip, ask.hand_force);
        if let Answer::Moves { .. } = self.answer[k] {
            let hand = Hold {
                grip,
                side: ask.sides[grip.index()],
                force: ask.hand_force,
                power: self.power[grip.index()],
            };
            let by_work = self.loaded.whole_case(
                solver,
                &mut self.balance,
                &ask.burden,
                (hand, &self.pushes[grip.index()]),
                self.closing[jaw.index()],
            );
            self.check(solver, jaw, by_work, ask.hand_force);
        }
    }

    /// Jaw force (N) by the free bodies, with the one by virtual work; how far they differ is kept.
    #[inline]
    fn check(&mut self, solver: &Solver, jaw: JawId, by_work: f64, hand_force: f64) -> f64 {
        let axis = self.axes[jaw.index()];
        // What a jaw force of 1 N makes at the solver's border, by the motion.
        let per_force = -self.closing[jaw.index()] * self.sense / solver.linkage.size;
        let jaw_force = (self.balance).solve_with(solver, jaw, axis, by_work, per_force);
        self.note(by_work, jaw_force, hand_force);
        jaw_force
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
