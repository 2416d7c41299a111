//! What stands out in a text for people: a span with a tone. Colour is never the only sign, since
//! each tone stands on a word that says the same. Terminal text always carries the colours; where
//! they are not wanted, [`unstyled`] takes them out again.

use anstyle::{AnsiColor, Style};
use std::fmt;

/// How a span of text is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::output) enum Tone {
    Good,
    Warning,
    Bad,
}

impl Tone {
    fn style(self) -> Style {
        match self {
            Self::Good => AnsiColor::Green.on_default(),
            Self::Warning => AnsiColor::Yellow.on_default().bold(),
            Self::Bad => AnsiColor::Red.on_default().bold(),
        }
    }

    /// The text in this tone's colour.
    pub(in crate::output) fn paint(self, text: &str) -> String {
        let style = self.style();
        format!("{style}{text}{style:#}")
    }
}

/// A sentence, some of whose words may have a tone. Shown with `Display` it is plain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::output) struct Sentence(Vec<(Option<Tone>, String)>);

impl Sentence {
    /// Words with a tone, as the beginning of a sentence.
    pub(in crate::output) fn toned(tone: Tone, text: &str) -> Self {
        Self(vec![(Some(tone), text.to_owned())])
    }

    /// Goes on in plain words.
    pub(in crate::output) fn and(mut self, text: impl Into<String>) -> Self {
        self.0.push((None, text.into()));
        self
    }

    /// Goes on in words with a tone.
    pub(in crate::output) fn and_toned(mut self, tone: Tone, text: &str) -> Self {
        self.0.push((Some(tone), text.to_owned()));
        self
    }

    /// Its spans, each with the name of its tone: none, `good`, `warning` or `bad`.
    pub(in crate::output) fn spans(&self) -> impl Iterator<Item = (&'static str, &str)> {
        self.0.iter().map(|(tone, text)| {
            let name = match tone {
                None => "",
                Some(Tone::Good) => "good",
                Some(Tone::Warning) => "warning",
                Some(Tone::Bad) => "bad",
            };
            (name, text.as_str())
        })
    }

    /// The sentence for a terminal.
    pub(in crate::output) fn painted(&self) -> String {
        let paint = |(tone, text): &(Option<Tone>, String)| match tone {
            Some(tone) => tone.paint(text),
            None => text.clone(),
        };
        self.0.iter().map(paint).collect()
    }
}

impl From<String> for Sentence {
    fn from(text: String) -> Self {
        Self(vec![(None, text)])
    }
}

impl fmt::Display for Sentence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|(_, text)| f.write_str(text))
    }
}

/// Terminal text without its colours.
#[must_use]
pub fn unstyled(text: &str) -> String {
    anstream::adapter::strip_str(text).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_painted_sentence_loses_nothing_but_its_colours() {
        let sentence = Sentence::toned(Tone::Bad, "LOCKS ITSELF")
            .and(": nose; ")
            .and_toned(Tone::Warning, "STALLS");
        let painted = sentence.painted();
        assert!(
            painted.contains("\u{1b}[1m\u{1b}[31mLOCKS ITSELF\u{1b}[0m"),
            "{painted:?}"
        );
        assert_eq!(unstyled(&painted), sentence.to_string());
        assert_eq!(sentence.to_string(), "LOCKS ITSELF: nose; STALLS");
    }
}
