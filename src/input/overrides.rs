//! Dimensions set from outside: `strut.length=26`, `lever.knee.x="0.6 in"`.

use std::fmt;

use super::size::{Sign, short, signed};
use super::tolerances::{known_dimensions, unknown_dimension};
use crate::model::dimension::{self, DimensionSlot};
use crate::model::{HandLine, PointKind, Tool};
use crate::numeric::Curve;
use crate::units::Quantity;

/// A dimension that cannot be set so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OverrideError {
    /// The address as given.
    pub address: String,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub help: String,
}

impl fmt::Display for OverrideError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}; {}", self.address, self.message, self.help)
    }
}

impl std::error::Error for OverrideError {}

/// Sets dimensions by address. A bare number is in the tool's units.
///
/// # Errors
/// Everything that cannot be set; the tool is then unchanged.
pub fn apply_overrides(
    tool: &mut Tool,
    overrides: &[(String, String)],
) -> Result<(), Vec<OverrideError>> {
    let (mut good, mut bad) = (Vec::new(), Vec::new());
    for (address, text) in overrides {
        match one(tool, address, text) {
            Ok(set) => good.push(set),
            Err((message, help)) => {
                bad.push(OverrideError {
                    address: address.clone(),
                    message,
                    help,
                });
            }
        }
    }
    if !bad.is_empty() {
        return Err(bad);
    }
    let mut changed = tool.clone();
    for (slot, value) in good {
        slot.set(&mut changed, value);
    }
    if let Some((message, help)) = nonsense(&changed) {
        let all: Vec<&str> = overrides
            .iter()
            .map(|(address, _)| address.as_str())
            .collect();
        return Err(vec![OverrideError {
            address: all.join(", "),
            message,
            help,
        }]);
    }
    *tool = changed;
    Ok(())
}

/// What the new dimensions have made impossible, though each is good by itself.
fn nonsense(tool: &Tool) -> Option<(String, String)> {
    for part in &tool.parts {
        let pins = || {
            part.points
                .iter()
                .filter(|point| point.kind == PointKind::Pin)
        };
        for (i, a) in pins().enumerate() {
            if let Some(b) = pins().skip(i + 1).find(|b| b.at == a.at) {
                let message = format!(
                    "pins `{}` and `{}` of `{}` coincide then",
                    a.name, b.name, part.name
                );
                return Some((message, "choose a value that keeps them apart".to_owned()));
            }
        }
    }
    let off = tool
        .hand
        .grips
        .iter()
        .find(|&&g| off_line(tool, g).is_some());
    off.map(|&grip| {
        let (grip, unit) = (tool.units.show(grip, Quantity::Length), Quantity::Length);
        let message = format!(
            "the grip at {} {} is off the hand line then",
            short(grip),
            tool.units.symbol(unit)
        );
        (
            message,
            "choose a value that keeps the line long enough".to_owned(),
        )
    })
}

/// Why no hand can hold the tool at a grip (mm): it is off the end of a hand line.
#[must_use]
pub fn off_line(tool: &Tool, grip: f64) -> Option<String> {
    let hand = &tool.hand;
    let lines = [
        ("hand line", Some(&hand.handle)),
        ("line of the other handle", hand.against.as_ref()),
    ];
    lines.into_iter().find_map(|(name, line)| {
        let length = line_length(tool, line?).unwrap_or(0.0);
        (grip > length * (1.0 + 1e-9)).then(|| {
            let show = |mm| short(tool.units.show(mm, Quantity::Length));
            let unit = tool.units.symbol(Quantity::Length);
            format!(
                "the grip at {} {unit} is off the end of the {name}, which is {} {unit} long; hold nearer to \
                 its first point",
                show(grip),
                show(length)
            )
        })
    })
}

fn line_length(tool: &Tool, line: &HandLine) -> Option<f64> {
    let of = tool.part(line.part)?;
    let at = line.points.iter().map(|&place| of.place(place));
    let points = at.collect::<Option<Vec<[f64; 2]>>>()?;
    Curve::through(&points, line.smooth).map(|curve| curve.length())
}

/// How far the two pins of a part are apart, with the unit, where its `length` is asked for and it
/// has none because its shape comes from coordinates or the sketch.
fn link_length(tool: &Tool, address: &str) -> Option<String> {
    let name = address.strip_suffix(".length")?;
    let part = tool.parts.iter().find(|p| p.name == name)?;
    let mut pins = part.points.iter().filter(|p| p.kind == PointKind::Pin);
    let (a, b) = (pins.next()?, pins.next()?);
    if pins.next().is_some() {
        return None;
    }
    let mm = (a.at[0] - b.at[0]).hypot(a.at[1] - b.at[1]);
    let shown = short(tool.units.show(mm, Quantity::Length));
    Some(format!("{shown} {}", tool.units.symbol(Quantity::Length)))
}

fn one(tool: &Tool, address: &str, text: &str) -> Result<(DimensionSlot, f64), (String, String)> {
    let Some(slot) = dimension::find(tool, address) else {
        let all = dimension::addressed(&tool.parts);
        let mut problem = unknown_dimension(address, 0..0).help(known_dimensions(address, &all));
        if let Some(length) = link_length(tool, address) {
            problem = problem.help(format!(
                "its pins are {length} apart: with that as `length` in its table, in place of \
                 coordinates, the part is dimensioned by it"
            ));
        }
        return Err((problem.message, problem.help.join("; ")));
    };
    let value = signed(text, slot.quantity(), Sign::of(slot), tool.units);
    value
        .map(|value| (slot, value))
        .map_err(|(what, help)| (format!("`{text}`: {what}"), help))
}
