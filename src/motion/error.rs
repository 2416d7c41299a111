//! Why a linkage cannot do what the stroke asks, in words.

use crate::model::{Target, Tool};
use crate::units::{Quantity as Kind, UnitSystem};

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
        /// Closure equation with the greatest residual.
        row: usize,
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
    },
    /// The stroke goes past a toggle of the first jaw.
    PastToggle {
        /// Handle angle there, rad.
        handle: f64,
        /// Gap there, mm.
        gap: f64,
    },
    /// The stroke goes through a change point.
    PastChangePoint {
        /// Handle angle there, rad.
        handle: f64,
        /// Gap there, mm.
        gap: f64,
    },
    /// Open and shut are the same position.
    NoStroke,
    /// A position of the stroke could not be solved.
    Unsolved {
        /// Handle angle travelled, rad.
        travel: f64,
    },
}

/// A value with its unit, for a message.
pub(crate) fn number(value: f64, kind: Kind, units: UnitSystem) -> String {
    let shown = units.show(value, kind);
    let digits = match (kind, units) {
        (Kind::Length, UnitSystem::InLbf) => 4,
        (Kind::Angle, _) => 2,
        _ => 3,
    };
    let text = format!("{:.digits$}", shown + 0.0);
    let trimmed = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    let trimmed = if trimmed == "-0" { "0" } else { trimmed };
    format!("{trimmed} {}", units.symbol(kind))
}

impl MotionError {
    /// What went wrong and what to do, in the tool's units.
    #[must_use]
    pub fn text(&self, tool: &Tool, units: UnitSystem) -> String {
        let length = |v: f64| number(v, Kind::Length, units);
        let angle = |v: f64| number(v, Kind::Angle, units);
        match self {
            Self::Open { row, distance } => format!(
                "the linkage cannot be put together: {} stays {} apart.\n\
                 Check the dimensions of the parts around that loop, and the sketch if it is far off",
                joint_of_row(tool, *row),
                length(*distance)
            ),
            Self::Rigid => "the linkage cannot move: it is a rigid truss.\n\
                 Take away a part or a pin, or make a pin a slot"
                .to_owned(),
            Self::Loose { degrees, parts } => {
                let names: Vec<String> =
                    parts.iter().filter_map(|&p| tool.parts.get(p)).map(|p| format!("`{}`", p.name)).collect();
                format!(
                    "the linkage has {degrees} degrees of freedom, a tool needs one: with the handle held still, \
                     {} can still move.\nAdd a pin, a slot or a link that ties {} down",
                    list(&names),
                    if names.len() == 1 { "it" } else { "them" }
                )
            }
            Self::ChangeAtSketch => "the sketched position is a change point: from there the linkage can move on in \
                 two ways.\nSketch it in any other position of the same motion"
                .to_owned(),
            Self::StillJaw(jaw) => format!(
                "jaw `{}` does not move when the handle does.\nCheck which parts it is on",
                tool.jaws.get(*jaw).map_or("", |j| j.name.as_str())
            ),
            Self::StillHand => {
                "the hand's part does not move with the linkage.\nPut `[hand] part` on a moving handle".to_owned()
            }
            Self::Unreachable { end, quantity, value, reach, passing } => {
                let show = |v: f64| number(v, quantity.kind(), units);
                let mut text = format!(
                    "the {end} position is out of reach: {} runs from {} to {}, {} = {} is not in it",
                    quantity.word(),
                    show(reach.low),
                    show(reach.high),
                    quantity.word(),
                    show(*value)
                );
                if let Some(distance) = passing {
                    text.push_str(&format!(
                        ".\nThe jaw's two points pass each other {} apart, so their distance never comes to zero; \
                         state the jaw's `axis` to measure the gap in a fixed direction",
                        length(*distance)
                    ));
                }
                text
            }
            Self::PastToggle { handle, gap } => format!(
                "the stroke goes past a toggle of jaw `{}` at handle {}, gap {}: beyond it the jaw opens again.\n\
                 End the stroke before the toggle, or change the dimensions that put it there",
                tool.jaws.first().map_or("", |j| j.name.as_str()),
                angle(*handle),
                length(*gap)
            ),
            Self::PastChangePoint { handle, gap } => format!(
                "the stroke goes through a change point at handle {}, gap {}: there the linkage can move on in two \
                 ways, and forces are not defined.\nChange a link length so that the links do not all fall in line, \
                 or keep the stroke clear of it",
                angle(*handle),
                length(*gap)
            ),
            Self::NoStroke => "open and shut are the same position.\nState two different targets".to_owned(),
            Self::Unsolved { travel } => {
                format!("the position {} from open could not be solved", angle(*travel))
            }
        }
    }
}

/// `a`, `b` and `c`.
fn list(names: &[String]) -> String {
    match names {
        [] => "some part".to_owned(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// The joint that a closure equation belongs to, with the two sides of the gap.
fn joint_of_row(tool: &Tool, row: usize) -> String {
    let mut next = 0;
    let Ok(linkage) = crate::mechanism::Linkage::new(tool) else {
        return "a joint".to_owned();
    };
    let name = |part: usize| tool.parts.get(part).map_or("", |p| p.name.as_str());
    for &cut in &linkage.cuts {
        if let Some(joint) = tool.joints.get(cut)
            && (next..next + 2).contains(&row)
        {
            return format!(
                "pin `{}` of `{}` and pin `{}` of `{}`",
                joint.pin,
                name(joint.carrier),
                joint.pin,
                name(joint.part)
            );
        }
        next += 2;
    }
    for slot in &tool.slots {
        let rows = if slot.keyed.is_some() { 2 } else { 1 };
        if (next..next + rows).contains(&row) {
            let point = tool
                .parts
                .get(slot.rider.part)
                .and_then(|p| p.points.get(slot.rider.point))
                .map_or("", |p| p.name.as_str());
            return format!(
                "`{point}` of `{}` and its slot on `{}`",
                name(slot.rider.part),
                name(slot.on)
            );
        }
        next += rows;
    }
    "a joint".to_owned()
}
