//! Rack and pinion: a part that rolls along a straight row of teeth on another.
//!
//! With C the pinion's pin, W the witness mark on the rack's pitch line, n the direction square to that
//! line from the pinion to the rack and t square to n, both turning with the rack, one equation:
//!
//! ```text
//! r (θ − θ') − t · (W − C) = 0
//! ```
//!
//! with θ' the angle at which the pinion's mark points along n. Its force is the pitch-line force along t,
//! on the pinion at C + r n, and its opposite on the rack. What presses the two apart, and friction: as of
//! a pair of wheels, see [`super::GearFrame`].

use super::kind::{Kind, Tally, resolve, spot_of, unplaced};
use super::mesh;
use super::rub::{Rub, Wall};
use crate::geometry::Vec2;
use crate::mechanism::{Body, Linkage, Pose, Rates, Spot, Take};
use crate::model::{Gears, PartId, PointRef, SlotLine, Tool};
use crate::numeric::angle::wrapped;
use std::f64::consts::TAU;
use std::ops::Range;

/// A rack and pinion as the equations see it.
#[derive(Debug, Clone, Copy)]
pub struct RackFrame {
    /// Index into [`Tool::gears`].
    pub index: usize,
    /// The pin that the pinion turns about, on the pinion.
    pub centre: Spot,
    /// The witness mark on the rack.
    pub mark: Spot,
    /// Of the pitch circle, mm.
    pub radius: f64,
    /// Angle from the pinion's axes to its witness mark, seen from its pin, less the angle of the
    /// direction to the rack in the rack's axes, rad.
    pub phase: f64,
    /// From the pinion square to the pitch line, in the rack's axes.
    pub towards: Vec2,
    /// Whole turns that take the angles of the sketch to those of the equation, rad.
    pub turns: f64,
    /// Row of the equation.
    pub row: usize,
    /// How far the first part's teeth stand off where the marks have them, along the pitch line, mm: backlash
    /// that the load takes up.
    pub lost: f64,
    /// Separating force per pitch-line force.
    spread: f64,
}

impl RackFrame {
    pub(super) fn new(index: usize, gears: &Gears, tally: &mut Tally) -> Self {
        tally.equations += 1;
        Self {
            index,
            centre: unplaced(gears.parts[0]),
            mark: unplaced(gears.parts[1]),
            radius: 0.0,
            phase: 0.0,
            towards: Vec2::X,
            turns: 0.0,
            row: tally.equations - 1,
            lost: 0.0,
            spread: gears.angle.tan(),
        }
    }

    /// The direction to the rack and the one along it, in the tool's axes.
    #[inline]
    fn directions(&self, pose: &Pose) -> [Vec2; 2] {
        let towards = pose.frames[self.mark.body].direction(self.towards);
        [towards, Vec2::new(-towards[1], towards[0])]
    }

    /// How far the pinion has turned past where its mark meets the rack's, by its angle and by the
    /// rack's place, rad.
    fn turned(&self, linkage: &Linkage, pose: &Pose) -> [f64; 2] {
        let [pinion, rack] = self.bodies().map(|body| pose.angle(linkage, body));
        let [_, along] = self.directions(pose);
        let gone = along.dot(pose.place(self.mark) - pose.place(self.centre));
        [pinion - rack + self.phase, gone / self.radius]
    }

    /// A force at the pitch point on the pinion and its opposite on the rack.
    #[inline]
    fn pair(&self, pose: &Pose, force: Vec2, to: &mut (impl Take + ?Sized)) {
        let [towards, _] = self.directions(pose);
        let at = pose.place(self.centre) + towards * self.radius;
        let [pinion, rack] = self.bodies();
        to.force(pinion, at - pose.frames[pinion].origin, at, force);
        to.force(rack, at - pose.frames[rack].origin, at, -force);
    }
}

impl Kind for RackFrame {
    #[inline]
    fn bodies(&self) -> [PartId; 2] {
        [self.centre.body, self.mark.body]
    }

    #[inline]
    fn rows(&self) -> Range<usize> {
        self.row..self.row + 1
    }

    fn place(&mut self, tool: &Tool, bodies: &[Body]) {
        let gears = &tool.gears[self.index];
        let crate::model::Mesh::Rack { slot } = gears.mesh else {
            return;
        };
        let slot = &tool.slots[slot];
        let SlotLine::Straight { through, angle } = slot.line else {
            return;
        };
        let of = |part: PartId, point: usize| Vec2::from(tool.parts[part].points[point].at);
        let [pinion, rack] = gears.parts;
        // In the rack's axes the slot's line stands at its angle less the turn of the rack.
        let turn = slot.keyed.unwrap_or(0.0);
        let along = Vec2::unit(angle - turn);
        let square = Vec2::new(-along[1], along[0]);
        // The pinion's pin, as seen from the rack: square to the line it is where it is in the carrier.
        let pin = of(gears.on, gears.centres[0]) - resolve(tool, gears.on, through);
        let pin = of(rack, slot.rider.point) + pin.turned_back(Vec2::unit(turn));
        let across = square.dot(of(rack, gears.marks[1]) - pin);
        self.towards = if across < 0.0 { -square } else { square };
        let mark = of(pinion, gears.marks[0]) - of(pinion, gears.about[0]);
        self.radius = mark.length();
        self.phase += wrapped(mark.angle() - self.towards.angle() - self.phase);
        let point = gears.about[0];
        self.centre = spot_of(
            tool,
            bodies,
            PointRef {
                part: pinion,
                point,
            },
        );
        self.mark = spot_of(tool, bodies, gears.mark(1));
        self.spread = gears.angle.tan();
        self.lost = 0.0;
    }

    /// The equation knows nothing of whole turns: the pinion's angle is taken within half a turn of where
    /// the rack stands.
    fn wind(&mut self, linkage: &Linkage, pose: &Pose) {
        let [angle, asked] = self.turned(linkage, pose);
        self.turns = ((asked - angle) / TAU).round() * TAU;
    }

    #[inline]
    fn residual(&self, linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
        let [angle, asked] = self.turned(linkage, pose);
        out[0] = self.radius * (angle + self.turns - asked) - self.lost;
    }

    #[inline]
    fn gradient(&self, linkage: &Linkage, pose: &Pose, row: &mut [f64]) {
        let [pinion, rack] = self.bodies();
        let [towards, along] = self.directions(pose);
        let (centre, mark) = (pose.place(self.centre), pose.place(self.mark));
        linkage.add_angle(pinion, self.radius, row);
        // Along the rack turns with it: dt/dθ = −n.
        let apart = towards.dot(mark - centre);
        linkage.add_angle(rack, apart - self.radius, row);
        linkage.add_gradient(pose, pinion, centre, along, row);
        linkage.add_gradient(pose, rack, mark, -along, row);
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
        let [_, along] = self.directions(pose);
        self.pair(pose, along * load[0], to);
    }

    fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub> {
        mesh::rub(tool, self.index, [self.radius, f64::INFINITY], wall)
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
        let [towards, _] = self.directions(pose);
        self.pair(pose, towards * -force, to);
    }
}
