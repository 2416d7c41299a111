//! The name of a part, within the part where there is room for it, its handle too.

use super::area::Area;
use super::ink::{V, across, length, minus, plus, times, unit};
use super::labels::{BALLOON, Label};
use super::marks::part_number;
use super::outline::{corners_of, outside};
use super::tool::{LABEL, Plate, centre, name};
use crate::output::svg::pen::{GREY, INK};
use crate::report::{DrawnHandle, DrawnPart, DrawnPosition};

/// Places tried along each side of the box round a part.
const FINE: usize = 16;
/// Places tried along each piece of a handle's line.
const ALONG: usize = 8;
/// From the line to places beside it, as a share of the handle's thickness: the line itself is drawn.
const BESIDE: f64 = 0.26;

impl Plate {
    /// The name of a part or its number, where it can be seen: `above` is what is drawn over it.
    pub(super) fn name(
        &mut self,
        part: &DrawnPart,
        number: usize,
        above: &[&DrawnPart],
        position: &DrawnPosition,
    ) {
        let corners = self.corners(part);
        let pins: Vec<V> = position.pins.iter().map(|p| self.at(p.at)).collect();
        let handles: Vec<&DrawnHandle> = (position.handles.iter())
            .filter(|handle| handle.part == part.name)
            .collect();
        // How clear a place is: of what covers the part, of its own edge, of pins.
        let own = self.area(part);
        let over: Vec<Area> = above.iter().map(|over| self.area(over)).collect();
        let near = |p: V| pins.iter().map(move |q| length(minus(p, *q)) - 2.0);
        let inside = |p: V| {
            let bands = handles.iter().map(|handle| self.within(handle, p));
            bands.fold(-own.off(p), f64::max)
        };
        let clear = |p: V, floor: f64| {
            // Most places are on a pin, outside or covered, which is seen without all the rest.
            let mut least = near(p).fold(f64::INFINITY, f64::min);
            let mut take = |next: &dyn Fn() -> f64| {
                if least > floor {
                    least = least.min(next());
                }
            };
            take(&|| inside(p));
            over.iter().for_each(|over| take(&|| over.off(p)));
            least
        };
        let middle = centre(&corners);
        let mut tries = grid(&corners);
        if let Some((from, steps)) = self.borders(part).first() {
            tries.extend(grid(&corners_of(*from, steps)));
        }
        tries.extend(handles.iter().flat_map(|handle| self.beside_line(handle)));
        let numbered = self.numbered;
        let room = if numbered { BALLOON + 0.4 } else { 1.5 };
        let (mut best, mut at) = (f64::NEG_INFINITY, middle);
        let mut spots: Vec<(f64, V)> = Vec::new();
        for p in tries {
            let clear = clear(p, best.min(room));
            if clear > best {
                (best, at) = (clear, p);
            }
            if clear > room {
                spots.push((clear, p));
            }
        }
        spots.sort_by(|a, b| b.0.total_cmp(&a.0));
        self.labels.push(Label {
            text: match numbered {
                true => part_number(number),
                false => name(&part.name),
            },
            at,
            clear: 0.0,
            size: LABEL,
            bold: false,
            italic: !numbered,
            first: false,
            balloon: numbered,
            colour: if numbered { INK } else { GREY },
            towards: None,
            spots: spots.into_iter().map(|(_, p)| p).collect(),
            rivals: Vec::new(),
        });
    }

    /// How far a place of the paper lies within a handle; outside it as a negative number.
    fn within(&self, handle: &DrawnHandle, p: V) -> f64 {
        let line: Vec<V> = handle.line.iter().map(|&q| self.at(q)).collect();
        let off = line.windows(2).map(|pair| outside(pair, p));
        0.5 * handle.thickness * self.scale - off.fold(f64::INFINITY, f64::min)
    }

    /// Places on both sides of a handle's line.
    fn beside_line(&self, handle: &DrawnHandle) -> Vec<V> {
        let line: Vec<V> = handle.line.iter().map(|&q| self.at(q)).collect();
        let aside = BESIDE * handle.thickness * self.scale;
        let mut out = Vec::new();
        for pair in line.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            let side = times(aside, across(unit(minus(b, a))));
            for k in 0..ALONG {
                let share = (k as f64 + 0.5) / ALONG as f64;
                let on = plus(a, times(share, minus(b, a)));
                out.extend([plus(on, side), minus(on, side)]);
            }
        }
        out
    }
}

/// Places all over the box round some corners.
fn grid(corners: &[V]) -> Vec<V> {
    let box_of = |k: usize| {
        let low = corners.iter().fold(f64::INFINITY, |v, p| v.min(p[k]));
        let high = corners.iter().fold(f64::NEG_INFINITY, |v, p| v.max(p[k]));
        (low, high)
    };
    let (x, y) = (box_of(0), box_of(1));
    let step =
        |(low, high): (f64, f64), k: usize| low + (high - low) * (k as f64 + 0.5) / FINE as f64;
    let all = (0..FINE).flat_map(|i| (0..FINE).map(move |j| (i, j)));
    all.map(|(i, j)| [step(x, i), step(y, j)]).collect()
}
