//! Side files of very many rows: read in a moment up to a bound, and refused in one sentence beyond it.

use super::{Bench, SETTER};
use std::time::{Duration, Instant};

fn bench(rows: usize, more: &str) -> Bench {
    let row = |k: usize| {
        format!(
            "{:.9},{}\n",
            4.0 - 4.0 * k as f64 / (rows - 1) as f64,
            k % 97
        )
    };
    let bench = Bench::with(&format!("{SETTER}\n[work]\nneed = \"curve.csv\"\n{more}"));
    bench.put("curve.csv", (0..rows).map(row).collect::<String>());
    bench
}

/// Generous for a debug build on a busy machine; it took an hour where every position looked at every row.
#[test]
fn a_hundred_thousand_rows_are_solved() {
    let begin = Instant::now();
    bench(100_000, "")
        .run(&["stroke", "tool.toml", "--json", "--svg", "out.svg"])
        .code(0)
        .prints("\"work\"")
        .writes(&["out.svg"]);
    let took = begin.elapsed();
    assert!(took < Duration::from_secs(30), "{took:?}");
}

#[test]
fn more_rows_are_refused_with_the_bound() {
    for rows in [100_001, 1_000_000] {
        bench(rows, "")
            .run(&["stroke", "tool.toml", "--json"])
            .code(2)
            .says("100000")
            .says("leave out")
            .leaves_no_file();
    }
}

/// The work of the hand is integrated from row to row: on the tool as drawn of any curve, in samples of one
/// with few rows. The rest of the study is not held up.
#[test]
fn samples_do_not_follow_a_hundred_thousand_rows() {
    let begin = Instant::now();
    let demand =
        "[tolerances]\nclass = \"0.1 mm\"\n[[demand]]\nmeasure = \"hand_work\"\nmax = 1e6\n";
    bench(100_000, demand)
        .run(&["tolerance", "tool.toml", "--samples", "200"])
        .code(0)
        .prints("more rows than");
    let took = begin.elapsed();
    assert!(took < Duration::from_secs(60), "{took:?}");
}
