//! The number blocks of the table: columns beside one another, grips that do not fit below.

use super::groups::{Column, Group, cell, greatest, split, typical, write_block};
use crate::output::sentences::way::opens;
use crate::output::text::{self, decimals_for, figures, fixed, length, length_decimals};
use crate::report::{GripReport, JawForces, PositionReport, StrokeReport};

/// The blocks of one jaw.
pub(in crate::output) struct JawTable<'a> {
    report: &'a StrokeReport,
    jaw: &'a str,
    positions: Vec<(usize, &'a PositionReport)>,
    with_need: bool,
    with_hand: bool,
    with_span: bool,
    jaw_decimals: usize,
    hand_decimals: usize,
}

impl<'a> JawTable<'a> {
    pub(in crate::output) fn new(
        report: &'a StrokeReport,
        jaw: &'a str,
        first: bool,
        shown: &[usize],
    ) -> Self {
        let positions: Vec<_> = (shown.iter())
            .filter_map(|&i| report.positions.get(i).map(|p| (i, p)))
            .collect();
        let every = |value: fn(&JawForces) -> Option<f64>| -> Vec<f64> {
            (positions.iter())
                .flat_map(|(_, p)| p.grips.iter().filter_map(|g| value(g.jaws.get(jaw)?)))
                .collect()
        };
        let jaw_forces = every(|f| f.jaw_force);
        let hand_forces = every(|f| f.hand_force);
        Self {
            with_need: first && report.work.is_some(),
            with_hand: !hand_forces.is_empty(),
            with_span: positions
                .iter()
                .any(|(_, p)| p.grips.iter().any(|g| g.span.is_some())),
            jaw_decimals: decimals_for(typical(jaw_forces), 2),
            hand_decimals: decimals_for(greatest(&hand_forces), 2),
            report,
            jaw,
            positions,
        }
    }

    /// The columns of the position, and those of every grip.
    pub(in crate::output) fn groups(&self) -> Vec<Group> {
        let grips = (0..self.report.grips.len()).map(|g| self.grip_group(g));
        std::iter::once(self.position_group(true))
            .chain(grips)
            .collect()
    }

    /// Whether any hand force is marked as over the limit.
    pub(super) fn marks_over(&self) -> bool {
        let groups = (0..self.report.grips.len()).map(|g| self.grip_group(g));
        let mut columns = groups.flat_map(|group| group.columns);
        columns.any(|column| column.cells.iter().any(|cell| cell.ends_with('!')))
    }

    /// Writes the blocks.
    pub(in crate::output) fn blocks(&self, width: usize, lines: &mut Vec<String>) {
        let grips: Vec<Group> = (0..self.report.grips.len())
            .map(|g| self.grip_group(g))
            .collect();
        // The travel column is a convenience: it stays where it costs no further block.
        let split_with = |travel: bool| {
            let room = width.saturating_sub(self.position_group(travel).width());
            split(&grips, room)
        };
        let (with, without) = (split_with(true), split_with(false));
        let travel = with.len() <= without.len();
        let blocks = if travel { with } else { without };
        for block in blocks {
            let first = self.position_group(travel);
            let mut groups = vec![&first];
            groups.extend(block.iter().filter_map(|&g| grips.get(g)));
            write_block(&groups, self.positions.len(), lines);
            lines.push(String::new());
        }
    }

    fn position_group(&self, travel: bool) -> Group {
        let units = &self.report.units;
        let column = |name, unit: &str, cells: Vec<String>| Column {
            name,
            below: String::new(),
            unit: unit.to_owned(),
            cells,
        };
        let each = |cell: &dyn Fn(usize, &PositionReport) -> String| -> Vec<String> {
            self.positions.iter().map(|(i, p)| cell(*i, p)).collect()
        };
        let mut list = vec![column(
            "handle",
            units.angle,
            each(&|_, p| fixed(p.handle, 2)),
        )];
        if travel {
            list.push(column(
                "travel",
                units.angle,
                each(&|_, p| fixed(p.travel, 2)),
            ));
        }
        list.push(column(
            "gap",
            units.length,
            each(&|_, p| match p.gap(self.jaw) {
                Some(gap) => length(gap, units),
                None => "-".to_owned(),
            }),
        ));
        if let (true, Some(work)) = (self.with_need, &self.report.work) {
            let decimals = decimals_for(typical(work.needed.clone()), 2);
            let needed = |i: usize| work.needed.get(i).copied();
            let cells = each(&|i, p| cell(needed(i).filter(|_| !p.beyond), decimals));
            list.push(Column {
                below: if opens(self.report) { "pushes" } else { "need" }.to_owned(),
                ..column("work", units.force, cells)
            });
        }
        Group {
            heading: String::new(),
            columns: list,
        }
    }

    fn grip_group(&self, index: usize) -> Group {
        let units = &self.report.units;
        let each = |value: &dyn Fn(usize, &PositionReport, &GripReport, &JawForces) -> String| {
            (self.positions.iter())
                .map(|(i, p)| {
                    let found = p
                        .grips
                        .get(index)
                        .and_then(|g| Some((g, g.jaws.get(self.jaw)?)));
                    found.map_or_else(|| "-".to_owned(), |(g, f)| value(*i, p, g, f))
                })
                .collect::<Vec<_>>()
        };
        let mut list = Vec::new();
        if self.with_span {
            list.push(Column {
                name: "span",
                below: String::new(),
                unit: units.length.to_owned(),
                cells: each(&|_, _, g, _| cell(g.span, length_decimals(units))),
            });
        }
        list.push(Column {
            name: "ratio",
            below: String::new(),
            unit: "-".to_owned(),
            cells: each(&|_, p, _, f| match f.ratio {
                None if p.beyond => "met".to_owned(),
                None if p.toggle => "toggle".to_owned(),
                None => "-".to_owned(),
                Some(ratio) => fixed(ratio, if ratio.abs() < 100.0 { 2 } else { 1 }),
            }),
        });
        list.push(Column {
            name: "jaw",
            below: format!("@{}", figures(self.report.hand_force)),
            unit: units.force.to_owned(),
            cells: each(&|_, _, _, f| match f.jaw_force {
                _ if f.locked => "locks".to_owned(),
                _ if f.lifts_off => "lifts".to_owned(),
                force => cell(force, self.jaw_decimals),
            }),
        });
        if self.with_hand {
            list.push(Column {
                name: "hand ",
                below: if opens(self.report) {
                    "holds"
                } else {
                    "needed"
                }
                .to_owned(),
                unit: format!("{} ", units.force),
                cells: each(&|i, _, _, f| {
                    let over = matches!(
                        (f.hand_force, self.report.limit_at(i, index)),
                        (Some(needs), Some(limit)) if needs > limit
                    );
                    let mark = if over { '!' } else { ' ' };
                    match f.hand_force {
                        _ if f.locked => "locks ".to_owned(),
                        _ if f.lifts_off => "lifts ".to_owned(),
                        force => format!("{}{mark}", cell(force, self.hand_decimals)),
                    }
                }),
            });
        }
        let at = self.report.grips.get(index).copied().unwrap_or_default();
        Group {
            heading: format!("grip {}", text::grip(at, units)),
            columns: list,
        }
    }
}
