//! What happens on the whole motion, and in which order the tool comes by it.

use crate::analysis::Solved;
use crate::model::{JawId, Met, Tool};
use crate::motion::{Event, Happening};
use crate::numeric::angle::wrapped;
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// Something on the motion in one line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EventLine {
    /// What it is.
    pub what: String,
    /// Handle angle.
    pub handle: f64,
    /// Gap of the first jaw, or of the jaw concerned.
    pub gap: f64,
    /// Within the stroke.
    pub in_stroke: bool,
    /// Its turn among all of the motion, the way the tool closes: before open, on the stroke, beyond shut.
    #[serde(skip)]
    pub rank: usize,
    /// On the stroke, or the next before open or beyond shut.
    #[serde(skip)]
    pub near: bool,
}

/// The part of the motion in which something happens, the way the tool closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    BeforeOpen,
    Stroke,
    BeyondShut,
}

/// Every event once, in the order in which the motion was followed.
pub(super) fn events(tool: &Tool, solved: &Solved, units: UnitSystem) -> Vec<EventLine> {
    let mut found: Vec<(Part, f64, EventLine)> = Vec::new();
    let survey = &solved.survey;
    let forth = survey.open.before(survey.shut);
    let open = solved.positions.first().map_or(0.0, |p| p.handle);
    for (k, event) in survey.events.iter().enumerate() {
        let line = line(tool, event, solved, units);
        let same = |(.., o): &&mut (Part, f64, EventLine)| {
            o.what == line.what
                && (o.handle - line.handle).abs() < 1e-6
                && (o.gap - line.gap).abs() < 1e-6
        };
        let passed = |end| match forth {
            true => !event.spot.before(end),
            false => !end.before(event.spot),
        };
        let part = match line.in_stroke {
            true => Part::Stroke,
            false if passed(survey.shut) => Part::BeyondShut,
            false if passed(survey.open) => Part::Stroke,
            false => Part::BeforeOpen,
        };
        let along = match part {
            Part::Stroke => (event.handle - open).abs(),
            _ if forth => k as f64,
            _ => -(k as f64),
        };
        match found.iter_mut().find(same) {
            Some((known, place, o)) => {
                if line.in_stroke {
                    (*known, *place, o.in_stroke) = (part, along, true);
                }
            }
            None => found.push((part, along, line)),
        }
    }
    if let Some((handle, line)) = end_of_forces(tool, solved, units) {
        found.push((Part::Stroke, (handle - open).abs(), line));
    }
    in_turn(found)
}

/// Puts in the ranks, and which are next to the stroke.
fn in_turn(mut found: Vec<(Part, f64, EventLine)>) -> Vec<EventLine> {
    let mut order: Vec<usize> = (0..found.len()).collect();
    let key = |k: &usize| found.get(*k).map_or((Part::Stroke, 0.0), |f| (f.0, f.1));
    order.sort_by(|a, b| {
        let (a, b) = (key(a), key(b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    let of = |part: Part| order.iter().copied().filter(move |k| key(k).0 == part);
    let (before, beyond) = (of(Part::BeforeOpen), of(Part::BeyondShut));
    // A motion that is a closed loop comes round from its one end to the other.
    let round = |mut all: Vec<usize>, last: bool| {
        if last {
            all.pop()
        } else {
            all.drain(..).next()
        }
    };
    let (before, beyond): (Vec<_>, Vec<_>) = (before.collect(), beyond.collect());
    let last = round(before.clone(), true).or_else(|| round(beyond.clone(), true));
    let next = round(beyond, false).or_else(|| round(before, false));
    let near: Vec<usize> = of(Part::Stroke).chain(last).chain(next).collect();
    for (rank, k) in order.iter().enumerate() {
        if let Some((.., line)) = found.get_mut(*k) {
            line.rank = rank;
            line.near = near.contains(k);
        }
    }
    found.into_iter().map(|(.., line)| line).collect()
}

fn line(tool: &Tool, event: &Event, solved: &Solved, units: UnitSystem) -> EventLine {
    let jaw = |j: JawId| tool.jaw(j).map_or("", |jaw| jaw.name.as_str());
    let what = match event.what {
        Happening::Toggle(j) => format!("toggle of jaw `{}`", jaw(j)),
        Happening::Contact(j) => format!("contact of jaw `{}`", jaw(j)),
        Happening::Dead => "dead position of the handle".to_owned(),
        Happening::TurnsBack => "turn of the handle's angle".to_owned(),
        Happening::ChangePoint => "change point".to_owned(),
    };
    let in_stroke = solved.events.contains(event);
    let handle = match in_stroke {
        true => event.handle,
        false => wrapped(event.handle),
    };
    EventLine {
        what,
        handle: units.show(handle, Quantity::Angle),
        gap: units.show(event.gap, Quantity::Length),
        in_stroke,
        rank: 0,
        near: false,
    }
}

/// What ends the stroke for the forces before it is shut, and the handle angle there.
fn end_of_forces(tool: &Tool, solved: &Solved, units: UnitSystem) -> Option<(f64, EventLine)> {
    let meets = solved.meets?;
    let at = solved.positions.get(meets.position)?;
    let what = match meets.what {
        Met::Dies(j) => {
            let jaw = tool.jaw(j).map_or("", |jaw| jaw.name.as_str());
            format!("dies of jaw `{jaw}` meet, the stroke ends")
        }
        Met::Face(cam) => {
            let cam = tool.cams.get(cam).map(|own| own.label(cam));
            let cam = cam.unwrap_or_default();
            format!("the face of cam `{cam}` ends, and the stroke")
        }
        Met::Stop(s) => {
            let stop = tool.stop(s).map_or("", |stop| stop.name.as_str());
            format!("stop `{stop}` is met, the stroke ends")
        }
    };
    let line = EventLine {
        what,
        handle: units.show(at.handle, Quantity::Angle),
        gap: units.show(at.gap.first().copied().unwrap_or(0.0), Quantity::Length),
        in_stroke: true,
        rank: 0,
        near: false,
    };
    Some((at.handle, line))
}
