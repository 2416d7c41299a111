//! Why a part or a pin is taken as rigid.

use crate::give::Why;

impl Why {
    /// The reason in words, to follow "rigid:".
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::NoSection => "no table in [sections]",
            Self::NoModulus => "its material has no `modulus`",
            Self::NoDiameter => "no `diameter` in [joints]",
            Self::NoMaterial => "no `material` in [joints]",
            Self::NoPlates => "a part on it has no table in [sections]",
            Self::Unbalanced => "its forces do not add up",
        }
    }
}
