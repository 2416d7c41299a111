//! Work curves of very many rows: the peak, the least value and the first stall are those that every
//! row, looked at by hand, has (see `hand_peaks` for the lever and its closed form).

use super::hand_peaks::{lever, needs, peak, stall};
use jawforce::analysis::{Analysis, Direction, Outcome};
use jawforce::input::read_tool;
use jawforce::model::{At, HandLimit, JawId, Measure, Tool};
use std::time::{Duration, Instant};

/// Rows from gap 8 to 0: the middle, plus noise of some newtons that is the same on each run (the
/// minimal standard generator, S. K. Park and K. W. Miller, "Random number generators", CACM 31 (1988)).
fn noisy(rows: usize, middle: impl Fn(f64) -> f64) -> Vec<[f64; 2]> {
    let mut state = 1_u64;
    let row = |k: usize| {
        state = state * 16807 % 2_147_483_647;
        let gap = 8.0 * (1.0 - k as f64 / (rows - 1) as f64);
        [gap, middle(gap) + 6.0 * state as f64 / 2_147_483_647.0]
    };
    (0..rows).map(row).collect()
}

/// A hill that is flat against the noise over some tenths of a millimetre.
fn hill(gap: f64) -> f64 {
    900.0 - 10.0 * (gap - 3.0).powi(2)
}

/// The greatest and the least that the hand needs at any row; between two rows 4 W is a straight line and
/// cos φ bends by less than 1e-8 of itself.
fn by_hand(need: &[[f64; 2]], sense: f64) -> [f64; 2] {
    let each = need.iter().map(|&[gap, work]| [needs(work, gap), gap]);
    let greater = |a: &[f64; 2], b: &[f64; 2]| (sense * a[0]).total_cmp(&(sense * b[0]));
    each.max_by(greater).expect("rows")
}

fn least(tool: Tool) -> f64 {
    let analysis = Analysis::of(tool);
    let least = analysis.judge(Direction::Closing, |judge| {
        judge.read(&Measure::HandForce, JawId::FIRST, Some(At::Least), None)
    });
    least.expect("a stroke").expect("a place").expect("a value")
}

fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "{found}, not {expected}"
    );
}

#[test]
fn the_peak_of_many_rows_is_that_of_all() {
    for (rows, middle) in [
        (1200, hill as fn(f64) -> f64),
        (5000, hill),
        (5000, |gap| 100.0 * gap),
        (5000, |gap| 900.0 - 100.0 * gap),
        // What the hand needs is the same everywhere but for the noise.
        (5000, |gap| 400.0 / (1.0 - (gap / 30.0).powi(2)).sqrt()),
    ] {
        let need = noisy(rows, middle);
        let tool = lever(12, &need);
        let [force, gap] = peak(&tool);
        let [expected, place] = by_hand(&need, 1.0);
        near(force, expected, 1e-7 * expected);
        near(gap, place, 1e-6);
    }
}

/// From gap 8 on, where the work is touched; before, at gap 9, the hand needs nothing: so the work of this
/// one begins at gap 9.5.
#[test]
fn the_least_value_of_many_rows_is_that_of_all() {
    let mut need = noisy(5000, |gap| 500.0 + 10.0 * (gap - 3.0).powi(2));
    need.insert(0, [9.5, 2000.0]);
    let [expected, _] = by_hand(&need, -1.0);
    near(least(lever(12, &need)), expected, 1e-7 * expected);
}

#[test]
fn the_first_stall_among_many_rows() {
    let need = noisy(5000, hill);
    let mut tool = lever(12, &need);
    let [greatest, _] = by_hand(&need, 1.0);
    for share in [0.9, 0.99, 0.9999] {
        let limit = share * greatest;
        tool.hand.limit = Some(HandLimit::Force(limit));
        // Rows fall: the first that needs more, and the one before, between which the stall is.
        let over = |&[gap, work]: &[f64; 2]| needs(work, gap) > limit;
        let first = need.iter().position(over).expect("above the limit");
        let [gap, at] = stall(&tool).expect("a stall");
        near(at, limit, 1e-9);
        assert!(
            gap <= need[first - 1][0] && gap >= need[first][0],
            "{share}: {gap}"
        );
    }
    tool.hand.limit = Some(HandLimit::Force(1.0001 * greatest));
    assert_eq!(stall(&tool), None);
}

/// Of a jump among many rows the side counts that needs more, and one alone may be narrower than all.
#[test]
fn jumps_among_many_rows() {
    let mut need = noisy(5000, hill);
    let at = 3100;
    let gap = need[at][0];
    need.splice(at..=at, [[gap, 900.0], [gap, 2000.0], [gap - 1e-6, 900.0]]);
    let [force, place] = peak(&lever(12, &need));
    near(force, needs(2000.0, gap), 1e-4);
    near(place, gap, 1e-7);
}

/// Generous for a debug build on a busy machine; looked at row by row it took minutes.
#[test]
fn a_hundred_thousand_rows_take_no_time() {
    let need = noisy(100_000, hill);
    let begin = Instant::now();
    let mut tool = lever(60, &need);
    tool.hand.limit = Some(HandLimit::Force(200.0));
    let [force, _] = peak(&tool);
    let [expected, _] = by_hand(&need, 1.0);
    near(force, expected, 1e-8 * expected);
    assert!(stall(&tool).is_some());
    let took = begin.elapsed();
    assert!(took < Duration::from_secs(20), "{took:?}");
}

/// More rows on the straight lines between the rows say nothing new: the demo press, with friction and
/// springs, is judged alike, peaks, work of the hand and factors included.
#[test]
fn rows_on_the_lines_between_rows_change_nothing() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-data/");
    let read = |name: &str| std::fs::read_to_string(format!("{folder}{name}")).expect("a file");
    let judged = |more: usize| {
        let load = |name: &str| Ok(read(name));
        let mut tool = read_tool(&read("pin-plunger.toml"), &load)
            .expect("a tool")
            .tool;
        let work = tool.jaws[0].work.as_mut().expect("work");
        let between = |k: usize, w: &[[f64; 2]]| {
            let share = k as f64 / more as f64;
            [0, 1].map(|i| w[0][i] + share * (w[1][i] - w[0][i]))
        };
        let last = *work.need.last().expect("rows");
        let piece = |w: &[[f64; 2]]| (0..more).map(|k| between(k, w)).collect::<Vec<_>>();
        work.need = work.need.windows(2).flat_map(piece).chain([last]).collect();
        let analysis = Analysis::of(tool);
        let demands = analysis.judge(Direction::Closing, |judge| judge.demands());
        let demands = demands.expect("a stroke").expect("all demands");
        let value = |demand: &Outcome| demand.value().expect("a value");
        demands.iter().map(value).collect::<Vec<f64>>()
    };
    let (few, many) = (judged(1), judged(400));
    assert!(few.len() >= 7 && few.len() == many.len());
    for (few, many) in few.iter().zip(&many) {
        near(*many, *few, 1e-6 * few.abs());
    }
}

/// Without friction and springs the work of the hand is the area under the curve: trapezoids, by hand.
#[test]
fn the_hand_works_the_area_of_many_rows() {
    let need = noisy(5000, hill);
    let area: f64 = (need.windows(2))
        .map(|w| 0.5 * (w[0][1] + w[1][1]) * (w[0][0] - w[1][0]))
        .sum();
    let analysis = Analysis::of(lever(12, &need));
    let work = analysis.judge(Direction::Closing, |judge| {
        judge.read(&Measure::HandWork, JawId::FIRST, None, None)
    });
    let work = work.expect("a stroke").expect("read").expect("a value");
    near(work, area, 1e-9 * area);
}
