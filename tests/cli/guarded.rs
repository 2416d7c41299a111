//! What a run must not do: say nothing to who asked for data, drive a terminal or a spreadsheet, write over what is
//! read, give away rights, leave things behind.

use super::{Bench, SETTER};
use serde_json::Value;

fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|e| panic!("{e}: {text}"))
}

/// Whatever is wrong, who asks for JSON gets it: the problems with code, line, column and help.
#[test]
fn problems_are_data_too() {
    let bench = Bench::with(&SETTER.replace("units = \"mm-N\"", "units = \"mm-kg\""));
    let line = SETTER
        .lines()
        .position(|line| line.contains("mm-N"))
        .unwrap()
        + 1;
    for command in [
        "check",
        "stroke",
        "loads",
        "compare",
        "tolerance",
        "draw",
        "setup",
    ] {
        let ended = bench.run(&[command, "tool.toml", "--json"]).code(2);
        let found = json(&ended.out);
        let problem = &found["problems"][0];
        assert_eq!(found["exit"], 2, "{command}");
        assert_eq!(found["file"], "tool.toml");
        assert_eq!(problem["severity"], "error");
        assert_eq!(problem["line"], line, "{command}: {problem}");
        assert!(problem["code"].is_string() && problem["column"].is_u64());
        assert!(!problem["help"].as_array().unwrap().is_empty(), "{problem}");
        assert!(ended.err.contains("tool.toml:"), "people are told as well");
    }
    let missing = json(&bench.run(&["stroke", "none.toml", "--json"]).code(2).out);
    assert!(missing["file"].is_null());
    assert_eq!(
        missing["problems"][0]["message"],
        "none.toml: no such file or folder"
    );
    // What the linkage cannot do, too.
    bench.put("stuck.toml", SETTER.replace("gap = 9", "gap = 900"));
    let stuck = json(&bench.run(&["stroke", "stuck.toml", "--json"]).code(3).out);
    assert_eq!(stuck["exit"], 3);
}

/// Several files are one list, an entry for each, wrong ones among them.
#[test]
fn several_files_are_checked_into_one_list() {
    let bench = Bench::with(SETTER);
    bench.put("wrong.toml", "[tool]\nname = 3\n");
    let ended = bench
        .run(&["check", "tool.toml", "wrong.toml", "--json"])
        .code(2);
    let list = json(&ended.out);
    let list = list.as_array().unwrap();
    assert_eq!(list.len(), 2);
    assert!(list[0]["parts"].is_array() && list[1]["problems"].is_array());
}

/// Names of files, tools and arguments never reach a terminal as they are; nor a spreadsheet where it would take them for
/// a formula.
#[test]
fn names_drive_neither_terminal_nor_spreadsheet() {
    let bench = Bench::with(SETTER);
    let name = "od\u{1b}[31md\u{7}.toml";
    bench.put(name, SETTER);
    let raw = |text: &str| text.chars().any(|c| c.is_control() && c != '\n');
    for args in [
        vec!["check", name],
        vec!["stroke", name, "--json"],
        vec!["check", "no\u{1b}[31mne.toml"],
        vec!["stroke", "tool.toml", "--csv", "no\u{1b}[0mwhere/x.csv"],
        vec!["stroke", "tool.toml", "--\u{1b}[31mx"],
        vec!["\u{1b}[31mx"],
        vec!["stroke", "tool.toml", "--set", "\u{1b}[31mx=3"],
        vec!["measure", "tool.toml", "\u{1b}[31mx"],
    ] {
        let ended = bench.run(&args);
        assert!(!raw(&ended.err), "{args:?}: {:?}", ended.err);
        assert!(!raw(&ended.out), "{args:?}: {:?}", ended.out);
    }
    let name = SETTER.lines().find(|line| line.starts_with("name"));
    let named = SETTER.replacen(name.unwrap(), "name = \"=HYPERLINK(1)\"", 1);
    bench.put("formula.toml", named);
    let csv = bench.run(&["compare", "formula.toml", "--csv", "-"]).out;
    assert!(
        csv.contains(",'=HYPERLINK(1),") && !csv.contains(",=HYPERLINK"),
        "{csv}"
    );
}

#[test]
fn the_option_that_was_meant_is_named() {
    let bench = Bench::with(SETTER);
    for (typed, meant) in [("--sgv", "--svg"), ("--cvs", "--csv"), ("--girp", "--grip")] {
        let said = bench.run(&["stroke", "tool.toml", typed, "x"]).code(2).err;
        assert!(said.contains(meant), "{typed}: {said}");
    }
    let said = bench.run(&["measure", "tool.toml", "pin_load"]).code(2).err;
    assert!(
        said.contains("pin_load.NAME") && said.contains("knee"),
        "{said}"
    );
}

/// A tool file is not written over by a result, whether it is read or not.
#[test]
fn tool_files_are_not_written_over() {
    let bench = Bench::with(SETTER);
    bench.put("other.toml", SETTER);
    for output in ["tool.toml", "./tool.toml", "other.toml"] {
        let ended = bench.run(&["stroke", "tool.toml", "--csv", output]);
        ended.code(2).says("name another").leaves_nothing();
    }
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::os::unix::fs::PermissionsExt;
    use std::process::{Command, Stdio};
    use std::time::{Duration, SystemTime};

    fn shell(bench: &Bench, script: &str) -> (Option<i32>, String) {
        let mut command = Command::new("sh");
        command
            .args(["-c", script])
            .env("JAWFORCE", env!("CARGO_BIN_EXE_jawforce"));
        let command = command.current_dir(bench.path("")).stdin(Stdio::null());
        let output = command.output().expect("a shell");
        (
            output.status.code(),
            String::from_utf8_lossy(&output.stderr).into_owned(),
        )
    }

    fn mode(bench: &Bench, name: &str) -> u32 {
        std::fs::metadata(bench.path(name))
            .unwrap()
            .permissions()
            .mode()
            & 0o7777
    }

    /// A new file has the rights that the user's mask leaves; one that is replaced keeps its own, without special bits.
    #[test]
    fn rights_are_those_of_the_user() {
        let bench = Bench::with(SETTER);
        for (mask, rights) in [("022", 0o644), ("077", 0o600), ("027", 0o640)] {
            let (code, said) = shell(
                &bench,
                &format!("umask {mask}; \"$JAWFORCE\" stroke tool.toml --quiet --csv new.csv"),
            );
            assert_eq!(code, Some(0), "{said}");
            assert_eq!(mode(&bench, "new.csv"), rights, "mask {mask}");
            std::fs::remove_file(bench.path("new.csv")).unwrap();
        }
        bench.put("old.csv", "old");
        std::fs::set_permissions(bench.path("old.csv"), PermissionsExt::from_mode(0o4640)).unwrap();
        bench
            .run(&["stroke", "tool.toml", "--quiet", "--csv", "old.csv"])
            .code(0);
        assert_eq!(mode(&bench, "old.csv"), 0o640);
    }

    #[test]
    fn what_standard_input_reads_is_not_written_over() {
        let bench = Bench::with(SETTER);
        bench.put("tool.txt", SETTER);
        let script = "\"$JAWFORCE\" stroke - --quiet --csv tool.txt < tool.txt";
        let (code, said) = shell(&bench, script);
        assert_eq!(code, Some(2));
        assert!(said.contains("standard input"), "{said}");
        assert_eq!(
            std::fs::read_to_string(bench.path("tool.txt")).unwrap(),
            SETTER
        );
    }

    /// What a killed run left is taken away by the next that writes there, once it is old; what is new may be another
    /// run's, what has another name is somebody else's.
    #[test]
    fn what_killed_runs_left_is_taken_away() {
        let bench = Bench::with(SETTER);
        let old = SystemTime::now() - Duration::from_secs(7200);
        for (name, aged) in [
            (".jawforce-a", true),
            (".jawforce-b", false),
            (".other", true),
        ] {
            bench.put(name, "left");
            if aged {
                let file = std::fs::File::options()
                    .write(true)
                    .open(bench.path(name))
                    .unwrap();
                file.set_modified(old).unwrap();
            }
        }
        bench
            .run(&["stroke", "tool.toml", "--quiet", "--csv", "new.csv"])
            .code(0);
        let there = [".jawforce-a", ".jawforce-b", ".other"].map(|name| bench.path(name).exists());
        assert_eq!(there, [false, true, true]);
    }
}
