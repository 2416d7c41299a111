//! Where plates of one layer touch: a ring, and the area that both claim.

use super::ink::{Fill, Line};
use super::tool::{Plate, name};
use crate::report::DrawnPosition;

/// Radius of the ring round a touch, mm of paper.
const RING: f64 = 3.0;
const CLASH: Line = Line {
    colour: "#b3261e",
    width: 0.5,
    dash: "",
};

impl Plate {
    /// All touches of a position, over what is drawn already.
    pub(super) fn touches(&mut self, position: &DrawnPosition) {
        for touch in &position.touches {
            let borders: Vec<_> = touch
                .borders
                .iter()
                .map(|border| self.border(border))
                .collect();
            if !borders.is_empty() {
                self.ink.region(&borders, Fill::Colour("#f3c4c0"), None);
                self.ink.region(&borders, Fill::Hatch, Some(CLASH));
            }
            let at = self.at(touch.at);
            self.ink.circle(at, RING, "none", CLASH, None);
            let [a, b] = touch.parts.each_ref().map(|part| name(part));
            let what = if borders.is_empty() {
                "touch"
            } else {
                "overlap"
            };
            self.label(format!("{a} and {b} {what}"), at, RING + 1.0, None);
        }
    }
}
