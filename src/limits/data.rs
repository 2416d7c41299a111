//! The figures as they are published, in the units of the publication.

/// A row of a table of grip strength: ages, mean and standard deviation.
pub(super) type Row = (&'static str, f64, f64);

/// Mathiowetz et al. 1985: right hand, men, lbf.
pub(super) const RIGHT_MEN: [Row; 12] = [
    ("20-24", 121.0, 20.6),
    ("25-29", 120.8, 23.0),
    ("30-34", 121.8, 22.4),
    ("35-39", 119.7, 24.0),
    ("40-44", 116.8, 20.7),
    ("45-49", 109.9, 23.0),
    ("50-54", 113.6, 18.1),
    ("55-59", 101.1, 26.7),
    ("60-64", 89.7, 20.4),
    ("65-69", 91.1, 20.6),
    ("70-74", 75.3, 21.5),
    ("75-up", 65.7, 21.0),
];

/// Mathiowetz et al. 1985: right hand, women, lbf.
pub(super) const RIGHT_WOMEN: [Row; 12] = [
    ("20-24", 70.4, 14.5),
    ("25-29", 74.5, 13.9),
    ("30-34", 78.7, 19.2),
    ("35-39", 74.1, 10.8),
    ("40-44", 70.4, 13.5),
    ("45-49", 62.2, 15.1),
    ("50-54", 65.8, 11.6),
    ("55-59", 57.3, 12.5),
    ("60-64", 55.1, 10.1),
    ("65-69", 49.6, 9.7),
    ("70-74", 49.6, 11.7),
    ("75-up", 42.6, 11.0),
];

/// Mathiowetz et al. 1985: left hand, means of men and of women by the same ages, lbf.
pub(super) const LEFT: [(f64, f64); 12] = [
    (104.5, 61.0),
    (110.5, 63.5),
    (110.4, 68.0),
    (112.9, 66.3),
    (112.8, 62.3),
    (100.8, 56.0),
    (101.9, 57.3),
    (83.2, 47.3),
    (76.8, 45.7),
    (76.8, 41.0),
    (64.8, 41.5),
    (55.0, 37.6),
];

/// Massy-Westropp et al. 2011: dominant hand, men, kgf.
pub(super) const AUSTRALIAN_MEN: [Row; 6] = [
    ("20s", 47.0, 9.5),
    ("30s", 47.0, 9.7),
    ("40s", 47.0, 9.5),
    ("50s", 45.0, 8.4),
    ("60s", 40.0, 8.3),
    ("70-up", 33.0, 7.8),
];

/// Massy-Westropp et al. 2011: dominant hand, women, kgf.
pub(super) const AUSTRALIAN_WOMEN: [Row; 6] = [
    ("20s", 30.0, 7.0),
    ("30s", 31.0, 6.4),
    ("40s", 29.0, 5.7),
    ("50s", 28.0, 6.3),
    ("60s", 24.0, 5.3),
    ("70-up", 20.0, 5.8),
];
