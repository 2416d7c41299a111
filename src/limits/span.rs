//! Grip spans that are recommended for tools with two handles.

/// A range of grip spans, mm, and who recommends it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpanRange {
    /// What it is for.
    pub what: &'static str,
    /// Least span with the tool shut, mm.
    pub shut: f64,
    /// Greatest span with the tool open, mm.
    pub open: f64,
    /// Who recommends it.
    pub source: &'static str,
}

const EASY_ERGONOMICS: &str = "NIOSH and Cal/OSHA, Easy Ergonomics: A Guide to Selecting \
    Non-Powered Hand Tools, DHHS (NIOSH) 2004-164, 2004";

/// Power grip with two handles: 2 in shut to 3½ in open.
pub const GRIP_SPANS: SpanRange = SpanRange {
    what: "power grip, two handles",
    shut: 50.8,
    open: 88.9,
    source: EASY_ERGONOMICS,
};

/// Precision tasks with two handles: 1 in shut to 3 in open.
pub const PINCH_SPANS: SpanRange = SpanRange {
    what: "precision work, two handles",
    shut: 25.4,
    open: 76.2,
    source: EASY_ERGONOMICS,
};

impl SpanRange {
    /// Whether the spans at the ends of a stroke (mm) both lie inside.
    #[must_use]
    pub fn holds(&self, open: f64, shut: f64) -> bool {
        shut >= self.shut && open <= self.open
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIOSH and Cal/OSHA 2004-164: closed not less than 2 in (1 in), open not more than 3½ in
    /// (3 in).
    #[test]
    fn spans_inside_and_outside() {
        for (range, shut, open) in [(GRIP_SPANS, 2.0, 3.5), (PINCH_SPANS, 1.0, 3.0)] {
            approx::assert_relative_eq!(range.shut, shut * 25.4);
            approx::assert_relative_eq!(range.open, open * 25.4);
        }
        assert!(GRIP_SPANS.holds(88.9, 50.8));
        assert!(!GRIP_SPANS.holds(95.0, 60.0), "too wide to reach");
        assert!(!GRIP_SPANS.holds(80.0, 40.0), "the fingers meet the palm");
        assert!(PINCH_SPANS.holds(70.0, 40.0));
    }
}
