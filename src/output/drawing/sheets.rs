//! Which sheets a drawing is made on: all positions on one if it is small enough, else one for each.

use super::block::Block;
use super::key::{Key, key};
use super::page::{Foot, Panel};
use super::paper::{Paper, papers, standard_scales};
use super::picture::{
    Drawing, DrawingOptions, document, foot, heading, notes, panels, reach_of_arrows, scale_text,
    subject,
};
use super::sheet::{Arranged, Strip, arranged, made_to_measure, on_sheet};
use crate::output::error::OutputError;
use crate::output::finite::check_finite;
use crate::output::text::{clean, figures, grip};
use crate::report::{DrawingReport, DrawnPosition};

/// Below this nothing could be told apart: a larger sheet is taken first.
const LEAST: f64 = 0.1;

/// What a title block says that no tool file knows.
#[derive(Debug, Clone, PartialEq)]
pub struct Imprint {
    /// The day.
    pub date: String,
    /// The program and its version.
    pub version: String,
}

/// What stands on one sheet.
struct Laid<'a> {
    report: &'a DrawingReport,
    scale: f64,
    panels: Vec<Panel>,
    foot: Foot,
    key: Vec<Key>,
    block: Block,
}

impl<'a> Laid<'a> {
    fn out(
        report: &'a DrawingReport,
        options: &DrawingOptions,
        imprint: &Imprint,
        scale: f64,
        most: f64,
    ) -> Self {
        Self {
            report,
            scale,
            panels: panels(report, options, scale, most),
            foot: foot(report, scale, notes(report, options, most)),
            key: key(report, options.forces.then_some(most)),
            block: block(report, imprint, scale),
        }
    }

    fn strip(&self) -> Strip<'_> {
        Strip {
            foot: &self.foot,
            key: &self.key,
            block: &self.block,
        }
    }

    fn on(&self, paper: &Paper) -> Option<Arranged> {
        arranged(&self.panels, &self.strip(), paper)
    }

    fn drawn(
        mut self,
        (paper, way): (Paper, Arranged),
        (number, all): (usize, usize),
        options: &DrawingOptions,
    ) -> Drawing {
        self.block.paper = if paper.name.is_empty() {
            "none"
        } else {
            paper.name
        }
        .to_owned();
        self.block.sheet = format!("{number} of {all}");
        let panels = std::mem::take(&mut self.panels);
        let page = on_sheet(panels, &self.strip(), &paper, way);
        Drawing {
            svg: document(self.report, options, &page),
            size: page.size,
            scale: self.scale,
            paper: paper.name,
        }
    }
}

/// The sheets of a drawing, each of the smallest standard size, lying across, that holds it: one with all positions, or
/// with `several` one for each where a smaller sheet will then do. Where the scale is left open it is the largest
/// standard one at which the smallest sheet holds all.
///
/// # Errors
/// [`OutputError`] when the report holds a number that is not finite, or no position.
pub fn sheets(
    report: &DrawingReport,
    options: &DrawingOptions,
    imprint: &Imprint,
    several: bool,
) -> Result<Vec<Drawing>, OutputError> {
    check_finite(report)?;
    if report.positions.is_empty() {
        return Err(OutputError::NothingToDraw);
    }
    let most = reach_of_arrows(report, options);
    let out = |report, scale| Laid::out(report, options, imprint, scale, most);
    let papers = papers(&report.units);
    let Some(scale) = options.scale else {
        let scales = standard_scales(&report.units).filter(|&scale| scale >= LEAST);
        let mut tries: Vec<Laid> = scales.map(|scale| out(report, scale)).collect();
        for paper in papers {
            let found = tries
                .iter()
                .enumerate()
                .find_map(|(k, laid)| Some((k, laid.on(paper)?)));
            if let Some((k, way)) = found {
                return Ok(vec![tries.swap_remove(k).drawn(
                    (*paper, way),
                    (1, 1),
                    options,
                )]);
            }
        }
        let laid = tries.pop().unwrap_or_else(|| out(report, LEAST));
        let made = made_to_measure(&laid.panels, &laid.strip());
        return Ok(vec![laid.drawn(made, (1, 1), options)]);
    };
    let one = |position: &DrawnPosition| DrawingReport {
        positions: vec![position.clone()],
        ..report.clone()
    };
    let together = out(report, scale);
    let singles: Vec<DrawingReport> = match several && report.positions.len() > 1 {
        true => report.positions.iter().map(one).collect(),
        false => Vec::new(),
    };
    let singles: Vec<Laid> = singles.iter().map(|single| out(single, scale)).collect();
    for paper in papers {
        if let Some(way) = together.on(paper) {
            return Ok(vec![together.drawn((*paper, way), (1, 1), options)]);
        }
        let ways: Option<Vec<Arranged>> = singles.iter().map(|laid| laid.on(paper)).collect();
        if let Some(ways) = ways.filter(|ways| !ways.is_empty()) {
            let all = ways.len();
            let drawn = singles.into_iter().zip(ways).enumerate();
            return Ok(drawn
                .map(|(k, (laid, way))| laid.drawn((*paper, way), (k + 1, all), options))
                .collect());
        }
    }
    let made = made_to_measure(&together.panels, &together.strip());
    Ok(vec![together.drawn(made, (1, 1), options)])
}

fn block(report: &DrawingReport, imprint: &Imprint, scale: f64) -> Block {
    let units = &report.units;
    let places: Vec<String> = report
        .positions
        .iter()
        .map(|p| heading(report, p))
        .collect();
    let position = format!(
        "{}; hand {} {} at grip {}, {}",
        places.join(", "),
        figures(report.hand_force),
        units.force,
        grip(report.grip, units),
        report.direction
    );
    let name = report.file.rsplit(['/', '\\']).next();
    Block {
        title: clean(&report.tool),
        kind: subject(report),
        position,
        scale: scale_text(scale),
        paper: String::new(),
        units: format!("{}, {}", units.length, units.force),
        sheet: String::new(),
        date: imprint.date.clone(),
        file: clean(name.unwrap_or(&report.file)),
        sha256: report.sha256.clone(),
        version: imprint.version.clone(),
    }
}
