//! The stroke cut into lanes at the rows of the work, at which its curve may bend or jump: where the
//! nominal tool stands in each, from which samples start.

use super::place::Station;
use crate::measure::Measure;
use crate::numeric::gauss::{THREE, nodes};
use crate::statics::LocateError;

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
    /// Where those stand, each with its weight.
    pub(super) places: Vec<(Post, f64)>,
}

/// Where the nominal tool stands in a lane.
#[derive(Debug, Clone)]
pub(super) struct Post {
    /// Of the lane's pace.
    pub(super) share: f64,
    /// Of the station as it is anchored.
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

/// A gap nearer than this to a row, over the tool's size, is at it: no lane lies between.
pub(super) const AT_ROW: f64 = 1e-10;

impl Lane {
    /// A lane begun.
    pub(super) fn new(posts: Vec<Post>) -> Self {
        Self {
            posts,
            rule: Rule::FIRST,
            places: Vec::new(),
        }
    }

    /// Gives the lane its rule.
    pub(super) fn by(&mut self, rule: Rule) {
        let part = |k: usize| k as f64 / rule.panels as f64;
        let panels = (0..rule.panels).flat_map(|k| nodes(rule.points, part(k), part(k + 1)));
        let place = |(share, weight)| Some((self.place(share)?, weight));
        self.places = panels.filter_map(place).collect();
        self.rule = rule;
    }

    /// The place at a share of the lane: the nearest post, with the play between it and the next.
    pub(super) fn place(&self, share: f64) -> Option<Post> {
        let next = self.posts.partition_point(|post| post.share < share);
        let after = self.posts.get(next);
        let before = next.checked_sub(1).and_then(|k| self.posts.get(k));
        let (near, other) = match (before, after) {
            (Some(before), Some(after)) if share - before.share > after.share - share => {
                (after, Some(before))
            }
            (Some(before), after) => (before, after),
            (None, after) => (after?, None),
        };
        let way = other.map_or(1.0, |other| other.share - near.share);
        let there = other.map(|other| &other.station);
        let station = near.station.towards(there, (share - near.share) / way);
        Some(Post {
            share,
            station,
            ..near.clone()
        })
    }
}

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
    /// The work has more rows than samples can be followed through.
    ManyRows,
    Locate(LocateError),
}

impl<E: Into<LocateError>> From<E> for NoLanes {
    fn from(error: E) -> Self {
        Self::Locate(error.into())
    }
}
