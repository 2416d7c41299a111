//! Work estimated from size and strength: the curve that the tool sees, what is said of it, and what its spread does.

use crate::cli::Bench;

/// A lever that pierces a sheet: 6 mm, 1 mm thick, 280 MPa.
const LEVER: &str = r#"
[tool]
name = "Punch"
units = "mm-N"
[parts.base]
fixed = true
pins = { heel = [0, 0] }
marks = { anvil = [30, 0] }
[parts.lever]
pins = { heel = [0, 0] }
marks = { nose = [30, 0] }
[sketch]
nose = [29, 7]
[hand]
part = "lever"
line = [[0, 0], [-600, 0]]
grips = [600]
force = 200
limit = 400
palm = false
[[jaw]]
on = "lever.nose"
against = "base.anvil"
axis = 90
[stroke]
open = { gap = 2 }
shut = { gap = 0 }
[work]
job = "pierce"
hole = 6
thickness = 1
shear = 280
[[demand]]
measure = "hand_force"
at = "peak"
max = 300
"#;

/// Force of the job by hand, N.
fn force() -> f64 {
    std::f64::consts::PI * 6.0 * 280.0
}

#[test]
fn the_curve_is_a_rectangle_from_the_touch_to_where_the_slug_breaks_out() {
    let bench = Bench::with(LEVER);
    let need = |gap: &str| {
        let said = bench
            .run(&["measure", "tool.toml", "hand_force", "--at", gap])
            .code(0)
            .out;
        let value: f64 = said.trim().parse().expect("a force");
        // Of a lever with arms of 600 and 30 cos φ, sin φ = gap / 30.
        let gap: f64 = gap.trim_start_matches("gap=").parse().expect("a gap");
        let arm = 30.0 * (1.0 - (gap / 30.0).powi(2)).sqrt();
        value * 600.0 / arm
    };
    for (gap, expected) in [
        ("gap=0.99", force()),
        ("gap=0.66", force()),
        ("gap=0.3", 0.0),
    ] {
        assert!(
            (need(gap) - expected).abs() < 1e-6 * force(),
            "{gap}: {}",
            need(gap)
        );
    }
}

#[test]
fn the_first_lines_say_that_it_is_an_estimate() {
    let bench = Bench::with(LEVER);
    let said = bench.run(&["stroke", "tool.toml"]).out;
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("The work is an estimate until measured: pierce, F = π d t τ, 5278 N within 20 % either way"), "{said}");
    let json = bench.run(&["stroke", "tool.toml", "--json"]).json();
    let line = &json["verdict"]["estimates"][0];
    assert_eq!(line["job"], "pierce");
    assert!((line["force"].as_f64().expect("a force") - force()).abs() < 1e-6);
    // Wherever the numbers stand that follow from it.
    bench.put("other.toml", LEVER);
    bench.put(
        "made.toml",
        format!("{LEVER}[tolerances]\nclass = \"ISO 2768-m\"\n"),
    );
    for args in [
        &["tolerance", "made.toml"][..],
        &["compare", "tool.toml"],
        &["compare", "tool.toml", "other.toml"],
        &["check", "tool.toml"],
    ] {
        let run = bench.run(args);
        assert!(
            run.out.contains("estimate until measured"),
            "{args:?}\n{}{}",
            run.out,
            run.err
        );
    }
    // Measured rows are no estimate.
    let measured = LEVER.replace(
        "job = \"pierce\"\nhole = 6\nthickness = 1\nshear = 280",
        "need = [[1, 5000], [0, 5000]]",
    );
    let said = Bench::with(&measured).run(&["stroke", "tool.toml"]).out;
    assert!(!said.contains("estimate"), "{said}");
}

/// The hand force is as uncertain as the work: worst case 20 % of it, the more with a greater spread, unless the file
/// states a tolerance of its own.
#[test]
fn the_spread_is_a_tolerance() {
    let worst = |text: &str| {
        let bench = Bench::with(text);
        let json = bench
            .run(&["tolerance", "tool.toml", "--json", "--samples", "200"])
            .json();
        let row = &json["measures"][0];
        let number = |key: &str| row[key].as_f64().unwrap_or_else(|| panic!("{key}: {row}"));
        number("worst_case") / number("nominal")
    };
    assert!((worst(LEVER) - 0.2).abs() < 1e-6, "{}", worst(LEVER));
    let wide = LEVER.replace("shear = 280", "shear = 280\nspread = 0.35");
    assert!((worst(&wide) - 0.35).abs() < 1e-6);
    let own = format!("{LEVER}\n[tolerances]\n\"work.scale\" = 0.1\n");
    assert!((worst(&own) - 0.1).abs() < 1e-6);
}

/// A strength that is not stated is that of the material: 0.8 of its ultimate strength in shear.
#[test]
fn a_material_has_the_strength() {
    let text = LEVER.replace("shear = 280", "material = \"sheet\"")
        + "[materials.sheet]\nyield = 240\nultimate = 350\n";
    let json = Bench::with(&text)
        .run(&["stroke", "tool.toml", "--json"])
        .json();
    let found = json["verdict"]["estimates"][0]["force"]
        .as_f64()
        .expect("a force");
    assert!((found - force()).abs() < 1e-6);
}
