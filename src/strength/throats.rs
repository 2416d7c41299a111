//! Sections through a plate with an outline: where they are, and what each carries.
//!
//! From places along the outer border, the shortest cut to the other side; at a hollow arc the cut through
//! its centre, so that its places are radii. One more goes through the middle of every hole that carries a
//! pin. All forces on one side of a cut are what the section carries; a pin in the cut itself gives half of
//! its force to either side.

use super::formulas::cut::{Carried, CutSection, Strip};
use super::knots::{Knot, moment};
use crate::geometry::Vec2;
use crate::outline::{Border, Hit, Piece, Shape, Span};
use std::sync::Arc;

/// A hole in which a pin can push: its middle and its diameter, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Eye {
    pub(crate) at: Vec2,
    pub(crate) diameter: f64,
}

/// A section through a plate.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Throat {
    /// Where it starts and ends, in the part's axes; in a bent beam the first is the hollow edge.
    pub(crate) ends: [Vec2; 2],
    pub(crate) section: CutSection,
    /// Radius of the hollow edge, mm.
    pub(crate) hollow: Option<f64>,
    /// Length of the centre line that it stands for, mm: half of it, as both borders are walked along.
    pub(crate) length: f64,
    /// It lies within an eye, where a pin's force spreads.
    pub(crate) in_eye: bool,
    /// Which stretch of the border it starts on: neighbours of one kind on what was drawn as one piece.
    pub(crate) stretch: usize,
    /// What one round hole takes of it, as a share: near the middle where no pin pushes in it, anywhere where one does.
    pub(crate) bored: Option<f64>,
    /// The eye whose middle it goes through.
    through: Option<Eye>,
    /// Place of the section's centroid.
    middle: Vec2,
    /// From its first end to its last.
    along: Vec2,
    /// Where it leaves the outline and comes back to it, counter-clockwise: pieces and shares of these.
    border: [f64; 2],
}

/// All sections of a plate.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Throats {
    pub(crate) all: Vec<Throat>,
    /// A cut through an opening that belts leave: two sections share the load, nobody knows how.
    pub(crate) windows: bool,
    /// How many stretches there are.
    pub(crate) stretches: usize,
    outer: Vec<Piece>,
    through: Vec<(Eye, Throat)>,
    /// The least depth of those outside the eyes, net of holes, mm.
    least_depth: Option<f64>,
}

/// A force on a plate, and which part of the border it goes with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Placed {
    pub(crate) knot: Knot,
    place: Spot,
}

/// A place on a plate, and the place of the outer border that is nearest to it.
#[derive(Debug, Clone, Copy)]
struct Spot {
    at: Vec2,
    nearest: Vec2,
    border: f64,
}

/// Which share of a force at a place is on the right of each section, in the order of
/// [`Throats::sections`].
#[derive(Debug, Clone)]
struct Site {
    at: Vec2,
    shares: Vec<f64>,
}

/// The places where forces have acted on a plate: as a rule they are the same in every load case.
#[derive(Debug, Clone, Default)]
pub(super) struct Sites {
    /// Of the drawn tool, for one that was made.
    drawn: Arc<[Site]>,
    known: Vec<Site>,
    /// Of the knots in hand: which of those drawn and known.
    used: Vec<usize>,
    /// The greatest stress at every section so far, MPa.
    pub(super) stresses: Vec<f64>,
}

/// Most places that are kept: where a pin runs in a slot there is a new one in every case.
const KEPT: usize = 32;

/// Sections are this many thicknesses apart, but no more of them than this along a border.
const APART: f64 = 0.5;
const MOST: f64 = 400.0;
/// Arcs are cut at least every so many radians.
const TURN: f64 = 0.13;
/// Nearer than this to an eye's middle a pin acts in it, mm.
const SAME: f64 = 1e-6;

impl Throats {
    /// The sections of a plate of this outline; `thickness` of one of its plates and of `all` together, mm.
    pub(crate) fn of(shape: &Shape, eyes: &[Eye], thickness: f64, all: f64) -> Self {
        let outer = shape.border(0);
        let around: f64 = shape.pieces()[outer.clone()]
            .iter()
            .map(Piece::length)
            .sum();
        let apart = (APART * thickness).max(around / MOST);
        let bosses: Vec<(Vec2, f64)> = eyes
            .iter()
            .map(|eye| (eye.at, shape.to_outer(eye.at)))
            .collect();
        let mut throats = Self {
            all: Vec::new(),
            windows: false,
            stretches: 0,
            outer: shape.pieces()[outer.clone()].to_vec(),
            through: Vec::new(),
            least_depth: None,
        };
        let mut before = None;
        for k in outer {
            let piece = &shape.pieces()[k];
            let kind = (piece.entry, piece.is_hollow());
            if before.replace(kind) != Some(kind) {
                throats.stretches += 1;
            }
            let long = piece.length();
            let turns = piece.arc.map_or(0.0, |arc| arc.sweep.abs() / TURN);
            let count = (long / apart).max(turns).ceil().max(1.0);
            for n in 0..count as usize {
                let share = (n as f64 + 0.5) / count;
                let Some(span) = shape.section(k, share) else {
                    continue;
                };
                let hollow = piece.is_hollow().then(|| piece.arc.map(|arc| arc.radius));
                let Some(mut throat) = throats.cut(shape, &span, hollow.flatten(), all) else {
                    continue;
                };
                throat.length = 0.5 * long / count * throat.spread(piece, share);
                throat.stretch = throats.stretches - 1;
                throat.in_eye = bosses.iter().any(|boss| throat.is_within(*boss));
                throats.all.push(throat);
            }
        }
        for eye in eyes {
            if let Some(mut throat) = throats.narrowest(shape, eye.at, all) {
                throat.through = Some(*eye);
                throat.bored = Some(eye.diameter / throat.depth());
                throat.stretch = throats.stretches;
                throats.stretches += 1;
                throats.through.push((*eye, throat));
            }
        }
        let clear = throats.all.iter().filter(|throat| !throat.in_eye);
        throats.least_depth = clear.map(Throat::depth).reduce(f64::min);
        throats
    }

    /// The same with those of [`Throats::sections`] alone at which the greatest stress, MPa, is at least this.
    pub(super) fn strained(&self, stresses: &[f64], least: f64) -> Self {
        // What is no number is kept.
        let mut kept = (stresses.iter()).map(|stress| !(*stress < least));
        let mut keep = || kept.next().unwrap_or(true);
        let clear = self.all.iter().filter(|throat| !throat.in_eye);
        Self {
            all: clear.filter(|_| keep()).cloned().collect(),
            windows: self.windows,
            stretches: self.stretches,
            outer: self.outer.clone(),
            through: (self.through.iter()).filter(|_| keep()).cloned().collect(),
            least_depth: self.least_depth,
        }
    }

    /// The section of a cut; `None` through a window.
    fn cut(
        &mut self,
        shape: &Shape,
        span: &Span,
        hollow: Option<f64>,
        thickness: f64,
    ) -> Option<Throat> {
        let window = |opening: &[Hit; 2]| {
            let owner = shape.owner(opening[0].piece);
            matches!(owner, Border::Window(_))
        };
        if span.openings.iter().any(window) {
            self.windows = true;
            return None;
        }
        let [first, last] = span.ends;
        let zero = hollow.unwrap_or(0.0) - first.along;
        let strip = |[a, b]: [Hit; 2]| Strip {
            from: zero + a.along,
            to: zero + b.along,
            thickness,
        };
        let strips: Vec<Strip> = span.chords().map(strip).collect();
        let section = CutSection::of(&strips, hollow.is_some())?;
        let along = span.direction();
        let place = |hit: Hit| hit.piece as f64 + hit.share;
        Some(Throat {
            ends: [first.at, last.at],
            section,
            hollow,
            length: 0.0,
            in_eye: false,
            stretch: 0,
            bored: bored(shape, span),
            through: None,
            middle: first.at + along * (section.centroid - hollow.unwrap_or(0.0)),
            along,
            border: [place(first), place(last)],
        })
    }

    /// The least section through a place inside.
    fn narrowest(&mut self, shape: &Shape, at: Vec2, thickness: f64) -> Option<Throat> {
        /// Directions looked at, over half a turn.
        const WAYS: u32 = 36;
        let mut best: Option<Span> = None;
        for k in 0..WAYS {
            let way = Vec2::unit(std::f64::consts::PI * f64::from(k) / f64::from(WAYS));
            let spans = shape.cut(at, way).into_iter();
            let own = |span: &Span| span.ends[0].along < 0.0 && span.ends[1].along > 0.0;
            for span in spans.filter(own) {
                if best.as_ref().is_none_or(|known| span.net() < known.net()) {
                    best = Some(span);
                }
            }
        }
        self.cut(shape, &best?, None, thickness)
    }

    /// The forces on the plate, each with its place along the border.
    pub(crate) fn place(&self, knots: &[Knot]) -> Vec<Placed> {
        let one = |&knot: &Knot| Placed {
            knot,
            place: self.spot(knot.at),
        };
        knots.iter().map(one).collect()
    }

    fn spot(&self, at: Vec2) -> Spot {
        let mut best = (f64::INFINITY, Vec2::ZERO, 0);
        for (k, piece) in self.outer.iter().enumerate() {
            let nearest = piece.nearest(at);
            let way = nearest - at;
            let away = way.dot(way);
            if away < best.0 {
                best = (away, nearest, k);
            }
        }
        let (_, nearest, k) = best;
        let share = |piece: &Piece| piece.share(nearest);
        Spot {
            at,
            nearest,
            border: k as f64 + self.outer.get(k).map_or(0.0, share),
        }
    }

    /// The sections that a plate is checked at: those clear of the eyes, and those through loaded holes.
    pub(super) fn sections(&self) -> impl Iterator<Item = &Throat> {
        let clear = self.all.iter().filter(|throat| !throat.in_eye);
        clear.chain(self.through.iter().map(|(_, throat)| throat))
    }

    /// What each of [`Throats::sections`] carries under these forces, and the stress there, MPa.
    pub(super) fn carried<'t>(
        &'t self,
        knots: &'t [Knot],
        sites: &'t mut Sites,
    ) -> impl Iterator<Item = (&'t Throat, Carried, f64)> {
        sites.look_up(self, knots);
        let Sites {
            drawn,
            known,
            used,
            stresses,
        } = sites;
        let (drawn, known, used) = (&**drawn, &*known, &*used);
        let sections = self.sections().enumerate().zip(stresses);
        sections.map(move |((k, throat), greatest)| {
            let share = |&site: &usize| match drawn.get(site) {
                Some(site) => site.shares[k],
                None => known[site - drawn.len()].shares[k],
            };
            let carried = throat.sum(knots.iter().zip(used.iter().map(share)));
            let stress = throat.section.worst(carried);
            if stress > *greatest || stress.is_nan() {
                *greatest = stress;
            }
            (throat, carried, stress)
        })
    }

    /// The sections through loaded holes, with their pins.
    pub(crate) fn through(&self) -> impl Iterator<Item = (&Eye, &Throat)> {
        self.through.iter().map(|(eye, throat)| (eye, throat))
    }

    /// The least depth of those outside the eyes, net of holes, mm.
    pub(crate) fn least_depth(&self) -> Option<f64> {
        self.least_depth
    }
}

/// The share of a cut that one round hole near its middle takes.
fn bored(shape: &Shape, span: &Span) -> Option<f64> {
    let [[first, last]] = span.openings[..] else {
        return None;
    };
    let Border::Hole(_) = shape.owner(first.piece) else {
        return None;
    };
    // Round, and cut near its middle: the hole's own arcs have half the length that is taken as their radius.
    let radius = shape.pieces().get(first.piece)?.arc?.radius;
    let taken = last.along - first.along;
    let off = 0.5 * (first.along + last.along) - 0.5 * (span.ends[0].along + span.ends[1].along);
    let share = span.taken() / span.gross();
    let is_it = taken > 1.8 * radius && off.abs() < 0.1 * span.gross();
    is_it.then_some(share)
}

impl Throat {
    /// Whether it goes through a hole in which a pin can push.
    pub(super) fn is_loaded(&self) -> bool {
        self.through.is_some()
    }

    /// From edge to edge, mm.
    pub(crate) fn depth(&self) -> f64 {
        self.section.edges[1] - self.section.edges[0]
    }

    /// What the section carries: the forces on its right, as seen from its first end to its last.
    pub(crate) fn carried(&self, forces: &[Placed]) -> Carried {
        let one = |placed: &Placed| self.share(&placed.place);
        self.sum(forces.iter().map(|placed| (&placed.knot, one(placed))))
    }

    /// The same, from the share of each force that is on the right.
    fn sum<'k>(&self, forces: impl Iterator<Item = (&'k Knot, f64)>) -> Carried {
        let (mut sum, mut bending) = (Vec2::ZERO, 0.0);
        for (knot, share) in forces {
            if share > 0.0 {
                sum += knot.force * share;
                bending += moment(knot, self.middle) * share;
            }
        }
        // Out of the left half, which the section is the face of.
        let out = Vec2::new(self.along.y(), -self.along.x());
        Carried {
            axial: sum.dot(out),
            shear: sum.dot(self.along),
            bending,
        }
    }

    /// Whether all of these forces are on one side.
    pub(crate) fn leaves_aside(&self, forces: &[Placed]) -> bool {
        let mut shares = forces.iter().map(|placed| self.share(&placed.place));
        let first = shares.next().unwrap_or(0.0);
        first != 0.5 && shares.all(|share| share == first)
    }

    /// The share of a force that is on the right: 0 or 1, and half where it acts in the cut itself.
    fn share(&self, place: &Spot) -> f64 {
        let at = place.at;
        // In made tools the pin may stand a little off.
        let in_eye = |eye: Eye| (at - eye.at).length() < 0.5 * eye.diameter;
        if self.through.is_some_and(in_eye) {
            return 0.5;
        }
        let off = self.along.cross(at - self.ends[0]);
        let within = self.along.dot(at - self.ends[0]);
        if off.abs() < SAME && within > 0.0 && within < self.depth() {
            return 0.5;
        }
        let [from, to] = self.border;
        let b = place.border;
        let right = if from < to {
            b > from && b < to
        } else {
            b > from || b < to
        };
        // The way to the nearest border leads over the cut: it is on the other side.
        f64::from(right != self.parts(at, place.nearest))
    }

    /// Whether the cut runs between two places.
    fn parts(&self, a: Vec2, b: Vec2) -> bool {
        let [from, to] = self.ends;
        let side = |p: Vec2| self.along.cross(p - from);
        let other = |p: Vec2| (b - a).cross(p - a);
        side(a) * side(b) < 0.0 && other(from) * other(to) < 0.0
    }

    /// Length of the centre line over that of the border at its first end.
    fn spread(&self, piece: &Piece, share: f64) -> f64 {
        let slant = piece.tangent(share).cross(self.along).abs();
        let inward = self.section.centroid - self.section.edges[0];
        let bent = piece.arc.map_or(1.0, |arc| {
            if piece.is_hollow() {
                1.0 + inward / arc.radius
            } else {
                (1.0 - inward / arc.radius).max(0.0)
            }
        });
        slant * bent
    }

    /// Whether it passes an eye's middle nearer than the border is.
    fn is_within(&self, (at, radius): (Vec2, f64)) -> bool {
        let length = (self.ends[1] - self.ends[0]).length();
        let foot = self.along.dot(at - self.ends[0]).clamp(0.0, length);
        (self.ends[0] + self.along * foot - at).length() < radius * (1.0 - 1e-9)
    }
}

/// On a made tool a force within this of where one acts on the drawn tool is on the same side of every section, mm:
/// sections are further apart than that as a rule, and a border is.
const AS_DRAWN: f64 = 0.2;

impl Site {
    fn new(throats: &Throats, at: Vec2) -> Self {
        let spot = throats.spot(at);
        let shares = throats.sections().map(|throat| throat.share(&spot));
        Self {
            at,
            shares: shares.collect(),
        }
    }
}

impl Sites {
    /// Of a plate as drawn, on which forces act at these places.
    pub(super) fn drawn(throats: &Throats, places: &[Vec2]) -> Self {
        Self {
            drawn: places.iter().map(|at| Site::new(throats, *at)).collect(),
            ..Self::default()
        }
    }

    /// Of the same plate of a made tool.
    pub(super) fn made(&self) -> Self {
        Self {
            drawn: Arc::clone(&self.drawn),
            ..Self::default()
        }
    }

    /// Where forces have acted.
    pub(super) fn places(&self) -> Vec<Vec2> {
        self.known.iter().map(|site| site.at).collect()
    }

    /// Looks up where these forces act.
    fn look_up(&mut self, throats: &Throats, knots: &[Knot]) {
        if self.known.len() > KEPT {
            self.known.clear();
        }
        self.used.clear();
        if self.stresses.is_empty() {
            self.stresses.extend(throats.sections().map(|_| 0.0));
        }
        for knot in knots {
            let near = |site: &Site| (site.at - knot.at).length() < AS_DRAWN;
            if let Some(site) = self.drawn.iter().position(near) {
                self.used.push(site);
                continue;
            }
            let known = self.known.iter().position(|site| site.at == knot.at);
            let site = known.unwrap_or_else(|| {
                self.known.push(Site::new(throats, knot.at));
                self.known.len() - 1
            });
            self.used.push(self.drawn.len() + site);
        }
    }
}

#[cfg(test)]
mod tests;
