//! Several jaws, each with a job of its own. Against closed forms: a lever of grip L and a nest at radius
//! r, both measured from its pin; and every measure of a named jaw against the same file with its jaws in
//! another order.

use crate::cli::Bench;
use crate::models::random::{Dice, load, pin_in_slot, six_bar};
use jawforce::analysis::{Analysis, Direction};
use jawforce::measure::{Measure, named};
use jawforce::model::{At, Jaw, JawId, JointId, PartId, PointRef, Tool, Work};
use proptest::prelude::*;
use serde_json::Value;

const NESTS: &str = include_str!("files/three-nests.toml");
const NAMES: [&str; 3] = ["near", "middle", "far"];
/// Radii of the nests and the force that each job needs, mm and N.
const RADII: [f64; 3] = [20.0, 40.0, 60.0];
const NEEDS: [f64; 3] = [600.0, 500.0, 450.0];

/// The file in inches and pounds: its lengths and forces as numbers of those.
fn in_inches() -> String {
    let text = NESTS.replace("units = \"mm-N\"", "units = \"in-lbf\"");
    let number = |line: &str, unit: &str| -> String {
        let mut out = String::new();
        let (mut token, mut quoted) = (String::new(), false);
        for c in line.chars().chain([' ']) {
            if c == '"' {
                quoted = !quoted;
            }
            let digit = c.is_ascii_digit() || c == '.' || (c == '-' && token.is_empty());
            if digit && !quoted {
                token.push(c);
                continue;
            }
            match token.parse::<f64>() {
                Ok(_) if !token.is_empty() => out.push_str(&format!("\"{token} {unit}\"")),
                _ => out.push_str(&token),
            }
            token.clear();
            out.push(c);
        }
        out.trim_end().to_owned()
    };
    let mut of_ratio = false;
    let lines = text.lines().map(|line| {
        let key = line
            .split(" =")
            .next()
            .unwrap_or_default()
            .trim_matches('"');
        if key == "measure" {
            of_ratio = line.contains("ratio") || line.contains("safety");
        }
        match key {
            "need" => {
                let rows: Vec<String> = (line.split('[').skip(2))
                    .map(|row| {
                        let pair: Vec<&str> = row
                            .trim_end_matches(['[', ']', ' ', ','])
                            .split(", ")
                            .collect();
                        format!("[\"{} mm\", \"{} N\"]", pair[0], pair[1])
                    })
                    .collect();
                format!("need = [{}]", rows.join(", "))
            }
            "force" | "limit" | "want" => number(line, "N"),
            "min" | "max" if of_ratio || line.contains('"') => line.to_owned(),
            "min" => number(line, "mm"),
            "max" => number(line, "N"),
            "yield" => number(line, "MPa"),
            "steps" | "axis" => line.to_owned(),
            _ if line.starts_with('#') => line.to_owned(),
            _ => number(line, "mm"),
        }
    });
    lines.collect::<Vec<_>>().join("\n") + "\n"
}

fn number(ended: &crate::cli::Ended) -> f64 {
    let text = ended.out.trim();
    text.parse()
        .unwrap_or_else(|_| panic!("{text} {}", ended.err))
}

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() <= tolerance * expected.abs().max(1.0),
        "{found}, expected {expected}"
    );
}

fn read(text: &str) -> Tool {
    let read = jawforce::input::read_tool(text, &jawforce::input::no_side_files);
    read.unwrap_or_else(|e| panic!("{e:?}")).tool
}

/// Virtual work: at shut a push of F at L holds F L / r in a nest at r.
#[test]
fn each_nest_has_the_ratio_and_the_work_of_its_radius() {
    for text in [NESTS.to_owned(), in_inches()] {
        let bench = Bench::with(&text);
        for (k, name) in NAMES.into_iter().enumerate() {
            for grip in [120.0, 90.0] {
                let own = format!("{grip} mm");
                let ask = |measure: &str, at: &str| {
                    let measure = format!("{measure}.{name}");
                    let args = ["measure", "tool.toml", &measure, "--at", at, "--grip", &own];
                    number(
                        &bench
                            .run(&[&args[..], &["--units", "mm-N"]].concat())
                            .code(0),
                    )
                };
                near(ask("ratio", "shut"), grip / RADII[k], 1e-9);
                near(ask("jaw_force", "shut"), 150.0 * grip / RADII[k], 1e-9);
                near(ask("hand_force", "shut"), NEEDS[k] * RADII[k] / grip, 1e-9);
                // sin 11.54° = 0.2: open is where the middle nest stands open by 8 mm.
                near(ask("gap", "open"), 0.2 * RADII[k], 1e-9);
            }
        }
    }
}

/// The hand's limit of 210 N at the grip of 120 mm is enough for all nests but the far one.
#[test]
fn one_nest_alone_stalls() {
    let bench = Bench::with(NESTS);
    for (name, stalls) in [("near", false), ("middle", false), ("far", true)] {
        let args = [
            "stroke",
            "tool.toml",
            "--jaw",
            name,
            "--grip",
            "120",
            "--json",
        ];
        let report: Value = serde_json::from_str(&bench.run(&args).out).unwrap();
        assert_eq!(report["jaws"][0], name);
        assert_eq!(!report["work"]["stalls"][0].is_null(), stalls, "{name}");
    }
}

/// Every command says first that the far nest stalls at both grips, and ends with 1; with a limit of 301 N
/// the grip of 90 mm is enough for all (450 × 60 / 90 = 300), with 230 N that of 120 mm alone (225).
#[test]
fn the_first_lines_are_of_every_nest() {
    let bench = Bench::with(&NESTS.replace("min = 6", "min = 4"));
    let hand = |limit: &str, code: i32| -> Vec<(String, f64, bool)> {
        let ended = bench.run(&["stroke", "tool.toml", "--limit", limit, "--json"]);
        let report: Value = serde_json::from_str(&ended.code(code).out).unwrap();
        let list = report["verdict"]["hand"].as_array().unwrap().iter();
        list.map(|hand| {
            let jaw = hand["jaw"].as_str().unwrap().to_owned();
            (
                jaw,
                hand["grip"].as_f64().unwrap(),
                hand["can"].as_bool().unwrap(),
            )
        })
        .collect()
    };
    for (limit, able) in [
        ("210", [true, true, true, false, false, false]),
        ("230", [true, true, true, true, true, false]),
    ] {
        // Worst in the middle nest: 500 × 40 / 90 = 222.
        let found = hand(limit, i32::from(limit == "210"));
        let expected = NAMES
            .into_iter()
            .flat_map(|name| [(name, 120.0), (name, 90.0)]);
        let expected = expected
            .zip(able)
            .map(|((name, grip), can)| (name.to_owned(), grip, can));
        assert_eq!(found, expected.collect::<Vec<_>>());
    }
    assert!(hand("301", 0).iter().all(|(_, _, can)| *can));
    bench
        .run(&["check", "tool.toml"])
        .prints("far, grip 120 mm at gap 0.40 mm (limit 210 N)");
    bench
        .run(&["compare", "tool.toml", "--limit", "230"])
        .code(0);
    bench.run(&["compare", "tool.toml"]).code(1);
    bench
        .run(&["loads", "tool.toml"])
        .prints("at the hand's limit (L), in near");
}

/// A stroke by gap says which jaw it means, where the file does not.
#[test]
fn the_jaw_of_the_stroke_is_named_or_assumed() {
    let said = "the gaps of [stroke] are those of the first jaw, `near`";
    let named = Bench::with(NESTS)
        .run(&["check", "tool.toml", "--json"])
        .code(0);
    assert!(!named.out.contains(said), "{}", named.out);
    let text = NESTS.replace(", jaw = \"middle\" }", " }");
    Bench::with(&text)
        .run(&["check", "tool.toml", "--json"])
        .prints(said);
}

/// The pin carries N + F of the nest and the hand, each square to the lever or upright. Worst is the near
/// nest under the limit, at open: there N is the greatest. Double shear; 0.577 as Shigley has it.
#[test]
fn safety_is_the_least_over_all_nests() {
    let tool = read(NESTS);
    let strength = Analysis::of(tool);
    let strength = strength.strength(Direction::Closing).unwrap();
    let (sin, cos) = (0.2, 0.96_f64.sqrt());
    let jaw = 210.0 * 120.0 / (20.0 * cos);
    let pin = (jaw + 210.0 * cos).hypot(210.0 * sin);
    let area = std::f64::consts::PI * 2.5 * 2.5;
    near(
        strength.safety(None).unwrap(),
        0.577 * 400.0 / (pin / (2.0 * area)),
        1e-9,
    );
    let worst = strength.least().unwrap();
    assert_eq!((worst.jaw, worst.grip.index()), (JawId::FIRST, 0));
    // Whichever nest is in view.
    for jaw in JawId::ids(3).skip(1) {
        let analysis = Analysis::of(read(NESTS).facing(jaw));
        let other = analysis.strength(Direction::Closing).unwrap();
        near(
            other.safety(None).unwrap(),
            strength.safety(None).unwrap(),
            1e-12,
        );
        assert_eq!(
            analysis.tool().jaws[other.least().unwrap().jaw].name,
            "near"
        );
    }
    // With no work at the near nest, nothing presses there.
    let mut tool = read(NESTS);
    tool.jaws[0].work = None;
    let strength = Analysis::of(tool);
    let strength = strength.strength(Direction::Closing).unwrap();
    let jaw = 210.0 * 120.0 / (40.0 * cos);
    let pin = (jaw + 210.0 * cos).hypot(210.0 * sin);
    near(
        strength.safety(None).unwrap(),
        0.577 * 400.0 / (pin / (2.0 * area)),
        1e-9,
    );
    assert_eq!(strength.least().unwrap().jaw, JawId::new(1));
}

/// The blocks of the file with its jaws in this order.
fn reordered(order: [usize; 3]) -> String {
    let first = NESTS.find("[[jaw]]").unwrap();
    let last = NESTS.find("[stroke]").unwrap();
    let jaws: Vec<&str> = NESTS[first..last]
        .split_inclusive("axis = 90\n\n")
        .collect();
    let moved = order.map(|k| jaws[k]).concat();
    format!("{}{moved}{}", &NESTS[..first], &NESTS[last..])
}

/// Every command on the file with its jaws in any order: the demands name theirs.
#[test]
fn the_order_of_the_jaws_changes_no_demand() {
    let json = |bench: &Bench, args: &[&str]| -> Value {
        let ended = bench.run(args);
        serde_json::from_str(&ended.out).unwrap_or_else(|e| panic!("{e}: {}", ended.err))
    };
    let values = |list: &Value, key: &str| -> Vec<f64> {
        let list = list.as_array().unwrap();
        assert!(!list.is_empty());
        list.iter().map(|d| d[key].as_f64().unwrap()).collect()
    };
    let all = |text: &str| {
        let bench = Bench::with(text);
        let stroke = json(&bench, &["stroke", "tool.toml", "--json"]);
        let compared = [
            "--measure",
            "gap.near@open",
            "--measure",
            "hand_force.far@peak",
        ];
        let compared = [&["compare", "tool.toml", "--json"], &compared[..]].concat();
        let compared = json(&bench, &compared);
        let tuned = json(&bench, &["tune", "tool.toml", "-o", "new.toml", "--json"]);
        let mut found = values(&stroke["demands"], "value");
        found.extend(
            compared["rows"][0]["values"]
                .as_array()
                .unwrap()
                .iter()
                .map(|v| v.as_f64().unwrap()),
        );
        found.extend(compared["rows"][0]["met"].as_f64());
        let studied = json(
            &bench,
            &["tolerance", "tool.toml", "--samples", "400", "--json"],
        );
        found.push(studied["all_met"].as_f64().unwrap());
        // In the order of their values, which differ: the first jaw's stand first.
        let mut spread: Vec<[f64; 2]> = (studied["measures"].as_array().unwrap().iter())
            .filter(|one| !one["met"].is_null())
            .map(|one| {
                [
                    one["nominal"].as_f64().unwrap(),
                    one["mean"].as_f64().unwrap(),
                ]
            })
            .collect();
        spread.sort_by(|a, b| a[0].total_cmp(&b[0]));
        assert_eq!(spread.len(), 6);
        found.extend(spread.into_iter().flatten());
        found.extend(values(&tuned["demands"], "after"));
        found.push(tuned["aim"]["after"].as_f64().unwrap());
        found
    };
    let expected = all(NESTS);
    // By hand: hand_force.far at peak of 450 N at 60 mm, and what tuning is to reach.
    near(expected[7], 225.0, 1e-9);
    near(*expected.last().unwrap(), 180.0, 1e-3);
    for order in [[1, 0, 2], [2, 0, 1], [2, 1, 0]] {
        let found = all(&reordered(order));
        assert_eq!(found.len(), expected.len());
        for (found, expected) in found.into_iter().zip(&expected) {
            near(found, *expected, 1e-9);
        }
    }
}

/// A random linkage with a jaw more between any two of its parts, each with a job: `None` where that one
/// does not close.
pub fn with_second(mut tool: Tool, dice: &mut Dice<'_>) -> Option<Tool> {
    let moving = tool.hand.handle.part;
    let point = |part: PartId| PointRef { part, point: 0 };
    let against = point(tool.fixed);
    let on = PointRef {
        part: moving,
        point: tool.parts[moving].points.len() - 1,
    };
    tool.jaws.push(Jaw {
        name: "second".to_owned(),
        on,
        against,
        axis: Some(dice.within(-3.0, 3.0)),
        closed: -1e4,
        work: None,
    });
    let ends = |tool: &Tool| {
        let analysis = Analysis::of(tool.clone());
        let solved = analysis.stroke(Direction::Closing).ok()?;
        let (open, shut) = (solved.positions.first()?, solved.positions.last()?);
        Some(
            (0..2)
                .map(|k| [open.gap[k], shut.gap[k]])
                .collect::<Vec<_>>(),
        )
    };
    let gaps = ends(&tool)?;
    if gaps[1][0] < gaps[1][1] {
        let axis = &mut tool.jaws[1].axis;
        *axis = axis.map(|axis| axis + std::f64::consts::PI);
    }
    let gaps = ends(&tool)?;
    for (jaw, [open, shut]) in tool.jaws.iter_mut().zip(gaps) {
        let most = dice.within(50.0, 500.0);
        jaw.work = Some(Work {
            scale: 1.0,
            estimate: None,
            finish: None,
            need: vec![
                [open, 0.0],
                [0.4 * open + 0.6 * shut, most],
                [shut, 0.5 * most],
            ],
            note: None,
            rigid: None,
        });
    }
    Some(tool)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Reading the second jaw by its name is reading the first one of the tool with the two swapped by hand.
    #[test]
    fn a_jaw_by_name_reads_as_the_first_of_another_order(
        numbers in prop::collection::vec(0.0..1.0f64, 200),
        slotted: bool,
    ) {
        let mut dice = Dice::new(&numbers);
        let made = if slotted { pin_in_slot(&mut dice) } else { six_bar(&mut dice) };
        prop_assume!(made.is_some());
        let mut tool = made.unwrap();
        load(&mut tool, &mut dice);
        let made = with_second(tool, &mut dice);
        prop_assume!(made.is_some());
        let tool = made.unwrap();
        let mut swapped = tool.clone();
        swapped.jaws.swap(0, 1);
        let (tool, swapped) = (Analysis::of(tool), Analysis::of(swapped));
        // With another jaw to close it, another stroke may be the one: on the other way to put the linkage
        // together, or none.
        let ends = |analysis: &Analysis| {
            let survey = analysis.motion().ok().map(|m| [m.survey.open, m.survey.shut]);
            survey.map(|ends| ends.map(|spot| (spot.node, spot.ahead)))
        };
        prop_assume!(ends(&tool) == ends(&swapped));
        let pin = Measure::PinLoad(JointId::FIRST);
        let mut read = 0;
        for word in ["gap", "ratio", "jaw_force", "hand_force", "efficiency", "hand_work", "jaw_work", "pin"] {
            let (measure, jaw) = match word {
                "pin" => (pin.clone(), JawId::new(1)),
                _ => named(tool.tool(), &format!("{word}.second")).unwrap(),
            };
            assert_eq!(jaw, JawId::new(1));
            let places: &[Option<At>] = match measure.at_position() {
                true => &[Some(At::Open), Some(At::Shut), Some(At::Peak), Some(At::Least)],
                false => &[None],
            };
            for at in places {
                let found = tool.measure(&measure, jaw, *at, None, Direction::Closing).unwrap();
                let first = swapped.measure(&measure, JawId::FIRST, *at, None, Direction::Closing).unwrap();
                match (found, first) {
                    (Ok(found), Ok(first)) => {
                        read += 1;
                        let scale = first.abs().max(1e-3);
                        prop_assert!((found - first).abs() < 1e-7 * scale, "{word} {at:?} {found} {first}");
                    }
                    (found, first) => prop_assert_eq!(found.is_ok(), first.is_ok(), "{} {:?}", word, at),
                }
            }
        }
        prop_assert!(read > 0);
    }
}

/// What a file may get wrong about jaws is in `bad_files`; here what is typed.
#[test]
fn a_jaw_that_there_is_not_is_named() {
    let bench = Bench::with(NESTS);
    let typed = |args: &[&str]| {
        bench
            .run(&[&["measure", "tool.toml"], args].concat())
            .code(2)
    };
    typed(&["ratio.fra", "--at", "shut"]).says("near, middle, far");
    typed(&["ratio", "--at", "shut", "--jaw", "fra"]).says("did you mean `far`?");
    typed(&["span.far", "--at", "shut"]).says("nothing follows");
}

/// An error on a gap that is not on the stroke names the jaw that is asked about.
#[test]
fn a_gap_off_the_stroke_names_its_jaw() {
    let bench = Bench::with(NESTS);
    let args = ["measure", "tool.toml", "ratio.far", "--at", "gap=13"];
    bench
        .run(&args)
        .code(3)
        .says("gap of jaw `far` = 13")
        .says("from 0 mm to 12 mm");
}

/// A jaw that the hand opens is no error where it is not the one that closes on the stroke.
#[test]
fn a_further_jaw_may_open() {
    let text = NESTS.replacen(
        "axis = 90\n\n[stroke]",
        "axis = -90\nclosed = -20\n\n[stroke]",
        1,
    );
    // Its gap runs from 8 to 20 mm.
    let text = text.replace("gap = 1.5", "gap = 9");
    let bench = Bench::with(&text);
    for jaw in ["near", "far"] {
        let args = [
            "stroke",
            "tool.toml",
            "--jaw",
            jaw,
            "--hand-force",
            "150",
            "--grip",
            "120",
        ];
        let ended = bench.run(&args);
        assert!(ended.code == 1 || ended.code == 3, "{}", ended.err);
        ended.prints("opens jaw");
    }
    let args = [
        "measure",
        "tool.toml",
        "ratio.far",
        "--at",
        "shut",
        "--grip",
        "120",
    ];
    near(number(&bench.run(&args).code(0)), -2.0, 1e-9);
}

/// At its own gap of 1 mm a nest at x from the pin has the ratio L / √(x² − 1). A pin of the lever that sits
/// nearer to the nests shortens both radii and lengthens the arm: it raises the ratio of one nest and lowers
/// the hand force for another. Half the tools do the one, the other half the other, none both; whichever
/// nest is in view.
#[test]
fn made_tools_do_what_is_demanded_with_the_work_in_every_nest() {
    let first = NESTS.find("[[demand]]").unwrap();
    // 450 N at gap 0 fall to nothing at 6 mm.
    let hand = 375.0 * 3599_f64.sqrt() / 120.0;
    let text = format!(
        "{}[[demand]]\nmeasure = \"ratio.near\"\nat = {{ gap = 1 }}\ngrip = 120\nmin = {}\n\
         [[demand]]\nmeasure = \"hand_force.far\"\nat = {{ gap = 1 }}\ngrip = 120\nmin = {}\n\
         [tolerances]\n\"lever.heel.x\" = 0.3\n",
        &NESTS[..first],
        120.0 / 399_f64.sqrt(),
        hand + 1e-6,
    );
    let sampling = jawforce::tolerance::Sampling {
        samples: 400,
        ..jawforce::tolerance::Sampling::default()
    };
    let mut seen = Vec::new();
    for name in NAMES {
        let mut tool = read(&text);
        tool.face(tool.jaw_named(name).unwrap());
        let study = Analysis::of(tool.clone()).tolerance(&sampling).unwrap();
        assert_eq!(study.all_met, Some(0), "{name}");
        let of = |jaw: &str| {
            let all = study.findings.iter();
            let mut own = all.filter(|f| f.met.is_some() && tool.jaws[f.subject.jaw].name == jaw);
            own.next().unwrap().clone()
        };
        let (ratio, force) = (of("near"), of("far"));
        // d/dd (120 + d) / √((20 − d)² − 1), and of 375 √((60 − d)² − 1) / (120 + d), at d = 0.
        near(
            ratio.shares[0].derivative,
            1.0 / 399_f64.sqrt() + 120.0 * 20.0 / 399_f64.powf(1.5),
            1e-6,
        );
        near(
            force.shares[0].derivative,
            -375.0 * 60.0 / 3599_f64.sqrt() / 120.0 - hand / 120.0,
            1e-6,
        );
        let met = [ratio.met.unwrap(), force.met.unwrap()];
        assert_eq!(met.iter().sum::<usize>(), 400, "{met:?}");
        assert!(met.iter().all(|met| (150..=250).contains(met)), "{met:?}");
        seen.push(met);
    }
    // The same made tools.
    assert!(seen.iter().all(|met| *met == seen[0]), "{seen:?}");
}

/// The worst load is of the near nest, by hand: 210 N at 120 mm on a radius of 20 mm bears 210 * 120 / 20
/// = 1260 N square to the lever, and so much at most on the pin besides the hand. The case that `loads`
/// shows is that one, whichever jaw the file names first.
#[test]
fn loads_show_the_worst_nest_whichever_comes_first() {
    let mut shown = Vec::new();
    for facing in NAMES {
        let bench = Bench::with(NESTS);
        let loads = bench.run(&["loads", "tool.toml", "--jaw", facing, "--json"]);
        let case = &loads.json()["cases"][0];
        let jaw = case["jaw_force"].as_f64().unwrap();
        // The axis stands across the lever at shut, and leans by its angle elsewhere.
        assert!((1260.0..1300.0).contains(&jaw), "{facing}: {jaw}");
        assert!(
            case["case"].as_str().unwrap().ends_with(", in near"),
            "{case}"
        );
        let sheets = case["sheets"].to_string();
        assert!(sheets.contains("work at near"), "{sheets}");
        assert!(!sheets.contains("work at far"), "{sheets}");
        shown.push(case.clone());
    }
    assert!(shown.iter().all(|case| case == &shown[0]));
}

/// By hand: at grip 120 the far nest asks for 450 x 60 / 120 = 225 N, at grip 90 the middle one for
/// 500 x 40 / 90 = 222 N. A hand of 210 N can do some of the jobs at each grip and at none all of them.
#[test]
fn a_grip_for_some_jobs_is_none_for_the_tool() {
    let bench = Bench::with(NESTS);
    let said = |limit: &str| {
        let ended = bench.run(&["stroke", "tool.toml", "--limit", limit]);
        let line = ended
            .out
            .lines()
            .find(|line| line.starts_with("Can a hand"));
        line.map(str::to_owned).unwrap()
    };
    let none = said("210");
    assert!(
        none.starts_with("Can a hand do it? NO, at no grip every job: it stalls"),
        "{none}"
    );
    bench
        .run(&["stroke", "tool.toml", "--limit", "210"])
        .code(1);
    let some = said("230");
    assert!(
        some.starts_with("Can a hand do it? Yes, once: near, grip 120"),
        "{some}"
    );
}
