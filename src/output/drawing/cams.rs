//! Cams: the rim of the disc, the roller or the flat that it pushes, the line of the contact.

use super::ink::{across, length, minus, plus, times};
use super::tool::{CENTRE, EDGE, Plate, WHITE, pen};
use crate::output::svg::pen::INK;
use crate::report::DrawnCam;

impl Plate {
    pub(super) fn cam(&mut self, cam: &DrawnCam) {
        let rim = pen(INK, EDGE, "");
        let (centre, touches) = (self.at(cam.centre), self.at(cam.touches));
        let radius = cam.radius * self.scale;
        self.ink.circle(centre, radius, WHITE, rim, None);
        let way = minus(touches, centre);
        let towards = times(1.0 / length(way).max(1e-9), way);
        let mut end = plus(touches, times(3.0, towards));
        if let (Some(at), Some(own)) = (cam.roller, cam.roller_radius) {
            end = self.at(at);
            self.ink.circle(end, own * self.scale, WHITE, rim, None);
        } else {
            let half = times(radius, across(towards));
            let flat = [minus(touches, half), plus(touches, half)];
            self.ink.line(&flat, pen(INK, 0.5, ""), 1.0);
        }
        self.ink.line(&[centre, end], CENTRE, 0.5);
    }
}
