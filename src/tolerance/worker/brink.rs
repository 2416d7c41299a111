//! How far a sampled tool stays off the toggle or dead position beyond shut.

use super::{Play, Worker};
use crate::model::JawId;
use crate::tolerance::brink::Brink;
use crate::tolerance::fate::Fate;

/// First step from where the drawn tool has it, rad, or of the tool's size.
const STEP: f64 = 1e-4;
/// Steps shorter than this are at the place.
const CLOSE: f64 = 1e-11;
/// Secant steps at most: a few are enough where it is near.
const STEPS: usize = 20;
/// A place farther off than this is another one.
const FAR: f64 = 0.5;

impl Worker<'_> {
    /// Handle angle from shut to there, rad, and what the gap of the first jaw closes on the way, mm. `shut` has
    /// been visited.
    pub(in crate::tolerance) fn margin(
        &mut self,
        brink: &Brink,
        deviations: &[f64],
        play: Play,
    ) -> Result<[f64; 2], Fate> {
        let (handle, gap) = self.stood(brink.shut)?;
        let scale = match brink.dead {
            true => self.setup.solver.linkage.size,
            false => 1.0,
        };
        let mut known = (0.0, self.standstill(brink, 0.0, deviations, play)?);
        let mut next = STEP * scale;
        for _ in 0..STEPS {
            let there = self.standstill(brink, next, deviations, play)?;
            let slope = (there - known.1) / (next - known.0);
            let step = -there / slope;
            known = (next, there);
            if !step.is_finite() || (next + step).abs() > FAR * scale {
                break;
            }
            if step.abs() <= CLOSE * scale {
                let at = self.solver.linkage.handle(&self.solver.pose.q);
                let there = self.forces.gap.first().ok_or(Fate::NoValue)?;
                return Ok([brink.turn * (at - handle), gap - there]);
            }
            next += step;
        }
        Err(Fate::NoValue)
    }

    /// Rate of what stands still there over that of what moves on, so far off the place of the drawn tool.
    fn standstill(
        &mut self,
        brink: &Brink,
        offset: f64,
        deviations: &[f64],
        play: Play,
    ) -> Result<f64, Fate> {
        let none = std::iter::empty();
        self.visit(
            &brink.station,
            offset,
            deviations,
            play,
            none,
            &mut Vec::new(),
        )?;
        let jaw = self.forces.closing(JawId::FIRST);
        let rates = self.row.iter().zip(self.forces.rates());
        let handle: f64 = rates.map(|(row, rate)| row * rate).sum();
        Ok(match brink.dead {
            true => handle / jaw,
            false => jaw / handle,
        })
    }
}
