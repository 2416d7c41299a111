//! What the setter turns: eccentric pins, screws, shims.

use super::dimension::DimensionSlot;
use super::{PointRef, Tool};
use crate::units::Quantity;

/// Something that is set once and then left.
#[derive(Debug, Clone, PartialEq)]
pub struct Adjuster {
    /// Unique name.
    pub name: String,
    /// What it moves.
    pub moves: Adjusts,
    /// Least setting: rad of an eccentric pin; of a dimension what is added to it, mm.
    pub from: f64,
    /// Greatest setting.
    pub to: f64,
    /// The setting that the tool has.
    pub now: f64,
    /// How many notches there are from `from` to `to`, both counted; `None`: it is set anywhere between.
    pub notches: Option<usize>,
}

/// What an adjuster moves.
#[derive(Debug, Clone, PartialEq)]
pub enum Adjusts {
    /// A pin that stands off the centre of its hole: the setting is its direction from there in the axes of
    /// the part that has the hole.
    Eccentric {
        /// The pin in that part.
        pin: PointRef,
        /// How far it stands off, mm.
        throw: f64,
    },
    /// A number of the tool.
    Number {
        /// Its address.
        dimension: String,
        /// The same without text.
        slot: DimensionSlot,
        /// What a turn of the screw adds, mm.
        pitch: Option<f64>,
    },
}

/// Why an adjuster cannot have a setting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoSetting {
    /// It is outside of the range.
    Beyond,
    /// It is between two notches, of which this is the nearest.
    Between(f64),
}

/// Settings looked at where there are no notches.
const LOOKS: usize = 9;

impl Adjuster {
    /// What its settings are: angles of an eccentric pin, else lengths.
    #[must_use]
    pub fn quantity(&self) -> Quantity {
        match self.moves {
            Adjusts::Eccentric { .. } => Quantity::Angle,
            Adjusts::Number { .. } => Quantity::Length,
        }
    }

    /// The numbers of a tool that it moves.
    #[must_use]
    pub fn moved(&self) -> Vec<DimensionSlot> {
        match &self.moves {
            Adjusts::Eccentric { pin, .. } => {
                vec![DimensionSlot::X(*pin), DimensionSlot::Y(*pin)]
            }
            Adjusts::Number { slot, .. } => vec![*slot],
        }
    }

    /// What is wrong with a setting, if it cannot have it.
    #[must_use]
    pub fn cannot(&self, setting: f64) -> Option<NoSetting> {
        let near = 1e-6 * (self.to - self.from);
        if !(self.from - near..=self.to + near).contains(&setting) {
            return Some(NoSetting::Beyond);
        }
        let apart = |notch: &f64| (notch - setting).abs();
        let all = self.notches.map(|_| self.settings())?;
        let next = all
            .into_iter()
            .min_by(|a, b| apart(a).total_cmp(&apart(b)))?;
        (apart(&next) > near).then_some(NoSetting::Between(next))
    }

    /// Its notches; evenly spaced settings where it has none.
    #[must_use]
    pub fn settings(&self) -> Vec<f64> {
        let last = self.notches.unwrap_or(LOOKS).max(2) - 1;
        let at = |k: usize| self.from + (self.to - self.from) * k as f64 / last as f64;
        (0..=last).map(at).collect()
    }
}

impl Tool {
    /// Sets an adjuster: an eccentric pin stands at the centre of its hole + throw (cos, sin), a dimension is
    /// what it was without the adjuster + the setting. What is tied follows.
    pub fn adjust(&mut self, adjuster: usize, to: f64) {
        let Some(this) = self.adjusters.get(adjuster) else {
            return;
        };
        let from = this.now;
        let moved: Vec<(DimensionSlot, f64)> = match &this.moves {
            Adjusts::Eccentric { pin, throw } => vec![
                (DimensionSlot::X(*pin), throw * (to.cos() - from.cos())),
                (DimensionSlot::Y(*pin), throw * (to.sin() - from.sin())),
            ],
            Adjusts::Number { slot, .. } => vec![(*slot, to - from)],
        };
        let moved: Vec<(DimensionSlot, f64)> = (moved.into_iter())
            .filter_map(|(slot, by)| Some((slot, slot.get(self)? + by)))
            .collect();
        self.set_numbers(moved);
        if let Some(this) = self.adjusters.get_mut(adjuster) {
            this.now = to;
        }
    }
}
