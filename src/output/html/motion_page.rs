//! The tool in motion as a page of its own, with the still pictures that print.

use super::motion::{MotionView, SCRIPT, motion, script_source};
use super::page::{CHART, Drawn, STYLE, drawn};
use super::stroke::{Table, cases, tables};
use crate::output::chart::{ChartOptions, Form, Shared, force_curves};
use crate::output::terminal::legend;
use crate::output::{error::OutputError, finite::check_finite, text::clean};
use crate::report::ToolInMotion;
use askama::Template;

/// Height of the drawing on a printed page, mm.
const DRAWING: f64 = 110.0;

#[derive(Template)]
#[template(path = "motion_page.html", config = "src/output/html/askama.toml")]
struct Page {
    name: String,
    direction: &'static str,
    file: String,
    sha256: String,
    version: &'static str,
    style: &'static str,
    script: &'static str,
    source: String,
    motion: Option<MotionView>,
    curves: String,
    /// The drawing, and what is to be said of it.
    drawing: String,
    words: Vec<String>,
    tables: Vec<Table>,
    legend: String,
    cautions: Vec<String>,
}

/// The page.
///
/// # Errors
/// When a number of the report is not finite, or there is nothing to draw.
pub fn motion_page(report: &ToolInMotion) -> Result<String, OutputError> {
    check_finite(report)?;
    let stroke = &report.stroke;
    let chart = ChartOptions {
        width: CHART,
        id: "curves1".to_owned(),
        shared: Shared::default(),
        form: Form::Large,
    };
    let (tables, marks_over) = tables(stroke);
    let Drawn {
        svg: drawing,
        words,
        ..
    } = drawn(&report.drawing, 0, DRAWING)?;
    let page = Page {
        name: clean(&stroke.tool),
        direction: stroke.direction,
        file: clean(&stroke.file),
        sha256: stroke.sha256.clone(),
        version: report.version,
        style: STYLE,
        script: SCRIPT,
        source: script_source(SCRIPT),
        motion: motion(stroke, &report.drawing, &report.motion, 0)?,
        curves: force_curves(stroke, &chart)?,
        drawing,
        words,
        tables,
        legend: format!("{} {}", legend(stroke, marks_over), cases(stroke)),
        cautions: report.drawing.cautions.iter().map(|c| clean(c)).collect(),
    };
    page.render()
        .map_err(|e| OutputError::Writer(e.to_string()))
}
