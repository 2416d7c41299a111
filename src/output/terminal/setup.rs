//! `setup` for the terminal: what every setting of an adjuster comes to.

use crate::output::sentences::setup::{BY_GAP, of_adjuster};
use crate::output::text::{aligned, clean, figures, fixed, joined, length, wrap};
use crate::report::{AdjusterReport, SettingReport, SetupReport};

/// What the adjusters do, as terminal text: tables, and sentences at most `width` columns wide.
#[must_use]
pub fn setup_text(report: &SetupReport, width: usize) -> String {
    let mut lines = vec![clean(&report.tool)];
    let head = format!(
        "{}: at the end of the stroke, held at grip {} {}, hand force {} {}",
        clean(&report.file),
        figures(report.grip),
        report.units.length,
        figures(report.hand_force),
        report.units.force
    );
    lines.extend(wrap("", &head, width, 2));
    for adjuster in &report.adjusters {
        lines.push(String::new());
        let title = format!(
            "{}: {}, now {} {}",
            clean(&adjuster.name),
            clean(&adjuster.moves),
            fixed(adjuster.now, 2),
            adjuster.unit
        );
        lines.extend(wrap("", &title, width, 2));
        lines.extend(table(report, adjuster));
        for text in of_adjuster(report, adjuster) {
            lines.extend(wrap("", &text, width, 2));
        }
    }
    if report.shut_by_gap {
        lines.extend(wrap("", &format!("Note: {BY_GAP}"), width, 6));
    }
    joined(&lines)
}

fn table(report: &SetupReport, adjuster: &AdjusterReport) -> Vec<String> {
    let units = &report.units;
    let cell = |value: Option<f64>, show: &dyn Fn(f64) -> String| value.map_or(String::new(), show);
    let two = |v: f64| fixed(v, 2);
    let some =
        |of: fn(&SettingReport) -> Option<f64>| adjuster.settings.iter().any(|s| of(s).is_some());
    let (turns, work, torque) = (
        some(|s| s.turns),
        some(|s| s.work_force),
        some(|s| s.torque),
    );
    let mut rows = vec![vec![
        "notch".to_owned(),
        adjuster.unit.to_owned(),
        "turns".to_owned(),
        format!("gap {}", units.length),
        format!("handle {}", units.angle),
        "ratio".to_owned(),
        format!("jaw {}", units.force),
        format!("hand for work {}", units.force),
        format!("torque {}", report.torque_unit),
    ]];
    for (k, setting) in adjuster.settings.iter().enumerate() {
        rows.push(vec![
            (k + 1).to_string(),
            fixed(setting.at, 2),
            cell(setting.turns, &two),
            cell(setting.gap, &|v| length(v, units)),
            cell(setting.handle, &two),
            cell(setting.ratio, &two),
            cell(setting.jaw_force, &figures),
            cell(setting.work_force, &figures),
            cell(setting.torque, &figures),
        ]);
    }
    let shown = [
        adjuster.notches,
        true,
        turns,
        true,
        true,
        true,
        true,
        work,
        torque,
    ];
    for row in &mut rows {
        let mut shown = shown.into_iter();
        row.retain(|_| shown.next().unwrap_or(true));
    }
    let problems = adjuster
        .settings
        .iter()
        .map(|setting| setting.problem.as_deref());
    let lines = aligned(&rows, &[])
        .into_iter()
        .zip(std::iter::once(None).chain(problems));
    let line = |(text, problem): (String, Option<&str>)| match problem {
        Some(why) => format!("  {text}  {}", clean(why)),
        None => format!("  {text}"),
    };
    lines.map(line).collect()
}
