//! Springs of wire over a stroke: how near to their strength, and whether they have room.

use super::formulas::Formula;
use super::formulas::spring::{
    HOOK, REPEATED_BENDING, REPEATED_SHEAR, STEADY_BENDING, STEADY_SHEAR,
};
use crate::coils::{CoilEnds, Helical, Stress, Swing, Torsion, repeated_factor};
use crate::model::{Form, Guide, Spring, Wound};
use crate::statics::SpringState;

/// A spring at one position of the stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringAt {
    /// What it is there.
    pub state: SpringState,
    /// Gap of the first jaw, mm.
    pub gap: f64,
}

/// Where a spring goes on a stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringTravel {
    /// At open.
    pub open: SpringAt,
    /// Where it is shortest, or turned furthest clockwise.
    pub low: SpringAt,
    /// Where it is longest, or turned furthest counter-clockwise.
    pub high: SpringAt,
}

/// What is found of a spring of wire. Lengths in mm, stresses in MPa; loads in N, or N mm about a pin.
#[derive(Debug, Clone, PartialEq)]
pub struct SpringFound {
    /// N/mm, or N mm/rad.
    pub rate: f64,
    /// Mean diameter over wire.
    pub index: f64,
    /// Tensile strength of the wire.
    pub strength: f64,
    /// Least and greatest load over the stroke.
    pub loads: [f64; 2],
    /// Where the load is greatest.
    pub worst: SpringAt,
    /// The stress there at the inside of the coil, curvature counted.
    pub stress: f64,
    /// How near to its limits: none where there is no load.
    pub checks: Vec<SpringCheck>,
    /// Whether it lies loose at open.
    pub loose: bool,
    /// Its length with all coils touching, of one between two points.
    pub solid: Option<f64>,
    /// The length below which it buckles, of one that pushes and is not guided; `None`: it does not.
    pub buckles_at: Option<f64>,
    /// Its shortest length on the stroke, of one between two points.
    pub shortest: Option<f64>,
    /// What is left in its guide on the diameter, or on its mandrel to each side where it is wound up most.
    pub clearance: Option<f64>,
    /// What cannot be.
    pub faults: Vec<SpringFault>,
}

/// A stress against its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringCheck {
    /// Which.
    pub kind: SpringCheckKind,
    /// How the wire is stressed.
    pub how: Stress,
    /// Stress.
    pub stress: f64,
    /// What is allowed; of a load that comes and goes, at the same mean stress over amplitude.
    pub allowable: f64,
    /// Share of the tensile strength that the limit is: of a load that comes and goes, from zero to most and back.
    pub share: f64,
    /// Allowable over stress.
    pub factor: f64,
}

/// What a stress is held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpringCheckKind {
    /// A steady load.
    Steady,
    /// A steady load at the hooks.
    Hook,
    /// A load that comes and goes so many times.
    Repeated(f64),
}

/// What cannot be with a spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpringFault {
    /// A stress is above its limit.
    Overstressed(SpringCheck),
    /// It would have to be shorter by so much than it can be: on the stroke, or with hooks by itself.
    Solid(f64),
    /// It buckles at this length and has to be shorter.
    Buckles(f64),
    /// It does not fit its guide, by so much on the diameter.
    Jams(f64),
    /// It closes on its mandrel, by so much to each side.
    Grips(f64),
}

impl SpringCheck {
    /// The formula, and where its limit comes from.
    #[must_use]
    pub fn formula(&self) -> Formula {
        match (self.kind, self.how) {
            (SpringCheckKind::Steady, Stress::Shear) => STEADY_SHEAR,
            (SpringCheckKind::Steady, Stress::Bending) => STEADY_BENDING,
            (SpringCheckKind::Hook, _) => HOOK,
            (SpringCheckKind::Repeated(_), Stress::Shear) => REPEATED_SHEAR,
            (SpringCheckKind::Repeated(_), Stress::Bending) => REPEATED_BENDING,
        }
    }
}

impl SpringFound {
    /// The least of its factors.
    #[must_use]
    pub fn factor(&self) -> Option<f64> {
        self.checks
            .iter()
            .map(|check| check.factor)
            .reduce(f64::min)
    }
}

/// What comes of a spring on its way; `None` for one whose rate is stated, or of wire whose strength is not known.
#[must_use]
pub fn judge_spring(spring: &Spring, travel: &SpringTravel) -> Option<SpringFound> {
    let wound = spring.wound()?;
    let strength = wound.strength()?;
    let one = One {
        wound,
        strength,
        travel,
    };
    match wound.form {
        Form::Helical { .. } => Some(one.helical(&wound.helical()?)),
        Form::Torsion { mandrel, .. } => Some(one.torsion(&wound.torsion()?, mandrel)),
    }
}

struct One<'a> {
    wound: &'a Wound,
    strength: f64,
    travel: &'a SpringTravel,
}

impl One<'_> {
    fn helical(&self, coil: &Helical) -> SpringFound {
        let SpringTravel { open, low, high } = *self.travel;
        let pulls = coil.ends == CoilEnds::Hooks;
        let (worst, least) = if pulls { (high, low) } else { (low, high) };
        let loads = [least.state.pull.abs(), worst.state.pull.abs()];
        let mut checks = Vec::new();
        let most = loads[1];
        checks.extend(self.steady(
            (SpringCheckKind::Steady, Stress::Shear),
            coil.stress(most),
            self.wound.of.steady_share(Stress::Shear),
        ));
        if pulls {
            let share = self.wound.of.hook_share();
            let hook = (SpringCheckKind::Hook, Stress::Bending);
            checks.extend(self.steady(hook, coil.hook_stress(most), share));
        }
        let swing = Swing {
            amplitude: coil.stress(0.5 * (loads[1] - loads[0])),
            mean: coil.steady_stress(0.5 * (loads[1] + loads[0])),
        };
        checks.extend(self.repeated(Stress::Shear, swing));
        let (free, shortest) = (worst.state.free, low.state.at);
        let mut found = SpringFound {
            rate: self.wound.rate(),
            index: coil.index(),
            strength: self.strength,
            loads,
            worst,
            stress: coil.stress(most),
            loose: open.state.pull == 0.0,
            solid: Some(coil.solid()),
            buckles_at: None,
            shortest: Some(shortest),
            clearance: None,
            faults: overstressed(&checks),
            checks,
        };
        if let Form::Helical { seats, guide, .. } = self.wound.form {
            found.clearance = guide.map(|guide| match guide {
                Guide::Bore(bore) if pulls => bore - coil.coil - coil.wire,
                Guide::Bore(bore) => bore - coil.widest(free),
                Guide::Pin(pin) => coil.coil - coil.wire - pin,
            });
            if guide.is_none() && !pulls {
                let by = coil.buckles(free, seats, self.wound.moduli());
                // Where it is solid before it is not free to buckle.
                let at = by.map(|by| free - by).filter(|at| *at > coil.solid());
                found.buckles_at = at;
            }
        }
        let least = if pulls { free } else { shortest };
        let short = found.solid.map(|solid| solid - least);
        found
            .faults
            .extend(short.filter(|by| *by > 0.0).map(SpringFault::Solid));
        let bent = found.buckles_at.filter(|at| shortest < *at);
        found.faults.extend(bent.map(SpringFault::Buckles));
        let tight = found.clearance.filter(|left| *left < 0.0);
        found
            .faults
            .extend(tight.map(|left| SpringFault::Jams(-left)));
        found
    }

    fn torsion(&self, coil: &Torsion, mandrel: Option<f64>) -> SpringFound {
        let SpringTravel { open, low, high } = *self.travel;
        let size = |at: SpringAt| at.state.pull.abs();
        let worst = if size(low) > size(high) { low } else { high };
        let crosses = low.state.pull * high.state.pull <= 0.0;
        let least = if crosses {
            0.0
        } else {
            size(low).min(size(high))
        };
        let loads = [least, size(worst)];
        let mut checks = Vec::new();
        checks.extend(self.steady(
            (SpringCheckKind::Steady, Stress::Bending),
            coil.stress(loads[1]),
            self.wound.of.steady_share(Stress::Bending),
        ));
        // Where it is turned past its slack angle, it is bent one way and then the other.
        let from = match crosses {
            true => -size(low).min(size(high)),
            false => loads[0],
        };
        let swing = Swing {
            amplitude: coil.stress(0.5 * (loads[1] - from)),
            mean: coil.stress(0.5 * (loads[1] + from)),
        };
        checks.extend(self.repeated(Stress::Bending, swing));
        let [modulus, _] = self.wound.moduli();
        let inside = coil.wound_up(loads[1], modulus) - coil.wire;
        let clearance = mandrel.map(|mandrel| 0.5 * (inside - mandrel));
        let mut faults = overstressed(&checks);
        let tight = clearance.filter(|left| *left < 0.0);
        faults.extend(tight.map(|left| SpringFault::Grips(-left)));
        SpringFound {
            rate: self.wound.rate(),
            index: coil.index(),
            strength: self.strength,
            loads,
            worst,
            stress: coil.stress(loads[1]),
            checks,
            loose: crosses && open.state.pull == 0.0,
            solid: None,
            buckles_at: None,
            shortest: None,
            clearance,
            faults,
        }
    }

    fn steady(
        &self,
        (kind, how): (SpringCheckKind, Stress),
        stress: f64,
        share: f64,
    ) -> Option<SpringCheck> {
        let allowable = share * self.strength;
        (stress > 0.0).then(|| SpringCheck {
            kind,
            how,
            stress,
            allowable,
            share,
            factor: allowable / stress,
        })
    }

    /// Against the line from what the wire stands from zero to most to what it stands at rest. The stress told is the
    /// greatest of the cycle as the line sees it, mean and amplitude together.
    fn repeated(&self, stress: Stress, swing: Swing) -> Option<SpringCheck> {
        let cycles = self.wound.cycles?;
        let share = self.wound.of.repeated_share(stress, cycles)?;
        let steady = self.wound.of.steady_share(stress) * self.strength;
        let factor = repeated_factor(swing, share * self.strength, steady)?;
        let most = swing.mean + swing.amplitude;
        Some(SpringCheck {
            kind: SpringCheckKind::Repeated(cycles),
            how: stress,
            stress: most,
            allowable: factor * most,
            share,
            factor,
        })
    }
}

fn overstressed(checks: &[SpringCheck]) -> Vec<SpringFault> {
    let over = checks.iter().filter(|check| check.factor < 1.0);
    over.map(|check| SpringFault::Overstressed(*check))
        .collect()
}

#[cfg(test)]
mod tests;
