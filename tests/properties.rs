//! Random linkages: loops closed, work of the hand equal to work of the jaw, friction and springs.

use crate::models::build::no_dies;
use crate::models::closing;
use crate::models::random::{self, Dice};
use crate::models::slider_crank::SliderCrank;
use crate::models::track::Track;
use jawforce::analysis::{Direction, Failure, Solved, solve};
use jawforce::model::{HandLine, JawId, Target, Tool};
use jawforce::motion::MotionError;
use proptest::prelude::*;

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn numbers() -> impl Strategy<Value = Vec<f64>> {
    any::<u64>().prop_map(digits)
}

/// A seed drawn out to many numbers in 0..1, so that a failure prints in a line (splitmix64,
/// S. Vigna, public domain, from memory).
pub fn digits(seed: u64) -> Vec<f64> {
    let mut state = seed;
    (0..80)
        .map(|_| {
            state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut z = state;
            z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            z ^= z >> 31;
            (z >> 11) as f64 / (1_u64 << 53) as f64
        })
        .collect()
}

/// A random tool of that kind, with the numbers left over.
fn tools(kind: fn(&mut Dice<'_>) -> Option<Tool>) -> impl Strategy<Value = (Tool, Vec<f64>)> {
    (numbers(), numbers())
        .prop_filter_map("a pose that is not nearly dead", move |(n, more)| {
            Some((closing(kind(&mut Dice::new(&n))?), more))
        })
        .no_shrink()
}

/// Solves it; `None` where the short stroke meets a toggle or an end of the motion, which a random
/// linkage may well do.
fn solved(tool: &Tool) -> Result<Option<Solved>, TestCaseError> {
    match solve(tool, Direction::Closing) {
        Ok(solved) => Ok(Some(solved)),
        Err(Failure::Motion(MotionError::NoneCloses { .. } | MotionError::Unreachable { .. })) => {
            Ok(None)
        }
        Err(other) => Err(TestCaseError::fail(other.text(tool))),
    }
}

fn holds_and_works(tool: &Tool) -> Result<(), TestCaseError> {
    let Some(solved) = solved(tool)? else {
        return Err(TestCaseError::reject("no stroke"));
    };
    let track = Track::new(tool, &solved);
    // Where a toggle is in the way, the same angles may be met elsewhere on the motion, perhaps
    // next to a dead position, where differences are not exact enough.
    let travel = solved.positions.last().map_or(0.0, |p| p.travel);
    let long = tool.hand.against.is_none() && travel > 1.01 * random::TRAVEL;
    if long || track.sketch_turned() > 0.06 {
        return Err(TestCaseError::reject("not the stroke at the sketch"));
    }
    let off = track.joints_off();
    prop_assert!(off < 1e-9, "a joint is off by {off:e} mm");
    for grip in 0..tool.hand.grips.len() {
        let off = track.work_off(grip, 0);
        prop_assert!(
            off < 1e-6,
            "hand and jaw power differ by {off:e} of the hand's way"
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(config(200))]

    #[test]
    fn six_bars_close_and_pass_on_the_work_of_the_hand((tool, _) in tools(random::six_bar)) {
        holds_and_works(&tool)?;
    }

    #[test]
    fn pins_in_slots_hold_and_pass_on_the_work_of_the_hand((tool, _) in tools(random::pin_in_slot)) {
        holds_and_works(&tool)?;
    }

    #[test]
    fn arc_slots_hold_and_pass_on_the_work_of_the_hand((tool, _) in tools(random::arc_slot)) {
        holds_and_works(&tool)?;
    }

    #[test]
    fn parts_on_slots_alone_hold_and_pass_on_the_work_of_the_hand((tool, _) in tools(random::trammel)) {
        holds_and_works(&tool)?;
    }

    #[test]
    fn two_moving_handles_pass_on_the_work_of_the_hand((tool, _) in tools(random::compound)) {
        holds_and_works(&tool)?;
    }
}

fn slider_cranks() -> impl Strategy<Value = (SliderCrank, f64, f64)> {
    let sizes = (
        10.0..60.0_f64,
        40.0..120.0_f64,
        -25.0..25.0_f64,
        60.0..150.0_f64,
    );
    let rest = (
        0.0..std::f64::consts::TAU,
        any::<bool>(),
        0.0..std::f64::consts::TAU,
        0.05..0.4_f64,
    );
    (sizes, rest).prop_map(|((r, l, e, grip), (tilt, ahead, crank, travel))| {
        let ahead = if ahead { 1.0 } else { -1.0 };
        (
            SliderCrank {
                r,
                l,
                e,
                grip,
                tilt,
                ahead,
            },
            crank,
            travel,
        )
    })
}

proptest! {
    #![proptest_config(config(200))]

    /// Keyed sliders, and rods that ride in the slot themselves.
    #[test]
    fn slider_cranks_match_the_closed_form((bar, crank, travel) in slider_cranks(), keyed in any::<bool>()) {
        prop_assume!((0..=10).all(|k| bar.assembles(crank + (f64::from(k) / 8.0 - 0.125) * travel)));
        // The slider stands still where crank and rod are in line: keep to one side of it.
        let ratios: Vec<f64> = (0..=100).map(|k| bar.solve(crank + travel * f64::from(k) / 100.0).ratio).collect();
        prop_assume!(ratios.windows(2).all(|w| w[0] * w[1] > 0.0));
        prop_assume!(ratios.iter().all(|r| r.abs() < 1e3));
        let mut tool = bar.tool(crank + 0.4 * travel, crank, crank + travel, keyed);
        no_dies(&mut tool);
        // The work resists the slider's motion.
        if ratios[0] < 0.0 {
            let axis = &mut tool.jaws[0].axis;
            *axis = axis.map(|a| a + std::f64::consts::PI);
        }
        let solved = match solve(&tool, Direction::Closing) {
            Ok(solved) => solved,
            Err(failure) => return Err(TestCaseError::fail(failure.text(&tool))),
        };
        for position in &solved.positions {
            let exact = bar.solve(position.handle - bar.tilt);
            let rider = tool.slots[0].rider;
            let c = position.points[rider.part.index()][rider.point];
            prop_assert!((c[0] - exact.c[0]).hypot(c[1] - exact.c[1]) < 1e-9, "{c:?} {:?}", exact.c);
            let ratio = position.grips[0].ratio[0].unwrap();
            let scale = exact.ratio.abs().max(1.0);
            prop_assert!((ratio - exact.ratio.abs()).abs() < 1e-9 * scale * scale, "{ratio} {}", exact.ratio);
            for (joint, expected) in exact.pins.iter().enumerate().take(tool.joints.len()) {
                let found = position.grips[0].pins[joint].unwrap();
                for axis in 0..2 {
                    let off = (found[axis] / 100.0 - expected[axis]).abs();
                    prop_assert!(off < 1e-9 * scale * scale, "pin {joint}: {found:?} {expected:?}");
                }
            }
        }
    }
}

/// Work of the hand = work of the jaw + friction + energy taken up by springs, to 1e-6.
fn balances(tool: &Tool, solved: &Solved) -> Result<[f64; 5], String> {
    let track = Track::new(tool, solved);
    let mut last = [0.0; 5];
    for grip in 0..tool.hand.grips.len() {
        let Some([hand, jaw, pins, slots, springs]) = track.energy(grip) else {
            return Err("no force at the jaw".to_owned());
        };
        let off = (hand - jaw - pins - slots - springs).abs();
        if !(off < 1e-6 * hand.abs()) {
            return Err(format!(
                "off by {off:e}: hand {hand}, jaw {jaw}, pins {pins}, slots {slots}, springs {springs}"
            ));
        }
        last = [hand, jaw, pins, slots, springs];
    }
    Ok(last)
}

/// A six-bar with a pin that slides in an arc slot.
fn sliding_in_an_arc(dice: &mut Dice<'_>) -> Option<Tool> {
    Some(random::arc_for_link(&random::six_bar(dice)?))
}

/// With friction at all pins and two springs, over a longer stroke.
fn works_with_friction_and_springs(mut tool: Tool, more: &[f64]) -> Result<(), TestCaseError> {
    random::load(&mut tool, &mut Dice::new(more));
    tool.hand.force = 1000.0;
    tool.stroke.steps = 400;
    if let Target::Handle(open) = tool.stroke.open {
        tool.stroke.shut = Target::Handle(open + 0.1);
    }
    let tool = closing(tool);
    let Some(solved) = solved(&tool)? else {
        return Err(TestCaseError::reject("no stroke"));
    };
    if Track::new(&tool, &solved).reverses() {
        return Err(TestCaseError::reject("friction jumps"));
    }
    match balances(&tool, &solved) {
        Ok([_, _, pins, _, _]) => {
            prop_assert!(pins > 0.0, "there is friction");
            Ok(())
        }
        // Locked, or slack against the springs: no force to balance.
        Err(text) if text.starts_with("no force") => Err(TestCaseError::reject("no force")),
        Err(text) => Err(TestCaseError::fail(text)),
    }
}

proptest! {
    #![proptest_config(config(60))]

    #[test]
    fn six_bars_lose_to_friction_and_springs_what_the_jaw_does_not_get((tool, more) in tools(random::six_bar)) {
        works_with_friction_and_springs(tool, &more)?;
    }

    #[test]
    fn arc_slots_lose_to_friction_and_springs_what_the_jaw_does_not_get((tool, more) in tools(sliding_in_an_arc)) {
        works_with_friction_and_springs(tool, &more)?;
    }

    #[test]
    fn slider_cranks_lose_to_friction_and_springs_what_the_jaw_does_not_get(
        (bar, crank, travel) in slider_cranks(), more in numbers()
    ) {
        prop_assume!((0..=10).all(|k| bar.assembles(crank + (f64::from(k) / 8.0 - 0.125) * travel)));
        let mut tool = bar.tool(crank, crank, crank + travel, true);
        no_dies(&mut tool);
        works_with_friction_and_springs(tool, &more)?;
    }
}

/// The demo tools, whose hand lines are made straight for this (a straight line is what the check
/// can place by itself).
#[test]
fn demo_tools_balance_hand_jaw_friction_and_springs() {
    for (name, _) in crate::models::DEMOS {
        let mut tool = crate::models::demo(name);
        let straight = |line: &mut HandLine| {
            let last = line.points.len() - 1;
            line.points = vec![line.points[0], line.points[last]];
            line.smooth = false;
        };
        straight(&mut tool.hand.handle);
        if let Some(line) = &mut tool.hand.against {
            straight(line);
        }
        tool.hand.force = 500.0;
        tool.stroke.steps = 400;
        // What teeth, cams and ratchets lose is held by hand in their own tests; the sum here knows pins and slots.
        tool.gears.iter_mut().for_each(|gears| gears.friction = 0.0);
        if let Some(ratchet) = &mut tool.ratchet {
            ratchet.height = None;
        }
        if !tool.cams.is_empty() {
            continue;
        }
        if let Target::Span(..) = tool.stroke.open {
            tool.stroke.open = Target::Gap(6.0, JawId::FIRST);
        }
        let solved = solve(&tool, Direction::Closing)
            .unwrap_or_else(|failure| panic!("{name}: {}", failure.text(&tool)));
        let track = Track::new(&tool, &solved);
        assert!(track.joints_off() < 1e-9, "{name}");
        let [hand, jaw, pins, slots, springs] =
            balances(&tool, &solved).unwrap_or_else(|text| panic!("{name}: {text}"));
        println!(
            "{name}: hand {hand:.3} jaw {jaw:.3} pins {pins:.3} slots {slots:.3} springs {springs:.3}"
        );
        assert!(pins > 0.0, "{name} has pin friction");
    }
}
