//! Stresses of springs of wire against their limits; the formulas themselves stand in [`crate::coils`].

use super::Formula;

/// A helical spring under a steady load.
pub const STEADY_SHEAR: Formula = Formula {
    check: "steady load",
    text: "tau = K_W 8 F D / (pi d^3), K_W = (4 C - 1) / (4 C - 4) + 0.615 / C",
    source: "Wahl, Mechanical Springs, ch. 2; limit: Shigley's Mechanical Engineering Design, table 10-7, set not removed",
};

/// A torsion spring under a steady load.
pub const STEADY_BENDING: Formula = Formula {
    check: "steady load",
    text: "sigma = K_i 32 M / (pi d^3), K_i = (4 C^2 - C - 1) / (4 C (C - 1))",
    source: "Shigley's Mechanical Engineering Design, eq. 10-43, 10-44 and 10-57",
};

/// The hook of a spring that pulls, under a steady load.
pub const HOOK: Formula = Formula {
    check: "steady load, at the hooks",
    text: "sigma = 32 F r / (pi d^3) r / (r - d / 2), r = D / 2",
    source: "U. C. Jindal, Machine Design, ch. 8; limit: Shigley, table 10-7",
};

/// A helical spring under a load that comes and goes.
pub const REPEATED_SHEAR: Formula = Formula {
    check: "repeated load",
    text: "n = S / ((S - R / 2) / (R / 2) tau_a + tau_m), tau_a with K_W = (4 C - 1) / (4 C - 4) + 0.615 / C, \
           tau_m with K_s, R from zero to most, S steady",
    source: "V. B. Bhandari, Design of Machine Elements, sec. 10.9; limit: Shigley, table 10-8 (from memory)",
};

/// A torsion spring under a load that comes and goes.
pub const REPEATED_BENDING: Formula = Formula {
    check: "repeated load",
    text: "n = S / ((S - R / 2) / (R / 2) sigma_a + sigma_m), both with K_i, R from zero to most, S steady",
    source: "V. B. Bhandari, Design of Machine Elements, sec. 10.9; limit: Shigley, table 10-8",
};
