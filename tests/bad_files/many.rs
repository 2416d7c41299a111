//! Files with twenty thousand things wrong: read in a moment, and told in less than a hundred lines.

use super::{GOOD, load, spoil};
use jawforce::input::{Diagnostic, code, read_tool, render_all};
use std::time::{Duration, Instant};

const MANY: usize = 20_000;

/// Generous for a debug build on a busy machine; each took minutes where every problem looked through the
/// whole file, or was drawn with it.
const LONG: Duration = Duration::from_secs(20);

fn lines(each: impl Fn(usize) -> String) -> String {
    (0..MANY).map(|i| each(i) + "\n").collect()
}

fn work(row: impl Fn(usize) -> String) -> String {
    spoil(
        0,
        &format!("[work]\nneed = [\n{}]", lines(|i| row(i) + ",")),
    )
}

/// What is shown of a file, in less than a hundred lines and less than a moment.
fn shown_of(text: &str) -> String {
    let begin = Instant::now();
    let found = read_tool(text, &load).expect_err("wrong").to_vec();
    let rendered = render_all(&found, "tool.toml", text, false);
    let took = begin.elapsed();
    assert!(rendered.lines().count() < 100, "{rendered}");
    assert!(took < LONG, "{took:?}: {rendered}");
    rendered
}

#[test]
fn one_kind_is_cut_after_twenty_and_the_rest_counted() {
    let shown = shown_of(&work(|i| format!("[{i}, -5]")));
    assert!(
        shown.ends_with("\n... and 19980 more of this kind: error[bad-size]"),
        "{shown}"
    );
    // Some with their lines, the others in one line each, in the order of the file.
    let at = |k: usize| shown.find(&format!("tool.toml:{}:", 34 + k));
    let places: Vec<usize> = (0..20).filter_map(at).collect();
    assert!(
        places.len() == 20 && places.is_sorted() && at(20).is_none(),
        "{shown}"
    );
    assert!(shown.contains("help: write zero or a positive number"));
}

#[test]
fn a_mix_of_kinds_is_cut_kind_by_kind() {
    let row = |i: usize| match i % 5 {
        0 => "[1, -5]",
        1 => "[\"3 foo\", 5]",
        2 => "[\"3 N\", 5]",
        3 => "[true, 2]",
        _ => "[nan, 1]",
    };
    let shown = shown_of(&work(|i| row(i).to_owned()));
    for code in [
        code::SIZE,
        code::UNIT,
        code::UNIT_KIND,
        code::TYPE,
        code::NOT_FINITE,
    ] {
        // As many of each as there is room for: 45 are shown.
        let count = shown.matches(&format!("error[{code}]: ")).count();
        assert_eq!(count, 9, "{code}: {shown}");
        let rest = format!("... and 3991 more of this kind: error[{code}]");
        assert!(shown.contains(&rest), "{shown}");
    }
}

#[test]
fn every_kind_at_once_stays_below_a_hundred_lines() {
    let text = lines(|i| format!("key{i} = 1"));
    let kinds = code::ALL.iter().cycle().take(MANY).enumerate();
    let problem = |(i, code): (usize, &&'static str)| {
        Diagnostic::error(code, i..i + 1, "wrong").help("mend it")
    };
    let all: Vec<Diagnostic> = kinds.map(problem).collect();
    let shown = render_all(&all, "tool.toml", &text, false);
    assert!(shown.lines().count() < 100, "{shown}");
    let counted: usize = (shown.lines())
        .filter_map(|line| {
            line.strip_prefix("... and ")?
                .split(' ')
                .next()?
                .parse::<usize>()
                .ok()
        })
        .sum();
    let one_by_one = shown.matches("]: wrong").count();
    assert_eq!(counted + one_by_one, MANY, "{shown}");
}

/// Up to twenty problems are told as ever, each with its line and its help.
#[test]
fn few_are_shown_in_full() {
    let bad = "[materials.a]\nyield = -5\n";
    let text = (0..20).fold(GOOD.to_owned(), |text, i| {
        text + &bad.replace(".a", &format!(".a{i}"))
    });
    let shown = shown_in_full(&text);
    assert_eq!(shown.matches("help: write a positive number").count(), 20);
    assert!(!shown.contains("... and "));
}

fn shown_in_full(text: &str) -> String {
    let found = read_tool(text, &load).expect_err("wrong").to_vec();
    render_all(&found, "tool.toml", text, false)
}

#[test]
fn names_given_twice_and_names_that_are_unknown() {
    let tables = lines(|i| format!("[materials.m{}]\nyield = 5\nyield = 6", i / 2));
    let keys = lines(|i| format!("k{} = 5", i / 2));
    let springs = lines(|i| format!("[[springs]]\nfrom = \"ram.s{i}\"\nrate = 1"));
    for (text, what) in [
        (tables, code::TWICE),
        (format!("[materials.m]\n{keys}"), code::TWICE),
        (lines(|i| format!("[tab{i}]")), code::UNKNOWN_KEY),
        (springs, code::UNKNOWN_POINT),
        (lines(|i| format!("k{i} = 3 mm")), code::SYNTAX),
    ] {
        let shown = shown_of(&spoil(0, &text));
        assert!(
            shown.contains(&format!("more of this kind: error[{what}]")),
            "{what}: {shown}"
        );
    }
}

#[test]
fn pins_and_marks_are_bounded() {
    let pins: Vec<String> = (0..MANY).map(|i| format!("p{i} = [{i}, 0]")).collect();
    let text = GOOD.replace("heel = [0, 0], knee", &format!("{}, knee", pins.join(", ")));
    let shown = shown_of(&text);
    assert!(
        shown.contains("20011 pins and marks are more than the 1000 that are taken"),
        "{shown}"
    );
    assert_eq!(shown.matches("error[").count(), 1, "{shown}");
}

#[test]
fn rows_of_a_side_file_are_cut_too() {
    let text = spoil(0, "[work]\nneed = \"curve.csv\"");
    let rows = lines(|i| format!("{i},x"));
    let begin = Instant::now();
    let found = read_tool(&text, &|_| Ok(rows.clone()))
        .expect_err("wrong")
        .to_vec();
    let shown = render_all(&found, "tool.toml", &text, false);
    assert!(
        begin.elapsed() < LONG && shown.lines().count() < 30,
        "{shown}"
    );
    assert!(shown.contains("and 19990 more lines"), "{shown}");
}
