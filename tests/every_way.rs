//! Every measure, in every way to read it: by itself, as a demand, side by side, as the nominal of a tolerance
//! study, before tuning, and off the report. On random linkages with several jaws, each with a job of its own.

use crate::models::random::{Dice, load, pin_in_slot, six_bar};
use crate::nests::with_second;
use jawforce::analysis::{Analysis, Direction, Outcome};
use jawforce::compare::{Column, Variant, compare};
use jawforce::measure::{Measure, Reading, readable};
use jawforce::model::{
    Aim, At, Bound, Demand, HandLimit, JawId, Job, JointId, Material, PartId, Speed, ToleranceRule,
    Tolerances, Tool, Tune, Want,
};
use jawforce::report::{Source, check_report, stroke_report, tolerance_report};
use jawforce::tolerance::Sampling;
use jawforce::tune::TuneError;
use jawforce::units::UnitSystem;
use proptest::prelude::*;
use proptest::test_runner::{Config, TestCaseError, TestRunner};
use serde_json::Value;
use std::cell::RefCell;
use std::collections::BTreeSet;

/// How many measures are asked of each tool.
const ASKED: usize = 12;
/// Tuning judges many tools: one in so many is tuned.
const TUNED: usize = 20;

/// What is asked of a tool.
#[derive(Debug, Clone)]
struct Question {
    measure: Measure,
    jaw: JawId,
    at: Option<At>,
}

/// Every measure of each jaw at each kind of position that a random tool has.
fn questions(tool: &Tool, gaps: &[[f64; 2]], handles: [f64; 2]) -> Vec<Question> {
    let mut measures: Vec<Measure> = jawforce::model::MEASURES.to_vec();
    let last = JointId::new(tool.joints.len() - 1);
    measures.push(Measure::PinLoad(last));
    measures.push(Measure::Safety(Some(tool.joint_label(last))));
    let mut all = Vec::new();
    for measure in measures {
        for jaw in JawId::ids(tool.jaws.len()) {
            if readable(tool, &measure, jaw).is_err() || (!measure.per_jaw() && jaw != JawId::FIRST)
            {
                continue;
            }
            let [open, shut] = gaps[jaw.index()];
            let places = match measure.at_position() {
                true => vec![
                    Some(At::Open),
                    Some(At::Shut),
                    Some(At::Gap(0.6 * open + 0.4 * shut)),
                    Some(At::Handle(0.3 * handles[0] + 0.7 * handles[1])),
                    Some(At::Peak),
                    Some(At::Least),
                ],
                false => vec![None],
            };
            all.extend(places.into_iter().map(|at| Question {
                measure: measure.clone(),
                jaw,
                at,
            }));
        }
    }
    all
}

/// The tool asks for all of it, and says how exact one dimension of its is.
fn asking(tool: &mut Tool, asked: &[Question], part: PartId) -> String {
    let demand = |q: &Question| Demand {
        measure: q.measure.clone(),
        jaw: q.jaw,
        at: q.at,
        grip: None,
        bound: Bound {
            min: Some(0.0),
            max: None,
        },
    };
    tool.demands = asked.iter().map(demand).collect();
    let own = &tool.parts[part];
    let point = own.points.last().unwrap();
    let dimension = format!("{}.{}.x", own.name, point.name);
    tool.tolerances = Tolerances {
        class: None,
        rules: vec![ToleranceRule {
            dimension: dimension.clone(),
            value: 1e-4,
        }],
    };
    dimension
}

fn same(found: Option<f64>, expected: Option<f64>) -> bool {
    match (found, expected) {
        (Some(found), Some(expected)) => {
            // Forces of some hundred newtons that cancel leave rounding of 1e-14 of these, in either way of reading.
            (found - expected).abs() <= 1e-9 * expected.abs().max(1e-3)
        }
        (found, expected) => found.is_none() && expected.is_none(),
    }
}

type Checked = Result<(), TestCaseError>;

fn agree(way: &str, q: &Question, found: Option<f64>, expected: Option<f64>) -> Checked {
    prop_assert!(
        same(found, expected),
        "{way}: {q:?}: {found:?}, expected {expected:?}"
    );
    Ok(())
}

fn by_itself(tool: &Analysis, q: &Question) -> Result<Option<f64>, TestCaseError> {
    let read = tool.measure(&q.measure, q.jaw, q.at, None, Direction::Closing);
    let reading: Reading = read.map_err(|e| TestCaseError::fail(format!("{q:?}: {e:?}")))?;
    Ok(reading.ok().filter(|value| value.is_finite()))
}

/// Each of the demands, of which there is one outcome: the tool has one grip.
fn as_demands(
    tool: &Analysis,
    asked: &[Question],
    expected: &[Option<f64>],
) -> Result<Vec<Outcome>, TestCaseError> {
    let outcomes = tool
        .demands(Direction::Closing)
        .unwrap_or_else(|e| panic!("{e:?}"));
    prop_assert_eq!(outcomes.len(), asked.len());
    for ((q, outcome), expected) in asked.iter().zip(&outcomes).zip(expected) {
        agree("demand", q, outcome.value(), *expected)?;
        let bound = tool.tool().demands[outcome.demand].bound;
        prop_assert_eq!(
            outcome.met,
            expected.is_some_and(|v| bound.holds(v)),
            "{:?}",
            q
        );
    }
    Ok(outcomes)
}

/// Those that have a name of their own: under the work at a further jaw a pin's load has none.
fn side_by_side(tool: &Tool, asked: &[Question], expected: &[Option<f64>]) -> Checked {
    let name = |q: &Question| q.measure.name_of(tool, q.jaw);
    let named: Vec<usize> = (0..asked.len())
        .filter(|&k| !name(&asked[k]).contains(", jaw "))
        .collect();
    let column = |&k: &usize| Column {
        measure: name(&asked[k]),
        at: asked[k].at,
    };
    let columns: Vec<Column> = named.iter().map(column).collect();
    let variant = Variant {
        file: 0,
        set: Vec::new(),
        tool: tool.clone(),
    };
    let rows = compare(&[variant], &columns, &|| {});
    prop_assert_eq!(&rows[0].problem, &None);
    for (&k, found) in named.iter().zip(&rows[0].values) {
        agree("compare", &asked[k], *found, expected[k])?;
    }
    let met = expected
        .iter()
        .filter(|v| v.is_some_and(|v| v >= 0.0))
        .count();
    prop_assert_eq!(rows[0].met, Some((met, asked.len())));
    Ok(())
}

/// Every demand is read off samples or left out, with its nominal value either way.
fn as_nominal(tool: &Analysis, asked: &[Question], expected: &[Option<f64>]) -> Checked {
    let sampling = Sampling {
        samples: 2,
        threads: Some(1),
        ..Sampling::default()
    };
    let study = tool
        .tolerance(&sampling)
        .unwrap_or_else(|e| panic!("{e:?}"));
    let report = tolerance_report(tool.tool(), &study, &Source::default(), UnitSystem::MmN);
    let is = |q: &Question, s: &jawforce::tolerance::Subject| {
        s.bound.is_some() && (&s.measure, s.jaw, s.at) == (&q.measure, q.jaw, q.at)
    };
    for (q, expected) in asked.iter().zip(expected) {
        let known = study.findings.iter().position(|f| is(q, &f.subject));
        let found = match known {
            Some(k) => {
                let shown = q.measure.kind().quantity;
                let shown = shown.map_or(study.findings[k].nominal, |quantity| {
                    UnitSystem::MmN.show(study.findings[k].nominal, quantity)
                });
                prop_assert!((report.measures[k].nominal - shown).abs() <= 1e-12 * shown.abs());
                Some(study.findings[k].nominal)
            }
            None => {
                let unread = study.unread.iter().find(|u| is(q, &u.subject));
                unread.unwrap_or_else(|| panic!("{q:?} is nowhere")).nominal
            }
        };
        agree("tolerance", q, found, *expected)?;
    }
    Ok(())
}

/// The aim before tuning is one of what is asked, and so are the demands; whether it could be tuned.
fn before_tuning(
    tool: &Tool,
    dimension: &str,
    asked: &[Question],
    expected: &[Option<f64>],
) -> Result<bool, TestCaseError> {
    let known = asked.iter().zip(expected).find(|(_, v)| v.is_some());
    let Some((q, value)) = known else {
        return Ok(false);
    };
    let mut tuned = tool.clone();
    let slot = jawforce::model::dimension::find(&tuned, dimension).unwrap();
    let at = slot.get(&tuned).unwrap();
    tuned.tunes = vec![Tune {
        dimension: dimension.to_owned(),
        from: at - 0.02,
        to: at + 0.02,
    }];
    tuned.aim = Some(Aim {
        measure: q.measure.clone(),
        jaw: q.jaw,
        at: q.at,
        grip: None,
        want: Want::Least,
    });
    let found = Analysis::of(tuned).tune(&|| {});
    let found = match found {
        // Some tools move on no rounded number so near.
        Err(TuneError::NoStep(_)) => return Ok(false),
        found => found.unwrap_or_else(|e| panic!("{e:?}")),
    };
    agree("aim", q, found.aim[0], *value)?;
    prop_assert_eq!(found.demands[0].len(), asked.len());
    for ((q, outcome), expected) in asked.iter().zip(&found.demands[0]).zip(expected) {
        agree("tune", q, outcome.value(), *expected)?;
    }
    Ok(true)
}

/// The JSON of `stroke` and `check`: demands, the rows at open and at shut, and all jaws in a line.
fn off_the_report(
    tool: &Analysis,
    asked: &[Question],
    outcomes: &[Outcome],
    expected: &[Option<f64>],
) -> Checked {
    let (units, source) = (UnitSystem::MmN, Source::default());
    let solved = tool.stroke(Direction::Closing).unwrap();
    let report = stroke_report(tool.tool(), solved, outcomes, &source, units);
    let json: Value = serde_json::to_value(&report).unwrap();
    let checked = check_report(tool.tool(), solved, &source, units, &|_| true);
    let positions = json["positions"].as_array().unwrap();
    for (k, (q, expected)) in asked.iter().zip(expected).enumerate() {
        let kind = q.measure.kind();
        let show = |v: f64| kind.quantity.map_or(v, |quantity| units.show(v, quantity));
        let expected = expected.map(show);
        let demand = &json["demands"][k];
        agree("report", q, demand["value"].as_f64(), expected)?;
        let end = match q.at {
            Some(At::Open) => 0,
            Some(At::Shut) => positions.len() - 1,
            // The greatest hand force for the work at a jaw stands in the line of that jaw.
            Some(At::Peak) if q.measure == Measure::HandForce => {
                let own = &json["all_jaws"][q.jaw.index()];
                agree("all jaws", q, own["grips"][0]["peak"].as_f64(), expected)?;
                continue;
            }
            _ => continue,
        };
        let name = &tool.tool().jaws[q.jaw].name;
        let row = &positions[end];
        let forces = &row["grips"][0]["jaws"][name];
        let line = &json["all_jaws"][q.jaw.index()];
        prop_assert_eq!(&line["jaw"], name);
        let found = match kind.word {
            "gap" => {
                let side = usize::from(end > 0);
                agree("all jaws", q, line["gap"][side].as_f64(), expected)?;
                agree("check", q, Some(checked.gaps[name][side]), expected)?;
                &row["jaws"][name]["gap"]
            }
            "handle" => &row["handle"],
            "travel" => &row["travel"],
            "ratio" | "jaw_force" => {
                if end > 0 {
                    agree(
                        "all jaws",
                        q,
                        line["grips"][0][kind.word].as_f64(),
                        expected,
                    )?;
                }
                &forces[kind.word]
            }
            "efficiency" => &forces["efficiency"],
            // The rows have that of the first jaw.
            "hand_force" if q.jaw == JawId::FIRST => &forces["hand_force"],
            _ => continue,
        };
        agree("rows", q, found.as_f64(), expected)?;
    }
    Ok(())
}

#[test]
fn every_measure_agrees_in_every_way_to_read_it() {
    let config = Config {
        cases: 100,
        max_global_rejects: 20_000,
        failure_persistence: None,
        max_shrink_iters: 100,
        ..Config::default()
    };
    let mut runner = TestRunner::new(config);
    let (read, tuned) = (RefCell::new(BTreeSet::new()), RefCell::new((0, 0)));
    let numbers = (prop::collection::vec(0.0..1.0f64, 300), any::<bool>());
    let run = runner.run(&numbers, |(numbers, slotted)| {
        let mut dice = Dice::new(&numbers);
        let made = if slotted {
            pin_in_slot(&mut dice)
        } else {
            six_bar(&mut dice)
        };
        prop_assume!(made.is_some());
        let mut tool = made.unwrap();
        load(&mut tool, &mut dice);
        let made = with_second(tool, &mut dice);
        prop_assume!(made.is_some());
        let mut tool = made.unwrap();
        tool.hand.limit = Some(HandLimit::Force(dice.within(50.0, 500.0)));
        tool.job = Some(Job {
            strokes: dice.within(0.01, 0.2),
            held: dice.within(0.5, 3.0),
            hours: dice.within(1.0, 8.0),
            wrist: dice.within(-0.5, 0.5),
            speed: Speed::Fair,
            population: Some("m-30-34".to_owned()),
            share: 0.5,
        });
        tool.materials = vec![Material {
            name: "pin".to_owned(),
            yield_strength: 400.0,
            ultimate: None,
            modulus: None,
            density: None,
            price: None,
            surface: None,
        }];
        for data in &mut tool.joint_data {
            data.material = Some(0);
        }
        let first = Analysis::of(tool.clone());
        let solved = first.stroke(Direction::Closing);
        prop_assume!(solved.is_ok());
        let solved = solved.unwrap();
        let (open, shut) = (
            solved.positions.first().unwrap(),
            solved.positions.last().unwrap(),
        );
        let gaps: Vec<[f64; 2]> = open
            .gap
            .iter()
            .zip(&shut.gap)
            .map(|(a, b)| [*a, *b])
            .collect();
        let mut all = questions(&tool, &gaps, [open.handle, shut.handle]);
        let mut asked = Vec::new();
        for _ in 0..ASKED {
            asked.push(all.swap_remove((dice.one() * all.len() as f64) as usize));
        }
        let part = tool.hand.handle.part;
        let dimension = asking(&mut tool, &asked, part);
        let analysis = Analysis::of(tool.clone());
        let expected = asked.iter().map(|q| by_itself(&analysis, q));
        let expected = expected.collect::<Result<Vec<_>, _>>()?;
        let outcomes = as_demands(&analysis, &asked, &expected)?;
        side_by_side(&tool, &asked, &expected)?;
        as_nominal(&analysis, &asked, &expected)?;
        off_the_report(&analysis, &asked, &outcomes, &expected)?;
        let mut count = tuned.borrow_mut();
        // One that tells nothing is made up for by the next.
        if count.0 >= TUNED * count.1 {
            let read = before_tuning(&tool, &dimension, &asked, &expected)?;
            count.1 += usize::from(read);
        }
        count.0 += 1;
        let known = asked.iter().zip(&expected).filter(|(_, v)| v.is_some());
        let word = |(q, _): (&Question, _)| (q.measure.kind().word, q.jaw.index());
        read.borrow_mut().extend(known.map(word));
        Ok(())
    });
    run.unwrap_or_else(|e| panic!("{e}"));
    // All words of both jaws were read but what these tools lack: a second handle, made tools, mostly a toggle.
    let read = read.into_inner();
    for measure in jawforce::model::MEASURES {
        let word = measure.kind().word;
        // Nor has any of them plates, stops, cams or a ratchet.
        let others = [
            "mass",
            "clearance",
            "pinch",
            "stress",
            "stop_load",
            "ratchet.step",
            "ratchet.free_gap",
            "spring_safety",
            "spring_stress",
            "contact",
            "pressure_angle",
        ];
        if others.contains(&word)
            || ["span", "yield", "toggle_margin", "toggle_margin.gap"].contains(&word)
        {
            continue;
        }
        let jaws = if measure.per_jaw() { 2 } else { 1 };
        for jaw in 0..jaws {
            assert!(
                read.contains(&(word, jaw)),
                "{word} of jaw {jaw} was never read"
            );
        }
    }
    assert!(tuned.into_inner().1 >= 5);
}
