//! Torsion springs: the wire is bent.

use std::f64::consts::{PI, TAU};

/// A torsion spring of round wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Torsion {
    /// Diameter of the wire, mm.
    pub wire: f64,
    /// Mean diameter of the coils, mm.
    pub coil: f64,
    /// Coils of the body.
    pub turns: f64,
    /// Lengths of the two legs, mm.
    pub legs: [f64; 2],
}

impl Torsion {
    /// Mean diameter over that of the wire, C.
    #[must_use]
    pub fn index(&self) -> f64 {
        self.coil / self.wire
    }

    /// Coils that bend as much as the legs do: (l1 + l2) / (3 pi D).
    ///
    /// Source: Shigley, eq. 10-48; Jindal, example 8-9.
    #[must_use]
    pub fn leg_turns(&self) -> f64 {
        (self.legs[0] + self.legs[1]) / (3.0 * PI * self.coil)
    }

    /// N mm per rad, with the modulus of elasticity in MPa: E d^4 / (10.8 D N) per turn, legs counted.
    ///
    /// Source: Shigley, eq. 10-50 and 10-51.
    #[must_use]
    pub fn rate(&self, modulus: f64) -> f64 {
        self.per_turn(modulus, self.turns + self.leg_turns()) / TAU
    }

    fn per_turn(&self, modulus: f64, turns: f64) -> f64 {
        modulus * self.wire.powi(4) / (10.8 * self.coil * turns)
    }

    /// Bending stress at the inside of the coil, MPa, under so many N mm: K_i 32 M / (pi d^3), with
    /// K_i = (4 C² - C - 1) / (4 C (C - 1)).
    ///
    /// Source: Wahl, ch. 12; Shigley, eq. 10-43 and 10-44.
    #[must_use]
    pub fn stress(&self, moment: f64) -> f64 {
        let c = self.index();
        let ki = (4.0 * c * c - c - 1.0) / (4.0 * c * (c - 1.0));
        ki * 32.0 * moment / (PI * self.wire.powi(3))
    }

    /// Mean diameter when a moment (N mm) winds it up, mm: N D / (N + turns of the body). The legs bend, and take no
    /// part in this.
    ///
    /// Source: Shigley, eq. 10-52; Jindal, example 8-9.
    #[must_use]
    pub fn wound_up(&self, moment: f64, modulus: f64) -> f64 {
        let more = moment / self.per_turn(modulus, self.turns);
        self.turns * self.coil / (self.turns + more)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(ours: f64, theirs: f64, within: f64) {
        assert!((ours - theirs).abs() <= within, "{ours} {theirs}");
    }

    /// Jindal, example 8-9, p. 230: d 1.5, outside 16, 4.25 turns, legs 20 and 20, mandrel 11.5, E 200e3,
    /// Sut = 2211 / d^0.145, 0.78 of it allowed. Printed: 497.25 N mm, .327 turns of the body, .293 turns for the legs
    /// and .0225 turns of them, coil 13.46, clearance .75 and then .23.
    #[test]
    fn a_spring_wound_up_on_its_mandrel() {
        let spring = Torsion {
            wire: 1.5,
            coil: 14.5,
            turns: 4.25,
            legs: [20.0, 20.0],
        };
        let allowed = 0.78 * 2211.0 / 1.5f64.powf(0.145);
        let moment = allowed / spring.stress(1.0);
        near(moment, 497.248, 5e-4);
        near(moment / spring.per_turn(2e5, 4.25), 0.326_86, 5e-6);
        near(spring.leg_turns(), 0.292_70, 5e-6);
        let both = moment / (spring.rate(2e5) * TAU);
        near(both - 0.326_86, 0.022_51, 1e-5);
        let coil = spring.wound_up(moment, 2e5);
        near(coil, 13.4645, 5e-5);
        near(0.5 * (spring.coil - 1.5 - 11.5), 0.75, 1e-12);
        near(0.5 * (coil - 1.5 - 11.5), 0.2322, 5e-5);
    }

    /// acxesspring.com, page on torsion springs, in lbf and in: wire .035, D .465, 3 coils, E 30e6. Printed: 2.988 in lbf
    /// per turn.
    #[test]
    fn the_rate_per_turn() {
        let spring = Torsion {
            wire: 0.035,
            coil: 0.465,
            turns: 3.0,
            legs: [0.0, 0.0],
        };
        near(spring.rate(30e6) * TAU, 2.988_10, 5e-6);
    }
}
