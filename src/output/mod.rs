//! The answer as text: one file for each format, each a pure function from the report to a string.
//!
//! Nothing here reads or writes files, prints, or knows any mechanics. What a format shows is
//! decided by the report alone, so the same report gives the same bytes on every machine. Texts for
//! a terminal carry its colours, which [`unstyled`] takes out again.

mod chart;
mod chart_axis;
mod chart_data;
mod chart_draw;
mod chart_page;
mod chart_range;
mod chart_words;
mod check;
mod compare;
mod compare_chart;
mod csv;
mod csv_text;
mod drawing;
mod drawing_forces;
mod drawing_ink;
mod drawing_labels;
mod drawing_marks;
mod drawing_outline;
mod drawing_page;
mod drawing_table;
mod drawing_tool;
mod drawing_write;
mod emphasis;
mod finite;
mod html;
mod json;
mod keys;
mod labels;
mod loads;
mod loads_csv;
mod loads_words;
mod palette;
mod plot;
mod polyline;
mod summary;
mod svg_backend;
mod svg_shapes;
mod table;
mod table_blocks;
mod text;
mod ticks;
mod tolerance;
mod tolerance_chart;
mod tolerance_csv;
mod tune;
mod variant_chart;

#[cfg(test)]
mod chart_tests;
#[cfg(test)]
mod samples;

pub use chart::{ChartOptions, Shared, force_curves};
pub use check::check_text;
pub use compare::{compare_csv, compare_table};
pub use compare_chart::{ToolStrokes, compare_picture};
pub use csv::to_csv;
pub use drawing::{Drawing, DrawingOptions, SCALES, drawing, drawing_svg, scale_text};
pub use emphasis::unstyled;
pub use finite::NotFinite;
pub use html::review_page;
pub use json::json_text;
pub use keys::keys_text;
pub use loads::loads_text;
pub use loads_csv::loads_csv;
pub use plot::plot;
pub use summary::demands_text;
pub use table::{Rows, TableOptions, to_table};
pub use tolerance::tolerance_text;
pub use tolerance_chart::{tolerance_chart, tolerance_panel};
pub use tolerance_csv::tolerance_csv;
pub use tune::tune_text;
pub use variant_chart::{MOST_CURVES, VariantStroke};

use std::fmt;

/// Why a report could not be put into a format.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OutputError {
    /// A number of the report is not finite: a mistake of the program, never shown as a result.
    NotFinite(NotFinite),
    /// There is no stroke with positions: of several tools or variants none could be solved.
    NothingToDraw,
    /// The library that writes the format gave up.
    Writer(String),
}

impl fmt::Display for OutputError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite(place) => write!(f, "{place}"),
            Self::NothingToDraw => f.write_str("there is nothing to draw: no stroke was solved"),
            Self::Writer(text) => write!(f, "cannot write the result: {text}"),
        }
    }
}

impl std::error::Error for OutputError {}

impl From<NotFinite> for OutputError {
    fn from(place: NotFinite) -> Self {
        Self::NotFinite(place)
    }
}
