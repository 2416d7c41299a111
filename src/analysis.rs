//! The stages in order, on one page: the door of the library.

use crate::mechanism::{Freedom, Linkage};
use crate::model::{ModelError, Tool};
use crate::motion::{Event, MotionError, Solver, Stance, Stroke, Survey, Words, survey};
use crate::statics::{
    Answer, Ask, Burden, Forces, Links, Springs, closing_senses, contacts, indeterminate_joints,
};
use crate::units::UnitSystem;

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
    /// What went wrong and what to do, in these units.
    #[must_use]
    pub fn words(&self, tool: &Tool, units: UnitSystem) -> Words {
        match self {
            Self::Model(error) => Words {
                message: error.0.clone(),
                ..Words::default()
            },
            Self::Motion(error) => error.words(tool, units),
            Self::Check {
                what,
                found,
                allowed,
            } => Words {
                message: format!(
                    "the answer does not agree with itself: {what} is off by {found:.1e}, more than {allowed:.0e}"
                ),
                notes: vec!["no result is given".to_owned()],
                help: vec!["please report this tool file as a fault of jawforce".to_owned()],
            },
        }
    }

    /// The same as one text of several lines, in the tool's units.
    #[must_use]
    pub fn text(&self, tool: &Tool) -> String {
        self.words(tool, tool.units).to_string()
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
    pub points: Vec<Vec<[f64; 2]>>,
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
    /// For each jaw: its answer to the tool's hand force; `None` at a toggle.
    pub answer: Vec<Option<Answer>>,
    /// Hand force for the work, first jaw; `None` without work and at a toggle.
    pub needed: Option<Answer>,
    /// For each joint: force on the later part by the carrier, at the tool's hand force.
    pub pins: Vec<Option<[f64; 2]>>,
    /// For each two-pin link: axial force, tension positive, at the tool's hand force.
    pub axial: Vec<Option<f64>>,
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
    /// Direction of the stroke.
    pub direction: Direction,
    /// Parts that carry force between two pins only, in the order of [`AtGrip::axial`].
    pub links: Links,
    /// Jaw force that the job needs at each position; empty without work.
    pub work: Vec<f64>,
    /// Joints whose force statics alone cannot tell.
    pub indeterminate: Vec<bool>,
    /// Whether the handle turns (otherwise positions are equal steps of the first grip's way).
    pub turns: bool,
    /// The part whose sketch is farthest from the assembled position, and how far (mm), if that is
    /// far for a tool of this size.
    pub sketch_off: Option<(usize, f64)>,
    /// Worst closure residual, over the tool's size.
    pub closure: f64,
    /// Worst difference of the two routes to the jaw force, relative.
    pub virtual_work: f64,
    /// Worst residual of any part, relative.
    pub free_body: f64,
}

/// Residuals above this are errors: closure, agreement of the two routes, balance of each part.
const ALLOWED: f64 = 1e-9;

/// The direction of the stroke, which decides the sense of friction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Direction {
    /// The hand closes the tool.
    #[default]
    Closing,
    /// The work or a spring opens it.
    Opening,
}

/// Solves the stroke of a tool: positions, ratios, and forces with friction and springs.
///
/// # Errors
/// [`Failure`] says what the linkage cannot do, or that the answer does not agree with itself.
pub fn solve(tool: &Tool, direction: Direction) -> Result<Solved, Failure> {
    let linkage = Linkage::new(tool)?;
    let survey = survey(&linkage, &tool.stroke)?;
    let mut solver = Solver::new(&linkage);
    if let Some(node) = survey.path.nodes.get(survey.path.start) {
        solver.choose_rows(&node.q);
    }
    let indeterminate = indeterminate_joints(&solver);
    let sketch_off = sketch_off(tool, &solver);
    let sides = closing_senses(&mut solver, &survey);
    let stroke = Stroke::new(&survey, &mut solver)?;
    let mut walk = stroke.walk();
    stroke.position(&mut solver, &mut walk, 0, tool.stroke.steps)?;
    let burden = Burden {
        springs: Springs::new(tool, &linkage, &solver.pose),
        contacts: contacts(tool),
        opening: direction == Direction::Opening,
    };
    let mut forces = Forces::new(&linkage, &burden);
    let ask = Ask {
        hand_force: tool.hand.force,
        sides,
        burden,
    };
    let links = Links::of(tool);
    let mut positions = Vec::with_capacity(tool.stroke.steps + 1);
    let mut work = Vec::new();
    let mut closure = 0.0_f64;
    for k in 0..=tool.stroke.steps {
        let stance = stroke.position(&mut solver, &mut walk, k, tool.stroke.steps)?;
        forces.stand(&solver, stance, &ask);
        let need = tool.work.as_ref().map(|w| w.at(forces.gap[0]));
        work.extend(need);
        forces.solve(&solver, &ask, need);
        closure = closure.max(solver.closure());
        positions.push(position(
            tool,
            &solver,
            stance,
            &forces,
            &links,
            need.is_some(),
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
        links,
        direction,
        work,
        turns,
        sketch_off,
        closure,
        virtual_work: forces.virtual_work,
        free_body: forces.free_body,
        survey,
    })
}

/// A sketch that is off by more than this part of the tool's size is worth a word.
const FAR_SKETCH: f64 = 0.15;

/// The part whose points moved most from the sketch to the assembled position, if that is far.
fn sketch_off(tool: &Tool, solver: &Solver) -> Option<(usize, f64)> {
    let linkage = solver.linkage;
    let mut worst: Option<(usize, f64)> = None;
    for (p, part) in tool.parts.iter().enumerate() {
        let (sin, cos) = part.sketch[2].sin_cos();
        for point in &part.points {
            let [x, y] = crate::mechanism::turned([cos, sin], point.at);
            let sketched = [x + part.sketch[0], y + part.sketch[1]];
            let d = crate::mechanism::minus(solver.pose.place(linkage.spot(p, point.at)), sketched);
            let away = d[0].hypot(d[1]);
            if away > FAR_SKETCH * linkage.size && worst.is_none_or(|(_, most)| away > most) {
                worst = Some((p, away));
            }
        }
    }
    worst
}

/// Copies what was found at a position out of the reused storage.
fn position(
    tool: &Tool,
    solver: &Solver,
    stance: Stance,
    forces: &Forces,
    links: &Links,
    work: bool,
) -> Position {
    let linkage = solver.linkage;
    let (jaws, joints) = (linkage.jaws.len(), linkage.joints.len());
    let points = tool.parts.iter().enumerate().map(|(p, part)| {
        part.points
            .iter()
            .map(|point| solver.pose.place(linkage.spot(p, point.at)))
            .collect::<Vec<_>>()
    });
    let points: Vec<Vec<[f64; 2]>> = points.collect();
    let known = |v: f64| v.is_finite().then_some(v);
    let grips = (0..linkage.hand.held).map(|g| {
        let pins: Vec<Option<[f64; 2]>> = forces.pins[g * joints..(g + 1) * joints]
            .iter()
            .map(|&[x, y]| Some([known(x)?, known(y)?]))
            .collect();
        AtGrip {
            span: linkage.span(&solver.pose, g),
            ratio: forces.ratio[g * jaws..(g + 1) * jaws]
                .iter()
                .map(|&v| known(v))
                .collect(),
            answer: (0..jaws)
                .map(|j| (!forces.toggle[j]).then_some(forces.answer[g * jaws + j]))
                .collect(),
            needed: (work && !forces.toggle[0]).then_some(forces.needed[g]),
            axial: links.axial(&pins, &points),
            pins,
        }
    });
    Position {
        handle: stance.handle,
        travel: stance.travel,
        toggle: forces.toggle.clone(),
        gap: forces.gap.clone(),
        grips: grips.collect(),
        points,
    }
}
