use super::*;
use crate::outline::{Hole, Step, Way, path};
use approx::assert_relative_eq as near;

fn at(x: f64, y: f64) -> Vec2 {
    Vec2::new(x, y)
}

fn line(x: f64, y: f64) -> Step {
    Step {
        to: at(x, y),
        way: Way::Straight,
        round: 0.0,
    }
}

fn rounded(x: f64, y: f64, round: f64) -> Step {
    Step {
        round,
        ..line(x, y)
    }
}

fn shape(start: Vec2, steps: &[Step], holes: &[Hole]) -> Shape {
    Shape::new(path(start, steps).unwrap(), Vec::new(), holes).unwrap()
}

fn force(x: f64, y: f64, fx: f64, fy: f64) -> Knot {
    Knot {
        at: at(x, y),
        force: at(fx, fy),
        moment: 0.0,
    }
}

/// A strip of 100 × 12 mm, 5 thick, clamped at its left end by a force and a couple, 60 N down at the right.
fn strip() -> (Throats, Vec<Knot>) {
    let bar = shape(
        at(0.0, -6.0),
        &[line(100.0, -6.0), line(100.0, 6.0), line(0.0, 6.0)],
        &[],
    );
    let mut clamp = force(1.0, 0.0, 0.0, 60.0);
    clamp.moment = 60.0 * 98.0;
    let knots = vec![clamp, force(99.0, 0.0, 0.0, -60.0)];
    (Throats::of(&bar, &[], 5.0, 5.0), knots)
}

/// By hand: at a distance s from the load M = 60 s, V = 60, N = 0; sigma = 6 M / (5 · 12²).
#[test]
fn a_straight_strip() {
    let (throats, knots) = strip();
    let forces = throats.place(&knots);
    let across = throats
        .all
        .iter()
        .filter(|t| (t.depth() - 12.0).abs() < 1e-9);
    let mut seen = 0;
    for throat in across {
        let x = throat.middle.x();
        if !(2.0..98.0).contains(&x) {
            continue;
        }
        seen += 1;
        let carried = throat.carried(&forces);
        near!(carried.axial, 0.0, epsilon = 1e-9);
        near!(carried.shear.abs(), 60.0, max_relative = 1e-12);
        near!(
            carried.bending.abs(),
            60.0 * (99.0 - x),
            max_relative = 1e-9
        );
        // A load downwards at the right pulls at the upper edge.
        let up = throat.ends[0].y() > 0.0;
        assert_eq!(carried.bending > 0.0, up, "{x}");
        let bending = 6.0 * 60.0 * (99.0 - x) / (5.0 * 144.0);
        let middle = 3f64.sqrt() * 1.5;
        near!(
            throat.section.worst(carried),
            bending.max(middle),
            max_relative = 1e-9
        );
    }
    assert!(seen > 70, "{seen}");
}

/// What one side carries is the opposite of what the other does: the same cut from its other end.
#[test]
fn both_sides_of_a_cut_add_up_to_nothing() {
    let frame = frame();
    let throats = Throats::of(&frame, &[], 6.0, 6.0);
    let knots = [
        force(60.0, 30.0, 37.0, 900.0),
        force(55.0, 3.0, -11.0, -640.0),
        force(5.0, -2.0, -26.0, -260.0),
    ];
    let forces = throats.place(&knots);
    for throat in &throats.all {
        let mut other = throat.clone();
        other.ends.reverse();
        other.border.reverse();
        other.along = -other.along;
        let (a, b) = (throat.carried(&forces), other.carried(&forces));
        // The knots do not balance about a point, but as forces: N and V of both sides agree.
        near!(a.axial, b.axial, epsilon = 1e-9);
        near!(a.shear, b.shear, epsilon = 1e-9);
        let all: f64 = knots.iter().map(|k| moment(k, throat.middle)).sum();
        near!(a.bending + b.bending, all, epsilon = 1e-6);
    }
}

/// A C of 10 mm with a throat of 20 mm, fillets of 6.
fn frame() -> Shape {
    shape(
        at(0.0, -10.0),
        &[
            line(70.0, -10.0),
            line(70.0, 4.0),
            rounded(12.0, 4.0, 6.0),
            rounded(12.0, 26.0, 6.0),
            line(70.0, 26.0),
            line(70.0, 40.0),
            line(0.0, 40.0),
        ],
        &[],
    )
}

/// A C-frame opened by 900 N at x = 60: in the back, between the fillets, N = 900 and M = 900 (60 - 6), by
/// hand; the section is 12 × 6. In the fillets the hollow formula is taken, and gives more.
#[test]
fn the_throat_of_a_c() {
    let frame = frame();
    let throats = Throats::of(&frame, &[], 6.0, 6.0);
    let knots = [force(60.0, 4.0, 0.0, -900.0), force(60.0, 26.0, 0.0, 900.0)];
    let forces = throats.place(&knots);
    let back = throats.all.iter().filter(|t| {
        (t.depth() - 12.0).abs() < 1e-9
            && (11.0..19.0).contains(&t.middle.y())
            && t.hollow.is_none()
    });
    let mut seen = 0;
    for throat in back {
        seen += 1;
        let carried = throat.carried(&forces);
        near!(carried.axial, 900.0, max_relative = 1e-9);
        near!(carried.bending.abs(), 900.0 * 54.0, max_relative = 1e-9);
        // It opens: the inner edge is pulled.
        assert_eq!(carried.bending > 0.0, throat.ends[0].x() > 6.0);
        let expected = 900.0 / 72.0 + 6.0 * 900.0 * 54.0 / (6.0 * 144.0);
        near!(throat.section.worst(carried), expected, max_relative = 1e-9);
    }
    assert!(seen >= 4, "{seen}");
    let hollow: Vec<&Throat> = throats.all.iter().filter(|t| t.hollow.is_some()).collect();
    assert!(hollow.len() >= 2 * 12, "{}", hollow.len());
    let worst = |of: &[&Throat]| {
        let each = of.iter().map(|t| t.section.worst(t.carried(&forces)));
        each.fold(0.0, f64::max)
    };
    let straight = 900.0 / 72.0 + 6.0 * 900.0 * 54.0 / (6.0 * 144.0);
    assert!(worst(&hollow) > 1.2 * straight, "{}", worst(&hollow));
    for throat in hollow {
        near!(throat.hollow.unwrap(), 6.0, max_relative = 1e-9);
        near!(throat.section.edges[0], 6.0, max_relative = 1e-9);
    }
}

/// A lever on a pin in its middle, 40 N down at both ends: M = 40 · 50 at the pin, and the pin's force is
/// half on either side. Net section: 16 less a hole of 6, off nothing.
#[test]
fn through_a_loaded_hole() {
    let eye = Eye {
        at: at(0.0, 0.0),
        diameter: 6.0,
    };
    let hole = Hole::Round {
        at: eye.at,
        diameter: 6.0,
    };
    let bar = shape(
        at(-55.0, -8.0),
        &[line(55.0, -8.0), line(55.0, 8.0), line(-55.0, 8.0)],
        &[hole],
    );
    let throats = Throats::of(&bar, &[eye], 4.0, 4.0);
    let knots = [
        force(-50.0, 0.0, 0.0, -40.0),
        force(0.0, 0.0, 0.0, 80.0),
        force(50.0, 0.0, 0.0, -40.0),
    ];
    let forces = throats.place(&knots);
    let [(_, throat)] = throats.through().collect::<Vec<_>>()[..] else {
        panic!("one hole");
    };
    near!(throat.depth(), 16.0, max_relative = 1e-9);
    let carried = throat.carried(&forces);
    near!(carried.shear, 0.0, epsilon = 1e-9);
    near!(carried.bending.abs(), 40.0 * 50.0, max_relative = 1e-9);
    let second = 4.0 * (16f64.powi(3) - 6f64.powi(3)) / 12.0;
    near!(
        throat.section.worst(carried),
        2000.0 * 8.0 / second,
        max_relative = 1e-9
    );
    // Sections that pass the pin nearer than the border is are left to the eye.
    for throat in &throats.all {
        let [a, b] = throat.ends;
        if (throat.depth() - 16.0).abs() < 1e-9 && (a.x() - b.x()).abs() < 1e-9 {
            assert_eq!(throat.in_eye, a.x().abs() < 8.0 - 1e-6, "{a:?}");
        }
    }
    // Lengths of the centre line add up to that of the bar; sections from its square ends are left out.
    let along: f64 = throats
        .all
        .iter()
        .filter(|t| (t.depth() - 16.0).abs() < 1e-6)
        .map(|t| t.length)
        .sum();
    near!(along, 110.0, max_relative = 0.03);
}

/// A ring's quarter: the centre line is as long as the arc through the middles.
#[test]
fn the_centre_line_of_a_bend() {
    // From (20, 0) out to (30, 0), round to (0, 30), in to (0, 20), back along the hollow arc.
    let arc = |x, y, radius| Step {
        to: at(x, y),
        way: Way::Arc(radius),
        round: 0.0,
    };
    let bend = shape(
        at(20.0, 0.0),
        &[
            line(30.0, 0.0),
            arc(0.0, 30.0, 30.0),
            line(0.0, 20.0),
            arc(20.0, 0.0, -20.0),
        ],
        &[],
    );
    let throats = Throats::of(&bend, &[], 4.0, 4.0);
    let around: f64 = throats
        .all
        .iter()
        .filter(|t| (t.depth() - 10.0).abs() < 0.2)
        .map(|t| t.length)
        .sum();
    near!(
        around,
        25.0 * std::f64::consts::FRAC_PI_2,
        max_relative = 0.02
    );
}
