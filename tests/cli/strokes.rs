//! Which stroke is taken, through the program.

use super::{Bench, Ended};

/// Pliers of one rivet, drawn with the jaws touching: the jaw 25 mm, the hand 99.2 mm from it, the
/// handles 25.25° apart.
fn pliers(axis: &str, open: &str, shut: &str) -> Bench {
    Bench::with(&format!(
        "[tool]\nunits = \"mm-N\"\n\
         [parts.fixed]\nfixed = true\npins = {{ rivet = [0, 0] }}\nmarks = {{ low = [25, 0] }}\n\
         [parts.press]\npins = {{ rivet = [0, 0] }}\nmarks = {{ high = [25, 0] }}\n\
         [hand]\npart = \"press\"\nline = [[0, 0], [-90.44556, -42.65815]]\ngrips = [99.2]\n\
         push = \"square\"\nforce = 100\n\
         against = {{ part = \"fixed\", line = [[0, 0], [-100, 0]] }}\n\
         [[jaw]]\nname = \"nose\"\non = \"press.high\"\nagainst = \"fixed.low\"\n{axis}\
         [stroke]\nopen = {open}\nshut = {shut}\n"
    ))
}

fn measured(ended: Ended) -> f64 {
    ended.code(0).out.trim().parse().expect("a number")
}

/// By hand: 70 mm of span is a turn of 16.07°, and the jaw force 100 N · 99.2 / (25 · cos(turn)).
#[test]
fn pliers_drawn_with_their_jaws_touching() {
    let bench = pliers("axis = 90\n", "{ span = 70 }", "{ gap = 1.0 }");
    for (measure, at, value, within) in [
        ("gap", "open", 6.92, 0.005),
        ("gap", "shut", 1.0, 1e-9),
        ("ratio", "open", 4.13, 0.005),
        ("ratio", "shut", 3.97, 0.005),
        ("jaw_force", "open", 413.0, 0.5),
        ("jaw_force", "shut", 397.0, 0.5),
    ] {
        let found = measured(bench.run(&["measure", "tool.toml", measure, "--at", at]));
        assert!((found - value).abs() < within, "{measure} at {at}: {found}");
    }
}

/// The crest a twentieth of a millimetre lower: drawn just beyond shut. By hand: the handle turns
/// by 0.05 / 25, which changes the force by less than a thousandth.
#[test]
fn pliers_drawn_just_beyond_shut() {
    let file = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/demo-data/wire-crimp-pliers.toml"
    );
    let bench = Bench::empty();
    let run = |more: &[&str]| {
        let fixed = ["measure", file, "jaw_force", "--at", "shut", "--grip", "80"];
        measured(bench.run(&[&fixed, more].concat()))
    };
    let (plain, low) = (run(&[]), run(&["--set", "press-half.crest.y=-0.05"]));
    assert!(
        (low / plain - 1.0).abs() < 1e-3 && (low - 410.0).abs() < 5.0,
        "{low} for {plain}"
    );
}

/// Without an axis the gap is a distance: the pliers drawn with their jaws touching may open
/// either way.
#[test]
fn two_strokes_as_near_as_one_another_are_said() {
    let bench = pliers("", "{ gap = 6 }", "{ gap = 0 }");
    let both = "two strokes are as near to the sketch";
    // By hand: 2 · asin(6 / 50) = 13.78° to either side of 205.25°.
    for args in [["check", "tool.toml"], ["stroke", "tool.toml"]] {
        let ended = bench.run(&args).code(0);
        let text = ended.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(both) && text.contains("handle = -"), "{text}");
        assert!(
            text.contains("-140.97 deg") && text.contains("-168.53 deg"),
            "{text}"
        );
    }
    // As it says: one end stated by its handle angle.
    let bench = pliers("", "{ handle = -140.97 }", "{ gap = 0 }");
    let ended = bench.run(&["check", "tool.toml"]).code(0);
    assert!(
        !ended.out.contains("as near to the sketch"),
        "{}",
        ended.out
    );
}

/// Opened by 100° the gap is 25 · sin(100°) = 24.62 mm, by 60° and 120° it is 21.65 mm; at 90° the
/// jaw stands still. The handle is at 205.25° where the jaws touch.
#[test]
fn where_no_way_closes_the_pairs_are_shown() {
    let bench = pliers("axis = 90\n", "{ gap = 21.65 }", "{ handle = -54.75 }");
    bench
        .run(&["stroke", "tool.toml"])
        .code(3)
        .says("jaw `nose` opens on the way from open to shut: its gap grows from 21.65 mm to 24.62 mm")
        .says("open at handle -34.75 deg, gap 21.65 mm to shut at handle -54.75 deg, gap 24.62 mm: the jaw opens")
        .says(": past the toggle at handle -64.75 deg, gap 25 mm")
        .says("swap the targets `open` and `shut`")
        .says("`open = { handle = -34.75 }`")
        .leaves_nothing();
    // Swapped as it says, it works.
    let bench = pliers("axis = 90\n", "{ handle = -54.75 }", "{ gap = 21.65 }");
    let found = measured(bench.run(&["measure", "tool.toml", "gap", "--at", "open"]));
    assert!((found - 24.62).abs() < 0.005, "{found}");
}
