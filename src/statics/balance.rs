//! Free bodies: every moving part in equilibrium.

use super::friction::Contact;
use super::takers::{ForceSums, Powers};
use crate::geometry::Vec2;
use crate::mechanism::{Kind, Linkage, Pose, Push, ROOT, Take, Wrench};
use crate::model::{JawId, PartId};
use crate::motion::Solver;
use crate::numeric::greatest;

/// Equilibrium of all parts at one position, on storage that is reused.
///
/// Use: [`Balance::stand`] at a position, then for each load case [`Balance::clear`], the
/// `add_…` calls, [`Balance::solve`] with a jaw, and read [`Balance::load`].
#[derive(Debug, Clone)]
pub struct Balance {
    /// Loads given, by body.
    loads: Vec<Wrench>,
    /// Loads alone, summed towards the roots.
    carried: Vec<Wrench>,
    /// Loads and joint forces together, summed towards the roots.
    sums: Vec<Wrench>,
    /// Generalised forces.
    general: Vec<f64>,
    spare: Vec<f64>,
    /// Answer of the transposed equations to a jaw force of 1 N, one for each jaw; and whether it has
    /// been found at this position.
    unit_jaw: Vec<(Vec<f64>, bool)>,
    /// Forces of the closure equations, N.
    multipliers: Vec<f64>,
    /// Load of each joint, see [`Kind::load`]: for a pin, the force on the later part by the carrier.
    pub load: Vec<[f64; 2]>,
    /// Greatest sum of forces or moments left on any part, over the greatest force.
    pub residual: f64,
}

impl Balance {
    /// Storage for `linkage`.
    #[must_use]
    pub fn new(linkage: &Linkage) -> Self {
        let (bodies, n) = (linkage.bodies.len(), linkage.coordinates);
        Self {
            loads: vec![Wrench::default(); bodies],
            carried: vec![Wrench::default(); bodies],
            sums: vec![Wrench::default(); bodies],
            general: vec![0.0; n],
            spare: vec![0.0; n],
            unit_jaw: vec![(vec![0.0; n], false); linkage.jaws.len()],
            multipliers: vec![0.0; linkage.equations],
            load: vec![[0.0; 2]; linkage.joints.len()],
            residual: 0.0,
        }
    }

    /// Comes to a new position.
    #[inline]
    pub fn stand(&mut self) {
        for (_, found) in &mut self.unit_jaw {
            *found = false;
        }
    }

    /// Finds the answer to a unit force of a jaw along `axis`, once at a position.
    #[inline]
    fn find_unit(&mut self, solver: &Solver, jaw: JawId, axis: Vec2) {
        let (answer, found) = &mut self.unit_jaw[jaw.index()];
        if std::mem::replace(found, true) {
            return;
        }
        answer.fill(0.0);
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        linkage.add_gap_gradient(pose, &linkage.jaws[jaw], axis, answer);
        solver.solve_transposed(answer, &mut self.spare);
    }

    /// Forgets all loads.
    #[inline]
    pub fn clear(&mut self) {
        self.loads.fill(Wrench::default());
    }

    /// Adds a force on `body` at `place`.
    #[inline]
    pub fn add_force(&mut self, pose: &Pose, body: PartId, place: Vec2, force: Vec2) {
        let entry = pose.frames[body].origin;
        add(&mut self.loads[body], entry, place, force);
    }

    /// Adds a moment on `body`, N mm.
    #[inline]
    pub fn add_moment(&mut self, body: PartId, moment: f64) {
        self.loads[body].moment += moment;
    }

    /// Adds a hand's force (N) and its opposite on the part that takes it.
    #[inline]
    pub fn add_hand(&mut self, pose: &Pose, push: &Push, force: f64) {
        let f = push.direction * force;
        self.add_force(pose, push.body, push.place, f);
        if let Some((body, place)) = push.opposite {
            self.add_force(pose, body, place, -f);
        }
    }

    /// Jaw force (N) at which the loads added are in equilibrium, `jaw` alone holding the work.
    /// The joint forces and the residual follow. Not to be asked where that jaw is at a toggle.
    #[inline]
    pub fn solve(&mut self, solver: &Solver, jaw: JawId, axis: Vec2) -> f64 {
        let jaw_force = self.solve_unchecked(solver, jaw, axis);
        self.find_residual(&solver.linkage, jaw_force.abs());
        jaw_force
    }

    /// The same without the residual, for answers that are checked as part of a whole load case.
    #[inline]
    pub fn solve_unchecked(&mut self, solver: &Solver, jaw: JawId, axis: Vec2) -> f64 {
        self.find_unit(solver, jaw, axis);
        self.sums.copy_from_slice(&self.loads);
        self.answer(solver);
        let jaw_force = self.take_out(solver, jaw);
        self.add_jaw(solver, jaw, axis, jaw_force);
        self.complete(solver);
        jaw_force
    }

    /// Takes the jaw force that leaves nothing to the driver out of the answer.
    #[inline]
    fn take_out(&mut self, solver: &Solver, jaw: JawId) -> f64 {
        let last = solver.linkage.coordinates - 1;
        let unit = &self.unit_jaw[jaw.index()].0;
        let jaw_force = self.general[last] / unit[last];
        for (g, u) in self.general.iter_mut().zip(unit) {
            *g -= jaw_force * u;
        }
        jaw_force
    }

    /// Adds the friction of a contact force of `size` (N) as a load, against motion of sign `sense`.
    #[inline]
    pub fn rub(
        &mut self,
        contact: &Contact,
        linkage: &Linkage,
        pose: &Pose,
        sense: f64,
        size: f64,
    ) {
        let friction = contact.friction(sense, size);
        let mut loads = Loads {
            balance: self,
            pose,
        };
        contact.drag(linkage, pose, friction, &mut loads);
    }

    /// Jaw force (N) and joint forces where nothing acts but `friction` (see [`Contact::drag`]) at one
    /// contact, `jaw` alone holding the work. For answers that are checked as part of a whole load case:
    /// joint forces are summed up without their moments, and no residual is found.
    #[inline]
    pub(super) fn solve_drag(
        &mut self,
        solver: &Solver,
        rubs: &Contact,
        friction: f64,
        jaw: JawId,
        axis: Vec2,
    ) -> f64 {
        self.find_unit(solver, jaw, axis);
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        self.general.fill(0.0);
        let general = self.general.as_mut_slice();
        let mut powers = Powers {
            linkage,
            pose,
            general,
        };
        rubs.drag(linkage, pose, -friction, &mut powers);
        solver.solve_transposed(&mut self.general, &mut self.spare);
        let jaw_force = self.take_out(solver, jaw);
        self.read_multipliers(solver);

        self.sums.fill(Wrench::default());
        let mut forces = ForceSums(&mut self.sums);
        rubs.drag(linkage, pose, friction, &mut forces);
        let frame = &linkage.jaws[jaw];
        forces.add(frame.on.body, axis * jaw_force);
        forces.add(frame.against.body, axis * -jaw_force);
        for &k in &linkage.closing {
            let joint = &linkage.joints[k];
            let load = joint.load(linkage.size, &self.multipliers);
            self.load[k.index()] = load;
            joint.act(pose, load, &mut forces);
        }
        for &b in linkage.order.iter().rev() {
            let parent = linkage.bodies[b].parent;
            if parent != ROOT {
                let force = forces.0[b].force;
                forces.add(parent, force);
            }
        }
        self.read_joints(linkage);
        jaw_force
    }

    /// The same where the jaw force that follows from virtual work is known: with all loads and that
    /// force in one solution. What the driver is then still short of, over `per_force`, the moment that a
    /// jaw force of 1 N makes there by the motion, is what the free bodies find otherwise; their jaw
    /// force is given back.
    #[inline]
    pub fn solve_with(
        &mut self,
        solver: &Solver,
        jaw: JawId,
        axis: Vec2,
        jaw_force: f64,
        per_force: f64,
    ) -> f64 {
        self.sums.copy_from_slice(&self.loads);
        self.add_jaw(solver, jaw, axis, jaw_force);
        self.answer(solver);
        let short = self.general[solver.linkage.coordinates - 1] / per_force;
        self.complete(solver);
        self.find_residual(&solver.linkage, jaw_force.abs());
        jaw_force + short
    }

    /// The other way round: the factor on the loads added with which they hold a force of 1 N of
    /// `jaw`. The joint forces and the residual follow, for that jaw force; the loads are scaled.
    /// At a toggle the factor is zero. Not to be asked where the loads have no power in the motion.
    pub fn hold(&mut self, solver: &Solver, jaw: JawId, axis: Vec2) -> f64 {
        self.find_unit(solver, jaw, axis);
        self.sums.copy_from_slice(&self.loads);
        self.answer(solver);
        let last = solver.linkage.coordinates - 1;
        let unit = &self.unit_jaw[jaw.index()].0;
        let factor = unit[last] / self.general[last];
        for (g, u) in self.general.iter_mut().zip(unit) {
            *g = factor * *g - u;
        }
        for load in &mut self.loads {
            load.force = load.force * factor;
            load.moment *= factor;
        }
        self.sums.copy_from_slice(&self.loads);
        self.add_jaw(solver, jaw, axis, 1.0);
        self.complete(solver);
        self.find_residual(&solver.linkage, 1.0);
        factor
    }

    /// Joint forces where the loads added hold a force of 1 N of `jaw`, as they are known to.
    pub(super) fn held(&mut self, solver: &Solver, jaw: JawId, axis: Vec2) {
        self.sums.copy_from_slice(&self.loads);
        self.add_jaw(solver, jaw, axis, 1.0);
        self.answer(solver);
        self.complete(solver);
        self.find_residual(&solver.linkage, 1.0);
    }

    /// Adds the work's force on a jaw to the sums, at its point.
    #[inline]
    fn add_jaw(&mut self, solver: &Solver, jaw: JawId, axis: Vec2, jaw_force: f64) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let frame = &linkage.jaws[jaw];
        let f = axis * jaw_force;
        let on = pose.place(frame.on);
        for (body, f) in [(frame.on.body, f), (frame.against.body, -f)] {
            add(&mut self.sums[body], pose.frames[body].origin, on, f);
        }
    }

    /// Answer of the transposed equations to the sums, which are left as they are.
    #[inline(always)]
    fn answer(&mut self, solver: &Solver) {
        let linkage = &*solver.linkage;
        self.carried.copy_from_slice(&self.sums);
        gather(linkage, &solver.pose, &mut self.carried, &mut self.general);
        for g in &mut self.general[..linkage.placing] {
            *g = -*g;
        }
        self.general[linkage.placing..].fill(0.0);
        solver.solve_transposed(&mut self.general, &mut self.spare);
    }

    /// Joint forces, from the answer to all loads and to the jaw force, which stand in the sums.
    #[inline(always)]
    fn complete(&mut self, solver: &Solver) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        self.read_multipliers(solver);
        self.add_joints(linkage, pose);
        gather(linkage, pose, &mut self.sums, &mut self.general);
        self.read_joints(linkage);
    }

    /// Forces of the closure equations from the answer.
    #[inline]
    fn read_multipliers(&mut self, solver: &Solver) {
        if solver.redundant() {
            self.multipliers.fill(0.0);
            for k in 0..solver.linkage.coordinates - 1 {
                self.multipliers[solver.row_at(k)] = self.general[k];
            }
        } else {
            let equations = self.multipliers.len();
            (self.multipliers).copy_from_slice(&self.general[..equations]);
        }
    }

    /// Loads of the joints that follow from given forces of the closure equations alone.
    pub(super) fn set_joints(&mut self, linkage: &Linkage, pose: &Pose, multipliers: &[f64]) {
        self.clear();
        self.multipliers.copy_from_slice(multipliers);
        self.sums.fill(Wrench::default());
        self.add_joints(linkage, pose);
        gather(linkage, pose, &mut self.sums, &mut self.general);
        self.read_joints(linkage);
        self.find_residual(linkage, 0.0);
    }

    /// Adds the forces of the joints with equations to the sums.
    #[inline]
    fn add_joints(&mut self, linkage: &Linkage, pose: &Pose) {
        for &k in &linkage.closing {
            let joint = &linkage.joints[k];
            let load = joint.load(linkage.size, &self.multipliers);
            self.load[k.index()] = load;
            joint.act(pose, load, self.sums.as_mut_slice());
        }
    }

    /// Forces of the joints on the tree, after all forces have been gathered.
    #[inline]
    fn read_joints(&mut self, linkage: &Linkage) {
        for &k in &linkage.hung {
            self.load[k.index()] = linkage.joints[k].hung_load(&self.sums);
        }
    }

    /// What is left on any part, after all forces have been gathered.
    #[inline]
    fn find_residual(&mut self, linkage: &Linkage, jaw_force: f64) {
        let mut most = greatest(0.0, &[jaw_force]);
        most = greatest(most, self.load[..linkage.pins].as_flattened());
        for load in &self.loads {
            most = greatest(most, &load.force.xy());
        }
        let left = greatest(0.0, &self.general[..linkage.placing]);
        self.residual = if most > 0.0 {
            left / (linkage.size * most)
        } else {
            0.0
        };
    }
}

/// Adds what it takes to the loads of a balance.
pub(super) struct Loads<'a> {
    pub balance: &'a mut Balance,
    pub pose: &'a Pose,
}

impl Take for Loads<'_> {
    #[inline]
    fn force(&mut self, body: PartId, _arm: Vec2, place: Vec2, force: Vec2) {
        self.balance.add_force(self.pose, body, place, force);
    }

    #[inline]
    fn couple(&mut self, body: PartId, moment: f64) {
        self.balance.add_moment(body, moment);
    }
}

#[inline]
fn add(sum: &mut Wrench, entry: Vec2, place: Vec2, force: Vec2) {
    sum.push(place - entry, force);
}

/// Sums wrenches from the leaves to the roots and reads the generalised force of every
/// coordinate: the moment about each body's entry (a pin passes force, no moment), and for a
/// root that slides the two components of its force.
#[inline]
fn gather(linkage: &Linkage, pose: &Pose, sums: &mut [Wrench], general: &mut [f64]) {
    for &b in linkage.order.iter().rev() {
        let body = &linkage.bodies[b];
        let Wrench { force, moment: own } = sums[b];
        general[body.angle] = own;
        if body.parent == ROOT {
            general[body.slide] = force[0] * linkage.size;
            general[body.slide + 1] = force[1] * linkage.size;
        } else {
            add(
                &mut sums[body.parent],
                pose.frames[body.parent].origin,
                pose.frames[b].origin,
                force,
            );
        }
    }
}
