//! Every target of one sampled tool.

use super::peak::beyond;
use super::{Play, Worker};
use crate::measure::finished;
use crate::model::StopEnd;
use crate::tolerance::course::Run;
use crate::tolerance::fate::Fate;
use crate::tolerance::place::MEETS;
use crate::tolerance::subject::Hold;
use crate::tolerance::target::Kind;

/// Over the stroke of a sample: within this of an end a place is on it.
const AT_END: f64 = 1e-9;

impl Worker<'_> {
    /// Reads every target off the tool with these deviations.
    pub(in crate::tolerance) fn evaluate(
        &mut self,
        deviations: &[f64],
        play: Play,
        out: &mut [Result<f64, Fate>],
    ) {
        let setup = self.setup;
        if !self.dimension(deviations, 1.0) {
            out.fill(Err(Fate::NotAssembled));
            self.stood.fill(Err(Fate::NotAssembled));
            return;
        }
        for (target, out) in setup.targets.iter().zip(out.iter_mut()) {
            if !target.corners.is_empty() || !target.among.is_empty() {
                *out = Err(Fate::NoValue);
            }
        }
        let mut values = std::mem::take(&mut self.values);
        let mut turns = std::mem::take(&mut self.turns);
        turns.clear();
        let near = MEETS * setup.solver.linkage.size;
        let reads = std::mem::take(&mut self.reads);
        for (k, (station, own)) in setup.stations.iter().zip(&reads).enumerate() {
            let Some(own) = own else { continue };
            values.clear();
            let targets = || own.iter().filter_map(|&t| Some((t, setup.targets.get(t)?)));
            let measures = targets().map(|(_, target)| &target.measure);
            let pace = self.visit(station, 0.0, deviations, play, measures, &mut values);
            let gap = self.forces.gap.first().copied();
            if let Some(slot) = self.stood.get_mut(k) {
                *slot = pace.and_then(|pace| Ok((pace, gap.ok_or(Fate::NoValue)?)));
            }
            let met = setup.dies && gap.is_some_and(|gap| gap < -near);
            let past = |end| pace.is_ok() && self.is_past(end, station, near);
            let (shut, open) = (past(StopEnd::Shut), past(StopEnd::Open));
            if let Some(slot) = self.past.get_mut(k) {
                *slot = shut;
            }
            let mut read = values.iter().copied();
            for (t, target) in targets() {
                let value = match pace {
                    Ok(_) => read.next().unwrap_or(Err(Fate::NoValue)),
                    Err(fate) => Err(fate),
                };
                let Some(out) = out.get_mut(t) else { continue };
                match target.kind {
                    Kind::Sweep { .. } | Kind::Least => turns.push((t, k, value)),
                    _ if shut || open => *out = Err(Fate::Stopped),
                    // The measure that defines the position says how far beyond the dies it is.
                    _ if met && pace.is_ok() && target.hold != Hold::NominalHandle => {
                        *out = Err(Fate::DiesMeet);
                    }
                    _ => *out = value,
                }
            }
        }
        self.reads = reads;
        self.values = values;
        let mut runs = std::mem::take(&mut self.runs);
        for (run, course) in runs.iter_mut().zip(&setup.courses) {
            *run = self.run(course, deviations, play);
        }
        let run = |course: usize| runs.get(course).copied().unwrap_or(Err(Fate::NoValue));
        // Kept until the sweep is read: the greatest where the work turns on the sample's own stroke.
        for &(t, station, value) in &turns {
            let (Some(target), Some(out)) = (setup.targets.get(t), out.get_mut(t)) else {
                continue;
            };
            let (course, sense) = match target.kind {
                Kind::Sweep { sweep, sense, .. } => {
                    (setup.sweeps.get(sweep).map(|sweep| sweep.course), sense)
                }
                Kind::Least => {
                    let own = target.among.iter().find(|(own, _)| *own == station);
                    (own.map(|(_, course)| *course), -1.0)
                }
                _ => continue,
            };
            let on = course
                .and_then(|course| run(course).ok())
                .zip(self.stood(station).ok());
            if on.is_some_and(|(run, (pace, _))| run.holds(pace, AT_END)) {
                *out = beyond(*out, value, sense);
            }
        }
        self.turns = turns;
        let mut margin = None;
        for (target, out) in setup.targets.iter().zip(out.iter_mut()) {
            match target.kind {
                Kind::Travel { open, turn, .. } => {
                    let from = self.stood(open).map(|(pace, _)| pace);
                    *out = out.and_then(|handle| Ok(turn * (handle - from?)));
                }
                Kind::Curve { course } => {
                    let work = self.tool.work().ok_or(Fate::NoValue);
                    let area = |run: Run| Ok(work?.area(run.gaps[0], run.gaps[1]));
                    *out = run(course).and_then(area);
                }
                Kind::Height { course, gives } => {
                    let after = |run: Run| {
                        let height = finished(&self.tool, run.gaps[1], gives);
                        let out = height.and_then(|height| height.of_touched().ok());
                        out.map(|height| height.after).ok_or(Fate::NoValue)
                    };
                    *out = run(course).and_then(after);
                }
                Kind::Margin { gap } => {
                    let margin = *margin.get_or_insert_with(|| {
                        let brink = setup.brink.as_ref().ok_or(Fate::NoValue)?;
                        self.margin(brink, deviations, play)
                    });
                    *out = margin.map(|[handle, closes]| if gap { closes } else { handle });
                }
                Kind::Area { area } => {
                    let area = setup.areas.get(area).ok_or(Fate::NoValue);
                    *out =
                        area.and_then(|area| self.area(area, &run(area.course)?, deviations, play));
                }
                // There is no least of a stroke that the tool does not make.
                Kind::Least => {
                    let mut courses = target.among.iter().map(|(_, course)| *course);
                    let none = courses.find_map(|course| run(course).err());
                    *out = none.map_or(*out, Err);
                }
                Kind::At { .. } | Kind::Sweep { .. } => {}
            }
        }
        for (s, sweep) in setup.sweeps.iter().enumerate() {
            self.sweep(s, run(sweep.course), deviations, play, out);
        }
        self.cut_short(&runs, near, out);
        self.runs = runs;
    }
}
