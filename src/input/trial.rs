//! `[trial]`, and the readings of a trial on the bench, from a CSV file with a heading.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Entry, Reader};
use super::keys;
use super::side_file::{Load, cells};
use super::spelling;
use crate::model::{Direction, Trial, TrialPoint};
use crate::units::{Quantity, UnitSystem, parse};

/// Most readings of a trial: nobody takes more by hand.
const MOST_READINGS: usize = 2_000;

/// The columns, of which `grip` may be left out.
const COLUMNS: [&str; 5] = ["gap", "jaw_force", "hand_force", "direction", "grip"];

impl Reader<'_> {
    pub(super) fn trial(&mut self, entry: &Entry<'_>, load: Load<'_>) -> Option<Trial> {
        let fields = self.known_table(entry, "[trial]", &keys::TRIAL)?;
        let error = match fields.get("error") {
            None => Some(USUAL_ERROR),
            Some(value) => {
                let percent = self.above_zero(value, "`error`", "5");
                if percent.is_some_and(|percent| percent > 100.0) {
                    let message = "an error of more than 100 % is no reading";
                    let problem = Diagnostic::error(code::SIZE, value.span(), message);
                    self.report(problem.help("give per cent of a reading, at most 100, e.g. 5"));
                    return None;
                }
                percent
            }
        };
        let value = self.need(&fields, "data")?;
        let path = self.text(value, "`data`")?.to_owned();
        let text = self.beside(value, (&path, "the readings"), load)?;
        match read_trial(&text, self.units) {
            Ok(points) => Some(Trial {
                data: path,
                points,
                error: error? / 100.0,
            }),
            Err(bad) => {
                let help = "`trial FILE --sheet` prints a file to fill in";
                let (first, more) = bad.split_first()?;
                self.bad_lines(
                    value,
                    format!("{path}: {first}"),
                    more.iter().cloned(),
                    help,
                );
                None
            }
        }
    }
}

/// Error of a reading that is taken where none is stated, per cent. Common practice for a load cell and a spring
/// balance read by eye, no source.
pub const USUAL_ERROR: f64 = 5.0;

/// Reads the readings of a trial, in any order of the columns; bare numbers are in the tool file's units. Blank
/// lines and lines that begin with `#` are skipped.
///
/// # Errors
/// Every line that cannot be read, with its number; never none.
pub fn read_trial(text: &str, system: UnitSystem) -> Result<Vec<TrialPoint>, Vec<String>> {
    let mut rows = cells(text);
    let Some((line, heading)) = rows.next() else {
        return Err(vec![format!(
            "the file has no readings; the first line names the columns: {}",
            COLUMNS.join(", ")
        )]);
    };
    let places = heading.and_then(|heading| places(&heading));
    let places = places.map_err(|what| vec![format!("line {line}: {what}")])?;
    let (mut points, mut bad) = (Vec::new(), Vec::new());
    for (line, row) in rows {
        if points.len() == MOST_READINGS {
            bad.push(format!(
                "line {line}: more readings than the {MOST_READINGS} that are taken"
            ));
            break;
        }
        match row.and_then(|cells| point(&cells, &places, system)) {
            Ok(point) => points.push(point),
            Err(what) => bad.push(format!("line {line}: {what}")),
        }
    }
    if bad.is_empty() && points.is_empty() {
        bad.push("there is a heading and no reading below it".to_owned());
    }
    // As of tool files: what is wrong twenty times is wrong in one way.
    if bad.len() > 20 {
        let more = bad.len() - 20;
        bad.truncate(20);
        bad.push(format!("and {more} lines more"));
    }
    if bad.is_empty() { Ok(points) } else { Err(bad) }
}

/// Where each column stands.
fn places(heading: &[String]) -> Result<[Option<usize>; 5], String> {
    let mut places = [None; 5];
    for (k, cell) in heading.iter().enumerate() {
        let word = cell.to_lowercase().replace([' ', '-'], "_");
        let Some(column) = COLUMNS.iter().position(|known| *known == word) else {
            return Err(format!(
                "no column is called `{cell}`; {}",
                spelling::hint(&word, "columns", &COLUMNS)
            ));
        };
        if places[column].replace(k).is_some() {
            return Err(format!("the column `{word}` is there twice"));
        }
    }
    match COLUMNS
        .iter()
        .zip(&places)
        .take(4)
        .find(|(_, place)| place.is_none())
    {
        Some((column, _)) => Err(format!(
            "there is no column `{column}`; the first line names the columns: {}",
            COLUMNS.join(", ")
        )),
        None => Ok(places),
    }
}

fn point(
    cells: &[String],
    places: &[Option<usize>; 5],
    system: UnitSystem,
) -> Result<TrialPoint, String> {
    let cell = |column: usize| -> &str {
        let place = places.get(column).copied().flatten();
        place
            .and_then(|place| cells.get(place))
            .map_or("", String::as_str)
    };
    let number = |column: usize, quantity: Quantity| -> Result<f64, String> {
        let (name, text) = (COLUMNS[column], cell(column));
        if text.is_empty() {
            return Err(format!("there is no `{name}`"));
        }
        let value = parse(text, quantity, Some(system)).map_err(|_| {
            format!(
                "`{name}` is `{text}`, which is no {}",
                crate::units::noun(quantity)
            )
        })?;
        if value.is_finite() && value.abs() < 1e9 {
            Ok(value)
        } else {
            Err(format!("`{name}` is `{text}`, which is not possible here"))
        }
    };
    let positive = |column: usize| {
        let force = number(column, Quantity::Force)?;
        match force > 0.0 {
            true => Ok(force),
            false => Err(format!(
                "`{}` must be greater than zero, not {}",
                COLUMNS[column],
                cell(column)
            )),
        }
    };
    let direction = match cell(3).to_lowercase().as_str() {
        "closing" | "c" => Direction::Closing,
        "opening" | "o" => Direction::Opening,
        other => {
            return Err(format!(
                "`direction` is `{other}`: write closing or opening"
            ));
        }
    };
    let grip = match cell(4) {
        "" => None,
        _ => Some(number(4, Quantity::Length)?),
    };
    Ok(TrialPoint {
        gap: number(0, Quantity::Length)?,
        jaw_force: positive(1)?,
        hand_force: positive(2)?,
        direction,
        grip,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_stand_in_any_order() {
        let text =
            "# bench\nhand_force,direction,gap,jaw force\n120,closing,0.5,900\n60 N,o,1 in,200\n";
        let read = read_trial(text, UnitSystem::MmN).unwrap();
        assert_eq!(read.len(), 2);
        assert_eq!(read[0].gap, 0.5);
        assert_eq!(read[1].gap, 25.4);
        assert_eq!(read[1].direction, Direction::Opening);
        assert_eq!(read[0].grip, None);
    }

    #[test]
    fn semicolons_bring_decimal_commas() {
        let text = "gap;jaw_force;hand_force;direction;grip\n0,5;900;120;closing;75\n";
        let read = read_trial(text, UnitSystem::MmN).unwrap();
        assert_eq!((read[0].gap, read[0].grip), (0.5, Some(75.0)));
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line() {
        for (text, said) in [
            ("", "no readings"),
            ("gap,jaw_force,hand_force,direction\n", "no reading below"),
            (
                "gap,jaw_force,direction\n1,2,closing",
                "no column `hand_force`",
            ),
            (
                "gap,jaw_froce,hand_force,direction\n",
                "line 1: no column is called `jaw_froce`",
            ),
            ("gap,gap,hand_force,direction\n", "twice"),
            (
                "gap,jaw_force,hand_force,direction\n1,2,3,sideways",
                "line 2: `direction` is `sideways`",
            ),
            (
                "gap,jaw_force,hand_force,direction\n1,0,3,closing",
                "line 2: `jaw_force` must be greater than zero",
            ),
            (
                "gap,jaw_force,hand_force,direction\nnan,2,3,closing",
                "line 2: `gap` is `nan`",
            ),
            (
                "gap,jaw_force,hand_force,direction\n1,2",
                "line 2: `direction` is ``",
            ),
            (
                "gap,jaw_force,hand_force,direction\n1,2,1e300,closing",
                "line 2: `hand_force`",
            ),
        ] {
            let bad = read_trial(text, UnitSystem::MmN).unwrap_err();
            assert!(bad[0].contains(said), "{text:?}: {bad:?}");
        }
    }
}
