//! Springs: their force at a position, their energy, and the power they take.

use super::balance::Balance;
use crate::geometry::Vec2;
use crate::mechanism::{Linkage, Pose, Rates, Spot};
use crate::model::{Acts, PartId, PointRef, Spring, SpringEnds, SpringSet, Tool};
use crate::numeric::angle::wrapped;

/// The springs of a tool, their slack states settled at the open end of the stroke.
#[derive(Debug, Clone, Default)]
pub struct Springs {
    items: Vec<Item>,
}

#[derive(Debug, Clone, Copy)]
struct Item {
    ends: Ends,
    rate: f64,
    free: f64,
    acts: Acts,
    /// Length or angle at the open end of the tool that it was settled in.
    open: f64,
}

/// A spring at one position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpringState {
    /// Its length, mm; about a pin the angle of its second part against its first, rad.
    pub at: f64,
    /// Its tension, N, or the moment that turns the second part clockwise, N mm; below zero where it
    /// pushes.
    pub pull: f64,
    /// Where it is slack: a length or an angle like `at`.
    pub free: f64,
}

/// What a spring does to one part.
#[derive(Debug, Clone, Copy)]
pub(super) struct SpringEnd {
    pub body: PartId,
    pub at: Vec2,
    pub force: Vec2,
    pub moment: f64,
}

#[derive(Debug, Clone, Copy)]
enum Ends {
    /// Between two spots.
    Points(Spot, Spot),
    /// About a pin: where it is on the first and the second body.
    Pin(Spot, Spot),
}

impl Springs {
    /// The springs of `tool` with the linkage at `open`, where preloads hold. The angle of a
    /// spring about a pin is taken within half a turn of its slack angle there.
    #[must_use]
    pub fn new(tool: &Tool, linkage: &Linkage, open: &Pose) -> Self {
        let items = tool
            .springs
            .iter()
            .map(|spring| settle(spring, tool, linkage, open))
            .collect();
        Self { items }
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.items.is_empty()
    }

    /// Takes over the places where the springs act from changed dimensions; free lengths and
    /// rates, once settled, belong to the springs.
    pub fn follow(&mut self, tool: &Tool, linkage: &Linkage) {
        for (item, spring) in self.items.iter_mut().zip(&tool.springs) {
            item.ends = ends(spring, tool, linkage);
        }
    }

    /// What every spring is at a position.
    #[must_use]
    pub fn states(&self, linkage: &Linkage, pose: &Pose) -> Vec<SpringState> {
        let state = |item: &Item| SpringState {
            at: item.state(linkage, pose),
            pull: item.pull(linkage, pose),
            free: item.free,
        };
        self.items.iter().map(state).collect()
    }

    /// Takes over the springs' own numbers: rates, and what settles them, at the open end of the tool that
    /// they were settled in.
    pub fn take(&mut self, tool: &Tool) {
        for (item, spring) in self.items.iter_mut().zip(&tool.springs) {
            item.rate = spring.rate();
            item.free = slack(spring, item.open);
        }
    }

    /// Adds the springs' forces and moments as loads.
    #[inline]
    pub fn load(&self, linkage: &Linkage, pose: &Pose, balance: &mut Balance) {
        for item in &self.items {
            let pull = item.pull(linkage, pose);
            match item.ends {
                Ends::Points(a, b) => {
                    let (from, to, u) = line(pose, a, b);
                    balance.add_force(pose, a.body, from, u * pull);
                    balance.add_force(pose, b.body, to, Vec2::new(-pull * u[0], -pull * u[1]));
                }
                Ends::Pin(first, second) => {
                    balance.add_moment(second.body, -pull);
                    balance.add_moment(first.body, pull);
                }
            }
        }
    }

    /// For each spring, what it does at both of its ends.
    pub(super) fn pulls<'s>(
        &'s self,
        linkage: &'s Linkage,
        pose: &'s Pose,
    ) -> impl Iterator<Item = [SpringEnd; 2]> + 's {
        self.items.iter().map(move |item| {
            let pull = item.pull(linkage, pose);
            match item.ends {
                Ends::Points(a, b) => {
                    let (from, to, u) = line(pose, a, b);
                    let force = u * pull;
                    [
                        SpringEnd {
                            body: a.body,
                            at: from,
                            force,
                            moment: 0.0,
                        },
                        SpringEnd {
                            body: b.body,
                            at: to,
                            force: -force,
                            moment: 0.0,
                        },
                    ]
                }
                // Where a couple acts is nothing to the balance of a part, but to the cuts through it.
                Ends::Pin(first, second) => {
                    [(first, pull), (second, -pull)].map(|(pin, moment)| SpringEnd {
                        body: pin.body,
                        at: pose.place(pin),
                        force: Vec2::ZERO,
                        moment,
                    })
                }
            }
        })
    }

    /// Power that the springs give to the motion, N mm per unit of it.
    #[inline]
    #[must_use]
    pub fn power(&self, linkage: &Linkage, pose: &Pose, rates: &Rates) -> f64 {
        let mut sum = 0.0;
        for item in &self.items {
            let pull = item.pull(linkage, pose);
            sum -= pull
                * match item.ends {
                    Ends::Points(a, b) => {
                        let (from, to, u) = line(pose, a, b);
                        u.dot(rates.of(pose, b.body, to) - rates.of(pose, a.body, from))
                    }
                    Ends::Pin(first, second) => {
                        rates.spin[second.body.index()] - rates.spin[first.body.index()]
                    }
                };
        }
        sum
    }

    /// Energy stored, N mm.
    #[must_use]
    pub fn energy(&self, linkage: &Linkage, pose: &Pose) -> f64 {
        self.items
            .iter()
            .map(|item| item.pull(linkage, pose).powi(2) / (2.0 * item.rate))
            .sum()
    }
}

impl Item {
    /// Length (mm), or angle of the second body against the first (rad).
    #[inline]
    fn state(&self, linkage: &Linkage, pose: &Pose) -> f64 {
        match self.ends {
            Ends::Points(a, b) => (pose.place(b) - pose.place(a)).length(),
            Ends::Pin(first, second) => {
                pose.angle(linkage, second.body) - pose.angle(linkage, first.body)
            }
        }
    }

    /// Tension (N), or the moment that turns the second body clockwise (N mm).
    #[inline]
    fn pull(&self, linkage: &Linkage, pose: &Pose) -> f64 {
        let pull = self.rate * (self.state(linkage, pose) - self.free);
        match self.acts {
            Acts::Both => pull,
            Acts::Push => pull.min(0.0),
            Acts::Pull => pull.max(0.0),
        }
    }
}

fn line(pose: &Pose, a: Spot, b: Spot) -> (Vec2, Vec2, Vec2) {
    let (from, to) = (pose.place(a), pose.place(b));
    let d = to - from;
    let length = d.length();
    let u = if length > 0.0 { d / length } else { Vec2::ZERO };
    (from, to, u)
}

fn spot(tool: &Tool, linkage: &Linkage, at: PointRef) -> Spot {
    linkage.spot(at.part, tool.parts[at.part].points[at.point].at.into())
}

fn ends(spring: &Spring, tool: &Tool, linkage: &Linkage) -> Ends {
    match spring.ends {
        SpringEnds::Points(a, b) => Ends::Points(spot(tool, linkage, a), spot(tool, linkage, b)),
        SpringEnds::Pin { first, second } => Ends::Pin(
            pin_on(tool, linkage, first, second),
            pin_on(tool, linkage, second, first),
        ),
    }
}

/// Where the pin that two parts share is on the first of them; on a pin of three both may hang on the third alone.
pub(super) fn pin_on(tool: &Tool, linkage: &Linkage, part: PartId, other: PartId) -> Spot {
    let shared = |pin: &str| {
        let mut joints = tool.joints.iter();
        joints.any(|joint| joint.pin == pin && joint.touches(other))
    };
    let mut own = tool.joints.iter().filter(|joint| joint.touches(part));
    let joint = own.find(|joint| shared(&joint.pin));
    let point = joint.map(|joint| match joint.part == part {
        true => joint.part_point,
        false => joint.carrier_point,
    });
    match point {
        Some(point) => spot(tool, linkage, PointRef { part, point }),
        None => linkage.spot(part, Vec2::ZERO),
    }
}

fn settle(spring: &Spring, tool: &Tool, linkage: &Linkage, open: &Pose) -> Item {
    let mut item = Item {
        ends: ends(spring, tool, linkage),
        rate: spring.rate(),
        free: 0.0,
        acts: Acts::Both,
        open: 0.0,
    };
    item.open = item.pull(linkage, open) / item.rate;
    item.free = slack(spring, item.open);
    item.acts = spring.acts;
    item
}

/// Where a spring is slack that has this length or angle at the open end of the stroke.
fn slack(spring: &Spring, open: f64) -> f64 {
    match (spring.set, spring.ends) {
        (SpringSet::Free(free), SpringEnds::Points(..)) => free,
        (SpringSet::Free(free), SpringEnds::Pin { .. }) => open - wrapped(open - free),
        (SpringSet::Preload(force), _) => open + force / spring.rate(),
    }
}
