//! The survey of a tool's motion: what happens on it, and where the stroke's targets are met.

use super::assemble::assemble;
use super::error::{MotionError, Quantity, Reach};
use super::path::{Path, Spot};
use super::signal::Signal;
use super::solver::Solver;
use crate::mechanism::{Linkage, freedom, looseness};
use crate::model::Stroke;
use crate::numeric::angle::wrapped;

/// Something that happens at a place of the motion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Happening {
    /// This jaw stands still.
    Toggle(usize),
    /// The two points of this jaw, which has no stated axis, meet.
    Contact(usize),
    /// The handle stands still.
    Dead,
    /// The linkage can move on in two ways.
    ChangePoint,
}

/// Where something happens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Event {
    /// What.
    pub what: Happening,
    /// Where on the path.
    pub spot: Spot,
    /// Handle angle there, rad.
    pub handle: f64,
    /// Gap of the jaw concerned (otherwise the first), mm.
    pub gap: f64,
}

/// The whole motion and the stroke found on it.
#[derive(Debug, Clone)]
pub struct Survey {
    /// The motion.
    pub path: Path,
    /// Arc length of every node from the assembled position.
    pub lengths: Vec<f64>,
    /// Handle angle at every node, rad.
    pub handles: Vec<f64>,
    /// All that happens, in order along the path.
    pub events: Vec<Event>,
    /// Open end of the stroke.
    pub open: Spot,
    /// Shut end of the stroke.
    pub shut: Spot,
    /// Other places where the open and shut targets are met: handle angle (rad) and gap (mm).
    pub others: Vec<(&'static str, f64, f64)>,
    /// Gap of the first jaw over the whole motion, mm.
    pub gaps: Reach,
    /// Whole turns (rad) taken off handle angles, so that the open one is in (−π, π]. Taken off
    /// the events' angles, not off `handles`.
    pub turns_off: f64,
}

/// Extremes nearer than this (over the tool's size, or rad) to a target meet it.
const MEETS: f64 = 1e-9;

/// Assembles the linkage, follows its motion both ways and finds the stroke.
///
/// # Errors
/// What keeps the linkage from it, see [`MotionError`].
pub fn survey(linkage: &Linkage, stroke: &Stroke) -> Result<Survey, MotionError> {
    let mut solver = Solver::new(linkage);
    let pose = assemble(linkage).map_err(|open| MotionError::Open {
        row: open.row,
        distance: open.distance,
    })?;
    let freedom = freedom(linkage, &pose);
    match freedom.degrees {
        0 => return Err(MotionError::Rigid),
        1 => {}
        degrees => {
            if movable_nearby(linkage, &pose.q) {
                return Err(MotionError::ChangeAtSketch);
            }
            let parts = looseness(linkage, &pose).bodies;
            return Err(MotionError::Loose { degrees, parts });
        }
    }
    let path = Path::trace(&mut solver, &pose.q, freedom);
    let lengths = lengths(&path);
    let jaws = linkage.jaws.len();
    let mut signals: Vec<Signal> = (0..jaws).map(Signal::GapRate).collect();
    signals.extend([Signal::HandleRate, Signal::Handle, Signal::Gap(0)]);
    let columns = path.read(&mut solver, &signals);
    let still = |column: &[Option<f64>], scale: f64| {
        column.iter().flatten().all(|v| v.abs() < 1e-9 * scale)
    };
    for jaw in 0..jaws {
        if still(&columns[jaw], linkage.size) {
            return Err(MotionError::StillJaw(jaw));
        }
    }
    let handles: Vec<f64> = columns[jaws + 1].iter().map(|v| v.unwrap_or(0.0)).collect();
    let events = events(&path, &mut solver, &columns, still(&columns[jaws], 1.0));
    let reach = |column: &[Option<f64>], extremes: &[f64]| {
        let all = || column.iter().flatten().chain(extremes);
        Reach {
            low: all().fold(f64::INFINITY, |a, &b| a.min(b)),
            high: all().fold(f64::NEG_INFINITY, |a, &b| a.max(b)),
        }
    };
    let mut ends = Vec::new();
    for (end, target) in [("open", stroke.open), ("shut", stroke.shut)] {
        let (quantity, value) = Quantity::of(target);
        let found = hits(&path, &mut solver, Signal::of(linkage, target), value);
        if found.spots.is_empty() {
            return Err(MotionError::Unreachable {
                end,
                quantity,
                value,
                reach: reach(&found.values, &found.extremes),
                passing: passing(linkage, quantity, value, &found.extremes),
                cut_short: path.cut_short(),
            });
        }
        ends.push(found);
    }
    let gap_column = &columns[jaws + 2];
    let gaps = reach(
        gap_column,
        &events
            .iter()
            .filter(|e| first_jaw(e))
            .map(|e| e.gap)
            .collect::<Vec<_>>(),
    );
    let (open, shut) = choose(&ends[0].spots, &ends[1].spots, &events, &lengths, |spot| {
        path.stand(&mut solver, spot)
            .map_or(0.0, |_| linkage.handle(&solver.pose.q))
    })?;
    let same = |a: &[f64], b: &[f64]| a.iter().zip(b).all(|(p, q)| wrapped(p - q).abs() < 1e-6);
    let mut known: Vec<Vec<f64>> = Vec::new();
    for spot in [open, shut] {
        path.stand(&mut solver, spot)
            .ok_or(MotionError::Unsolved { travel: 0.0 })?;
        known.push(solver.pose.q.clone());
    }
    let open_handle = known.first().map_or(0.0, |q| linkage.handle(q));
    let turns_off = open_handle - wrapped(open_handle);
    let mut others = Vec::new();
    for (end, spots) in [("open", &ends[0].spots), ("shut", &ends[1].spots)] {
        for &spot in spots {
            if path.stand(&mut solver, spot).is_some()
                && !known.iter().any(|q| same(q, &solver.pose.q))
            {
                known.push(solver.pose.q.clone());
                let gap = linkage.gap(&solver.pose, &linkage.jaws[0]);
                others.push((end, wrapped(linkage.handle(&solver.pose.q)), gap));
            }
        }
    }
    let mut events = events;
    for event in &mut events {
        event.handle -= turns_off;
    }
    Ok(Survey {
        path,
        lengths,
        handles,
        events,
        open,
        shut,
        others,
        gaps,
        turns_off,
    })
}

fn first_jaw(event: &Event) -> bool {
    matches!(event.what, Happening::Toggle(0) | Happening::Contact(0))
}

/// Whether a linkage that has more than one freedom at `q` loses them when it is put together a
/// little way off: then it stands at a change point.
fn movable_nearby(linkage: &Linkage, q: &[f64]) -> bool {
    let mut near = linkage.clone();
    near.sketch = q
        .iter()
        .enumerate()
        .map(|(k, v)| v + 0.02 * (1.0 + k as f64).sin())
        .collect();
    assemble(&near).is_ok_and(|pose| freedom(&near, &pose).degrees <= 1)
}

/// Arc length of every node, from the assembled position.
fn lengths(path: &Path) -> Vec<f64> {
    let mut sums = vec![0.0];
    for k in 1..path.nodes.len() {
        sums.push(sums[k - 1] + path.reach(k - 1));
    }
    let zero = sums.get(path.start).copied().unwrap_or(0.0);
    sums.iter().map(|s| s - zero).collect()
}

fn events(
    path: &Path,
    solver: &mut Solver,
    columns: &[Vec<Option<f64>>],
    no_turn: bool,
) -> Vec<Event> {
    let linkage = solver.linkage;
    let jaws = linkage.jaws.len();
    let mut found = Vec::new();
    for jaw in 0..jaws {
        for spot in path.zeros(solver, Signal::GapRate(jaw), &columns[jaw]) {
            if path.stand(solver, spot).is_some() {
                let frame = &linkage.jaws[jaw];
                let touching =
                    frame.axis.is_none() && linkage.jaw_axis(&solver.pose, frame).is_none();
                let what = if touching {
                    Happening::Contact(jaw)
                } else {
                    Happening::Toggle(jaw)
                };
                found.push(here(solver, what, spot, jaw));
            }
        }
    }
    if !no_turn {
        for spot in path.zeros(solver, Signal::HandleRate, &columns[jaws]) {
            if path.stand(solver, spot).is_some() {
                found.push(here(solver, Happening::Dead, spot, 0));
            }
        }
    }
    for spot in path.change_points(solver) {
        path.pass(solver, spot);
        found.push(here(solver, Happening::ChangePoint, spot, 0));
    }
    found.sort_by(|a, b| {
        a.spot
            .node
            .cmp(&b.spot.node)
            .then(a.spot.ahead.total_cmp(&b.spot.ahead))
    });
    found
}

fn here(solver: &Solver, what: Happening, spot: Spot, jaw: usize) -> Event {
    let linkage = solver.linkage;
    Event {
        what,
        spot,
        handle: linkage.handle(&solver.pose.q),
        gap: linkage.gap(&solver.pose, &linkage.jaws[jaw]),
    }
}

struct Hits {
    spots: Vec<Spot>,
    values: Vec<Option<f64>>,
    extremes: Vec<f64>,
}

/// All places where `signal` is `value`, also where it only just touches it at an extreme.
fn hits(path: &Path, solver: &mut Solver, signal: Signal, value: f64) -> Hits {
    let mut signals = vec![signal];
    signals.extend(signal.rate());
    let mut columns = path.read(solver, &signals);
    let rates = if columns.len() > 1 {
        columns.pop().unwrap_or_default()
    } else {
        Vec::new()
    };
    let values = columns.pop().unwrap_or_default();
    let scale = if signal == Signal::Handle {
        1.0
    } else {
        solver.linkage.size
    };
    let mut extremes: Vec<(Spot, f64)> = Vec::new();
    if let Some(rate) = signal.rate() {
        for spot in path.zeros(solver, rate, &rates) {
            if let Some(t) = path.stand(solver, spot) {
                extremes.push((spot, signal.read(solver, &t)));
            }
        }
    }
    let mut spots = Vec::new();
    for level in levels(signal, value, &values) {
        for k in 0..path.nodes.len().saturating_sub(1) {
            let (Some(Some(a)), Some(Some(b))) = (values.get(k), values.get(k + 1)) else {
                continue;
            };
            let mut knots = vec![(0.0, a - level)];
            let inner = extremes.iter().filter(|(s, _)| s.node == k);
            knots.extend(inner.map(|(s, v)| {
                (
                    s.ahead,
                    if (v - level).abs() < MEETS * scale {
                        0.0
                    } else {
                        v - level
                    },
                )
            }));
            knots.push((path.reach(k), b - level));
            knots.sort_by(|p, q| p.0.total_cmp(&q.0));
            for pair in knots.windows(2) {
                let ((low, fa), (high, fb)) = (pair[0], pair[1]);
                if fa == 0.0 {
                    spots.push(Spot {
                        node: k,
                        ahead: low,
                    });
                } else if fa != 0.0 && fb != 0.0 && (fa > 0.0) != (fb > 0.0) {
                    spots.extend(path.root_between(solver, signal, level, k, [low, high]));
                }
            }
        }
    }
    Hits {
        spots,
        values,
        extremes: extremes.into_iter().map(|(_, v)| v).collect(),
    }
}

/// The values that meet a target: a handle angle is met modulo whole turns.
fn levels(signal: Signal, value: f64, values: &[Option<f64>]) -> Vec<f64> {
    if signal != Signal::Handle {
        return vec![value];
    }
    let turn = std::f64::consts::TAU;
    let low = values
        .iter()
        .flatten()
        .fold(f64::INFINITY, |a, &b| a.min(b));
    let high = values
        .iter()
        .flatten()
        .fold(f64::NEG_INFINITY, |a, &b| a.max(b));
    if !(low.is_finite() && high.is_finite()) {
        return vec![value];
    }
    let (first, last) = (
        ((low - value) / turn).floor() as i64,
        ((high - value) / turn).ceil() as i64,
    );
    (first..=last).map(|k| value + k as f64 * turn).collect()
}

/// How near the points of a jaw without a stated axis come, if that is why its gap misses a
/// target.
fn passing(linkage: &Linkage, quantity: Quantity, value: f64, extremes: &[f64]) -> Option<f64> {
    let jaw = linkage.jaws.first()?;
    let least = extremes.iter().fold(f64::INFINITY, |a, &b| a.min(b)) + jaw.closed;
    let near = quantity == Quantity::Gap && jaw.axis.is_none() && value + jaw.closed < least;
    (near && least < 0.05 * linkage.size).then_some(least)
}

/// The open/shut pair nearest the assembled position with no toggle of the first jaw and no
/// change point between them. `handle` gives the handle angle at a place: what is in the way is
/// told with the open one in (−π, π].
fn choose(
    open: &[Spot],
    shut: &[Spot],
    events: &[Event],
    lengths: &[f64],
    handle: impl FnOnce(Spot) -> f64,
) -> Result<(Spot, Spot), MotionError> {
    let place = |s: Spot| lengths.get(s.node).copied().unwrap_or(0.0) + s.ahead;
    let barriers: Vec<(f64, &Event)> = events
        .iter()
        .filter(|e| first_jaw(e) || e.what == Happening::ChangePoint)
        .map(|e| (place(e.spot), e))
        .collect();
    let mut best: Option<(bool, f64, f64, Spot, Spot)> = None;
    for &o in open {
        for &s in shut {
            let (low, high) = (place(o).min(place(s)), place(o).max(place(s)));
            if high - low < 1e-9 {
                continue;
            }
            let blocked = barriers
                .iter()
                .any(|(b, _)| *b > low + 1e-7 && *b < high - 1e-7);
            // Of strokes that cannot be the shortest is named: it is the one that was meant.
            let away = if blocked {
                high - low
            } else {
                low.max(-high).max(0.0)
            };
            let candidate = (blocked, away, low.abs() + high.abs(), o, s);
            let better = best.is_none_or(|b| {
                (candidate.0, candidate.1, candidate.2).partial_cmp(&(b.0, b.1, b.2))
                    == Some(std::cmp::Ordering::Less)
            });
            if better {
                best = Some(candidate);
            }
        }
    }
    let Some((blocked, _, _, o, s)) = best else {
        return Err(MotionError::NoStroke);
    };
    if !blocked {
        return Ok((o, s));
    }
    // The barrier met first on the way from open.
    let (from, to) = (place(o), place(s));
    let inside = |b: f64| b > from.min(to) + 1e-7 && b < from.max(to) - 1e-7;
    let first = barriers
        .iter()
        .filter(|(b, _)| inside(*b))
        .min_by(|a, b| (a.0 - from).abs().total_cmp(&(b.0 - from).abs()));
    let Some((_, event)) = first else {
        return Err(MotionError::NoStroke);
    };
    let open_handle = handle(o);
    let handle = event.handle - (open_handle - wrapped(open_handle));
    let gap = event.gap;
    Err(if event.what == Happening::ChangePoint {
        MotionError::PastChangePoint { handle, gap }
    } else {
        MotionError::PastToggle { handle, gap }
    })
}
