//! `[room]`: what is asked of the room between plates.

use super::fields::{Entry, Fields, Reader};
use super::keys;
use super::size::Sign;
use crate::model::{Reach, Room};
use crate::units::Quantity;

impl Reader<'_> {
    /// `[room]`; what is left out is as [`Room::default`] has it.
    pub(super) fn room(&mut self, entry: &Entry<'_>) -> Room {
        let Some(fields) = self.known_table(entry, "[room]", &keys::ROOM) else {
            return Room::default();
        };
        let length = |reader: &mut Self, fields: &Fields<'_>, key, sign| {
            let value = fields.get(key)?;
            reader.quantity(value, Quantity::Length, sign)
        };
        let reach = fields.get("reach");
        let reach = reach.and_then(|value| self.word(value, "reach", &["hand", "all"]));
        Room {
            finger: length(self, &fields, "finger", Sign::Positive),
            apart: length(self, &fields, "apart", Sign::NotNegative),
            reach: match reach {
                Some("all") => Reach::All,
                _ => Reach::Hand,
            },
        }
    }
}
