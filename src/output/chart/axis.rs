//! The axis across the stroke: the way the hand goes, open on the left, shut on the right.

use super::ticks::Ticks;
use crate::report::{HandPeakReport, PositionReport, StrokeReport, Turning};

/// Where every position of the stroke stands on the axis.
pub(in crate::output) struct StrokeAxis {
    /// One value for each position, never falling.
    pub(in crate::output) values: Vec<f64>,
    /// The value of the shut position, above zero.
    pub(in crate::output) end: f64,
    /// Handle travel in degrees; else the share of the stroke in per cent.
    pub(in crate::output) by_travel: bool,
}

impl StrokeAxis {
    /// Handle travel, or the share of the stroke where the handle does not turn.
    pub(in crate::output) fn of(report: &StrokeReport) -> Self {
        let travel: Vec<f64> = report.positions.iter().map(|p| p.travel).collect();
        let end = travel.last().copied().unwrap_or_default();
        let rising = travel
            .windows(2)
            .all(|pair| matches!(pair, [a, b] if a <= b));
        if end > 1e-9 && rising && travel.first() == Some(&0.0) {
            return Self {
                values: travel,
                end,
                by_travel: true,
            };
        }
        let last = travel.len().saturating_sub(1).max(1) as f64;
        Self {
            values: (0..travel.len()).map(|i| 100.0 * i as f64 / last).collect(),
            end: 100.0,
            by_travel: false,
        }
    }

    /// What the axis shows, with its unit.
    pub(in crate::output) fn name(&self) -> &'static str {
        if self.by_travel {
            "travel, deg"
        } else {
            "stroke, %"
        }
    }

    /// Marks at 1-2-5 steps, on an axis of `room` pixels, and one at the very end, which is the place that matters
    /// most.
    pub(in crate::output) fn ticks(&self, room: f64) -> (Ticks, Vec<f64>) {
        let ticks = Ticks::over(0.0, self.end, (room / 70.0).max(1.0) as usize);
        let mut at = ticks.at.clone();
        at.retain(|value| self.end - value > 1e-9 * self.end);
        at.push(self.end);
        (ticks, at)
    }

    /// The gap of a jaw at a place on the axis, between positions on the straight line.
    pub(in crate::output) fn gap_at(
        &self,
        report: &StrokeReport,
        jaw: &str,
        place: f64,
    ) -> Option<f64> {
        let after = self
            .values
            .iter()
            .position(|v| *v >= place - 1e-9 * self.end)?;
        let gap = |index: usize| report.gap(index, jaw);
        let before = after.saturating_sub(1);
        let (from, to) = (self.values.get(before)?, self.values.get(after)?);
        let share = if to > from {
            (place - from) / (to - from)
        } else {
            1.0
        };
        Some(gap(before)? + share * (gap(after)? - gap(before)?))
    }

    /// Where the first jaw comes to this gap first, from open.
    pub(in crate::output) fn place_of_gap(
        &self,
        report: &StrokeReport,
        jaw: &str,
        gap: f64,
    ) -> Option<f64> {
        let of = |p: &PositionReport| p.gap(jaw).map(|here| here - gap);
        self.first_zero(report, of)
    }

    /// Where the hand force is greatest.
    pub(in crate::output) fn place_of_peak(
        &self,
        report: &StrokeReport,
        jaw: &str,
        peak: &HandPeakReport,
    ) -> Option<f64> {
        match self.by_travel {
            true => Some(peak.travel),
            false => self.place_of_gap(report, jaw, peak.gap),
        }
    }

    /// Where something stands still. A handle may pass the same angle twice, so of all places with
    /// the right angle the one with the nearest gap is meant.
    pub(in crate::output) fn place_of(
        &self,
        report: &StrokeReport,
        turning: &Turning,
    ) -> Option<f64> {
        let mut best: Option<(f64, f64)> = None;
        let mut offer = |place: f64| {
            let Some(gap) = self.gap_at(report, &turning.jaw, place) else {
                return;
            };
            let off = (gap - turning.gap).abs();
            if best.is_none_or(|(least, _)| off < least) {
                best = Some((off, place));
            }
        };
        let pairs = report.positions.windows(2).zip(self.values.windows(2));
        for (positions, values) in pairs {
            let ([a, b], [from, to]) = (positions, values) else {
                continue;
            };
            let (low, high) = (a.handle.min(b.handle) - 1e-6, a.handle.max(b.handle) + 1e-6);
            if !(low..=high).contains(&turning.handle) {
                continue;
            }
            let turn = b.handle - a.handle;
            if turn.abs() > 1e-9 {
                let share = ((turning.handle - a.handle) / turn).clamp(0.0, 1.0);
                offer(from + share * (to - from));
            } else {
                offer(*from);
                offer(*to);
            }
        }
        best.map(|(_, place)| place)
    }

    /// The first place where a value of the positions passes through zero.
    fn first_zero(
        &self,
        report: &StrokeReport,
        value: impl Fn(&PositionReport) -> Option<f64>,
    ) -> Option<f64> {
        let mut last: Option<(f64, f64)> = None;
        for (position, place) in report.positions.iter().zip(&self.values) {
            let here = value(position)?;
            if here == 0.0 {
                return Some(*place);
            }
            if let Some((before, from)) = last
                && (before < 0.0) != (here < 0.0)
            {
                return Some(from + before / (before - here) * (place - from));
            }
            last = Some((here, *place));
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::samples::Sample;

    #[test]
    fn places_are_found_by_gap_and_by_turning() {
        let report = Sample::knee().through_toggle().steps(36).build();
        let axis = StrokeAxis::of(&report);
        assert!(axis.by_travel);
        let place = axis.place_of(&report, &report.toggles[0]).unwrap();
        assert!((place - 30.0).abs() < 1e-9, "{place}");
        let gap = axis.gap_at(&report, "nose", 12.5).unwrap();
        let back = axis.place_of_gap(&report, "nose", gap).unwrap();
        assert!((back - 12.5).abs() < 1e-9, "{back}");
        assert_eq!(axis.place_of_gap(&report, "nose", 99.0), None);
    }

    #[test]
    fn a_handle_that_does_not_turn_gets_shares_of_the_stroke() {
        let mut report = Sample::knee().steps(4).build();
        for position in &mut report.positions {
            position.travel = 0.0;
            position.handle = 12.0;
        }
        let axis = StrokeAxis::of(&report);
        assert_eq!(axis.values, [0.0, 25.0, 50.0, 75.0, 100.0]);
        assert_eq!(axis.name(), "stroke, %");
        let turning = Turning {
            handle: 12.0,
            gap: report.positions[2].jaws["nose"].gap,
            jaw: "nose".to_owned(),
        };
        assert_eq!(axis.place_of(&report, &turning), Some(50.0));
    }

    #[test]
    fn the_end_of_the_stroke_has_its_mark() {
        let report = Sample::knee().build();
        let (_, at) = StrokeAxis::of(&report).ticks(600.0);
        assert_eq!(at, [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 29.0]);
    }
}
