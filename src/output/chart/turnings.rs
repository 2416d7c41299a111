//! The marks of toggles and dead positions, and where their labels find room.

use super::axis::StrokeAxis;
use super::layout::SMALL;
use crate::output::svg::labels::text_width;
use crate::output::text::{clean, length};
use crate::report::StrokeReport;

/// A vertical mark where a jaw or the handle stands still.
pub(super) struct TurningMark {
    /// On the axis across the stroke.
    pub(super) place: f64,
    pub(super) label: String,
    /// Centre of the label, pixels.
    pub(super) x: f64,
    /// Row of the label above the plot, from 0.
    pub(super) row: usize,
}

/// Most rows of turning labels; what finds no room in them keeps its line and loses its label.
const TURNING_ROWS: usize = 3;

/// The marks of toggles and dead positions, their labels in rows so that none lies on another.
pub(super) fn turnings(
    report: &StrokeReport,
    axis: &StrokeAxis,
    left: f64,
    right: f64,
) -> Vec<TurningMark> {
    let named = report.jaws.len() > 1;
    let mut found: Vec<(f64, String)> = Vec::new();
    for toggle in &report.toggles {
        let of = if named {
            format!(" of {}", clean(&toggle.jaw))
        } else {
            String::new()
        };
        let gap = length(toggle.gap, &report.units).replace('-', "\u{2212}");
        if let Some(place) = axis.place_of(report, toggle) {
            found.push((
                place,
                format!("toggle{of}, gap {gap} {}", report.units.length),
            ));
        }
    }
    for dead in &report.dead_positions {
        if let Some(place) = axis.place_of(report, dead) {
            found.push((place, "dead position of the handle".to_owned()));
        }
    }
    if let Some(meeting) = &report.dies_meet
        && let Some(place) = axis.values.get(meeting.position)
    {
        let of = if named {
            format!(" of {}", clean(meeting.name()))
        } else {
            String::new()
        };
        found.push((*place, format!("dies{of} meet")));
    }
    let last = report.positions.len().saturating_sub(1);
    for stop in report.stops.iter().filter(|stop| stop.met) {
        let position = match (stop.ends, &report.stop_met) {
            ("open", _) => 0,
            (_, Some(meeting)) => meeting.position,
            (_, None) => last,
        };
        if let Some(place) = axis.values.get(position) {
            found.push((*place, format!("stop {}", clean(&stop.name))));
        }
    }
    if let Some(ratchet) = &report.ratchet
        && let Some((first, last)) = ratchet.teeth.first().zip(ratchet.teeth.last())
    {
        for (tooth, word) in [(first, "first tooth"), (last, "ratchet lets go")] {
            let jaw = report.jaws.first().map_or("", String::as_str);
            let place = axis.place_of_gap(report, jaw, tooth.gap);
            found.extend(place.map(|place| (place, word.to_owned())));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut row_ends = [left; TURNING_ROWS];
    let mut out = Vec::new();
    for (place, label) in found {
        let half = text_width(&label, SMALL, false) / 2.0;
        let wanted = left + (right - left) * place / axis.end;
        let x = wanted.min(right + 12.0 - half).max(left + half);
        let free = row_ends.iter().position(|end| x - half >= *end);
        let label = if free.is_some() { label } else { String::new() };
        if let Some(end) = free.and_then(|row| row_ends.get_mut(row)) {
            *end = x + half + 10.0;
        }
        out.push(TurningMark {
            place,
            label,
            x,
            row: free.unwrap_or(0),
        });
    }
    out
}
