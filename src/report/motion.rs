//! The tool in motion: where its parts stand at the positions of the stroke, and the places that a reader
//! asks for first.

use super::drawing::DrawingReport;
use super::stroke::{HandPeakReport, StrokeReport};
use crate::geometry::Frame;
use crate::model::{PartId, Tool};
use serde::Serialize;

/// Most positions that are shown, beside the places of the jumps; nobody steps through more.
const MOST: usize = 200;

/// Where the parts stand over a stroke. Nothing in it lies between two solved positions.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MotionReport {
    /// Indices of the stroke's positions that are shown, from open to shut.
    pub rows: Vec<usize>,
    /// Names of the parts that move.
    pub parts: Vec<String>,
    /// For each row and each of these parts: by how much it has been turned about the origin of the fixed
    /// part's axes and moved after that since open; `[x, y, angle]`, mm and deg.
    pub moved: Vec<Vec<[f64; 3]>>,
    /// Each pin, and the part that it is drawn on.
    pub pins: Vec<(String, String)>,
    /// The parts of each jaw's two points.
    pub jaws: Vec<Carried>,
    /// The parts of each stop's two faces.
    pub stops: Vec<Carried>,
    /// The part of each cam, and the one that it pushes.
    pub cams: Vec<Carried>,
    /// The part of the ratchet's teeth, and the one that its pawl is on.
    pub ratchet: Option<Carried>,
    /// Places of the stroke that a reader asks for, from open to shut.
    pub jumps: Vec<Jump>,
}

/// A tool in motion with its forces: the answer of `draw --page`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToolInMotion {
    /// Version of the program.
    pub version: &'static str,
    /// The stroke.
    pub stroke: StrokeReport,
    /// The linkage open and shut.
    pub drawing: DrawingReport,
    /// Where its parts stand over the stroke.
    pub motion: MotionReport,
}

/// Something that is drawn on two parts.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Carried {
    /// Its name, as in the drawing.
    pub name: String,
    /// The parts.
    pub parts: [String; 2],
}

/// A place of the stroke that a reader asks for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Jump {
    /// What is there.
    pub what: JumpTo,
    /// The index of the stroke's position that shows it.
    pub position: usize,
    /// The grip that it is about, in the report's units; null: all.
    pub grip: Option<f64>,
    /// Gap of the first jaw at the very place, which may lie between two positions; in the report's units.
    pub gap: Option<f64>,
}

/// What is at a place of the stroke.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum JumpTo {
    /// The stroke begins.
    Open,
    /// The first position at which the work pushes.
    Touches,
    /// The work stops the tool.
    Stall,
    /// The hand force for the work is greatest.
    Peak,
    /// The jaw stands still.
    Toggle,
    /// Dies or a stop meet, or a face ends.
    Meets,
    /// The stroke ends.
    Shut,
}

/// The places of a stroke that a reader asks for, from open to shut.
fn jumps(stroke: &StrokeReport) -> Vec<Jump> {
    let last = stroke.positions.len().saturating_sub(1);
    let at = |what, position| Jump {
        what,
        position,
        grip: None,
        gap: None,
    };
    let mut out = vec![at(JumpTo::Open, 0)];
    if let Some(work) = &stroke.work {
        let pushes = |k: &usize| {
            work.needed.get(*k).is_some_and(|force| *force > 0.0)
                && (stroke.positions.get(*k)).is_some_and(|p| !p.beyond)
        };
        out.extend((0..=last).find(pushes).map(|k| at(JumpTo::Touches, k)));
        for (grip, stall) in stroke.grips.iter().zip(&work.stalls) {
            let found = stall.and_then(|gap| Some((gap, place_of_stall(stroke, gap)?)));
            out.extend(found.map(|(gap, position)| Jump {
                grip: Some(*grip),
                gap: Some(gap),
                ..at(JumpTo::Stall, position)
            }));
        }
        out.extend(peaks(stroke, &work.peaks));
    }
    let toggles = stroke.positions.iter().position(|p| p.toggle);
    out.extend(toggles.map(|k| at(JumpTo::Toggle, k)));
    let meets = stroke.meeting().map(|meeting| Jump {
        gap: Some(meeting.gap),
        ..at(JumpTo::Meets, meeting.position)
    });
    out.extend(meets);
    out.push(at(JumpTo::Shut, last));
    out.sort_by_key(|jump| jump.position);
    out
}

/// Closing, the first position at or beyond the gap at which the tool stalls; else the nearest.
fn place_of_stall(stroke: &StrokeReport, gap: f64) -> Option<usize> {
    let jaw = stroke.jaws.first()?;
    let gaps = || stroke.positions.iter().map(|p| p.gap(jaw));
    let beyond = |here: Option<f64>| here.is_some_and(|here| here <= gap + 1e-9 * gap.abs());
    if stroke.direction == "closing"
        && let Some(found) = gaps().position(beyond)
    {
        return Some(found);
    }
    nearest(gaps().map(|here| Some((here? - gap).abs())))
}

/// The peaks of all grips: one jump where all are at one position.
fn peaks(stroke: &StrokeReport, peaks: &[HandPeakReport]) -> Vec<Jump> {
    let found = |(grip, peak): (&f64, &HandPeakReport)| {
        peak.hand_force.filter(|force| *force > 0.0)?;
        let jaw = stroke.jaws.first()?;
        // A handle may pass an angle twice, and a jaw a gap: both must be near.
        let off = stroke.positions.iter().map(|p| {
            let gap = (p.gap(jaw)? - peak.gap).abs();
            Some((p.travel - peak.travel).abs() + gap)
        });
        Some(Jump {
            what: JumpTo::Peak,
            position: nearest(off)?,
            grip: Some(*grip),
            gap: Some(peak.gap),
        })
    };
    let mut jumps: Vec<Jump> = stroke.grips.iter().zip(peaks).filter_map(found).collect();
    if let [first, more @ ..] = jumps.as_slice()
        && more.iter().all(|jump| jump.position == first.position)
        && !more.is_empty()
    {
        let all = Jump {
            grip: None,
            gap: None,
            ..first.clone()
        };
        jumps = vec![all];
    }
    jumps
}

fn nearest(off: impl Iterator<Item = Option<f64>>) -> Option<usize> {
    let known = off.enumerate().filter_map(|(k, off)| Some((k, off?)));
    known.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(k, _)| k)
}

/// The positions that are shown: all, or evenly chosen ones of many, with those of the jumps.
#[must_use]
pub fn motion_rows(stroke: &StrokeReport) -> Vec<usize> {
    let count = stroke.positions.len();
    let every = count.div_ceil(MOST).max(1);
    let mut rows: Vec<usize> = (0..count).step_by(every).collect();
    rows.extend(jumps(stroke).iter().map(|jump| jump.position));
    rows.retain(|row| *row < count);
    rows.sort_unstable();
    rows.dedup();
    rows
}

/// The report of a stroke whose positions `rows` have the parts at `frames`, in the tool's order; the first
/// one is open. `None` where there are no positions.
#[must_use]
pub fn motion_report(
    tool: &Tool,
    stroke: &StrokeReport,
    rows: Vec<usize>,
    frames: &[Vec<Frame>],
) -> Option<MotionReport> {
    let open = frames.first()?;
    let moving: Vec<PartId> = PartId::ids(tool.parts.len())
        .filter(|part| *part != tool.fixed)
        .collect();
    let moved = |frames: &Vec<Frame>| -> Option<Vec<[f64; 3]>> {
        let of = |part: &PartId| {
            let (from, to) = (open.get(part.index())?, frames.get(part.index())?);
            let turn = to.turn.turned_back(from.turn);
            let by = to.origin - from.origin.turned(turn);
            Some([by[0], by[1], turn.angle().to_degrees()])
        };
        moving.iter().map(of).collect()
    };
    let name = |part: PartId| tool.part(part).map_or_else(String::new, |p| p.name.clone());
    let on = |of: &str, parts: [PartId; 2]| Carried {
        name: of.to_owned(),
        parts: parts.map(name),
    };
    let pins = tool.joints.iter();
    let pins = pins.map(|joint| (joint.pin.clone(), name(joint.carrier)));
    let ratchet = tool.ratchet.as_ref();
    Some(MotionReport {
        rows,
        parts: moving.iter().map(|part| name(*part)).collect(),
        moved: frames.iter().map(moved).collect::<Option<_>>()?,
        pins: pins.collect(),
        jaws: (tool.jaws.iter())
            .map(|jaw| on(&jaw.name, [jaw.on.part, jaw.against.part]))
            .collect(),
        stops: (tool.stops.iter())
            .map(|stop| on(&stop.name, [stop.on.part, stop.against.part]))
            .collect(),
        cams: (tool.cams.iter().enumerate())
            .map(|(k, cam)| on(&cam.label(k), [cam.part, cam.pushes.part]))
            .collect(),
        ratchet: ratchet.map(|ratchet| on("", [ratchet.teeth_on, ratchet.pawl.on])),
        jumps: jumps(stroke),
    })
}
