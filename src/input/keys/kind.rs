//! What a key takes: in words, and in which units.

use super::Table;
use crate::input::spelling::quoted;
use crate::model::{MEASURES, Measure, Suffix};
use crate::units::{Quantity, UnitSystem, noun};

/// What a key takes.
#[derive(Debug, Clone, Copy)]
pub enum Kind {
    /// Any text; in words what it says.
    Text(&'static str),
    /// A name; in words whose.
    Name(&'static str),
    /// A part and a pin or mark of it: `"ram.nose"`.
    PartPoint,
    /// `true` or `false`.
    Flag,
    /// A whole number, from and to.
    Whole(i64, i64),
    /// A number without a unit, from and below.
    Number(f64, f64),
    /// A number without a unit, greater than this.
    Above(f64),
    /// A number in the file's units, or a text with a unit of its own.
    Quantity(Quantity),
    /// One of these words.
    Words(&'static [&'static str]),
    /// A place in a part's axes: two lengths.
    Place,
    /// A place in a picture: two numbers.
    Pixel,
    /// Rows of two quantities each, two rows or more; what the two are called.
    Rows([(&'static str, Quantity); 2]),
    /// A list of so many values or more.
    List(&'static Kind, usize),
    /// A table whose keys are names of the file.
    Named(&'static Kind),
    /// A value under a key with so many full stops at most, which without quotes is a table in TOML.
    Dotted(&'static Kind, usize),
    /// A table.
    Table(&'static Table),
    /// Tables, one for each name of the file, so many or more; what the names are.
    Each(&'static str, &'static Table, usize),
    /// A list of tables, so many or more.
    Tables(&'static Table, usize),
    /// One of several kinds.
    Either(&'static [Kind]),
    /// A measure by its name.
    Measure,
    /// A number of the kind of the measure that the same table names.
    OfMeasure,
    /// A number of the kind of the address that it is for.
    OfAddress,
}

impl Kind {
    /// The kind in words, without its unit.
    #[must_use]
    pub fn in_words(&self) -> String {
        match self {
            Self::Text(what) | Self::Name(what) => (*what).to_owned(),
            Self::PartPoint => "part.point".to_owned(),
            Self::Flag => "true or false".to_owned(),
            Self::Whole(least, most) => format!("whole number from {least} to {most}"),
            Self::Number(least, below) => format!("number from {least} to below {below}"),
            Self::Above(least) => format!("number above {least}"),
            Self::Quantity(quantity) => noun(*quantity).to_owned(),
            Self::Words(words) => quoted(words),
            Self::Place => "[x, y]".to_owned(),
            Self::Pixel => "[x, y] in pixels".to_owned(),
            Self::Rows([(first, _), (second, _)]) => format!("[[{first}, {second}], ...]"),
            Self::List(of, _) => format!("[{}, ...]", of.in_words()),
            Self::Named(of) => format!("{{ NAME = {}, ... }}", of.in_words()),
            Self::Dotted(of, _) => of.in_words(),
            Self::Table(_) => "table".to_owned(),
            Self::Each(..) => "table for each name".to_owned(),
            Self::Tables(..) => "tables".to_owned(),
            Self::Either(kinds) => {
                let words: Vec<String> = kinds.iter().map(Self::in_words).collect();
                words.join(" or ")
            }
            Self::Measure => format!("measure: {}", measures("NAME").join(", ")),
            Self::OfMeasure => "number of the measure's kind".to_owned(),
            Self::OfAddress => "number of the dimension's kind".to_owned(),
        }
    }

    /// The units of bare numbers, each once, in the order of the words.
    #[must_use]
    pub fn units(&self, system: UnitSystem) -> Vec<&'static str> {
        let mut units = Vec::new();
        for quantity in self.quantities() {
            let unit = system.symbol(quantity);
            if !units.contains(&unit) {
                units.push(unit);
            }
        }
        units
    }

    fn quantities(&self) -> Vec<Quantity> {
        match self {
            Self::Quantity(quantity) => vec![*quantity],
            Self::Place => vec![Quantity::Length],
            Self::Rows(columns) => columns.iter().map(|(_, quantity)| *quantity).collect(),
            Self::List(of, _) | Self::Named(of) | Self::Dotted(of, _) => of.quantities(),
            Self::Either(kinds) => kinds.iter().flat_map(Self::quantities).collect(),
            _ => Vec::new(),
        }
    }

    /// The words that may be written, names of measures among them.
    #[must_use]
    pub fn words(&self) -> Vec<String> {
        match self {
            Self::Words(words) => words.iter().map(|word| (*word).to_owned()).collect(),
            Self::Either(kinds) => kinds.iter().flat_map(Self::words).collect(),
            Self::Measure => measures("NAME"),
            _ => Vec::new(),
        }
    }
}

/// Every form that the name of a measure has, with `name` where a name of the file stands.
pub(super) fn measures(name: &str) -> Vec<String> {
    MEASURES
        .iter()
        .map(Measure::kind)
        .flat_map(|kind| {
            let first = kind.word;
            let with = format!("{first}.{name}");
            match kind.suffix {
                Suffix::None => vec![first.to_owned()],
                Suffix::Joint | Suffix::Part | Suffix::Stop | Suffix::Contact | Suffix::Cam => {
                    vec![with]
                }
                Suffix::TwoParts => vec![first.to_owned(), format!("{with}.{name}")],
                Suffix::PartOrPin | Suffix::Jaw => vec![first.to_owned(), with],
            }
        })
        .collect()
}
