//! One sampled tool at a time, on storage of its own: dimensions set, loops closed at every
//! position, measures read.

mod area;
mod course;
mod peak;
mod sweep;

use crate::geometry::Vec2;
use crate::measure::{Measure, growth, read_at};
use crate::model::{JawId, Tool};
use crate::motion::{Solver, Stance};
use crate::statics::{Ask, Forces, Stand};
use crate::tolerance::course::{Course, Run};
use crate::tolerance::fate::Fate;
use crate::tolerance::lanes::Area;
use crate::tolerance::place::{Held, Pace, Station};
use crate::tolerance::plan::Plan;
use crate::tolerance::subject::Hold;
use crate::tolerance::sweep::{Pilot, Sweep};
use crate::tolerance::target::{Kind, Target};
use peak::{CLOSELY, ROUGHLY, beyond};

/// A gap further below zero than this, over the tool's size, is one that dies do not let the tool come to.
const MEETS: f64 = 1e-9;
/// Over the stroke of a sample: within this of an end a place is on it.
const AT_END: f64 = 1e-9;
/// A sample that fails at once is walked to from the nominal tool in this many steps.
const STEPS: usize = 16;

/// All that is the same for every sample.
#[derive(Debug)]
pub(in crate::tolerance) struct Setup<'a> {
    pub(in crate::tolerance) tool: &'a Tool,
    pub(in crate::tolerance) solver: Solver,
    pub(in crate::tolerance) forces: Forces,
    pub(in crate::tolerance) ask: Ask,
    pub(in crate::tolerance) plan: Plan,
    pub(in crate::tolerance) pace: Pace,
    pub(in crate::tolerance) stations: Vec<Station>,
    pub(in crate::tolerance) courses: Vec<Course>,
    pub(in crate::tolerance) sweeps: Vec<Sweep>,
    pub(in crate::tolerance) areas: Vec<Area>,
    pub(in crate::tolerance) targets: Vec<Target>,
    /// Whether the first jaw has dies that could meet: its gap is above zero at the open end.
    pub(in crate::tolerance) dies: bool,
    /// For each of the plan's clearances: its place among the deviations, when it is drawn.
    pub(in crate::tolerance) drawn: Vec<Option<usize>>,
}

/// Which play is taken up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::tolerance) enum Play {
    None,
    All,
    /// That of one of the plan's clearances.
    Only(usize),
}

/// A sampled tool.
pub(in crate::tolerance) struct Worker<'a> {
    pub(in crate::tolerance) setup: &'a Setup<'a>,
    pub(in crate::tolerance) tool: Tool,
    /// Its linkage is this worker's own, with the dimensions of the sample.
    pub(in crate::tolerance) solver: Solver,
    pub(in crate::tolerance) forces: Forces,
    pub(in crate::tolerance) ask: Ask,
    pub(in crate::tolerance) row: Vec<f64>,
    way: Vec<f64>,
    /// Pace and first gap at every station, or why there are none.
    pub(in crate::tolerance) stood: Vec<Result<(f64, f64), Fate>>,
    /// The stroke at every course.
    pub(in crate::tolerance) runs: Vec<Result<Run, Fate>>,
    /// Sense of the determinant where the solver stood last.
    pub(in crate::tolerance) positive: bool,
    values: Vec<Result<f64, Fate>>,
    /// Read where the work turns, until it is known whether that is on the stroke: target, station, value.
    turns: Vec<(usize, usize, Result<f64, Fate>)>,
    /// What is read at one place, and along a sweep.
    pub(in crate::tolerance) read: Vec<Result<f64, Fate>>,
    pub(in crate::tolerance) curve: Vec<Result<f64, Fate>>,
    /// How closely peaks are placed, in intervals.
    pub(in crate::tolerance) near: f64,
    /// Where samples are read along a sweep; `None`: everywhere.
    pilot: Option<&'a Pilot>,
    /// What has been seen of the peaks, where that is kept.
    pub(in crate::tolerance) seen: Option<Pilot>,
}

impl<'a> Worker<'a> {
    pub(in crate::tolerance) fn new(setup: &'a Setup<'a>) -> Self {
        let linkage = &setup.solver.linkage;
        let mut row = vec![0.0; linkage.coordinates];
        linkage.handle_row(&mut row);
        Self {
            setup,
            tool: setup.tool.clone(),
            solver: setup.solver.clone(),
            forces: setup.forces.clone(),
            ask: setup.ask.clone(),
            way: row.clone(),
            row,
            stood: vec![Err(Fate::NotAssembled); setup.stations.len()],
            runs: vec![Err(Fate::NotAssembled); setup.courses.len()],
            positive: true,
            values: Vec::new(),
            turns: Vec::new(),
            read: Vec::new(),
            curve: Vec::new(),
            near: CLOSELY,
            pilot: None,
            seen: None,
        }
    }

    /// For samples: peaks are placed roughly, which is several times as quick.
    pub(in crate::tolerance) fn roughly(self) -> Self {
        Self {
            near: ROUGHLY,
            ..self
        }
    }

    /// The same, read only where `pilot` says that peaks may stand.
    pub(in crate::tolerance) fn piloted(self, pilot: &'a Pilot) -> Self {
        Self {
            pilot: Some(pilot),
            ..self.roughly()
        }
    }

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
            if !target.corners.is_empty() {
                *out = Err(Fate::NoValue);
            }
        }
        let mut values = std::mem::take(&mut self.values);
        let mut turns = std::mem::take(&mut self.turns);
        turns.clear();
        let near = MEETS * setup.solver.linkage.size;
        for (k, station) in setup.stations.iter().enumerate() {
            values.clear();
            let measures = setup.targets.iter().filter_map(|t| t.read_at(k));
            let pace = self.visit(station, 0.0, deviations, play, measures, &mut values);
            let gap = self.forces.gap.first().copied();
            if let Some(slot) = self.stood.get_mut(k) {
                *slot = pace.and_then(|pace| Ok((pace, gap.ok_or(Fate::NoValue)?)));
            }
            let met = setup.dies && gap.is_some_and(|gap| gap < -near);
            let mut read = values.iter().copied();
            for (t, (target, out)) in setup.targets.iter().zip(out.iter_mut()).enumerate() {
                if target.read_at(k).is_some() {
                    let value = match pace {
                        Ok(_) => read.next().unwrap_or(Err(Fate::NoValue)),
                        Err(fate) => Err(fate),
                    };
                    match target.kind {
                        Kind::Sweep { .. } => turns.push((t, k, value)),
                        // The measure that defines the position says how far beyond the dies it is.
                        _ if met && pace.is_ok() && target.hold != Hold::NominalHandle => {
                            *out = Err(Fate::DiesMeet);
                        }
                        _ => *out = value,
                    }
                }
            }
        }
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
            let Kind::Sweep { sweep, sense, .. } = target.kind else {
                continue;
            };
            let course = setup.sweeps.get(sweep).map(|sweep| sweep.course);
            let on = course
                .and_then(|course| run(course).ok())
                .zip(self.stood(station).ok());
            if on.is_some_and(|(run, (pace, _))| run.holds(pace, AT_END)) {
                *out = beyond(*out, value, sense);
            }
        }
        self.turns = turns;
        for (target, out) in setup.targets.iter().zip(out.iter_mut()) {
            match target.kind {
                Kind::Travel { open, turn, .. } => {
                    let from = self.stood(open).map(|(pace, _)| pace);
                    *out = out.and_then(|handle| Ok(turn * (handle - from?)));
                }
                Kind::Curve { course } => {
                    let work = setup.tool.work.as_ref().ok_or(Fate::NoValue);
                    let area = |run: Run| Ok(work?.area(run.gaps[0], run.gaps[1]));
                    *out = run(course).and_then(area);
                }
                Kind::Area { area } => {
                    let area = setup.areas.get(area).ok_or(Fate::NoValue);
                    *out =
                        area.and_then(|area| self.area(area, &run(area.course)?, deviations, play));
                }
                Kind::At { .. } | Kind::Sweep { .. } => {}
            }
        }
        for (s, sweep) in setup.sweeps.iter().enumerate() {
            self.sweep(s, run(sweep.course), deviations, play, out);
        }
        self.runs = runs;
    }

    /// Sets the dimensions, `part` of the way from the nominal ones.
    pub(in crate::tolerance) fn dimension(&mut self, deviations: &[f64], part: f64) -> bool {
        for (varied, deviation) in self.setup.plan.varied.iter().zip(deviations) {
            varied
                .slot
                .set(&mut self.tool, varied.nominal + part * deviation);
        }
        let done = self.solver.linkage_mut().redimension(&self.tool).is_ok();
        if !self.ask.burden.springs.is_empty() {
            self.ask
                .burden
                .springs
                .follow(&self.tool, &self.solver.linkage);
        }
        done
    }

    pub(in crate::tolerance) fn take_up(
        &mut self,
        station: &Station,
        deviations: &[f64],
        play: Play,
        sign: f64,
    ) {
        for (k, &(joint, radius)) in self.setup.plan.clearances.iter().enumerate() {
            if play == Play::None || matches!(play, Play::Only(only) if only != k) {
                continue;
            }
            let shift = match station.pushed.get(k).copied().flatten() {
                Some(way) => way * radius,
                None => {
                    let at = self.setup.drawn.get(k).copied().flatten();
                    match at.and_then(|at| deviations.get(at..at + 2)) {
                        Some(&[x, y]) => Vec2::new(x, y),
                        _ => continue,
                    }
                }
            };
            self.solver.linkage_mut().play(joint, shift * sign);
        }
    }

    /// Stands at a position, moved on by `offset` of what defines it, and reads there; the pace.
    pub(in crate::tolerance) fn visit<'m>(
        &mut self,
        station: &Station,
        offset: f64,
        deviations: &[f64],
        play: Play,
        measures: impl Iterator<Item = &'m Measure> + Clone,
        values: &mut Vec<Result<f64, Fate>>,
    ) -> Result<f64, Fate> {
        self.take_up(station, deviations, play, 1.0);
        let mut pace = self.stand(station, None, offset, measures.clone(), values);
        self.take_up(station, deviations, play, -1.0);
        if pace.is_err() {
            values.clear();
            pace = self.walk(station, offset, deviations, play, measures, values);
            self.dimension(deviations, 1.0);
        }
        pace
    }

    /// The same by small steps of the dimensions, each from the one before; and what hinders.
    fn walk<'m>(
        &mut self,
        station: &Station,
        offset: f64,
        deviations: &[f64],
        play: Play,
        measures: impl Iterator<Item = &'m Measure> + Clone,
        values: &mut Vec<Result<f64, Fate>>,
    ) -> Result<f64, Fate> {
        let mut from = station.q.clone();
        let mut pace = Err(Fate::NotAssembled);
        for k in 1..=STEPS {
            if !self.dimension(deviations, k as f64 / STEPS as f64) {
                return Err(Fate::NotAssembled);
            }
            self.take_up(station, deviations, play, 1.0);
            values.clear();
            pace = self.stand(station, Some(&mut from), offset, measures.clone(), values);
            if pace == Err(Fate::NotAssembled) {
                break;
            }
        }
        if pace != Err(Fate::NotAssembled) {
            return pace;
        }
        // Does it assemble at all, at the handle angle that the position has nominally?
        if matches!(station.held, Held::Handle(_) | Held::Way(..)) {
            return pace;
        }
        self.dimension(deviations, 1.0);
        self.take_up(station, deviations, play, 1.0);
        let setup = self.setup;
        self.solver.pose.q.copy_from_slice(&station.q);
        let nominal = setup.solver.linkage.handle(&station.q);
        let assembles = Held::Handle(nominal).close(&mut self.solver, &self.row, 0.0);
        if assembles {
            Err(Fate::OutOfReach)
        } else {
            pace
        }
    }

    /// Closes the loops from `from` (or the station's nominal coordinates) and reads.
    pub(in crate::tolerance) fn stand<'m>(
        &mut self,
        station: &Station,
        from: Option<&mut Vec<f64>>,
        offset: f64,
        measures: impl Iterator<Item = &'m Measure>,
        values: &mut Vec<Result<f64, Fate>>,
    ) -> Result<f64, Fate> {
        let Self {
            setup,
            tool,
            solver,
            forces,
            ask,
            row,
            way,
            positive,
            ..
        } = self;
        let setup: &'a Setup<'a> = setup;
        let start = from.as_deref().unwrap_or(&station.q);
        solver.pose.q.copy_from_slice(start);
        if !station.held.close(solver, row, offset) {
            return Err(Fate::NotAssembled);
        }
        *positive = solver.positive();
        let along: f64 = (solver.tangent().iter())
            .zip(&station.tangent)
            .map(|(a, b)| a * b)
            .sum();
        // Travel is counted from the open end when both are known.
        let handle = solver.linkage.handle(&solver.pose.q);
        let stance = Stance {
            travel: handle,
            handle,
            sense: if along < 0.0 { -1.0 } else { 1.0 },
        };
        forces.stand(solver, stance, ask);
        let flipped = station.positive.is_some_and(|known| known != *positive);
        if flipped || forces.closing(JawId::FIRST) * station.closing < 0.0 {
            return Err(Fate::PastToggle);
        }
        if let Some(from) = from {
            from.copy_from_slice(&solver.pose.q);
        }
        let pace_rate = match setup.pace {
            Pace::Handle => (row.iter().zip(forces.rates())).map(|(r, t)| r * t).sum(),
            Pace::Way(direction) => {
                let spot = solver.linkage.hand.grips[0].at;
                let place = solver.pose.place(spot);
                way.fill(0.0);
                let pose = &solver.pose;
                (solver.linkage).add_gradient(pose, spot.body, place, direction, way);
                (way.iter().zip(forces.rates())).map(|(r, t)| r * t).sum()
            }
        };
        let mut stand = Stand::new(tool, solver, forces, ask, stance, pace_rate);
        let read = |measure: &Measure| {
            let reading = match measure {
                Measure::HandWork | Measure::JawWork => growth(&mut stand, measure, station.grip),
                _ => read_at(&mut stand, measure, station.grip),
            };
            reading.map_err(|_| Fate::NoValue)
        };
        values.extend(measures.map(read));
        Ok(setup.pace.read(&solver.linkage, &solver.pose))
    }
}
