//! Teeth and pawl of a ratchet, as a drawing shows them.

use super::drawing::DrawnRatchet;
use crate::geometry::{Frame, Vec2};
use crate::model::{PartId, Ratchet, Tool};

/// Teeth as saw teeth about their pin, and the pawl such that it is pressed as they turn back.
pub(super) fn drawn_ratchet(tool: &Tool, angles: &[f64], frames: &[Frame]) -> Option<DrawnRatchet> {
    let ratchet = tool.ratchet.as_ref()?;
    let on = frames.get(ratchet.pawl.on.index())?;
    let with = frames.get(ratchet.teeth_on.index())?;
    let pin_name = &tool.pin(ratchet.about)?.pin;
    let point = |part: PartId| {
        let points = &tool.part(part)?.points;
        points
            .iter()
            .find(|p| p.name == *pin_name)
            .map(|p| Vec2::from(p.at))
    };
    let (centre, own) = (point(ratchet.pawl.on)?, point(ratchet.teeth_on)?);
    let sense = angles
        .last()
        .zip(angles.first())
        .map_or(1.0, |(b, a)| (b - a).signum());
    let tip = pawl_tip(ratchet, centre, sense)?;
    let across = tip - centre;
    let base = across[1].atan2(across[0]);
    let depth = ratchet.height.unwrap_or(0.08 * ratchet.radius);
    let mut teeth = Vec::new();
    for angle in angles {
        let tip = base - angle;
        // The flank that holds is undercut; the back runs down to the root of the next tooth.
        teeth.push(own + Vec2::unit(tip) * ratchet.radius);
        let under = ratchet.flank.tan() * depth / ratchet.radius;
        let root = tip - sense * under;
        teeth.push(own + Vec2::unit(root) * (ratchet.radius - depth));
    }
    let place = |frame: &Frame, p: Vec2| frame.place(p).xy();
    Some(DrawnRatchet {
        teeth: teeth.into_iter().map(|p| place(with, p)).collect(),
        pawl: [place(on, ratchet.pawl.pin.into()), place(on, tip)],
    })
}

/// Where the pawl touches the circle of the tips, in the axes of its part: of two places the one at which teeth that
/// turn back (against `sense`) press it towards its pin.
fn pawl_tip(ratchet: &Ratchet, centre: Vec2, sense: f64) -> Option<Vec2> {
    let pin = Vec2::from(ratchet.pawl.pin);
    let far = (pin - centre).length();
    let (radius, length) = (ratchet.radius, ratchet.pawl.length);
    let cos = (far * far + radius * radius - length * length) / (2.0 * far * radius);
    if !(-1.0..=1.0).contains(&cos) {
        return None;
    }
    let to = pin - centre;
    let (base, half) = (to[1].atan2(to[0]), cos.acos());
    // Turning back, the tips run against the sense; the pin stands ahead of the tip on that way.
    Some(centre + Vec2::unit(base + sense * half) * radius)
}
