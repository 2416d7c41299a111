//! What a file describes: the answer of `check`.

use super::build::pins_at;
use super::cams::{CamLine, cam_lines};
use super::check_events::{EventLine, events};
use super::check_springs::{OpensLine, SpringLine, opens_lines, spring_lines};
use super::contacts::{meeting_cure, opened_by_hand, touch_text};
use super::entered::entered;
use super::gears::{GearsLine, gears_lines};
use super::plates::PlatesReport;
use super::ratchet::{RatchetLine, ratchet_line};
use super::room::RoomReport;
use super::setup::adjuster_lines;
use super::show::Source;
use super::stops::{StopLine, in_order, stop_lines};
use super::stroke::{DemandResult, Place, UnitNames};
use super::verdict::VerdictReport;
use super::wound::{WoundReport, wound_report};
use crate::analysis::{Position, Solved, SpringsSeen};
use crate::model::{JawId, Met, Part, PartId, PointKind, Push, Target, Tool};
use crate::motion::Happening;
use crate::numeric::follow::End;
use crate::strength::SpringFound;
use crate::tolerance::Eaten;
use crate::units::{Quantity, UnitSystem, fixed};
use crate::words::as_near;
use indexmap::IndexMap;
use serde::Serialize;

/// What a tool file describes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub sha256: String,
    /// Units of every number below.
    pub units: UnitNames,
    /// Every part: its name, and what joins it to others.
    pub parts: Vec<PartLine>,
    /// Number of pin joints.
    pub pin_joints: usize,
    /// Number of slots.
    pub slots: usize,
    /// Number of cams; not there without any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cams: Option<usize>,
    /// Every pair of tooth sectors.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub gears: Vec<GearsLine>,
    /// What each cam does over the stroke.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cam_contacts: Vec<CamLine>,
    /// Degrees of freedom at the assembled position.
    pub freedom: usize,
    /// Closure equations that say nothing new there.
    pub redundant: usize,
    /// Pins at the open end.
    pub open: IndexMap<String, Place>,
    /// Pins at the shut end.
    pub shut: IndexMap<String, Place>,
    /// Handle angle at open and shut.
    pub handle: [f64; 2],
    /// Gap of each jaw at open and shut.
    pub gaps: IndexMap<String, [f64; 2]>,
    /// Span of each grip at open and shut.
    pub spans: Vec<GripLine>,
    /// What happens on the whole motion.
    pub events: Vec<EventLine>,
    /// How the motion ends.
    pub motion: String,
    /// Gap of the first jaw over the whole motion.
    pub reach: [f64; 2],
    /// Other places where the stroke's targets are met.
    pub others: Vec<EventLine>,
    /// The dies of a jaw meet before the stroke is shut.
    pub dies_meet: bool,
    /// Every stop, in the order in which they are met.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stops: Vec<StopLine>,
    /// The ratchet; left out without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ratchet: Option<RatchetLine>,
    /// Every adjuster: what it moves, its range and its setting.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub adjusters: Vec<String>,
    /// The handles touch within the stroke.
    pub handles_touch: bool,
    /// Every spring.
    pub springs: Vec<SpringLine>,
    /// Every spring of wire.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub wound: Vec<WoundReport>,
    /// Whether the springs open the tool; empty without springs.
    pub opens: Vec<OpensLine>,
    /// What the plates are like; absent where no part has an outline.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plates: Option<PlatesReport>,
    /// How plates come near each other; absent where none are held against another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub room: Option<RoomReport>,
    /// Findings that are worth a look.
    pub advice: Vec<String>,
    /// Assumptions made where the file is silent.
    pub assumed: Vec<String>,
    /// What a reader wants to know first: the hand, and the demands where that was asked for.
    pub verdict: VerdictReport,
    /// Demands that were not read, since that was not asked for.
    pub unread_demands: usize,
    /// The demands of the file and whether they are met, where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub demands: Option<Vec<DemandResult>>,
}

/// A part in one line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartLine {
    /// Its name.
    pub name: String,
    /// Whether it is the fixed part.
    pub fixed: bool,
    /// Its pins.
    pub pins: Vec<String>,
    /// Its marks.
    pub marks: Vec<String>,
}

/// A grip in one line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GripLine {
    /// Distance along the hand line.
    pub at: f64,
    /// Span at open.
    pub open: Option<f64>,
    /// Span at shut.
    pub shut: Option<f64>,
}

/// The report of what `tool` describes. `given` knows whether the file has a key (`hand.force`).
#[must_use]
pub fn check_report(
    tool: &Tool,
    solved: &Solved,
    source: &Source,
    units: UnitSystem,
    given: &dyn Fn(&str) -> bool,
) -> CheckReport {
    let length = |v: f64| units.show(v, Quantity::Length);
    let angle = |v: f64| units.show(v, Quantity::Angle);
    let (first, last) = (solved.positions.first(), solved.positions.last());
    let pins = |position: Option<&Position>| {
        position.map_or_else(IndexMap::new, |p| pins_at(tool, p, units))
    };
    let names = |part: &Part, kind| {
        part.points
            .iter()
            .filter(|p| p.kind == kind)
            .map(|p| p.name.clone())
            .collect()
    };
    let span = |position: Option<&Position>, g: usize| {
        position
            .and_then(|p| p.grips.get(g))
            .and_then(|g| g.span)
            .map(length)
    };
    let others = solved
        .survey
        .others
        .iter()
        .map(|(end, handle, gap)| EventLine {
            what: (*end).to_owned(),
            handle: angle(*handle),
            gap: length(*gap),
            in_stroke: false,
            rank: 0,
            near: false,
        });
    CheckReport {
        format: 1,
        verdict: VerdictReport::of(tool, solved, [0, 0], units),
        unread_demands: tool.demands.len(),
        demands: None,
        tool: tool.name.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        units: UnitNames::of(units),
        parts: PartId::each(&tool.parts)
            .map(|(k, part)| PartLine {
                name: part.name.clone(),
                fixed: k == tool.fixed,
                pins: names(part, PointKind::Pin),
                marks: names(part, PointKind::Mark),
            })
            .collect(),
        pin_joints: tool.joints.len(),
        slots: tool.slots.len(),
        cams: (!tool.cams.is_empty()).then_some(tool.cams.len()),
        gears: gears_lines(tool, solved, units),
        cam_contacts: cam_lines(tool, solved, units),
        freedom: solved.freedom.degrees,
        redundant: solved.freedom.redundant,
        open: pins(first),
        shut: pins(last),
        handle: [first, last].map(|p| p.map_or(0.0, |p| angle(p.handle))),
        gaps: tool
            .jaws
            .iter()
            .enumerate()
            .map(|(j, jaw)| {
                let gap =
                    |p: Option<&Position>| p.and_then(|p| p.gap.get(j)).map_or(0.0, |&g| length(g));
                (jaw.name.clone(), [gap(first), gap(last)])
            })
            .collect(),
        spans: tool
            .hand
            .grips
            .iter()
            .enumerate()
            .map(|(g, &at)| GripLine {
                at: length(at),
                open: span(first, g),
                shut: span(last, g),
            })
            .collect(),
        events: events(tool, solved, units),
        motion: motion(solved),
        reach: [
            length(solved.survey.gaps.low),
            length(solved.survey.gaps.high),
        ],
        others: others.collect(),
        dies_meet: solved
            .meets
            .is_some_and(|meets| matches!(meets.what, Met::Dies(_))),
        stops: in_order(stop_lines(tool, solved, units), solved, units),
        ratchet: ratchet_line(tool, solved, units),
        adjusters: adjuster_lines(tool, units),
        handles_touch: solved.touch.is_some(),
        springs: Vec::new(),
        wound: Vec::new(),
        opens: Vec::new(),
        plates: None,
        room: None,
        advice: advice(tool, solved, units),
        assumed: assumed(tool, units, given),
    }
}

impl CheckReport {
    /// Adds an advice where the tolerances take as much as there is between shut and the toggle.
    pub fn add_margin(&mut self, eaten: &Eaten, units: UnitSystem) {
        let Some((address, most)) = eaten.takes.first() else {
            return;
        };
        if eaten.worst() < eaten.margin {
            return;
        }
        let show = |mm: f64| fixed(units.show(mm, Quantity::Length), 3);
        self.advice.push(format!(
            "shut is {} {} of gap from the toggle, and the tolerances take {} of it at the worst, most of it \
             `{address}` with {}: tighten that, or end the stroke earlier; `tolerance` says how many of the made \
             tools come to shut",
            show(eaten.margin),
            units.symbol(Quantity::Length),
            show(eaten.worst()),
            show(*most)
        ));
    }

    /// Adds what comes of the springs of wire, and to the first lines what cannot be.
    pub fn add_wound(&mut self, tool: &Tool, found: &[(usize, SpringFound)], units: UnitSystem) {
        self.wound = wound_report(tool, found, units);
        self.verdict.add_springs(tool, found, units);
    }

    /// Adds what the springs do; nothing for a tool without.
    pub fn add_springs(&mut self, tool: &Tool, seen: &SpringsSeen, units: UnitSystem) {
        self.springs = spring_lines(tool, seen, units);
        if !self.springs.is_empty() {
            self.opens = opens_lines(tool, seen, units);
        }
    }
}

fn motion(solved: &Solved) -> String {
    match solved.survey.path.ends {
        [End::Closed, _] | [_, End::Closed] => "the motion is a closed loop".to_owned(),
        [End::Stuck, _] | [_, End::Stuck] => {
            "the motion ends where the linkage could move on in several ways".to_owned()
        }
        _ => "the motion was followed as far as makes sense for a tool of this size".to_owned(),
    }
}

/// Advice that needs the solved stroke: a sketch far off, a stroke that ends near a toggle.
fn advice(tool: &Tool, solved: &Solved, units: UnitSystem) -> Vec<String> {
    let mut found: Vec<String> = as_near(&solved.survey, units).into_iter().collect();
    found.extend(meeting_cure(tool, solved, units));
    found.extend(touch_text(tool, solved, units));
    found.extend(opened_by_hand(tool, solved, units));
    found.extend(entered(tool, solved, units));
    let symbol = units.symbol(Quantity::Length);
    if let Some((part, away)) = &solved.sketch_off
        && let Some(part) = tool.part(*part)
    {
        found.push(format!(
            "the sketch is far from the assembled position: part `{}` moved by {} {symbol}; sketch it nearer, so \
             that there is no doubt which way the linkage is put together",
            part.name,
            fixed(units.show(*away, Quantity::Length), 1)
        ));
    }
    if let (Some(last), true) = (solved.positions.last(), solved.turns) {
        let near = solved
            .survey
            .events
            .iter()
            .filter(|e| e.what == Happening::Toggle(JawId::FIRST))
            .map(|e| (e.handle - last.handle).abs())
            .fold(f64::INFINITY, f64::min);
        if near < 1f64.to_radians() {
            found.push(format!(
                "the stroke ends {} deg from a toggle: there the ratio depends on hundredths of the dimensions \
                 and on the tool's compliance; see the tolerances",
                fixed(near.to_degrees(), 2)
            ));
        }
    }
    found
}

/// What was assumed, of the things that change the answer.
fn assumed(tool: &Tool, units: UnitSystem, given: &dyn Fn(&str) -> bool) -> Vec<String> {
    let hand = &tool.hand;
    let mut taken = Vec::new();
    if !given("hand.force") {
        let force = fixed(units.show(hand.force, Quantity::Force), 1);
        let symbol = units.symbol(Quantity::Force);
        taken.push(format!(
            "the hand force is {force} {symbol} (`[hand] force`, or --hand-force)"
        ));
    }
    if !given("hand.push") {
        taken.push(match hand.push {
            Push::Across => {
                "the hand pushes across, towards the facing point of the other handle (`push`)"
                    .to_owned()
            }
            Push::Square => {
                "the hand pushes square to its handle, in the sense that closes the tool (`push`)"
                    .to_owned()
            }
            Push::Fixed(angle) => {
                format!("the hand pushes at {} deg", fixed(angle.to_degrees(), 1))
            }
        });
    }
    if hand.push != Push::Across
        && !given("hand.palm")
        && let Some(part) = tool.palm().and_then(|part| tool.part(part))
    {
        taken.push(format!(
            "`{}` lies in the palm and takes the opposite of the push (`palm`; false: on a bench)",
            part.name
        ));
    }
    if hand.against.is_some() && !given("hand.thickness") {
        taken.push(
            "grip spans are between the centre lines, the handles have no thickness (`thickness`)"
                .to_owned(),
        );
    }
    let ends = [tool.stroke.open, tool.stroke.shut];
    if tool.jaws.len() > 1
        && ends.iter().any(|end| matches!(end, Target::Gap(..)))
        && !given("stroke.jaw")
        && let Some(jaw) = tool.jaw(tool.stroke.lead)
    {
        taken.push(format!(
            "the gaps of [stroke] are those of the first jaw, `{}` (`jaw`)",
            jaw.name
        ));
    }
    for jaw in tool.jaws.iter().filter(|jaw| jaw.axis.is_none()) {
        taken.push(format!(
            "the gap of `{}` is the distance of its two points and ends where they meet (`axis`)",
            jaw.name
        ));
    }
    taken
}
