//! The stroke, position by position.

use super::agree::{BALANCE, BOTH_ROUTES, CLOSURE, agree, worse};
use super::cams::{CamSeen, Place, cams_seen};
use super::failure::Failure;
use super::gears::{GearsSeen, gears_seen};
use super::ratchet::{RatchetSeen, ratchet_seen};
use super::stops::{StopSeen, stops_seen};
use crate::geometry::{Frame, Vec2};
use crate::measure::{
    EffortPeak, HandPeak, NoTeeth, Stall, contact_size, effort_peak, first_stall, hand_peak,
};
use crate::mechanism::{Freedom, Pose};
use crate::model::{Direction, GripId, JawId, Joint, JointId, Met, PartId, Tool};
use crate::motion::{Event, Survey};
use crate::statics::{
    Answer, Forces, Links, Mounted, Rig, Touch, handles_touch, indeterminate_joints,
};
use std::sync::Arc;

/// One solved position. Angles in rad, lengths in mm, forces in N.
#[derive(Debug, Clone, PartialEq)]
pub struct Position {
    /// Handle angle.
    pub handle: f64,
    /// Handle angle travelled since open.
    pub travel: f64,
    /// Pace from open, see [`Rig::go_to`].
    pub pace: f64,
    /// The dies of a jaw or a stop have met before it: there are no forces.
    pub ended: bool,
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
    /// Normal force of each slot and cam, tooth force of each pair of gears, in the order of
    /// [`Tool::all_joints`] behind the pins; as `pins` for the first jaw at the hand force.
    pub contacts: Vec<Option<f64>>,
    /// For each two-pin link: axial force, tension positive, at the tool's hand force.
    pub axial: Vec<Option<f64>>,
}

/// What the work at one jaw asks of the hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    /// Which jaw.
    pub jaw: JawId,
    /// As [`Solved::peaks`].
    pub peaks: Vec<HandPeak>,
    /// As [`Solved::stalls`].
    pub stalls: Vec<Option<Stall>>,
    /// As [`Solved::efforts`].
    pub efforts: Vec<EffortPeak>,
}

/// The dies of a jaw or a stop meet before the stroke is at its end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meets {
    /// What meets.
    pub what: Met,
    /// Index of the position at which they do.
    pub position: usize,
    /// That position is one more than those of the equal steps.
    pub added: bool,
}

/// A solved stroke.
#[derive(Debug, Clone)]
pub struct Solved {
    /// Positions from open to shut, in equal steps, and one where the dies of a jaw or a stop meet.
    pub positions: Vec<Position>,
    /// Where the stroke ends for the forces, if the dies of a jaw or a stop meet before it is shut.
    pub meets: Option<Meets>,
    /// Every stop.
    pub stops: Vec<StopSeen>,
    /// The ratchet, or why its teeth have no places; `None` without one.
    pub ratchet: Option<Result<RatchetSeen, NoTeeth>>,
    /// Every pair of tooth sectors.
    pub gears: Vec<GearsSeen>,
    /// Every cam over the stroke.
    pub cams: Vec<CamSeen>,
    /// Where the two handles touch.
    pub touch: Option<Touch>,
    /// What happens within the stroke, its ends included.
    pub events: Vec<Event>,
    /// The whole motion.
    pub survey: Arc<Survey>,
    /// Freedom at the assembled position.
    pub freedom: Freedom,
    /// Direction of the stroke.
    pub direction: Direction,
    /// Parts that carry force between two pins only, in the order of [`AtGrip::axial`].
    pub links: Links,
    /// Jaw force that the job needs at each position; empty without work.
    pub work: Vec<f64>,
    /// For each grip, the greatest hand force that the work needs; empty without work.
    pub peaks: Vec<HandPeak>,
    /// For each grip, where the work stops the tool at the hand's limit, if it does; empty without
    /// work or limit.
    pub stalls: Vec<Option<Stall>>,
    /// For each grip, the greatest share of the strength of the hands that the job is for; empty without work or
    /// job.
    pub efforts: Vec<EffortPeak>,
    /// The same of the work at each further jaw that has any.
    pub elsewhere: Vec<Worked>,
    /// Joints whose force statics alone cannot tell.
    pub indeterminate: Vec<bool>,
    /// Whether the handle turns (otherwise positions are equal steps of the first grip's way).
    pub turns: bool,
    /// The part whose sketch is farthest from the assembled position, and how far (mm), if that is
    /// far for a tool of this size.
    pub sketch_off: Option<(PartId, f64)>,
    /// Worst closure residual, over the tool's size.
    pub closure: f64,
    /// Worst difference of the two routes to the jaw force, relative.
    pub virtual_work: f64,
    /// Worst residual of any part, relative.
    pub free_body: f64,
}

/// Solves the stroke of a tool: positions, ratios, and forces with friction and springs.
///
/// # Errors
/// [`Failure`] says what the linkage cannot do, or that the answer does not agree with itself.
///
/// # Examples
/// A lever on one pin that lifts what it presses on, built in code:
/// ```
/// use jawforce::analysis::{Direction, solve};
/// use jawforce::model::{Hand, Jaw, JawId, Part, PartId, PointRef, Stroke, Target, Tool};
///
/// let base = Part::new("base", &[("heel", [0.0, 0.0])], &[("anvil", [30.0, 0.0])]);
/// let lever = Part::new("lever", &[("heel", [0.0, 0.0])], &[("nose", [30.0, 0.0])]);
/// let second = |part| PointRef { part: PartId::new(part), point: 1 };
/// let jaw = Jaw {
///     name: "nose".to_owned(),
///     on: second(1),
///     against: second(0),
///     axis: Some(90_f64.to_radians()),
///     closed: 0.0,
///     work: None,
/// };
/// let lead = JawId::FIRST;
/// let stroke = Stroke { open: Target::Gap(8.0, lead), shut: Target::Gap(0.0, lead), steps: 8, lead };
/// let hand = Hand::new(PartId::new(1), &[[0.0, 0.0], [-120.0, 0.0]], &[120.0]);
/// let tool = Tool::new("lever", vec![base, lever], hand, jaw, stroke);
/// let solved = solve(&tool, Direction::Closing).expect("a stroke");
/// assert_eq!(solved.positions.len(), 9);
/// assert!(solved.virtual_work < 1e-9 && solved.free_body < 1e-9);
/// ```
pub fn solve(tool: &Tool, direction: Direction) -> Result<Solved, Failure> {
    solve_mounted(tool, &Mounted::new(tool)?, direction)
}

/// [`solve`] for a tool that is mounted already.
///
/// # Errors
/// As [`solve`].
pub(super) fn solve_mounted(
    tool: &Tool,
    mounted: &Mounted,
    direction: Direction,
) -> Result<Solved, Failure> {
    let mut rig = Rig::new(tool, mounted, direction)?;
    let indeterminate = indeterminate_joints(rig.solver());
    let sketch_off = sketch_off(tool, mounted);
    let links = Links::of(tool);
    let steps = tool.stroke.steps;
    let mut positions = Vec::with_capacity(steps + 1);
    let mut work = Vec::new();
    let mut closure = 0.0_f64;
    let meets = meets(&rig, steps);
    let mut rows: Vec<f64> = (0..=steps).map(|k| rig.row(k, steps)).collect();
    if let Some(meets) = meets.filter(|m| m.added) {
        rows.insert(meets.position, rig.pace());
    }
    for pace in rows {
        rig.go_to(pace)?;
        rig.solve();
        work.extend(rig.work());
        closure = worse(closure, rig.solver().closure());
        positions.push(position(&rig, pace, &links));
    }
    let touch = handles_touch(&mut rig)?;
    let Worked {
        peaks,
        stalls,
        efforts,
        ..
    } = worked(&mut rig, JawId::FIRST)?;
    let mut elsewhere = Vec::new();
    let (mut virtual_work, mut free_body) = (0.0_f64, 0.0_f64);
    let stops = stops_seen(&mut rig, mounted)?;
    let ratchet = ratchet_seen(&mut rig)?;
    let last = meets.map_or(positions.len(), |meets| meets.position + 1);
    let places: Vec<Place> = positions.iter().take(last).map(place).collect();
    let cams = cams_seen(&mut rig, &places)?;
    let gears = gears_seen(
        tool,
        &positions.iter().map(|p| &p.points).collect::<Vec<_>>(),
    );
    for load in stops.iter().flat_map(|seen| seen.loads.iter().flatten()) {
        virtual_work = worse(virtual_work, load.on.virtual_work);
        free_body = worse(free_body, load.on.free_body);
    }
    for (jaw, _) in JawId::each(&tool.jaws)
        .skip(1)
        .filter(|(_, jaw)| jaw.work.is_some())
    {
        let facing = tool.facing(jaw);
        let mut rig = Rig::new(&facing, &Mounted::new(&facing)?, direction)?;
        elsewhere.push(worked(&mut rig, jaw)?);
        let forces = rig.forces();
        virtual_work = worse(virtual_work, forces.virtual_work);
        free_body = worse(free_body, forces.free_body);
    }
    let forces = rig.forces();
    virtual_work = worse(virtual_work, forces.virtual_work);
    free_body = worse(free_body, forces.free_body);
    let turns = rig.turns();
    agree(&[
        (CLOSURE, closure),
        (BOTH_ROUTES, virtual_work),
        (BALANCE, free_body),
    ])?;
    let survey = &mounted.survey;
    let (low, high) = if survey.open.before(survey.shut) {
        (survey.open, survey.shut)
    } else {
        (survey.shut, survey.open)
    };
    let within = |e: &&Event| {
        let at = |s: crate::motion::Waypoint| {
            survey.lengths.get(s.node).copied().unwrap_or(0.0) + s.ahead
        };
        at(e.spot) >= at(low) - 1e-7 && at(e.spot) <= at(high) + 1e-7
    };
    Ok(Solved {
        events: survey.events.iter().filter(within).copied().collect(),
        freedom: survey.path.freedom.clone(),
        positions,
        meets,
        stops,
        ratchet,
        gears,
        cams,
        touch,
        indeterminate,
        links,
        peaks,
        stalls,
        efforts,
        elsewhere,
        direction,
        work,
        turns,
        sketch_off,
        closure,
        virtual_work,
        free_body,
        survey: Arc::clone(survey),
    })
}

/// What the work at the jaw in view asks of the hand; `jaw` is its number in the tool.
fn worked(rig: &mut Rig, jaw: JawId) -> Result<Worked, Failure> {
    let tool = rig.tool();
    let (mut peaks, mut stalls, mut efforts) = (Vec::new(), Vec::new(), Vec::new());
    if tool.work().is_some() {
        for grip in GripId::ids(tool.hand.grips.len()) {
            peaks.push(hand_peak(rig, grip)?);
            if tool.hand.limit.is_some() {
                stalls.push(first_stall(rig, grip)?);
            }
            if tool.job.is_some() {
                efforts.push(effort_peak(rig, grip)?);
            }
        }
    }
    Ok(Worked {
        jaw,
        peaks,
        stalls,
        efforts,
    })
}

/// A step nearer than this to where dies meet, over the whole pace, is that place.
const AT_END: f64 = 1e-9;

/// Where among the steps the stroke ends for the forces, if that is before shut.
fn meets(rig: &Rig, steps: usize) -> Option<Meets> {
    let (end, near) = (rig.pace(), AT_END * rig.whole());
    let beyond = (0..=steps).find(|&k| rig.row(k, steps) > end + near)?;
    let known = beyond > 0 && rig.row(beyond - 1, steps) > end - near;
    Some(Meets {
        what: rig.meets()?,
        position: beyond - usize::from(known),
        added: !known,
    })
}

/// A sketch that is off by more than this part of the tool's size is worth a word.
const FAR_SKETCH: f64 = 0.15;

/// The part whose points moved most from the sketch to the assembled position, if that is far.
fn sketch_off(tool: &Tool, mounted: &Mounted) -> Option<(PartId, f64)> {
    let linkage = &mounted.linkage;
    let path = &mounted.survey.path;
    let mut pose = Pose::new(linkage);
    pose.set(linkage, &path.nodes.get(path.start)?.q);
    let mut worst: Option<(PartId, f64)> = None;
    for (p, part) in PartId::each(&tool.parts) {
        let sketched = Frame::at(part.sketch);
        for point in &part.points {
            let stands = pose.place(linkage.spot(p, point.at.into()));
            let away = (stands - sketched.place(point.at.into())).length();
            if away > FAR_SKETCH * linkage.size && worst.is_none_or(|(_, most)| away > most) {
                worst = Some((p, away));
            }
        }
    }
    worst
}

/// What the cams are asked about a position.
fn place(position: &Position) -> Place {
    let mut answers = position.grips.iter().map(|grip| grip.answer.first());
    Place {
        pace: position.pace,
        gap: position.gap.first().copied().unwrap_or(0.0),
        lifts: answers.any(|answer| answer == Some(&Some(Answer::LiftsOff))),
    }
}

/// Normal force of each slot and cam, and tooth force of each pair of gears.
fn contacts(tool: &Tool, forces: &Forces, grip: GripId) -> Vec<Option<f64>> {
    let first = tool.joints.len();
    let others = tool.all_joints().enumerate().skip(first);
    let force = |(k, joint): (usize, Joint<'_>)| {
        let found = forces.contact(JointId::new(k), grip)?;
        found.is_finite().then(|| contact_size(tool, joint, found))
    };
    others.map(force).collect()
}

/// Copies what was found at a position out of the reused storage.
fn position(rig: &Rig, pace: f64, links: &Links) -> Position {
    let (tool, solver, forces) = (rig.tool(), rig.solver(), rig.forces());
    let (linkage, stance) = (&*solver.linkage, rig.stance());
    let jaws = || JawId::ids(linkage.jaws.len());
    let points = rig.points();
    let own = |points: Vec<Vec2>| points.into_iter().map(Vec2::xy).collect();
    let known = |v: f64| v.is_finite().then_some(v);
    let forced = |jaw: JawId| !(forces.toggle[jaw.index()] || rig.ended());
    let grips = GripId::ids(linkage.hand.held).map(|g| {
        let pins: Vec<Option<Vec2>> = forces
            .pins_at(g)
            .iter()
            .map(|&force| Some(Vec2::from(force)).filter(|force| force.is_finite()))
            .collect();
        AtGrip {
            span: linkage.span(&solver.pose, g),
            ratio: jaws().map(|j| known(forces.ratio(g, j)?)).collect(),
            answer: jaws()
                .map(|j| forces.answer(g, j).filter(|_| forced(j)))
                .collect(),
            needed: (forces.needed(g)).filter(|_| tool.work().is_some() && forced(JawId::FIRST)),
            axial: links.axial(&pins, &points),
            pins: pins.into_iter().map(|pin| pin.map(Vec2::xy)).collect(),
            contacts: contacts(tool, forces, g),
        }
    });
    Position {
        handle: stance.handle,
        travel: stance.travel,
        pace,
        ended: rig.ended(),
        toggle: forces.toggle.clone(),
        gap: forces.gap.clone(),
        grips: grips.collect(),
        points: points.into_iter().map(own).collect(),
    }
}
