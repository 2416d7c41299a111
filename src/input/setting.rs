//! Settings that an adjuster cannot have.

use crate::model::{Adjuster, NoSetting};
use crate::units::{UnitSystem, trimmed};

/// What is wrong with a setting of an adjuster, and what to do.
#[must_use]
pub fn setting_problem(
    adjuster: &Adjuster,
    setting: f64,
    units: UnitSystem,
) -> Option<(String, String)> {
    let quantity = adjuster.quantity();
    let show = |v: f64| {
        let number = trimmed(units.show(v, quantity), 6);
        format!("{number} {}", units.symbol(quantity))
    };
    Some(match adjuster.cannot(setting)? {
        NoSetting::Beyond => (
            format!("{} is outside of its range", show(setting)),
            format!(
                "its range is {} to {}",
                trimmed(units.show(adjuster.from, quantity), 6),
                show(adjuster.to)
            ),
        ),
        NoSetting::Between(notch) => (
            format!("{} is between two notches", show(setting)),
            format!("the nearest notch is {}", show(notch)),
        ),
    })
}
