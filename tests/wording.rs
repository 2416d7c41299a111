//! Sentences speak the words of a tool room and a design office, and stand where sentences belong.

use crate::architecture::files;
use std::path::{Path, PathBuf};

/// Turns of speech that were found hard to read, with what stands in their place. Texts of formulas keep
/// how their source was read for developers: a report says it its own way.
const WORN: &[(&str, &str)] = &[
    ("has had to give", "the hand had to supply"),
    ("load, held still", "a single static load"),
    ("not looked at", "not checked"),
    ("asks for nothing", "the work needs nothing"),
    ("reckoned", "calculated"),
    ("not judged", "not checked"),
    ("takes for granted", "assumptions and limits"),
    ("comes back to where it began", "a closed loop"),
    ("beside it", "out-of-plane"),
    ("nothing gives", "everything is rigid"),
    ("tool as drawn", "nominal tool"),
    ("by the span", "depending on grip span"),
    ("in the hand\"", "hand force"),
    ("Give:", "Compliance:"),
    ("least first", "lowest first"),
    ("least factor is", "lowest factor"),
    ("reads well", "file is valid"),
    (
        "where the file does not say",
        "assumed, since the file is silent",
    ),
    (", wanted {", "the bound by itself"),
    ("play taken up", "clearance taken up"),
    ("points of the ranges", "combinations"),
    ("M of the force over F", "moment / force"),
    ("<th>is</th>", "result, stress"),
    ("hand, opposite", "hand reaction"),
];

/// Folders whose sentences a user reads.
const SPEAK: [&str; 5] = ["words", "report", "limits", "output", "cli"];

/// Stages that keep data: their sentences stand in `words`.
const SILENT: [&str; 9] = [
    "mechanism",
    "motion",
    "statics",
    "strength",
    "give",
    "measure",
    "analysis",
    "tolerance",
    "tuning",
];

fn code(folder: &str) -> Vec<(PathBuf, String)> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    files(&src.join(folder), &["rs", "html"], &mut paths);
    let read = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).unwrap();
        let lines = text.lines().filter(|l| {
            let line = l.trim_start();
            // What is typed with three slashes in `args.rs` is help, which users read.
            !line.starts_with("//") || path.ends_with("cli/args.rs")
        });
        // A sentence that goes on in the next line is one sentence.
        let joined: Vec<&str> = lines.map(|l| l.trim().trim_end_matches('\\')).collect();
        let joined = joined.join(" ").replace("  ", " ");
        (path, joined)
    };
    paths.into_iter().map(read).collect()
}

#[test]
fn worn_turns_of_speech_do_not_come_back() {
    let mut found = Vec::new();
    for (path, text) in SPEAK.into_iter().flat_map(code) {
        for (worn, better) in WORN {
            if text.contains(worn) {
                found.push(format!("{}: \"{worn}\": say \"{better}\"", path.display()));
            }
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn stages_below_the_words_keep_data_and_no_sentences() {
    for (path, text) in SILENT.into_iter().flat_map(code) {
        for sentence in ["fn text(", "fn words(", "why: &'static str"] {
            assert!(!text.contains(sentence), "{}: {sentence}", path.display());
        }
    }
}
