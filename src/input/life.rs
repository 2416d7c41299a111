//! `[life]`: how often the tool has to do its job.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Entry, Reader};
use super::keys;
use crate::model::{Against, Life};

/// Shares of parts that last for which there are figures, per cent.
const RELIABLE: [f64; 2] = [50.0, 99.99];

impl Reader<'_> {
    pub(super) fn life(&mut self, entry: &Entry<'_>) -> Option<Life> {
        let fields = self.known_table(entry, "[life]", &keys::LIFE)?;
        let strokes = self.need(&fields, "strokes");
        let strokes = strokes.and_then(|v| self.times(v, "`strokes`"));
        let against = fields.get("against");
        let against = against.and_then(|v| self.word(v, "against", &["goodman", "soderberg"]));
        let reliability = match fields.get("reliability") {
            None => Some(50.0),
            Some(value) => {
                let percent = self.plain(value, "`reliability`", "90")?;
                if !(RELIABLE[0]..=RELIABLE[1]).contains(&percent) {
                    let message = format!("a reliability of {percent} % has no figure");
                    self.report(
                        Diagnostic::error(code::SIZE, value.span(), message)
                            .help("give per cent of the parts that have to last, from 50 to 99.99"),
                    );
                    return None;
                }
                Some(percent)
            }
        };
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
