//! Sheets of standard size: which one, frame and title block, the finished work, names of jaw points on their own side.

use super::{DEMOS, check_page, demo, json, out};
use crate::cli::Bench;
use serde_json::Value;

const PAPERS: [[f64; 2]; 10] = [
    [297.0, 210.0],
    [420.0, 297.0],
    [594.0, 420.0],
    [841.0, 594.0],
    [1189.0, 841.0],
    [279.4, 215.9],
    [431.8, 279.4],
    [558.8, 431.8],
    [863.6, 558.8],
    [1117.6, 863.6],
];

fn size(svg: &str) -> [f64; 2] {
    let document = roxmltree::Document::parse(svg).unwrap();
    ["width", "height"].map(|side| {
        let text = document.root_element().attribute(side).unwrap();
        text.strip_suffix("mm").unwrap().parse().unwrap()
    })
}

/// Every text that is seen, with the point where it is set.
fn words(svg: &str) -> Vec<(String, [f64; 2])> {
    let document = roxmltree::Document::parse(svg).unwrap();
    let texts = document.descendants().filter(|n| n.has_tag_name("text"));
    let seen = texts.filter(|n| n.attribute("aria-hidden").is_none());
    let place = |n: &roxmltree::Node, name: &str| n.attribute(name).unwrap().parse().unwrap();
    seen.map(|n| {
        (
            n.text().unwrap().to_owned(),
            [place(&n, "x"), place(&n, "y")],
        )
    })
    .collect()
}

/// The files that a call writes, by their names.
fn written(call: &[&str]) -> (String, Vec<(String, String)>) {
    let ended = Bench::empty().run(call);
    assert_eq!(ended.code, 0, "{call:?}: {}", ended.err);
    let files = ended.written.into_iter();
    let text = |(name, bytes): (String, Vec<u8>)| (name, String::from_utf8(bytes).unwrap());
    (ended.out, files.map(text).collect())
}

#[test]
fn every_demo_is_drawn_on_sheets_that_exist() {
    for name in DEMOS {
        for scale in ["1:1", "1:2", "2:1", "fit"] {
            let (said, files) = written(&["draw", &demo(name), "--scale", scale, "--svg", "x.svg"]);
            assert!(said.contains("prints on "), "{name}: {said}");
            for (file, svg) in &files {
                assert!(
                    PAPERS.contains(&size(svg)),
                    "{name} {file}: {:?}",
                    size(svg)
                );
                check_page(svg, &format!("{name} {scale} {file}"));
            }
            if scale == "fit" {
                assert_eq!(files.len(), 1, "{name}");
                let small = [[297.0, 210.0], [279.4, 215.9]];
                assert!(small.contains(&size(&files[0].1)), "{name}: {said}");
            }
        }
    }
}

#[test]
fn tools_of_one_hand_print_at_full_size_on_the_paper_at_hand() {
    for name in [
        "eyelet-toggle",
        "eyelet-toggle-b",
        "excluder-cutter",
        "seal-pliers",
    ] {
        let (said, files) = written(&["draw", &demo(name), "--svg", "x.svg"]);
        let names: Vec<&str> = files.iter().map(|f| f.0.as_str()).collect();
        assert_eq!(names, ["x-1.svg", "x-2.svg"], "{name}: {said}");
        let paper = if name == "excluder-cutter" {
            "Letter"
        } else {
            "A4"
        };
        for (number, at) in [(1, "open"), (2, "shut")] {
            let line = format!(
                "x-{number}.svg: linkage at {at}, scale 1:1, prints on {paper}, landscape."
            );
            assert!(said.contains(&line), "{name}: {said}");
        }
    }
}

#[test]
fn a_fitted_drawing_has_a_scale_that_is_on_a_rule() {
    let standard = [
        "10:1", "5:1", "2:1", "1:1", "1:1.5", "1:2", "1:2.5", "1:4", "1:5", "1:10", "8:1", "4:1",
        "1:8",
    ];
    for name in DEMOS {
        let (said, _) = written(&["draw", &demo(name), "--scale", "fit", "--svg", "x.svg"]);
        let scale = said
            .split("scale ")
            .nth(1)
            .unwrap()
            .split(',')
            .next()
            .unwrap();
        assert!(standard.contains(&scale), "{name}: {scale}");
    }
}

#[test]
fn frame_and_title_block_are_those_of_a_drawing_office() {
    let file = demo("eyelet-toggle");
    let (_, files) = written(&["draw", &file, "--svg", "x.svg"]);
    let sha = json(&Bench::empty(), &["draw", &file, "--json"])["sha256"].clone();
    let frame = "M20 10L287 10L287 200L20 200Z";
    for (k, (_, svg)) in files.iter().enumerate() {
        assert!(
            svg.contains(frame),
            "a frame 20 mm from the left edge, 10 mm from the others"
        );
        let words: Vec<String> = words(svg).into_iter().map(|w| w.0).collect();
        let sheet = format!("{} of 2", k + 1);
        let sum = format!("SHA-256 of the tool file: {}", sha.as_str().unwrap());
        for wanted in [
            "Title",
            "Eyelet setter, concept A",
            "Kind of document",
            "Scale",
            "1:1",
            "Sheet size",
            "A4",
            "Units",
            "mm, N",
            "Sheet",
            &sheet,
            "Owner",
            "Drawing number",
            "Revision",
            "Date",
            "Made by",
            "Drawn",
            "Checked",
            "Approved",
            "Tool file",
            "eyelet-toggle.toml",
            &sum,
            "fixed part",
            "hand line",
            "grip held",
            "earlier positions",
            "finished work",
            "force of the hand",
            "force of the work",
        ] {
            let absent = wanted == "earlier positions" && k == 0;
            assert_eq!(
                words.iter().any(|w| w == wanted),
                !absent,
                "sheet {k}: {wanted}"
            );
        }
        let version = concat!("jawforce ", env!("CARGO_PKG_VERSION"));
        assert!(words.iter().any(|w| w == version));
    }
}

/// Where a place of the tool is on the sheet at 1:1: the pins tell.
fn placed(svg: &str, drawn: &Value, at: &Value) -> [f64; 2] {
    let document = roxmltree::Document::parse(svg).unwrap();
    let pin = &drawn["pins"][0];
    let name = pin["name"].as_str();
    let mut all = document.descendants();
    let circle = all.find(|n| n.attribute("data-pin").is_some() && n.attribute("data-pin") == name);
    let circle = circle.unwrap();
    let on = |name: &str| -> f64 { circle.attribute(name).unwrap().parse().unwrap() };
    let off = |k: usize| at[k].as_f64().unwrap() - pin["at"][k].as_f64().unwrap();
    [on("cx") + off(0), on("cy") - off(1)]
}

#[test]
fn finished_work_is_drawn_between_jaws_that_do_not_meet() {
    let bench = Bench::empty();
    let file = demo("eyelet-toggle");
    let svg = out(&bench, &["draw", &file, "--at", "shut"]);
    let drawn = &json(&bench, &["draw", &file, "--at", "shut", "--json"])["positions"][0];
    let jaw = &drawn["jaws"][0];
    assert_eq!(jaw["closed"].as_f64(), Some(3.5), "of the tool file");
    let [against, on] = ["against", "on"].map(|end| placed(&svg, drawn, &jaw[end]));
    let document = roxmltree::Document::parse(&svg).unwrap();
    let dashed = |n: &roxmltree::Node| {
        n.attribute("stroke-dasharray") == Some("2 1")
            && n.attribute("d").is_some_and(|d| d.ends_with('Z'))
    };
    let boxes = document.descendants().filter(dashed).map(|n| {
        let way = n
            .attribute("d")
            .unwrap()
            .trim_start_matches('M')
            .trim_end_matches('Z');
        let numbers = way.split(['L', ' ']).map(|v| v.parse::<f64>().unwrap());
        numbers.collect::<Vec<_>>()
    });
    // Its middle is that of the two points of the jaw, which stand 3.5 mm apart at a gap of zero.
    let there = boxes.into_iter().any(|b| {
        let middle = |k: usize| (b[k] + b[k + 2] + b[k + 4] + b[k + 6]) / 4.0;
        let tall = (b[0] - b[6]).hypot(b[1] - b[7]);
        let off =
            (middle(0) - 0.5 * (against[0] + on[0])).hypot(middle(1) - 0.5 * (against[1] + on[1]));
        (tall - 3.5).abs() < 0.01 && off < 0.6
    });
    assert!(there, "no box of 3.5 mm between {against:?} and {on:?}");
    let words = words(&svg);
    assert!(words.iter().any(|w| w.0 == "work 3.50 mm"));
    // The caption may be broken into lines anywhere.
    let said: Vec<&str> = words.iter().map(|w| w.0.as_str()).collect();
    assert!(
        said.join(" ")
            .contains("gap 0.00 mm to finished work of 3.50 mm"),
        "{said:?}"
    );
}

#[test]
fn the_points_of_a_jaw_are_named_each_on_its_own_side() {
    let bench = Bench::empty();
    for (name, moving, fixed) in [
        ("eyelet-toggle", "nose", "anvil"),
        ("eyelet-toggle-b", "nose", "anvil"),
    ] {
        for at in ["open", "shut", "gap=2"] {
            let svg = out(&bench, &["draw", &demo(name), "--at", at]);
            let drawn = &json(&bench, &["draw", &demo(name), "--at", at, "--json"])["positions"][0];
            let jaw = &drawn["jaws"][0];
            let [against, on] = ["against", "on"].map(|end| placed(&svg, drawn, &jaw[end]));
            let words = words(&svg);
            let find = |name: &str| words.iter().find(|w| w.0 == name).unwrap().1;
            // Letters stand on their base line, y down: above the moving point, below the other.
            let (up, down) = (find(moving), find(fixed));
            assert!(
                up[1] < on[1],
                "{name} {at}: {moving} at {up:?}, its point at {on:?}"
            );
            assert!(
                down[1] - 2.4 > against[1],
                "{name} {at}: {fixed} at {down:?}, {against:?}"
            );
            for (label, point) in [(up, on), (down, against)] {
                let far = (label[0] - point[0]).hypot(label[1] - point[1]);
                assert!(far < 20.0, "{name} {at}: {far}");
            }
        }
    }
}

#[test]
fn marks_of_one_name_bear_their_parts_where_both_can_be_seen() {
    let bench = Bench::empty();
    let call = ["draw", &demo("excluder-cutter"), "--at", "open", "--scale"];
    let count = |svg: &str, wanted: &str| words(svg).iter().filter(|w| w.0 == wanted).count();
    // Open, the edges are 2.79 mm apart: less than the letters are high at 1:1, and more at 4:1.
    for (scale, one, both) in [("1:1", 1, 0), ("4:1", 0, 1)] {
        let svg = out(&bench, &[&call[..], &[scale]].concat());
        assert_eq!(count(&svg, "edge"), one, "{scale}");
        assert_eq!(count(&svg, "upper-jaw.edge"), both, "{scale}");
        assert_eq!(count(&svg, "lower-jaw.edge"), both, "{scale}");
    }
}
