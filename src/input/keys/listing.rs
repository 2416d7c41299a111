//! The keys one after the other, as one writes a tool file.

use super::root::ROOT;
use super::{Key, Kind, Table};

/// A table with a header of its own, and its keys.
#[derive(Debug)]
pub struct Listed {
    /// Its key in the file.
    pub name: &'static str,
    /// Its header, as it is written: `[[jaw]]`, `[parts.NAME]`.
    pub header: String,
    /// What it says.
    pub of: &'static Key,
    /// Whether names of the file may be keys of it.
    pub takes_names: bool,
    /// Its keys; those of a table inside it behind a full stop.
    pub keys: Vec<ListedKey>,
}

/// A key, and where it stands.
#[derive(Debug)]
pub struct ListedKey {
    /// Its name within the table, such as `force` or `against.line`.
    pub path: String,
    /// What it takes.
    pub key: &'static Key,
}

/// All tables, in the order in which one writes them.
#[must_use]
pub fn listed() -> Vec<Listed> {
    let tables = ROOT.keys.iter().filter_map(|of| {
        let name = of.name;
        let kind = match of.kind {
            // One table, or a list of them.
            Kind::Either([one, _]) => one,
            ref other => other,
        };
        let (header, table) = match *kind {
            Kind::Table(table) => (format!("[{name}]"), table),
            Kind::Tables(table, _) => (format!("[[{name}]]"), table),
            Kind::Each(label, table, _) => (format!("[{name}.{label}]"), table),
            _ => return None,
        };
        let mut keys = Vec::new();
        walk(table, "", &mut keys);
        Some(Listed {
            name,
            header,
            of,
            takes_names: table.named.is_some(),
            keys,
        })
    });
    tables.collect()
}

fn walk(table: &'static Table, above: &str, keys: &mut Vec<ListedKey>) {
    for key in table.keys {
        let path = format!("{above}{}", key.name);
        let inner = inner(&key.kind);
        keys.push(ListedKey {
            path: path.clone(),
            key,
        });
        if let Some(inner) = inner {
            walk(inner, &format!("{path}."), keys);
        }
    }
    if let Some(key) = table.named {
        let path = format!("{above}{}", key.name);
        keys.push(ListedKey { path, key });
    }
}

/// The table that a key is, or may be; one of its tables, where it is a list of them.
fn inner(kind: &'static Kind) -> Option<&'static Table> {
    match kind {
        Kind::Table(table) | Kind::Tables(table, _) => Some(table),
        Kind::Either(kinds) => kinds.iter().find_map(inner),
        _ => None,
    }
}
