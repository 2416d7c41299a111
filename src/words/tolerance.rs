//! Why a number is not read off samples, and why a single sample has none.

use crate::tolerance::{Fate, Why};

impl Why {
    /// The reason in words, to follow a colon.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Strength => "strength factors are not read off samples",
            Self::TurnsBack => "the handle turns back within the stroke",
            Self::OpensAgain => "the jaw opens again within the stroke",
            Self::ManyRows => {
                "the work curve has more rows than samples are followed through (1000): leave out \
                 rows that say nothing new"
            }
            Self::Absent(why) => why.words(),
            Self::SolvedAnew(Fate::NotAssembled) => {
                "the nominal tool does not assemble there when it is solved anew"
            }
            Self::SolvedAnew(Fate::OutOfReach) => {
                "the nominal tool does not come there when it is solved anew"
            }
            Self::SolvedAnew(Fate::PastToggle) => {
                "the nominal tool stands at a toggle there, or beyond it"
            }
            Self::SolvedAnew(Fate::DiesMeet) => {
                "the dies of the nominal tool meet before it comes there"
            }
            Self::SolvedAnew(Fate::NoValue) => {
                "the nominal tool has no such number there (toggle, or locked)"
            }
        }
    }
}

impl Fate {
    /// What became of the sampled tool, to follow its name.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::NotAssembled => "does not assemble",
            Self::OutOfReach => "does not reach the position",
            Self::PastToggle => "is beyond its toggle",
            Self::DiesMeet => "has its dies meet before that",
            Self::NoValue => "has no such number (toggle, or locked)",
        }
    }
}
