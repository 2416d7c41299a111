//! The hand's limit: a force, a table over the span, or a published set by its name.

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Reader, Value};
use super::size::{Sign, signed};
use super::spelling;
use crate::limits;
use crate::model::{HandLimit, Tool};
use crate::units::Quantity;

const NEEDS_SPAN: &str = "a limit over the span needs a second handle";

/// A limit typed on the command line: a force, or the name of a published set.
///
/// # Errors
/// What is wrong, and what to do.
pub fn typed_limit(tool: &Tool, text: &str) -> Result<HandLimit, (String, String)> {
    if !text.starts_with(char::is_alphabetic) {
        return signed(text, Quantity::Force, Sign::Positive, tool.units).map(HandLimit::Force);
    }
    match limits::find(text) {
        None => Err((unknown(text), sets_like(text))),
        Some(set) if set.falloff.is_some() && tool.hand.against.is_none() => {
            let help = "name the set without `-span`, or give one force";
            Err((NEEDS_SPAN.to_owned(), help.to_owned()))
        }
        Some(_) => Ok(HandLimit::Named(text.to_owned())),
    }
}

fn unknown(text: &str) -> String {
    format!("no set of hand limits is called `{text}`")
}

/// Names that begin so; where none does, how names begin, since there are hundreds.
fn sets_like(text: &str) -> String {
    let family: Vec<&str> = limits::names().filter(|n| n.starts_with(text)).collect();
    if !family.is_empty() {
        return spelling::hint(text, "sets", &family);
    }
    let mut families: Vec<String> = Vec::new();
    for name in limits::names() {
        let count = if name.starts_with("norm-") { 3 } else { 2 };
        let words: Vec<&str> = name.split('-').take(count).collect();
        let start = format!("{}-…", words.join("-"));
        if !families.contains(&start) {
            families.push(start);
        }
    }
    let near = spelling::nearest(text, limits::names());
    let near = near.map_or(String::new(), |n| format!("did you mean `{n}`? "));
    format!(
        "{near}names begin with {}; the beginning of a name is answered with a list; all are for a \
         power grip: for a pinch, give a force",
        families.join(", ")
    )
}

impl Reader<'_> {
    /// `facing`: there is a second handle.
    pub(super) fn limit(&mut self, value: &Value<'_>, facing: bool) -> Option<HandLimit> {
        match value.get_ref() {
            DeValue::String(text) if text.starts_with(char::is_alphabetic) => {
                let Some(set) = limits::find(text) else {
                    self.report(
                        Diagnostic::error(code::UNKNOWN_LIMIT, value.span(), unknown(text))
                            .help(sets_like(text)),
                    );
                    return None;
                };
                if set.falloff.is_some() && !facing {
                    self.needs_span(value);
                }
                Some(HandLimit::Named(text.to_string()))
            }
            DeValue::Array(_) => {
                let want = [
                    (Quantity::Length, Sign::NotNegative),
                    (Quantity::Force, Sign::NotNegative),
                ];
                let rows = self.rows(value, want, "a row of `limit` is a pair [span, force]")?;
                self.rising(value, &rows, "span");
                if !facing {
                    self.needs_span(value);
                }
                Some(HandLimit::Table(rows))
            }
            _ => self
                .quantity(value, Quantity::Force, Sign::Positive)
                .map(HandLimit::Force),
        }
    }

    fn needs_span(&mut self, value: &Value<'_>) {
        self.report(
            Diagnostic::error(code::NO_SPAN, value.span(), NEEDS_SPAN)
                .help("add `against`, or give one force for any span"),
        );
    }
}
