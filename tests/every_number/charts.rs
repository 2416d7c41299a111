//! Curves, bars and marks of every chart, measured by the numbers beside the axes.

use super::picture::{Panel, Picture};
use super::{printed, tool};
use crate::cli::Bench;
use crate::drawing::{DEMOS, demo};
use serde_json::Value;

pub(super) fn json(args: &[&str]) -> Value {
    serde_json::from_str(&printed(&[args, &["--json"]].concat())).unwrap()
}

pub(super) fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

pub(super) fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// The value of each position of a stroke; where dies have met before it there are no forces.
pub(super) fn along(
    stroke: &Value,
    value: impl Fn(&Value, usize) -> Option<f64>,
) -> Vec<Option<f64>> {
    let positions = list(&stroke["positions"]).iter().enumerate();
    positions.map(|(k, position)| value(position, k)).collect()
}

fn own(stroke: &Value, grip: usize, what: &str) -> Vec<Option<f64>> {
    let jaw = stroke["jaws"][0].as_str().unwrap();
    along(stroke, |p, _| p["grips"][grip]["jaws"][jaw][what].as_f64())
}

/// The lines of a class, in their order.
pub(super) fn lines(panel: &Panel, class: &str) -> Vec<usize> {
    (0..panel.lines.len())
        .filter(|k| panel.lines[*k].0 == class)
        .collect()
}

/// The curves of a stroke in one of its charts, over places in pixels; how many points were compared.
fn curves_of_stroke(picture: &Picture, stroke: &Value, x: &[f64], what: &str) -> usize {
    let mut seen = 0;
    let at = |values: Vec<Option<f64>>| -> Vec<(f64, Option<f64>)> {
        x.iter().copied().zip(values).collect()
    };
    let grips = list(&stroke["grips"]).len();
    let limit = |k: usize, grip: usize| stroke["limit"]["hand_force"][k][grip].as_f64();
    let rows = stroke["work"]["need"].as_array().map_or(0, Vec::len) + 1;
    for panel in &picture.panels {
        let what = format!("{what}, {}", panel.title);
        let jaw_force = panel.title.contains("aw force");
        let relative = panel.title.contains('%');
        let curves = lines(panel, "curve");
        assert_eq!(curves.len(), grips, "{what}");
        for (grip, line) in curves.into_iter().enumerate() {
            let values = match jaw_force {
                true => own(stroke, grip, "jaw_force"),
                false => own(stroke, grip, "hand_force"),
            };
            let shown = values.into_iter().enumerate().map(|(k, v)| match relative {
                true => Some(100.0 * v? / limit(k, grip)?),
                false => v,
            });
            let corners = if jaw_force { 0 } else { rows };
            let shown = at(shown.collect());
            seen += picture.holds_with(panel, line, (&shown, corners), &what);
        }
        for line in lines(panel, "work") {
            let needed = along(stroke, |p, k| {
                stroke["work"]["needed"][k]
                    .as_f64()
                    .filter(|_| p["beyond"] == false)
            });
            seen += picture.holds_with(panel, line, (&at(needed), rows), &what);
        }
        if !jaw_force {
            for line in lines(panel, "limit") {
                let limits = along(stroke, |_, k| match relative {
                    true => Some(100.0),
                    false => limit(k, 0),
                });
                seen += picture.holds(panel, line, &at(limits), &what);
            }
        }
    }
    seen
}

/// Where the positions of a stroke are on the axis of its chart, pixels; the numbers along it are where they say.
pub(super) fn by_travel(picture: &Picture, stroke: &Value) -> Vec<f64> {
    let travel = along(stroke, |p, _| p["travel"].as_f64());
    let travel: Vec<f64> = travel.into_iter().map(Option::unwrap).collect();
    let end = travel[travel.len() - 1];
    picture.numbers_stand(0.0, end);
    travel
        .into_iter()
        .map(|t| picture.between(t / end))
        .collect()
}

/// Readings of the bench on the chart of the stroke, both ways; between positions the gap goes straight.
#[test]
fn readings_on_the_stroke_are_where_the_axes_say() {
    let folder = tempfile::tempdir().unwrap();
    let text = std::fs::read_to_string(demo("wire-crimp-pliers")).unwrap();
    let named = format!("{text}\n[trial]\ndata = \"bench.csv\"\n");
    let file = folder.path().join("tool.toml");
    std::fs::write(&file, named).unwrap();
    let readings = include_str!("../../demo-data/wire-crimp-bench.csv");
    std::fs::write(folder.path().join("bench.csv"), readings).unwrap();
    let file = file.to_str().unwrap();
    for way in [&[][..], &["--opening"]] {
        let call = [&["stroke", file][..], way].concat();
        let stroke = json(&call);
        let pictures = Picture::all(&printed(&[&call[..], &["--svg", "-"]].concat()));
        let picture = &pictures[0];
        let x = by_travel(picture, &stroke);
        let jaw = stroke["jaws"][0].as_str().unwrap();
        let gaps = along(&stroke, |p, _| p["jaws"][jaw]["gap"].as_f64());
        let gaps: Vec<f64> = gaps.into_iter().map(Option::unwrap).collect();
        let place = |gap: f64| {
            let after = gaps.iter().position(|g| *g <= gap).unwrap();
            let share = (gaps[after - 1] - gap) / (gaps[after - 1] - gaps[after]);
            x[after - 1] + share * (x[after] - x[after - 1])
        };
        let readings: Vec<_> = list(&stroke["measured"]["readings"])
            .iter()
            .map(|r| (place(number(&r["gap"])), Some(number(&r["jaw_force"]))))
            .collect();
        assert_eq!(readings.len(), 18);
        assert_eq!(picture.panels[0].readings.len(), 18);
        picture.readings(&picture.panels[0], &readings);
    }
}

#[test]
fn curves_of_the_stroke_are_where_the_axes_say() {
    let mut seen = 0;
    for (k, name) in DEMOS.iter().enumerate() {
        let units = if k % 2 == 0 { "mm-N" } else { "in-lbf" };
        for way in [&[][..], &["--opening"]] {
            let file = demo(name);
            let call = [&["stroke", &file, "--units", units][..], way].concat();
            let stroke = json(&call);
            let pictures = Picture::all(&printed(&[&call[..], &["--svg", "-"]].concat()));
            assert_eq!(pictures.len(), 1);
            let picture = &pictures[0];
            let x = by_travel(picture, &stroke);
            seen += curves_of_stroke(picture, &stroke, &x, &format!("{name} {way:?}"));
        }
    }
    assert!(seen > 3000, "{seen}");
}

#[test]
fn curves_side_by_side_are_where_the_axes_say() {
    let files = [
        demo("eyelet-toggle"),
        demo("pin-plunger"),
        demo("wire-crimp-pliers"),
    ];
    let call = ["compare", &files[0], &files[1], &files[2], "--svg", "-"];
    let pictures = Picture::all(&printed(&call));
    assert_eq!(pictures.len(), 3);
    for (file, picture) in files.iter().zip(&pictures) {
        let stroke = json(&["stroke", file]);
        let x = by_travel(picture, &stroke);
        assert!(curves_of_stroke(picture, &stroke, &x, file) > 100, "{file}");
    }
}

/// Variants: one picture for each grip, a curve for each variant, over the gap.
#[test]
fn curves_of_variants_are_where_the_axes_say() {
    let file = demo("eyelet-toggle");
    let lengths = ["24", "24.2", "24.4"];
    let call = [
        "compare",
        &file,
        "--vary",
        "strut.length=24:24.4:0.2",
        "--svg",
        "-",
    ];
    let pictures = Picture::all(&printed(&call));
    let strokes: Vec<Value> = (lengths.iter())
        .map(|length| json(&["stroke", &file, "--set", &format!("strut.length={length}")]))
        .collect();
    assert_eq!(pictures.len(), list(&strokes[0]["grips"]).len());
    curves_over_the_gap(&pictures, &strokes);
}

/// Two tools: after the picture of each, one for each grip that both have, with a curve for each.
#[test]
fn curves_of_tools_at_the_same_gap_are_where_the_axes_say() {
    let files = [demo("eyelet-toggle"), demo("eyelet-toggle-b")];
    let pictures = Picture::all(&printed(&["compare", &files[0], &files[1], "--svg", "-"]));
    let strokes = files.each_ref().map(|file| json(&["stroke", file]));
    assert_eq!(strokes[0]["grips"], strokes[1]["grips"]);
    assert_eq!(pictures.len(), 2 + list(&strokes[0]["grips"]).len());
    curves_over_the_gap(&pictures[2..], &strokes);
}

/// One picture for each grip, with the curves of the strokes over the gap.
fn curves_over_the_gap(pictures: &[Picture], strokes: &[Value]) {
    let gaps = |stroke: &Value| -> Vec<f64> {
        let gaps = along(stroke, |p, _| p["jaws"]["nose"]["gap"].as_f64());
        gaps.into_iter().map(Option::unwrap).collect()
    };
    let all = || strokes.iter().flat_map(gaps);
    let (open, shut) = (
        all().fold(f64::MIN, f64::max),
        all().fold(f64::MAX, f64::min),
    );
    let mut seen = 0;
    for (grip, picture) in pictures.iter().enumerate() {
        picture.numbers_stand(open, shut);
        for panel in &picture.panels {
            let curves = lines(panel, "curve");
            assert_eq!(curves.len(), strokes.len());
            for (line, stroke) in curves.into_iter().zip(strokes) {
                let what = match panel.title.contains("aw force") {
                    true => "jaw_force",
                    false => "hand_force",
                };
                let x = gaps(stroke)
                    .into_iter()
                    .map(|gap| picture.between((open - gap) / (open - shut)));
                let wanted: Vec<_> = x.zip(own(stroke, grip, what)).collect();
                let rows = match what {
                    "hand_force" => list(&stroke["work"]["need"]),
                    _ => &[],
                };
                let corners = rows.len() + 1;
                let what = format!("grip {grip}, {what}");
                seen += picture.holds_with(panel, line, (&wanted, corners), &what);
                // Each row of the work is a point between two others.
                for row in rows {
                    let gap = number(&row[0]);
                    let x = picture.between((open - gap) / (open - shut));
                    let drawn = &panel.lines[line].1;
                    assert!(
                        drawn.iter().any(|p| (p[0] - x).abs() <= 0.21),
                        "{what}: {gap}"
                    );
                }
            }
        }
    }
    assert!(seen > 300, "{seen}");
}

#[test]
fn curves_of_settings_are_where_the_axes_say() {
    let file = demo("ferrule-crimper");
    let setup = json(&["setup", &file]);
    let pictures = Picture::all(&printed(&["setup", &file, "--svg", "-"]));
    let adjusters = list(&setup["adjusters"]);
    assert_eq!(pictures.len(), adjusters.len());
    let mut seen = 0;
    for (adjuster, picture) in adjusters.iter().zip(&pictures) {
        let settings = list(&adjuster["settings"]);
        let at = |k: usize| number(&settings[k]["at"]);
        let (from, to) = (at(0), at(settings.len() - 1));
        picture.numbers_stand(from, to);
        for panel in &picture.panels {
            let keys = [
                ("Gap", "gap"),
                ("Jaw", "jaw_force"),
                ("Hand", "work_force"),
                ("Ratio", "ratio"),
            ];
            let key = keys
                .iter()
                .find(|(start, _)| panel.title.starts_with(start))
                .unwrap()
                .1;
            let wanted: Vec<_> = (0..settings.len())
                .map(|k| {
                    (
                        picture.between((at(k) - from) / (to - from)),
                        settings[k][key].as_f64(),
                    )
                })
                .collect();
            seen += picture.holds(panel, 0, &wanted, key);
        }
    }
    assert!(seen >= 40, "{seen}");
}

/// Readings as marks, the predicted curve and the one that fits best.
#[test]
fn curves_and_readings_of_a_trial_are_where_the_axes_say() {
    let bench = Bench::empty();
    let file = demo("eyelet-toggle");
    let sheet = bench
        .run(&["trial", &file, "--sheet", "--json"])
        .code(0)
        .json();
    let mut text = "gap,jaw_force,hand_force,direction,grip\n".to_owned();
    for (k, row) in list(&sheet["rows"]).iter().enumerate() {
        let off = 1.0 + 0.01 * (k as f64).sin();
        let force = 1.1 * off * number(&row["predicted"]);
        text.push_str(&format!(
            "{},{force},{},{},{}\n",
            row["gap"],
            row["hand_force"],
            row["direction"].as_str().unwrap(),
            row["grip"]
        ));
    }
    bench.put("data.csv", &text);
    let trial = bench.run(&["trial", &file, "data.csv", "--json"]).json();
    let svg = bench.run(&["trial", &file, "data.csv", "--svg", "-"]).out;
    let pictures = Picture::all(&svg);
    let curves = list(&trial["curves"]);
    assert_eq!(pictures.len(), curves.len());
    let mut seen = 0;
    for (curve, picture) in curves.iter().zip(&pictures) {
        let panel = &picture.panels[0];
        let keys = ["predicted", "fitted", "readings"];
        let gaps = || {
            keys.iter()
                .flat_map(|key| list(&curve[*key]))
                .map(|p| number(&p[0]))
        };
        let (open, shut) = (
            gaps().fold(f64::MIN, f64::max),
            gaps().fold(f64::MAX, f64::min),
        );
        picture.numbers_stand(open, shut);
        let points = |key: &str| -> Vec<(f64, Option<f64>)> {
            let place = |gap: f64| picture.between((open - gap) / (open - shut));
            let pairs = list(&curve[key]).iter();
            pairs
                .map(|p| (place(number(&p[0])), Some(number(&p[1]))))
                .collect()
        };
        seen += picture.holds(panel, 0, &points("predicted"), "predicted");
        seen += picture.holds(panel, 1, &points("fitted"), "fitted");
        let readings = points("readings");
        assert_eq!(panel.readings.len(), readings.len());
        seen += picture.readings(panel, &readings);
    }
    assert!(seen > 60, "{seen}");
}

/// Shares as bars beside the greatest, and the made tools as bars of a histogram.
#[test]
fn bars_of_tolerances_are_as_long_as_their_numbers() {
    let mut seen = 0;
    for name in ["eyelet-toggle", "pin-plunger", "excluder-cutter"] {
        assert!(!tool(name).demands.is_empty(), "{name}");
        let file = demo(name);
        let call = ["tolerance", &file, "--samples", "2000"];
        let report = json(&call);
        let svg = printed(&[&call[..], &["--svg", "-"]].concat());
        let page = roxmltree::Document::parse(&svg).unwrap();
        let hollow: Vec<f64> = (page.descendants())
            .filter(|n| n.has_tag_name("rect") && n.attribute("fill") == Some("none"))
            .filter_map(|n| n.attribute("y")?.parse().ok())
            .collect();
        let bar = |n: roxmltree::Node<'_, '_>| -> Option<[f64; 4]> {
            let number = |key: &str| n.attribute(key)?.parse::<f64>().ok();
            let all = [
                number("x")?,
                number("y")?,
                number("width")?,
                number("height")?,
            ];
            n.has_tag_name("rect").then_some(all)
        };
        let bars: Vec<[f64; 4]> = page.descendants().filter_map(bar).collect();
        let shares: Vec<_> = bars
            .iter()
            .filter(|b| b[0] == 250.0 && b[3] == 13.0)
            .collect();
        let mut failing: Vec<&Value> = list(&report["measures"]).iter().collect();
        let good = |m: &Value| {
            m["met"]
                .as_u64()
                .unwrap_or_else(|| list(&m["bars"]).iter().filter_map(Value::as_u64).sum())
        };
        failing.sort_by_key(|m| good(m));
        let mut next = shares.into_iter();
        // Six of them have a picture, the others are counted.
        let others = failing.split_off(failing.len().min(6));
        let least = others.iter().filter_map(|m| m["met"].as_u64()).min();
        let rest = svg.contains(&format!(">and {} more", others.len()));
        assert_eq!(rest, !others.is_empty(), "{name}");
        assert!(
            least.is_none_or(|met| met == 2000 || svg.contains(&format!("least {met} of 2000 ")))
        );
        for measure in failing {
            let all = list(&measure["shares"]);
            let greatest = number(&all[0][1]).abs();
            let mut top = f64::INFINITY;
            for share in all.iter().take(6) {
                let drawn = next.next().unwrap();
                let wanted = 210.0 * number(&share[1]).abs() / greatest;
                assert!(
                    (drawn[2] - wanted).abs() <= 0.06,
                    "{name}: {drawn:?} {share} {wanted}"
                );
                assert_eq!(
                    hollow.contains(&drawn[1]),
                    number(&share[1]) < 0.0,
                    "{name}: {share}"
                );
                top = top.min(drawn[1]);
                seen += 1;
            }
            // The histogram: bars on one line, as high as their counts; one that a limit cuts is in two pieces.
            let height = 20.0 * all.len().clamp(5, 6) as f64 - 8.0;
            let floor = top - 1.0 + height;
            // Beside it a column of all tools, where some may fail.
            let alone = measure["met"].is_null() && list(&measure["failed"]).is_empty();
            let end = if alone { 930.0 } else { 880.0 };
            let mut pieces: Vec<_> = (bars.iter())
                .filter(|b| (540.0..end).contains(&b[0]) && b[3] > 0.0)
                .filter(|b| (b[1] + b[3] - floor).abs() < 0.16)
                .collect();
            pieces.sort_by(|a, b| a[0].total_cmp(&b[0]));
            let counts: Vec<f64> = list(&measure["bars"]).iter().map(number).collect();
            let most = counts.iter().copied().fold(0.0, f64::max);
            let wanted: Vec<f64> = (counts.iter())
                .map(|count| height * count / most)
                .filter(|tall| *tall >= 0.05)
                .collect();
            let (mut at, mut cuts) = (0, 0);
            for piece in &pieces {
                let is = |k: usize| {
                    wanted
                        .get(k)
                        .is_some_and(|tall| (tall - piece[3]).abs() <= 0.06)
                };
                match (is(at), at > 0 && is(at - 1)) {
                    (true, _) => at += 1,
                    (false, true) => cuts += 1,
                    _ => panic!("{name}: {piece:?} is not {:?}", wanted.get(at)),
                }
            }
            assert!(
                at == wanted.len() && cuts <= 2,
                "{name}: {at} of {}, {cuts}",
                wanted.len()
            );
            seen += at;
        }
        assert!(next.next().is_none());
    }
    assert!(seen > 200, "{seen}");
}
