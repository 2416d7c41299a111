//! Sums of multiples: `0.5 * strut.length + 2 mm`, as terms with their places.
//!
//! A minus within a word belongs to it, as names may have one: a difference has spaces around its sign.

use crate::units::parse_plain;
use std::ops::Range;

/// One term of a sum.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Term<'t> {
    /// With its sign.
    pub(super) factor: f64,
    pub(super) what: Operand<'t>,
    /// Bytes of the text.
    pub(super) at: Range<usize>,
}

/// What a factor multiplies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Operand<'t> {
    /// Nothing: a bare number.
    None,
    /// The address of a number.
    Address(&'t str),
    /// A number with a unit.
    Quantity(&'t str),
}

/// What is no sum of multiples, and where.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fault {
    pub(super) at: Range<usize>,
    pub(super) message: String,
    pub(super) help: String,
}

fn fault<T>(at: Range<usize>, message: impl Into<String>) -> Result<T, Fault> {
    Err(Fault {
        at,
        message: message.into(),
        help: "write a sum of multiples of addresses and numbers: \"-left.pin.x\", \"frame.post.y - 3\", \
               \"0.5 * strut.length + 2 mm\", with spaces around + and -"
            .to_owned(),
    })
}

/// The terms of a text.
pub(super) fn terms(text: &str) -> Result<Vec<Term<'_>>, Fault> {
    let mut all = Vec::new();
    let mut sign = None;
    let mut start = 0;
    let mut before = ' ';
    for (i, c) in text.char_indices().chain([(text.len(), '+')]) {
        let piece = text.get(start..i).unwrap_or("");
        let open = piece.trim_end().ends_with(['*', '/']);
        let exponent = piece.ends_with(['e', 'E'])
            && piece
                .trim_start()
                .starts_with(|c: char| c.is_ascii_digit() || c == '.')
            && text
                .get(i + 1..)
                .is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
            && piece
                .chars()
                .rev()
                .nth(1)
                .is_some_and(|c| c.is_ascii_digit() || c == '.');
        let splits = match c {
            '+' => !exponent && !open,
            '-' => piece.trim().is_empty() || (before.is_whitespace() && !open),
            _ => false,
        };
        before = c;
        if !splits {
            continue;
        }
        let end = i == text.len();
        if piece.trim().is_empty() {
            if end || (sign.is_some() && c == '+') {
                return fault(
                    start..i.max(start),
                    "a number or an address is missing here",
                );
            }
        } else {
            let lead = piece.len() - piece.trim_start().len();
            let at = start + lead..start + piece.trim_end().len();
            all.push(term(text, at, sign.unwrap_or(1.0))?);
        }
        let turned = if piece.trim().is_empty() {
            sign.unwrap_or(1.0)
        } else {
            1.0
        };
        sign = Some(if c == '-' { -turned } else { turned });
        start = i + c.len_utf8();
    }
    Ok(all)
}

/// One term: numbers and at most one address or quantity, with `*` between, or an address over a number.
fn term(text: &str, at: Range<usize>, sign: f64) -> Result<Term<'_>, Fault> {
    let (mut factor, mut what) = (sign, Operand::None);
    let whole = text.get(at.clone()).unwrap_or("");
    for piece in whole.split('*') {
        let mut piece = piece.trim();
        while let Some(rest) = piece.strip_prefix('-') {
            factor = -factor;
            piece = rest.trim_start();
        }
        if let Ok(number) = parse_plain(piece) {
            factor *= number;
            continue;
        }
        let (mut operand, mut over) = (piece, None);
        if is_address(piece)
            && let Some((head, divisor)) = piece.split_once('/')
        {
            (operand, over) = (head.trim_end(), Some(divisor));
        }
        if let Some(over) = over {
            match parse_plain(over) {
                Ok(number) if number != 0.0 => factor /= number,
                _ => return fault(at, format!("`{}` cannot divide", over.trim())),
            }
        }
        if operand.is_empty() {
            return fault(at, "a number or an address is missing here");
        }
        if what != Operand::None {
            return fault(at, "this multiplies two quantities");
        }
        if operand.contains(['(', ')'])
            || (is_address(operand) && operand.contains(char::is_whitespace))
        {
            return fault(
                at,
                format!("`{operand}` is neither an address nor a number"),
            );
        }
        what = if is_address(operand) {
            Operand::Address(operand)
        } else {
            Operand::Quantity(operand)
        };
    }
    if !factor.is_finite() {
        return fault(at, "this is not a finite number");
    }
    Ok(Term { factor, what, at })
}

/// Whether a piece is meant as an address: it begins with a letter, or names go on behind a full stop.
fn is_address(piece: &str) -> bool {
    let letter = |c: char| c.is_alphabetic() || c == '_';
    let behind = |(_, rest): (&str, &str)| rest.starts_with(letter);
    piece.starts_with(letter) || piece.split_once('.').is_some_and(behind)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Vec<(f64, Operand<'_>)> {
        terms(text)
            .expect(text)
            .into_iter()
            .map(|t| (t.factor, t.what))
            .collect()
    }

    #[test]
    fn sums_of_multiples() {
        use Operand::{Address, None, Quantity};
        for (text, expected) in [
            ("-left.pin.x", vec![(-1.0, Address("left.pin.x"))]),
            (
                "frame.post.y - 3",
                vec![(1.0, Address("frame.post.y")), (-3.0, None)],
            ),
            (
                "0.5 * c.d.x + 2 mm",
                vec![(0.5, Address("c.d.x")), (1.0, Quantity("2 mm"))],
            ),
            ("a-b.length", vec![(1.0, Address("a-b.length"))]),
            (
                "a.length / 2 - -b.length",
                vec![(0.5, Address("a.length")), (-1.0, Address("-b.length"))],
            ),
            ("2 * -a.length", vec![(-2.0, Address("a.length"))]),
            (
                "1e-1 * a.x.y+1e+1",
                vec![(0.1, Address("a.x.y")), (10.0, None)],
            ),
            ("1/4 * a.length", vec![(0.25, Address("a.length"))]),
            (
                "1 1/2 in - a.length",
                vec![(1.0, Quantity("1 1/2 in")), (-1.0, Address("a.length"))],
            ),
            (
                "2nd.pin.x + 2",
                vec![(1.0, Address("2nd.pin.x")), (2.0, None)],
            ),
            ("20 N mm/deg", vec![(1.0, Quantity("20 N mm/deg"))]),
            ("springs.1.rate * 2", vec![(2.0, Address("springs.1.rate"))]),
        ] {
            let expected: Vec<(f64, Operand<'_>)> = expected
                .into_iter()
                .map(|(f, what)| match what {
                    // Two signs in a row turn the term round twice.
                    Address("-b.length") => (-f, Address("b.length")),
                    _ => (f, what),
                })
                .collect();
            assert_eq!(read(text), expected, "{text}");
        }
    }

    #[test]
    fn all_else_is_refused_at_its_place() {
        for (text, at) in [
            ("", 0..0),
            ("a.length +", 10..10),
            ("a.length + + 2", 10..11),
            ("2 mm + a.length * b.length", 7..26),
            ("sin(a.length)", 0..13),
            ("a.length b.length", 0..17),
            ("a.length / 0", 0..12),
            ("a.length / b.length", 0..19),
            ("2 * * a.length", 0..14),
        ] {
            assert_eq!(terms(text).map_err(|f| f.at), Err(at), "{text}");
        }
    }
}
