//! Spoiled files through the whole library: whatever a file holds, there is an answer or a located
//! message, in bounded time, and never a panic.

use jawforce::analysis::{Direction, Failure, solve};
use jawforce::input::{Diagnostic, read_tool, render_all};
use jawforce::output::{
    ChartOptions, TableOptions, check_text, force_curves, json_text, to_csv, to_table,
};
use jawforce::report::{Source, check_report, stroke_report};
use proptest::prelude::*;
use std::time::{Duration, Instant};

const FILES: &[&str] = &[
    super::SETTER,
    include_str!("../../demo-data/eyelet-toggle.toml"),
    include_str!("../../demo-data/excluder-cutter.toml"),
    include_str!("../../demo-data/pin-plunger.toml"),
    include_str!("../../demo-data/wire-crimp-pliers.toml"),
    include_str!("../../demo-data/sleeve-crimper.toml"),
    include_str!("../../src/cli/starters/compound.toml"),
    include_str!("../files/everything.toml"),
];

/// Values that have no business where they are put.
const ODD: &[&str] = &[
    "0",
    "-1",
    "1e300",
    "-1e300",
    "1e-300",
    "nan",
    "-inf",
    "1e6",
    "0.001",
    "90",
    "180",
    "-180",
    "360",
    "\"\"",
    "\"3 N\"",
    "\"1 in\"",
    "[]",
    "{}",
    "[[]]",
    "true",
    "\"heel\"",
    "\"frame\"",
    "99999999999999999999",
    "0x10",
    "1979-05-27",
];

/// One change of a text. Places are parts of 1 of the text's tokens, so that they fit any text.
#[derive(Debug, Clone)]
enum Change {
    Delete(f64),
    Double(f64),
    Swap(f64, f64),
    Odd(f64, usize),
    Scale(f64, f64),
    Byte(f64, u8),
    DeleteLine(f64),
    DoubleLine(f64),
}

fn change() -> impl Strategy<Value = Change> {
    let at = || 0.0..1.0f64;
    prop_oneof![
        1 => at().prop_map(Change::Delete),
        1 => at().prop_map(Change::Double),
        1 => (at(), at()).prop_map(|(a, b)| Change::Swap(a, b)),
        3 => (at(), 0..ODD.len()).prop_map(|(a, k)| Change::Odd(a, k)),
        6 => (at(), -3.0..3.0f64).prop_map(|(a, s)| Change::Scale(a, s)),
        1 => (at(), any::<u8>()).prop_map(|(a, b)| Change::Byte(a, b)),
        1 => at().prop_map(Change::DeleteLine),
        1 => at().prop_map(Change::DoubleLine),
    ]
}

/// The text cut into words, numbers, blanks and single signs.
fn tokens(text: &str) -> Vec<String> {
    let kind = |c: char| match c {
        c if c.is_alphanumeric() || "_.-".contains(c) => 0,
        ' ' => 1,
        _ => 2,
    };
    let mut found: Vec<String> = Vec::new();
    let mut before = 2;
    for c in text.chars() {
        match found.last_mut() {
            Some(last) if kind(c) == before && before < 2 => last.push(c),
            _ => found.push(c.to_string()),
        }
        before = kind(c);
    }
    found
}

fn is_number(token: &str) -> bool {
    token.starts_with(|c: char| c.is_ascii_digit() || c == '-') && token.parse::<f64>().is_ok()
}

fn pick(at: f64, count: usize) -> usize {
    ((at * count as f64) as usize).min(count.saturating_sub(1))
}

fn damaged(text: &str, change: &Change) -> String {
    let lines = |at: f64, times: usize| {
        let lines: Vec<&str> = text.lines().collect();
        let k = pick(at, lines.len());
        let each = lines.iter().enumerate();
        let each =
            each.flat_map(|(i, line)| std::iter::repeat_n(*line, if i == k { times } else { 1 }));
        each.collect::<Vec<&str>>().join("\n")
    };
    let mut words = tokens(text);
    if words.is_empty() {
        return String::new();
    }
    let numbers: Vec<usize> = (0..words.len()).filter(|&i| is_number(&words[i])).collect();
    match change {
        Change::Delete(at) => {
            words.remove(pick(*at, words.len()));
        }
        Change::Double(at) => {
            let k = pick(*at, words.len());
            words.insert(k, words[k].clone());
        }
        Change::Swap(a, b) => {
            let (a, b) = (pick(*a, words.len()), pick(*b, words.len()));
            words.swap(a, b);
        }
        Change::Odd(at, k) if !numbers.is_empty() => {
            let at = numbers[pick(*at, numbers.len())];
            ODD[*k].clone_into(&mut words[at]);
        }
        Change::Scale(at, by) if !numbers.is_empty() => {
            let at = numbers[pick(*at, numbers.len())];
            let value: f64 = words[at].parse().unwrap_or(1.0);
            words[at] = format!("{:.4}", value * by);
        }
        Change::Odd(..) | Change::Scale(..) => {}
        Change::Byte(at, byte) => {
            let mut bytes = text.as_bytes().to_vec();
            let k = pick(*at, bytes.len());
            bytes[k] = *byte;
            return String::from_utf8_lossy(&bytes).into_owned();
        }
        Change::DeleteLine(at) => return lines(*at, 0),
        Change::DoubleLine(at) => return lines(*at, 2),
    }
    words.concat()
}

/// How far a text came.
#[derive(Debug, PartialEq, Eq)]
enum Came {
    Refused,
    Cannot,
    Solved,
}

/// Reads, solves and puts into words, as the program does.
fn through(text: &str) -> Came {
    let beside = |name: &str| match name {
        "bench.csv" => Ok(crate::models::BENCH.to_owned()),
        _ => Ok("gap,force\n3,0\n0,900\n".to_owned()),
    };
    let mended = |problems: &[Diagnostic]| {
        for problem in problems {
            let span = &problem.span;
            assert!(
                span.start <= span.end && span.end <= text.len(),
                "{problem:?}"
            );
            assert!(
                text.is_char_boundary(span.start) && text.is_char_boundary(span.end),
                "{problem:?}"
            );
            assert!(!problem.message.is_empty());
        }
        assert_eq!(
            render_all(problems, "tool.toml", text, false).is_empty(),
            problems.is_empty()
        );
    };
    let mut read = match read_tool(text, &beside) {
        Err(problems) => {
            assert!(!problems.is_empty());
            mended(&problems);
            return Came::Refused;
        }
        Ok(read) => read,
    };
    mended(&read.advice);
    for span in read.spans.values() {
        assert!(span.start <= span.end && span.end <= text.len());
    }
    // The number of steps multiplies the time and adds nothing here.
    read.tool.stroke.steps = read.tool.stroke.steps.min(30);
    let tool = &read.tool;
    match solve(tool, Direction::Closing) {
        Err(failure) => {
            assert!(!failure.text(tool).is_empty());
            if let Failure::Motion(error) = &failure {
                for change in jawforce::statics::reaching(tool, error) {
                    assert!(!change.text(tool.units).is_empty());
                    let mut other = tool.clone();
                    let value = change.dimension.value + change.by;
                    assert!(change.dimension.slot.set(&mut other, value));
                    let still = solve(&other, Direction::Closing);
                    assert!(still.is_ok(), "{change:?}: {:?}\n{text}", still.err());
                }
            }
            assert!(
                !matches!(failure, Failure::Check { .. }),
                "{failure:?}\n{text}"
            );
            Came::Cannot
        }
        Ok(solved) => {
            let source = Source::default();
            let report = stroke_report(tool, &solved, &[], &source, tool.units);
            let known = |_: &str| false;
            let words = [
                to_table(&report, &TableOptions::default()),
                to_csv(&report).expect("finite numbers"),
                json_text(&report).expect("finite numbers"),
                force_curves(&report, &ChartOptions::default()).expect("a chart"),
                check_text(
                    &check_report(tool, &solved, &source, tool.units, &known),
                    80,
                    true,
                ),
            ];
            for text in words {
                assert!(!text.contains("NaN") && !text.contains("inf,"), "{text}");
            }
            Came::Solved
        }
    }
}

/// As [`through`], in bounded time: seconds where a run of the program takes hundredths.
fn in_time(text: &str) -> Came {
    let start = Instant::now();
    let came = through(text);
    let taken = start.elapsed();
    assert!(taken < Duration::from_secs(2), "{taken:?} for\n{text}");
    came
}

#[test]
fn the_files_themselves_are_solved() {
    for text in FILES {
        assert_ne!(in_time(text), Came::Refused, "{text}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 750, max_shrink_iters: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_damaged_file_brings_it_down(
        file in 0..FILES.len(),
        changes in proptest::collection::vec(change(), 1..4),
    ) {
        let text = changes.iter().fold(FILES[file].to_owned(), |text, change| damaged(&text, change));
        in_time(&text);
    }

    #[test]
    fn no_numbers_bring_it_down(
        file in 0..FILES.len(),
        changes in proptest::collection::vec((0.0..1.0f64, -3.0..3.0f64), 1..6),
    ) {
        let change = |text: String, (at, by): &(f64, f64)| damaged(&text, &Change::Scale(*at, *by));
        let text = changes.iter().fold(FILES[file].to_owned(), change);
        in_time(&text);
    }
}
