//! What a solved stroke does, read off its points alone: whether joints hold, and what work hand,
//! jaw, friction and springs do. Nothing here uses the solver's own velocities.

use jawforce::analysis::Solved;
use jawforce::model::{
    Acts, HandLine, PartId, Place, Push, Slot, SlotLine, SpringEnds, SpringSet, Tool,
};
use jawforce::statics::Answer;

/// Poses of all parts over a stroke: `[x, y, angle]` of each part's axes.
#[derive(Debug)]
pub struct Track<'a> {
    pub tool: &'a Tool,
    pub solved: &'a Solved,
    /// By position, then part.
    poses: Vec<Vec<[f64; 3]>>,
}

fn turn(angle: f64, [x, y]: [f64; 2]) -> [f64; 2] {
    let (s, c) = angle.sin_cos();
    [c * x - s * y, s * x + c * y]
}

fn minus(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn size(a: [f64; 2]) -> f64 {
    a[0].hypot(a[1])
}

impl<'a> Track<'a> {
    /// Poses from two points of each part; a part with a single point may not turn (its angle is
    /// taken from the key of its slot).
    pub fn new(tool: &'a Tool, solved: &'a Solved) -> Self {
        let mut poses: Vec<Vec<[f64; 3]>> = Vec::new();
        for position in &solved.positions {
            let mut row = Vec::new();
            for (p, part) in PartId::each(&tool.parts) {
                let own: Vec<[f64; 2]> = part.points.iter().map(|point| point.at).collect();
                let place = &position.points[p.index()];
                let mut angle = if p == tool.fixed {
                    0.0
                } else if let Some(far) = (1..own.len()).max_by(|&a, &b| {
                    size(minus(own[a], own[0])).total_cmp(&size(minus(own[b], own[0])))
                }) {
                    let (a, b) = (minus(own[far], own[0]), minus(place[far], place[0]));
                    b[1].atan2(b[0]) - a[1].atan2(a[0])
                } else {
                    let key = tool
                        .slots
                        .iter()
                        .find(|s| s.rider.part == p && s.on == tool.fixed);
                    key.and_then(|s| s.keyed).expect("a keyed slider")
                };
                if let Some(before) = poses.last() {
                    let before: &[f64; 3] = &before[p.index()];
                    angle -= ((angle - before[2]) / std::f64::consts::TAU).round()
                        * std::f64::consts::TAU;
                }
                let origin = if p == tool.fixed || own.is_empty() {
                    [0.0; 2]
                } else {
                    minus(place[0], turn(angle, own[0]))
                };
                row.push([origin[0], origin[1], angle]);
            }
            poses.push(row);
        }
        Self {
            tool,
            solved,
            poses,
        }
    }

    /// The most that a part has turned from its sketch to the open position, rad.
    pub fn sketch_turned(&self) -> f64 {
        let moving = PartId::ids(self.tool.parts.len()).filter(|&p| p != self.tool.fixed);
        moving
            .map(|p| {
                let off = self.angle(0, p) - self.tool.parts[p].sketch[2];
                let turns = (off / std::f64::consts::TAU).round() * std::f64::consts::TAU;
                (off - turns).abs()
            })
            .fold(0.0, f64::max)
    }

    /// Whether two pinned parts turn to and fro against each other, or a rider slides to and fro (or
    /// nearly):
    /// there friction, and with it the jaw force, jumps, and no integral rule is exact.
    pub fn reverses(&self) -> bool {
        let turns = |x: &dyn Fn(usize) -> f64| {
            let steps: Vec<f64> = (1..self.count()).map(|k| x(k) - x(k - 1)).collect();
            let most = steps.iter().fold(0.0_f64, |m, s| m.max(s.abs()));
            steps
                .iter()
                .any(|s| s * steps[0] <= 0.0 || s.abs() < 0.02 * most)
        };
        self.tool
            .joints
            .iter()
            .any(|j| turns(&|k| self.angle(k, j.part) - self.angle(k, j.carrier)))
            || self
                .tool
                .slots
                .iter()
                .any(|slot| turns(&|k| self.slid(k, slot)))
    }

    /// From the centre of an arc slot to its rider, in the axes of the part that has it.
    fn spoke(&self, k: usize, slot: &Slot) -> [f64; 2] {
        let rider = self.solved.positions[k].points[slot.rider.part.index()][slot.rider.point];
        let centre = self.place(k, slot.on, self.own(slot.on, slot.line.place()));
        turn(-self.angle(k, slot.on), minus(rider, centre))
    }

    /// Way of a rider along its slot; the strokes are too short for an arc to go round.
    fn slid(&self, k: usize, slot: &Slot) -> f64 {
        if let SlotLine::Arc { radius, .. } = slot.line {
            let ([x, y], [u, v]) = (self.spoke(k, slot), self.spoke(0, slot));
            return radius * (u * y - v * x).atan2(u * x + v * y);
        }
        let rider = self.solved.positions[k].points[slot.rider.part.index()][slot.rider.point];
        let through = self.place(k, slot.on, self.own(slot.on, slot.line.place()));
        let angle = self.angle(k, slot.on) + slot.line.angle().expect("a straight slot");
        dot(minus(rider, through), [angle.cos(), angle.sin()])
    }

    fn count(&self) -> usize {
        self.poses.len()
    }

    fn place(&self, k: usize, part: PartId, own: [f64; 2]) -> [f64; 2] {
        let [x, y, angle] = self.poses[k][part.index()];
        let [u, v] = turn(angle, own);
        [x + u, y + v]
    }

    fn angle(&self, k: usize, part: PartId) -> f64 {
        self.poses[k][part.index()][2]
    }

    fn own(&self, part: PartId, place: Place) -> [f64; 2] {
        match place {
            Place::At(at) => at,
            Place::Point(point) => self.tool.parts[part].points[point].at,
        }
    }

    /// The greatest distance by which a pin, slot or key is off anywhere (mm; a key's angle counts
    /// over 100 mm).
    pub fn joints_off(&self) -> f64 {
        let mut worst = 0.0_f64;
        for k in 0..self.count() {
            let points = &self.solved.positions[k].points;
            for joint in &self.tool.joints {
                let (a, b) = (
                    points[joint.carrier.index()][joint.carrier_point],
                    points[joint.part.index()][joint.part_point],
                );
                worst = worst.max(size(minus(a, b)));
            }
            for slot in &self.tool.slots {
                if let SlotLine::Arc { radius, .. } = slot.line {
                    worst = worst.max((size(self.spoke(k, slot)) - radius).abs());
                    continue;
                }
                let rider = points[slot.rider.part.index()][slot.rider.point];
                let through = self.place(k, slot.on, self.own(slot.on, slot.line.place()));
                let angle = self.angle(k, slot.on) + slot.line.angle().expect("a straight slot");
                let off = minus(rider, through);
                worst = worst.max(dot(off, [-angle.sin(), angle.cos()]).abs());
                if let Some(key) = slot.keyed {
                    let off = self.angle(k, slot.rider.part) - self.angle(k, slot.on) - key;
                    let turns = (off / std::f64::consts::TAU).round() * std::f64::consts::TAU;
                    worst = worst.max(100.0 * (off - turns).abs());
                }
            }
        }
        worst
    }

    /// The point of a straight hand line at a distance along it, in its part's axes, and the
    /// line's direction.
    fn on_line(&self, line: &HandLine, distance: f64) -> ([f64; 2], [f64; 2]) {
        assert!(line.points.len() == 2, "only straight hand lines here");
        let (a, b) = (
            self.own(line.part, line.points[0]),
            self.own(line.part, line.points[1]),
        );
        let way = minus(b, a);
        let along = way.map(|v| v / size(way));
        (
            [a[0] + distance * along[0], a[1] + distance * along[1]],
            along,
        )
    }

    /// Way of the hand's point (against the facing one, across) and direction of its force, at
    /// every position; the side of a square push is the one with work done over the stroke.
    fn hand(&self, grip: usize) -> (Vec<[f64; 2]>, Vec<[f64; 2]>) {
        let hand = &self.tool.hand;
        let distance = hand.grips[grip];
        let (at, along) = self.on_line(&hand.handle, distance);
        let (mut ways, mut forces) = (Vec::new(), Vec::new());
        for k in 0..self.count() {
            let place = self.place(k, hand.handle.part, at);
            match hand.push {
                Push::Across => {
                    let line = hand.against.as_ref().expect("a second handle");
                    let (facing, _) = self.on_line(line, distance);
                    let way = minus(place, self.place(k, line.part, facing));
                    ways.push(way);
                    forces.push(way.map(|v| -v / size(way)));
                }
                Push::Square => {
                    let [x, y] = turn(self.angle(k, hand.handle.part), along);
                    ways.push(place);
                    forces.push([-y, x]);
                }
                Push::Fixed(angle) => {
                    ways.push(place);
                    forces.push([angle.cos(), angle.sin()]);
                }
            }
        }
        if hand.push == Push::Square {
            let work: f64 = (1..ways.len())
                .map(|k| {
                    let way = minus(ways[k], ways[k - 1]);
                    0.5 * (dot(way, forces[k]) + dot(way, forces[k - 1]))
                })
                .sum();
            if work < 0.0 {
                forces.iter_mut().for_each(|f| *f = f.map(|v| -v));
            }
        }
        (ways, forces)
    }

    /// The greatest disagreement, over all inner positions, of ratio × closing rate with hand
    /// power, by central differences of the fourth order over neighbouring positions; relative to
    /// the hand's speed.
    pub fn work_off(&self, grip: usize, jaw: usize) -> f64 {
        let (ways, forces) = self.hand(grip);
        let slope = |f: &dyn Fn(usize) -> f64, k: usize| {
            (8.0 * (f(k + 1) - f(k - 1)) - (f(k + 2) - f(k - 2))) / 12.0
        };
        let mut worst = 0.0_f64;
        for k in 2..self.count() - 2 {
            let v = [slope(&|i| ways[i][0], k), slope(&|i| ways[i][1], k)];
            let closing = -slope(&|i| self.solved.positions[i].gap[jaw], k);
            let Some(ratio) = self.solved.positions[k].grips[grip].ratio[jaw] else {
                continue;
            };
            let power = dot(v, forces[k]);
            worst = worst.max((power - ratio * closing).abs() / size(v));
        }
        worst
    }

    /// Over the stroke, at the tool's hand force: work of the hand, of the jaw, lost at pins, lost
    /// in slots, and energy taken up by springs (all N mm). `None` where the jaw gives no force, and
    /// where the rider of an arc slot goes over to its other wall: its friction has a kink there, where no
    /// integral rule is exact.
    ///
    /// Integrals by the trapezoidal rule over all and over every other interval, extrapolated
    /// (Richardson). A slot's force is found from the balance of its rider, which must be loaded
    /// by pins, by its jaw and by that slot only.
    pub fn energy(&self, grip: usize) -> Option<[f64; 5]> {
        let tool = self.tool;
        let n = self.count() - 1;
        assert!(n.is_multiple_of(2));
        let jaw_force = (0..=n)
            .map(|k| match self.solved.positions[k].grips[grip].answer[0] {
                Some(Answer::Moves { force, .. }) => Some(force),
                _ => None,
            })
            .collect::<Option<Vec<f64>>>()?;
        let sum = |step: usize, f: &dyn Fn(usize) -> f64, x: &dyn Fn(usize) -> f64| -> f64 {
            (step..=n)
                .step_by(step)
                .map(|k| 0.5 * (f(k) + f(k - step)) * (x(k) - x(k - step)))
                .sum()
        };
        let integral = |f: &dyn Fn(usize) -> f64, x: &dyn Fn(usize) -> f64| {
            (4.0 * sum(1, f, x) - sum(2, f, x)) / 3.0
        };
        let (ways, forces) = self.hand(grip);
        let hand = tool.hand.force
            * (integral(&|k| forces[k][0], &|k| ways[k][0])
                + integral(&|k| forces[k][1], &|k| ways[k][1]));
        let jaw = integral(&|k| jaw_force[k], &|k| -self.solved.positions[k].gap[0]);
        let pin =
            |k: usize, j: usize| self.solved.positions[k].grips[grip].pins[j].expect("a pin force");
        // Ways rubbed, always growing.
        let grown = |x: &dyn Fn(usize) -> f64| -> Vec<f64> {
            let mut total = vec![0.0];
            for k in 1..=n {
                total.push(total[k - 1] + (x(k) - x(k - 1)).abs());
            }
            total
        };
        let mut pins = 0.0;
        for (j, (joint, data)) in tool.joints.iter().zip(&tool.joint_data).enumerate() {
            let radius = 0.5 * data.diameter.unwrap_or(0.0) * data.friction.atan().sin();
            let turned = grown(&|k| self.angle(k, joint.part) - self.angle(k, joint.carrier));
            pins += radius * integral(&|k| size(pin(k, j)), &|k| turned[k]);
        }
        let mut slots = 0.0;
        for slot in tool.slots.iter().filter(|s| s.friction > 0.0) {
            let along = |k: usize| match slot.line {
                SlotLine::Straight { angle, .. } => {
                    let angle = self.angle(k, slot.on) + angle;
                    [angle.cos(), angle.sin()]
                }
                SlotLine::Arc { radius, .. } => {
                    let [x, y] = turn(self.angle(k, slot.on), self.spoke(k, slot));
                    [-y / radius, x / radius]
                }
            };
            let signed = |k: usize| {
                let [x, y] = along(k);
                let mut force = 0.0;
                for (j, joint) in tool.joints.iter().enumerate() {
                    if joint.part == slot.rider.part {
                        force += dot(pin(k, j), [-y, x]);
                    }
                    if joint.carrier == slot.rider.part {
                        force -= dot(pin(k, j), [-y, x]);
                    }
                }
                if tool.jaws[0].on.part == slot.rider.part {
                    let against = self.angle(k, tool.jaws[0].against.part);
                    let axis = tool.jaws[0].axis.expect("an axis") + against;
                    force += jaw_force[k] * dot([axis.cos(), axis.sin()], [-y, x]);
                }
                force
            };
            let normal = |k: usize| signed(k).abs();
            let turns_over = (1..=n).any(|k| signed(k) * signed(0) <= 0.0);
            if turns_over && matches!(slot.line, SlotLine::Arc { .. }) {
                return None;
            }
            let way = grown(&|k| self.slid(k, slot));
            slots += slot.friction * integral(&normal, &|k| way[k]);
        }
        let energy = |k: usize| -> f64 {
            tool.springs
                .iter()
                .map(|spring| {
                    let state = |k: usize| match spring.ends {
                        SpringEnds::Points(a, b) => {
                            let points = &self.solved.positions[k].points;
                            size(minus(
                                points[b.part.index()][b.point],
                                points[a.part.index()][a.point],
                            ))
                        }
                        SpringEnds::Pin { first, second } => {
                            self.angle(k, second) - self.angle(k, first)
                        }
                    };
                    let free = match spring.set {
                        SpringSet::Free(free) => free,
                        SpringSet::Preload(force) => state(0) + force / spring.rate(),
                    };
                    let stretch = state(k) - free;
                    let taken = match spring.acts {
                        Acts::Both => stretch,
                        Acts::Push => stretch.min(0.0),
                        Acts::Pull => stretch.max(0.0),
                    };
                    0.5 * spring.rate() * taken * taken
                })
                .sum()
        };
        Some([hand, jaw, pins, slots, energy(n) - energy(0)])
    }
}
