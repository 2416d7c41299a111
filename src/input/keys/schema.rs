//! The keys as a JSON Schema (draft 7, which TOML editors read best).

use super::kind::measures;
use super::root::ROOT;
use super::{Key, Kind, Omitted, Table};
use serde::Serialize;
use serde::ser::{SerializeMap, Serializer};
use serde_json::Value;

/// What a name looks like: letters and digits of any script, `-` and `_`; that is, none of the
/// other characters of ASCII, since not all editors know classes of characters.
const NAME: &str = r"[^\x00-,./:-@\[-^`{-\x7f]+";

/// An object with its keys in order, or a plain value.
enum Node {
    Plain(Value),
    List(Vec<Node>),
    Object(Vec<(String, Node)>),
}

impl Serialize for Node {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Plain(value) => value.serialize(to),
            Self::List(items) => items.serialize(to),
            Self::Object(entries) => {
                let mut map = to.serialize_map(Some(entries.len()))?;
                for (key, value) in entries {
                    map.serialize_entry(key, value)?;
                }
                map.end()
            }
        }
    }
}

fn plain(value: impl Into<Value>) -> Node {
    Node::Plain(value.into())
}

fn object<const N: usize>(entries: [(&str, Node); N]) -> Node {
    Node::Object(entries.map(|(key, node)| (key.to_owned(), node)).into())
}

impl Node {
    /// With a further key.
    fn with(mut self, key: &str, node: Node) -> Self {
        if let Self::Object(entries) = &mut self {
            entries.push((key.to_owned(), node));
        }
        self
    }

    /// With a key in front.
    fn headed(mut self, key: &str, node: Node) -> Self {
        if let Self::Object(entries) = &mut self {
            entries.insert(0, (key.to_owned(), node));
        }
        self
    }
}

/// JSON Schema (draft 7) of the tool file, with a description of every key.
#[must_use]
pub fn schema() -> impl Serialize {
    let about = "One hand tool concept: parts, pins, grips, jaws, stroke, and what the job needs. \
                 Bare numbers are in the units of [tool]; any quantity may be a string with its own unit.";
    of_table(&ROOT)
        .headed("description", plain(about))
        .headed("title", plain("jawforce tool file"))
        .headed("$schema", plain("http://json-schema.org/draft-07/schema#"))
}

fn of_table(table: &Table) -> Node {
    let properties = table
        .keys
        .iter()
        .map(|key| (key.name.to_owned(), of_key(key)));
    let needed: Vec<&str> = table
        .keys
        .iter()
        .filter(|key| key.omitted == Omitted::Wrong)
        .map(|key| key.name)
        .collect();
    let mut node =
        object([("type", plain("object"))]).with("properties", Node::Object(properties.collect()));
    node = node.with(
        "additionalProperties",
        table.named.map_or(plain(false), of_key),
    );
    if !needed.is_empty() {
        node = node.with("required", plain(needed));
    }
    if !table.one_of.is_empty() {
        let one = |key: &&str| object([("required", plain(vec![*key]))]);
        node = node.with("oneOf", Node::List(table.one_of.iter().map(one).collect()));
    }
    if !table.only_with.is_empty() {
        let pairs = table.only_with.iter();
        let pairs = pairs.map(|(key, other)| ((*key).to_owned(), plain(vec![*other])));
        node = node.with("dependencies", Node::Object(pairs.collect()));
    }
    node
}

fn of_key(key: &Key) -> Node {
    let mut meaning = key.meaning.to_owned();
    match key.omitted {
        Omitted::Takes(value) => meaning.push_str(&format!(" Default: {value}.")),
        Omitted::Means(words) => meaning.push_str(&format!(" Left out: {words}.")),
        Omitted::Sometimes(words) => meaning.push_str(&format!(" Needed: {words}.")),
        Omitted::Wrong | Omitted::Nothing => {}
    }
    let node = of_kind(&key.kind).headed("description", plain(meaning));
    // A table's own keys have examples.
    match example(key.example).filter(|value| !value.is_object()) {
        Some(value) => node.with("examples", plain(vec![value])),
        None => node,
    }
}

/// A value of the tool file as one of JSON.
fn example(text: &str) -> Option<Value> {
    let file: toml::Table = toml::from_str(&format!("value = {text}")).ok()?;
    serde_json::to_value(file.get("value")?).ok()
}

fn of_kind(kind: &Kind) -> Node {
    match kind {
        Kind::Text(_) => object([("type", plain("string"))]),
        Kind::Name(_) => text(&format!("^{NAME}$")),
        Kind::PartPoint => text(&format!("^{NAME}\\.{NAME}$")),
        Kind::Flag => object([("type", plain("boolean"))]),
        Kind::Whole(least, most) => object([
            ("type", plain("integer")),
            ("minimum", plain(*least)),
            ("maximum", plain(*most)),
        ]),
        Kind::Number(least, below) => object([
            ("type", plain("number")),
            ("minimum", plain(*least)),
            ("exclusiveMaximum", plain(*below)),
        ]),
        Kind::Above(least) => object([
            ("type", plain("number")),
            ("exclusiveMinimum", plain(*least)),
        ]),
        Kind::Quantity(_) | Kind::OfMeasure | Kind::OfAddress => quantity(),
        Kind::Words(words) => object([("enum", plain(words.to_vec()))]),
        Kind::Place => pair("x and y", quantity()),
        Kind::Pixel => pair("x and y, in pixels", object([("type", plain("number"))])),
        Kind::Rows([(first, _), (second, _)]) => {
            list(pair(&format!("{first}, {second}"), quantity()), 2)
        }
        Kind::List(of, least) => list(of_kind(of), *least),
        Kind::Named(of) => by_name(of_kind(of)),
        Kind::Dotted(of, 0) => of_kind(of),
        Kind::Dotted(of, stops) => {
            let deeper = by_name(of_kind(&Kind::Dotted(of, stops - 1)));
            either(vec![of_kind(of), deeper])
        }
        Kind::Table(table) => of_table(table),
        Kind::Tables(table, least) => list(of_table(table), *least),
        Kind::Each(_, table, least) => {
            by_name(of_table(table)).with("minProperties", plain(*least))
        }
        Kind::Either(kinds) => either(kinds.iter().map(of_kind).collect()),
        Kind::Measure => {
            let names: Vec<String> = measures("\u{0}")
                .iter()
                .map(|name| name.replace('.', "\\.").replace('\u{0}', ".+"))
                .collect();
            text(&format!("^({})$", names.join("|")))
        }
    }
}

fn quantity() -> Node {
    let text = object([("type", plain("string")), ("minLength", plain(1))]);
    let number = object([("type", plain("number"))]);
    either(vec![number, text])
}

fn either(of: Vec<Node>) -> Node {
    object([("anyOf", Node::List(of))])
}

fn text(pattern: &str) -> Node {
    object([("type", plain("string")), ("pattern", plain(pattern))])
}

fn pair(what: &str, of: Node) -> Node {
    object([
        ("description", plain(what)),
        ("type", plain("array")),
        ("items", of),
        ("minItems", plain(2)),
        ("maxItems", plain(2)),
    ])
}

fn list(of: Node, least: usize) -> Node {
    object([
        ("type", plain("array")),
        ("items", of),
        ("minItems", plain(least)),
    ])
}

fn by_name(of: Node) -> Node {
    object([
        ("type", plain("object")),
        ("patternProperties", object([(&format!("^{NAME}$"), of)])),
        ("additionalProperties", plain(false)),
    ])
}
