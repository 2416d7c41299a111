//! Sentences on the page: words with a tone.

use crate::output::sentences::Sentence;

/// Words with a tone, which is the name of a class, or none.
pub(super) struct Span {
    pub(super) tone: &'static str,
    pub(super) text: String,
}

pub(super) fn spans(sentence: &Sentence) -> Vec<Span> {
    let span = |(tone, text): (&'static str, &str)| Span {
        tone,
        text: text.to_owned(),
    };
    sentence.spans().map(span).collect()
}
