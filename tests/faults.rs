//! What may differ around the program: two runs at once, language and time zone, odd names, places
//! that cannot be written. Full disks and kills are in `cli/faults.rs`.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn command<I: AsRef<OsStr>>(args: &[I]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jawforce"));
    command.args(args);
    command
}

fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("demo-data")
        .join(name)
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// A message for people, and no sign of a panic.
fn fails_with(done: &Output, code: i32, phrase: &str) {
    let said = text(&done.stderr);
    assert_eq!(done.status.code(), Some(code), "{said}");
    assert!(said.contains(phrase), "{phrase}: {said}");
    assert!(!said.contains("panicked"), "{said}");
}

/// Two runs on one file: it is one result or the other, whole, and nothing is left beside it.
#[test]
fn two_runs_write_one_file() {
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("out.csv");
    let results: Vec<Vec<u8>> = ["75", "90"]
        .iter()
        .map(|grip| {
            let file = demo("eyelet-toggle.toml");
            let args = [
                "stroke",
                file.to_str().unwrap(),
                "--grip",
                grip,
                "--csv",
                "-",
            ];
            command(&args).output().unwrap().stdout
        })
        .collect();
    assert_ne!(results[0], results[1]);
    for _ in 0..10 {
        let start = |grip: &str| {
            let file = demo("eyelet-toggle.toml");
            let args = [
                "stroke",
                file.to_str().unwrap(),
                "-q",
                "--grip",
                grip,
                "--csv",
            ];
            command(&args).arg(&target).spawn().unwrap()
        };
        let mut both = [start("75"), start("90")];
        for run in &mut both {
            assert!(run.wait().unwrap().success());
        }
        let left = std::fs::read(&target).unwrap();
        assert!(results.contains(&left));
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }
}

/// Neither language, nor time zone, nor the folder that one stands in changes a byte.
#[test]
fn surroundings_do_not_change_results() {
    let run = |settings: &[(&str, &str)]| {
        let mut command = command(&["stroke", "eyelet-toggle.toml", "--json"]);
        let demo_data = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
        command.current_dir(demo_data).env_clear();
        for (name, value) in settings {
            command.env(name, value);
        }
        command.output().unwrap().stdout
    };
    let plain = run(&[]);
    assert!(plain.len() > 1000);
    for settings in [
        [
            ("LC_ALL", "de_DE.UTF-8"),
            ("LANG", "de_DE.UTF-8"),
            ("TZ", "Asia/Kathmandu"),
        ],
        [
            ("LC_ALL", "tr_TR"),
            ("LC_NUMERIC", "fr_FR"),
            ("TZ", ":no/such/zone"),
        ],
        [
            ("COLUMNS", "3"),
            ("CLICOLOR_FORCE", "1"),
            ("RUST_BACKTRACE", "full"),
        ],
    ] {
        assert_eq!(run(&settings), plain, "{settings:?}");
    }
}

#[test]
fn files_with_odd_names_and_kinds() {
    let folder = tempfile::tempdir().unwrap();
    let good = std::fs::read_to_string(demo("wire-crimp-pliers.toml")).unwrap();
    // A name that looks like an option is taken after `--`, or with its folder.
    std::fs::write(folder.path().join("-tool.toml"), &good).unwrap();
    for args in [
        vec!["check", "-q", "--", "-tool.toml"],
        vec!["check", "-q", "./-tool.toml"],
    ] {
        let mut run = command(&args);
        let done = run.current_dir(folder.path()).output().unwrap();
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    }
    #[cfg(target_os = "linux")]
    {
        use std::os::unix::ffi::OsStrExt;
        // A name that is no text.
        let odd = folder.path().join(OsStr::from_bytes(b"t\xff.toml"));
        std::fs::write(&odd, &good).unwrap();
        let done = command(&[OsStr::new("stroke"), odd.as_os_str()])
            .output()
            .unwrap();
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    }
}

/// A folder that cannot be written. As the superuser permissions do not hold, so there a path below
/// a file must do.
#[test]
fn a_place_that_cannot_be_written_is_said_before_the_work() {
    let folder = tempfile::tempdir().unwrap();
    let file = demo("eyelet-toggle.toml");
    let file = file.to_str().unwrap();
    let below = folder.path().join("plain");
    std::fs::write(&below, "a file").unwrap();
    let below = below.join("out.svg");
    let done = command(&["stroke", file, "--svg", below.to_str().unwrap()])
        .output()
        .unwrap();
    fails_with(&done, 2, "out.svg");
    assert!(done.stdout.is_empty(), "nothing is printed either");
    let shut = folder.path().join("shut");
    std::fs::create_dir(&shut).unwrap();
    let mut rights = std::fs::metadata(&shut).unwrap().permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(&shut, rights).unwrap();
    if std::fs::write(shut.join("probe"), "").is_err() {
        let target = shut.join("out.svg");
        let done = command(&["stroke", file, "--svg", target.to_str().unwrap()])
            .output()
            .unwrap();
        fails_with(&done, 2, "out.svg: cannot be written");
        assert!(done.stdout.is_empty());
    }
}
