//! Where a motion ends, turns or cannot be: toggles, contact, change points, trusses, loose parts.

use crate::models::build::{self, part};
use crate::models::four_bar::FourBar;
use crate::models::slider_crank::SliderCrank;
use jawforce::analysis::{Direction, Failure, Solved, solve};
use jawforce::model::{JawId, JointId, PartId, PointRef, Push, Target, Tool};
use jawforce::motion::{Happening, Mark, MotionError, Refusal};
use jawforce::report::{Source, stroke_report};
use proptest::prelude::*;
use std::f64::consts::{FRAC_PI_3, PI, TAU};

fn solved(tool: &Tool) -> Solved {
    solve(tool, Direction::Closing).unwrap_or_else(|failure| panic!("{}", failure.text(tool)))
}

fn refused(tool: &Tool) -> MotionError {
    match solve(tool, Direction::Closing) {
        Err(Failure::Motion(error)) => error,
        other => panic!("{other:?}"),
    }
}

/// What is in the way of the stroke that was meant, where there is none.
fn on_the_way(tool: &Tool) -> (Happening, Mark) {
    match refused(tool) {
        MotionError::NoneCloses { candidates, .. } => match candidates[0].refusal {
            Refusal::Past(what, at) => (what, at),
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    }
}

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} within {within:e}");
}

/// Cranks of 30 mm on A (0, 0), D (40, 0) and, where `extra`, on G (15, 0), all at `crank` rad; the
/// coupler that ties them drives a lever on O by a link. The jaw holds the coupler along its way.
fn parallelogram(crank: f64, extra: bool) -> Tool {
    let tip = |[x, y]: [f64; 2]| [x + 30.0 * crank.cos(), y + 30.0 * crank.sin()];
    let (a, d, g) = ([0.0; 2], [40.0, 0.0], [15.0, 0.0]);
    let (b, c, h) = (tip(a), tip(d), tip(g));
    let p = [c[0] + 20.0, c[1]];
    let (q, o) = ([p[0] + 5.0, p[1] + 35.0], [p[0] + 40.0, p[1] + 20.0]);
    let mut frame = vec![("A", a), ("D", d), ("O", o)];
    let mut coupler = vec![("B", b), ("C", c), ("P", p)];
    if extra {
        frame.push(("G", g));
        coupler.push(("H", h));
    }
    let mut parts = vec![
        part("frame", &frame, &[("anvil", b)], [0.0; 3]),
        part("crank", &[("A", a), ("B", b)], &[], [0.0; 3]),
        part("coupler", &coupler, &[("tip", b)], [0.0; 3]),
        part("rocker", &[("D", d), ("C", c)], &[], [0.0; 3]),
        part("link", &[("P", p), ("Q", q)], &[], [0.0; 3]),
        part("lever", &[("Q", q), ("O", o)], &[("nose", q)], [0.0; 3]),
    ];
    if extra {
        parts.push(part("third", &[("G", g), ("H", h)], &[], [0.0; 3]));
    }
    let along = [crank.cos() * 90.0, crank.sin() * 90.0];
    let mut tool = build::tool(
        parts,
        ("crank", vec![[0.0; 2], along]),
        vec![90.0],
        // Turning on (counter-clockwise), the coupler goes at `crank` + 90°.
        ("coupler.tip", "frame.anvil", Some(crank - PI / 2.0)),
    );
    tool.stroke.open = Target::Handle(crank);
    tool.stroke.shut = Target::Handle(crank + 0.2);
    tool
}

#[test]
fn a_redundant_bar_leaves_motion_and_jaw_force_as_they_are() {
    let (tool, plain) = (parallelogram(1.0, true), parallelogram(1.0, false));
    let (with, without) = (solved(&tool), solved(&plain));
    assert_eq!(with.freedom.redundant, 1);
    assert_eq!(without.freedom.redundant, 0);
    // 90 mm of lever on a crank of 30 mm, square to it at the open position.
    near(
        with.positions[0].grips[0].ratio[0].expect("a ratio"),
        3.0,
        1e-9,
    );
    for (p, q) in with.positions.iter().zip(&without.positions) {
        near(p.gap[0], q.gap[0], 1e-9);
        let ratio = |p: &jawforce::analysis::Position| p.grips[0].ratio[0].expect("a ratio");
        near(ratio(p), ratio(q), 1e-9);
        // Ratio from the turn of the crank alone.
        near(ratio(p), 3.0 / (p.handle - 1.0).cos(), 1e-9);
    }
}

/// Three parallel cranks under one coupler: forces in the proportion of their distances can be added to
/// them without any load, so their pins are not told; those of the link and the lever are.
#[test]
fn pins_that_a_redundant_bar_strains_are_not_reported() {
    let tool = parallelogram(1.0, true);
    let with = solved(&tool);
    let source = Source {
        file: "tool.toml".to_owned(),
        sha256: String::new(),
    };
    let report = stroke_report(&tool, &with, &[], &source, tool.units);
    for (j, joint) in tool.joints.iter().enumerate() {
        let found = ["O", "P", "Q"].contains(&joint.pin.as_str());
        assert_eq!(with.indeterminate[j], !found, "pin {}", joint.pin);
        for position in &report.positions {
            for grip in &position.grips {
                let load = grip.pin_loads.get(&tool.joint_label(JointId::new(j)));
                let load = load.unwrap_or_else(|| panic!("pin {} is listed", joint.pin));
                assert_eq!(load.is_some(), found, "pin {}", joint.pin);
            }
        }
    }
    let plain = solved(&parallelogram(1.0, false));
    assert!(plain.indeterminate.iter().all(|flag| !flag));
}

/// The jaw's way along y keeps its toggles (crank upright) away from the flat position.
fn flat(crank: f64, open: f64, shut: f64) -> Tool {
    let mut tool = parallelogram(crank, false);
    // The driven lever has its own ends of motion: leave it out.
    tool.parts.truncate(4);
    tool.joints.retain(|j| j.part < PartId::new(4));
    tool.joint_data.truncate(tool.joints.len());
    tool.jaws[0].axis = Some(PI / 2.0);
    tool.stroke.open = Target::Handle(open);
    tool.stroke.shut = Target::Handle(shut);
    tool
}

#[test]
fn a_stroke_through_the_flat_parallelogram_is_refused() {
    let (what, at) = on_the_way(&flat(FRAC_PI_3, FRAC_PI_3, -FRAC_PI_3));
    assert_eq!(what, Happening::ChangePoint);
    near(at.handle, 0.0, 1e-6);
    // On one side of it all is well.
    solved(&flat(FRAC_PI_3, FRAC_PI_3, 0.2));
}

#[test]
fn a_sketch_of_the_flat_parallelogram_is_refused() {
    assert_eq!(refused(&flat(0.0, 0.2, 0.4)), MotionError::ChangeAtSketch);
}

#[test]
fn a_triangle_of_bars_is_a_truss() {
    let (a, b, c) = ([0.0; 2], [50.0, 0.0], [20.0, 40.0]);
    let parts = vec![
        part("frame", &[("A", a), ("B", b)], &[("anvil", c)], [0.0; 3]),
        part("one", &[("A", a), ("C", c)], &[], [0.0; 3]),
        part("two", &[("B", b), ("C", c)], &[("tip", c)], [0.0; 3]),
    ];
    let tool = build::tool(
        parts,
        ("one", vec![a, c]),
        vec![10.0],
        ("two.tip", "frame.anvil", Some(0.0)),
    );
    assert_eq!(refused(&tool), MotionError::Rigid);
}

#[test]
fn a_five_bar_has_two_freedoms_and_names_what_is_loose() {
    let [a, b, c, d, e] = [
        [0.0, 0.0],
        [5.0, 40.0],
        [40.0, 60.0],
        [75.0, 42.0],
        [80.0, 0.0],
    ];
    let parts = vec![
        part("frame", &[("A", a), ("E", e)], &[("anvil", c)], [0.0; 3]),
        part("crank", &[("A", a), ("B", b)], &[], [0.0; 3]),
        part("one", &[("B", b), ("C", c)], &[], [0.0; 3]),
        part("two", &[("C", c), ("D", d)], &[], [0.0; 3]),
        part("rocker", &[("D", d), ("E", e)], &[("tip", d)], [0.0; 3]),
    ];
    let tool = build::tool(
        parts,
        ("crank", vec![a, b]),
        vec![10.0],
        ("rocker.tip", "frame.anvil", Some(0.0)),
    );
    match refused(&tool) {
        MotionError::Loose { degrees, mut parts } => {
            parts.sort_unstable();
            assert_eq!(
                (degrees, parts),
                (2, vec![2, 3, 4].into_iter().map(PartId::new).collect())
            );
        }
        other => panic!("{other:?}"),
    }
}

/// Links of 20, 30 and 20 mm between pins 100 mm apart leave 30 mm.
#[test]
fn a_loop_that_cannot_close_says_how_far_it_stays_apart() {
    let mut tool = FourBar {
        a: 20.0,
        b: 60.0,
        c: 40.0,
        d: 60.0,
        e: 30.0,
        grip: 100.0,
        axis: 0.0,
        side: 1.0,
    }
    .tool(1.0, 1.0, 1.2);
    let point = |part: usize, point: usize| PointRef {
        part: PartId::new(part),
        point,
    };
    for (at, x) in [
        (point(0, 1), 100.0),
        (point(2, 1), 30.0),
        (point(3, 1), 20.0),
    ] {
        tool.parts[at.part].points[at.point].at[0] = x;
    }
    match refused(&tool) {
        MotionError::Open { distance, .. } => near(distance, 30.0, 1e-6),
        other => panic!("{other:?}"),
    }
}

/// A toggle of two links of 50 mm, the knee above the line; the slider moves out along +x.
fn toggle(sketched: f64, open: Target, shut: Target) -> Tool {
    let bar = SliderCrank {
        r: 50.0,
        l: 50.0,
        e: 0.0,
        grip: 80.0,
        tilt: 0.0,
        ahead: 1.0,
    };
    let mut tool = bar.tool(sketched, 0.5, 0.4, true);
    // The work pushes the slider in: gap = 120 mm − its distance.
    let jaw = &mut tool.jaws[0];
    jaw.axis = Some(PI);
    jaw.closed = -120.0;
    tool.stroke.open = open;
    tool.stroke.shut = shut;
    tool
}

#[test]
fn a_stroke_past_the_toggle_is_refused_with_its_place() {
    let (what, at) = on_the_way(&toggle(0.4, Target::Handle(0.5), Target::Handle(-0.1)));
    assert_eq!(what, Happening::Toggle(JawId::FIRST));
    near(at.handle, 0.0, 1e-9);
    near(at.gap, 20.0, 1e-9);
}

#[test]
fn a_stroke_may_end_on_the_toggle_where_there_is_no_ratio() {
    let found = solved(&toggle(
        0.4,
        Target::Handle(0.5),
        Target::Gap(20.0, JawId::FIRST),
    ));
    let last = found.positions.last().expect("a position");
    assert!(last.toggle[0]);
    near(last.handle, 0.0, 1e-6);
    let grip = &last.grips[0];
    assert_eq!((grip.ratio[0], grip.answer[0]), (None, None));
    assert!(grip.pins.iter().all(Option::is_none));
    for position in &found.positions[..found.positions.len() - 1] {
        // Equal arms: cos/(2 sin), 80 mm of lever on 50 mm of link.
        let alpha = position.handle;
        let exact = 80.0 / (100.0 * alpha.sin());
        near(
            position.grips[0].ratio[0].expect("a ratio") / exact,
            1.0,
            1e-9,
        );
    }
}

#[test]
fn a_gap_out_of_reach_says_what_the_linkage_can_do() {
    match refused(&toggle(
        0.4,
        Target::Handle(0.5),
        Target::Gap(19.0, JawId::FIRST),
    )) {
        MotionError::Unreachable {
            end,
            fixed,
            reach,
            passing,
            cut_short,
        } => {
            assert!(!cut_short);
            assert_eq!(
                (end, fixed),
                ("shut", Target::Gap(19.0, JawId::FIRST).fixed())
            );
            near(reach.low, 20.0, 1e-9);
            assert_eq!(passing, None);
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_jaw_across_its_own_slot_stands_still() {
    let mut tool = toggle(0.4, Target::Handle(0.5), Target::Handle(0.4));
    tool.jaws[0].axis = Some(PI / 2.0);
    assert_eq!(refused(&tool), MotionError::StillJaw(JawId::FIRST));
}

#[test]
fn a_hand_on_the_fixed_part_moves_nothing() {
    let mut tool = toggle(
        0.4,
        Target::Gap(30.0, JawId::FIRST),
        Target::Gap(25.0, JawId::FIRST),
    );
    tool.hand.handle.part = PartId::FIRST;
    assert_eq!(refused(&tool), MotionError::StillHand);
}

/// A pusher in a keyed slot: every gap is met once.
#[test]
fn open_and_shut_at_one_place_are_no_stroke() {
    let parts = vec![
        part("frame", &[], &[("anvil", [0.0; 2])], [0.0; 3]),
        part(
            "pusher",
            &[],
            &[("tip", [0.0; 2]), ("end", [30.0, 0.0])],
            [10.0, 0.0, 0.0],
        ),
    ];
    let mut tool = build::tool(
        parts,
        ("pusher", vec![[0.0; 2], [30.0, 0.0]]),
        vec![30.0],
        ("pusher.tip", "frame.anvil", Some(0.0)),
    );
    tool.hand.push = Push::Fixed(PI);
    let rider = PointRef {
        part: PartId::new(1),
        point: 0,
    };
    tool.slots
        .push(build::slot(rider, PartId::FIRST, [0.0; 2], 0.0, Some(0.0)));
    tool.stroke.open = Target::Gap(8.0, JawId::FIRST);
    tool.stroke.shut = Target::Gap(8.0, JawId::FIRST);
    assert_eq!(refused(&tool), MotionError::NoStroke);
    tool.stroke.shut = Target::Gap(2.0, JawId::FIRST);
    let found = solved(&tool);
    assert!(!found.turns);
    for position in &found.positions {
        near(position.grips[0].ratio[0].expect("a ratio"), 1.0, 1e-9);
    }
}

/// Pliers of two parts: jaw points at `r1` and `r2` from the pivot, 90 mm of handle.
fn pliers(r1: f64, r2: f64, shut: f64) -> Tool {
    let parts = vec![
        part("half", &[("A", [0.0; 2])], &[("jaw", [-r1, 0.0])], [0.0; 3]),
        part(
            "other",
            &[("A", [0.0; 2])],
            &[("jaw", [-r2, 0.0])],
            [0.0, 0.0, -0.3],
        ),
    ];
    let mut tool = build::tool(
        parts,
        ("other", vec![[0.0; 2], [100.0, 10.0]]),
        vec![90.0],
        ("other.jaw", "half.jaw", None),
    );
    tool.stroke.open = Target::Gap(8.0, JawId::FIRST);
    tool.stroke.shut = Target::Gap(shut, JawId::FIRST);
    tool
}

/// A jaw without a stated axis ends at contact: the place is met to 1e-9 rad, and the ratio there is
/// the limit from the open side, the ratio of the arms.
#[test]
fn the_default_jaw_ends_at_contact_with_the_ratio_of_the_arms() {
    let found = solved(&pliers(20.0, 20.0, 0.0));
    let last = found.positions.last().expect("a position");
    near(last.handle, 0.1_f64.atan(), 1e-9);
    near(last.gap[0], 0.0, 1e-9);
    assert!(!last.toggle[0]);
    near(last.grips[0].ratio[0].expect("a ratio"), 90.0 / 20.0, 1e-9);
    let contact = found
        .events
        .iter()
        .find(|e| e.what == Happening::Contact(JawId::FIRST));
    near(contact.expect("contact").handle, 0.1_f64.atan(), 1e-9);
}

#[test]
fn jaw_points_that_pass_each_other_say_at_what_distance() {
    match refused(&pliers(20.0, 20.4, 0.0)) {
        MotionError::Unreachable { passing, reach, .. } => {
            near(passing.expect("a distance"), 0.4, 1e-9);
            near(reach.low, 0.4, 1e-9);
        }
        other => panic!("{other:?}"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]

    /// The slider stands still where crank and rod are in line, extended or folded:
    /// (r ± l) sin θ = e.
    #[test]
    fn toggles_of_slider_cranks_are_where_the_links_are_in_line(
        r in 10.0..40.0_f64, longer in 1.2..3.0_f64, offset in -0.9..0.9_f64,
        tilt in 0.0..std::f64::consts::TAU, crank in 0.0..std::f64::consts::TAU,
    ) {
        let l = longer * r;
        let e = offset * (l - r);
        let bar = SliderCrank { r, l, e, grip: 80.0, tilt, ahead: 1.0 };
        let (extended, folded) = ((e / (r + l)).asin(), PI - (e / (r - l)).asin());
        let away = |a: f64, b: f64| ((a - b) - ((a - b) / TAU).round() * TAU).abs();
        prop_assume!(away(crank, extended) > 0.1 && away(crank, folded) > 0.1);
        let mut tool = bar.tool(crank, crank, crank + 0.05, true);
        if bar.solve(crank).ratio < 0.0 {
            tool.jaws[0].axis = Some(tilt + PI);
        }
        let found = match solve(&tool, Direction::Closing) {
            Ok(found) => found,
            Err(failure) => return Err(TestCaseError::fail(failure.text(&tool))),
        };
        let toggles: Vec<f64> = found.survey.events.iter()
            .filter(|event| event.what == Happening::Toggle(JawId::FIRST))
            .map(|event| event.handle - tilt)
            .collect();
        for expected in [extended, folded] {
            let off = toggles.iter().map(|t| away(*t, expected)).fold(9.0, f64::min);
            prop_assert!(off < 1e-9, "{expected} is {off:e} from one of {toggles:?}");
        }
        for toggle in &toggles {
            prop_assert!(away(*toggle, extended).min(away(*toggle, folded)) < 1e-9, "{toggle} is none");
        }
    }
}
