//! What several reports show alike: the source, numbers, positions, units.

use crate::model::{At, Direction, PartId, Tool};
use crate::statics::Answer;
use crate::units::{Quantity, UnitSystem, trimmed};

/// Where a tool came from.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Source {
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of its bytes, hexadecimal.
    pub sha256: String,
}

/// A number with no more digits than a workshop reads.
pub(super) fn number(value: f64) -> String {
    let digits = if value.abs() >= 100.0 { 1 } else { 3 };
    trimmed(value, digits)
}

/// The force of an answer, if there is one; zero where the hand does not overcome the springs.
pub(super) fn pressed(answer: Option<Answer>) -> Option<f64> {
    match answer {
        Some(Answer::Moves { force, .. }) => Some(force),
        Some(Answer::Slack) => Some(0.0),
        Some(Answer::Locked | Answer::LiftsOff | Answer::Ended) | None => None,
    }
}

/// The way that the tool moves, in a word.
pub(super) fn direction_word(direction: Direction) -> &'static str {
    match direction {
        Direction::Closing => "closing",
        Direction::Opening => "opening",
    }
}

/// A position as it is typed on the command line, to 0.0001 of its unit: two that differ must not
/// read alike.
pub(super) fn position_text(tool: &Tool, at: At, units: UnitSystem) -> String {
    let number = |value: f64, quantity: Quantity| {
        trimmed((units.show(value, quantity) * 1e4).round() / 1e4, 4)
    };
    let length = |mm: f64| number(mm, Quantity::Length);
    match at {
        At::Open => "open".to_owned(),
        At::Shut => "shut".to_owned(),
        At::Peak => "peak".to_owned(),
        At::Least => "least".to_owned(),
        At::Gap(v) => format!("gap={}", length(v)),
        At::Span(v) => format!("span={}", length(v)),
        At::Stop(stop) => format!("stop={}", tool.stop(stop).map_or("", |s| s.name.as_str())),
        At::Turned(..) => "ratchet".to_owned(),
        At::Handle(v) => format!("handle={}", number(v, Quantity::Angle)),
    }
}

/// What formulas say of a source that was not at hand when they were written down.
const FROM_MEMORY: &str = " (from memory)";

/// A source as a report names it, on one line, and whether it is still to be looked up.
pub(super) fn cited(source: &str) -> (String, bool) {
    let words: Vec<&str> = source.split_whitespace().collect();
    let words = words.join(" ");
    (words.replace(FROM_MEMORY, ""), words.contains(FROM_MEMORY))
}

/// A tool, and the units in which it is shown.
pub(super) struct Shown<'a> {
    pub tool: &'a Tool,
    pub units: UnitSystem,
}

impl Shown<'_> {
    pub(super) fn show(&self, value: f64, quantity: Quantity) -> f64 {
        self.units.show(value, quantity)
    }

    pub(super) fn pair(&self, v: [f64; 2], quantity: Quantity) -> [f64; 2] {
        v.map(|x| self.show(x, quantity))
    }

    pub(super) fn part(&self, part: PartId) -> String {
        self.tool
            .parts
            .get(part.index())
            .map_or_else(String::new, |p| p.name.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn positions_that_differ_read_differently() {
        let tool = Tool::lever();
        let text =
            |degrees: f64| position_text(&tool, At::Handle(degrees.to_radians()), UnitSystem::MmN);
        assert_eq!(text(161.07), "handle=161.07");
        assert_eq!(text(161.1), "handle=161.1");
        let gap = |mm: f64| position_text(&tool, At::Gap(mm), UnitSystem::MmN);
        assert_eq!(
            [gap(123.45), gap(120.0), gap(-1e-9)],
            ["gap=123.45", "gap=120", "gap=0"]
        );
        assert_eq!(
            position_text(&tool, At::Gap(0.4), UnitSystem::InLbf),
            "gap=0.0157"
        );
    }
}
