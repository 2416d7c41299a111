//! Drawings true to scale: measured in the SVG and in what a renderer makes of it.

use crate::cli::Bench;
use serde_json::Value;
use std::path::Path;
use std::sync::{Arc, LazyLock};
use usvg::fontdb;

const DEMOS: [&str; 5] = [
    "eyelet-toggle",
    "eyelet-toggle-b",
    "excluder-cutter",
    "pin-plunger",
    "wire-crimp-pliers",
];
const STARTERS: [&str; 4] = ["pliers", "toggle", "plunger", "compound"];
/// Pixels of the renderer in a millimetre (CSS: 96 in an inch).
const PX: f64 = 96.0 / 25.4;

fn demo(name: &str) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join("demo-data").join(format!("{name}.toml"));
    path.to_str().unwrap().to_owned()
}

/// What the program prints for this call, which must succeed.
fn out(bench: &Bench, args: &[&str]) -> String {
    let ended = bench.run(args);
    assert!(
        ended.code == 0 || ended.code == 1,
        "{args:?}: {}",
        ended.err
    );
    ended.out
}

fn json(bench: &Bench, args: &[&str]) -> Value {
    serde_json::from_str(&out(bench, args)).unwrap()
}

fn number(node: &roxmltree::Node, name: &str) -> f64 {
    let text = node.attribute(name).unwrap_or_else(|| panic!("no {name}"));
    text.parse().unwrap_or_else(|_| panic!("{name}={text}"))
}

/// Name, centre and radius of every pin, in the order in which they are written.
fn pins(document: &roxmltree::Document) -> Vec<(String, [f64; 2], f64)> {
    let circles = document
        .descendants()
        .filter(|n| n.has_attribute("data-pin"));
    circles
        .map(|n| {
            let at = [number(&n, "cx"), number(&n, "cy")];
            (
                n.attribute("data-pin").unwrap().to_owned(),
                at,
                number(&n, "r"),
            )
        })
        .collect()
}

fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

static FONTS: LazyLock<Arc<fontdb::Database>> = LazyLock::new(|| {
    let mut fonts = fontdb::Database::new();
    fonts.load_font_data(epaint_default_fonts::UBUNTU_LIGHT.to_vec());
    fonts.load_font_data(epaint_default_fonts::NOTO_EMOJI_REGULAR.to_vec());
    let family = fonts
        .faces()
        .find(|f| f.families.iter().any(|(name, _)| name.contains("Ubuntu")))
        .map(|f| f.families[0].0.clone())
        .unwrap();
    fonts.set_sans_serif_family(family);
    Arc::new(fonts)
});

fn rendered(svg: &str) -> usvg::Tree {
    let options = usvg::Options {
        fontdb: FONTS.clone(),
        ..usvg::Options::default()
    };
    usvg::Tree::from_str(svg, &options).unwrap()
}

fn nodes<'t>(group: &'t usvg::Group, found: &mut Vec<&'t usvg::Node>) {
    for node in group.children() {
        found.push(node);
        if let usvg::Node::Group(inner) = node {
            nodes(inner, found);
        }
    }
}

/// Left, top, right and bottom in mm.
fn corners(b: usvg::Rect) -> [f64; 4] {
    [b.left(), b.top(), b.right(), b.bottom()].map(|v| f64::from(v) / PX)
}

#[test]
fn pins_stand_where_the_stroke_says_at_every_scale() {
    let bench = Bench::empty();
    for (name, unit, link) in [
        ("eyelet-toggle", 1.0, ("knee", "wrist", 24.0)),
        ("pin-plunger", 1.0, ("knee", "wrist", 20.1)),
        // Both from the tool file, drawn in place: (-0.66, -0.72) to (-0.83, 0) in.
        (
            "excluder-cutter",
            25.4,
            ("lower-knuckle", "fulcrum", 0.17_f64.hypot(0.72)),
        ),
    ] {
        let file = demo(name);
        let stroke = json(&bench, &["stroke", &file, "--json"]);
        let all = stroke["positions"].as_array().unwrap();
        for (typed, scale) in [("1:1", 1.0), ("2:1", 2.0), ("1:2", 0.5)] {
            let svg = out(&bench, &["draw", &file, "--scale", typed]);
            let document = roxmltree::Document::parse(&svg).unwrap();
            let root = document.root_element();
            let view: Vec<f64> = (root.attribute("viewBox").unwrap().split(' '))
                .map(|v| v.parse().unwrap())
                .collect();
            assert_eq!(root.attribute("width").unwrap(), format!("{}mm", view[2]));
            assert_eq!(root.attribute("height").unwrap(), format!("{}mm", view[3]));
            let pins = pins(&document);
            let half = pins.len() / 2;
            for (panel, place) in [(&pins[..half], all.first()), (&pins[half..], all.last())] {
                let at = |pin: &str| {
                    let place = &place.unwrap()["pins"][pin];
                    [
                        place["x"].as_f64().unwrap() * unit,
                        place["y"].as_f64().unwrap() * unit,
                    ]
                };
                for (a, pa, _) in panel {
                    for (b, pb, _) in panel {
                        // Directions too, y down on paper.
                        let (qa, qb) = (at(a), at(b));
                        let wanted = [scale * (qb[0] - qa[0]), -scale * (qb[1] - qa[1])];
                        let drawn = [pb[0] - pa[0], pb[1] - pa[1]];
                        assert!(distance(wanted, drawn) < 0.01, "{name} {typed} {a} {b}");
                    }
                }
                let find = |name: &str| panel.iter().find(|p| p.0 == name).unwrap().1;
                let (a, b, length) = link;
                let drawn = distance(find(a), find(b));
                assert!(
                    (drawn - length * unit * scale).abs() < 0.01,
                    "{name} {typed} {drawn}"
                );
            }
            // The renderer puts the circles where the file says, in CSS pixels of 1/96 in.
            let tree = rendered(&svg);
            assert!((f64::from(tree.size().width()) / PX - view[2]).abs() < 0.01);
            let mut found = Vec::new();
            nodes(tree.root(), &mut found);
            let boxes: Vec<[f64; 4]> = (found.iter())
                .map(|n| corners(n.abs_bounding_box()))
                .collect();
            for (pin, at, r) in &pins {
                let wanted = [at[0] - r, at[1] - r, at[0] + r, at[1] + r];
                let near = |b: &&[f64; 4]| b.iter().zip(wanted).all(|(v, w)| (v - w).abs() < 0.01);
                assert!(
                    boxes.iter().any(|b| near(&b)),
                    "{name} {typed}: {pin} {wanted:?}"
                );
            }
        }
    }
}

#[test]
fn pins_have_the_diameter_of_the_file() {
    let bench = Bench::empty();
    let svg = out(&bench, &["draw", &demo("eyelet-toggle"), "--scale", "2:1"]);
    let document = roxmltree::Document::parse(&svg).unwrap();
    for (name, _, r) in pins(&document) {
        let wanted = if name == "post" { 6.0 } else { 5.0 };
        assert!((r - wanted).abs() < 1e-9, "{name} {r}");
    }
}

/// Text on the page: its corners (mm), widened to what wider fonts would take, and its letters.
///
/// The font at hand is a narrow light one. DejaVu Sans, which the drawing names first, takes up to
/// 1.13 times its width, and 1.3 times in bold (widths of both fonts, averaged over labels).
fn texts(tree: &usvg::Tree) -> Vec<([f64; 4], String)> {
    let mut found = Vec::new();
    nodes(tree.root(), &mut found);
    let mut texts = Vec::new();
    for node in found {
        let usvg::Node::Text(text) = node else {
            continue;
        };
        let mut b = corners(text.flattened().abs_bounding_box());
        let chunk = &text.chunks()[0];
        let bold = chunk.spans()[0].font().weight() > 400;
        let more = (b[2] - b[0]) * if bold { 0.3 } else { 0.13 };
        match chunk.anchor() {
            usvg::TextAnchor::Start => b[2] += more,
            usvg::TextAnchor::Middle => {
                b[0] -= 0.5 * more;
                b[2] += 0.5 * more;
            }
            usvg::TextAnchor::End => b[0] -= more,
        }
        texts.push((b, chunk.text().to_owned()));
    }
    texts
}

/// What is wrong with a page: ink or letters off it, letters on letters, numbers that are none.
fn problems(svg: &str) -> Vec<String> {
    let mut problems = Vec::new();
    let document = roxmltree::Document::parse(svg).unwrap();
    for attribute in document.descendants().flat_map(|n| n.attributes()) {
        if ["NaN", "inf"].iter().any(|w| attribute.value().contains(w)) {
            problems.push(format!("{attribute:?}"));
        }
    }
    let tree = rendered(svg);
    let (wide, tall) = (
        f64::from(tree.size().width()) / PX,
        f64::from(tree.size().height()) / PX,
    );
    let inside =
        |b: [f64; 4]| b[0] > -0.01 && b[1] > -0.01 && b[2] < wide + 0.01 && b[3] < tall + 0.01;
    let mut found = Vec::new();
    nodes(tree.root(), &mut found);
    for node in found {
        let b = corners(node.abs_stroke_bounding_box());
        if !inside(b) {
            problems.push(format!("ink off the page: {b:?}"));
        }
    }
    let texts = texts(&tree);
    for (k, (a, left)) in texts.iter().enumerate() {
        if !inside(*a) {
            problems.push(format!("`{left}` off the page: {a:?}"));
        }
        for (b, right) in &texts[..k] {
            let over = |i: usize| a[i + 2].min(b[i + 2]) - a[i].max(b[i]);
            if over(0) > 0.05 && over(1) > 0.05 {
                problems.push(format!("`{left}` lies on `{right}`: {a:?} {b:?}"));
            }
        }
    }
    problems
}

fn check_page(svg: &str, what: &str) {
    let problems = problems(svg);
    assert!(problems.is_empty(), "{what}: {}", problems.join("\n"));
    assert!(texts(&rendered(svg)).len() > 8, "{what}: letters are seen");
}

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
fn fitted_drawings_fit_on_a4() {
    let bench = Bench::empty();
    for name in DEMOS {
        let svg = out(&bench, &["draw", &demo(name), "--scale", "fit"]);
        let document = roxmltree::Document::parse(&svg).unwrap();
        let side = |name: &str| {
            let text = document.root_element().attribute(name).unwrap();
            text.trim_end_matches("mm").parse::<f64>().unwrap()
        };
        let (width, height) = (side("width"), side("height"));
        assert!(
            width <= 297.0 && height <= 210.0,
            "{name}: {width} x {height}"
        );
        assert!(
            width > 200.0 || height > 150.0,
            "{name}: {width} x {height}"
        );
    }
}

/// Whether a number printed is this value, rounded to the digits printed.
fn prints(text: &str, value: f64) -> bool {
    let digits = text.split_once('.').map_or(0, |(_, d)| d.len());
    let close = |v: f64| (v - value).abs() <= 0.5 * 10f64.powi(-(digits as i32)) + 1e-9;
    text.parse().is_ok_and(close)
}

#[test]
fn free_bodies_balance_and_agree_with_loads() {
    let bench = Bench::empty();
    for name in DEMOS {
        let file = demo(name);
        let loads = json(&bench, &["loads", &file, "--at", "open,shut", "--json"]);
        let cases = loads["cases"].as_array().unwrap();
        let grips = cases.len() / 2;
        let parts: Vec<&Value> = cases[0]["sheets"].as_array().unwrap().iter().collect();
        for (p, part) in parts.iter().enumerate() {
            let part_name = part["part"].as_str().unwrap();
            let drawn = json(&bench, &["draw", &file, "--part", part_name, "--json"]);
            let svg = out(&bench, &["draw", &file, "--part", part_name]);
            check_page(&svg, &format!("{name} {part_name}"));
            let document = roxmltree::Document::parse(&svg).unwrap();
            let texts: Vec<&str> = document.descendants().filter_map(|n| n.text()).collect();
            let mut sums = texts.split(|t| *t == "sum").skip(1);
            for (k, case) in [&cases[0], &cases[grips]].into_iter().enumerate() {
                let sheet = &case["sheets"][p];
                assert_eq!(drawn["positions"][k]["sheet"], *sheet, "{name} {part_name}");
                for force in sheet["forces"].as_array().unwrap() {
                    for value in [&force["force"][0], &force["force"][1], &force["moment"]] {
                        let value = value.as_f64().unwrap();
                        assert!(
                            texts.iter().any(|t| prints(t, value)),
                            "{name} {part_name}: {value} is not in the table"
                        );
                    }
                }
                if part["fixed"] == Value::Bool(false) {
                    let printed = sums.next().unwrap();
                    let numbers = printed.iter().filter(|t| !t.trim().is_empty());
                    for sum in numbers.take(3) {
                        assert_eq!(sum.parse::<f64>().unwrap(), 0.0, "{name} {part_name}");
                    }
                }
            }
        }
    }
}

/// Start and end of every line of this colour and of an arrow's width.
fn shafts(document: &roxmltree::Document, colour: &str) -> Vec<[[f64; 2]; 2]> {
    let lines = document.descendants().filter(|n| {
        n.attribute("stroke") == Some(colour) && n.attribute("stroke-width") == Some("0.7")
    });
    lines
        .map(|n| {
            let d = n.attribute("d").unwrap().trim_start_matches('M');
            let (a, b) = d.split_once('L').unwrap();
            [a, b].map(|p| {
                let (x, y) = p.split_once(' ').unwrap();
                [x.parse().unwrap(), y.parse().unwrap()]
            })
        })
        .collect()
}

#[test]
fn arrows_point_the_way_of_their_forces_in_proportion() {
    let bench = Bench::empty();
    let call = [
        "draw",
        &demo("eyelet-toggle"),
        "--part",
        "lever",
        "--at",
        "gap=0.4",
    ];
    let report = json(&bench, &[&call[..], &["--json"]].concat());
    let svg = out(&bench, &call);
    let document = roxmltree::Document::parse(&svg).unwrap();
    let forces = report["positions"][0]["forces"].as_array().unwrap();
    let greatest = forces
        .iter()
        .map(|f| f["size"].as_f64().unwrap())
        .fold(0.0, f64::max);
    for (kind, colour) in [("hand", "#0072b2"), ("pin", "#007a59")] {
        let of_kind = forces.iter().filter(|f| f["kind"] == kind);
        let shafts = shafts(&document, colour);
        assert_eq!(shafts.len(), of_kind.clone().count());
        for (force, [from, to]) in of_kind.zip(shafts) {
            let [x, y] = [0, 1].map(|k| force["force"][k].as_f64().unwrap());
            let way = [to[0] - from[0], to[1] - from[1]];
            let (size, long) = (x.hypot(y), way[0].hypot(way[1]));
            // Not across, and not the other way: y runs down on paper.
            assert!(
                (way[0] * -y - way[1] * x).abs() < 1e-3 * size * long,
                "{force}"
            );
            assert!(way[0] * x - way[1] * y > 0.0, "{force}");
            // The shaft ends 3.2 mm inside the head.
            let wanted = (25.0 * size / greatest).max(10.0) - 3.2;
            assert!((long - wanted).abs() < 0.01, "{force} {long} {wanted}");
        }
    }
}

const HOSTILE: &str = r#"</title><script>alert(1)</script> & "quoted" 'so' ]]> --> \u05e2\u05d1\u05e8\u05d9\u05ea \u202e\U0001F527 onload=x"#;

#[test]
fn names_cannot_break_or_script_the_drawing() {
    let text = std::fs::read_to_string(demo("wire-crimp-pliers")).unwrap();
    let name = format!("name = \"{}\"\n", HOSTILE.replace('"', "\\\""));
    let text: String = text
        .lines()
        .map(|line| {
            if line.starts_with("name  = ") {
                name.clone()
            } else {
                format!("{line}\n")
            }
        })
        .collect();
    let bench = Bench::empty();
    let file = "we<i>rd & \"it's\" \u{5d0}\u{1f527}.toml";
    bench.put(file, text);
    for part in [&[][..], &["--part", "press-half"]] {
        let svg = out(&bench, &[&["draw", file][..], part].concat());
        let document = roxmltree::Document::parse(&svg).unwrap();
        let known = [
            "svg", "title", "desc", "defs", "pattern", "path", "rect", "circle", "text",
        ];
        for node in document.descendants().filter(roxmltree::Node::is_element) {
            assert!(
                known.contains(&node.tag_name().name()),
                "{:?}",
                node.tag_name()
            );
            for attribute in node.attributes() {
                let name = attribute.name();
                assert!(
                    !name.starts_with("on") && name != "href" && name != "style",
                    "{name}"
                );
            }
        }
        let title = document
            .descendants()
            .find(|n| n.has_tag_name("title"))
            .unwrap();
        let title = title.text().unwrap();
        assert!(
            title.starts_with("</title><script>alert(1)</script> & \"quoted\" 'so' ]]>"),
            "{title}"
        );
        assert!(
            !title.contains('\u{202e}') && title.contains('\u{1f527}'),
            "{title}"
        );
        check_page(&svg, "hostile names");
    }
}

#[test]
fn several_drawings_can_stand_in_one_page() {
    use jawforce::output::{DrawingOptions, drawing_svg};
    let text = std::fs::read_to_string(demo("wire-crimp-pliers")).unwrap();
    let tool = jawforce::input::read_tool(&text, &|_| Err(String::new()))
        .unwrap()
        .tool;
    let direction = jawforce::analysis::Direction::Closing;
    let scenes =
        jawforce::scene::scenes(&tool, direction, &[jawforce::model::At::Open], 0).unwrap();
    let source = jawforce::report::Source {
        file: "x".to_owned(),
        sha256: String::new(),
    };
    let report =
        jawforce::report::drawing_report(&tool, &scenes, None, direction, &source, tool.units);
    let ids = |prefix: &str| -> Vec<String> {
        let options = DrawingOptions {
            scale: None,
            width: 180.0,
            height: 240.0,
            prefix: prefix.to_owned(),
            forces: true,
        };
        let svg = drawing_svg(&report, &options).unwrap();
        let document = roxmltree::Document::parse(&svg).unwrap();
        let width = document.root_element().attribute("width").unwrap();
        assert!(width.trim_end_matches("mm").parse::<f64>().unwrap() <= 180.0);
        let ids = document.descendants().filter_map(|n| n.attribute("id"));
        ids.map(str::to_owned).collect()
    };
    assert_eq!(ids("a-"), ["a-title", "a-desc", "a-hatch"]);
    assert_eq!(
        ids("b\"><script>"),
        ["bscripttitle", "bscriptdesc", "bscripthatch"]
    );
}

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
fn a_file_is_written_and_its_page_told() {
    let bench = Bench::empty();
    let call = [
        "draw",
        &demo("eyelet-toggle"),
        "--scale",
        "1:2",
        "--svg",
        "x.svg",
    ];
    let ended = bench.run(&call);
    assert_eq!(ended.code, 0, "{}", ended.err);
    assert!(
        ended
            .out
            .starts_with("x.svg: linkage at open, shut, scale 1:2, page "),
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
        (&["--json", "--svg", "-"], "give --svg a file"),
        (&["--svg", "tool.toml"], "tool.toml"),
    ] {
        let ended = bench.run(&[&["draw", "tool.toml"][..], call].concat());
        assert_eq!(ended.code, 2, "{call:?}: {}", ended.err);
        assert!(ended.err.contains(says), "{call:?}: {}", ended.err);
        assert!(ended.out.is_empty() && ended.written.is_empty(), "{call:?}");
    }
    // Not on the stroke: the linkage cannot do that.
    let ended = bench.run(&["draw", "tool.toml", "--at", "gap=500"]);
    assert_eq!(ended.code, 3, "{}", ended.err);
    assert!(ended.err.contains("gap runs from"), "{}", ended.err);
}
