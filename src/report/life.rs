//! How many strokes the places of a tool last.

use super::place::place_text;
use super::show::{Shown, cited};
use super::spot::spot_text;
use crate::analysis::LifeSeen;
use crate::model::{Against, Tool};
use crate::strength::formulas::fatigue::SOURCE;
use crate::strength::{Lasting, NotLasting};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// How a tool lasts.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LifeReport {
    /// Strokes that are asked for.
    pub strokes: f64,
    /// What a mean stress is held against: `Goodman` or `Soderberg`.
    pub against: &'static str,
    /// Share of the parts that have to last, per cent.
    pub reliability: f64,
    /// Unit of the stresses.
    pub stress_unit: &'static str,
    /// Every place, the one that breaks first at the head.
    pub places: Vec<LifeLine>,
    /// The formulas.
    pub formula: &'static str,
    /// Where they come from.
    pub source: String,
    /// What is left out, and why.
    pub notes: Vec<String>,
}

/// A place whose stress comes and goes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LifeLine {
    /// Pin or part.
    pub subject: String,
    /// Name of the check.
    pub check: String,
    /// Where on the part.
    pub place: Option<String>,
    /// The same for people to find.
    #[serde(skip)]
    pub spot: Option<String>,
    /// Greatest stress over the closed cycle.
    pub most: f64,
    /// Least stress: zero, or below where the load acts the other way somewhere.
    pub least: f64,
    /// Stress to and fro that is stood a million times.
    pub endurance: f64,
    /// Strength that the mean stress is held against.
    pub steady: f64,
    /// Stress concentration factor of a notch that is known; null without.
    pub kt: Option<f64>,
    /// What of it counts, on the amplitude; null without.
    pub kf: Option<f64>,
    /// By how much the stresses may grow for the strokes that are asked for.
    pub factor: f64,
    /// Strokes until it breaks, 1000 for fewer too; null where it does not.
    pub strokes: Option<f64>,
    /// It lasts as long as is asked for.
    pub lasts: bool,
}

/// How a tool lasts, in these units; `None` where the file does not ask.
#[must_use]
pub fn life_report(tool: &Tool, seen: Option<&LifeSeen>, units: UnitSystem) -> Option<LifeReport> {
    let (life, seen) = (tool.life?, seen?);
    let shown = Shown { tool, units };
    let mut notes: Vec<String> = (seen.missing.iter())
        .map(|why| match why {
            NotLasting::NoUltimate(name) => {
                format!("not checked for {name}: give `ultimate` in [materials.{name}]")
            }
            NotLasting::NoSurface(name) => {
                format!("not checked for {name}: give `surface` in [materials.{name}]")
            }
        })
        .collect();
    if seen.places.iter().any(|place| place.laser) {
        notes.push(
            "edges cut by laser count as hot-rolled: no figure of their own is at hand (unconfirmed)".to_owned(),
        );
    }
    notes.push(
        "for steel; notches count where they are holes in a link or a plate, or drawn as hollow edges; the pin of an eye fits closely: with \
         clearance Kt is up to half as much again; pressure in holes, shear across beams, tearing out, buckling, rollers and teeth are not among the places; corrosion and wear are left out"
            .to_owned(),
    );
    let (source, _) = cited(SOURCE.source);
    Some(LifeReport {
        strokes: life.strokes,
        against: match life.against {
            Against::Goodman => "Goodman",
            Against::Soderberg => "Soderberg",
        },
        reliability: life.reliability,
        stress_unit: units.symbol(Quantity::Stress),
        places: seen
            .places
            .iter()
            .map(|place| shown.life_line(place))
            .collect(),
        formula: SOURCE.text,
        source,
        notes,
    })
}

/// The places that do not last as long as is asked for, in words.
pub(super) fn life_faults(report: &LifeReport) -> Vec<String> {
    let short = report.places.iter().filter(|place| !place.lasts);
    short
        .map(|line| {
            let place = line
                .spot
                .as_ref()
                .map_or(String::new(), |place| format!(" {place}"));
            let strokes = strokes_text(line.strokes.unwrap_or(report.strokes));
            format!("{}, {}{place}: {strokes} strokes", line.subject, line.check)
        })
        .collect()
}

/// Strokes to two figures, rounded down, with a space between thousands.
#[must_use]
pub fn strokes_text(strokes: f64) -> String {
    let unit = 10f64.powf(strokes.max(1.0).log10().floor() - 1.0).max(1.0);
    // A hair more, since a round number may stand just below itself.
    let rounded = ((strokes / unit) * (1.0 + 1e-9)).floor() * unit;
    let digits = crate::units::trimmed(rounded, 0);
    let mut text = String::new();
    for (k, digit) in digits.chars().enumerate() {
        if k > 0 && (digits.len() - k).is_multiple_of(3) {
            text.push(' ');
        }
        text.push(digit);
    }
    text
}

impl Shown<'_> {
    fn life_line(&self, place: &Lasting) -> LifeLine {
        let stress = |mpa: f64| self.show(mpa, Quantity::Stress);
        let factor = &place.factor;
        LifeLine {
            subject: factor.name.clone(),
            check: factor.formula.check.to_owned(),
            place: place_text(self.tool, factor, self.units),
            spot: spot_text(self.tool, factor, self.units),
            most: stress(place.factor.value),
            least: stress(place.least),
            endurance: stress(place.endurance),
            steady: stress(place.steady),
            kt: place.notch.map(|[kt, _]| kt),
            kf: place.notch.map(|[_, kf]| kf),
            factor: place.margin,
            strokes: place.strokes,
            lasts: place.margin >= 1.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::strokes_text;

    #[test]
    fn strokes_read_like_counts() {
        for (strokes, text) in [
            (46_321.0, "46 000"),
            (1000.0, "1 000"),
            (999_999.0, "990 000"),
            (1234567.0, "1 200 000"),
            (7.0, "7"),
            (200_000.0, "200 000"),
        ] {
            assert_eq!(strokes_text(strokes), text);
        }
    }
}
