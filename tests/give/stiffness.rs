//! The direct stiffness method for plane frames: bars, beams and springs between free coordinates.
//!
//! Element matrices: R. C. Hibbeler, *Structural Analysis*, ch. 14–16 (from memory); written here
//! for these tests and solved by nalgebra. It shares nothing with the unit-load method: the forces
//! are not known beforehand.

use nalgebra::{DMatrix, DVector};

/// A plane frame. Coordinates are displacements (mm) and turns (rad).
#[derive(Default)]
pub(super) struct Frame {
    coordinates: usize,
    entries: Vec<(usize, usize, f64)>,
    /// Sums of coordinates that are held at zero.
    holds: Vec<Vec<(usize, f64)>>,
}

impl Frame {
    /// A new free coordinate.
    pub(super) fn free(&mut self) -> usize {
        self.coordinates += 1;
        self.coordinates - 1
    }

    /// A new node with two displacements.
    pub(super) fn node(&mut self) -> [usize; 2] {
        [self.free(), self.free()]
    }

    /// A pin to the ground.
    pub(super) fn ground(&mut self) -> [usize; 2] {
        let node = self.node();
        self.hold(vec![(node[0], 1.0)]);
        self.hold(vec![(node[1], 1.0)]);
        node
    }

    /// Holds a sum of coordinates.
    pub(super) fn hold(&mut self, sum: Vec<(usize, f64)>) {
        self.holds.push(sum);
    }

    /// Adds `stiffness` times the square of a sum of coordinates, over two, to the energy.
    fn spring(&mut self, sum: &[(usize, f64)], stiffness: f64) {
        for &(i, a) in sum {
            for &(j, b) in sum {
                self.entries.push((i, j, stiffness * a * b));
            }
        }
    }

    /// A bar between two places.
    pub(super) fn bar(&mut self, ends: [([f64; 2], [usize; 2]); 2], ea: f64) {
        let [(p, a), (q, b)] = ends;
        let d = [q[0] - p[0], q[1] - p[1]];
        let length = d[0].hypot(d[1]);
        let (c, s) = (d[0] / length, d[1] / length);
        self.spring(&[(a[0], -c), (a[1], -s), (b[0], c), (b[1], s)], ea / length);
    }

    /// An Euler–Bernoulli beam between two places, each with its turn.
    pub(super) fn beam(&mut self, ends: [([f64; 2], [usize; 2], usize); 2], ea: f64, ei: f64) {
        let [(p, a, ra), (q, b, rb)] = ends;
        self.bar([(p, a), (q, b)], ea);
        let d = [q[0] - p[0], q[1] - p[1]];
        let l = d[0].hypot(d[1]);
        let (c, s) = (d[0] / l, d[1] / l);
        // Turns of the ends against the chord.
        let chord = [(a[0], s / l), (a[1], -c / l), (b[0], -s / l), (b[1], c / l)];
        let against = |turn: usize| {
            let mut sum: Vec<(usize, f64)> = chord.iter().map(|&(i, v)| (i, -v)).collect();
            sum.push((turn, 1.0));
            sum
        };
        let (x, y) = (against(ra), against(rb));
        let both = |sign: f64| {
            let mut sum = x.clone();
            sum.extend(y.iter().map(|&(i, v)| (i, sign * v)));
            sum
        };
        // 4 x² + 4 x y + 4 y² = 3 (x + y)² + (x − y)².
        self.spring(&both(1.0), 3.0 * ei / l);
        self.spring(&both(-1.0), ei / l);
    }

    /// A spring in both directions between two nodes at one place.
    pub(super) fn pin(&mut self, a: [usize; 2], b: [usize; 2], stiffness: f64) {
        for k in 0..2 {
            self.spring(&[(a[k], 1.0), (b[k], -1.0)], stiffness);
        }
    }

    /// Work of the loads on the displacements that they cause: for a unit load, the displacement.
    pub(super) fn give(&self, loads: &[(usize, f64)]) -> f64 {
        let n = self.coordinates;
        let size = n + self.holds.len();
        let mut k = DMatrix::zeros(size, size);
        for &(i, j, v) in &self.entries {
            k[(i, j)] += v;
        }
        // Multipliers for what is held, scaled to the stiffness.
        let scale = k
            .iter()
            .fold(1.0_f64, |m: f64, v: &f64| m.max(v.abs()))
            .sqrt();
        for (h, sum) in self.holds.iter().enumerate() {
            for &(i, v) in sum {
                k[(n + h, i)] += scale * v;
                k[(i, n + h)] += scale * v;
            }
        }
        let mut f = DVector::zeros(size);
        for &(i, v) in loads {
            f[i] += v;
        }
        let d = k.full_piv_lu().solve(&f).expect("a frame that stands");
        d.dot(&f)
    }
}

/// The element is right: a cantilever, P L³ / 3 E I and P L / E A.
#[test]
fn a_cantilever_by_stiffness() {
    let mut frame = Frame::default();
    let (root, tip) = (frame.ground(), frame.node());
    let (turn, free) = (frame.free(), frame.free());
    frame.hold(vec![(turn, 1.0)]);
    frame.beam(
        [([0.0, 0.0], root, turn), ([3.0, 4.0], tip, free)],
        50.0,
        700.0,
    );
    super::near(
        frame.give(&[(tip[0], -0.8), (tip[1], 0.6)]),
        125.0 / 2100.0,
        1e-12,
    );
    super::near(frame.give(&[(tip[0], 0.6), (tip[1], 0.8)]), 0.1, 1e-12);
}
