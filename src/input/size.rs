//! Quantities of a sensible size and sign.

use crate::model::dimension::DimensionSlot;
use crate::model::{MOST_FRICTION, Values};
use crate::units::{self, Quantity, UnitSystem, trimmed};

/// Which sign a quantity may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    /// Greater than zero.
    Positive,
    /// Zero or more.
    NotNegative,
    /// Any.
    Any,
}

impl Sign {
    /// That of the values that a number may have.
    pub(super) fn of(slot: DimensionSlot) -> Self {
        match slot.values() {
            Values::Any => Self::Any,
            Values::NotNegative | Values::Friction => Self::NotNegative,
            Values::Positive
            | Values::Share
            | Values::Hours
            | Values::Reliability
            | Values::Strokes => Self::Positive,
        }
    }
}

/// Nothing real is smaller than this without being meant as zero, in any internal unit.
const TINY: f64 = 1e-20;

/// The least positive and the greatest size taken, internal units. Far outside of what a hand tool
/// is; inside it the numbers stay well-conditioned (common practice, no source).
fn sizes(quantity: Quantity) -> (f64, f64) {
    match quantity {
        Quantity::Length => (1e-3, 1e6),
        Quantity::Force => (1e-6, 1e9),
        Quantity::Angle => (1e-9, 1e3),
        Quantity::Torque | Quantity::Energy => (1e-6, 1e12),
        Quantity::Stress => (1e-3, 1e7),
        Quantity::Rate => (1e-9, 1e9),
        Quantity::TurnRate => (1e-6, 1e12),
        Quantity::Area => (1e-6, 1e12),
        Quantity::Mass => (1e-9, 1e6),
        // From foam to what is denser than any metal; 7.85 for steel is meant in g/cm3, and refused in kg/m3.
        Quantity::Density => (1e-8, 3e-5),
        Quantity::SecondMoment => (1e-12, 1e24),
        // From a hundredth of a second to a day; from once in a year to a thousand a second.
        Quantity::Time => (1e-2, 1e5),
        Quantity::Frequency => (1e-8, 1e3),
    }
}

/// A quantity as it is typed outside of a tool file, in internal units: a bare number in `units`, or
/// a number with a unit of its own.
///
/// # Errors
/// What is wrong, and what to do.
pub fn typed(text: &str, want: Quantity, units: UnitSystem) -> Result<f64, (String, String)> {
    signed(text, want, Sign::Any, units)
}

/// The same for a quantity that may not have any sign.
pub(super) fn signed(
    text: &str,
    want: Quantity,
    sign: Sign,
    units: UnitSystem,
) -> Result<f64, (String, String)> {
    let value = units::parse(text, want, Some(units)).map_err(|e| (e.to_string(), e.help()))?;
    size_problem(value, want, sign, units).map_or(Ok(value), Err)
}

/// A number of a tool as it is typed outside of a tool file, internal unit.
///
/// # Errors
/// What is wrong, and what to do.
pub(super) fn typed_value(
    text: &str,
    slot: DimensionSlot,
    units: UnitSystem,
) -> Result<f64, (String, String)> {
    let value = typed_as(text, slot.quantity(), units)?;
    value_problem(value, slot, units).map_or(Ok(value), Err)
}

/// A quantity, or a plain number, as it is typed outside of a tool file.
///
/// # Errors
/// What is wrong, and what to do.
pub fn typed_as(
    text: &str,
    quantity: Option<Quantity>,
    units: UnitSystem,
) -> Result<f64, (String, String)> {
    match quantity {
        Some(quantity) => typed(text, quantity, units),
        None => units::parse_plain(text).map_err(|e| {
            let unit = text.contains(char::is_alphabetic);
            let what = if unit {
                "a plain number is wanted, without a unit".to_owned()
            } else {
                e.to_string()
            };
            (what, "write digits alone, such as 0.12".to_owned())
        }),
    }
}

/// What is wrong with a value of a number of a tool, internal unit, and what to do.
pub(super) fn value_problem(
    value: f64,
    slot: DimensionSlot,
    units: UnitSystem,
) -> Option<(String, String)> {
    match slot.quantity() {
        Some(quantity) => size_problem(value, quantity, Sign::of(slot), units),
        None => plain_problem(value, slot.values()),
    }
}

/// What is wrong with a number that has no unit, and what to do.
pub(super) fn plain_problem(value: f64, values: Values) -> Option<(String, String)> {
    if values.allow(value) && (value.abs() <= MOST_PLAIN || values == Values::Strokes) {
        return None;
    }
    Some(match values {
        Values::Friction => (
            format!("a coefficient of friction of {value} is not possible here"),
            format!(
                "give a number from 0 to below {MOST_FRICTION}: greased steel on steel is about 0.1, dry rubber on \
                 steel about 1"
            ),
        ),
        Values::Share => (
            format!("{value} is no share"),
            "give a number above 0 and below 1, such as 0.75".to_owned(),
        ),
        Values::Reliability => (
            format!("a reliability of {value} % has no figure"),
            "give per cent of the parts that have to last, from 50 to 99.99".to_owned(),
        ),
        Values::Strokes => (
            format!("{value} is no number of strokes"),
            "give a number above 0, such as 200000".to_owned(),
        ),
        Values::Hours => (
            format!("a day does not have {value} h"),
            "give hours, such as 8".to_owned(),
        ),
        _ => (
            format!("{value} is not possible here"),
            format!("give a number above 0, at most {MOST_PLAIN}"),
        ),
    })
}

/// The greatest plain number taken: a work curve is not meant in units of which one is so many.
const MOST_PLAIN: f64 = 1e6;

/// What is wrong with the size of a number, and what to do.
pub(super) fn size_problem(
    number: f64,
    quantity: Quantity,
    sign: Sign,
    units: UnitSystem,
) -> Option<(String, String)> {
    let (least, most) = sizes(quantity);
    let article = units::article(quantity);
    let show = |value: f64| {
        format!(
            "{} {}",
            short(units.show(value, quantity)),
            units.symbol(quantity)
        )
    };
    let size = number.abs();
    if !number.is_finite() {
        Some((
            format!("{article} must be a finite number"),
            "write a finite number".to_owned(),
        ))
    } else if sign == Sign::Positive && number <= 0.0 {
        Some((
            format!(
                "{article} here must be greater than zero, not {}",
                show(number)
            ),
            "write a positive number".to_owned(),
        ))
    } else if sign == Sign::NotNegative && number < 0.0 {
        Some((
            format!(
                "{article} here must not be negative, and this is {}",
                show(number)
            ),
            "write zero or a positive number".to_owned(),
        ))
    } else if size > most {
        Some((
            format!("{} is too large for {article} of a hand tool", show(number)),
            format!("at most {} is taken; is the unit right?", show(most)),
        ))
    } else if sign == Sign::Positive && size < least {
        Some((
            format!("{} is too small for {article} of a hand tool", show(number)),
            format!("at least {} is taken; is the unit right?", show(least)),
        ))
    } else if number != 0.0 && size < TINY {
        Some((
            format!("{} is smaller than anything that can be made", show(number)),
            "write 0 if zero is meant".to_owned(),
        ))
    } else {
        None
    }
}

/// A number without a row of digits that nobody reads.
pub(super) fn short(value: f64) -> String {
    let size = value.abs();
    if size != 0.0 && !(1e-3..1e7).contains(&size) {
        return format!("{value:e}");
    }
    trimmed(value, 3)
}
