//! Sheets of standard size: which one, frame and title block, the finished work, names of jaw points on their own side.

use super::signs::lines;
use super::{DEMOS, bounds_of_regions, check_page, demo, json, out, rendered, texts};
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
        // Shut, both are in one place.
        ("wire-crimp-pliers", "crest", "valley"),
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

/// Shut, the two faces of a stop are in one place: its lug comes down on the pad.
#[test]
fn the_faces_of_a_stop_are_named_each_on_its_own_side() {
    let bench = Bench::empty();
    for units in ["mm-N", "in-lbf"] {
        let file = demo("ferrule-crimper");
        let call = ["draw", &file, "--at", "shut", "--units", units];
        let svg = out(&bench, &call);
        let drawn = &json(&bench, &[&call[..], &["--json"]].concat())["positions"][0];
        let [_, face] = placed(&svg, drawn, &drawn["stops"][0]["faces"][0]);
        let words = words(&svg);
        let find = |name: &str| words.iter().find(|w| w.0 == name).unwrap().1;
        // Letters stand on their base line, y down.
        let (lug, pad) = (find("lug"), find("pad"));
        assert!(
            lug[1] < face && face < pad[1] - 2.0,
            "{units}: {lug:?}, {face}, {pad:?}"
        );
    }
}

/// No words of the foot or of a title block are cut off.
#[test]
fn what_a_sheet_says_is_there_in_full() {
    for name in DEMOS {
        for units in ["mm-N", "in-lbf"] {
            let file = demo(name);
            let call = [
                "draw", &file, "--scale", "fit", "--units", units, "--svg", "x.svg",
            ];
            let (_, files) = written(&call);
            for (text, _) in words(&files[0].1) {
                assert!(!text.contains('\u{2026}'), "{name} {units}: {text}");
            }
        }
    }
}

/// The room that a sheet has to spare is on all sides of the tool and its words.
#[test]
fn a_tool_stands_in_the_middle_of_its_field() {
    // Left and right edge of the field within the frame, and where the strip along the foot begins at the highest; the
    // caption on the right of the first two is 90 mm wide.
    for (name, scale, field, foot) in [
        ("pin-plunger", "1:1", [20.0, 320.0], 235.0),
        ("sleeve-crimper", "1:1", [20.0, 320.0], 235.0),
        ("seal-pliers", "1:2.5", [20.0, 287.0], 150.0),
    ] {
        let (_, files) = written(&["draw", &demo(name), "--scale", scale, "--svg", "x.svg"]);
        let svg = &files[0].1;
        let words = texts(&rendered(svg)).into_iter().map(|(b, _)| b);
        let all: Vec<[f64; 4]> = bounds_of_regions(svg).into_iter().chain(words).collect();
        let within = all.iter().filter(|b| b[3] < foot && b[2] < field[1]);
        let left = within.clone().map(|b| b[0]).fold(f64::INFINITY, f64::min);
        let right = within.map(|b| b[2]).fold(0.0, f64::max);
        let (before, after) = (left - field[0], field[1] - right);
        assert!(
            (before - after).abs() < 20.0,
            "{name}: {before} and {after}"
        );
    }
}

/// The name of a grip stands nearer to its own mark on the handle than to any other, or a line leads from there to it.
#[test]
fn grips_are_named_where_they_are() {
    let bench = Bench::empty();
    let mut seen = 0;
    for name in DEMOS {
        for at in ["open", "shut"] {
            let file = demo(name);
            let call = ["draw", &file, "--at", at, "--units", "in-lbf"];
            let svg = out(&bench, &call);
            let drawn = json(&bench, &[&call[..], &["--json"]].concat());
            let drawn = &drawn["positions"][0];
            let handle = &drawn["handles"][0];
            let half = 0.5 * handle["thickness"].as_f64().unwrap();
            let grips = handle["grips"].as_array().unwrap();
            // Both ends of a mark, across the hand line.
            let ends: Vec<[[f64; 2]; 2]> = (grips.iter())
                .map(|grip| {
                    let [x, y] = placed(&svg, drawn, &grip["at"]);
                    let along = [0, 1].map(|k| grip["along"][k].as_f64().unwrap());
                    let off = [along[1], along[0]].map(|part| half * part);
                    [[x + off[0], y + off[1]], [x - off[0], y - off[1]]]
                })
                .collect();
            let led = lines(&svg, "#555555", "0.18");
            for (b, text) in texts(&rendered(&svg)) {
                let Some(Ok(distance)) = text.strip_prefix("grip ").map(str::parse::<f64>) else {
                    continue;
                };
                let off = |k: usize| {
                    let to = |p: &[f64; 2]| {
                        (p[0] - p[0].clamp(b[0], b[2])).hypot(p[1] - p[1].clamp(b[1], b[3]))
                    };
                    ends[k].iter().map(to).fold(f64::INFINITY, f64::min)
                };
                let is =
                    |grip: &Value| (grip["distance"].as_f64().unwrap() - distance).abs() < 1e-3;
                let own = grips.iter().position(is).unwrap();
                let others = (0..ends.len()).filter(|k| *k != own);
                let nearest = others.map(off).fold(f64::INFINITY, f64::min);
                let near = |p: &[f64; 2]| {
                    ends[own]
                        .iter()
                        .any(|e| (p[0] - e[0]).hypot(p[1] - e[1]) < 4.0)
                };
                let leader = led.iter().any(|line| line.first().is_some_and(near));
                seen += 1;
                assert!(
                    off(own) < nearest - 0.5 || leader,
                    "{name} {at}: {text} at {b:?}"
                );
            }
        }
    }
    assert!(seen > 40, "{seen}");
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
