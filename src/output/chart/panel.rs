//! One pair of axes with its lines.

use super::line::Line;
use super::range::Range;
use super::ticks::Ticks;

/// What the axis of a panel measures: panels of one quantity can share an axis, others cannot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::output) enum Shows {
    /// Force of a jaw.
    JawForce,
    /// Force of the hand.
    HandForce,
    /// Force of the hand in per cent of its limit.
    ShareOfLimit,
    /// Gap of a jaw.
    Gap,
    /// Jaw force per hand force.
    Ratio,
    /// Share of people that is able.
    ShareAble,
}

impl Shows {
    /// Force of the hand, whatever it is measured in.
    pub(in crate::output) fn hand(self) -> bool {
        matches!(self, Self::HandForce | Self::ShareOfLimit)
    }
}

/// A place where the work stops the tool.
pub(in crate::output) struct Stall {
    pub(in crate::output) at: (f64, f64),
    pub(in crate::output) colour: &'static str,
}

/// What was measured on the bench.
pub(in crate::output) struct Measured {
    pub(in crate::output) at: (f64, f64),
    pub(in crate::output) colour: &'static str,
}

/// A bound that the tool file demands of a force.
pub(in crate::output) struct DemandMark {
    pub(in crate::output) at: (f64, f64),
    pub(in crate::output) colour: &'static str,
    /// The greatest value that is allowed; else the least.
    pub(in crate::output) lid: bool,
    pub(in crate::output) met: bool,
}

/// One pair of axes.
pub(in crate::output) struct Panel {
    pub(in crate::output) title: String,
    pub(in crate::output) lines: Vec<Line>,
    pub(in crate::output) stalls: Vec<Stall>,
    pub(in crate::output) measured: Vec<Measured>,
    pub(in crate::output) demands: Vec<DemandMark>,
    pub(in crate::output) low: f64,
    pub(in crate::output) high: f64,
    pub(in crate::output) ticks: Ticks,
    /// Least and greatest value, where the axis does not show them.
    pub(in crate::output) cut: Option<(f64, f64)>,
    pub(in crate::output) shows: Shows,
    pub(in crate::output) unit: &'static str,
}

impl Panel {
    /// A panel whose axis shows at least `must_show` of this quantity, in this unit.
    pub(in crate::output) fn new(
        title: String,
        (shows, unit): (Shows, &'static str),
        lines: Vec<Line>,
        must_show: f64,
    ) -> Self {
        let range = Range::of(&lines, must_show);
        Self::over(title, (shows, unit), lines, range)
    }

    /// A panel whose axis shows what the lines reach and no more: small changes of a value far from zero.
    pub(in crate::output) fn near(
        title: String,
        shows: (Shows, &'static str),
        lines: Vec<Line>,
    ) -> Self {
        let range = Range::near(&lines);
        Self::over(title, shows, lines, range)
    }

    fn over(
        title: String,
        (shows, unit): (Shows, &'static str),
        lines: Vec<Line>,
        range: Range,
    ) -> Self {
        let rough = Ticks::over(range.low, range.high, 5);
        let out_to = |value: f64, round: fn(f64) -> f64| rough.step * round(value / rough.step);
        let low = out_to(range.low + 1e-6 * rough.step, f64::floor);
        let high = out_to(range.high - 1e-6 * rough.step, f64::ceil);
        Self {
            title,
            ticks: Ticks::over(low, high, 5),
            stalls: Vec::new(),
            measured: Vec::new(),
            demands: Vec::new(),
            lines,
            low,
            high,
            cut: range.cut,
            shows,
            unit,
        }
    }
}
