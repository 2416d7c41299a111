//! The answer as text: one folder for each kind of text, each a pure function from the report to a string.
//!
//! Nothing here reads or writes files, prints, or knows any mechanics. What a format shows is
//! decided by the report alone, so the same report gives the same bytes on every machine. Texts for
//! a terminal carry its colours, which [`unstyled`] takes out again.
//!
//! Arrows run one way: `html` puts together what `terminal`, `chart` and `drawing` make; `terminal`
//! plots the lines of `chart`; charts and drawings are written by `svg`; below them are `sentences`,
//! which all of them say alike, and `text`, pieces of text. `picture` knows pictures to look at.

mod chart;
mod csv;
mod drawing;
mod error;
mod finite;
mod html;
mod json;
mod picture;
mod sentences;
mod sheet;
mod svg;
mod terminal;
mod text;

#[cfg(test)]
mod samples;

pub use chart::{
    ChartOptions, Form, MOST_CURVES, Shared, ToolStrokes, VariantStroke, compare_picture,
    force_curves, people_chart, setup_chart, tolerance_chart, tolerance_panel, trial_chart,
};
pub use csv::{compare_csv, loads_csv, parts_csv, to_csv, tolerance_csv};
pub use drawing::{
    Drawing, DrawingOptions, Imprint, SCALES, drawing_svg, over_picture, scale_text, sheets,
};
pub use error::OutputError;
pub use finite::NotFinite;
pub use html::{motion_page, points_page, review_page};
pub use json::json_text;
pub use picture::{LARGEST as LARGEST_PICTURE, Picture};
pub use sentences::unstyled;
pub use sheet::cut_sheet;
pub use terminal::{
    Rows, TableOptions, check_text, compare_table, demands_text, keys_text, loads_text, parts_text,
    people_text, plot, setup_text, springs_text, to_table, tolerance_text, trial_sheet_text,
    trial_text, tune_text,
};
