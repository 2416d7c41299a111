//! What is in the way of labels: points along lines, found by where they stand.

use super::ink::V;
use super::labels::Room;
use std::collections::BTreeMap;

/// Height of a strip of the paper, mm: about that of a label, which then lies in two.
const STRIP: f64 = 4.0;

/// Points that are in the way of labels, and how much; strip by strip, since most of them are far from any label.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Crowd {
    strips: BTreeMap<i64, Vec<(V, f64)>>,
}

impl Crowd {
    pub(super) fn add(&mut self, at: V, weight: f64) {
        self.strips
            .entry(strip(at[1]))
            .or_default()
            .push((at, weight));
    }

    /// The weights of all that stands in a room or within `margin` of it, mm.
    pub(super) fn within(&self, room: Room, margin: f64) -> impl Iterator<Item = f64> + '_ {
        let (top, bottom) = (
            strip(room.0[1] - margin),
            strip(room.1[1] + margin).saturating_add(1),
        );
        let strips = self.strips.range(top..bottom.max(top));
        let points = strips.flat_map(|(_, points)| points);
        points
            .filter(move |(p, _)| room.holds(*p, margin))
            .map(|(_, weight)| *weight)
    }
}

fn strip(y: f64) -> i64 {
    (y / STRIP).floor() as i64
}

#[cfg(test)]
mod tests {
    use super::{Crowd, Room};

    /// Rooms that end on the border of a strip, high ones, flat ones, those without a place: as by asking every point.
    #[test]
    fn strips_find_what_every_point_finds() {
        let points: Vec<[f64; 2]> = (0..400)
            .map(|k| [f64::from(k % 20) - 7.0, f64::from(k / 20) * 1.3 - 11.0])
            .collect();
        let mut crowd = Crowd::default();
        for (k, p) in points.iter().enumerate() {
            crowd.add(*p, k as f64);
        }
        let rooms = [
            Room([-3.0, -8.0], [4.0, 4.0]),
            Room([-3.0, -11.0], [9.0, -4.0]),
            Room([0.0, 3.9], [5.0, 4.1]),
            Room([2.0, 2.0], [2.0, 2.0]),
            Room([f64::NAN; 2], [f64::NAN; 2]),
            Room([-1e300, -1e300], [1e300, 1e300]),
        ];
        for room in rooms {
            let all = points.iter().enumerate();
            let all = all.filter(|(_, p)| room.holds(**p, 0.5));
            let sum: f64 = all.map(|(k, _)| k as f64).sum();
            assert_eq!(crowd.within(room, 0.5).sum::<f64>(), sum, "{room:?}");
        }
    }
}
