//! Exact derivatives, where virtual work gives them: of the gap with the handle held, and of the
//! handle's angle with the gap held.
//!
//! With the gap `g` a function of the handle's angle `h` and a dimension `x`, the angle at which the
//! gap is kept moves by dh/dx = −(∂g/∂x)/(∂g/∂h).

use super::anchor::Pace;
use super::plan::Varied;
use super::target::{Kind, Target};
use super::worker::{Play, Worker};
use crate::give::GapRates;
use crate::measure::Measure;
use crate::model::dimension::DimensionSlot;
use crate::model::{FixedBy, JawId, Joint};
use crate::motion::Stance;
use crate::statics::{Holding, unit_sheet};

/// How the gap moves at a position.
#[derive(Debug, Clone, PartialEq)]
struct GapSlopes {
    /// By every dimension of the plan, the handle held, mm/mm.
    by_dimension: Vec<f64>,
    /// By the handle's angle, mm/rad.
    by_handle: f64,
}

/// The derivatives of a target by every dimension of the plan, all play taken up. `None` where only
/// differences tell.
pub(super) fn derivatives(worker: &mut Worker, target: &Target) -> Option<Vec<f64>> {
    match (&target.measure, target.kind) {
        (Measure::Gap, Kind::At { station }) => match worker.fixed_by(station)? {
            FixedBy::Handle => Some(worker.gap_slopes(station)?.by_dimension),
            _ => None,
        },
        (Measure::Handle, Kind::At { station }) => handle(worker, station),
        (
            Measure::Travel,
            Kind::Travel {
                station,
                open,
                turn,
            },
        ) => {
            let (to, from) = (handle(worker, station)?, handle(worker, open)?);
            Some(
                to.iter()
                    .zip(from)
                    .map(|(to, from)| turn * (to - from))
                    .collect(),
            )
        }
        _ => None,
    }
}

/// Derivatives of the handle's angle at a station.
fn handle(worker: &mut Worker, station: usize) -> Option<Vec<f64>> {
    match worker.fixed_by(station)? {
        FixedBy::Handle => Some(vec![0.0; worker.setup.plan.varied.len()]),
        FixedBy::Gap(JawId::FIRST) => {
            let slopes = worker.gap_slopes(station)?;
            let by = slopes.by_handle;
            (by != 0.0).then(|| slopes.by_dimension.iter().map(|d| -d / by).collect())
        }
        _ => None,
    }
}

impl Worker<'_> {
    /// What a station is fixed by.
    fn fixed_by(&self, station: usize) -> Option<FixedBy> {
        self.setup.stations.get(station)?.anchor.by()
    }

    /// How the gap moves at a station of the nominal tool, all play of loaded joints taken up.
    /// `None` where virtual work does not tell: a handle that slides, a dead position, a linkage
    /// with redundant bars, and teeth that stand off by their backlash, which turns a wheel by so
    /// much over its radius: a radius that grows with the distance of the pins turns it back, and no
    /// force does work on that.
    fn gap_slopes(&mut self, station: usize) -> Option<GapSlopes> {
        let setup = self.setup;
        let station = setup.stations.get(station)?;
        let taken = setup.plan.clearances.iter().zip(&station.pushed);
        let teeth = |joint| matches!(self.tool.joint(joint), Some(Joint::Gears(..)));
        if taken
            .into_iter()
            .any(|((joint, _), pushed)| pushed.is_some() && teeth(*joint))
        {
            return None;
        }
        let drawn = vec![0.0; setup.plan.varied.len()];
        if setup.pace != Pace::Handle || !self.dimension(&drawn, 1.0) {
            return None;
        }
        self.take_up(station, &[], Play::All, 1.0);
        let solver = &mut self.solver;
        solver.pose.q.copy_from_slice(&station.q);
        let mut slopes = None;
        if station.anchor.close(solver, &self.row, 0.0) {
            let stance = Stance {
                travel: 0.0,
                handle: 0.0,
                sense: 1.0,
            };
            self.forces.stand(solver, stance, &self.ask);
            let holding = Holding::Angle;
            let sheet = unit_sheet(&self.tool, solver, &mut self.forces, &self.ask, holding);
            slopes = sheet.map(|(sheet, held)| {
                let rates = GapRates::of_sheet(&self.tool, &sheet, holding, held);
                let turn: f64 = (self.row.iter().zip(self.forces.rates()))
                    .map(|(r, t)| r * t)
                    .sum();
                // What leaves the linkage as it stands does not move the gap.
                let own = |slot: DimensionSlot| match slot {
                    DimensionSlot::Stated(number) if !number.moves() => 0.0,
                    slot => rates.of(slot).unwrap_or(f64::NAN),
                };
                // What follows it moves the gap too.
                let by = |v: &Varied| {
                    let ties = self.tool.ties.iter();
                    let followed = ties.filter_map(|tie| {
                        let (_, factor) = tie.terms.iter().find(|(slot, _)| *slot == v.slot)?;
                        Some(factor * own(tie.slot))
                    });
                    own(v.slot) + followed.sum::<f64>()
                };
                GapSlopes {
                    by_dimension: setup.plan.varied.iter().map(by).collect(),
                    by_handle: -self.forces.closing(JawId::FIRST) / turn,
                }
            });
        }
        self.take_up(station, &[], Play::All, -1.0);
        slopes.filter(|s| s.by_handle.is_finite() && s.by_dimension.iter().all(|d| d.is_finite()))
    }
}
