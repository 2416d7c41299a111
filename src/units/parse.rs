//! Text to number: `"2.4 in"`, `"12 N·mm/deg"`, `"355 MPa"`.
//!
//! A unit is a product of named units, read from left to right; `/` divides by the one unit that
//! follows it. Every unit is a factor to the internal set (mm, N, rad, kg, s) and five exponents, so a
//! unit of the wrong kind is found by comparing exponents.

use std::ops::Range;

use super::parse_error::{ParseError, ParseErrorKind};
use super::table::{Powers, UNITS, in_words, powers_of};
use super::{Quantity, UnitSystem};

/// A text as a number in internal units (mm, N, rad and what is made of them).
///
/// A number without a unit is an error when `bare` is `None`; otherwise it is taken in that
/// system's unit.
///
/// # Errors
/// What is wrong, and at which bytes of `text`.
///
/// # Examples
/// ```
/// use jawforce::units::{Quantity, UnitSystem, parse};
///
/// let length = parse("2 in", Quantity::Length, None).expect("a length");
/// assert!((length - 50.8).abs() < 1e-9); // mm
/// let bare = parse("180", Quantity::Angle, Some(UnitSystem::MmN)).expect("degrees");
/// assert!((bare - std::f64::consts::PI).abs() < 1e-12); // rad
/// assert!(parse("3 N", Quantity::Length, None).is_err());
/// ```
pub fn parse(text: &str, want: Quantity, bare: Option<UnitSystem>) -> Result<f64, ParseError> {
    let (value, rest) = number(text, Some(want))?;
    let unit = text.get(rest..).unwrap_or("");
    let factor = if unit.trim().is_empty() {
        match bare {
            Some(system) => system.factor(want),
            None => {
                let kind = ParseErrorKind::NoUnit { want };
                return Err(ParseError {
                    kind,
                    at: 0..text.len(),
                });
            }
        }
    } else {
        unit_factor(unit, rest, want)?
    };
    let result = value * factor;
    if result.is_finite() && (result != 0.0 || value == 0.0) {
        Ok(result)
    } else {
        Err(ParseError {
            kind: ParseErrorKind::NotFinite,
            at: 0..text.len(),
        })
    }
}

/// A plain number without a unit.
///
/// # Errors
/// What is wrong, and at which bytes of `text`.
pub fn parse_plain(text: &str) -> Result<f64, ParseError> {
    let (value, rest) = number(text, None)?;
    if text.get(rest..).unwrap_or("").trim().is_empty() {
        Ok(value)
    } else {
        Err(ParseError {
            kind: ParseErrorKind::Number { want: None },
            at: rest..text.len(),
        })
    }
}

/// How many internal units one unit of that name is, if it is a unit of the quantity.
///
/// # Errors
/// An unknown unit, or one of another kind.
pub fn parse_unit(text: &str, want: Quantity) -> Result<f64, ParseError> {
    unit_factor(text, 0, want)
}

/// The leading number, and where it ends; `want` is only for what is said when there is none.
fn number(text: &str, want: Option<Quantity>) -> Result<(f64, usize), ParseError> {
    if let Some(fraction) = fraction(text) {
        return Ok(fraction);
    }
    let bytes = text.as_bytes();
    let at = |i: usize| bytes.get(i).copied().unwrap_or(0);
    let mut i = text.len() - text.trim_start().len();
    let start = i;
    if matches!(at(i), b'+' | b'-') {
        i += 1;
    }
    let word = text.get(i..).unwrap_or("").to_ascii_lowercase();
    let word: String = word.chars().take_while(|c| c.is_alphabetic()).collect();
    if matches!(word.as_str(), "nan" | "inf" | "infinity") {
        return Err(ParseError {
            kind: ParseErrorKind::NotFinite,
            at: start..i + word.len(),
        });
    }
    let digits = i;
    while at(i).is_ascii_digit() || at(i) == b'.' {
        i += 1;
    }
    let mantissa = digits..i;
    if matches!(at(i), b'e' | b'E') {
        let sign = usize::from(matches!(at(i + 1), b'+' | b'-'));
        if at(i + 1 + sign).is_ascii_digit() {
            i += 1 + sign;
            while at(i).is_ascii_digit() {
                i += 1;
            }
        }
    }
    let wrong = |kind, end: usize| {
        Err(ParseError {
            kind,
            at: start..end.max(start),
        })
    };
    // `2,4 in` and `1/x` begin with a number too, but do not mean it; `6/min` does.
    let per = at(i) == b'/' && want == Some(Quantity::Frequency) && at(i + 1).is_ascii_alphabetic();
    if matches!(at(i), b',' | b'/') && !per {
        return wrong(ParseErrorKind::Number { want }, text.len());
    }
    let Some(Ok(value)) = text.get(start..i).map(str::parse::<f64>) else {
        return wrong(ParseErrorKind::Number { want }, text.len());
    };
    let nonzero = text
        .get(mantissa)
        .is_some_and(|m| m.bytes().any(|b| matches!(b, b'1'..=b'9')));
    if !value.is_finite() || (value == 0.0 && nonzero) {
        return wrong(ParseErrorKind::NotFinite, i);
    }
    Ok((value, i))
}

/// `-3/4 in`, `1 1/2 in`, `1-1/2"`, as inches are often written: the number, and where it ends; `None` for
/// all else.
fn fraction(text: &str) -> Option<(f64, usize)> {
    let digits = |text: &str| {
        let end = text
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(text.len());
        let number = text.get(..end).filter(|n| (1..=6).contains(&n.len()))?;
        // Six digits are more than any rule shows, and cannot overflow.
        Some((f64::from(number.parse::<u32>().ok()?), end))
    };
    let after = |at: usize| text.get(at..).unwrap_or("");
    let mut at = text.len() - text.trim_start().len();
    let negative = after(at).starts_with('-');
    at += usize::from(negative);
    let (first, used) = digits(after(at))?;
    at += used;
    let (whole, over) = if after(at).starts_with('/') {
        (0.0, first)
    } else {
        let rest = after(at).trim_start_matches([' ', '-']);
        at = text.len() - rest.len();
        let (over, used) = digits(rest)?;
        at += used;
        (first, over)
    };
    at += after(at).strip_prefix('/').map(|_| 1)?;
    let (under, used) = digits(after(at))?;
    at += used;
    let ends = !after(at).starts_with(['.', ',', '/']);
    let value = whole + over / under;
    (under > 0.0 && ends).then_some((if negative { -value } else { value }, at))
}

/// The factor of a unit expression, `offset` bytes into the text the user sees.
fn unit_factor(unit: &str, offset: usize, want: Quantity) -> Result<f64, ParseError> {
    let start = offset + (unit.len() - unit.trim_start().len());
    let end = offset + unit.trim_end().len();
    let unknown = |name: &str, at: Range<usize>| ParseError {
        kind: ParseErrorKind::UnknownUnit {
            name: name.trim().to_owned(),
        },
        at,
    };
    let (mut factor, mut powers): (f64, Powers) = (1.0, [0; 5]);
    let (mut divide, mut fresh, mut i) = (false, true, 0);
    while let Some(c) = unit.get(i..).and_then(|rest| rest.chars().next()) {
        match c {
            ' ' | '\t' => i += 1,
            // `/min`: one per minute.
            '/' if fresh && i == unit.len() - unit.trim_start().len() => {
                divide = true;
                i += 1;
            }
            '/' | '*' | '\u{b7}' | '\u{22c5}' | '-' if !fresh => {
                divide = c == '/';
                fresh = true;
                i += c.len_utf8();
            }
            _ => {
                let rest = unit.get(i..).unwrap_or("");
                let name = name_of(rest);
                let (power, used) = power_of(rest.get(name.len()..).unwrap_or(""));
                let here = offset + i..offset + i + (name.len() + used).max(c.len_utf8());
                let Some((_, f, p)) = UNITS.iter().find(|u| u.0 == name) else {
                    // `Nm/rad2x` and the like: show the whole word.
                    return Err(unknown(if name.is_empty() { rest } else { name }, here));
                };
                let power = if divide { -power } else { power };
                factor *= f.powi(i32::from(power));
                for (sum, own) in powers.iter_mut().zip(p) {
                    *sum = sum.saturating_add(own.saturating_mul(power));
                }
                (divide, fresh) = (false, false);
                i += name.len() + used;
            }
        }
    }
    if fresh {
        return Err(unknown(unit, start..end.max(start)));
    }
    if powers == powers_of(want) {
        Ok(factor)
    } else {
        let kind = ParseErrorKind::WrongKind {
            want,
            got: in_words(powers),
        };
        Err(ParseError {
            kind,
            at: start..end,
        })
    }
}

/// The unit name at the beginning of a text: letters, or one of the two symbols.
fn name_of(text: &str) -> &str {
    let end = match text.chars().next() {
        Some(c @ ('"' | '\u{b0}')) => c.len_utf8(),
        _ => text
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(text.len()),
    };
    text.get(..end).unwrap_or("")
}

/// A power of two or three behind a unit, and how many bytes it takes.
fn power_of(text: &str) -> (i8, usize) {
    [
        ("^2", 2),
        ("^3", 3),
        ("\u{b2}", 2),
        ("\u{b3}", 3),
        ("2", 2),
        ("3", 3),
    ]
    .iter()
    .find(|(sign, _)| text.starts_with(sign))
    .map_or((1, 0), |(sign, power)| (*power, sign.len()))
}

#[cfg(test)]
#[path = "parse_tests.rs"]
mod tests;
