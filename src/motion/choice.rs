//! Which of the pairs of places that meet both targets is the stroke.
//!
//! A stroke closes its leading jaw (the file's first) all the way: between its ends the jaw does not stand still, the
//! handle does not stand still, the linkage cannot move on in two ways, and neither target is met
//! again. Two such strokes have no more than an end in common, so at most one of them has the
//! drawn pose within it. That one is taken; where the pose is on none, the nearest along the
//! motion. How near a stroke is does not jump when the pose moves a little past one of its ends.

use super::candidate::{Candidate, Mark, Refusal};
use super::error::MotionError;
use super::events::{Event, Happening};
use super::hits::Stop;
use crate::model::JawId;
use crate::numeric::angle::wrapped;

/// The stroke taken.
pub(super) struct Choice<'a> {
    pub open: &'a Stop,
    pub shut: &'a Stop,
    /// Other strokes that are as near to the drawn pose.
    pub rivals: Vec<[&'a Stop; 2]>,
}

/// Places nearer than this, along the motion, are one: what happens there happens at the end of
/// a stroke, not within it, and a stroke so short is none.
const SAME_PLACE: f64 = 1e-7;
/// A stroke may not end at a change point either: as near as this, along the motion, rounding leaves
/// less than nine digits of the forces.
const AT_CHANGE: f64 = 1e-6;
/// Strokes are as near as one another within this, along the motion: far above what a sketch
/// drawn to 1e-9 leaves open.
const AS_NEAR: f64 = 1e-6;
/// Poses this near, in each coordinate, are one pose, met again on a motion that repeats.
const SAME_POSE: f64 = 1e-6;
/// Pairs named at most where none is a stroke.
const NAMED: usize = 4;

/// A pair of places.
#[derive(Clone, Copy)]
struct Pair<'a> {
    open: &'a Stop,
    shut: &'a Stop,
}

impl<'a> Pair<'a> {
    fn length(self) -> f64 {
        (self.open.place - self.shut.place).abs()
    }

    /// How far the drawn pose is from the way between, and from its farther end.
    fn away(self) -> [f64; 2] {
        let (low, high) = (
            self.open.place.min(self.shut.place),
            self.open.place.max(self.shut.place),
        );
        [low.max(-high).max(0.0), low.abs().max(high.abs())]
    }

    fn same(self, other: Self) -> bool {
        same_pose(&self.open.q, &other.open.q) && same_pose(&self.shut.q, &other.shut.q)
    }

    /// Told in the way of [`told`], with why it is no stroke.
    fn refused(self, refusal: Refusal) -> Candidate {
        let off = turns_off(self.open.handle);
        let [open, shut] = [self.open, self.shut].map(|stop| Mark::of_lead(stop).less(off));
        Candidate {
            open,
            shut,
            refusal: match refusal {
                Refusal::Opens => Refusal::Opens,
                Refusal::Past(what, at) => Refusal::Past(what, at.less(off)),
                Refusal::Again(end, at) => Refusal::Again(end, at.less(off)),
            },
        }
    }
}

/// Whether two poses are one but for whole turns.
pub(super) fn same_pose(a: &[f64], b: &[f64]) -> bool {
    a.iter()
        .zip(b)
        .all(|(p, q)| wrapped(p - q).abs() < SAME_POSE)
}

/// Whole turns to take off handle angles, so that this one is in (−π, π].
pub(super) fn turns_off(open: f64) -> f64 {
    open - wrapped(open)
}

/// Both ends, the handle angles with the open one in (−π, π].
pub(super) fn marks_of(open: &Stop, shut: &Stop) -> [Mark; 2] {
    let off = turns_off(open.handle);
    [open, shut].map(|stop| Mark::of(stop).less(off))
}

/// What no stroke may go through, in order along the motion.
struct Barriers(Vec<(f64, Refusal)>);

impl Barriers {
    fn new(open: &[Stop], shut: &[Stop], events: &[Event], lengths: &[f64], lead: JawId) -> Self {
        let mut all: Vec<(f64, Refusal)> = events
            .iter()
            .filter(|event| event.ends_strokes(lead))
            .filter_map(|event| {
                let place = lengths.get(event.spot.node)? + event.spot.ahead;
                let at = Mark {
                    handle: event.handle,
                    gap: event.lead_gap,
                };
                Some((place, Refusal::Past(event.what, at)))
            })
            .collect();
        for (end, stops) in [("open", open), ("shut", shut)] {
            all.extend(
                stops
                    .iter()
                    .map(|s| (s.place, Refusal::Again(end, Mark::of_lead(s)))),
            );
        }
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        Self(all)
    }

    /// Those strictly between the ends of a pair, in the order of the stroke.
    fn between(&self, pair: Pair) -> impl Iterator<Item = Refusal> {
        let (from, to) = (pair.open.place, pair.shut.place);
        let low = from.min(to) + SAME_PLACE;
        let high = from.max(to) - SAME_PLACE;
        let first = self.0.partition_point(|b| b.0 <= low);
        let last = self.0.partition_point(|b| b.0 < high).max(first);
        let inside = self.0.get(first..last).unwrap_or_default();
        let backward = to < from;
        (0..inside.len())
            .filter_map(move |k| inside.get(if backward { inside.len() - 1 - k } else { k }))
            .map(|b| b.1)
    }

    /// A change point at an end of a pair.
    fn change_at_end(&self, pair: Pair) -> Option<Refusal> {
        let change = |r: &Refusal| matches!(r, Refusal::Past(Happening::ChangePoint, _));
        [pair.open.place, pair.shut.place]
            .into_iter()
            .find_map(|end| {
                let first = self.0.partition_point(|b| b.0 < end - AT_CHANGE);
                let near = self.0.iter().skip(first);
                let near = near.take_while(|b| b.0 <= end + AT_CHANGE);
                near.map(|b| b.1).find(change)
            })
    }

    /// Why a pair is no stroke, if it is none: what happens on the way before a target met again,
    /// for that is why the target is met again.
    fn refuse(&self, pair: Pair) -> Option<Refusal> {
        let past = |r: &Refusal| matches!(r, Refusal::Past(..));
        self.change_at_end(pair)
            .or_else(|| self.between(pair).find(past))
            .or_else(|| self.between(pair).next())
            .or_else(|| (pair.shut.lead_gap >= pair.open.lead_gap).then_some(Refusal::Opens))
    }
}

/// The stroke among the places `open` and `shut` that meet the targets, on which the jaw `lead` closes.
pub(super) fn choose<'a>(
    open: &'a [Stop],
    shut: &'a [Stop],
    events: &[Event],
    lengths: &[f64],
    lead: JawId,
) -> Result<Choice<'a>, MotionError> {
    let barriers = Barriers::new(open, shut, events, lengths, lead);
    let pairs = || {
        open.iter()
            .flat_map(|open| shut.iter().map(move |shut| Pair { open, shut }))
    };
    let strokes: Vec<Pair> = pairs()
        .filter(|&pair| pair.length() >= SAME_PLACE && barriers.refuse(pair).is_none())
        .collect();
    let nearest = strokes
        .iter()
        .map(|pair| pair.away()[0])
        .fold(f64::INFINITY, f64::min);
    let mut near: Vec<Pair> = strokes
        .into_iter()
        .filter(|pair| pair.away()[0] <= nearest + AS_NEAR)
        .collect();
    near.sort_by(|a, b| a.away()[1].total_cmp(&b.away()[1]));
    let Some((&taken, others)) = near.split_first() else {
        return Err(none(&pairs().collect::<Vec<_>>(), &barriers));
    };
    let mut rivals: Vec<Pair> = Vec::new();
    for &pair in others {
        if !pair.same(taken) && !rivals.iter().any(|r| r.same(pair)) {
            rivals.push(pair);
        }
    }
    Ok(Choice {
        open: taken.open,
        shut: taken.shut,
        rivals: rivals.into_iter().map(|p| [p.open, p.shut]).collect(),
    })
}

/// What to say where no pair is a stroke.
fn none(pairs: &[Pair], barriers: &Barriers) -> MotionError {
    if pairs.iter().any(|pair| pair.length() < SAME_PLACE) {
        return MotionError::NoStroke;
    }
    let mut refused: Vec<(Pair, Refusal)> = pairs
        .iter()
        .filter_map(|&pair| Some((pair, barriers.refuse(pair)?)))
        .collect();
    let opens = |refusal: &Refusal| *refusal == Refusal::Opens;
    let any = refused.iter().any(|(_, why)| opens(why));
    // The one whose farther end is least far from the sketch is the one that was meant, as a rule;
    // one on which the jaw opens all the way before one that turns back.
    refused.sort_by(|(a, why_a), (b, why_b)| {
        opens(why_b)
            .cmp(&opens(why_a))
            .then(a.away()[1].total_cmp(&b.away()[1]))
    });
    let mut named: Vec<(Pair, Refusal)> = Vec::new();
    for (pair, why) in refused {
        if !named.iter().any(|(known, _)| known.same(pair)) {
            named.push((pair, why));
        }
        if named.len() > NAMED {
            break;
        }
    }
    let more = named.len() > NAMED;
    let candidates = named
        .into_iter()
        .take(NAMED)
        .map(|(pair, why)| pair.refused(why))
        .collect();
    if any {
        MotionError::Opens {
            candidates,
            more,
            spread: None,
        }
    } else {
        MotionError::NoneCloses { candidates, more }
    }
}
