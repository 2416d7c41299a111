//! Why a tool has no answer.

use super::Words;
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
