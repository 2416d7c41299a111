//! What a reader wants to know first: whether a hand can do it, what is met as drawn and as made, and
//! what was not judged.

use super::heights::{HeightLine, height_lines};
use super::job::job_report;
use super::life::{life_faults, life_report};
use super::show::{number, position_text};
use super::wound::wound_faults;
use crate::analysis::{HandCase, LifeSeen, NotJudged, Solved, hand_cases};
use crate::measure::Height;
use crate::model::{Demand, Jaw, JawId, Measure, Tool};
use crate::statics::Absent;
use crate::strength::{Note, SpringFound, Strength};
use crate::tolerance::{Made, Subject};
use crate::units::{Quantity, UnitSystem};
use indexmap::IndexSet;
use serde::Serialize;

/// The first lines of an answer.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct VerdictReport {
    /// Whether a hand can do the job, jaw by jaw and grip by grip; empty where that was not judged.
    pub hand: Vec<HandVerdict>,
    /// Why it was not judged whether a hand can do the job; null where it was.
    pub hand_not_judged: Option<&'static str>,
    /// What the methods for repeated use say of the job, jaw by jaw and grip by grip; left out where the file
    /// says nothing of it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub repeated: Vec<RepeatedVerdict>,
    /// How often, how long and how many hours a day.
    #[serde(skip)]
    pub how_often: Option<[f64; 3]>,
    /// Demands met by the tool as drawn.
    pub met: usize,
    /// Demands read.
    pub demands: usize,
    /// The tools as made; null where nothing varies, nothing is demanded, or they were not sampled.
    pub made: Option<MadeVerdict>,
    /// Why the tools as made were not judged although the file says how exact they are; null otherwise.
    pub made_not_judged: Option<String>,
    /// Parts and pins without what a strength factor needs, where strength is asked for.
    pub strength_not_judged: Vec<String>,
    /// What carries load and has no strength check of its own, where strength is asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub strength_without_check: Vec<String>,
    /// Why the ratchet does not let the tool open again; null where it does, and without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ratchet_holds: Option<&'static str>,
    /// What cannot be with the springs of wire: overstressed, solid, buckling, without room.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub springs: Vec<String>,
    /// How the work comes out, of jaws of which the file says it; left out where it does of none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub heights: Vec<HeightLine>,
    /// Places that do not last as many strokes as are asked for; the first few.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub life: Vec<String>,
    /// What is estimated of the work, and not measured: the job, the formula, the force (N or lbf) and the spread, per
    /// cent.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub estimates: Vec<EstimateLine>,
    /// What was assumed of what decides the numbers above.
    pub assumed: Vec<&'static str>,
}

/// A work curve that is an estimate.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EstimateLine {
    /// The jaw; null where only one has work.
    pub jaw: Option<String>,
    /// The job.
    pub job: &'static str,
    /// Formula of the greatest force.
    pub formula: &'static str,
    /// Where it stands.
    pub source: &'static str,
    /// The greatest force.
    pub force: f64,
    /// What it may be off by, per cent.
    pub spread: f64,
}

/// Whether a hand can do the job of a jaw at one grip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HandVerdict {
    /// The jaw; null where only one has work.
    pub jaw: Option<String>,
    /// Distance along the hand line.
    pub grip: f64,
    /// Null where no hand force could be told, or the jaw never comes to the work.
    pub can: Option<bool>,
    /// The greatest hand force that the work needs; null where friction locks the tool.
    pub peak: Option<f64>,
    /// The hand's limit at the peak, or where the tool stalls.
    pub limit: Option<f64>,
    /// Gap at which the work stops the tool; null where it does not.
    pub stall_gap: Option<f64>,
    /// Friction stops it there.
    pub locked: bool,
    /// The jaw comes to the work somewhere on the stroke.
    pub meets_work: bool,
    /// Where the stroke ends before the work is done; null where it does not.
    pub short: Option<ShortLine>,
}

/// A stroke that ends before the work is done.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ShortLine {
    /// Gap at which it ends.
    pub gap: f64,
    /// What the work takes there.
    pub force: f64,
    /// The most that it asks for from there to shut.
    pub most: f64,
}

/// Whether a hand can do the job of a jaw at one grip as often as is asked.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RepeatedVerdict {
    /// The jaw; null where only one has work.
    pub jaw: Option<String>,
    /// Distance along the hand line.
    pub grip: f64,
    /// Hand force that the work needs where its share of the strength is greatest.
    pub peak: Option<f64>,
    /// That force over the strength.
    pub effort: Option<f64>,
    /// Force that every method finds acceptable there.
    pub acceptable: Option<f64>,
    /// The worst rating of the methods: `"within"`, `"between"` or `"above"`; null without an effort.
    pub rating: Option<&'static str>,
    /// How many methods there are.
    pub methods: usize,
    /// Methods above whose upper limit it is.
    pub above: Vec<&'static str>,
    /// Methods between whose limits it is.
    pub between: Vec<&'static str>,
    /// The jaw comes to the work somewhere on the stroke.
    pub meets_work: bool,
    /// The stroke ends before the work is done.
    pub short: bool,
}

/// What comes of the tools as made.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MadeVerdict {
    /// Sampled tools.
    pub samples: usize,
    /// Those that meet every demand that is read off samples.
    pub met: usize,
    /// The demand that most of the others miss: measure, position and grip.
    pub cause: Option<String>,
    /// How many miss that one.
    pub cause_tools: usize,
    /// Why, where most of these have no value there.
    pub cause_why: Option<&'static str>,
    /// Demands that are not read off samples.
    pub left_out: Vec<String>,
    /// The share of the tools that the file itself demands, where it does.
    #[serde(skip)]
    pub required: Option<f64>,
}

impl MadeVerdict {
    /// As many meet every demand as the file asks for; all of them where it does not say.
    #[must_use]
    pub fn enough(&self) -> bool {
        let share = self.met as f64 / self.samples.max(1) as f64;
        self.met == self.samples || self.required.is_some_and(|least| share >= least)
    }
}

impl VerdictReport {
    /// The hand was judged, and can do the jobs of all jaws at none of the grips.
    #[must_use]
    pub fn hand_fails(&self) -> bool {
        let stalls = |at: f64| {
            let mut here = self.hand.iter().filter(|hand| hand.grip == at);
            here.any(|hand| hand.can == Some(false))
        };
        !self.hand.is_empty() && self.hand.iter().all(|hand| stalls(hand.grip))
    }

    /// Repeated use was judged, and at every grip some job is above the limit of one method or more.
    #[must_use]
    pub fn repeated_fails(&self) -> bool {
        let above = |at: f64| {
            let mut here = self.repeated.iter().filter(|case| case.grip == at);
            here.any(|case| case.rating == Some("above"))
        };
        !self.repeated.is_empty() && self.repeated.iter().all(|case| above(case.grip))
    }

    /// What the exit code says: every demand is met by the tool as drawn, and a hand can do the job at one of
    /// the grips, once and as often as is asked, as far as that was judged.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.met == self.demands && !self.hand_fails() && !self.repeated_fails()
    }

    /// Nothing that was judged is against the tool: every grip, every demand, every made tool.
    #[must_use]
    pub fn good(&self) -> bool {
        self.hand.iter().all(|hand| hand.can != Some(false))
            && self.ratchet_holds.is_none()
            && self.springs.is_empty()
            && self.life.is_empty()
            && self.heights.iter().all(|of| of.good != Some(false))
            && (self.repeated.iter()).all(|case| matches!(case.rating, None | Some("within")))
            && self.met == self.demands
            && self.made.as_ref().is_none_or(MadeVerdict::enough)
    }

    /// The verdict on a solved stroke, of whose demands so many of so many are met.
    #[must_use]
    pub(super) fn of(
        tool: &Tool,
        solved: &Solved,
        [met, demands]: [usize; 2],
        units: UnitSystem,
    ) -> Self {
        let (hand, why) = match hand_cases(tool, solved) {
            Ok(cases) => (cases, None),
            Err(why) => (Vec::new(), Some(why)),
        };
        Self {
            hand: hand.iter().map(|case| at_grip(tool, case, units)).collect(),
            hand_not_judged: why.and_then(reason),
            repeated: match why {
                None => repeated(tool, solved, &hand, units),
                Some(_) => Vec::new(),
            },
            how_often: (tool.job.as_ref()).map(|job| {
                let strokes = units.show(job.strokes, Quantity::Frequency);
                [strokes, job.held, job.hours]
            }),
            met,
            demands,
            made: None,
            made_not_judged: None,
            strength_not_judged: Vec::new(),
            strength_without_check: Vec::new(),
            ratchet_holds: ratchet_holds(tool, solved),
            springs: Vec::new(),
            heights: Vec::new(),
            life: Vec::new(),
            estimates: estimates(tool, units),
            assumed: Vec::new(),
        }
    }

    /// And what was assumed, where the file gives no number for it: `given` says whether it has a key.
    pub fn add_assumed(&mut self, tool: &Tool, given: &dyn Fn(&str) -> bool) {
        let rubs = tool.joint_data.iter().any(|joint| joint.friction > 0.0)
            || tool.slots.iter().any(|slot| slot.friction > 0.0)
            || tool.cams.iter().any(|cam| cam.friction > 0.0)
            || tool.gears.iter().any(|gears| gears.friction > 0.0);
        if !rubs {
            self.assumed.push("no friction");
        }
        let strong = |demand: &Demand| matches!(demand.measure, Measure::Safety(_));
        if tool.demands.iter().any(strong) && !given("joints.shear") {
            self.assumed.push("every pin in double shear");
        }
    }

    /// And what the strength factors leave open.
    pub fn add_strength(&mut self, tool: &Tool, strength: &Strength) {
        let part = |&p: &_| tool.part(p).map(|part| part.name.clone());
        let pin = |&pin: &_| format!("pin {}", tool.joint_label(pin));
        let gears = |&k: &usize| Some(format!("teeth of {}", tool.gears.get(k)?.label(k)));
        let flat = |joint: &_| format!("flat on {}", tool.contact_label(*joint));
        let roller = |joint: &_| format!("roller of {}", tool.contact_label(*joint));
        let roller_pin = |joint: &_| format!("roller pin of {}", tool.contact_label(*joint));
        let in_slot = |joint: &_| format!("pin in slot {}", tool.contact_label(*joint));
        let names = strength.notes.iter().flat_map(|note| match note {
            Note::NoSection(parts) => parts.iter().filter_map(part).collect(),
            Note::NoDiameter(pins) | Note::NoPinMaterial(pins) => pins.iter().map(pin).collect(),
            Note::NoRoller(joints) => joints.iter().map(roller).collect(),
            Note::RollerPins(joints) => joints.iter().map(roller_pin).collect(),
            Note::SlotPins(joints) => joints.iter().map(in_slot).collect(),
            Note::NoFlat(joints) => joints.iter().map(flat).collect(),
            Note::NoTeeth(all) => all.iter().filter_map(gears).collect(),
            _ => Vec::new(),
        });
        // A pin may lack both its diameter and its material.
        let names: IndexSet<String> = names.collect();
        self.strength_not_judged = names.into_iter().collect();
        let teeth = strength.notes.iter().flat_map(|note| match note {
            Note::NoForm(parts) => parts.iter().filter_map(part).collect(),
            _ => Vec::new(),
        });
        let teeth = teeth.map(|part| format!("teeth of {part}"));
        self.strength_without_check = teeth.collect();
    }

    /// And what does not last.
    pub fn add_life(&mut self, tool: &Tool, seen: Option<&LifeSeen>, units: UnitSystem) {
        let report = life_report(tool, seen, units);
        self.life = report.map_or_else(Vec::new, |report| life_faults(&report));
    }

    /// And what is estimated of the work.
    pub fn add_estimates(&mut self, tool: &Tool, units: UnitSystem) {
        self.estimates = estimates(tool, units);
    }

    /// And how the work comes out.
    pub fn add_heights(
        &mut self,
        tool: &Tool,
        heights: &[(JawId, Result<Height, Absent>)],
        units: UnitSystem,
    ) {
        self.heights = height_lines(tool, heights, units);
    }

    /// And what cannot be with the springs of wire.
    pub fn add_springs(&mut self, tool: &Tool, found: &[(usize, SpringFound)], units: UnitSystem) {
        self.springs = wound_faults(tool, found, units);
    }

    /// And what comes of the made tools.
    pub fn add_made(&mut self, tool: &Tool, made: &Made, units: UnitSystem) {
        let name = |subject: &Subject| subject_name(tool, subject, units);
        let cause = made.cause.as_ref();
        let shares = tool.demands.iter().filter(|d| d.measure == Measure::Yield);
        self.made = Some(MadeVerdict {
            samples: made.samples,
            met: made.met,
            cause: cause.map(|cause| name(&cause.subject)),
            cause_tools: cause.map_or(0, |cause| cause.tools),
            cause_why: cause.and_then(|cause| cause.fate).map(|fate| fate.text()),
            left_out: made.left_out.iter().map(name).collect(),
            required: shares.filter_map(|d| d.bound.min).reduce(f64::max),
        });
    }
}

/// Why the ratchet does not let the tool open again.
fn ratchet_holds(tool: &Tool, solved: &Solved) -> Option<&'static str> {
    match (solved.ratchet.as_ref()?, &tool.ratchet) {
        (Err(_), _) => Some("its teeth have no places on the stroke"),
        (Ok(seen), Some(ratchet)) if !seen.turns_over(ratchet) => {
            Some("the pawl cannot turn over, so that the tool stays held")
        }
        _ => None,
    }
}

/// What the methods for repeated use say, case by case.
fn repeated(
    tool: &Tool,
    solved: &Solved,
    hand: &[HandCase],
    units: UnitSystem,
) -> Vec<RepeatedVerdict> {
    let Some(job) = job_report(tool, solved, units) else {
        return Vec::new();
    };
    let cases = job.grips.iter().zip(hand).map(|(at, case)| {
        let rated = |word: &'static str| {
            let all = job.methods.iter().zip(&at.methods);
            let those = all.filter(move |(_, said)| said.rating == word);
            those.map(|(method, _)| method.name).collect()
        };
        RepeatedVerdict {
            jaw: at.jaw.clone(),
            grip: at.grip,
            peak: at.force,
            effort: at.effort,
            acceptable: at.acceptable,
            rating: at.rating,
            methods: job.methods.len(),
            above: rated("above"),
            between: rated("between"),
            meets_work: case.peak.meets_work,
            short: case.peak.short.is_some(),
        }
    });
    cases.collect()
}

/// A measure with its position and grip, as a file says them.
pub(super) fn subject_name(tool: &Tool, subject: &Subject, units: UnitSystem) -> String {
    let place = |at| format!(" at {}", position_text(tool, at, units));
    let grip = |grip: f64| format!(", grip {}", number(units.show(grip, Quantity::Length)));
    format!(
        "{}{}{}",
        subject.measure.name_of(tool, subject.jaw),
        subject.at.map(place).unwrap_or_default(),
        subject.grip.map(grip).unwrap_or_default()
    )
}

fn at_grip(tool: &Tool, case: &HandCase, units: UnitSystem) -> HandVerdict {
    let jaw = tool.jaw(case.jaw).filter(|_| tool.working_jaws().len() > 1);
    let force = |newtons: f64| units.show(newtons, Quantity::Force);
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let peak = case.peak.force.ok().filter(|force| force.is_finite());
    HandVerdict {
        jaw: jaw.map(|jaw| jaw.name.clone()),
        grip: length(case.grip),
        can: case.can(),
        peak: peak.map(force),
        limit: match case.stall {
            Some(stall) => stall.limit.map(force),
            None => {
                let strength = case.effort.and_then(|at| at.strength);
                case.peak.limit.or(strength).map(force)
            }
        },
        stall_gap: case.stall.map(|stall| length(stall.place.gap)),
        locked: case.stall.is_some_and(|stall| stall.limit.is_none()),
        meets_work: case.peak.meets_work,
        short: case.peak.short.map(|short| ShortLine {
            gap: length(short.gap),
            force: force(short.force),
            most: force(short.most),
        }),
    }
}

/// Why the hand was not judged; nothing of the return stroke, on which nobody asks.
fn reason(why: NotJudged) -> Option<&'static str> {
    match why {
        NotJudged::NoWork => Some("the file does not say what the job needs ([work])"),
        NotJudged::NoLimit => Some("the file does not say what a hand may give ([hand] limit)"),
        NotJudged::Opening => None,
    }
}

/// Of all jaws whose work is estimated.
pub(super) fn estimates(tool: &Tool, units: UnitSystem) -> Vec<EstimateLine> {
    let several = tool.working_jaws().len() > 1;
    let one = |jaw: &Jaw| {
        let work = jaw.work.as_ref()?;
        let estimate = work.estimate?;
        Some(EstimateLine {
            jaw: several.then(|| jaw.name.clone()),
            job: estimate.job,
            formula: estimate.of.source()[0],
            source: estimate.of.source()[1],
            force: units.show(estimate.of.force() * work.scale, Quantity::Force),
            spread: 100.0 * estimate.spread,
        })
    };
    tool.jaws.iter().filter_map(one).collect()
}
