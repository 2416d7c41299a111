//! What the nominal tool does at every position that samples are read at. A number that cannot be read
//! there is left out of the study, and why is said.

use super::fate::Fate;
use super::lanes::Rule;
use super::target::Kind;
use super::unread::{Unread, Why};
use super::worker::{Play, Setup, Start, Worker};

/// Notes what the nominal tool does at every position; the targets that it has no number for.
pub(super) fn settle(setup: &mut Setup) -> Vec<Unread> {
    let seen = seen(setup);
    for (station, (sense, lead)) in stations(setup).zip(seen) {
        station.positive = sense;
        station.lead = lead;
    }
    let mut read = vec![Err(Fate::NoValue); setup.targets.len()];
    let mut worker = Worker::new(setup);
    worker.evaluate(&[], Play::None, &mut read);
    let runs = worker.runs.clone();
    let rules: Vec<_> = (setup.areas.iter())
        .map(|area| {
            let run = runs.get(area.course).copied().unwrap_or(Err(Fate::NoValue));
            run.and_then(|run| worker.rules(area, &run))
        })
        .collect();
    drop(worker);
    let mut why = Vec::new();
    for (target, read) in setup.targets.iter_mut().zip(&read) {
        let rules = match target.kind {
            Kind::Area { area } => rules.get(area).map_or(Ok(()), |r| r.as_ref().map(|_| ())),
            _ => Ok(()),
        };
        why.push(match (read, rules) {
            (Ok(read), Ok(())) => {
                target.correction = target.nominal - read;
                None
            }
            (Err(fate), _) | (_, Err(fate)) => Some(Why::SolvedAnew(*fate)),
        });
    }
    for (area, rules) in setup.areas.iter_mut().zip(rules) {
        let ways = area.rows.iter_mut().filter_map(|row| row.taken_up.as_mut());
        for lane in area.lanes.iter_mut().chain(ways.map(|up| &mut up.way)) {
            lane.by(Rule::FIRST);
        }
        for (lane, rule) in rules.into_iter().flatten() {
            if let Some(lane) = area.lanes.get_mut(lane) {
                lane.by(rule);
            }
        }
    }
    let mut unread = Vec::new();
    let mut why = why.into_iter();
    setup.targets.retain(|target| match why.next().flatten() {
        None => true,
        Some(why) => {
            unread.push(Unread {
                subject: target.subject.clone(),
                why,
                nominal: Some(target.nominal),
            });
            false
        }
    });
    unread
}

/// Sense of the determinant at every station of the nominal tool, and where it goes from there with each dimension;
/// `None` where it does not stand, as where only samples come to.
fn seen(setup: &Setup) -> Vec<(Option<bool>, Vec<f64>)> {
    let mut worker = Worker::new(setup);
    let mut values = Vec::new();
    let swept = setup.sweeps.iter().flat_map(|sweep| &sweep.nodes);
    let met = setup
        .courses
        .iter()
        .flat_map(|course| course.meets.iter().chain(&course.stops));
    let integrated = setup.areas.iter().flat_map(|area| {
        let rows = area.rows.iter().flat_map(|row| {
            std::iter::once(&row.station).chain(row.taken_up.as_ref().map(|up| &up.station))
        });
        rows.chain(area.posts().map(|post| &post.station))
    });
    (setup.stations.iter())
        .chain(swept)
        .chain(met)
        .chain(integrated)
        .map(|station| {
            let none = std::iter::empty();
            let stood = worker.stand(station, Start::Drawn, 0.0, none, &mut values);
            let sense = stood.ok().map(|_| worker.positive);
            let closed = station.sides.is_some() && station.anchor.angle().is_some();
            let lead = match sense {
                Some(_) if !closed => worker.lead(station),
                _ => Vec::new(),
            };
            (sense, lead)
        })
        .collect()
}

/// Every station, in the order of [`seen`].
fn stations<'s>(setup: &'s mut Setup) -> impl Iterator<Item = &'s mut super::place::Station> {
    let swept = setup.sweeps.iter_mut().flat_map(|sweep| &mut sweep.nodes);
    let met = setup
        .courses
        .iter_mut()
        .flat_map(|course| course.meets.iter_mut().chain(&mut course.stops));
    let integrated = setup.areas.iter_mut().flat_map(|area| {
        let rows = area.rows.iter_mut().flat_map(|row| {
            std::iter::once(&mut row.station).chain(row.taken_up.as_mut().map(|up| &mut up.station))
        });
        let posts = area.lanes.iter_mut().flat_map(|lane| &mut lane.posts);
        rows.chain(posts.map(|post| &mut post.station))
    });
    (setup.stations.iter_mut())
        .chain(swept)
        .chain(met)
        .chain(integrated)
}
