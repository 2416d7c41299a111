//! How the work comes out, in one sentence a jaw.

use super::emphasis::{Sentence, Tone};
use crate::output::text::{clean, length};
use crate::report::{HeightLine, UnitNames};

/// What stands in the first lines.
pub(super) fn height(of: &HeightLine, stalls: bool, units: &UnitNames) -> Sentence {
    let at = of
        .jaw
        .as_ref()
        .map_or(String::new(), |jaw| format!(" at {}", clean(jaw)));
    let say = |value: f64| format!("{} {}", length(value, units), units.length);
    if stalls {
        return Sentence::from(format!("Height of the finished work{at}: "))
            .and_toned(Tone::Bad, "not reached")
            .and(", the tool stalls before it is shut.");
    }
    // Where it does not come out as wanted: how it would.
    let cure = || match (of.set, of.gap) {
        (Some(set), Some(gap)) if of.good != Some(true) => format!(
            ". It comes out right with a gap of {} at shut without load, in place of {}.",
            say(set),
            say(gap)
        ),
        _ => ".".to_owned(),
    };
    let Some((height, loaded)) = of.height.zip(of.loaded) else {
        let (tone, why) = match of.touched {
            true => (Tone::Warning, "the jaw has no gap at shut"),
            false => (Tone::Bad, "the jaws never come to the work"),
        };
        return Sentence::from(format!("Height of the finished work{at}: "))
            .and_toned(tone, "not checked")
            .and(format!(", {why}{}", cure()));
    };
    let mut parts = vec![format!("{} under load", say(loaded))];
    parts.push(match of.give {
        Some(give) => format!("of which the tool gives {}", say(give)),
        None => "with a tool that does not give, as far as the file says".to_owned(),
    });
    parts.extend(
        of.back
            .filter(|back| *back > 0.0)
            .map(|back| format!("{} springs back", say(back))),
    );
    let out = Sentence::from(format!("Height of the finished work{at}: "));
    let out = match of.good {
        Some(true) => out.and_toned(Tone::Good, "as wanted"),
        Some(false) => out.and_toned(Tone::Bad, "NOT as wanted"),
        None => out.and("told, not checked"),
    };
    let wanted = of.wanted.map(|wanted| match of.within {
        Some(within) => format!(", {} \u{b1} {}", say(wanted), length(within, units)),
        None => format!(", {} wanted", say(wanted)),
    });
    out.and(format!(
        "{}: {} ({}){}",
        wanted.unwrap_or_default(),
        say(height),
        parts.join(", "),
        cure()
    ))
}
