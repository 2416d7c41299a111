//! How much of the margin between shut and the toggle the tolerances take.

use super::plan::plan;
use crate::analysis::Analysis;
use crate::statics::Mounted;

/// What the tolerances take of the gap that shut is from its toggle.
#[derive(Debug, Clone, PartialEq)]
pub struct Eaten {
    /// The margin of the tool as drawn, mm of gap.
    pub margin: f64,
    /// What each dimension takes of it at the worse end of its tolerance, mm, the most first; all of it
    /// where the tool then does not come to shut at all.
    pub takes: Vec<(String, f64)>,
}

impl Eaten {
    /// What all of them take together at the worst, mm.
    #[must_use]
    pub fn worst(&self) -> f64 {
        self.takes.iter().map(|(_, takes)| takes).sum()
    }
}

impl Analysis {
    /// What the tolerances take of the margin; `None` where there is no toggle beyond shut, nothing that
    /// varies, or no stroke.
    #[must_use]
    pub fn eaten_margin(&self) -> Option<Eaten> {
        let margin = self.motion().ok()?.survey.margin()?.gap;
        let mut takes = Vec::new();
        for varied in plan(self.tool()).varied {
            let mut least = margin;
            for deviation in [varied.tolerance, -varied.tolerance] {
                let mut made = self.tool().clone();
                made.set_numbers([(varied.slot, varied.made(deviation))]);
                // A tool that does not come to shut has nothing left.
                let left = Mounted::new(&made).ok();
                let left = left.map(|made| made.survey.margin().map(|margin| margin.gap));
                least = least.min(left.unwrap_or(Some(0.0)).unwrap_or(margin));
            }
            if least < margin {
                takes.push((varied.address, margin - least));
            }
        }
        takes.sort_by(|a, b| b.1.total_cmp(&a.1));
        (!takes.is_empty()).then_some(Eaten { margin, takes })
    }
}
