//! Why a linkage cannot do what the stroke asks, in words.

use super::choice::Candidate;
use super::pushed_open::{PushedOpen, Spread};
use super::refused::refused;
use crate::model::{Target, Tool};
use crate::units::{Quantity as Kind, UnitSystem, trimmed};

/// What a stroke target speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Gap of the first jaw.
    Gap,
    /// Grip span.
    Span,
    /// Handle angle.
    Handle,
}

impl Quantity {
    /// The quantity and value of a target.
    #[must_use]
    pub fn of(target: Target) -> (Self, f64) {
        match target {
            Target::Gap(value) => (Self::Gap, value),
            Target::Span(value, _) => (Self::Span, value),
            Target::Handle(value) => (Self::Handle, value),
        }
    }

    /// The word for it in a tool file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Gap => "gap",
            Self::Span => "span",
            Self::Handle => "handle",
        }
    }

    /// What it is, in a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Gap => "the gap",
            Self::Span => "the grip span",
            Self::Handle => "the handle angle",
        }
    }

    /// Its kind, which decides its unit.
    #[must_use]
    pub fn kind(self) -> Kind {
        match self {
            Self::Gap | Self::Span => Kind::Length,
            Self::Handle => Kind::Angle,
        }
    }
}

/// What the linkage can do of a quantity over its whole motion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// Least value.
    pub low: f64,
    /// Greatest value.
    pub high: f64,
}

/// Why there is no stroke.
#[derive(Debug, Clone, PartialEq)]
pub enum MotionError {
    /// A loop does not close.
    Open {
        /// The joint that is furthest apart, as an index into [`Tool::all_joints`].
        joint: usize,
        /// Distance left, mm.
        distance: f64,
    },
    /// No freedom: a truss.
    Rigid,
    /// More freedoms than one.
    Loose {
        /// How many there are.
        degrees: usize,
        /// Parts that still move with the handle held.
        parts: Vec<usize>,
    },
    /// The sketch stands at a change point.
    ChangeAtSketch,
    /// The motion does not move this jaw.
    StillJaw(usize),
    /// The motion does not move the hand.
    StillHand,
    /// The hand closes the first jaw nowhere on the stroke.
    PushedOpen(Box<PushedOpen>),
    /// A target is out of reach.
    Unreachable {
        /// `"open"` or `"shut"`.
        end: &'static str,
        /// Of what.
        quantity: Quantity,
        /// The value asked for.
        value: f64,
        /// What the linkage can do.
        reach: Reach,
        /// The jaw's points pass each other at this distance (default axis only), mm.
        passing: Option<f64>,
        /// The motion goes on beyond what was followed of it.
        cut_short: bool,
    },
    /// Places meet both targets, but on no way from open to shut the first jaw closes; on one at
    /// least it opens all the way.
    Opens {
        /// The nearest pairs, those on which the jaw opens all the way first.
        candidates: Vec<Candidate>,
        /// There are more.
        more: bool,
        /// How the jaw is turned round, if it is meant to spread.
        spread: Option<Spread>,
    },
    /// Places meet both targets, but there is no way from open to shut on which the first jaw
    /// closes or opens all the way.
    NoneCloses {
        /// The nearest pairs; the first was meant, as a rule.
        candidates: Vec<Candidate>,
        /// There are more.
        more: bool,
    },
    /// A target is met only where the position cannot be solved.
    Unsettled {
        /// `"open"` or `"shut"`.
        end: &'static str,
    },
    /// Open and shut are the same position.
    NoStroke,
    /// A position of the stroke could not be solved.
    Unsolved {
        /// Handle angle travelled, rad.
        travel: f64,
    },
}

/// A value with its unit, with no more digits than a workshop reads.
#[must_use]
pub fn number(value: f64, kind: Kind, units: UnitSystem) -> String {
    let shown = units.show(value, kind);
    let digits = match (kind, units) {
        (Kind::Length, UnitSystem::InLbf) => 4,
        (Kind::Angle, _) => 2,
        _ => 3,
    };
    format!("{} {}", trimmed(shown, digits), units.symbol(kind))
}

/// A message taken apart: what is wrong, facts that explain it, what to do. Sentences without a
/// full stop.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Words {
    /// What is wrong.
    pub message: String,
    /// Facts that explain it.
    pub notes: Vec<String>,
    /// What to do.
    pub help: Vec<String>,
}

impl Words {
    pub(super) fn new(message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            ..Self::default()
        }
    }

    pub(super) fn note(mut self, text: impl Into<String>) -> Self {
        self.notes.push(text.into());
        self
    }

    pub(super) fn help(mut self, text: impl Into<String>) -> Self {
        self.help.push(text.into());
        self
    }
}

impl std::fmt::Display for Words {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)?;
        for text in &self.notes {
            write!(f, "\nnote: {text}")?;
        }
        for text in &self.help {
            write!(f, "\nhelp: {text}")?;
        }
        Ok(())
    }
}

impl MotionError {
    /// What went wrong and what to do, in these units.
    #[must_use]
    pub fn words(&self, tool: &Tool, units: UnitSystem) -> Words {
        let length = |v: f64| number(v, Kind::Length, units);
        let angle = |v: f64| number(v, Kind::Angle, units);
        let jaw = |j: usize| tool.jaws.get(j).map_or("", |j| j.name.as_str());
        match self {
            Self::Open { joint, distance } => Words::new(format!(
                "the linkage cannot be put together: {} stay {} apart",
                sides(tool, *joint),
                length(*distance)
            ))
            .note("that is the nearest they come, with every other joint as close as it can be")
            .help(
                "check the dimensions of the parts around that loop, one after the other, against the drawing; \
                 if they are right, sketch the parts nearer to where they stand",
            ),
            Self::Rigid => Words::new("the linkage cannot move: it is a rigid truss").help(
                "take away a part or a pin, or let a pin ride in a slot; a tool needs one degree of freedom",
            ),
            Self::Loose { degrees, parts } => {
                let names = names(tool, parts);
                let (it, moves) = if names.len() == 1 {
                    ("it", "moves")
                } else {
                    ("them", "move")
                };
                Words::new(format!(
                    "the linkage has {degrees} degrees of freedom, a tool needs one"
                ))
                .note(format!(
                    "with the handle held still, {} still {moves}",
                    list(&names)
                ))
                .help(format!("add a pin, a slot or a link that ties {it} down"))
            }
            Self::ChangeAtSketch => Words::new(
                "the sketched position is a change point: from there the linkage can move on in two ways",
            )
            .help("sketch it in any other position of the same motion"),
            Self::StillJaw(j) => Words::new(format!(
                "jaw `{}` does not move when the handle does",
                jaw(*j)
            ))
            .help(
                "check which parts it is on: one of the two must be driven by the handle, and not turn about the \
                 jaw's own point",
            ),
            Self::StillHand => Words::new("the hand's part does not move with the linkage")
                .help("put `[hand] part` on a moving handle"),
            Self::PushedOpen(open) => open.words(tool, units),
            Self::Unreachable {
                end,
                quantity,
                value,
                reach,
                passing,
                cut_short,
            } => {
                let show = |v: f64| number(v, quantity.kind(), units);
                let what = quantity.words();
                let mut words = Words::new(format!(
                    "the {end} position is out of reach: {what} runs from {} to {}, and {} is not in that",
                    show(reach.low),
                    show(reach.high),
                    show(*value)
                ));
                if *cut_short {
                    words = words
                        .note("the motion goes on, but no further than this is followed with so many parts")
                        .help("sketch the parts nearer to that position");
                }
                match passing {
                    Some(distance) => words
                        .note(format!(
                            "the jaw's two points pass each other {} apart, so their distance never comes to zero",
                            length(*distance)
                        ))
                        .help("state the jaw's `axis` to measure the gap in a fixed direction"),
                    None => words,
                }
            }
            Self::Opens {
                candidates,
                more,
                spread,
            } => {
                let words = refused(candidates, *more, jaw(0), units);
                match spread {
                    Some(spread) => words.help(spread.lines(tool)),
                    None => words,
                }
            }
            Self::NoneCloses { candidates, more } => refused(candidates, *more, jaw(0), units),
            Self::Unsettled { end } => Words::new(format!(
                "the {end} position could not be solved: its target is met where the linkage can move on in \
                 several ways"
            ))
            .help("move that target a little"),
            Self::NoStroke => Words::new("open and shut are the same position, or so near that nothing moves in between")
                .help("state two different targets"),
            Self::Unsolved { travel } => Words::new(format!(
                "the position {} of travel from open could not be solved",
                angle(*travel)
            ))
            .help("try another number of steps; if that does not help, end the stroke elsewhere"),
        }
    }

    /// The same as one text of several lines.
    #[must_use]
    pub fn text(&self, tool: &Tool, units: UnitSystem) -> String {
        self.words(tool, units).to_string()
    }
}

fn names(tool: &Tool, parts: &[usize]) -> Vec<String> {
    parts
        .iter()
        .filter_map(|&p| tool.parts.get(p))
        .map(|p| format!("`{}`", p.name))
        .collect()
}

/// `a`, `b` and `c`.
fn list(names: &[String]) -> String {
    match names {
        [] => "some part".to_owned(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// The two sides of a joint.
fn sides(tool: &Tool, joint: usize) -> String {
    tool.joint(joint).map_or_else(
        || "the two sides of a joint".to_owned(),
        |joint| joint.sides(tool),
    )
}
