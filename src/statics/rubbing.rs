//! The contact forces that friction itself depends on.
//!
//! The force at each contact is affine in the friction at all of them: with the frictionless
//! answer a and the answers b to a friction of unit size at each contact, x is wanted with
//! x_k = |a_k + Σ x_i b_ki|. Newton on that residual (semismooth, since a norm is not smooth at
//! zero) finds it in a few steps.
//!
//! Strong friction may leave several solutions, or none. There is exactly one, and it is the one
//! wanted, where the right side is a contraction (S. Banach's fixed-point theorem), which the
//! spectral radius of the |b_ki| tells. Elsewhere the one is meant that the frictionless answer
//! becomes as all friction grows in proportion from none. It is followed bit by bit; it ends, and
//! the tool locks itself, where it folds back: the determinant of the Newton matrix, one without
//! friction, passes through zero there. Common practice in following solutions (E. L. Allgower and
//! K. Georg, *Numerical Continuation Methods*, ch. 2).

use super::friction::Contact;
use crate::numeric::lu::Lu;

/// Answers to load cases, one column each: jaw force, then the load of each
/// joint that rubs, two numbers.
#[derive(Debug, Clone)]
pub(super) struct Columns {
    stride: usize,
    data: Vec<f64>,
}

impl Columns {
    /// Room for `count` columns with `contacts` contacts.
    #[must_use]
    pub(super) fn new(count: usize, contacts: usize) -> Self {
        let stride = 1 + 2 * contacts;
        Self {
            stride,
            data: vec![0.0; count * stride],
        }
    }

    /// Column `k`.
    #[inline]
    #[must_use]
    pub(super) fn get(&self, k: usize) -> &[f64] {
        &self.data[k * self.stride..(k + 1) * self.stride]
    }

    /// All columns from `k` on.
    #[inline]
    #[must_use]
    pub(super) fn from(&self, k: usize) -> &[f64] {
        &self.data[k * self.stride..]
    }

    /// Column `k`, to be written.
    #[inline]
    pub(super) fn get_mut(&mut self, k: usize) -> &mut [f64] {
        &mut self.data[k * self.stride..(k + 1) * self.stride]
    }
}

/// Solver of the contact forces, on storage that is reused.
#[derive(Debug, Clone)]
pub(super) struct Rubbing {
    /// Contact forces found, N.
    pub(super) sizes: Vec<f64>,
    /// Signs of the rubbing, to be filled before.
    pub(super) senses: Vec<f64>,
    base: Vec<f64>,
    now: Vec<f64>,
    trial: Vec<f64>,
    step: Vec<f64>,
    weights: Vec<f64>,
    drift: Vec<f64>,
    lu: Lu,
    /// Newton steps taken, with or without a fresh matrix, and steps of following: what friction costs.
    pub(super) newton_steps: u64,
}

/// Most Newton steps where any start will do, and where the solution beside the last is wanted.
const STEPS: usize = 40;
const STEPS_BESIDE: usize = 10;

/// A Newton matrix is used again as long as each step leaves no more than this of the residual.
const GAINS: f64 = 0.1;

/// Rounds in which the spectral radius is closed in on, and what it must be below. Near 1 the
/// few rounds tell nothing, and following costs little.
const ROUNDS: usize = 3;
const CONTRACTS: f64 = 0.95;

/// Following: first and largest step of the share of friction, the least before giving up, and
/// the most that the contact forces may change in one step, over the largest of them.
const FIRST_STEP: f64 = 0.05;
const LONGEST_STEP: f64 = 0.1;
const LEAST_STEP: f64 = 1e-7;
const LONGEST_MOVE: f64 = 0.3;

/// Most steps of following. A few tens are usual; an equilibrium that cannot be followed in so many
/// counts as none.
const MOST_STEPS: usize = 400;

/// A contact that pulls with less than this, over the greatest force, only touches.
const NO_PULL: f64 = 1e-9;

/// Relative change of the contact forces at which they count as found.
const FOUND: f64 = 1e-13;

impl Rubbing {
    /// Storage for `contacts` contacts.
    #[must_use]
    pub(super) fn new(contacts: usize) -> Self {
        let stride = 1 + 2 * contacts;
        Self {
            sizes: vec![0.0; contacts],
            senses: vec![0.0; contacts],
            base: vec![0.0; stride],
            now: vec![0.0; stride],
            trial: vec![0.0; contacts],
            step: vec![0.0; contacts],
            weights: vec![0.0; contacts],
            drift: vec![0.0; contacts],
            lu: Lu::new(contacts),
            newton_steps: 0,
        }
    }

    /// The answer without friction, to be filled before [`Rubbing::solve`].
    #[inline]
    pub(super) fn base(&mut self) -> &mut [f64] {
        &mut self.base
    }

    /// Finds the contact forces; `columns`: the answer to unit friction at each contact. The first
    /// number of base and columns together (the jaw force, or the hand force) must stay positive.
    /// `false`: the tool locks itself.
    #[inline]
    pub(super) fn solve(&mut self, contacts: &[Contact], columns: &[f64]) -> bool {
        self.now.copy_from_slice(&self.base);
        for (k, contact) in contacts.iter().enumerate() {
            self.sizes[k] = contact_force(*contact, &self.now, k, self.senses[k]);
        }
        if self.contracts(contacts, columns) && self.newton(contacts, columns, 1.0, STEPS) {
            return self.now[0] > 0.0;
        }
        self.grow(contacts, columns, |now| now[0] > 0.0)
    }

    /// Finds the contact forces by turning friction up from none, `keeps` holding all the way.
    pub(super) fn grow(
        &mut self,
        contacts: &[Contact],
        columns: &[f64],
        keeps: impl Fn(&[f64]) -> bool,
    ) -> bool {
        self.now.copy_from_slice(&self.base);
        for (k, contact) in contacts.iter().enumerate() {
            self.sizes[k] = contact_force(*contact, &self.now, k, self.senses[k]);
        }
        let (mut share, mut step) = (0.0_f64, FIRST_STEP);
        if !self.factor(contacts, columns, share) {
            return false;
        }
        self.find_drift(contacts, columns);
        for _ in 0..MOST_STEPS {
            let next = (share + step).min(1.0);
            self.trial.copy_from_slice(&self.sizes);
            for (size, drift) in self.sizes.iter_mut().zip(&self.drift) {
                *size += (next - share) * drift;
            }
            if self.newton(contacts, columns, next, STEPS_BESIDE)
                && self.beside()
                && self.factor(contacts, columns, next)
                && self.lu.determinant_positive()
                && keeps(&self.now)
            {
                if next == 1.0 {
                    return true;
                }
                share = next;
                step = (1.5 * step).min(LONGEST_STEP);
                self.find_drift(contacts, columns);
            } else {
                self.sizes.copy_from_slice(&self.trial);
                step *= 0.5;
                if step < LEAST_STEP {
                    return false;
                }
            }
        }
        false
    }

    /// How the contact forces change with the share of friction, where the Newton matrix has just
    /// been factored.
    fn find_drift(&mut self, contacts: &[Contact], columns: &[f64]) {
        let stride = self.base.len();
        for (k, contact) in contacts.iter().enumerate() {
            let slope = contact_slope(*contact, &self.now, k, self.senses[k]);
            let columns = columns.chunks_exact(stride);
            self.drift[k] = (self.sizes.iter().zip(columns))
                .map(|(size, c)| size * (slope[0] * c[1 + 2 * k] + slope[1] * c[2 + 2 * k]))
                .sum();
        }
        self.lu.solve(&mut self.drift);
    }

    /// Whether the contact forces are near those of the step before.
    fn beside(&self) -> bool {
        let (mut most, mut moved) = (0.0_f64, 0.0_f64);
        for (size, before) in self.sizes.iter().zip(&self.trial) {
            most = most.max(size.abs());
            moved = moved.max((size - before).abs());
        }
        moved <= LONGEST_MOVE * most
    }

    /// Whether the contact forces follow from each other by a contraction: for positive weights w,
    /// the spectral radius of the matrix |b_ki| is at most the greatest (|b| w)_k / w_k
    /// (L. Collatz, Math. Z. 48 (1942)), and the better the nearer w is to its eigenvector.
    fn contracts(&mut self, contacts: &[Contact], columns: &[f64]) -> bool {
        let stride = self.base.len();
        self.weights.fill(1.0);
        for _ in 0..ROUNDS {
            let (mut radius, mut most) = (0.0_f64, 0.0_f64);
            for (k, contact) in contacts.iter().enumerate() {
                let columns = columns.chunks_exact(stride);
                let sum: f64 = columns
                    .zip(&self.weights)
                    .map(|(column, weight)| weight * contact_most(*contact, column, k))
                    .sum();
                radius = radius.max(sum / self.weights[k]);
                most = most.max(sum);
                self.step[k] = sum;
            }
            if radius < CONTRACTS {
                return true;
            }
            // A row of zeros would leave no weight at all.
            for (weight, sum) in self.weights.iter_mut().zip(&self.step) {
                *weight = sum + 1e-3 * most;
            }
        }
        false
    }

    /// Whether a contact that only pushes would have to pull, after [`Rubbing::solve`].
    pub(super) fn lifts(&self, contacts: &[Contact]) -> bool {
        let greatest = self.now.iter().fold(0.0_f64, |most, n| most.max(n.abs()));
        let pulls = |k: usize| self.now[1 + 2 * k] < -NO_PULL * greatest;
        (contacts.iter().enumerate()).any(|(k, contact)| contact.rub.lifts && pulls(k))
    }

    /// First number of the sum of base and columns, after [`Rubbing::solve`].
    #[inline]
    #[must_use]
    pub(super) fn total(&self) -> f64 {
        self.now[0]
    }

    /// `now` = base + share × Σ sizes × columns.
    #[inline]
    fn add_up(&mut self, columns: &[f64], share: f64) {
        self.now.copy_from_slice(&self.base);
        let stride = self.base.len();
        for (size, column) in self.sizes.iter().zip(columns.chunks_exact(stride)) {
            let factor = share * size;
            for (now, c) in self.now.iter_mut().zip(column) {
                *now += factor * c;
            }
        }
    }

    /// Newton for x_k = |now_k|.
    fn newton(&mut self, contacts: &[Contact], columns: &[f64], share: f64, steps: usize) -> bool {
        let mut best = f64::INFINITY;
        let mut factored = false;
        for _ in 0..steps {
            self.add_up(columns, share);
            let mut scale = 0.0_f64;
            for (k, contact) in contacts.iter().enumerate() {
                let force = contact_force(*contact, &self.now, k, self.senses[k]);
                self.step[k] = force - self.sizes[k];
                scale = scale.max(force);
            }
            let worst = self.step.iter().fold(0.0_f64, |w, s| w.max(s.abs()));
            if !worst.is_finite() {
                return false;
            }
            // Found, or as near as rounding allows.
            if worst <= FOUND * scale || (worst <= 1e-11 * scale && worst >= 0.5 * best) {
                return true;
            }
            if factored && worst <= GAINS * best {
                self.newton_steps += 1;
            } else {
                if !self.factor(contacts, columns, share) {
                    return false;
                }
                factored = true;
            }
            best = best.min(worst);
            self.lu.solve(&mut self.step);
            for (size, step) in self.sizes.iter_mut().zip(&self.step) {
                *size += step;
            }
        }
        false
    }

    /// Factors the Newton matrix at the contact forces of the last [`Rubbing::add_up`].
    #[inline]
    fn factor(&mut self, contacts: &[Contact], columns: &[f64], share: f64) -> bool {
        self.newton_steps += 1;
        let n = contacts.len();
        let stride = self.base.len();
        let matrix = self.lu.matrix();
        for (k, (contact, row)) in contacts
            .iter()
            .zip(matrix.chunks_exact_mut(n.max(1)))
            .enumerate()
        {
            let slope = contact_slope(*contact, &self.now, k, self.senses[k]);
            for (value, c) in row.iter_mut().zip(columns.chunks_exact(stride)) {
                *value = -share * (slope[0] * c[1 + 2 * k] + slope[1] * c[2 + 2 * k]);
            }
            row[k] += 1.0;
        }
        self.lu.factor()
    }
}

/// Contact force of contact `k` in an answer, N.
#[inline]
fn contact_force(contact: Contact, answer: &[f64], k: usize, sense: f64) -> f64 {
    let load = [answer[1 + 2 * k], answer[2 + 2 * k]];
    contact.rub.force.of(load, sense)
}

/// What an answer changes it by at most.
#[inline]
fn contact_most(contact: Contact, answer: &[f64], k: usize) -> f64 {
    let force = contact.rub.force;
    force.most([answer[1 + 2 * k], answer[2 + 2 * k]])
}

/// Its gradient by the two numbers.
#[inline]
fn contact_slope(contact: Contact, answer: &[f64], k: usize, sense: f64) -> [f64; 2] {
    let load = [answer[1 + 2 * k], answer[2 + 2 * k]];
    contact.rub.force.slope(load, sense)
}
