//! From the solved stroke to the report, in the units asked for.

use super::jaws::{all_jaws, ends_of_stroke};
use super::job::job_report;
use super::measured::measured;
use super::ratchet::ratchet_line;
use super::show::{Source, direction_word, number, position_text, pressed};
use super::stops::stop_lines;
use super::stroke::{
    Checks, CurvePlace, DemandOnCurve, DemandResult, GripReport, HandPeakReport, JawAt, JawForces,
    LimitReport, Meeting, Place, PositionReport, StrokeReport, Turning, UnitNames, WorkReport,
};
use super::stroke_notes::notes;
use super::verdict::VerdictReport;
use crate::analysis::Outcome;
use crate::analysis::{AtGrip, Position, Solved};
use crate::limits::{describe, limit_at};
use crate::measure::HandPeak;
use crate::model::{At, Demand, HandLimit, JawId, JointId, Measure, Met, PointKind, Tool};
use crate::motion::{Event, Happening};
use crate::statics::{Absent, Answer};
use crate::units::{Quantity, UnitSystem};
use indexmap::IndexMap;

impl UnitNames {
    /// Names of a system's units.
    #[must_use]
    pub fn of(units: UnitSystem) -> Self {
        Self {
            length: units.symbol(Quantity::Length),
            force: units.symbol(Quantity::Force),
            angle: units.symbol(Quantity::Angle),
        }
    }
}

/// The report of a solved stroke.
#[must_use]
pub fn stroke_report(
    tool: &Tool,
    solved: &Solved,
    demands: &[Outcome],
    source: &Source,
    units: UnitSystem,
) -> StrokeReport {
    let build = Build { tool, units };
    let demands: Vec<DemandResult> = demands.iter().filter_map(|d| build.demand(d)).collect();
    let met = demands.iter().filter(|demand| demand.met).count();
    let meeting = build.meeting(solved);
    StrokeReport {
        format: 1,
        tool: tool.name.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        units: UnitNames::of(units),
        grips: tool.hand.grips.iter().map(|&g| build.length(g)).collect(),
        hand_force: build.force(tool.hand.force),
        jaws: tool.jaws.iter().map(|j| j.name.clone()).collect(),
        all_jaws: all_jaws(tool, solved, units),
        ends: ends_of_stroke(tool, units),
        direction: direction_word(solved.direction),
        verdict: VerdictReport::of(tool, solved, [met, demands.len()], units),
        positions: solved
            .positions
            .iter()
            .map(|p| build.position(p, solved))
            .collect(),
        toggles: build.turnings(&solved.events, |what| match what {
            Happening::Toggle(jaw) => Some(jaw),
            _ => None,
        }),
        dead_positions: build.turnings(&solved.events, |what| {
            (what == Happening::Dead).then_some(JawId::FIRST)
        }),
        dies_meet: meeting.clone().filter(|met| met.jaw.is_some()),
        stop_met: meeting.clone().filter(|met| met.stop.is_some()),
        face_ends: meeting.filter(|met| met.cam.is_some()),
        stops: stop_lines(tool, solved, units),
        ratchet: ratchet_line(tool, solved, units),
        work: build.work(solved),
        limit: build.limit(solved),
        job: job_report(tool, solved, units),
        measured: measured(tool, solved.direction, units),
        indeterminate: JointId::ids(tool.joints.len())
            .filter(|&j| solved.indeterminate.get(j.index()) == Some(&true))
            .map(|j| tool.joint_label(j))
            .collect(),
        checks: Checks {
            closure: solved.closure,
            virtual_work: solved.virtual_work,
            free_body: solved.free_body,
        },
        demands,
        notes: notes(tool, solved, units),
    }
}

/// Every pin at a position, where its carrier has it.
pub(super) fn pins_at(
    tool: &Tool,
    position: &Position,
    units: UnitSystem,
) -> IndexMap<String, Place> {
    let mut pins = IndexMap::new();
    for (part, places) in tool.parts.iter().zip(&position.points) {
        let points = part.points.iter().zip(places);
        for (point, &at) in points.filter(|(p, _)| p.kind == PointKind::Pin) {
            pins.entry(point.name.clone())
                .or_insert_with(|| Place::of(at, units));
        }
    }
    pins
}

impl Place {
    /// A place in the fixed part's axes, mm.
    fn of(at: [f64; 2], units: UnitSystem) -> Self {
        let [x, y] = at.map(|mm| units.show(mm, Quantity::Length));
        Self { x, y }
    }
}

struct Build<'a> {
    tool: &'a Tool,
    units: UnitSystem,
}

impl Build<'_> {
    fn length(&self, mm: f64) -> f64 {
        self.units.show(mm, Quantity::Length)
    }

    fn force(&self, newtons: f64) -> f64 {
        self.units.show(newtons, Quantity::Force)
    }

    fn angle(&self, radians: f64) -> f64 {
        self.units.show(radians, Quantity::Angle)
    }

    fn position(&self, position: &Position, solved: &Solved) -> PositionReport {
        let mut marks = IndexMap::new();
        for (part, places) in self.tool.parts.iter().zip(&position.points) {
            let points = part.points.iter().zip(places);
            for (point, &at) in points.filter(|(p, _)| p.kind == PointKind::Mark) {
                let name = format!("{}.{}", part.name, point.name);
                marks.insert(name, Place::of(at, self.units));
            }
        }
        let jaws = self.tool.jaws.iter().zip(&position.gap);
        PositionReport {
            handle: self.angle(position.handle),
            travel: self.angle(position.travel),
            toggle: position.toggle.first().copied().unwrap_or(false),
            beyond: position.ended,
            pins: pins_at(self.tool, position, self.units),
            marks,
            jaws: jaws
                .map(|(jaw, &gap)| {
                    (
                        jaw.name.clone(),
                        JawAt {
                            gap: self.length(gap),
                        },
                    )
                })
                .collect(),
            grips: self
                .tool
                .hand
                .grips
                .iter()
                .zip(&position.grips)
                .map(|(&at, g)| self.grip(at, g, solved))
                .collect(),
        }
    }

    fn grip(&self, at: f64, grip: &AtGrip, solved: &Solved) -> GripReport {
        let jaws = self.tool.jaws.iter().enumerate().map(|(j, jaw)| {
            let needed = if j == 0 { grip.needed } else { None };
            (
                jaw.name.clone(),
                self.jaw(
                    grip.ratio.get(j).copied().flatten(),
                    grip.answer.get(j).copied().flatten(),
                    needed,
                    solved,
                ),
            )
        });
        let is_known = |joint: JointId| solved.indeterminate.get(joint.index()) != Some(&true);
        let size = |joint: JointId, pin: &Option<[f64; 2]>| {
            pin.filter(|_| is_known(joint))
                .map(|[x, y]| self.force(x.hypot(y)))
        };
        let axial = solved
            .links
            .parts()
            .zip(&grip.axial)
            .enumerate()
            .map(|(k, (part, force))| {
                let force = force.filter(|_| solved.links.joints_of(k).all(is_known));
                (
                    self.tool.parts[part].name.clone(),
                    force.map(|f| self.force(f)),
                )
            });
        GripReport {
            at: self.length(at),
            span: grip.span.map(|s| self.length(s)),
            jaws: jaws.collect(),
            pin_loads: JointId::each(&grip.pins)
                .map(|(j, pin)| (self.tool.joint_label(j), size(j, pin)))
                .collect(),
            contacts: (grip.contacts.iter().enumerate())
                .map(|(k, force)| {
                    let joint = JointId::new(self.tool.joints.len() + k);
                    let name = self.tool.contact_label(joint);
                    (name, force.map(|force| self.force(force)))
                })
                .collect(),
            axial: axial.collect(),
        }
    }

    fn jaw(
        &self,
        ratio: Option<f64>,
        answer: Option<Answer>,
        needed: Option<Answer>,
        solved: &Solved,
    ) -> JawForces {
        JawForces {
            ratio,
            jaw_force: pressed(answer).map(|f| self.force(f)),
            efficiency: answer.and_then(|a| a.efficiency(solved.direction)),
            hand_force: pressed(needed).map(|f| self.force(f)),
            locked: answer == Some(Answer::Locked),
            lifts_off: answer == Some(Answer::LiftsOff),
        }
    }

    fn work(&self, solved: &Solved) -> Option<WorkReport> {
        let work = self.tool.work()?;
        Some(WorkReport {
            need: work
                .need
                .iter()
                .map(|r| [self.length(r[0]), self.force(r[1])])
                .collect(),
            needed: solved.work.iter().map(|&f| self.force(f)).collect(),
            stalls: (solved.stalls.iter())
                .map(|stall| stall.map(|s| self.length(s.place.gap)))
                .collect(),
            stall_limits: (solved.stalls.iter())
                .map(|stall| stall.and_then(|s| s.limit).map(|f| self.force(f)))
                .collect(),
            peaks: solved.peaks.iter().map(|p| self.hand_peak(p)).collect(),
            note: work.note.clone(),
        })
    }

    fn hand_peak(&self, peak: &HandPeak) -> HandPeakReport {
        HandPeakReport {
            hand_force: peak.force.ok().map(|f| self.force(f)),
            why: peak.force.err().map(Absent::words),
            gap: self.length(peak.place.gap),
            handle: self.angle(peak.place.handle),
            travel: self.angle(peak.place.travel),
            limit: peak.limit.map(|f| self.force(f)),
        }
    }

    fn limit(&self, solved: &Solved) -> Option<LimitReport> {
        let limit = self.tool.hand.limit.as_ref()?;
        let described = describe(limit);
        let text = match limit {
            HandLimit::Force(force) => {
                format!(
                    "{} {}",
                    number(self.force(*force)),
                    self.units.symbol(Quantity::Force)
                )
            }
            _ => described.text,
        };
        let at = |position: &Position| {
            position
                .grips
                .iter()
                .map(|g| limit_at(limit, g.span).map(|f| self.force(f)))
                .collect()
        };
        Some(LimitReport {
            text,
            source: described.source,
            hand_force: solved.positions.iter().map(at).collect(),
        })
    }

    fn demand(&self, outcome: &Outcome) -> Option<DemandResult> {
        let demand = self.tool.demands.get(outcome.demand)?;
        let kind = demand.measure.kind();
        let quantity = kind.quantity;
        let show = |v: f64| quantity.map_or(v, |q| self.units.show(v, q));
        Some(DemandResult {
            digits: kind.digits,
            measure: demand.measure.name_of(self.tool, demand.jaw),
            at: demand.at.map(|at| position_text(self.tool, at, self.units)),
            grip: outcome.grip.map(|g| self.length(g)),
            unit: quantity.map_or("", |q| self.units.symbol(q)),
            value: outcome.value().map(show),
            why: outcome.why().map(Absent::words),
            min: demand.bound.min.map(show),
            max: demand.bound.max.map(show),
            met: outcome.met,
            curve: self.on_curve(demand),
        })
    }

    /// Where a demand stands in the curves of the jaw in view.
    fn on_curve(&self, demand: &Demand) -> Option<DemandOnCurve> {
        let hand = match demand.measure {
            Measure::HandForce => true,
            Measure::JawForce => false,
            _ => return None,
        };
        let place = match demand.at? {
            At::Open => CurvePlace::Open,
            At::Shut => CurvePlace::Shut,
            At::Gap(gap) => CurvePlace::Gap(self.length(gap)),
            At::Peak => CurvePlace::Peak,
            _ => return None,
        };
        (demand.jaw == JawId::FIRST).then_some(DemandOnCurve { hand, place })
    }

    fn meeting(&self, solved: &Solved) -> Option<Meeting> {
        let meets = solved.meets?;
        let at = solved.positions.get(meets.position)?;
        let (jaw, stop, cam) = match meets.what {
            Met::Dies(jaw) => (self.tool.jaw(jaw), None, None),
            Met::Stop(stop) => (None, self.tool.stop(stop), None),
            Met::Face(cam) => (None, None, Some((cam, self.tool.cams.get(cam)?))),
        };
        Some(Meeting {
            jaw: jaw.map(|jaw| jaw.name.clone()),
            stop: stop.map(|stop| stop.name.clone()),
            cam: cam.map(|(index, cam)| cam.label(index)),
            handle: self.angle(at.handle),
            travel: self.angle(at.travel),
            gap: self.length(at.gap.first().copied()?),
            position: meets.position,
            added: meets.added,
        })
    }

    fn turnings(&self, events: &[Event], jaw: impl Fn(Happening) -> Option<JawId>) -> Vec<Turning> {
        let turning = |event: &Event| {
            let jaw = jaw(event.what)?;
            Some(Turning {
                handle: self.angle(event.handle),
                gap: self.length(event.gap),
                jaw: self.tool.jaw(jaw)?.name.clone(),
            })
        };
        events.iter().filter_map(turning).collect()
    }
}
