//! Tooth sectors: two parts that roll on each other's pitch circles.
//!
//! With C1 and C2 the pins that they turn about, u from C1 to C2 at the angle α, and t square to it, the
//! pitch point stands at C1 + ρ1 u = C2 − ρ2 u. ρ1 + ρ2 is the distance of the centres and ρ1 : ρ2 the
//! ratio of the teeth; both are positive outside; inside a ring that of the smaller wheel is negative.
//! One equation: at the pitch point both have the same velocity along t,
//!
//! ```text
//! ρ1 (θ1 − θ1') + ρ2 (θ2 − θ2') = 0
//! ```
//!
//! with θ' the angles at which the witness marks point to the pitch point. Its force is the pitch-line
//! force F along t, at the pitch point, on the first part, and its opposite on the second.
//!
//! The teeth push along the pressure line, so there is also F tan α' along the line of centres (α' the
//! pressure angle), which presses outside teeth apart and a ring and its wheel together: it has no
//! power and is no part of the equation, see [`Kind::spread`].

use super::kind::{Kind, Tally, spot_of, unplaced};
use super::mesh;
use super::rub::{Rub, Wall};
use crate::geometry::Vec2;
use crate::mechanism::{Body, Linkage, Pose, Rates, Spot, Take};
use crate::model::{Gears, Mesh, PartId, PointRef, Tool};
use crate::numeric::angle::wrapped;
use std::f64::consts::{PI, TAU};
use std::ops::Range;

/// A pair of tooth sectors as the equations see it.
#[derive(Debug, Clone, Copy)]
pub struct GearFrame {
    /// Index into [`Tool::gears`].
    pub index: usize,
    /// The carrier.
    pub on: PartId,
    /// The pins that the two turn about, each on its own part.
    pub centres: [Spot; 2],
    /// Of the pitch circles, from each centre towards the other, mm; negative for a wheel in a ring.
    pub radii: [f64; 2],
    /// Angle from each part's axes to its witness mark, seen from its pin, rad.
    pub marks: [f64; 2],
    /// Direction of the line of centres in the carrier's axes, rad: tells whole turns only.
    pub line: f64,
    /// Whole turns that take the angles of the sketch to those of the equation, rad.
    pub turns: [f64; 2],
    /// Row of the equation.
    pub row: usize,
    /// Distance of the centres at which the radii add up, mm.
    pub apart: f64,
    ring: bool,
    /// How far the first part's teeth stand off where the marks have them, along the pitch line, mm: backlash
    /// that the load takes up.
    pub lost: f64,
    /// Separating force per pitch-line force.
    spread: f64,
}

impl GearFrame {
    pub(super) fn new(index: usize, gears: &Gears, tally: &mut Tally) -> Self {
        tally.equations += 1;
        Self {
            index,
            on: gears.on,
            centres: gears.parts.map(unplaced),
            radii: [0.0; 2],
            marks: [0.0; 2],
            line: 0.0,
            turns: [0.0; 2],
            row: tally.equations - 1,
            apart: 0.0,
            ring: gears.mesh == Mesh::Internal,
            lost: 0.0,
            spread: gears.angle.tan(),
        }
    }

    /// Angle at which each part's witness mark points to the pitch point, against the line of centres.
    #[must_use]
    pub fn outward(&self) -> [f64; 2] {
        let [first, second] = self.radii;
        [
            if first < 0.0 { PI } else { 0.0 },
            if second < 0.0 { 0.0 } else { PI },
        ]
    }

    /// How far each part has turned past where its mark meets the other's, `angles` those of the two
    /// parts and of the line of centres, rad.
    #[inline]
    #[must_use]
    pub fn turned(&self, [first, second]: [f64; 2], line: f64) -> [f64; 2] {
        let outward = self.outward();
        [
            first + self.marks[0] - line - outward[0],
            second + self.marks[1] - line - outward[1],
        ]
    }

    /// From the first centre to the second.
    #[inline]
    fn between(&self, pose: &Pose) -> Vec2 {
        pose.place(self.centres[1]) - pose.place(self.centres[0])
    }

    /// Angle of the line of centres, rad, whole turns as the carrier has them.
    fn line_angle(&self, linkage: &Linkage, pose: &Pose) -> f64 {
        let near = pose.angle(linkage, self.on) + self.line;
        near + wrapped(self.between(pose).angle() - near)
    }

    fn sum(&self, linkage: &Linkage, pose: &Pose) -> f64 {
        let angles = self.bodies().map(|body| pose.angle(linkage, body));
        let [first, second] = self.turned(angles, self.line_angle(linkage, pose));
        self.radii[0] * first + self.radii[1] * second
    }

    /// What whole turns and lost play add to the equation, mm.
    #[must_use]
    pub fn gone(&self) -> f64 {
        self.radii[0] * self.turns[0] + self.radii[1] * self.turns[1] - self.lost
    }

    /// Unit vector from the first centre to the second, and the pitch point.
    #[inline]
    fn pitch(&self, pose: &Pose) -> (Vec2, f64, Vec2) {
        let between = self.between(pose);
        let length = between.length();
        let along = between * (1.0 / length);
        let share = self.radii[0] / self.apart;
        let at = pose.place(self.centres[0]) + between * share;
        (along, length, at)
    }

    /// A force at the pitch point on the first body and its opposite on the second.
    #[inline]
    fn pair(&self, pose: &Pose, at: Vec2, force: Vec2, to: &mut (impl Take + ?Sized)) {
        let [first, second] = self.bodies();
        to.force(first, at - pose.frames[first].origin, at, force);
        to.force(second, at - pose.frames[second].origin, at, -force);
    }
}

impl Kind for GearFrame {
    #[inline]
    fn bodies(&self) -> [PartId; 2] {
        [self.centres[0].body, self.centres[1].body]
    }

    #[inline]
    fn rows(&self) -> Range<usize> {
        self.row..self.row + 1
    }

    fn place(&mut self, tool: &Tool, bodies: &[Body]) {
        let gears = &tool.gears[self.index];
        let of = |part: PartId, point: usize| Vec2::from(tool.parts[part].points[point].at);
        let [first, second] = gears.centres.map(|point| of(gears.on, point));
        let between = second - first;
        self.apart = between.length();
        self.line += wrapped(between.angle() - self.line);
        let [one, other] = gears.teeth.map(f64::from);
        let signed = match (self.ring, one > other) {
            (false, _) => [one, other],
            (true, true) => [one, -other],
            (true, false) => [-one, other],
        };
        let per_tooth = self.apart / (signed[0] + signed[1]);
        self.radii = signed.map(|teeth| teeth * per_tooth);
        for side in 0..2 {
            let (part, pin) = (gears.parts[side], gears.about[side]);
            self.centres[side] = spot_of(tool, bodies, PointRef { part, point: pin });
            let mark = of(part, gears.marks[side]) - of(part, pin);
            // Near the last, so that a mark that is moved a little does not go once round.
            self.marks[side] += wrapped(mark.angle() - self.marks[side]);
        }
        self.spread = gears.working_angle(tool).tan();
        self.lost = 0.0;
    }

    /// The equation knows nothing of whole turns: the greater wheel is taken within half a turn of where
    /// the marks meet, the smaller within half a turn of where that puts it.
    fn wind(&mut self, linkage: &Linkage, pose: &Pose) {
        let angles = self.bodies().map(|body| pose.angle(linkage, body));
        self.turns = [0.0; 2];
        let turned = self.turned(angles, self.line_angle(linkage, pose));
        let [small, great] = if self.radii[0].abs() < self.radii[1].abs() {
            [0, 1]
        } else {
            [1, 0]
        };
        let whole = |angle: f64, near: f64| ((near - angle) / TAU).round() * TAU;
        let great_turns = whole(turned[great], 0.0);
        let asked = -self.radii[great] * (turned[great] + great_turns) / self.radii[small];
        let small_turns = whole(turned[small], asked);
        self.turns[great] = great_turns;
        self.turns[small] = small_turns;
    }

    #[inline]
    fn residual(&self, linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
        out[0] = self.sum(linkage, pose) + self.gone();
    }

    #[inline]
    fn gradient(&self, linkage: &Linkage, pose: &Pose, row: &mut [f64]) {
        let [first, second] = self.bodies();
        linkage.add_angle(first, self.radii[0], row);
        linkage.add_angle(second, self.radii[1], row);
        // The line of centres turns by the velocities of its ends across it, over its length.
        let (along, length, _) = self.pitch(pose);
        let across = Vec2::new(-along[1], along[0]) * (self.apart / length);
        let [one, other] = self.centres;
        linkage.add_gradient(pose, first, pose.place(one), across, row);
        linkage.add_gradient(pose, second, pose.place(other), -across, row);
    }

    fn apart(&self, residual: &[f64]) -> f64 {
        residual[0].abs()
    }

    #[inline]
    fn load(&self, _size: f64, multipliers: &[f64]) -> [f64; 2] {
        [multipliers[self.row], 0.0]
    }

    #[inline]
    fn act(&self, pose: &Pose, load: [f64; 2], to: &mut (impl Take + ?Sized)) {
        let (along, length, at) = self.pitch(pose);
        let force = Vec2::new(-along[1], along[0]) * (load[0] * self.apart / length);
        self.pair(pose, at, force, to);
    }

    fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub> {
        mesh::rub(tool, self.index, self.radii.map(f64::abs), wall)
    }

    #[inline]
    fn rate(&self, _pose: &Pose, rates: &Rates, _wall: Wall) -> f64 {
        mesh::rate(rates, self.bodies())
    }

    #[inline]
    fn usual_rate(&self, _size: f64) -> f64 {
        1.0
    }

    #[inline]
    fn drag(&self, _pose: &Pose, friction: f64, _wall: Wall, to: &mut (impl Take + ?Sized)) {
        mesh::drag(self.bodies(), friction, to);
    }

    /// Along the pitch line alone: the first number of the shift.
    fn play(&mut self, _bodies: &mut [Body], shift: Vec2) {
        self.lost += shift[0];
    }

    fn spreads(&self) -> Option<Rub> {
        mesh::spreads(self.spread)
    }

    #[inline]
    fn spread(&self, pose: &Pose, force: f64, to: &mut (impl Take + ?Sized)) {
        let (along, _, at) = self.pitch(pose);
        let towards = if self.ring { force } else { -force };
        self.pair(pose, at, along * towards, to);
    }
}
