//! Numbers set from outside: `strut.length=26`, `lever.knee.x="0.6 in"`, `joints.friction=0.1`.

use std::fmt;

use super::flaws::first_flaw;
use super::setting::setting_problem;
use super::size::{short, typed_value, value_problem};
use super::tolerances::{follows, known_dimensions, unknown_dimension};
use super::wound::spring_flaw;
use crate::model::dimension::{self, DimensionSlot};
use crate::model::{HandLine, JointId, PointKind, Target, Tool};
use crate::numeric::Curve;
use crate::units::{Quantity, UnitSystem};

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

/// Sets numbers by address. A bare number is in the tool's units.
///
/// # Errors
/// Everything that cannot be set; the tool is then unchanged.
pub fn apply_overrides(
    tool: &mut Tool,
    overrides: &[(String, String)],
) -> Result<(), Vec<OverrideError>> {
    let texts = overrides.iter().map(|(address, text)| (address, text));
    apply(tool, texts, |slot, units, text| {
        let value = typed_value(text, slot, units);
        value.map_err(|(what, help)| (format!("`{text}`: {what}"), help))
    })
}

/// Sets numbers by address to values in internal units.
///
/// # Errors
/// Everything that cannot be set; the tool is then unchanged.
pub fn apply_values(tool: &mut Tool, values: &[(String, f64)]) -> Result<(), Vec<OverrideError>> {
    let values = values.iter().map(|(address, value)| (address, value));
    apply(tool, values, |slot, units, &value| {
        value_problem(value, slot, units).map_or(Ok(value), |(what, help)| Err((what, help)))
    })
}

fn apply<'v, V: 'v + ?Sized>(
    tool: &mut Tool,
    overrides: impl Iterator<Item = (&'v String, &'v V)> + Clone,
    read: impl Fn(DimensionSlot, UnitSystem, &V) -> Result<f64, (String, String)>,
) -> Result<(), Vec<OverrideError>> {
    let (mut good, mut bad) = (Vec::new(), Vec::new());
    for (address, value) in overrides.clone() {
        let slot = known(tool, address);
        match slot.and_then(|slot| Ok((slot, read(slot, tool.units, value)?))) {
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
    changed.set_numbers(good);
    if let Some((message, help)) = nonsense(&changed) {
        let all: Vec<&str> = overrides.map(|(address, _)| address.as_str()).collect();
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
    for tie in &tool.ties {
        let value = tie.slot.get(tool).unwrap_or(f64::NAN);
        if let Some((what, help)) = value_problem(value, tie.slot, tool.units) {
            return Some((
                format!("`{}`, which follows `{}`: {what}", tie.address, tie.text),
                help,
            ));
        }
    }
    let settings = tool.adjusters.iter();
    let wrong = settings.filter_map(|adjuster| {
        let (what, help) = setting_problem(adjuster, adjuster.now, tool.units)?;
        Some((format!("adjuster `{}`: {what}", adjuster.name), help))
    });
    if let Some(bad) = wrong.into_iter().next() {
        return Some(bad);
    }
    let flaws = tool.springs.iter();
    let wrong = flaws.filter_map(|spring| spring_flaw(spring, tool.units));
    if let Some((_, message, help)) = wrong.into_iter().next() {
        return Some((message, help.to_owned()));
    }
    if let Some(bad) = contradiction(tool).or_else(|| first_flaw(tool)) {
        return Some(bad);
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

/// Numbers that do not go together, as the reader refuses them in a file.
fn contradiction(tool: &Tool) -> Option<(String, String)> {
    let bad = |what: String, help: &str| Some((what, help.to_owned()));
    for (joint, data) in JointId::each(&tool.joint_data) {
        let label = tool.joint_label(joint);
        if data.friction > 0.0 && data.diameter.is_none() {
            let what = format!("friction at pin `{label}` needs the pin's diameter");
            return bad(what, "state `diameter` in [joints] of the file");
        }
        if data
            .diameter
            .is_some_and(|diameter| data.clearance >= diameter)
        {
            return bad(
                format!("the clearance of pin `{label}` is then as large as the pin"),
                "choose a smaller one",
            );
        }
    }
    for material in &tool.materials {
        if material
            .ultimate
            .is_some_and(|u| u < material.yield_strength)
        {
            let what = format!(
                "the ultimate strength of `{}` is then below its yield strength",
                material.name
            );
            return bad(what, "set both");
        }
    }
    let lines = [Some(&tool.hand.handle), tool.hand.against.as_ref()];
    for line in lines.into_iter().flatten() {
        if line_length(tool, line).is_none_or(|length| !(length > 0.0)) {
            return bad(
                "two places of a hand line coincide then".to_owned(),
                "choose a value that keeps them apart",
            );
        }
    }
    if let (Target::Gap(open, a), Target::Gap(shut, b)) = (tool.stroke.open, tool.stroke.shut)
        && a == b
        && open < shut
    {
        let help = "choose values by which the tool closes from the wide gap to the narrow one";
        return bad(
            "the gap at `shut` is wider than at `open` then".to_owned(),
            help,
        );
    }
    if tool.stroke.open == tool.stroke.shut {
        return bad(
            "the stroke is shut where it is open then".to_owned(),
            "choose two different places",
        );
    }
    None
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

/// The number of that address, which may be set.
fn known(tool: &Tool, address: &str) -> Result<DimensionSlot, (String, String)> {
    if let Some(slot) = dimension::find(tool, address) {
        return tool
            .tie(slot)
            .map_or(Ok(slot), |tie| Err(follows(address, tie)));
    }
    let all = dimension::all_addresses(tool);
    let mut problem = unknown_dimension(address, 0..0).help(known_dimensions(address, &all));
    if let Some(length) = link_length(tool, address) {
        problem = problem.help(format!(
            "its pins are {length} apart: with that as `length` in its table, in place of \
             coordinates, the part is dimensioned by it"
        ));
    }
    Err((problem.message, problem.help.join("; ")))
}
