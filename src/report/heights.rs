//! How the work comes out: under load, after it sprang back, and how to set the jaws.

use crate::measure::Height;
use crate::model::{JawId, Tool};
use crate::statics::Absent;
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// How the work at a jaw comes out of a full stroke. Heights are distances of the jaws' faces.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HeightLine {
    /// The jaw; null where only one has work.
    pub jaw: Option<String>,
    /// Height after the jaws let go; null with the three below where it could not be told, or is not touched.
    pub height: Option<f64>,
    /// Height under load.
    pub loaded: Option<f64>,
    /// What the work springs back.
    pub back: Option<f64>,
    /// What the tool gives of the height under load; null where nothing of it is known to give.
    pub give: Option<f64>,
    /// Height that is wanted; null where that is not said.
    pub wanted: Option<f64>,
    /// What it may be off by, either way; null where that is not said.
    pub within: Option<f64>,
    /// Whether it comes out as wanted; null where it is not said what that is, or not told.
    pub good: Option<bool>,
    /// The jaw comes to the work.
    pub touched: bool,
    /// Gap at shut of the tool without load.
    pub gap: Option<f64>,
    /// That gap with which the work would come out as wanted.
    pub set: Option<f64>,
}

/// One line for each jaw.
pub(super) fn height_lines(
    tool: &Tool,
    heights: &[(JawId, Result<Height, Absent>)],
    units: UnitSystem,
) -> Vec<HeightLine> {
    let several = tool.working_jaws().len() > 1;
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let one = |(jaw, height): &(JawId, Result<Height, Absent>)| {
        let of = tool.jaw(*jaw)?;
        let finish = of.work.as_ref()?.finish?;
        let shut = height.ok();
        let height = shut.and_then(|height| height.of_touched().ok());
        let limits = finish.limits();
        let slack = 1e-9 * finish.wanted.unwrap_or(0.0);
        Some(HeightLine {
            jaw: several.then(|| of.name.clone()),
            height: height.map(|h| length(h.after)),
            loaded: height.map(|h| length(h.loaded)),
            back: height.map(|h| length(h.back)),
            give: height.and_then(|h| h.spread).map(length),
            wanted: finish.wanted.map(length),
            within: finish.within.map(length),
            good: (height.zip(limits))
                .map(|(h, [least, most])| (least - slack..=most + slack).contains(&h.after)),
            touched: shut.is_none_or(|shut| shut.touched),
            gap: shut.map(|h| length(h.gap)),
            set: shut.and_then(|h| h.set).map(length),
        })
    };
    heights.iter().filter_map(one).collect()
}
