//! What stands on the curves of a stroke: corners of the work, round gaps, the part beyond a stall, demands.

use super::charts::{along, by_travel, json, lines, list, number};
use super::picture::{Panel, Picture};
use super::printed;
use crate::drawing::{DEMOS, demo};
use serde_json::Value;

/// A stroke, its chart, and where its positions stand, pixels.
struct Seen {
    stroke: Value,
    picture: Picture,
    svg: String,
    x: Vec<f64>,
    gaps: Vec<f64>,
}

impl Seen {
    fn of(call: &[&str]) -> Self {
        let stroke = json(call);
        let svg = printed(&[call, &["--svg", "-"]].concat());
        let picture = Picture::all(&svg).remove(0);
        let x = by_travel(&picture, &stroke);
        let jaw = stroke["jaws"][0].as_str().unwrap().to_owned();
        let gaps = along(&stroke, |p, _| p["jaws"][&jaw]["gap"].as_f64());
        Self {
            gaps: gaps.into_iter().map(Option::unwrap).collect(),
            stroke,
            picture,
            svg,
            x,
        }
    }

    /// The pixel of a gap, which goes straight between positions.
    fn place(&self, gap: f64) -> f64 {
        let after = self
            .gaps
            .iter()
            .position(|g| *g <= gap + 1e-9)
            .unwrap()
            .max(1);
        let share = (self.gaps[after - 1] - gap) / (self.gaps[after - 1] - self.gaps[after]);
        self.x[after - 1] + share * (self.x[after] - self.x[after - 1])
    }

    fn hand(&self) -> &Panel {
        &self.picture.panels[1]
    }
}

fn near(point: [f64; 2], x: f64, y: f64, within: f64) -> bool {
    (point[0] - x).abs() <= within && (point[1] - y).abs() <= within
}

/// Every row of the work that the stroke goes over is a point of its line, and of the hand force at each grip with
/// the force that `measure` finds there.
#[test]
fn corners_of_the_work_are_drawn_where_its_rows_are() {
    for (name, least) in [
        ("eyelet-toggle", 5),
        ("pin-plunger", 5),
        ("excluder-cutter", 5),
    ] {
        let file = demo(name);
        let seen = Seen::of(&["stroke", &file]);
        let upper = &seen.picture.panels[0];
        let work = &upper.lines[lines(upper, "work")[0]].1;
        let mut rows = 0;
        for row in list(&seen.stroke["work"]["need"]) {
            let [gap, force] = [0, 1].map(|k| number(&row[k]));
            let last = seen.gaps.len() - 1;
            if !(seen.gaps[last] - 1e-9..seen.gaps[0]).contains(&gap) {
                continue;
            }
            let (x, y) = (seen.place(gap), upper.pixel(force).unwrap());
            assert!(
                work.iter().any(|p| near(*p, x, y, 0.21)),
                "{name}: {gap}, {force}"
            );
            rows += 1;
            if seen.hand().title.contains('%') {
                continue;
            }
            let at = format!("gap={gap}");
            for (k, grip) in list(&seen.stroke["grips"]).iter().enumerate() {
                let held = grip.to_string();
                let call = ["measure", &file, "hand_force", "--at", &at, "--grip", &held];
                let needed: f64 = printed(&call).trim().parse().unwrap();
                let y = seen.hand().pixel(needed).unwrap();
                let line = &seen.hand().lines[lines(seen.hand(), "curve")[k]].1;
                assert!(
                    line.iter().any(|p| near(*p, x, y, 0.21)),
                    "{name}: {gap}, {needed}"
                );
            }
        }
        assert!(rows >= least, "{name}: {rows}");
    }
}

/// Round gaps, unevenly spaced, each with an upright line through both plots.
#[test]
fn round_gaps_stand_where_the_jaw_has_them() {
    for name in DEMOS {
        for units in ["mm-N", "in-lbf"] {
            let seen = Seen::of(&["stroke", &demo(name), "--units", units]);
            assert!(
                seen.picture.gaps.len() >= 5,
                "{name}: {:?}",
                seen.picture.gaps
            );
            let uprights = |x: f64| {
                let (start, end) = (format!("d=\"M{x} "), format!(" L{x} "));
                let lines = seen.svg.lines().filter(|l| l.contains("class=\"rule\""));
                lines
                    .filter(|l| l.contains(&start) && l.contains(&end) && l.contains("#e2e2e2"))
                    .count()
            };
            let inner = seen.picture.gaps.len() - 1;
            for (k, (text, x)) in seen.picture.gaps.iter().enumerate() {
                let gap: f64 = text.parse().unwrap();
                if k > 0 && k < inner {
                    assert!((x - seen.place(gap)).abs() <= 0.11, "{name}: {text} at {x}");
                    let digits = text.trim_start_matches(['0', '.', '-']).replace('.', "");
                    assert!(digits.trim_end_matches('0').len() <= 2, "{name}: {text}");
                }
                assert_eq!(
                    uprights(*x),
                    seen.picture.panels.len(),
                    "{name}: {text} at {x}"
                );
            }
        }
    }
}

/// Up to the stall as strong as any, beyond it thin; the others bear the number of their peak.
#[test]
fn beyond_its_stall_a_curve_is_thin_and_the_others_tell_their_peak() {
    let seen = Seen::of(&["stroke", &demo("eyelet-toggle")]);
    let work = &seen.stroke["work"];
    assert_eq!(seen.picture.panels[0].beyond.len(), 0);
    let [beyond] = &seen.hand().beyond[..] else {
        panic!("one grip stalls")
    };
    let stall = number(&work["stalls"][0]);
    let limit = seen.hand().pixel(200.0).unwrap();
    assert!(
        near(beyond[0], seen.place(stall), limit, 0.21),
        "{beyond:?}"
    );
    let end = seen.x[seen.x.len() - 1];
    assert!((beyond[beyond.len() - 1][0] - end).abs() < 0.21);
    for (grip, text) in [(1, "grip 75 mm"), (2, "grip 90 mm")] {
        let peak = number(&work["peaks"][grip]["hand_force"]);
        let label = format!(">{text}, {peak:.0} N at peak<");
        assert!(seen.svg.contains(&label), "{label}");
    }
    // What is above the limit is tinted, down to the limit's line.
    assert!(
        seen.svg
            .lines()
            .any(|l| l.contains("class=\"area\"") && l.contains("#b3261e"))
    );
}

/// The demand of the demo tool, and one that it does not meet.
#[test]
fn demands_stand_at_their_bounds_met_or_missed() {
    let folder = tempfile::tempdir().unwrap();
    let text = std::fs::read_to_string(demo("eyelet-toggle")).unwrap();
    for (most, class) in [("190", "demand met"), ("150", "demand missed")] {
        let file = folder.path().join("tool.toml");
        let typed = text.replace("max     = 190", &format!("max     = {most}"));
        assert!(typed.contains(&format!("max     = {most}")));
        std::fs::write(&file, typed).unwrap();
        let seen = Seen::of(&["stroke", file.to_str().unwrap()]);
        let [(found, corner)] = &seen.hand().demands[..] else {
            panic!("one demand on the hand force")
        };
        assert_eq!(found, class);
        let peak = number(&seen.stroke["work"]["peaks"][2]["travel"]);
        let travel = number(&seen.stroke["positions"][seen.x.len() - 1]["travel"]);
        let y = seen.hand().pixel(most.parse().unwrap()).unwrap();
        let x = seen.picture.between(peak / travel) - 7.0;
        assert!(near(*corner, x, y, 0.21), "{corner:?}, not {x} {y}");
        let upper = &seen.picture.panels[0];
        let [(found, corner)] = &upper.demands[..] else {
            panic!("one demand on the jaw force")
        };
        assert_eq!(found, "demand met");
        assert!(near(
            *corner,
            seen.place(1.0) - 7.0,
            upper.pixel(600.0).unwrap(),
            0.21
        ));
    }
}
