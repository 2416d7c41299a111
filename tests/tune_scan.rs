//! `tune` against a scan of the ranges, and on one thread and two: on the demo tools with two dimensions
//! and on four tools with ten.

use crate::drafts::{ten_dimensions, two_dimensions};
use jawforce::analysis::{Analysis, Direction, Judge};
use jawforce::model::dimension::find;
use jawforce::model::{Measure, Tool, Want};
use jawforce::tune::{Tuned, breach};
use rayon::prelude::*;

/// Breach and aim (to be small) of a tool, read apart from the search, unless it cannot be better than
/// `bar`: strength last, since it takes long.
fn judged(tool: &Tool, bar: Option<[f64; 2]>) -> Option<[f64; 2]> {
    let goal = tool.aim.as_ref().unwrap();
    let read = |judge: &mut Judge<'_, '_>| {
        let strong = |k: &usize| matches!(tool.demands[*k].measure, Measure::Safety(_));
        let (last, first): (Vec<usize>, Vec<usize>) = (0..tool.demands.len()).partition(strong);
        let passed = |judge: &mut Judge<'_, '_>, demands: Vec<usize>| {
            let read = demands.into_iter().map(|k| judge.demand(k).ok());
            let read: Vec<_> = read.collect::<Option<_>>()?;
            let each = read.iter().flatten().map(|d| breach(tool, d));
            Some(each.fold(0.0, f64::max))
        };
        let soon = passed(judge, first)?;
        if bar.is_some_and(|bar| soon > bar[0]) {
            return None;
        }
        let value = judge
            .read(&goal.measure, goal.jaw, goal.at, goal.grip)
            .ok()?
            .ok()?;
        let aim = match goal.want {
            Want::Least => value,
            Want::Most => -value,
            Want::Value(wanted) => (value - wanted).abs(),
        };
        if bar.is_some_and(|bar| bar[0] == 0.0 && aim > bar[1]) {
            return None;
        }
        Some([soon.max(passed(judge, last)?), aim])
    };
    let analysis = Analysis::of(tool.clone());
    analysis.judge(Direction::Closing, read).ok().flatten()
}

fn with(tool: &Tool, at: &[f64]) -> Tool {
    let mut tool = tool.clone();
    for (tune, value) in tool.tunes.clone().iter().zip(at) {
        let slot = find(&tool, &tune.dimension).unwrap();
        assert!(slot.set(&mut tool, *value));
    }
    tool
}

/// The best of so many points, if one is as good as `bar`: multiples of what calipers read, spread by steps of irrational ratios
/// (the fractional parts of the square roots of primes), whichever keeps the demands first.
fn scan(tool: &Tool, bar: [f64; 2], points: usize) -> Option<[f64; 2]> {
    let step = tool.units.caliper_step();
    let primes = [2.0_f64, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0, 23.0, 29.0];
    let point = |k: usize| {
        let one = |(tune, prime): (&jawforce::model::Tune, &f64)| {
            let share = (k as f64 * prime.sqrt()).fract();
            let value = tune.from + share * (tune.to - tune.from);
            ((value / step).round() * step).clamp(tune.from, tune.to)
        };
        let at: Vec<f64> = tool.tunes.iter().zip(&primes).map(one).collect();
        judged(&with(tool, &at), Some(bar))
    };
    let found: Vec<[f64; 2]> = (1..=points).into_par_iter().filter_map(point).collect();
    found.into_iter().min_by(|a, b| a.partial_cmp(b).unwrap())
}

fn tuned(tool: &Tool) -> Tuned {
    Analysis::of(tool.clone()).tune(&|| ()).unwrap()
}

/// A value aimed at is hit when calipers could not tell the difference on the force, 1 part in 1000.
const HIT: f64 = 1e-3;

fn never_worse(tools: Vec<(&str, Tool)>, points: usize) {
    for (name, tool) in tools {
        let found = tuned(&tool);
        let at: Vec<f64> = found.dimensions.iter().map(|d| d.2).collect();
        let ours = judged(&with(&tool, &at), None).unwrap();
        let scanned = scan(&tool, ours, points);
        let room = match tool.aim.as_ref().unwrap().want {
            Want::Value(wanted) => HIT * wanted,
            _ => 1e-9 * ours[1].abs(),
        };
        println!(
            "{name}: tuned {ours:?}, best of {points} {scanned:?}, {} looked at",
            found.judged
        );
        let Some(scanned) = scanned else { continue };
        assert!(ours[0] <= scanned[0], "{name}: {ours:?} {scanned:?}");
        if ours[0] == scanned[0] {
            assert!(ours[1] <= scanned[1] + room, "{name}: {ours:?} {scanned:?}");
        }
    }
}

#[test]
fn tuning_is_never_worse_than_a_scan() {
    never_worse(two_dimensions(), 60);
    never_worse(ten_dimensions().into_iter().take(1).collect(), 40);
}

/// Takes minutes: `cargo test --release --test suite scan_of_ten -- --ignored --nocapture`.
#[test]
#[ignore = "takes minutes"]
fn tuning_is_never_worse_than_a_scan_of_ten_thousand() {
    never_worse(two_dimensions(), 10_000);
    never_worse(ten_dimensions(), 10_000);
}

/// The same to the last bit, whatever the number of threads.
#[test]
fn one_thread_and_two_find_the_same() {
    let on = |threads: usize, tool: &Tool| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        pool.install(|| tuned(tool))
    };
    // Strength takes longest on the plunger.
    let tools = two_dimensions().into_iter();
    for (name, tool) in tools.filter(|(name, _)| !name.starts_with("plunger")) {
        let [one, two] = [1, 2].map(|threads| on(threads, &tool));
        assert_eq!(one, two, "{name}");
    }
}
