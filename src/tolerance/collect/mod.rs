//! What is read off every sample: the demands, and gap and ratio at shut.

mod brink;
mod course;
mod lanes;
mod safety;
mod sweep;

use crate::analysis::{Safeties, grips_of};
use crate::measure::{Measure, Reader, lets_go, read_at, spreads};
use crate::model::{At, FixedBy, GripId, JawId};
use crate::motion::MotionError;
use crate::statics::{LocateError, Rig, locate};
use crate::tolerance::anchor::{Anchor, Pace};
use crate::tolerance::brink::Brink;
use crate::tolerance::course::Course;
use crate::tolerance::error::StudyError;
use crate::tolerance::lanes::{Area, NoLanes};
use crate::tolerance::place::Station;
use crate::tolerance::plan::Plan;
use crate::tolerance::subject::{Hold, Subject};
use crate::tolerance::sweep::Sweep;
use crate::tolerance::target::{Kind, Target};
use crate::tolerance::unread::{Unread, Why};

/// Collects targets and the positions that they need.
pub(in crate::tolerance) struct Collector<'r, 'a> {
    pub(in crate::tolerance) rig: &'r mut Rig<'a>,
    pub(in crate::tolerance) plan: &'r Plan,
    pub(in crate::tolerance) pace: Pace,
    /// Sense in which the handle turns over the stroke.
    turn: f64,
    /// The handle goes one way from open to shut.
    one_way: bool,
    pub(in crate::tolerance) stations: Vec<Station>,
    pub(in crate::tolerance) courses: Vec<Course>,
    pub(in crate::tolerance) sweeps: Vec<Sweep>,
    pub(in crate::tolerance) areas: Vec<Area>,
    pub(in crate::tolerance) brink: Option<Brink>,
    pub(in crate::tolerance) targets: Vec<Target>,
    pub(in crate::tolerance) safeties: Safeties<'a>,
    pub(in crate::tolerance) unread: Vec<Unread>,
}

/// Most places of one measure where the work turns.
const MOST_CORNERS: usize = 4;
/// Most rows of the work that are looked at for whether a measure bends there.
const MOST_ROWS: usize = 64;
/// Share of the stroke at which it is looked at beside a row, and how much less than before it must rise
/// beyond.
const BESIDE: f64 = 1e-3;
const FLATTER: f64 = 0.25;

impl<'r, 'a> Collector<'r, 'a> {
    pub(in crate::tolerance) fn new(
        rig: &'r mut Rig<'a>,
        plan: &'r Plan,
    ) -> Result<Self, MotionError> {
        let whole = rig.pace();
        rig.go_to(0.0)?;
        let first = |rig: &Rig| {
            let solver = rig.solver();
            (
                solver.pose.place(solver.linkage.hand.grips[0].at),
                solver.linkage.handle(&solver.pose.q),
            )
        };
        let (from, open) = first(rig);
        rig.go_to(whole)?;
        let (to, shut) = first(rig);
        let (pace, turn, one_way) = if rig.turns() {
            let span = (shut - open).abs();
            let one_way = (span - whole).abs() < 1e-9 * whole.max(1.0);
            (Pace::Handle, (shut - open).signum(), one_way)
        } else {
            let way = [to[0] - from[0], to[1] - from[1]];
            let length = way[0].hypot(way[1]);
            (Pace::Way(way.map(|v| v / length).into()), 0.0, true)
        };
        let safeties = Safeties::new(rig.tool(), plan.redrawn(rig.tool()));
        Ok(Self {
            rig,
            plan,
            pace,
            turn,
            one_way,
            stations: Vec::new(),
            courses: Vec::new(),
            sweeps: Vec::new(),
            areas: Vec::new(),
            brink: None,
            targets: Vec::new(),
            safeties,
            unread: Vec::new(),
        })
    }

    /// Takes every demand that is about the jaw in view at its grips (`grips` where it names none), on
    /// strength where that jaw works; with `all` that are about none too, then gap and ratio at shut.
    pub(in crate::tolerance) fn collect(
        &mut self,
        grips: &[f64],
        all: bool,
        works: bool,
    ) -> Result<(), StudyError> {
        let tool = self.rig.tool();
        // A yield counts all the others.
        let demands = (tool.demands.iter()).filter(|demand| demand.measure != Measure::Yield);
        for demand in demands {
            let strength = matches!(demand.measure, Measure::Safety(_));
            let here = match demand.is_of_jaw() {
                true => demand.jaw == JawId::FIRST,
                false if strength => works,
                false => all,
            };
            if !here {
                continue;
            }
            for grip in grips_of(tool, &demand.measure, demand.at, demand.grip, grips) {
                let subject = Subject {
                    measure: demand.measure.clone(),
                    jaw: match demand.is_of_jaw() || strength {
                        true => JawId::FIRST,
                        false => tool.stroke.lead,
                    },
                    at: demand.at,
                    grip,
                    bound: Some(demand.bound),
                };
                self.add(subject, grips.len())?;
            }
        }
        for measure in [Measure::Gap, Measure::Ratio] {
            if !all {
                break;
            }
            let subject = Subject {
                at: Some(At::Shut),
                grip: grips.first().copied().filter(|_| measure.per_grip()),
                bound: None,
                jaw: JawId::FIRST,
                measure,
            };
            let known = |s: &Subject| {
                s.measure == subject.measure && s.at == subject.at && s.grip == subject.grip
            };
            if !self.targets.iter().any(|t| known(&t.subject)) {
                self.add(subject, grips.len())?;
            }
        }
        Ok(())
    }

    fn leave_out(&mut self, subject: Subject, why: Why) {
        self.unread.push(Unread {
            subject,
            why,
            nominal: None,
        });
    }

    /// `own`: how many grips are the tool's own.
    fn add(&mut self, subject: Subject, own: usize) -> Result<(), StudyError> {
        let tool = self.rig.tool();
        let mut measure = subject.measure.clone();
        let mut place = subject.at;
        if measure == Measure::RatchetFree
            && let Ok(at) = lets_go(self.rig)?
        {
            (measure, place) = (Measure::Gap, Some(at));
        }
        let strength = matches!(measure, Measure::Safety(_));
        let margin = matches!(measure, Measure::ToggleMargin | Measure::ToggleMarginGap);
        let why = if measure.is_of_plates() {
            Some(Why::OfPlates)
        } else if strength && self.rig.solver().redundant() {
            Some(Why::Redundant)
        } else if margin && !self.has_brink().map_err(stroke_error)? {
            Some(Why::BeyondShut)
        } else if matches!(measure, Measure::StopLoad(_)) {
            Some(Why::OfAStop)
        } else if matches!(measure, Measure::SpringSafety | Measure::SpringStress) {
            Some(Why::OfSprings)
        } else if measure == Measure::RatchetStep {
            Some(Why::OfTeeth)
        } else {
            let over = matches!(place, None | Some(At::Peak | At::Least));
            (!self.one_way && (over || measure == Measure::Travel)).then_some(Why::TurnsBack)
        };
        if let Some(why) = why {
            self.leave_out(subject, why);
            return Ok(());
        }
        let grip = subject
            .grip
            .and_then(|g| tool.grip_at(g))
            .unwrap_or(GripId::FIRST);
        let locate_error = |error: LocateError| match error {
            LocateError::Motion(error) => StudyError::Motion(error),
            error => StudyError::Position {
                measure: subject.measure.name_of(tool, subject.jaw),
                error,
            },
        };
        let mut among = Vec::new();
        let reading = match (&measure, place) {
            (Measure::Safety(name), _) => {
                let grips = match subject.grip {
                    Some(_) => vec![grip],
                    None => GripId::ids(own).collect(),
                };
                self.safety(name.as_deref(), &grips, &mut among)?
            }
            (_, Some(at)) => {
                (Reader::new(self.rig).at(&measure, at, grip)).map_err(locate_error)?
            }
            (_, None) => Reader::new(self.rig).over_stroke(&measure, grip)?,
        };
        let nominal = match reading {
            Ok(value) => value,
            Err(why) => {
                self.leave_out(subject, Why::Absent(why));
                return Ok(());
            }
        };
        let (kind, hold) = match place {
            _ if strength => (Kind::Least, Hold::Stroke),
            _ if margin => {
                let gap = measure == Measure::ToggleMarginGap;
                (Kind::Margin { gap }, Hold::Stroke)
            }
            Some(end @ (At::Peak | At::Least)) => {
                let sense = if end == At::Peak { 1.0 } else { -1.0 };
                let found = self.sweep(&measure, grip);
                let (sweep, column) = found.map_err(stroke_error)?;
                let kind = Kind::Sweep {
                    sweep,
                    measure: column,
                    sense,
                };
                (kind, Hold::Stroke)
            }
            None if measure == Measure::JawWork && tool.work().is_some() => {
                let course = self.course(grip).map_err(stroke_error)?;
                (Kind::Curve { course }, Hold::Stroke)
            }
            None if measure == Measure::Height => {
                let gives = spreads(self.rig, grip);
                let course = self.course(grip).map_err(stroke_error)?;
                (Kind::Height { course, gives }, Hold::Stroke)
            }
            None => match self.area(&measure, grip, nominal) {
                Ok(area) => (Kind::Area { area }, Hold::Stroke),
                Err(NoLanes::Locate(error)) => return Err(stroke_error(error)),
                Err(NoLanes::ManyRows) => {
                    self.leave_out(subject, Why::ManyRows);
                    return Ok(());
                }
                Err(NoLanes::OpensAgain) => {
                    self.leave_out(subject, Why::OpensAgain);
                    return Ok(());
                }
            },
            Some(at) => {
                let (station, hold) =
                    (self.station(at, grip, Some(&measure))).map_err(locate_error)?;
                let kind = if measure == Measure::Travel {
                    let (open, _) = self.station(At::Open, grip, None).map_err(locate_error)?;
                    let turn = self.turn;
                    Kind::Travel {
                        station,
                        open,
                        turn,
                    }
                } else {
                    Kind::At { station }
                };
                (kind, hold)
            }
        };
        let corners = match kind {
            Kind::Sweep { sense, .. } => self.corners(&measure, grip, sense),
            _ => Vec::new(),
        };
        self.targets.push(Target {
            corners,
            among,
            subject,
            measure,
            kind,
            hold,
            nominal,
            correction: 0.0,
        });
        Ok(())
    }

    /// Stations where the work has its greatest peaks (`sense` 1) or least dips,
    /// for a measure that follows it.
    fn corners(&mut self, measure: &Measure, grip: GripId, sense: f64) -> Vec<usize> {
        let work = self.rig.tool().work();
        let Some(work) = work.filter(|_| measure.follows_work()) else {
            return Vec::new();
        };
        let size = self.rig.solver().linkage.size;
        let mut gaps = work.turns(sense, size);
        if work.need.len() <= MOST_ROWS {
            let rows = work.need.iter().map(|row| row[0]);
            let bends: Vec<f64> = rows.filter(|gap| !gaps.contains(gap)).collect();
            gaps.extend(
                bends
                    .into_iter()
                    .filter(|gap| self.bends(measure, *gap, grip, sense)),
            );
        }
        // What is not on the stroke has no height and no station.
        let mut found = Vec::new();
        for gap in gaps {
            let pace = locate(self.rig, At::Gap(gap), grip).ok();
            let height = pace.and_then(|pace| self.height(measure, pace, grip, sense));
            found.extend(height.map(|height| (height, gap)));
        }
        found.sort_by(|a, b| b.0.total_cmp(&a.0));
        found.truncate(MOST_CORNERS);
        let station = |(_, gap): (f64, f64)| self.station(At::Gap(gap), grip, None).ok();
        found
            .into_iter()
            .filter_map(station)
            .map(|(station, _)| station)
            .collect()
    }

    /// A measure times `sense` at a pace.
    fn height(&mut self, measure: &Measure, pace: f64, grip: GripId, sense: f64) -> Option<f64> {
        let read = read_at(&mut self.rig.at(pace).ok()?, measure, grip);
        read.ok().map(|value| sense * value)
    }

    /// Whether a measure rises to a row of the work and then less, or no more: on some tools it has its
    /// peak there.
    fn bends(&mut self, measure: &Measure, gap: f64, grip: GripId, sense: f64) -> bool {
        let Ok(pace) = locate(self.rig, At::Gap(gap), grip) else {
            return false;
        };
        let step = self.rig.pace() * BESIDE;
        let mut height = |pace| self.height(measure, pace, grip, sense);
        let three = (height(pace - step), height(pace), height(pace + step));
        let (Some(before), Some(here), Some(after)) = three else {
            return false;
        };
        let (rise, on) = (here - before, after - here);
        rise > 0.0 && on < FLATTER * rise
    }

    /// The station of a position, made if it is not there yet.
    pub(in crate::tolerance) fn station(
        &mut self,
        at: At,
        grip: GripId,
        measure: Option<&Measure>,
    ) -> Result<(usize, Hold), LocateError> {
        let pace = locate(self.rig, at, grip)?;
        self.rig.go_to(pace)?;
        let solver = self.rig.solver();
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let stated =
            Anchor::of(self.rig.tool(), linkage, at, grip).ok_or(LocateError::NotAPosition)?;
        let itself = match (measure, stated) {
            (Some(Measure::Gap), _) => stated.by() == Some(FixedBy::Gap(JawId::FIRST)),
            (Some(Measure::Span), Anchor::Fixed(fixed, other)) => {
                fixed.by == FixedBy::Span && other == grip
            }
            _ => false,
        };
        // At contact a jaw without an axis has no direction in which to look for the gap.
        let touching = matches!(
            stated.by(),
            Some(FixedBy::Gap(jaw)) if linkage.jaw_axis(pose, &linkage.jaws[jaw]).is_none()
        );
        let (anchor, hold) = match stated {
            _ if itself || touching => (self.pace.anchor(linkage, pose), Hold::NominalHandle),
            // The angle as the coordinates have it, whole turns included.
            _ if stated.by() == Some(FixedBy::Handle) => {
                (Anchor::handle(linkage.handle(&pose.q)), Hold::Position)
            }
            other => (other, Hold::Position),
        };
        let known = (self.stations.iter()).position(|s| s.anchor == anchor && s.grip == grip);
        let station = known.unwrap_or_else(|| {
            let station = Station::here(self.rig, anchor, grip, self.plan);
            self.stations.push(station);
            self.stations.len() - 1
        });
        Ok((station, hold))
    }
}

/// A stroke whose ends are not found.
fn stroke_error(error: LocateError) -> StudyError {
    match error {
        LocateError::Motion(error) => StudyError::Motion(error),
        error => StudyError::Position {
            measure: "the stroke".to_owned(),
            error,
        },
    }
}
