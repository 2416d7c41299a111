//! The keys of the tool file, as `keys` prints them, against what the reader takes.
//!
//! The reader is asked from outside: single values of a file that has every key are replaced, and what
//! the reader says about them must be what the listing says.

use crate::editors::Schema;
use jawforce::input::{Problems, read_tool};
use jawforce::model::Tool;
use std::collections::{BTreeMap, BTreeSet};
use std::process::{Command, Output};
use toml_edit::{DocumentMut, Item, TableLike, Value};

const EVERYTHING: &str = include_str!("files/everything.toml");
/// What the reader says of a key or name that does not exist.
const UNKNOWN: &[&str] = &[
    "unknown-key",
    "not-modelled",
    "unknown-point",
    "unknown-part",
    "unknown-pin",
    "unknown-dimension",
];
/// What it says of a value of a wrong kind.
const WRONG: &[&str] = &["wrong-type", "wrong-unit", "unknown-word"];

fn run(args: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jawforce"));
    command.args(args).env("NO_COLOR", "1");
    command.output().unwrap()
}

fn printed(args: &[&str]) -> String {
    let done = run(args);
    assert!(done.status.success() && done.stderr.is_empty(), "{args:?}");
    String::from_utf8(done.stdout).unwrap()
}

fn listing() -> serde_json::Value {
    serde_json::from_str(&printed(&["keys", "--json"])).unwrap()
}

/// A key of the listing, and where it stands in a file.
struct Line {
    /// The top-level table: `hand`.
    table: String,
    /// The key within it: `against.line`.
    key: String,
    kind: String,
    units: Vec<String>,
    words: Vec<String>,
    default: Option<String>,
    example: String,
}

fn lines() -> Vec<Line> {
    let text = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
    let texts = |value: &serde_json::Value| value.as_array().unwrap().iter().map(text).collect();
    let listing = listing();
    let tables = listing["tables"].as_array().unwrap();
    let lines = tables.iter().flat_map(|table| {
        let keys = table["keys"].as_array().unwrap().iter();
        keys.map(|key| Line {
            table: text(&table["table"]),
            key: text(&key["key"]),
            kind: text(&key["kind"]),
            units: texts(&key["units"]["mm-N"]),
            words: texts(&key["words"]),
            default: key["default"].as_str().map(str::to_owned),
            example: text(&key["example"]),
        })
    });
    lines.collect()
}

impl Line {
    /// Whether it stands for names of the file.
    fn named(&self) -> bool {
        self.key.chars().any(char::is_uppercase)
    }
}

fn read(text: &str) -> Result<Tool, Problems> {
    read_tool(text, &crate::models::beside).map(|read| read.tool)
}

/// The places in the file of a top-level table where its keys stand: the table, each table of a
/// list, or each table by a name.
fn places(file: &DocumentMut, table: &str) -> Vec<Vec<String>> {
    let below = |inner: &str| vec![table.to_owned(), inner.to_owned()];
    match &file[table] {
        Item::ArrayOfTables(list) => (0..list.len()).map(|k| below(&k.to_string())).collect(),
        Item::Table(inner) if ["parts", "materials", "sections", "outlines"].contains(&table) => {
            inner.iter().map(|(name, _)| below(name)).collect()
        }
        _ => vec![vec![table.to_owned()]],
    }
}

fn at<'f>(file: &'f mut DocumentMut, place: &[String]) -> &'f mut dyn TableLike {
    let first = file.get_mut(&place[0]).unwrap();
    match place.get(1) {
        None => first.as_table_like_mut().unwrap(),
        Some(step) => match first {
            Item::ArrayOfTables(list) => list.get_mut(step.parse().unwrap()).unwrap(),
            other => other.get_mut(step).unwrap().as_table_like_mut().unwrap(),
        },
    }
}

/// Sets a key at a place, or takes it out; false where the table inside of which it would stand is not there.
fn replace(file: &mut DocumentMut, place: &[String], key: &str, value: Option<Value>) -> bool {
    let mut here = at(file, place);
    let mut steps: Vec<&str> = key.split('.').collect();
    let last = steps.pop().unwrap();
    for step in steps {
        let inner = match here.get_mut(step) {
            // Of a list of tables, the first that has the key.
            Some(Item::Value(Value::Array(list))) => {
                let mut tables = list.iter_mut().filter_map(Value::as_inline_table_mut);
                let found = tables.find(|table| table.contains_key(last));
                found.map(|table| table as &mut dyn TableLike)
            }
            other => other.and_then(Item::as_table_like_mut),
        };
        let Some(inner) = inner else { return false };
        here = inner;
    }
    match value {
        Some(value) => here.insert(last, Item::Value(value)),
        None => here.remove(last),
    };
    true
}

/// Whether a key says a place of the stroke.
fn is_position(key: &str) -> bool {
    ["at", "open", "shut", "engages", "frees"].contains(&key)
}

/// Whether the table at a place takes a key, so far as that hangs on what else stands there.
fn takes(file: &DocumentMut, place: &[String], key: &str) -> bool {
    let here = table_at(file, place);
    let (above, last) = key.rsplit_once('.').unwrap_or(("", key));
    let border = match key.split('.').next().unwrap() {
        "belts" | "throat" => "round",
        "start" => "path",
        other => other,
    };
    // An outline has a border of one kind, and a measure of the whole stroke is read nowhere.
    let other_kind = ["round", "path", "mirror"].contains(&border) && !here.contains_key(border);
    let whole = (above == "at" || key == "at") && !here.contains_key("at");
    if (place[0] == "outlines" && other_kind) || whole {
        return false;
    }
    // These are set as one value, see `give`.
    let set = match ["path", "holes"].contains(&above) || is_position(above) {
        true => above,
        false => key,
    };
    let steps = set.rsplit_once('.').map_or("", |(steps, _)| steps);
    let mut here = here;
    for step in steps.split('.').filter(|step| !step.is_empty()) {
        let inner = match here.get(step) {
            Some(Item::Value(Value::Array(list))) => {
                let mut tables = list.iter().filter_map(Value::as_inline_table);
                let found = tables.find(|table| table.contains_key(last));
                found.map(|table| table as &dyn TableLike)
            }
            other => other.and_then(Item::as_table_like),
        };
        match inner {
            Some(inner) => here = inner,
            None => return false,
        }
    }
    true
}

/// The table at a place.
fn table_at<'a>(file: &'a DocumentMut, place: &[String]) -> &'a dyn TableLike {
    let first = &file[&place[0]];
    match (place.get(1), first) {
        (None, first) => first.as_table_like().unwrap(),
        (Some(step), Item::ArrayOfTables(list)) => list.get(step.parse().unwrap()).unwrap(),
        (Some(step), other) => other.get(step).unwrap().as_table_like().unwrap(),
    }
}

/// Sets a listed key at a place, so that nothing else stands in its way: a place of the stroke has one key, a grip goes
/// with a span and a jaw with a gap. False where the table does not take the key.
fn give(file: &mut DocumentMut, place: &[String], key: &str, to: &str) -> bool {
    let (above, last) = key.rsplit_once('.').unwrap_or(("", key));
    if !takes(file, place, key) {
        return false;
    }
    match (above, last) {
        ("path", last) => {
            let leg = match last {
                "to" => format!("{{ to = {to} }}"),
                "tangent" => format!("{{ to = [30, 0], smooth = [[36, -20]], tangent = {to} }}"),
                _ => format!("{{ to = [30, 0], {last} = {to} }}"),
            };
            replace(file, place, above, Some(value(&format!("[{leg}]"))))
        }
        ("holes", last) => {
            let beside = match last {
                "at" => "diameter = 4",
                "pin" => "diameter = 0",
                "slot" => "width = 5",
                "width" => "slot = [[10, -65], [25, -65]]",
                "clearance" => "pin = \"heel\"",
                _ => "at = [-10, -60]",
            };
            let hole = format!("[{{ {beside}, {last} = {to} }}]");
            replace(file, place, above, Some(value(&hole)))
        }
        (above, "grip") if is_position(above) => {
            let both = format!("{{ span = 70, grip = {to} }}");
            replace(file, place, above, Some(value(&both)))
        }
        (above, "jaw") if is_position(above) => {
            let both = format!("{{ gap = 9, jaw = {to} }}");
            replace(file, place, above, Some(value(&both)))
        }
        (above, last) if is_position(above) => {
            let one = format!("{{ {last} = {to} }}");
            replace(file, place, above, Some(value(&one)))
        }
        _ => replace(file, place, key, Some(value(to))),
    }
}

/// The same as text.
fn with(file: &DocumentMut, place: &[String], key: &str, to: &str) -> Option<String> {
    let mut file = file.clone();
    give(&mut file, place, key, to).then(|| file.to_string())
}

/// The file with a key set at a place, or taken out, as text.
fn changed(
    file: &DocumentMut,
    place: &[String],
    key: &str,
    value: Option<Value>,
) -> Option<String> {
    let mut file = file.clone();
    replace(&mut file, place, key, value).then(|| file.to_string())
}

fn everything() -> DocumentMut {
    let mut file: DocumentMut = EVERYTHING.parse().unwrap();
    // Keys that the file cannot have as it stands.
    let scale = "{ from = [0, 0], to = [0, 100], length = 50, origin = \"knee\" }";
    let sketch = at(&mut file, &["sketch".to_owned()]);
    sketch.insert("scale", Item::Value(value(scale)));
    sketch.insert("horn", Item::Value(value("[41, -30]")));
    // A hand holds it.
    let bench: DocumentMut = "[bench]\nat = [0, -80]\nup = 90\n".parse().unwrap();
    file.insert("bench", bench["bench"].clone());
    let hand = at(&mut file, &["hand".to_owned()]);
    hand.insert("palm", Item::Value(value("false")));
    hand.insert("push", Item::Value(value("\"square\"")));
    let other = at(&mut file, &["hand".to_owned(), "against".to_owned()]);
    other.insert("smooth", Item::Value(value("true")));
    file
}

fn value(text: &str) -> Value {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// The codes among `of` of what the reader says.
fn complaints(text: &str, of: &[&str]) -> Vec<String> {
    let found = read(text).err().map(|problems| problems.to_vec());
    let found = found.unwrap_or_default();
    let said = found.iter().filter(|problem| of.contains(&problem.code));
    said.map(|problem| format!("{}: {}", problem.code, problem.message))
        .collect()
}

#[test]
fn the_codes_that_these_tests_look_for_exist() {
    let cases = [
        ("smoth = true", "unknown-key"),
        ("smooth = 1", "wrong-type"),
        ("force = \"3 mm\"", "wrong-unit"),
        ("push = \"sideways\"", "unknown-word"),
    ];
    for (line, code) in cases {
        let text = format!("[tool]\nunits = \"mm-N\"\n[parts.a]\nfixed = true\n[hand]\n{line}\n");
        let found = read(&text).unwrap_err();
        assert!(
            found.iter().any(|problem| problem.code == code),
            "{line}: {:?}",
            found.iter().map(|p| p.code).collect::<Vec<_>>()
        );
    }
}

#[test]
fn every_key_listed_is_taken_with_its_example_by_reader_and_schema() {
    let (file, schema) = (everything(), Schema::printed());
    for line in lines().iter().filter(|line| !line.named()) {
        // The unit of a spring's rate hangs on its other keys: one table that takes it is enough.
        let (mut tried, mut fits) = (0, false);
        for place in places(&file, &line.table) {
            let text = with(&file, &place, &line.key, &line.example);
            let Some(text) = text else { continue };
            tried += 1;
            let wrong = complaints(&text, &["unknown-key", "wrong-type"]);
            assert!(wrong.is_empty(), "[{}] {}: {wrong:?}", line.table, line.key);
            fits |= complaints(&text, WRONG).is_empty();
            let said = schema.complaint(&text);
            assert_eq!(said, None, "[{}] {}", line.table, line.key);
        }
        assert!(
            fits,
            "[{}] {}: no table takes the example",
            line.table, line.key
        );
        assert!(tried > 0, "[{}] {} was not tried", line.table, line.key);
    }
}

#[test]
fn every_key_listed_has_its_kind_for_reader_and_schema() {
    let (file, schema) = (everything(), Schema::printed());
    // The word for a quantity, the unit of its bare numbers, a text with a unit of that kind.
    let units = [
        ("length", "mm", "\"3 mm\""),
        ("force", "N", "\"3 N\""),
        ("angle", "deg", "\"3 deg\""),
        ("stress", "MPa", "\"3 MPa\""),
        ("rate", "N/mm", "\"3 N/mm\""),
        ("torque", "N mm", "\"3 N mm\""),
        ("turning rate", "N mm/deg", "\"3 N mm/deg\""),
        ("density", "kg/m3", "\"3000 kg/m3\""),
    ];
    let mut by_unit = 0;
    for line in lines().iter().filter(|line| !line.named()) {
        let name = format!("[{}] {}", line.table, line.key);
        let said_at = |place: &[String], to: &str| {
            let text = with(&file, place, &line.key, to)?;
            Some(complaints(&text, &[WRONG, UNKNOWN].concat()))
        };
        // A date is of no kind, so where it is taken the key is not read: others exclude it.
        let mut places = places(&file, &line.table);
        places.retain(|place| said_at(place, "1999-12-31").is_some_and(|said| !said.is_empty()));
        assert!(!places.is_empty(), "{name}: a date");
        for place in &places {
            let date = with(&file, place, &line.key, "1999-12-31").unwrap();
            assert!(schema.complaint(&date).is_some(), "{name}: a date");
        }
        let said = |to: &str| -> Vec<Vec<String>> {
            let all = places.iter().filter_map(|place| said_at(place, to));
            all.collect()
        };
        // Where a quantity is taken: units of its kind, and no others.
        let kinds: Vec<&str> = line.kind.split(" or ").collect();
        if units.iter().any(|(word, ..)| kinds.contains(word)) {
            for (word, unit, text) in units {
                let said = said(text);
                let taken = said.iter().any(Vec::is_empty);
                assert_eq!(taken, kinds.contains(&word), "{name} with {text}: {said:?}");
                assert!(
                    !taken || line.units.iter().any(|known| known == unit),
                    "{name}"
                );
                by_unit += 1;
            }
        }
        if line.kind == "true or false" {
            assert!(said("1").iter().all(|s| !s.is_empty()), "{name}: a number");
            assert!(said("true").iter().all(Vec::is_empty), "{name}: true");
        }
        if line.kind.starts_with("name of") || line.kind == "text" || line.kind == "part.point" {
            assert!(said("1").iter().all(|s| !s.is_empty()), "{name}: a number");
        }
        if line.kind.starts_with("whole number") {
            assert!(said("2.5").iter().all(|s| !s.is_empty()), "{name}: 2.5");
        }
        // Measures are in the words too, and some of them hang on names of the file.
        if !line.kind.starts_with("measure") {
            for word in &line.words {
                let said = said(&format!("\"{word}\""));
                assert!(said.iter().any(Vec::is_empty), "{name}: {word}: {said:?}");
            }
            if !line.words.is_empty() {
                let other = said("\"neither-of-them\"");
                assert!(other.iter().all(|s| !s.is_empty()), "{name}: any word");
            }
        }
    }
    assert!(by_unit > 100, "{by_unit}");
}

/// Words of the reader's source that could be keys.
fn words_of_the_reader() -> BTreeSet<String> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/input");
    let mut words = BTreeSet::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            continue;
        }
        let text = std::fs::read_to_string(path).unwrap();
        let good = |word: &&str| {
            !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c == '_')
        };
        words.extend(text.split('"').filter(good).map(str::to_owned));
        words.extend(text.split('`').filter(good).map(str::to_owned));
    }
    words
}

/// How many strange keys are tried at once: fewer than are told of one kind.
const TOGETHER: usize = 18;

/// Whether one of these complaints is about a word.
fn names(wrong: &[String], word: &str) -> bool {
    wrong.iter().any(|said| said.contains(&format!("`{word}`")))
}

#[test]
fn reader_and_schema_take_no_key_that_is_not_listed() {
    let (file, schema) = (everything(), Schema::printed());
    let lines = lines();
    let mut words = words_of_the_reader();
    let keys = lines.iter().filter(|line| !line.named());
    words.extend(keys.flat_map(|line| line.key.split('.').map(str::to_owned)));
    assert!(words.len() > 100 && words.contains("thickness"));
    let (mut refused, mut taken) = (0, BTreeSet::new());
    let tables: BTreeSet<&str> = lines.iter().map(|line| line.table.as_str()).collect();
    for table in &tables {
        let mut inside: Vec<&str> = vec![""];
        let of_table = || lines.iter().filter(|line| line.table == *table);
        inside.extend(of_table().filter_map(|line| Some(line.key.rsplit_once('.')?.0)));
        inside.dedup();
        for above in inside {
            let open =
                ["sketch", "joints", "ties", "tolerances"].contains(table) && above.is_empty();
            // The words that can stand at a place; of those that are not listed several at once.
            let mut at_place: BTreeMap<Vec<String>, Vec<(String, &str)>> = BTreeMap::new();
            for word in &words {
                let key = match above {
                    "" => word.clone(),
                    above => format!("{above}.{word}"),
                };
                let listed = of_table().find(|line| line.key == key);
                let to = listed.map_or("1", |line| &line.example);
                let mut all = places(&file, table).into_iter();
                let Some(place) = all.find(|place| takes(&file, place, &key)) else {
                    continue;
                };
                if listed.is_none() {
                    at_place.entry(place).or_default().push((key, word));
                    continue;
                }
                let text = with(&file, &place, &key, to).unwrap();
                let wrong = complaints(&text, UNKNOWN);
                assert!(
                    !names(&wrong, word),
                    "[{table}] {key} is listed, the reader says {wrong:?}; all: {:?}",
                    read(&text).err().map(|e| e.to_string())
                );
                assert!(open || schema.complaint(&text).is_none(), "{key}");
                taken.insert(format!("{table}.{key}"));
            }
            // Here a key takes the place of the whole value.
            let alone = ["path", "holes"].contains(&above) || is_position(above);
            for (place, strange) in &at_place {
                for some in strange.chunks(if alone { 1 } else { TOGETHER }) {
                    let mut all = file.clone();
                    for (key, _) in some {
                        assert!(give(&mut all, place, key, "1"), "{key}");
                    }
                    let text = all.to_string();
                    let (wrong, said) = (complaints(&text, UNKNOWN), schema.complaint(&text));
                    let said = said.unwrap_or_default();
                    for (key, word) in some {
                        let unknown = names(&wrong, word);
                        // The names of points, pins and dimensions are not keys: they are unknown otherwise.
                        let a_name = open
                            && ["knee", "heel", "wrist", "horn", "post", "guide"].contains(word);
                        assert!(
                            unknown || a_name,
                            "[{table}] {key} is not listed, the reader says {wrong:?}"
                        );
                        assert!(open || said.contains(&format!("'{word}'")), "{key}: {said}");
                        refused += usize::from(unknown);
                    }
                }
            }
        }
    }
    assert!(refused > 1000 && taken.len() >= 80, "{refused} {taken:?}");
}

#[test]
fn the_tables_listed_are_those_of_the_file() {
    let mut listed: Vec<String> = lines().into_iter().map(|line| line.table).collect();
    listed.dedup();
    let known: BTreeSet<&String> = listed.iter().collect();
    let file = everything();
    let in_file: Vec<String> = file.iter().map(|(name, _)| name.to_owned()).collect();
    assert_eq!(known, in_file.iter().collect());
    for table in words_of_the_reader() {
        let mut file = file.clone();
        file.entry(&table).or_insert(Item::Value(value("1")));
        let wrong = complaints(&file.to_string(), &["unknown-key", "not-modelled"]);
        assert_eq!(
            wrong.is_empty(),
            listed.contains(&table),
            "{table}: {wrong:?}"
        );
    }
}

#[test]
fn a_default_is_what_a_key_left_out_means() {
    let file: DocumentMut = EVERYTHING.parse().unwrap();
    let mut compared = BTreeSet::new();
    for line in lines() {
        let Some(default) = &line.default else {
            continue;
        };
        for place in places(&file, &line.table) {
            let absent = changed(&file, &place, &line.key, None).map(|text| read(&text));
            let given = changed(&file, &place, &line.key, Some(value(default)));
            let given = given.map(|text| read(&text));
            // Where the one is wrong for another reason, such as a key that goes with it, so is the other.
            if let (Some(Ok(absent)), Some(Ok(given))) = (absent, given) {
                assert_eq!(absent, given, "[{}] {} = {default}", line.table, line.key);
                compared.insert(format!("{}.{}", line.table, line.key));
            }
        }
    }
    let all = lines();
    let all = all.iter().filter(|line| line.default.is_some());
    let all: BTreeSet<String> = all.map(|l| format!("{}.{}", l.table, l.key)).collect();
    assert_eq!(compared, all);
}

#[test]
fn what_is_required_is_what_the_reader_misses() {
    let file = everything();
    let listing = listing();
    for table in listing["tables"].as_array().unwrap() {
        let name = table["table"].as_str().unwrap();
        let mut without = file.clone();
        without.remove(name);
        let missed = !complaints(&without.to_string(), &["missing"]).is_empty();
        assert_eq!(table["required"].as_bool(), Some(missed), "[{name}]");
        for key in table["keys"].as_array().unwrap() {
            let path = key["key"].as_str().unwrap();
            let required = key["required"].as_bool().unwrap();
            let sometimes = key["needed"].is_string();
            let texts = places(&file, name).into_iter();
            let missed: Vec<bool> = texts
                .filter_map(|place| changed(&file, &place, path, None))
                .map(|text| {
                    let last = path.rsplit('.').next().unwrap();
                    let said = complaints(&text, &["missing"]);
                    said.iter().any(|said| said.contains(&format!("`{last}`")))
                })
                .collect();
            assert!(
                sometimes || missed.iter().all(|&missed| missed == required),
                "[{name}] {path}: required {required}, missed {missed:?}"
            );
        }
    }
}

#[test]
fn one_table_or_key_is_shown_however_it_is_written() {
    let hand = printed(&["keys", "hand"]);
    assert!(hand.starts_with("[hand]  "), "{hand}");
    for part in [
        "force (N or lbf); default \"100 N\". Example: 150",
        "against.line",
    ] {
        assert!(hand.contains(part), "{hand}");
    }
    assert!(!hand.contains("[[jaw]]"));
    for (one, other) in [
        ("[[jaw]]", "jaw"),
        ("parts.strut", "parts"),
        ("[parts.strut]", "parts"),
        ("joints.knee", "joints"),
        ("parts.strut.length", "parts.length"),
    ] {
        assert_eq!(printed(&["keys", one]), printed(&["keys", other]), "{one}");
    }
    let against = printed(&["keys", "hand.against"]);
    assert!(against.contains("against.part") && !against.contains("grips"));
}

#[test]
fn an_unknown_table_or_key_gives_a_hint_and_the_list() {
    for (asked, parts) in [
        (
            "jaws",
            [
                "no table `jaws`",
                "did you mean `jaw`?",
                "tool, parts, sketch",
            ],
        ),
        ("zzz", ["no table `zzz`", "help: tables: tool", "aim"]),
        (
            "hand.pusch",
            [
                "no key `pusch`",
                "did you mean `push`?",
                "keys of [hand]: part, line",
            ],
        ),
        (
            "stroke.open.gab",
            ["no key `open.gab`", "did you mean `open.gap`?", "steps"],
        ),
    ] {
        let done = run(&["keys", asked]);
        let said = String::from_utf8(done.stderr).unwrap();
        assert_eq!(done.status.code(), Some(2), "{asked}");
        assert!(done.stdout.is_empty(), "{asked}");
        for part in parts {
            assert!(said.contains(part), "{asked}: {said}");
        }
    }
}

#[test]
fn no_line_of_the_keys_is_wider_than_the_terminal() {
    for width in [60, 80, 120] {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let terminal = jawforce::cli::Terminal {
            colour: false,
            messages: false,
            people: false,
            width,
        };
        jawforce::cli::run(["jawforce", "keys"], &mut out, &mut err, terminal);
        let text = String::from_utf8(out).unwrap();
        assert!(text.lines().count() > 100);
        for line in text.lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
    }
}
