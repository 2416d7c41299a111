//! The linkage true to scale as SVG: one panel for each position, or the free body of one part.

use super::bare;
use super::forces::{greatest, lengths};
use super::labels::{TIGHT, WIDER, place};
use super::marks::{closed, names};
use super::page::{EDGE, Foot, Page, Panel, page, page_size};
use super::paper::{SCALES, papers, standard_scales};
use super::stress;
use super::table::table;
use super::tool::Plate;
use super::write::hatching;
use crate::output::error::OutputError;
use crate::output::finite::check_finite;
use crate::output::svg::writer::{Sheet, Svg, WIDE_FONTS};
use crate::output::text::{clean, figures, fixed, grip, length, trimmed, true_minus};
use crate::report::{DrawingReport, DrawnPosition};
use crate::units::{MM_PER_IN, Quantity, UnitSystem};

/// Size of the letters of a brief drawing, as a share of the usual: capitals are then 1.9 mm high.
const BRIEF: f64 = 0.75;

/// Length of arrows and of what stands aside in a brief drawing, as a share of the usual.
const CLOSE: f64 = 0.6;

/// How a drawing is made.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawingOptions {
    /// Millimetres of paper for one millimetre of the tool; `None`: as large as the page allows.
    pub scale: Option<f64>,
    /// Width of the page where no scale is given, mm.
    pub width: f64,
    /// Height of the page where no scale is given, mm.
    pub height: f64,
    /// Goes before every id, so that several drawings can stand in one page: letters, digits, `-`.
    pub prefix: String,
    /// Draw forces.
    pub forces: bool,
    /// Draw the stress along the border of the part whose free body is drawn.
    pub stress: bool,
    /// The force that the longest arrow stands for, in the report's unit; `None`: the greatest drawn.
    pub arrow: Option<f64>,
    /// The positions by name and the scale bar alone, for a page that says the rest beside it.
    pub brief: bool,
}

impl Default for DrawingOptions {
    /// 1:1 with forces.
    fn default() -> Self {
        Self {
            scale: Some(1.0),
            width: 287.0,
            height: 200.0,
            prefix: "drawing-".to_owned(),
            forces: true,
            stress: false,
            arrow: None,
            brief: false,
        }
    }
}

/// A drawing and its measures.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// The document.
    pub svg: String,
    /// Width and height of the page, mm.
    pub size: [f64; 2],
    /// Millimetres of paper for one millimetre of the tool.
    pub scale: f64,
    /// Name of the standard sheet; empty where none is large enough.
    pub paper: &'static str,
}

/// The drawing as SVG text; a user unit is a millimetre of paper.
///
/// # Errors
/// [`OutputError`] when the report holds a number that is not finite, or no position.
pub fn drawing_svg(
    report: &DrawingReport,
    options: &DrawingOptions,
) -> Result<String, OutputError> {
    check_finite(report)?;
    if report.positions.is_empty() {
        return Err(OutputError::NothingToDraw);
    }
    let scale = match options.scale {
        Some(scale) => scale.clamp(SCALES[0], SCALES[1]),
        None => standard_scale(report, options),
    };
    let (panels, foot) = laid_out(report, options, scale);
    let across = papers(&report.units)
        .first()
        .map_or([1.0; 2], |paper| paper.size);
    let columns = fitting(&panels, &foot, options, options.height)
        .or_else(|| fitting(&panels, &foot, options, f64::INFINITY))
        .filter(|_| options.brief);
    let page = page(panels, &foot, columns, across);
    Ok(document(report, options, &page))
}

/// What a brief drawing at a scale leaves to be said beside it: what is drawn at each position, what numbers and arrows
/// mean.
pub(in crate::output) fn drawing_words(
    report: &DrawingReport,
    options: &DrawingOptions,
    scale: f64,
) -> Vec<String> {
    let mut out = Vec::new();
    for position in &report.positions {
        let said = sentences(report, position, 1.0).join("; ");
        out.push(format!("{}: {said}.", heading(report, position)));
    }
    if let Some(first) = report.positions.first().filter(|_| numbered(report, scale)) {
        let list = names(first);
        let mut letters = list.chars();
        let initial: Option<String> = letters.next().map(|c| c.to_uppercase().collect());
        out.push(format!(
            "{}{}.",
            initial.unwrap_or_default(),
            letters.as_str()
        ));
    }
    out.extend(arrow_words(report, reach_of_arrows(report, options), CLOSE));
    out.extend(ghost_words(report));
    let of_scale = |caution: &&String| caution.contains("to scale");
    out.extend(report.cautions.iter().filter(of_scale).map(|c| clean(c)));
    out
}

/// The largest standard scale at which the drawing keeps to the width and the height of the page;
/// where none is small enough, to the width alone.
fn standard_scale(report: &DrawingReport, options: &DrawingOptions) -> f64 {
    let free = DrawingOptions {
        height: f64::INFINITY,
        ..options.clone()
    };
    let found = scale_within(report, options).or_else(|| scale_within(report, &free));
    found.unwrap_or(SCALES[0])
}

/// The largest standard scale at which the drawing keeps to the width and the height of the page, if any does.
pub(in crate::output) fn scale_within(
    report: &DrawingReport,
    options: &DrawingOptions,
) -> Option<f64> {
    let page = [options.width, options.height];
    standard_scales(&report.units).find(|&scale| {
        // A single part may leave out pins and handles.
        if report.part.is_none() && !bare::has_room(&report.positions, scale, page) {
            return false;
        }
        let (panels, foot) = laid_out(report, options, scale);
        fitting(&panels, &foot, options, options.height).is_some()
    })
}

/// The number of columns with which the page is no larger than asked for.
fn fitting(panels: &[Panel], foot: &Foot, options: &DrawingOptions, height: f64) -> Option<usize> {
    (1..=panels.len()).find(|&columns| {
        let [w, h] = page_size(panels, foot, columns);
        w <= options.width && h <= height
    })
}

/// What stands on the page at a scale.
fn laid_out(report: &DrawingReport, options: &DrawingOptions, scale: f64) -> (Vec<Panel>, Foot) {
    let most = reach_of_arrows(report, options);
    let about = format!(
        "Scale {}; units {} and {}; file {}.",
        scale_text(scale),
        report.units.length,
        report.units.force,
        clean(&report.file)
    );
    let mut sentences = vec![about];
    sentences.extend(notes(report, options, most));
    sentences.extend(ghost_words(report));
    let mut foot = foot(report, scale, sentences);
    if options.brief {
        foot.title.clear();
        foot.edge = 0.5;
        foot.sentences.clear();
        foot.bar
            .2
            .push_str(&format!(" Scale {}.", scale_text(scale)));
    }
    (panels(report, options, scale, most), foot)
}

fn ghost_words(report: &DrawingReport) -> Option<String> {
    let shown = report.part.is_none() && report.positions.iter().any(|p| !p.earlier.is_empty());
    shown.then(|| "Thin grey outlines: earlier positions from open on.".to_owned())
}

/// The force that the longest arrow stands for.
pub(super) fn reach_of_arrows(report: &DrawingReport, options: &DrawingOptions) -> f64 {
    if options.forces {
        options.arrow.unwrap_or_else(|| greatest(report))
    } else {
        0.0
    }
}

/// Every position, drawn.
pub(super) fn panels(
    report: &DrawingReport,
    options: &DrawingOptions,
    scale: f64,
    most: f64,
) -> Vec<Panel> {
    let positions = report.positions.iter();
    positions
        .map(|p| panel(report, options, p, scale, most))
        .collect()
}

/// Whether a drawing is so small that names would lie on other parts: half size and less.
fn numbered(report: &DrawingReport, scale: f64) -> bool {
    report.part.is_none() && scale < 0.5 + 1e-9
}

fn panel(
    report: &DrawingReport,
    options: &DrawingOptions,
    position: &DrawnPosition,
    scale: f64,
    most: f64,
) -> Panel {
    let mut plate = Plate::new(scale);
    if options.brief {
        plate.close = CLOSE;
    }
    match &report.part {
        None => {
            plate.numbered = numbered(report, scale);
            plate.tool(position, &report.units);
            if options.forces {
                plate.outside_forces(position, most, &report.units);
            }
        }
        Some(part) => {
            plate.alone(position, part);
            if options.stress {
                plate.stresses(position, stress::greatest(report), report.stress_unit);
            }
            if options.forces {
                plate.free_body(position, part, most, report);
            }
        }
    }
    // The points of jaws first, which must be on their own sides of the gap; then forces: they matter most, and
    // their labels are the longest.
    let mut labels = std::mem::take(&mut plate.labels);
    labels.sort_by_key(|l| (!l.first, !l.bold, l.italic));
    if options.brief {
        labels.iter_mut().for_each(|label| label.size *= BRIEF);
    }
    let wide = if options.brief { TIGHT } else { WIDER };
    let taken = place(&mut plate.ink, labels, wide);
    if options.forces && report.part.is_some() {
        plate.axes(&taken);
    }
    let mut ink = plate.ink;
    ink.clear_ghosts(&taken);
    let table = if options.forces {
        table(position, report)
    } else {
        None
    };
    Panel {
        heading: heading(report, position),
        sentences: match options.brief {
            true => Vec::new(),
            false => sentences(report, position, scale),
        },
        ink,
        table,
    }
}

/// The position as it was asked for, with its unit.
pub(super) fn heading(report: &DrawingReport, position: &DrawnPosition) -> String {
    let at = clean(&position.at);
    match at.split_once('=') {
        Some((word, value)) => {
            let unit = if word == "handle" {
                report.units.angle
            } else {
                report.units.length
            };
            format!("{word} = {value} {unit}")
        }
        None => at,
    }
}

/// What stands below the heading of a position.
fn sentences(report: &DrawingReport, position: &DrawnPosition, scale: f64) -> Vec<String> {
    let units = &report.units;
    let mut first = vec![format!(
        "handle {} {}",
        true_minus(&fixed(position.handle, 2)),
        units.angle
    )];
    for stop in &position.stops {
        first.push(format!(
            "stop {} {} {} off",
            clean(&stop.name),
            true_minus(&length(stop.apart, units)),
            units.length
        ));
    }
    for jaw in &position.jaws {
        let name = if position.jaws.len() > 1 {
            format!(" of {}", clean(&jaw.name))
        } else {
            String::new()
        };
        let mut gap = format!(
            "gap{name} {} {}",
            true_minus(&length(jaw.gap, units)),
            units.length
        );
        if jaw.closed > 0.0 && jaw.axis.is_some() {
            let work = length(closed(jaw, units), units);
            gap.push_str(&format!(" to finished work of {work} {}", units.length));
        }
        first.push(gap);
    }
    if let Some(span) = position.span {
        let at = grip(report.grip, units);
        first.push(format!(
            "span {} {} at grip {at}",
            length(span, units),
            units.length
        ));
    }
    let forces = match &position.no_forces {
        Some(why) => why.clone(),
        None => format!(
            "hand {} {} at grip {}, {}",
            figures(report.hand_force),
            units.force,
            grip(report.grip, units),
            report.direction
        ),
    };
    let mut out = vec![first.join(", "), forces];
    if numbered(report, scale) {
        out.push(names(position));
    }
    out
}

/// What stands below the positions.
pub(super) fn foot(report: &DrawingReport, scale: f64, sentences: Vec<String>) -> Foot {
    Foot {
        edge: EDGE,
        title: format!("{}: {}", clean(&report.tool), subject(report)),
        sentences,
        bar: bar(report, scale),
    }
}

/// What a drawing must say beside its numbers; `most` is the force of the longest arrow.
pub(super) fn notes(report: &DrawingReport, options: &DrawingOptions, most: f64) -> Vec<String> {
    let mut sentences: Vec<String> = report.note.iter().map(|note| clean(note)).collect();
    sentences.extend(arrow_words(report, most, 1.0));
    if options.stress {
        sentences.extend(stress::legend(report));
    }
    sentences.extend(report.cautions.iter().map(|c| clean(c)));
    sentences
}

/// How long arrows are, `close` being their share of the usual length; nothing without any.
fn arrow_words(report: &DrawingReport, most: f64, close: f64) -> Option<String> {
    let [longest, shortest] = lengths(&report.units).map(|mm| on_paper(report, close * mm));
    (most > 0.0).then(|| {
        format!(
            "Force arrows: {longest} of paper for {} {}; shorter ones are drawn {shortest}, broken, not to scale.",
            figures(most),
            report.units.force,
        )
    })
}

/// What is drawn.
pub(super) fn subject(report: &DrawingReport) -> String {
    match &report.part {
        Some(part) => format!("free body of {}", clean(part)),
        None => "linkage".to_owned(),
    }
}

/// A scale as an engineer writes it: 1:1, 2:1, 1:2.5.
#[must_use]
pub fn scale_text(scale: f64) -> String {
    let round = |v: f64| trimmed((v * 1000.0).round() / 1000.0);
    if scale >= 1.0 {
        format!("{}:1", round(scale))
    } else {
        format!("1:{}", round(1.0 / scale))
    }
}

/// A length of paper (mm) with its unit, to what the reader's own rule shows.
fn on_paper(report: &DrawingReport, mm: f64) -> String {
    match report.units.length {
        "in" => format!("{} in", trimmed((mm / MM_PER_IN * 1e3).round() / 1e3)),
        _ => format!("{} mm", trimmed((mm * 100.0).round() / 100.0)),
    }
}

/// The scale bar: a round length of the tool that takes 30 to 75 mm of paper.
fn bar(report: &DrawingReport, scale: f64) -> (f64, usize, String) {
    let unit = match report.units.length {
        "in" => UnitSystem::InLbf,
        _ => UnitSystem::MmN,
    }
    .factor(Quantity::Length);
    let most = 75.0 / (scale * unit);
    let power = 10f64.powf(most.log10().floor());
    let (step, pieces) = match most / power {
        m if m >= 5.0 => (5.0, 5),
        m if m >= 2.0 => (2.0, 4),
        _ => (1.0, 5),
    };
    let long = step * power;
    let paper = long * unit * scale;
    let name = report.units.length;
    let says = format!(
        "{} {name} of the tool: this bar must measure {} on paper.",
        trimmed(long),
        on_paper(report, paper)
    );
    (paper, pieces, says)
}

pub(super) fn document(report: &DrawingReport, options: &DrawingOptions, page: &Page) -> String {
    let prefix: String = (options.prefix.chars())
        .filter(|c| c.is_ascii_alphanumeric() || *c == '-' || *c == '_')
        .collect();
    let subject = match &report.part {
        Some(part) => format!("free body of {}", clean(part)),
        None => "linkage to scale".to_owned(),
    };
    let places: Vec<String> = report.positions.iter().map(|p| clean(&p.at)).collect();
    let title = format!("{}: {subject}", clean(&report.tool));
    let about = format!(
        "Drawn at {}: parts, pins, handles with grips, jaws{}.",
        places.join(", "),
        if options.forces {
            ", and forces as arrows with their numbers"
        } else {
            ""
        }
    );
    let mut svg = Svg::new(&Sheet {
        size: page.size,
        unit: "mm",
        fonts: WIDE_FONTS,
        id: &prefix,
        title: &title,
        about: &about,
    });
    hatching(&mut svg, &prefix);
    svg.paper();
    page.ink.write(&prefix, &mut svg);
    svg.finish()
}
