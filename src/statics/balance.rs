//! Free bodies: every moving part in equilibrium.

use crate::geometry::minus;
use crate::mechanism::{Kind, Linkage, Pose, ROOT, Take, Wrench};
use crate::model::{GripId, JawId, PartId};
use crate::motion::Solver;

/// Equilibrium of all parts at one position, on storage that is reused.
///
/// Use: [`Balance::stand`] at a position, then for each load case [`Balance::clear`], the
/// `add_…` calls, [`Balance::solve`] with a jaw, and read [`Balance::load`].
#[derive(Debug, Clone)]
pub struct Balance {
    /// Loads given, by body.
    loads: Vec<Wrench>,
    /// Their generalised forces.
    given: Vec<f64>,
    /// Loads and joint forces together, summed towards the roots.
    sums: Vec<Wrench>,
    /// Generalised forces.
    general: Vec<f64>,
    spare: Vec<f64>,
    /// Answer of the transposed equations to a jaw force of 1 N, one for each jaw.
    unit_jaw: Vec<Vec<f64>>,
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
            given: vec![0.0; n],
            sums: vec![Wrench::default(); bodies],
            general: vec![0.0; n],
            spare: vec![0.0; n],
            unit_jaw: vec![vec![0.0; n]; linkage.jaws.len()],
            multipliers: vec![0.0; linkage.equations],
            load: vec![[0.0; 2]; linkage.joints.len()],
            residual: 0.0,
        }
    }

    /// Prepares a position: the answers to unit jaw forces along the given axes.
    #[inline]
    pub fn stand(&mut self, solver: &Solver, axes: &[[f64; 2]]) {
        for (jaw, (answer, &axis)) in self.unit_jaw.iter_mut().zip(axes).enumerate() {
            answer.fill(0.0);
            solver
                .linkage
                .add_gap_gradient(&solver.pose, &solver.linkage.jaws[jaw], axis, answer);
            solver.solve_transposed(answer, &mut self.spare);
        }
    }

    /// Forgets all loads.
    #[inline]
    pub fn clear(&mut self) {
        self.loads.fill(Wrench::default());
        self.given.fill(0.0);
    }

    /// Adds a force on `body` at `place`.
    #[inline]
    pub fn add_force(
        &mut self,
        linkage: &Linkage,
        pose: &Pose,
        body: PartId,
        place: [f64; 2],
        force: [f64; 2],
    ) {
        add(
            &mut self.loads[body],
            pose.frames[body].origin,
            place,
            force,
        );
        linkage.add_gradient(pose, body, place, force, &mut self.given);
    }

    /// Adds a moment on `body`, N mm.
    #[inline]
    pub fn add_moment(&mut self, linkage: &Linkage, body: PartId, moment: f64) {
        self.loads[body].moment += moment;
        linkage.add_angle(body, moment, &mut self.given);
    }

    /// Adds the hand's force at a grip and its opposite on the part that takes it.
    #[inline]
    pub fn add_hand(
        &mut self,
        linkage: &Linkage,
        pose: &Pose,
        grip: GripId,
        side: f64,
        force: f64,
    ) {
        let frame = &linkage.hand.grips[grip];
        let u = linkage.push_direction(pose, frame, side);
        let f = [u[0] * force, u[1] * force];
        self.add_force(linkage, pose, frame.at.body, pose.place(frame.at), f);
        if let Some((body, place)) = linkage.opposite(pose, frame) {
            self.add_force(linkage, pose, body, place, [-f[0], -f[1]]);
        }
    }

    /// Jaw force (N) at which the loads added are in equilibrium, `jaw` alone holding the work.
    /// The joint forces and the residual follow. Not to be asked where that jaw is at a toggle.
    #[inline]
    pub fn solve(&mut self, solver: &Solver, jaw: JawId, axis: [f64; 2]) -> f64 {
        self.answer_loads(solver);
        let last = solver.linkage.coordinates - 1;
        let jaw_force = self.general[last] / self.unit_jaw[jaw.index()][last];
        self.complete(solver, jaw, axis, jaw_force);
        jaw_force
    }

    /// The other way round: the factor on the loads added with which they hold a force of 1 N of
    /// `jaw`. The joint forces and the residual follow, for that jaw force; the loads are scaled.
    /// At a toggle the factor is zero. Not to be asked where the loads have no power in the motion.
    pub fn hold(&mut self, solver: &Solver, jaw: JawId, axis: [f64; 2]) -> f64 {
        self.answer_loads(solver);
        let last = solver.linkage.coordinates - 1;
        let factor = self.unit_jaw[jaw.index()][last] / self.general[last];
        for value in self.general.iter_mut().chain(&mut self.given) {
            *value *= factor;
        }
        for load in &mut self.loads {
            load.force = load.force.map(|v| v * factor);
            load.moment *= factor;
        }
        self.complete(solver, jaw, axis, 1.0);
        factor
    }

    /// Answer of the transposed equations to the loads added.
    #[inline(always)]
    fn answer_loads(&mut self, solver: &Solver) {
        for (g, given) in self.general.iter_mut().zip(&self.given) {
            *g = -given;
        }
        solver.solve_transposed(&mut self.general, &mut self.spare);
    }

    /// Joint forces and residual, once the jaw force in balance with the loads is known.
    #[inline(always)]
    fn complete(&mut self, solver: &Solver, jaw: JawId, axis: [f64; 2], jaw_force: f64) {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let unit = &self.unit_jaw[jaw.index()];
        if solver.redundant() {
            self.multipliers.fill(0.0);
            for k in 0..linkage.coordinates - 1 {
                self.multipliers[solver.row_at(k)] = self.general[k] - jaw_force * unit[k];
            }
        } else {
            let pairs = self.general.iter().zip(unit);
            for (multiplier, (g, u)) in self.multipliers.iter_mut().zip(pairs) {
                *multiplier = g - jaw_force * u;
            }
        }
        // Every force on every part, at its point.
        self.sums.copy_from_slice(&self.loads);
        let frame = &linkage.jaws[jaw];
        let f = [axis[0] * jaw_force, axis[1] * jaw_force];
        let on = pose.place(frame.on);
        add(
            &mut self.sums[frame.on.body],
            pose.frames[frame.on.body].origin,
            on,
            f,
        );
        add(
            &mut self.sums[frame.against.body],
            pose.frames[frame.against.body].origin,
            on,
            [-f[0], -f[1]],
        );
        self.add_joints(linkage, pose);
        gather(linkage, pose, &mut self.sums, &mut self.general);
        self.read_joints(linkage, jaw_force.abs());
    }

    /// Loads of the joints that follow from given forces of the closure equations alone.
    pub(super) fn set_joints(&mut self, linkage: &Linkage, pose: &Pose, multipliers: &[f64]) {
        self.clear();
        self.multipliers.copy_from_slice(multipliers);
        self.sums.fill(Wrench::default());
        self.add_joints(linkage, pose);
        gather(linkage, pose, &mut self.sums, &mut self.general);
        self.read_joints(linkage, 0.0);
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

    /// Joint forces and the residual, after all forces have been gathered.
    #[inline]
    fn read_joints(&mut self, linkage: &Linkage, jaw_force: f64) {
        let mut greatest = jaw_force;
        for &k in &linkage.hung {
            self.load[k.index()] = linkage.joints[k].hung_load(&self.sums);
        }
        for load in &self.load[..linkage.pins] {
            greatest = greatest.max(load[0].abs()).max(load[1].abs());
        }
        for load in &self.loads {
            greatest = greatest.max(load.force[0].abs()).max(load.force[1].abs());
        }
        let left = self.general[..linkage.placing]
            .iter()
            .fold(0.0_f64, |worst, g| worst.max(g.abs()));
        self.residual = if greatest > 0.0 {
            left / (linkage.size * greatest)
        } else {
            0.0
        };
    }
}

/// Adds what it takes to the loads of a balance.
pub(super) struct Loads<'a> {
    pub balance: &'a mut Balance,
    pub linkage: &'a Linkage,
    pub pose: &'a Pose,
}

impl Take for Loads<'_> {
    #[inline]
    fn force(&mut self, body: PartId, _arm: [f64; 2], place: [f64; 2], force: [f64; 2]) {
        self.balance
            .add_force(self.linkage, self.pose, body, place, force);
    }

    #[inline]
    fn couple(&mut self, body: PartId, moment: f64) {
        self.balance.add_moment(self.linkage, body, moment);
    }
}

#[inline]
fn add(sum: &mut Wrench, entry: [f64; 2], place: [f64; 2], force: [f64; 2]) {
    sum.push(minus(place, entry), force);
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
