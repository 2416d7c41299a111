//! Trials: the fit finds again what readings were made with.
//!
//! Readings are made by the library itself from a friction, a give and a zero of the gap that the fit is not told, with
//! errors of 2 % drawn from a normal distribution.

use jawforce::model::{Direction, Tool, TrialPoint};
use jawforce::trial::{Bench, Fit, Held, PerJoint, TrialError, Unknown, fit, pins};

/// The toggle of the demo with another friction.
fn tool() -> Tool {
    crate::models::demo("eyelet-toggle")
}

/// A stream of normal numbers: sums of twelve uniform ones, from a linear congruence (D. E. Knuth, *The Art of Computer
/// Programming*, vol. 2, 3.3.4: MMIX).
struct Noise(u64);

impl Noise {
    fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// Readings at `gaps` of the rigid tool, closing and opening (or closing alone), three runs.
fn readings(
    tool: &Tool,
    truth: &Unknown,
    ways: &[Direction],
    noise: &mut Noise,
    error: f64,
) -> Vec<TrialPoint> {
    let mut rigid = Vec::new();
    for direction in ways {
        for _run in 0..3 {
            for k in 0..6 {
                rigid.push(TrialPoint {
                    gap: 3.0 - 0.52 * k as f64,
                    jaw_force: 1.0,
                    hand_force: 150.0,
                    direction: *direction,
                    grip: Some(75.0),
                });
            }
        }
    }
    let at = Unknown {
        compliance: 0.0,
        zero: 0.0,
        ..truth.clone()
    };
    let forces = Bench::new(tool, &rigid)
        .expect("a bench")
        .forces(&at)
        .expect("solved");
    let read = rigid.into_iter().zip(forces).map(|(point, force)| {
        let force = force.expect("a force");
        let gap = point.gap + truth.zero + truth.compliance * force;
        let jaw_force = force * (1.0 + error * noise.normal());
        TrialPoint {
            gap,
            jaw_force,
            ..point
        }
    });
    read.collect()
}

fn truth(tool: &Tool) -> Unknown {
    let pins = jawforce::trial::rubbing(tool).len();
    Unknown {
        friction: vec![0.14; pins],
        compliance: 1.2e-4,
        zero: 0.06,
    }
}

fn fitted(tool: &Tool, points: &[TrialPoint]) -> Fit {
    fit(&Bench::new(tool, points).expect("a bench"), (0.1, 5e-5)).expect("a fit")
}

fn pin_by_pin(tool: &Tool, points: &[TrialPoint]) -> Option<PerJoint> {
    let bench = Bench::new(tool, points).expect("a bench");
    let found = fit(&bench, (0.1, 5e-5)).expect("a fit");
    pins(&bench, &found).expect("solved")
}

const BOTH: [Direction; 2] = [Direction::Closing, Direction::Opening];

#[test]
fn readings_without_error_give_back_what_they_were_made_with() {
    let tool = tool();
    let points = readings(&tool, &truth(&tool), &BOTH, &mut Noise(1), 0.0);
    let found = fitted(&tool, &points);
    assert!(
        (found.friction.value - 0.14).abs() < 1e-5,
        "{:?}",
        found.friction
    );
    assert!(
        (found.compliance.value - 1.2e-4).abs() < 1e-7,
        "{:?}",
        found.compliance
    );
    assert!((found.zero.value - 0.06).abs() < 1e-4, "{:?}", found.zero);
    assert!(found.scatter < 1e-5);
}

/// Within twice its standard error in 95 of 100 seeds, which is what a normal error is in 95.4 of 100.
#[test]
fn errors_of_the_fit_are_those_that_it_says() {
    let tool = tool();
    let truth = truth(&tool);
    let mut within = [0; 3];
    for seed in 0..100 {
        let points = readings(&tool, &truth, &BOTH, &mut Noise(seed), 0.02);
        let found = fitted(&tool, &points);
        let pairs = [
            (found.friction, 0.14),
            (found.compliance, 1.2e-4),
            (found.zero, 0.06),
        ];
        for (count, (of, value)) in within.iter_mut().zip(pairs) {
            *count += usize::from((of.value - value).abs() <= 2.0 * of.error.expect("an error"));
        }
    }
    // Binomial: 95.4 ± 2.1 of 100.
    assert!(within.iter().all(|count| *count >= 91), "{within:?}");
    println!("{within:?}");
}

#[test]
fn closing_alone_tells_friction_with_give_and_zero_held() {
    let tool = tool();
    let mut truth = truth(&tool);
    truth.zero = 0.0;
    let points = readings(&tool, &truth, &[Direction::Closing], &mut Noise(3), 0.0);
    let bench = Bench::new(&tool, &points).expect("a bench");
    let found = fit(&bench, (0.1, 1.2e-4)).expect("a fit");
    assert!(
        (found.friction.value - 0.14).abs() < 1e-4,
        "{:?}",
        found.friction
    );
    assert_eq!((found.compliance.error, found.zero.error), (None, None));
}

/// Pliers whose jaw force hardly changes over the gap: neither give nor zero can be seen in it, and friction is found
/// with both held.
#[test]
fn a_flat_force_tells_friction_alone() {
    let tool = crate::models::demo("wire-crimp-pliers");
    let mut noise = Noise(5);
    let points = (0..36).map(|k| TrialPoint {
        gap: 2.3 - 0.4 * f64::from(k % 6),
        jaw_force: 1.0,
        hand_force: 120.0,
        direction: BOTH[usize::from(k >= 18)],
        grip: Some(80.0),
    });
    let mut points: Vec<TrialPoint> = points.collect();
    let pins = jawforce::trial::rubbing(&tool).len();
    let truth = Unknown {
        friction: vec![0.12; pins],
        compliance: 0.0,
        zero: 0.0,
    };
    let forces = Bench::new(&tool, &points).expect("a bench").forces(&truth);
    for (point, force) in points.iter_mut().zip(forces.expect("solved")) {
        point.jaw_force = force.expect("a force") * (1.0 + 0.02 * noise.normal());
    }
    let found = fitted(&tool, &points);
    assert_eq!(found.held, Some(Held::Flat), "{found:?}");
    assert_eq!(found.zero.error, None);
    let error = found.friction.error.expect("an error");
    assert!(
        (found.friction.value - 0.12).abs() < 3.0 * error,
        "{found:?}"
    );
    assert!(error < 0.03, "{error}");
}

#[test]
fn pins_with_frictions_of_their_own_differ_or_are_said_not_to() {
    let tool = tool();
    let mut other = truth(&tool);
    let same = readings(&tool, &other, &BOTH, &mut Noise(5), 0.02);
    let apart = pin_by_pin(&tool, &same);
    assert!(
        apart.is_none_or(|all| !all.differ()),
        "one friction for all pins"
    );
    // The pin at the heel runs dry: with readings good to 1 in 100 000 that is seen.
    other.friction[0] = 0.35;
    let dry = readings(&tool, &other, &BOTH, &mut Noise(7), 1e-5);
    let all = pin_by_pin(&tool, &dry).expect("a fit pin by pin");
    assert!(all.differ(), "{all:?}");
    assert!((all.joints[0].1.value - 0.35).abs() < 0.02, "{all:?}");
}

#[test]
fn too_few_readings_are_refused() {
    let tool = tool();
    let points = readings(&tool, &truth(&tool), &BOTH, &mut Noise(1), 0.0);
    let few: Vec<TrialPoint> = points
        .into_iter()
        .filter(|p| p.direction == Direction::Closing)
        .take(2)
        .collect();
    let bench = Bench::new(&tool, &few).expect("a bench");
    assert_eq!(
        fit(&bench, (0.1, 0.0)),
        Err(TrialError::TooFew {
            readings: 2,
            least: 3
        })
    );
}
