//! Why a linkage cannot do what the stroke asks.

use super::candidates::refused;
use super::{Words, number};
use crate::model::{FixedBy, JawId, JointId, PartId, StopEnd, Tool};
use crate::motion::MotionError;
use crate::units::{Quantity as Kind, UnitSystem};

impl FixedBy {
    /// The word for it in a tool file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Gap(_) => "gap",
            Self::Span => "span",
            Self::Handle => "handle",
            Self::Stop(_) => "stop",
            Self::Turned(..) => "turned",
        }
    }

    /// What it is, in a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Gap(_) => "the gap",
            Self::Span => "the grip span",
            Self::Handle => "the handle angle",
            Self::Stop(_) => "the distance of the stop's faces",
            Self::Turned(..) => "the angle of the teeth",
        }
    }

    /// Of which jaw, where that has to be said.
    pub(super) fn of_jaw(self, tool: &Tool) -> String {
        match self {
            Self::Gap(jaw) if tool.jaws.len() > 1 => {
                let jaw = tool.jaw(jaw).map_or("", |jaw| jaw.name.as_str());
                format!(" of jaw `{jaw}`")
            }
            Self::Stop(stop) => {
                let stop = tool.stop(stop).map_or("", |stop| stop.name.as_str());
                format!(" `{stop}`")
            }
            _ => String::new(),
        }
    }
}

impl MotionError {
    /// What went wrong and what to do, in these units.
    #[must_use]
    pub fn words(&self, tool: &Tool, units: UnitSystem) -> Words {
        let length = |v: f64| number(v, Kind::Length, units);
        let angle = |v: f64| number(v, Kind::Angle, units);
        let jaw = |j: JawId| tool.jaw(j).map_or("", |j| j.name.as_str());
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
            Self::StopBeforeOpen(stop, past) => {
                let name = tool.stop(*stop).map_or("", |stop| stop.name.as_str());
                let end = match tool.stop(*stop).map(|stop| stop.ends) {
                    Some(StopEnd::Open) => {
                        "to begin the stroke at the stop, write `open = { stop = .. }`; else check its points and \
                         `closed`"
                    }
                    _ => {
                        "check its points, `axis` and `closed`: along the axis the faces come together as the tool \
                         closes"
                    }
                };
                Words::new(format!(
                    "stop `{name}` is met before the stroke is open: its faces are {} past each other there",
                    length(*past)
                ))
                .help(end)
            }
            Self::OffFace(cam, past) => {
                let name = tool.cams.get(*cam).map(|own| own.label(*cam));
                Words::new(format!(
                    "with the tool open the contact of cam `{}` is {} beyond the end of its face",
                    name.unwrap_or_default(),
                    length(*past)
                ))
                .help("carry `points` on to where the contact is at open, or begin the stroke later")
            }
            Self::PushedOpen(open) => open.words(tool, units),
            Self::Unreachable {
                end,
                fixed,
                reach,
                passing,
                cut_short,
            } => {
                let show = |v: f64| number(v, fixed.by.quantity(), units);
                let what = format!("{}{}", fixed.by.words(), fixed.by.of_jaw(tool));
                let mut words = Words::new(format!(
                    "the {end} position is out of reach: {what} runs from {} to {}, and {} is not in that",
                    show(reach.low),
                    show(reach.high),
                    show(fixed.value)
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
                let words = refused(candidates, *more, jaw(tool.stroke.lead), units);
                match spread {
                    Some(spread) => words.help(spread.lines(tool)),
                    None => words,
                }
            }
            Self::NoneCloses { candidates, more } => refused(candidates, *more, jaw(tool.stroke.lead), units),
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

fn names(tool: &Tool, parts: &[PartId]) -> Vec<String> {
    parts
        .iter()
        .filter_map(|&p| tool.part(p))
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
fn sides(tool: &Tool, joint: JointId) -> String {
    tool.joint(joint).map_or_else(
        || "the two sides of a joint".to_owned(),
        |joint| joint.sides(tool),
    )
}
