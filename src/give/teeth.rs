//! The force of teeth as work over the shift of named points within their part.
//!
//! The places of pin and witness mark decide where the teeth of a part stand: moving the pin moves the
//! teeth, and moving the mark across the line from the pin turns them. So the tooth force acts at the pin,
//! with its moment about it carried by the pair of pin and mark. On a rack it acts at the mark, along the
//! pitch line; and a pinion's mark further out makes its pitch circle greater, which counts by how far it has
//! rolled.

use crate::geometry::Vec2;
use crate::model::{Gears, Mesh, PartId, Tool};
use crate::statics::{PointForce, Sheet};

/// The forces, in the part's axes, that the teeth of a pair count with at named points of `part`, which
/// `force` acts on.
pub(super) fn at_points(
    tool: &Tool,
    gears: &Gears,
    sheet: &Sheet,
    (part, force): (PartId, &PointForce),
) -> Option<Vec<(usize, Vec2)>> {
    let side = usize::from(gears.parts[1] == part);
    let turn = *sheet.turn.get(part.index())?;
    let own = |point: usize| {
        let point = tool.part(part)?.points.get(point)?;
        Some(Vec2::from(point.at))
    };
    let acts = force.force.turned_back(turn);
    let (mark, pin) = (gears.marks[side], gears.about[side]);
    let rack = matches!(gears.mesh, Mesh::Rack { .. });
    if rack && side == 1 {
        return Some(vec![(mark, acts)]);
    }
    let arm = own(mark)? - own(pin)?;
    let square = 1.0 / arm.dot(arm);
    let moment = (force.local - own(pin)?).cross(acts);
    let mut at_mark = Vec2::new(-arm[1], arm[0]) * (moment * square);
    if rack {
        // The mark of the rack, from where the pinion stands.
        let other = gears.parts[1];
        let on = sheet.on(other).first()?;
        let turn = *sheet.turn.get(other.index())?;
        let theirs = tool.part(other)?.points.get(gears.marks[1])?;
        let there = on.at + (Vec2::from(theirs.at) - on.local).turned(turn);
        let centre = force.at + (own(pin)? - force.local).turned(turn_of(sheet, part)?);
        at_mark += arm * (force.force.dot(there - centre) * square);
    }
    Some(vec![(pin, acts - at_mark), (mark, at_mark)])
}

fn turn_of(sheet: &Sheet, part: PartId) -> Option<Vec2> {
    sheet.turn.get(part.index()).copied()
}
