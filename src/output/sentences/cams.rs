//! Cams in sentences: how they push over the stroke, and what is wrong with one.

use crate::output::text::{clean, fixed, length};
use crate::report::{CamLine, UnitNames};

/// A pressure angle above this is worth a look, deg: the follower is pushed against its guide more than half as
/// hard as along it (common practice, no source).
const STEEP: f64 = 30.0;

/// How a cam pushes.
pub(in crate::output) fn cam_sentence(cam: &CamLine, units: &UnitNames) -> String {
    let l = units.length;
    let what = if cam.roller { "roller" } else { "flat" };
    let mut text = format!(
        "Cam {} on {} pushes a {what} of {}",
        clean(&cam.name),
        clean(&cam.part),
        clean(&cam.pushes)
    );
    if let (Some(angle), Some(gap)) = (cam.pressure_angle, cam.pressure_gap) {
        text.push_str(&format!(
            "; pressure angle {} deg at most, at gap {} {l}",
            fixed(angle, 2),
            length(gap, units)
        ));
    }
    if let Some(left) = cam.face_left.filter(|left| *left >= 0.0) {
        text.push_str(&format!(
            "; at least {} {l} of the face are left",
            length(left, units)
        ));
    }
    text.push('.');
    text
}

/// What is wrong with a cam, or worth a look.
pub(in crate::output) fn cam_findings(cam: &CamLine, units: &UnitNames) -> Vec<String> {
    let (name, l) = (clean(&cam.name), units.length);
    let mut found = Vec::new();
    if let Some([first, last]) = cam.lifts_off {
        found.push(format!(
            "cam {name} lifts off from gap {} to {} {l}, where it would have to pull: a spring must hold what it pushes \
             on the face",
            length(first, units),
            length(last, units)
        ));
    }
    if let (Some(hollow), Some(roller)) = (cam.hollow, cam.roller_radius) {
        found.push(format!(
            "cam {name}: a hollow of its face has a radius of {} {l}, the roller one of {} {l}: the roller does not follow \
             the face there",
            length(hollow, units),
            length(roller, units)
        ));
    }
    if let Some(angle) = cam.pressure_angle.filter(|angle| *angle > STEEP) {
        found.push(format!(
            "cam {name}: a pressure angle of {} deg presses what is pushed hard against its guide; 30 deg is a common \
             limit (common practice, no source)",
            fixed(angle, 1)
        ));
    }
    found
}
