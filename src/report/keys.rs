//! The keys of the tool file: the answer of `keys`.

use serde::Serialize;

/// The tables of the tool file and their keys.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KeysReport {
    /// Version of the format: 1.
    pub format: u32,
    /// What holds for all keys, where all are asked for.
    pub rules: Vec<String>,
    /// The tables, in the order in which one writes them.
    pub tables: Vec<TableKeys>,
}

/// A table with a header of its own.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TableKeys {
    /// Its key in the file: `jaw`.
    pub table: String,
    /// Its header, as it is written: `[[jaw]]`.
    pub header: String,
    /// What it says.
    pub meaning: String,
    /// Whether every tool file has it.
    pub required: bool,
    /// Its keys, in the order in which one writes them.
    pub keys: Vec<KeyLine>,
}

/// A key.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KeyLine {
    /// Its name within the table; of a table inside it, with a full stop: `against.line`.
    pub key: String,
    /// What it takes, in words.
    pub kind: String,
    /// What bare numbers mean in it; nothing where it takes no quantity.
    pub units: KeyUnits,
    /// The words that it takes, or among which it chooses.
    pub words: Vec<String>,
    /// Whether the table cannot be without it.
    pub required: bool,
    /// When it is needed, in words, where that depends on others.
    pub needed: Option<String>,
    /// The value that leaving it out is the same as.
    pub default: Option<String>,
    /// What leaving it out means, in words, where that is no one value.
    pub absent: Option<String>,
    /// A value that would be right, as it is written.
    pub example: String,
    /// What it means.
    pub meaning: String,
}

/// Units of bare numbers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KeyUnits {
    /// In a file with `units = "mm-N"`.
    #[serde(rename = "mm-N")]
    pub metric: Vec<String>,
    /// In a file with `units = "in-lbf"`.
    #[serde(rename = "in-lbf")]
    pub inch: Vec<String>,
}
