//! Where results go, and what happens when they cannot.

use super::{Bench, SETTER};
use std::io::{BufRead, BufReader};
use std::process::Stdio;

const FILES: &[&str] = &[
    "stroke",
    "tool.toml",
    "--svg",
    "out.svg",
    "--csv",
    "out.csv",
];

#[test]
fn files_are_written_whole_and_nothing_else() {
    let bench = Bench::with(SETTER);
    let ended = bench.run(FILES).code(0).writes(&["out.csv", "out.svg"]);
    assert_eq!(ended.err, "");
    assert!(ended.written["out.svg"].ends_with(b"</svg>\n"));
    assert_eq!(
        ended.written["out.csv"]
            .iter()
            .filter(|b| **b == b'\n')
            .count(),
        1 + 25 * 2
    );
    // Again: the same bytes.
    bench.run(FILES).code(0).writes(&[]);
}

#[test]
fn the_input_is_never_written_over() {
    let text = format!("{SETTER}\n[work]\nneed = \"need.csv\"\n");
    let bench = Bench::with(&text);
    bench.put("need.csv", "gap,force\n3,0\n0,900\n");
    for path in ["tool.toml", "./tool.toml", "need.csv"] {
        bench
            .run(&["stroke", "tool.toml", "--csv", path])
            .code(2)
            .says("which is read")
            .leaves_nothing();
    }
    bench
        .run(&["new", "toggle", "-o", "tool.toml"])
        .code(2)
        .says("--force")
        .leaves_nothing();
}

#[test]
fn paths_that_cannot_be_written() {
    let bench = Bench::with(SETTER);
    std::fs::create_dir(bench.path("folder")).expect("a folder");
    for (path, says) in [
        (
            "nowhere/out.csv",
            "there is no folder `nowhere`; make it first",
        ),
        ("folder", "this is a folder"),
        ("tool.toml/out.csv", "a file, not a folder"),
        ("..", "this is a folder"),
    ] {
        for option in ["--csv", "--svg"] {
            bench
                .run(&["stroke", "tool.toml", option, path])
                .code(2)
                .says(says)
                .leaves_nothing();
        }
    }
    let long = "x".repeat(300);
    bench
        .run(&["stroke", "tool.toml", "--csv", &long])
        .code(2)
        .says("too long")
        .leaves_nothing();
}

#[test]
fn when_one_output_fails_none_appears() {
    let bench = Bench::with(SETTER);
    bench
        .run(&[
            "stroke",
            "tool.toml",
            "--svg",
            "out.svg",
            "--csv",
            "nowhere/out.csv",
        ])
        .code(2)
        .leaves_nothing();
}

#[test]
fn paths_with_blanks_and_letters_of_any_script() {
    let bench = Bench::empty();
    std::fs::create_dir(bench.path("neue Zange ü")).expect("a folder");
    bench.put("neue Zange ü/鳩目 1.toml", SETTER);
    bench
        .run(&[
            "stroke",
            "neue Zange ü/鳩目 1.toml",
            "--csv",
            "neue Zange ü/a b.csv",
        ])
        .code(0)
        .prints("鳩目 1.toml")
        .writes(&["neue Zange ü/a b.csv"]);
}

#[test]
fn standard_input_is_a_file_too() {
    let bench = Bench::empty();
    bench
        .run_with(&["stroke", "-"], SETTER.as_bytes())
        .code(0)
        .prints("Test setter")
        .leaves_no_file();
    bench
        .run_with(&["check", "-", "-q"], b"")
        .code(2)
        .says("there is nothing in this file");
    let bad = SETTER.replace("length = 24", "lenght = 24");
    bench
        .run_with(&["check", "-"], bad.as_bytes())
        .code(2)
        .says("standard input:");
}

#[test]
fn results_to_standard_output() {
    let bench = Bench::with(SETTER);
    let file = bench
        .run(&[
            "stroke",
            "tool.toml",
            "-q",
            "--csv",
            "out.csv",
            "--svg",
            "out.svg",
        ])
        .code(0);
    assert_eq!(file.out, "");
    let csv = bench
        .run(&["stroke", "tool.toml", "--csv", "-"])
        .code(0)
        .leaves_no_file();
    assert_eq!(csv.out.as_bytes(), file.written["out.csv"]);
    let svg = bench
        .run(&["stroke", "tool.toml", "--svg", "-"])
        .code(0)
        .leaves_no_file();
    assert_eq!(svg.out.as_bytes(), file.written["out.svg"]);
}

/// `jawforce … | head -1`.
#[test]
fn a_reader_that_goes_away_is_no_error() {
    let bench = Bench::with(SETTER);
    for args in [
        &["stroke", "tool.toml", "--json", "--steps", "5000"][..],
        &["stroke", "tool.toml", "--csv", "-", "--steps", "5000"],
        &["stroke", "tool.toml", "--all", "--steps", "5000"],
    ] {
        let mut child = bench
            .command(args)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut line = String::new();
        let mut pipe = BufReader::new(child.stdout.take().expect("a pipe"));
        pipe.read_line(&mut line).expect("a line");
        drop(pipe);
        let output = child.wait_with_output().expect("the program ends");
        assert_eq!(output.status.code(), Some(0), "{args:?}");
        assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{args:?}");
    }
}

#[test]
fn starters_are_written_once() {
    let bench = Bench::empty();
    for concept in [
        "pliers", "toggle", "plunger", "compound", "nests", "geared", "cam", "picture",
    ] {
        let name = format!("{concept}.toml");
        bench
            .run(&["new", concept, "-o", &name])
            .code(0)
            .says("jawforce stroke")
            .writes(&[&name]);
        bench
            .run(&["new", concept, "-o", &name])
            .code(2)
            .says("--force")
            .leaves_nothing();
        bench
            .run(&["new", concept, "-o", &name, "--force"])
            .code(0)
            .leaves_no_file();
        let printed = bench.run(&["new", concept]).code(0).leaves_no_file();
        assert_eq!(
            printed.out,
            std::fs::read_to_string(bench.path(&name)).expect("the starter")
        );
    }
}

#[cfg(target_os = "linux")]
mod linux {
    use super::*;
    use std::fs::File;
    use std::os::unix::fs::{PermissionsExt, symlink};
    use std::os::unix::process::CommandExt;

    #[test]
    fn a_full_disk_is_reported() {
        let bench = Bench::with(SETTER);
        for args in [
            &["stroke", "tool.toml"][..],
            &["stroke", "tool.toml", "--json", "--csv", "out.csv"],
            &["check", "tool.toml"],
            &["new", "toggle"],
            &["--help"],
        ] {
            let full = File::options()
                .write(true)
                .open("/dev/full")
                .expect("/dev/full");
            let output = bench
                .command(args)
                .stdout(full)
                .output()
                .expect("the program runs");
            let said = String::from_utf8_lossy(&output.stderr);
            assert_eq!(output.status.code(), Some(2), "{args:?}: {said}");
            assert!(
                said.contains("standard output cannot be written: the disk is full"),
                "{said}"
            );
            assert!(!bench.path("out.csv").exists());
        }
        bench
            .run(&["stroke", "tool.toml", "-q", "--csv", "/dev/full"])
            .code(2)
            .says("/dev/full: cannot be written: the disk is full")
            .leaves_nothing();
    }

    #[test]
    fn what_is_no_plain_file_is_written_into_not_replaced() {
        let bench = Bench::with(SETTER);
        bench
            .run(&["stroke", "tool.toml", "-q", "--csv", "/dev/null"])
            .code(0)
            .leaves_nothing();
        let about = std::fs::metadata("/dev/null").expect("/dev/null");
        assert!(!about.is_file());
    }

    #[test]
    fn a_link_stays_a_link_and_rights_stay_as_they_are() {
        let bench = Bench::with(SETTER);
        bench.put("real.csv", "old");
        std::fs::set_permissions(bench.path("real.csv"), PermissionsExt::from_mode(0o600))
            .expect("rights");
        symlink("real.csv", bench.path("link.csv")).expect("a link");
        bench
            .run(&["stroke", "tool.toml", "-q", "--csv", "link.csv"])
            .code(0)
            .writes(&["link.csv", "real.csv"]);
        let link = std::fs::symlink_metadata(bench.path("link.csv")).expect("the link");
        assert!(link.file_type().is_symlink());
        let real = std::fs::metadata(bench.path("real.csv")).expect("the file");
        assert_eq!(real.permissions().mode() & 0o777, 0o600);
        // A link to the input is the input.
        symlink("tool.toml", bench.path("alias.svg")).expect("a link");
        bench
            .run(&["stroke", "tool.toml", "--svg", "alias.svg"])
            .code(2)
            .says("which is read")
            .leaves_nothing();
    }

    #[test]
    fn a_read_only_file_is_left_alone() {
        let bench = Bench::with(SETTER);
        bench.put("old.csv", "precious");
        std::fs::set_permissions(bench.path("old.csv"), PermissionsExt::from_mode(0o444))
            .expect("rights");
        bench
            .run(&["stroke", "tool.toml", "--csv", "old.csv"])
            .code(2)
            .says("read-only")
            .leaves_nothing();
    }

    /// Rights of folders do not bind the administrator, who therefore runs it as nobody in particular.
    #[test]
    fn a_read_only_folder_is_reported() {
        const NOBODY: u32 = 65_534;
        let bench = Bench::with(SETTER);
        std::fs::create_dir(bench.path("shut")).expect("a folder");
        let rights = |name: &str, mode: u32| {
            std::fs::set_permissions(bench.path(name), PermissionsExt::from_mode(mode))
                .expect("rights");
        };
        rights("", 0o755);
        rights("shut", 0o555);
        let mut command = bench.command(&["stroke", "tool.toml", "--csv", "shut/out.csv"]);
        if File::create(bench.path("shut/probe")).is_ok() {
            std::fs::remove_file(bench.path("shut/probe")).expect("it is there");
            command.uid(NOBODY).gid(NOBODY);
        }
        let Ok(done) = command.output() else {
            crate::skipped::skipped(
                "the rights of folders do not bind this user, nor can it run the program as another",
            );
            return;
        };
        let said = String::from_utf8_lossy(&done.stderr);
        assert_eq!(done.status.code(), Some(2), "{said}");
        assert!(
            said.contains("shut/out.csv") && said.contains("permission denied"),
            "{said}"
        );
        assert_eq!(
            std::fs::read_dir(bench.path("shut"))
                .expect("a folder")
                .count(),
            0
        );
    }

    #[test]
    fn a_run_that_is_killed_leaves_the_old_file_or_the_new() {
        let bench = Bench::with(SETTER);
        let args = [
            "stroke",
            "tool.toml",
            "-q",
            "--steps",
            "2000",
            "--csv",
            "out.csv",
        ];
        let whole = bench.run(&args).code(0);
        let new = &whole.written["out.csv"];
        for delay in [0, 2, 5, 10, 20, 40, 80] {
            bench.put("out.csv", "old");
            let mut child = bench.command(&args).spawn().expect("the program starts");
            std::thread::sleep(std::time::Duration::from_millis(delay));
            child.kill().expect("it is stopped");
            child.wait().expect("it has ended");
            let now = std::fs::read(bench.path("out.csv")).expect("the file");
            assert!(
                now == b"old" || &now == new,
                "{} bytes after {delay} ms",
                now.len()
            );
        }
    }

    #[test]
    fn two_runs_that_write_one_file_leave_one_of_the_two() {
        let bench = Bench::with(SETTER);
        let steps = ["40", "60"];
        let args = |k: usize| {
            [
                "stroke",
                "tool.toml",
                "-q",
                "--steps",
                steps[k],
                "--csv",
                "out.csv",
            ]
        };
        let whole = [0, 1].map(|k| bench.run(&args(k)).code(0).written["out.csv"].clone());
        for _ in 0..10 {
            let both = [0, 1].map(|k| bench.command(&args(k)).spawn().expect("the program starts"));
            for mut child in both {
                assert!(child.wait().expect("it ends").success());
            }
            let now = std::fs::read(bench.path("out.csv")).expect("the file");
            assert!(whole.contains(&now), "{} bytes", now.len());
        }
    }
}
