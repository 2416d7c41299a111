//! Numbers that look random, for tests.

/// Numbers between −1 and 1, always the same for a seed: the upper half of a linear congruential
/// generator (multiplier and increment of D. E. Knuth's MMIX, from memory).
pub(in crate::numeric) fn noise(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((state >> 33) as f64 / f64::from(1_u32 << 30)) - 1.0
    }
}
