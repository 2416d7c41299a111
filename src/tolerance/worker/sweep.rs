//! Peaks and least values over the stroke of one sampled tool.

use super::peak::{missed, refined, top};
use super::{Play, Worker};
use crate::tolerance::course::Run;
use crate::tolerance::fate::Fate;
use crate::tolerance::sweep::{NODES, Sweep};
use crate::tolerance::target::Kind;

impl Worker<'_> {
    /// Reads along the stroke, and finds peaks. Where there is no stroke, why.
    pub(in crate::tolerance) fn sweep(
        &mut self,
        s: usize,
        run: Result<Run, Fate>,
        deviations: &[f64],
        play: Play,
        out: &mut [Result<f64, Fate>],
    ) {
        let setup = self.setup;
        let Some(sweep) = setup.sweeps.get(s) else {
            return;
        };
        let mut curve = std::mem::take(&mut self.curve);
        let swept = run.and_then(|run| self.curve(sweep, &run, deviations, play, &mut curve));
        let count = sweep.measures.len();
        for (target, out) in setup.targets.iter().zip(out.iter_mut()) {
            let (place, sense) = match target.kind {
                Kind::Sweep {
                    sweep,
                    measure,
                    sense,
                } if sweep == s => (measure, sense),
                _ => continue,
            };
            *out = match (swept, sweep.measures.get(place)) {
                (Err(fate), _) => Err(fate),
                (Ok(_), None) => Err(Fate::NoValue),
                (Ok(along), Some(measure)) => {
                    let line = curve.iter().skip(place).step_by(count).copied();
                    let best = top(line, sense).map(|(k, best)| {
                        let near = self.near;
                        let value = |u: f64| {
                            let node = sweep.nodes.get(k).ok_or(Fate::NoValue)?;
                            let mut values = std::mem::take(&mut self.read);
                            values.clear();
                            let one = std::iter::once(measure);
                            let offset = along.offset(u, k);
                            let stood =
                                self.visit(node, offset, deviations, play, one, &mut values);
                            let value = values.first().copied().unwrap_or(Err(Fate::NoValue));
                            self.read = values;
                            stood.and(value).map(|v| sense * v)
                        };
                        sense * refined(k, sense * best, near, value)
                    });
                    missed(best, *out, sense)
                }
            };
        }
        self.curve = curve;
    }

    /// Reads every measure of a sweep at its nodes.
    fn curve(
        &mut self,
        sweep: &Sweep,
        run: &Run,
        deviations: &[f64],
        play: Play,
        curve: &mut Vec<Result<f64, Fate>>,
    ) -> Result<Along, Fate> {
        let course = self.setup.courses.get(sweep.course);
        let nominal = course.map_or(run.paces, |course| course.nominal);
        let along = Along {
            off: [run.paces[0] - nominal[0], run.paces[1] - nominal[1]],
            nominal: nominal[1] - nominal[0],
        };
        curve.clear();
        for (k, node) in sweep.nodes.iter().enumerate() {
            let offset = along.offset(k as f64, k);
            let mut values = std::mem::take(&mut self.read);
            values.clear();
            let measures = sweep.measures.iter();
            let stood = self.visit(node, offset, deviations, play, measures, &mut values);
            curve.extend_from_slice(&values);
            self.read = values;
            stood?;
        }
        Ok(along)
    }
}

/// How a sample's nodes stand to the nominal ones: every way of the stroke is shared out as it is.
#[derive(Debug, Clone, Copy)]
struct Along {
    /// Of the sample's ends against the nominal ones.
    off: [f64; 2],
    /// Pace over the nominal stroke.
    nominal: f64,
}

impl Along {
    /// From the nominal node `k` to where the sample is `u` intervals from its open end.
    fn offset(self, u: f64, k: usize) -> f64 {
        let share = u / NODES as f64;
        let beside = (u - k as f64) / NODES as f64;
        self.off[0] + (self.off[1] - self.off[0]) * share + beside * self.nominal
    }
}
