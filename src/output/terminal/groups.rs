//! Columns beside one another under headings, as blocks of text: groups that do not fit stand below.

use crate::output::sentences::Tone;
use crate::output::text::{columns, fixed, left, right};

/// A column ready to print: name, which may take two lines, unit, cells.
#[derive(Clone)]
pub(in crate::output) struct Column {
    pub(in crate::output) name: &'static str,
    /// The rest of its name, below it.
    pub(in crate::output) below: String,
    pub(in crate::output) unit: String,
    pub(in crate::output) cells: Vec<String>,
}

impl Column {
    fn width(&self) -> usize {
        (self.cells.iter().map(|c| columns(c)))
            .chain([
                columns(self.name),
                columns(&self.below),
                columns(&self.unit),
            ])
            .max()
            .unwrap_or(0)
    }
}

/// Columns side by side under one heading.
#[derive(Clone)]
pub(in crate::output) struct Group {
    pub(in crate::output) heading: String,
    pub(in crate::output) columns: Vec<Column>,
}

impl Group {
    /// Two spaces before every column.
    pub(super) fn width(&self) -> usize {
        let columns_width = self.columns.iter().map(|c| c.width() + 2).sum::<usize>();
        columns_width.max(columns(&self.heading) + 2)
    }
}

/// Which groups go into which block, given the room beside the columns that stand in each.
pub(super) fn split(groups: &[Group], room: usize) -> Vec<Vec<usize>> {
    let mut blocks: Vec<Vec<usize>> = vec![Vec::new()];
    let mut used = 0;
    for (index, group) in groups.iter().enumerate() {
        let width = group.width() + 2; // the bar between groups
        if let Some(block) = blocks.last_mut()
            && (used + width <= room || block.is_empty())
        {
            block.push(index);
            used += width;
            continue;
        }
        blocks.push(vec![index]);
        used = width;
    }
    blocks
}

/// A group whose widths have been looked up, once for all its rows.
struct Measured<'g> {
    group: &'g Group,
    width: usize,
    columns: Vec<(&'g Column, usize)>,
}

impl<'g> Measured<'g> {
    fn new(group: &'g Group) -> Self {
        Self {
            group,
            width: group.width(),
            columns: group.columns.iter().map(|c| (c, c.width())).collect(),
        }
    }

    fn heading(&self) -> String {
        left(&format!("  {}", self.group.heading), self.width)
    }

    /// One line of it.
    fn across(&self, of: &dyn Fn(&Column) -> &str) -> String {
        let cell = |&(column, width): &(&Column, usize)| {
            let text = of(column);
            let cell = format!("  {}", right(text, width));
            // What is marked as over the limit.
            match text.ends_with('!') {
                true => Tone::Bad.paint(&cell),
                false => cell,
            }
        };
        let text: String = self.columns.iter().map(cell).collect();
        right(&text, self.width)
    }
}

pub(super) fn write_block(groups: &[&Group], rows: usize, lines: &mut Vec<String>) {
    let groups: Vec<Measured<'_>> = groups.iter().map(|group| Measured::new(group)).collect();
    let line = |of: &dyn Fn(&Measured<'_>) -> String| -> String {
        groups.iter().map(of).collect::<Vec<_>>().join(" |")
    };
    lines.push(line(&|group| group.heading()));
    // A name of one line stands right above its unit.
    let two = |c: &Column| !c.below.is_empty();
    if groups
        .iter()
        .any(|group| group.group.columns.iter().any(two))
    {
        lines.push(line(&|group| {
            group.across(&|c| if two(c) { c.name } else { "" })
        }));
    }
    lines.push(line(&|group| {
        group.across(&|c| if two(c) { &c.below } else { c.name })
    }));
    lines.push(line(&|group| group.across(&|c| &c.unit)));
    for row in 0..rows {
        lines.push(line(&|group| {
            group.across(&|c| c.cells.get(row).map_or("", String::as_str))
        }));
    }
}

pub(super) fn cell(value: Option<f64>, decimals: usize) -> String {
    match value {
        None => "-".to_owned(),
        Some(value) if value.abs() >= 1e7 => format!("{value:.3e}"),
        Some(value) => fixed(value, decimals),
    }
}

/// The middle of the sizes that are not zero: what the decimals of a column are chosen for.
pub(super) fn typical(values: Vec<f64>) -> f64 {
    let mut sizes: Vec<f64> = values
        .iter()
        .map(|v| v.abs())
        .filter(|v| *v > 0.0)
        .collect();
    sizes.sort_by(f64::total_cmp);
    sizes.get(sizes.len() / 2).copied().unwrap_or(1000.0)
}

/// The greatest of the sizes: three significant figures of it are enough.
pub(super) fn greatest(values: &[f64]) -> f64 {
    values.iter().map(|v| v.abs()).fold(0.0, f64::max)
}
