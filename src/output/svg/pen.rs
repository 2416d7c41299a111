//! How lines are drawn, and the colours of ink.

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::output) struct Pen {
    /// `#rrggbb`.
    pub(in crate::output) colour: &'static str,
    /// Pixels.
    pub(in crate::output) width: f64,
    /// `stroke-dasharray`, empty for a solid line.
    pub(in crate::output) dash: &'static str,
}

/// Text and the work.
pub(in crate::output) const INK: &str = "#1a1a1a";
/// Secondary text.
pub(in crate::output) const GREY: &str = "#555555";
