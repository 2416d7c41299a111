//! What the tool gives where it was measured, for a friction, a give and a zero of the gap.

use crate::model::{Direction, GripId, JawId, JointId, Tool, TrialPoint};
use crate::motion::MotionError;
use crate::numeric::root::root;
use crate::statics::{MountError, Mounted, Rig};

/// Why a trial cannot be laid on a tool.
#[derive(Debug, Clone, PartialEq)]
pub enum TrialError {
    /// The tool cannot be set up at the grips of the readings.
    Mount(MountError),
    /// A position cannot be solved.
    Motion(MotionError),
    /// No pin joint rubs, or can: none has a diameter.
    NoFriction,
    /// There are too few readings for what is unknown.
    TooFew {
        /// How many there are.
        readings: usize,
        /// How many there must be at least.
        least: usize,
    },
    /// The tool has no force at a reading (by its place from 0), whatever its friction: it stands at a toggle there,
    /// or locks itself, or its springs hold the hand.
    NoForce(usize),
    /// The readings do not settle the unknowns: another value of one fits as well.
    Unsettled,
}

impl From<MountError> for TrialError {
    fn from(error: MountError) -> Self {
        Self::Mount(error)
    }
}

impl From<MotionError> for TrialError {
    fn from(error: MotionError) -> Self {
        Self::Motion(error)
    }
}

/// The joints whose friction is looked for: those that rub; all with a diameter where none does.
#[must_use]
pub fn rubbing(tool: &Tool) -> Vec<JointId> {
    let of = |wanted: &dyn Fn(f64) -> bool| -> Vec<JointId> {
        JointId::each(&tool.joint_data)
            .filter(|(_, data)| data.diameter.is_some() && wanted(data.friction))
            .map(|(joint, _)| joint)
            .collect()
    };
    let rubs = of(&|friction| friction > 0.0);
    if rubs.is_empty() { of(&|_| true) } else { rubs }
}

/// A tool set up at the grips of the readings.
pub struct Bench {
    tool: Tool,
    mounted: Mounted,
    points: Vec<TrialPoint>,
    /// Of each reading.
    grips: Vec<GripId>,
    /// The joints whose friction is looked for.
    pub joints: Vec<JointId>,
    /// Gaps at the ends of the stroke, the wider first, mm.
    ends: [f64; 2],
    /// Pace and gap along the stroke, from open on.
    table: Vec<[f64; 2]>,
}

/// What is not known of a tool on the bench.
#[derive(Debug, Clone, PartialEq)]
pub struct Unknown {
    /// Coefficient of friction of each of [`Bench::joints`].
    pub friction: Vec<f64>,
    /// mm per N of jaw force.
    pub compliance: f64,
    /// What the measure of the gap shows at a gap of nothing, mm.
    pub zero: f64,
}

impl Bench {
    /// Sets `tool` up for the readings.
    ///
    /// # Errors
    /// [`TrialError`].
    pub fn new(tool: &Tool, points: &[TrialPoint]) -> Result<Self, TrialError> {
        let joints = rubbing(tool);
        if joints.is_empty() {
            return Err(TrialError::NoFriction);
        }
        let mut tool = tool.clone();
        let usual = tool.hand.grips.first().copied().unwrap_or(0.0);
        let mut held: Vec<f64> = Vec::new();
        let mut grips = Vec::new();
        for point in points {
            let at = point.grip.unwrap_or(usual);
            let known = held.iter().position(|grip| (grip - at).abs() < 1e-9);
            grips.push(GripId::new(known.unwrap_or_else(|| {
                held.push(at);
                held.len() - 1
            })));
        }
        tool.hand.grips = held;
        let mounted = Mounted::new(&tool)?;
        let mut rig = Rig::new(&tool, &mounted, Direction::Closing)?;
        let mut table = Vec::with_capacity(LOOKS + 1);
        for k in 0..=LOOKS {
            let pace = rig.pace() * k as f64 / LOOKS as f64;
            rig.go_to(pace)?;
            table.push([pace, rig.here().gap(JawId::FIRST).unwrap_or(f64::NAN)]);
        }
        drop(rig);
        let end = |row: Option<&[f64; 2]>| row.map_or(f64::NAN, |row| row[1]);
        let (open, shut) = (end(table.first()), end(table.last()));
        Ok(Self {
            points: points.to_vec(),
            tool,
            mounted,
            grips,
            joints,
            ends: [open.max(shut), open.min(shut)],
            table,
        })
    }

    /// The readings.
    #[must_use]
    pub fn points(&self) -> &[TrialPoint] {
        &self.points
    }

    /// Gaps at the ends of the stroke, the wider first, mm.
    #[must_use]
    pub fn ends(&self) -> [f64; 2] {
        self.ends
    }

    /// What the file says of what is not known, with this give (mm/N).
    #[must_use]
    pub fn stated(&self, compliance: f64) -> Unknown {
        let of = |joint: &JointId| {
            let data = self.tool.joint_data.get(joint.index());
            data.map_or(0.0, |data| data.friction)
        };
        Unknown {
            friction: self.joints.iter().map(of).collect(),
            compliance,
            zero: 0.0,
        }
    }

    /// Whether each reading stands beyond an end of the stroke, where its force is that at the end.
    #[must_use]
    pub fn beyond(&self, unknown: &Unknown) -> Vec<bool> {
        let beyond = |point: &TrialPoint| {
            let gap = rigid_gap(point, unknown);
            !(self.ends[1] - NEAR..=self.ends[0] + NEAR).contains(&gap)
        };
        self.points.iter().map(beyond).collect()
    }

    /// The tool with these coefficients of friction.
    fn rubbed(&self, unknown: &Unknown) -> Tool {
        let mut tool = self.tool.clone();
        for (joint, friction) in self.joints.iter().zip(&unknown.friction) {
            if let Some(data) = tool.joint_data.get_mut(joint.index()) {
                data.friction = *friction;
            }
        }
        tool
    }

    /// Jaw force at every reading, N; `None` where there is none.
    ///
    /// # Errors
    /// When a position cannot be solved.
    pub fn forces(&self, unknown: &Unknown) -> Result<Vec<Option<f64>>, MotionError> {
        let tool = self.rubbed(unknown);
        let mut found = vec![None; self.points.len()];
        for direction in [Direction::Closing, Direction::Opening] {
            if self.points.iter().all(|point| point.direction != direction) {
                continue;
            }
            let mut rig = Rig::new(&tool, &self.mounted, direction)?;
            for (k, point) in self.points.iter().enumerate() {
                if point.direction == direction {
                    let gap = rigid_gap(point, unknown).clamp(self.ends[1], self.ends[0]);
                    let grip = self.grips.get(k).copied().unwrap_or(GripId::FIRST);
                    found[k] = at(&mut rig, &self.table, gap, grip, point.hand_force)?;
                }
            }
        }
        Ok(found)
    }

    /// Gap and jaw force over the stroke for a hand force (N) at the grip of a reading, from open to shut, where
    /// there is one.
    ///
    /// # Errors
    /// When a position cannot be solved.
    pub fn curve(
        &self,
        unknown: &Unknown,
        reading: usize,
        steps: usize,
    ) -> Result<Vec<[f64; 2]>, MotionError> {
        let (Some(point), Some(grip)) = (self.points.get(reading), self.grips.get(reading)) else {
            return Ok(Vec::new());
        };
        let tool = self.rubbed(unknown);
        let mut rig = Rig::new(&tool, &self.mounted, point.direction)?;
        let mut found = Vec::new();
        for k in 0..=steps {
            rig.go_to(rig.pace() * k as f64 / steps as f64)?;
            let mut here = rig.here();
            let gap = here.gap(JawId::FIRST);
            let force = here.jaw_force(*grip, JawId::FIRST, point.hand_force).ok();
            if let Some((gap, force)) = gap.zip(force).filter(|(_, f)| f.is_finite()) {
                // As it would be measured.
                found.push([gap + unknown.zero + unknown.compliance * force, force]);
            }
        }
        Ok(found)
    }

    /// The tool at the grips of the readings.
    #[must_use]
    pub fn tool(&self) -> &Tool {
        &self.tool
    }
}

/// A gap that is nearer to an end of the stroke than this is there, mm.
const NEAR: f64 = 1e-9;
/// Intervals of the stroke in which a gap is looked for.
const LOOKS: usize = 60;

/// Where the rigid tool stands at a reading.
fn rigid_gap(point: &TrialPoint, unknown: &Unknown) -> f64 {
    point.gap - unknown.zero - unknown.compliance * point.jaw_force
}

/// Jaw force where the tool comes to a gap first from open.
fn at(
    rig: &mut Rig,
    table: &[[f64; 2]],
    gap: f64,
    grip: GripId,
    hand: f64,
) -> Result<Option<f64>, MotionError> {
    let crossed = table
        .windows(2)
        .find(|pair| (pair[0][1] - gap) * (pair[1][1] - gap) <= 0.0);
    let Some([[from, _], [to, _]]) = crossed else {
        return Ok(None);
    };
    let mut failed = None;
    let read = |pace: f64| match rig.go_to(pace) {
        Ok(()) => Some(rig.here().gap(JawId::FIRST)? - gap),
        Err(error) => {
            failed = Some(error);
            None
        }
    };
    let pace = root(read, *from, *to, 1e-13 * to.abs());
    if let Some(error) = failed {
        return Err(error);
    }
    let Some(pace) = pace else { return Ok(None) };
    rig.go_to(pace)?;
    let force = rig.here().jaw_force(grip, JawId::FIRST, hand).ok();
    Ok(force.filter(|force| force.is_finite() && *force > 0.0))
}
