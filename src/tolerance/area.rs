//! Work over the stroke of a sampled tool: the area under a measure's growth per unit of pace, lane by
//! lane between the rows of the work, at which its curve may bend or jump.

use super::course::Run;
use super::peak::CLOSELY;
use super::place::{Held, Station};
use super::read::Fate;
use super::targets::Collector;
use super::worker::{Play, Worker};
use crate::measure::Measure;
use crate::numeric::gauss::{FIVE, THREE, nodes};
use crate::statics::{LocateError, passes};

/// A measure whose area is wanted, and where it is read.
#[derive(Debug, Clone)]
pub(super) struct Area {
    /// Ends of the stroke.
    pub(super) course: usize,
    pub(super) measure: Measure,
    /// Of the tool as it is drawn, N mm: what is small is small against it.
    scale: f64,
    /// By falling gap, each gap once.
    pub(super) rows: Vec<Row>,
    /// Before the first row, between each two, beyond the last: one more than rows.
    pub(super) lanes: Vec<Lane>,
}

/// A row of the work.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// Its gap, mm.
    gap: f64,
    /// Where the gap is that of the row; off the nominal stroke, where samples come to it from.
    pub(super) station: Station,
}

/// The stretch of the stroke between two rows.
#[derive(Debug, Clone)]
pub(super) struct Lane {
    /// Along the lane on the nominal tool: samples start from there and have their play from there. One
    /// alone, at the stroke's end, for a lane that the nominal tool does not come to.
    pub(super) posts: Vec<Post>,
    /// How many samples of the integrand are enough, found on the nominal tool.
    pub(super) rule: Rule,
}

/// Where the nominal tool stands in a lane.
#[derive(Debug, Clone)]
pub(super) struct Post {
    /// Of the lane's pace.
    share: f64,
    pace: f64,
    /// Of the first jaw, mm.
    gap: f64,
    pub(super) station: Station,
}

/// So many panels of a Gauss rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rule {
    points: &'static [(f64, f64)],
    panels: usize,
}

impl Rule {
    /// What a lane is begun with, and what those have that the nominal tool does not come to.
    const FIRST: Self = Self {
        points: &THREE,
        panels: 1,
    };

    pub(super) fn visits(self) -> usize {
        self.points.len() * self.panels
    }
}

/// Rules to choose from, each in so many panels: the middle of the lane is enough where rows stand thick.
const RULES: [(&[(f64, f64)], usize); 9] = [
    (&[(0.0, 2.0)], 1),
    (&THREE, 1),
    (&FIVE, 1),
    (&FIVE, 2),
    (&FIVE, 4),
    (&FIVE, 8),
    (&FIVE, 16),
    (&FIVE, 32),
    (&FIVE, 64),
];
/// How near a rule must come on the nominal tool, of all work, where many samples are drawn.
const ENOUGH: f64 = 1e-6;
/// And how near halves of a lane must come to the whole, of all work, where two tools are told apart by a
/// difference over a step that is itself a millionth of the tool.
const SETTLED: f64 = 1e-9;
/// Most times that a lane is halved: what is left of it is nothing.
const HALVINGS: u32 = 24;
/// Most places looked at in one lane: forces that jump where no row is are not halved without end.
const MOST: usize = 3000;
/// Posts over the whole stroke, and intervals of a lane at least.
const STATIONS: f64 = 32.0;
const LEAST: f64 = 2.0;
/// How far the play half way between two posts may be from what they say, over itself, and how often the
/// way between two is halved for it: where the work begins, the play turns quickly to where work has it.
const STRAIGHT: f64 = 3e-5;
const TURNS: u32 = 9;
/// Share of a lane by which its outer posts stand inside it: at a row itself the forces may jump.
const INSIDE: f64 = 1e-6;
/// A gap nearer than this to a row, over the tool's size, is at it: no lane lies between.
const AT_ROW: f64 = 1e-10;

impl Area {
    /// All posts of all lanes.
    pub(super) fn posts(&self) -> impl Iterator<Item = &Post> + Clone {
        self.lanes.iter().flat_map(|lane| &lane.posts)
    }

    /// Rows that the nominal tool passes, and places at which it is read between them.
    pub(super) fn visits(&self) -> [usize; 2] {
        let passed = self.lanes.iter().filter(|lane| lane.posts.len() > 1);
        let places = passed.clone().map(|lane| lane.rule.visits());
        [passed.count().saturating_sub(1), places.sum()]
    }
}

/// Why a stroke has no lanes.
pub(super) enum NoLanes {
    /// The gap does not fall all the way.
    OpensAgain,
    Locate(LocateError),
}

impl<E: Into<LocateError>> From<E> for NoLanes {
    fn from(error: E) -> Self {
        Self::Locate(error.into())
    }
}

impl Collector<'_, '_> {
    /// The area under a measure, held at a grip, that comes to `nominal` on the tool as it is drawn.
    pub(super) fn area(
        &mut self,
        measure: &Measure,
        grip: usize,
        nominal: f64,
    ) -> Result<usize, NoLanes> {
        let course = self.course(grip)?;
        let near = AT_ROW * self.rig.solver().linkage.size;
        let work = self.rig.tool().work.iter().flat_map(|work| &work.need);
        let mut gaps: Vec<f64> = work.map(|row| row[0]).collect();
        gaps.dedup_by(|a, b| (*a - *b).abs() <= near);
        let whole = self.rig.pace();
        let (open, shut) = (self.gap_at(0.0)?, self.gap_at(whole)?);
        let inside: Vec<f64> = (gaps.iter().copied())
            .filter(|gap| *gap > shut + near && *gap < open - near)
            .collect();
        let found = passes(self.rig, &inside)?;
        if found.len() != inside.len() {
            return Err(NoLanes::OpensAgain);
        }
        let before = gaps.iter().filter(|gap| **gap >= open - near).count();
        let mut rows = Vec::with_capacity(gaps.len());
        let mut marks = vec![0.0; before + 1];
        for (k, &gap) in gaps.iter().enumerate() {
            let at = match found.get(k.wrapping_sub(before)) {
                _ if k < before => 0.0,
                Some(pace) => *pace,
                None => whole,
            };
            self.rig.go_to(at)?;
            let station = self.here(Held::Gap(gap), grip);
            rows.push(Row { gap, station });
            if k >= before {
                marks.push(at);
            }
        }
        marks.push(whole);
        let mut lanes = Vec::with_capacity(marks.len());
        let mut last = f64::INFINITY;
        for ends in marks.windows(2) {
            lanes.push(self.lane([ends[0], ends[1]], grip, &mut last)?);
        }
        self.areas.push(Area {
            course,
            measure: measure.clone(),
            scale: nominal.abs(),
            rows,
            lanes,
        });
        Ok(self.areas.len() - 1)
    }

    fn gap_at(&mut self, pace: f64) -> Result<f64, NoLanes> {
        self.rig.go_to(pace)?;
        Ok(self.rig.forces().gap.first().copied().unwrap_or(f64::NAN))
    }

    /// The lane between two paces; `last` is the gap at the last station before it, and then in it.
    fn lane(&mut self, ends: [f64; 2], grip: usize, last: &mut f64) -> Result<Lane, NoLanes> {
        let long = ends[1] - ends[0];
        let mut posts = Vec::new();
        if long > 0.0 {
            let parts = (STATIONS * long / self.rig.pace()).ceil().max(LEAST);
            for k in 0..=parts as usize {
                let share = (k as f64 / parts).clamp(INSIDE, 1.0 - INSIDE);
                let post = self.post(share, ends, grip)?;
                self.fill(&mut posts, post, ends, TURNS)?;
            }
        } else {
            posts.push(self.post(0.0, ends, grip)?);
        }
        for post in posts.iter().filter(|_| long > 0.0) {
            if post.gap >= *last {
                return Err(NoLanes::OpensAgain);
            }
            *last = post.gap;
        }
        let rule = Rule::FIRST;
        Ok(Lane { posts, rule })
    }

    /// Puts a post after the last of a lane, and more between the two where the play goes on otherwise
    /// than straight from the one to the other.
    fn fill(
        &mut self,
        posts: &mut Vec<Post>,
        post: Post,
        ends: [f64; 2],
        halvings: u32,
    ) -> Result<(), NoLanes> {
        if let Some(last) = posts
            .last()
            .filter(|_| halvings > 0 && !self.plan.clearances.is_empty())
        {
            let middle = self.post(0.5 * (last.share + post.share), ends, post.station.grip)?;
            let straight = last.station.towards(Some(&post.station), 0.5);
            if middle.station.play_off(&straight) > STRAIGHT {
                self.fill(posts, middle, ends, halvings - 1)?;
                return self.fill(posts, post, ends, halvings - 1);
            }
        }
        posts.push(post);
        Ok(())
    }

    /// Where the nominal tool stands at a share of a lane.
    fn post(&mut self, share: f64, [from, to]: [f64; 2], grip: usize) -> Result<Post, NoLanes> {
        let gap = self.gap_at(from + share * (to - from))?;
        let solver = self.rig.solver();
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let held = self.pace.held(linkage, pose);
        let pace = self.pace.read(linkage, pose);
        let station = self.here(held, grip);
        Ok(Post {
            share,
            pace,
            gap,
            station,
        })
    }
}

/// A lane as one sampled tool runs through it.
struct Stretch<'s> {
    area: &'s Area,
    lane: &'s Lane,
    from: f64,
    to: f64,
    deviations: &'s [f64],
    play: Play,
}

impl<'a> Worker<'a> {
    /// The area under a measure over the sampled tool's own stroke.
    pub(super) fn area(
        &mut self,
        area: &Area,
        run: &Run,
        deviations: &[f64],
        play: Play,
    ) -> Result<f64, Fate> {
        let near = AT_ROW * self.solver.linkage.size;
        let [open, shut] = run.gaps;
        let before = |row: &&Row| row.gap >= open - near;
        let first = area.rows.iter().take_while(before).count();
        let mut from = run.paces[0];
        let mut sum = 0.0;
        for (k, lane) in area.lanes.iter().enumerate().skip(first) {
            let row = area.rows.get(k).filter(|row| row.gap > shut + near);
            let to = match row {
                Some(row) => {
                    let none = std::iter::empty();
                    let mut values = Vec::new();
                    self.visit(&row.station, 0.0, deviations, play, none, &mut values)?
                }
                None => run.paces[1],
            };
            sum += self.stretch(&Stretch {
                area,
                lane,
                from,
                to,
                deviations,
                play,
            })?;
            if row.is_none() {
                break;
            }
            from = to;
        }
        Ok(sum)
    }

    fn stretch(&mut self, stretch: &Stretch) -> Result<f64, Fate> {
        if self.near > CLOSELY {
            return self.by(stretch, stretch.lane.rule);
        }
        let mut visits = 0;
        let whole = self.panel(stretch, [0.0, 1.0], &FIVE)?;
        self.halved(stretch, [0.0, 1.0], whole, HALVINGS, &mut visits)
    }

    /// The area over a lane by a rule.
    fn by(&mut self, stretch: &Stretch, rule: Rule) -> Result<f64, Fate> {
        let share = |k: usize| k as f64 / rule.panels as f64;
        let panels = 0..rule.panels;
        let areas = panels.map(|k| self.panel(stretch, [share(k), share(k + 1)], rule.points));
        areas.sum()
    }

    /// The area over a part of a lane, halved until halves say the same as the whole.
    fn halved(
        &mut self,
        stretch: &Stretch,
        [from, to]: [f64; 2],
        whole: f64,
        halvings: u32,
        visits: &mut usize,
    ) -> Result<f64, Fate> {
        let middle = 0.5 * (from + to);
        let left = self.panel(stretch, [from, middle], &FIVE)?;
        let right = self.panel(stretch, [middle, to], &FIVE)?;
        *visits += 2 * FIVE.len();
        let settled = (left + right - whole).abs() <= SETTLED * stretch.area.scale;
        if settled || halvings == 0 || *visits > MOST {
            return Ok(left + right);
        }
        Ok(
            self.halved(stretch, [from, middle], left, halvings - 1, visits)?
                + self.halved(stretch, [middle, to], right, halvings - 1, visits)?,
        )
    }

    fn panel(
        &mut self,
        stretch: &Stretch,
        [from, to]: [f64; 2],
        rule: &[(f64, f64)],
    ) -> Result<f64, Fate> {
        let long = (stretch.to - stretch.from).abs();
        let mut sum = 0.0;
        for (share, weight) in nodes(rule, from, to) {
            sum += weight * long * self.growth(stretch, share)?;
        }
        Ok(sum)
    }

    /// Growth of the measure per unit of pace at a share of a lane.
    fn growth(&mut self, stretch: &Stretch, share: f64) -> Result<f64, Fate> {
        let Stretch { area, lane, .. } = stretch;
        let pace = stretch.from + share * (stretch.to - stretch.from);
        let next = lane.posts.partition_point(|post| post.share < share);
        let after = lane.posts.get(next);
        let before = next.checked_sub(1).and_then(|k| lane.posts.get(k));
        let (near, other) = match (before, after) {
            (Some(before), Some(after)) if share - before.share > after.share - share => {
                (after, Some(before))
            }
            (Some(before), after) => (before, after),
            (None, Some(after)) => (after, None),
            (None, None) => return Err(Fate::NoValue),
        };
        let offset = pace - near.pace;
        let mut values = std::mem::take(&mut self.read);
        values.clear();
        let one = std::iter::once(&area.measure);
        let (deviations, play) = (stretch.deviations, stretch.play);
        let stood = if near.station.pushed.is_empty() {
            self.visit(&near.station, offset, deviations, play, one, &mut values)
        } else {
            let way = other.map_or(1.0, |other| other.share - near.share);
            let there = other.map(|other| &other.station);
            let station = near.station.towards(there, (share - near.share) / way);
            self.visit(&station, offset, deviations, play, one, &mut values)
        };
        let value = values.first().copied().unwrap_or(Err(Fate::NoValue));
        self.read = values;
        stood.and(value)
    }

    /// The rules that are enough for an area on the tool as it stands, one for each lane that its run
    /// comes through.
    pub(super) fn rules(&mut self, area: &Area, run: &Run) -> Result<Vec<(usize, Rule)>, Fate> {
        let mut found = Vec::new();
        let whole = run.paces[1] - run.paces[0];
        for (k, lane) in area.lanes.iter().enumerate() {
            let (Some(first), Some(last)) = (lane.posts.first(), lane.posts.last()) else {
                continue;
            };
            if lane.posts.len() < 2 {
                continue;
            }
            let stretch = Stretch {
                area,
                lane,
                from: first.pace,
                to: last.pace,
                deviations: &[],
                play: Play::None,
            };
            let exact = self.stretch(&stretch)?;
            let share = ((last.pace - first.pace) / whole).abs();
            let enough = ENOUGH * area.scale * share;
            let mut best = Rule::FIRST;
            for (points, panels) in RULES {
                best = Rule { points, panels };
                if (self.by(&stretch, best)? - exact).abs() <= enough {
                    break;
                }
            }
            found.push((k, best));
        }
        Ok(found)
    }
}
