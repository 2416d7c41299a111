//! What becomes of the work when the jaws let go: it springs back.

/// How a worked piece comes out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finish {
    /// How it springs back.
    pub back: Back,
    /// Height that is wanted afterwards: the distance of the jaws' faces that the finished piece is to have, mm.
    pub wanted: Option<f64>,
    /// What it may be off by, either way, mm.
    pub within: Option<f64>,
}

/// How a worked piece springs back when the force goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Back {
    /// By this much, mm.
    By(f64),
    /// As a spring of this rate, N/mm, under the last force.
    Stiff(f64),
}

impl Back {
    /// How far it springs back from under a force, mm.
    #[must_use]
    pub fn from(self, force: f64) -> f64 {
        match self {
            Self::By(length) => length,
            Self::Stiff(rate) => force / rate,
        }
    }
}

impl Finish {
    /// Least and greatest height that is good enough, mm; `None` where that is not said.
    #[must_use]
    pub fn limits(&self) -> Option<[f64; 2]> {
        let (wanted, within) = (self.wanted?, self.within?);
        Some([wanted - within, wanted + within])
    }
}
