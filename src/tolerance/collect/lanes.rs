//! Lanes: where the nominal tool stands between the rows of the work.

use super::Collector;
use crate::measure::Measure;
use crate::model::GripId;
use crate::statics::passes;
use crate::tolerance::anchor::Anchor;
use crate::tolerance::lanes::{AT_ROW, Area, Lane, NoLanes, Post, Row, TakenUp};

/// Posts over the whole stroke, and intervals of a lane at least.
const STATIONS: f64 = 32.0;
const LEAST: f64 = 2.0;
/// How far the play half way between two posts may be from what they say, over itself, and how often the
/// way between two is halved for it: where the work begins, the play turns quickly to where work has it.
const STRAIGHT: f64 = 3e-5;
const TURNS: u32 = 9;
/// Share of a lane by which its outer posts stand inside it: at a row itself the forces may jump.
const INSIDE: f64 = 1e-6;
/// Most rows: each is a place that every sample is brought to, and a station with all its play.
const MOST_ROWS: usize = 1000;

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
            let way = Lane::new(vec![first.clone()]);
            self.taken_up = Some(TakenUp { station, way });
        }
    }
}

impl Collector<'_, '_> {
    /// The area under a measure, held at a grip, that comes to `nominal` on the tool as it is drawn.
    pub(in crate::tolerance) fn area(
        &mut self,
        measure: &Measure,
        grip: GripId,
        nominal: f64,
    ) -> Result<usize, NoLanes> {
        let course = self.course(grip)?;
        let near = AT_ROW * self.rig.solver().linkage.size;
        let work = self
            .rig
            .tool()
            .work()
            .into_iter()
            .flat_map(|work| &work.need);
        let mut gaps: Vec<f64> = work.map(|row| row[0]).collect();
        gaps.dedup_by(|a, b| (*a - *b).abs() <= near);
        if gaps.len() > MOST_ROWS {
            return Err(NoLanes::ManyRows);
        }
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
            let station = self.here(Anchor::gap(gap), grip);
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
    fn lane(&mut self, ends: [f64; 2], grip: GripId, last: &mut f64) -> Result<Lane, NoLanes> {
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
        Ok(Lane::new(posts))
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
    fn post(&mut self, share: f64, [from, to]: [f64; 2], grip: GripId) -> Result<Post, NoLanes> {
        let gap = self.gap_at(from + share * (to - from))?;
        let solver = self.rig.solver();
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let anchor = self.pace.anchor(linkage, pose);
        let pace = self.pace.read(linkage, pose);
        let station = self.here(anchor, grip);
        Ok(Post {
            share,
            pace,
            gap,
            station,
        })
    }
}
