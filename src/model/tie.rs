//! Numbers that follow others: `right.pin.x = -left.pin.x`.

use super::Tool;
use super::dimension::DimensionSlot;

/// A number that is a sum of multiples of others, none of which is tied itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Tie {
    /// Its address.
    pub address: String,
    /// What it is tied to, as it is written.
    pub text: String,
    /// The number that follows.
    pub slot: DimensionSlot,
    /// What is added, internal unit.
    pub offset: f64,
    /// The numbers that it follows, each with its factor.
    pub terms: Vec<(DimensionSlot, f64)>,
}

impl Tie {
    /// Its value, internal unit; `None` where a number that it follows has none.
    #[must_use]
    pub fn value(&self, tool: &Tool) -> Option<f64> {
        let terms = self.terms.iter();
        let mut values = terms.map(|(slot, factor)| Some(factor * slot.get(tool)?));
        values.try_fold(self.offset, |sum, value| Some(sum + value?))
    }
}

impl Tool {
    /// Sets numbers, internal unit, and brings every tied one to what it follows.
    pub fn set_numbers(&mut self, numbers: impl IntoIterator<Item = (DimensionSlot, f64)>) {
        for (slot, value) in numbers {
            slot.set(self, value);
        }
        self.follow_ties();
    }

    /// Brings every tied number to what it follows; after numbers have been set.
    pub fn follow_ties(&mut self) {
        for k in 0..self.ties.len() {
            let found = self
                .ties
                .get(k)
                .and_then(|tie| Some((tie.slot, tie.value(self)?)));
            if let Some((slot, value)) = found {
                slot.set(self, value);
            }
        }
    }

    /// The tie of a number, if it follows others.
    #[must_use]
    pub fn tie(&self, slot: DimensionSlot) -> Option<&Tie> {
        self.ties.iter().find(|tie| tie.slot == slot)
    }
}
