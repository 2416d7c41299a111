//! Measures against dense sampling: what is found by roots and by Brent's method must be what a
//! stroke solved at very many positions shows.

use jawforce::analysis::{Direction, solve};
use jawforce::input::read_tool;
use jawforce::measure::{Measure, Reader, Reading, named};
use jawforce::model::{At, Cam, CamFace, GripId, Tool};
use jawforce::statics::{Answer, Mounted, Rig};

const DENSE: usize = 4000;

fn demos() -> Vec<Tool> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let mut files: Vec<_> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    let side = |file: &str| std::fs::read_to_string(folder.join(file)).map_err(|e| e.to_string());
    files
        .iter()
        .map(|path| {
            let text = std::fs::read_to_string(path).unwrap();
            let mut tool = read_tool(&text, &side).unwrap().tool;
            tool.demands.clear();
            tool
        })
        .collect()
}

/// Every measure of a position at every dense position: (gap, handle, value).
type Curve = Vec<(f64, f64, Option<f64>)>;

fn dense(tool: &Tool, measure: &Measure, grip: usize) -> Curve {
    let mut tool = tool.clone();
    tool.stroke.steps = DENSE;
    let solved = solve(&tool, Direction::Closing).unwrap();
    let positions = solved.positions.iter();
    positions
        .map(|p| {
            let held = &p.grips[grip];
            let value = match measure {
                Measure::Span => held.span,
                Measure::Ratio => held.ratio[0],
                Measure::JawForce => match held.answer[0] {
                    Some(Answer::Moves { force, .. }) => Some(force),
                    Some(Answer::Slack) => Some(0.0),
                    _ => None,
                },
                Measure::HandForce => match held.needed {
                    Some(Answer::Moves { force, .. }) => Some(force),
                    Some(Answer::Slack) => Some(0.0),
                    _ => None,
                },
                _ => Some(p.gap[0]),
            };
            (p.gap[0], p.handle, value)
        })
        .collect()
}

fn value(reading: Reading) -> Option<f64> {
    reading.ok()
}

/// Peak and least value: none of the dense positions is beyond them, and the best of these comes
/// within the rise of one dense step.
/// Without friction and springs nothing is lost between hand and jaw, however the work is drawn: with
/// jumps and peaks far narrower than the steps of the stroke.
#[test]
fn the_hand_gives_the_work_of_the_jaw() {
    let text = std::fs::read_to_string("demo-data/eyelet-toggle.toml").unwrap();
    let beside = |name: &str| {
        std::fs::read_to_string(format!("demo-data/{name}")).map_err(|e| e.to_string())
    };
    let mut tool = read_tool(&text, &beside).unwrap().tool;
    tool.springs.clear();
    for joint in &mut tool.joint_data {
        joint.friction = 0.0;
    }
    for slot in &mut tool.slots {
        slot.friction = 0.0;
    }
    tool.stroke.steps = 12;
    let work = tool.jaws[0].work.as_mut().unwrap();
    work.need = vec![
        [6.03, 250.0],
        [4.0, 100.0],
        [3.99, 4000.0],
        [3.98, 80.0],
        [1.1, 900.0],
    ];
    let mounted = Mounted::new(&tool).unwrap();
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
    let mut reader = Reader::new(&mut rig);
    let mut read = |measure| {
        reader
            .over_stroke(&measure, GripId::FIRST)
            .unwrap()
            .unwrap()
    };
    let (hand, jaw) = (read(Measure::HandWork), read(Measure::JawWork));
    // By hand: the trapezes, and the last row's force from there to the shut gap of 0.
    let area = |[a, b]: [[f64; 2]; 2]| 0.5 * (a[1] + b[1]) * (a[0] - b[0]);
    let rows = [
        [6.03, 250.0],
        [4.0, 100.0],
        [3.99, 4000.0],
        [3.98, 80.0],
        [1.1, 900.0],
        [0.0, 900.0],
    ];
    let by_hand: f64 = rows.windows(2).map(|w| area([w[0], w[1]])).sum();
    assert!((jaw / by_hand - 1.0).abs() < 1e-9, "{jaw} {by_hand}");
    assert!((hand / jaw - 1.0).abs() < 1e-6, "{hand} {jaw}");
}

#[test]
fn peaks_and_least_values_bound_a_dense_stroke() {
    let mut compared = 0;
    for tool in demos() {
        let mounted = Mounted::new(&tool).unwrap();
        let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
        for name in ["gap", "span", "ratio", "jaw_force", "hand_force"] {
            let (measure, _) = named(&tool, name).unwrap();
            if name == "hand_force" && tool.work().is_none() {
                continue;
            }
            let curve = dense(&tool, &measure, 0);
            let values: Vec<f64> = curve.iter().filter_map(|c| c.2).collect();
            let rise = values
                .windows(2)
                .fold(0.0_f64, |m, w| m.max((w[1] - w[0]).abs()));
            for (at, sense) in [(At::Peak, 1.0), (At::Least, -1.0)] {
                let found = value(
                    Reader::new(&mut rig)
                        .at(&measure, at, GripId::FIRST)
                        .unwrap(),
                );
                let Some(found) = found else {
                    // Without bound at a toggle: then the dense stroke lacks a value there too.
                    assert!(values.len() < curve.len(), "{} {name}", tool.name);
                    continue;
                };
                let best = values
                    .iter()
                    .fold(f64::NEG_INFINITY, |m, v| m.max(sense * v));
                let slack = 1e-9 * found.abs().max(1e-3);
                assert!(
                    sense * found >= best - slack && sense * found <= best + rise + slack,
                    "{} {name} {at:?}: {found}, dense {best}, rise {rise}",
                    tool.name
                );
                compared += 1;
            }
        }
    }
    assert!(compared >= 30, "{compared}");
}

/// At a gap and at a handle angle: between the two dense positions on either side of it, and near
/// the straight line between them.
#[test]
fn values_at_a_position_lie_on_the_dense_curve() {
    let mut compared = 0;
    for tool in demos() {
        let mounted = Mounted::new(&tool).unwrap();
        let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
        for name in ["span", "ratio", "jaw_force", "hand_force"] {
            let (measure, _) = named(&tool, name).unwrap();
            if name == "hand_force" && tool.work().is_none() {
                continue;
            }
            let curve = dense(&tool, &measure, 0);
            for k in (177..DENSE).step_by(611) {
                let (a, b) = (curve[k], curve[k + 1]);
                let (Some(low), Some(high)) = (a.2, b.2) else {
                    continue;
                };
                // A third of the way along.
                let between = |a: f64, b: f64| a + (b - a) / 3.0;
                for at in [At::Gap(between(a.0, b.0)), At::Handle(between(a.1, b.1))] {
                    let found = value(
                        Reader::new(&mut rig)
                            .at(&measure, at, GripId::FIRST)
                            .unwrap(),
                    )
                    .unwrap();
                    let line = between(low, high);
                    let slack = 0.02 * (high - low).abs() + 1e-6 * line.abs();
                    assert!(
                        (found - line).abs() <= slack,
                        "{} {name} {at:?}: {found}, dense {line} ± {slack}",
                        tool.name
                    );
                    compared += 1;
                }
            }
        }
    }
    assert!(compared >= 150, "{compared}");
}

/// Without friction and springs all work of the hand comes to the jaw: the area under the work's curve,
/// whose corners lie between the steps of the stroke.
#[test]
fn without_losses_the_hand_works_as_much_as_the_jaw() {
    for mut tool in demos() {
        tool.springs.clear();
        for joint in &mut tool.joint_data {
            joint.friction = 0.0;
        }
        for slot in &mut tool.slots {
            slot.friction = 0.0;
        }
        for gears in &mut tool.gears {
            gears.friction = 0.0;
        }
        for cam in &mut tool.cams {
            cam.friction = 0.0;
        }
        if let Some(ratchet) = &mut tool.ratchet {
            ratchet.height = None; // no drag
        }
        let mounted = Mounted::new(&tool).unwrap();
        let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
        let mut reader = Reader::new(&mut rig);
        for grip in GripId::ids(tool.hand.grips.len()) {
            let hand = value(reader.over_stroke(&Measure::HandWork, grip).unwrap()).unwrap();
            let jaw = value(reader.over_stroke(&Measure::JawWork, grip).unwrap()).unwrap();
            // Where the contact passes a point of a curved face, the second derivative of the hand force jumps (the
            // spline's third one), which the rule for the integral is not made for.
            let curved = |cam: &Cam| matches!(cam.face, CamFace::Curve(_));
            let near = if tool.cams.iter().any(curved) {
                1e-6
            } else {
                1e-8
            };
            assert!(
                (hand / jaw - 1.0).abs() < near,
                "{}: {hand} {jaw}",
                tool.name
            );
        }
    }
}
