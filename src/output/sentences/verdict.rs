//! The first lines of an answer: can the hand do it, what is met as drawn and as made, what was not
//! checked.

use super::emphasis::{Sentence, Tone};
use super::heights::height;
use super::job::how_often;
use super::phrase::phrase_of;
use super::tolerance::sampled_tools_meet;
use crate::output::text::{clean, figures, fixed, grip, length, trimmed};
use crate::report::{
    EstimateLine, HandVerdict, MadeVerdict, RepeatedVerdict, UnitNames, VerdictReport,
};

/// All first lines, one sentence each.
pub(in crate::output) fn first_lines(verdict: &VerdictReport, units: &UnitNames) -> Vec<Sentence> {
    let mut out: Vec<Sentence> = hand(verdict, units).into_iter().collect();
    out.extend(repeated(verdict, units));
    out.extend(verdict.ratchet_holds.map(|why| {
        let ratchet = Sentence::from("Does the ratchet let go? ".to_owned());
        ratchet.and_toned(Tone::Bad, "NO").and(format!(": {why}."))
    }));
    let short = verdict.hand.iter().any(|at| at.short.is_some());
    let stalls = verdict.hand_fails() && !short;
    out.extend(verdict.heights.iter().map(|of| height(of, stalls, units)));
    if !verdict.springs.is_empty() {
        let all: Vec<String> = verdict.springs.iter().map(|text| clean(text)).collect();
        let springs = Sentence::from("Do the springs hold? ".to_owned());
        out.push(
            springs
                .and_toned(Tone::Bad, "NO")
                .and(format!(": {}.", all.join("; "))),
        );
    }
    if !verdict.life.is_empty() {
        let all: Vec<String> = verdict
            .life
            .iter()
            .take(3)
            .map(|text| clean(text))
            .collect();
        let more = match verdict.life.len() - all.len() {
            0 => String::new(),
            more => format!("; and {more} more"),
        };
        out.push(
            Sentence::from("Does it last? ".to_owned())
                .and_toned(Tone::Bad, "NO")
                .and(format!(": {}{more}.", all.join("; "))),
        );
    }
    out.extend(demands(verdict));
    out.extend(verdict.made.as_ref().map(|made| as_made(made, units)));
    let not_made = verdict.made_not_judged.iter();
    out.extend(not_made.map(|why| format!("As made: not checked; {}.", clean(why)).into()));
    if !verdict.strength_not_judged.is_empty() {
        let names: Vec<String> = verdict
            .strength_not_judged
            .iter()
            .map(|n| clean(n))
            .collect();
        out.push(
            Sentence::from("Strength ".to_owned())
                .and_toned(Tone::Warning, "not checked")
                .and(format!(
                    ": {} (no section, diameter or material).",
                    names.join(", ")
                )),
        );
    }
    if !verdict.strength_without_check.is_empty() {
        let names: Vec<String> = (verdict.strength_without_check.iter())
            .map(|n| clean(n))
            .collect();
        out.push(
            Sentence::from("Strength ".to_owned())
                .and_toned(Tone::Warning, "not checked")
                .and(format!(": {}, which no check is for.", names.join(", "))),
        );
    }
    out.extend((verdict.estimates.iter()).map(|of| estimate(of, None, units)));
    if !verdict.assumed.is_empty() {
        out.push(
            format!(
                "Assumed, since the file is silent: {}.",
                verdict.assumed.join("; ")
            )
            .into(),
        );
    }
    out
}

/// Of a stroke that dies, a stop or the end of a cam cut short.
const CUT_SHORT: &str = "NO, the stroke ends before the work is done";
/// Of work that the jaws never come to.
const NEVER_MET: &str = "Not checked, the jaws never come to the work";

/// That work is an estimate; of several tools, of which.
pub(in crate::output) fn estimate(
    of: &EstimateLine,
    tool: Option<&str>,
    units: &UnitNames,
) -> Sentence {
    let of_tool = tool.map_or(String::new(), |tool| format!(" of {}", clean(tool)));
    let at = of
        .jaw
        .as_ref()
        .map_or(String::new(), |jaw| format!(" at {}", clean(jaw)));
    Sentence::from(format!("The work{of_tool}{at} is an "))
        .and_toned(Tone::Warning, "estimate until measured")
        .and(format!(
            ": {}, {}, {} {} within {} % either way ({}).",
            of.job,
            of.formula,
            figures(of.force),
            units.force,
            fixed(of.spread, 0),
            of.source
        ))
}

/// Whether a hand can do the job.
fn hand(verdict: &VerdictReport, units: &UnitNames) -> Option<Sentence> {
    if let Some(why) = verdict.hand_not_judged {
        return Some(format!("Can a hand do it? Not checked: {why}.").into());
    }
    let named = |at: &HandVerdict| jaw_and_grip(at.jaw.as_deref(), at.grip, units);
    let peak = |at: &HandVerdict| {
        let force = at
            .peak
            .map(|force| format!("peak {} {}", figures(force), units.force));
        let limit = at
            .limit
            .map(|limit| format!("limit {} {}", figures(limit), units.force));
        let both: Vec<String> = force.into_iter().chain(limit).collect();
        format!("{} ({})", named(at), both.join(", "))
    };
    let stall = |at: &HandVerdict| {
        // Without a limit of its own over the stroke there is no place of the stall.
        if at.stall_gap.is_none() && at.peak.is_some() {
            return peak(at);
        }
        let gap = at.stall_gap.map_or(String::new(), |gap| {
            format!(" at gap {} {}", length(gap, units), units.length)
        });
        match (at.locked, at.limit) {
            (false, Some(limit)) => format!(
                "{}{gap} (limit {} {})",
                named(at),
                figures(limit),
                units.force
            ),
            _ => format!("{}{gap} (friction locks)", named(at)),
        }
    };
    let (met, missed): (Vec<_>, Vec<_>) = verdict.hand.iter().partition(|at| at.meets_work);
    let (short, met): (Vec<_>, Vec<_>) = met.into_iter().partition(|at| at.short.is_some());
    let ends = |at: &HandVerdict| {
        let short = at.short.map_or(String::new(), |short| {
            format!(
                " at gap {} {}, where the work takes {} of {} {}",
                length(short.gap, units),
                units.length,
                figures(short.force),
                figures(short.most),
                units.force
            )
        });
        format!("{}{short}", named(at))
    };
    let ended: Vec<String> = short.into_iter().map(ends).collect();
    let of = |can: Option<bool>| met.iter().copied().filter(move |at| at.can == can);
    let able: Vec<String> = of(Some(true)).map(peak).collect();
    let stalled: Vec<String> = of(Some(false)).map(stall).collect();
    let unknown: Vec<String> = of(None).map(named).collect();
    let missed: Vec<String> = missed.into_iter().map(named).collect();
    if verdict.hand.is_empty() {
        return None;
    }
    // Of several jaws it may do one here and another there, and all nowhere.
    let nowhere = verdict.hand_fails() && !able.is_empty() && ended.is_empty();
    let yes = match nowhere {
        true => (None, "It can: "),
        false => (Some((Tone::Good, "Yes, once")), ": "),
    };
    let (no, text) = match (nowhere, able.is_empty()) {
        (true, _) => ("NO, at no grip every job", ": it stalls: "),
        (false, true) => ("NO, it STALLS", ": "),
        (false, false) => ("NO", ", it stalls: "),
    };
    let no = (Some((Tone::Bad, no)), text);
    let never = (Some((Tone::Bad, NEVER_MET)), ": ");
    let mut answers = vec![
        (yes, able),
        (no, stalled),
        ((Some((Tone::Bad, CUT_SHORT)), ": "), ended),
        ((None, "Not known: "), unknown),
        (never, missed),
    ];
    if nowhere {
        answers.swap(0, 1);
    }
    answers.retain(|(_, which)| !which.is_empty());
    let mut out = Sentence::from("Can a hand do it? ".to_owned());
    for (k, ((word, text), which)) in answers.into_iter().enumerate() {
        out = out.and(if k > 0 { ". " } else { "" });
        if let Some((tone, word)) = word {
            out = out.and_toned(tone, word);
        }
        out = out.and(format!("{text}{}", which.join("; ")));
    }
    Some(out.and("."))
}

/// Where the work is done; of one jaw alone nothing is said.
fn jaw_and_grip(jaw: Option<&str>, at: f64, units: &UnitNames) -> String {
    match jaw {
        Some(jaw) => format!("{}, grip {}", clean(jaw), grip(at, units)),
        None => format!("grip {}", grip(at, units)),
    }
}

/// Whether a hand can do the job as often as is asked.
fn repeated(verdict: &VerdictReport, units: &UnitNames) -> Option<Sentence> {
    let often = verdict.how_often?;
    if verdict.repeated.is_empty() {
        return None;
    }
    let named = |at: &RepeatedVerdict| jaw_and_grip(at.jaw.as_deref(), at.grip, units);
    let case = |at: &RepeatedVerdict| {
        let mut said = Vec::new();
        let effort = |(force, share): (f64, f64)| {
            format!(
                "{} {}, {} % of the strength",
                figures(force),
                units.force,
                fixed(100.0 * share, 0)
            )
        };
        said.extend(at.peak.zip(at.effort).map(effort));
        let acceptable = |force| match force {
            0.0 => "no force is acceptable to every method".to_owned(),
            _ => format!("acceptable {} {}", figures(force), units.force),
        };
        said.extend(at.acceptable.map(acceptable));
        let of = |names: &[&str]| match names {
            [] | [_] | [_, _] => names.join(" and "),
            _ if names.len() == at.methods => format!("all {} methods", at.methods),
            _ => format!("{} of {} methods", names.len(), at.methods),
        };
        if !at.above.is_empty() {
            said.push(format!("above the limit of {}", of(&at.above)));
        } else if !at.between.is_empty() {
            said.push(format!("between the limits of {}", of(&at.between)));
        }
        format!("{} ({})", named(at), said.join("; "))
    };
    let mut out = Sentence::from(format!("And {}?", how_often(often)));
    for (rating, tone, word) in [
        ("above", Tone::Bad, "NO"),
        ("between", Tone::Warning, "IN DOUBT"),
        ("within", Tone::Good, "Yes"),
    ] {
        let those = (verdict.repeated.iter()).filter(|at| at.rating == Some(rating));
        let those: Vec<String> = those.map(case).collect();
        if !those.is_empty() {
            out = out.and(" ").and_toned(tone, word);
            out = out.and(format!(": {}.", those.join("; ")));
        }
    }
    let (met, never): (Vec<_>, Vec<_>) = verdict.repeated.iter().partition(|at| at.meets_work);
    let (short, met): (Vec<_>, Vec<_>) = met.into_iter().partition(|at| at.short);
    if !met.is_empty() && met.iter().all(|at| at.rating.is_none()) {
        out = out.and(" Not checked: no hand force does it once.");
    }
    for (why, those) in [(CUT_SHORT, short), (NEVER_MET, never)] {
        if !those.is_empty() {
            let those: Vec<String> = those.into_iter().map(named).collect();
            out = out.and(" ").and_toned(Tone::Bad, why);
            out = out.and(format!(": {}.", those.join("; ")));
        }
    }
    Some(out)
}

/// How many demands the tool meets as it is drawn.
fn demands(verdict: &VerdictReport) -> Option<Sentence> {
    let (met, all) = (verdict.met, verdict.demands);
    match all - met {
        _ if all == 0 => None,
        0 => Some(
            Sentence::from("As drawn: ".to_owned())
                .and_toned(Tone::Good, &format!("{met} of {all} demands met"))
                .and("."),
        ),
        _ => Some(
            Sentence::from(format!(
                "As drawn: {met} of {all} demands met, {} ",
                all - met
            ))
            .and_toned(Tone::Bad, "NOT met")
            .and("."),
        ),
    }
}

/// What comes of the tools as made.
pub(in crate::output) fn as_made(made: &MadeVerdict, units: &UnitNames) -> Sentence {
    let what = if made.left_out.is_empty() {
        "every demand"
    } else {
        "every demand that is read off samples"
    };
    let said = sampled_tools_meet(what, made.met, made.samples);
    let mut out = if made.met == made.samples {
        Sentence::from(format!("As made: {said}"))
    } else {
        let tone = if made.enough() { Tone::Good } else { Tone::Bad };
        Sentence::from("As made: ".to_owned()).and_toned(tone, &said)
    };
    if let Some(least) = made.required {
        out = out.and(format!(", {} % required", trimmed(100.0 * least)));
    }
    if let Some(cause) = &made.cause {
        let why = (made.cause_why).map_or(String::new(), |why| format!(", most of them: {why}"));
        out = out.and(format!(
            "; most often missed: {} ({} of {}{why})",
            phrase_of(cause, units),
            made.cause_tools,
            made.samples
        ));
    }
    if !made.left_out.is_empty() {
        let names: Vec<String> = made.left_out.iter().map(|n| phrase_of(n, units)).collect();
        out = out.and(format!("; not sampled: {}", names.join(", ")));
    }
    out.and(".")
}
