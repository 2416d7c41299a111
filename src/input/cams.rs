//! `[[cams]]`: a face of one part pushes a roller or a flat of another.

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader};
use super::keys;
use super::pose;
use super::size::{Sign, short};
use crate::model::{Cam, Follower, Material, PartId, Place};
use crate::units::Quantity;
use std::ops::Range;

/// The sketch has to show the disc at least this part of its radius off the flat's line, for it to be told
/// on which side it is.
const CLEAR: f64 = 0.2;

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
            let twice = |known: &Cam| known.name.is_some() && known.name == cam.name;
            if let (Some(name), true) = (&cam.name, cams.iter().any(twice)) {
                let message = format!("a cam is called `{name}` already");
                let problem = Diagnostic::error(code::NAME_TWICE, fields.span_of("name"), message);
                self.report(problem.help("give each cam a name of its own"));
            }
            let label = cam.label(cams.len());
            self.spans
                .insert(format!("cams.{label}"), fields.span.clone());
            cams.push(cam);
        }
        cams
    }

    fn cam(&mut self, fields: &Fields<'_>, draft: &Draft, materials: &[Material]) -> Option<Cam> {
        let name = fields.get("name");
        let name = name.and_then(|v| Some((self.text(v, "`name`")?, v.span())));
        let name = name.filter(|(name, span)| self.good_name(name, span.clone()));
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
        let (centre, radius) = face?;
        Some(Cam {
            name: name.map(|(name, _)| name.to_owned()),
            part: part?,
            centre,
            radius,
            pushes: pushes?,
            follower: follower?,
            friction: friction.unwrap_or(0.0),
            material,
        })
    }

    /// `face = { centre, radius }`.
    fn face(
        &mut self,
        entry: &Entry<'_>,
        draft: &Draft,
        part: Option<PartId>,
    ) -> Option<(Place, f64)> {
        let fields = self.known_table(entry, "`face`", &keys::FACE)?;
        let centre = self.need(&fields, "centre");
        let centre = match (part, centre) {
            (Some(part), Some(value)) => self.place(draft, part, value),
            _ => None,
        };
        let radius = self.need(&fields, "radius");
        let radius = radius.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive));
        Some((centre?, radius?))
    }

    /// On which side of its flat each cam is, as the sketch shows.
    pub(super) fn cam_sides(&mut self, draft: &Draft, cams: &mut [Cam]) {
        for (k, cam) in cams.iter_mut().enumerate() {
            let Follower::Flat { angle, side } = &mut cam.follower else {
                continue;
            };
            let at = |part: PartId, own: Option<[f64; 2]>| {
                let pose = draft.parts.get(part.index())?.sketch;
                Some(pose::out_of_part(pose, own?))
            };
            let centre = at(cam.part, draft.place_at(cam.part, cam.centre));
            let on = at(cam.pushes.part, draft.at(cam.pushes));
            let turn = draft.parts.get(cam.pushes.part.index());
            let (Some(centre), Some(on), Some(part)) = (centre, on, turn) else {
                continue;
            };
            let (sin, cos) = (part.sketch[2] + *angle).sin_cos();
            let off = (centre[1] - on[1]) * cos - (centre[0] - on[0]) * sin;
            *side = if off < 0.0 { -1.0 } else { 1.0 };
            if off.abs() < CLEAR * cam.radius {
                let message = format!(
                    "the sketch shows the centre of the cam {} mm off the flat's line, so that its side is not told",
                    short(off.abs())
                );
                let span = self.cam_span(cam.name.as_deref(), k);
                let problem = Diagnostic::error(code::CAM, span, message);
                self.report(problem.help(
                    "give the parts of the cam and of the flat rough places in [sketch] in which the cam is clear of the flat",
                ));
            }
        }
    }

    fn cam_span(&self, name: Option<&str>, index: usize) -> Range<usize> {
        let label = name.map_or_else(|| (index + 1).to_string(), str::to_owned);
        let span = self.spans.get(&format!("cams.{label}"));
        span.cloned().unwrap_or(0..0)
    }
}
