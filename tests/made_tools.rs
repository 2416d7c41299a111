//! Strength factors and margins of made tools: by hand, and against the same tools drawn.

use crate::level::level;
use crate::models::{DEMOS, demo};
use jawforce::analysis::{Analysis, Direction};
use jawforce::input::read_tool;
use jawforce::measure::Measure;
use jawforce::model::{Border, By, Demand, Depth, JawId, Leg, Outline, Place, Section, Tool};
use jawforce::plates::shape;
use jawforce::tolerance::{Fate, Finding, Sampling, Study};

fn tool_of(text: &str) -> Tool {
    read_tool(text, &|_| Err(String::new())).unwrap().tool
}

fn study(tool: &Tool, samples: usize) -> Study {
    let sampling = Sampling {
        samples,
        fewer: false,
        ..Sampling::default()
    };
    Analysis::of(tool.clone()).tolerance(&sampling).unwrap()
}

fn of_strength(finding: &&Finding) -> bool {
    matches!(finding.subject.measure, Measure::Safety(_))
}

/// A lever whose pin has a diameter of 6 ± 0.6 mm, everything else being exact. At the angle `a` off the level
/// the nose, 40 mm from the pin, needs F·g/(40 cos a) for the hand's F at g, the hand being square to the lever, and the pin
/// takes both: most at open, where sin a = 5/40. Of two planes in shear each has F/(2 π d²/4), so that the factor
/// goes with d² (mechanics of materials, any textbook), and d is drawn from a normal distribution of
/// deviation 0.2 mm.
#[test]
fn a_pin_that_varies_by_hand() {
    let (force, grip, yield_strength) = (100.0, 100.0, 400.0);
    let sine: f64 = 5.0 / 40.0;
    let cosine = (1.0 - sine * sine).sqrt();
    let jaw = force * grip / (40.0 * cosine);
    let pin = (force * sine).hypot(force * cosine + jaw);
    let factor = |d: f64| 0.577 * yield_strength * 2.0 * std::f64::consts::PI * d * d / 4.0 / pin;
    let least = factor(5.8);
    let more = format!(
        "[joints]\nmaterial = \"steel\"\n[joints.heel]\ndiameter = 6\n\
         [materials.steel]\nyield = {yield_strength}\n\
         [tolerances]\n\"joints.heel.diameter\" = 0.6\n\
         [[demand]]\nmeasure = \"safety\"\nmin = {least}\n"
    );
    let text = level(40.0, "", "[100]", "force = 100", &more);
    let samples = 4000;
    let study = study(&tool_of(&text), samples);
    let finding = study.findings.iter().find(of_strength).unwrap();
    assert!(
        (finding.nominal / factor(6.0) - 1.0).abs() < 1e-9,
        "{}",
        finding.nominal
    );
    let [low, high] = finding
        .corners
        .map(|corner: Result<f64, Fate>| corner.unwrap());
    assert!((low / factor(5.4) - 1.0).abs() < 1e-9, "{low}");
    assert!((high / factor(6.6) - 1.0).abs() < 1e-9, "{high}");
    // One deviation below: 84.134 % (tables of the normal distribution) are above.
    let share = finding.met.unwrap() as f64 / samples as f64;
    let error = (0.841_34 * 0.158_66 / samples as f64).sqrt();
    assert!((share - 0.841_34).abs() < 4.0 * error, "{share}");
    let made = study.made().unwrap();
    assert_eq!(made.met, finding.met.unwrap(), "the yield counts it");
    assert!(made.left_out.is_empty(), "{:?}", made.left_out);
    let mean = finding.summary.as_ref().unwrap().mean;
    // The mean of d² is that of d, squared, and its variance.
    let exact = factor(1.0) * (36.0 + 0.04);
    assert!(
        (mean / exact - 1.0).abs() < 4.0 * 2.0 / 30.0 / (samples as f64).sqrt(),
        "{mean}"
    );
}

fn is_outlined(section: &Section) -> bool {
    section.width == Depth::Outlined
}

/// The outlines of a tool by the coordinates that they have: they follow no pin.
fn fixed_outlines(tool: &Tool) -> Vec<Outline> {
    let fixed = |outline: &Outline| {
        let shape = shape(tool, outline.part).unwrap().unwrap();
        let pieces = &shape.pieces()[shape.border(0)];
        let mut legs = Vec::new();
        for piece in pieces {
            let by = match piece.arc {
                None => By::Line,
                Some(arc) => By::Arc(arc.radius.copysign(arc.sweep)),
            };
            // The shorter arc is meant, so one of half a circle or more goes in two.
            for share in [0.5, 1.0] {
                legs.push(Leg {
                    to: Place::At(piece.point(share).xy()),
                    by: by.clone(),
                    round: None,
                });
            }
        }
        Outline {
            part: outline.part,
            border: Border::Path {
                start: Place::At(pieces[0].from.xy()),
                legs,
            },
            holes: outline.holes.clone(),
        }
    };
    tool.outlines.iter().map(fixed).collect()
}

/// A made tool has the factor, and stands as far from its toggle or dead position, as the same tool does when it is
/// drawn so: at both corners of the tolerances, without play. The motion of the drawn one is followed anew.
#[test]
fn a_made_tool_is_as_one_drawn_like_it() {
    let mut compared = [0; 3];
    for (name, _) in DEMOS {
        let mut tool = demo(name);
        for joint in &mut tool.joint_data {
            joint.clearance = 0.0;
        }
        for gears in &mut tool.gears {
            gears.backlash = None;
        }
        // The dies of a further jaw end the stroke of a drawn tool, of made ones where they do on the drawn.
        tool.jaws.truncate(1);
        (tool.demands).retain(|demand| matches!(demand.measure, Measure::Safety(_)));
        let asked = tool.demands.first().cloned().unwrap();
        for measure in [Measure::ToggleMargin, Measure::ToggleMarginGap] {
            tool.demands.push(Demand {
                measure,
                grip: None,
                ..asked.clone()
            });
        }
        let study = study(&tool, 10);
        for finding in study.findings.iter().filter(|f| f.subject.bound.is_some()) {
            let (kind, near) = match finding.subject.measure {
                // The drawn tool is looked at from step to step. Plates of made tools have their holes as drawn: what a
                // moved hole changes of the section through it (here up to 0.3 mm in 14) is not followed.
                Measure::Safety(_) if tool.sections.iter().any(is_outlined) => (0, 0.02),
                Measure::Safety(_) => (0, 2e-3),
                Measure::ToggleMargin => (1, 1e-7),
                _ => (2, 1e-7),
            };
            for (sign, corner) in [-1.0, 1.0].into_iter().zip(&finding.corners) {
                // Plates of made tools are as drawn, wherever pins have moved.
                let mut drawn = tool.clone();
                drawn.outlines = fixed_outlines(&tool);
                let made = study.plan.varied.iter().zip(&finding.shares);
                drawn.set_numbers(made.map(|(varied, share)| {
                    let up = sign * varied.tolerance;
                    let off = if share.derivative < 0.0 { -up } else { up };
                    (varied.slot, varied.made(off))
                }));
                let read = Analysis::of(drawn).measure(
                    &finding.subject.measure,
                    JawId::FIRST,
                    None,
                    finding.subject.grip,
                    Direction::Closing,
                );
                let (Ok(corner), Ok(Ok(drawn))) = (corner, read) else {
                    continue;
                };
                let off = (corner / drawn - 1.0).abs();
                assert!(
                    off < near,
                    "{name} {:?}: {corner}, drawn {drawn}",
                    finding.subject
                );
                compared[kind] += 1;
            }
        }
    }
    assert!(compared.iter().all(|&many| many >= 6), "{compared:?}");
}

/// The load stands in every jaw that works, and the least factor of all is that of the tool.
#[test]
fn factors_are_read_with_the_load_in_every_nest() {
    let tool = tool_of(include_str!("files/three-nests.toml"));
    let all = study(&tool, 200);
    let all = all.findings.iter().find(of_strength).unwrap();
    assert_eq!(all.subject.grip, None, "over all grips");
    let found = Analysis::of(tool.clone());
    let whole = found.measure(
        &all.subject.measure,
        JawId::FIRST,
        None,
        None,
        Direction::Closing,
    );
    assert_eq!(whole.unwrap().unwrap(), all.nominal);
    // With the work in one jaw alone no made tool is weaker than with it in any.
    let mean = |finding: &Finding| finding.summary.as_ref().unwrap().mean;
    let mut equal = 0;
    for jaw in JawId::ids(3) {
        let mut one = tool.clone();
        for (other, data) in one.jaws.iter_mut().enumerate() {
            if other != jaw.index() {
                data.work = None;
            }
        }
        one.demands
            .retain(|demand| matches!(demand.measure, Measure::Safety(_)));
        let one = study(&one, 200);
        let one = one.findings.iter().find(of_strength).unwrap();
        assert!(one.nominal >= all.nominal && mean(one) >= mean(all) - 1e-9);
        equal += usize::from(one.nominal == all.nominal);
    }
    assert_eq!(equal, 1, "one nest is the worst");
}

/// The study of a tool for the least factor of a part, when one number of an outline may be off by so much.
fn with_outline(name: &str, part: &str, address: &str, tolerance: f64) -> (Tool, Study) {
    let (_, text) = DEMOS.iter().find(|demo| demo.0 == name).unwrap();
    let (rest, _) = text.split_once("[tolerances]").unwrap();
    let text = format!(
        "{rest}\n[[demand]]\nmeasure = \"safety.{part}\"\nmin = 1\n[tolerances]\n\"{address}\" = {tolerance}\n"
    );
    let mut tool = tool_of(&text);
    for joint in &mut tool.joint_data {
        joint.clearance = 0.0;
    }
    for gears in &mut tool.gears {
        gears.backlash = None;
    }
    let of_part = |demand: &Demand| demand.measure == Measure::Safety(Some(part.to_owned()));
    tool.demands.retain(of_part);
    let study = study(&tool, 60);
    (tool, study)
}

/// A number of an outline is made within its tolerance like any other: the factor at both corners is that of the
/// tool drawn so, samples lie between. An outline that mirrors it goes with it.
#[test]
fn outlines_are_made_within_their_tolerances() {
    for (name, part, address, tolerance, near) in [
        (
            "snap-press",
            "frame",
            "outlines.frame.path.2.to.x",
            1.5,
            2e-3,
        ),
        (
            "seal-pliers",
            "lower",
            "outlines.upper.path.4.smooth.2.y",
            0.4,
            2e-3,
        ),
    ] {
        let (tool, study) = with_outline(name, part, address, tolerance);
        let finding = study.findings.iter().find(of_strength).unwrap();
        let corners = finding
            .corners
            .map(|corner: Result<f64, Fate>| corner.unwrap());
        let varied = &study.plan.varied[0];
        assert_eq!(varied.address, address);
        let up = finding.shares[0].derivative > 0.0;
        for (sign, corner) in [-1.0, 1.0].into_iter().zip(corners) {
            let off = if up { sign } else { -sign } * tolerance;
            let mut drawn = tool.clone();
            drawn.set_numbers([(varied.slot, varied.nominal + off)]);
            let measure = &finding.subject.measure;
            let drawn = Analysis::of(drawn)
                .measure(measure, JawId::FIRST, None, None, Direction::Closing)
                .unwrap()
                .unwrap();
            assert!(
                (corner / drawn - 1.0).abs() < near,
                "{name} {sign}: {corner}, drawn {drawn}"
            );
        }
        let apart = corners[1] - corners[0];
        assert!(apart > 0.01 * finding.nominal, "{name}: {corners:?}");
        let summary = finding.summary.as_ref().unwrap();
        let [low, high] = summary.range;
        assert!(
            corners[0] <= low && high <= corners[1],
            "{name}: {low} to {high}, {corners:?}"
        );
        assert!(high - low > 0.4 * apart, "{name}: {low} to {high}");
    }
}
