//! `tune`: before and after, and the new file.

use jawforce::analysis::{Analysis, Outcome};
use jawforce::input::read_tool;
use jawforce::tune::breach;
use std::path::Path;
use std::process::{Command, Output};

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(args)
        .output()
        .unwrap()
}

const B: &str = "demo-data/eyelet-toggle-b.toml";

#[test]
fn the_tuned_demo_meets_what_the_untuned_one_misses() {
    let folder = tempfile::tempdir().unwrap();
    let new = folder.path().join("tuned.toml");
    let new = new.to_str().unwrap();
    assert_eq!(run(&["stroke", B, "--quiet"]).status.code(), Some(1));
    let done = run(&["tune", B, "-o", new]);
    let text = String::from_utf8(done.stdout).unwrap();
    assert_eq!(done.status.code(), Some(0), "{text}");
    assert!(text.contains("now met, at most 190"), "{text}");
    assert_eq!(run(&["stroke", new, "--quiet"]).status.code(), Some(0));
    // Only the tuned number differs.
    let old = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(B)).unwrap();
    let text = std::fs::read_to_string(new).unwrap();
    let changed: Vec<(&str, &str)> = old
        .lines()
        .zip(text.lines())
        .filter(|(a, b)| a != b)
        .collect();
    assert_eq!(old.lines().count(), text.lines().count());
    assert_eq!(changed.len(), 1, "{changed:?}");
    assert!(
        changed[0].0.starts_with("length") && changed[0].1.starts_with("length"),
        "{changed:?}"
    );
}

#[test]
fn nothing_is_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("tool.toml");
    std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(B), &copy).unwrap();
    let before = std::fs::read(&copy).unwrap();
    let name = copy.to_str().unwrap();
    for args in [
        vec!["tune", name, "-o", name],
        vec!["tune", name, "-o", name, "--force"],
    ] {
        let done = run(&args);
        assert_eq!(
            done.status.code(),
            Some(2),
            "{}",
            String::from_utf8_lossy(&done.stderr)
        );
        assert_eq!(std::fs::read(&copy).unwrap(), before);
    }
    let other = folder.path().join("other.toml");
    std::fs::write(&other, "keep me").unwrap();
    let done = run(&["tune", name, "-o", other.to_str().unwrap()]);
    assert_eq!(done.status.code(), Some(2));
    assert_eq!(std::fs::read_to_string(&other).unwrap(), "keep me");
}

/// A measure that has no value keeps no limit, whichever way it has none; and that is said.
#[test]
fn what_is_no_number_keeps_no_limit() {
    let text = include_str!("../demo-data/eyelet-toggle-b.toml");
    let tool = read_tool(text, &|_| Err(String::new())).unwrap().tool;
    for reading in [
        Err(jawforce::statics::Absent::Toggle),
        Ok(f64::NAN),
        Ok(f64::INFINITY),
    ] {
        let outcome = Outcome {
            demand: 0,
            grip: None,
            reading,
            met: false,
        };
        assert_eq!(breach(&tool, &outcome), 1.0, "{reading:?}");
        assert_eq!(outcome.value(), None);
        assert!(outcome.why().is_some());
    }
}

/// A demand on what has no value at any point is not met, and the table says why.
#[test]
fn what_has_no_value_is_not_met_and_said() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("tool.toml");
    // Friction locks nothing here and no part has a section: there is no strength factor to read.
    let demand = "\n[[demand]]\nmeasure = \"safety\"\nmin = 1\n";
    std::fs::write(&file, slider_crank("\"least\"") + demand).unwrap();
    let new = folder.path().join("new.toml");
    let done = run(&["tune", file.to_str().unwrap(), "-o", new.to_str().unwrap()]);
    let text = String::from_utf8(done.stdout).unwrap();
    let error = String::from_utf8(done.stderr).unwrap();
    assert_eq!(done.status.code(), Some(1), "{text}{error}");
    assert!(
        text.contains("NOT MET, at least 1.00, no value: no part or pin has"),
        "{text}"
    );
}

/// A slider-crank whose ratio is known: with the crank at θ and the rod at φ below the slot's line,
/// the pin's force along the slot is M cos φ / (r sin(θ + φ)) for a moment M, so that at a given
/// crank angle the ratio falls as the rod grows (φ falls) for 0 < θ < 90°.
fn slider_crank(want: &str) -> String {
    format!(
        r#"
        [tool]
        units = "mm-N"
        [parts.frame]
        fixed = true
        pins = {{ heel = [0, 0] }}
        marks = {{ stop = [200, 0] }}
        [parts.crank]
        pins = {{ heel = [0, 0], knee = [30, 0] }}
        [parts.rod]
        pins = ["knee", "toe"]
        length = 80
        [sketch]
        knee = [21, 21]
        toe = [98, 0]
        [[slots]]
        part = "rod"
        point = "toe"
        on = "frame"
        through = [0, 0]
        angle = 0
        [hand]
        part = "crank"
        line = [[0, 0], [100, 0]]
        grips = [100]
        [[jaw]]
        on = "rod.toe"
        against = "frame.stop"
        axis = 180
        [stroke]
        open = {{ handle = 80 }}
        shut = {{ handle = 10 }}
        [[tune]]
        dimension = "rod.length"
        from = 60
        to = 120
        [aim]
        measure = "ratio"
        at = {{ handle = 45 }}
        want = {want}
        "#
    )
}

fn ratio(rod: f64) -> f64 {
    let theta = 45f64.to_radians();
    let phi = (30.0 / rod * theta.sin()).asin();
    100.0 * phi.cos() / (30.0 * (theta + phi).sin())
}

#[test]
fn a_slider_cranks_ratio_is_tuned_to_its_closed_form() {
    let wanted = ratio(87.654);
    let tool = |want: &str| {
        read_tool(&slider_crank(want), &|_| Err(String::new()))
            .unwrap()
            .tool
    };
    let tuned = Analysis::of(tool(&format!("{wanted:.12}")))
        .tune(&|| ())
        .unwrap();
    assert!((tuned.dimensions[0].2 - 87.65).abs() < 1e-9, "{tuned:?}");
    // Greatest and least at the ends of the range.
    let (ends, most, least) = (
        [ratio(60.0), ratio(120.0)],
        Analysis::of(tool("\"most\"")).tune(&|| ()).unwrap(),
        Analysis::of(tool("\"least\"")).tune(&|| ()).unwrap(),
    );
    let end = |upper: bool| {
        if (ends[1] > ends[0]) == upper {
            120.0
        } else {
            60.0
        }
    };
    assert!((most.dimensions[0].2 - end(true)).abs() < 1e-9, "{most:?}");
    assert!(
        (least.dimensions[0].2 - end(false)).abs() < 1e-9,
        "{least:?}"
    );
    assert!((most.aim[1].unwrap() - ends[0].max(ends[1])).abs() < 1e-9);
}

/// Two dimensions for two conditions: the ratio aimed at and the gap demanded within 0.05 mm belong
/// to one crank and one rod, in closed form: gap = 200 − r cos θ − l cos φ.
#[test]
fn crank_and_rod_are_found_together() {
    let (r, l, theta) = (28.0_f64, 85.0_f64, 45f64.to_radians());
    let phi = (r / l * theta.sin()).asin();
    let wanted = 100.0 * phi.cos() / (r * (theta + phi).sin());
    let gap = 200.0 - r * theta.cos() - l * phi.cos();
    let text = slider_crank(&format!("{wanted:.12}"))
        + &format!(
            "\n[[tune]]\ndimension = \"crank.knee.x\"\nfrom = 20\nto = 40\n
            [[demand]]\nmeasure = \"gap\"\nat = {{ handle = 45 }}\nmin = {}\nmax = {}\n",
            gap - 0.05,
            gap + 0.05
        );
    let tool = read_tool(&text, &|_| Err(String::new())).unwrap().tool;
    let tuned = Analysis::of(tool.clone()).tune(&|| ()).unwrap();
    assert!(tuned.met, "{tuned:?}");
    let (rod, crank) = (tuned.dimensions[0].2, tuned.dimensions[1].2);
    assert!(
        (rod - l).abs() < 0.1 && (crank - r).abs() < 0.1,
        "{tuned:?}"
    );
    approx::assert_relative_eq!(tuned.aim[1].unwrap(), wanted, max_relative = 1e-3);
}

/// A four-bar whose ratio has no bound where crank and coupler stand in line (its dead centre, in
/// any textbook of kinematics): with the crank at θ and crank + coupler = L that is where
/// L² − 2 L d cos θ + d² = c². Tuned for the greatest ratio at θ, the coupler ends within one
/// hundredth below L − a; the next hundredth is past the toggle.
#[test]
fn a_four_bar_is_tuned_to_its_dead_centre() {
    let text = r#"
        [tool]
        units = "mm-N"
        [parts.frame]
        fixed = true
        pins = { heel = [0, 0], post = [60, 0] }
        marks = { anvil = [60, 30] }
        [parts.crank]
        pins = { heel = [0, 0], knee = [20, 0] }
        [parts.strut]
        pins = ["knee", "wrist"]
        length = 50
        [parts.rocker]
        pins = { post = [0, 0], wrist = [0, 40] }
        marks = { nose = [0, 30] }
        [sketch]
        knee = [17, -10]
        wrist = [53, 40]
        [hand]
        part = "crank"
        line = [[0, 0], [100, 0]]
        grips = [100]
        [[jaw]]
        on = "rocker.nose"
        against = "frame.anvil"
        axis = 180
        [stroke]
        open = { handle = -20 }
        shut = { handle = 35 }
        [[tune]]
        dimension = "strut.length"
        from = 45
        to = 60
        [aim]
        measure = "ratio"
        at = "shut"
        want = "most"
    "#;
    let (a, c, d, theta) = (20.0_f64, 40.0_f64, 60.0_f64, 35f64.to_radians());
    let line = d * theta.cos() + (c * c - (d * theta.sin()).powi(2)).sqrt();
    let dead = line - a;
    let tool = read_tool(text, &|_| Err(String::new())).unwrap().tool;
    let tuned = Analysis::of(tool.clone()).tune(&|| ()).unwrap();
    let found = tuned.dimensions[0].2;
    assert!(found <= dead && dead - found < 0.01, "{dead} {tuned:?}");
}

/// The ratio grows with the rod, so the most is at the end of the range.
#[test]
fn what_was_read_where_and_which_range_is_used_up_is_reported() {
    assert!(ratio(120.0) > ratio(119.0));
    for (want, at_end) in [("\"most\"", true), ("3.8", false)] {
        let tool = read_tool(&slider_crank(want), &|_| Err(String::new()))
            .unwrap()
            .tool;
        let tuned = Analysis::of(tool.clone()).tune(&|| ()).unwrap();
        let report = jawforce::report::tune_report(&tool, &tuned, tool.units);
        let text = jawforce::output::tune_text(&report, 80);
        assert!(text.contains("aim: ratio at handle=45, grip 100"), "{text}");
        assert_eq!(
            text.contains("At an end of its range: rod.length"),
            at_end,
            "{text}"
        );
    }
}

#[test]
fn a_demand_that_nothing_meets_is_named() {
    let text = slider_crank("\"most\"")
        + "\n[[demand]]\nmeasure = \"jaw_force\"\nat = { handle = 45 }\nmin = 5000\n";
    let tool = read_tool(&text, &|_| Err(String::new())).unwrap().tool;
    let tuned = Analysis::of(tool.clone()).tune(&|| ()).unwrap();
    assert!(!tuned.met);
    let report = jawforce::report::tune_report(&tool, &tuned, tool.units);
    assert_eq!(report.in_the_way.as_deref(), Some("jaw_force"));
}

#[test]
fn a_file_without_an_aim_is_reported_what_to_add() {
    let folder = tempfile::tempdir().unwrap();
    let new = folder.path().join("new.toml");
    let done = run(&[
        "tune",
        "demo-data/wire-crimp-pliers.toml",
        "-o",
        new.to_str().unwrap(),
    ]);
    let text = String::from_utf8(done.stderr).unwrap();
    assert!(matches!(done.status.code(), Some(2)), "{text}");
    assert!(text.contains("nothing to tune"), "{text}");
    assert!(!new.exists());
}
