//! The stages in order, on one page: the door of the library.

use crate::mechanism::{Freedom, Linkage};
use crate::model::{ModelError, Tool};
use crate::motion::{Event, MotionError, Solver, Stroke, Survey, survey};
use crate::statics::{Ask, Forces, closing_senses, indeterminate_joints};

/// Why a tool could not be analysed.
#[derive(Debug, Clone, PartialEq)]
pub enum Failure {
    /// The model breaks a promise.
    Model(ModelError),
    /// The linkage cannot do what the stroke asks.
    Motion(MotionError),
    /// A check of the answer against itself failed: the numbers are not to be trusted.
    Check {
        /// Which.
        what: &'static str,
        /// Residual found, relative.
        found: f64,
        /// Greatest that is allowed.
        allowed: f64,
    },
}

impl From<ModelError> for Failure {
    fn from(error: ModelError) -> Self {
        Self::Model(error)
    }
}

impl From<MotionError> for Failure {
    fn from(error: MotionError) -> Self {
        Self::Motion(error)
    }
}

impl Failure {
    /// What went wrong and what to do, in the tool's units.
    #[must_use]
    pub fn text(&self, tool: &Tool) -> String {
        match self {
            Self::Model(error) => error.0.clone(),
            Self::Motion(error) => error.text(tool, tool.units),
            Self::Check {
                what,
                found,
                allowed,
            } => format!(
                "the answer does not agree with itself: {what} is off by {found:.1e}, more than {allowed:.0e}.\n\
                 No result is given. Please report this tool file as a fault of jawforce"
            ),
        }
    }
}

/// One solved position. Angles in rad, lengths in mm, forces in N.
#[derive(Debug, Clone, PartialEq)]
pub struct Position {
    /// Handle angle.
    pub handle: f64,
    /// Handle angle travelled since open.
    pub travel: f64,
    /// For each jaw: it stands still here.
    pub toggle: Vec<bool>,
    /// For each jaw: its gap.
    pub gap: Vec<f64>,
    /// Every point of every part, parts and points in the tool's order.
    pub points: Vec<[f64; 2]>,
    /// One entry for each grip.
    pub grips: Vec<AtGrip>,
}

/// Forces for a hand at one grip.
#[derive(Debug, Clone, PartialEq)]
pub struct AtGrip {
    /// Grip span.
    pub span: Option<f64>,
    /// For each jaw: jaw force per hand force, without friction and springs.
    pub ratio: Vec<Option<f64>>,
    /// For each joint: force on the later part by the carrier, at the tool's hand force.
    pub pins: Vec<Option<[f64; 2]>>,
}

/// A solved stroke.
#[derive(Debug, Clone)]
pub struct Solved {
    /// Positions from open to shut.
    pub positions: Vec<Position>,
    /// What happens within the stroke, its ends included.
    pub events: Vec<Event>,
    /// The whole motion.
    pub survey: Survey,
    /// Freedom at the assembled position.
    pub freedom: Freedom,
    /// Joints whose force statics alone cannot tell.
    pub indeterminate: Vec<bool>,
    /// Whether the handle turns (otherwise positions are equal steps of the first grip's way).
    pub turns: bool,
    /// Worst closure residual, over the tool's size.
    pub closure: f64,
    /// Worst difference of the two routes to the jaw force, relative.
    pub virtual_work: f64,
    /// Worst residual of any part, relative.
    pub free_body: f64,
}

/// Residuals above this are errors: closure, agreement of the two routes, balance of each part.
const ALLOWED: f64 = 1e-9;

/// Solves the stroke of a tool: positions, ratios and pin forces.
///
/// # Errors
/// [`Failure`] says what the linkage cannot do, or that the answer does not agree with itself.
pub fn solve(tool: &Tool) -> Result<Solved, Failure> {
    let linkage = Linkage::new(tool)?;
    let survey = survey(&linkage, &tool.stroke)?;
    let mut solver = Solver::new(&linkage);
    if let Some(node) = survey.path.nodes.get(survey.path.start) {
        solver.choose_rows(&node.q);
    }
    let indeterminate = indeterminate_joints(&solver);
    let ask = Ask {
        hand_force: tool.hand.force,
        sides: closing_senses(&mut solver, &survey),
    };
    let stroke = Stroke::new(&survey, &mut solver)?;
    let mut forces = Forces::new(&linkage);
    let mut walk = stroke.walk();
    let mut positions = Vec::with_capacity(tool.stroke.steps + 1);
    let mut closure = 0.0_f64;
    for k in 0..=tool.stroke.steps {
        let stance = stroke.position(&mut solver, &mut walk, k, tool.stroke.steps)?;
        forces.solve(&solver, stance, &ask);
        closure = closure.max(solver.closure());
        positions.push(position(
            tool,
            &linkage,
            &solver,
            stance.handle,
            stance.travel,
            &forces,
        ));
    }
    let turns = stroke.turns();
    for (what, found) in [
        ("loop closure", closure),
        (
            "jaw force by free bodies against virtual work",
            forces.virtual_work,
        ),
        ("the balance of a part", forces.free_body),
    ] {
        if !(found <= ALLOWED) {
            return Err(Failure::Check {
                what,
                found,
                allowed: ALLOWED,
            });
        }
    }
    let (low, high) = if survey.open.before(survey.shut) {
        (survey.open, survey.shut)
    } else {
        (survey.shut, survey.open)
    };
    let within = |e: &&Event| {
        let at =
            |s: crate::motion::Spot| survey.lengths.get(s.node).copied().unwrap_or(0.0) + s.ahead;
        at(e.spot) >= at(low) - 1e-7 && at(e.spot) <= at(high) + 1e-7
    };
    Ok(Solved {
        events: survey.events.iter().filter(within).copied().collect(),
        freedom: survey.path.freedom.clone(),
        positions,
        indeterminate,
        turns,
        closure,
        virtual_work: forces.virtual_work,
        free_body: forces.free_body,
        survey,
    })
}

/// Copies what was found at a position out of the reused storage.
fn position(
    tool: &Tool,
    linkage: &Linkage,
    solver: &Solver,
    handle: f64,
    travel: f64,
    forces: &Forces,
) -> Position {
    let (jaws, joints) = (linkage.jaws.len(), linkage.joints.len());
    let points = tool.parts.iter().enumerate().flat_map(|(p, part)| {
        part.points
            .iter()
            .map(move |point| solver.pose.place(linkage.spot(p, point.at)))
    });
    let known = |v: f64| v.is_finite().then_some(v);
    let grips = (0..linkage.hand.held).map(|g| AtGrip {
        span: linkage.span(&solver.pose, g),
        ratio: forces.ratio[g * jaws..(g + 1) * jaws]
            .iter()
            .map(|&v| known(v))
            .collect(),
        pins: forces.pins[g * joints..(g + 1) * joints]
            .iter()
            .map(|&[x, y]| Some([known(x)?, known(y)?]))
            .collect(),
    });
    Position {
        handle,
        travel,
        toggle: forces.toggle.clone(),
        gap: forces.gap.clone(),
        points: points.collect(),
        grips: grips.collect(),
    }
}
