//! Sentences speak the words of a tool room and a design office, and stand where sentences belong.

use crate::architecture::files;
use std::collections::BTreeSet;
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
    (
        "Ring with cross",
        "\u{2297} stall: the hand reaches its limit here",
    ),
    (
        "Checks, relative",
        "numerical checks, folded away on a page",
    ),
    (
        "(unconfirmed figure)",
        "a mark at the source and one footnote",
    ),
    ("samples: the tool", "1 sample never reaches that position"),
    ("by {met} of", "a whole percentage of the sampled tools"),
    ("tool's give", "the tool's compliance"),
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
            // What is typed with three slashes in `cli/args` is help, which users read.
            !line.starts_with("//") || path.parent().is_some_and(|p| p.ends_with("cli/args"))
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

/// Files of the silent stages whose texts are no sentences: formulas with their sources, names of checks,
/// and what the system says where it has no threads left.
const TEXTS: [&str; 3] = [
    "strength/formulas",
    "analysis/agree.rs",
    "tolerance/sample.rs",
];

/// The texts between quotation marks in a line of code.
fn quoted(text: &str) -> impl Iterator<Item = &str> {
    text.split('"').skip(1).step_by(2)
}

#[test]
fn stages_below_the_words_make_no_sentence() {
    let mut found = Vec::new();
    for (path, text) in SILENT.into_iter().flat_map(code) {
        let place = path.display().to_string();
        if place.ends_with("tests.rs") || TEXTS.iter().any(|known| place.contains(known)) {
            continue;
        }
        let own = text.split("#[cfg(test)]").next().unwrap_or_default();
        let sentences = quoted(own).filter(|t| t.split_whitespace().count() > 4);
        found.extend(sentences.map(|t| format!("{place}: {t}")));
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// Names in code that say how somebody speaks in place of what happens.
const NAMES: [&str; 7] = [
    "told", "untold", "reckons", "reckoned", "lean", "asks", "spoiled",
];

#[test]
fn names_in_code_say_what_happens() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut paths = Vec::new();
    for folder in ["src", "tests", "examples", "benches"] {
        files(&root.join(folder), &["rs"], &mut paths);
    }
    let mut found = Vec::new();
    for path in paths.iter().filter(|p| !p.ends_with("wording.rs")) {
        let text = std::fs::read_to_string(path).unwrap();
        let code = text.lines().filter(|l| !l.trim_start().starts_with("//"));
        for line in code {
            // What stands between quotation marks is text.
            let bare: String = line.split('"').step_by(2).collect();
            let names = bare.split(|c: char| !c.is_alphanumeric() && c != '_');
            let worn = names.filter(|name| name.split('_').any(|word| NAMES.contains(&word)));
            found.extend(worn.map(|name| format!("{}: {name}", path.display())));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// What the program says to these arguments, from the folder of the project.
fn said(args: &[&str]) -> String {
    let done = std::process::Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(args)
        .output()
        .unwrap();
    String::from_utf8(done.stdout).unwrap()
}

const TOGGLE: &str = "demo-data/eyelet-toggle.toml";

#[test]
fn a_force_of_the_work_is_named_as_one() {
    let drawing = said(&["draw", TOGGLE, "--at", "shut"]);
    assert!(drawing.contains("from work, at nose: 1126 N<"));
    let sheet = said(&["draw", TOGGLE, "--at", "shut", "--part", "ram"]);
    assert!(sheet.contains(">from work, at nose<"), "the table");
    assert!(said(&["loads", TOGGLE]).contains("\n  from work, at nose "));
    // For programs the name stays what it was.
    assert!(said(&["loads", TOGGLE, "--json"]).contains("\"work at nose\""));
    assert!(said(&["loads", TOGGLE, "--csv", "-"]).contains(",work at nose,"));
}

#[test]
fn a_limit_of_the_file_says_that_it_is_a_table_there() {
    let text = said(&["stroke", "demo-data/pin-plunger.toml"]);
    let sentence = "Hand limit: 121 to 170 N, depending on grip span (table in the tool file).";
    assert!(text.contains(sentence), "{text}");
}

#[test]
fn the_mark_of_a_stall_is_explained_by_itself() {
    let chart = said(&["stroke", TOGGLE, "--quiet", "--svg", "-"]);
    assert!(chart.contains("\u{2297} stall: the hand reaches its limit here"));
}

#[test]
fn an_unconfirmed_figure_is_said_once_below_its_sources() {
    let loads = said(&["loads", TOGGLE]);
    assert_eq!(loads.matches("unconfirmed").count(), 1);
    assert!(loads.contains("*: unconfirmed figure; verify it against the source."));
    let marked = loads
        .split_whitespace()
        .filter(|w| w.ends_with("*]"))
        .count();
    assert!(marked > 0);
    assert!(!loads.contains("from memory"));
    // Of sources that have all been looked up there is no such word: every pin here is in double shear.
    let json: serde_json::Value =
        serde_json::from_str(&said(&["loads", TOGGLE, "--json"])).unwrap();
    let factors = json["factors"].as_array().unwrap();
    // Every formula stands once, whatever the number of its rows.
    let unconfirmed = factors.iter().filter(|f| f["unconfirmed"] == true);
    let formulas: BTreeSet<[String; 2]> = unconfirmed
        .map(|f| ["formula", "source"].map(|key| f[key].to_string()))
        .collect();
    assert_eq!(formulas.len(), marked);
}

/// A page without its scripts, drawings' ids and the inputs in full.
fn page(files: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("review.html");
    let mut args = vec!["report", "-o", path.to_str().unwrap()];
    args.extend(files);
    said(&args);
    let mut page = std::fs::read_to_string(&path).unwrap();
    for (from, to) in [
        ("<style>", "</style>"),
        ("<script>", "</script>"),
        ("<pre ", "</pre>"),
    ] {
        while let Some(start) = page.find(from) {
            let end = start + page[start..].find(to).unwrap() + to.len();
            page.replace_range(start..end, "");
        }
    }
    page
}

#[test]
fn a_page_names_measures_in_plain_words_and_folds_its_checks_away() {
    let page = page(&[TOGGLE, "demo-data/pin-plunger.toml"]);
    let mut text = String::new();
    for piece in page.split('<').skip(1) {
        text.push_str(piece.split_once('>').map_or("", |(_, text)| text));
        text.push('\n');
    }
    for raw in [
        "hand_force",
        "jaw_force",
        "pin_load",
        "hand_share",
        "hand_work",
        "jaw_work",
        "gap=",
        "handle=",
        "span=",
    ] {
        assert!(!text.contains(raw), "{raw}");
    }
    for plain in ["jaw force at shut", "hand force, peak", "strength factor"] {
        assert!(text.contains(plain), "{plain}");
    }
    let folded: Vec<&str> = page.split("<details class=\"checks\">").skip(1).collect();
    assert_eq!(folded.len(), 2, "one for each tool");
    for piece in folded {
        let (inside, after) = piece.split_once("</details>").unwrap();
        assert!(inside.starts_with("<summary>Numerical checks</summary>"));
        assert!(inside.contains("Loops close to"));
        assert!(inside.contains("balance to"));
        assert!(!after.contains("oops close to"), "nowhere else");
    }
}

#[test]
fn shares_of_sampled_tools_are_whole_percentages() {
    let text = said(&["tolerance", TOGGLE, "--samples", "300"]);
    let json = said(&["tolerance", TOGGLE, "--samples", "300", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let met = json["all_met"].as_u64().unwrap();
    let whole = (met as f64 / 3.0).round();
    let sentence =
        format!("As made: {whole} % of the sampled tools meet every demand ({met} of 300); ");
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains(&sentence), "{sentence}");
    // Some demands are met by all, and one by some only.
    assert!(text.contains("all 300 sampled tools meet it"));
    assert!(!text.contains("100 %"));
}

#[test]
fn a_made_tool_keeps_its_bought_spring_says_the_key() {
    let keys = said(&["keys", "springs"]);
    let flat = keys.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("a tool made within its tolerances has the same bought spring"));
}

/// What is fitted to a page is fitted to that of the file's units, in its inches.
#[test]
fn a_drawing_is_fitted_to_the_paper_of_its_units() {
    let fitted = |units: &str| {
        let folder = tempfile::tempdir().unwrap();
        let svg = folder.path().join("fit.svg");
        let svg = svg.to_str().unwrap();
        said(&[
            "draw", TOGGLE, "--scale", "fit", "--units", units, "--svg", svg,
        ])
    };
    let (metric, inch) = (fitted("mm-N"), fitted("in-lbf"));
    assert!(metric.contains("prints on A4"), "{metric}");
    assert!(inch.contains("prints on Letter"), "{inch}");
}

#[test]
fn stages_below_the_words_keep_data_and_no_sentences() {
    for (path, text) in SILENT.into_iter().flat_map(code) {
        for sentence in ["fn text(", "fn words(", "why: &'static str"] {
            assert!(!text.contains(sentence), "{}: {sentence}", path.display());
        }
    }
}

/// The two numbers of a place as the data has it: `at (1.5 mm, -2 mm) of the part`.
fn pair(place: &str) -> Option<[f64; 2]> {
    let (x, y) = place
        .strip_prefix("at (")?
        .split_once(')')?
        .0
        .split_once(", ")?;
    let number = |text: &str| text.strip_suffix(" mm")?.parse().ok();
    Some([number(x)?, number(y)?])
}

/// A place on a part is said so that a rule finds it, and its distances are those of the coordinates that the data has.
#[test]
fn places_on_parts_are_measured_from_points_that_have_names() {
    let mut measured = 0;
    for file in [
        TOGGLE,
        "demo-data/sleeve-crimper.toml",
        "demo-data/ferrule-crimper.toml",
    ] {
        let text = page(&[file]);
        let (table, _) = text.split_once("Formulas and their sources").unwrap();
        assert!(!table.contains(") of the part"), "{file}");
        let doc: toml::Table = std::fs::read_to_string(file).unwrap().parse().unwrap();
        let loads: serde_json::Value =
            serde_json::from_str(&said(&["loads", file, "--json"])).unwrap();
        let of = |part: &str, name: &str| -> Option<[f64; 2]> {
            let part = doc["parts"].get(part)?;
            let named = ["pins", "marks"].map(|kind| part.get(kind).and_then(|all| all.get(name)));
            let at = named.into_iter().flatten().next()?.as_array()?;
            let number = |v: &toml::Value| v.as_float().or(v.as_integer().map(|n| n as f64));
            Some([number(&at[0])?, number(&at[1])?])
        };
        let mut known: std::collections::BTreeMap<(String, &str), Vec<[f64; 2]>> =
            std::collections::BTreeMap::new();
        for factor in loads["factors"].as_array().unwrap() {
            if let Some(at) = factor["place"].as_str().and_then(pair) {
                let part = factor["subject"].as_str().unwrap();
                let begin = format!("{part}, {} ", factor["check"].as_str().unwrap());
                known.entry((begin, part)).or_default().push(at);
            }
        }
        for ((begin, part), places) in &known {
            for cell in table
                .split('>')
                .filter_map(|piece| piece.strip_prefix(begin.as_str()))
            {
                let spot = cell.split('<').next().unwrap();
                let Some((mm, name)) = spot.split(" and ").next().unwrap().split_once(" mm from ")
                else {
                    continue;
                };
                let (mm, own): (f64, _) = (mm.parse().unwrap(), of(part, name).unwrap());
                let off = |at: &[f64; 2]| ((own[0] - at[0]).hypot(own[1] - at[1]) - mm).abs();
                assert!(
                    places.iter().any(|at| off(at) < 0.06),
                    "{file}: {part} {spot}"
                );
                measured += 1;
            }
        }
    }
    assert!(measured > 5, "{measured}");
}
