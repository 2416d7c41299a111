//! Gradients of the closure equations without their zeros, and the order in which they are solved.
//!
//! A closed loop of parts does not ask where the part that carries it stands: the columns of the
//! parts beyond the loop are left out. The blocks into which the equations fall, the handle driving,
//! are what the theory of machines calls Assur groups; most are of two equations.

use super::{GROUND, JointFrame, Kind, Linkage, Pose, ROOT, Spot};
use crate::model::{JointId, PartId};
use crate::numeric::blocks::Plan;

/// One body on the way round a loop that a cut pin closes: its angle moves the pin along the arm
/// between two places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Arm {
    from: Place,
    to: Place,
    /// Where the numbers of its angle stand among those of the x and the y equation.
    at: [usize; 2],
}

/// A place on the way round a loop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Place {
    Entry(PartId),
    Carrier,
    Part,
}

/// How the numbers of one joint are found.
#[derive(Debug, Clone, PartialEq)]
enum Way {
    /// A cut pin: arms, and for roots that slide the number that stays.
    Arms {
        joint: JointId,
        /// The x equation; y follows.
        row: usize,
        arms: Vec<Arm>,
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
                pattern[row] = joint.columns(self);
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
        let (mut arms, mut slides): (Vec<Arm>, Vec<(usize, f64)>) = (Vec::new(), Vec::new());
        for (spot, end, sign) in [(carrier, Place::Carrier, 1.0), (part, Place::Part, -1.0)] {
            let mut beyond = end;
            for b in self.way_down(spot.body) {
                let body = &self.bodies[b];
                let own = Place::Entry(b);
                if let Some(at) = Some(body.angle).filter(|&c| c != GROUND).and_then(at) {
                    let (from, to) = if sign > 0.0 {
                        (own, beyond)
                    } else {
                        (beyond, own)
                    };
                    // The body that carries the loop: the arm is between its two exits.
                    match arms.iter_mut().find(|arm| arm.at == at) {
                        Some(arm) => arm.from = beyond,
                        None => arms.push(Arm { from, to, at }),
                    }
                }
                if body.slide != GROUND {
                    let both = at(body.slide).zip(at(body.slide + 1));
                    if let Some((x, y)) = both {
                        slides.extend([(x[0], sign), (y[1], sign)]);
                    }
                }
                beyond = own;
            }
        }
        Way::Arms {
            joint,
            row: x_row,
            arms,
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
                    arms,
                    slides,
                } => {
                    let JointFrame::Pin(pin) = &linkage.joints[*joint] else {
                        continue;
                    };
                    let (carrier, part) = (pose.place(pin.carrier), pose.place(pin.part));
                    let apart = carrier - part;
                    (residual[*row], residual[*row + 1]) = (apart[0], apart[1]);
                    let place = |place: Place| match place {
                        Place::Entry(body) => pose.frames[body].origin,
                        Place::Carrier => carrier,
                        Place::Part => part,
                    };
                    for arm in arms {
                        let along = place(arm.to) - place(arm.from);
                        values[arm.at[0]] = -along[1];
                        values[arm.at[1]] = along[0];
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
