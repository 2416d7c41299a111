//! A curve in a CSV file: two columns, with or without a header line.

use crate::units::{self, Quantity};

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Reader, Value};
use super::size::{Sign, size_problem};
use crate::units::UnitSystem;

/// Fetches a file that the tool file names, or says why it cannot.
pub(super) type Load<'l> = &'l dyn Fn(&str) -> Result<String, String>;

/// How many wrong lines of a file are shown.
const SHOWN: usize = 10;

impl Reader<'_> {
    /// The text of the file that `value` names; `what` is to be in it.
    pub(super) fn beside(
        &mut self,
        value: &Value<'_>,
        (path, what): (&str, &str),
        load: Load<'_>,
    ) -> Option<String> {
        let failed = |reason: String| {
            let message = format!("{what} cannot be read: {reason}");
            self.report(
                Diagnostic::error(code::SIDE_FILE, value.span(), message)
                    .help("give the path of a CSV file from the tool file's folder"),
            );
        };
        load(path).map_err(failed).ok()
    }

    /// Reports lines of that file that cannot be read: the first as `message`, and `more`.
    pub(super) fn bad_lines(
        &mut self,
        value: &Value<'_>,
        message: String,
        more: impl ExactSizeIterator<Item = String>,
        help: &str,
    ) {
        let mut problem = Diagnostic::error(code::SIDE_FILE, value.span(), message)
            .label("read from here")
            .help(help);
        let left = more.len().saturating_sub(SHOWN - 1);
        for line in more.take(SHOWN - 1) {
            problem = problem.note(line);
        }
        if left > 0 {
            problem = problem.note(format!("and {left} more lines"));
        }
        self.report(problem);
    }
}

/// A row that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct BadRow {
    /// Line of the CSV file, from 1.
    pub(super) line: u64,
    pub(super) message: String,
}

/// The most rows of a curve: what is done with each takes some microseconds.
pub const MOST_ROWS: usize = 100_000;

/// Reads `[first, second]` rows in internal units. Blank lines and lines that begin with `#` are
/// skipped. Columns are parted by `;` where the file has any (a comma is then a decimal comma),
/// by `,` otherwise. Bare numbers take the file's units, or the unit that the header names.
pub(super) fn read_pairs(
    text: &str,
    want: [(Quantity, Sign); 2],
    system: UnitSystem,
) -> Result<Vec<[f64; 2]>, Vec<BadRow>> {
    let (mut rows, mut bad) = (Vec::new(), Vec::new());
    let mut factors = want.map(|(quantity, _)| system.factor(quantity));
    let mut first = true;
    for (line, row) in cells(text) {
        let cells = match row {
            Ok(cells) => cells,
            Err(message) => {
                bad.push(BadRow { line, message });
                continue;
            }
        };
        if cells.iter().all(String::is_empty) {
            continue;
        }
        let header = first && cells.iter().all(|cell| !begins_like_a_number(cell));
        first = false;
        if header {
            for ((cell, factor), (quantity, _)) in cells.iter().zip(&mut factors).zip(want) {
                if let Some(unit) = unit_in_header(cell, quantity) {
                    *factor = unit;
                }
            }
            continue;
        }
        if rows.len() == MOST_ROWS {
            let help = "leave out rows that say nothing new";
            let message = format!("more rows than the {MOST_ROWS} that are taken: {help}");
            bad.push(BadRow { line, message });
            break;
        }
        match pair(&cells, want, factors, system) {
            Ok(row) => rows.push(row),
            Err(message) => bad.push(BadRow { line, message }),
        }
    }
    if bad.is_empty() { Ok(rows) } else { Err(bad) }
}

/// The cells of every line that holds any, with its number from 1, or why it cannot be read. Blank lines and lines
/// that begin with `#` are skipped; columns are parted as [`read_pairs`] says.
pub(super) fn cells(text: &str) -> impl Iterator<Item = (u64, Result<Vec<String>, String>)> {
    let text = text.trim_start_matches('\u{feff}');
    let data = |line: &str| !line.trim().is_empty() && !line.trim_start().starts_with('#');
    let mut lines = text.lines().filter(|line| data(line));
    let semicolons = lines.any(|line| line.contains(';'));
    let delimiter = if semicolons { b';' } else { b',' };
    let cell = move |cell: &str| match semicolons {
        true => cell.replace(',', "."),
        false => cell.to_owned(),
    };
    let lines = (1_u64..).zip(text.lines());
    let lines = lines.filter(move |(_, row)| data(row));
    lines.map(move |(line, row)| {
        let record = fields(row, delimiter);
        (line, record.map(|record| record.iter().map(cell).collect()))
    })
}

/// The fields of one line. Line by line, because a reader of whole files counts the lines that it
/// skips to the next record, and the line is what the user needs.
fn fields(row: &str, delimiter: u8) -> Result<csv::StringRecord, String> {
    if !row.contains(['"', '\r']) {
        // Nothing to unquote: no need of a reader for each of a hundred thousand lines.
        return Ok(row.split(char::from(delimiter)).map(str::trim).collect());
    }
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter)
        .trim(csv::Trim::All)
        .from_reader(row.as_bytes());
    let mut record = csv::StringRecord::new();
    reader
        .read_record(&mut record)
        .map_err(|error| error.to_string())?;
    Ok(record)
}

fn begins_like_a_number(cell: &str) -> bool {
    let word = cell.to_ascii_lowercase();
    cell.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c))
        || matches!(word.as_str(), "nan" | "inf" | "infinity")
}

/// The unit that a column's heading names: `gap [in]`, `force (lbf)`, `gap_mm`, `force, kN`.
fn unit_in_header(cell: &str, want: Quantity) -> Option<f64> {
    let parts = |c: char| c.is_whitespace() || "[](),_:".contains(c);
    let last = cell.split(parts).rfind(|word| !word.is_empty())?;
    units::parse_unit(last, want).ok()
}

fn pair(
    cells: &[String],
    want: [(Quantity, Sign); 2],
    factors: [f64; 2],
    system: UnitSystem,
) -> Result<[f64; 2], String> {
    let [a, b] = cells else {
        return Err(format!(
            "two columns are wanted, and this row has {}",
            cells.len()
        ));
    };
    let mut row = [0.0; 2];
    for (k, cell) in [a, b].into_iter().enumerate() {
        let (quantity, sign) = want[k];
        let number = match units::parse_plain(cell) {
            Ok(bare) => bare * factors[k],
            Err(_) => units::parse(cell, quantity, None).map_err(|e| format!("`{cell}`: {e}"))?,
        };
        if let Some((message, _)) = size_problem(number, quantity, sign, system) {
            return Err(format!("`{cell}`: {message}"));
        }
        row[k] = number;
    }
    Ok(row)
}

#[cfg(test)]
mod tests {
    use super::*;

    const WANT: [(Quantity, Sign); 2] = [
        (Quantity::Length, Sign::Any),
        (Quantity::Force, Sign::NotNegative),
    ];

    fn read(text: &str) -> Result<Vec<[f64; 2]>, Vec<BadRow>> {
        read_pairs(text, WANT, UnitSystem::MmN)
    }

    #[test]
    fn good_files() {
        let rows = Ok(vec![[3.0, 0.0], [1.2, 600.0]]);
        assert_eq!(read("3.0,0\n1.2,600\n"), rows);
        assert_eq!(
            read("\u{feff}gap,force\r\n# flare\r\n\r\n3.0, 0\r\n1.2, 600\r\n"),
            rows
        );
        assert_eq!(read("gap (mm);force (kN)\n3,0;0\n1,2;0,6\n"), rows);
        assert_eq!(
            read("gap_mm,force\n3 mm,0 N\n\"0.12 cm\",\"0.6 kN\"\n"),
            rows
        );
        assert_eq!(read("gap, in\n").map(|r| r.len()), Ok(0));
    }

    #[test]
    fn broken_rows_name_their_line() {
        let lines =
            |text| -> Vec<u64> { read(text).expect_err(text).iter().map(|b| b.line).collect() };
        assert_eq!(lines("gap,force\n3,0\n1,x\n0,5\n0\n1,2,3\n"), [3, 5, 6]);
        assert_eq!(lines("# two\n\n3,nan\n"), [3]);
        assert_eq!(lines("3,-1\n3 N,1\n1e300,1\n"), [1, 2, 3]);
    }
}
