//! What looks as if it had been entered the other way round, or does not fit: sentences that several reports share.

use super::show::number;
use crate::analysis::Solved;
use crate::geometry::Vec2;
use crate::model::{Direction, JawId, Place, PointKind, Tool};
use crate::units::{Quantity, UnitSystem};

/// How much farther from the pins of its part the beginning of a hand line must be than its end to be taken for the
/// outer one.
const FARTHER: f64 = 2.0;

/// Gaps that differ by less than this share are the same.
const SAME: f64 = 1e-6;

/// All that there is to say of a tool whose stroke is solved.
pub(super) fn entered(tool: &Tool, solved: &Solved, units: UnitSystem) -> Vec<String> {
    let mut found: Vec<String> = JawId::ids(tool.jaws.len())
        .filter_map(|jaw| does_not_go_in(tool, solved, jaw, units))
        .collect();
    found.extend(from_outside(tool));
    found
}

/// Work that is wider than the jaw opens.
fn does_not_go_in(tool: &Tool, solved: &Solved, jaw: JawId, units: UnitSystem) -> Option<String> {
    let open = match solved.direction {
        Direction::Closing => solved.positions.first()?,
        Direction::Opening => return None,
    };
    let own = tool.jaw(jaw)?;
    let (work, gap) = (own.work.as_ref()?, *open.gap.get(jaw.index())?);
    // It is touched at the row before the first that asks for a force.
    let first = work.need.iter().position(|row| row[1] > 0.0)?;
    let widest = work.need.get(first.saturating_sub(1))?[0];
    let force = work.at(gap, 0.0);
    if !(widest - gap > SAME * widest && force > 0.0) {
        return None;
    }
    let length = |mm: f64| number(units.show(mm, Quantity::Length));
    let unit = units.symbol(Quantity::Length);
    Some(format!(
        "the work is touched at gap {} {unit} already, and jaw `{}` opens to {} {unit}: such a piece does not go in; a \
         row of `need` is [gap, force]",
        length(widest),
        own.name,
        length(gap),
    ))
}

/// A hand line that begins at its outer end.
fn from_outside(tool: &Tool) -> Option<String> {
    let line = &tool.hand.handle;
    let part = tool.part(line.part)?;
    let place = |place: &Place| part.place(*place).map(Vec2::from);
    let pins = || {
        part.points
            .iter()
            .filter(|point| point.kind == PointKind::Pin)
    };
    let from_pins = |at: Vec2| {
        let away = pins().map(|pin| (Vec2::from(pin.at) - at).length());
        away.fold(f64::INFINITY, f64::min)
    };
    let (first, last) = (place(line.points.first()?)?, place(line.points.last()?)?);
    let (near, far) = (from_pins(last), from_pins(first));
    (far.is_finite() && far > FARTHER * near && far > 0.5 * (first - last).length()).then(|| {
        format!(
            "the hand line on `{}` begins at its outer end: grips are counted from its first point, which is to be the \
             one at the pivot",
            part.name
        )
    })
}
