//! A change of one dimension that would mend a tool.

use crate::motion::Change;
use crate::units::{UnitSystem, trimmed};

impl Change {
    /// `strut.length longer by about 0.6 mm (24.6)`.
    #[must_use]
    pub fn text(&self, units: UnitSystem) -> String {
        let quantity = self.dimension.slot.quantity();
        let show = |v: f64| trimmed(units.shown(v, quantity), 4);
        let way = match (self.dimension.slot.is_distance(), self.by > 0.0) {
            (true, true) => "longer",
            (true, false) => "shorter",
            (false, true) => "greater",
            (false, false) => "less",
        };
        format!(
            "{} {way} by about {} {} ({})",
            self.dimension.address,
            show(self.by.abs()),
            units.unit(quantity),
            show(self.dimension.value + self.by)
        )
    }
}
