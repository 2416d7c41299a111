//! Links, pins, handles and cranks: each check against arithmetic or a textbook.

use super::{LEVER, RAM, STRUT, TOOL, find, joint, lever, near, one, strut, tool};
use jawforce::model::{JawId, PartId};
use jawforce::statics::ForceKind::{Jaw, Joint};
use jawforce::statics::Sheet;
use jawforce::strength::{Note, Place, Subject};

#[test]
fn link_in_tension() {
    let tool = tool(TOOL);
    let strength = one(&tool, &strut(&tool, 900.0));
    // Two plates of 3 × 12 mm, holes of 5.2 mm, 6 mm to the end.
    near(find(&strength, "strut", "gross").value, 900.0 / 72.0);
    near(find(&strength, "strut", "net").value, 900.0 / (6.8 * 6.0));
    let torn = find(&strength, "strut", "shear tear-out");
    near(torn.value, 900.0 / (2.0 * 6.0 * 3.4));
    near(torn.factor, 0.577 * 510.0 / torn.value);
    assert_eq!(torn.against, "0.577 ultimate");
    near(find(&strength, "strut", "bearing").value, 900.0 / 30.0);
    assert!(
        !strength
            .factors
            .iter()
            .any(|f| f.formula.check.starts_with("buckling")),
        "nothing buckles in tension"
    );
    assert!(strength.factors.is_sorted_by(|a, b| a.factor <= b.factor));
}

#[test]
fn link_in_compression() {
    let tool = tool(TOOL);
    let strength = one(&tool, &strut(&tool, -900.0));
    // Johnson: A Sy (1 − Sy (L/r)² / (4 π² E)), with (L/r)² = 12 (L/h)².
    let johnson = |h: f64| {
        let slender = 12.0 * (27.0 / h).powi(2);
        72.0 * 355.0 * (1.0 - 355.0 * slender / (4.0 * 9.869_604_401_089_358 * 205_000.0))
    };
    let plane = find(&strength, "strut", "buckling in the plane, Johnson");
    near(plane.allowable, johnson(12.0));
    let side = find(&strength, "strut", "buckling out of the plane, Johnson");
    near(side.factor, johnson(3.0) / 900.0);
    assert_eq!(side.against, "critical load");
    assert!(
        !strength
            .factors
            .iter()
            .any(|f| f.formula.check == "net section" && f.name == "strut"),
        "the pin fills the hole"
    );
}

#[test]
fn long_link_buckles_by_euler() {
    let tool = tool(&TOOL.replace("thickness = 3\n", "thickness = 0.8\n"));
    let strength = one(&tool, &strut(&tool, -100.0));
    // L/r = 27 √12 / 0.8 = 116.9, above √(2π²E/Sy) = 106.8.
    let side = find(&strength, "strut", "buckling out of the plane, Euler");
    let inertia = 12.0 * 1.6 * 0.64 / 12.0;
    near(
        side.allowable,
        9.869_604_401_089_358 * 205_000.0 * inertia / 729.0,
    );
}

#[test]
fn pin_in_a_fork() {
    let tool = tool(TOOL);
    let strength = one(&tool, &strut(&tool, 900.0));
    let area = std::f64::consts::PI * 25.0 / 4.0;
    // The later part at the knee is the strut, at the wrist the ram.
    let shear = find(&strength, "knee", "pin shear, double");
    near(shear.value, 900.0 / (2.0 * area));
    near(shear.allowable, 0.577 * 600.0);
    assert_eq!(shear.subject, Subject::Pin(joint(&tool, "knee")));
    // Strut plates of 3 outside, ram of 4 inside; lever of 6 inside at the knee.
    let modulus = std::f64::consts::PI * 125.0 / 32.0;
    near(
        find(&strength, "wrist", "pin bending").value,
        450.0 * (1.5 + 1.0) / modulus,
    );
    near(
        find(&strength, "knee", "pin bending").value,
        450.0 * (1.5 + 1.5) / modulus,
    );
    assert!(
        strength.factors.iter().all(|f| f.name != "heel"),
        "no force there"
    );
}

#[test]
fn pin_in_a_lap() {
    let lap = TOOL.replace("diameter = 5\n", "diameter = 5\nshear = \"single\"\n");
    let tool = tool(&lap);
    let strength = one(&tool, &strut(&tool, 900.0));
    let area = std::f64::consts::PI * 25.0 / 4.0;
    near(
        find(&strength, "wrist", "pin shear, single").value,
        900.0 / area,
    );
    let modulus = std::f64::consts::PI * 125.0 / 32.0;
    near(
        find(&strength, "wrist", "pin bending in the lap").value,
        450.0 * 6.0 / modulus,
    );
}

/// Beer, Johnston and DeWolf, *Mechanics of Materials*, sample problem 1.1: 750 lb, net section
/// 2290 psi at a pin of 3/8 in, which is in single shear at 6790 psi.
#[test]
fn link_of_a_textbook() {
    let text = TOOL
        .replace("units = \"mm-N\"", "units = \"in-lbf\"")
        .replace("yield = 355", "yield = \"50 ksi\"")
        .replace("ultimate = 510", "ultimate = \"70 ksi\"")
        .replace("yield = 600", "yield = \"90 ksi\"")
        .replace(
            "diameter = 5\nclearance = 0.2",
            "diameter = 0.375\nshear = \"single\"",
        )
        .replace(
            "width = 12\nthickness = 3\nplates = 2\nedge = 6",
            "width = 1.25\nthickness = 0.375",
        );
    let tool = tool(&text);
    let force = 750.0 * 4.448_221_615;
    let mut sheet = strut(&tool, force);
    for forces in &mut sheet.part_forces {
        for f in forces {
            f.local = f.local.map(|v| v * 25.4);
            f.at = f.local;
        }
    }
    let strength = one(&tool, &sheet);
    let psi = 4.448_221_615 / (25.4 * 25.4);
    let close = |found: f64, published: f64| {
        assert!(
            (found / psi / published - 1.0).abs() < 2e-3,
            "{}",
            found / psi
        );
    };
    close(find(&strength, "strut", "net").value, 2290.0);
    close(find(&strength, "knee", "pin shear, single").value, 6790.0);
    assert!(
        strength
            .notes
            .iter()
            .any(|n| matches!(n, Note::NoEdge(parts) if parts.contains(&STRUT)))
    );
}

/// A cantilever whose depth grows evenly from the load is worst where it is twice as deep as at
/// the load (by setting the derivative of x/w² to zero): here 16 mm, at 90 mm.
#[test]
fn tapering_handle() {
    // Only a small hole at the heel, so that the handle itself is the worst.
    let text = TOOL.replace(
        "width = [[0, 24], [180, 8]]",
        "width = [[0, 24], [1, 24], [180, 8]]",
    );
    let text = text
        .replace("diameter = 5\n", "diameter = 1\n")
        .replace("[1, 24]", "[0.001, 24]");
    let tool = tool(&text);
    let strength = one(&tool, &lever(&tool, 180.0, 150.0));
    let bent = find(&strength, "lever", "bending");
    let Some(Place::Along(at)) = bent.place else {
        panic!("{bent:?}");
    };
    assert!((at - 90.0).abs() < 0.5, "{at}");
    let expected = 6.0 * 150.0 * 90.0 / (6.0 * 16.0 * 16.0);
    assert!(
        (bent.value / expected - 1.0).abs() < 1e-4,
        "{} {expected}",
        bent.value
    );
    let sheared = find(&strength, "lever", "transverse shear");
    // Least depth just inside the grip.
    let expected = 1.5 * 150.0 / (6.0 * 8.0);
    assert!(
        (sheared.value / expected - 1.0).abs() < 1e-4,
        "{}",
        sheared.value
    );
}

/// 150 N at 90 mm on 6 × 12 mm: 93.75 MPa at the root, by arithmetic; the hole of the pivot there
/// takes its part, and the axial force of a slanting push comes on top.
#[test]
fn even_handle_at_its_pivot() {
    let tool = tool(&TOOL.replace("width = [[0, 24], [180, 8]]", "width = 12"));
    let root = |sheet: &Sheet| find(&one(&tool, sheet), "lever", "bending").value;
    let net = 1.0 - (5.2_f64 / 12.0).powi(3);
    near(root(&lever(&tool, 90.0, 150.0)), 93.75 / net);
    let mut slanting = lever(&tool, 90.0, 150.0);
    slanting.part_forces[LEVER][0].force[0] = -80.0;
    slanting.part_forces[LEVER][2].force[0] = 80.0;
    near(root(&slanting), 93.75 / net + 80.0 / (6.8 * 6.0));
}

/// The ram is a bell crank: 600 N on one arm of 30 mm, 450 N on the other of 40 mm. At the post
/// the moment is 18 000 N mm; the jaw's arm carries no axial force, the wrist's neither.
#[test]
fn bell_crank_at_its_pivot() {
    let tool = tool(TOOL);
    let sheet = Sheet::new(tool.parts.len())
        .with(RAM, Joint(joint(&tool, "wrist")), [0.0, 30.0], [600.0, 0.0])
        .with(RAM, Jaw(JawId::FIRST), [40.0, 0.0], [0.0, 450.0])
        .with(
            RAM,
            Joint(joint(&tool, "post")),
            [0.0, 0.0],
            [-600.0, -450.0],
        );
    let strength = one(&tool, &sheet);
    let bent = find(&strength, "ram", "bending");
    let modulus = 4.0 * (15.0_f64.powi(3) - 5.2_f64.powi(3)) / (6.0 * 15.0);
    near(bent.value, 18_000.0 / modulus);
    let post = tool.parts[RAM].point_index("post").expect("a post");
    assert_eq!(bent.place, Some(Place::Point(post)));
    near(find(&strength, "ram", "bearing").value, 750.0 / (5.0 * 4.0));
    let noted = |parts: &[PartId]| parts.contains(&RAM) && !parts.contains(&STRUT);
    assert!(
        strength
            .notes
            .iter()
            .any(|n| matches!(n, Note::NoBuckling(p) if noted(p)))
    );
    assert!(
        strength
            .notes
            .iter()
            .any(|n| matches!(n, Note::Beams(p) if noted(p)))
    );
}
