//! The pictures of `tolerance`: what they show of made tools that fail, against its own JSON and by hand.

use crate::cli::Bench;
use crate::level::level;
use serde_json::Value;

const NESTS: &str = include_str!("files/three-nests.toml");
/// Left edge of the column of all samples, px.
const COLUMN: &str = "902";
const WITHIN: &str = "#9aa5ae";
const BEYOND: &str = "#d55e00";
const WITHOUT: &str = "#ffffff";

struct Rect {
    x: f64,
    y: f64,
    width: f64,
    height: f64,
    column: bool,
    fill: String,
}

/// All filled bars but those of the shares and the paper.
fn rects(svg: &str) -> Vec<Rect> {
    let page = roxmltree::Document::parse(svg).unwrap();
    let rects = page.descendants().filter(|node| node.has_tag_name("rect"));
    let rects = rects.filter(|node| node.has_attribute("x"));
    let read = |node: roxmltree::Node| {
        let number = |key: &str| node.attribute(key).unwrap().parse::<f64>().unwrap();
        Rect {
            x: number("x"),
            y: number("y"),
            width: number("width"),
            height: number("height"),
            column: node.attribute("x") == Some(COLUMN),
            fill: node.attribute("fill").unwrap().to_owned(),
        }
    };
    rects.map(read).filter(|rect| rect.x >= 540.0).collect()
}

fn study(text: &str, samples: &str) -> (Value, String) {
    let bench = Bench::with(text);
    let call = ["tolerance", "tool.toml", "--samples", samples];
    let json = bench.run(&[&call[..], &["--json"]].concat()).json();
    let svg = bench.run(&[&call[..], &["--svg", "-"]].concat()).out;
    (json, svg)
}

/// Of a measure: samples beyond the limits, and such as have no value.
fn failed(m: &Value, samples: u64) -> [u64; 2] {
    let counts = m["failed"].as_array().unwrap().iter();
    let without = counts.map(|pair| pair[1].as_u64().unwrap()).sum();
    [
        m["met"].as_u64().map_or(0, |met| samples - met - without),
        without,
    ]
}

/// With sigma 0.1 mm a nose at 40 mm misses a ratio of 2.5 = 100 / 40 in half of all tools: those whose nose is
/// farther out.
#[test]
fn bars_beyond_the_limit_have_its_colour() {
    let demand = "[[demand]]\nmeasure = \"ratio\"\nat = \"shut\"\nmin = 2.5\n";
    let tolerances = "[tolerances]\n\"lever.nose.x\" = 0.3\n";
    let (json, svg) = study(
        &level(40.0, "", "[100]", "", &format!("{demand}{tolerances}")),
        "1000",
    );
    let m = &json["measures"][0];
    let [beyond, without] = failed(m, 1000);
    assert!((450..=550).contains(&beyond) && without == 0, "{beyond}");
    // The first measure is the demanded one; the gap at shut follows below.
    let mut all = rects(&svg);
    all.retain(|rect| rect.y < 250.0);
    let of = |fill: &str, column: bool| -> Vec<&Rect> {
        let own = all
            .iter()
            .filter(|rect| rect.fill == fill && rect.column == column);
        own.collect()
    };
    let ends = |list: &[&Rect]| {
        let low = list.iter().map(|r| r.x).fold(f64::MAX, f64::min);
        let high = list.iter().map(|r| r.x + r.width).fold(f64::MIN, f64::max);
        [low, high]
    };
    let (bad, good) = (ends(&of(BEYOND, false)), ends(&of(WITHIN, false)));
    // The bar that the limit cuts is in two pieces: one ends where the other begins.
    assert!(
        (bad[1] - good[0]).abs() < 0.15 && bad[0] < bad[1] && good[0] < good[1],
        "{bad:?} {good:?}"
    );
    // Above the nominal 2.5 as many as below it: the areas say so too.
    let area = |list: Vec<&Rect>| list.iter().map(|r| r.width * r.height).sum::<f64>();
    let (red, grey) = (area(of(BEYOND, false)), area(of(WITHIN, false)));
    let share = red / (red + grey);
    assert!((share - beyond as f64 / 1000.0).abs() < 0.02, "{share}");
    // The column is of all samples, to a tenth of a pixel.
    let (whole, part) = (of(WITHIN, true)[0].height, of(BEYOND, true)[0].height);
    assert!(
        (part - whole * beyond as f64 / 1000.0).abs() <= 0.1,
        "{part} of {whole}"
    );
    let met = 1000 - beyond;
    assert!(
        svg.contains(&format!("({met} of 1000), {beyond} beyond")),
        "{svg}"
    );
    assert!(svg.contains("as drawn 2.50 (thin line)"), "{svg}");
}

/// Play that is taken up shifts the samples off the value as drawn: it then has no line, and the caption says where it is.
#[test]
fn a_value_as_drawn_beyond_the_samples_is_said_to_be() {
    let (json, svg) = study(include_str!("../demo-data/ferrule-crimper.toml"), "500");
    let measures = json["measures"].as_array().unwrap();
    let hand = measures
        .iter()
        .find(|m| m["name"].as_str().unwrap().starts_with("hand_force"));
    let edges = hand.unwrap()["edges"].as_array().unwrap();
    let drawn = hand.unwrap()["nominal"].as_f64().unwrap();
    assert!(drawn > edges.last().unwrap().as_f64().unwrap());
    assert!(
        svg.contains(&format!("as drawn {drawn:.1} (beyond the axis)")),
        "{svg}"
    );
}

/// Two of the three nests shut at once with the one that the stroke is for: in half of the made tools the dies
/// of another meet first, and there is no ratio at shut.
#[test]
fn samples_without_a_value_stand_in_the_column_and_are_counted() {
    let (json, svg) = study(NESTS, "400");
    let mut measures: Vec<&Value> = json["measures"].as_array().unwrap().iter().collect();
    // Those that most samples fail stand first.
    measures.sort_by_key(|m| std::cmp::Reverse(failed(m, 400).iter().sum::<u64>()));
    // The first six have a picture, the others are counted: here none of them fails.
    let others = measures.split_off(6);
    assert!(others.iter().all(|m| failed(m, 400) == [0, 0]));
    let said = format!(">and {} more: all met<", others.len());
    assert!(!others.is_empty() && svg.contains(&said), "{said}");
    let columns: Vec<Rect> = rects(&svg).into_iter().filter(|rect| rect.column).collect();
    let mut columns = columns.iter();
    let (mut empty, mut last) = (0, 0);
    for m in measures {
        let [beyond, without] = failed(m, 400);
        if m["met"].is_null() && without == 0 {
            continue;
        }
        let whole = columns.next().unwrap();
        assert_eq!(whole.fill, WITHIN);
        let mut piece = |count: u64, fill: &str| {
            if count > 0 {
                let piece = columns.next().unwrap();
                let expected = (whole.height * count as f64 / 400.0).max(2.0);
                assert!(
                    piece.fill == fill && (piece.height - expected).abs() <= 0.1,
                    "{}",
                    m["name"]
                );
            }
        };
        piece(without, WITHOUT);
        piece(beyond, BEYOND);
        if without > 1 {
            empty += 1;
            let said = "have their dies meet before that position";
            assert!(svg.contains(&format!("{without} samples {said}")), "{svg}");
        }
        // In the order of the picture.
        let title = m["name"]
            .as_str()
            .unwrap()
            .split(' ')
            .next()
            .unwrap()
            .replace('.', " of ");
        if title.starts_with("ratio of") || title.starts_with("gap of") {
            let place = svg[last..]
                .find(&title)
                .unwrap_or_else(|| panic!("{title} out of order"));
            last += place;
        }
    }
    assert!(columns.next().is_none() && empty > 0);
    let met = json["all_met"].as_u64().unwrap();
    assert!(
        svg.contains(&format!("meet every demand that is read off them ({met})")),
        "{svg}"
    );
}

/// The page has the same pictures, and beside the band of a measure how many have no place in it.
#[test]
fn the_page_counts_them_too() {
    let bench = Bench::with(NESTS);
    bench.run(&["report", "tool.toml", "-o", "page.html"]);
    let page = std::fs::read_to_string(bench.path("page.html")).unwrap();
    let table = &page[page.find("5 % to 95 % of the samples").unwrap()..];
    let row = table
        .lines()
        .find(|line| line.contains("ratio of far at shut"))
        .unwrap();
    let band = row
        .split("<td>")
        .find(|cell| cell.contains("without a value"));
    let band = band.unwrap_or_else(|| panic!("{row}"));
    let count = band.split(", ").nth(1).unwrap().split(' ').next().unwrap();
    let said = format!("{count} samples have their dies meet before that position");
    assert!(page.contains(&said), "{said}");
    assert!(page.contains("Orange: beyond the limits"));
}
