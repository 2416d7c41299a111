//! Work over the stroke of a sampled tool: the area under a measure's growth per unit of pace, lane by
//! lane between the rows of the work.

use super::peak::CLOSELY;
use super::{Play, Worker};
use crate::numeric::gauss::{FIVE, THREE, TWO, nodes};
use crate::tolerance::course::Run;
use crate::tolerance::fate::Fate;
use crate::tolerance::lanes::{AT_ROW, Area, Lane, Post, Row, Rule};

/// Rules to choose from, each in so many panels: the middle of the lane is enough where rows stand thick.
const RULES: [(&[(f64, f64)], usize); 10] = [
    (&[(0.0, 2.0)], 1),
    (&TWO, 1),
    (&THREE, 1),
    (&FIVE, 1),
    (&FIVE, 2),
    (&FIVE, 4),
    (&FIVE, 8),
    (&FIVE, 16),
    (&FIVE, 32),
    (&FIVE, 64),
];
/// How near a rule must come on the nominal tool, of all work, where many samples are drawn: what it is off
/// there is taken off every sample, so that only the change of that is left.
const ENOUGH: f64 = 1e-4;
/// And how near halves of a lane must come to the whole, of all work, where two tools are told apart by a
/// difference over a step that is itself a millionth of the tool.
const SETTLED: f64 = 1e-9;
/// Most times that a lane is halved: what is left of it is nothing.
const HALVINGS: u32 = 24;
/// Most places looked at in one lane: forces that jump where no row is are not halved without end.
const MOST: usize = 3000;

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
    pub(in crate::tolerance) fn area(
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
        let forth = run.paces[1] - from;
        let mut sum = 0.0;
        let stretch = |worker: &mut Self, lane, from, to| {
            worker.stretch(&Stretch {
                area,
                lane,
                from,
                to,
                deviations,
                play,
            })
        };
        let to_row = |worker: &mut Self, station| {
            let none = std::iter::empty();
            worker.visit(station, 0.0, deviations, play, none, &mut Vec::new())
        };
        for (k, lane) in area.lanes.iter().enumerate().skip(first) {
            let row = area.rows.get(k).filter(|row| row.gap > shut + near);
            let Some(row) = row else {
                return Ok(sum + stretch(self, lane, from, run.paces[1])?);
            };
            let to = to_row(self, &row.station)?;
            sum += stretch(self, lane, from, to)?;
            from = to;
            if let Some(taken_up) = &row.taken_up {
                let begins = to_row(self, &taken_up.station)?;
                // Where the other play comes to the gap earlier, the lane after goes on from here.
                if (begins - from) * forth > 0.0 {
                    sum += stretch(self, &taken_up.way, from, begins)?;
                    from = begins;
                }
            }
        }
        Err(Fate::NoValue)
    }

    fn stretch(&mut self, stretch: &Stretch) -> Result<f64, Fate> {
        if self.near > CLOSELY {
            let long = (stretch.to - stretch.from).abs();
            let places = stretch.lane.places.iter();
            let parts = places.map(|(place, weight)| Ok(weight * self.growth_at(stretch, place)?));
            return Ok(long * parts.sum::<Result<f64, Fate>>()?);
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
        let place = stretch.lane.place(share).ok_or(Fate::NoValue)?;
        self.growth_at(stretch, &place)
    }

    fn growth_at(&mut self, stretch: &Stretch, place: &Post) -> Result<f64, Fate> {
        let offset = stretch.from + place.share * (stretch.to - stretch.from) - place.pace;
        let mut values = std::mem::take(&mut self.read);
        values.clear();
        let one = std::iter::once(&stretch.area.measure);
        let (deviations, play) = (stretch.deviations, stretch.play);
        let stood = self.visit(&place.station, offset, deviations, play, one, &mut values);
        let value = values.first().copied().unwrap_or(Err(Fate::NoValue));
        self.read = values;
        stood.and(value)
    }

    /// The rules that are enough for an area on the tool as it stands, one for each lane that its run
    /// comes through.
    pub(in crate::tolerance) fn rules(
        &mut self,
        area: &Area,
        run: &Run,
    ) -> Result<Vec<(usize, Rule)>, Fate> {
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
