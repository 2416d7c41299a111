//! Random tools, drawn anywhere on their stroke and off it, take one stroke.

use crate::models::closing;
use crate::models::random::{self, Dice};
use crate::properties::digits;
use jawforce::geometry::Vec2;
use jawforce::mechanism::Linkage;
use jawforce::model::{JawId, PartId, Target, Tool};
use jawforce::motion::{Solver, Survey, Waypoint, survey};
use jawforce::units::UnitSystem;
use proptest::prelude::*;
use std::sync::Arc;

fn linked(tool: &Tool) -> Arc<Linkage> {
    Arc::new(Linkage::new(tool).expect("a linkage"))
}

/// Stands the solver at a place of the motion.
fn stand(solver: &mut Solver, found: &Survey, place: f64) -> Option<()> {
    let before = found.lengths.partition_point(|&l| l <= place);
    let node = before.checked_sub(1)?;
    let ahead = place - found.lengths[node];
    (before < found.lengths.len()).then_some(())?;
    found
        .path
        .stand(solver, Waypoint { node, ahead })
        .map(|_| ())
}

/// A tool drawn at a place of the motion that was found for it.
fn drawn_at(tool: &Tool, linkage: &Arc<Linkage>, found: &Survey, place: f64) -> Option<Tool> {
    let mut solver = Solver::new(linkage.clone());
    stand(&mut solver, found, place)?;
    let mut drawn = tool.clone();
    for (p, part) in PartId::ids(linkage.bodies.len()).zip(&mut drawn.parts) {
        let [x, y] = solver.pose.place(linkage.spot(p, Vec2::ZERO)).xy();
        let [cos, sin] = solver.pose.frames[p].turn.xy();
        part.sketch = [x, y, sin.atan2(cos)];
    }
    Some(drawn)
}

/// Where every point of every part is at both ends of the stroke.
fn ends(tool: &Tool, linkage: &Arc<Linkage>, found: &Survey) -> Vec<[f64; 2]> {
    let mut solver = Solver::new(linkage.clone());
    let mut places = Vec::new();
    for spot in [found.open, found.shut] {
        found
            .path
            .stand(&mut solver, spot)
            .expect("an end of the stroke");
        for (p, part) in PartId::each(&tool.parts) {
            places.extend(
                part.points
                    .iter()
                    .map(|point| solver.pose.place(linkage.spot(p, point.at.into())).xy()),
            );
        }
    }
    places
}

/// How far the tool moves on beyond an end of its stroke, half a radian at most, before the jaw or
/// the handle turns back: on that way no other stroke begins. `way`: +1 along the motion, −1
/// against it; `turns`: how handle and gap go on that way.
fn room(linkage: &Arc<Linkage>, found: &Survey, end: f64, way: f64, turns: [f64; 2]) -> f64 {
    let mut solver = Solver::new(linkage.clone());
    let mut at = |k: u32| {
        stand(&mut solver, found, end + way * 0.01 * f64::from(k))?;
        let pose = &solver.pose;
        Some([linkage.handle(&pose.q), linkage.gap(pose, &linkage.jaws[0])])
    };
    let clear = (0..50)
        .take_while(|&k| match (at(k), at(k + 1)) {
            (Some(a), Some(b)) => (0..2).all(|i| (b[i] - a[i]) * turns[i] > 0.0),
            _ => false,
        })
        .count();
    // Nearer to a toggle or a dead position an end moves by the root of what its target moves.
    if clear > 5 { 0.01 * clear as f64 } else { 0.0 }
}

/// The tool drawn elsewhere, on its stroke and off it, at a target and a hair beyond it, sketched
/// by 1e-9 otherwise, and with its targets stated as gaps, takes the stroke that it took.
fn one_stroke(tool: &Tool, dice: &mut Dice<'_>) -> Result<(), TestCaseError> {
    let linkage = linked(tool);
    let Ok(found) = survey(&linkage, &tool.stroke) else {
        return Err(TestCaseError::reject("no stroke"));
    };
    let place = |s: Waypoint| found.lengths[s.node] + s.ahead;
    let (open, shut) = (place(found.open), place(found.shut));
    let sense = (shut - open).signum();
    let length = (shut - open).abs();
    let turns = [0, 1].map(|i| {
        let mark = |m: jawforce::motion::Mark| [m.handle, m.gap][i];
        mark(found.ends[1]) - mark(found.ends[0])
    });
    let rooms = [
        room(&linkage, &found, open, -sense, turns.map(|v| -v)),
        room(&linkage, &found, shut, sense, turns),
    ];
    if !found.rivals.is_empty() || length < 1e-3 || rooms.contains(&0.0) {
        return Err(TestCaseError::reject("hardly a stroke"));
    }
    let expected = ends(tool, &linkage, &found);
    let same = |other: &Tool, what: &str| -> Result<(), TestCaseError> {
        let linkage = linked(other);
        let now = match survey(&linkage, &other.stroke) {
            Ok(now) => now,
            Err(error) => {
                return Err(TestCaseError::fail(format!(
                    "{what}: {}",
                    error.text(other, UnitSystem::MmN)
                )));
            }
        };
        let off = ends(other, &linkage, &now)
            .iter()
            .zip(&expected)
            .map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1]))
            .fold(0.0, f64::max);
        prop_assert!(
            off < 1e-5,
            "{}: ends off by {} mm, {:?} for {:?}",
            what,
            off,
            now.ends,
            found.ends
        );
        Ok(())
    };
    let gaps = |tool: &Tool| {
        let mut tool = tool.clone();
        tool.stroke.open = Target::Gap(found.ends[0].gap, JawId::FIRST);
        tool.stroke.shut = Target::Gap(found.ends[1].gap, JawId::FIRST);
        tool
    };
    let drawn = |place: f64| drawn_at(tool, &linkage, &found, place);
    for _ in 0..3 {
        if let Some(other) = drawn(open + dice.one() * (shut - open)) {
            same(&other, "on the stroke")?;
            same(&gaps(&other), "on the stroke, by gaps")?;
        }
    }
    for off in [0.0, 1e-11, -1e-11, 1e-9, -1e-9] {
        for (end, what) in [(open, "at open"), (shut, "at shut")] {
            if let Some(other) = drawn(end + off) {
                same(&other, what)?;
            }
        }
    }
    for (end, off, what) in [
        (open, -sense * rooms[0], "before open"),
        (shut, sense * rooms[1], "beyond shut"),
    ] {
        if let Some(other) = drawn(end + 0.45 * dice.one() * off) {
            same(&other, what)?;
            same(&gaps(&other), what)?;
        }
    }
    if let Some(mut other) = drawn(open + dice.within(-0.2, 1.2) * (shut - open)) {
        let before = survey(&linked(&other), &other.stroke);
        for part in &mut other.parts {
            for value in &mut part.sketch {
                *value += dice.within(-1e-9, 1e-9);
            }
        }
        let after = survey(&linked(&other), &other.stroke);
        if let (Ok(before), Ok(after)) = (before, after) {
            for (a, b) in before.ends.iter().zip(&after.ends) {
                prop_assert!((a.handle - b.handle).abs() < 1e-6 && (a.gap - b.gap).abs() < 1e-5);
            }
        } else {
            prop_assert!(false, "no stroke after a move of 1e-9");
        }
    }
    Ok(())
}

fn tools(kind: fn(&mut Dice<'_>) -> Option<Tool>) -> impl Strategy<Value = (Tool, Vec<f64>)> {
    (any::<u64>(), any::<u64>())
        .prop_filter_map("a pose that is not nearly dead", move |(seed, more)| {
            let more = digits(more);
            let mut tool = kind(&mut Dice::new(&digits(seed)))?;
            if let Target::Handle(open) = tool.stroke.open {
                tool.stroke.shut = Target::Handle(open + 0.02 + 0.3 * more[79]);
            }
            Some((closing(tool), more))
        })
        .no_shrink()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn six_bars_drawn_anywhere_take_one_stroke((tool, more) in tools(random::six_bar)) {
        one_stroke(&tool, &mut Dice::new(&more))?;
    }

    #[test]
    fn pins_in_slots_drawn_anywhere_take_one_stroke((tool, more) in tools(random::pin_in_slot)) {
        one_stroke(&tool, &mut Dice::new(&more))?;
    }

    #[test]
    fn parts_on_slots_drawn_anywhere_take_one_stroke((tool, more) in tools(random::trammel)) {
        one_stroke(&tool, &mut Dice::new(&more))?;
    }

    #[test]
    fn two_moving_handles_drawn_anywhere_take_one_stroke((tool, more) in tools(random::compound)) {
        one_stroke(&tool, &mut Dice::new(&more))?;
    }
}
