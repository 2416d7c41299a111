//! A tool whose jaw the hand opens, and the very lines that mend it.

use super::{Words, number};
use crate::model::{Push, Tool};
use crate::motion::{PushedOpen, Spread};
use crate::numeric::angle::wrapped;
use crate::units::{Quantity as Kind, UnitSystem, figures};

impl PushedOpen {
    /// What is wrong and what to write.
    pub(super) fn words(&self, tool: &Tool, units: UnitSystem) -> Words {
        let length = |v: f64| number(v, Kind::Length, units);
        let jaw = tool.jaw(tool.stroke.lead);
        let jaw = jaw.map_or("", |jaw| jaw.name.as_str());
        let grip = tool.grip(self.grip).unwrap_or(0.0);
        let mut note = format!(
            "from open to shut its gap goes from {} to {}",
            length(self.gap[0]),
            length(self.gap[1])
        );
        if let [Some(open), Some(shut)] = self.span {
            note.push_str(&format!(
                ", the grip span from {} to {}",
                length(open),
                length(shut)
            ));
        }
        let mut words = Words::new(format!(
            "the hand at grip {} opens jaw `{jaw}` in place of closing it: ratio {}",
            length(grip),
            figures(self.ratio)
        ))
        .note(note);
        match tool.hand.push {
            Push::Fixed(angle) => {
                words = words.help(format!(
                    "turn the push round: `push = {}` in [hand]",
                    plain(wrapped(angle + std::f64::consts::PI), Kind::Angle, tool)
                ));
            }
            Push::Across => {
                words = words.help(
                    "if the hand is to drive the handles apart, let it push square to its own: \
                     `push = \"square\"` in [hand]",
                );
            }
            Push::Square => {}
        }
        if self.other_grip {
            words = words.help("or leave this grip out: at others the hand closes the jaw");
        }
        words.help(self.spread.lines(tool))
    }
}

impl Spread {
    /// The axis turned round, and the gap counted from where the jaw is spread as far as it goes.
    pub(super) fn lines(&self, tool: &Tool) -> String {
        let length = |v: f64| plain(v, Kind::Length, tool);
        let of = match tool.jaw(tool.stroke.lead) {
            Some(jaw) if tool.jaws.len() > 1 => format!("[[jaw]] `{}`", jaw.name),
            _ => "[[jaw]]".to_owned(),
        };
        let axis = match self.outwards {
            Some(outwards) => format!("`axis = {}`", plain(outwards, Kind::Angle, tool)),
            None => "an `axis` along which its two points part".to_owned(),
        };
        format!(
            "if the tool is meant to spread, turn the jaw's axis round, and count the gap from where it is spread as \
             far as it goes: {axis} and `closed = {}` in {of}, `open = {{ gap = {} }}` and \
             `shut = {{ gap = 0 }}` in [stroke]; the gaps of [work] and [[demand]] count from there too",
            length(-self.apart),
            length(self.way),
        )
    }
}

/// A number as it is written in the tool's file.
fn plain(value: f64, kind: Kind, tool: &Tool) -> String {
    let text = number(value, kind, tool.units);
    text.split(' ').next().unwrap_or_default().to_owned()
}

#[cfg(test)]
#[test]
fn a_direction_that_is_unknown_is_not_given_as_zero() {
    let tool = Tool::lever();
    let spread = |outwards| Spread {
        outwards,
        apart: 3.0,
        way: 8.0,
    };
    let (known, unknown) = (
        spread(Some(0.5_f64)).lines(&tool),
        spread(None).lines(&tool),
    );
    assert!(known.contains("`axis = 28.65`"), "{known}");
    assert!(!unknown.contains("axis = "), "{unknown}");
}
