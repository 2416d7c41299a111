//! A tool's parts and joints as equations.

use super::hand_line::hand_curve;
use super::{
    Body, GROUND, GripFrame, HandFrame, JawFrame, JointFrame, Kind, Linkage, PalmFrame, Pose,
    PushFrame, ROOT, Spot, StopFrame, joint::Tally, joint::resolve,
};
use crate::geometry::{Frame, Vec2};
use crate::model::{
    HandLine, JointId, ModelError, PartId, Place, PointRef, Push, Target, Tool, WhichHandle,
};
use std::collections::VecDeque;
use std::sync::Arc;

impl Linkage {
    /// The equations of `tool`.
    ///
    /// # Errors
    /// When the tool breaks a promise of [`Tool::validate`], or a grip is off its hand line.
    pub fn new(tool: &Tool) -> Result<Self, ModelError> {
        tool.validate()?;
        let mut linkage = tree(tool);
        linkage.size = size(tool);
        linkage.place_joints(tool);
        place_jaws(&mut linkage, tool);
        place_hand(&mut linkage, tool)?;
        sketch(&mut linkage, tool);
        linkage.sparse = linkage.find_sparse().map(Arc::new);
        linkage.closed = (linkage.sparse.as_ref()).and_then(|sparse| linkage.find_closed(sparse));
        Ok(linkage)
    }

    /// Takes over the dimensions of `tool`, which is the one that the equations were built for
    /// but for the values of its dimensions. Quick: nothing is allocated unless the hand line
    /// goes through named points. The sketched coordinates stay as they were; the closed form, which is of
    /// the old dimensions, finds nothing until [`Linkage::measure_closed`].
    ///
    /// # Errors
    /// When a grip has come to lie off its hand line.
    pub fn redimension(&mut self, tool: &Tool) -> Result<(), ModelError> {
        let point = |part: PartId, point: usize| tool.parts[part].points[point].at;
        for k in 0..self.order.len() {
            let b = self.order[k];
            let Body {
                parent,
                pins: Some([exit, entry]),
                ..
            } = self.bodies[b]
            else {
                continue;
            };
            let place = point(b, entry);
            let shift = self.bodies[b].entry - place.into();
            self.bodies[b].entry = place.into();
            self.bodies[b].exit = Vec2::from(point(parent, exit)) - self.bodies[parent].entry;
            for grip in &mut self.hand.grips {
                for spot in std::iter::once(&mut grip.at).chain(&mut grip.facing) {
                    if spot.body == b {
                        spot.arm += shift;
                    }
                }
            }
        }
        self.place_joints(tool);
        self.jaws.clear();
        self.stops.clear();
        place_jaws(self, tool);
        if let Some(palm) = &mut self.hand.palm {
            palm.redimension(tool);
        }
        let named = |line: &HandLine| line.points.iter().any(|p| matches!(p, Place::Point(_)));
        if named(&tool.hand.handle) || tool.hand.against.as_ref().is_some_and(named) {
            self.take_hand(tool)?;
        }
        self.forget_closed();
        Ok(())
    }

    /// Takes over the hand: its lines, grips, push and thickness.
    ///
    /// # Errors
    /// When a grip lies off its hand line.
    pub fn take_hand(&mut self, tool: &Tool) -> Result<(), ModelError> {
        self.hand.grips.clear();
        self.hand.distances.clear();
        place_hand(self, tool)
    }

    /// Play of a joint: the later part's pin then stands `shift` (mm, in the axes of the body
    /// that [`Linkage::play_axes`] names) off the carrier's. [`Linkage::redimension`] takes all
    /// play away again.
    pub fn play(&mut self, joint: JointId, shift: Vec2) {
        self.joints[joint].play(&mut self.bodies, shift);
        self.forget_closed();
    }

    /// The body in whose axes the play of a joint is given.
    #[must_use]
    pub fn play_axes(&self, joint: JointId) -> PartId {
        self.joints[joint].play_axes()
    }

    /// The point of `body` at `at` in its part's axes.
    #[must_use]
    pub fn spot(&self, body: PartId, at: Vec2) -> Spot {
        Spot::new(&self.bodies, body, at)
    }

    fn place_joints(&mut self, tool: &Tool) {
        for joint in &mut self.joints {
            joint.place(tool, &self.bodies);
        }
    }
}

/// A length of the order of the tool: the greatest extent of its pins and jaw points as sketched.
fn size(tool: &Tool) -> f64 {
    let mut low = [f64::INFINITY; 2];
    let mut high = [f64::NEG_INFINITY; 2];
    for part in &tool.parts {
        let sketched = Frame::at(part.sketch);
        for point in &part.points {
            let at = sketched.place(point.at.into());
            for axis in 0..2 {
                low[axis] = low[axis].min(at[axis]);
                high[axis] = high[axis].max(at[axis]);
            }
        }
    }
    let extent = (high[0] - low[0]).max(high[1] - low[1]);
    if extent.is_finite() && extent > 0.0 {
        extent
    } else {
        1.0
    }
}

/// Bodies, tree and coordinates: breadth first along the pins, so that paths are short, in file
/// order, so that the answer does not depend on anything else.
fn tree(tool: &Tool) -> Linkage {
    let ground = Body {
        angle: GROUND,
        parent: ROOT,
        exit: Vec2::ZERO,
        entry: Vec2::ZERO,
        slide: GROUND,
        pins: None,
    };
    let mut bodies = vec![ground; tool.parts.len()];
    let mut placed = vec![false; tool.parts.len()];
    let mut in_tree = vec![None; tool.joints.len()];
    let mut order = Vec::new();
    let mut tally = Tally::default();
    let roots = std::iter::once(tool.fixed).chain(PartId::ids(tool.parts.len()));
    for root in roots {
        if placed[root.index()] {
            continue;
        }
        placed[root.index()] = true;
        if root != tool.fixed {
            bodies[root].angle = tally.coordinates;
            bodies[root].slide = tally.coordinates + 1;
            tally.coordinates += 3;
            order.push(root);
        }
        let mut queue = VecDeque::from([root]);
        while let Some(parent) = queue.pop_front() {
            for (j, joint) in tool.joints.iter().enumerate() {
                let (child, exit, entry, child_is_part) =
                    if joint.carrier == parent && !placed[joint.part.index()] {
                        (joint.part, joint.carrier_point, joint.part_point, true)
                    } else if joint.part == parent && !placed[joint.carrier.index()] {
                        (joint.carrier, joint.part_point, joint.carrier_point, false)
                    } else {
                        continue;
                    };
                placed[child.index()] = true;
                in_tree[j] = Some(child_is_part);
                bodies[child] = Body {
                    angle: tally.coordinates,
                    parent,
                    exit: Vec2::from(tool.parts[parent].points[exit].at) - bodies[parent].entry,
                    entry: tool.parts[child].points[entry].at.into(),
                    slide: GROUND,
                    pins: Some([exit, entry]),
                };
                tally.coordinates += 1;
                order.push(child);
                queue.push_back(child);
            }
        }
    }
    let placing = tally.coordinates;
    let joints: Vec<JointFrame> = tool
        .all_joints()
        .enumerate()
        .map(|(k, joint)| JointFrame::new(joint, in_tree.get(k).copied().flatten(), &mut tally))
        .collect();
    let (hung, closing) = JointId::ids(joints.len()).partition(|&k| joints[k].rows().is_empty());
    Linkage {
        size: 1.0,
        coordinates: tally.coordinates,
        placing,
        equations: tally.equations,
        bodies,
        order,
        pins: tool.joints.len(),
        closing,
        hung,
        joints,
        hand: HandFrame {
            body: tool.hand.handle.part,
            against: None,
            chord: 0.0,
            grips: Vec::new(),
            distances: Vec::new(),
            held: 0,
            push: PushFrame::Square,
            palm: None,
            thickness: tool.hand.thickness,
        },
        jaws: Vec::new(),
        stops: Vec::new(),
        lead: tool.stroke.lead,
        sketch: Vec::new(),
        sparse: None,
        closed: None,
    }
}

fn place_jaws(linkage: &mut Linkage, tool: &Tool) {
    for jaw in &tool.jaws {
        let frame = faces(linkage, tool, [jaw.on, jaw.against], jaw.axis, jaw.closed);
        linkage.jaws.push(frame);
    }
    for stop in &tool.stops {
        let faces = faces(
            linkage,
            tool,
            [stop.on, stop.against],
            stop.axis,
            stop.closed,
        );
        linkage.stops.push(StopFrame {
            faces,
            ends: stop.ends,
        });
    }
}

/// Two points that stand against each other.
fn faces(
    linkage: &Linkage,
    tool: &Tool,
    points: [PointRef; 2],
    axis: Option<f64>,
    closed: f64,
) -> JawFrame {
    let [on, against] =
        points.map(|at| linkage.spot(at.part, tool.parts[at.part].points[at.point].at.into()));
    JawFrame {
        on,
        against,
        axis: axis.map(Vec2::unit),
        closed,
    }
}

fn place_hand(linkage: &mut Linkage, tool: &Tool) -> Result<(), ModelError> {
    let hand = &tool.hand;
    let line = hand_curve(tool, &hand.handle)?;
    let against = hand
        .against
        .as_ref()
        .map(|other| Ok((other.part, hand_curve(tool, other)?)))
        .transpose()?;
    let ends = |k: usize| {
        hand.handle
            .points
            .get(k)
            .map(|&p| resolve(tool, hand.handle.part, p))
    };
    if let (Some(first), Some(last)) = (ends(0), ends(hand.handle.points.len() - 1)) {
        let chord = last - first;
        linkage.hand.chord = chord[1].atan2(chord[0]);
    }
    let other = against.iter().map(|(_, curve)| (WhichHandle::Other, curve));
    let lines = std::iter::once((WhichHandle::Own, &line)).chain(other);
    linkage.hand.held = hand.grips.len();
    linkage.hand.thickness = hand.thickness;
    let further =
        [tool.stroke.open, tool.stroke.shut]
            .into_iter()
            .filter_map(|target| match target {
                Target::Span(_, grip) => grip,
                _ => None,
            });
    for grip in hand.grips.iter().copied().chain(further) {
        for (handle, curve) in lines.clone() {
            let line = curve.length();
            if !(0.0..=line * (1.0 + 1e-9)).contains(&grip) {
                return Err(ModelError::GripOff { handle, grip, line });
            }
        }
        linkage.hand.distances.push(grip);
        linkage.hand.grips.push(GripFrame {
            at: linkage.spot(hand.handle.part, line.point(grip).into()),
            along: line.tangent(grip).into(),
            facing: against
                .as_ref()
                .map(|(part, curve)| linkage.spot(*part, curve.point(grip).into())),
        });
    }
    linkage.hand.against = against.map(|(part, _)| part);
    linkage.hand.push = match hand.push {
        Push::Across => PushFrame::Across,
        Push::Square => PushFrame::Square,
        Push::Fixed(angle) => PushFrame::Fixed(Vec2::unit(angle)),
    };
    let squeezed = hand.push == Push::Across && hand.against.is_some();
    let palm = tool.palm().filter(|_| !squeezed);
    linkage.hand.palm = palm.map(|part| PalmFrame::new(tool, part)).transpose()?;
    Ok(())
}

/// Coordinates of the sketched position.
fn sketch(linkage: &mut Linkage, tool: &Tool) {
    let mut q = vec![0.0; linkage.coordinates];
    for (b, body) in PartId::each(&linkage.bodies) {
        let [x, y, angle] = tool.parts[b].sketch;
        if body.angle != GROUND {
            q[body.angle] = angle;
        }
        if body.slide != GROUND {
            q[body.slide] = x / linkage.size;
            q[body.slide + 1] = y / linkage.size;
        }
    }
    for joint in &linkage.joints {
        joint.start(linkage, &mut q);
    }
    linkage.sketch = q;
    let pose = Pose::new(linkage);
    for k in JointId::ids(linkage.joints.len()) {
        let mut joint = linkage.joints[k].clone();
        joint.wind(linkage, &pose);
        linkage.joints[k] = joint;
    }
}
