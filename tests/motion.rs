//! The tool in motion in `report` and `draw --page`: every number is that of `stroke --json`, every part stands
//! where the pins of `stroke --json` are, and a reader without script misses nothing.

use crate::drawing::DEMOS;
use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::process::{Command, Output};

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(args)
        .output()
        .unwrap()
}

/// The page of `draw --page`.
pub fn drawn(file: &str, more: &[&str]) -> String {
    let mut args = vec!["draw", file, "--page", "-"];
    args.extend(more);
    let done = run(&args);
    assert!(done.status.success(), "{file}: {}", text(&done.stderr));
    text(&done.stdout)
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// The page of `report`.
pub fn review(file: &str) -> String {
    text(&run(&["report", file, "--samples", "20", "-o", "-"]).stdout)
}

/// The answer of `stroke --json`.
pub fn stroke(file: &str, more: &[&str]) -> Value {
    let mut args = vec!["stroke", file, "--json"];
    args.extend(more);
    serde_json::from_slice(&run(&args).stdout).unwrap()
}

fn between<'p>(page: &'p str, from: &str, to: &str) -> &'p str {
    let (_, rest) = page.split_once(from).unwrap_or_else(|| panic!("no {from}"));
    rest.split_once(to).unwrap_or_else(|| panic!("no {to}")).0
}

/// The block that moves.
fn block(page: &str) -> &str {
    between(
        page,
        "<div class=\"motion screen\" hidden>",
        "</script>\n</div>",
    )
}

fn data(page: &str) -> Value {
    let (_, json) = block(page)
        .split_once("<script type=\"application/json\">")
        .unwrap();
    serde_json::from_str(json).unwrap()
}

/// Whether a printed number is this value, rounded to as many places as are printed.
fn shows(printed: &str, value: &Value) -> bool {
    let (Some(value), Ok(number)) = (value.as_f64(), printed.parse::<f64>()) else {
        return false;
    };
    let places = printed
        .split_once('.')
        .map_or(0, |(_, places)| places.len());
    let half = 0.5 * 10f64.powi(-(places as i32));
    (number - value).abs() <= half + 1e-9 * value.abs()
}

/// Every number of the read-out against the stroke, at every position.
fn numbers_agree(page: &str, stroke: &Value, name: &str) -> usize {
    let data = data(page);
    let heads: Vec<&str> = (between(block(page), "<thead>", "</thead>")
        .split("<th scope=\"col\">"))
    .skip(2)
    .map(|head| head.split([',', '<']).next().unwrap())
    .collect();
    let positions = stroke["positions"].as_array().unwrap();
    let cells = data["cells"].as_array().unwrap();
    assert_eq!(
        cells.len(),
        positions.len(),
        "{name}: every position of so short a stroke"
    );
    let jaw = stroke["jaws"][0].as_str().unwrap();
    let mut checked = 0;
    for (row, position) in positions.iter().enumerate() {
        let place = data["where"][row].as_str().unwrap();
        let gap = place.split(' ').nth(1).unwrap();
        assert!(
            shows(gap, &position["jaws"][jaw]["gap"]),
            "{name}, {row}: {place}"
        );
        if let Some((_, travel)) = place.split_once("travel ") {
            let travel = travel.split(' ').next().unwrap();
            assert!(shows(travel, &position["travel"]), "{name}, {row}: {place}");
        }
        for (grip, at) in position["grips"].as_array().unwrap().iter().enumerate() {
            for (column, head) in heads.iter().enumerate() {
                let cell = cells[row][grip][column].as_str().unwrap();
                let forces = &at["jaws"][jaw];
                let value = match *head {
                    "span" => &at["span"],
                    "jaw" => &forces["jaw_force"],
                    "work" => &stroke["work"]["needed"][row],
                    "hand" => &forces["hand_force"],
                    other => panic!("{other}"),
                };
                let over = cell.ends_with("over the limit");
                let number = cell.split(' ').next().unwrap();
                if value.is_null() || position["beyond"] == true {
                    assert!(
                        number.parse::<f64>().is_err(),
                        "{name}, {row}, {head}: {cell}"
                    );
                    continue;
                }
                assert!(
                    shows(number, value),
                    "{name}, {row}, {head}: {cell} for {value}"
                );
                let limit = stroke["limit"]["hand_force"][row][grip].as_f64();
                let beyond = *head == "hand" && limit.is_some_and(|l| value.as_f64().unwrap() > l);
                assert_eq!(over, beyond, "{name}, {row}, {head}: {cell}");
                checked += 1;
            }
        }
    }
    checked
}

/// Where the pins of the picture stand at a position, by what the page moves, against those of the stroke.
fn parts_agree(page: &str, stroke: &Value, name: &str) -> usize {
    let data = data(page);
    let svg = between(block(page), "<figure class=\"linkage\">", "</figure>");
    let svg = &svg[svg.find("<svg").unwrap()..=svg.rfind("</svg>").unwrap() + 5];
    let document = roxmltree::Document::parse(svg).unwrap();
    let pins: Vec<(String, Option<usize>, [f64; 2])> = (document.descendants())
        .filter(|node| node.has_attribute("data-pin"))
        .map(|node| {
            let number = |name: &str| node.attribute(name).unwrap().parse().unwrap();
            let part = node.parent().unwrap().attribute("data-part");
            let name = node.attribute("data-pin").unwrap().to_owned();
            (
                name,
                part.map(|p| p.parse().unwrap()),
                [number("cx"), number("cy")],
            )
        })
        .collect();
    assert!(
        pins.len() > 1 || pins.len() == stroke["positions"][0]["pins"].as_object().unwrap().len()
    );
    let positions = stroke["positions"].as_array().unwrap();
    let wanted = |row: usize, pin: &str| -> [f64; 2] {
        let at = &positions[row]["pins"][pin];
        [at["x"].as_f64().unwrap(), -at["y"].as_f64().unwrap()]
    };
    // One scale for all, from the pin that is farthest from the origin.
    let far = |at: [f64; 2]| at[0].hypot(at[1]);
    let scale = (pins.iter())
        .map(|(pin, _, at)| (far(wanted(0, pin)), far(*at)))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map_or(
            1.0,
            |(tool, paper)| if tool > 0.0 { paper / tool } else { 1.0 },
        );
    let mut checked = 0;
    for row in 0..positions.len() {
        for (pin, part, at) in &pins {
            let [x, y, angle] = part.map_or([0.0; 3], |part| {
                [0, 1, 2].map(|k| data["moved"][row][part][k].as_f64().unwrap())
            });
            let (sin, cos) = angle.to_radians().sin_cos();
            let seen = [cos * at[0] - sin * at[1] + x, sin * at[0] + cos * at[1] + y];
            let real = wanted(row, pin).map(|v| v * scale);
            let off = (seen[0] - real[0]).hypot(seen[1] - real[1]);
            // Moved to 0.01 mm of paper, turned to 0.001 degrees, circles drawn to 0.01 mm: less than a line.
            assert!(off < 0.04, "{name}, {row}: pin {pin} is {off} mm off");
            checked += 1;
        }
        // One pin tells nothing of a turn: there the handle has turned by its travel.
        let travel = positions[row]["travel"].as_f64().unwrap();
        let mut turned = data["moved"][row].as_array().unwrap().iter();
        let of = |part: &Value| (part[2].as_f64().unwrap().abs() - travel).abs();
        assert!(
            pins.len() > 1 || turned.any(|part| of(part) < 0.001),
            "{name}, {row}: {travel}"
        );
    }
    checked
}

#[test]
fn numbers_and_places_are_those_of_the_stroke() {
    for name in DEMOS {
        let file = format!("demo-data/{name}.toml");
        let forces = stroke(&file, &[]);
        for page in [drawn(&file, &[]), review(&file)] {
            assert!(numbers_agree(&page, &forces, name) > 100, "{name}");
            assert!(parts_agree(&page, &forces, name) > 50, "{name}");
        }
        let opening = stroke(&file, &["--opening"]);
        let page = drawn(&file, &["--opening"]);
        assert!(numbers_agree(&page, &opening, name) > 100, "{name}");
        assert!(parts_agree(&page, &opening, name) > 50, "{name}");
    }
}

/// Without script nothing of the block is seen, and all that the page says stands outside of it.
#[test]
fn a_reader_without_script_misses_nothing() {
    let file = "demo-data/eyelet-toggle.toml";
    for page in [drawn(file, &[]), review(file)] {
        let own = block(&page);
        let rest = page.replace(own, "");
        assert!(rest.contains("class=\"motion screen\" hidden>"));
        assert!(rest.contains("Force curves: Eyelet setter, concept A"));
        assert!(rest.matches("<figure class=\"sheet\">").count() == 1);
        assert!(rest.contains("at key positions, open to shut"));
        assert!(!rest.contains("<button") && !rest.contains("<input"));
        assert!(
            !own.contains("aria-live") && !own.contains("<output") && !own.contains("<animate")
        );
        // Printed pages are without it.
        let style = between(&page, "<style>", "</style>");
        let (_, print) = style.split_once("@media print").unwrap();
        assert!(print.contains(".screen { display: none; }"));
    }
}

/// The policy of the page lets this script run and no other.
#[test]
fn the_policy_names_the_script() {
    let file = "demo-data/pin-plunger.toml";
    for page in [drawn(file, &[]), review(file)] {
        let script = between(&page, "<script>", "</script>");
        let hash = BASE64_STANDARD.encode(Sha256::digest(script));
        let policy = between(&page, "Content-Security-Policy\" content=\"", "\">");
        let wanted =
            format!("default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{hash}'");
        assert_eq!(policy, wanted);
        for word in [
            "fetch(",
            "XMLHttpRequest",
            "setInterval",
            "setTimeout",
            "requestAnimationFrame",
        ] {
            assert!(!script.contains(word), "{word}");
        }
    }
}

#[test]
fn the_buttons_go_to_the_places_of_the_stroke() {
    let labels = |page: &str| -> Vec<(String, usize)> {
        let jumps = between(block(page), "<div class=\"jumps\"", "</div>");
        let buttons = jumps.split("<button type=\"button\" data-row=\"").skip(1);
        let button = |text: &str| {
            let (row, rest) = text.split_once("\">").unwrap();
            (
                rest.split('<').next().unwrap().to_owned(),
                row.parse().unwrap(),
            )
        };
        buttons.map(button).collect()
    };
    let file = "demo-data/eyelet-toggle.toml";
    let page = drawn(file, &[]);
    let jumps = labels(&page);
    let names: Vec<&str> = jumps.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(
        names,
        ["open", "work touches", "stall, grip 60 mm", "peak", "shut"]
    );
    let stroke = stroke(file, &[]);
    let needed = stroke["work"]["needed"].as_array().unwrap();
    let touches = needed
        .iter()
        .position(|force| force.as_f64().unwrap() > 0.0)
        .unwrap();
    assert_eq!(jumps[1].1, touches);
    // The stall: the first position that the hand cannot hold at 60 mm.
    let forces = |row: usize| {
        let at = &stroke["positions"][row]["grips"][0]["jaws"]["nose"];
        (
            at["hand_force"].as_f64().unwrap(),
            stroke["limit"]["hand_force"][row][0].as_f64().unwrap(),
        )
    };
    let over = |row: &usize| forces(*row).0 > forces(*row).1;
    assert_eq!(Some(jumps[2].1), (0..needed.len()).find(over));
    let note = data(&page)["notes"][jumps[2].1.to_string()].clone();
    let gap = stroke["work"]["stalls"][0].as_f64().unwrap();
    assert!(
        note.as_str()
            .unwrap()
            .starts_with(&format!("Stall, grip 60 mm: at gap {gap:.2} mm")),
        "{note}"
    );
    assert_eq!(jumps[4].1, needed.len() - 1);
    // A stroke of so many positions keeps those of the buttons.
    let mut text = std::fs::read_to_string(file).unwrap();
    text = text.replace("steps = 90", "steps = 3000");
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("many.toml");
    std::fs::write(&copy, text).unwrap();
    let many = drawn(copy.to_str().unwrap(), &[]);
    let rows = data(&many)["where"].as_array().unwrap().len();
    assert!((100..=210).contains(&rows), "{rows}");
    assert_eq!(labels(&many).len(), 5);
}

/// Everything that the page needs is in it, and no review of a demo tool is too large to mail.
#[test]
fn reviews_stay_small() {
    for name in DEMOS {
        let page = review(&format!("demo-data/{name}.toml"));
        assert!(page.len() < 1_000_000, "{name}: {}", page.len());
        let moved = data(&page)["moved"].to_string().len();
        assert!(moved < 20_000, "{name}: {moved} bytes of places");
    }
}

#[test]
fn a_page_is_no_drawing_of_one_part() {
    for more in [
        &["--part", "ram"][..],
        &["--svg", "x.svg"],
        &["--at", "open"],
        &["--json"],
    ] {
        let mut args = vec!["draw", "demo-data/eyelet-toggle.toml", "--page", "x.html"];
        args.extend(more);
        let done = run(&args);
        assert_eq!(done.status.code(), Some(2), "{more:?}");
        assert!(
            text(&done.stderr).contains("cannot be used with"),
            "{}",
            text(&done.stderr)
        );
    }
}
