//! Cams: the rim of the disc or the curved face, the roller or the flat that it pushes, the line of the contact.

use super::ink::{across, dot, length, minus, plus, times};
use super::tool::{CENTRE, EDGE, Plate, WHITE, pen};
use crate::output::svg::pen::INK;
use crate::report::DrawnCam;

/// How far the line of a contact is drawn into a curved face, and half a flat on such a face, mm on paper.
const INTO: f64 = 4.0;
const FLAT: f64 = 8.0;

/// Unit vector square to a curve, to the right of its direction as it is in the tool, at the point of it that is
/// nearest. On paper, where y goes down.
fn beside(curve: &[[f64; 2]], at: [f64; 2]) -> [f64; 2] {
    let far = |pair: &[[f64; 2]]| length(minus(pair[0], at)) + length(minus(pair[1], at));
    let nearest = (curve.windows(2)).min_by(|a, b| far(a).total_cmp(&far(b)));
    let along = nearest.map_or([1.0, 0.0], |pair| minus(pair[1], pair[0]));
    let along = times(1.0 / length(along).max(1e-9), along);
    [-along[1], along[0]]
}

impl Plate {
    pub(super) fn cam(&mut self, cam: &DrawnCam) {
        let touches = self.at(cam.touches);
        let roller = (cam.roller.zip(cam.roller_radius))
            .map(|(at, radius)| (self.at(at), radius * self.scale));
        // From where in the solid the push is drawn, and how far the flat reaches to either side.
        let (from, half) = match (cam.centre, cam.radius) {
            (Some(centre), Some(radius)) => {
                let (centre, radius) = (self.at(centre), radius * self.scale);
                self.cam_face(cam);
                (centre, radius)
            }
            _ => {
                let curve: Vec<_> = cam.curve.iter().map(|at| self.at(*at)).collect();
                self.cam_face(cam);
                let out = match roller {
                    Some((centre, radius)) => times(1.0 / radius.max(1e-9), minus(centre, touches)),
                    None => beside(&curve, touches),
                };
                (minus(touches, times(INTO, out)), FLAT)
            }
        };
        let way = minus(touches, from);
        let towards = times(1.0 / length(way).max(1e-9), way);
        let mut end = plus(touches, times(3.0, towards));
        if let Some((centre, _)) = roller {
            end = centre;
            self.cam_roller(cam);
        } else {
            let half = times(half, across(towards));
            let flat = [minus(touches, half), plus(touches, half)];
            self.ink.line(&flat, pen(INK, 0.5, ""), 1.0);
        }
        self.ink.line(&[from, end], CENTRE, 0.5);
    }

    /// The face of a cam alone.
    pub(super) fn cam_face(&mut self, cam: &DrawnCam) {
        if let (Some(centre), Some(radius)) = (cam.centre, cam.radius) {
            let (centre, radius) = (self.at(centre), radius * self.scale);
            self.ink
                .circle(centre, radius, WHITE, pen(INK, EDGE, ""), None);
            return;
        }
        let curve: Vec<_> = cam.curve.iter().map(|at| self.at(*at)).collect();
        self.ink.line(&curve, pen(INK, 0.5, ""), 1.0);
    }

    /// The roller that a cam pushes alone.
    pub(super) fn cam_roller(&mut self, cam: &DrawnCam) {
        if let Some((at, radius)) = cam.roller.zip(cam.roller_radius) {
            let (at, radius) = (self.at(at), radius * self.scale);
            self.ink.circle(at, radius, WHITE, pen(INK, EDGE, ""), None);
        }
    }

    /// The flat that a cam pushes, as long as the contact goes along it: from where it touches to `last` on paper.
    pub(super) fn cam_flat(&mut self, cam: &DrawnCam, last: [f64; 2]) {
        let touches = self.at(cam.touches);
        let along = match cam.centre {
            Some(centre) => across(minus(touches, self.at(centre))),
            None => {
                let curve: Vec<_> = cam.curve.iter().map(|at| self.at(*at)).collect();
                across(beside(&curve, touches))
            }
        };
        let along = times(1.0 / length(along).max(1e-9), along);
        let slid = dot(minus(last, touches), along);
        let (low, high) = (slid.min(0.0) - FLAT, slid.max(0.0) + FLAT);
        let flat = [low, high].map(|by| plus(touches, times(by, along)));
        self.ink.line(&flat, pen(INK, 0.5, ""), 1.0);
    }
}
