//! What is in the way of labels: points along lines, found by where they stand.

use std::collections::BTreeMap;

/// Height of a strip of the paper, mm: about that of a label, which then lies in two.
const STRIP: f64 = 4.0;

/// Points that are in the way of labels, and how much; strip by strip, since most of them are far from any label.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Crowd {
    strips: BTreeMap<i64, Vec<([f64; 2], f64)>>,
}

impl Crowd {
    pub(super) fn add(&mut self, at: [f64; 2], weight: f64) {
        self.strips
            .entry(strip(at[1]))
            .or_default()
            .push((at, weight));
    }

    /// The weights of all that stands in a room (upper left and lower right corner) or within `margin` of it, mm.
    pub(super) fn within(
        &self,
        [low, high]: [[f64; 2]; 2],
        margin: f64,
    ) -> impl Iterator<Item = f64> + '_ {
        let [low, high] = [low.map(|v| v - margin), high.map(|v| v + margin)];
        let top = strip(low[1]);
        let bottom = strip(high[1]).saturating_add(1).max(top);
        let points = self
            .strips
            .range(top..bottom)
            .flat_map(|(_, points)| points);
        let inside = move |p: &[f64; 2]| (0..2).all(|k| p[k] > low[k] && p[k] < high[k]);
        points
            .filter(move |(p, _)| inside(p))
            .map(|(_, weight)| *weight)
    }
}

fn strip(y: f64) -> i64 {
    (y / STRIP).floor() as i64
}

#[cfg(test)]
mod tests {
    use super::Crowd;

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
            [[-3.0, -8.0], [4.0, 4.0]],
            [[-3.0, -11.0], [9.0, -4.0]],
            [[0.0, 3.9], [5.0, 4.1]],
            [[2.0, 2.0], [2.0, 2.0]],
            [[f64::NAN; 2], [f64::NAN; 2]],
            [[-1e300, -1e300], [1e300, 1e300]],
        ];
        for room in rooms {
            let all = points.iter().enumerate();
            let held =
                |p: &[f64; 2]| (0..2).all(|k| p[k] > room[0][k] - 0.5 && p[k] < room[1][k] + 0.5);
            let all = all.filter(|(_, p)| held(p));
            let sum: f64 = all.map(|(k, _)| k as f64).sum();
            assert_eq!(crowd.within(room, 0.5).sum::<f64>(), sum, "{room:?}");
        }
    }
}
