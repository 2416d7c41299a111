use super::*;
use approx::assert_relative_eq as near;
use std::f64::consts::PI;

fn strip(from: f64, to: f64, thickness: f64) -> Strip {
    Strip {
        from,
        to,
        thickness,
    }
}

fn bent(strips: &[Strip]) -> CutSection {
    CutSection::of(strips, true).unwrap()
}

fn carried(axial: f64, bending: f64) -> Carried {
    Carried {
        axial,
        shear: 0.0,
        bending,
    }
}

/// Thin strips of a section whose thickness changes with the radius.
fn fibres(from: f64, to: f64, count: usize, thickness: impl Fn(f64) -> f64) -> Vec<Strip> {
    let step = (to - from) / count as f64;
    let one = |k: usize| {
        let low = from + k as f64 * step;
        strip(low, low + step, thickness(low + 0.5 * step))
    };
    (0..count).map(one).collect()
}

/// Stress at the hollow edge of a frame whose load acts at `arm` from the centroid of the section.
fn inner(section: &CutSection, load: f64, arm: f64) -> f64 {
    section.stress(carried(load, load * arm), section.edges[0])
}

/// A. P. Boresi, R. J. Schmidt, *Advanced Mechanics of Materials*, 6th ed., example 9.1: a frame of 50 × 50
/// mm, radii 30 and 80, 9.5 kN at 100 mm beyond the centre: +106.2 and -49.3 MPa.
#[test]
fn boresi_rectangular_frame() {
    let section = bent(&[strip(30.0, 80.0, 50.0)]);
    let load = carried(9500.0, 9500.0 * 155.0);
    near!(section.stress(load, 30.0), 106.2, max_relative = 5e-4);
    near!(section.stress(load, 80.0), -49.3, max_relative = 5e-4);
    // The same by fibres: Am and R are integrals, whatever the number of strips.
    let fine = bent(&fibres(30.0, 80.0, 10_000, |_| 50.0));
    near!(
        fine.stress(load, 30.0),
        section.stress(load, 30.0),
        max_relative = 1e-9
    );
}

/// The same book, example 9.5: a clamp frame with a T section (120 × 48 next to the hollow, 24 × 120 beyond),
/// inner radius 72, 120 kN with M = 364 P: 221.6 MPa.
#[test]
fn boresi_clamp_frame() {
    let section = bent(&[strip(72.0, 120.0, 120.0), strip(120.0, 240.0, 24.0)]);
    near!(inner(&section, 120e3, 364.0), 221.6, max_relative = 5e-4);
}

/// E. P. Popov, *Engineering Mechanics of Solids*, example 6.10: 50 × 50 mm under 2083 N m. Straight: ±99.98
/// MPa; mean radius 250: 107.1 and -93.7; 75: 128.7 and -81.0.
#[test]
fn popov_curved_bars() {
    let moment = carried(0.0, 2083e3);
    let straight = CutSection::of(&[strip(0.0, 50.0, 50.0)], false).unwrap();
    near!(straight.stress(moment, 0.0), 99.98, max_relative = 5e-4);
    near!(straight.stress(moment, 50.0), -99.98, max_relative = 5e-4);
    for (radius, hollow, outer) in [(250.0, 107.1, -93.7), (75.0, 128.7, -81.0)] {
        let section = bent(&[strip(radius - 25.0, radius + 25.0, 50.0)]);
        near!(
            section.stress(moment, radius - 25.0),
            hollow,
            max_relative = 1e-3
        );
        near!(
            section.stress(moment, radius + 25.0),
            outer,
            max_relative = 1e-3
        );
    }
}

/// V. B. Bhandari, *Design of Machine Elements*, example 4.19: a crane hook with a trapezoid of 90 and 30 mm,
/// 120 deep, inner radius 50, the load through the centre of curvature; 380 / 3.5 MPa allow 94 828 N.
#[test]
fn bhandari_hook() {
    let section = bent(&fibres(50.0, 170.0, 20_000, |r| {
        90.0 - 60.0 * (r - 50.0) / 120.0
    }));
    let stress = inner(&section, 1.0, section.centroid);
    near!(380.0 / 3.5 / stress, 94_828.0, max_relative = 1e-5);
}

/// The same book, example 4.20: a link of round bar with a mean radius of 4 diameters, 1 kN, 400 / 3.5 MPa:
/// 20.106 mm.
#[test]
fn bhandari_link() {
    let allowed = 400.0 / 3.5;
    let stress = |d: f64| {
        let round = |r: f64| 2.0 * (0.25 * d * d - (r - 4.0 * d).powi(2)).max(0.0).sqrt();
        let section = bent(&fibres(3.5 * d, 4.5 * d, 100_000, round));
        inner(&section, 1000.0, 4.0 * d)
    };
    near!(stress(20.106), allowed, max_relative = 1e-4);
}

/// The same book, example 4.21: a press frame with a T section (3t × t next to the hollow, a web of 0.75 t),
/// inner radius 2 t, 100 kN at 1000 mm from the hollow edge's centre, 200 / 3 MPa: t rounded up to 100 from
/// 99.2.
#[test]
fn bhandari_press_frame() {
    let stress = |t: f64| {
        let section = bent(&[
            strip(2.0 * t, 3.0 * t, 3.0 * t),
            strip(3.0 * t, 5.0 * t, 0.75 * t),
        ]);
        inner(&section, 1e5, 1000.0 + section.centroid)
    };
    let (mut low, mut high) = (50.0, 200.0);
    for _ in 0..60 {
        let t = 0.5 * (low + high);
        if stress(t) > 200.0 / 3.0 {
            low = t
        } else {
            high = t
        }
    }
    near!(low, 99.2, max_relative = 5e-4);
    assert!(stress(100.0) < 200.0 / 3.0);
}

/// With a large radius the beam is straight: the ratio at the hollow edge nears 1 + h / (3 r), the first term
/// of the series of the exact formula in h / r (by hand), down to h / r of a millionth.
#[test]
fn a_large_radius_is_straight() {
    for power in 2..=6 {
        let ratio = 10f64.powi(power);
        let section = bent(&[strip(12.0 * ratio, 12.0 * (ratio + 1.0), 6.0)]);
        let expected = 1.0 / (3.0 * ratio);
        // The next term is of the order of (h / r)².
        near!(
            section.hollow_share() - 1.0,
            expected,
            max_relative = 3.0 / ratio + 1e-8
        );
    }
}

/// How much a small radius of a throat of 12 mm adds: 1.92, 1.52 and 1.29 times the straight beam at 3, 6 and
/// 12 mm, from rn = h / ln(ro / ri) and e = R - rn (the same books' other way to write the formula).
#[test]
fn small_radii_add_to_the_stress() {
    for (radius, share) in [(3.0_f64, 1.92), (6.0, 1.52), (12.0, 1.29)] {
        let section = bent(&[strip(radius, radius + 12.0, 5.0)]);
        let neutral = 12.0 / ((radius + 12.0) / radius).ln();
        let e = radius + 6.0 - neutral;
        let exact = (neutral - radius) / (radius * 12.0 * e) * 144.0 / 6.0;
        near!(section.hollow_share(), exact, max_relative = 1e-12);
        near!(section.hollow_share(), share, max_relative = 4e-3);
    }
}

/// The first book, example 9.9: half a ring of 60 × 150 mm, inner radius 100, under 24 kN m, 72 GPa: its ends turn by
/// 0.0103 rad and move by 1.15 mm. The moment is the same all along, and the axial force nothing.
#[test]
fn boresi_give_of_half_a_ring() {
    let section = bent(&[strip(100.0, 250.0, 60.0)]);
    let per_length = section.energies(carried(0.0, 1.0))[1] / 72e3;
    let radius = section.centroid;
    near!(per_length * 24e6 * PI * radius, 0.0103, max_relative = 5e-3);
    // A force at the end has the lever R sin θ, whose integral over half a turn is 2 R.
    near!(
        per_length * 24e6 * 2.0 * radius * radius,
        1.15,
        max_relative = 5e-3
    );
}

/// A large radius gives as a straight beam does.
#[test]
fn a_large_radius_gives_as_a_straight_one() {
    let load = carried(300.0, 9000.0);
    let straight = CutSection::of(&[strip(0.0, 12.0, 6.0)], false).unwrap();
    let slight = bent(&[strip(12e6, 12e6 + 12.0, 6.0)]);
    let ([a, b], [c, d]) = (straight.energies(load), slight.energies(load));
    near!(a, c, max_relative = 1e-9);
    near!(b, d, max_relative = 1e-6);
}

/// A hole through a straight section: by hand, area and second moment less those of the hole.
#[test]
fn a_hole_is_taken_from_the_section() {
    let section = CutSection::of(&[strip(0.0, 5.0, 3.0), strip(9.0, 14.0, 3.0)], false).unwrap();
    near!(section.area, 30.0, max_relative = 1e-12);
    near!(section.centroid, 7.0, max_relative = 1e-12);
    near!(
        section.second_moment,
        3.0 * (14f64.powi(3) - 64.0) / 12.0,
        max_relative = 1e-12
    );
    let shear = Carried {
        shear: 90.0,
        ..Carried::default()
    };
    near!(
        section.worst(shear),
        3f64.sqrt() * 1.5 * 90.0 / 30.0,
        max_relative = 1e-12
    );
}

/// An off-centre hole in a bent section: Am by its integral.
#[test]
fn a_hole_in_a_bent_section() {
    let strips = [strip(6.0, 8.0, 4.0), strip(11.0, 18.0, 4.0)];
    let section = bent(&strips);
    let over_r = 4.0 * ((8f64 / 6.0).ln() + (18f64 / 11.0).ln());
    near!(section.over_radius().unwrap(), over_r, max_relative = 1e-12);
    let moment = carried(0.0, 1000.0);
    let (a, r) = (section.area, section.centroid);
    let direct = 1000.0 * (a - 6.0 * over_r) / (a * 6.0 * (r * over_r - a));
    near!(section.stress(moment, 6.0), direct, max_relative = 1e-10);
}

#[test]
fn what_is_no_section_is_none() {
    assert_eq!(CutSection::of(&[], false), None);
    assert_eq!(CutSection::of(&[strip(2.0, 2.0, 3.0)], false), None);
    assert_eq!(
        CutSection::of(&[strip(0.0, 5.0, 3.0)], true),
        None,
        "no radius"
    );
    assert_eq!(CutSection::of(&[strip(f64::NAN, 5.0, 3.0)], false), None);
    let section = CutSection::of(&[strip(0.0, 5.0, 3.0)], false).unwrap();
    assert!(section.worst(carried(f64::NAN, 0.0)).is_nan());
}
