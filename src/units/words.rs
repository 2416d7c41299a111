//! Quantities and units in words, for messages.

use super::Quantity;

/// The quantity in words, with its article.
#[must_use]
pub fn article(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Length => "a length",
        Quantity::Force => "a force",
        Quantity::Angle => "an angle",
        Quantity::Torque => "a torque",
        Quantity::Stress => "a stress",
        Quantity::Rate => "a rate (force per length)",
        Quantity::TurnRate => "a rate of a turning spring (torque per angle)",
        Quantity::Energy => "an energy",
        Quantity::Area => "an area",
        Quantity::Mass => "a mass",
        Quantity::Density => "a density (mass per volume)",
        Quantity::SecondMoment => "a second moment of area",
        Quantity::Time => "a time",
        Quantity::Frequency => "a number per time",
    }
}

/// The quantity in one or two words.
#[must_use]
pub fn noun(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Length => "length",
        Quantity::Force => "force",
        Quantity::Angle => "angle",
        Quantity::Torque => "torque",
        Quantity::Stress => "stress",
        Quantity::Rate => "rate",
        Quantity::TurnRate => "turning rate",
        Quantity::Energy => "energy",
        Quantity::Area => "area",
        Quantity::Mass => "mass",
        Quantity::Density => "density",
        Quantity::SecondMoment => "second moment of area",
        Quantity::Time => "time",
        Quantity::Frequency => "number per time",
    }
}

/// Two ways to write such a quantity, in quotes.
#[must_use]
pub fn examples(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Length => "\"18.5 mm\" or \"2.4 in\"",
        Quantity::Force => "\"150 N\" or \"33 lbf\"",
        Quantity::Angle => "\"30 deg\" or \"0.5 rad\"",
        Quantity::Torque => "\"12 N m\" or \"106 lbf in\"",
        Quantity::Stress => "\"355 MPa\" or \"52 ksi\"",
        Quantity::Rate => "\"2.1 N/mm\" or \"12 lbf/in\"",
        Quantity::TurnRate => "\"20 N mm/deg\" or \"3 lbf in/deg\"",
        Quantity::Energy => "\"2.5 J\" or \"22 lbf in\"",
        Quantity::Area => "\"84 mm2\" or \"0.13 in2\"",
        Quantity::Mass => "\"0.8 kg\" or \"1.8 lb\"",
        Quantity::Density => "\"7850 kg/m3\", \"7.85 g/cm3\" or \"0.284 lb/in3\"",
        Quantity::SecondMoment => "\"3200 mm4\" or \"0.008 in4\"",
        Quantity::Time => "\"1.5 s\" or \"0.5 min\"",
        Quantity::Frequency => "\"6 /min\" or \"300 /h\"",
    }
}

/// What was likely meant by an unknown unit, and what there is.
pub(super) fn unit_hint<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> String {
    match name {
        "lbs" => return "write a mass in `lb`, a force in `lbf`".to_owned(),
        "lbin" | "inlb" | "lbft" | "ftlb" | "inlbs" | "ftlbs" => {
            return "write the torque as `lbf in` or `lbf ft`".to_owned();
        }
        "pound" | "pounds" => return "write pounds-force as `lbf`".to_owned(),
        "newton" | "newtons" | "Newton" => return "write newtons as `N`".to_owned(),
        "degree" | "degrees" => return "write degrees as `deg`".to_owned(),
        "radian" | "radians" => return "write radians as `rad`".to_owned(),
        _ => {}
    }
    let near = known
        .filter(|unit| unit.is_ascii())
        .map(|unit| {
            (
                strsim::damerau_levenshtein(&unit.to_lowercase(), &name.to_lowercase()),
                unit,
            )
        })
        .min_by_key(|(distance, _)| *distance)
        .filter(|(distance, _)| *distance <= name.chars().count() / 2);
    let list = "mm, cm, m, in, thou, ft, N, kN, lbf, kgf, deg, rad, MPa, GPa, psi, ksi, kg, g, lb, s, min, h, and products of them";
    match near {
        Some((_, unit)) => format!("did you mean `{unit}`? Known units: {list}"),
        None => format!("known units: {list}"),
    }
}
