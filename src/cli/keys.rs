//! `keys`: every key of the tool file.

use super::args::KeysArgs;
use super::{Exit, Stop, Streams};
use crate::input::hint;
use crate::input::keys::{Kind, Listed, ListedKey, Omitted, RULES, listed};
use crate::output::{json_text, keys_text};
use crate::report::{KeyLine, KeyUnits, KeysReport, TableKeys};
use crate::units::UnitSystem;

pub(super) fn run(args: &KeysArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let tables = listed();
    let (rules, asked) = match &args.table {
        Some(text) => (&[][..], vec![pick(text, tables)?]),
        None => (RULES, tables),
    };
    let report = KeysReport {
        format: 1,
        rules: rules.iter().map(|rule| (*rule).to_owned()).collect(),
        tables: asked.iter().map(in_report).collect(),
    };
    let text = if args.json {
        json_text(&report).map_err(Stop::bug)?
    } else {
        keys_text(&report, streams.width())
    };
    streams.print(&text)?;
    Ok(Exit::Done)
}

/// The table that is asked for, written as a name or as a header; of a key, that key alone.
fn pick(text: &str, tables: Vec<Listed>) -> Result<Listed, Stop> {
    let asked = text.trim().trim_start_matches('[').trim_end_matches(']');
    let (name, rest) = match asked.split_once('.') {
        Some((name, rest)) => (name, Some(rest)),
        None => (asked, None),
    };
    let names: Vec<&str> = tables.iter().map(|table| table.name).collect();
    let unknown = format!(
        "error: the tool file has no table `{name}`\nhelp: {}",
        hint(name, "tables", &names)
    );
    let found = tables.into_iter().find(|table| table.name == name);
    let mut table = found.ok_or_else(|| Stop::input(unknown))?;
    let Some(rest) = rest else {
        return Ok(table);
    };
    let within = |key: &ListedKey, wanted: &str| {
        let behind = key.path.strip_prefix(wanted);
        behind.is_some_and(|behind| behind.is_empty() || behind.starts_with('.'))
    };
    let has = |wanted: &str| table.keys.iter().any(|key| within(key, wanted));
    // In `parts.strut.length` the second word is a name of the file.
    let by_name = matches!(table.of.kind, Kind::Each(..)) || table.takes_names;
    let wanted = match rest.split_once('.') {
        _ if has(rest) => rest,
        Some((_, behind)) if by_name && has(behind) => behind,
        None if by_name => return Ok(table),
        _ => {
            let paths: Vec<&str> = table.keys.iter().map(|key| key.path.as_str()).collect();
            return Err(Stop::input(format!(
                "error: {} has no key `{rest}`\nhelp: {}",
                table.header,
                hint(rest, &format!("keys of {}", table.header), &paths)
            )));
        }
    };
    table.keys.retain(|key| within(key, wanted));
    Ok(table)
}

fn in_report(table: &Listed) -> TableKeys {
    TableKeys {
        table: table.name.to_owned(),
        header: table.header.clone(),
        meaning: table.of.meaning.to_owned(),
        required: table.of.omitted == Omitted::Wrong,
        keys: table.keys.iter().map(line).collect(),
    }
}

fn line(ListedKey { path, key }: &ListedKey) -> KeyLine {
    let units = |system| {
        let units = key.kind.units(system).into_iter();
        units.map(str::to_owned).collect::<Vec<_>>()
    };
    let (mut default, mut absent, mut needed) = (None, None, None);
    match key.omitted {
        Omitted::Takes(value) => default = Some(value.to_owned()),
        Omitted::Means(words) => absent = Some(words.to_owned()),
        Omitted::Sometimes(words) => needed = Some(words.to_owned()),
        Omitted::Wrong | Omitted::Nothing => {}
    }
    KeyLine {
        key: path.clone(),
        kind: key.kind.in_words(),
        units: KeyUnits {
            metric: units(UnitSystem::MmN),
            inch: units(UnitSystem::InLbf),
        },
        words: key.kind.words(),
        required: key.omitted == Omitted::Wrong,
        needed,
        default,
        absent,
        example: key.example.to_owned(),
        meaning: key.meaning.to_owned(),
    }
}
