//! Edges that lie behind another part, dashed.

use super::area::Area;
use super::ghosts::{fine, ring};
use super::ink::{Fill, V};
use super::outline::walked;
use super::tool::{HIDDEN, Plate};
use crate::report::DrawnPart;

/// Length of the pieces of an edge that are looked at, mm of paper.
const PIECE: f64 = 0.8;
/// An edge no farther than this behind another part runs along its border, which is drawn already, mm of paper.
const UNDER: f64 = 0.3;

impl Plate {
    /// All edges of a part that lies behind others.
    pub(super) fn hidden(&mut self, part: &DrawnPart) {
        let borders = self.borders(part);
        if !borders.is_empty() {
            self.ink.region(&borders, Fill::None, Some(HIDDEN));
        }
    }

    /// The edges of a part where they lie behind `covers`: dashes along an edge that is seen would make its outline look
    /// worn.
    pub(super) fn hidden_behind(&mut self, part: &DrawnPart, covers: &[&DrawnPart]) {
        let covers: Vec<Area> = covers.iter().map(|over| self.area(over)).collect();
        for (from, steps) in self.borders(part) {
            let pieces = fine(&ring(walked(from, &steps), true), PIECE);
            let seen = |p: &(V, bool)| covers.iter().all(|over| over.is_off(p.0, -UNDER));
            let runs: Vec<Vec<V>> = (pieces.split(seen).filter(|run| run.len() > 1))
                .map(|run| {
                    let last = run.len() - 1;
                    let kept = run.iter().enumerate();
                    let kept = kept.filter(|(k, p)| p.1 || *k == 0 || *k == last);
                    kept.map(|(_, p)| p.0).collect()
                })
                .collect();
            for run in runs {
                self.ink.poly(&run, false, Fill::None, Some(HIDDEN));
            }
        }
    }
}
