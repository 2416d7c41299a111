//! Why there is no value, to follow a colon.

use crate::statics::Absent;

impl Absent {
    /// The reason in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Toggle => "the jaw stands still there (toggle)",
            Self::Locked => "friction locks the tool there",
            Self::LiftsOff => "the cam lifts off there: it would have to pull",
            Self::Slack => "the hand does not overcome the springs there",
            Self::Untouched => "the jaws never come to the work",
            Self::CutShort => "the stroke ends before the work is done",
            Self::DiesMeet => "the dies of a jaw meet before it: the stroke ends there",
            Self::FaceEnds => "the face of a cam ends before it: the stroke ends there",
            Self::StopMet => "a stop is met before it: the stroke ends there",
            Self::NotAtStop => "the hand does not press the tool against its stop",
            Self::NoStop => "the stroke does not end at that stop",
            Self::NoRatchet => "the tool has no ratchet",
            Self::NoSpring => "the tool has no spring of wire that carries a load",
            Self::NoTeeth => "the ratchet has no teeth on the stroke",
            Self::NoSpan => "there is no second handle",
            Self::NoLimit => "the hand has no limit at that span",
            Self::NoJob => "nothing says how often the tool is used ([job])",
            Self::AboveStrength => "the force is more than that hand has",
            Self::NoWork => "the work needs nothing there yet",
            Self::OfTheStroke => "it is a measure of the whole stroke",
            Self::OfAPosition => "it is no measure of the stroke",
            Self::LocksOnTheWay => "friction locks the tool on the way",
            Self::NoFactor => {
                "no part or pin has the section, material and diameter that a factor needs"
            }
            Self::NoForce => "no force is put in there that friction could take from",
            Self::NoNumber => "it comes out as no number",
            Self::NoGrip => "the tool is not set up for that grip",
            Self::OffTheStroke => "it is not on the stroke",
            Self::NoAxis => "the jaw measures along the line between its points: nothing is across",
            Self::NotSampled => {
                "no made tools were sampled: it needs [tolerances] and other demands"
            }
            Self::NotWeighed => "a part has no outline, thickness or density",
            Self::NoLayer => "no two such parts with outlines share a layer",
            Self::NoPinch => {
                "no handle with an outline has another part near it that leaves room for a finger"
            }
            Self::NoCut => "its plates have no section from an outline, or carry nothing",
            Self::NoToggle => "the motion meets no toggle and no dead position beyond shut",
        }
    }
}

impl std::fmt::Display for Absent {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.words())
    }
}

impl std::error::Error for Absent {}
