//! How far shut is from the toggle, and how far jaw points are off each other, by hand.

use crate::cli::Bench;

/// A knee of two links of 24 mm under a heel, the lower one on a plunger in a guide below the heel. With
/// the knee turned by t from the straight line the gap is 47 - 48 cos t, and the nose stands 3 mm beside
/// the anvil. Shut, at gap 0, t = acos(47 / 48); straight, the gap is -1.
pub const KNEE: &str = r#"
[tool]
name = "Knee"
units = "mm-N"
[parts.frame]
fixed = true
pins = { heel = [0, 0] }
marks = { guide = [0, -30], anvil = [3, -57] }
[parts.lever]
pins = { heel = [0, 0], knee = [24, 0] }
[parts.link]
pins = ["knee", "wrist"]
length = 24
[parts.plunger]
pins = { wrist = [0, 0] }
marks = { nose = [0, -10] }
[sketch]
knee = [12, -21]
wrist = [0, -42]
[[slots]]
part = "plunger"
point = "wrist"
on = "frame"
through = "guide"
angle = 90
keyed = true
[hand]
part = "lever"
line = [[0, 0], [-100, 0]]
push = "square"
grips = [80]
[[jaw]]
on = "plunger.nose"
against = "frame.anvil"
axis = 90
[stroke]
open = { gap = 8 }
shut = { gap = 0 }
"#;

fn measured(bench: &Bench, args: &[&str]) -> f64 {
    let out = bench.run(&[&["measure", "tool.toml"], args].concat()).out;
    out.trim().parse().unwrap_or_else(|e| panic!("{e}: {out}"))
}

#[test]
fn a_knee_has_its_margin_to_the_straight_line() {
    let bench = Bench::with(KNEE);
    let left = (47.0_f64 / 48.0).acos().to_degrees();
    for opening in [&[][..], &["--opening"]] {
        let read = |name: &'static str| measured(&bench, &[&[name], opening].concat());
        assert!((read("toggle_margin") - left).abs() < 1e-6);
        assert!((read("toggle_margin.gap") - 1.0).abs() < 1e-6);
    }
    for at in ["open", "shut", "gap=3"] {
        assert!((measured(&bench, &["offset", "--at", at]) - 3.0).abs() < 1e-9);
    }
    // As demands, and side by side.
    let demands = "[[demand]]\nmeasure = \"toggle_margin.gap\"\nmin = 0.9\n\
                   [[demand]]\nmeasure = \"toggle_margin\"\nmin = 12\n\
                   [[demand]]\nmeasure = \"offset\"\nat = \"shut\"\nmax = 3.1\n";
    let bench = Bench::with(&format!("{KNEE}{demands}"));
    let stroke = bench.run(&["stroke", "tool.toml"]);
    assert_eq!(stroke.code, 1, "11.7 degrees are not 12: {}", stroke.out);
    assert!(stroke.out.contains("2 of 3 demands met"), "{}", stroke.out);
    let columns = ["compare", "tool.toml", "--measure", "toggle_margin.gap"];
    assert!(bench.run(&columns).out.contains("1.00"));
}

/// A lever alone goes round and round: the nose rises again where it points straight down, and nothing
/// stands in the way of a stroke before.
#[test]
fn a_lever_far_from_its_toggle() {
    let lever = KNEE
        .replace(
            "[parts.link]\npins = [\"knee\", \"wrist\"]\nlength = 24\n",
            "",
        )
        .replace(
            "[parts.plunger]\npins = { wrist = [0, 0] }\nmarks = { nose = [0, -10] }\n",
            "",
        )
        .replace("wrist = [0, -42]\n", "")
        .replace("knee = [12, -21]", "\"lever.nose\" = [24, 2]")
        .replace(
            "pins = { heel = [0, 0], knee = [24, 0] }",
            "pins = { heel = [0, 0] }\nmarks = { nose = [24, 0] }",
        )
        .replace("plunger.nose", "lever.nose")
        .replace("anvil = [3, -57]", "anvil = [24, 0]");
    let from = lever.find("[[slots]]").unwrap();
    let to = lever.find("[hand]").unwrap();
    let bench = Bench::with(&(lever[..from].to_owned() + &lever[to..]));
    // y = 24 sin t turns at -90 degrees, 24 mm below shut.
    assert!((measured(&bench, &["toggle_margin"]) - 90.0).abs() < 1e-6);
    assert!((measured(&bench, &["toggle_margin.gap"]) - 24.0).abs() < 1e-6);
}

/// By hand: the gap is 47 - 24 (cos t + cos t), so 0.6 mm more on the link take 0.6 mm of the 1 mm at the
/// straight line, and on the lever as much: together more than there is. With 0.3 mm each they do not.
#[test]
fn tolerances_that_take_the_whole_margin_are_advised_against() {
    let advice = |tolerance: f64| {
        let rules = format!(
            "[tolerances]\n\"link.length\" = {tolerance}\n\"lever.knee.x\" = {tolerance}\n"
        );
        let out = Bench::with(&format!("{KNEE}{rules}"))
            .run(&["check", "tool.toml"])
            .out;
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let said = advice(0.6);
    let sentence =
        "shut is 1.000 mm of gap from the toggle, and the tolerances take 1.200 of it at the worst";
    assert!(said.contains(sentence), "{said}");
    // A lever that is tied to the link takes as much again, though only the link has a tolerance.
    let tied = format!(
        "{KNEE}[tolerances]\n\"link.length\" = 0.6\n[ties]\n\"lever.knee.x\" = \"link.length\"\n"
    );
    let out = Bench::with(&tied).run(&["check", "tool.toml"]).out;
    let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(out.contains("take 1.000 of it at the worst"), "{out}");
    let said = advice(0.3);
    assert!(
        !said.contains("from the toggle, and the tolerances"),
        "{said}"
    );
}
