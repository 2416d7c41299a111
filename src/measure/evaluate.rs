//! The one evaluator: a measure read off a tool that stands at a position, whoever put it there.

use super::reading::Reading;
use crate::limits::{acceptable_share, limit_at, strain_index};
use crate::model::{GripId, JawId, Joint, Measure, Tool};
use crate::statics::{Absent, Answer, Stand};

/// Reads a measure of a position, for the hand at a grip (index).
///
/// # Errors
/// [`Absent`]: why there is no value.
pub fn read_at(stand: &mut Stand, measure: &Measure, grip: GripId) -> Reading {
    if let Some(ended) = stand.ended() {
        return Err(ended);
    }
    let hand = stand.tool().hand.force;
    match measure {
        Measure::Gap => stand.gap(JawId::FIRST).ok_or(Absent::Toggle),
        Measure::Handle => Ok(stand.handle()),
        Measure::Travel => Ok(stand.travel()),
        Measure::Span => stand.span(grip),
        Measure::Ratio => stand.ratio(grip, JawId::FIRST),
        Measure::JawForce => stand.jaw_force(grip, JawId::FIRST, hand),
        Measure::Efficiency => match stand.answer(grip, JawId::FIRST, hand)? {
            answer @ Answer::Moves { .. } => {
                answer.efficiency(stand.direction()).ok_or(Absent::NoForce)
            }
            Answer::Slack => Err(Absent::Slack),
            Answer::Locked => Err(Absent::Locked),
            Answer::LiftsOff => Err(Absent::LiftsOff),
            Answer::Ended => Err(Absent::DiesMeet),
        },
        Measure::HandForce => stand.hand_force(grip),
        Measure::HandShare | Measure::Effort | Measure::StrainIndex => {
            let force = stand.hand_force(grip)?;
            of_hand_force(stand, measure, grip, force)
        }
        Measure::AcceptableForce => {
            let job = stand.tool().job.as_ref().ok_or(Absent::NoJob)?;
            let strength = strength(stand, grip).ok_or(Absent::NoLimit)?;
            Ok(acceptable_share(job) * strength)
        }
        Measure::PinLoad(joint) => {
            // Under the work, or at the tool's hand force where there is none.
            let hand = match stand.work() {
                Some(0.0) => return Err(Absent::NoWork),
                Some(_) => stand.hand_force(grip)?,
                None => hand,
            };
            let [x, y] = stand.pin(*joint, grip, hand)?.xy();
            Ok(x.hypot(y))
        }
        Measure::Contact(joint) => {
            let hand = match stand.work() {
                Some(0.0) => return Err(Absent::NoWork),
                Some(_) => stand.hand_force(grip)?,
                None => hand,
            };
            let force = stand.contact(*joint, grip, hand)?;
            let joint = stand.tool().joint(*joint).ok_or(Absent::NoNumber)?;
            Ok(contact_size(stand.tool(), joint, force))
        }
        Measure::PressureAngle(joint) => stand.pressure_angle(*joint).ok_or(Absent::NoNumber),
        Measure::Offset => stand.offset(JawId::FIRST).ok_or(Absent::NoAxis),
        Measure::Safety(_)
        | Measure::HandWork
        | Measure::JawWork
        | Measure::Height
        | Measure::ToggleMargin
        | Measure::ToggleMarginGap
        | Measure::StopLoad(_)
        | Measure::RatchetStep
        | Measure::RatchetFree
        | Measure::SpringSafety
        | Measure::SpringStress
        | Measure::Yield
        | Measure::Mass
        | Measure::Clearance(_)
        | Measure::Pinch
        | Measure::Stress(_)
        | Measure::HandActivity => Err(Absent::OfTheStroke),
    }
}

/// What is said of a contact that is no pin, from the force of its equation: of gears the force along the pressure
/// line, by its component along the pitch circles.
#[must_use]
pub fn contact_size(tool: &Tool, joint: Joint<'_>, force: f64) -> f64 {
    match joint {
        Joint::Gears(_, gears) => force.abs() / gears.working_angle(tool).cos(),
        Joint::Pin(..) | Joint::Slot(..) | Joint::Cam(..) => force.abs(),
    }
}

/// What a measure of work over the stroke grows by per unit of pace where the tool stands, N mm/rad or
/// N mm/mm: with the force that the work needs, or at the tool's hand force where there is no work.
///
/// # Errors
/// [`Absent`]: why there is no value.
pub fn growth(stand: &mut Stand, measure: &Measure, grip: GripId) -> Reading {
    let hand = stand.tool().hand.force;
    match (measure, stand.work()) {
        (Measure::JawWork, Some(work)) => Ok(work * stand.jaw_rate(JawId::FIRST)),
        (Measure::JawWork, None) => {
            Ok(stand.jaw_force(grip, JawId::FIRST, hand)? * stand.jaw_rate(JawId::FIRST))
        }
        (Measure::HandWork, Some(_)) => Ok(stand.hand_force(grip)? * stand.hand_rate(grip)),
        (Measure::HandWork, None) => Ok(hand * stand.hand_rate(grip)),
        _ => Err(Absent::OfAPosition),
    }
}

/// What a measure of the hand says of a force (N) at a grip (index) where the tool stands.
pub(super) fn of_hand_force(stand: &Stand, measure: &Measure, grip: GripId, force: f64) -> Reading {
    let over = |most: Option<f64>| {
        let most = most.filter(|most| *most > 0.0);
        most.map(|most| force / most).ok_or(Absent::NoLimit)
    };
    match measure {
        Measure::HandShare => over(hand_limit(stand, grip)),
        Measure::Effort => over(strength(stand, grip)),
        Measure::StrainIndex => {
            let effort = over(strength(stand, grip))?;
            let job = stand.tool().job.as_ref().ok_or(Absent::NoJob)?;
            strain_index(job, effort).ok_or(Absent::AboveStrength)
        }
        _ => Ok(force),
    }
}

/// The strength of the hands that the job is for, at a grip (index) where the tool stands, N: of the share of its
/// population, or else the hand's limit.
pub(super) fn strength(stand: &Stand, grip: GripId) -> Option<f64> {
    let tool = stand.tool();
    let limit = tool.hand.limit.as_ref();
    crate::limits::strength(tool.job.as_ref()?, limit, stand.span(grip).ok())
}

/// The most that may be asked of the hand at a grip (index) where the tool stands, N, if there is a limit.
pub(super) fn hand_limit(stand: &Stand, grip: GripId) -> Option<f64> {
    limit_at(stand.tool().hand.limit.as_ref()?, stand.span(grip).ok())
}
