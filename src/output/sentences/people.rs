//! Operators and handles in words and in a table.

use super::job::Rows;
use crate::output::text::{clean, figures, fixed, grip, trimmed};
use crate::report::{Able, HandleReport, OperatorsReport, UnitNames};

/// The groups, and all together: what share of them is able at each jaw and grip.
pub(in crate::output) fn operators(report: &OperatorsReport, units: &UnitNames) -> Rows {
    let first = report.groups.first();
    let cases: &[Able] = first.map_or(&[], |line| &line.able);
    let again = cases.iter().any(|able| able.repeated.is_some());
    let mut head: Vec<String> = vec!["group".to_owned(), "count".to_owned()];
    head.extend([
        format!("mean {}", units.force),
        format!("SD {}", units.force),
    ]);
    for able in cases {
        let at = match &able.jaw {
            Some(jaw) => format!("{}, {}", clean(jaw), grip(able.grip, units)),
            None => grip(able.grip, units),
        };
        head.push(format!("{at}: once %"));
        if again {
            head.push("again %".to_owned());
        }
    }
    let shares = |all: &[Able]| -> Vec<String> {
        let share = |of: Option<f64>| of.map_or("-".to_owned(), |v| fixed(100.0 * v, 1));
        let each = all.iter().flat_map(|able| {
            let once = share(able.once);
            std::iter::once(once).chain(again.then(|| share(able.repeated)))
        });
        each.collect()
    };
    let mut rows = Vec::new();
    for line in &report.groups {
        let mut row = vec![line.group.name.clone(), trimmed(line.count)];
        row.extend([line.group.mean, line.group.deviation].map(figures));
        row.extend(shares(&line.able));
        rows.push(row);
    }
    if report.groups.len() > 1 {
        let count: f64 = report.groups.iter().map(|line| line.count).sum();
        let mut row = vec![
            "all".to_owned(),
            trimmed(count),
            String::new(),
            String::new(),
        ];
        row.extend(shares(&report.mix));
        rows.push(row);
    }
    Rows { head, rows }
}

/// What the shares mean, and where the strengths are from.
pub(in crate::output) fn operator_notes(report: &OperatorsReport) -> Vec<String> {
    let mut out = vec![
        "once: share of the group whose strength at the span is enough, normally distributed. again: for whom every \
         method finds the job acceptable."
            .to_owned(),
    ];
    let mut sources: Vec<&str> = Vec::new();
    for line in &report.groups {
        if !sources.contains(&line.group.source) {
            sources.push(line.group.source);
        }
    }
    out.push(format!("Strengths: {}.", sources.join("; ")));
    out
}

/// The handle: what is wrong with it, or that nothing is; and the figures behind that.
pub(in crate::output) fn handle(report: &HandleReport, units: &UnitNames) -> Vec<String> {
    let unit = units.length;
    let mut out = vec![format!(
        "The palm of {} (95th percentile, {} {unit}) takes {} {unit} of it{}; {} {unit} long.",
        report.who,
        trimmed(report.breadth),
        trimmed(report.taken),
        match report.glove {
            0.0 => String::new(),
            glove => format!(" in a glove of {} {unit}", trimmed(glove)),
        },
        trimmed(report.length)
    )];
    match report.findings.is_empty() {
        true => out.push("Nothing is against its size.".to_owned()),
        false => out.extend(
            report
                .findings
                .iter()
                .map(|text| format!("Mind: {}.", clean(text))),
        ),
    }
    out.push(format!("Figures: {}.", report.sources.join("; ")));
    out
}
