//! `[room]`, `[stock]` and `[bench]`: what is asked of the room between plates, what they are cut from, and where
//! a tool on a bench stands.

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader};
use super::keys;
use super::size::Sign;
use crate::model::{Bench, Hand, Palm, Reach, Room, Stock};
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

    /// `[stock]`.
    pub(super) fn stock(&mut self, entry: &Entry<'_>) -> Stock {
        let Some(fields) = self.known_table(entry, "[stock]", &keys::STOCK) else {
            return Stock::default();
        };
        let margin = fields.get("margin");
        let margin =
            margin.and_then(|value| self.quantity(value, Quantity::Length, Sign::NotNegative));
        let sheets = fields.get("thickness");
        let sheets = sheets.and_then(|value| self.list(value, "`thickness` is a list of lengths"));
        let each = sheets.unwrap_or_default().iter();
        let thicknesses =
            each.filter_map(|value| self.quantity(value, Quantity::Length, Sign::Positive));
        Stock {
            margin,
            thicknesses: thicknesses.collect(),
        }
    }

    /// `[bench]`, for a tool that no palm holds.
    pub(super) fn bench(
        &mut self,
        entry: &Entry<'_>,
        draft: &Draft,
        hand: Option<&Hand>,
    ) -> Option<Bench> {
        let fields = self.known_table(entry, "[bench]", &keys::BENCH)?;
        if hand.is_some_and(|hand| hand.palm != Palm::Bench) {
            let message = "a tool that a hand holds does not stand on a bench";
            self.report(
                Diagnostic::error(code::TOGETHER, entry.key_span.clone(), message)
                    .help("write palm = false in [hand], or take [bench] out"),
            );
        }
        let at = self.need(&fields, "at");
        let at = at.and_then(|value| self.place(draft, draft.fixed?, value));
        let up = fields.get("up");
        let up = up.map(|value| self.quantity(value, Quantity::Angle, Sign::Any));
        Some(Bench {
            at: at?,
            up: up.unwrap_or(Some(Bench::UP))?,
        })
    }
}
