//! Stress along the border of a plate: strokes that stand out of it, longer where it is greater.

use super::ink::{Line, V, plus, times};
use super::tool::Plate;
use crate::output::text::figures;
use crate::report::{DrawingReport, DrawnPosition, DrawnStress};

/// Length of the longest stroke, mm of paper.
const LONGEST: f64 = 10.0;
/// Told apart without colour too: pressed edges are broken lines.
const PULLED: Line = Line {
    colour: "#b3261e",
    width: 0.3,
    dash: "",
};
const PRESSED: Line = Line {
    colour: "#1f5fa8",
    width: 0.3,
    dash: "0.9 0.6",
};

/// The greatest stress of a drawing, in the report's units.
pub(super) fn greatest(report: &DrawingReport) -> f64 {
    let all = report.positions.iter().flat_map(|p| &p.stresses);
    all.map(|edge| edge.stress.abs()).fold(0.0, f64::max)
}

/// What the strokes mean, for the foot of the page; nothing without any.
pub(super) fn legend(report: &DrawingReport) -> Option<String> {
    let most = greatest(report);
    (most > 0.0).then(|| {
        format!(
            "Strokes along the edges: stress there, {LONGEST} mm of paper for {} {}; whole where the edge is pulled, broken where it is pressed.",
            figures(most),
            report.stress_unit
        )
    })
}

impl Plate {
    /// Stress along the border, `most` being the greatest of the drawing.
    pub(super) fn stresses(&mut self, position: &DrawnPosition, most: f64, unit: &str) {
        if !(most > 0.0) {
            return;
        }
        let tip = |plate: &Self, edge: &DrawnStress| -> [V; 2] {
            let at = plate.at(edge.at);
            let out = Self::towards(edge.out);
            [at, plus(at, times(LONGEST * edge.stress.abs() / most, out))]
        };
        for edge in &position.stresses {
            let stroke = tip(self, edge);
            let line = if edge.stress > 0.0 { PULLED } else { PRESSED };
            self.ink.line(&stroke, line, 0.2);
        }
        let size = |edge: &&DrawnStress| edge.stress.abs();
        let worst = position
            .stresses
            .iter()
            .max_by(|a, b| size(a).total_cmp(&size(b)));
        if let Some(worst) = worst {
            let [at, end] = tip(self, worst);
            let text = format!("{} {unit}", figures(worst.stress));
            let towards = [end[0] - at[0], end[1] - at[1]];
            self.label(text, end, 1.5, Some(towards));
        }
    }
}
