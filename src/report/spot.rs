//! Where on a part a place is, in words that can be found with a rule: at a named point, along the hand line, or so far
//! from named points. Coordinates only where nothing of the part has a name.

use crate::model::{HandLine, Part, PartId, Tool};
use crate::numeric::Curve;
use crate::strength::{Factor, Place, Subject};
use crate::units::{Quantity, UnitSystem, trimmed};

/// A place nearer to a named point than this is at it, mm.
const AT: f64 = 0.5;
/// Two points nearer to each other than this tell one distance, not two, mm.
const APART: f64 = 5.0;
/// A place farther from the hand line than this is not on the handle, mm: no handle is thicker.
const HANDLE: f64 = 15.0;
/// Stretches that a hand line is looked along in.
const STRETCHES: u32 = 200;

/// The place of a factor for people to find, if its check looks at several.
pub(super) fn spot_text(tool: &Tool, factor: &Factor, units: UnitSystem) -> Option<String> {
    let Subject::Part(id) = factor.subject else {
        return None;
    };
    let part = tool.part(id)?;
    match factor.place? {
        Place::Point(point) => Some(format!("at {}", part.points.get(point)?.name)),
        Place::Along(mm) => Some(format!("{} along the hand line", rule(mm, units))),
        Place::At(at) => Some(spot(tool, id, at, units)),
        Place::Cut([at, to]) => {
            let middle = [0.5 * (at[0] + to[0]), 0.5 * (at[1] + to[1])];
            Some(along(tool, id, middle, units).unwrap_or_else(|| spot(tool, id, at, units)))
        }
    }
}

/// A place on a part, in its axes, mm.
pub(super) fn spot(tool: &Tool, id: PartId, at: [f64; 2], units: UnitSystem) -> String {
    let Some(part) = tool.part(id) else {
        return String::new();
    };
    let mut known: Vec<(f64, usize)> = (part.points.iter().enumerate())
        .map(|(k, point)| (off(point.at, at), k))
        .collect();
    known.sort_by(|a, b| a.0.total_cmp(&b.0));
    let name = |k: usize| part.points.get(k).map_or("", |point| point.name.as_str());
    match known.first() {
        None => along(tool, id, at, units).unwrap_or_else(|| coordinates(part, at, units)),
        Some(&(near, first)) if near < AT => format!("at {}", name(first)),
        Some(&(near, first)) => {
            let from = |(mm, k): (f64, usize)| format!("{} from {}", rule(mm, units), name(k));
            let point = |k: usize| part.points.get(k).map_or(at, |point| point.at);
            let apart = |k: usize| off(point(k), point(first)) > APART;
            let second = known.iter().skip(1).find(|(_, k)| apart(*k));
            match second {
                None => from((near, first)),
                Some(&second) => format!("{} and {}", from((near, first)), from(second)),
            }
        }
    }
}

/// How far along the hand line, where that is on the part and the place within the handle.
fn along(tool: &Tool, id: PartId, at: [f64; 2], units: UnitSystem) -> Option<String> {
    let hand = &tool.hand;
    let own = |line: &&HandLine| line.part == id;
    let line = Some(&hand.handle)
        .filter(own)
        .or(hand.against.as_ref().filter(own))?;
    let part = tool.part(id)?;
    let points: Option<Vec<_>> = line.points.iter().map(|&at| part.place(at)).collect();
    let curve = Curve::through(&points?, line.smooth)?;
    let far = (0..=STRETCHES).map(|k| curve.length() * f64::from(k) / f64::from(STRETCHES));
    let (mm, aside) = far
        .map(|mm| (mm, off(curve.point(mm), at)))
        .min_by(|a, b| a.1.total_cmp(&b.1))?;
    // Before its first point and beyond its last there is no handle.
    let step = curve.length() / f64::from(STRETCHES);
    let within = mm > 0.5 * step && mm < curve.length() - 0.5 * step && aside < HANDLE;
    within.then(|| format!("{} along the hand line", whole(mm, units)))
}

fn coordinates(part: &Part, at: [f64; 2], units: UnitSystem) -> String {
    let [x, y] = at.map(|mm| rule(mm, units));
    format!("at ({x}, {y}) in the axes of {}", part.name)
}

fn off(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// A length as a rule shows it: to 0.1 mm or 0.01 in.
fn rule(mm: f64, units: UnitSystem) -> String {
    let digits = if units == UnitSystem::InLbf { 2 } else { 1 };
    shown(mm, digits, units)
}

/// A length to 1 mm or 0.1 in.
fn whole(mm: f64, units: UnitSystem) -> String {
    let digits = if units == UnitSystem::InLbf { 1 } else { 0 };
    shown(mm, digits, units)
}

fn shown(mm: f64, digits: usize, units: UnitSystem) -> String {
    let value = units.show(mm, Quantity::Length);
    format!(
        "{} {}",
        trimmed(value, digits),
        units.symbol(Quantity::Length)
    )
}
