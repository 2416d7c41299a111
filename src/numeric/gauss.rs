//! Integrals by the rules of Gauss and Legendre.
//!
//! Nodes and weights: M. Abramowitz and I. A. Stegun, *Handbook of Mathematical Functions* (1964),
//! table 25.4.

/// Nodes and weights of two points on −1..1: exact up to the third power.
pub const TWO: [(f64, f64); 2] = [
    (-0.577_350_269_189_625_8, 1.0),
    (0.577_350_269_189_625_8, 1.0),
];

/// Nodes and weights of three points on −1..1: exact up to the fifth power.
pub const THREE: [(f64, f64); 3] = [
    (-0.774_596_669_241_483_4, 5.0 / 9.0),
    (0.0, 8.0 / 9.0),
    (0.774_596_669_241_483_4, 5.0 / 9.0),
];

/// Nodes and weights of five points on −1..1: exact up to the ninth power.
pub const FIVE: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189),
    (-0.538_469_310_105_683, 0.478_628_670_499_366),
    (0.0, 0.568_888_888_888_889),
    (0.538_469_310_105_683, 0.478_628_670_499_366),
    (0.906_179_845_938_664, 0.236_926_885_056_189),
];

/// Nodes and weights of six points on −1..1: exact up to the eleventh power.
pub const SIX: [(f64, f64); 6] = [
    (-0.932_469_514_203_152, 0.171_324_492_379_170_34),
    (-0.661_209_386_466_264_5, 0.360_761_573_048_138_6),
    (-0.238_619_186_083_196_9, 0.467_913_934_572_691_04),
    (0.238_619_186_083_196_9, 0.467_913_934_572_691_04),
    (0.661_209_386_466_264_5, 0.360_761_573_048_138_6),
    (0.932_469_514_203_152, 0.171_324_492_379_170_34),
];

/// The nodes of a rule between two places, each with its weight there.
pub fn nodes(rule: &[(f64, f64)], from: f64, to: f64) -> impl Iterator<Item = (f64, f64)> {
    let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
    rule.iter()
        .map(move |(x, weight)| (middle + half * x, weight * half))
}

#[cfg(test)]
mod tests {
    use super::{FIVE, SIX, THREE, TWO, nodes};
    use approx::assert_relative_eq as near;

    #[test]
    fn powers_are_integrated_exactly() {
        for (rule, greatest) in [
            (&TWO[..], 3),
            (&THREE[..], 5),
            (&FIVE[..], 9),
            (&SIX[..], 11),
        ] {
            for power in 0..=greatest {
                let sum: f64 = nodes(rule, 0.5, 2.0).map(|(x, w)| w * x.powi(power)).sum();
                let next = power + 1;
                let exact = (2_f64.powi(next) - 0.5_f64.powi(next)) / f64::from(next);
                near!(sum, exact, max_relative = 1e-13);
            }
            let beyond: f64 = nodes(rule, 0.5, 2.0)
                .map(|(x, w)| w * x.powi(greatest + 1))
                .sum();
            let next = greatest + 2;
            let exact = (2_f64.powi(next) - 0.5_f64.powi(next)) / f64::from(next);
            assert!((beyond - exact).abs() > 1e-9, "{beyond} {exact}");
        }
    }
}
