//! The units that are known by name, each a factor and five exponents.

use super::words::article;
use super::{KG_PER_LB, MM_PER_IN, N_PER_LBF, Quantity};

/// Exponents of length, force, angle, mass and time.
pub(super) type Powers = [i8; 5];

/// Unit names, factors to mm, N, rad, kg, s, and exponents. Inch, pound and pound-force are exact; the others
/// are decimal multiples, or kgf = kp = 9.806 65 N (standard gravity, CGPM 1901).
pub(super) const UNITS: &[(&str, f64, Powers)] = &[
    ("mm", 1.0, [1, 0, 0, 0, 0]),
    ("cm", 10.0, [1, 0, 0, 0, 0]),
    ("m", 1000.0, [1, 0, 0, 0, 0]),
    ("um", 1e-3, [1, 0, 0, 0, 0]),
    ("\u{b5}m", 1e-3, [1, 0, 0, 0, 0]),
    ("\u{3bc}m", 1e-3, [1, 0, 0, 0, 0]),
    ("in", MM_PER_IN, [1, 0, 0, 0, 0]),
    ("inch", MM_PER_IN, [1, 0, 0, 0, 0]),
    ("\"", MM_PER_IN, [1, 0, 0, 0, 0]),
    ("thou", 1e-3 * MM_PER_IN, [1, 0, 0, 0, 0]),
    ("ft", 12.0 * MM_PER_IN, [1, 0, 0, 0, 0]),
    ("N", 1.0, [0, 1, 0, 0, 0]),
    ("kN", 1000.0, [0, 1, 0, 0, 0]),
    ("lbf", N_PER_LBF, [0, 1, 0, 0, 0]),
    ("kgf", 9.806_65, [0, 1, 0, 0, 0]),
    ("kp", 9.806_65, [0, 1, 0, 0, 0]),
    ("rad", 1.0, [0, 0, 1, 0, 0]),
    ("deg", std::f64::consts::PI / 180.0, [0, 0, 1, 0, 0]),
    ("\u{b0}", std::f64::consts::PI / 180.0, [0, 0, 1, 0, 0]),
    ("Nm", 1000.0, [1, 1, 0, 0, 0]),
    ("Nmm", 1.0, [1, 1, 0, 0, 0]),
    ("J", 1000.0, [1, 1, 0, 0, 0]),
    ("mJ", 1.0, [1, 1, 0, 0, 0]),
    ("Pa", 1e-6, [-2, 1, 0, 0, 0]),
    ("kPa", 1e-3, [-2, 1, 0, 0, 0]),
    ("MPa", 1.0, [-2, 1, 0, 0, 0]),
    ("GPa", 1000.0, [-2, 1, 0, 0, 0]),
    ("psi", N_PER_LBF / (MM_PER_IN * MM_PER_IN), [-2, 1, 0, 0, 0]),
    (
        "ksi",
        1000.0 * N_PER_LBF / (MM_PER_IN * MM_PER_IN),
        [-2, 1, 0, 0, 0],
    ),
    ("kg", 1.0, [0, 0, 0, 1, 0]),
    ("g", 1e-3, [0, 0, 0, 1, 0]),
    ("lb", KG_PER_LB, [0, 0, 0, 1, 0]),
    ("oz", KG_PER_LB / 16.0, [0, 0, 0, 1, 0]),
    ("s", 1.0, [0, 0, 0, 0, 1]),
    ("ms", 1e-3, [0, 0, 0, 0, 1]),
    ("min", 60.0, [0, 0, 0, 0, 1]),
    ("h", 3600.0, [0, 0, 0, 0, 1]),
];

/// The exponents of a quantity.
pub(super) fn powers_of(quantity: Quantity) -> Powers {
    match quantity {
        Quantity::Length => [1, 0, 0, 0, 0],
        Quantity::Force => [0, 1, 0, 0, 0],
        Quantity::Angle => [0, 0, 1, 0, 0],
        Quantity::Torque | Quantity::Energy => [1, 1, 0, 0, 0],
        Quantity::Stress => [-2, 1, 0, 0, 0],
        Quantity::Rate => [-1, 1, 0, 0, 0],
        Quantity::TurnRate => [1, 1, -1, 0, 0],
        Quantity::Area => [2, 0, 0, 0, 0],
        Quantity::SecondMoment => [4, 0, 0, 0, 0],
        Quantity::Mass => [0, 0, 0, 1, 0],
        Quantity::Density => [-3, 0, 0, 1, 0],
        Quantity::Time => [0, 0, 0, 0, 1],
        Quantity::Frequency => [0, 0, 0, 0, -1],
    }
}

/// What a unit with these exponents measures.
pub(super) fn in_words(powers: Powers) -> String {
    let kinds = [
        Quantity::Length,
        Quantity::Force,
        Quantity::Angle,
        Quantity::Torque,
        Quantity::Stress,
        Quantity::Rate,
        Quantity::TurnRate,
        Quantity::Area,
        Quantity::Mass,
        Quantity::Density,
        Quantity::SecondMoment,
        Quantity::Time,
        Quantity::Frequency,
    ];
    match kinds.iter().find(|&&kind| powers_of(kind) == powers) {
        Some(&kind) => article(kind).to_owned(),
        None => "a quantity of another kind".to_owned(),
    }
}
