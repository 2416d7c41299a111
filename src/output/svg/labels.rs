//! Room for text in a picture, without a font at hand: widths on the safe side, names cut to fit,
//! labels spread so that none lies on another.

use unicode_width::UnicodeWidthChar;

/// Width of the text at this font size, never less than the common sans-serif fonts take.
///
/// Per-character shares of the font size are those of DejaVu Sans (the widest of the fonts that
/// the pictures name), rounded up.
pub(in crate::output) fn text_width(text: &str, size: f64, bold: bool) -> f64 {
    let shares: f64 = text.chars().map(share).sum();
    shares * size * if bold { 1.12 } else { 1.0 }
}

fn share(c: char) -> f64 {
    match c {
        ' ' | '\u{a0}' | '.' | ',' | '\'' | '|' | 'i' | 'j' | 'l' | 'I' => 0.36,
        'f' | 'r' | 't' | '(' | ')' | '[' | ']' | '!' | '-' | '/' | ':' | ';' => 0.46,
        'm' | 'w' | 'M' | 'W' | '%' | '@' | '\u{2026}' => 1.0,
        'a'..='z' | '0'..='9' => 0.65,
        'A'..='Z' => 0.8,
        _ if c.is_ascii() => 0.85,
        _ => match c.width() {
            Some(0) | None => 0.0,
            Some(1) => 0.85,
            Some(_) => 1.3,
        },
    }
}

/// The text, cut with an ellipsis if it would be wider than `room`.
pub(in crate::output) fn shorten(text: &str, size: f64, bold: bool, room: f64) -> String {
    if text_width(text, size, bold) <= room {
        return text.to_owned();
    }
    let mut out = String::new();
    for c in text.chars() {
        let longer = format!("{out}{c}\u{2026}");
        if text_width(&longer, size, bold) > room {
            break;
        }
        out.push(c);
    }
    format!("{}\u{2026}", out.trim_end())
}

/// The text, cut in its middle if it would be wider than `room`: of addresses the end is what tells them apart.
pub(in crate::output) fn shorten_middle(text: &str, size: f64, bold: bool, room: f64) -> String {
    let letters: Vec<char> = text.chars().collect();
    let cut = |kept: usize| -> String {
        // Two thirds of what is kept stand at the end.
        let head = kept / 3;
        let tail = letters.len().saturating_sub(kept - head);
        let parts = (letters.get(..head), letters.get(tail..));
        let part = |part: Option<&[char]>| part.unwrap_or(&[]).iter().collect::<String>();
        format!("{}\u{2026}{}", part(parts.0), part(parts.1))
    };
    if text_width(text, size, bold) <= room {
        return text.to_owned();
    }
    let fits = |kept: &usize| text_width(&cut(*kept), size, bold) <= room;
    (0..letters.len())
        .rev()
        .find(fits)
        .map_or_else(String::new, cut)
}

/// Sentences broken into lines no wider than `room`.
pub(in crate::output) fn lines(text: &str, size: f64, room: f64) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        match out.last_mut() {
            Some(line) if text_width(&format!("{line} {word}"), size, false) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => out.push(shorten(word, size, false, room)),
        }
    }
    out
}

/// A run of labels that have been pushed against each other.
struct Pool {
    first: f64, // centre of its first label
    count: usize,
    wish: f64, // sum over its labels of (wanted place - place within the run)
}

/// Places of labels `spacing` apart, in the order given (which must be rising), as near to the
/// places wanted as the sum of squares allows, within `low..=high` if they fit there at all.
///
/// Pool-adjacent violators (Barlow, Bartholomew, Bremner and Brunk, "Statistical Inference under
/// Order Restrictions", 1972, chapter 1): labels that would overlap are joined into a run, whose
/// place is the mean of its members' wishes; runs that touch are joined in turn.
pub(in crate::output) fn spread(wanted: &[f64], spacing: f64, low: f64, high: f64) -> Vec<f64> {
    let mut pools: Vec<Pool> = Vec::new();
    for &place in wanted {
        let mut pool = Pool {
            first: place,
            count: 1,
            wish: place,
        };
        pool.settle(spacing, low, high);
        while let Some(before) = pools.pop() {
            if before.first + before.count as f64 * spacing <= pool.first + 1e-9 {
                pools.push(before);
                break;
            }
            let shift = before.count as f64 * spacing;
            pool = Pool {
                first: 0.0,
                count: before.count + pool.count,
                wish: before.wish + pool.wish - shift * pool.count as f64,
            };
            pool.settle(spacing, low, high);
        }
        pools.push(pool);
    }
    (pools.iter())
        .flat_map(|pool| (0..pool.count).map(|i| pool.first + i as f64 * spacing))
        .collect()
}

impl Pool {
    fn settle(&mut self, spacing: f64, low: f64, high: f64) {
        let length = (self.count - 1) as f64 * spacing;
        self.first = (self.wish / self.count as f64).min(high - length).max(low);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn labels_with_room_stay_where_they_are() {
        assert_eq!(
            spread(&[10.0, 40.0, 90.0], 15.0, 0.0, 100.0),
            [10.0, 40.0, 90.0]
        );
    }

    #[test]
    fn two_on_one_place_are_pushed_apart_evenly() {
        assert_eq!(spread(&[50.0, 50.0], 10.0, 0.0, 100.0), [45.0, 55.0]);
    }

    #[test]
    fn labels_at_the_edge_are_pushed_inwards() {
        assert_eq!(
            spread(&[0.0, 0.0, 1.0], 10.0, 0.0, 100.0),
            [0.0, 10.0, 20.0]
        );
        assert_eq!(spread(&[99.0, 100.0], 10.0, 0.0, 100.0), [90.0, 100.0]);
    }

    /// Widths measured with DejaVu Sans 2.37, regular and bold, in shares of the font size.
    #[test]
    fn no_text_is_wider_than_thought() {
        for (text, regular, bold) in [
            ("grip 100 mm, stalls at 2.45 mm", 15.823, 17.641),
            ("the work needs", 7.717, 8.713),
            ("hand limit 220 N", 8.325, 9.332),
            ("toggle, gap \u{2212}0.30 mm", 11.333, 12.538),
            ("travel, deg", 5.421, 6.157),
        ] {
            for (heavy, measured) in [(false, regular), (true, bold)] {
                let thought = text_width(text, 1.0, heavy);
                assert!(
                    (measured..1.25 * measured).contains(&thought),
                    "{text} {thought}"
                );
            }
        }
    }

    #[test]
    fn long_names_are_cut() {
        let cut = shorten(&"long ".repeat(50), 12.0, true, 200.0);
        assert!(cut.ends_with('\u{2026}') && text_width(&cut, 12.0, true) <= 200.0);
    }

    proptest! {
        #[test]
        fn no_two_labels_overlap_and_none_leaves(mut wanted in prop::collection::vec(-50.0..450.0f64, 0..25)) {
            wanted.sort_by(f64::total_cmp);
            let placed = spread(&wanted, 16.0, 0.0, 400.0);
            prop_assert_eq!(placed.len(), wanted.len());
            for pair in placed.windows(2) {
                prop_assert!(pair[1] - pair[0] >= 16.0 - 1e-6, "{:?}", placed);
            }
            for place in placed {
                prop_assert!((-1e-6..=400.0 + 1e-6).contains(&place));
            }
        }
    }
}
