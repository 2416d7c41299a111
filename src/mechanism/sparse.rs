//! Gradients of the closure equations without their zeros, and the order in which they are solved.
//!
//! A closed loop of parts does not ask where the part that carries it stands: the columns of the
//! parts beyond the loop are left out. The blocks into which the equations fall, the handle driving,
//! are what the theory of machines calls Assur groups; most are of two equations.

use super::{GROUND, JointFrame, Kind, Linkage, Pose, ROOT, Spot};
use crate::geometry::Vec2;
use crate::model::{JointId, PartId};
use crate::numeric::blocks::Plan;

/// One body on the way from a pin down to its root: its angle moves the pin along the arm from its
/// entry to that of the body before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Limb {
    body: PartId,
    at: At,
}

/// Where the numbers of an angle stand among those of the x and the y equation.
type At = [usize; 2];

/// How the numbers of one joint are found.
#[derive(Debug, Clone, PartialEq)]
enum Way {
    /// A cut pin: the bodies from its carrier down and those from its part down, and the body that
    /// both hang on; for roots that slide the number that stays.
    Arms {
        joint: JointId,
        /// The x equation; y follows.
        row: usize,
        limbs: [Vec<Limb>; 2],
        shared: Option<At>,
        slides: Vec<(usize, f64)>,
    },
    /// Any other kind: it is asked.
    Asked { joint: JointId },
}

/// What stands where in the gradients of a linkage: the closure equations, then the driver's row.
#[derive(Debug, Clone, PartialEq)]
pub struct Sparse {
    /// The structure.
    pub plan: Plan,
    ways: Vec<Way>,
}

impl Linkage {
    /// What stands where in the gradients, the handle driving. `None` where the equations and the
    /// handle's angle do not tell all coordinates, whatever the numbers are.
    pub(super) fn find_sparse(&self) -> Option<Sparse> {
        let mut handle = vec![0.0; self.coordinates];
        self.handle_row(&mut handle);
        self.sparse_by(&handle)
    }

    /// The same with another row for the driver.
    #[must_use]
    pub fn sparse_by(&self, driver: &[f64]) -> Option<Sparse> {
        let n = self.coordinates;
        if self.equations + 1 != n {
            return None;
        }
        let mut pattern = vec![Vec::new(); n];
        for &k in &self.closing {
            let joint = &self.joints[k];
            for row in joint.rows() {
                pattern[row] = joint.columns(self, row);
            }
        }
        pattern[n - 1] = (0..n).filter(|&c| driver[c] != 0.0).collect();
        let plan = Plan::new(&pattern)?;
        let way = |&joint: &JointId| match &self.joints[joint] {
            JointFrame::Pin(pin) => self.arms(&plan, joint, pin.carrier, pin.part),
            _ => Way::Asked { joint },
        };
        let ways = self.closing.iter().map(way).collect();
        Some(Sparse { plan, ways })
    }

    /// The columns of a loop that is closed between two bodies: angles, and coordinates that slide,
    /// of all bodies on the way from one to the other.
    pub(super) fn loop_columns(&self, ends: [PartId; 2]) -> Vec<usize> {
        let [first, second] = ends.map(|end| self.way_down(end));
        let shared = (first.iter().rev().zip(second.iter().rev()))
            .take_while(|(a, b)| a == b)
            .count();
        // The last shared body carries the loop and counts; unless there is none, the roots slide.
        let beyond = shared.saturating_sub(1);
        let mut columns = Vec::new();
        for way in [&first, &second] {
            for &body in &way[..way.len() - beyond] {
                let body = &self.bodies[body];
                if body.angle != GROUND {
                    columns.push(body.angle);
                }
                if body.slide != GROUND && shared == 0 {
                    columns.extend([body.slide, body.slide + 1]);
                }
            }
        }
        columns.sort_unstable();
        columns.dedup();
        columns
    }

    /// A body and all that it hangs on, to its root.
    pub(super) fn way_down(&self, body: PartId) -> Vec<PartId> {
        let parent = |&b: &PartId| Some(self.bodies[b].parent).filter(|&p| p != ROOT);
        std::iter::successors(Some(body), parent).collect()
    }

    fn arms(&self, plan: &Plan, joint: JointId, carrier: Spot, part: Spot) -> Way {
        let x_row = self.joints[joint].rows().start;
        let at = |column: usize| {
            let place = |row: usize| {
                let k = plan.columns(row).iter().position(|&c| c == column);
                k.map(|k| plan.row(row).start + k)
            };
            Some([place(x_row)?, place(x_row + 1)?])
        };
        let ways = [(carrier, 1.0), (part, -1.0)];
        let mut slides = Vec::new();
        let limbs = ways.map(|(spot, sign)| {
            let mut limbs = Vec::new();
            for b in self.way_down(spot.body) {
                let body = &self.bodies[b];
                if let Some(at) = Some(body.angle).filter(|&c| c != GROUND).and_then(at) {
                    limbs.push(Limb { body: b, at });
                }
                if body.slide != GROUND
                    && let Some((x, y)) = at(body.slide).zip(at(body.slide + 1))
                {
                    slides.extend([(x[0], sign), (y[1], sign)]);
                }
            }
            limbs
        });
        // The body that carries the loop, if it moves, is the last on both ways.
        let [mut carriers, mut parts] = limbs;
        let shared = match (carriers.last(), parts.last()) {
            (Some(one), Some(other)) if one == other => Some(one.at),
            _ => None,
        };
        if shared.is_some() {
            carriers.pop();
            parts.pop();
        }
        Way::Arms {
            joint,
            row: x_row,
            limbs: [carriers, parts],
            shared,
            slides,
        }
    }
}

impl Sparse {
    /// The gradients of the closure equations at `pose`, as the values of [`Plan`]; those of the last
    /// row are left alone. Their residuals go to `residual`. `scratch`: zeros, as many as two rows have
    /// columns, and left so.
    #[inline]
    pub fn fill(
        &self,
        linkage: &Linkage,
        pose: &Pose,
        values: &mut [f64],
        residual: &mut [f64],
        scratch: &mut [f64],
    ) {
        for way in &self.ways {
            match way {
                Way::Arms {
                    joint,
                    row,
                    limbs: [carriers, parts],
                    shared,
                    slides,
                } => {
                    let JointFrame::Pin(pin) = &linkage.joints[*joint] else {
                        continue;
                    };
                    let (carrier, part) = (pose.place(pin.carrier), pose.place(pin.part));
                    let apart = carrier - part;
                    (residual[*row], residual[*row + 1]) = (apart[0], apart[1]);
                    let mut put = |at: At, along: Vec2| {
                        values[at[0]] = -along[1];
                        values[at[1]] = along[0];
                    };
                    let mut ends = [carrier, part];
                    for limb in carriers {
                        let entry = pose.frames[limb.body].origin;
                        put(limb.at, ends[0] - entry);
                        ends[0] = entry;
                    }
                    for limb in parts {
                        let entry = pose.frames[limb.body].origin;
                        put(limb.at, entry - ends[1]);
                        ends[1] = entry;
                    }
                    if let Some(at) = *shared {
                        put(at, ends[0] - ends[1]);
                    }
                    for &(at, sign) in slides {
                        values[at] = sign * linkage.size;
                    }
                }
                Way::Asked { joint } => {
                    let frame = &linkage.joints[*joint];
                    frame.residual(linkage, pose, &mut residual[frame.rows()]);
                    self.ask(linkage, pose, *joint, values, scratch);
                }
            }
        }
    }

    fn ask(
        &self,
        linkage: &Linkage,
        pose: &Pose,
        joint: JointId,
        values: &mut [f64],
        scratch: &mut [f64],
    ) {
        let n = linkage.coordinates;
        let joint = &linkage.joints[joint];
        let rows = joint.rows();
        joint.gradient(linkage, pose, &mut scratch[..rows.len() * n]);
        for (row, own) in rows.zip(scratch.chunks_exact_mut(n)) {
            for (at, &column) in self.plan.row(row).zip(self.plan.columns(row)) {
                values[at] = own[column];
                own[column] = 0.0;
            }
        }
    }

    /// How many numbers the scratch of [`Sparse::fill`] needs.
    #[must_use]
    pub fn scratch(&self, linkage: &Linkage) -> usize {
        let most = linkage.joints.iter().map(|j| j.rows().len()).max();
        most.unwrap_or(0) * linkage.coordinates
    }
}
