//! What a stroke may not go through: dead positions of the handle, and toggles however close.

use super::{near, refused, solved};
use crate::models::build;
use crate::models::four_bar::FourBar;
use crate::models::slider_crank::SliderCrank;
use jawforce::model::{JawId, PartId, PointRef, Target, Tool};
use jawforce::motion::{Happening, MotionError, Refusal};
use std::f64::consts::{FRAC_PI_2, TAU};

/// A crank-rocker whose handle is the rocker, and whose jaw is the end of the crank (40, 150, 80,
/// 150 mm). Where crank and coupler are in line the handle stands still, and the jaw, across the
/// crank, closes on. `drawn`, and the crank angles of `place`, count from there.
struct CrankRocker {
    bar: FourBar,
    line: f64,
}

impl CrankRocker {
    fn new() -> Self {
        let bar = FourBar {
            a: 40.0,
            b: 150.0,
            c: 80.0,
            d: 150.0,
            e: 80.0,
            grip: 100.0,
            axis: 0.0,
            side: -1.0,
        };
        // Triangle of 190, 150 and 80 mm, by the law of cosines.
        let cos: f64 =
            (190.0_f64.powi(2) + 150.0_f64.powi(2) - 80.0_f64.powi(2)) / (2.0 * 190.0 * 150.0);
        Self {
            bar,
            line: cos.acos(),
        }
    }

    fn handle(&self, off: f64) -> f64 {
        self.bar.solve(self.line + off, 1.0).rocker
    }

    fn tool(&self, drawn: f64, open: Target, shut: Target) -> Tool {
        let mut tool = self.bar.tool(self.line + drawn, 0.0, 1.0);
        tool.parts[1].sketch[2] = self.line + drawn;
        tool.hand.handle.part = PartId::new(3);
        let (crank, tip) = (1, tool.parts[1].point_index("B").unwrap());
        tool.jaws[0].on = PointRef {
            part: PartId::new(crank),
            point: tip,
        };
        tool.jaws[0].against = PointRef {
            part: PartId::FIRST,
            point: 0,
        };
        tool.jaws[0].axis = Some(self.line + FRAC_PI_2);
        tool.stroke.open = open;
        tool.stroke.shut = shut;
        tool
    }

    /// The jaw's gap, its points 40 mm apart.
    fn gap(off: f64) -> Target {
        Target::Gap(40.0 * off.sin(), JawId::FIRST)
    }
}

#[test]
fn a_stroke_through_a_dead_position_is_refused_with_its_place() {
    let bar = CrankRocker::new();
    for drawn in [-0.5, -0.2, 0.1, 0.6] {
        match refused(&bar.tool(drawn, CrankRocker::gap(0.4), CrankRocker::gap(-0.3))) {
            MotionError::NoneCloses { candidates, .. } => match candidates[0].refusal {
                Refusal::Past(Happening::Dead, at) => {
                    let corner = [190.0 * bar.line.cos() - 150.0, 190.0 * bar.line.sin()];
                    near(at.handle, corner[1].atan2(corner[0]), 1e-7);
                    near(at.gap, 0.0, 1e-7);
                }
                other => panic!("{other:?}"),
            },
            other => panic!("{other:?}"),
        }
    }
}

/// The handle angle of the shut end is met on both sides of the dead position. Drawn beyond it the
/// way from open to there, which goes through, is not taken.
#[test]
fn a_stroke_ends_before_the_dead_position() {
    let bar = CrankRocker::new();
    let shut = Target::Handle(bar.handle(0.1));
    for drawn in [-0.15, -0.1, -0.01, 0.05, 0.2] {
        let found = solved(&bar.tool(drawn, CrankRocker::gap(0.4), shut));
        near(found.positions[0].gap[0], 40.0 * 0.4_f64.sin(), 1e-9);
        near(
            found.positions.last().unwrap().gap[0],
            40.0 * 0.1_f64.sin(),
            1e-7,
        );
    }
}

/// The slider of a slider-crank as the handle, which does not turn: it stands still where crank
/// and rod are in line, and the jaw at the crank's end closes on.
#[test]
fn a_handle_that_slides_has_dead_positions_too() {
    let bar = SliderCrank {
        r: 30.0,
        l: 80.0,
        e: 0.0,
        grip: 60.0,
        tilt: 0.0,
        ahead: 1.0,
    };
    let tool = |open: f64, shut: f64| {
        let mut tool = bar.tool(0.2, 0.0, 1.0, true);
        tool.hand.handle.part = PartId::new(3);
        tool.jaws[0].on = PointRef {
            part: PartId::new(1),
            point: 1,
        };
        tool.jaws[0].axis = Some(FRAC_PI_2);
        tool.stroke.open = Target::Gap(open, JawId::FIRST);
        tool.stroke.shut = Target::Gap(shut, JawId::FIRST);
        tool
    };
    assert!(!solved(&tool(15.0, 5.0)).turns);
    match refused(&tool(15.0, -5.0)) {
        MotionError::NoneCloses { candidates, .. } => {
            assert!(candidates.iter().any(
                |c| matches!(c.refusal, Refusal::Past(Happening::Dead, at) if at.gap.abs() < 1e-7)
            ));
        }
        other => panic!("{other:?}"),
    }
}

/// A handle on the coupler: where its angle turns back it moves on, and the jaw closes on.
#[test]
fn a_handle_whose_angle_turns_back_while_it_moves_is_not_dead() {
    let mut bar = FourBar {
        a: 40.0,
        b: 150.0,
        c: 80.0,
        d: 150.0,
        e: 80.0,
        grip: 60.0,
        axis: 0.0,
        side: 1.0,
    };
    // Where the coupler's angle turns, by halving on its change.
    let rate =
        |crank: f64| bar.solve(crank + 1e-6, 1.0).coupler - bar.solve(crank - 1e-6, 1.0).coupler;
    let mut range = [1.0_f64, 2.5];
    assert!(rate(range[0]) * rate(range[1]) < 0.0);
    for _ in 0..40 {
        let middle = 0.5 * (range[0] + range[1]);
        range[usize::from(rate(middle) * rate(range[0]) < 0.0)] = middle;
    }
    let turn = range[0];
    bar.axis = bar.solve(turn, 1.0).rocker - FRAC_PI_2;
    let gap = |crank: f64| {
        let tip = bar.solve(crank, 1.0).jaw_point;
        (tip[0] - bar.d) * bar.axis.cos() + (tip[1] + 40.0) * bar.axis.sin()
    };
    let mut tool = bar.tool(turn, 0.0, 1.0);
    tool.hand.handle.part = PartId::new(2);
    let ends = [gap(turn - 0.3), gap(turn + 0.3)];
    tool.stroke.open = Target::Gap(ends[0].max(ends[1]), JawId::FIRST);
    tool.stroke.shut = Target::Gap(ends[0].min(ends[1]), JawId::FIRST);
    let found = solved(&tool);
    let turns: Vec<_> = found.events.iter().map(|e| e.what).collect();
    assert_eq!(turns, [Happening::TurnsBack]);
}

/// A point of a coupler goes along a nearly straight piece of its way. Measured nearly square to
/// that piece the jaw turns back twice within 0.02 rad of the crank, closer together than the
/// motion is followed: wherever the tool is drawn, the way through is not taken.
#[test]
fn two_toggles_close_together_are_not_passed_over() {
    let bar = FourBar {
        a: 40.0,
        b: 150.0,
        c: 80.0,
        d: 150.0,
        e: 80.0,
        grip: 100.0,
        axis: 0.0,
        side: -1.0,
    };
    let own = [120.0, -100.0];
    let point = |crank: f64| {
        let (sin, cos) = bar.solve(crank, 1.0).coupler.sin_cos();
        let [x, y] = own;
        [
            bar.a * crank.cos() + x * cos - y * sin,
            bar.a * crank.sin() + x * sin + y * cos,
        ]
    };
    let speed = |crank: f64| {
        let (a, b) = (point(crank - 1e-5), point(crank + 1e-5));
        [b[0] - a[0], b[1] - a[1]]
    };
    // How its direction turns: the way is straight where that changes sign.
    let bend = |crank: f64| {
        let (u, v) = (speed(crank - 1e-3), speed(crank + 1e-3));
        u[0] * v[1] - u[1] * v[0]
    };
    let step = |k: i32| f64::from(k) * 0.01;
    let straight: Vec<f64> = (0..628)
        .filter(|&k| bend(step(k)) * bend(step(k + 1)) < 0.0)
        .map(|k| {
            let mut range = [step(k), step(k + 1)];
            for _ in 0..30 {
                let middle = 0.5 * (range[0] + range[1]);
                range[usize::from(bend(middle) * bend(range[0]) < 0.0)] = middle;
            }
            range[0]
        })
        .collect();
    assert!(!straight.is_empty());
    for at in straight {
        // Square to the way 0.01 rad beyond, and so, nearly, 0.01 rad before.
        let way = speed(at + 0.01);
        let axis = way[1].atan2(way[0]) + FRAC_PI_2;
        let gap = |crank: f64| {
            let [x, y] = point(crank);
            x * axis.cos() + y * axis.sin()
        };
        let mut ends = [at - 0.25, at + 0.25];
        if gap(ends[0]) < gap(ends[1]) {
            ends.reverse();
        }
        for k in 0..=40 {
            let drawn = at - 0.2 + 0.01 * f64::from(k) + 0.003;
            let mut tool = bar.tool(drawn, ends[0], ends[1]);
            let mark = build::part("coupler", &[], &[("nose", own)], [0.0; 3]);
            tool.parts[2].points.extend(mark.points);
            tool.jaws[0].on = PointRef {
                part: PartId::new(2),
                point: tool.parts[2].points.len() - 1,
            };
            tool.jaws[0].against = PointRef {
                part: PartId::FIRST,
                point: 0,
            };
            tool.jaws[0].axis = Some(axis);
            match refused(&tool) {
                MotionError::NoneCloses { candidates, .. } => {
                    let Refusal::Past(Happening::Toggle(JawId::FIRST), place) =
                        candidates[0].refusal
                    else {
                        panic!("{candidates:?}");
                    };
                    let off = (place.handle - at) / TAU;
                    near(TAU * (off - off.round()).abs(), 0.01, 2e-3);
                }
                other => panic!("{other:?}"),
            }
        }
    }
}
