//! Helical springs: the wire is twisted.

use std::f64::consts::PI;

/// A helical spring of round wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Helical {
    /// Diameter of the wire, mm.
    pub wire: f64,
    /// Mean diameter of the coils, mm.
    pub coil: f64,
    /// Active coils.
    pub turns: f64,
    /// What its ends are like.
    pub ends: CoilEnds,
}

/// The ends of a helical spring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoilEnds {
    /// Cut off as wound.
    Plain,
    /// The last coil of each end closed.
    Squared,
    /// Closed and ground flat.
    Ground,
    /// A full loop of the coil's size bent up at each end: it pulls.
    Hooks,
}

/// How the ends of a spring that pushes are held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seats {
    /// Both on flat faces that stay square to the spring.
    Flat,
    /// One on such a face, the other turns.
    OneTurns,
    /// Both turn.
    BothTurn,
}

impl Seats {
    /// The share of the length that counts as that of a column with ends that turn.
    ///
    /// Source: R. G. Budynas and J. K. Nisbett, *Shigley's Mechanical Engineering Design*, table 10-2.
    #[must_use]
    pub fn share(self) -> f64 {
        match self {
            Self::Flat => 0.5,
            Self::OneTurns => 0.707,
            Self::BothTurn => 1.0,
        }
    }
}

impl Helical {
    /// Mean diameter over that of the wire, C.
    #[must_use]
    pub fn index(&self) -> f64 {
        self.coil / self.wire
    }

    /// N/mm, k = G d^4 / (8 D^3 n), with the shear modulus of the wire in MPa.
    ///
    /// Source: Shigley, eq. 10-9; A. M. Wahl, *Mechanical Springs*, ch. 2.
    #[must_use]
    pub fn rate(&self, shear_modulus: f64) -> f64 {
        shear_modulus * self.wire.powi(4) / (8.0 * self.coil.powi(3) * self.turns)
    }

    /// Shear stress at the inside of the coil, MPa, under so many N: K_W 8 F D / (pi d^3), with
    /// K_W = (4C - 1) / (4C - 4) + 0.615 / C. It is what the wire
    /// carries unless it was pressed further than it works (its set removed): steady loads and loads that come and go alike.
    ///
    /// Source: Wahl, ch. 2; Shigley, sec. 10-2.
    #[must_use]
    pub fn stress(&self, force: f64) -> f64 {
        let c = self.index();
        ((4.0 * c - 1.0) / (4.0 * c - 4.0) + 0.615 / c) * self.twist(force)
    }

    /// The same without the curvature of the wire, K_s = 1 + 0.5 / C, which yielding evens out: the mean of a load that
    /// comes and goes.
    ///
    /// Source: Shigley, eq. 10-3; V. B. Bhandari, *Design of Machine Elements*, sec. 10.4.
    #[must_use]
    pub fn steady_stress(&self, force: f64) -> f64 {
        (1.0 + 0.5 / self.index()) * self.twist(force)
    }

    /// 8 F D / (pi d^3).
    fn twist(&self, force: f64) -> f64 {
        8.0 * force * self.coil / (PI * self.wire.powi(3))
    }

    /// Bending stress at the inside of a hook of the coil's size, MPa: 32 F r / (pi d^3) times r over the inner
    /// radius, r - d/2.
    ///
    /// Source: U. C. Jindal, *Machine Design*, example 8-3.
    #[must_use]
    pub fn hook_stress(&self, force: f64) -> f64 {
        let r = 0.5 * self.coil;
        32.0 * force * r / (PI * self.wire.powi(3)) * r / (r - 0.5 * self.wire)
    }

    /// Length with all coils touching, mm: with hooks, from the inside of one to that of the other.
    ///
    /// Source: Shigley, table 10-1 (n + 2, n + 3 and n + 1 wires: ground, squared, plain ends) and eq. 10-39.
    #[must_use]
    pub fn solid(&self) -> f64 {
        let (more, hooks) = match self.ends {
            CoilEnds::Ground => (2.0, 0.0),
            CoilEnds::Squared => (3.0, 0.0),
            CoilEnds::Plain => (1.0, 0.0),
            CoilEnds::Hooks => (1.0, 2.0 * (self.coil - self.wire)),
        };
        (self.turns + more) * self.wire + hooks
    }

    /// Distance of neighbouring active coils at this length, mm: what the wires of the ends leave, over the coils.
    #[must_use]
    pub fn pitch(&self, length: f64) -> f64 {
        self.wire + (length - self.solid()) / self.turns
    }

    /// Outside diameter when it is shortened from `free` until solid, mm: the wire keeps its length, so that the
    /// coils grow by what the helix loses in slope (unrolled, one coil is the long side of a triangle with the sides
    /// pi D and pitch).
    #[must_use]
    pub fn widest(&self, free: f64) -> f64 {
        let pitch = self.pitch(free).max(self.wire);
        let square = self.coil.powi(2) + (pitch.powi(2) - self.wire.powi(2)) / PI.powi(2);
        square.sqrt() + self.wire
    }

    /// By how much it can be shortened from `free` before it buckles, mm; `None`: it does not, however short.
    /// `moduli`: of the wire, stretched and sheared, MPa.
    ///
    /// With lambda = share of the ends · free / D: free E / (2 (E - G)) · (1 - sqrt(1 - C / lambda²)),
    /// C = 2 pi² (E - G) / (2 G + E). For steel it never does below free = 2.63 D / share, 5.26 D on flat faces.
    ///
    /// Source: Wahl, ch. 8; Shigley, eq. 10-10 to 10-13.
    #[must_use]
    pub fn buckles(&self, free: f64, seats: Seats, moduli: [f64; 2]) -> Option<f64> {
        let [e, g] = moduli;
        let slender = seats.share() * free / self.coil;
        let limit = 2.0 * PI.powi(2) * (e - g) / (2.0 * g + e);
        let left = 1.0 - limit / slender.powi(2);
        // `!(a >= b)`: also what is no number.
        if !(left >= 0.0) || e <= g {
            return None;
        }
        Some(free * e / (2.0 * (e - g)) * (1.0 - left.sqrt()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(ours: f64, theirs: f64, within: f64) {
        assert!((ours - theirs).abs() <= within, "{ours} {theirs}");
    }

    fn spring(wire: f64, coil: f64, turns: f64) -> Helical {
        let ends = CoilEnds::Ground;
        Helical {
            wire,
            coil,
            turns,
            ends,
        }
    }

    /// Bhandari, example 10.1, p. 408: 1250 N, 30 mm, C = 6, Sut 1090, tau = 0.5 Sut, G 81370, ground ends, gap 1 mm
    /// between coils. Printed: d 6.625, taken 7; N 8; free 109.34; pitch 12.149.
    #[test]
    fn a_spring_for_a_force_and_a_deflection() {
        // The wire at which the stress is the allowed one: stress falls with d^2 at the same index.
        let one = spring(1.0, 6.0, 1.0).stress(1250.0);
        near((one / (0.5 * 1090.0)).sqrt(), 6.625_083, 1e-6);
        let turns = 81370.0 * 7f64.powi(4) * 30.0 / (8.0 * 1250.0 * 42f64.powi(3));
        assert_eq!(turns.round(), 8.0);
        let bought = spring(7.0, 42.0, 8.0);
        let gaps = 9.0;
        let free = bought.solid() + gaps + 1250.0 / bought.rate(81370.0);
        near(free, 109.337_611, 1e-6);
        // Its pitch is the free length over the nine spaces of ten coils, as the book takes it.
        near(free / gaps, 12.148_623, 1e-6);
    }

    /// Bhandari, example 10.18: 2 kN on two springs one in the other, d/D/N 10/80/8 and 8/64/12, G 81370. Printed:
    /// 1304.35 and 695.65 N, 52.527 mm, 314.617 and 262.181 MPa.
    #[test]
    fn springs_one_in_the_other() {
        let (outer, inner) = (spring(10.0, 80.0, 8.0), spring(8.0, 64.0, 12.0));
        let rates = [outer.rate(81370.0), inner.rate(81370.0)];
        let travel = 2000.0 / (rates[0] + rates[1]);
        near(travel, 52.526_569, 1e-5);
        near(rates[0] * travel, 1_304.347_826, 1e-5);
        near(outer.stress(rates[0] * travel), 314.616_701, 1e-4);
        near(inner.stress(rates[1] * travel), 262.180_584, 1e-4);
    }

    /// Jindal, example 8-1: d 5, D 30, G 84000, 15 coils, 300 N. Printed 16.0 N/mm and 18.0 mm, K_s 1.0000 and K_W
    /// 1.1025, which are divisions of whole numbers; right are 16.204, 18.514, 1.0833 and 1.2525.
    #[test]
    fn rate_and_factors_of_a_plain_case() {
        let spring = spring(5.0, 30.0, 15.0);
        near(spring.rate(84e3), 16.2037, 1e-4);
        near(300.0 / spring.rate(84e3), 18.5143, 1e-4);
        near(spring.steady_stress(1.0) / spring.twist(1.0), 1.08333, 1e-5);
        near(spring.stress(1.0) / spring.twist(1.0), 1.2525, 1e-5);
    }

    /// Jindal, example 8-6, p. 228: d 1.219, outside 12.5, 13.5 coils in all, two of them dead, G 80.7e3,
    /// Sut = 1783 / d^0.19, 0.4 of it allowed. Printed: 686.9 MPa, 41.1 N, 30.457 mm, solid 15.2375 mm.
    #[test]
    fn hard_drawn_wire_for_a_static_load() {
        let mut spring = spring(1.219, 12.5 - 1.219, 11.5);
        let allowed = 0.4 * 1783.0 / 1.219f64.powf(0.19);
        near(allowed, 686.9, 0.05);
        let force = allowed / spring.steady_stress(1.0);
        near(force, 41.1, 0.02);
        near(force / spring.rate(80.7e3), 30.457, 5e-4);
        // 12.5 wires: one coil less than there are, of plain ends.
        spring.ends = CoilEnds::Plain;
        near(spring.solid(), 15.2375, 1e-9);
    }

    /// Jindal, example 8-7: d 1.016, outside 12.6, 16 coils, 14 active, G 81e3, Sut = 2211 / d^0.145, 0.45 of it
    /// allowed. Printed: 992.7 MPa, 33.8 N, 0.496 N/mm, 68.20 mm, and that it buckles since Lo / D > 5.26.
    #[test]
    fn music_wire_that_buckles() {
        let spring = spring(1.016, 12.6 - 1.016, 14.0);
        let allowed = 0.45 * 2211.0 / 1.016f64.powf(0.145);
        near(allowed, 992.7, 0.05);
        let force = allowed / spring.steady_stress(1.0);
        near(force, 33.8, 0.02);
        let rate = spring.rate(81e3);
        near(rate, 0.496, 5e-4);
        near(force / rate, 68.20, 0.005);
        // The book's free length: 15 wires, and 1.15 of the travel.
        let free = 15.0 * 1.016 + 1.15 * force / rate;
        near(free / spring.coil, 8.09, 0.005);
        assert!(spring.buckles(free, Seats::Flat, [203.4e3, 81e3]).is_some());
    }

    /// Jindal, example 8-8: d 2, D 18, 9 active coils, G 81e3, Sut = 1783 / d^0.19, 0.45 of it over 1.5. Printed: 77.5 N,
    /// and a rate of 3.000 N/mm, which is 3.086 by its own numbers.
    #[test]
    fn hard_drawn_wire_with_a_factor() {
        let spring = spring(2.0, 18.0, 9.0);
        near(spring.rate(81e3), 3.0864, 1e-4);
        let allowed = 0.45 * 1783.0 / 2f64.powf(0.19) / 1.5;
        near(allowed / spring.steady_stress(1.0), 77.5, 0.05);
    }

    /// Jindal, example 8-3: d 1.626, hook of mean radius 3, Sut = 2211 / d^0.145. Printed: 2060.5 MPa, 211.3 N.
    #[test]
    fn a_hook() {
        let strength = 2211.0 / 1.626f64.powf(0.145);
        near(strength, 2060.5, 0.05);
        near(
            strength / spring(1.626, 6.0, 1.0).hook_stress(1.0),
            211.3,
            0.05,
        );
    }

    /// Wentzell, *Machine Design*, 8.2, p. 163, in lbf and in: d .105, D .62, 35 lb at .5 in, G 11.85e6, free 2. Printed:
    /// 12.79 coils in all, pitch .14, 70 lb/in.
    #[test]
    fn a_spring_in_inches() {
        let one = spring(0.105, 0.62, 1.0).rate(11.85e6);
        let turns = one / (35.0 / 0.5);
        near(turns + 2.0, 12.79, 0.005);
        let spring = spring(0.105, 0.62, turns);
        near(spring.rate(11.85e6), 70.0, 1e-9);
        // Printed pitch: free length less two wires, over all coils.
        near((2.0 - 2.0 * 0.105) / (turns + 2.0), 0.14, 0.0005);
    }

    /// Shigley, sec. 10-5: of steel, a spring on flat faces never buckles below 5.26 D, one with ends that turn below
    /// 2.63 D; the factor sqrt(2 (E - G) / (2 G + E)) pi is 2.63 for E = 207, G = 79.3 GPa to two decimals.
    #[test]
    fn short_springs_do_not_buckle() {
        let moduli = [207e3, 79.3e3];
        let spring = spring(1.0, 10.0, 8.0);
        for (seats, limit) in [
            (Seats::Flat, 5.26),
            (Seats::OneTurns, 3.72),
            (Seats::BothTurn, 2.63),
        ] {
            assert_eq!(spring.buckles(9.95 * limit, seats, moduli), None);
            let some = spring.buckles(10.05 * limit, seats, moduli);
            // Just beyond the limit it does so at E / (2 (E - G)) = 0.81 of its length at most.
            assert!(some.is_some_and(|s| s > 0.7 * 10.0 * limit && s < 0.815 * 10.1 * limit));
        }
        let long = spring.buckles(200.0, Seats::Flat, moduli).unwrap();
        // By hand: lambda 10, C 6.902, 162.1 (1 - sqrt(1 - 0.06902)).
        near(
            long,
            200.0 * 0.81049 * (1.0 - (1.0f64 - 0.068_96).sqrt()),
            0.02,
        );
        assert_eq!(spring.buckles(200.0, Seats::Flat, [1.0, 2.0]), None);
    }

    /// By hand: ten active coils of wire 1 with ground ends, free 32: solid 12, pitch 1 + 20 / 10 = 3; unrolled, a coil
    /// of D 10 and pitch 3 is as long as one of sqrt(100 + 8 / pi²) and pitch 1.
    #[test]
    fn coils_grow_as_they_close() {
        let spring = spring(1.0, 10.0, 10.0);
        near(spring.pitch(32.0), 3.0, 1e-12);
        near(spring.pitch(12.0), 1.0, 1e-12);
        let length = |coil: f64, pitch: f64| (PI * coil).hypot(pitch);
        near(
            length(spring.widest(32.0) - 1.0, 1.0),
            length(10.0, 3.0),
            1e-12,
        );
        for (ends, wires) in [
            (CoilEnds::Plain, 11.0),
            (CoilEnds::Squared, 13.0),
            (CoilEnds::Ground, 12.0),
            (CoilEnds::Hooks, 11.0 + 2.0 * 9.0),
        ] {
            near(Helical { ends, ..spring }.solid(), wires, 1e-12);
        }
    }
}
