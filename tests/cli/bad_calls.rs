//! Calls that are wrong end in a message, status 2, and no output.

use super::{Bench, SETTER};

#[test]
fn each_argument_is_checked() {
    let bench = Bench::with(SETTER);
    for (args, says) in [
        (vec![], "Usage: jawforce <COMMAND>"),
        (
            vec!["strok", "tool.toml"],
            "a similar subcommand exists: 'stroke'",
        ),
        (vec!["stroke"], "<FILE>"),
        (
            vec!["stroke", "tool.toml", "other.toml"],
            "unexpected argument 'other.toml'",
        ),
        (
            vec!["stroke", "tool.toml", "--steps", "0"],
            "0 is not in 2..=100000",
        ),
        (
            vec!["stroke", "tool.toml", "--steps", "-5"],
            "invalid value '-5'",
        ),
        (
            vec!["stroke", "tool.toml", "--steps", "1"],
            "1 is not in 2..=100000",
        ),
        (
            vec!["stroke", "tool.toml", "--steps", "1000000000"],
            "1000000000 is not in 2..=100000",
        ),
        (vec!["stroke", "tool.toml", "--steps", "x"], "'x'"),
        (
            vec!["stroke", "tool.toml", "--set", "strut"],
            "write dimension=value",
        ),
        (
            vec!["stroke", "tool.toml", "--set", "strut.lenght=24"],
            "did you mean `strut.length`?",
        ),
        (
            vec!["stroke", "tool.toml", "--set", "strut.length=-3"],
            "greater than zero",
        ),
        (
            vec!["stroke", "tool.toml", "--set", "strut.length=nan"],
            "--set strut.length",
        ),
        (
            vec!["stroke", "tool.toml", "--set", "strut.length=1e300"],
            "too large",
        ),
        (
            vec!["stroke", "tool.toml", "--set", "strut.length=3 N"],
            "a force, not a length",
        ),
        (
            vec!["stroke", "tool.toml", "--set", "strut.length="],
            "--set strut.length",
        ),
        (
            vec![
                "stroke",
                "tool.toml",
                "--set",
                "strut.length=24",
                "--set",
                "strut.length=25",
            ],
            "set twice",
        ),
        (
            vec!["stroke", "tool.toml", "--grip", "60,500"],
            "the grip at 500 mm is off the end of the hand line, which is 113.111 mm long",
        ),
        (
            vec!["stroke", "tool.toml", "--grip", "-3"],
            "cannot be negative",
        ),
        (
            vec!["stroke", "tool.toml", "--grip", "60,"],
            "commas between",
        ),
        (vec!["stroke", "tool.toml", "--grip", ""], "commas between"),
        (
            vec!["stroke", "tool.toml", "--grip", "60,60"],
            "there twice",
        ),
        (
            vec!["stroke", "tool.toml", "--grip", "60 N"],
            "a force, not a length",
        ),
        (vec!["stroke", "tool.toml", "--grip", "nan"], "--grip nan"),
        (
            vec!["stroke", "tool.toml", "--hand-force", "0"],
            "above zero",
        ),
        (
            vec!["stroke", "tool.toml", "--hand-force", "-5"],
            "above zero",
        ),
        (
            vec!["stroke", "tool.toml", "--hand-force", "inf"],
            "--hand-force inf",
        ),
        (
            vec!["stroke", "tool.toml", "--hand-force", "3 mm"],
            "a length, not a force",
        ),
        (
            vec!["stroke", "tool.toml", "--units", "inch"],
            "say mm-N or in-lbf",
        ),
        (
            vec!["stroke", "tool.toml", "--json", "--csv", "-"],
            "both write to standard output",
        ),
        (
            vec!["stroke", "tool.toml", "--svg", "-", "--csv", "-"],
            "both write to standard output",
        ),
        (
            vec!["stroke", "tool.toml", "--svg", "a", "--csv", "./a"],
            "name the same file",
        ),
        (vec!["new", "scissors"], "scissors"),
    ] {
        bench.run(&args).code(2).says(says).leaves_nothing();
    }
}

#[test]
fn an_inch_tool_speaks_inches() {
    let text = SETTER.replace("mm-N", "in-lbf");
    Bench::with(&text)
        .run(&["stroke", "tool.toml", "--grip", "500"])
        .code(2)
        .says("the grip at 500 in is off the end of the hand line, which is 113.111 in long");
}
