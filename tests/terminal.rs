//! What a terminal gets, and what a file gets instead: colour, width, plots, watching.

use crate::skipped::skipped;
use std::io::Read;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

fn command(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jawforce"));
    command.current_dir(env!("CARGO_MANIFEST_DIR")).args(args);
    command
}

const B: &str = "demo-data/eyelet-toggle-b.toml";

/// What the program writes to a terminal of this many columns; `None` without the tool that makes
/// one (`script` of util-linux).
fn on_terminal(columns: usize, variable: Option<(&str, &str)>, args: &[&str]) -> Option<String> {
    let program = env!("CARGO_BIN_EXE_jawforce");
    let line = format!(
        "stty rows 24 cols {columns} < /dev/tty; {program} {}",
        args.join(" ")
    );
    let mut script = Command::new("script");
    script
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(["-qec", &line, "/dev/null"])
        .env_remove("NO_COLOR")
        .env("TERM", "xterm")
        .stdin(Stdio::null());
    if let Some((name, value)) = variable {
        script.env(name, value);
    }
    let Ok(done) = script.output() else {
        skipped("there is no `script` to make a terminal with");
        return None;
    };
    Some(String::from_utf8_lossy(&done.stdout).replace('\r', ""))
}

fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut escape = false;
    for c in text.chars() {
        match c {
            '\u{1b}' => escape = true,
            'm' if escape => escape = false,
            _ if escape => {}
            c => out.push(c),
        }
    }
    out
}

#[test]
fn colour_is_for_terminals_that_want_it_and_never_the_only_sign() {
    let Some(coloured) = on_terminal(80, None, &["stroke", B]) else {
        return;
    };
    assert!(coloured.contains('\u{1b}'), "{coloured}");
    assert!(plain(&coloured).contains("  NOT MET  hand_force at peak"));
    let refused = on_terminal(80, Some(("NO_COLOR", "1")), &["stroke", B]).unwrap();
    assert!(!refused.contains('\u{1b}'));
    assert_eq!(plain(&coloured), refused);
    let file = command(&["stroke", B]).output().unwrap();
    assert_eq!(String::from_utf8(file.stdout).unwrap(), refused);
}

#[test]
fn tables_fit_the_width_there_is() {
    for columns in [60, 80, 120] {
        for args in [
            vec!["stroke", B, "--plot"],
            vec!["compare", B, "demo-data/eyelet-toggle.toml"],
        ] {
            let Some(text) = on_terminal(columns, None, &args) else {
                return;
            };
            let widest = plain(&text)
                .lines()
                .map(|l| l.chars().count())
                .max()
                .unwrap();
            assert!(widest <= columns, "{args:?}: {widest} in {columns}\n{text}");
            assert!(widest > columns / 2);
        }
    }
}

/// One line for a tool and one for each grip, in 80 columns; the word for a stall stands out.
#[test]
fn tools_side_by_side_take_one_block() {
    let other = "demo-data/eyelet-toggle.toml";
    let Some(text) = on_terminal(80, None, &["compare", other, B]) else {
        return;
    };
    assert!(text.contains("\u{1b}[1m\u{1b}[31m") || text.contains("\u{1b}[1;31m"));
    let text = plain(&text);
    for name in ["Eyelet setter, concept A", "Eyelet setter, concept B"] {
        assert_eq!(text.matches(name).count(), 1, "{text}");
    }
    let rows: Vec<&str> = text.lines().filter(|l| l.contains(" of 8")).collect();
    assert_eq!(rows.len(), 6, "{text}");
}

/// A person reads six figures and a unit, another program all figures and no unit.
#[test]
fn a_measure_is_short_for_people_and_whole_for_programs() {
    let call = ["measure", B, "hand_force", "--at", "peak", "--grip", "60"];
    let done = command(&call).output().unwrap();
    let whole = String::from_utf8(done.stdout).unwrap();
    assert_eq!(String::from_utf8(done.stderr).unwrap(), "");
    let value: f64 = whole.trim().parse().unwrap();
    assert!(whole.trim().len() > 8, "{whole}");
    let Some(text) = on_terminal(80, None, &call) else {
        return;
    };
    let mut lines = text.lines();
    let shown = lines.next().unwrap();
    assert_eq!(shown.replace('.', "").len(), 6, "{text}");
    assert!((shown.parse::<f64>().unwrap() - value).abs() <= 5e-6 * value);
    assert_eq!(lines.next(), Some("N"));
}

/// Rows of numbers need the room that they need; sentences take what there is.
#[test]
fn sentences_take_the_width_there_is() {
    let tool = "demo-data/wire-crimp-pliers.toml";
    for args in [
        vec!["check", tool, "--demands"],
        vec!["loads", tool],
        vec!["tolerance", B, "--samples", "100"],
    ] {
        let file = command(&args).output().unwrap();
        let file = String::from_utf8(file.stdout).unwrap();
        for columns in [60, 80, 120] {
            let Some(text) = on_terminal(columns, None, &args) else {
                return;
            };
            let text = plain(&text);
            let numbers = |line: &str| {
                let words = line.split_whitespace();
                words.filter(|w| w.parse::<f64>().is_ok()).count()
            };
            // Rows of the free-body sheets, their headings of names and of units.
            let row = |line: &str| {
                let heads = ["x  ", "mm  "]
                    .iter()
                    .any(|h| line.trim_start().starts_with(h));
                line.starts_with("  ") && (numbers(line) >= 3 || heads)
            };
            let sentences = text.lines().filter(|l| !row(l));
            let wide = |line: &str| line.chars().count();
            let widest = sentences.max_by_key(|l| wide(l)).unwrap();
            assert!(wide(widest) <= columns, "{args:?} in {columns}: {widest}");
            assert!(
                wide(widest) > columns * 2 / 3,
                "{args:?} in {columns}: {widest}"
            );
            let words = |text: &str| {
                text.split_whitespace()
                    .map(str::to_owned)
                    .collect::<Vec<_>>()
            };
            let bars = |w: &String| !w.contains('#');
            let (mut here, mut there) = (words(&text), words(&file));
            here.retain(bars);
            there.retain(bars);
            assert_eq!(here, there, "{args:?} in {columns}: the same words");
            assert_eq!(
                text == file,
                columns == 80,
                "{args:?}: a file gets 80 columns"
            );
        }
    }
}

#[test]
fn a_plot_shows_every_grip_and_the_work() {
    let done = command(&["stroke", B, "--plot", "--grip", "60,90"])
        .output()
        .unwrap();
    let text = String::from_utf8(done.stdout).unwrap();
    let plot = text
        .split("Jaw force, N, at 150 N hand force")
        .nth(1)
        .unwrap();
    for mark in [
        "a grip 60 mm",
        "b grip 90 mm",
        "# the work needs",
        "= hand limit 200 N",
    ] {
        let words = plot.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(mark), "{mark}: {plot}");
    }
    for mark in ['a', 'b', '#', '='] {
        let drawn = plot
            .lines()
            .filter(|l| l.contains('|') && l.contains(mark))
            .count();
        assert!(drawn > 0, "{mark}: {plot}");
    }
    // The work stands in every column, also where the grips' curves cross it.
    let upper: Vec<Vec<char>> = (plot.lines())
        .take_while(|l| !l.contains('+'))
        .filter_map(|l| Some(l.split_once('|')?.1.chars().collect()))
        .collect();
    let columns = upper.iter().map(Vec::len).max().unwrap_or(0);
    assert!(columns > 60, "{plot}");
    for k in 0..columns {
        let there = upper.iter().any(|row| row.get(k) == Some(&'#'));
        assert!(there, "column {k}: {plot}");
    }
}

/// A process that is ended when the test is.
struct Running(std::process::Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

#[test]
fn watching_runs_again_after_a_change_and_outlives_mistakes() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("tool.toml");
    let original = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/eyelet-toggle.toml");
    let text = std::fs::read_to_string(original).unwrap();
    std::fs::write(&file, &text).unwrap();
    let log = folder.path().join("log");
    let out = std::fs::File::create(&log).unwrap();
    let running = command(&["stroke", file.to_str().unwrap(), "--grip", "90", "--watch"])
        .stdout(out.try_clone().unwrap())
        .stderr(out)
        .spawn()
        .unwrap();
    let mut running = Running(running);
    let wait_for = |phrase: &str, times: usize| {
        let start = Instant::now();
        loop {
            let mut seen = String::new();
            std::fs::File::open(&log)
                .unwrap()
                .read_to_string(&mut seen)
                .unwrap();
            if seen.matches(phrase).count() >= times {
                return;
            }
            assert!(
                start.elapsed() < Duration::from_secs(20),
                "{phrase}: {seen}"
            );
            std::thread::sleep(Duration::from_millis(50));
        }
    };
    wait_for("waiting for the file to change", 1);
    std::fs::write(&file, text.replace("length = 24\n", "length = \"24 N\"\n")).unwrap();
    wait_for("wrong-unit", 1);
    wait_for("waiting for the file to change", 2);
    std::fs::write(&file, text.replace("length = 24\n", "length = 24.1\n")).unwrap();
    wait_for("waiting for the file to change", 3);
    wait_for("Grip 90 mm: peak hand force 200 N", 1);
    assert!(running.0.try_wait().unwrap().is_none(), "still watching");
}

#[test]
fn standard_input_cannot_be_watched() {
    let done = command(&["stroke", "-", "--watch"])
        .stdin(Stdio::null())
        .output()
        .unwrap();
    assert_eq!(done.status.code(), Some(2));
    assert!(
        String::from_utf8(done.stderr)
            .unwrap()
            .contains("name a file")
    );
}
