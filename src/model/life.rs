//! How often a tool has to do its job.

/// What is asked of the life of a tool.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Life {
    /// Strokes that it has to last.
    pub strokes: f64,
    /// What a mean stress is held against.
    pub against: Against,
    /// Share of the parts that have to last, per cent.
    pub reliability: f64,
}

/// What a mean stress is held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// The ultimate strength.
    Goodman,
    /// The yield strength.
    Soderberg,
}

/// How the surface of a part was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surface {
    /// Ground.
    Ground,
    /// Machined.
    Machined,
    /// Cold-drawn.
    ColdDrawn,
    /// Hot-rolled, with its scale.
    HotRolled,
    /// Forged.
    Forged,
    /// Edges cut by laser.
    Laser,
}

impl Surface {
    /// All of them, with the words of the tool file.
    pub const ALL: [(&'static str, Self); 6] = [
        ("ground", Self::Ground),
        ("machined", Self::Machined),
        ("cold-drawn", Self::ColdDrawn),
        ("hot-rolled", Self::HotRolled),
        ("forged", Self::Forged),
        ("laser", Self::Laser),
    ];
}
