//! Residuals and gradients of the closure equations.

use super::{Held, Linkage, Pose, cross, dot, minus, turned};

impl Linkage {
    /// Residual of every closure equation at `pose`, mm.
    #[inline]
    pub fn residual(&self, pose: &Pose, out: &mut [f64]) {
        for &cut in &self.cuts {
            let joint = &self.joints[cut];
            if let Held::Cut { row } = joint.held {
                let gap = minus(pose.place(joint.carrier), pose.place(joint.part));
                out[row] = gap[0];
                out[row + 1] = gap[1];
            }
        }
        for slot in &self.slots {
            let along = turned(pose.turn[slot.through.body], slot.along);
            let offset = minus(pose.place(slot.rider), pose.place(slot.through));
            out[slot.row] = cross(along, offset);
            if let Some(turn) = slot.keyed {
                let angle = pose.angle(self, slot.rider.body) - pose.angle(self, slot.through.body);
                out[slot.row + 1] = self.size * (angle - turn);
            }
        }
    }

    /// Gradient of every closure equation by the coordinates: row-major, `equations` rows of
    /// `coordinates`. The transposed rows are the generalised forces of the joint forces.
    #[inline]
    pub fn jacobian(&self, pose: &Pose, out: &mut [f64]) {
        let n = self.coordinates;
        out[..self.equations * n].fill(0.0);
        for &cut in &self.cuts {
            let joint = &self.joints[cut];
            if let Held::Cut { row } = joint.held {
                for (spot, sign) in [(joint.carrier, 1.0), (joint.part, -1.0)] {
                    let place = pose.place(spot);
                    let rows = &mut out[row * n..(row + 2) * n];
                    let (x_row, y_row) = rows.split_at_mut(n);
                    self.add_both_gradients(pose, spot.body, place, sign, x_row, y_row);
                }
            }
        }
        for slot in &self.slots {
            let on = slot.through.body;
            let along = turned(pose.turn[on], slot.along);
            let normal = [-along[1], along[0]];
            let rider = pose.place(slot.rider);
            let through = pose.place(slot.through);
            let row = &mut out[slot.row * n..(slot.row + 1) * n];
            self.add_gradient(pose, slot.rider.body, rider, normal, row);
            self.add_gradient(pose, on, through, [-normal[0], -normal[1]], row);
            // The normal turns with the slotted body: dn/dθ = −along.
            self.add_angle(on, -dot(along, minus(rider, through)), row);
            if slot.keyed.is_some() {
                let row = &mut out[(slot.row + 1) * n..(slot.row + 2) * n];
                self.add_angle(slot.rider.body, self.size, row);
                self.add_angle(on, -self.size, row);
            }
        }
    }

    /// Both gradients of a point in one walk down the tree: x and y times `sign`.
    #[inline]
    fn add_both_gradients(
        &self,
        pose: &Pose,
        body: usize,
        place: [f64; 2],
        sign: f64,
        x_row: &mut [f64],
        y_row: &mut [f64],
    ) {
        let mut b = body;
        let mut at = place;
        while self.bodies[b].angle != super::GROUND {
            let frame = &self.bodies[b];
            let entry = pose.entry[b];
            x_row[frame.angle] -= sign * (at[1] - entry[1]);
            y_row[frame.angle] += sign * (at[0] - entry[0]);
            if frame.parent == super::GROUND {
                x_row[frame.slide] += sign * self.size;
                y_row[frame.slide + 1] += sign * self.size;
                return;
            }
            at = entry;
            b = frame.parent;
        }
    }
}
