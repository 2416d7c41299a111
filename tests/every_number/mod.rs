//! Every number that the program writes against the analysis that it comes from, once: tables of where a number stands
//! and what it must be. A column or a curve that no table knows is a mistake too.
//!
//! The way from the analysis to the file is a reckoning of its own here: units, places on a chart, the limit at a span.

mod charts;
mod lists;
mod marks;
mod picture;
mod samples;
mod stroke;

use crate::cli::Bench;
use jawforce::input::read_tool;
use jawforce::model::Tool;
use std::path::Path;

/// Millimetres in an inch, newtons in a pound of force (both exact).
const INCH: f64 = 25.4;
const POUND: f64 = 4.448_221_615_260_5;

/// One of the tools of `demo-data`, as the library reads it.
fn tool(name: &str) -> Tool {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).unwrap();
    let beside = |file: &str| std::fs::read_to_string(folder.join(file)).map_err(|e| e.to_string());
    read_tool(&text, &beside).unwrap().tool
}

/// What the program prints, whether demands are met or not.
#[track_caller]
fn printed(args: &[&str]) -> String {
    let ended = Bench::empty().run(args);
    assert!(ended.code <= 1, "{args:?}: {}", ended.err);
    ended.out
}

/// Comma-separated values: the headers, and the rows.
fn table(text: &str) -> (Vec<String>, Vec<Vec<String>>) {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let own = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect();
    let headers = own(reader.headers().unwrap());
    let rows = reader.records().map(|row| own(&row.unwrap())).collect();
    (headers, rows)
}

/// A cell against what it must be: to its own last decimal, and empty where there is nothing.
#[track_caller]
fn cell(found: &str, wanted: Option<f64>, decimals: i32, what: &str) {
    let Some(wanted) = wanted else {
        assert_eq!(found, "", "{what}: there is no such value");
        return;
    };
    let value: f64 = found
        .parse()
        .unwrap_or_else(|_| panic!("{what}: `{found}` for {wanted}"));
    let within = 0.5 * 10_f64.powi(-decimals) * 1.001 + 1e-12 * wanted.abs();
    assert!(
        (value - wanted).abs() <= within,
        "{what}: {value}, must be {wanted}"
    );
}
