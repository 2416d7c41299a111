//! The jobs of the program on one tool.

use jawforce::analysis::{Analysis, Direction, Failure, solve};
use jawforce::compare::{Column, Variant, compare};
use jawforce::analysis::{LoadsError, case_loads, loads_at};
use jawforce::model::{At, GripId, PartId, Tool};
use jawforce::output::{
    ChartOptions, DrawingOptions, Rows, TableOptions, check_text, compare_csv, compare_table,
    drawing_svg, force_curves, json_text, loads_csv, loads_text, plot, to_csv, to_table,
    tolerance_chart, tolerance_csv, tolerance_text, tune_text,
};
use jawforce::report::{
    Source, check_report, compare_report, drawing_report, life_report, loads_report, parts_report,
    plates_report, room_report, stroke_report, tolerance_report, tune_report, wound_report,
};
use jawforce::scene::scenes;
use jawforce::statics::{Mounted, Rig};
use jawforce::tolerance::Sampling;

use jawforce::units::UnitSystem;

/// Steps, grips and samples multiply the time and add no new way to fail.
const STEPS: usize = 10;
const GRIPS: usize = 3;
const SAMPLES: usize = 40;

fn shorter(tool: &Tool) -> Tool {
    let mut tool = tool.clone();
    tool.stroke.steps = tool.stroke.steps.min(STEPS);
    tool.hand.grips.truncate(GRIPS);
    tool
}

/// Words hold no number that is none.
fn finite(words: &str) {
    assert!(!words.contains("NaN") && !words.contains("inf,"), "{words}");
}

/// A failure has words, and is never that the answer disagrees with itself.
fn refused(failure: &Failure, tool: &Tool) {
    assert!(!failure.text(tool).is_empty());
    assert!(!matches!(failure, Failure::Check { .. }), "{failure:?}");
}

/// As `stroke` and `check`; whether it was solved.
pub fn stroke(tool: &Tool) -> bool {
    let tool = &shorter(tool);
    let source = Source::default();
    let units = match tool.units {
        UnitSystem::MmN => UnitSystem::InLbf,
        UnitSystem::InLbf => UnitSystem::MmN,
    };
    let mut solved_all = true;
    for (direction, units) in [
        (Direction::Closing, tool.units),
        (Direction::Opening, units),
    ] {
        let solved = match solve(tool, direction) {
            Ok(solved) => solved,
            Err(failure) => {
                refused(&failure, tool);
                if let Failure::Motion(error) = &failure {
                    for change in jawforce::statics::reaching(tool, error) {
                        assert!(!change.text(tool.units).is_empty());
                    }
                }
                solved_all = false;
                continue;
            }
        };
        let read = Analysis::of(tool.clone()).judge(direction, |judge| judge.demands().ok());
        let read = read.ok().flatten().unwrap_or_default();
        let report = stroke_report(tool, &solved, &read, &source, units);
        let all = TableOptions {
            rows: Rows::All,
            ..TableOptions::default()
        };
        finite(&to_table(&report, &all));
        finite(&plot(&report, 80));
        finite(&to_csv(&report).expect("finite numbers"));
        finite(&json_text(&report).expect("finite numbers"));
        finite(&force_curves(&report, &ChartOptions::default()).expect("a chart"));
        let checked = check_report(tool, &solved, &source, units, &|_| false);
        finite(&check_text(&checked, 80, true));
    }
    solved_all
}

/// Every job, one after the other; tuning, which solves hundreds of tools, only if wanted.
pub fn every_job(tool: &Tool, tuning: bool) {
    if !stroke(tool) {
        return;
    }
    let tool = &shorter(tool);
    loads(tool);
    side_by_side(tool);
    drawn(tool);
    let sampling = Sampling {
        samples: SAMPLES,
        threads: Some(1),
        ..Sampling::default()
    };
    if let Ok(study) = Analysis::of(tool.clone()).tolerance(&sampling) {
        let report = tolerance_report(tool, &study, &Source::default(), tool.units);
        finite(&tolerance_text(&report, 80));
        finite(&tolerance_csv(&report).expect("finite numbers"));
        finite(&tolerance_chart(&report, "t").expect("finite numbers"));
    }
    if !tuning {
        return;
    }
    let mut short = tool.clone();
    short.stroke.steps = short.stroke.steps.min(3);
    short.tunes.truncate(1);
    short.hand.grips.truncate(1);
    if let Ok(tuned) = Analysis::of(short.clone()).tune(&|| ()) {
        finite(&tune_text(&tune_report(&short, &tuned, short.units), 80));
    }
}

fn loads(tool: &Tool) {
    for direction in [Direction::Closing, Direction::Opening] {
        let Ok(mounted) = Mounted::new(tool) else {
            return;
        };
        let Ok(mut rig) = Rig::new(tool, &mounted, direction) else {
            return;
        };
        let found = Analysis::of(tool.clone());
        let factors = match found.strength(direction) {
            Ok(factors) => factors,
            Err(failure) => return refused(&failure, tool),
        };
        let mut cases = Vec::new();
        let half = 0.5 * rig.pace();
        let force = tool.hand.force;
        for case in [
            loads_at(&mut rig, At::Open, GripId::FIRST, force),
            case_loads(&mut rig, half, GripId::FIRST, force),
            loads_at(&mut rig, At::Shut, GripId::FIRST, force),
        ] {
            match case {
                Ok(case) => cases.push(case),
                Err(LoadsError::Failure(failure)) => refused(&failure, tool),
                Err(LoadsError::Locate(error)) => {
                    assert!(!error.text(tool, tool.units).is_empty());
                }
                Err(LoadsError::NoForces | LoadsError::DiesMet | LoadsError::Stop(_)) => {}
            }
        }
        let source = Source::default();
        let springs = found.wound_springs().unwrap_or_default();
        let life = found.life().ok().flatten();
        let all = (factors, springs.as_slice(), life.as_ref());
        let report = loads_report(tool, &cases, all, &source, tool.units);
        finite(&loads_text(&report, None, 80));
        finite(&loads_csv(&report).expect("finite numbers"));
        finite(&json_text(&report).expect("finite numbers"));
    }
}

/// All that asks for plates, contacts, springs and how long they last.
pub fn shapes(tool: &Tool) {
    if !stroke(tool) {
        return;
    }
    let tool = &shorter(tool);
    loads(tool);
    drawn(tool);
    let analysis = Analysis::of(tool.clone());
    let (source, units) = (Source::default(), tool.units);
    let whole = analysis.rig(Direction::Closing).map(|rig| rig.whole());
    match analysis.room() {
        Ok(seen) => {
            let report = room_report(tool, seen, whole.unwrap_or(0.0), units);
            finite(&json_text(&report).expect("finite numbers"));
        }
        Err(failure) => refused(&failure, tool),
    }
    finite(&json_text(&plates_report(tool, None, units)).expect("finite numbers"));
    finite(&json_text(&parts_report(tool, &source, units)).expect("finite numbers"));
    match analysis.life() {
        Ok(seen) => {
            let report = life_report(tool, seen.as_ref(), units);
            finite(&json_text(&report).expect("finite numbers"));
        }
        Err(failure) => refused(&failure, tool),
    }
    match analysis.heights() {
        Ok(heights) => {
            for height in heights.into_iter().filter_map(|(_, height)| height.ok()) {
                assert!(height.after.is_finite() && height.back.is_finite(), "{height:?}");
            }
        }
        Err(failure) => refused(&failure, tool),
    }
    match analysis.wound_springs() {
        Ok(found) => {
            let report = wound_report(tool, &found, units);
            finite(&json_text(&report).expect("finite numbers"));
        }
        Err(failure) => refused(&failure, tool),
    }
}

fn drawn(tool: &Tool) {
    let Ok(mounted) = Mounted::new(tool) else {
        return;
    };
    let Ok(mut rig) = Rig::new(tool, &mounted, Direction::Closing) else {
        return;
    };
    let Ok(scenes) = scenes(&mut rig, &[At::Open, At::Shut], GripId::FIRST) else {
        return;
    };
    for part in [None, PartId::ids(tool.parts.len()).last()] {
        let (source, units) = (Source::default(), tool.units);
        let report = drawing_report(tool, &scenes, part, Direction::Closing, &source, units);
        let svg = drawing_svg(&report, &DrawingOptions::default()).expect("a drawing");
        finite(&svg);
    }
}

fn side_by_side(tool: &Tool) {
    let columns: Vec<Column> = [
        ("ratio", Some(At::Shut)),
        ("jaw_force", Some(At::Peak)),
        ("hand_work", None),
        ("jaw_work", None),
        ("safety", None),
    ]
    .map(|(measure, at)| Column {
        measure: measure.to_owned(),
        at,
    })
    .to_vec();
    let variants = [Variant {
        file: 0,
        set: Vec::new(),
        tool: tool.clone(),
    }];
    let rows = compare(&variants, &columns, &|| {});
    let report = compare_report(&[String::new()], &variants, &columns, &rows, tool.units);
    finite(&compare_table(&report, 80));
    finite(&compare_csv(&report).expect("finite numbers"));
}
