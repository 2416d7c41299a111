//! The arrows between the folders of `src` run one way, and only `cli` sees the world.
//!
//! The compiler does not hold this inside one crate, so this test reads the source text.

use std::path::{Path, PathBuf};

/// Every top-level module of the library, from the ground up, with the modules that it may use.
/// A module may only use modules above it in this list. `DEVELOPERS.md` shows the same table.
const MAY_USE: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("geometry", &[]),
    ("numeric", &["geometry"]),
    ("outline", &["geometry", "numeric"]),
    ("coils", &[]),
    ("jobs", &[]),
    ("model", &["units", "coils", "jobs"]),
    ("plates", &["geometry", "outline", "model"]),
    ("limits", &["units", "numeric", "model"]),
    (
        "input",
        &[
            "units", "coils", "jobs", "geometry", "numeric", "outline", "model", "plates", "limits",
        ],
    ),
    ("mechanism", &["units", "geometry", "numeric", "model"]),
    (
        "motion",
        &["units", "geometry", "numeric", "model", "mechanism"],
    ),
    (
        "statics",
        &[
            "units",
            "geometry",
            "numeric",
            "model",
            "mechanism",
            "motion",
        ],
    ),
    (
        "room",
        &[
            "geometry", "numeric", "outline", "model", "motion", "statics",
        ],
    ),
    (
        "strength",
        &[
            "units", "coils", "geometry", "numeric", "outline", "model", "plates", "limits",
            "statics",
        ],
    ),
    (
        "give",
        &[
            "geometry",
            "numeric",
            "model",
            "mechanism",
            "motion",
            "statics",
            "strength",
        ],
    ),
    (
        "measure",
        &[
            "units", "numeric", "model", "limits", "motion", "statics", "give",
        ],
    ),
    (
        "analysis",
        &[
            "units",
            "geometry",
            "numeric",
            "outline",
            "model",
            "plates",
            "room",
            "limits",
            "mechanism",
            "motion",
            "statics",
            "strength",
            "give",
            "measure",
        ],
    ),
    ("scene", &["geometry", "model", "statics", "analysis"]),
    (
        "tolerance",
        &[
            "geometry",
            "numeric",
            "model",
            "mechanism",
            "motion",
            "statics",
            "give",
            "analysis",
            "measure",
        ],
    ),
    (
        "compare",
        &[
            "units",
            "model",
            "limits",
            "statics",
            "analysis",
            "measure",
            "tolerance",
        ],
    ),
    (
        "trial",
        &[
            "numeric",
            "model",
            "motion",
            "statics",
            "analysis",
            "measure",
            "tolerance",
        ],
    ),
    ("tuning", &["numeric"]),
    (
        "tune",
        &[
            "units",
            "model",
            "plates",
            "analysis",
            "measure",
            "tolerance",
            "tuning",
        ],
    ),
    (
        "words",
        &[
            "units",
            "numeric",
            "model",
            "motion",
            "statics",
            "strength",
            "give",
            "measure",
            "analysis",
            "tolerance",
            "tune",
        ],
    ),
    (
        "report",
        &[
            "units",
            "coils",
            "geometry",
            "numeric",
            "outline",
            "model",
            "plates",
            "room",
            "limits",
            "motion",
            "statics",
            "strength",
            "give",
            "analysis",
            "scene",
            "measure",
            "compare",
            "tolerance",
            "trial",
            "tuning",
            "tune",
            "words",
        ],
    ),
    ("output", &["units", "geometry", "report"]),
    (
        "cli",
        &[
            "units",
            "coils",
            "geometry",
            "numeric",
            "model",
            "limits",
            "input",
            "motion",
            "statics",
            "strength",
            "analysis",
            "scene",
            "measure",
            "compare",
            "tolerance",
            "trial",
            "tuning",
            "tune",
            "words",
            "report",
            "output",
        ],
    ),
];

/// Longest file. The aim is one idea in one screenful to 400 lines.
const LONGEST: usize = 500;

/// What only `cli` and `main.rs` may do.
const WORLD: &[&str] = &[
    "std::fs",
    "std::env",
    "std::process",
    "println!",
    "print!",
    "eprintln!",
    "eprint!",
    "stdout()",
    "stderr()",
];

struct Source {
    /// `units/parse.rs`
    name: String,
    /// `units`
    module: String,
    lines: usize,
    /// Without comments and without test modules.
    code: String,
    /// Without comments.
    all: String,
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// All Rust files in a folder and below, sorted.
pub fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    files(folder, &["rs"], found);
}

/// All files below a folder whose names end in one of `endings`.
pub fn files(folder: &Path, endings: &[&str], found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, endings, found);
        } else if path
            .extension()
            .is_some_and(|e| endings.iter().any(|end| e == *end))
        {
            found.push(path);
        }
    }
    found.sort();
}

/// All files of the library but `lib.rs` and `main.rs`.
fn sources() -> Vec<Source> {
    let mut paths = Vec::new();
    rust_files(&root(), &mut paths);
    let texts: Vec<(PathBuf, String)> = paths
        .into_iter()
        .map(|path| (path.clone(), std::fs::read_to_string(path).unwrap()))
        .collect();
    let test_files: Vec<PathBuf> = texts
        .iter()
        .flat_map(|(p, t)| files_of_tests(p, t))
        .collect();
    let mut sources = Vec::new();
    for (path, text) in texts {
        let name = path
            .strip_prefix(root())
            .unwrap()
            .to_str()
            .unwrap()
            .replace('\\', "/");
        if name == "lib.rs" || name == "main.rs" {
            continue;
        }
        let all: String = text
            .lines()
            .filter(|line| !line.trim_start().starts_with("//"))
            .map(|line| format!("{line}\n"))
            .collect();
        // Test modules stand at the end of their file.
        let code = if test_files.contains(&path) {
            ""
        } else {
            all.split("#[cfg(test)]\nmod tests {").next().unwrap()
        };
        let module = name.split('/').next().unwrap().trim_end_matches(".rs");
        sources.push(Source {
            module: module.to_owned(),
            lines: text.lines().count(),
            code: code.to_owned(),
            all: all.clone(),
            name,
        });
    }
    sources
}

/// Files that are modules for tests only: `#[cfg(test)] mod NAME;` in `path`.
fn files_of_tests(path: &Path, text: &str) -> Vec<PathBuf> {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let folder = match path.file_name().and_then(|n| n.to_str()) {
        Some("mod.rs" | "lib.rs") => path.parent().unwrap().to_owned(),
        _ => path.with_extension(""),
    };
    let mut files = Vec::new();
    for (k, _) in lines
        .iter()
        .enumerate()
        .filter(|(_, l)| **l == "#[cfg(test)]")
    {
        let mut next = k + 1;
        let mut stated = None;
        while let Some(line) = lines.get(next).filter(|l| l.starts_with("#[")) {
            if let Some(name) = line.strip_prefix("#[path = \"") {
                stated = Some(name.trim_end_matches("\"]").to_owned());
            }
            next += 1;
        }
        let declared = lines.get(next).copied().unwrap_or("");
        let declared = declared
            .split("mod ")
            .nth(1)
            .and_then(|m| m.strip_suffix(';'));
        match (stated, declared) {
            (Some(file), Some(_)) => files.push(path.parent().unwrap().join(file)),
            (None, Some(module)) => files.push(folder.join(format!("{module}.rs"))),
            _ => {}
        }
    }
    files
}

/// The top-level modules that a text names after `crate::`, grouped imports included.
fn arrows(code: &str) -> Vec<String> {
    let word = |text: &str| -> String {
        text.chars()
            .take_while(|c| c.is_ascii_alphanumeric() || *c == '_')
            .collect()
    };
    let mut found = Vec::new();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + "crate::".len()..];
        let Some(group) = rest.strip_prefix('{') else {
            found.push(word(rest));
            continue;
        };
        let (mut depth, mut first) = (0_usize, true);
        for (k, c) in group.char_indices() {
            match c {
                '{' => depth += 1,
                '}' if depth == 0 => break,
                '}' => depth -= 1,
                ',' if depth == 0 => first = true,
                c if depth == 0 && first && c.is_ascii_alphabetic() => {
                    found.push(word(&group[k..]));
                    first = false;
                }
                _ => {}
            }
        }
    }
    found
}

#[test]
fn grouped_and_plain_paths_are_both_seen() {
    let code = "use crate::{model::{Tool, units}, numeric};\nlet x = crate::motion::Spot::new();";
    assert_eq!(arrows(code), ["model", "numeric", "motion"]);
}

#[test]
fn folders_use_only_what_lies_below_them() {
    for (k, (module, uses)) in MAY_USE.iter().enumerate() {
        let below: Vec<&str> = MAY_USE[..k].iter().map(|(name, _)| *name).collect();
        for used in *uses {
            assert!(
                below.contains(used),
                "the table lets {module} use {used}, which is not below it"
            );
        }
    }
    let mut breaches = Vec::new();
    for source in sources() {
        let Some((_, uses)) = MAY_USE.iter().find(|(name, _)| *name == source.module) else {
            breaches.push(format!(
                "{}: the table does not know this folder",
                source.name
            ));
            continue;
        };
        for used in arrows(&source.all) {
            if used != source.module && !uses.contains(&used.as_str()) {
                breaches.push(format!("{} uses {used}", source.name));
            }
        }
        // Ways out of a folder that do not say `crate`.
        if source.code.contains("super::super") {
            breaches.push(format!("{} says super::super: say crate::..", source.name));
        }
        let at_top = source.name.ends_with("/mod.rs") || !source.name.contains('/');
        if at_top && source.code.contains("super::") {
            breaches.push(format!("{} says super::, say crate::..", source.name));
        }
    }
    assert!(breaches.is_empty(), "{}", breaches.join("\n"));
}

/// The rooms of `output`, from the ground up, with those that each may use.
const ROOMS_OF_OUTPUT: &[(&str, &[&str])] = &[
    ("error", &["finite"]),
    ("finite", &[]),
    ("json", &["error", "finite"]),
    ("picture", &[]),
    ("text", &[]),
    ("sentences", &["text"]),
    ("svg", &["text"]),
    ("csv", &["error", "finite", "text"]),
    ("sheet", &["error", "finite", "svg"]),
    ("chart", &["error", "finite", "text", "sentences", "svg"]),
    (
        "drawing",
        &["error", "finite", "picture", "text", "svg", "sentences"],
    ),
    ("terminal", &["text", "sentences", "chart"]),
    (
        "html",
        &[
            "error",
            "finite",
            "picture",
            "text",
            "sentences",
            "chart",
            "drawing",
            "terminal",
        ],
    ),
];

#[test]
fn rooms_of_output_use_only_what_lies_below_them() {
    let mut breaches = Vec::new();
    for source in sources().iter().filter(|s| s.module == "output") {
        let inside = source.name.trim_start_matches("output/");
        let room = inside.split('/').next().unwrap().trim_end_matches(".rs");
        if room == "mod" || source.code.is_empty() {
            continue;
        }
        let Some((_, uses)) = ROOMS_OF_OUTPUT.iter().find(|(name, _)| *name == room) else {
            breaches.push(format!("{}: the table does not know it", source.name));
            continue;
        };
        let inner = source.code.replace("crate::output::", "inside::");
        let inner = inner
            .replace("crate::", "outside::")
            .replace("inside::", "crate::");
        for used in arrows(&inner) {
            if used != room && !uses.contains(&used.as_str()) {
                breaches.push(format!("{} uses output::{used}", source.name));
            }
        }
    }
    assert!(breaches.is_empty(), "{}", breaches.join("\n"));
}

#[test]
fn the_guide_shows_the_same_table() {
    let guide = Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let guide = std::fs::read_to_string(guide).unwrap();
    for (module, uses) in MAY_USE
        .iter()
        .filter(|(m, _)| root().join(m).is_dir() || root().join(format!("{m}.rs")).is_file())
    {
        let row = guide
            .lines()
            .find(|line| line.starts_with(&format!("| `{module}` |")))
            .unwrap_or_else(|| panic!("DEVELOPERS.md has no row for `{module}`"));
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let exists = |m: &&&str| guide.contains(&format!("| `{m}` |"));
        let expected: Vec<&str> = uses.iter().filter(exists).copied().collect();
        assert_eq!(
            cells[3],
            expected.join(", "),
            "the row of `{module}` in DEVELOPERS.md"
        );
    }
}

#[test]
fn only_the_command_line_sees_the_world() {
    for source in sources().iter().filter(|s| s.module != "cli") {
        for word in WORLD {
            assert!(!source.code.contains(word), "{} says {word}", source.name);
        }
    }
}

#[test]
fn nothing_in_the_library_may_panic_by_unwrapping() {
    for source in sources() {
        for word in [
            ".unwrap()",
            ".expect(",
            "panic!(",
            "unreachable!(",
            "todo!(",
            "unimplemented!(",
        ] {
            assert!(!source.code.contains(word), "{} says {word}", source.name);
        }
    }
}

/// Answers in JSON go through one writer, which refuses what is no number; a value tree of its own would
/// turn that into null, which means "does not exist". The schema of the tool file holds no results.
#[test]
fn json_is_written_in_one_place() {
    for source in sources() {
        let own = [
            "output/json.rs",
            "input/keys/schema.rs",
            "output/finite.rs",
            "output/html/stroke.rs",
        ];
        let writes = source.code.contains("serde_json::to_");
        assert!(
            !writes || own.contains(&source.name.as_str()),
            "{}",
            source.name
        );
    }
}

/// SVG goes through one writer, which escapes texts and knows one format of numbers; templates of the page
/// hold none.
#[test]
fn svg_is_written_in_one_place() {
    for source in sources().iter().filter(|s| s.module == "output") {
        if source.name == "output/svg/writer.rs" {
            continue;
        }
        for tag in ["<svg", "<path", "<line", "<rect", "<circle", "<text", "</"] {
            assert!(!source.code.contains(tag), "{} says {tag}", source.name);
        }
    }
}

/// Numbers in words go through `units::number`, which knows no minus before a zero: `{:.2}` does.
/// Powers of ten are no words.
#[test]
fn numbers_are_rounded_in_one_place() {
    for source in sources() {
        if source.name == "units/number.rs" {
            continue;
        }
        for piece in source.code.split(":.").skip(1) {
            let rounded = piece.split_once('}').is_some_and(|(digits, _)| {
                !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit())
            });
            assert!(!rounded, "{} says :.{}", source.name, &piece[..2]);
        }
    }
}

#[test]
fn files_stay_short() {
    let long: Vec<String> = sources()
        .iter()
        .filter(|source| source.lines > LONGEST)
        .map(|source| format!("{}: {} lines", source.name, source.lines))
        .collect();
    assert!(long.is_empty(), "longer than {LONGEST} lines: {long:?}");
}

/// The first sentence of a file's `//!` comment.
fn first_sentence(text: &str) -> String {
    let doc = text.lines().map_while(|line| line.strip_prefix("//!"));
    let paragraph: Vec<&str> = doc.map(str::trim).take_while(|l| !l.is_empty()).collect();
    let paragraph = paragraph.join(" ");
    let end = paragraph.find(". ").unwrap_or(paragraph.len());
    paragraph[..end].trim_end_matches('.').to_owned()
}

#[test]
fn every_file_says_what_it_is_for() {
    for source in sources().iter().filter(|s| !s.code.is_empty()) {
        let text = std::fs::read_to_string(root().join(&source.name)).unwrap();
        assert!(
            !first_sentence(&text).is_empty(),
            "{} does not say what it is for",
            source.name
        );
    }
}
