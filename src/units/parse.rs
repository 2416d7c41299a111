//! Text to number: `"2.4 in"`, `"12 N·mm/deg"`, `"355 MPa"`.
//!
//! A unit is a product of named units, read from left to right; `/` divides by the one unit that
//! follows it. Every unit is a factor to the internal set (mm, N, rad) and three exponents, so a
//! unit of the wrong kind is found by comparing exponents.

use std::fmt;
use std::ops::Range;

use super::trimmed;
use super::words::{article, examples, unit_hint};
use super::{MM_PER_IN, N_PER_LBF, Quantity, UnitSystem};

/// Why a text is not the quantity wanted, and where in the text.
#[derive(Debug, Clone, PartialEq)]
pub struct ParseError {
    /// What is wrong.
    pub kind: ParseErrorKind,
    /// Bytes of the text that are at fault; may be empty, at the end of the text.
    pub at: Range<usize>,
}

/// What can be wrong with the text of a quantity.
#[derive(Debug, Clone, PartialEq)]
pub enum ParseErrorKind {
    /// It does not begin with a number, or the number is not written with a decimal point.
    Number {
        /// What was wanted; `None` for a plain number.
        want: Option<Quantity>,
    },
    /// A fraction, as inches are often written.
    Fraction {
        /// The same as a decimal number, with its unit.
        decimal: String,
    },
    /// The number is `nan`, `inf`, or too large or too small to be held.
    NotFinite,
    /// A unit is needed and there is none.
    NoUnit {
        /// What was wanted.
        want: Quantity,
    },
    /// A unit that is not known.
    UnknownUnit {
        /// The unit as written.
        name: String,
    },
    /// A unit of another kind.
    WrongKind {
        /// What was wanted.
        want: Quantity,
        /// What the unit measures, in words.
        got: String,
    },
}

impl ParseError {
    /// What to do about it.
    #[must_use]
    pub fn help(&self) -> String {
        match &self.kind {
            ParseErrorKind::Number { want: None } => "write digits with a decimal point".to_owned(),
            ParseErrorKind::Number { want: Some(want) } => format!(
                "write digits with a decimal point, then the unit: {}",
                examples(*want)
            ),
            ParseErrorKind::Fraction { decimal } => {
                format!("write it with a decimal point: {decimal}")
            }
            ParseErrorKind::NotFinite => "write a finite number".to_owned(),
            ParseErrorKind::NoUnit { want } => {
                format!("give the unit, such as {}", examples(*want))
            }
            ParseErrorKind::UnknownUnit { name } => {
                unit_hint(name, UNITS.iter().map(|unit| unit.0))
            }
            ParseErrorKind::WrongKind { want, .. } => {
                format!(
                    "{} is wanted here, such as {}",
                    article(*want),
                    examples(*want)
                )
            }
        }
    }
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.kind {
            ParseErrorKind::Number { want: None } => f.write_str("this is not a plain number"),
            ParseErrorKind::Number { want: Some(_) } => {
                f.write_str("this is not a number with a unit")
            }
            ParseErrorKind::Fraction { .. } => f.write_str("fractions are not read"),
            ParseErrorKind::NotFinite => f.write_str("this number is not finite"),
            ParseErrorKind::NoUnit { want } => {
                write!(f, "this text has no unit, and {} needs one", article(*want))
            }
            ParseErrorKind::UnknownUnit { name } => write!(f, "unknown unit `{name}`"),
            ParseErrorKind::WrongKind { want, got } => {
                write!(f, "this is {got}, not {}", article(*want))
            }
        }
    }
}

impl std::error::Error for ParseError {}

/// Exponents of length, force and angle.
type Powers = [i8; 3];

/// Unit names, factors to mm, N, rad, and exponents. Inch and pound-force are exact; the others
/// are decimal multiples, or kgf = 9.806 65 N (standard gravity, CGPM 1901).
const UNITS: &[(&str, f64, Powers)] = &[
    ("mm", 1.0, [1, 0, 0]),
    ("cm", 10.0, [1, 0, 0]),
    ("m", 1000.0, [1, 0, 0]),
    ("um", 1e-3, [1, 0, 0]),
    ("\u{b5}m", 1e-3, [1, 0, 0]),
    ("\u{3bc}m", 1e-3, [1, 0, 0]),
    ("in", MM_PER_IN, [1, 0, 0]),
    ("inch", MM_PER_IN, [1, 0, 0]),
    ("\"", MM_PER_IN, [1, 0, 0]),
    ("ft", 12.0 * MM_PER_IN, [1, 0, 0]),
    ("N", 1.0, [0, 1, 0]),
    ("kN", 1000.0, [0, 1, 0]),
    ("lbf", N_PER_LBF, [0, 1, 0]),
    ("kgf", 9.806_65, [0, 1, 0]),
    ("rad", 1.0, [0, 0, 1]),
    ("deg", std::f64::consts::PI / 180.0, [0, 0, 1]),
    ("\u{b0}", std::f64::consts::PI / 180.0, [0, 0, 1]),
    ("Nm", 1000.0, [1, 1, 0]),
    ("Nmm", 1.0, [1, 1, 0]),
    ("J", 1000.0, [1, 1, 0]),
    ("mJ", 1.0, [1, 1, 0]),
    ("Pa", 1e-6, [-2, 1, 0]),
    ("kPa", 1e-3, [-2, 1, 0]),
    ("MPa", 1.0, [-2, 1, 0]),
    ("GPa", 1000.0, [-2, 1, 0]),
    ("psi", N_PER_LBF / (MM_PER_IN * MM_PER_IN), [-2, 1, 0]),
    (
        "ksi",
        1000.0 * N_PER_LBF / (MM_PER_IN * MM_PER_IN),
        [-2, 1, 0],
    ),
];

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
    if let Some(decimal) = fraction(text) {
        return Err(ParseError {
            kind: ParseErrorKind::Fraction { decimal },
            at: 0..text.len(),
        });
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
    // `2,4 in` and `1/x` begin with a number too, but do not mean it.
    if matches!(at(i), b',' | b'/') {
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

/// `-3/4 in`, `1 1/2 in`, `1-1/2"` as a decimal number with the unit; `None` for all else.
fn fraction(text: &str) -> Option<String> {
    let text = text.trim();
    let (sign, rest) = match text.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", text),
    };
    let digits = |text: &str| {
        let end = text.find(|c: char| !c.is_ascii_digit());
        let (number, rest) = text.split_at(end.unwrap_or(text.len()));
        // Six digits are more than any rule shows, and cannot overflow.
        let number = Some(number).filter(|n| n.len() <= 6)?.parse::<u32>().ok()?;
        Some((f64::from(number), rest.to_owned()))
    };
    let (first, rest) = digits(rest)?;
    let (whole, over, rest) = match rest.strip_prefix('/') {
        Some(rest) => (0.0, first, rest.to_owned()),
        None => {
            let (over, rest) = digits(rest.trim_start_matches([' ', '-']))?;
            (first, over, rest.strip_prefix('/')?.to_owned())
        }
    };
    let (under, unit) = digits(&rest)?;
    let value = whole + over / under;
    let number = trimmed(value, 6);
    (under > 0.0).then(|| {
        format!("{sign}{number} {}", unit.trim())
            .trim_end()
            .to_owned()
    })
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
    let (mut factor, mut powers): (f64, Powers) = (1.0, [0; 3]);
    let (mut divide, mut fresh, mut i) = (false, true, 0);
    while let Some(c) = unit.get(i..).and_then(|rest| rest.chars().next()) {
        match c {
            ' ' | '\t' => i += 1,
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

fn powers_of(quantity: Quantity) -> Powers {
    match quantity {
        Quantity::Length => [1, 0, 0],
        Quantity::Force => [0, 1, 0],
        Quantity::Angle => [0, 0, 1],
        Quantity::Torque | Quantity::Energy => [1, 1, 0],
        Quantity::Stress => [-2, 1, 0],
        Quantity::Rate => [-1, 1, 0],
        Quantity::TurnRate => [1, 1, -1],
    }
}

fn in_words(powers: Powers) -> String {
    let kinds = [
        Quantity::Length,
        Quantity::Force,
        Quantity::Angle,
        Quantity::Torque,
        Quantity::Stress,
        Quantity::Rate,
        Quantity::TurnRate,
    ];
    match kinds.iter().find(|&&kind| powers_of(kind) == powers) {
        Some(&kind) => article(kind).to_owned(),
        None => "a quantity of another kind".to_owned(),
    }
}

#[cfg(test)]
#[path = "parse_tests.rs"]
mod tests;
