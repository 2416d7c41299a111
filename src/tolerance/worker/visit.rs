//! A sampled tool at one position: loops closed there, measures read.

use super::{Play, Setup, Worker};
use crate::measure::{Measure, growth};
use crate::model::{FixedBy, JawId};
use crate::motion::Stance;
use crate::statics::Stand;
use crate::tolerance::anchor::{Anchor, Pace};
use crate::tolerance::fate::Fate;
use crate::tolerance::place::Station;
use crate::tolerance::reading::read_here;

/// A sample that fails at once is walked to from the nominal tool in this many steps.
const STEPS: usize = 16;

/// Where the loops are closed from.
pub(in crate::tolerance) enum Start<'s> {
    /// The drawn tool.
    Drawn,
    /// To first order where a tool with these deviations stands.
    Led(&'s [f64]),
    /// These coordinates, which are brought to the new ones.
    From(&'s mut Vec<f64>),
}

impl<'a> Worker<'a> {
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
        let mut pace = self.stand(
            station,
            Start::Led(deviations),
            offset,
            measures.clone(),
            values,
        );
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
            pace = self.stand(
                station,
                Start::From(&mut from),
                offset,
                measures.clone(),
                values,
            );
            if pace == Err(Fate::NotAssembled) {
                break;
            }
        }
        if pace != Err(Fate::NotAssembled) {
            return pace;
        }
        // Does it assemble at all, at the handle angle that the position has nominally?
        if !matches!(
            station.anchor.by(),
            Some(FixedBy::Gap(_) | FixedBy::Span | FixedBy::Stop(_) | FixedBy::Turned(..))
        ) {
            return pace;
        }
        self.dimension(deviations, 1.0);
        self.take_up(station, deviations, play, 1.0);
        let setup = self.setup;
        self.solver.pose.q.copy_from_slice(&station.q);
        let nominal = setup.solver.linkage.handle(&station.q);
        let assembles = Anchor::handle(nominal).close(&mut self.solver, &self.row, 0.0);
        if assembles {
            Err(Fate::OutOfReach)
        } else {
            pace
        }
    }

    /// Closes the loops there and reads.
    pub(in crate::tolerance) fn stand<'m>(
        &mut self,
        station: &Station,
        start: Start<'_>,
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
            plates,
            ..
        } = self;
        let setup: &'a Setup<'a> = setup;
        let walked = matches!(start, Start::From(_));
        if walked || !station.close_by_handle(solver, offset) {
            let q = &mut solver.pose.q;
            match &start {
                Start::Drawn => q.copy_from_slice(&station.q),
                Start::Led(deviations) => station.begin(deviations, q),
                Start::From(from) => q.copy_from_slice(from),
            }
            if !station.anchor.close(solver, row, offset) {
                return Err(Fate::NotAssembled);
            }
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
        if let Start::From(from) = start {
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
                _ => {
                    let strength = (&setup.safeties, &mut *plates);
                    read_here(&mut stand, measure, station.grip, strength)
                }
            };
            reading.map_err(|_| Fate::NoValue)
        };
        values.extend(measures.map(read));
        Ok(setup.pace.read(&solver.linkage, &solver.pose))
    }
}
