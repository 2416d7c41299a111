//! The call: what is written, what is refused.

use super::{check_page, demo, out};
use crate::cli::Bench;

#[test]
fn a_position_without_forces_is_drawn_and_says_so() {
    let bench = Bench::empty();
    let svg = out(
        &bench,
        &["draw", &demo("eyelet-toggle"), "--hand-force", "0.5"],
    );
    assert!(
        svg.contains("no forces here"),
        "the springs hold a hand of 0.5 N"
    );
    assert!(!svg.contains("#0072b2"), "no arrow of a hand");
    check_page(&svg, "no forces");
}

#[test]
fn a_file_is_written_and_its_page_named() {
    let bench = Bench::empty();
    let call = [
        "draw",
        &demo("eyelet-toggle"),
        "--scale",
        "1:4",
        "--svg",
        "x.svg",
    ];
    let ended = bench.run(&call);
    assert_eq!(ended.code, 0, "{}", ended.err);
    assert!(
        ended
            .out
            .starts_with("x.svg: linkage at open, shut, scale 1:4, prints on A4, landscape."),
        "{}",
        ended.out
    );
    assert!(
        ended.out.contains("A4") && ended.out.contains("scale bar"),
        "{}",
        ended.out
    );
    let svg = String::from_utf8(ended.written["x.svg"].clone()).unwrap();
    assert_eq!(
        svg,
        out(&bench, &call[..4]),
        "the same bytes as on standard output"
    );
    assert_eq!(svg, out(&bench, &[&call[..4], &["--svg", "-"]].concat()));
}

#[test]
fn wrong_calls_say_what_to_do() {
    let bench = Bench::empty();
    bench.put("tool.toml", std::fs::read(demo("eyelet-toggle")).unwrap());
    for (call, says) in [
        (&["--part", "rams"][..], "ram"),
        (&["--scale", "big"], "e.g. 1:1"),
        (&["--scale", "1"], "e.g. 1:1"),
        (&["--scale", "0:1"], "from 1:100 to 100:1"),
        (&["--scale", "nan:1"], "e.g. 1:1"),
        (&["--scale", "1:1000"], "from 1:100 to 100:1"),
        (&["--at", "peak"], "a place on the stroke"),
        (&["--at", "gap"], "write open, shut"),
        (&["--at", "gap=1,,shut"], "write open, shut"),
        (&["--at", "gap=3 N"], "length"),
        (
            &[
                "--at",
                "open,open,open,open,open,open,open,open,open,open,open,open,open",
            ],
            "12 at most",
        ),
        (&["--json", "--svg", "-"], "give one of them a file"),
        (&["--svg", "tool.toml"], "tool.toml"),
    ] {
        let ended = bench.run(&[&["draw", "tool.toml"][..], call].concat());
        assert_eq!(ended.code, 2, "{call:?}: {}", ended.err);
        assert!(ended.err.contains(says), "{call:?}: {}", ended.err);
        let data = call.contains(&"--json") && ended.out.contains("\"problems\"");
        assert!(
            (ended.out.is_empty() || data) && ended.written.is_empty(),
            "{call:?}"
        );
    }
    // Not on the stroke: the linkage cannot do that.
    let ended = bench.run(&["draw", "tool.toml", "--at", "gap=500"]);
    assert_eq!(ended.code, 3, "{}", ended.err);
    assert!(ended.err.contains("gap runs from"), "{}", ended.err);
}
