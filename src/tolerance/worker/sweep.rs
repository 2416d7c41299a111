//! Peaks and least values over the stroke of one sampled tool.

use super::peak::{missed, refined, top};
use super::{Play, Worker};
use crate::measure::Measure;
use crate::tolerance::choice::Top;
use crate::tolerance::course::Run;
use crate::tolerance::fate::Fate;
use crate::tolerance::sweep::{NODES, Nodes, Sweep};
use crate::tolerance::target::{Kind, Target};

/// A sampled tool on its way along a sweep.
#[derive(Clone, Copy)]
pub(super) struct Case<'c> {
    pub(super) sweep: &'c Sweep,
    pub(super) along: Along,
    deviations: &'c [f64],
    play: Play,
}

/// What is looked for along a sweep.
#[derive(Clone, Copy)]
pub(super) struct Wanted {
    pub(super) target: usize,
    /// Which of the sweep's measures.
    pub(super) place: usize,
    /// 1 for the greatest, −1 for the least value.
    pub(super) sense: f64,
    /// The greatest where the work turns.
    pub(super) corner: Result<f64, Fate>,
    /// It is foretold to stand there.
    alone: bool,
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
        let Some(mut curve) = self.curves.get_mut(s).map(std::mem::take) else {
            return;
        };
        let chosen = self.choice.and_then(|choice| choice.nodes.get(s)).copied();
        let mut read = chosen.unwrap_or([true; NODES + 1]);
        let tops = self.choice.map_or(&[][..], |choice| &choice.tops);
        let own = |target: &Target| matches!(target.kind, Kind::Sweep { sweep, .. } if sweep == s);
        let mut alone = std::mem::take(&mut self.alone);
        alone.clear();
        for (top, target) in tops.iter().zip(&setup.targets) {
            alone.push(match top {
                Top::Along(along) if own(target) => along.ask(deviations, &mut read),
                Top::Unknown if own(target) => {
                    read = [true; NODES + 1];
                    false
                }
                _ => false,
            });
        }
        let case = run.and_then(|run| {
            let case = Case {
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
            match target.kind {
                Kind::Sweep {
                    sweep,
                    measure,
                    sense,
                } if sweep == s => {
                    let place = Wanted {
                        target: t,
                        place: measure,
                        sense,
                        corner: *out,
                        alone: alone.get(t) == Some(&true),
                    };
                    let top = tops.get(t).unwrap_or(&Top::Unknown);
                    *out = case.and_then(|case| self.top(case, top, place, &mut read, &mut curve));
                }
                _ => {}
            }
        }
        self.alone = alone;
        if let Some(own) = self.curves.get_mut(s) {
            *own = curve;
        }
    }

    /// The peak of a target along the stroke.
    fn top(
        &mut self,
        case: Case,
        top: &Top,
        wanted: Wanted,
        read: &mut Nodes,
        curve: &mut [Result<f64, Fate>],
    ) -> Result<f64, Fate> {
        let Wanted {
            place,
            sense,
            corner,
            alone,
            ..
        } = wanted;
        match top {
            Top::Corner(_) if corner.is_ok() => return corner,
            Top::Along(_) if alone && corner.is_ok() => return corner,
            Top::End(k) => {
                let end = curve.get(k * case.sweep.measures.len() + place);
                if let Some(Ok(end)) = end {
                    return Ok(*end);
                }
            }
            _ => {}
        }
        // A sample that has no value there is an odd one: it is read everywhere.
        if alone || matches!(top, Top::Corner(_) | Top::End(_)) {
            for k in 0..=NODES {
                if !std::mem::replace(&mut read[k], true) {
                    self.node(case, k, curve)?;
                }
            }
        }
        let best = self.climb(case, place, sense, read, curve)?;
        if self.choice.is_some()
            && let Ok(best) = best
            && let Some(smooth) = self.smooth(case, wanted, best, curve)
        {
            return Ok(smooth);
        }
        let measure = case.sweep.measures.get(place).ok_or(Fate::NoValue)?;
        let swept = best.map(|(k, best)| {
            let near = self.near;
            let value = |u: f64| self.beside(case, k, u, measure).map(|v| sense * v);
            sense * refined(k, sense * best, near, value)
        });
        missed(swept, corner, sense)
    }

    /// Reads a measure of a sweep where the tool read last is `u` intervals from its open end.
    pub(in crate::tolerance) fn look(
        &mut self,
        sweep: usize,
        measure: usize,
        u: f64,
    ) -> Result<f64, Fate> {
        let setup = self.setup;
        let sweep = setup.sweeps.get(sweep).ok_or(Fate::NoValue)?;
        let run = (self.runs.get(sweep.course).copied()).unwrap_or(Err(Fate::NoValue))?;
        let nominal = vec![0.0; setup.plan.varied.len()];
        let case = Case {
            sweep,
            along: self.along(sweep, &run),
            deviations: &nominal,
            play: Play::All,
        };
        let measure = sweep.measures.get(measure).ok_or(Fate::NoValue)?;
        self.beside(case, u.round() as usize, u, measure)
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

    /// Reads a measure where the sample is `u` intervals from its open end, by way of the node `k`.
    pub(super) fn beside(
        &mut self,
        case: Case,
        k: usize,
        u: f64,
        measure: &Measure,
    ) -> Result<f64, Fate> {
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
            open: nominal[0],
            nominal: nominal[1] - nominal[0],
        }
    }
}

/// How a sample's nodes stand to the nominal ones: every way of the stroke is shared out as it is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Along {
    /// Of the sample's ends against the nominal ones.
    off: [f64; 2],
    /// Pace at the open end of the nominal stroke, and over it.
    open: f64,
    nominal: f64,
}

impl Along {
    /// Where the sample stands at a pace, in intervals from its open end.
    pub(super) fn place(self, pace: f64) -> f64 {
        let long = self.nominal + self.off[1] - self.off[0];
        (pace - self.open - self.off[0]) / long * NODES as f64
    }

    /// From the nominal node `k` to where the sample is `u` intervals from its open end.
    fn offset(self, u: f64, k: usize) -> f64 {
        let share = u / NODES as f64;
        let beside = (u - k as f64) / NODES as f64;
        self.off[0] + (self.off[1] - self.off[0]) * share + beside * self.nominal
    }
}
