//! A spring stated by its preload, in tools that are made and in tools that are changed.
//!
//! By hand, on the lever of `tests/files/stepped-press.toml` with a nose at (30, y) and a spring of rate k
//! about its pin. At a gap g, a small y turns the lever by -y/30. Work of one size everywhere then asks for
//! the same moment as before: the lever arm 30 cos φ - y sin φ changes by y sin φ - y sin φ. What is left is
//! the spring. If it keeps its free angle, its moment grows by k y/30, and the hand force, on an arm of
//! 120 mm, by k y/3600. If it has the preload at the changed tool's own open end, a gap too, that end has
//! turned by as much, and nothing changes.

use jawforce::analysis::Analysis;
use jawforce::input::read_tool;
use jawforce::model::At;
use jawforce::tolerance::{Sampling, Spread};

fn press() -> String {
    let text = include_str!("files/stepped-press.toml");
    let mut text = text.to_owned();
    for (old, new) in [
        ("open  = { handle = 200 }", "open  = { gap = 9 }"),
        ("shut  = { handle = 182 }", "shut  = { gap = 1 }"),
        (
            "[[8, 300], [5, 200], [5, 900], [2, 900], [2, 400], [0, 500]]",
            "[[20, 100], [0, 100]]",
        ),
        (
            "[tolerances]",
            "[[springs]]\npin = \"heel\"\nrate = \"1800 N mm/rad\"\npreload = 900\n[tolerances]",
        ),
    ] {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    text
}

#[test]
fn made_tools_get_the_spring_of_the_tool_as_drawn() {
    let read = read_tool(&press(), &|_| Err(String::new()));
    let sampling = Sampling {
        samples: 20,
        fewer: false,
        seed: 1,
        spread: Spread::Uniform,
        threads: Some(1),
    };
    let study = Analysis::of(read.expect("a good file").tool)
        .tolerance(&sampling)
        .expect("a study");
    let at = Some(At::Gap(5.0));
    let mut findings = study.findings.iter();
    let found = findings
        .find(|f| f.subject.at == at && f.subject.measure.kind().word == "hand_force")
        .expect("the hand force");
    let open = (9.0_f64 / 30.0).asin();
    let there = (5.0_f64 / 30.0).asin();
    let moment = 3000.0 * there.cos() + 900.0 + 1800.0 * (open - there);
    approx::assert_relative_eq!(found.nominal, moment / 120.0, max_relative = 1e-9);
    let mut varied = study.plan.varied.iter();
    let nose = varied.position(|v| v.address == "lever.nose.y");
    let share = found.shares[nose.expect("it varies")].share;
    approx::assert_relative_eq!(share, 0.1 * 1800.0 / 3600.0, max_relative = 1e-6);
}

#[test]
fn the_study_says_that_a_changed_tool_has_its_preload_anew() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("press.toml");
    let run = |args: &[&str]| {
        let done = std::process::Command::new(env!("CARGO_BIN_EXE_jawforce"))
            .current_dir(folder.path())
            .args(args)
            .output()
            .unwrap();
        String::from_utf8(done.stdout).unwrap()
    };
    let note = "it keeps the free length";
    let preloaded = press();
    std::fs::write(&file, &preloaded).unwrap();
    let force = |set: &str| {
        let call = [
            "measure",
            "press.toml",
            "hand_force",
            "--at",
            "gap=5",
            "--set",
            set,
        ];
        run(&call).trim().parse::<f64>().unwrap()
    };
    let (less, more) = (force("lever.nose.y=-0.1"), force("lever.nose.y=0.1"));
    assert!((more - less).abs() < 1e-4, "{less} {more}, not 0.1 apart");
    let text = run(&["tolerance", "press.toml", "--samples", "20", "--json"]);
    assert!(text.contains(note), "{text}");
    // Nothing to say of a spring that is stated by its free angle.
    let free = (9.0_f64 / 30.0).asin() + 0.5;
    std::fs::write(
        &file,
        preloaded.replace("preload = 900", &format!("free = \"{free} rad\"")),
    )
    .unwrap();
    let (less, more) = (force("lever.nose.y=-0.1"), force("lever.nose.y=0.1"));
    approx::assert_relative_eq!(more - less, 0.1, max_relative = 1e-3);
    let text = run(&["tolerance", "press.toml", "--samples", "20", "--json"]);
    assert!(!text.contains(note), "{text}");
}
