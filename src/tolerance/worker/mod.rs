//! One sampled tool at a time, on storage of its own: dimensions set, loops closed at every
//! position, measures read.

mod area;
mod brink;
mod course;
mod evaluate;
mod lead;
mod peak;
mod smooth;
mod stopped;
mod sweep;
mod visit;

use crate::analysis::MadePlates;
use crate::analysis::Safeties;
use crate::geometry::Vec2;
use crate::model::{Joint, Tool};
use crate::motion::Solver;
use crate::statics::{Ask, Forces};
use crate::tolerance::anchor::Pace;
use crate::tolerance::anew;
use crate::tolerance::brink::Brink;
use crate::tolerance::choice::Choice;
use crate::tolerance::course::{Course, Run};
use crate::tolerance::fate::Fate;
use crate::tolerance::lanes::Area;
use crate::tolerance::place::Station;
use crate::tolerance::plan::Plan;
use crate::tolerance::sweep::Sweep;
use crate::tolerance::target::{Kind, Target};
use peak::{CLOSELY, ROUGHLY};
pub(in crate::tolerance) use visit::Start;

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
    pub(in crate::tolerance) brink: Option<Brink>,
    pub(in crate::tolerance) targets: Vec<Target>,
    /// What the strength factors among the targets are read from.
    pub(in crate::tolerance) safeties: Safeties<'a>,
    /// Whether the first jaw has dies that could meet: its gap is above zero at the open end.
    pub(in crate::tolerance) dies: bool,
    /// Whether the end of a cam's face may be met: it is not where the stroke of the drawn tool ends.
    pub(in crate::tolerance) faces: bool,
    /// Whether numbers vary that are no dimensions of parts: what is kept of them is then taken anew.
    pub(in crate::tolerance) anew: bool,
    /// For each of the plan's clearances: its place among the deviations, when it is drawn.
    pub(in crate::tolerance) drawn: Vec<Option<usize>>,
}

impl Setup<'_> {
    /// For each station, the targets that are read there, those `turns` asks for where the work turns;
    /// `None` for a station that nothing asks for.
    fn reads(&self, turns: impl Fn(usize, usize) -> bool) -> Vec<Option<Vec<usize>>> {
        let targets = || self.targets.iter().enumerate();
        let stations = 0..self.stations.len();
        let read = stations.map(|k| {
            let own = targets().filter(|(t, target)| {
                target.read_at(k) && (target.corners.is_empty() || turns(*t, k))
            });
            let own: Vec<usize> = own.map(|(t, _)| t).collect();
            let counted = |t: &Target| matches!(t.kind, Kind::Travel { open, .. } if open == k);
            let asked = self.courses.iter().any(|c| c.open == k || c.shut == k)
                || self.brink.as_ref().is_some_and(|brink| brink.shut == k)
                || self.targets.iter().any(counted);
            (asked || !own.is_empty()).then_some(own)
        });
        read.collect()
    }
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
    /// Plates of the sample that are not as drawn.
    plates: MadePlates,
    way: Vec<f64>,
    /// Pace and first gap at every station, or why there are none.
    pub(in crate::tolerance) stood: Vec<Result<(f64, f64), Fate>>,
    /// Whether the tool is past what ends its stroke, at every station.
    past: Vec<bool>,
    /// The stroke at every course.
    pub(in crate::tolerance) runs: Vec<Result<Run, Fate>>,
    /// Sense of the determinant where the solver stood last.
    pub(in crate::tolerance) positive: bool,
    values: Vec<Result<f64, Fate>>,
    /// For each station, the targets that are read there; `None` where nothing is and nobody asks for it.
    reads: Vec<Option<Vec<usize>>>,
    /// Read where the work turns: target, station, value.
    pub(in crate::tolerance) turns: Vec<(usize, usize, Result<f64, Fate>)>,
    /// What is read at one place.
    pub(in crate::tolerance) read: Vec<Result<f64, Fate>>,
    /// For each sweep, every measure at every node.
    pub(in crate::tolerance) curves: Vec<Vec<Result<f64, Fate>>>,
    /// For each target, whether its peak is foretold to stand where the work turns.
    alone: Vec<bool>,
    /// How closely peaks are placed, in intervals.
    pub(in crate::tolerance) near: f64,
    /// Where samples are read along a sweep; `None`: everywhere.
    choice: Option<&'a Choice>,
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
            plates: MadePlates::default(),
            stood: vec![Err(Fate::NotAssembled); setup.stations.len()],
            past: vec![false; setup.stations.len()],
            runs: vec![Err(Fate::NotAssembled); setup.courses.len()],
            positive: true,
            values: Vec::new(),
            turns: Vec::new(),
            read: Vec::new(),
            curves: vec![Vec::new(); setup.sweeps.len()],
            alone: Vec::new(),
            near: CLOSELY,
            choice: None,
            reads: setup.reads(|_, _| true),
        }
    }

    /// For samples: peaks are placed roughly, which is several times as quick.
    pub(in crate::tolerance) fn roughly(self) -> Self {
        Self {
            near: ROUGHLY,
            ..self
        }
    }

    /// The same, read only where peaks may stand.
    pub(in crate::tolerance) fn chosen(self, choice: &'a Choice) -> Self {
        Self {
            choice: Some(choice),
            reads: self.setup.reads(|t, station| choice.turns(t, station)),
            ..self.roughly()
        }
    }

    /// Sets the dimensions, `part` of the way from the nominal ones.
    pub(in crate::tolerance) fn dimension(&mut self, deviations: &[f64], part: f64) -> bool {
        let varied = self.setup.plan.varied.iter().zip(deviations);
        (self.tool).set_numbers(varied.map(|(v, d)| (v.slot, v.made(part * d))));
        let mut done = self.solver.linkage_mut().redimension(&self.tool).is_ok();
        if !self.ask.burden.springs.is_empty() {
            self.ask
                .burden
                .springs
                .follow(&self.tool, &self.solver.linkage);
        }
        if let Some(pawl) = &mut self.ask.burden.pawl {
            pawl.take(&self.tool, &self.solver.linkage);
        }
        if self.setup.anew {
            done &= anew::take(&self.tool, self.solver.linkage_mut(), &mut self.ask);
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
            let made = match (
                self.tool.joint_data.get(joint.index()),
                self.tool.joint(joint),
            ) {
                (Some(data), _) if self.setup.anew => 0.5 * data.clearance,
                (_, Some(Joint::Gears(_, gears))) if self.setup.anew => {
                    gears.backlash.map_or(radius, |play| 0.5 * play)
                }
                _ => radius,
            };
            let shift = match station.pushed.get(k).copied().flatten() {
                Some(way) => way * made,
                None => {
                    let at = self.setup.drawn.get(k).copied().flatten();
                    match at.and_then(|at| deviations.get(at..at + 2)) {
                        Some(&[x, y]) => Vec2::new(x, y) * (made / radius),
                        _ => continue,
                    }
                }
            };
            self.solver.linkage_mut().play(joint, shift * sign);
        }
    }
}
