//! Pins whose load statics alone cannot tell: those that a redundant bar strains.

use super::balance::Balance;
use crate::mechanism::Linkage;
use crate::motion::Solver;
use crate::numeric::rank::rank;

/// For each pin joint, whether some state of self-stress (a set of joint forces in balance without
/// any load, which a redundant closure equation allows) loads it. Asked where `solver` stands.
#[must_use]
pub fn indeterminate_joints(solver: &Solver) -> Vec<bool> {
    let linkage: &Linkage = &solver.linkage;
    let mut flags = vec![false; linkage.pins];
    if !solver.redundant() {
        return flags;
    }
    let (m, n) = (linkage.equations, linkage.coordinates);
    let mut jacobian = vec![0.0; m * n];
    linkage.jacobian(&solver.pose, &mut jacobian);
    let transposed: Vec<f64> = (0..n * m).map(|k| jacobian[(k % m) * n + k / m]).collect();
    let states = rank(&transposed, n, m, 1e-9).null;
    let mut balance = Balance::new(linkage);
    for state in states {
        balance.set_joints(linkage, &solver.pose, &state);
        for (flag, force) in flags.iter_mut().zip(&balance.load) {
            *flag |= force[0].hypot(force[1]) > 1e-7;
        }
    }
    flags
}
