//! The stroke cut into lanes at the rows of the work, at which its curve may bend or jump: where the
//! nominal tool stands in each, from which samples start.

use super::place::{Held, Station};
use super::targets::Collector;
use crate::measure::Measure;
use crate::numeric::gauss::THREE;
use crate::statics::{LocateError, passes};

/// A measure whose area is wanted, and where it is read.
#[derive(Debug, Clone)]
pub(super) struct Area {
    /// Ends of the stroke.
    pub(super) course: usize,
    pub(super) measure: Measure,
    /// Of the tool as it is drawn, N mm: what is small is small against it.
    pub(super) scale: f64,
    /// By falling gap, each gap once.
    pub(super) rows: Vec<Row>,
    /// Before the first row, between each two, beyond the last: one more than rows.
    pub(super) lanes: Vec<Lane>,
}

/// A row of the work.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// Its gap, mm.
    pub(super) gap: f64,
    /// Where the gap is that of the row, with the play of the lane before; off the nominal stroke, where
    /// samples come to it from.
    pub(super) station: Station,
    /// Where it is with the play of the lane after, if that is another one.
    pub(super) taken_up: Option<TakenUp>,
}

/// Where work takes up play, or lets it go: from the row's gap with the one play to the same with the other.
#[derive(Debug, Clone)]
pub(super) struct TakenUp {
    pub(super) station: Station,
    /// The way there, with the play of the lane after.
    pub(super) way: Lane,
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
    pub(super) share: f64,
    pub(super) pace: f64,
    /// Of the first jaw, mm.
    pub(super) gap: f64,
    pub(super) station: Station,
}

/// So many panels of a Gauss rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rule {
    pub(super) points: &'static [(f64, f64)],
    pub(super) panels: usize,
}

impl Rule {
    /// What a lane is begun with, and what those have that the nominal tool does not come to.
    pub(super) const FIRST: Self = Self {
        points: &THREE,
        panels: 1,
    };

    pub(super) fn visits(self) -> usize {
        self.points.len() * self.panels
    }
}

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
pub(super) const AT_ROW: f64 = 1e-10;

impl Area {
    /// All posts of all lanes.
    pub(super) fn posts(&self) -> impl Iterator<Item = &Post> + Clone {
        self.lanes.iter().flat_map(|lane| &lane.posts)
    }

    /// Rows that the nominal tool passes, and places at which it is read between them.
    pub(super) fn visits(&self) -> [usize; 2] {
        let passed = self.lanes.iter().filter(|lane| lane.posts.len() > 1);
        let places = passed.clone().map(|lane| lane.rule.visits());
        let taken_up = self.rows.iter().filter(|row| row.taken_up.is_some());
        let taken_up = taken_up.count();
        let rows = passed.count().saturating_sub(1) + taken_up;
        [
            rows,
            places.sum::<usize>() + taken_up * Rule::FIRST.visits(),
        ]
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

impl Row {
    /// Gives the row the play of the lanes on its sides.
    fn between(&mut self, before: &Lane, after: &Lane) {
        let (Some(last), Some(first)) = (before.posts.last(), after.posts.first()) else {
            return;
        };
        if before.posts.len() < 2 || after.posts.len() < 2 {
            return;
        }
        self.station.pushed.clone_from(&last.station.pushed);
        if last.station.play_off(&first.station) > STRAIGHT {
            let mut station = self.station.clone();
            station.pushed.clone_from(&first.station.pushed);
            let way = Lane {
                posts: vec![first.clone()],
                rule: Rule::FIRST,
            };
            self.taken_up = Some(TakenUp { station, way });
        }
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
            rows.push(Row {
                gap,
                station,
                taken_up: None,
            });
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
        for (row, two) in rows.iter_mut().zip(lanes.windows(2)) {
            let [before, after] = two else { continue };
            row.between(before, after);
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
