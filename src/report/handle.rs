//! The handles against the hands that hold them.

use super::show::number;
use crate::limits::{
    BREADTH_SOURCE, HANDLE_SOURCE, LEAST_LENGTH, SECTION_RATIO, SPANS_SOURCE, fingers, group,
    taken, widest,
};
use crate::model::{HandLine, HandleSize, Tool};
use crate::numeric::Curve;
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A handle, and the widest hand in its glove.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HandleReport {
    /// Its length, back from the outer end of the hand line.
    pub length: f64,
    /// Section across and along the squeeze; null where not stated.
    pub section: Option<[f64; 2]>,
    /// Thickness of the glove's material.
    pub glove: f64,
    /// Whose breadth is taken.
    pub who: &'static str,
    /// Breadth of the hand, 95th percentile.
    pub breadth: f64,
    /// What it takes of the handle, with the glove.
    pub taken: f64,
    /// The length that is recommended in any case.
    pub least: f64,
    /// It is long enough for both.
    pub long_enough: bool,
    /// Where that hand lies at each grip.
    pub grips: Vec<HandleGrip>,
    /// What is wrong, in sentences.
    pub findings: Vec<String>,
    /// Where the figures are from.
    pub sources: [&'static str; 3],
}

/// A hand at a grip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HandleGrip {
    /// Distance along the hand line.
    pub grip: f64,
    /// From and to, along the hand line.
    pub hand: [f64; 2],
    /// The outer end of the handle lies in the palm.
    pub end_in_palm: bool,
    /// The hand reaches beyond the inner end of the handle.
    pub beyond_inner_end: bool,
}

/// Of the tool's handle, if its size is stated.
pub(super) fn handle_report(tool: &Tool, units: UnitSystem) -> Option<HandleReport> {
    let size = tool.hand.size?;
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let groups = (tool.operators.iter().map(|of| of.group.as_str()))
        .chain(tool.job.iter().filter_map(|job| job.population.as_deref()));
    let (who, breadth) = widest(groups.filter_map(group));
    let hand = taken(breadth, tool.hand.glove);
    let line = line_length(tool, &tool.hand.handle)?;
    let inner = line - size.length;
    let grips: Vec<HandleGrip> = (tool.hand.grips.iter())
        .map(|&grip| {
            let [from, to] = fingers(grip, hand);
            HandleGrip {
                grip: length(grip),
                hand: [from, to].map(length),
                end_in_palm: to > line,
                beyond_inner_end: from < inner,
            }
        })
        .collect();
    let least = hand.max(LEAST_LENGTH);
    let long_enough = size.length >= least;
    let findings = findings(&size, long_enough, least, &grips, units);
    Some(HandleReport {
        length: length(size.length),
        section: (size.width.zip(size.depth)).map(|(w, d)| [length(w), length(d)]),
        glove: length(tool.hand.glove),
        who,
        breadth: length(breadth),
        taken: length(hand),
        least: length(least),
        long_enough,
        grips,
        findings,
        sources: [BREADTH_SOURCE, HANDLE_SOURCE, SPANS_SOURCE],
    })
}

fn findings(
    size: &HandleSize,
    long_enough: bool,
    least: f64,
    grips: &[HandleGrip],
    units: UnitSystem,
) -> Vec<String> {
    let unit = units.symbol(Quantity::Length);
    let shown = |mm: f64| number(units.show(mm, Quantity::Length));
    let mut out = Vec::new();
    if !long_enough {
        out.push(format!(
            "the handle is {} {unit} long, and should be {} {unit} or more for the widest hand in its glove",
            shown(size.length),
            shown(least)
        ));
    }
    let named = |those: &dyn Fn(&HandleGrip) -> bool| {
        let grips = grips
            .iter()
            .filter(|at| those(at))
            .map(|at| number(at.grip));
        let grips: Vec<String> = grips.collect();
        (!grips.is_empty()).then(|| grips.join(", "))
    };
    if let Some(grips) = named(&|at| at.end_in_palm) {
        out.push(format!(
            "held at {grips} {unit} the end of the handle presses into the widest palm: make the handle longer beyond \
             it, or hold it farther in"
        ));
    }
    if let Some(grips) = named(&|at| at.beyond_inner_end) {
        out.push(format!(
            "held at {grips} {unit} the widest hand reaches beyond the inner end of the handle"
        ));
    }
    if let Some((width, depth)) = size.width.zip(size.depth) {
        let ratio = width.max(depth) / width.min(depth);
        if (ratio - SECTION_RATIO).abs() > NEAR_RATIO {
            out.push(format!(
                "the section of the handle is 1 to {}; 1 to {SECTION_RATIO} is recommended",
                number(ratio)
            ));
        }
    }
    out
}

/// A section so near to the recommended one is as good (common practice, no source).
const NEAR_RATIO: f64 = 0.15;

/// Length of a hand line, mm.
fn line_length(tool: &Tool, line: &HandLine) -> Option<f64> {
    let part = tool.part(line.part)?;
    let points: Option<Vec<_>> = line.points.iter().map(|&at| part.place(at)).collect();
    Some(Curve::through(&points?, line.smooth)?.length())
}
