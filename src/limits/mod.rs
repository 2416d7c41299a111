//! What may be asked of a hand: published figures, each with its source.
//!
//! The figures are guidance for healthy adults, never advice: local codes and a competent
//! ergonomist decide. Data and a little arithmetic; the reader of tool files takes the names of
//! the sets from here.

mod data;
mod effort;
mod group;
mod groups;
mod handle;
mod norms;
mod reduced;
mod repeated;
mod set;
mod sets;
mod span;

pub use effort::endurance_minutes;
pub use group::{Group, quantile};
pub use groups::{group, groups};
pub use handle::{
    BREADTH_SOURCE, HANDLE_SOURCE, LEAST_LENGTH, SECTION_RATIO, SPANS_SOURCE, fingers, taken,
    widest,
};
pub use reduced::{ActionTime, Reduction, base_force};
pub use repeated::{Method, Rating, acceptable_share, hand_activity, strain_index, strength};
pub use set::{Falloff, LimitSet, Status};
pub use sets::{find, names};
pub use span::{GRIP_SPANS, PINCH_SPANS, SpanRange};

use crate::model::{HandLimit, between};

/// The caution that stands wherever a limit is printed.
pub const CAUTION: &str = "Published figures on the strength of hands are guidance for healthy \
    adults, not a clearance: local codes and a competent ergonomist decide.";

/// The limit at a grip span (mm), N.
///
/// A table is read by straight lines between its rows and keeps the force of its nearest end
/// outside of them (see [`covers`]). `None` when the limit depends on the span and there is none,
/// and for a name that no set has.
#[must_use]
pub fn limit_at(limit: &HandLimit, span: Option<f64>) -> Option<f64> {
    match limit {
        HandLimit::Force(force) => Some(*force),
        HandLimit::Table(rows) => between(rows, span?),
        HandLimit::Named(name) => {
            let set = find(name)?;
            match set.falloff {
                Some(falloff) => Some(set.force * falloff.share(span?)),
                None => Some(set.force),
            }
        }
    }
}

/// Whether the limit was given for this span (mm): outside the rows of a table, and below the best
/// spans of a set that falls off, it is only held.
#[must_use]
pub fn covers(limit: &HandLimit, span: f64) -> bool {
    match limit {
        HandLimit::Table(rows) => match (rows.first(), rows.last()) {
            (Some(first), Some(last)) => (first[0]..=last[0]).contains(&span),
            _ => false,
        },
        HandLimit::Named(name) => {
            let falloff = find(name).and_then(|set| set.falloff);
            falloff.is_none_or(|f| span >= f.from)
        }
        HandLimit::Force(_) => true,
    }
}

/// What a limit is, in words without numbers of force or length, and where it is published.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Described {
    /// What it is.
    pub text: String,
    /// Where it is published; `None` for the file's own numbers.
    pub source: Option<String>,
}

/// Describes a limit.
#[must_use]
pub fn describe(limit: &HandLimit) -> Described {
    let own = |text: &str| Described {
        text: text.to_owned(),
        source: None,
    };
    match limit {
        HandLimit::Force(_) => own("one force at any span, given in the tool file"),
        HandLimit::Table(_) => own("table in the tool file"),
        HandLimit::Named(name) => match find(name) {
            None => own("a set of that name is not known"),
            Some(set) => Described {
                text: set.what.clone(),
                source: Some(set.source_text()),
            },
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_is_linear_inside_and_held_outside() {
        let table = HandLimit::Table(vec![[40.0, 180.0], [60.0, 240.0], [90.0, 210.0]]);
        for (span, force) in [(40.0, 180.0), (45.0, 195.0), (60.0, 240.0), (80.0, 220.0)] {
            assert_eq!(limit_at(&table, Some(span)), Some(force));
            assert!(covers(&table, span));
        }
        for (span, force) in [(10.0, 180.0), (120.0, 210.0)] {
            assert_eq!(limit_at(&table, Some(span)), Some(force));
            assert!(!covers(&table, span));
        }
        assert_eq!(limit_at(&table, None), None, "it depends on the span");
    }

    #[test]
    fn one_force_needs_no_span() {
        assert_eq!(limit_at(&HandLimit::Force(220.0), None), Some(220.0));
        assert_eq!(describe(&HandLimit::Force(220.0)).source, None);
    }

    #[test]
    fn a_named_set_brings_its_source() {
        let named = HandLimit::Named("norm-grip-w-60-64-p5".to_owned());
        let described = describe(&named);
        assert!(described.source.is_some_and(|s| s.contains("Mathiowetz")));
        assert!(described.text.contains("women"));
        let wide = HandLimit::Named("norm-grip-w-60-64-p5-span".to_owned());
        assert_eq!(limit_at(&wide, None), None, "it depends on the span");
        assert!(limit_at(&wide, Some(80.0)) < limit_at(&named, Some(80.0)));
        assert!(covers(&wide, 55.0) && !covers(&wide, 45.0) && covers(&named, 45.0));
        let unknown = HandLimit::Named("norm-grip".to_owned());
        assert_eq!(limit_at(&unknown, Some(60.0)), None);
    }
}
