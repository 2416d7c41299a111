//! The README, the starters and the demo data do what they say.
//!
//! In the README, every ```` ```sh ```` block is run as one shell script (lines that begin with
//! `cargo` or `git` are left to `.ci/run`); in a ```` ```console ```` block, lines that begin with
//! `$ ` are run and the lines below each are all that it prints, exactly; the ```` ```toml ````
//! blocks together are `clip.toml`; a ```` ```json ```` block shows parts of the output of the last
//! `--json` command above it. All run in a fresh folder with the repository's `demo-data`.
//!
//! `UPDATE=1 cargo test readme` writes new output into README.md and draws the chart anew; look at
//! the difference before committing it.
#![cfg(unix)]

use crate::renew;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const PROGRAM: &str = env!("CARGO_BIN_EXE_jawforce");
const CHART: &str = "demo-data/eyelet-toggle.svg";
const CONCEPTS: [&str; 8] = [
    "pliers", "toggle", "plunger", "compound", "nests", "geared", "cam", "picture",
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// A fresh folder with the repository's demo data.
fn workplace() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let demo = folder.path().join("demo-data");
    std::fs::create_dir(&demo).unwrap();
    for entry in std::fs::read_dir(root().join("demo-data")).unwrap() {
        let path = entry.unwrap().path();
        std::fs::copy(&path, demo.join(path.file_name().unwrap())).unwrap();
    }
    folder
}

fn shell(script: &str, folder: &Path) -> Output {
    let beside = Path::new(PROGRAM).parent().unwrap().to_path_buf();
    let path = std::env::var_os("PATH").unwrap_or_default();
    let paths = std::iter::once(beside).chain(std::env::split_paths(&path));
    let mut command = Command::new("sh");
    command.args(["-uc", script]).current_dir(folder);
    command.env("PATH", std::env::join_paths(paths).unwrap());
    command.env("NO_COLOR", "1").env_remove("COLUMNS");
    command.output().unwrap()
}

fn program(args: &[&str], folder: &Path) -> Output {
    Command::new(PROGRAM)
        .args(args)
        .current_dir(folder)
        .output()
        .unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// A fenced block: its language and its lines.
struct Block {
    language: String,
    /// Index of its first line in the file.
    first: usize,
    lines: Vec<String>,
}

fn blocks(text: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut open: Option<Block> = None;
    for (k, line) in text.lines().enumerate() {
        match (line.strip_prefix("```"), &mut open) {
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (Some(language), None) => {
                let (language, lines) = (language.to_owned(), Vec::new());
                open = Some(Block {
                    language,
                    first: k + 1,
                    lines,
                });
            }
            (None, Some(block)) => block.lines.push(line.to_owned()),
            (None, None) => {}
        }
    }
    assert!(open.is_none(), "README.md: a block is not closed");
    blocks
}

/// The commands of a console block, each with the output shown.
fn dialogues(block: &Block) -> Vec<(String, Vec<String>)> {
    let mut pairs: Vec<(String, Vec<String>)> = Vec::new();
    for line in &block.lines {
        match (line.strip_prefix("$ "), pairs.last_mut()) {
            (Some(command), _) => pairs.push((command.to_owned(), Vec::new())),
            (None, Some((_, shown))) => shown.push(line.clone()),
            (None, None) => panic!("a console block begins with a command, not with `{line}`"),
        }
    }
    pairs
}

/// Residuals differ from one processor to the next: any number below 1e-9 stands for every other.
fn same(shown: &str, found: &str) -> bool {
    let residual = |word: &str| {
        let number = word.trim_end_matches([',', '.']);
        number.contains('e') && number.parse::<f64>().is_ok_and(|v| v.abs() < 1e-9)
    };
    let words = |line: &str| -> Vec<String> {
        line.split(' ')
            .map(|w| {
                if residual(w) {
                    "tiny".into()
                } else {
                    w.to_owned()
                }
            })
            .collect()
    };
    words(shown) == words(found)
}

#[test]
fn residuals_alone_are_not_compared_by_digits() {
    assert!(same("close to 9e-14, by", "close to 2e-15, by"));
    assert!(!same("close to 9e-14, by", "close to 2e-5, by"));
    assert!(!same("gap 3.10 mm", "gap 3.11 mm"));
    assert!(!same("a  b", "a b"));
}

#[test]
fn commands_of_the_readme_do_what_it_shows() {
    let readme = read(&root().join("README.md"));
    let folder = workplace();
    let all = blocks(&readme);
    let of = |language: &'static str| all.iter().filter(move |b| b.language == language);
    let example: Vec<String> = of("toml").flat_map(|b| b.lines.clone()).collect();
    std::fs::write(folder.path().join("clip.toml"), example.join("\n") + "\n").unwrap();

    let mut lines: Vec<String> = readme.lines().map(str::to_owned).collect();
    let (mut wrong, mut json, mut moved) = (Vec::new(), None, 0_isize);
    for block in &all {
        match block.language.as_str() {
            "sh" => {
                let ours =
                    |line: &&String| !line.starts_with("cargo ") && !line.starts_with("git ");
                let script: Vec<&str> = block
                    .lines
                    .iter()
                    .filter(ours)
                    .map(|l| l.as_str())
                    .collect();
                let output = shell(&format!("set -e\n{}", script.join("\n")), folder.path());
                if !output.status.success() {
                    wrong.push(format!("{script:?} fails:\n{}", text(&output.stderr)));
                }
                if script.last().is_some_and(|line| line.contains("--json")) {
                    // Commands above it in the block may print, too.
                    let printed = text(&output.stdout);
                    let from = printed.find('{').unwrap_or(0);
                    json = serde_json::from_str::<serde_json::Value>(&printed[from..]).ok();
                }
            }
            "console" => {
                let mut fresh = Vec::new();
                for (command, shown) in dialogues(block) {
                    let output = shell(&format!("exec 2>&1\n{command}"), folder.path());
                    let found: Vec<String> =
                        text(&output.stdout).lines().map(str::to_owned).collect();
                    let kept = shown.len() == found.len()
                        && shown.iter().zip(&found).all(|(a, b)| same(a, b));
                    if !kept && !renew::wanted() {
                        let (shown, found) = (shown.join("\n"), found.join("\n"));
                        wrong.push(format!(
                            "$ {command}\nREADME shows:\n{shown}\nit prints:\n{found}"
                        ));
                    }
                    if !output.status.success() {
                        wrong.push(format!("$ {command}: {}", output.status));
                    }
                    fresh.push(format!("$ {command}"));
                    fresh.extend(if kept { shown } else { found });
                }
                let start = block.first.checked_add_signed(moved).unwrap();
                moved += fresh.len() as isize - block.lines.len() as isize;
                lines.splice(start..start + block.lines.len(), fresh);
            }
            "json" => {
                let shown = serde_json::from_str(&block.lines.join("\n")).unwrap();
                let whole = json
                    .as_ref()
                    .expect("a --json command above the json block");
                wrong.extend(differences(&shown, whole, "json"));
            }
            "toml" | "text" | "" => {}
            other => wrong.push(format!("a block of an unknown kind: {other}")),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
    if renew::wanted() {
        renew::write(&root().join("README.md"), &(lines.join("\n") + "\n"));
    }
}

/// What `shown`, a shortened and rounded sample, says that `whole` does not.
fn differences(shown: &serde_json::Value, whole: &serde_json::Value, at: &str) -> Vec<String> {
    use serde_json::Value::{Array, Number, Object};
    match (shown, whole) {
        (Object(shown), Object(whole)) => shown
            .iter()
            .flat_map(|(key, value)| match whole.get(key) {
                Some(found) => differences(value, found, &format!("{at}.{key}")),
                None => vec![format!("{at}.{key} is not in the output")],
            })
            .collect(),
        (Array(shown), Array(whole)) if shown.len() <= whole.len() => {
            let pairs = shown.iter().zip(whole).enumerate();
            pairs
                .flat_map(|(k, (a, b))| differences(a, b, &format!("{at}[{k}]")))
                .collect()
        }
        (Number(a), Number(b)) => {
            let (a, b) = (a.as_f64().unwrap(), b.as_f64().unwrap());
            // The sample rounds to two digits after the point.
            let close = (a - b).abs() <= 0.005_001;
            if close {
                Vec::new()
            } else {
                vec![format!("{at} is {b}, shown {a}")]
            }
        }
        (a, b) if a == b => Vec::new(),
        (a, b) => vec![format!("{at} is {b}, shown {a}")],
    }
}

#[test]
fn the_chart_in_the_readme_is_what_the_program_draws() {
    let folder = workplace();
    let args = [
        "stroke",
        "demo-data/eyelet-toggle.toml",
        "--quiet",
        "--svg",
        "drawn.svg",
    ];
    let output = program(&args, folder.path());
    assert!(output.status.success(), "{}", text(&output.stderr));
    let drawn = read(&folder.path().join("drawn.svg"));
    if renew::wanted() {
        renew::write(&root().join(CHART), &drawn);
    } else {
        assert!(
            drawn == read(&root().join(CHART)),
            "{CHART} is out of date: UPDATE=1 cargo test readme"
        );
    }
}

#[test]
fn every_command_has_its_row_in_the_readme() {
    let readme = read(&root().join("README.md"));
    let help = text(&program(&["--help"], root()).stdout);
    let commands = help.lines().skip_while(|line| *line != "Commands:").skip(1);
    let mut count = 0;
    for line in commands.take_while(|line| !line.is_empty()) {
        // Lines of a second paragraph are indented deeper.
        let Some(name) = line.strip_prefix("  ").and_then(|l| l.split(' ').next()) else {
            continue;
        };
        if !["", "help", "completions", "man"].contains(&name) {
            count += 1;
            assert!(
                readme.contains(&format!("| `{name}")),
                "README.md has no row for `{name}`"
            );
        }
    }
    assert!(count >= 3, "no commands found in the help");
}

#[test]
fn demo_files_check_cleanly() {
    let folder = workplace();
    let mut count = 0;
    for entry in std::fs::read_dir(folder.path().join("demo-data")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|e| e == "toml") {
            count += 1;
            let output = program(&["check", path.to_str().unwrap()], folder.path());
            let said = text(&output.stderr);
            assert!(
                output.status.success() && said.is_empty(),
                "{}: {said}",
                path.display()
            );
        }
    }
    assert!(count > 0);
}

fn in_both_units() -> impl Iterator<Item = (&'static str, &'static str)> {
    (CONCEPTS.into_iter()).flat_map(|concept| ["mm-N", "in-lbf"].map(|units| (concept, units)))
}

/// A starter as it is and with its optional settings (`#` and no blank) taken in.
fn starter(concept: &str, units: &str) -> [(PathBuf, String); 2] {
    let output = program(&["new", concept, "--units", units], root());
    assert!(output.status.success() && output.stderr.is_empty());
    let plain = text(&output.stdout);
    let full: String = plain
        .lines()
        .map(|line| match line.strip_prefix('#') {
            Some(rest) if !rest.is_empty() && !rest.starts_with(' ') => format!("{rest}\n"),
            _ => format!("{line}\n"),
        })
        .collect();
    assert_ne!(plain, full, "{concept}: no optional settings");
    [
        (format!("{concept}.toml").into(), plain),
        (format!("{concept}-full.toml").into(), full),
    ]
}

#[test]
fn starters_check_and_run_cleanly_as_they_are_and_with_all_options() {
    let folder = workplace();
    for (concept, units) in in_both_units() {
        for (name, content) in starter(concept, units) {
            std::fs::write(folder.path().join(&name), content).unwrap();
            let name = name.to_str().unwrap();
            for args in [&["check", name][..], &["stroke", name, "--json"]] {
                let output = program(args, folder.path());
                let said = text(&output.stderr);
                assert!(
                    output.status.success() && said.is_empty(),
                    "{args:?}: {said}"
                );
            }
        }
    }
}

#[test]
fn starters_are_short_and_their_spans_fit_a_hand() {
    let folder = workplace();
    for (concept, units) in in_both_units() {
        let [(name, plain), _] = starter(concept, units);
        assert!(
            (40..=70).contains(&plain.lines().count()),
            "{concept}: {}",
            plain.lines().count()
        );
        std::fs::write(folder.path().join(&name), plain).unwrap();
        let output = program(&["stroke", name.to_str().unwrap(), "--json"], folder.path());
        let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        for position in report["positions"].as_array().unwrap() {
            assert_eq!(position["toggle"], false, "{concept} is at a toggle");
            for grip in position["grips"].as_array().unwrap() {
                let inches = report["units"]["length"] == "in";
                let span = grip["span"].as_f64().unwrap() * if inches { 25.4 } else { 1.0 };
                // Wide enough for the knuckles, narrow enough to reach: common practice, no source.
                assert!(
                    (50.0..=95.0).contains(&span),
                    "{concept}: a span of {span} mm"
                );
            }
        }
    }
}

#[test]
fn new_does_not_overwrite_a_file_unless_forced() {
    let folder = workplace();
    let again = |args: &[&str]| program(args, folder.path()).status.code();
    assert_eq!(again(&["new", "pliers", "-o", "mine.toml"]), Some(0));
    assert_eq!(again(&["new", "toggle", "-o", "mine.toml"]), Some(2));
    assert!(read(&folder.path().join("mine.toml")).starts_with("# Pliers"));
    assert_eq!(
        again(&["new", "toggle", "-o", "mine.toml", "--force"]),
        Some(0)
    );
    assert!(read(&folder.path().join("mine.toml")).starts_with("# Toggle"));
}

/// Both are read in one sitting: what code or `jawforce keys` can say is left to them.
#[test]
fn the_guides_are_short_and_set_up_stands_first() {
    for guide in ["README.md", "DEVELOPERS.md"] {
        let lines = read(&root().join(guide)).lines().count();
        assert!(lines <= 200, "{guide}: {lines} lines");
    }
    let readme = read(&root().join("README.md"));
    let screen: Vec<&str> = readme.lines().take(25).collect();
    let shows = |start: &str| screen.iter().any(|line| line.starts_with(start));
    assert!(shows("cargo run --release --locked -- stroke demo-data/"));
    assert!(shows("cargo test --locked"));
    for named in ["jawforce keys", "DEVELOPERS.md", "# Cautions"] {
        assert!(readme.contains(named), "README.md does not say {named}");
    }
}

/// The script that the README names is there, and it ranks.
#[test]
fn the_ranking_script_ranks() {
    assert!(read(&root().join("README.md")).contains("examples/rank-grips.sh"));
    let program = Path::new(env!("CARGO_BIN_EXE_jawforce")).parent().unwrap();
    let path = format!(
        "{}:{}",
        program.display(),
        std::env::var("PATH").unwrap_or_default()
    );
    let done = Command::new("sh")
        .current_dir(root())
        .env("PATH", path)
        .arg("examples/rank-grips.sh")
        .output()
        .unwrap();
    let lines = text(&done.stdout);
    let forces: Vec<f64> = lines
        .lines()
        .map(|l| l.split_whitespace().next().unwrap().parse().unwrap())
        .collect();
    assert_eq!(forces.len(), 6, "{lines}");
    assert!(forces.windows(2).all(|w| w[0] <= w[1]), "{lines}");
    assert!(
        lines
            .lines()
            .next()
            .unwrap()
            .contains("grip 90 mm  demo-data/eyelet-toggle.toml")
    );
}
