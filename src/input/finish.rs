//! What a `[work]` says of the finished piece: how it springs back, and which height is wanted.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Fields, Reader};
use super::size::Sign;
use crate::model::{Back, Bound, Demand, Finish, Jaw, JawId, Measure};
use crate::units::Quantity;

impl Reader<'_> {
    /// `None` where nothing is said of it.
    pub(super) fn finish(&mut self, fields: &Fields<'_>) -> Option<Finish> {
        let mut size = |key: &str, quantity, sign| {
            let value = fields.get(key)?;
            self.quantity(value, quantity, sign)
        };
        let by = size("return", Quantity::Length, Sign::NotNegative);
        let stiff = size("stiffness", Quantity::Rate, Sign::Positive);
        let wanted = size("wanted", Quantity::Length, Sign::Positive);
        let within = size("within", Quantity::Length, Sign::Positive);
        let has = |key: &str| fields.get(key).is_some();
        if has("return") && has("stiffness") {
            let message = "the work springs back by a length (`return`) or as a spring (`stiffness`), not both";
            let at = fields.span_of("stiffness");
            self.report(
                Diagnostic::error(code::TOGETHER, at, message)
                    .help("keep the one that was measured"),
            );
        }
        if has("within") && !has("wanted") {
            let message = "`within` is what the height `wanted` may be off by, and none is wanted";
            let at = fields.span_of("within");
            self.report(
                Diagnostic::error(code::TOGETHER, at, message)
                    .help("add `wanted`, the height of the finished piece"),
            );
        }
        if !["return", "stiffness", "wanted"].into_iter().any(has) {
            return None;
        }
        let back = stiff.map_or(Back::By(by.unwrap_or(0.0)), Back::Stiff);
        Some(Finish {
            back,
            wanted,
            within,
        })
    }
}

/// The demands that heights wanted within something are, of jaws for which the file demands no height itself.
pub(super) fn heights(jaws: &[Jaw], demands: &[Demand]) -> Vec<Demand> {
    let wanted = JawId::each(jaws).filter_map(|(jaw, of)| {
        let [min, max] = of.work.as_ref()?.finish?.limits()?;
        let own = |demand: &Demand| demand.measure == Measure::Height && demand.jaw == jaw;
        (!demands.iter().any(own)).then_some(Demand {
            measure: Measure::Height,
            jaw,
            at: None,
            grip: None,
            bound: Bound {
                min: Some(min),
                max: Some(max),
            },
        })
    });
    wanted.collect()
}
