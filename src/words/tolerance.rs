//! Why a number is not read off samples, and why a single sample has none.

use crate::tolerance::{Fate, Why};

impl Why {
    /// The reason in words, to follow a colon.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Redundant => {
                "redundant bars share the load as statics cannot tell, so strength factors are not read off samples"
            }
            Self::BeyondShut => "the motion beyond shut is not followed on samples of such a tool",
            Self::OfPlates => "made tools are taken to have their plates as drawn",
            Self::TurnsBack => "the handle turns back within the stroke",
            Self::OpensAgain => "the jaw opens again within the stroke",
            Self::OfAStop => "what a stop carries is not read off samples",
            Self::OfSprings => "springs of wire are not checked one by one on samples",
            Self::OfTeeth => "the teeth of a ratchet are not looked for one by one on samples",
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
            Self::SolvedAnew(Fate::Stopped) => "the nominal tool is stopped before it comes there",
            Self::SolvedAnew(Fate::NoValue) => {
                "the nominal tool has no such number there (toggle, or locked)"
            }
        }
    }
}

impl Fate {
    /// What became of a sampled tool, to follow its name.
    #[must_use]
    pub fn text(self) -> &'static str {
        self.of_one_and_several()[0]
    }

    /// What became of so many samples: "1 sample never reaches that position".
    #[must_use]
    pub fn samples(self, count: usize) -> String {
        let [one, several] = self.of_one_and_several();
        match count {
            1 => format!("1 sample {one}"),
            _ => format!("{count} samples {several}"),
        }
    }

    fn of_one_and_several(self) -> [&'static str; 2] {
        match self {
            Self::NotAssembled => ["does not assemble", "do not assemble"],
            Self::OutOfReach => ["never reaches that position", "never reach that position"],
            Self::PastToggle => [
                "is at its toggle there, or beyond it",
                "are at their toggle there, or beyond it",
            ],
            Self::DiesMeet => [
                "has its dies meet before that position",
                "have their dies meet before that position",
            ],
            Self::Stopped => [
                "is stopped before it comes there, or before its work is done",
                "are stopped before they come there, or before their work is done",
            ],
            Self::NoValue => [
                "has no such number there (toggle, or locked)",
                "have no such number there (toggle, or locked)",
            ],
        }
    }
}

#[cfg(test)]
#[test]
fn one_sample_and_several_are_spoken_of_as_such() {
    let one = Fate::OutOfReach.samples(1);
    assert_eq!(one, "1 sample never reaches that position");
    let several = Fate::OutOfReach.samples(3);
    assert_eq!(several, "3 samples never reach that position");
}
