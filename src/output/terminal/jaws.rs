//! All jaws of a tool in one table, a row for each: gaps, ratio and force at shut, what the work asks for.

use super::groups::{Column, Group, cell, split, typical, write_block};
use crate::output::text::{self, clean, columns, decimals_for, fixed, left, length};
use crate::report::{JawAtGrip, JawSummary, StrokeReport};

/// The jaws of a tool that has several.
pub(in crate::output) struct JawsTable<'a> {
    report: &'a StrokeReport,
    with_peak: bool,
    with_can: bool,
    jaw_decimals: usize,
    peak_decimals: usize,
}

impl<'a> JawsTable<'a> {
    /// `None` where the tool has one jaw.
    pub(in crate::output) fn new(report: &'a StrokeReport) -> Option<Self> {
        if report.all_jaws.len() < 2 {
            return None;
        }
        let all = || report.all_jaws.iter().flat_map(|jaw| &jaw.grips);
        let peaks: Vec<f64> = all().filter_map(|at| at.peak).collect();
        Some(Self {
            with_peak: !peaks.is_empty(),
            with_can: all().any(|at| at.can.is_some()),
            jaw_decimals: decimals_for(typical(all().filter_map(|at| at.jaw_force).collect()), 2),
            peak_decimals: decimals_for(typical(peaks), 2),
            report,
        })
    }

    /// The columns of names and gaps, and those of every grip.
    pub(in crate::output) fn groups(&self) -> Vec<Group> {
        let grips = (0..self.report.grips.len()).map(|grip| self.grip(grip));
        std::iter::once(self.jaws()).chain(grips).collect()
    }

    /// Writes the table, in as many blocks as the width asks for, and what its columns mean.
    pub(super) fn blocks(&self, width: usize, lines: &mut Vec<String>) {
        let (first, grips) = (self.jaws(), self.groups().split_off(1));
        for block in split(&grips, width.saturating_sub(first.width())) {
            let mut groups = vec![&first];
            groups.extend(block.iter().filter_map(|&grip| grips.get(grip)));
            write_block(&groups, self.report.all_jaws.len(), lines);
            lines.push(String::new());
        }
        lines.extend(text::wrap("", &self.legend(), width, 0));
        lines.push(String::new());
    }

    /// What the columns mean.
    pub(in crate::output) fn legend(&self) -> String {
        let mut text = "ratio, jaw: at shut.".to_owned();
        if self.with_peak {
            text.push_str(
                " peak: greatest hand force that the work at that jaw asks for over the stroke.",
            );
        }
        if self.with_can {
            text.push_str(" can: a hand can do that work.");
        }
        text
    }

    fn jaws(&self) -> Group {
        let jaws = &self.report.all_jaws;
        let names: Vec<String> = jaws.iter().map(|jaw| clean(&jaw.jaw)).collect();
        let longest = names.iter().map(|name| columns(name)).max().unwrap_or(0);
        let gap = |end: fn(&JawSummary) -> f64| {
            let each = jaws.iter().map(|jaw| length(end(jaw), &self.report.units));
            each.collect()
        };
        let column = |name, cells| Column {
            name,
            below: String::new(),
            unit: self.report.units.length.to_owned(),
            cells,
        };
        Group {
            heading: String::new(),
            columns: vec![
                Column {
                    name: "",
                    below: String::new(),
                    unit: String::new(),
                    cells: names.iter().map(|name| left(name, longest)).collect(),
                },
                column("open", gap(|jaw| jaw.gap[0])),
                column("shut", gap(|jaw| jaw.gap[1])),
            ],
        }
    }

    fn grip(&self, grip: usize) -> Group {
        let units = &self.report.units;
        let column = |name, unit: &str, text: &dyn Fn(&JawSummary, &JawAtGrip) -> String| Column {
            name,
            below: String::new(),
            unit: unit.to_owned(),
            cells: (self.report.all_jaws.iter())
                .map(|jaw| match jaw.grips.get(grip) {
                    Some(at) => text(jaw, at),
                    None => "-".to_owned(),
                })
                .collect(),
        };
        let mut list = vec![
            column("ratio", "-", &|jaw, at| match at.ratio {
                None if jaw.beyond => "met".to_owned(),
                None if jaw.toggle => "toggle".to_owned(),
                None => "-".to_owned(),
                Some(ratio) => fixed(ratio, if ratio.abs() < 100.0 { 2 } else { 1 }),
            }),
            column("jaw", units.force, &|_, at| match at.locked {
                true => "locks".to_owned(),
                false => cell(at.jaw_force, self.jaw_decimals),
            }),
        ];
        if self.with_peak {
            let peak = |_: &JawSummary, at: &JawAtGrip| cell(at.peak, self.peak_decimals);
            list.push(column("peak", units.force, &peak));
        }
        if self.with_can {
            list.push(column("can", "", &|_, at| match at.can {
                Some(true) => "yes".to_owned(),
                Some(false) => "NO".to_owned(),
                None => "-".to_owned(),
            }));
        }
        let at = self.report.grips.get(grip).copied().unwrap_or_default();
        Group {
            heading: format!("grip {}", text::grip(at, units)),
            columns: list,
        }
    }
}
