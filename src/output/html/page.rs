//! The page: what stands where.

use super::first::{Line, first};
use super::first_page::{FIRST, room_for_drawing};
use super::loads::{
    Factor, PinRow, SpringView, factors, formulas, give, greatest_pins, least, life, pins_caption,
    springs,
};
use super::motion::{MotionView, SCRIPT, motion, script_source};
use super::plates::{PlatesView, plates};
use super::setup::{SetupView, setup};
use super::spans::{Span, spans};
use super::stroke::{Demand, Table, all_jaws, cases, demands, question, tables};
use super::tolerance::{StudyView, study};
use super::trial::{TrialView, trial};
use crate::output::chart::{ChartOptions, Form, Shared, force_chart};
use crate::output::drawing::{DrawingOptions, drawing_svg, drawing_words, scale_within};
use crate::output::sentences::job::{JobWords, job_words};
use crate::output::sentences::life::life_title;
use crate::output::sentences::loads::{balance, unconfirmed};
use crate::output::sentences::phrase::{phrase_of, plain};
use crate::output::sentences::springs::unconfirmed as unconfirmed_springs;
use crate::output::sentences::stroke::{checks, sentences};
use crate::output::sentences::tolerance::begun;
use crate::output::sentences::verdict::first_lines;
use crate::output::terminal::{Grid, grid, legend};
use crate::output::{error::OutputError, finite::check_finite, text::clean};
use crate::report::{
    CompareReport, DrawingReport, InputText, MODEL_LIMITS, ReviewReport, ToolReview,
};
use askama::Template;

/// How all pages look.
pub(super) const STYLE: &str = concat!(include_str!("style.css"), include_str!("motion.css"));

/// Pixels across a chart that has the page to itself.
pub(super) const CHART: f64 = 900.0;
/// Pixels across a chart that stands beside something.
const BESIDE: f64 = 640.0;
/// Pixels across a chart on a narrow screen, where one pixel of it is about one of the screen.
const NARROW: f64 = 360.0;

#[derive(Template)]
#[template(path = "page.html", config = "src/output/html/askama.toml")]
struct Page {
    title: String,
    /// The title as a string of a style sheet.
    running: String,
    date: String,
    version: &'static str,
    style: &'static str,
    script: &'static str,
    source: String,
    moving: bool,
    beside: Option<Grid>,
    tools: Vec<ToolView>,
    limits: Vec<String>,
    cautions: Vec<String>,
}

struct ToolView {
    name: String,
    note: Option<String>,
    question: Vec<String>,
    verdict: Vec<Vec<Span>>,
    first: Vec<Line>,
    file: String,
    sha256: String,
    good: bool,
    findings: Vec<String>,
    /// The loads that letters stand for.
    cases: String,
    /// All jaws in a table, and what its columns mean; for a tool with several.
    all_jaws: Option<(Vec<Table>, String)>,
    demands: Vec<Demand>,
    job: Option<JobWords>,
    drawing: Option<Drawn>,
    curves: String,
    /// The same for a narrow screen.
    narrow: String,
    /// The chart for the place beside other tools.
    beside: String,
    motion: Option<MotionView>,
    tables: Vec<Table>,
    legend: String,
    force: &'static str,
    pins_caption: String,
    pins: Vec<PinRow>,
    factors: Vec<Factor>,
    /// The load of most of them.
    usual_case: Option<String>,
    least: String,
    formulas: Vec<String>,
    unconfirmed: Option<&'static str>,
    springs: Vec<SpringView>,
    springs_unconfirmed: Option<&'static str>,
    life_title: Option<String>,
    life: Vec<String>,
    give: Vec<String>,
    plates: Option<PlatesView>,
    setup: Option<SetupView>,
    tolerance: Option<StudyView>,
    trial: Option<TrialView>,
    notes: Vec<String>,
    checks: Vec<String>,
    changes: Vec<String>,
    inputs: Vec<InputText>,
}

impl ToolView {
    fn mood(&self) -> &'static str {
        if self.good { "good" } else { "bad" }
    }
}

/// The review as a page.
///
/// # Errors
/// When a number of the report is not finite, or there is nothing to draw.
pub fn review_page(report: &ReviewReport) -> Result<String, OutputError> {
    check_finite(report)?;
    let shared = Shared::of(report.tools.iter().map(ToolReview::stroke_beside));
    let mut tools = Vec::new();
    for (k, tool) in report.tools.iter().enumerate() {
        let several = report.tools.len() > 1;
        let name = name(report, tool);
        tools.push(view(tool, name, k, several.then_some(&shared))?);
    }
    let names: Vec<&str> = tools.iter().map(|t| t.name.as_str()).collect();
    let mut cautions: Vec<String> = Vec::new();
    for caution in report.tools.iter().flat_map(|t| &t.loads.cautions) {
        if !cautions.contains(caution) {
            cautions.push(caution.clone());
        }
    }
    let page = Page {
        running: css_string(&names.join("; ")),
        title: names.join("; "),
        date: report.date.clone(),
        version: report.version,
        style: STYLE,
        script: SCRIPT,
        source: script_source(SCRIPT),
        moving: tools.iter().any(|t| t.motion.is_some()),
        beside: report.compare.as_ref().map(in_plain_words),
        tools,
        limits: MODEL_LIMITS.iter().map(|s| (*s).to_owned()).collect(),
        cautions,
    };
    page.render()
        .map_err(|e| OutputError::Writer(e.to_string()))
}

/// Text within the quotes of a style sheet: all but plain letters and digits as their code points, so that nothing in it
/// ends the string or the sheet.
fn css_string(text: &str) -> String {
    let escaped = |c: char| match c {
        ' ' | 'a'..='z' | 'A'..='Z' | '0'..='9' => c.to_string(),
        _ => format!("\\{:x} ", u32::from(c)),
    };
    text.chars().map(escaped).collect()
}

/// The comparison with its measures in plain words.
fn in_plain_words(report: &CompareReport) -> Grid {
    let mut grid = grid(report);
    for [name, _] in &mut grid.head {
        *name = phrase_of(name, &report.units);
    }
    grid
}

/// The tool's name; with its file where another file calls its tool the same, as a copy does.
fn name(report: &ReviewReport, tool: &ToolReview) -> String {
    let own = &tool.stroke;
    let mut strokes = report.tools.iter().map(|t| &t.stroke);
    let name = clean(&own.tool);
    if strokes.any(|s| s.tool == own.tool && s.file != own.file) {
        format!("{name} ({})", clean(&own.file))
    } else {
        name
    }
}

/// Heights of the drawing on a printed page, mm, for a tool that would be too small in the room below the answer.
const HIGHER: [f64; 3] = [125.0, 160.0, 235.0];
/// A drawing at a scale smaller than this shows nothing.
const LEAST: f64 = 0.25;

/// The drawing of a page.
pub(super) struct Drawn {
    pub(super) svg: String,
    /// What is to be said of it.
    pub(super) words: Vec<String>,
    /// Too high to stand below the answer on a printed page, whose rest tables fill instead.
    pub(super) tall: bool,
}

/// The linkage open and shut side by side, and what is to be said of it: at the standard scale that keeps it between the
/// margins of a printed page, A4 or Letter, and low. Nothing shrinks it there, or its scale bar would be wrong.
/// `room`: height below the answer, mm.
pub(super) fn drawn(
    drawing: &DrawingReport,
    index: usize,
    room: f64,
) -> Result<Drawn, OutputError> {
    let mut options = DrawingOptions {
        width: 186.0,
        scale: None,
        prefix: format!("drawing{}-", index + 1),
        brief: true,
        ..DrawingOptions::default()
    };
    let mut scale = LEAST;
    for height in std::iter::once(room).chain(HIGHER) {
        options.height = height;
        let found = scale_within(drawing, &options);
        if let Some(found) = found.filter(|found| *found > LEAST - 1e-9) {
            scale = found;
            break;
        }
    }
    options.scale = Some(scale);
    let words = drawing_words(drawing, &options, scale);
    Ok(Drawn {
        svg: drawing_svg(drawing, &options)?,
        words,
        tall: options.height > room,
    })
}

fn in_motion(tool: &ToolReview, index: usize) -> Result<Option<MotionView>, OutputError> {
    match (&tool.drawing, &tool.motion) {
        (Some(drawing), Some(moved)) => motion(&tool.stroke, drawing, moved, index),
        _ => Ok(None),
    }
}

/// How well the numbers agree with one another: for those who look after the program.
fn numerical_checks(tool: &ToolReview) -> Vec<String> {
    let mut out = vec![checks(&tool.stroke)];
    out.extend(tool.loads.cases.iter().map(balance));
    out.iter().map(|text| begun(text)).collect()
}

fn view(
    tool: &ToolReview,
    name: String,
    index: usize,
    shared: Option<&Shared>,
) -> Result<ToolView, OutputError> {
    let stroke = &tool.stroke;
    let chart = |stroke, name: &str, (width, form): (f64, Form), shared: Shared| {
        let options = ChartOptions {
            width,
            id: format!("{name}{}", index + 1),
            shared,
            form,
        };
        force_chart(stroke, &options)
    };
    let curves = chart(stroke, "curves", (FIRST, Form::Beside), Shared::default())?;
    let beside = match shared {
        Some(shared) => {
            chart(
                tool.stroke_beside(),
                "beside",
                (BESIDE, Form::Large),
                shared.clone(),
            )?
            .svg
        }
        None => String::new(),
    };
    let (tables, marks_over) = tables(stroke);
    let first = first(tool);
    let room = room_for_drawing(&first, curves.height);
    let (factors, usual_case) = factors(&tool.loads);
    let mut notes: Vec<String> = stroke.notes.iter().map(|n| clean(n)).collect();
    notes.extend(tool.loads.notes.iter().map(|n| clean(n)));
    let left_out = tool.no_tolerance.iter();
    notes.extend(
        left_out.map(|why| format!("Tolerances are left out: {}", plain(why, &stroke.units))),
    );
    Ok(ToolView {
        name,
        note: tool.note.as_deref().map(clean),
        question: question(tool),
        verdict: (first_lines(&tool.stroke_beside().verdict, &tool.stroke_beside().units).iter())
            .map(spans)
            .collect(),
        first,
        file: clean(&stroke.file),
        sha256: tool
            .inputs
            .first()
            .map_or_else(String::new, |own| own.sha256.clone()),
        good: stroke.verdict.good(),
        findings: (sentences(stroke).iter())
            .map(ToString::to_string)
            .collect(),
        cases: cases(stroke),
        all_jaws: all_jaws(stroke),
        demands: demands(stroke),
        job: (stroke.job.as_ref()).map(|job| job_words(job, &stroke.units)),
        drawing: (tool.drawing.as_ref())
            .map(|d| drawn(d, index, room))
            .transpose()?,
        curves: curves.svg,
        narrow: chart(stroke, "narrow", (NARROW, Form::Narrow), Shared::default())?.svg,
        beside,
        motion: in_motion(tool, index)?,
        tables,
        legend: legend(stroke, marks_over),
        force: stroke.units.force,
        pins_caption: pins_caption(stroke),
        pins: greatest_pins(stroke),
        factors,
        usual_case,
        least: least(&tool.loads),
        formulas: formulas(&tool.loads),
        unconfirmed: unconfirmed(&tool.loads),
        springs: springs(&tool.loads),
        springs_unconfirmed: unconfirmed_springs(&tool.loads.springs),
        life_title: tool.loads.life.as_ref().map(life_title),
        life: life(&tool.loads),
        give: give(&tool.loads),
        plates: plates(tool),
        setup: (tool.setup.as_ref()).map(|s| setup(s, &format!("setup{}", index + 1))),
        tolerance: tool
            .tolerance
            .as_ref()
            .map(|t| study(t, &format!("tolerance{}", index + 1))),
        trial: (tool.trial.as_ref()).map(|t| trial(t, &format!("trial{}", index + 1))),
        notes,
        checks: numerical_checks(tool),
        changes: tool.changes.clone(),
        inputs: tool.inputs.clone(),
    })
}
