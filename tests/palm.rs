//! The palm, the bench, and what a part bears whose forces add up, or do not.

use jawforce::analysis::Direction;
use jawforce::analysis::{CaseLoads, loads_at};
use jawforce::geometry::Vec2;
use jawforce::input::{read_tool, render_all};
use jawforce::model::{At, GripId, JawId, PartId, Tool};
use jawforce::statics::{ForceKind, Mounted, PointForce, Rig};
use jawforce::strength::{Case, LoadCase, Place, Strength, check};
use serde_json::Value;
use std::process::Command;

use crate::cli::Bench;

fn demo(name: &str) -> String {
    let path = format!("{}/demo-data/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

fn tool(text: &str) -> Tool {
    let beside = |name: &str| {
        std::fs::read_to_string(format!("{}/demo-data/{name}", env!("CARGO_MANIFEST_DIR")))
            .map_err(|e| e.to_string())
    };
    match read_tool(text, &beside) {
        Ok(read) => read.tool,
        Err(found) => panic!("{}", render_all(&found, "tool.toml", text, false)),
    }
}

fn loads(tool: &Tool, at: At, grip: GripId, hand: f64, direction: Direction) -> CaseLoads {
    let mounted = Mounted::new(tool).unwrap();
    let mut rig = Rig::new(tool, &mounted, direction).unwrap();
    loads_at(&mut rig, at, grip, hand).unwrap()
}

fn strength(tool: &Tool, loads: &CaseLoads, grip: GripId) -> Strength {
    let case = Case {
        position: 0,
        jaw: JawId::FIRST,
        grip,
        hand_force: loads.hand_force,
        load: LoadCase::HandForce,
        sheet: &loads.sheet,
    };
    check(tool, [case])
}

fn part(tool: &Tool, name: &str) -> PartId {
    tool.part_index(name).unwrap()
}

fn on(tool: &Tool, loads: &CaseLoads, name: &str, what: ForceKind) -> PointForce {
    let mut forces = loads.sheet.on(part(tool, name)).iter();
    *forces.find(|f| f.what == what).unwrap()
}

fn near(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= 1e-9 * expected.abs().max(1.0),
        "{found} is not {expected}"
    );
}

/// The plunger demo with that section of its frame in place of its own.
fn with_frame(text: &str) -> String {
    let own = "[sections.frame]                               # a side plate on each side of link, lever and plunger
thickness = 4
layers    = [1, 5]
material  = \"plate\"
";
    assert!(text.contains(own));
    text.replace(own, FRAME)
}

/// The frame's handle, 6 mm thick: 40 deep at its root, 20 from 6.4 mm on.
const FRAME: &str = "
[sections.frame]
width = [[0, 40], [6.4, 20], [99, 20]]
thickness = 6
material = \"plate\"
";

/// Straight handles, so that all can be done by hand. The palm presses 170 N to the right, at the
/// height of the fingers, about 90.8 below the heel; nothing else acts on the grip below its root at
/// (-46, -16). From there the line goes down along (5, -39) / 39.32. The cut 6.4 along it is at
/// y = -16 - 6.4 x 39 / 39.32 = -22.35, so that
///
/// M = 170 x (90.82 - 22.35) = 11640 N mm, N = 170 x 5 / 39.32 = 21.6 N,
/// sigma = N / (20 x 6) + M / (6 x 20^2 / 6) = 0.18 + 29.1 = 29.3 MPa.
///
/// Taken at the nearest place of the line, 2.7 along it, the jaw's 2010 N would bend the grip too.
#[test]
fn the_grip_in_the_palm_bears_the_palm_alone() {
    let text = with_frame(&demo("pin-plunger").replace("smooth  = true", "smooth = false"));
    let tool = tool(&text);
    let loads = loads(&tool, At::Shut, GripId::new(2), 170.0, Direction::Closing);
    let fingers = on(&tool, &loads, "lever", ForceKind::Hand);
    near(fingers.force[0], -170.0);
    let palm = on(&tool, &loads, "frame", ForceKind::Palm);
    near(palm.force[0], 170.0);
    near(palm.at[1], fingers.at[1]);
    assert_eq!(palm.moment, 0.0);
    // On the second piece of the frame's line, from (-41, -55) to (-43, -115).
    near(palm.at[0], -41.0 - 2.0 * (-55.0 - palm.at[1]) / 60.0);

    let slope = 5.0_f64.hypot(39.0);
    let moment = 170.0 * (-palm.at[1] - 16.0 - 6.4 * 39.0 / slope);
    let by_hand = 170.0 * 5.0 / slope / (20.0 * 6.0) + moment / (6.0 * 20.0 * 20.0 / 6.0);
    assert!((by_hand - 29.3).abs() < 0.1);
    let strength = strength(&tool, &loads, GripId::new(2));
    let bending = |f: &&jawforce::strength::Factor| {
        f.name == "frame" && f.formula.check == "bending with axial force"
    };
    let bent = strength.factors.iter().find(bending).unwrap();
    near(bent.value, by_hand);
    assert_eq!(bent.place, Some(Place::Along(6.4)));
    let said: Vec<String> = strength.notes.iter().map(|n| n.text(&tool)).collect();
    assert!(
        said.iter()
            .any(|n| n.starts_with("part frame: what acts beside")),
        "{said:?}"
    );
}

/// The smooth line of the file itself leaves its root a little more slanting, so that the cut lies a
/// little higher and the axial force is a little greater: 29 all the same, over the whole stroke.
#[test]
fn the_file_with_a_section_of_the_frame() {
    let bench = Bench::empty();
    bench.put("tool.toml", with_frame(&demo("pin-plunger")));
    let work = format!(
        "{}/demo-data/pin-plunger-work.csv",
        env!("CARGO_MANIFEST_DIR")
    );
    bench.put(
        "pin-plunger-work.csv",
        std::fs::read_to_string(work).unwrap(),
    );
    let report = json(&bench, &[]);
    let factors = report["factors"].as_array().unwrap();
    let bending = |f: &&Value| f["subject"] == "frame" && f["check"] == "bending with axial force";
    let bent = factors.iter().find(bending).unwrap();
    let value = bent["value"].as_f64().unwrap();
    assert!((value - 29.3).abs() < 0.2, "{bent}");

    bench.put(
        "tool.toml",
        with_frame(&demo("pin-plunger").replace("push    = 180", "push = 180\npalm = false\n#")),
    );
    let report = json(&bench, &[]);
    let factors = report["factors"].as_array().unwrap();
    let of_frame: Vec<&Value> = factors.iter().filter(|f| f["subject"] == "frame").collect();
    assert!(!of_frame.is_empty());
    for factor in of_frame {
        assert_eq!(factor["check"], "bearing in the hole");
    }
    let unjudged = "not checked: frame, its forces do not add up";
    let notes = report["notes"].as_array().unwrap();
    assert!(notes.iter().any(|n| n == unjudged), "{notes:?}");
    let rigid = report["cases"][0]["give"]["rigid"].as_array().unwrap();
    let why = "frame: its forces do not add up";
    assert!(rigid.iter().any(|r| r == why), "{rigid:?}");
}

/// Forces and moments of every part, the fixed one too, leave nothing.
#[test]
fn every_sheet_of_every_demo_adds_up() {
    for name in [
        "wire-crimp-pliers",
        "eyelet-toggle",
        "eyelet-toggle-b",
        "pin-plunger",
        "excluder-cutter",
    ] {
        let tool = tool(&demo(name));
        for direction in [Direction::Closing, Direction::Opening] {
            for at in [At::Open, At::Gap(0.4), At::Shut] {
                for grip in 0..tool.hand.grips.len() {
                    adds_up(
                        &tool,
                        &loads(&tool, at, GripId::new(grip), 100.0, direction),
                        name,
                    );
                }
            }
        }
    }
}

fn adds_up(tool: &Tool, loads: &CaseLoads, name: &str) {
    let all = || loads.sheet.part_forces.iter().flatten();
    let greatest = all().fold(0.0_f64, |m, f| m.max(f.force[0].hypot(f.force[1])));
    let reach = all().fold(0.0_f64, |m, f| m.max(f.at[0].hypot(f.at[1])));
    for (k, part) in PartId::each(&tool.parts) {
        assert!(loads.sheet.on(k).len() >= 2, "{name} {}", part.name);
        let (sum, moment) = loads.sheet.sum(k, Vec2::ZERO);
        let [x, y] = sum.xy();
        let left = (x.hypot(y) / greatest).max(moment.abs() / (greatest * reach));
        assert!(left < 1e-9, "{name} {}: {x} {y} {moment}", part.name);
    }
}

/// A level lever, its heel at the origin, 160 of handle and 40 of jaw; squeezed, the handle goes up.
const LEVER: &str = r#"[tool]
units = "mm-N"
[parts.base]
fixed = true
pins = { heel = [0, 0] }
marks = { anvil = [40, -5] }
[parts.lever]
pins = { heel = [0, 0] }
marks = { tip = [40, 5] }
[hand]
part = "lever"
line = [[0, 0], [-200, 0]]
grips = [160]
[[jaw]]
name = "tip"
on = "lever.tip"
against = "base.anvil"
axis = 90
[stroke]
open = { handle = -178 }
shut = { handle = 178 }
[materials.steel]
yield = 300
modulus = "205 GPa"
[sections.base]
width = 20
thickness = 6
material = "steel"
"#;

fn json(bench: &Bench, more: &[&str]) -> Value {
    let done = Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(bench.path("."))
        .args(["loads", "tool.toml", "--json"])
        .args(more)
        .output()
        .unwrap();
    assert_eq!(
        done.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    serde_json::from_slice(&done.stdout).unwrap()
}

/// By hand: the fingers push 100 N up, 160 left of the heel. The bench holds the base with as much
/// down, and with a couple of 100 x 160 = 16000 N mm counter-clockwise about the heel.
#[test]
fn a_bench_takes_the_push_and_its_couple() {
    let bench = Bench::empty();
    bench.put(
        "tool.toml",
        LEVER.replace("[[jaw]]", "palm = false\n[[jaw]]"),
    );
    let at = ["--at", "handle=180", "--hand-force", "100"];
    let report = json(&bench, &at);
    let sheets = report["cases"][0]["sheets"].as_array().unwrap();
    let sheet = |name: &str| sheets.iter().find(|s| s["part"] == name).unwrap();
    let triple = |v: &Value| [0, 1, 2].map(|k| v[k].as_f64().unwrap());
    let [v, n, m] = triple(&sheet("base")["bench"]);
    near(v, 0.0);
    near(n, -100.0);
    near(m, 16000.0);
    let sums = triple(&sheet("base")["sums"]);
    near(sums[1], 100.0);
    near(sums[2], -16000.0);
    assert_eq!(sheet("lever")["bench"], Value::Null);
    let notes = report["notes"].as_array().unwrap();
    let unjudged = "not checked: base, its forces do not add up";
    assert!(notes.iter().any(|n| n == unjudged), "{notes:?}");

    // The drawing of the base has one arrow more, with the same numbers.
    let done = bench.run(&[
        "draw",
        "tool.toml",
        "--part",
        "base",
        "--at",
        "handle=180",
        "--json",
    ]);
    let drawn: Value = serde_json::from_slice(done.out.as_bytes()).unwrap();
    let forces = drawn["positions"][0]["forces"].as_array().unwrap();
    let arrow = forces.iter().find(|f| f["kind"] == "bench").unwrap();
    assert_eq!(arrow["what"], "from the bench");
    near(arrow["force"][1].as_f64().unwrap(), -100.0);
    near(arrow["couple"].as_f64().unwrap(), 16000.0);

    let text = Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(bench.path("."))
        .args(["loads", "tool.toml"])
        .args(at)
        .output()
        .unwrap();
    let text = String::from_utf8(text.stdout).unwrap();
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = "from the bench: V 0.00 N along x, N -100.00 N along y, M 16000.00 N mm about heel";
    assert!(words.contains("base, fixed: on a bench;"), "{text}");
    assert!(words.contains(said), "{text}");
}

/// The same lever in the hand: its base has no hand line, and the push goes past both of its points,
/// the heel being the nearer one. There it takes the opposite of the push with the same couple, and
/// adds up. The work's 400 N, up at (40, 5), bend it at the heel: 16000 N mm in 6 x 20^2 / 6 = 400 mm^3,
/// 40 MPa; along the piece from there 400 x 5 / 40.31 = 49.6 N in 120 mm^2 come to it.
#[test]
fn a_base_without_a_hand_line_takes_the_push_at_its_nearest_point() {
    let tool = tool(LEVER);
    let half_way = At::Handle(std::f64::consts::PI);
    let loads = loads(&tool, half_way, GripId::FIRST, 100.0, Direction::Closing);
    near(loads.jaw_force, 400.0);
    let palm = on(&tool, &loads, "base", ForceKind::Palm);
    near(palm.at[0].hypot(palm.at[1]), 0.0);
    near(palm.force[1], -100.0);
    near(palm.moment, 16000.0);
    adds_up(&tool, &loads, "lever");
    let strength = strength(&tool, &loads, GripId::FIRST);
    let of_base = |f: &&jawforce::strength::Factor| f.name == "base";
    let bent = strength.factors.iter().find(of_base).unwrap();
    near(bent.value, 40.0 + 400.0 * 5.0 / 40.0_f64.hypot(5.0) / 120.0);
}

/// Which half of pliers is called the fixed one changes no force: fingers and palm press on both.
#[test]
fn a_palm_may_move() {
    let text = demo("wire-crimp-pliers");
    let turned = text
        .replace("fixed = true  ", "# ")
        .replace("[parts.press-half]\n", "[parts.press-half]\nfixed = true\n");
    assert_ne!(text, turned);
    let (one, other) = (tool(&text), tool(&turned));
    assert_ne!(one.fixed, other.fixed);
    for grip in 0..3 {
        let a = loads(
            &one,
            At::Gap(1.5),
            GripId::new(grip),
            120.0,
            Direction::Closing,
        );
        let b = loads(
            &other,
            At::Gap(1.5),
            GripId::new(grip),
            120.0,
            Direction::Closing,
        );
        assert!((a.jaw_force / b.jaw_force - 1.0).abs() < 1e-9);
        adds_up(&other, &b, "turned");
        for what in [ForceKind::Palm, ForceKind::Jaw(JawId::FIRST)] {
            let on = |tool, loads| on(tool, loads, "fixed-half", what).local;
            let (a, b) = (on(&one, &a), on(&other, &b));
            assert!((a - b).length() < 1e-6, "{what:?}");
        }
    }
}

/// A named part is the default's equal; the assumption is printed, and only where it is one.
#[test]
fn what_lies_in_the_palm_is_said() {
    let bench = Bench::empty();
    let said = |text: &str| {
        bench.put("tool.toml", text);
        let done = Command::new(env!("CARGO_BIN_EXE_jawforce"))
            .current_dir(bench.path("."))
            .args(["check", "tool.toml"])
            .output()
            .unwrap();
        String::from_utf8(done.stdout).unwrap()
    };
    let palm = "`base` lies in the palm";
    assert!(said(LEVER).contains(palm));
    let named = LEVER.replace("[[jaw]]", "palm = \"base\"\n[[jaw]]");
    assert!(!said(&named).contains(palm));
    let half_way = At::Handle(std::f64::consts::PI);
    let [a, b] = [LEVER, &named].map(|text| {
        let tool = tool(text);
        loads(&tool, half_way, GripId::FIRST, 100.0, Direction::Closing).sheet
    });
    assert_eq!(a, b);
}
