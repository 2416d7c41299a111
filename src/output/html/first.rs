//! The first screen of a tool: the question answered in a few lines, each with a sign in front.

use super::spans::{Span, spans};
use crate::output::sentences::Sentence;
use crate::output::sentences::loads::factor_words;
use crate::output::sentences::stops::stop_sentences;
use crate::output::sentences::trial::trial_verdict;
use crate::output::sentences::verdict::first_lines;
use crate::output::text::{clean, fixed, length};
use crate::report::{PinchLine, ToolReview};

/// A line of the answer.
pub(super) struct Line {
    /// What it comes to, for those who see no colour.
    pub(super) sign: &'static str,
    /// The same in a word, for those who see no sign.
    pub(super) word: &'static str,
    /// The same as the name of a class.
    pub(super) mood: &'static str,
    pub(super) spans: Vec<Span>,
}

/// All lines: the hand, the demands, strength, what is left to the next dead place, stops, plates that touch.
pub(super) fn first(tool: &ToolReview) -> Vec<Line> {
    let stroke = &tool.stroke;
    let mut lines: Vec<Line> = first_lines(&stroke.verdict, &stroke.units)
        .iter()
        .map(toned)
        .collect();
    lines.extend(strength(tool));
    lines.extend(margin(tool));
    lines.extend(stops(tool));
    lines.extend(touching(tool));
    lines.extend(pinched(tool));
    lines.extend(on_the_bench(tool));
    lines.extend(not_asked(tool));
    lines
}

/// Readings of the bench in or out of the band.
fn on_the_bench(tool: &ToolReview) -> Option<Line> {
    if let Some(why) = &tool.no_trial {
        let text = |text: String| Span { tone: "", text };
        let not = Span {
            tone: "warning",
            text: "not checked".to_owned(),
        };
        let spans = vec![
            text("On the bench: ".to_owned()),
            not,
            text(format!(": {}.", clean(why))),
        ];
        return Some(line("warning", spans));
    }
    let trial = tool.trial.as_ref()?;
    let mood = match trial.inside {
        Some(inside) if inside == trial.readings.len() => "good",
        Some(_) => "bad",
        None => "",
    };
    let text = format!("On the bench: {}", trial_verdict(trial));
    Some(line(mood, vec![Span { tone: "", text }]))
}

fn line(mood: &'static str, spans: Vec<Span>) -> Line {
    let (sign, word) = match mood {
        "good" => ("\u{2713}", "good: "),
        "bad" => ("\u{2717}", "against it: "),
        "warning" => ("!", "mind: "),
        "mixed" => ("\u{b1}", "in part: "),
        _ => ("\u{b7}", ""),
    };
    Line {
        sign,
        word,
        mood,
        spans,
    }
}

/// The worst that one of its words says; yes here and no there is neither.
fn toned(sentence: &Sentence) -> Line {
    let spans = spans(sentence);
    let has = |tone: &str| spans.iter().any(|span| span.tone == tone);
    if has("good") && has("bad") {
        return line("mixed", spans);
    }
    let mood = ["bad", "warning", "good"]
        .into_iter()
        .find(|tone| has(tone));
    // Every made tool that is good is said in plain words.
    line(mood.unwrap_or(""), spans)
}

fn said(mood: &'static str, text: String) -> Line {
    line(mood, vec![Span { tone: "", text }])
}

/// The lowest factor. What factor is enough is for the engineer to say: only below 1 is it bad.
fn strength(tool: &ToolReview) -> Option<Line> {
    let factor = tool.loads.factors.first()?;
    let words = factor_words(&tool.loads, factor);
    let text = format!(
        "Strength: lowest factor {} ({}; {}).",
        fixed(factor.factor, 2),
        words.what,
        words.case
    );
    Some(said(if factor.factor < 1.0 { "bad" } else { "" }, text))
}

/// How far beyond shut the tool loses its drive.
fn margin(tool: &ToolReview) -> Option<Line> {
    let units = &tool.stroke.units;
    let text = match &tool.margin {
        None => "Margin: neither toggle nor dead position beyond shut.".to_owned(),
        Some(margin) => format!(
            "Margin: {} {} deg beyond shut, {} {} of gap.",
            margin.what,
            fixed(margin.handle.abs(), 2),
            length(margin.gap, units),
            units.length
        ),
    };
    Some(said("", text))
}

/// Where each stop is met.
fn stops(tool: &ToolReview) -> Vec<Line> {
    let units = &tool.stroke.units;
    let first = |stop| stop_sentences(stop, units).into_iter().next();
    let stops = tool.stroke.stops.iter().filter_map(first);
    stops.map(|text| said("", text)).collect()
}

/// Plates that run into each other.
fn touching(tool: &ToolReview) -> Vec<Line> {
    let pairs = tool.room.iter().flat_map(|room| &room.pairs);
    let touching = pairs.filter(|pair| pair.touches);
    let text = |[one, other]: &[String; 2]| {
        format!(
            "Plates: {} and {} TOUCH within the stroke.",
            clean(one),
            clean(other)
        )
    };
    touching
        .map(|pair| said("bad", text(&pair.parts)))
        .collect()
}

/// Most pairs of parts that are told of between which a finger is caught.
const PLACES: usize = 2;

/// The narrowest place between every two parts that catch a finger: of two handles that face each other each was
/// looked along.
fn narrowest(pinches: &[PinchLine]) -> Vec<&PinchLine> {
    let mut out: Vec<&PinchLine> = Vec::new();
    for pinch in pinches.iter().filter(|pinch| pinch.pinches) {
        let same = |other: &&mut &PinchLine| {
            let [one, two] = &other.parts;
            pinch.parts.contains(one) && pinch.parts.contains(two)
        };
        match out.iter_mut().find(same) {
            Some(known) if pinch.widths[1] < known.widths[1] => *known = pinch,
            Some(_) => {}
            None => out.push(pinch),
        }
    }
    out
}

/// Between which parts fingers are caught.
fn pinched(tool: &ToolReview) -> Option<Line> {
    let room = tool.room.as_ref()?;
    let units = &tool.stroke.units;
    let caught = narrowest(&room.pinches);
    let place = |pinch: &&PinchLine| {
        let [one, other] = pinch.parts.each_ref().map(|name| clean(name));
        let [open, shut] = pinch.widths.map(|width| length(width, units));
        format!("{one} and {other}, {open} to {shut} {}", units.length)
    };
    let mut places: Vec<String> = caught.iter().take(PLACES).map(place).collect();
    if caught.len() > places.len() {
        places.push(format!("and {} more", caught.len() - places.len()));
    }
    let text = |text: String| Span { tone: "", text };
    let word = Span {
        tone: "warning",
        text: "PINCH".to_owned(),
    };
    let finger = length(room.finger, units);
    let rest = format!(
        " through the {finger} {} of a finger: {}.",
        units.length,
        places.join("; ")
    );
    let spans = vec![text("Fingers: ".to_owned()), word, text(rest)];
    (!caught.is_empty()).then(|| line("warning", spans))
}

/// What the file does not ask, so that nobody takes silence for a yes.
fn not_asked(tool: &ToolReview) -> Option<Line> {
    let repeated = tool.stroke.job.is_none().then_some("use again and again");
    let life = tool.loads.life.is_none().then_some("how long it lasts");
    let missing: Vec<&str> = repeated.into_iter().chain(life).collect();
    let text = format!("Not asked by the file: {}.", missing.join(", "));
    (!missing.is_empty()).then(|| said("", text))
}
