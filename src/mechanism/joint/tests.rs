//! Each kind against what makes it a joint: differences of its own residuals, the transposed
//! gradient, action and reaction, and the power of its friction.

use super::{ContactForce, JointFrame, Kind, Wall};
use crate::geometry::Vec2;
use crate::mechanism::{GROUND, Linkage, Pose, Rates, Take};
use crate::model::{
    Cam, CamFace, Follower, Gears, Hand, Jaw, JawId, Mesh, Part, PartId, Place, PointRef, Roller,
    Slot, SlotLine, Stroke, Target, Tool,
};

/// A pin of every hold (on the tree from either side, off it); slots, straight and arcs, with and without a
/// roller; and a key; teeth of every mesh. All but pins and wheels on parts that move.
fn linkage() -> Linkage {
    Linkage::new(&tool()).expect("a linkage")
}

fn tool() -> Tool {
    let parts = vec![
        Part::new("base", &[("a", [0.0, 0.0]), ("d", [50.0, 5.0])], &[]),
        Part::new("arm", &[("b", [20.0, 3.0]), ("c", [1.0, 2.0])], &[]),
        Part::new(
            "lever",
            &[("a", [0.0, 0.0]), ("b", [21.0, -4.0])],
            &[("m", [90.0, 8.0]), ("w", [9.0, -18.0])],
        ),
        Part::new(
            "rocker",
            &[("d", [0.0, 0.0]), ("c", [-7.0, 26.0])],
            &[("w", [-4.0, 11.0])],
        ),
        Part::new("slider", &[], &[("m", [2.0, 3.0]), ("w", [-6.0, 9.0])]),
        Part::new("block", &[], &[("m", [-4.0, 1.5])]),
        Part::new("follower", &[], &[("m", [4.0, -2.5]), ("n", [-9.0, 3.5])]),
    ];
    let point = |part, point| PointRef {
        part: PartId::new(part),
        point,
    };
    let jaw = Jaw {
        name: "jaw".to_owned(),
        on: point(2, 2),
        against: point(0, 0),
        axis: None,
        closed: 0.0,
        work: None,
    };
    let stroke = Stroke {
        open: Target::Gap(1.0, JawId::FIRST),
        shut: Target::Gap(0.0, JawId::FIRST),
        steps: 10,
        lead: JawId::FIRST,
    };
    let hand = Hand::new(PartId::new(2), &[[0.0, 0.0], [90.0, 0.0]], &[80.0]);
    let mut tool = Tool::new("tool", parts, hand, jaw, stroke);
    let slot = |rider: usize, on: usize, keyed| Slot {
        name: None,
        rider: point(rider, 0),
        on: PartId::new(on),
        line: SlotLine::Straight {
            through: Place::At([6.0, -2.5]),
            angle: 0.7,
        },
        keyed,
        friction: 0.2,
        width: None,
        roller: None,
        material: None,
    };
    let roller = Some(Roller {
        diameter: 7.0,
        pin: 3.0,
        width: None,
    });
    let line = SlotLine::Arc {
        centre: Place::At([-11.0, 4.0]),
        radius: 37.0,
    };
    let rolls = |slot: Slot| Slot { roller, ..slot };
    let arc = |slot: Slot| Slot { line, ..slot };
    tool.slots = vec![
        slot(5, 3, None),
        slot(4, 1, Some(0.3)),
        rolls(slot(6, 2, None)),
        arc(slot(6, 3, None)),
        rolls(arc(slot(5, 2, None))),
    ];
    let cam = |part: usize, pushes: usize, follower| Cam {
        name: None,
        part: PartId::new(part),
        face: CamFace::Disc {
            centre: Place::At([5.0, -8.0]),
            radius: 14.0,
        },
        pushes: point(pushes, 0),
        follower,
        friction: 0.1,
        width: None,
        material: None,
    };
    let flat = Follower::Flat {
        angle: 0.4,
        side: -1.0,
    };
    let roller = Follower::Roller(Roller {
        diameter: 9.0,
        pin: 4.0,
        width: None,
    });
    let curved = |part, pushes, follower| Cam {
        face: CamFace::Curve(vec![[12.0, -9.0], [9.0, 1.0], [2.0, 6.0], [-8.0, 4.0]]),
        ..cam(part, pushes, follower)
    };
    tool.cams = vec![
        cam(2, 4, flat),
        cam(3, 5, roller),
        curved(3, 4, flat),
        curved(2, 5, roller),
    ];
    let gears = |mesh, teeth| Gears {
        name: None,
        on: PartId::new(0),
        parts: [2, 3].map(PartId::new),
        about: [0, 0],
        centres: [0, 1],
        marks: [3, 2],
        mesh,
        teeth,
        sector: [None; 2],
        angle: 0.35,
        face: None,
        backlash: None,
        friction: 0.15,
        material: None,
    };
    let rack = Gears {
        on: PartId::new(1),
        parts: [3, 4].map(PartId::new),
        about: [1, 0],
        centres: [1, 1],
        marks: [2, 1],
        ..gears(Mesh::Rack { slot: 1 }, [18, 0])
    };
    tool.gears = vec![
        gears(Mesh::External, [14, 20]),
        gears(Mesh::Internal, [40, 17]),
        rack,
    ];
    tool
}

/// Away from where the joints close, so that no term of a gradient is there by chance.
fn pose(linkage: &Linkage) -> Pose {
    let mut pose = Pose::new(linkage);
    let q: Vec<f64> = (0..linkage.coordinates)
        .map(|k| 0.37 * (k as f64 + 1.0) - 0.05 * (k * k) as f64)
        .collect();
    pose.set(linkage, &q);
    pose
}

fn named(joint: &JointFrame) -> &'static str {
    match joint {
        JointFrame::Pin(pin) => match pin.held {
            super::Held::Tree {
                child_is_part: true,
            } => "tree pin",
            super::Held::Tree {
                child_is_part: false,
            } => "tree pin of a carrier",
            super::Held::Cut { .. } => "cut pin",
        },
        JointFrame::Slot(_) => "slot",
        JointFrame::Arc(_) => "arc",
        JointFrame::Cam(_) => "cam",
        JointFrame::Key(_) => "key",
        JointFrame::Gear(gear) if gear.radii[1] < 0.0 => "gear in a ring",
        JointFrame::Gear(_) => "gear",
        JointFrame::Rack(_) => "rack",
    }
}

/// One thing that a joint does to a body.
enum Effort {
    Force {
        body: PartId,
        arm: Vec2,
        place: Vec2,
        force: Vec2,
    },
    Couple {
        body: PartId,
        moment: f64,
    },
}

impl Take for Vec<Effort> {
    fn force(&mut self, body: PartId, arm: Vec2, place: Vec2, force: Vec2) {
        self.push(Effort::Force {
            body,
            arm,
            place,
            force,
        });
    }

    fn couple(&mut self, body: PartId, moment: f64) {
        self.push(Effort::Couple { body, moment });
    }
}

/// Generalised forces of what a joint does.
fn general(linkage: &Linkage, pose: &Pose, efforts: &[Effort]) -> Vec<f64> {
    let mut row = vec![0.0; linkage.coordinates];
    for effort in efforts {
        match *effort {
            Effort::Force {
                body, place, force, ..
            } => linkage.add_gradient(pose, body, place, force, &mut row),
            Effort::Couple { body, moment } => linkage.add_angle(body, moment, &mut row),
        }
    }
    row
}

fn near(a: f64, b: f64, within: f64) -> bool {
    (a - b).abs() <= within
}

#[test]
fn the_linkage_has_every_kind() {
    let linkage = linkage();
    let mut kinds: Vec<&str> = linkage.joints.iter().map(named).collect();
    kinds.sort_unstable();
    kinds.dedup();
    assert_eq!(
        kinds,
        [
            "arc",
            "cam",
            "cut pin",
            "gear",
            "gear in a ring",
            "key",
            "rack",
            "slot",
            "tree pin",
            "tree pin of a carrier"
        ]
    );
    // Rows are given out once each, in order.
    let rows: Vec<usize> = linkage.joints.iter().flat_map(Kind::rows).collect();
    assert_eq!(rows, (0..linkage.equations).collect::<Vec<_>>());
    assert_eq!(linkage.equations, 2 + 1 + 2 + 1 + 1 + 1 + 4 + 3);
}

#[test]
fn gradients_are_the_differences_of_residuals() {
    let linkage = linkage();
    let mut pose = pose(&linkage);
    let (n, step) = (linkage.coordinates, 1e-5);
    for joint in linkage.joints.iter().filter(|j| !j.rows().is_empty()) {
        let count = joint.rows().len();
        let mut rows = vec![0.0; count * n];
        joint.gradient(&linkage, &pose, &mut rows);
        let at = pose.q.clone();
        for k in 0..n {
            let mut sides = [-step, step].map(|by| {
                let mut q = at.clone();
                q[k] += by;
                pose.set(&linkage, &q);
                let mut out = vec![0.0; count];
                joint.residual(&linkage, &pose, &mut out);
                out
            });
            let [low, high] = &mut sides;
            for r in 0..count {
                let slope = (high[r] - low[r]) / (2.0 * step);
                assert!(
                    near(rows[r * n + k], slope, 1e-6),
                    "{}, row {r}, coordinate {k}: {} and {slope}",
                    named(joint),
                    rows[r * n + k]
                );
            }
        }
        pose.set(&linkage, &at);
        assert!(rows.iter().any(|v| v.abs() > 1.0), "{}", named(joint));
    }
}

#[test]
fn forces_are_the_transposed_gradient() {
    let linkage = linkage();
    let pose = pose(&linkage);
    let n = linkage.coordinates;
    let multipliers: Vec<f64> = (0..linkage.equations)
        .map(|k| 0.7 - 1.3 * k as f64)
        .collect();
    for joint in linkage.joints.iter().filter(|j| !j.rows().is_empty()) {
        let mut rows = vec![0.0; joint.rows().len() * n];
        joint.gradient(&linkage, &pose, &mut rows);
        let load = joint.load(linkage.size, &multipliers);
        let mut efforts = Vec::new();
        joint.act(&pose, load, &mut efforts);
        let found = general(&linkage, &pose, &efforts);
        for k in 0..n {
            let wanted: f64 = (joint.rows().enumerate())
                .map(|(r, row)| multipliers[row] * rows[r * n + k])
                .sum();
            assert!(
                near(found[k], wanted, 1e-9),
                "{}, coordinate {k}: {} and {wanted}",
                named(joint),
                found[k]
            );
        }
    }
}

#[test]
fn the_second_body_gets_what_the_first_gives() {
    let linkage = linkage();
    let pose = pose(&linkage);
    for joint in &linkage.joints {
        let mut efforts = Vec::new();
        joint.act(&pose, [3.0, -5.0], &mut efforts);
        for wall in Wall::ALL {
            joint.drag(&pose, 2.0, wall, &mut efforts);
        }
        joint.spread(&pose, 4.0, &mut efforts);
        let (mut force, mut moment, mut most) = (Vec2::ZERO, 0.0, 0.0_f64);
        for effort in &efforts {
            match *effort {
                Effort::Force {
                    body,
                    arm,
                    place,
                    force: f,
                } => {
                    force += f;
                    moment += place.cross(f);
                    most = most.max(f[0].hypot(f[1]));
                    for k in 0..2 {
                        let at = pose.frames[body].origin[k] + arm[k];
                        assert!(near(at, place[k], 1e-9), "{}", named(joint));
                    }
                }
                Effort::Couple { moment: m, .. } => moment += m,
            }
        }
        assert!(most > 1.0, "{}", named(joint));
        // The two sides of a cut pin do not meet here, so its pair has an arm.
        let meets = named(joint) != "cut pin";
        assert!(
            force.xy().iter().all(|f| near(*f, 0.0, 1e-9)),
            "{}",
            named(joint)
        );
        assert!(!meets || near(moment, 0.0, 1e-9), "{}", named(joint));
    }
}

#[test]
fn friction_takes_its_size_times_the_rate() {
    let linkage = linkage();
    let pose = pose(&linkage);
    let tangent: Vec<f64> = (0..linkage.coordinates)
        .map(|k| 1.1 - 0.4 * k as f64)
        .collect();
    let mut rates = Rates::new(&linkage);
    rates.set(&linkage, &pose, &tangent, -1.0);
    let all = linkage.joints.iter();
    for (joint, wall) in all.flat_map(|joint| Wall::ALL.map(|wall| (joint, wall))) {
        let mut efforts = Vec::new();
        joint.drag(&pose, 2.5, wall, &mut efforts);
        let power: f64 = (efforts.iter())
            .map(|effort| match *effort {
                Effort::Force {
                    body, place, force, ..
                } => force.dot(rates.of(&pose, body, place)),
                Effort::Couple { body, moment } => moment * rates.spin[body.index()],
            })
            .sum();
        let rate = joint.rate(&pose, &rates, wall);
        assert!(rate.abs() > 1e-2, "{}: {rate}", named(joint));
        assert!(
            near(power, 2.5 * rate, 1e-9 * rate.abs().max(1.0)),
            "{}: {power} and {}",
            named(joint),
            2.5 * rate
        );
    }
}

#[test]
fn slopes_of_the_contact_force_are_its_differences() {
    let step = 1e-6;
    for law in [
        ContactForce::Length,
        ContactForce::Greater { edge: 0.0 },
        ContactForce::Greater { edge: 0.5 },
        ContactForce::Pressed { sign: 1.0 },
        ContactForce::Pressed { sign: -1.0 },
        ContactForce::Driven {
            first: 0.3,
            second: 0.4,
            opposed: false,
        },
    ] {
        for (load, sense) in [([3.0, -4.0], 1.0), ([-1.0, 9.0], 1.0), ([3.0, 1.0], -1.0)] {
            let slope = law.slope(load, sense);
            for k in 0..2 {
                let [low, high] = [-step, step].map(|by| {
                    let mut load = load;
                    load[k] += by;
                    law.of(load, sense)
                });
                assert!(
                    near(slope[k], (high - low) / (2.0 * step), 1e-8),
                    "{law:?} at {load:?}, number {k}"
                );
            }
        }
    }
}

#[test]
fn a_key_starts_within_half_a_turn_of_what_it_says() {
    let linkage = linkage();
    let key = linkage.joints.iter().find(|j| named(j) == "key");
    let key = key.expect("a key");
    let [rider, on] = key.bodies().map(|b| linkage.bodies[b].angle);
    assert!(rider != GROUND && on != GROUND);
    let mut q = vec![0.0; linkage.coordinates];
    (q[rider], q[on]) = (0.5 + 4.0 * std::f64::consts::PI, 0.1);
    key.start(&linkage, &mut q);
    assert!(near(q[rider], 0.5, 1e-12), "{}", q[rider]);
}

/// Work out over work in of a pair of wheels under its friction, either of them driving, is 1 − μ H.
#[test]
fn a_mesh_loses_what_its_friction_says_whoever_drives() {
    let linkage = linkage();
    let meshes = linkage.joints.iter().filter_map(|joint| match joint {
        JointFrame::Gear(gear) => Some((joint, gear)),
        _ => None,
    });
    let loss = |inside| {
        let rims = match inside {
            false => [14.0, 20.0].map(|z| crate::geometry::Rim::full_depth(Some(z), false)),
            true => [(40.0, true), (17.0, false)]
                .map(|(z, ring)| crate::geometry::Rim::full_depth(Some(z), ring)),
        };
        1.0 - 0.15 * crate::geometry::mesh_loss(rims, 0.35)
    };
    for (joint, gear) in meshes {
        let law = joint.rub(&tool(), Wall::First).expect("friction").force;
        let efficiency = loss(gear.radii[1] < 0.0);
        for load in [3.0_f64, -3.0] {
            // A turn of the first by 1 turns the second by this.
            let turns = [1.0, -gear.radii[0] / gear.radii[1]];
            let sense = (turns[0] - turns[1]).signum();
            let couple = -sense * law.of([load, 0.0], sense);
            let work = [
                (load * gear.radii[0] + couple) * turns[0],
                (load * gear.radii[1] - couple) * turns[1],
            ];
            // What the mesh takes from the driver, and gives to the driven.
            let [taken, given] = [work[0].min(work[1]), work[0].max(work[1])];
            assert!(
                near(given / -taken, efficiency, 1e-12),
                "{}, load {load}: {} and {efficiency}",
                named(joint),
                given / -taken
            );
        }
    }
}
