//! 100,000 tolerance samples of a four-bar toggle with three demands. `cargo bench` prints the time.

use jawforce::analysis::Analysis;
use jawforce::input::read_tool;
use jawforce::tolerance::{Sampling, Spread};
use std::time::Instant;

fn main() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-data/eyelet-toggle.toml");
    let text = std::fs::read_to_string(path).expect("the demo file");
    let mut tool = read_tool(&text, &|_| Err(String::new()))
        .expect("a good file")
        .tool;
    // Three demands, each at one position: jaw force at a gap, ratio and travel at shut.
    tool.demands
        .retain(|d| ["jaw_force", "ratio", "travel"].contains(&d.measure.kind().word));
    assert_eq!(tool.demands.len(), 3);
    let sampling = Sampling {
        fewer: false,
        samples: 100_000,
        seed: 1,
        spread: Spread::Normal,
        threads: None,
    };
    let mut times: Vec<f64> = (0..5)
        .map(|_| {
            let start = Instant::now();
            let found = Analysis::of(tool.clone())
                .tolerance(&sampling)
                .expect("a study");
            assert!(found.findings.len() >= 3);
            start.elapsed().as_secs_f64()
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!(
        "tolerance: 100,000 samples, four-bar with friction and a spring, three demands and gap and ratio at shut: \
         {:.2} s (median of five), {:.1} us per sample",
        times[2],
        times[2] * 10.0
    );
}
