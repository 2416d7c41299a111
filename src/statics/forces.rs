//! All forces at one position: every grip, every jaw.

use super::balance::Balance;
use super::rates::Rates;
use crate::mechanism::Linkage;
use crate::motion::{Solver, Stance};

/// What is asked at every position.
#[derive(Debug, Clone)]
pub struct Ask {
    /// Hand force that the pin loads are for, N.
    pub hand_force: f64,
    /// Side of a square push at each grip.
    pub sides: Vec<f64>,
}

/// Forces at one position, on storage that is reused.
#[derive(Debug, Clone)]
pub struct Forces {
    rates: Rates,
    balance: Balance,
    axes: Vec<[f64; 2]>,
    closing: Vec<f64>,
    /// For each jaw: it stands still here.
    pub toggle: Vec<bool>,
    /// For each jaw: its gap, mm.
    pub gap: Vec<f64>,
    /// Jaw force per hand force, without friction and springs: grips × jaws. NaN at a toggle.
    pub ratio: Vec<f64>,
    /// Pin force on the later part at the hand force asked: grips × joints, first jaw.
    pub pins: Vec<[f64; 2]>,
    /// Greatest difference of the two routes so far, relative.
    pub virtual_work: f64,
    /// Greatest residual of any part so far, relative.
    pub free_body: f64,
}

impl Forces {
    /// Storage for `linkage`.
    #[must_use]
    pub fn new(linkage: &Linkage) -> Self {
        let (jaws, grips, joints) = (linkage.jaws.len(), linkage.hand.held, linkage.joints.len());
        Self {
            rates: Rates::new(linkage),
            balance: Balance::new(linkage),
            axes: vec![[1.0, 0.0]; jaws],
            closing: vec![0.0; jaws],
            toggle: vec![false; jaws],
            gap: vec![0.0; jaws],
            ratio: vec![f64::NAN; grips * jaws],
            pins: vec![[f64::NAN; 2]; grips * joints],
            virtual_work: 0.0,
            free_body: 0.0,
        }
    }

    /// Finds all forces where `solver` stands. Nothing is allocated.
    #[inline]
    pub fn solve(&mut self, solver: &Solver, stance: Stance, ask: &Ask) {
        let (linkage, pose) = (solver.linkage, &solver.pose);
        let (jaws, joints) = (linkage.jaws.len(), linkage.joints.len());
        self.rates.read(solver, stance.sense);
        for jaw in 0..jaws {
            let (axis, rate) = self.rates.jaw(linkage, pose, jaw);
            self.axes[jaw] = axis;
            self.closing[jaw] = rate;
            self.toggle[jaw] = self.rates.stands_still(linkage, rate);
            self.gap[jaw] = linkage.gap(pose, &linkage.jaws[jaw]);
        }
        self.balance.stand(solver, &self.axes);
        self.ratio.fill(f64::NAN);
        self.pins.fill([f64::NAN; 2]);
        for grip in 0..linkage.hand.held {
            let power = self.rates.hand_power(linkage, pose, grip, ask.sides[grip]);
            self.balance.clear();
            self.balance
                .add_hand(linkage, pose, grip, ask.sides[grip], ask.hand_force);
            for jaw in 0..jaws {
                if self.toggle[jaw] {
                    continue;
                }
                let ratio = power / self.closing[jaw];
                let jaw_force = self.balance.solve(solver, jaw, self.axes[jaw]);
                self.ratio[grip * jaws + jaw] = ratio;
                self.note(ratio * ask.hand_force, jaw_force, ask.hand_force);
                if jaw == 0 {
                    self.pins[grip * joints..(grip + 1) * joints]
                        .copy_from_slice(&self.balance.joint_force);
                }
            }
        }
    }

    /// Keeps the worst disagreement of the two routes. Where the jaw force passes through zero
    /// (a dead position), a tenth of the hand force is the measure.
    #[inline]
    fn note(&mut self, virtual_work: f64, free_body: f64, hand_force: f64) {
        let scale = virtual_work.abs().max(0.1 * hand_force);
        self.virtual_work = self
            .virtual_work
            .max((virtual_work - free_body).abs() / scale);
        self.free_body = self.free_body.max(self.balance.residual);
    }
}
