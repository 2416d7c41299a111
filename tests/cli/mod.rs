//! The program as its users meet it: arguments and files in; status, text and files out.

mod bad_calls;
mod bad_input;
mod cannot;
mod check;
mod dies;
mod endings;
mod faults;
mod first_use;
mod guarded;
mod help;
mod json;
mod mutations;
mod outputs;
mod ratchet;
mod setup;
mod side_files;
mod stops;
mod stroke;
mod strokes;
mod trial;

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A tool file that is right: a toggle press of four parts.
pub const SETTER: &str = include_str!("setter.toml");

/// A folder of its own with some files, to run the program in.
pub struct Bench {
    folder: tempfile::TempDir,
}

/// How a run ended.
#[derive(Debug)]
pub struct Ended {
    pub code: i32,
    pub out: String,
    pub err: String,
    /// Files that were not there before, or are not what they were.
    pub written: BTreeMap<String, Vec<u8>>,
    /// Files that are gone.
    pub gone: Vec<String>,
}

impl Bench {
    /// A bench with `tool.toml` of this text.
    pub fn with(text: &str) -> Self {
        let bench = Self::empty();
        bench.put("tool.toml", text);
        bench
    }

    pub fn empty() -> Self {
        Self {
            folder: tempfile::tempdir().expect("a folder for a test"),
        }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn put(&self, name: &str, bytes: impl AsRef<[u8]>) {
        std::fs::write(self.path(name), bytes).expect("a file for a test");
    }

    pub fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_jawforce"));
        command
            .args(args)
            .current_dir(self.folder.path())
            .env_remove("NO_COLOR")
            .env_remove("CLICOLOR_FORCE");
        command
    }

    pub fn run(&self, args: &[&str]) -> Ended {
        self.run_with(args, b"")
    }

    /// Runs with these bytes on standard input.
    pub fn run_with(&self, args: &[&str], input: &[u8]) -> Ended {
        let before = self.files();
        let mut child = self
            .command(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        // The program may end without reading: that is no fault of the test.
        let _ = child.stdin.take().map(|mut pipe| pipe.write_all(input));
        let output = child.wait_with_output().expect("the program ends");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("output is UTF-8");
        let after = self.files();
        let gone = before.keys().filter(|name| !after.contains_key(*name));
        let ended = Ended {
            code: output.status.code().expect("no signal ends it"),
            out: text(output.stdout),
            err: text(output.stderr),
            gone: gone.cloned().collect(),
            written: after
                .into_iter()
                .filter(|(name, bytes)| before.get(name) != Some(bytes))
                .collect(),
        };
        for unseemly in [
            "panicked",
            "RUST_BACKTRACE",
            "called `Result",
            "called `Option",
            ".rs:",
        ] {
            assert!(!ended.err.contains(unseemly), "{}", ended.err);
        }
        for number in ["NaN", "inf ", "Infinity"] {
            assert!(!ended.out.contains(number), "{}", ended.out);
        }
        ended
    }

    /// Every file of the bench.
    pub fn files(&self) -> BTreeMap<String, Vec<u8>> {
        let mut found = BTreeMap::new();
        let mut folders = vec![self.folder.path().to_path_buf()];
        while let Some(folder) = folders.pop() {
            for entry in std::fs::read_dir(&folder).expect("a folder") {
                let path = entry.expect("an entry").path();
                if path.is_dir() {
                    folders.push(path);
                } else if let Ok(bytes) = std::fs::read(&path) {
                    let name = path
                        .strip_prefix(self.folder.path())
                        .unwrap_or(Path::new("?"));
                    found.insert(name.display().to_string(), bytes);
                }
            }
        }
        found
    }
}

impl Ended {
    /// Standard output as JSON.
    #[track_caller]
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|e| panic!("{e}: {}{}", self.out, self.err))
    }

    /// Ends with this status.
    #[track_caller]
    pub fn code(self, wanted: i32) -> Self {
        assert_eq!(self.code, wanted, "{}\n{}", self.out, self.err);
        self
    }

    /// Standard error has this text.
    #[track_caller]
    pub fn says(self, phrase: &str) -> Self {
        assert!(
            flat(&self.err).contains(phrase),
            "no {phrase:?} in:\n{}",
            self.err
        );
        self
    }

    /// Standard output has this text.
    #[track_caller]
    pub fn prints(self, phrase: &str) -> Self {
        assert!(
            flat(&self.out).contains(phrase),
            "no {phrase:?} in:\n{}",
            self.out
        );
        self
    }

    /// No file is written, changed, or gone, and no results are printed.
    #[track_caller]
    pub fn leaves_nothing(self) -> Self {
        assert_eq!(self.out, "", "{}", self.err);
        self.leaves_no_file()
    }

    /// No file is written, changed, or gone.
    #[track_caller]
    pub fn leaves_no_file(self) -> Self {
        let names: Vec<&String> = self.written.keys().collect();
        assert!(
            names.is_empty() && self.gone.is_empty(),
            "{names:?} {:?}",
            self.gone
        );
        self
    }

    /// Exactly these files are written, and none is gone.
    #[track_caller]
    pub fn writes(self, wanted: &[&str]) -> Self {
        let names: Vec<&String> = self.written.keys().collect();
        assert_eq!(names, wanted, "{}", self.err);
        assert!(self.gone.is_empty(), "{:?}", self.gone);
        self
    }
}

/// The text with line breaks and runs of blanks as one blank each.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<&str>>().join(" ")
}

/// `text` with each of these pieces, which must be in it, replaced.
#[track_caller]
pub fn edited(text: &str, edits: &[(&str, &str)]) -> String {
    edits.iter().fold(text.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "no {from:?} to change");
        text.replacen(from, to, 1)
    })
}

/// `tool.toml:LINE:` of the line that has this piece.
#[track_caller]
pub fn place(text: &str, piece: &str) -> String {
    let line = text.lines().position(|line| line.contains(piece));
    format!("tool.toml:{}:", line.expect("the piece is in the text") + 1)
}
