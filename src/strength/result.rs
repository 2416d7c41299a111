//! What the checks answer.

use super::cases::LoadCase;
use super::formulas::Formula;
use super::formulas::cut::{CURVED_CUT, CUT};
use super::note::Note;
use crate::geometry::Vec2;
use crate::model::{GripId, JawId, JointId, PartId};
use crate::units::Quantity;

/// What is checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// A pin joint: index into [`crate::model::Tool::joints`].
    Pin(JointId),
    /// A roller on its track: a joint that is no pin.
    Contact(JointId),
    /// A part: index into [`crate::model::Tool::parts`].
    Part(PartId),
}

/// Where on a part the worst is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// At one of the part's points: index into its points.
    Point(usize),
    /// At this distance along its hand line, mm.
    Along(f64),
    /// At this place in the part's axes, mm: a force that acts on no named point.
    At([f64; 2]),
    /// At the first of these places of a plate's border, where a cut leads to the second; in the part's axes, mm.
    Cut([[f64; 2]; 2]),
}

/// A number that went into a formula.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Input {
    /// Its symbol in the formula's text.
    pub symbol: &'static str,
    /// Its value in internal units.
    pub value: f64,
    /// What it measures; `None` for a plain number.
    pub quantity: Option<Quantity>,
}

/// The worst of one check.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// Pin or part.
    pub subject: Subject,
    /// Its name: the joint's label, or the part's name.
    pub name: String,
    /// The formula: name of the check, text, source.
    pub formula: Formula,
    /// The numbers put in.
    pub inputs: Vec<Input>,
    /// What the formula gives: the stress (MPa), or for buckling the compression (N).
    pub value: f64,
    /// What may not be exceeded, of the same kind.
    pub allowable: f64,
    /// What both measure.
    pub quantity: Quantity,
    /// What the allowable value is: `yield`, `0.577 yield`, …
    pub against: &'static str,
    /// `allowable / value`.
    pub factor: f64,
    /// Where on the part, if the check looks at several places.
    pub place: Option<Place>,
    /// Index of the position among those that were looked at.
    pub position: usize,
    /// The jaw that carries the load.
    pub jaw: JawId,
    /// Index of the grip.
    pub grip: GripId,
    /// What set the hand force.
    pub load: LoadCase,
    /// Hand force, N.
    pub hand_force: f64,
}

/// A position at which the factors were looked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
    /// Pace from open, see [`crate::statics::Rig::go_to`].
    pub pace: f64,
    /// Handle angle, rad.
    pub handle: f64,
    /// Gap of the jaw that carries the load, mm.
    pub gap: f64,
}

/// All factors, and what could not be checked.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Strength {
    /// Where they were looked for, in the order of [`Factor::position`]; empty for load cases written
    /// down by hand.
    pub positions: Vec<Position>,
    /// The worst of every check, least first.
    pub factors: Vec<Factor>,
    /// What was left out, and why.
    pub notes: Vec<Note>,
    /// Of the plates with an outline.
    pub(crate) strained: Vec<Strained>,
}

/// What was seen of a plate with an outline.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strained {
    pub part: PartId,
    /// The greatest stress at every section that it is checked at, MPa.
    pub stresses: Vec<f64>,
    /// Where forces have acted on it, in its axes.
    pub places: Vec<Vec2>,
}

impl Strength {
    /// Where a factor is the least of its check.
    #[must_use]
    pub fn position(&self, factor: &Factor) -> Option<Position> {
        self.positions.get(factor.position).copied()
    }

    /// The least factor of all checks.
    #[must_use]
    pub fn least(&self) -> Option<&Factor> {
        self.factors.first()
    }

    /// The least factor, of everything or of one part or pin: what the measures `safety` and
    /// `safety.NAME` read.
    #[must_use]
    pub fn safety(&self, name: Option<&str>) -> Option<f64> {
        self.of(name).next().map(|factor| factor.factor)
    }

    /// The greatest stress at the cuts of a part's plates, MPa, whatever is allowed.
    #[must_use]
    pub fn stress(&self, part: &str) -> Option<f64> {
        let at_cut = |f: &&Factor| f.name == part && [CUT, CURVED_CUT].contains(&f.formula);
        let own = self.factors.iter().filter(at_cut);
        own.map(|factor| factor.value).reduce(f64::max)
    }

    /// All factors, or those of the part or pin of that name, least first. A pin that three or more parts
    /// share may be named by itself too: then those of its joints.
    pub fn of(&self, name: Option<&str>) -> impl Iterator<Item = &Factor> {
        let own = move |f: &&Factor| name.is_none_or(|name| f.is_of(name));
        self.factors.iter().filter(own)
    }

    /// The least factor of the part or pin of that name, see [`Strength::of`].
    #[must_use]
    pub fn least_of(&self, name: &str) -> Option<&Factor> {
        self.factors.iter().find(|f| f.is_of(name))
    }
}

impl Factor {
    fn is_of(&self, name: &str) -> bool {
        let joint_of = matches!(self.subject, Subject::Pin(_))
            && self
                .name
                .split_once(':')
                .is_some_and(|(pin, _)| pin == name);
        self.name == name || joint_of
    }
}
