//! Two-force members: parts that carry force between two pins only.

use crate::geometry::Vec2;
use crate::model::{Joint, JointId, PartId, SpringEnds, Tool};

/// The two-pin links of a tool.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Links {
    items: Vec<Link>,
}

#[derive(Debug, Clone, PartialEq)]
struct Link {
    part: PartId,
    ends: [usize; 2],
    /// Joints at the second end, with the sign that makes the listed force act on this part.
    joints: Vec<(JointId, f64)>,
}

impl Links {
    /// The moving parts of `tool` on which forces act at exactly two pins: no hand, jaw, spring or
    /// other joint.
    #[must_use]
    pub fn of(tool: &Tool) -> Self {
        let other: Vec<Joint> = tool.all_joints().skip(tool.joints.len()).collect();
        let touched = |part: PartId| {
            tool.hand.handle.part == part
                || tool
                    .hand
                    .against
                    .as_ref()
                    .is_some_and(|line| line.part == part)
                || tool.palm() == Some(part)
                || tool
                    .jaws
                    .iter()
                    .any(|j| j.on.part == part || j.against.part == part)
                || other.iter().any(|joint| joint.parts().contains(&part))
                || tool.springs.iter().any(|s| match s.ends {
                    SpringEnds::Points(a, b) => a.part == part || b.part == part,
                    SpringEnds::Pin { first, second } => first == part || second == part,
                })
        };
        let mut items = Vec::new();
        for part in PartId::ids(tool.parts.len()).filter(|&p| p != tool.fixed && !touched(p)) {
            let mut pins: Vec<(usize, JointId, f64)> = Vec::new();
            for (j, joint) in JointId::each(&tool.joints) {
                if joint.part == part {
                    pins.push((joint.part_point, j, 1.0));
                }
                if joint.carrier == part {
                    pins.push((joint.carrier_point, j, -1.0));
                }
            }
            let mut points: Vec<usize> = pins.iter().map(|p| p.0).collect();
            points.sort_unstable();
            points.dedup();
            if let [first, second] = points[..] {
                let joints = pins
                    .iter()
                    .filter(|p| p.0 == second)
                    .map(|&(_, j, sign)| (j, sign))
                    .collect();
                items.push(Link {
                    part,
                    ends: [first, second],
                    joints,
                });
            }
        }
        Self { items }
    }

    /// The parts, in order.
    pub fn parts(&self) -> impl Iterator<Item = PartId> {
        self.items.iter().map(|link| link.part)
    }

    /// Joints that decide the axial force of link `k`.
    pub fn joints_of(&self, k: usize) -> impl Iterator<Item = JointId> {
        self.items
            .get(k)
            .into_iter()
            .flat_map(|link| link.joints.iter().map(|&(j, _)| j))
    }

    /// Axial force of every link, N, tension positive, from the joint forces and the places of
    /// all points.
    #[must_use]
    pub fn axial(&self, pins: &[Option<Vec2>], points: &[Vec<Vec2>]) -> Vec<Option<f64>> {
        let one = |link: &Link| {
            let place = |end: usize| points.get(link.part.index())?.get(end).copied();
            let along = place(link.ends[1])? - place(link.ends[0])?;
            let length = along.length();
            let mut force = Vec2::ZERO;
            for &(joint, sign) in &link.joints {
                let f = (*pins.get(joint.index())?)?;
                force[0] += sign * f[0];
                force[1] += sign * f[1];
            }
            (length > 0.0).then(|| force.dot(along) / length)
        };
        self.items.iter().map(one).collect()
    }
}
