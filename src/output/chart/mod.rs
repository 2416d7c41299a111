//! Charts for a design review: force curves across the stroke, variants over the gap, tolerances.
//!
//! `line` and `panel` are what is shown, `data` takes it from the report, `layout` is where things
//! stand on the page, `draw` and `page` draw them.

mod axis;
mod compare;
mod corners;
mod cursor;
mod curves;
mod data;
mod demands;
mod draw;
mod gaps;
mod layout;
mod line;
mod made;
mod page;
mod palette;
mod panel;
mod people;
mod plain;
mod polyline;
mod range;
mod setup;
mod stroke_axis;
mod ticks;
mod tolerance;
mod trial;
mod turnings;
mod variants;
mod words;

#[cfg(test)]
mod tests;

pub use compare::{ToolStrokes, compare_picture};
pub use curves::{ChartOptions, Form, Shared, force_curves};
pub use people::people_chart;
pub use setup::setup_chart;
pub use tolerance::{tolerance_chart, tolerance_panel};
pub use trial::trial_chart;
pub(super) use trial::trial_panels;
pub use variants::{MOST_CURVES, VariantStroke};

pub(super) use axis::StrokeAxis;
pub(super) use cursor::{CursorChart, cursor_chart};
pub(super) use curves::force_chart;
pub(super) use data::panels;
pub(super) use line::{Kind, Line, value_at};
pub(super) use panel::Panel;
pub(super) use setup::{held as adjuster_held, setup_panels};
pub(super) use words::cut_note;
