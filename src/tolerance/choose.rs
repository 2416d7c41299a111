//! Where the peaks of samples may stand, so that they are read there only: told by the curve of the tool
//! with its play taken up, read thickly, and by how its nodes move with every deviation.
//!
//! A place can be a sample's peak only if it comes up to the top: its value, and [`REACH`] standard
//! deviations of its difference to the top, to first order. Between two nodes the deviation goes straight
//! from the one to the other, and to nothing at the top itself.

use super::choice::{Along, Choice, Fall, Foretold, Top};
use super::fate::Fate;
use super::sample::{Spread, Variable};
use super::sweep::NODES;
use super::target::Kind;
use super::worker::{Setup, Worker};

/// From so many samples on they are read where peaks may stand only; fewer are read over their whole
/// stroke.
pub const READ_IN_PART: usize = 512;
/// Standard deviations that a place must be below the top by, not to be read.
const REACH: f64 = 6.0;
/// Places in each interval at which the curve is read.
const THICK: usize = 8;
/// How far a curve may be above a corner of the work, relative, beside which it falls to both sides: at the
/// corner the play is another one.
const AT_CORNER: f64 = 1e-4;

/// A reading with how it moves by every deviation.
#[derive(Debug, Clone)]
pub(super) struct Moving {
    pub(super) value: Result<f64, Fate>,
    pub(super) slopes: Vec<f64>,
}

/// What is read along the stroke of the tool with its play taken up.
pub(super) struct Seen<'s> {
    pub(super) variables: &'s [Variable],
    pub(super) spread: Spread,
    /// For each sweep, what is read at its nodes: as [`Worker::curves`].
    pub(super) curves: &'s [Vec<Moving>],
    /// What is read where the work turns: as [`Worker::turns`].
    pub(super) turns: &'s [Moving],
}

/// A place that may be the top.
#[derive(Debug, Clone)]
struct Place {
    /// Intervals from open.
    at: f64,
    /// None is below all.
    value: f64,
    /// Change for one standard deviation of each that deviates.
    moves: Vec<f64>,
}

/// The curve of one measure.
struct Line<'m> {
    nodes: Vec<Option<Place>>,
    /// Places where the work turns, with their stations.
    turns: Vec<(usize, Place)>,
    /// Their slopes.
    turned: Vec<&'m [f64]>,
    /// Values, [`THICK`] in each interval.
    curve: Vec<f64>,
    own: Vec<&'m Moving>,
    sense: f64,
}

/// Where samples are read; `worker` has just read the tool with its play taken up.
pub(super) fn choose(setup: &Setup, worker: &mut Worker, seen: &Seen) -> Choice {
    let mut nodes = vec![[false; NODES + 1]; setup.sweeps.len()];
    let turned = worker.turns.clone();
    let mut tops = Vec::with_capacity(setup.targets.len());
    for (t, target) in setup.targets.iter().enumerate() {
        let mut top = Top::Unknown;
        if let Kind::Sweep {
            sweep,
            measure,
            sense,
        } = target.kind
        {
            let own = turned.iter().zip(seen.turns);
            let own = own.filter(|((turn, ..), _)| *turn == t);
            let turns: Vec<_> = own.map(|(turn, moving)| (turn.1, moving)).collect();
            let line = Line::new(setup, worker, seen, (sweep, measure, sense), &turns);
            top = line.and_then(|line| line.top()).unwrap_or(Top::Unknown);
            if let (Top::End(node), Some(nodes)) = (&top, nodes.get_mut(sweep)) {
                nodes[*node] = true;
            }
        }
        tops.push(top);
    }
    Choice { nodes, tops }
}

impl<'m> Line<'m> {
    /// `None` where something cannot be told.
    fn new(
        setup: &Setup,
        worker: &mut Worker,
        seen: &'m Seen,
        (sweep, measure, sense): (usize, usize, f64),
        turns: &[(usize, &'m Moving)],
    ) -> Option<Self> {
        let count = setup.sweeps.get(sweep)?.measures.len();
        let run = worker.runs.get(setup.sweeps.get(sweep)?.course)?.ok()?;
        let [open, end] = run.paces;
        let place = |at: f64, moving: &Moving| {
            let value = sense * moving.value.ok()?;
            let moves = seen.moves(&moving.slopes, sense);
            Some(moves.map(|moves| Place { at, value, moves }))
        };
        let (mut placed, mut turned) = (Vec::new(), Vec::new());
        for &(station, moving) in turns {
            let (pace, _) = worker.stood(station).ok()?;
            let at = (pace - open) / (end - open) * NODES as f64;
            // Beyond the stroke no peak stands.
            if (-1e-6..=NODES as f64 + 1e-6).contains(&at) {
                placed.push((station, place(at, moving)??));
                turned.push(moving.slopes.as_slice());
            }
        }
        let own: Vec<&Moving> = (seen.curves.get(sweep)?.iter())
            .skip(measure)
            .step_by(count)
            .collect();
        let mut nodes = Vec::with_capacity(NODES + 1);
        for (k, moving) in own.iter().enumerate() {
            nodes.push(match place(k as f64, moving) {
                Some(known) => Some(known?),
                None => None,
            });
        }
        let curve = (0..=NODES * THICK).map(|k| {
            let value = worker.look(sweep, measure, k as f64 / THICK as f64);
            value.map_or(f64::NEG_INFINITY, |v| sense * v)
        });
        Some(Self {
            turns: placed,
            turned,
            curve: curve.collect(),
            nodes,
            own,
            sense,
        })
        .filter(|line| line.nodes.len() == NODES + 1)
    }

    /// Where the peak may stand.
    fn top(&self) -> Option<Top> {
        let Self { turns, curve, .. } = self;
        let last = curve.len() - 1;
        let best = (0..=last).max_by(|a, b| curve[*a].total_cmp(&curve[*b]))?;
        let greatest = curve.get(best).copied().filter(|v| v.is_finite())?;
        let corner = (turns.iter())
            .max_by(|a, b| a.1.value.total_cmp(&b.1.value))
            .filter(|(_, corner)| corner.value + AT_CORNER * corner.value.abs() >= greatest);
        let (alone, highest, slack) = match corner {
            Some((station, corner)) => {
                let slack = AT_CORNER * corner.value.abs();
                (Some(Top::Corner(*station)), corner.clone(), slack)
            }
            None if best == 0 => (Some(Top::End(0)), self.between(0.0)?, 0.0),
            None if best == last => (Some(Top::End(NODES)), self.between(NODES as f64)?, 0.0),
            None => (None, self.between(best as f64 / THICK as f64)?, 0.0),
        };
        let level = highest.value.max(greatest);
        let reaches = |value: f64, off: f64| value + REACH * off >= level + slack;
        let mut read = [false; NODES + 1];
        let mut elsewhere = false;
        let beside = match alone {
            Some(Top::Corner(_)) => [self.falls(&highest, -1.0), self.falls(&highest, 1.0)],
            _ => [-1.0, 1.0].map(|side| highest.at + 0.5 * side / THICK as f64),
        };
        for (k, &value) in curve.iter().enumerate() {
            let at = k as f64 / THICK as f64;
            let beside = (beside[0]..=beside[1]).contains(&at);
            if !value.is_finite() || beside {
                continue;
            }
            if reaches(value, self.off(&highest, at)?) {
                elsewhere = true;
                read[at.round() as usize] = true;
            }
        }
        let mut corners = Vec::new();
        for (station, turn) in turns {
            let own = turn.at == highest.at && turn.value == highest.value;
            if own || reaches(turn.value, turn.off(&highest)) {
                elsewhere = elsewhere || !own;
                corners.push(*station);
            }
        }
        if let Some(alone) = alone.as_ref().filter(|_| !elsewhere) {
            return Some(alone.clone());
        }
        read[(highest.at.round().max(0.0) as usize).min(NODES)] = true;
        let foretold = |node: usize| {
            let place = self.nodes.get(node)?.as_ref()?;
            let half = THICK / 2;
            let near = (node * THICK).saturating_sub(half)..=(node * THICK + half).min(last);
            let top = (curve.get(near)?.iter()).fold(place.value, |most, v| most.max(*v));
            let own = self.slopes(node as f64)?;
            let ahead = self.slopes(highest.at.clamp(0.0, NODES as f64))?;
            Some(Foretold {
                node,
                value: place.value,
                rise: top - place.value,
                beside: own.iter().zip(&ahead).map(|(a, b)| a - b).collect(),
                slopes: own,
                spread: place.off(&highest),
            })
        };
        let nodes = (0..=NODES).filter(|&k| read[k]).filter_map(foretold);
        let nodes: Vec<Foretold> = nodes.collect();
        let corner = match &alone {
            Some(Top::Corner(station)) => {
                let own = self.turns.iter().position(|(own, _)| own == station)?;
                let corner = Foretold {
                    value: highest.value,
                    slopes: self
                        .turned
                        .get(own)?
                        .iter()
                        .map(|s| self.sense * s)
                        .collect(),
                    node: 0,
                    rise: 0.0,
                    beside: Vec::new(),
                    spread: 0.0,
                };
                Some((corner, [-1.0, 1.0].map(|side| self.fall(&highest, side))))
            }
            _ => None,
        };
        Some(Top::Along(Box::new(Along {
            nodes,
            corners,
            corner,
        })))
    }

    /// How the curve falls on from the node next to a corner to the one beyond.
    fn fall(&self, corner: &Place, side: f64) -> Option<Fall> {
        let (next, beyond) = self.beyond(corner, side)?;
        let slopes = (self.slopes(next.at)?.iter().zip(&self.slopes(beyond.at)?))
            .map(|(a, b)| a - b)
            .collect();
        Some(Fall {
            node: next.at as usize,
            value: next.value - beyond.value,
            slopes,
            spread: next.off(beyond),
        })
    }

    /// The two nodes to a side of a corner, where the curve falls to the first of them.
    fn beyond(&self, corner: &Place, side: f64) -> Option<(&Place, &Place)> {
        let next = if side < 0.0 {
            corner.at.ceil() - 1.0
        } else {
            corner.at.floor() + 1.0
        };
        let node = |at: f64| {
            let at = Some(at).filter(|at| (0.0..=NODES as f64).contains(at))?;
            self.nodes.get(at as usize)?.as_ref()
        };
        let (next, beyond) = (node(next)?, node(next + side)?);
        (corner.value > next.value).then_some((next, beyond))
    }

    /// How far the curve falls to a side from where the work turns, in all samples: to the next node, if it
    /// falls on to the one beyond by more than it may be off there. The corner itself moves past the nodes,
    /// so that what they are off against it tells nothing.
    fn falls(&self, corner: &Place, side: f64) -> f64 {
        match self.beyond(corner, side) {
            Some((next, beyond)) if beyond.value + REACH * beyond.off(next) < next.value => next.at,
            _ => corner.at + 0.5 * side / THICK as f64,
        }
    }

    /// Standard deviation of the difference of a place to the highest one. In the interval of that it
    /// grows from nothing.
    fn off(&self, highest: &Place, at: f64) -> Option<f64> {
        let node = if at < highest.at {
            (highest.at.ceil() - 1.0).max(0.0)
        } else {
            highest.at.floor() + 1.0
        };
        let share = (at - highest.at) / (node - highest.at);
        if (0.0..1.0).contains(&share)
            && let Some(node) = self.nodes.get(node as usize)?
        {
            return Some(share * node.off(highest));
        }
        Some(self.between(at)?.off(highest))
    }

    /// A place between two nodes, straight from the one to the other; as the one alone where the other has
    /// no value.
    fn between(&self, at: f64) -> Option<Place> {
        let (low, high) = (
            self.nodes.get(at.floor() as usize)?,
            self.nodes.get(at.ceil() as usize)?,
        );
        let (low, high) = (
            low.as_ref().or(high.as_ref())?,
            high.as_ref().or(low.as_ref())?,
        );
        let share = at - at.floor();
        let mix = |a: f64, b: f64| a + share * (b - a);
        Some(Place {
            at,
            value: mix(low.value, high.value),
            moves: (low.moves.iter().zip(&high.moves))
                .map(|(a, b)| mix(*a, *b))
                .collect(),
        })
    }

    /// Slopes by every deviation, likewise.
    fn slopes(&self, at: f64) -> Option<Vec<f64>> {
        let (low, high) = (
            self.own.get(at.floor() as usize)?,
            self.own.get(at.ceil() as usize)?,
        );
        let low = if low.value.is_ok() { low } else { high };
        let high = if high.value.is_ok() { high } else { low };
        let share = at - at.floor();
        let mix = |(a, b): (&f64, &f64)| self.sense * (a + share * (b - a));
        Some(low.slopes.iter().zip(&high.slopes).map(mix).collect())
    }
}

impl Place {
    /// Standard deviation of the difference to another place.
    fn off(&self, other: &Self) -> f64 {
        let pairs = self.moves.iter().zip(&other.moves);
        pairs.map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt()
    }
}

impl Seen<'_> {
    /// Slopes by the deviations as changes for a standard deviation of each; `None` where one is no number.
    fn moves(&self, slopes: &[f64], sense: f64) -> Option<Vec<f64>> {
        let deviations = self.variables.iter().flat_map(|variable| match *variable {
            Variable::Within(tolerance) => {
                let deviation = match self.spread {
                    Spread::Normal => tolerance / 3.0,
                    Spread::Uniform => tolerance / 3.0_f64.sqrt(),
                };
                [Some(deviation), None]
            }
            Variable::Circle(radius) => [Some(0.5 * radius); 2],
        });
        let moves = (slopes.iter().zip(deviations.flatten())).map(|(slope, d)| sense * slope * d);
        let moves: Vec<f64> = moves.collect();
        moves.iter().all(|m| m.is_finite()).then_some(moves)
    }
}
