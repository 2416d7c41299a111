//! `[[cams]]`: a disc or a curved face of one part pushes a roller or a flat of another.

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::pose;
use super::size::{Sign, short};
use crate::geometry::{Frame, Vec2};
use crate::model::{Cam, CamFace, Follower, Material, PartId};
use crate::numeric::Face;
use crate::numeric::angle::wrapped;
use crate::units::Quantity;
use std::ops::Range;

/// The sketch has to show the disc at least this part of its radius off the flat's line, for it to be told
/// on which side it is.
const CLEAR: f64 = 0.2;
/// Places of a curved face. More take long at every position, and are no better cam.
const LEAST_POINTS: usize = 3;
const MOST_POINTS: usize = 200;
/// A turn (rad) at a place greater than this is a corner: a spline swings out beside it.
const CORNER: f64 = std::f64::consts::FRAC_PI_3;

impl Reader<'_> {
    pub(super) fn cams(
        &mut self,
        entry: &Entry<'_>,
        draft: &Draft,
        materials: &[Material],
    ) -> Vec<Cam> {
        let mut cams: Vec<Cam> = Vec::new();
        for fields in &self.tables(entry, "[[cams]]", &keys::CAM) {
            let Some(cam) = self.cam(fields, draft, materials) else {
                continue;
            };
            let label = cam.label(cams.len());
            self.spans
                .insert(format!("cams.{label}"), fields.span.clone());
            cams.push(cam);
        }
        cams
    }

    fn cam(&mut self, fields: &Fields<'_>, draft: &Draft, materials: &[Material]) -> Option<Cam> {
        let name = self.contact_name(fields);
        let part = self.need(fields, "part");
        let part = part.and_then(|v| self.part(draft, v, "part"));
        let pushes = self.need(fields, "pushes");
        let pushes = pushes.and_then(|v| self.point(draft, v, "pushes"));
        if let (Some(part), Some(pushes)) = (part, pushes)
            && part == pushes.part
        {
            let problem = Diagnostic::error(
                code::CAM,
                fields.span_of("pushes"),
                "the cam pushes a point of the part that it is on",
            );
            self.report(problem.help("`pushes` names a point of another part, as `part.point`"));
        }
        let face = fields.entry("face");
        if face.is_none() {
            self.need(fields, "face");
        }
        let face = face.and_then(|entry| self.face(entry, draft, part));
        let friction = fields.get("friction").and_then(|v| self.friction(v));
        let width = fields.get("width");
        if let (Some(value), Some(_)) = (width, fields.entry("roller")) {
            let message = "`width` of a cam is for a flat";
            let problem = Diagnostic::error(code::TOGETHER, value.span(), message);
            self.report(problem.help(
                "a roller has a `width` of its own: roller = { diameter = 10, pin = 4, width = 6 }",
            ));
        }
        let width = width.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
        let material = fields.get("material");
        let material = material.and_then(|v| self.material(materials, v));
        let follower = match (fields.entry("roller"), fields.get("flat")) {
            (Some(_), Some(flat)) => {
                let message = "a cam pushes a roller or a flat, not both";
                let problem = Diagnostic::error(code::TOGETHER, flat.span(), message);
                self.report(problem.help("take out `roller` or `flat`"));
                None
            }
            (None, None) => {
                let message = "nothing says what the cam pushes on";
                let problem = Diagnostic::error(code::MISSING, fields.span.clone(), message);
                self.report(problem.help(
                    "add `roller = { diameter = 10, pin = 4 }`, or `flat = 90`, the flat's direction",
                ));
                None
            }
            (Some(entry), None) => self.roller(entry).map(Follower::Roller),
            (None, Some(value)) => {
                let angle = self.quantity(value, Quantity::Angle, Sign::Any);
                angle.map(|angle| Follower::Flat { angle, side: 1.0 })
            }
        };
        Some(Cam {
            name,
            part: part?,
            face: face?,
            pushes: pushes?,
            follower: follower?,
            friction: friction.unwrap_or(0.0),
            width,
            material,
        })
    }

    /// `face = { centre, radius }` or `face = { points }`.
    fn face(&mut self, entry: &Entry<'_>, draft: &Draft, part: Option<PartId>) -> Option<CamFace> {
        let fields = self.known_table(entry, "`face`", &keys::FACE)?;
        let disc = fields.get("centre").or_else(|| fields.get("radius"));
        match (fields.get("points"), disc) {
            (Some(points), Some(_)) => {
                let message = "a face is a disc or a curve, not both";
                let problem = Diagnostic::error(code::TOGETHER, points.span(), message);
                self.report(problem.help("take out `points`, or `centre` and `radius`"));
                None
            }
            (Some(points), None) => self.curve(points).map(CamFace::Curve),
            (None, None) => {
                let message = "nothing says what the face is like";
                let problem = Diagnostic::error(code::MISSING, fields.span.clone(), message);
                self.report(problem.help(
                    "a disc: face = { centre = [3, -2], radius = 14 }; a curve: face = { points = [[20, 0], [18, 9], [12, 16]] }",
                ));
                None
            }
            (None, Some(_)) => {
                let centre = self.need(&fields, "centre");
                let centre = match (part, centre) {
                    (Some(part), Some(value)) => self.place(draft, part, value),
                    _ => None,
                };
                let radius = self.need(&fields, "radius");
                let radius =
                    radius.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
                Some(CamFace::Disc {
                    centre: centre?,
                    radius: radius?,
                })
            }
        }
    }

    /// The points of a curved face.
    fn curve(&mut self, value: &Value<'_>) -> Option<Vec<[f64; 2]>> {
        let list = self.rows_of(value, "`points` is a list of places")?;
        let points: Vec<Option<[f64; 2]>> =
            list.iter().map(|place| self.coordinates(place)).collect();
        let points: Vec<[f64; 2]> = points.into_iter().collect::<Option<_>>()?;
        let mut refuse = |span: Range<usize>, message: String, help: &str| {
            self.report(Diagnostic::error(code::CAM, span, message).help(help));
            None
        };
        if points.len() < LEAST_POINTS {
            let message = format!("a curved face goes through {LEAST_POINTS} places or more");
            return refuse(
                value.span(),
                message,
                "give more places along the face; a straight ramp is a slot in [[slots]]",
            );
        }
        if points.len() > MOST_POINTS {
            let message = format!("a curved face goes through {MOST_POINTS} places at most");
            return refuse(
                value.span(),
                message,
                "the curve between places is smooth: a few that are well chosen do",
            );
        }
        for (k, pair) in points.windows(2).enumerate() {
            if pair[0] == pair[1] {
                let message = "this place of the face is the one before it".to_owned();
                return refuse(list[k + 1].span(), message, "give each place once");
            }
        }
        for (k, three) in points.windows(3).enumerate() {
            let way = |a: [f64; 2], b: [f64; 2]| Vec2::new(b[0] - a[0], b[1] - a[1]);
            let turn = wrapped(way(three[1], three[2]).angle() - way(three[0], three[1]).angle());
            if turn.abs() > CORNER {
                let message = format!(
                    "the face turns by {} degrees at this place, which is a corner",
                    short(turn.abs().to_degrees())
                );
                return refuse(
                    list[k + 1].span(),
                    message,
                    "a cam is smooth: give more places where it turns sharply",
                );
            }
        }
        if Face::through(&points).is_none() {
            let message = "no curve goes through these places".to_owned();
            return refuse(value.span(), message, "give places that differ, in order");
        }
        Some(points)
    }

    /// On which side of its flat each cam is, as the sketch shows; and whether what a curved face pushes is out of
    /// the solid.
    pub(super) fn cam_sides(&mut self, draft: &Draft, cams: &mut [Cam]) {
        for (k, cam) in cams.iter_mut().enumerate() {
            let (Some(own), Some(other)) = (
                draft.parts.get(cam.part.index()).map(|part| part.sketch),
                draft
                    .parts
                    .get(cam.pushes.part.index())
                    .map(|part| part.sketch),
            ) else {
                continue;
            };
            let Some(pushed) = draft.at(cam.pushes).map(|at| pose::out_of_part(other, at)) else {
                continue;
            };
            let (angle, side) = match &mut cam.follower {
                Follower::Flat { angle, side } => (*angle, side),
                Follower::Roller(_) => {
                    self.out_of_solid(cam, k, Vec2::from(pushed), own);
                    continue;
                }
            };
            let (sin, cos) = (other[2] + angle).sin_cos();
            let off = |at: [f64; 2]| (at[1] - pushed[1]) * cos - (at[0] - pushed[0]) * sin;
            // A curve must be clear of the line with most of itself: its mean is.
            let (apart, size) = match &cam.face {
                CamFace::Disc { centre, radius } => {
                    let Some(centre) = draft.place_at(cam.part, *centre) else {
                        continue;
                    };
                    (off(pose::out_of_part(own, centre)), *radius)
                }
                CamFace::Curve(points) => {
                    let all = points.iter().map(|at| off(pose::out_of_part(own, *at)));
                    let spread = all.clone().map(f64::abs).fold(0.0, f64::max);
                    (all.sum::<f64>() / points.len() as f64, spread)
                }
            };
            *side = if apart < 0.0 { -1.0 } else { 1.0 };
            if apart.abs() <= CLEAR * size {
                let message = format!(
                    "the sketch shows the cam {} mm off the flat's line, so that its side is not told",
                    short(apart.abs())
                );
                let span = self.cam_span(cam.name.as_deref(), k);
                let problem = Diagnostic::error(code::CAM, span, message);
                self.report(problem.help(
                    "give the parts of the cam and of the flat rough places in [sketch] in which the cam is clear of the flat",
                ));
            }
        }
    }

    /// Whether a roller stands out of the solid of a curved face, as sketched; a cam whose places are given the
    /// wrong way round has it inside.
    fn out_of_solid(&mut self, cam: &Cam, index: usize, pushed: Vec2, own: [f64; 3]) {
        let CamFace::Curve(points) = &cam.face else {
            return;
        };
        let Some(face) = Face::through(points) else {
            return;
        };
        let frame = Frame {
            origin: Vec2::new(own[0], own[1]),
            turn: Vec2::unit(own[2]),
        };
        let at = frame.own_place(pushed);
        let touch = face.nearest(at.xy());
        let out = (at - Vec2::from(touch.at)).dot(touch.out.into());
        if out < 0.0 {
            let span = self.cam_span(cam.name.as_deref(), index);
            let message = "the sketch shows the roller's centre inside the cam";
            let problem = Diagnostic::error(code::CAM, span, message);
            self.report(problem.help(
                "the solid lies to the left of the order of `points`: counter-clockwise round a cam; turn the order round, \
                 or give the parts rough places in [sketch]",
            ));
        }
    }

    fn cam_span(&self, name: Option<&str>, index: usize) -> Range<usize> {
        let label = name.map_or_else(|| (index + 1).to_string(), str::to_owned);
        let span = self.spans.get(&format!("cams.{label}"));
        span.cloned().unwrap_or(0..0)
    }
}
