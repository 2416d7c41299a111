//! Which places meet both targets, in words: where none of their pairs is a stroke, and where
//! several are as near as one another.

use super::{Words, number};
use crate::motion::{Candidate, Happening, Mark, Refusal, Survey};
use crate::units::{Quantity, UnitSystem, trimmed};

/// Why no pair of places is a stroke of the jaw named `jaw`. The first candidate is the one that
/// was meant.
pub(super) fn refused(candidates: &[Candidate], more: bool, jaw: &str, units: UnitSystem) -> Words {
    let Some(meant) = candidates.first() else {
        return Words::new("no place of the motion meets both targets");
    };
    let mut words = headline(meant, jaw, units);
    if candidates.len() > 1 {
        words = words.note(
            "several pairs of places meet both targets, and on none of them the jaw closes all the way:",
        );
        for candidate in candidates {
            words = words.note(format!(
                "{}: {}",
                way(&[candidate.open, candidate.shut], units),
                reason(&candidate.refusal, units)
            ));
        }
        if more {
            words = words.note("and so on");
        }
        words = words.help(format!(
            "to choose where the stroke begins or ends, state that target by its handle angle, as in `{}`",
            target("open", meant.open, units)
        ));
    }
    words
}

fn headline(meant: &Candidate, jaw: &str, units: UnitSystem) -> Words {
    match &meant.refusal {
        Refusal::Opens => Words::new(format!(
            "jaw `{jaw}` opens on the way from open to shut: its gap grows from {} to {}",
            length(meant.open.gap, units),
            length(meant.shut.gap, units)
        ))
        .help("swap the targets `open` and `shut`"),
        Refusal::Past(what, at) => {
            let (message, help) = match what {
                Happening::ChangePoint => (
                    "the stroke goes through a change point or ends at one: there the linkage can move on in two \
                     ways, and forces are not defined"
                        .to_owned(),
                    "change a link length so that the links do not all fall in line, or keep the stroke clear \
                     of it",
                ),
                Happening::Dead | Happening::TurnsBack => (
                    "the stroke goes through a dead position of the handle: beyond it the handle moves back"
                        .to_owned(),
                    "end the stroke before the dead position, or change the dimensions that put it there",
                ),
                Happening::Contact(_) => (
                    format!("the stroke goes past contact of jaw `{jaw}`: beyond it its two points part again"),
                    "end the stroke at contact, or state the jaw's `axis` to measure the gap in a fixed direction",
                ),
                Happening::Toggle(_) => (
                    format!("the stroke goes past a toggle of jaw `{jaw}`: beyond it the jaw moves back"),
                    "end the stroke before the toggle, or change the dimensions that put it there",
                ),
            };
            Words::new(message)
                .note(format!("the {} is at {}", name(*what), place(*at, units)))
                .help(help)
        }
        Refusal::Again(end, at) => Words::new(format!(
            "between open and shut the {end} target is met once more"
        ))
        .note(format!("it is met at {} too", place(*at, units)))
        .help(format!(
            "state `{end}` by its gap or handle angle, which do not come back on the way"
        )),
    }
}

fn name(what: Happening) -> &'static str {
    match what {
        Happening::Toggle(_) => "toggle",
        Happening::Contact(_) => "contact",
        Happening::Dead | Happening::TurnsBack => "dead position",
        Happening::ChangePoint => "change point",
    }
}

fn reason(refusal: &Refusal, units: UnitSystem) -> String {
    match refusal {
        Refusal::Opens => "the jaw opens".to_owned(),
        Refusal::Past(what, at) => format!("past the {} at {}", name(*what), place(*at, units)),
        Refusal::Again(end, at) => {
            format!("the {end} target is met at {} too", place(*at, units))
        }
    }
}

/// What to say where other strokes are as near to the drawn pose as the one taken.
#[must_use]
pub fn as_near(survey: &Survey, units: UnitSystem) -> Option<String> {
    let rivals: Vec<String> = survey.rivals.iter().map(|r| way(r, units)).collect();
    if rivals.is_empty() {
        return None;
    }
    let [open, shut] = survey.ends;
    Some(format!(
        "two strokes are as near to the sketch: the one taken, {}, and {}; sketch the parts on the one that is \
         meant, or state `{}` and `{}`",
        way(&survey.ends, units),
        rivals.join(", and "),
        target("open", open, units),
        target("shut", shut, units)
    ))
}

fn length(value: f64, units: UnitSystem) -> String {
    number(value, Quantity::Length, units)
}

fn place(at: Mark, units: UnitSystem) -> String {
    format!(
        "handle {}, gap {}",
        number(at.handle, Quantity::Angle, units),
        length(at.gap, units)
    )
}

fn way([open, shut]: &[Mark; 2], units: UnitSystem) -> String {
    format!(
        "open at {} to shut at {}",
        place(*open, units),
        place(*shut, units)
    )
}

/// A target as a tool file has it.
fn target(end: &str, at: Mark, units: UnitSystem) -> String {
    let shown = trimmed(units.show(at.handle, Quantity::Angle), 2);
    format!("{end} = {{ handle = {shown} }}")
}
