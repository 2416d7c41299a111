//! Nothing off the page, no label on another.

use super::{DEMOS, STARTERS, check_page, demo, out, problems};
use crate::cli::Bench;

#[test]
fn a_bad_page_is_seen_to_be_bad() {
    let page = |inner: &str| {
        let problems = problems(&format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='50mm' viewBox='0 0 100 50' \
             font-family='sans-serif' font-size='3.4'>{inner}</svg>"
        ));
        problems.join("\n")
    };
    assert_eq!(
        page("<text x='20' y='20'>knee</text><text x='20' y='24'>heel</text>"),
        ""
    );
    assert!(
        page("<text x='20' y='20'>knee</text><text x='24' y='21'>heel</text>").contains("lies on")
    );
    assert!(page("<text x='98' y='20'>knee</text>").contains("`knee` off the page"));
    assert!(page("<path d='M5 5L101 5' stroke='red'/>").contains("ink off the page"));
    assert!(page("<path d='M5 5LNaN 5' stroke='red'/>").contains("NaN"));
}

#[test]
fn nothing_leaves_the_page_and_no_label_lies_on_another() {
    let bench = Bench::empty();
    let mut files: Vec<String> = DEMOS.iter().map(|d| demo(d)).collect();
    for starter in STARTERS {
        let file = format!("{starter}.toml");
        out(&bench, &["new", starter, "-o", &file]);
        files.push(file);
    }
    for file in &files {
        for scale in ["1:1", "2:1", "1:4", "1:20", "fit"] {
            let svg = out(&bench, &["draw", file, "--scale", scale]);
            check_page(&svg, &format!("{file} {scale}"));
        }
        let svg = out(
            &bench,
            &[
                "draw",
                file,
                "--no-forces",
                "--units",
                "in-lbf",
                "--at",
                "shut",
            ],
        );
        check_page(&svg, &format!("{file} without forces"));
    }
}

#[test]
fn twelve_positions_are_put_on_one_page() {
    let bench = Bench::empty();
    let at = "open,gap=8,gap=7,gap=6,gap=5,gap=4,gap=3,gap=2,gap=1,gap=0.5,gap=0.2,shut";
    for scale in ["fit", "1:2"] {
        let svg = out(
            &bench,
            &["draw", &demo("eyelet-toggle"), "--at", at, "--scale", scale],
        );
        check_page(&svg, "twelve positions");
    }
}
