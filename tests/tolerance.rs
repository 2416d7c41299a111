//! Tolerances: the table, published stack-ups, samples, and the study of demo tools.

use jawforce::analysis::Analysis;
use jawforce::input::read_tool;
use jawforce::measure::{Measure, Reader, named};
use jawforce::model::{At, Direction, JawId, JointId, ToleranceClass, Tool, dimension};
use jawforce::statics::{Mounted, Rig};
use jawforce::tolerance::{Sampling, Spread, Variable, general_tolerance, sample, stack};

fn sampling(samples: usize, spread: Spread, threads: Option<usize>) -> Sampling {
    Sampling {
        samples,
        fewer: false,
        seed: 7,
        spread,
        threads,
    }
}

/// ISO 2768-1:1989, table 1, ± mm; sizes 0.5 to 3, over 3 to 6, 6 to 30, 30 to 120, 120 to 400, 400
/// to 1000, 1000 to 2000, 2000 to 4000. Nothing below 0.5 mm.
#[test]
fn general_tolerances_are_those_of_the_standard() {
    use ToleranceClass::{Coarse, Fine, Medium, VeryCoarse};
    let sizes = [
        [0.5, 3.0],
        [3.001, 6.0],
        [6.001, 30.0],
        [30.001, 120.0],
        [120.001, 400.0],
        [400.001, 1000.0],
        [1000.001, 2000.0],
        [2000.001, 4000.0],
    ];
    let rows: [(ToleranceClass, [f64; 8]); 4] = [
        (Fine, [0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, f64::NAN]),
        (Medium, [0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0]),
        (Coarse, [0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0]),
        (VeryCoarse, [f64::NAN, 0.5, 1.0, 1.5, 2.5, 4.0, 6.0, 8.0]),
    ];
    for (class, row) in rows {
        for (ends, expected) in sizes.iter().zip(row) {
            for size in ends {
                let found = general_tolerance(class, *size);
                assert_eq!(
                    found,
                    (!expected.is_nan()).then_some(expected),
                    "{class:?} {size}"
                );
                assert_eq!(found, general_tolerance(class, -size), "by magnitude");
            }
        }
        assert_eq!(general_tolerance(class, 0.49), None);
        assert_eq!(general_tolerance(class, 4000.1), None);
    }
}

const CHASE: [f64; 7] = [0.0015, 0.008, 0.0025, 0.002, 0.006, 0.002, 0.0025];

/// K. W. Chase, *Basic Tools for Tolerance Analysis of Mechanical Assemblies* (Manufacturing
/// Engineering Handbook, ch. 7), shaft and housing: worst case ±0.0245 in, root-sum-square ±0.01108
/// in (numbers from memory).
#[test]
fn shaft_and_housing_stack_up_as_published() {
    let signs = [-1.0, 1.0, -1.0, 1.0, -1.0, 1.0, -1.0];
    let found = stack(&signs, &CHASE);
    approx::assert_relative_eq!(found.worst, 0.0245, max_relative = 1e-9);
    approx::assert_relative_eq!(found.root_sum_square, 0.01108, max_relative = 1e-3);
    // And by samples: three standard deviations, to 1 %.
    let variables: Vec<Variable> = CHASE.iter().map(|t| Variable::Within(*t)).collect();
    let values = sample(
        &sampling(400_000, Spread::Normal, None),
        &variables,
        &[0.0],
        || (),
        |(), d, out: &mut [f64]| out[0] = d.iter().zip(signs).map(|(d, s)| s * d).sum(),
    )
    .unwrap();
    approx::assert_relative_eq!(3.0 * deviation(&values), 0.01108, max_relative = 1e-2);
}

fn deviation(values: &[f64]) -> f64 {
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (values.len() - 1) as f64).sqrt()
}

/// JCGM 101:2008, 9.2: four rectangular quantities of standard deviation 1 add up to one of 2.00,
/// 95 % of it within ±3.88 (numbers from memory; in closed form 2√3 (2 − (3/5)^¼) = 3.8794).
#[test]
fn four_rectangular_quantities_add_up_as_published() {
    let variables = [Variable::Within(3f64.sqrt()); 4];
    let mut values = sample(
        &sampling(400_000, Spread::Uniform, None),
        &variables,
        &[0.0],
        || (),
        |(), d, out: &mut [f64]| out[0] = d.iter().sum(),
    )
    .unwrap();
    approx::assert_relative_eq!(deviation(&values), 2.0, max_relative = 5e-3);
    values.sort_by(f64::total_cmp);
    let at = |p: f64| values[(p * values.len() as f64) as usize];
    let half = 0.5 * (at(0.975) - at(0.025));
    approx::assert_relative_eq!(
        half,
        2.0 * 3f64.sqrt() * (2.0 - 0.6f64.powf(0.25)),
        max_relative = 5e-3
    );
}

/// n equal parts of ±t: worst case n t, root-sum-square √n t; ten of ±0.1 mm give ±1.0 and ±0.316
/// mm (common practice, no source).
#[test]
fn equal_parts_stack_up() {
    let found = stack(&[1.0; 10], &[0.1; 10]);
    approx::assert_relative_eq!(found.worst, 1.0, max_relative = 1e-12);
    approx::assert_relative_eq!(
        found.root_sum_square,
        0.1 * 10f64.sqrt(),
        max_relative = 1e-12
    );
}

fn demo(name: &str) -> Tool {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let text = std::fs::read_to_string(folder.join(name)).unwrap();
    let load = |file: &str| std::fs::read_to_string(folder.join(file)).map_err(|e| e.to_string());
    read_tool(&text, &load).unwrap().tool
}

#[test]
fn samples_do_not_depend_on_the_number_of_threads() {
    let tool = demo("eyelet-toggle.toml");
    let with = |threads| {
        let mut found = Analysis::of(tool.clone())
            .tolerance(&sampling(1500, Spread::Normal, Some(threads)))
            .unwrap();
        found.sampling.threads = None;
        found
    };
    let one = with(1);
    assert_eq!(one, with(2));
    assert_eq!(one, with(5));
    let mut other = sampling(1500, Spread::Normal, Some(1));
    other.seed = 8;
    assert_ne!(
        one.findings,
        Analysis::of(tool.clone())
            .tolerance(&other)
            .unwrap()
            .findings,
        "the seed matters"
    );
}

/// The shares against plain differences of two tools solved from the beginning.
#[test]
fn shares_are_derivatives_times_tolerances() {
    let mut tool = demo("eyelet-toggle.toml");
    for data in &mut tool.joint_data {
        data.clearance = 0.0;
    }
    let found = Analysis::of(tool.clone())
        .tolerance(&sampling(10, Spread::Normal, Some(1)))
        .unwrap();
    let finding = found
        .findings
        .iter()
        .find(|f| f.subject.measure == Measure::JawForce)
        .unwrap();
    let grip = finding
        .subject
        .grip
        .and_then(|grip| tool.grip_at(grip))
        .unwrap();
    let force = |tool: &Tool| {
        let mounted = Mounted::new(tool).map_err(|_| ()).unwrap();
        let mut rig = Rig::new(tool, &mounted, Direction::Closing).unwrap();
        match Reader::new(&mut rig)
            .at(&Measure::JawForce, At::Gap(1.0), grip)
            .unwrap()
        {
            Ok(v) => v,
            Err(why) => panic!("{why:?}"),
        }
    };
    let mut compared = 0;
    for (varied, share) in found.plan.varied.iter().zip(&finding.shares) {
        let moved = |by: f64| {
            let mut other = tool.clone();
            assert!(dimension::set(
                &mut other,
                &varied.address,
                varied.nominal + by
            ));
            force(&other)
        };
        let step = 1e-3;
        let difference = (moved(step) - moved(-step)) / (2.0 * step) * varied.tolerance;
        assert!(
            (share.share - difference).abs() < 2e-3 * finding.worst,
            "{}: {} {difference}",
            varied.address,
            share.share
        );
        compared += usize::from(difference.abs() > 0.01 * finding.worst);
    }
    assert!(compared >= 5, "{compared} shares that matter");
    approx::assert_relative_eq!(
        finding.worst,
        finding.shares.iter().map(|s| s.share.abs()).sum::<f64>(),
        max_relative = 1e-9
    );
}

/// Where virtual work gives the derivatives (the gap with the handle held, handle and travel with
/// the gap held), with play taken up and without, differences of tools solved anew agree to their
/// own accuracy: 1e-13 of rounding over a step of 2e-6, and its square.
#[test]
fn exact_derivatives_agree_with_differences() {
    let more = |measure, at| jawforce::model::Demand {
        jaw: JawId::FIRST,
        measure,
        at: Some(at),
        grip: None,
        bound: jawforce::model::Bound {
            min: Some(0.0),
            max: None,
        },
    };
    let mut seen = 0;
    for name in [
        "eyelet-toggle.toml",
        "eyelet-toggle-b.toml",
        "excluder-cutter.toml",
        "pin-plunger.toml",
    ] {
        let mut tool = demo(name);
        tool.tolerances.class = Some(ToleranceClass::Medium);
        tool.demands = vec![
            more(Measure::Gap, At::Open),
            more(Measure::Handle, At::Open),
            more(Measure::Travel, At::Shut),
            more(Measure::JawForce, At::Open),
        ];
        for clearance in [0.0, 0.02] {
            for data in &mut tool.joint_data {
                data.clearance = clearance;
            }
            let found = Analysis::of(tool.clone())
                .tolerance(&sampling(2, Spread::Normal, Some(1)))
                .unwrap();
            for finding in &found.findings {
                let name = finding.subject.measure.kind().word;
                let exists = ["gap", "handle", "travel"].contains(&name);
                assert_eq!(
                    finding.exact.is_some(),
                    exists,
                    "{} {name} {clearance}",
                    tool.name
                );
                let off = finding.exact.unwrap_or(0.0);
                assert!(off < 1e-6, "{} {name}: {off:.1e}", tool.name);
                seen += usize::from(off > 0.0);
            }
        }
    }
    assert!(seen >= 24, "{seen}");
}

#[test]
fn every_sample_is_counted() {
    for name in [
        "eyelet-toggle.toml",
        "pin-plunger.toml",
        "excluder-cutter.toml",
    ] {
        let tool = demo(name);
        let samples = 600;
        let found = Analysis::of(tool.clone())
            .tolerance(&sampling(samples, Spread::Uniform, None))
            .unwrap();
        assert!(!found.findings.is_empty());
        for finding in &found.findings {
            let with = finding.summary.as_ref().map_or(0, |s| s.count);
            assert_eq!(
                with + finding.failed.iter().sum::<usize>(),
                samples,
                "{name} {}",
                finding.subject.measure.name(&tool)
            );
        }
    }
}

#[test]
fn the_command_prints_writes_and_refuses() {
    let run = |args: &[&str]| {
        std::process::Command::new(env!("CARGO_BIN_EXE_jawforce"))
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .arg("tolerance")
            .args(args)
            .output()
            .unwrap()
    };
    let folder = tempfile::tempdir().unwrap();
    let picture = folder.path().join("t.svg");
    let done = run(&[
        "demo-data/eyelet-toggle.toml",
        "--samples",
        "300",
        "--svg",
        picture.to_str().unwrap(),
    ]);
    let text = String::from_utf8(done.stdout).unwrap();
    assert_eq!(done.status.code(), Some(0), "{text}");
    assert!(
        text.contains("root-sum-square") && text.contains("seed 1"),
        "{text}"
    );
    let svg = std::fs::read_to_string(&picture).unwrap();
    let page = roxmltree::Document::parse(&svg).unwrap();
    assert!(page.descendants().any(|n| n.has_tag_name("title")) && !svg.contains("NaN"));
    // A file without tolerances is told what to write.
    let bare = folder.path().join("bare.toml");
    std::fs::write(&bare, include_str!("../src/cli/starters/pliers.toml")).unwrap();
    let done = run(&[bare.to_str().unwrap()]);
    let text = String::from_utf8(done.stderr).unwrap();
    assert_eq!(done.status.code(), Some(2), "{text}");
    assert!(text.contains("[tolerances]"), "{text}");
}

/// A jaw that works at right angles to the way of its point: to either side there is no such
/// position. Found by fuzzing: the stack-up was printed as `± NaN`.
#[test]
fn a_measure_without_neighbours_has_no_stack_up() {
    let text = include_str!("../demo-data/wire-crimp-pliers.toml");
    let spoilt = text.replace("axis    = 90 ", "axis    = 180 ");
    assert_ne!(text, spoilt);
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("t.toml"), spoilt).unwrap();
    let run = |args: &[&str]| {
        let done = std::process::Command::new(env!("CARGO_BIN_EXE_jawforce"))
            .current_dir(folder.path())
            .args(["tolerance", "t.toml", "--samples", "40"])
            .args(args)
            .output()
            .unwrap();
        String::from_utf8(done.stdout).unwrap()
    };
    let (table, csv, json) = (run(&[]), run(&["--csv", "-"]), run(&["--json"]));
    for text in [&table, &csv, &json] {
        assert!(!text.contains("NaN") && text.len() > 500, "{text}");
    }
    assert!(
        table.contains("no worst case and no root-sum-square"),
        "{table}"
    );
    let report: serde_json::Value = serde_json::from_str(&json).unwrap();
    let measures = report["measures"].as_array().unwrap();
    for measure in measures {
        let missing = !measure["without_share"].as_array().unwrap().is_empty();
        assert_eq!(measure["worst_case"].is_null(), missing, "{measure}");
    }
    assert!(measures.iter().any(|m| m["worst_case"].is_null()));
}

/// A lever on a pivot, its tip at (40, 5), an anvil at (40, -5), pushed square at 160 mm; the work asks
/// for most at a corner of its curve, well within the stroke.
const CORNERED: &str = r#"
[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { pivot = [0, 0] }
marks = { anvil = [40, -5] }
[parts.lever]
pins = { pivot = [0, 0] }
marks = { tip = [40, 5] }
[hand]
part = "lever"
line = [[0, 0], [-200, 0]]
grips = [160]
push = "square"
force = 300
[[jaw]]
name = "tip"
on = "lever.tip"
against = "frame.anvil"
axis = 90
[stroke]
open = { gap = 9 }
shut = { gap = 1 }
[work]
need = [[8, 0], [3.7, 600], [0, 100]]
[[demand]]
measure = "hand_force"
at = "peak"
max = 1000
[tolerances]
"lever.tip.x" = 0.1
"frame.anvil.y" = 0.1
"#;

/// With the tip at a radius r, the corner is passed with the tip at y = 3.7 - 5 above the pivot: the
/// hand gives 600 sqrt(r^2 - y^2) / 160 there. By hand: the derivatives by the tip's x (r^2 grows by
/// 2 x) and by the anvil's y (y moves with it).
#[test]
fn a_peak_at_a_corner_of_the_work_moves_as_the_corner_does() {
    let tool = read_tool(CORNERED, &|_: &str| Err(String::new()))
        .unwrap()
        .tool;
    let found = Analysis::of(tool.clone())
        .tolerance(&sampling(500, Spread::Normal, Some(1)))
        .unwrap();
    let peak = &found.findings[0];
    let (y, arm) = (-1.3_f64, (1625.0_f64 - 1.69).sqrt());
    approx::assert_relative_eq!(
        peak.loaded.unwrap(),
        600.0 * arm / 160.0,
        max_relative = 1e-8
    );
    let by = [
        ("lever.tip.x", 600.0 / 160.0 * 40.0 / arm),
        ("frame.anvil.y", -600.0 / 160.0 * y / arm),
    ];
    for (address, expected) in by {
        let at = found.plan.varied.iter().position(|v| v.address == address);
        let share = &peak.shares[at.unwrap()];
        let off = (share.derivative - expected).abs();
        assert!(
            off < 1e-4 * by[0].1,
            "{address}: {} {expected}",
            share.derivative
        );
    }
    // And the samples spread as their shares say: 500 of them, to 5 standard errors.
    let samples = peak.summary.as_ref().unwrap();
    let expected = peak.root_sum_square / 3.0;
    assert!((samples.deviation / expected - 1.0).abs() < 5.0 / 1000_f64.sqrt());
}

/// A peak of the work that is narrower than the places at which a sample is looked at. By hand, at a
/// gap of 27 mm the jaw's point stands 3 mm lower than level, so that the lever of length x from pin to
/// jaw asks for H = 2000 N × √(x² − 9) / 200, whose derivative by x is 10 x / √(x² − 9) N/mm.
#[test]
fn a_narrow_peak_of_the_work_is_seen_in_every_sample() {
    let text = r#"
[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { heel = [0, 0] }
marks = { anvil = [40, -30] }
[parts.lever]
pins = { heel = [0, 0] }
marks = { tip = [40, 0], end = [220, 0] }
[hand]
part = "lever"
line = ["heel", "end"]
grips = [200]
[[jaw]]
on = "lever.tip"
against = "frame.anvil"
axis = 90
[stroke]
open = { handle = 0 }
shut = { handle = -10 }
[work]
need = [[28, 0], [27.02, 10], [27, 2000], [26.98, 10], [23, 20]]
[[demand]]
measure = "hand_force"
at = "peak"
max = 400
[tolerances]
"lever.tip.x" = 0.05
"#;
    let tool = read_tool(text, &|_| Err(String::new())).unwrap().tool;
    let found = Analysis::of(tool.clone())
        .tolerance(&sampling(500, Spread::Normal, None))
        .unwrap();
    let peak = &found.findings[0];
    let root = (40.0_f64 * 40.0 - 9.0).sqrt();
    let near = |a: f64, b: f64, by: f64| assert!((a / b - 1.0).abs() < by, "{a} is not {b}");
    near(peak.nominal, 10.0 * root, 1e-6);
    near(peak.shares[0].derivative, 10.0 * 40.0 / root, 1e-5);
    let samples = peak.summary.as_ref().unwrap();
    near(samples.mean, 10.0 * root, 1e-3);
    // Five standard errors of the deviation of 500 samples, 1 / √(2 n) of it each.
    near(
        samples.deviation,
        10.0 * 40.0 / root * 0.05 / 3.0,
        5.0 / 1000.0_f64.sqrt(),
    );
}

/// A pin's load at each grip is that pin's: its share against plain differences, on a tool that has a
/// slot beside its pins.
#[test]
fn the_load_of_a_pin_is_that_of_the_same_pin_at_every_grip() {
    let mut tool = demo("pin-plunger.toml");
    for data in &mut tool.joint_data {
        data.clearance = 0.0;
    }
    let mut demand = tool.demands[1].clone();
    assert_eq!(demand.measure, Measure::JawForce);
    demand.measure = named(&tool, "pin_load.wrist").unwrap().0;
    demand.grip = Some(75.0);
    demand.at = Some(At::Gap(1.0));
    tool.demands = vec![demand];
    let joint = JointId::ids(tool.joints.len()).find(|&k| tool.joint_label(k) == "wrist");
    let load = |tool: &Tool| {
        let mounted = Mounted::new(tool).map_err(|_| ()).unwrap();
        let mut rig = Rig::new(tool, &mounted, Direction::Closing).unwrap();
        let grip = tool.grip_at(75.0).unwrap();
        let measure = Measure::PinLoad(joint.unwrap());
        let read = Reader::new(&mut rig).at(&measure, At::Gap(1.0), grip);
        read.unwrap().unwrap()
    };
    let found = Analysis::of(tool.clone())
        .tolerance(&sampling(10, Spread::Normal, Some(1)))
        .unwrap();
    let finding = &found.findings[0];
    assert_eq!(finding.subject.measure.name(&tool), "pin_load.wrist");
    let step = 1e-3;
    for (varied, share) in found.plan.varied.iter().zip(&finding.shares) {
        // The spring of a made tool is the same one; a changed file's has its pull at its own open end.
        if varied.address != "link.length" {
            continue;
        }
        let moved = |by: f64| {
            let mut other = tool.clone();
            assert!(dimension::set(
                &mut other,
                &varied.address,
                varied.nominal + by
            ));
            load(&other)
        };
        let difference = (moved(step) - moved(-step)) / (2.0 * step) * varied.tolerance;
        assert!(
            (share.share - difference).abs() < 1e-2 * difference.abs(),
            "{} {difference}",
            share.share
        );
    }
}
