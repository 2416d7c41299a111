//! `[life]`: how often the tool has to do its job.

use super::fields::{Entry, Reader};
use super::keys;
use crate::model::{Against, Life, Values};

impl Reader<'_> {
    pub(super) fn life(&mut self, entry: &Entry<'_>) -> Option<Life> {
        let fields = self.known_table(entry, "[life]", &keys::LIFE)?;
        let strokes = self.need(&fields, "strokes");
        let strokes = strokes.and_then(|v| self.times(v, "`strokes`"));
        let against = fields.get("against");
        let against = against.and_then(|v| self.word(v, "against", &["goodman", "soderberg"]));
        let reliability = self.plain_of(&fields, "reliability", "90", Values::Reliability);
        let reliability = reliability.unwrap_or(Some(50.0));
        Some(Life {
            strokes: strokes?,
            against: match against {
                Some("soderberg") => Against::Soderberg,
                _ => Against::Goodman,
            },
            reliability: reliability?,
        })
    }
}
