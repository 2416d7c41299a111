//! Colours for a terminal that wants them: never the only sign, since each stands on a word.

use anstyle::{AnsiColor, Style};

const BAD: Style = AnsiColor::Red.on_default().bold();
const WARN: Style = AnsiColor::Yellow.on_default().bold();
const GOOD: Style = AnsiColor::Green.on_default();

/// The words that are coloured, in the order in which they are looked for.
const WORDS: [(&str, Style); 8] = [
    ("NOT MET", BAD),
    ("NO LONGER MET", BAD),
    ("NOT met", BAD),
    ("LOCKS ITSELF", BAD),
    ("DIES MEET", WARN),
    ("STALLS", WARN),
    ("TOO MUCH", WARN),
    ("Caution:", WARN),
];

/// How the line of a demand that is met begins.
const MET: &str = "  met ";

/// The text with its verdicts coloured.
#[must_use]
pub fn coloured(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 64);
    for line in text.split_inclusive('\n') {
        if let Some(rest) = line.strip_prefix(MET) {
            out.push_str(&format!("{GOOD}{MET}{GOOD:#}{rest}"));
            continue;
        }
        let mut line = line.to_owned();
        for (word, style) in WORDS {
            if line.contains(word) {
                line = line.replace(word, &format!("{style}{word}{style:#}"));
            }
        }
        out.push_str(&line);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::coloured;

    #[test]
    fn verdicts_are_coloured_and_nothing_is_lost() {
        let text = "plain\n  met      gap\n  NOT MET  jaw_force\n  span  NO LONGER MET, at most 90\n\
                    Grip 60 mm: STALLS here\n";
        let shown = coloured(text);
        assert!(
            shown.contains("\u{1b}[1m\u{1b}[31mNOT MET\u{1b}[0m"),
            "{shown:?}"
        );
        assert!(
            shown.contains("\u{1b}[31mNO LONGER MET\u{1b}[0m"),
            "{shown:?}"
        );
        assert!(shown.contains("\u{1b}[32m  met \u{1b}[0m"), "{shown:?}");
        let mut plain = String::new();
        let mut escape = false;
        for c in shown.chars() {
            match c {
                '\u{1b}' => escape = true,
                'm' if escape => escape = false,
                _ if escape => {}
                c => plain.push(c),
            }
        }
        assert_eq!(plain, text);
    }
}
