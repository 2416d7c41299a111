//! Made-up reports for the tests of the formats.
//!
//! The numbers come from two textbook shapes (a knee of two equal links, and a pair of plain
//! levers) so that the tables and curves look like real ones. They check no mechanics.

use indexmap::IndexMap;

use crate::report::{
    Checks, CurvePlace, DemandOnCurve, DemandResult, EndOfStroke, GripReport, HandPeakReport,
    JawAt, JawForces, LimitReport, Place, PositionReport, StrokeReport, Turning, UnitNames,
    WorkReport,
};

#[derive(Clone, Copy, PartialEq)]
enum Shape {
    Knee,
    Levers,
}

/// What a report is to be about.
#[derive(Clone)]
pub(super) struct Sample {
    shape: Shape,
    name: String,
    grips: Vec<f64>,
    steps: usize,
    /// Half angle of the knee, degrees, open and shut.
    from: f64,
    to: f64,
    work: Option<f64>,
    limit: Option<f64>,
    limit_by_span: bool,
    inches: bool,
    jaw: String,
}

impl Sample {
    /// A knee lever that stops short of its toggle, with work and a limit.
    pub(super) fn knee() -> Self {
        Self {
            shape: Shape::Knee,
            name: "Knee lever, made up".to_owned(),
            grips: vec![70.0, 100.0, 130.0],
            steps: 60,
            from: 34.0,
            to: 5.0,
            work: Some(2600.0),
            limit: Some(220.0),
            limit_by_span: false,
            inches: false,
            jaw: "nose".to_owned(),
        }
    }

    /// Plain levers with a nearly constant ratio, no work, no limit.
    pub(super) fn pliers() -> Self {
        Self {
            shape: Shape::Levers,
            name: "Plain pliers, made up".to_owned(),
            grips: vec![80.0, 110.0],
            from: 12.0,
            to: 0.0,
            work: None,
            limit: None,
            ..Self::knee()
        }
    }

    /// The knee goes through its toggle before it is shut.
    pub(super) fn through_toggle(mut self) -> Self {
        self.from = 30.0;
        self.to = -6.0;
        self
    }

    /// The knee is shut exactly at its toggle.
    pub(super) fn shut_at_toggle(mut self) -> Self {
        self.to = 0.0;
        self
    }

    pub(super) fn grips(mut self, grips: &[f64]) -> Self {
        self.grips = grips.to_vec();
        self
    }

    pub(super) fn steps(mut self, steps: usize) -> Self {
        self.steps = steps;
        self
    }

    pub(super) fn named(mut self, name: &str) -> Self {
        self.name = name.to_owned();
        self
    }

    pub(super) fn jaw(mut self, jaw: &str) -> Self {
        self.jaw = jaw.to_owned();
        self
    }

    pub(super) fn work(mut self, peak: Option<f64>) -> Self {
        self.work = peak;
        self
    }

    pub(super) fn limit(mut self, limit: Option<f64>) -> Self {
        self.limit = limit;
        self
    }

    /// The limit falls with the span, so every grip has its own.
    pub(super) fn limit_by_span(mut self) -> Self {
        self.limit_by_span = true;
        self
    }

    /// The same tool in inches and pounds-force.
    pub(super) fn inches(mut self) -> Self {
        self.inches = true;
        self
    }

    /// Gap and ratio per length of grip at half angle `degrees`, mm.
    fn shape_at(&self, degrees: f64) -> (f64, Option<f64>) {
        let angle = degrees.to_radians();
        match self.shape {
            Shape::Knee => {
                let gap = 54.0 * (self.to.to_radians().cos() - angle.cos());
                let rate = 54.0 * angle.sin();
                (gap, (rate.abs() > 1e-9).then(|| 1.0 / rate))
            }
            Shape::Levers => (30.0 * angle.sin(), Some(1.0 / (30.0 * angle.cos()))),
        }
    }

    pub(super) fn build(&self) -> StrokeReport {
        let (length, force) = if self.inches {
            (1.0 / 25.4, 1.0 / 4.448)
        } else {
            (1.0, 1.0)
        };
        let hand = 150.0 * force;
        let mut report = StrokeReport {
            format: 1,
            tool: self.name.clone(),
            file: "made-up.toml".to_owned(),
            sha256: "0".repeat(64),
            units: UnitNames {
                length: if self.inches { "in" } else { "mm" },
                force: if self.inches { "lbf" } else { "N" },
                angle: "deg",
            },
            grips: self.grips.iter().map(|g| g * length).collect(),
            hand_force: hand,
            jaws: vec![self.jaw.clone()],
            all_jaws: Vec::new(),
            ends: [0, 1].map(|_| EndOfStroke {
                by: "gap",
                value: 0.0,
                jaw: Some(self.jaw.clone()),
                stop: None,
            }),
            verdict: crate::report::VerdictReport::default(),
            direction: "closing",
            positions: Vec::new(),
            toggles: Vec::new(),
            dead_positions: Vec::new(),
            dies_meet: None,
            stop_met: None,
            face_ends: None,
            ratchet: None,
            stops: Vec::new(),
            work: None,
            limit: None,
            job: None,
            measured: None,
            indeterminate: Vec::new(),
            checks: Checks {
                closure: 1.3e-15,
                virtual_work: 3.1e-13,
                free_body: 8.2e-13,
            },
            demands: Vec::new(),
            notes: vec!["made-up numbers, for tests of the output".to_owned()],
        };
        let start = self.shape_at(self.from).0;
        let mut needed = Vec::new();
        let mut limits = Vec::new();
        for step in 0..=self.steps {
            let share = step as f64 / self.steps as f64;
            let degrees = self.from + (self.to - self.from) * share;
            let (gap, per_grip) = self.shape_at(degrees);
            let need = self
                .work
                .map(|peak| force * peak * (1.0 - gap / (0.45 * start)).clamp(0.0, 1.0).powf(0.8));
            needed.push(need.unwrap_or(0.0));
            let spans: Vec<f64> = (self.grips.iter())
                .map(|g| length * (40.0 + 2.0 * g * (degrees + 12.0).to_radians().sin()))
                .collect();
            limits.push(
                (spans.iter())
                    .map(|span| self.limit.map(|limit| self.limit_at(limit * force, *span)))
                    .collect::<Vec<_>>(),
            );
            let grips = (self.grips.iter().zip(&spans))
                .map(|(grip, span)| {
                    let ratio = per_grip.map(|r| r * grip);
                    let jaw_force = ratio.map(|r| 0.93 * r * hand);
                    let forces = JawForces {
                        ratio,
                        jaw_force,
                        efficiency: ratio.map(|_| 0.93),
                        hand_force: need.and_then(|n| Some(n / (0.93 * ratio?))),
                        locked: false,
                        lifts_off: false,
                    };
                    GripReport {
                        at: grip * length,
                        span: Some(*span),
                        jaws: [(self.jaw.clone(), forces)].into_iter().collect(),
                        contacts: IndexMap::new(),
                        pin_loads: [("knee".to_owned(), jaw_force.map(|f| 0.6 * f))]
                            .into_iter()
                            .collect(),
                        axial: [("strut".to_owned(), jaw_force.map(|f| -0.6 * f))]
                            .into_iter()
                            .collect(),
                    }
                })
                .collect();
            let knee = Place {
                x: 27.0 * length * degrees.to_radians().sin(),
                y: 27.0 * length * degrees.to_radians().cos(),
            };
            report.positions.push(PositionReport {
                handle: degrees,
                travel: (self.from - degrees).abs(),
                toggle: per_grip.is_none(),
                beyond: false,
                pins: [("knee".to_owned(), knee)].into_iter().collect(),
                marks: IndexMap::new(),
                jaws: [(self.jaw.clone(), JawAt { gap: gap * length })]
                    .into_iter()
                    .collect(),
                grips,
            });
        }
        if self.shape == Shape::Knee && self.to <= 0.0 {
            report.toggles.push(Turning {
                handle: 0.0,
                gap: self.shape_at(0.0).0 * length,
                jaw: self.jaw.clone(),
            });
        }
        if self.work.is_some() {
            let stalls = self.stalls(&report, &limits);
            let peaks = self.peaks(&report, &limits);
            // Where a stall is, to the nearest position, the limit there.
            let limit_of = |(g, stall): (usize, &Option<f64>)| {
                let gap = (*stall)?;
                let index = (report.positions.iter())
                    .position(|p| p.jaws.get(&self.jaw).is_some_and(|j| j.gap <= gap))?;
                limits.get(index)?.get(g).copied().flatten()
            };
            let stall_limits = stalls.iter().enumerate().map(limit_of).collect();
            report.work = Some(WorkReport {
                need: vec![[0.45 * start * length, 0.0], [0.0, needed[self.steps]]],
                needed,
                stalls,
                stall_limits,
                peaks,
                note: Some("made up".to_owned()),
            });
            self.demands(&mut report, length, force);
        }
        if let Some(limit) = self.limit {
            report.limit = Some(LimitReport {
                text: format!("{:.0} {}", limit * force, report.units.force),
                source: None,
                hand_force: limits,
            });
        }
        report
    }

    fn limit_at(&self, limit: f64, span: f64) -> f64 {
        let wide = if self.inches { 80.0 / 25.4 } else { 80.0 };
        if self.limit_by_span && span > wide {
            limit * wide / span
        } else {
            limit
        }
    }

    fn stalls(&self, report: &StrokeReport, limits: &[Vec<Option<f64>>]) -> Vec<Option<f64>> {
        let over = |g: usize, index: usize| {
            let forces = &report.positions[index].grips[g].jaws[&self.jaw];
            Some(forces.hand_force? - limits[index][g]?)
        };
        let gap = |index: usize| report.positions[index].jaws[&self.jaw].gap;
        (0..self.grips.len())
            .map(|g| {
                (1..report.positions.len()).find_map(|index| {
                    let (before, here) = (over(g, index - 1)?, over(g, index)?);
                    let share = -before / (here - before);
                    (before < 0.0 && here > 0.0)
                        .then(|| gap(index - 1) + share * (gap(index) - gap(index - 1)))
                })
            })
            .collect()
    }

    /// Those of the positions: the made-up curve has no other.
    fn peaks(&self, report: &StrokeReport, limits: &[Vec<Option<f64>>]) -> Vec<HandPeakReport> {
        let peak = |g: usize| {
            let mut most: Option<HandPeakReport> = None;
            for (position, limits) in report.positions.iter().zip(limits) {
                let force = position.grips[g].jaws[&self.jaw].hand_force;
                if force.is_some_and(|f| most.is_none_or(|m| Some(f) > m.hand_force)) {
                    most = Some(HandPeakReport {
                        hand_force: force,
                        why: None,
                        gap: position.jaws[&self.jaw].gap,
                        handle: position.handle,
                        travel: position.travel,
                        limit: limits[g],
                    });
                }
            }
            most
        };
        (0..self.grips.len()).filter_map(peak).collect()
    }

    fn demands(&self, report: &mut StrokeReport, length: f64, force: f64) {
        let last = &report.positions[self.steps].grips;
        for (grip, min) in self.grips.iter().zip([2000.0, 2500.0]) {
            let value = last
                .iter()
                .find(|g| (g.at - grip * length).abs() < 1e-9)
                .and_then(|g| g.jaws[&self.jaw].jaw_force);
            report.demands.push(DemandResult {
                digits: crate::report::Digits::Figures,
                measure: "jaw_force".to_owned(),
                at: Some("shut".to_owned()),
                grip: Some(grip * length),
                unit: report.units.force,
                value,
                why: None,
                min: Some(min * force),
                max: None,
                met: value.is_some_and(|v| v >= min * force),
                curve: Some(DemandOnCurve {
                    hand: false,
                    place: CurvePlace::Shut,
                }),
            });
        }
    }
}
