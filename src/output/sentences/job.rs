//! Repeated use in words and in a table: what the job is, what each method says of each grip.

use crate::output::text::{clean, figures, fixed, grip, length, trimmed};
use crate::report::{JobGrip, JobReport, MethodLine, UnitNames};

/// The chapter: sentences, two tables with a row of headings each, notes.
pub(in crate::output) struct JobWords {
    /// What the job is, whose hands, how strong.
    pub(in crate::output) intro: Vec<String>,
    /// The methods, and the grips.
    pub(in crate::output) tables: [Rows; 2],
    /// What the signs and columns of the grips mean.
    pub(in crate::output) signs: String,
    /// For what each method is, and where it is published.
    pub(in crate::output) notes: Vec<String>,
}

/// A table: what its columns are, and its rows.
pub(in crate::output) struct Rows {
    pub(in crate::output) head: Vec<String>,
    pub(in crate::output) rows: Vec<Vec<String>>,
}

impl Rows {
    /// The head as the first of the rows.
    pub(in crate::output) fn lines(&self) -> Vec<&[String]> {
        let head = std::iter::once(self.head.as_slice());
        head.chain(self.rows.iter().map(Vec::as_slice)).collect()
    }
}

/// Strokes a minute, seconds each, hours a day: in words.
pub(in crate::output) fn how_often([strokes, held, hours]: [f64; 3]) -> String {
    format!(
        "{} times a minute, {} s each, {} h a day",
        trimmed(strokes),
        trimmed(held),
        trimmed(hours)
    )
}

pub(in crate::output) fn job_words(job: &JobReport, units: &UnitNames) -> JobWords {
    let percent = |share: f64| fixed(100.0 * share, 1);
    let wrist = match job.wrist {
        0.0 => "straight".to_owned(),
        angle if angle > 0.0 => format!("bent {} deg towards the palm", trimmed(angle)),
        angle => format!("bent {} deg back", trimmed(-angle)),
    };
    let mut intro = vec![format!(
        "{}: the hand squeezes for {} % of the time; wrist {wrist}, speed {}; hand activity level {}.",
        how_often([job.strokes, job.held, job.hours]),
        percent(job.duty),
        job.speed,
        fixed(job.hal, 1)
    )];
    intro.push(match &job.population {
        Some(group) => format!(
            "Strength: what {} % of {} have (mean {} {}, SD {} {}; {}), less 10 % for each cm above the best span.",
            fixed(100.0 * job.share, 0),
            clean(&group.who),
            figures(group.mean),
            units.force,
            figures(group.deviation),
            units.force,
            group.source
        ),
        None => "Strength: the hand's limit.".to_owned(),
    });
    JobWords {
        intro,
        tables: [methods(job), grips(job, units)],
        signs: signs(job),
        notes: notes(job),
    }
}

fn methods(job: &JobReport) -> Rows {
    let heads = ["method", "", "its index", "limits", "acceptable effort"];
    let pair = |[low, high]: [f64; 2], show: &dyn Fn(f64) -> String| match low == high {
        true => show(low),
        false => format!("{} to {}", show(low), show(high)),
    };
    let row = |method: &MethodLine| {
        vec![
            method.name.to_owned(),
            method.short.to_owned(),
            method.index.to_owned(),
            pair(method.limits, &|v| fixed(v, 2)),
            match method.acceptable {
                [_, 0.0] => "none".to_owned(),
                shares => pair(shares, &|v| format!("{} %", fixed(100.0 * v, 0))),
            },
        ]
    };
    Rows {
        head: heads.map(str::to_owned).to_vec(),
        rows: job.methods.iter().map(row).collect(),
    }
}

fn grips(job: &JobReport, units: &UnitNames) -> Rows {
    let several = job.grips.iter().any(|at| at.jaw.is_some());
    let judged = job.grips.iter().any(|at| at.effort.is_some());
    let mut heads = vec![if several { "jaw, grip" } else { "grip" }.to_owned()];
    heads.push(format!("span {}", units.length));
    heads.push(format!("strength {}", units.force));
    if judged {
        heads.push(format!("peak {}", units.force));
        heads.push("effort".to_owned());
        heads.extend(job.methods.iter().map(|method| method.short.to_owned()));
        heads.push("hold s".to_owned());
    }
    heads.push(format!("acceptable {}", units.force));
    let dash = || "-".to_owned();
    let row = |at: &JobGrip| {
        let mut cells = vec![named(at, units)];
        cells.push(at.span.map_or_else(dash, |span| length(span, units)));
        cells.push(at.strength.map_or_else(dash, figures));
        if judged {
            cells.push(at.force.map_or_else(dash, figures));
            cells.push(at.effort.map_or_else(dash, |effort| fixed(effort, 2)));
            for k in 0..job.methods.len() {
                let said = at.methods.get(k);
                cells.push(said.map_or_else(dash, |said| {
                    let sign = match said.rating {
                        "above" => "!",
                        "between" => "?",
                        _ => "",
                    };
                    let index = said.index.map_or_else(dash, |index| fixed(index, 2));
                    format!("{index}{sign}")
                }));
            }
            cells.push(at.hold.map_or_else(dash, |seconds| fixed(seconds, 0)));
        }
        cells.push(at.acceptable.map_or_else(dash, figures));
        cells
    };
    Rows {
        rows: job.grips.iter().map(row).collect(),
        head: heads,
    }
}

/// A grip, with its jaw where there are several.
fn named(at: &JobGrip, units: &UnitNames) -> String {
    match &at.jaw {
        Some(jaw) => format!("{}, {}", clean(jaw), grip(at.grip, units)),
        None => grip(at.grip, units),
    }
}

/// What the signs and columns of the grips mean.
fn signs(job: &JobReport) -> String {
    let judged = job.grips.iter().any(|at| at.effort.is_some());
    let acceptable = "acceptable: the force that every method finds acceptable";
    match judged {
        false => format!("{acceptable}, at shut."),
        true => format!(
            "effort: peak hand force over the strength at the span there. !: above the method's upper limit; ?: \
             between its limits. hold: so long one squeeze of this force can be held at most. {acceptable}."
        ),
    }
}

fn notes(job: &JobReport) -> Vec<String> {
    let of =
        |method: &MethodLine| format!("{}: {}. {}.", method.short, method.scope, method.source);
    let mut out: Vec<String> = job.methods.iter().map(of).collect();
    if job.grips.iter().any(|at| at.hold.is_some()) {
        out.push(
            "hold: Rohmert's curve as given by T. E. Bernard (2006), from 20 % of the strength; below 45 % it is too \
             long (A. Garg et al., 2002)."
                .to_owned(),
        );
    }
    out
}
