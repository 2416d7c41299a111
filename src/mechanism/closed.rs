//! Positions in closed form: where the handle drives and every block is a pair of links, a slot, straight
//! or an arc, a cam like one, a key, a pair of gears, or a part that slides.
//!
//! A cut pin with two unknown angles is the meeting of two circles; a slot with one unknown angle is
//! a cos θ + b sin θ + c = 0, an arc slot too. Each has two solutions: which one is meant is told by the sign of the
//! block's determinant, which does not change between the dead positions of the block (common
//! practice, e.g. R. L. Norton, *Design of Machinery*, sec. 4.5, the open and the crossed circuit).

use super::closed_gears::Geared;
use super::closed_racks::Rolling;
use super::closed_slides::Slider;
use super::guided::{Line, guided};
use super::way::Way;
use super::{JointFrame, Kind, Linkage, Pose, Sparse};
use crate::geometry::Vec2;
use crate::model::{JointId, PartId};

/// Share of the product of two lengths below which a block counts as near its dead position.
const DEAD: f64 = 0.02;

/// How the blocks of a linkage are solved one after the other, the handle driving.
#[derive(Debug, Clone, PartialEq)]
pub struct Closed {
    steps: Vec<Step>,
    /// Its numbers are those of other dimensions: until they are taken anew nothing is found.
    stale: bool,
}

/// One block, solved for the turns of its bodies.
#[derive(Debug, Clone, PartialEq)]
enum Step {
    /// The handle, or the other one, whose angle counts backwards.
    Driver { body: PartId, sense: f64 },
    /// A cut pin that joins two bodies of unknown turn.
    Pair(Pair),
    /// A slot with one body of unknown turn.
    Slot(Guide),
    /// A key: the body turns with another.
    Key {
        body: PartId,
        with: PartId,
        turn: Vec2,
        joint: JointId,
    },
    /// Tooth sectors, see [`super::closed_gears`].
    Gears(Geared),
    /// A pinion on its rack, see [`super::closed_racks`].
    Rolls(Rolling),
    /// A part that slides, see [`super::closed_slides`].
    Slides(Slider),
}

#[derive(Debug, Clone, PartialEq)]
struct Pair {
    joint: JointId,
    way: Way,
    bodies: [PartId; 2],
    arms: [Vec2; 2],
    /// Squares of the arms' lengths, and the reciprocals.
    squares: [f64; 2],
    inverse: [f64; 2],
}

#[derive(Debug, Clone, PartialEq)]
struct Guide {
    joint: JointId,
    way: Way,
    body: PartId,
    arm: Vec2,
    line: Line,
}

impl Linkage {
    /// How positions are found in closed form; `None` where a block asks for more.
    pub(super) fn find_closed(&self, sparse: &Sparse) -> Option<Closed> {
        let body_of = |column: usize| {
            let body = self.bodies.iter().position(|b| b.angle == column);
            body.map(PartId::new)
        };
        let last = self.coordinates - 1;
        let mut handle = vec![0.0; self.coordinates];
        self.handle_row(&mut handle);
        let mut steps = Vec::new();
        for (rows, columns) in sparse.plan.blocks() {
            if let Some(body) = self.slides(columns) {
                let &[first, second] = rows.as_slice() else {
                    return None;
                };
                let joints = [self.joint_of(first)?, self.joint_of(second)?];
                steps.push(Step::Slides(Slider::new(self, body, joints)?));
                continue;
            }
            let bodies: Option<Vec<PartId>> = columns.iter().map(|&c| body_of(c)).collect();
            let step = match (rows.as_slice(), bodies?.as_slice()) {
                (&[row], &[body]) if row == last => Step::Driver {
                    body,
                    sense: handle[columns[0]],
                },
                (&[row], &[body]) => self.single(row, body)?,
                (&[first, second], &[one, other]) => self.pair(first, second, [one, other])?,
                _ => return None,
            };
            steps.push(step);
        }
        let mut closed = Closed { steps, stale: true };
        closed.measure(self)?;
        Some(closed)
    }

    /// Takes the numbers of the closed form anew, where dimensions or play have changed since.
    pub fn measure_closed(&mut self) {
        let Some(mut closed) = self.closed.take() else {
            return;
        };
        if closed.stale {
            // Where an arm has no length it stays as it is, and finds nothing.
            let _ = closed.measure(self);
        }
        self.closed = Some(closed);
    }

    /// The dimensions are no longer those of the closed form.
    pub(super) fn forget_closed(&mut self) {
        if let Some(closed) = &mut self.closed {
            closed.stale = true;
        }
    }

    /// The body whose place these columns are, and nothing else.
    fn slides(&self, columns: &[usize]) -> Option<PartId> {
        let &[one, other] = columns else {
            return None;
        };
        let first = one.min(other);
        let body = self.bodies.iter().position(|b| b.slide == first)?;
        (first + 1 == one.max(other)).then(|| PartId::new(body))
    }

    fn joint_of(&self, row: usize) -> Option<JointId> {
        (self.closing.iter().copied()).find(|&k| self.joints[k].rows().contains(&row))
    }

    fn pair(&self, first: usize, second: usize, bodies: [PartId; 2]) -> Option<Step> {
        let joint = self.joint_of(first)?;
        let same = self.joints[joint].rows() == (first..second + 1);
        matches!(self.joints[joint], JointFrame::Pin(_) if same).then_some(Step::Pair(Pair {
            joint,
            way: Way::default(),
            bodies,
            arms: [Vec2::ZERO; 2],
            squares: [0.0; 2],
            inverse: [0.0; 2],
        }))
    }

    fn single(&self, row: usize, body: PartId) -> Option<Step> {
        let joint = self.joint_of(row)?;
        let (_, line) = match &self.joints[joint] {
            JointFrame::Key(key) if row != key.slot.row => {
                let [rider, on] = key.bodies();
                return Some(Step::Key {
                    body,
                    with: if body == rider { on } else { rider },
                    turn: Vec2::X,
                    joint,
                });
            }
            JointFrame::Rack(_) => return Rolling::new(self, joint, body).map(Step::Rolls),
            JointFrame::Gear(_) => return Geared::new(self, joint, body).map(Step::Gears),
            frame => guided(frame)?,
        };
        Some(Step::Slot(Guide {
            joint,
            way: Way::default(),
            body,
            arm: Vec2::ZERO,
            line,
        }))
    }
}

impl Closed {
    /// Takes over the dimensions. `None` where an arm has no length: it is then no longer to be used.
    fn measure(&mut self, linkage: &Linkage) -> Option<()> {
        self.stale = true;
        for step in &mut self.steps {
            match step {
                Step::Pair(pair) => {
                    let JointFrame::Pin(pin) = &linkage.joints[pair.joint] else {
                        return None;
                    };
                    pair.way = Way::default();
                    pair.arms = [Vec2::ZERO; 2];
                    for (spot, sign) in [(pin.carrier, 1.0), (pin.part, -1.0)] {
                        linkage.add_way(spot, sign, &mut pair.way, &pair.bodies, &mut pair.arms);
                    }
                    pair.way.tidy();
                    for (k, arm) in pair.arms.iter().enumerate() {
                        pair.squares[k] = (*arm).dot(*arm);
                        pair.inverse[k] = 1.0 / pair.squares[k];
                        if !pair.inverse[k].is_finite() {
                            return None;
                        }
                    }
                }
                Step::Slot(guide) => {
                    let (spots, line) = guided(&linkage.joints[guide.joint])?;
                    guide.way = Way::default();
                    let mut arm = [Vec2::ZERO];
                    for (spot, sign) in spots.into_iter().zip([1.0, -1.0]) {
                        linkage.add_way(spot, sign, &mut guide.way, &[guide.body], &mut arm);
                    }
                    guide.way.tidy();
                    guide.arm = arm[0];
                    guide.line = line;
                }
                Step::Gears(geared) => geared.measure(linkage)?,
                Step::Rolls(rolling) => rolling.measure(linkage)?,
                Step::Slides(slider) => slider.measure(linkage)?,
                Step::Key {
                    body, turn, joint, ..
                } => {
                    let JointFrame::Key(key) = &linkage.joints[*joint] else {
                        return None;
                    };
                    let sign = if *body == key.bodies()[0] { 1.0 } else { -1.0 };
                    *turn = Vec2::unit(sign * key.turn);
                }
                Step::Driver { .. } => {}
            }
        }
        self.stale = false;
        Some(())
    }

    /// How far each block is from its dead position at `pose`, which closes all loops: the sine of the
    /// angle between its links, signed; 1 for those that have none. `false` where one is near it.
    pub fn signs(&self, pose: &Pose, out: &mut [f64]) -> bool {
        if self.stale {
            return false;
        }
        for (step, sign) in self.steps.iter().zip(out) {
            *sign = match step {
                Step::Pair(pair) => {
                    let [a, b] =
                        [0, 1].map(|k| pose.frames[pair.bodies[k]].direction(pair.arms[k]));
                    a.cross(b) / (pair.squares[0] * pair.squares[1]).sqrt()
                }
                Step::Slot(guide) => {
                    let [a, b, _] = guide.terms(pose);
                    let turn = pose.frames[guide.body].turn;
                    turn.cross(Vec2::new(a, b)) / (a * a + b * b).sqrt()
                }
                Step::Slides(slider) => slider.sine(pose),
                Step::Key { .. } | Step::Driver { .. } | Step::Gears(_) | Step::Rolls(_) => 1.0,
            };
            if !(sign.abs() > DEAD) {
                return false;
            }
        }
        true
    }

    /// How many blocks there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.steps.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.steps.is_empty()
    }

    /// Turns all bodies of `pose` to where the driver's coordinate is `driver`, and puts those that slide, on the side of every
    /// block that `signs` tell; angles that must be told with their whole turns are those nearest to `near`.
    /// `false` where a block cannot be closed. Entries and coordinates are not brought up to date.
    #[inline]
    pub fn turn(&self, pose: &mut Pose, driver: f64, signs: &[f64], near: &[f64]) -> bool {
        if self.stale {
            return false;
        }
        for (step, &sign) in self.steps.iter().zip(signs) {
            match step {
                Step::Driver { body, sense } => {
                    pose.frames[*body].turn = Vec2::unit(sense * driver)
                }
                Step::Pair(pair) => {
                    if !pair.turn(pose, sign) {
                        return false;
                    }
                }
                Step::Slot(guide) => {
                    if !guide.turn(pose, sign) {
                        return false;
                    }
                }
                Step::Key {
                    body, with, turn, ..
                } => pose.frames[*body].turn = pose.frames[*with].turn.turned(*turn),
                Step::Gears(geared) => {
                    if !geared.turn(pose, near) {
                        return false;
                    }
                }
                Step::Rolls(rolling) => {
                    if !rolling.turn(pose, near) {
                        return false;
                    }
                }
                Step::Slides(slider) => {
                    if !slider.put(pose, sign, near) {
                        return false;
                    }
                }
            }
        }
        true
    }
}

impl Pair {
    /// A + B + C = 0 with the arms A and B of given lengths and C known.
    #[inline]
    fn turn(&self, pose: &mut Pose, sign: f64) -> bool {
        let c = self.way.sum(pose);
        let square = c.dot(c);
        let per = 1.0 / square;
        // A = −(k C + h C⊥), B = −C − A; A × B = −h |C|².
        let k = 0.5 * (1.0 + (self.squares[0] - self.squares[1]) * per);
        let rest = self.squares[0] * per - k * k;
        if !(rest > 0.0 && rest < f64::INFINITY) {
            return false;
        }
        let h = rest.sqrt().copysign(-sign);
        let a = Vec2::new(h * c[1] - k * c[0], -k * c[1] - h * c[0]);
        let b = [-c[0] - a[0], -c[1] - a[1]];
        for (m, along) in [a, b.into()].into_iter().enumerate() {
            let turn = along.turned_back(self.arms[m]);
            let scale = self.inverse[m];
            pose.frames[self.bodies[m]].turn = turn * scale;
        }
        true
    }
}

impl Guide {
    /// The slot's equation as a cos θ + b sin θ + c, θ the turn of the unknown body.
    #[inline]
    fn terms(&self, pose: &Pose) -> [f64; 3] {
        let (known, arm) = (self.way.sum(pose), self.arm);
        match self.line {
            Line::Straight { on, along } if on == self.body => {
                [along.cross(known), -along.dot(known), along.cross(arm)]
            }
            Line::Straight { on, along } => {
                let along = pose.frames[on].direction(along);
                [along.cross(arm), along.dot(arm), along.cross(known)]
            }
            // |K + R(θ) A|² = ρ².
            Line::Arc { radius } => {
                let per = 1.0 / radius;
                let rest = known.dot(known) + arm.dot(arm) - radius * radius;
                [
                    known.dot(arm) * per,
                    arm.cross(known) * per,
                    0.5 * rest * per,
                ]
            }
        }
    }

    #[inline]
    fn turn(&self, pose: &mut Pose, sign: f64) -> bool {
        let [a, b, c] = self.terms(pose);
        let square = a * a + b * b;
        let rest = square - c * c;
        if !(rest > 0.0 && rest < f64::INFINITY) {
            return false;
        }
        // w = −a sin θ + b cos θ, the rate of the equation.
        let w = rest.sqrt().copysign(sign);
        let per = 1.0 / square;
        pose.frames[self.body].turn = Vec2::new((b * w - a * c) * per, (-a * w - b * c) * per);
        true
    }
}
