//! Peaks and least values over the stroke of one sampled tool.

use super::peak::{missed, refined, top};
use super::{Play, Worker};
use crate::measure::Measure;
use crate::tolerance::course::Run;
use crate::tolerance::fate::Fate;
use crate::tolerance::sweep::{NODES, Nodes, Pilot, Sweep};
use crate::tolerance::target::Kind;

/// How far a peak may be from the corner of the work that it is taken to stand at, relative.
const AT_CORNER: f64 = 1e-4;

/// How nearly a curve must have the parabola's value at its peak, relative.
const AS_EXPECTED: f64 = 1e-4;

/// A sampled tool on its way along a sweep.
#[derive(Clone, Copy)]
struct Case<'c> {
    index: usize,
    sweep: &'c Sweep,
    along: Along,
    deviations: &'c [f64],
    play: Play,
}

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
        let mut read =
            (self.pilot.and_then(|pilot| pilot.nodes.get(s)).copied()).unwrap_or([true; NODES + 1]);
        let case = run.and_then(|run| {
            let case = Case {
                index: s,
                sweep,
                along: self.along(sweep, &run),
                deviations,
                play,
            };
            curve.clear();
            curve.resize((NODES + 1) * sweep.measures.len(), Err(Fate::NoValue));
            for k in (0..=NODES).filter(|&k| read[k]) {
                self.node(case, k, &mut curve)?;
            }
            Ok(case)
        });
        for (t, (target, out)) in setup.targets.iter().zip(out.iter_mut()).enumerate() {
            let Kind::Sweep {
                sweep,
                measure,
                sense,
            } = target.kind
            else {
                continue;
            };
            if sweep == s {
                *out = case.and_then(|case| {
                    let best = self.climb(case, measure, sense, &mut read, &mut curve)?;
                    let smooth = self.smooth(case, measure, sense, best, &curve);
                    self.peak(case, t, measure, sense, (best, smooth), *out)
                });
            }
        }
        self.curve = curve;
    }

    /// The node of the greatest (`sense` 1) or least value of a measure, and that value: read on to both
    /// sides for as long as it may rise there. `Ok(Err)`: no node has one.
    fn climb(
        &mut self,
        case: Case,
        place: usize,
        sense: f64,
        read: &mut Nodes,
        curve: &mut [Result<f64, Fate>],
    ) -> Result<Result<(usize, f64), Fate>, Fate> {
        let count = case.sweep.measures.len();
        loop {
            let line = curve.iter().skip(place).step_by(count).copied();
            let best = top(line, sense);
            let mut further = false;
            if let Ok((k, _)) = best {
                for near in k.saturating_sub(1)..=(k + 1).min(NODES) {
                    if !std::mem::replace(&mut read[near], true) {
                        self.node(case, near, curve)?;
                        further = true;
                    }
                }
            }
            if !further {
                return Ok(best);
            }
        }
    }

    /// The peak of the parabola through the greatest node and its neighbours, for samples, where the
    /// curve there is as the parabola has it: no corner is near.
    fn smooth(
        &mut self,
        case: Case,
        place: usize,
        sense: f64,
        best: Result<(usize, f64), Fate>,
        curve: &[Result<f64, Fate>],
    ) -> Option<f64> {
        self.pilot?;
        let measure = case.sweep.measures.get(place)?;
        let (k, middle) = best.ok()?;
        let at = |k: usize| {
            let value = *curve.get(k * case.sweep.measures.len() + place)?;
            value.ok().filter(|v| v.is_finite())
        };
        let (before, after) = (at(k.checked_sub(1)?)?, at(k + 1)?);
        let (slope, bend) = (0.5 * (after - before), before - 2.0 * middle + after);
        let ahead = -slope / bend;
        if !(sense * bend < 0.0 && ahead.abs() < 1.0) {
            return None;
        }
        let expected = middle + 0.5 * slope * ahead;
        let found = self.beside(case, k, k as f64 + ahead, measure).ok()?;
        let near = (found - expected).abs() <= AS_EXPECTED * expected.abs();
        near.then_some(sense * (sense * found).max(sense * middle))
    }

    /// The peak beside the greatest node, or at a corner of the work.
    fn peak(
        &mut self,
        case: Case,
        target: usize,
        place: usize,
        sense: f64,
        (best, smooth): (Result<(usize, f64), Fate>, Option<f64>),
        corner: Result<f64, Fate>,
    ) -> Result<f64, Fate> {
        let measure = case.sweep.measures.get(place).ok_or(Fate::NoValue)?;
        let knows = |pilot: &&Pilot| pilot.at_corner.get(target).copied().unwrap_or(false);
        if let (Ok((_, best)), Ok(corner)) = (best, corner)
            && self.pilot.as_ref().is_some_and(knows)
            && sense * (corner - best) >= 0.0
        {
            return Ok(corner);
        }
        if let Some(smooth) = smooth {
            return missed(Ok(smooth), corner, sense);
        }
        let swept = best.map(|(k, best)| {
            let near = self.near;
            let value = |u: f64| self.beside(case, k, u, measure).map(|v| sense * v);
            sense * refined(k, sense * best, near, value)
        });
        if let Some(seen) = &mut self.seen {
            if let Ok((k, _)) = best {
                seen.saw(case.index, k);
            }
            let stands = match (swept, corner) {
                (Ok(swept), Ok(corner)) => sense * (swept - corner) <= AT_CORNER * corner.abs(),
                _ => false,
            };
            if let Some(at_corner) = seen.at_corner.get_mut(target) {
                *at_corner = *at_corner && stands;
            }
        }
        missed(swept, corner, sense)
    }

    /// Reads a measure where the sample is `u` intervals from its open end, by way of the node `k`.
    fn beside(&mut self, case: Case, k: usize, u: f64, measure: &Measure) -> Result<f64, Fate> {
        let node = case.sweep.nodes.get(k).ok_or(Fate::NoValue)?;
        let mut values = std::mem::take(&mut self.read);
        values.clear();
        let (one, offset) = (std::iter::once(measure), case.along.offset(u, k));
        let stood = self.visit(node, offset, case.deviations, case.play, one, &mut values);
        let value = values.first().copied().unwrap_or(Err(Fate::NoValue));
        self.read = values;
        stood.and(value)
    }

    /// Reads every measure of a sweep at one of its nodes.
    fn node(&mut self, case: Case, k: usize, curve: &mut [Result<f64, Fate>]) -> Result<(), Fate> {
        let node = case.sweep.nodes.get(k).ok_or(Fate::NoValue)?;
        let offset = case.along.offset(k as f64, k);
        let mut values = std::mem::take(&mut self.read);
        values.clear();
        let measures = case.sweep.measures.iter();
        let stood = self.visit(
            node,
            offset,
            case.deviations,
            case.play,
            measures,
            &mut values,
        );
        for (slot, value) in curve[k * values.len()..].iter_mut().zip(&values) {
            *slot = *value;
        }
        self.read = values;
        stood.map(|_| ())
    }

    /// How the nodes of a sample stand to the nominal ones.
    fn along(&self, sweep: &Sweep, run: &Run) -> Along {
        let course = self.setup.courses.get(sweep.course);
        let nominal = course.map_or(run.paces, |course| course.nominal);
        Along {
            off: [run.paces[0] - nominal[0], run.paces[1] - nominal[1]],
            nominal: nominal[1] - nominal[0],
        }
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
