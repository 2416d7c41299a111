//! Pins, links and pages measured in millimetres.

use super::{PX, corners, demo, json, nodes, out, rendered};
use crate::cli::Bench;

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
