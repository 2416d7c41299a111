//! Springs of stock wire for the places of a tool's springs: the answer of `springs`.

use super::show::{Shown, Source};
use super::stroke::UnitNames;
use super::wound::{WoundReport, wound_report};
use crate::model::{Made, Spring, SpringEnds, Tool};
use crate::strength::{SpringFound, SpringTravel, WireChoice, WireChoices};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// What `springs` answers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpringsReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub sha256: String,
    /// Units of every number below.
    pub units: UnitNames,
    /// Every spring of the tool.
    pub springs: Vec<SpringChoices>,
    /// What the proposals are taken from, and leave out.
    pub notes: Vec<String>,
}

/// A place of a spring, and what can be bought for it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpringChoices {
    /// Its number in the file, from 1.
    pub spring: usize,
    /// Its name; null without one.
    pub name: Option<String>,
    /// Force per length, or torque per angle about a pin.
    pub rate: f64,
    /// Its unit.
    pub rate_unit: &'static str,
    /// Where it is slack: its free length, or about a pin the angle.
    pub free: f64,
    /// Its range on the stroke.
    pub range: [f64; 2],
    /// Unit of both.
    pub range_unit: &'static str,
    /// Force, or moment about a pin, at both ends of that range; below zero where it pushes.
    pub pull: [f64; 2],
    /// Unit of that.
    pub pull_unit: &'static str,
    /// What the file has, where it is of wire.
    pub bought: Option<WoundReport>,
    /// What can be bought, thin wire first.
    pub choices: Vec<WoundReport>,
    /// Springs that were tried and fail by stress, between the coils, by buckling, in guide or on mandrel.
    pub failed: [usize; 4],
    /// Why nothing is proposed; null where something is.
    pub none: Option<String>,
}

/// One spring with what was found for it.
pub type Sought<'a> = (&'a SpringTravel, Option<SpringFound>, Option<WireChoices>);

/// The springs that can be bought, in these units.
#[must_use]
pub fn springs_report(
    tool: &Tool,
    sought: &[Sought],
    source: &Source,
    units: UnitSystem,
) -> SpringsReport {
    let shown = Shown { tool, units };
    let all = tool.springs.iter().zip(sought).enumerate();
    SpringsReport {
        format: 1,
        tool: tool.name.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        units: UnitNames::of(units),
        springs: all.map(|(k, (spring, sought))| shown.choices(k, spring, sought)).collect(),
        notes: vec![
            "Diameters are those that wire is commonly listed in; what is in stock is for the maker to say.".to_owned(),
            "A mean diameter of 4 to 12 wires, the narrowest that does it where none is asked for; 15 % of the travel left \
             between the coils at the shortest length; no stress above its limit, with the least tensile strength of the \
             standard. Wire thicker than a factor of 3 takes is left out."
.to_owned(),
        ],
    }
}

impl Shown<'_> {
    fn choices(
        &self,
        k: usize,
        spring: &Spring,
        (travel, bought, tried): &Sought,
    ) -> SpringChoices {
        let [rate, at, pull] = match spring.ends {
            SpringEnds::Pin { .. } => [Quantity::TurnRate, Quantity::Angle, Quantity::Torque],
            SpringEnds::Points(..) => [Quantity::Rate, Quantity::Length, Quantity::Force],
        };
        let ends = [travel.low, travel.high].map(|end| end.state);
        let mut good = Vec::new();
        for WireChoice { wound, found } in tried.iter().flat_map(|tried| &tried.good) {
            let mut tool = self.tool.clone();
            if let Some(spring) = tool.springs.get_mut(k) {
                spring.made = Made::Wound(*wound);
            }
            good.extend(wound_report(&tool, &[(k, found.clone())], self.units));
        }
        let bought = bought.clone().map(|found| [(k, found)]);
        let bought = bought.map(|found| wound_report(self.tool, &found, self.units));
        let none = match tried {
            None => Some("it pulls at one end of the stroke and pushes at the other".to_owned()),
            Some(tried) if tried.good.is_empty() => {
                Some(why_none(spring, ends[0].pull > 0.0, tried))
            }
            Some(_) => None,
        };
        SpringChoices {
            spring: k + 1,
            name: spring.name.clone(),
            rate: self.show(spring.rate(), rate),
            rate_unit: self.units.symbol(rate),
            free: self.show(travel.low.state.free, at),
            range: ends.map(|end| self.show(end.at, at)),
            range_unit: self.units.symbol(at),
            pull: ends.map(|end| self.show(end.pull, pull)),
            pull_unit: self.units.symbol(pull),
            bought: bought.and_then(|all| all.into_iter().next()),
            choices: good,
            failed: tried.as_ref().map_or([0; 4], |tried| tried.failed),
            none,
        }
    }
}

fn why_none(spring: &Spring, pulls: bool, tried: &WireChoices) -> String {
    let tries: usize = tried.failed.iter().sum();
    if tries == 0 {
        return "no wire of the list gives this rate with 4 to 12 wires of mean diameter and a usual number of turns"
            .to_owned();
    }
    let (last, pulls) = match spring.ends {
        SpringEnds::Pin { .. } => ("on its mandrel", false),
        SpringEnds::Points(..) => ("in its guide", pulls),
    };
    let whys = ["overstressed", "too short for its coils", "buckling", last];
    let counts = whys
        .iter()
        .zip(tried.failed)
        .filter(|(_, count)| *count > 0);
    let counts: Vec<String> = counts
        .map(|(why, count)| format!("{count} {why}"))
        .collect();
    let hint = match pulls && tried.failed[1] > 0 {
        true => {
            "; with initial tension, which is left out here, a spring that pulls can be shorter"
        }
        false => "",
    };
    format!(
        "of {tries} that give this rate: {}{hint}",
        counts.join(", ")
    )
}
