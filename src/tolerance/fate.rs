//! Why a sampled tool has no value.

/// Why a sample has no value. None is ever left out of a count in silence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// Its loops do not close, at the position's nominal handle angle either.
    NotAssembled,
    /// It assembles, but does not come to the position.
    OutOfReach,
    /// The jaw opens there as the hand closes: it is beyond its toggle.
    PastToggle,
    /// It stands there, but has no such number: at a toggle, or friction locks it.
    NoValue,
    /// Its dies meet before it comes there.
    DiesMeet,
    /// A stop, the dies of a further jaw or the end of a cam's face keep it from there, or from doing its work.
    Stopped,
}

impl Fate {
    /// All, in order.
    pub const ALL: [Self; 6] = [
        Self::NotAssembled,
        Self::OutOfReach,
        Self::PastToggle,
        Self::NoValue,
        Self::DiesMeet,
        Self::Stopped,
    ];
}
