//! How long a tool lasts, in sentences.

use crate::output::text::{clean, figures, fixed, trimmed};
use crate::report::{LifeLine, LifeReport, strokes_text};

/// What is asked for.
pub(in crate::output) fn life_title(life: &LifeReport) -> String {
    format!(
        "Life: {} strokes wanted, {}, {} % of the parts; lowest factor first",
        strokes_text(life.strokes),
        life.against,
        trimmed(life.reliability)
    )
}

/// One place: its factor, and the rest of its line.
pub(in crate::output) fn place_words(life: &LifeReport, line: &LifeLine) -> (String, String) {
    let unit = life.stress_unit;
    let place = line
        .spot
        .as_ref()
        .map_or(String::new(), |place| format!(" {place}"));
    let strokes = match line.strokes {
        None => "no limit".to_owned(),
        Some(strokes) if strokes <= 1e3 => "1 000 strokes or fewer".to_owned(),
        Some(strokes) => format!("{} strokes", strokes_text(strokes)),
    };
    let notch = line.kt.zip(line.kf).map_or(String::new(), |(kt, kf)| {
        format!(", Kt {}, Kf {}", fixed(kt, 2), fixed(kf, 2))
    });
    let words = format!(
        "{}, {}{place}: {strokes}; {} to {} {unit}, Se {}, S {} {unit}{notch}",
        line.subject,
        line.check,
        figures(line.least + 0.0),
        figures(line.most),
        figures(line.endurance),
        figures(line.steady)
    );
    (fixed(line.factor, 2), clean(&words))
}

/// The formula and its source.
pub(in crate::output) fn life_formula(life: &LifeReport) -> String {
    format!("{} [{}]", life.formula, life.source)
}
