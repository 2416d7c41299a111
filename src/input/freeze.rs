//! What a sketch gave, as numbers of the parts: places in place of names, lengths of links. Every other byte
//! stays as it is.

use std::ops::Range;

use toml_edit::{Document, Item, TableLike};

use super::rewrite::edited;
use crate::model::{
    Cam, Follower, Part, PartId, Place, Point, PointKind, Shape, Slot, SpringEnds, SpringSet, Tool,
};
use crate::units::{Quantity, UnitSystem, trimmed};

/// A text with the sketch's shapes written down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Frozen {
    /// The new text.
    pub text: String,
    /// How many places of pins and marks were written.
    pub places: usize,
    /// How many lengths of links.
    pub lengths: usize,
}

/// Decimals of what calipers read: 0.01 mm, 0.001 in.
fn decimals(units: UnitSystem) -> usize {
    match units {
        UnitSystem::MmN => 2,
        UnitSystem::InLbf => 3,
    }
}

/// Writes lengths and coordinates, in each part's own axes, in place of what the sketch gave; rounded to what
/// calipers read, or with all digits. `tool` is what the text was read to.
///
/// # Errors
/// Where there is nothing to write, in words.
pub fn freeze(text: &str, tool: &Tool, exact: bool) -> Result<Frozen, String> {
    let document = Document::parse(text).map_err(|e| e.to_string())?;
    let root = document.as_table();
    if !root.contains_key("sketch") {
        return Err("there is no [sketch]: every part has its numbers already".to_owned());
    }
    let writer = Writer { text, tool, exact };
    let (mut edits, mut places, mut lengths) = (Vec::new(), 0, 0);
    let parts = root.get("parts").and_then(Item::as_table_like);
    for (part, of) in PartId::each(&tool.parts) {
        let item = parts.and_then(|parts| parts.get(&of.name));
        let Some(table) = item.and_then(Item::as_table_like) else {
            continue;
        };
        let own_lines = item
            .and_then(Item::as_table)
            .is_some_and(|table| !table.is_dotted());
        let is_link =
            of.shape == Shape::Sketch && of.points.len() == 2 && writer.free_axes(part, of);
        if is_link
            && own_lines
            && of.points.iter().all(|p| p.kind == PointKind::Pin)
            && let Some(edit) = writer.length(table, of)
        {
            edits.push(edit);
            lengths += 1;
            continue;
        }
        for (key, kind) in [("pins", PointKind::Pin), ("marks", PointKind::Mark)] {
            // A link of a stated length has the places of its pins by that.
            if key == "pins" && of.shape == Shape::Length {
                continue;
            }
            let points: Vec<&Point> = of.points.iter().filter(|p| p.kind == kind).collect();
            let list = table
                .get(key)
                .filter(|item| item.is_array())
                .and_then(Item::span);
            if let Some(span) = list.filter(|_| !points.is_empty()) {
                places += points.len();
                edits.extend(writer.list(span, &points));
            }
        }
    }
    if edits.is_empty() {
        return Err(
            "nothing of a part comes from the sketch: it only says which way the parts go together"
                .to_owned(),
        );
    }
    Ok(Frozen {
        text: edited(text, edits),
        places,
        lengths,
    })
}

struct Writer<'a> {
    text: &'a str,
    tool: &'a Tool,
    exact: bool,
}

type Edit = (Range<usize>, String);

impl Writer<'_> {
    fn number(&self, mm: f64) -> String {
        let value = self.tool.units.show(mm, Quantity::Length);
        if self.exact {
            // Without the minus of a zero.
            format!("{}", value + 0.0)
        } else {
            trimmed(value, decimals(self.tool.units))
        }
    }

    /// A list of names as a table of places in one line; comments within the list go above it.
    fn list(&self, span: Range<usize>, points: &[&Point]) -> Vec<Edit> {
        let place = |p: &&Point| {
            format!(
                "{} = [{}, {}]",
                p.name,
                self.number(p.at[0]),
                self.number(p.at[1])
            )
        };
        let places: Vec<String> = points.iter().map(place).collect();
        let line = self.line(span.start);
        let comments: String = (self.text.get(span.clone()).unwrap_or("").lines())
            .filter_map(|line| line.split_once('#'))
            .map(|(_, comment)| format!("{}#{comment}\n", self.indent(line)))
            .collect();
        let mut edits = vec![(span, format!("{{ {} }}", places.join(", ")))];
        if !comments.is_empty() {
            edits.push((line..line, comments));
        }
        edits
    }

    /// The length of a link in a line of its own, below that of its pins.
    fn length(&self, table: &dyn TableLike, of: &Part) -> Option<Edit> {
        let [a, b] = of.points.as_slice() else {
            return None;
        };
        let pins = table.get("pins").filter(|item| item.is_array())?.span()?;
        let length = (b.at[0] - a.at[0]).hypot(b.at[1] - a.at[1]);
        let rest = self.text.get(pins.end..)?;
        let end = pins.end + rest.find('\n').unwrap_or(rest.len());
        let returned = self.text.get(..end)?.ends_with('\r') && end < self.text.len();
        let (end, newline) = if returned {
            (end - 1, "\r\n")
        } else {
            (end, "\n")
        };
        let indent = self.indent(self.line(pins.start));
        Some((
            end..end,
            format!("{newline}{indent}length = {}", self.number(length)),
        ))
    }

    /// Where the line of a place begins.
    fn line(&self, at: usize) -> usize {
        let before = self.text.get(..at).unwrap_or("");
        before.rfind('\n').map_or(0, |newline| newline + 1)
    }

    fn indent(&self, line: usize) -> &str {
        let rest = self.text.get(line..).unwrap_or("");
        let end = rest.find(|c: char| c != ' ' && c != '\t').unwrap_or(0);
        rest.get(..end).unwrap_or("")
    }

    /// Whether nothing in the file is counted in the axes of a part, so that it may be given by its length,
    /// which turns them.
    fn free_axes(&self, part: PartId, of: &Part) -> bool {
        let tool = self.tool;
        let placed = |place: &Place| matches!(place, Place::At(_));
        let lines = [Some(&tool.hand.handle), tool.hand.against.as_ref()];
        let held = lines
            .into_iter()
            .flatten()
            .any(|line| line.part == part && line.points.iter().any(placed));
        let slotted =
            |slot: &Slot| slot.on == part || (slot.rider.part == part && slot.keyed.is_some());
        let with_cam = |cam: &Cam| {
            let flat = matches!(cam.follower, Follower::Flat { .. });
            cam.part == part || (cam.pushes.part == part && flat)
        };
        let turned = tool.springs.iter().any(|spring| {
            let turning = matches!(spring.ends, SpringEnds::Pin { first, second } if first == part || second == part);
            turning && matches!(spring.set, SpringSet::Free(_))
        });
        let outlined = tool.outlines.iter().any(|outline| outline.part == part);
        let opens = tool
            .jaws
            .iter()
            .any(|jaw| jaw.against.part == part && jaw.axis.is_some());
        let start = format!("{}.", of.name);
        let named = (tool.tunes.iter().map(|tune| &tune.dimension))
            .chain(tool.tolerances.rules.iter().map(|rule| &rule.dimension))
            .chain(tool.ties.iter().flat_map(|tie| [&tie.address, &tie.text]))
            .any(|address| address.contains(&start));
        part != tool.fixed
            && !(outlined
                || held
                || tool.slots.iter().any(slotted)
                || tool.cams.iter().any(with_cam)
                || turned
                || opens
                || named)
    }
}
