//! A published limit: its figure, its source, how sure it is, and how it falls with the span.

const FALLOFF: &str = "C. Fransson and J. Winkel, Hand strength: the influence of grip span and \
    grip type, Ergonomics 34 (1991) 881-892: 10 % less per cm above the best span";

/// How sure the figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Read in the publication or a reprint of it.
    Read,
    /// From memory: verify against the publication before relying on it.
    FromMemory,
}

/// The limit falls with the span beyond the best one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Falloff {
    /// Lower end of the range of best spans, mm: nothing is published below.
    pub from: f64,
    /// Upper end of the range of best spans, mm.
    pub best: f64,
    /// Share lost for each mm above it.
    pub per_mm: f64,
}

impl Falloff {
    /// Fransson and Winkel 1991: best spans are 55 to 65 mm for men, 50 to 60 mm for women.
    pub(super) const MEN: Self = Self {
        from: 55.0,
        best: 65.0,
        per_mm: 0.01,
    };
    pub(super) const WOMEN: Self = Self {
        from: 50.0,
        best: 60.0,
        per_mm: 0.01,
    };

    /// Share of the force that is left at a span (mm): 1 up to the best span, held below
    /// it, since nothing is published there, and never less than 0.
    #[must_use]
    pub fn share(&self, span: f64) -> f64 {
        (1.0 - self.per_mm * (span - self.best).max(0.0)).max(0.0)
    }
}

/// A published limit under a name of our own.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitSet {
    /// The name for `hand.limit`.
    pub name: String,
    /// What it is: of whom, which hand, which share of the people.
    pub what: String,
    /// Title, author or body, year.
    pub source: &'static str,
    /// How sure the figure is.
    pub status: Status,
    /// Force, N; with a falloff, that at the best span.
    pub force: f64,
    /// How the force falls with the span; `None`: the same at any span.
    pub falloff: Option<Falloff>,
}

impl LimitSet {
    /// The source as a report names it, and that its figure is unconfirmed where it is from memory.
    #[must_use]
    pub fn source_text(&self) -> String {
        let status = match self.status {
            Status::Read => "",
            Status::FromMemory => " (unconfirmed figure: verify against the publication)",
        };
        let falloff = match self.falloff {
            Some(_) => format!("; {FALLOFF}"),
            None => String::new(),
        };
        format!("{}{status}{falloff}", self.source)
    }
}
