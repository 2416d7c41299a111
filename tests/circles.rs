//! No circle between files of `src`: a file that needs another is not needed by it.
//!
//! Read from the source text: `use` trees and paths in code, test modules left out. What a `mod.rs` hands on
//! (`pub use`) is followed to the file that defines it; handing on is no need.

use crate::architecture::rust_files;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// A module: its file, what it hands on (name to path) and the paths that it needs.
#[derive(Default)]
struct Module {
    file: String,
    handed_on: BTreeMap<String, Vec<String>>,
    needs: Vec<Vec<String>>,
}

/// The code of a file: comments, texts in quotes and its tests left out, which stand at its end; the
/// declaration of a test module (`#[cfg(test)] mod samples;`) is no end.
fn code(text: &str) -> String {
    const TESTS: &str = "#[cfg(test)]";
    let declares = |rest: &str| {
        let mut lines = rest.lines().map(str::trim);
        let item = lines.find(|line| !line.is_empty() && !line.starts_with("#["));
        item.is_some_and(|item| item.starts_with("mod ") && item.ends_with(';'))
    };
    let mut ends = text.match_indices(TESTS).map(|(at, _)| at);
    let end = ends.find(|&at| !declares(&text[at + TESTS.len()..]));
    let text = &text[..end.unwrap_or(text.len())];
    let mut out = String::new();
    for line in text.lines() {
        let line = line.trim_start();
        if line.starts_with("//") {
            continue;
        }
        let mut parts = line.split('"');
        out.push_str(parts.next().unwrap_or(""));
        // Every other part is a text; an escaped quote may shift them, which only hides a path.
        for (k, part) in parts.enumerate() {
            if k % 2 == 1 {
                out.push_str(part);
            }
        }
        out.push('\n');
    }
    out
}

/// The paths of a use tree, braces opened: `a::{b, c::{self, d}}`.
fn opened(tree: &str, before: &[String], found: &mut Vec<Vec<String>>) {
    let tree = tree.trim();
    let Some(brace) = tree.find('{') else {
        let tree = tree.split(" as ").next().unwrap_or(tree);
        let mut path = before.to_vec();
        let steps = tree.split("::").map(str::trim);
        path.extend(
            steps
                .filter(|s| !s.is_empty() && *s != "self")
                .map(str::to_owned),
        );
        if !path.is_empty() {
            found.push(path);
        }
        return;
    };
    let mut path = before.to_vec();
    let steps = tree[..brace].split("::").map(str::trim);
    path.extend(steps.filter(|s| !s.is_empty()).map(str::to_owned));
    let inner = &tree[brace + 1..tree.rfind('}').unwrap_or(tree.len())];
    let (mut depth, mut start) = (0_usize, 0);
    for (k, c) in inner.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                opened(&inner[start..k], &path, found);
                start = k + 1;
            }
            _ => {}
        }
    }
    if !inner[start..].trim().is_empty() {
        opened(&inner[start..], &path, found);
    }
}

/// Paths in code that begin with `crate::` or `super::`, and whole use trees; those that are handed on apart.
fn paths(code: &str) -> (Vec<Vec<String>>, Vec<Vec<String>>) {
    let (mut needed, mut handed_on) = (Vec::new(), Vec::new());
    let mut rest = String::new();
    for statement in code.split_inclusive(';') {
        let mut lines = statement.trim_start();
        // A statement may follow the end of a block.
        if let Some(at) = lines.find("use ") {
            let head = lines[..at].trim();
            let head = head
                .rsplit(['}', '{', ';', ']', '\n'])
                .next()
                .unwrap_or("")
                .trim();
            let handed = head.starts_with("pub");
            if head.is_empty() || handed {
                let tree = lines[at + 4..].trim_end_matches(';');
                let list = if handed { &mut handed_on } else { &mut needed };
                opened(tree, &[], list);
                lines = &lines[..at];
            }
        }
        rest.push_str(lines);
    }
    for start in ["crate::", "super::"] {
        for (at, _) in rest.match_indices(start) {
            let path: String = rest[at..]
                .chars()
                .take_while(|c| c.is_ascii_alphanumeric() || *c == '_' || *c == ':')
                .collect();
            let steps = path.split("::").filter(|s| !s.is_empty());
            needed.push(steps.map(str::to_owned).collect());
        }
    }
    (needed, handed_on)
}

/// A path from the crate's root: `crate`, `super` and names of sub-modules opened.
fn absolute(
    path: &[String],
    here: &[String],
    modules: &BTreeMap<Vec<String>, Module>,
) -> Option<Vec<String>> {
    let mut at = here.to_vec();
    let mut steps = path;
    match path.first()?.as_str() {
        "crate" => {
            at.clear();
            steps = &path[1..];
        }
        "super" => {
            while steps.first().is_some_and(|s| s == "super") {
                at.pop();
                steps = &steps[1..];
            }
        }
        first => {
            let mut below = here.to_vec();
            below.push(first.to_owned());
            modules.get(&below)?;
        }
    }
    at.extend(steps.iter().cloned());
    Some(at)
}

/// The file that defines what a path names.
fn file_of(
    path: &[String],
    modules: &BTreeMap<Vec<String>, Module>,
    depth: usize,
) -> Option<String> {
    let longest = (0..=path.len())
        .rev()
        .find(|&k| modules.contains_key(&path[..k]))?;
    let module = &modules[&path[..longest]];
    let name = path.get(longest);
    if let Some(on) = name.and_then(|name| module.handed_on.get(name))
        && depth > 0
        && let Some(on) = absolute(on, &path[..longest], modules)
    {
        return file_of(&on, modules, depth - 1);
    }
    Some(module.file.clone())
}

fn arrows() -> BTreeMap<String, BTreeSet<String>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    rust_files(&root, &mut files);
    let mut modules = BTreeMap::new();
    for path in files {
        let name = path
            .strip_prefix(&root)
            .unwrap()
            .to_str()
            .unwrap()
            .replace('\\', "/");
        if name == "main.rs" {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let mut place: Vec<String> = name
            .trim_end_matches(".rs")
            .split('/')
            .map(str::to_owned)
            .collect();
        if place
            .last()
            .is_some_and(|last| last == "mod" || last == "lib")
        {
            place.pop();
        }
        let (needs, handed) = paths(&code(&text));
        let handed_on = handed
            .into_iter()
            .filter_map(|path| Some((path.last()?.clone(), path)));
        let module = Module {
            file: name,
            handed_on: handed_on.collect(),
            needs,
        };
        modules.insert(place, module);
    }
    let mut arrows: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (place, module) in &modules {
        let to = arrows.entry(module.file.clone()).or_default();
        for need in &module.needs {
            let path = absolute(need, place, &modules);
            to.extend(path.and_then(|path| file_of(&path, &modules, 8)));
        }
        to.remove(&module.file);
    }
    arrows
}

/// All files that a file leads to.
fn reach(from: &str, arrows: &BTreeMap<String, BTreeSet<String>>) -> BTreeSet<String> {
    let mut seen = BTreeSet::new();
    let mut next = vec![from.to_owned()];
    while let Some(file) = next.pop() {
        for to in arrows.get(&file).into_iter().flatten() {
            if seen.insert(to.clone()) {
                next.push(to.clone());
            }
        }
    }
    seen
}

/// The arrows of files that lead back to themselves, among such files only.
fn circles(arrows: &BTreeMap<String, BTreeSet<String>>) -> BTreeMap<String, BTreeSet<String>> {
    let reached: BTreeMap<&String, BTreeSet<String>> = arrows
        .keys()
        .map(|file| (file, reach(file, arrows)))
        .collect();
    let mut found = BTreeMap::new();
    for (file, to) in arrows {
        let back = |other: &&String| reached.get(other).is_some_and(|r| r.contains(file));
        let back: BTreeSet<String> = to.iter().filter(back).cloned().collect();
        if !back.is_empty() {
            found.insert(file.clone(), back);
        }
    }
    found
}

#[test]
fn the_reader_of_arrows_sees_trees_and_paths() {
    let text = "use crate::{model::{Tool, units}, numeric};\npub use read::Reader;\nuse super::a::B;\n\
                fn f() { let x = crate::motion::Spot::new(); let y = \"crate::no\"; }\n#[cfg(test)] use crate::not;";
    let (needed, handed) = paths(&code(text));
    let joined: Vec<String> = needed.iter().map(|p| p.join("::")).collect();
    assert_eq!(
        joined,
        [
            "crate::model::Tool",
            "crate::model::units",
            "crate::numeric",
            "super::a::B",
            "crate::motion::Spot::new"
        ]
    );
    assert_eq!(handed, [["read", "Reader"]]);
}

#[test]
fn a_loop_is_found_and_a_chain_is_not() {
    let arrows = |pairs: &[(&str, &str)]| {
        let mut all: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for (a, b) in pairs {
            all.entry((*a).to_owned())
                .or_default()
                .insert((*b).to_owned());
            all.entry((*b).to_owned()).or_default();
        }
        all
    };
    assert!(circles(&arrows(&[("a", "b"), ("b", "c"), ("a", "c")])).is_empty());
    let found = circles(&arrows(&[("a", "b"), ("b", "c"), ("c", "b"), ("c", "d")]));
    assert_eq!(found.keys().collect::<Vec<_>>(), ["b", "c"]);
}

#[test]
fn no_two_files_need_each_other() {
    let arrows = arrows();
    let count: usize = arrows.values().map(BTreeSet::len).sum();
    assert!(count > 500, "only {count} arrows were read");
    let found = circles(&arrows);
    let lines: Vec<String> = (found.iter())
        .map(|(file, to)| {
            format!(
                "{file} -> {}",
                to.iter().cloned().collect::<Vec<_>>().join(", ")
            )
        })
        .collect();
    assert!(found.is_empty(), "files in a circle:\n{}", lines.join("\n"));
}
