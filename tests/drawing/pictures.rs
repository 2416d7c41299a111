//! Every picture of every demo, those of its page and those of the commands: no label on another or off the page, and in
//! drawings none across the circle of a pin.

use super::{DEMOS, demo, out, problems, rendered, texts};
use crate::cli::Bench;

/// The SVG documents of a page.
fn of_page(page: &str) -> Vec<&str> {
    let starts = page.match_indices("<svg ").map(|m| m.0);
    let ends = starts.map(|start| {
        let long = page[start..].find("</svg>").unwrap() + "</svg>".len();
        &page[start..start + long]
    });
    ends.collect()
}

/// Labels that lie across the circle of a pin, in a drawing whose parts do not move.
fn on_pins(svg: &str) -> Vec<String> {
    let document = roxmltree::Document::parse(svg).unwrap();
    if document.descendants().any(|n| n.has_attribute("transform")) {
        return Vec::new();
    }
    let pins = document
        .descendants()
        .filter(|n| n.has_attribute("data-pin"));
    let number =
        |n: &roxmltree::Node, name: &str| -> f64 { n.attribute(name).unwrap().parse().unwrap() };
    let pins: Vec<([f64; 2], f64)> = pins
        .map(|n| (["cx", "cy"].map(|name| number(&n, name)), number(&n, "r")))
        .collect();
    let mut out = Vec::new();
    for (b, text) in texts(&rendered(svg)) {
        for (middle, radius) in &pins {
            let off = |k: usize| (b[k] - middle[k]).max(middle[k] - b[k + 2]).max(0.0);
            if off(0).hypot(off(1)) < radius - 0.05 {
                out.push(format!("`{text}` lies across a pin: {b:?}, {middle:?}"));
            }
        }
    }
    out
}

#[test]
fn no_label_of_any_picture_lies_on_another_or_on_a_pin() {
    let bench = Bench::empty();
    let mut wrong = Vec::new();
    for name in DEMOS {
        let file = demo(name);
        out(
            &bench,
            &["report", &file, "--samples", "100", "-o", "review.html"],
        );
        let page = std::fs::read_to_string(bench.path("review.html")).unwrap();
        let pictures = of_page(&page);
        assert!(pictures.len() >= 4, "{name}: {}", pictures.len());
        let mut seen: Vec<(String, String)> = (pictures.iter().enumerate())
            .map(|(k, svg)| (format!("picture {} of the page", k + 1), (*svg).to_owned()))
            .collect();
        for (command, more) in [
            ("tolerance", &["--samples", "100"][..]),
            ("compare", &[]),
            ("setup", &[]),
            ("people", &[]),
            ("draw", &["--scale", "2:1", "--at", "open"]),
            ("draw", &["--scale", "1:4"]),
        ] {
            let call = [&[command, &file, "--svg", "-"][..], more].concat();
            let ended = bench.run(&call);
            // Not every tool has adjusters, or a job.
            if ended.code <= 1 {
                seen.push((format!("{command} {more:?}"), ended.out));
            }
        }
        for (what, svg) in seen {
            let all = problems(&svg).into_iter().chain(on_pins(&svg));
            wrong.extend(all.map(|problem| format!("{name}, {what}: {problem}")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
