//! How long the whole jobs take, each with its goal: samples, tuning, reports, a stroke with its chart.
//!
//! Machines are noisy, so the jobs are timed turn by turn beside a four-bar written out in closed form;
//! the medians are what counts, and their ratio to that. `cargo bench --bench table` prints them.

#[path = "../tests/drafts.rs"]
#[allow(dead_code, unreachable_pub)]
mod drafts;
#[path = "../tests/models/mod.rs"]
#[allow(dead_code, unreachable_pub)]
mod models;

use jawforce::analysis::Analysis;
use jawforce::input::read_tool;
use jawforce::model::Tool;
use jawforce::tolerance::{Sampling, Spread};
use models::four_bar::FourBar;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

const ROUNDS: usize = 5;
const SAMPLES: usize = 20_000;
/// Positions of the four-bar that are one unit of the ratios.
const POSITIONS: usize = 1_000_000;

const BAR: FourBar = FourBar {
    a: 24.0,
    b: 26.0,
    c: 40.0,
    d: 52.0,
    e: 55.0,
    grip: 100.0,
    axis: 2.2,
    side: 1.0,
};

struct Job {
    name: String,
    /// Seconds, on two quiet cores.
    goal: f64,
    run: Box<dyn FnMut()>,
}

fn demos() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let all = std::fs::read_dir(folder).expect("the demo files");
    let mut all: Vec<PathBuf> = all.map(|entry| entry.expect("a file").path()).collect();
    all.retain(|path| path.extension().is_some_and(|end| end == "toml"));
    all.sort();
    all
}

fn stem(path: &Path) -> String {
    path.file_stem()
        .unwrap_or_default()
        .to_string_lossy()
        .into()
}

fn tool(path: &Path) -> Tool {
    let text = std::fs::read_to_string(path).expect("a demo file");
    let beside = |name: &str| {
        std::fs::read_to_string(path.with_file_name(name)).map_err(|error| error.to_string())
    };
    read_tool(&text, &beside).expect("a good file").tool
}

fn samples(path: &Path) -> Job {
    let tool = tool(path);
    let sampling = Sampling {
        fewer: false,
        samples: SAMPLES,
        seed: 1,
        spread: Spread::Normal,
        threads: None,
    };
    let name = stem(path);
    Job {
        goal: if name.contains("cutter") { 1.0 } else { 0.3 },
        name: format!("tolerance, {SAMPLES} samples, {name}"),
        run: Box::new(move || {
            let study = Analysis::of(tool.clone()).tolerance(&sampling);
            black_box(study.expect("a study"));
        }),
    }
}

fn tuning((name, tool): (&str, Tool), dimensions: usize, goal: f64) -> Job {
    Job {
        name: format!("tune, {dimensions} dimensions, {name}"),
        goal,
        run: Box::new(move || {
            let tuned = Analysis::of(tool.clone()).tune(&|| ());
            black_box(tuned.expect("a better tool"));
        }),
    }
}

/// A run of the whole program.
fn process(name: &str, goal: f64, args: Vec<String>) -> Job {
    let run = move || {
        let done = Command::new(env!("CARGO_BIN_EXE_jawforce"))
            .args(&args)
            .output()
            .expect("the program");
        // A demand that is not met ends with 1.
        let code = done.status.code();
        assert!(matches!(code, Some(0 | 1)), "{args:?}: {done:?}");
    };
    Job {
        name: name.to_owned(),
        goal,
        run: Box::new(run),
    }
}

fn jobs(folder: &Path) -> Vec<Job> {
    let demos = demos();
    let mut jobs: Vec<Job> = demos.iter().map(|path| samples(path)).collect();
    let two = drafts::two_dimensions().into_iter();
    jobs.extend(two.map(|draft| tuning(draft, 2, 0.2)));
    let ten = drafts::ten_dimensions().into_iter();
    jobs.extend(ten.map(|draft| tuning(draft, 10, 5.0)));
    let text = |path: &Path| path.to_string_lossy().into_owned();
    let mut report = vec!["report".to_owned()];
    report.extend(demos.iter().map(|path| text(path)));
    report.extend(["-o".to_owned(), text(&folder.join("report.html"))]);
    jobs.push(process("report of all demos, whole process", 0.2, report));
    // Demands but no tolerances.
    let own = std::fs::read_to_string(&demos[2]).expect("a demo file");
    let (before, rest) = own.split_once("\n[tolerances]").expect("tolerances");
    let after = rest.find("\n[").map_or("", |at| &rest[at..]);
    let plain = folder.join("plain.toml");
    std::fs::write(&plain, format!("{before}{after}")).expect("room for a file");
    let mut stroke: Vec<String> = [
        "stroke",
        "--steps",
        "360",
        "--grip",
        "55,60,65,70,75,80,85,90",
    ]
    .map(str::to_owned)
    .into();
    stroke.extend([
        text(&plain),
        "--svg".to_owned(),
        text(&folder.join("curves.svg")),
    ]);
    let name = "stroke, 8 grips x 360 steps, SVG, whole process";
    jobs.push(process(name, 0.008, stroke));
    jobs
}

fn seconds(run: &mut dyn FnMut()) -> f64 {
    let start = Instant::now();
    run();
    start.elapsed().as_secs_f64()
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn main() {
    let folder = std::env::temp_dir().join(format!("jawforce-bench-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder for what is written");
    let closed = Box::new(|| {
        for k in 0..POSITIONS {
            let crank = 1.0 - 0.5 * k as f64 / POSITIONS as f64;
            black_box(BAR.solve(black_box(crank), 1.0));
        }
    });
    let mut jobs = jobs(&folder);
    jobs.insert(
        0,
        Job {
            name: format!("{POSITIONS} positions of a four-bar in closed form"),
            goal: f64::NAN,
            run: closed,
        },
    );
    let mut times = vec![Vec::new(); jobs.len()];
    for _ in 0..ROUNDS {
        for (times, job) in times.iter_mut().zip(&mut jobs) {
            times.push(seconds(job.run.as_mut()));
        }
    }
    let _ = std::fs::remove_dir_all(&folder);
    let medians: Vec<f64> = times.into_iter().map(median).collect();
    let yardstick = medians[0];
    println!(
        "{:52} {:>9} {:>8} {:>9}",
        "median of five", "s", "ratio", "goal, s"
    );
    for (job, time) in jobs.iter().zip(medians) {
        let goal = if job.goal.is_nan() {
            String::new()
        } else {
            format!("{:9.3}", job.goal)
        };
        println!("{:52} {time:9.4} {:8.2} {goal}", job.name, time / yardstick);
    }
}
