//! Shapes that the sketch gives, and the rough pose of every part in the sketched position.
//!
//! Poses only choose the assembly; exact dimensions close the loops later. So this goes from what
//! is known to what is not: the fixed part, the sketched points, then every part that has two
//! known points, whose other points are known from then on.

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::Reader;
use super::pose::{self, Pose};
use super::size::short;
use super::sketch::{Sketch, fixed_place};
use super::spelling;
use crate::model::{PartId, PointKind, PointRef, Shape, Slot, SlotLine};
use crate::units::Quantity;

/// What is known so far.
struct Known<'d> {
    draft: &'d Draft,
    slots: &'d [Slot],
    places: Sketch,
    poses: Vec<Option<Pose>>,
}

/// How far the drawn distance of a link's pins may be from its length, as a part of that, before
/// the drawing does not tell its place: a sketch by hand is nearer.
const MISFIT: f64 = 0.1;

impl Reader<'_> {
    /// Gives every part its shape and its pose.
    pub(super) fn put_in_place(&mut self, draft: &mut Draft, sketch: &Sketch, slots: &[Slot]) {
        self.shapes(draft, sketch);
        let in_place = sketch.is_empty() && drawn_in_place(draft);
        let mut known = Known {
            draft,
            slots,
            places: readable(sketch),
            poses: vec![None; draft.parts.len()],
        };
        for part in PartId::ids(draft.parts.len()) {
            let shape = draft.parts.get(part.index()).map(|p| p.shape);
            let own_axes = in_place && shape == Some(Shape::Coordinates);
            if draft.fixed == Some(part) || own_axes || shape == Some(Shape::Sketch) {
                known.put(part, [0.0; 3], draft.fixed == Some(part));
            }
        }
        let guessed = known.spread();
        let poses = known.poses;
        self.guesses(draft, sketch, &guessed, in_place);
        for (part, pose) in draft.parts.iter_mut().zip(&poses) {
            part.sketch = pose.unwrap_or([0.0; 3]);
        }
        self.sketched_marks(draft, sketch);
    }

    /// Points of parts that take their shape from the sketch: there the axes are the sketch's.
    fn shapes(&mut self, draft: &mut Draft, sketch: &Sketch) {
        for part in PartId::ids(draft.parts.len()) {
            if draft
                .parts
                .get(part.index())
                .is_none_or(|p| p.shape != Shape::Sketch)
            {
                continue;
            }
            let count = draft.parts.get(part.index()).map_or(0, |p| p.points.len());
            for point in 0..count {
                let at = PointRef { part, point };
                let Some(spot) = draft.spot(at).filter(|_| draft.listed(at)) else {
                    continue;
                };
                let place = sketch
                    .get(&spot)
                    .copied()
                    .or_else(|| fixed_place(draft, &spot));
                self.take_place(draft, at, place);
            }
        }
    }

    /// Marks that are named only, on parts with dimensions of their own: from the sketch, through
    /// the pose.
    fn sketched_marks(&mut self, draft: &mut Draft, sketch: &Sketch) {
        for part in PartId::ids(draft.parts.len()) {
            let Some(of) = draft
                .parts
                .get(part.index())
                .filter(|p| p.shape != Shape::Sketch)
            else {
                continue;
            };
            let (pose, count) = (of.sketch, of.points.len());
            let marks =
                (0..count).filter(|&i| of.points.get(i).is_some_and(|p| p.kind == PointKind::Mark));
            for point in marks.collect::<Vec<_>>() {
                let at = PointRef { part, point };
                if !draft.listed(at) {
                    continue;
                }
                let Some(spot) = draft.spot(at) else { continue };
                let place = sketch.get(&spot).map(|&place| pose::into_part(pose, place));
                self.take_place(draft, at, place);
            }
        }
    }

    fn take_place(&mut self, draft: &mut Draft, at: PointRef, place: Option<[f64; 2]>) {
        let label = draft.label(at);
        match place {
            Some(place) => {
                let of = draft
                    .parts
                    .get_mut(at.part.index())
                    .and_then(|p| p.points.get_mut(at.point));
                if let Some(point) = of {
                    point.at = place;
                }
            }
            None => {
                let span = draft
                    .spans
                    .get(at.part.index())
                    .and_then(|s| s.points.get(at.point))
                    .cloned();
                self.report(
                    Diagnostic::error(
                        code::SKETCH_LACKS,
                        span.unwrap_or(0..0),
                        format!("nothing says where `{label}` is"),
                    )
                    .help("add it to [sketch], or give the part coordinates (or `length` for a two-pin link)"),
                );
            }
        }
    }

    /// Advice on poses that nothing in the file decides.
    fn guesses(&mut self, draft: &Draft, sketch: &Sketch, guessed: &[PartId], in_place: bool) {
        let Some(&first) = guessed.first() else {
            if in_place {
                self.misfit(draft);
            }
            return;
        };
        let names: Vec<&str> = guessed
            .iter()
            .filter_map(|&part| draft.parts.get(part.index()).map(|p| p.name.as_str()))
            .collect();
        let span = draft
            .spans
            .get(first.index())
            .map_or(0..0, |s| s.name.clone());
        let message = format!("the place of {} is a guess", spelling::list(&names));
        let mut problem = Diagnostic::advice(code::GUESSED, span, message);
        if sketch.is_empty() && !in_place {
            problem = problem.note("the parts are not drawn in one set of axes");
        }
        self.report(problem.note("a linkage can often be put together in several ways").help(
            "give rough places of more of their pins in [sketch], so that the way meant is taken",
        ));
    }
}

impl Reader<'_> {
    /// Advice where the pins of a link are drawn much nearer or farther apart than its length:
    /// parts that begin at a common datum are then taken as drawn in place, and are not.
    fn misfit(&mut self, draft: &Draft) {
        let drawn = |pin: &str| {
            let on = draft.on_pin(pin).into_iter();
            let mut at = on.filter_map(|at| {
                let shape = draft.parts.get(at.part.index())?.shape;
                draft.at(at).filter(|_| shape == Shape::Coordinates)
            });
            at.next()
        };
        for (part, of) in draft.parts.iter().enumerate() {
            let [a, b] = of.points.as_slice() else {
                continue;
            };
            let (Some(from), Some(to)) = (drawn(&a.name), drawn(&b.name)) else {
                continue;
            };
            let (apart, length) = ((from[0] - to[0]).hypot(from[1] - to[1]), b.at[0].abs());
            if of.shape != Shape::Length || (apart - length).abs() <= MISFIT * length {
                continue;
            }
            let show = |mm: f64| short(self.units.show(mm, Quantity::Length));
            let unit = self.units.symbol(Quantity::Length);
            let message = format!(
                "the place of `{}` is a guess: its pins are drawn {} {unit} apart, and it is {} {unit} long",
                of.name,
                show(apart),
                show(length)
            );
            let span = draft.spans.get(part).map_or(0..0, |s| s.name.clone());
            self.report(
                Diagnostic::advice(code::GUESSED, span, message)
                    .note("a linkage can often be put together in several ways")
                    .help(format!(
                        "give rough places of {} and {} in [sketch], so that the way meant is taken",
                        a.name, b.name
                    )),
            );
            return;
        }
    }
}

impl Known<'_> {
    fn put(&mut self, part: PartId, pose: Pose, exact: bool) {
        if let Some(slot) = self.poses.get_mut(part.index()) {
            *slot = Some(pose);
        }
        for at in self.points(part) {
            if let (Some(spot), Some(own)) = (self.draft.spot(at), self.draft.at(at)) {
                let place = pose::out_of_part(pose, own);
                if exact {
                    self.places.insert(spot, place);
                } else {
                    self.places.entry(spot).or_insert(place);
                }
            }
        }
    }

    fn points(&self, part: PartId) -> Vec<PointRef> {
        let count = self
            .draft
            .parts
            .get(part.index())
            .map_or(0, |p| p.points.len());
        (0..count).map(|point| PointRef { part, point }).collect()
    }

    /// Own and sketched places of the points of a part that are known.
    fn pairs(&self, part: PartId) -> Vec<([f64; 2], [f64; 2])> {
        let pair = |at: PointRef| {
            let own = self.draft.at(at)?;
            let place = self.places.get(&self.draft.spot(at)?)?;
            Some((own, *place))
        };
        self.points(part).into_iter().filter_map(pair).collect()
    }

    /// Places all parts, surest first; returns those whose pose is a guess.
    fn spread(&mut self) -> Vec<PartId> {
        let mut guessed = Vec::new();
        loop {
            let open: Vec<PartId> = PartId::each(&self.poses)
                .filter(|(_, pose)| pose.is_none())
                .map(|(part, _)| part)
                .collect();
            let Some(&first) = open.first() else { break };
            let sure = open.iter().find_map(|&p| Some((p, self.sure(p)?)));
            let (part, pose, sure) = match sure {
                Some((p, pose)) => (p, pose, true),
                None => {
                    let likely = open.iter().find_map(|&p| Some((p, self.likely(p)?)));
                    let (p, pose) = likely.unwrap_or((first, [0.0; 3]));
                    (p, pose, false)
                }
            };
            if !sure {
                guessed.push(part);
            }
            self.put(part, pose, false);
        }
        guessed
    }

    /// The keyed slot of a part on one that has its place, with the angle it dictates.
    fn key(&self, part: PartId) -> Option<(&Slot, Pose, f64)> {
        self.slots.iter().find_map(|slot| {
            let turn = slot.keyed?;
            if slot.rider.part == part {
                let on = (*self.poses.get(slot.on.index())?)?;
                Some((slot, on, on[2] + turn))
            } else if slot.on == part {
                let rider = (*self.poses.get(slot.rider.part.index())?)?;
                Some((slot, rider, rider[2] - turn))
            } else {
                None
            }
        })
    }

    fn sure(&self, part: PartId) -> Option<Pose> {
        let pairs = self.pairs(part);
        if let Some((slot, on, angle)) = self.key(part) {
            if let Some(pose) = pose::at_angle(&pairs, angle) {
                return Some(pose);
            }
            if slot.rider.part == part {
                // The slot alone: the rider at the place that the slot is dimensioned through.
                let through = self.draft.place_at(slot.on, slot.line.place())?;
                let own = self.draft.at(slot.rider)?;
                return pose::at_angle(&[(own, pose::out_of_part(on, through))], angle);
            }
        }
        pose::fit(&pairs)
    }

    /// One known point: own axes parallel to the tool's. A rider far off its slot is aimed at it, at
    /// the nearest place of an arc.
    fn likely(&self, part: PartId) -> Option<Pose> {
        let pairs = self.pairs(part);
        let rides = self.slots.iter().find_map(|slot| {
            let on = (*self.poses.get(slot.on.index())?)?;
            let from = self.draft.place_at(slot.on, slot.line.place())?;
            let own = self.draft.at(slot.rider)?;
            let from = pose::out_of_part(on, from);
            (slot.rider.part == part).then_some((slot.line, own, from, on[2]))
        });
        let parallel = pose::at_angle(&pairs, 0.0);
        match (parallel, rides) {
            (Some(pose), Some((line, own, from, turn))) => {
                let now = pose::out_of_part(pose, own);
                let away = [now[0] - from[0], now[1] - from[1]];
                let (goal, off) = match line {
                    SlotLine::Straight { angle, .. } => {
                        let (sin, cos) = (turn + angle).sin_cos();
                        (from, away[1] * cos - away[0] * sin)
                    }
                    SlotLine::Arc { radius, .. } => {
                        let far = away[0].hypot(away[1]);
                        let to = if far > 0.0 { radius / far } else { 0.0 };
                        let goal = [from[0] + to * away[0], from[1] + to * away[1]];
                        (goal, far - radius)
                    }
                };
                let (pin, place) = pairs.first()?;
                let arm = (own[0] - pin[0]).hypot(own[1] - pin[1]);
                if off.abs() <= 0.05 * arm {
                    return Some(pose);
                }
                pose::fit(&[(*pin, *place), (own, goal)]).or(Some(pose))
            }
            (Some(pose), None) => Some(pose),
            (None, Some((_, own, from, _))) => pose::at_angle(&[(own, from)], 0.0),
            (None, None) => None,
        }
    }
}

fn readable(sketch: &Sketch) -> Sketch {
    let finite = |at: &[f64; 2]| at.iter().all(|v| v.is_finite());
    let all = sketch.iter().filter(|(_, at)| finite(at));
    all.map(|(spot, at)| (spot.clone(), *at)).collect()
}

/// Whether the coordinates of all parts that have any agree in one set of axes.
fn drawn_in_place(draft: &Draft) -> bool {
    let own = |at: &PointRef| {
        let coordinates =
            draft.parts.get(at.part.index()).map(|p| p.shape) == Some(Shape::Coordinates);
        draft.at(*at).filter(|_| coordinates)
    };
    let size = pose::extent(
        draft
            .parts
            .iter()
            .flat_map(|p| p.points.iter().map(|q| q.at)),
    );
    draft.pin_names().into_iter().all(|pin| {
        let places: Vec<[f64; 2]> = draft.on_pin(pin).iter().filter_map(own).collect();
        let first = places.first().copied().unwrap_or([0.0; 2]);
        places
            .iter()
            .all(|p| (p[0] - first[0]).hypot(p[1] - first[1]) <= 0.01 * size)
    })
}
