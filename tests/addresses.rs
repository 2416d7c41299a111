//! Every number that a file states has an address, by which it is set, varied, toleranced and tuned.

use jawforce::analysis::{Analysis, Outcome};
use jawforce::input::{apply_overrides, apply_values, read_tool};
use jawforce::model::dimension::{self, all_addresses};
use jawforce::model::{Direction, Measure, Tool};
use jawforce::tolerance::{Clearance, Hold, Sampling, Spread, Study};
use jawforce::units::UnitSystem;
use std::path::Path;
use std::process::Command;

const EVERYTHING: &str = include_str!("files/everything.toml");

pub fn read(text: &str) -> Tool {
    match read_tool(text, &crate::models::beside) {
        Ok(read) => read.tool,
        Err(problems) => panic!("{problems:?}"),
    }
}

/// The demo press with a slot and a spring, the spring by its free length: one with a preload is the
/// nominal tool's in made tools, and its own in a changed one.
fn plunger() -> String {
    let text = include_str!("../demo-data/pin-plunger.toml");
    let text = text.replace("preload = 25 ", "free = 15 ");
    let text = text.replace("clearance = 0.03", "clearance = 0");
    // A push beside the guide's line, so that it bears on its edges.
    let text = text.replace("nose = [50, 0]", "nose = [50, 10]");
    let text = text.replace("anvil = [110, 0]", "anvil = [110, 10]");
    let end = text.find("[tolerances]").expect("a table");
    text[..end].to_owned()
}

fn files() -> Vec<Tool> {
    let demo = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("demo-data")
            .join(name);
        read(&std::fs::read_to_string(path).expect("a demo"))
    };
    let mut all = vec![read(EVERYTHING), read(&plunger())];
    all.extend(
        [
            "eyelet-toggle.toml",
            "excluder-cutter.toml",
            "wire-crimp-pliers.toml",
            "sleeve-crimper.toml",
        ]
        .map(demo),
    );
    let text = EVERYTHING.replace("acts = \"both\"", "acts = \"push\"");
    let text = text.replace(
        "limit     = [[40, \"180 N\"], [60, 240], [90, 200]]",
        "limit = 200",
    );
    let text = text.replace("push      = \"across\"", "push = 170");
    all.push(read(&text.replace(
        "width     = [[0, 22], [60, 18], [180, 14]]",
        "width = 20",
    )));
    all.push(read(&crate::bench::tool("up = 80\n")));
    all
}

/// What all of them have, by the words of the tool file.
const WANTED: &[&str] = &[
    "joints.diameter",
    "joints.friction",
    "joints.clearance",
    "joints.knee.diameter",
    "joints.wrist.friction",
    "joints.wrist:ram.clearance",
    "slots.1.angle",
    "slots.1.turn",
    "slots.1.friction",
    "slots.1.width",
    "slots.2.through.x",
    "slots.2.through.y",
    "slots.3.centre.x",
    "slots.3.radius",
    "slots.3.roller.diameter",
    "slots.3.roller.pin",
    "slots.3.roller.width",
    "cams.1.face.radius",
    "cams.kicker.face.centre.x",
    "cams.kicker.roller.pin",
    "cams.2.flat",
    "cams.2.friction",
    "springs.1.rate",
    "springs.1.free",
    "springs.2.preload",
    "springs.3.free",
    "springs.4.preload",
    "springs.return.rate",
    "hand.force",
    "hand.thickness",
    "hand.push",
    "hand.limit",
    "hand.line.2.x",
    "hand.against.line.3.y",
    "hand.grips.2",
    "jaw.nose.axis",
    "jaw.nose.closed",
    "jaw.side.closed",
    "stroke.open.gap",
    "stroke.shut.span",
    "sections.strut.width",
    "sections.strut.thickness",
    "sections.strut.edge",
    "sections.lever.width",
    "sections.lever.width.2",
    "materials.plate.yield",
    "materials.plate.ultimate",
    "materials.plate.modulus",
    "materials.plate.density",
    "outlines.frame.start.x",
    "outlines.frame.path.1.to.y",
    "outlines.frame.path.2.arc",
    "outlines.frame.path.4.round",
    "outlines.frame.path.6.through.x",
    "outlines.frame.path.7.smooth.2.y",
    "outlines.frame.holes.1.at.x",
    "outlines.frame.holes.1.diameter",
    "outlines.frame.holes.2.slot.2.x",
    "outlines.frame.holes.2.width",
    "outlines.frame.holes.3.diameter",
    "outlines.lever.round.heel",
    "outlines.lever.throat",
    "room.finger",
    "room.apart",
    "stock.margin",
    "bench.at.x",
    "bench.up",
    "materials.plate.price",
    "outlines.lever.holes.1.clearance",
    "outlines.plunger.mirror.about.2.y",
    "work.scale",
    "work.rigid",
    "strut.length",
    "lever.knee.x",
];

#[test]
fn everything_stated_is_an_address_once() {
    let mut seen = std::collections::BTreeSet::new();
    for tool in files() {
        let mut own: Vec<String> = all_addresses(&tool).into_iter().map(|(a, _)| a).collect();
        seen.extend(own.iter().cloned());
        own.sort();
        let count = own.len();
        own.dedup();
        assert_eq!(own.len(), count, "{}", tool.name);
    }
    let missing: Vec<&&str> = WANTED.iter().filter(|a| !seen.contains(**a)).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

/// A tool that is the same but for the note of which joints state numbers of their own, which nothing
/// reads but the next change.
fn bare(tool: &Tool) -> Tool {
    let mut tool = tool.clone();
    for data in &mut tool.joint_data {
        data.own = [false; 3];
    }
    tool
}

#[test]
fn a_number_set_to_its_own_value_changes_nothing() {
    let mut count = 0;
    for tool in files() {
        for (address, slot) in all_addresses(&tool) {
            // On a pin whose joints differ, one number for all is a change.
            let Some(value) = slot.get(&tool) else {
                panic!("{address} has no value")
            };
            if address.starts_with("joints.wrist.") || tool.tie(slot).is_some() {
                continue;
            }
            let mut same = tool.clone();
            apply_values(&mut same, &[(address.clone(), value)]).expect(&address);
            assert_eq!(bare(&same), bare(&tool), "{address}");
            // And as it is typed, in either units: to the rounding of a factor and its inverse.
            for units in [UnitSystem::MmN, UnitSystem::InLbf] {
                let text = format!(
                    "{} {}",
                    units.shown(value, slot.quantity()),
                    units.unit(slot.quantity())
                );
                let mut same = tool.clone();
                apply_overrides(&mut same, &[(address.clone(), text)]).expect(&address);
                let again = slot.get(&same).expect("a value");
                assert!(
                    (again - value).abs() <= 1e-14 * value.abs(),
                    "{address} {again} {value}"
                );
            }
            count += 1;
        }
    }
    assert!(count > 200, "{count}");
}

#[test]
fn a_number_that_is_set_is_read_back_and_moves_no_other() {
    for tool in files() {
        for (address, slot) in all_addresses(&tool) {
            let value = slot.get(&tool).expect("a value");
            let other = if slot.quantity().is_none() {
                0.5 * value + 0.3
            } else {
                1.25 * value + 0.125
            };
            let mut changed = tool.clone();
            assert!(dimension::set(&mut changed, &address, other), "{address}");
            let again = slot.get(&changed);
            let near = again.is_some_and(|v| (v - other).abs() <= 1e-12 * other.abs());
            assert!(near, "{address} {again:?} {other}");
            let (was, is) = (all_addresses(&tool), all_addresses(&changed));
            let moved = was
                .iter()
                .filter(|(a, s)| is.iter().any(|(b, _)| a == b) && s.get(&tool) != s.get(&changed));
            // A spring by name and number, and joints of one pin, are the same numbers.
            let words: Vec<&str> = address.split('.').collect();
            for (other, slot) in moved {
                // A setting moves what its adjuster is there to move.
                let adjusters = words.first() == Some(&"adjusters");
                let adjusted = tool.adjusters.iter().any(|a| a.moved().contains(slot));
                if adjusters && adjusted {
                    continue;
                }
                let same_table = other.split('.').next() == Some(words[0]);
                let same_word = other.split('.').next_back() == words.last().copied();
                assert!(same_table && same_word, "{address} moves {other}");
            }
        }
    }
}

/// What holds for all joints leaves alone what one states itself.
#[test]
fn joints_of_their_own_do_not_follow() {
    let tool = read(EVERYTHING);
    let set = |pairs: &[(&str, f64)]| {
        let mut tool = tool.clone();
        let pairs: Vec<(String, f64)> = pairs.iter().map(|(a, v)| ((*a).to_owned(), *v)).collect();
        apply_values(&mut tool, &pairs).expect("good values");
        tool
    };
    let diameters = |tool: &Tool| {
        let at = |label: &str| {
            dimension::get(tool, &format!("joints.{label}.diameter")).expect("a diameter")
        };
        [at("knee"), at("heel")]
    };
    assert_eq!(diameters(&set(&[("joints.diameter", 8.0)])), [5.0, 8.0]);
    for pairs in [
        [("joints.diameter", 8.0), ("joints.heel.diameter", 7.0)],
        [("joints.heel.diameter", 7.0), ("joints.diameter", 8.0)],
    ] {
        assert_eq!(diameters(&set(&pairs)), [5.0, 7.0], "in either order");
    }
}

fn outcomes(tool: &Tool) -> Vec<Outcome> {
    Analysis::of(tool.clone())
        .demands(Direction::Closing)
        .map_err(|_| ())
        .expect("demands")
}

pub fn study(text: &str) -> Study {
    let sampling = Sampling {
        samples: 200,
        fewer: false,
        seed: 1,
        spread: Spread::Uniform,
        threads: Some(1),
    };
    Analysis::of(read(text))
        .tolerance(&sampling)
        .map_err(|_| ())
        .expect("a study")
}

/// Each number alone at both ends of its tolerance: what a sample reads on storage that is used again is
/// what the tool says that is set to that value and solved from the beginning.
#[test]
fn a_sample_is_the_tool_with_that_number() {
    let numbers = [
        ("joints.friction", "0.04"),
        ("joints.knee.friction", "0.05"),
        ("joints.diameter", "\"1 mm\""),
        ("slots.1.friction", "0.05"),
        ("slots.1.width", "4"),
        ("slots.1.angle", "1.5"),
        ("slots.1.turn", "0.1"),
        ("springs.1.rate", "0.5"),
        ("springs.1.free", "3"),
        ("hand.force", "15"),
        ("hand.thickness", "2"),
        ("hand.push", "6"),
        ("hand.line.2.x", "2"),
        ("hand.against.line.2.x", "2"),
        ("jaw.nose.axis", "3"),
        ("jaw.nose.closed", "0.2"),
        ("work.scale", "0.2"),
    ];
    alone(&plunger(), &numbers, 6);
}

/// The same of a further jaw, whose samples are those of the tool with that jaw in view.
#[test]
fn a_sample_is_the_tool_with_that_number_at_every_jaw() {
    let far = "[[jaw]]\nname = \"far\"\non = \"plunger.nose\"\nagainst = \"frame.anvil\"\naxis = 180\nclosed = 8\n\n[stroke]";
    let text = plunger().replace("[stroke]", far);
    let work = "[[work]]\njaw = \"far\"\nneed = [[10, 0], [2, 300]]\n[[work]]";
    let text = text.replace("[work]", work);
    let demand = "[[demand]]\nmeasure = \"hand_force\"\njaw = \"far\"\nat = { gap = 4 }\ngrip = 65\nmax = 900\n";
    let text = text + demand;
    let tool = read(&text);
    let numbers = [
        ("jaw.far.closed", "0.2"),
        ("jaw.nose.closed", "0.2"),
        ("jaw.far.axis", "3"),
        ("work.far.scale", "0.2"),
        ("work.nose.scale", "0.2"),
        ("work.scale", "0.2"),
    ];
    for (address, _) in numbers {
        assert!(dimension::get(&tool, address).is_some(), "{address}");
    }
    alone(&text, &numbers, 1);
    let scale = |tool: &Tool, address: &str| dimension::get(tool, address).expect("a value");
    let mut changed = tool.clone();
    assert!(dimension::set(&mut changed, "work.scale", 3.0));
    assert_eq!(
        (
            scale(&changed, "work.nose.scale"),
            scale(&changed, "work.far.scale")
        ),
        (3.0, 1.0)
    );
    // The address means the same number in the tool that faces the other jaw.
    let faced = changed.facing(tool.jaw_named("far").expect("a jaw"));
    assert_eq!(
        (scale(&faced, "work.scale"), scale(&faced, "work.far.scale")),
        (3.0, 1.0)
    );
}

fn alone(text: &str, numbers: &[(&str, &str)], least: usize) {
    let tool = read(text);
    let nominal = outcomes(&tool);
    for &(address, tolerance) in numbers {
        let study = study(&format!(
            "{text}[tolerances]\n\"{address}\" = {tolerance}\n"
        ));
        let [varied] = study.plan.varied.as_slice() else {
            panic!("{address}")
        };
        let ends = [-1.0, 1.0].map(|sign| {
            let mut tool = tool.clone();
            assert!(dimension::set(
                &mut tool,
                address,
                varied.nominal + sign * varied.tolerance
            ));
            outcomes(&tool)
        });
        let (mut compared, mut moved) = (0, 0.0_f64);
        for finding in &study.findings {
            let subject = &finding.subject;
            let same = |o: &Outcome| {
                let demand = &tool.demands[o.demand];
                demand.measure == subject.measure
                    && demand.jaw == subject.jaw
                    && demand.at == subject.at
                    && o.grip == subject.grip
            };
            if finding.hold == Hold::NominalHandle || subject.bound.is_none() {
                continue;
            }
            let value = |all: &[Outcome]| all.iter().find(|o| same(o)).and_then(Outcome::value);
            let Some(at) = value(&nominal) else { continue };
            let falls = finding.shares[0].derivative < 0.0;
            let ends = [
                ends[usize::from(falls)].as_slice(),
                ends[usize::from(!falls)].as_slice(),
            ];
            for (corner, end) in finding.corners.iter().zip(ends) {
                let (corner, end) = (corner.expect("a value"), value(end).expect("a value"));
                // Integrals over the stroke and peaks are read to this by samples.
                let to = if subject.measure == Measure::HandWork {
                    1e-5
                } else {
                    1e-6
                };
                assert!(
                    (corner - end).abs() <= to * end.abs(),
                    "{address}: {subject:?} {corner} {end}"
                );
                moved = moved.max((end - at).abs() / at.abs());
                compared += 1;
            }
        }
        assert!(compared >= least, "{address}: {compared}");
        assert!(moved > 1e-4, "{address} moves nothing: {moved}");
    }
}

/// Clearance of a made tool is its own: at the end of its tolerance the play is that of a file with this
/// clearance.
#[test]
fn a_sample_has_the_play_of_its_own_clearance() {
    let text = plunger().replace("clearance = 0", "clearance = 0.05");
    let study_of = |tolerances: &str| study(&format!("{text}[tolerances]\n{tolerances}\n"));
    let varied = study_of("joints.clearance = 0.02");
    let all = [0.03, 0.07].map(|clearance| {
        let other = text.replace("clearance = 0.05", &format!("clearance = {clearance}"));
        study(&format!("{other}[tolerances]\n\"hand.force\" = 1\n"))
    });
    let mut compared = 0;
    for (k, finding) in varied.findings.iter().enumerate() {
        let falls = finding.shares[0].derivative < 0.0;
        // What is drawn at random is no shift.
        let random = |c: &Clearance| matches!(c, Clearance::Random(_));
        if finding.clearances.iter().any(random) {
            continue;
        }
        for (sign, corner) in [falls, !falls].into_iter().zip(finding.corners) {
            let other = &all[usize::from(sign)].findings[k];
            assert_eq!(other.subject, finding.subject);
            let (Ok(corner), Ok(loaded)) = (corner, other.loaded) else {
                continue;
            };
            // The way that load pushes the pins is that of each study's own nominal tool.
            assert!(
                (corner - loaded).abs() <= 1e-5 * loaded.abs().max(0.1),
                "{:?} {corner} {loaded}",
                finding.subject
            );
            compared += 1;
        }
    }
    assert!(compared >= 10, "{compared}");
}

/// ISO 2768 is for lengths of parts, whatever else has an address.
#[test]
fn a_class_holds_for_lengths_of_parts_only() {
    let study = study(&format!(
        "{}[tolerances]\nclass = \"ISO 2768-m\"\n",
        plunger()
    ));
    assert!(study.plan.varied.len() > 8);
    for varied in &study.plan.varied {
        let part = varied.address.split('.').next();
        assert!(
            ["frame", "lever", "link", "plunger"].contains(&part.unwrap_or("")),
            "{}",
            varied.address
        );
    }
}

pub fn run(args: &[&str]) -> (i32, String, String) {
    let done = Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(args)
        .output()
        .expect("a run");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (
        done.status.code().unwrap_or(-1),
        text(done.stdout),
        text(done.stderr),
    )
}

const DEMO: &str = "demo-data/eyelet-toggle.toml";

#[test]
fn two_ranges_of_different_kinds_make_a_grid() {
    let args = [
        "compare",
        DEMO,
        "--vary",
        "joints.friction=0:0.2:0.1",
        "--vary",
        "hand.thickness=\"0.4 in\":\"0.5 in\":\"0.1 in\"",
        "--measure",
        "jaw_force@shut",
        "--json",
    ];
    let args: Vec<String> = args.iter().map(|a| a.replace('"', "")).collect();
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    let (_, out, err) = run(&args);
    let json: serde_json::Value = serde_json::from_str(&out).expect(&err);
    assert_eq!(json["set_units"], serde_json::json!(["", "mm"]));
    let sets: Vec<(f64, f64)> = json["rows"]
        .as_array()
        .expect("rows")
        .iter()
        .map(|row| {
            (
                row["set"][0][1].as_f64().expect("mu"),
                row["set"][1][1].as_f64().expect("mm"),
            )
        })
        .collect();
    let mut all = sets.clone();
    all.dedup();
    assert_eq!(all.len(), 6, "{sets:?}");
    assert_eq!((all[0], all[5]), ((0.0, 10.16), (0.2, 12.7)));
    let (_, table, _) = run(&["compare", DEMO, "--vary", "joints.friction=0:0.2:0.1"]);
    assert!(table.contains("joints.friction"), "{table}");
    // A column without a unit has none in CSV either.
    let folder = tempfile::tempdir().expect("a folder");
    let csv = folder.path().join("a.csv");
    let name = csv.to_str().expect("a name");
    run(&[
        "compare",
        DEMO,
        "--vary",
        "joints.friction=0:0.2:0.1",
        "--csv",
        name,
        "--quiet",
    ]);
    let text = std::fs::read_to_string(&csv).expect("written");
    assert!(
        text.starts_with("file,tool,joints.friction,grip_mm"),
        "{text}"
    );
}

#[test]
fn what_cannot_be_set_says_what_could() {
    for (set, said) in [
        ("joints.friction=0.1 mm", "a plain number is wanted"),
        ("joints.friction=2.5", "from 0 to below 2"),
        ("joints.friction=-0.1", "from 0 to below 2"),
        ("strut.length=0.2 deg", "a length is wanted"),
        ("joints.fricton=0.1", "did you mean `joints.friction`"),
        ("spring.1.rate=1", "no dimension is called"),
        ("jaw.nose.closd=0", "did you mean `jaw.nose.closed`"),
        ("work.scale=0", "above 0"),
        ("joints.clearance=7", "as large as the pin"),
        ("stroke.open.gap=-1", "wider than at `open`"),
    ] {
        let (code, _, err) = run(&["stroke", DEMO, "--quiet", "--set", set]);
        assert_eq!(code, 2, "{set}: {err}");
        assert!(err.contains(said), "{set}: {err}");
        let address = set.split('=').next().unwrap_or("");
        assert!(err.contains(address), "{set}: {err}");
    }
}

/// Tuning what is no length: found, rounded to what is worth writing, and written where it stands.
#[test]
fn other_numbers_are_tuned_and_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let old = folder.path().join("old.toml");
    let new = folder.path().join("new.toml");
    let text = plunger()
        + "[tolerances]\nclass = \"ISO 2768-f\"\n[[tune]]\ndimension = \"springs.1.rate\"\nfrom = 0.5\nto = 3\n\
                [[tune]]\ndimension = \"jaw.nose.axis\"\nfrom = 175\nto = 185\n\
                [aim]\nmeasure = \"jaw_force\"\nat = { gap = 0.4 }\ngrip = 65\nwant = \"most\"\n";
    let start = text.find("[[demand]]").expect("demands");
    let end = text.find("[tolerances]").expect("tolerances");
    let text = text[..start].to_owned() + &text[end..];
    std::fs::write(&old, &text).expect("written");
    std::fs::copy(
        "demo-data/pin-plunger-work.csv",
        folder.path().join("pin-plunger-work.csv"),
    )
    .expect("copied");
    let names = [&old, &new].map(|p| p.to_str().expect("a name").to_owned());
    let (code, out, err) = run(&["tune", &names[0], "-o", &names[1]]);
    assert_eq!(code, 0, "{out} {err}");
    assert!(out.contains("N/mm") && out.contains("deg"), "{out}");
    let written = std::fs::read_to_string(&new).expect("written");
    // The weakest spring holds back least.
    assert!(written.contains("rate    = 0.5"), "{written}");
    let changed: Vec<_> = text
        .lines()
        .zip(written.lines())
        .filter(|(a, b)| a != b)
        .collect();
    assert!((1..=2).contains(&changed.len()), "{changed:?}");
}
