//! Signs and dimensions: break marks, span, travel, numbers in place of names, faint lines behind letters.

use super::{DEMOS, demo, json, out, rendered, texts};
use crate::cli::Bench;
use serde_json::Value;

type V = [f64; 2];

/// Corners of every path of this colour and width.
pub fn lines(svg: &str, colour: &str, width: &str) -> Vec<Vec<V>> {
    let document = roxmltree::Document::parse(svg).unwrap();
    let paths = document.descendants().filter(|n| {
        n.attribute("stroke") == Some(colour) && n.attribute("stroke-width") == Some(width)
    });
    let corner = |text: &str| -> Option<V> {
        let (x, y) = text.trim_end_matches('Z').split_once(' ')?;
        Some([x.parse().ok()?, y.parse().ok()?])
    };
    paths
        .filter_map(|n| {
            let d = n.attribute("d")?.trim_start_matches('M');
            d.split('L').map(corner).collect::<Option<Vec<V>>>()
        })
        .collect()
}

fn distance(a: V, b: V) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Two strokes across each arrow that is longer than its force, none across the others; round figures in inches.
#[test]
fn arrows_out_of_scale_are_broken() {
    let bench = Bench::empty();
    for name in ["eyelet-toggle", "excluder-cutter"] {
        let file = demo(name);
        let call = ["draw", &file, "--at", "shut", "--scale", "1:1"];
        let report = json(&bench, &[&call[..], &["--json"]].concat());
        let svg = out(&bench, &call);
        let forces = report["positions"][0]["forces"].as_array().unwrap();
        let size = |f: &Value| f["size"].as_f64().unwrap();
        let most = forces.iter().map(size).fold(0.0, f64::max);
        for (kind, colour) in [("hand", "#0072b2"), ("work", "#c44f00")] {
            let mine: Vec<f64> = (forces.iter().filter(|f| f["kind"] == kind))
                .map(size)
                .collect();
            let short = mine.iter().filter(|size| *size / most < 0.4).count();
            let strokes = lines(&svg, colour, "0.35");
            assert_eq!(strokes.len(), 2 * short, "{name} {kind}: {mine:?}");
            for stroke in strokes {
                assert!((distance(stroke[0], stroke[1]) - 3.0).abs() < 0.01);
            }
        }
        assert!(svg.contains(">not to scale<"), "{name}");
    }
    let inches = out(&bench, &["draw", &demo("excluder-cutter"), "--at", "shut"]);
    let document = roxmltree::Document::parse(&inches).unwrap();
    let texts: Vec<&str> = document
        .descendants()
        .filter(|n| n.is_text())
        .filter_map(|n| n.text())
        .collect();
    let words = texts.join(" ");
    assert!(
        words.contains("Force arrows: 1 in of paper") && words.contains("0.4 in"),
        "{words}"
    );
}

/// The span is dimensioned between the outsides of the handles; the travel since open is an arc as far as the handle turned.
#[test]
fn span_and_travel_are_dimensioned() {
    let bench = Bench::empty();
    for name in DEMOS {
        let call = ["draw", &demo(name), "--at", "shut", "--scale", "1:1"];
        let report = json(&bench, &[&call[..], &["--json"]].concat());
        let position = &report["positions"][0];
        let svg = out(&bench, &call);
        let inch = report["units"]["length"] == "in";
        let unit = if inch { 25.4 } else { 1.0 };
        let span = position["span"].as_f64().unwrap();
        let said = if inch {
            format!("span {span:.3} in")
        } else {
            format!("span {span:.2} mm")
        };
        assert!(svg.contains(&format!(">{said}<")), "{name}: {said}");
        let thin = lines(&svg, "#1a1a1a", "0.25");
        let long = |l: &&Vec<V>| (distance(l[0], l[l.len() - 1]) - span * unit).abs() < 0.01;
        assert!(
            thin.iter().any(|l| l.len() == 2 && long(&l)),
            "{name}: {span}"
        );
        let travel = position["travel"].as_f64().unwrap();
        let said = format!(">{:.1} deg<", travel.abs());
        // Where both handles move, the angle is that between them, and no arc of one of them has it.
        let both = position["earlier"][0]["handles"].as_array().unwrap().len() > 1;
        assert_eq!(svg.contains(&said), !both, "{name}: {said}");
        if both {
            continue;
        }
        // Directions of the first and the last piece of an arc differ by its angle, less that of a piece.
        let turned = |l: &Vec<V>| {
            let way = |a: V, b: V| (b[1] - a[1]).atan2(b[0] - a[0]);
            let n = l.len();
            let turn = way(l[n - 2], l[n - 1]) - way(l[0], l[1]);
            let turn = (turn + 3.0 * std::f64::consts::PI).rem_euclid(std::f64::consts::TAU)
                - std::f64::consts::PI;
            turn.abs().to_degrees() * (n - 1) as f64 / (n - 2).max(1) as f64
        };
        let arc = thin.iter().filter(|l| l.len() > 3).map(turned);
        let near: Vec<f64> = arc.filter(|t| (t - travel.abs()).abs() < 0.5).collect();
        assert!(!near.is_empty(), "{name}: {travel}");
    }
}

/// At half size and less parts bear numbers and pins letters, and a list says whose.
#[test]
fn small_drawings_have_numbers_in_place_of_names() {
    let bench = Bench::empty();
    for name in DEMOS {
        for (scale, numbered) in [("1:1", false), ("1:2", true), ("1:4", true)] {
            let call = ["draw", &demo(name), "--at", "shut", "--scale", scale];
            let report = json(&bench, &[&call[..], &["--json"]].concat());
            let svg = out(&bench, &call);
            let document = roxmltree::Document::parse(&svg).unwrap();
            let texts: Vec<&str> = document
                .descendants()
                .filter(|n| n.is_text())
                .filter_map(|n| n.text())
                .collect();
            let alone = |text: &str| texts.contains(&text);
            let all = texts.join(" ");
            let all = all.split_whitespace().collect::<Vec<_>>().join(" ");
            let position = &report["positions"][0];
            for (k, part) in position["parts"].as_array().unwrap().iter().enumerate() {
                let part = part["name"].as_str().unwrap();
                let number = (k + 1).to_string();
                assert_eq!(alone(part), !numbered, "{name} {scale}: {part}");
                assert_eq!(alone(&number), numbered, "{name} {scale}: {number}");
                assert_eq!(
                    all.contains(&format!("{number} {part}")),
                    numbered,
                    "{name} {scale}"
                );
            }
            let first = position["pins"][0]["name"].as_str().unwrap();
            assert_eq!(
                all.contains(&format!("pins: A {first}")),
                numbered,
                "{name} {scale}"
            );
        }
    }
}

/// No hyphen stands for a minus in a drawing, and no line of an earlier position runs through letters.
#[test]
fn minus_signs_are_true_and_letters_are_clear() {
    let bench = Bench::empty();
    for name in DEMOS {
        let svg = out(
            &bench,
            &["draw", &demo(name), "--at", "shut", "--scale", "1:1"],
        );
        let document = roxmltree::Document::parse(&svg).unwrap();
        for text in document
            .descendants()
            .filter(|n| n.is_text())
            .filter_map(|n| n.text())
        {
            let mut words = text.split([' ', '(']);
            let hyphen = |w: &str| {
                w.strip_prefix('-')
                    .is_some_and(|w| w.starts_with(|c: char| c.is_ascii_digit()))
            };
            assert!(!words.any(hyphen), "{name}: {text}");
        }
        let ghosts = lines(&svg, "#8f8f8f", "0.18");
        // The page as a renderer sees it; the caption stands beside the drawing.
        for (b, text) in texts(&rendered(&svg)) {
            // Letters without the room that wider fonts may take.
            let inset = 0.1 * (b[2] - b[0]);
            let inside =
                |p: &V| p[0] > b[0] + inset && p[0] < b[2] - inset && p[1] > b[1] && p[1] < b[3];
            for ghost in &ghosts {
                let along = ghost.windows(2).flat_map(|pair| {
                    let at =
                        move |k: usize, share: f64| pair[0][k] + share * (pair[1][k] - pair[0][k]);
                    (0..=40)
                        .map(move |i| f64::from(i) / 40.0)
                        .map(move |t| [at(0, t), at(1, t)])
                });
                let seen = along.filter(|p| inside(p)).count();
                assert_eq!(seen, 0, "{name}: a faint line in {text}");
            }
        }
    }
}

/// Lines of dimensions: thin, straight, with the tips of two arrowheads on them.
fn dimensions(svg: &str) -> Vec<[V; 2]> {
    let tips: Vec<V> = (lines(svg, "#1a1a1a", "0.1").iter())
        .filter(|head| head.len() == 3)
        .map(|head| head[0])
        .collect();
    let thin = lines(svg, "#1a1a1a", "0.25").into_iter();
    let pairs = thin.filter_map(|line| <[V; 2]>::try_from(line).ok());
    pairs
        .filter(|&[a, b]| {
            let on = |p: &&V| (distance(a, **p) + distance(**p, b) - distance(a, b)).abs() < 0.01;
            tips.iter().filter(on).count() == 2
        })
        .collect()
}

/// No number of a gap or a span has a dimension line through it.
#[test]
fn numbers_keep_clear_of_dimension_lines() {
    let bench = Bench::empty();
    let mut seen = 0;
    for name in DEMOS {
        for scale in ["1:1", "1:2", "fit"] {
            for at in ["open", "shut"] {
                let call = [
                    "draw",
                    &demo(name),
                    "--scale",
                    scale,
                    "--at",
                    at,
                    "--svg",
                    "-",
                ];
                let svg = out(&bench, &call);
                let all = dimensions(&svg);
                seen += all.len();
                let texts = texts(&rendered(&svg));
                let numbers = texts
                    .iter()
                    .filter(|(_, text)| text.starts_with("gap ") || text.starts_with("span "));
                for (room, text) in numbers {
                    let inside = |p: V| (0..2).all(|k| p[k] > room[k] && p[k] < room[k + 2]);
                    let crossed = |&[a, b]: &[V; 2]| {
                        (0..=200)
                            .map(|k| f64::from(k) / 200.0)
                            .any(|t| inside([0, 1].map(|k: usize| a[k] + t * (b[k] - a[k]))))
                    };
                    let through: Vec<_> = all.iter().filter(|line| crossed(line)).collect();
                    assert!(
                        through.is_empty(),
                        "{name} {scale} {at}: {text} {through:?}"
                    );
                }
            }
        }
    }
    assert!(seen > 40, "{seen}");
}
