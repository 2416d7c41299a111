//! Why a tool has no answer.

use super::{Kind, Words, number};
use crate::analysis::Failure;
use crate::model::Tool;
use crate::units::UnitSystem;

impl Failure {
    /// What went wrong and what to do, in these units.
    #[must_use]
    pub fn words(&self, tool: &Tool, units: UnitSystem) -> Words {
        match self {
            Self::Model(error) => error.words(units),
            Self::Motion(error) => error.words(tool, units),
            Self::Overlap {
                parts,
                layer,
                area,
                at,
            } => {
                let name = |part| tool.part(part).map_or("", |part| part.name.as_str());
                let [a, b] = parts.map(name);
                let [x, y] = at.map(|v| number(v, Kind::Length, units));
                let area = number(*area, Kind::Area, units);
                Words::new(format!(
                    "the plates of {a} and {b} overlap in layer {layer} with the tool open: {area} at ({x}, {y})"
                ))
                .note("places are in the fixed part's axes; round a pin that both share, each is taken to be cut away")
                .help("give one of them another layer, or take one border out of the other's way")
            }
            Self::Check {
                what,
                found,
                allowed,
            } => Words {
                message: format!(
                    "the answer does not agree with itself: {what} is off by {found:.1e}, more than {allowed:.0e}"
                ),
                notes: vec!["no result is given".to_owned()],
                help: vec!["please report this tool file as a fault of jawforce".to_owned()],
            },
        }
    }

    /// The same as one text of several lines, in the tool's units.
    #[must_use]
    pub fn text(&self, tool: &Tool) -> String {
        self.words(tool, tool.units).to_string()
    }
}
