//! Where made tools stand at a position, to first order: by differences on the drawn tool.

use super::Worker;
use super::visit::Start;
use crate::tolerance::place::Station;

impl Worker<'_> {
    /// How the coordinates at a station go with each dimension of the plan, one after the other; zeros where the drawn
    /// tool cannot be moved to both sides. The worker is left at the drawn tool.
    pub(in crate::tolerance) fn lead(&mut self, station: &Station) -> Vec<f64> {
        let varied = &self.setup.plan.varied;
        let n = station.q.len();
        let mut all = vec![0.0; n * varied.len()];
        let mut deviations = vec![0.0; varied.len()];
        for ((k, varied), lead) in varied.iter().enumerate().zip(all.chunks_exact_mut(n)) {
            let mut stood = true;
            for sign in [1.0, -1.0] {
                deviations[k] = sign * varied.tolerance;
                let none = std::iter::empty();
                let there = self.dimension(&deviations, 1.0)
                    && (self.stand(station, Start::Drawn, 0.0, none, &mut Vec::new())).is_ok();
                stood &= there;
                for (lead, q) in lead.iter_mut().zip(&self.solver.pose.q) {
                    *lead += sign * q;
                }
            }
            deviations[k] = 0.0;
            for lead in lead {
                *lead = if stood {
                    *lead / (2.0 * varied.tolerance)
                } else {
                    0.0
                };
            }
        }
        self.dimension(&deviations, 1.0);
        all
    }
}
