//! Plates of made tools whose outline is not as drawn: cut anew once for each tool.

use super::holes::Plates;
use super::throats::Throats;
use crate::model::{Outline, PartId, Point, Section, Tool};
use std::sync::Arc;

/// What of a tool is not where it is drawn.
#[derive(Debug, Clone, Default)]
pub(crate) struct Redrawn {
    /// The hand lines.
    pub hand_lines: bool,
    /// The outlines of these parts.
    pub outlines: Vec<PartId>,
}

/// The plates that were cut last.
#[derive(Debug, Clone, Default)]
pub(crate) struct MadePlates {
    known: Vec<Made>,
}

/// A part's plates, and what they were cut from.
#[derive(Debug, Clone)]
struct Made {
    section: Section,
    outlines: Vec<Outline>,
    points: Vec<Point>,
    holes: Vec<(f64, Option<f64>)>,
    throats: Option<Arc<Throats>>,
}

impl MadePlates {
    /// The plates of a section of `tool`, as its outline is now; `None` where there is no such part, or its outline
    /// closes no area.
    pub(super) fn cut<'a>(&mut self, tool: &'a Tool, section: &'a Section) -> Option<Plates<'a>> {
        let points = &tool.part(section.part)?.points;
        let place = self
            .known
            .iter()
            .position(|made| made.section.part == section.part);
        if let Some(made) = place.and_then(|k| self.known.get(k))
            && made.section == *section
            && made.points == *points
            && made.outlines == tool.outlines
            && let Some(plates) = Plates::with(tool, section, &made.holes, &made.throats)
        {
            return Some(plates);
        }
        let plates = Plates::new(tool, section)?;
        let made = Made {
            section: section.clone(),
            outlines: tool.outlines.clone(),
            points: points.clone(),
            holes: plates
                .holes
                .iter()
                .map(|hole| (hole.width, hole.edge))
                .collect(),
            throats: plates.throats.clone(),
        };
        match place {
            Some(k) => self.known[k] = made,
            None => self.known.push(made),
        }
        Some(plates)
    }
}
