//! How runs end: the exit codes of all commands that judge the demands of a file, and signals.

use super::{Bench, edited};
use crate::models::DEMOS;

/// Every command that judges demands, on `tool.toml`.
const JUDGES: [&[&str]; 6] = [
    &["check", "--demands", "tool.toml"],
    &["stroke", "tool.toml"],
    &["compare", "tool.toml"],
    &["tolerance", "tool.toml", "--samples", "50"],
    &["report", "tool.toml", "-o", "page.html"],
    &["tune", "tool.toml", "-o", "tuned.toml", "--force"],
];

/// The exit code of each.
fn codes(bench: &Bench) -> Vec<(&'static str, i32)> {
    let run = |args: &&[&'static str]| (args[0], bench.run(args).code);
    JUDGES.iter().map(run).collect()
}

fn all(code: i32) -> Vec<(&'static str, i32)> {
    JUDGES.iter().map(|args| (args[0], code)).collect()
}

/// One tool after another: all is well; a demand is missed; no hand can do the job; a table of the file is wrong; the
/// stroke is out of reach. What `tune` may change does not help in any of them.
#[test]
fn one_file_ends_every_command_alike() {
    let (_, text) = DEMOS.iter().find(|demo| demo.0 == "eyelet-toggle").unwrap();
    for (edits, code) in [
        (&[][..], 0),
        (
            &[(
                "[[demand]]",
                "[[demand]]\nmeasure = \"ratio\"\nat = \"open\"\nmin = 50\n[[demand]]",
            )],
            1,
        ),
        (&[("limit   = 200", "limit   = 20")], 1),
        (&[("friction  = 0.10", "friction  = \"much\"")], 2),
        (&[("gap = 9", "gap = 900")], 3),
    ] {
        let bench = Bench::with(&edited(text, edits));
        assert_eq!(codes(&bench), all(code), "{edits:?}");
    }
}

/// The help of every command says how it ends.
#[test]
fn every_command_says_its_exit_codes() {
    let bench = Bench::empty();
    for args in JUDGES {
        let help = bench.run(&[args[0], "--help"]).code(0).out;
        for code in ["  0  ", "  1  ", "  2  ", "  3  "] {
            assert!(
                help.contains(&format!("\n{code}")),
                "{} {code}: {help}",
                args[0]
            );
        }
    }
    for command in [
        "loads", "draw", "parts", "measure", "freeze", "people", "trial", "springs", "setup",
    ] {
        let help = bench.run(&[command, "--help"]).code(0).out;
        assert!(help.contains("Exit codes"), "{command}: {help}");
    }
}

/// Without a stroke there is no picture, and the reason is said.
#[test]
fn a_picture_of_nothing_says_why() {
    let (_, text) = DEMOS.iter().find(|demo| demo.0 == "eyelet-toggle").unwrap();
    let bench = Bench::with(&edited(text, &[("gap = 9", "gap = 900")]));
    for (more, phrase) in [
        (&[][..], "there is no stroke to draw"),
        (
            &["--vary", "strut.length=24:25:0.5"],
            "none of 3 tools or variants has a stroke to draw",
        ),
    ] {
        let call = [&["compare", "tool.toml", "--svg", "out.svg"][..], more].concat();
        let ended = bench.run(&call).code(3).leaves_nothing().says(phrase);
        assert!(ended.err.contains("out of reach"), "{}", ended.err);
    }
}

#[cfg(unix)]
mod signals {
    use super::*;
    use crate::cli::SETTER;
    use std::os::unix::process::ExitStatusExt;
    use std::process::{Command, Stdio};
    use std::time::{Duration, Instant};

    /// More than a pipe holds is printed to nobody: the run stands still with its file beside its place. The signal
    /// then ends it, as the signal that it is, and the file is gone.
    #[test]
    fn a_signal_leaves_no_file() {
        for (name, number) in [("TERM", 15), ("INT", 2)] {
            let bench = Bench::with(SETTER);
            bench.put("out.csv", "old");
            let args = [
                "stroke",
                "tool.toml",
                "--steps",
                "500",
                "--json",
                "--csv",
                "out.csv",
            ];
            let mut child = bench
                .command(&args)
                .stdout(Stdio::piped())
                .spawn()
                .expect("starts");
            let staged = || {
                bench
                    .files()
                    .keys()
                    .any(|name| name.starts_with(".jawforce-"))
            };
            let start = Instant::now();
            // Until the file is there to stay: the first one is only tried.
            let mut seen = 0;
            while seen < 5 {
                assert!(start.elapsed() < Duration::from_secs(60), "no file is made");
                seen = if staged() { seen + 1 } else { 0 };
                std::thread::sleep(Duration::from_millis(20));
            }
            let sent = Command::new("kill")
                .args(["-s", name, &child.id().to_string()])
                .status();
            assert!(sent.expect("kill runs").success());
            let ended = child.wait().expect("ends");
            assert_eq!(ended.signal(), Some(number), "{ended:?}");
            let left: Vec<String> = bench.files().into_keys().collect();
            assert_eq!(left, ["out.csv", "tool.toml"], "after {name}");
            assert_eq!(
                std::fs::read(bench.path("out.csv")).expect("it is there"),
                b"old"
            );
        }
    }
}
