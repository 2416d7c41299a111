//! Positions over the stroke, for peaks.

use super::Collector;
use crate::measure::Measure;
use crate::model::GripId;
use crate::statics::LocateError;
use crate::tolerance::sweep::{NODES, Sweep};

impl Collector<'_, '_> {
    /// The sweep at a grip, and the place of a measure in it.
    pub(in crate::tolerance) fn sweep(
        &mut self,
        measure: &Measure,
        grip: GripId,
    ) -> Result<(usize, usize), LocateError> {
        let course = self.course(grip)?;
        let known = self.sweeps.iter().position(|s| s.course == course);
        let sweep = match known {
            Some(sweep) => sweep,
            None => {
                let mut nodes = Vec::new();
                for k in 0..=NODES {
                    self.rig.go_to_step(k, NODES)?;
                    let solver = self.rig.solver();
                    let anchor = self.pace.anchor(&solver.linkage, &solver.pose);
                    nodes.push(self.here(anchor, grip));
                }
                self.sweeps.push(Sweep {
                    course,
                    nodes,
                    measures: Vec::new(),
                });
                self.sweeps.len() - 1
            }
        };
        let mut place = 0;
        if let Some(sweep) = self.sweeps.get_mut(sweep) {
            let known = sweep.measures.iter().position(|m| m == measure);
            place = known.unwrap_or_else(|| {
                sweep.measures.push(measure.clone());
                sweep.measures.len() - 1
            });
        }
        Ok((sweep, place))
    }
}
