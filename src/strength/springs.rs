//! Springs of wire over a stroke: how near to their strength, and whether they have room.

use super::formulas::Formula;
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
            (SpringCheckKind::Steady, Stress::Shear) => Formula {
                check: "steady load",
                text: "tau = K_s 8 F D / (pi d^3), K_s = 1 + 0.5 / C",
                source: "Shigley, eq. 10-3 and table 10-7",
            },
            (SpringCheckKind::Steady, Stress::Bending) => Formula {
                check: "steady load",
                text: "sigma = K_i 32 M / (pi d^3), K_i = (4 C^2 - C - 1) / (4 C (C - 1))",
                source: "Shigley, eq. 10-43, 10-44 and 10-57",
            },
            (SpringCheckKind::Hook, _) => Formula {
                check: "steady load, at the hooks",
                text: "sigma = 32 F r / (pi d^3) r / (r - d / 2), r = D / 2",
                source: "Jindal, Machine Design, ch. 8; limit: Shigley, table 10-7",
            },
            (SpringCheckKind::Repeated(_), Stress::Shear) => Formula {
                check: "repeated load",
                text: "n = S / ((S - R / 2) / (R / 2) tau_a + tau_m), tau_a with K_W = (4 C - 1) / (4 C - 4) + 0.615 / C, \
                       tau_m with K_s, R from zero to most, S steady",
                source: "Bhandari, sec. 10.9; limit: Shigley, table 10-8 (from memory)",
            },
            (SpringCheckKind::Repeated(_), Stress::Bending) => Formula {
                check: "repeated load",
                text: "n = S / ((S - R / 2) / (R / 2) sigma_a + sigma_m), both with K_i, R from zero to most, S steady",
                source: "Bhandari, sec. 10.9; limit: Shigley, table 10-8",
            },
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
            coil.steady_stress(most),
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
mod tests {
    use super::*;
    use crate::coils::{Seats, Wire};
    use crate::model::{Across, Acts, Made, PartId, SpringEnds, SpringSet};

    fn spring(form: Form, wire: f64, coil: f64, turns: f64, cycles: Option<f64>) -> Spring {
        Spring {
            name: None,
            ends: SpringEnds::Pin {
                first: PartId::FIRST,
                second: PartId::new(1),
            },
            made: Made::Wound(Wound {
                wire,
                across: Across::Mean(coil),
                turns,
                form,
                of: Wire::Music,
                modulus: None,
                ultimate: Some(2000.0),
                cycles,
            }),
            set: SpringSet::Free(0.0),
            acts: Acts::Both,
        }
    }

    /// A spring that stands at `low` and `high`, open at `high`.
    fn travel(rate: f64, free: f64, low: f64, high: f64) -> SpringTravel {
        let at = |at: f64| SpringAt {
            state: SpringState {
                at,
                pull: rate * (at - free),
                free,
            },
            gap: at,
        };
        SpringTravel {
            open: at(high),
            low: at(low),
            high: at(high),
        }
    }

    fn near(ours: f64, hand: f64) {
        assert!((ours - hand).abs() <= 1e-9 * hand.abs(), "{ours} {hand}");
    }

    fn helical(guide: Option<Guide>) -> Form {
        Form::Helical {
            ends: CoilEnds::Ground,
            seats: Seats::Flat,
            guide,
        }
    }

    /// By hand: d 1, D 10, n 10 of music wire: 79300 / 80000 N/mm; free 40, from 35 to 20 mm: 4.956 to 19.825 N. K_s 1.05,
    /// 8 F D / (pi d^3) = 504.8 MPa: 530.1 of 0.45 · 2000 = 900. Solid 12 mm, L/D 4: it cannot buckle.
    #[test]
    fn a_spring_that_pushes() {
        let one = spring(helical(None), 1.0, 10.0, 10.0, Some(1e6));
        let rate = 79.3e3 / 80e3;
        near(one.rate(), rate);
        let found = judge_spring(&one, &travel(rate, 40.0, 20.0, 35.0)).unwrap();
        near(found.loads[0], 5.0 * rate);
        near(found.loads[1], 20.0 * rate);
        let twist = 80.0 / std::f64::consts::PI;
        near(found.checks[0].stress, 1.05 * twist * 20.0 * rate);
        near(found.checks[0].factor, 900.0 / (1.05 * twist * 20.0 * rate));
        // 1e6 times from zero to 0.33 · 2000 = 660, at rest 900: slope (900 - 330) / 330.
        let wahl = 39.0 / 36.0 + 0.0615;
        let (amplitude, mean) = (wahl * twist * 7.5 * rate, 1.05 * twist * 12.5 * rate);
        near(
            found.checks[1].factor,
            900.0 / (570.0 / 330.0 * amplitude + mean),
        );
        assert_eq!((found.solid, found.buckles_at), (Some(12.0), None));
        assert_eq!((found.shortest, found.loose), (Some(20.0), false));
        assert_eq!(found.faults, []);
    }

    #[test]
    fn a_spring_without_room() {
        let rate = 79.3e3 / 80e3;
        let faults = |guide, travel: SpringTravel| {
            let one = spring(helical(guide), 1.0, 10.0, 10.0, None);
            judge_spring(&one, &travel).unwrap().faults
        };
        // Solid at 12 mm, and twisted too far by then.
        let shut = faults(None, travel(rate, 48.0, 10.0, 45.0));
        assert!(
            matches!(shut[..], [SpringFault::Overstressed(_), SpringFault::Solid(by)] if by == 2.0)
        );
        // Ten times as long as wide it buckles at some length; in a bore it does not.
        let long = travel(rate, 100.0, 90.0, 98.0);
        assert_eq!(faults(None, long), []);
        let long = travel(rate, 100.0, 75.0, 98.0);
        assert!(
            matches!(faults(None, long)[..], [SpringFault::Buckles(at)] if at > 75.0 && at < 90.0)
        );
        assert_eq!(faults(Some(Guide::Bore(12.5)), long), []);
        // 11 mm outside at rest, a little more when shut.
        assert!(
            matches!(faults(Some(Guide::Bore(11.0)), long)[..], [SpringFault::Jams(by)] if by > 0.0 && by < 1.0)
        );
        assert!(
            matches!(faults(Some(Guide::Pin(9.25)), long)[..], [SpringFault::Jams(by)] if by == 0.25)
        );
    }

    /// A spring that pulls from 30 to 50 mm, free 25, has its worst where it is longest, and hooks.
    #[test]
    fn a_spring_that_pulls() {
        let form = Form::Helical {
            ends: CoilEnds::Hooks,
            seats: Seats::Flat,
            guide: None,
        };
        let one = spring(form, 1.0, 10.0, 10.0, None);
        let rate = one.rate();
        let found = judge_spring(&one, &travel(rate, 25.0, 30.0, 50.0)).unwrap();
        near(found.loads[1], 25.0 * rate);
        assert_eq!(found.worst.gap, 50.0);
        let hook = 32.0 * 5.0 / std::f64::consts::PI * 5.0 / 4.5;
        near(found.checks[1].factor, 1500.0 / (hook * 25.0 * rate));
        // 11 wires and two hooks of 9 mm are longer than the 25 mm that it should have.
        assert_eq!((found.solid, found.buckles_at), (Some(29.0), None));
        assert_eq!(found.faults[1..], [SpringFault::Solid(4.0)]);
    }

    /// Jindal, example 8-9, as a spring of a tool: its moment is reached where all of it is turned by the .327 and .0225
    /// turns that are printed, and 0.23 mm are left on the mandrel.
    #[test]
    fn a_spring_on_a_mandrel() {
        let form = Form::Torsion {
            legs: [20.0, 20.0],
            mandrel: Some(11.5),
        };
        let mut one = spring(form, 1.5, 14.5, 4.25, Some(1e5));
        let Made::Wound(wound) = &mut one.made else {
            panic!();
        };
        wound.modulus = Some(200e3);
        wound.ultimate = Some(2211.0 / 1.5f64.powf(0.145));
        let rate = one.rate();
        let turned = std::f64::consts::TAU * (0.326_86 + 0.022_51);
        let found = judge_spring(&one, &travel(rate, 0.0, 0.2, turned)).unwrap();
        assert!((found.loads[1] - 497.248).abs() < 0.02, "{found:?}");
        assert!((found.checks[0].factor - 1.0).abs() < 1e-4, "{found:?}");
        assert!(
            (found.clearance.unwrap() - 0.2322).abs() < 1e-4,
            "{found:?}"
        );
        // Turned past its slack angle and back it is bent both ways.
        let both = judge_spring(&one, &travel(rate, 0.0, -1.0, 1.0)).unwrap();
        assert_eq!(both.loads[0], 0.0);
        let coil = one.wound().unwrap().torsion().unwrap();
        let (half, steady) = (0.5 * 0.51, 0.78);
        let hand = steady * found.strength / ((steady - half) / half * coil.stress(rate));
        near(both.checks[1].factor, hand);
    }

    #[test]
    fn nothing_without_a_load_or_a_strength() {
        let mut one = spring(helical(None), 1.0, 10.0, 10.0, Some(1e5));
        let slack = travel(0.0, 30.0, 31.0, 40.0);
        let found = judge_spring(&one, &slack).unwrap();
        assert!(found.loose && found.checks.is_empty() && found.factor().is_none());
        let Made::Wound(wound) = &mut one.made else {
            panic!();
        };
        (wound.ultimate, wound.wire) = (None, 50.0);
        assert_eq!(judge_spring(&one, &slack), None);
        one.made = Made::Rate(2.0);
        assert_eq!(judge_spring(&one, &slack), None);
    }
}
