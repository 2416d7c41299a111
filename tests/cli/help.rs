//! Every command says what it does.

use super::{Bench, SETTER};

#[test]
fn help_is_there_for_every_command() {
    let bench = Bench::empty();
    for (args, phrases) in [
        (
            vec!["--help"],
            vec![
                "Usage: jawforce <COMMAND>",
                "Exit codes:",
                "jawforce new toggle",
                "load cell",
            ],
        ),
        (vec!["-h"], vec!["Usage: jawforce <COMMAND>", "stroke"]),
        (
            vec!["new", "--help"],
            vec!["pliers", "toggle", "plunger", "compound", "--force"],
        ),
        (
            vec!["check", "--help"],
            vec!["<FILE>...", "--json", "Example:"],
        ),
        (
            vec!["stroke", "--help"],
            vec![
                "--set",
                "--grip",
                "--hand-force",
                "--units",
                "--steps",
                "--opening",
                "--all",
                "--svg",
                "--csv",
                "--json",
                "--quiet",
                "Examples:",
            ],
        ),
        (vec!["help", "stroke"], vec!["--svg"]),
        (vec!["--version"], vec![env!("CARGO_PKG_VERSION")]),
    ] {
        let ended = bench.run(&args).code(0).leaves_no_file();
        assert_eq!(ended.err, "", "{args:?}");
        for phrase in phrases {
            assert!(
                ended.out.contains(phrase),
                "{args:?}: no {phrase}:\n{}",
                ended.out
            );
        }
        for line in ended.out.lines() {
            assert!(line.chars().count() <= 100, "{args:?}: {line}");
        }
    }
}

#[test]
fn messages_have_no_colours_unless_at_a_terminal() {
    let bench = Bench::with(&SETTER.replace("length = 24", "lenght = 24"));
    let plain = bench.run(&["stroke", "tool.toml"]).code(2);
    assert!(!plain.err.contains('\u{1b}'), "{}", plain.err);
    let output = bench
        .command(&["stroke", "tool.toml"])
        .env("NO_COLOR", "1")
        .output()
        .expect("the program runs");
    assert_eq!(String::from_utf8_lossy(&output.stderr), plain.err);
}
