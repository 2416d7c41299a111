//! Residuals and gradients of the closure equations.

use super::{Kind, Linkage, Pose, ROOT};
use crate::geometry::Vec2;
use crate::model::PartId;

impl Linkage {
    /// Residual of every closure equation at `pose`, mm.
    #[inline]
    pub fn residual(&self, pose: &Pose, out: &mut [f64]) {
        for &k in &self.closing {
            let joint = &self.joints[k];
            joint.residual(self, pose, &mut out[joint.rows()]);
        }
    }

    /// Gradient of every closure equation by the coordinates: row-major, `equations` rows of
    /// `coordinates`. The transposed rows are the generalised forces of the joint forces.
    #[inline]
    pub fn jacobian(&self, pose: &Pose, out: &mut [f64]) {
        let n = self.coordinates;
        out[..self.equations * n].fill(0.0);
        for &k in &self.closing {
            let joint = &self.joints[k];
            let rows = joint.rows();
            joint.gradient(self, pose, &mut out[rows.start * n..rows.end * n]);
        }
    }

    /// Both gradients of a point in one walk down the tree: x and y times `sign`.
    #[inline]
    pub(super) fn add_both_gradients(
        &self,
        pose: &Pose,
        body: PartId,
        place: Vec2,
        sign: f64,
        x_row: &mut [f64],
        y_row: &mut [f64],
    ) {
        let mut b = body;
        let mut at = place;
        while self.bodies[b].angle != super::GROUND {
            let frame = &self.bodies[b];
            let entry = pose.frames[b].origin;
            x_row[frame.angle] -= sign * (at[1] - entry[1]);
            y_row[frame.angle] += sign * (at[0] - entry[0]);
            if frame.parent == ROOT {
                x_row[frame.slide] += sign * self.size;
                y_row[frame.slide + 1] += sign * self.size;
                return;
            }
            at = entry;
            b = frame.parent;
        }
    }
}
