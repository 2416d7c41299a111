//! `[work]` or `[[work]]`.

use toml::de::DeValue;

use super::around::Jaws;
use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::side_file::{self, BadRow, Load};
use super::size::{Sign, plain_problem, short};
use super::spelling;
use crate::model::{Jaw, JawId, Material, Values, Work};
use crate::units::Quantity;

const NEED: [(Quantity, Sign); 2] = [
    (Quantity::Length, Sign::Any),
    (Quantity::Force, Sign::NotNegative),
];

/// Sorts the rows of a work curve by falling gap. Two of one gap are a jump, which keeps the sense that
/// the rows are written in; the gap of rows of which nothing can be told is the error.
fn sort(need: &mut [[f64; 2]]) -> Result<(), f64> {
    if let ([first, ..], [.., last]) = (&*need, &*need)
        && first[0] < last[0]
    {
        need.reverse();
    }
    let ordered = need.is_sorted_by(|a, b| a[0] >= b[0]);
    need.sort_by(|a, b| b[0].total_cmp(&a[0]));
    let unclear =
        |w: &&[[f64; 2]]| matches!(w, [a, b] if a[0] == b[0] && (!ordered || a[1] == b[1]));
    let thrice = |w: &&[[f64; 2]]| matches!(w, [a, _, c] if a[0] == c[0]);
    let bad = need
        .windows(2)
        .find(unclear)
        .or_else(|| need.windows(3).find(thrice));
    bad.and_then(|rows| rows.first())
        .map_or(Ok(()), |row| Err(row[0]))
}

impl Reader<'_> {
    /// `[work]`, or several `[[work]]`, each put to its jaw; which jaws they name, `None` for what is none.
    pub(super) fn works(
        &mut self,
        entry: &Entry<'_>,
        jaws: &mut [Jaw],
        complete: bool,
        (load, materials): (Load<'_>, &[Material]),
    ) -> Vec<Option<JawId>> {
        let several = entry.value.get_ref().is_array();
        let tables: Vec<Fields<'_>> = if several {
            self.tables(entry, "[[work]]", &keys::WORK)
        } else {
            let table = self.known_table(entry, "[work]", &keys::WORK);
            table.into_iter().collect()
        };
        // A table that is none is reported as such.
        let mut named = vec![None; usize::from(tables.is_empty() && !several)];
        for fields in &tables {
            let list = &*jaws;
            let jaw = self.jaw_of(fields, Jaws { list, complete });
            if let Some(known) = jaw.filter(|_| named.contains(&jaw)) {
                let name = jaws.get(known.index()).map_or("", |jaw| jaw.name.as_str());
                let at = match fields.entry("jaw") {
                    Some(_) => fields.span_of("jaw"),
                    None => fields.span.clone(),
                };
                let message = format!("the work at jaw `{name}` is given twice");
                self.report(Diagnostic::error(code::TWICE, at, message).help(
                    "one [[work]] for each jaw: say which with `jaw`, the first is meant without",
                ));
            }
            named.push(jaw);
            let work = self.work(fields, load, materials);
            if let Some(jaw) = jaw.and_then(|jaw| jaws.get_mut(jaw.index())) {
                jaw.work = work;
            }
        }
        named
    }

    fn work(
        &mut self,
        fields: &Fields<'_>,
        load: Load<'_>,
        materials: &[Material],
    ) -> Option<Work> {
        let note = fields.get("note").and_then(|v| self.text(v, "`note`"));
        let rigid = fields.get("rigid");
        let rigid = rigid.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
        let scale = fields.get("scale").and_then(|v| self.scale(v));
        let sizes = self.sizes(fields, materials);
        let finish = self.finish(fields);
        let (need, estimate) = match fields.get("job") {
            Some(value) => {
                let (need, estimate) = self.estimate(fields, value, &sizes)?;
                (need, Some(estimate))
            }
            None => {
                self.no_job(fields);
                (self.measured(fields, load)?, None)
            }
        };
        let mut work = Work {
            need,
            note: note.map(str::to_owned),
            rigid,
            scale: 1.0,
            estimate,
            finish,
        };
        work.set_scale(scale.unwrap_or(1.0));
        Some(work)
    }

    /// The rows of `need`, sorted.
    fn measured(&mut self, fields: &Fields<'_>, load: Load<'_>) -> Option<Vec<[f64; 2]>> {
        let value = self.need(fields, "need")?;
        let mut need = match value.get_ref() {
            DeValue::String(path) => self.need_from_file(value, path, load)?,
            _ => self.rows(value, NEED, "a row of `need` is a pair [gap, force]")?,
        };
        if need.len() < 2 {
            self.report(
                Diagnostic::error(
                    code::TABLE,
                    value.span(),
                    "the work curve needs two rows or more",
                )
                .help("give at least the gap where the work begins and the one where it ends"),
            );
            return None;
        }
        if let Err(gap) = sort(&mut need) {
            let gap = short(self.units.show(gap, Quantity::Length));
            let message = format!(
                "it is not clear what the work curve is at the gap {gap}, given more than once"
            );
            self.report(Diagnostic::error(code::TABLE, value.span(), message).help(
                "give each gap once, or where the force jumps two rows with different forces, all rows in order of gap",
            ));
            return None;
        }
        Some(need)
    }

    /// The factor of a work curve.
    fn scale(&mut self, value: &Value<'_>) -> Option<f64> {
        self.above_zero(value, "`scale`", "1.2")
    }

    /// A plain number greater than zero; `example` is one that would be right.
    pub(super) fn above_zero(
        &mut self,
        value: &Value<'_>,
        what: &str,
        example: &str,
    ) -> Option<f64> {
        let number = self.plain(value, what, example)?;
        let Some((what, help)) = plain_problem(number, Values::Positive) else {
            return Some(number);
        };
        self.report(Diagnostic::error(code::SIZE, value.span(), what).help(help));
        None
    }

    fn need_from_file(
        &mut self,
        value: &Value<'_>,
        path: &str,
        load: Load<'_>,
    ) -> Option<Vec<[f64; 2]>> {
        let text = self.beside(value, (path, "the work curve"), load)?;
        match side_file::read_pairs(&text, NEED, self.units) {
            Ok(rows) => Some(rows),
            Err(bad) => {
                let (first, more) = bad.split_first()?;
                let line = |row: &BadRow| format!("line {}: {}", row.line, row.message);
                let message = format!("{path}, {}", line(first));
                self.bad_lines(
                    value,
                    message,
                    more.iter().map(line),
                    "each row is: gap, force",
                );
                None
            }
        }
    }

    pub(super) fn unknown_pin(&mut self, draft: &Draft, name: &str, span: std::ops::Range<usize>) {
        let message = format!("no pin is called `{name}`");
        let problem = Diagnostic::error(code::UNKNOWN_PIN, span, message);
        let help = || spelling::hint(name, "pins", &draft.pin_names());
        self.report(self.hinted(problem, help));
    }
}
