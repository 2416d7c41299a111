//! Full disks for every command, what a killed run leaves beside its output, odd files in place of a
//! tool file with bounds on time and memory. More of what goes wrong around the program: `tests/faults.rs`.
#![cfg(unix)]

use super::{Bench, Ended, SETTER};
use crate::skipped::skipped;
use std::collections::BTreeSet;
use std::fs::{File, OpenOptions};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// A device that is always full, where the system has one.
const FULL: &str = "/dev/full";

#[test]
fn a_full_disk_is_said_and_leaves_no_file() {
    if !Path::new(FULL).exists() {
        skipped("this system has no /dev/full");
        return;
    }
    let bench = Bench::with(SETTER);
    for args in [
        &["stroke", "tool.toml"][..],
        &["stroke", "tool.toml", "--json", "--svg", "out.svg"],
        &["stroke", "tool.toml", "--csv", "-", "--svg", "out.svg"],
        &["check", "tool.toml"],
        &["loads", "tool.toml", "--csv", "out.csv"],
        &["measure", "tool.toml", "ratio", "--at", "shut"],
        &["compare", "tool.toml", "--csv", "out.csv"],
        &["new", "toggle"],
        &["keys"],
        &["schema"],
        &["completions", "bash"],
        &["man"],
        &["--help"],
        &["--version"],
    ] {
        let full = OpenOptions::new().write(true).open(FULL).expect("opens");
        let done = bench.command(args).stdout(full).output().expect("runs");
        let err = String::from_utf8(done.stderr).expect("text");
        assert_eq!(done.status.code(), Some(2), "{args:?}: {err}");
        assert!(err.contains("standard output cannot be written"), "{err}");
        assert!(err.contains("disk is full"), "{err}");
        let files: Vec<String> = bench.files().into_keys().collect();
        assert_eq!(files, ["tool.toml"], "{args:?}");
    }
    bench
        .run(&["stroke", "tool.toml", "-q", "--csv", FULL])
        .code(2)
        .says("/dev/full: cannot be written: the disk is full")
        .leaves_nothing();
}

/// A folder in which nobody may make files, not even the administrator.
#[test]
fn a_folder_that_takes_no_files() {
    if !cfg!(target_os = "linux") {
        skipped("made for /proc");
        return;
    }
    let bench = Bench::with(SETTER);
    bench
        .run(&["stroke", "tool.toml", "--svg", "/proc/out.svg"])
        .code(2)
        .says("/proc/out.svg: cannot be written")
        .leaves_nothing();
    bench
        .run(&["new", "toggle", "-o", "/proc/tool.toml"])
        .code(2)
        .says("cannot be written")
        .leaves_nothing();
}

/// What a run that was stopped may leave: the old file or the new one, whole, and besides them only
/// files of the name under which bytes are gathered before they take their place.
fn whole(bench: &Bench, name: &str, good: &BTreeSet<Vec<u8>>) {
    for (path, bytes) in bench.files() {
        if path == name {
            assert!(good.contains(&bytes), "{} bytes of {path}", bytes.len());
        } else {
            let known = path.ends_with(".toml") || path.starts_with(".jawforce-");
            assert!(known, "{path}");
        }
    }
}

#[test]
fn a_run_that_is_killed_leaves_the_old_file_or_the_new_one() {
    let bench = Bench::with(SETTER);
    let args = |grip: &'static str| {
        [
            "stroke",
            "tool.toml",
            "-q",
            "--steps",
            "300",
            "--svg",
            "out.svg",
            "--grip",
            grip,
        ]
    };
    let mut good = BTreeSet::new();
    let mut longest = Duration::ZERO;
    for grip in ["40", "60"] {
        let start = Instant::now();
        bench.run(&args(grip)).code(0);
        longest = longest.max(start.elapsed());
        good.insert(std::fs::read(bench.path("out.svg")).expect("written"));
    }
    assert_eq!(good.len(), 2);
    let mut stopped = 0;
    for k in 0..40_u32 {
        let grip = if k % 2 == 0 { "40" } else { "60" };
        let mut child = bench.command(&args(grip)).spawn().expect("starts");
        std::thread::sleep(longest * (k + 1) / 40);
        child.kill().expect("is killed");
        let ended = child.wait().expect("ends");
        stopped += u32::from(ended.code().is_none());
        whole(&bench, "out.svg", &good);
    }
    assert!(
        stopped > 5,
        "{stopped} of 40 were stopped before they were done"
    );
    bench.run(&args("40")).code(0);
    whole(&bench, "out.svg", &good);
}

/// Lines that end in a carriage return alone, as very old programs wrote them, are no TOML.
#[test]
fn lines_that_end_in_carriage_returns_are_refused_in_words() {
    let text = SETTER.replace('\n', "\r");
    let ended = Bench::with(&text)
        .run(&["check", "tool.toml"])
        .code(2)
        .leaves_nothing();
    assert!(ended.err.contains("tool.toml:1:"), "{}", ended.err);
    assert!(ended.err.contains("carriage return"), "{}", ended.err);
    assert!(ended.err.len() < 2000, "{}", ended.err.len());
}

/// Runs with a bound on time; the memory of a run is bounded by `ulimit`.
fn bounded(bench: &Bench, line: &str) -> Ended {
    let start = Instant::now();
    let script = format!("ulimit -v 400000; exec \"$0\" {line}");
    let mut command = Command::new("sh");
    let done = command
        .args(["-c", &script, env!("CARGO_BIN_EXE_jawforce")])
        .current_dir(bench.path(""))
        .stdin(Stdio::null())
        .output()
        .expect("runs");
    assert!(
        start.elapsed() < Duration::from_secs(10),
        "{line}: {:?}",
        start.elapsed()
    );
    Ended {
        code: done.status.code().expect("no signal ends it"),
        out: String::from_utf8(done.stdout).expect("text"),
        err: String::from_utf8(done.stderr).expect("text"),
        written: Default::default(),
        gone: Vec::new(),
    }
}

#[test]
fn endless_and_huge_files_are_refused_at_once() {
    let bench = Bench::with(&format!("{SETTER}\n[work]\nneed = \"huge.csv\"\n"));
    for name in ["huge.toml", "huge.csv"] {
        let file = File::create(bench.path(name)).expect("a file");
        file.set_len(1 << 30).expect("a gigabyte of nothing");
    }
    for line in ["check /dev/zero", "stroke - < /dev/zero", "check huge.toml"] {
        bounded(&bench, line)
            .code(2)
            .says("larger than 1 MB")
            .leaves_nothing();
    }
    // Named by a tool file, it is shown there.
    bounded(&bench, "check tool.toml")
        .code(2)
        .says("larger than 8 MB")
        .says("tool.toml:")
        .leaves_nothing();
    bench.put(
        "tool.toml",
        format!("{SETTER}\n[work]\nneed = \"/dev/zero\"\n"),
    );
    bounded(&bench, "check tool.toml")
        .code(2)
        .says("larger than 8 MB")
        .leaves_nothing();
    bounded(&bench, "check /dev/null")
        .code(2)
        .says("there is nothing in this file")
        .leaves_nothing();
}

#[test]
fn a_pipe_with_a_name_is_a_file_too() {
    let bench = Bench::empty();
    let made = Command::new("mkfifo").arg(bench.path("pipe")).status();
    if !made.is_ok_and(|status| status.success()) {
        skipped("there is no mkfifo");
        return;
    }
    let path = bench.path("pipe");
    let writer = std::thread::spawn(move || std::fs::write(path, SETTER));
    let done = bench.command(&["stroke", "pipe"]).output().expect("runs");
    writer.join().expect("ends").expect("is read");
    assert_eq!(
        done.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    assert!(String::from_utf8_lossy(&done.stdout).contains("Test setter"));
}
