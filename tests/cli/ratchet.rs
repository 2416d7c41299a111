//! Ratchets from the command line.

use super::Bench;
use crate::ratchets::LEVER;

fn said(bench: &Bench, args: &[&str], code: i32) -> String {
    let out = bench.run(args).code(code).out;
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn check_and_stroke_say_what_the_ratchet_does() {
    let bench = Bench::with(LEVER);
    let check = said(&bench, &["check", "tool.toml"], 0);
    // By hand, see `ratchets.rs`.
    for text in [
        "Ratchet gap mm handle deg back by mm pawl N hand for work N",
        "tooth 6 0.80",
        "Ratchet: 6 teeth from gap 6.00 mm to 0.80 mm; if the hand lets go, the gap opens by 1.05 mm at most, before tooth 6",
        "its teeth turn on by 1.54 deg, the pawl needs 0.50 deg",
        "flanks of 12.00 deg against friction 0.150 pull it in",
    ] {
        assert!(check.contains(text), "{text}:\n{check}");
    }
    let stroke = said(&bench, &["stroke", "tool.toml"], 0);
    assert!(stroke.contains("Ratchet: 6 teeth"), "{stroke}");
    let json = bench.run(&["check", "tool.toml", "--json"]).code(0).json();
    assert_eq!(json["ratchet"]["teeth"].as_array().map(Vec::len), Some(6));
}

#[test]
fn a_ratchet_that_does_not_let_go_is_a_warning() {
    let never = LEVER.replace("over-travel = 0.5", "over-travel = 2");
    let bench = Bench::with(&never);
    let text = said(&bench, &["stroke", "tool.toml"], 0);
    let held =
        "Does the ratchet let go? NO: the pawl cannot turn over, so that the tool stays held.";
    for command in ["stroke", "check"] {
        let text = said(&bench, &[command, "tool.toml"], 0);
        assert!(text.contains(held), "{command}: {text}");
    }
    let free = said(&Bench::with(LEVER), &["stroke", "tool.toml"], 0);
    assert!(!free.contains("Does the ratchet let go?"), "{free}");
    assert!(
        text.contains("RATCHET: the pawl cannot turn over"),
        "{text}"
    );
    for (change, to, why) in [
        (
            "engages     = { gap = 6 }",
            "engages = { gap = 20 }",
            "`engages` is not on the stroke",
        ),
        (
            "engages     = { gap = 6 }",
            "engages = { gap = 0.1 }",
            "it lets go before it engages",
        ),
        (
            "frees       = { gap = 0.3 }",
            "frees = { gap = 5.5 }",
            "less than their pitch of 2 deg",
        ),
    ] {
        let bench = Bench::with(&LEVER.replace(change, to));
        let text = said(&bench, &["stroke", "tool.toml"], 0);
        assert!(text.contains(why), "{why}: {text}");
        let first = "Does the ratchet let go? NO: its teeth have no places on the stroke.";
        assert!(text.contains(first), "{text}");
        let wrong = bench
            .run(&["measure", "tool.toml", "ratchet.free_gap"])
            .code(3);
        assert!(
            wrong.err.contains("no teeth on the stroke"),
            "{}",
            wrong.err
        );
    }
}

#[test]
fn drawing_chart_and_page_show_the_teeth() {
    let bench = Bench::with(LEVER);
    let read = |name: &str| std::fs::read_to_string(bench.path(name)).expect("a file");
    bench
        .run(&["stroke", "tool.toml", "--svg", "curves.svg"])
        .code(0);
    bench
        .run(&["draw", "tool.toml", "--at", "shut", "--svg", "shut.svg"])
        .code(0);
    bench
        .run(&["report", "tool.toml", "-o", "review.html"])
        .code(0);
    assert!(read("curves.svg").contains("ratchet lets go"));
    assert!(read("review.html").contains("Ratchet: 6 teeth"));
    let json = bench
        .run(&["draw", "tool.toml", "--at", "shut", "--json"])
        .code(0)
        .json();
    let drawn = &json["positions"][0]["ratchet"];
    // The pawl is as long as it is, and its tip on the circle of the tips.
    let point = |v: &serde_json::Value| [0, 1].map(|k| v[k].as_f64().expect("a number"));
    let [pin, tip] = [point(&drawn["pawl"][0]), point(&drawn["pawl"][1])];
    assert!(((pin[0] - tip[0]).hypot(pin[1] - tip[1]) - 8.0).abs() < 1e-9);
    assert!((tip[0].hypot(tip[1]) - 20.0).abs() < 1e-9);
    // As the lever opens, counter-clockwise, the tips press the pawl towards its pin.
    let opens = [-tip[1], tip[0]];
    assert!(opens[0] * (pin[0] - tip[0]) + opens[1] * (pin[1] - tip[1]) > 0.0);
    // 1.54 degrees beyond the last tooth.
    let last = point(&drawn["teeth"][10]);
    let turned = (tip[0] * last[1] - tip[1] * last[0]) / 400.0;
    assert!(
        (turned.asin().to_degrees() + 1.537).abs() < 1e-3,
        "{turned}"
    );
}
