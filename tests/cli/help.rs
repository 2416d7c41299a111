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
            vec![
                "pliers", "toggle", "plunger", "compound", "nests", "geared", "cam", "--force",
            ],
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

/// Every example of every `--help` does what it says: it ends well, and the files that it names are
/// there. The tool is a demo tool that has all tables; `--watch` has a test of its own.
#[cfg(unix)]
#[test]
fn examples_of_the_help_run() {
    use std::process::Command;
    let bench = Bench::empty();
    bench.put("tool.png", std::fs::read("tests/files/plate.png").unwrap());
    let demo = |name: &str| std::fs::read(format!("demo-data/{name}.toml")).unwrap();
    let binary = std::path::Path::new(env!("CARGO_BIN_EXE_jawforce"));
    let path = format!("{}:/usr/bin:/bin", binary.parent().unwrap().display());
    let help = |args: &[&str]| bench.run(args).out;
    let commands = help(&["--help"]);
    let names = commands.lines().skip_while(|l| *l != "Commands:").skip(1);
    let names: Vec<&str> = names
        .take_while(|l| l.starts_with("  "))
        .filter_map(|l| l.split_whitespace().next())
        .chain(["completions", "man"])
        .collect();
    let mut count = 0;
    for name in ["", "new"].into_iter().chain(names) {
        let text = if name.is_empty() {
            commands.clone()
        } else {
            help(&[name, "--help"])
        };
        let examples = text.lines().filter_map(|l| l.strip_prefix("  jawforce "));
        for example in examples.filter(|e| !e.contains("--watch")) {
            let words: Vec<&str> = example.split_whitespace().collect();
            let writes_tool = words.first() == Some(&"new");
            for (file, from) in [
                ("setter.toml", "eyelet-toggle"),
                ("mytool.toml", "eyelet-toggle"),
                ("crimper.toml", "ferrule-crimper"),
                ("concept-a.toml", "eyelet-toggle"),
                ("concept-b.toml", "eyelet-toggle-b"),
            ] {
                if writes_tool {
                    let _ = std::fs::remove_file(bench.path(file));
                } else {
                    bench.put(file, demo(from));
                }
            }
            let done = Command::new("sh")
                .args(["-c", &format!("jawforce {example}")])
                .current_dir(bench.path(""))
                .env("PATH", &path)
                .output()
                .unwrap();
            let said = String::from_utf8_lossy(&done.stderr);
            assert!(
                matches!(done.status.code(), Some(0 | 1)),
                "{example}: {said}"
            );
            assert!(!said.contains("error"), "{example}: {said}");
            for (option, file) in words.iter().zip(words.iter().skip(1)) {
                if ["-o", "--svg", "--csv", ">"].contains(option) && *file != "-" {
                    // A folder of sheets has the parts list in it, one of manual pages that of the program.
                    let path = bench.path(file);
                    let path = match path.is_dir() {
                        true if example.starts_with("man ") => path.join("jawforce.1"),
                        true => path.join("parts.csv"),
                        // Positions on a sheet each: the first of them.
                        false if example.starts_with("draw ") && !path.exists() => {
                            bench.path(&file.replace(".svg", "-1.svg"))
                        }
                        false => path,
                    };
                    let written = std::fs::read(path).unwrap_or_default();
                    assert!(written.len() > 100, "{example}: {file}");
                }
            }
            count += 1;
        }
    }
    assert!(count >= 18, "{count} examples");
}
