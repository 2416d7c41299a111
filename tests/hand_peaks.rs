//! The greatest hand force and the first stall lie between the steps of the stroke: a lever on one pin,
//! by hand.
//!
//! The lever turns about the origin. Its nose, 30 mm to the right, works against an anvil level with the
//! pin: with the lever φ above the level, the gap is g = 30 sin φ. The hand holds it 120 mm to the left,
//! square to it, so that the jaw force is 120 / (30 cos φ) times the hand force: for a work W the hand
//! needs W cos φ / 4, with cos φ = √(1 − (g / 30)²).

use jawforce::analysis::{Direction, Solved, solve};
use jawforce::input::read_tool;
use jawforce::model::{
    Hand, HandLimit, HandLine, Jaw, JawId, Part, PartId, Place, PointRef, Stroke, Target, Tool,
    Work,
};
use jawforce::output::{ChartOptions, TableOptions, force_curves, to_table, unstyled};
use jawforce::report::{Source, stroke_report};
use jawforce::statics::Answer;

/// The lever from gap 9 to gap 0 in `steps`, with this work.
pub fn lever(steps: usize, need: &[[f64; 2]]) -> Tool {
    let part = |name| Part::new(name, &[("heel", [0.0, 0.0])], &[("nose", [30.0, 0.0])]);
    let nose = |part| PointRef {
        part: PartId::new(part),
        point: 1,
    };
    let jaw = Jaw {
        name: "nose".to_owned(),
        on: nose(1),
        against: nose(0),
        axis: Some(std::f64::consts::FRAC_PI_2),
        closed: 0.0,
        work: None,
    };
    let hand = Hand::new(PartId::new(1), &[[0.0, 0.0], [-120.0, 0.0]], &[120.0]);
    let stroke = Stroke {
        open: Target::Gap(9.0, JawId::FIRST),
        shut: Target::Gap(0.0, JawId::FIRST),
        steps,
        lead: JawId::FIRST,
    };
    let mut tool = Tool::new(
        "lever",
        vec![part("base"), part("lever")],
        hand,
        jaw,
        stroke,
    );
    tool.jaws[0].work = Some(Work {
        scale: 1.0,
        estimate: None,
        finish: None,
        need: need.to_vec(),
        note: None,
        rigid: None,
    });
    tool
}

/// What the hand needs for a work (N) at a gap (mm), N.
pub fn needs(work: f64, gap: f64) -> f64 {
    0.25 * work * (1.0 - (gap / 30.0).powi(2)).sqrt()
}

fn solved(tool: &Tool) -> Solved {
    solve(tool, Direction::Closing).unwrap_or_else(|e| panic!("{}", e.text(tool)))
}

fn text(tool: &Tool) -> String {
    let report = stroke_report(tool, &solved(tool), &[], &Source::default(), tool.units);
    let options = TableOptions {
        width: 200,
        ..TableOptions::default()
    };
    unstyled(&to_table(&report, &options))
}

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "{found}, not {expected}"
    );
}

/// The peak of the only grip, and the gap where it stands.
pub fn peak(tool: &Tool) -> [f64; 2] {
    let peaks = solved(tool).peaks;
    assert_eq!(peaks.len(), 1);
    let Ok(force) = peaks[0].force else {
        panic!("{:?}", peaks[0]);
    };
    [force, peaks[0].place.gap]
}

/// The gap of the first stall, and the limit there.
pub fn stall(tool: &Tool) -> Option<[f64; 2]> {
    let stalls = solved(tool).stalls;
    assert_eq!(stalls.len(), 1);
    stalls[0].map(|stall| [stall.place.gap, stall.limit.expect("no lock")])
}

/// 40 N from gap 8 on, with a spike to 4000 N at gap 4 that is 0.02 mm wide; in 12 steps none of
/// the positions lies on it.
const SPIKE: [[f64; 2]; 5] = [
    [8.0, 40.0],
    [4.01, 40.0],
    [4.0, 4000.0],
    [3.99, 40.0],
    [0.0, 40.0],
];

#[test]
fn a_spike_between_two_positions_is_the_peak() {
    let mut tool = lever(12, &SPIKE);
    let at_top = needs(4000.0, 4.0);
    let [force, gap] = peak(&tool);
    near(force, at_top, 1e-6 * at_top);
    near(gap, 4.0, 1e-7);
    // 1000 √(1 − (4 / 30)²) = 991.07
    tool.hand.limit = Some(HandLimit::Force(1000.0));
    assert_eq!(stall(&tool), None);
    let said = text(&tool);
    assert!(
        said.contains("Grip 120 mm: peak hand force 991 N at gap 4.00 mm; no stall."),
        "{said}"
    );
}

/// The work passes W where the hand needs 200 N: on the way up the spike W = 40 + 396000 (4.01 − g), and
/// W √(1 − (g/30)²) = 800. With g = 4.01 − (W − 40) / 396000 inside the root, by fixed point:
/// W = 800 / √(1 − (4.00807 / 30)²) = 807.2, g = 4.01 − 767.2 / 396000 = 4.008063.
#[test]
fn a_spike_over_the_limit_between_two_positions_stalls() {
    let mut tool = lever(12, &SPIKE);
    tool.hand.limit = Some(HandLimit::Force(200.0));
    let [gap, limit] = stall(&tool).expect("a stall");
    near(gap, 4.008_063, 1e-6);
    near(needs(40.0 + 396_000.0 * (4.01 - gap), gap), 200.0, 1e-6);
    near(limit, 200.0, 0.0);
    let said = text(&tool);
    assert!(
        said.contains(
            "Grip 120 mm: peak hand force 991 N at gap 4.00 mm; \
             STALLS: the 200 N limit is reached at gap 4.01 mm."
        ),
        "{said}"
    );
    // No position needs more than 40 N / 4.
    for position in solved(&tool).positions {
        let within = match position.grips[0].needed {
            Some(Answer::Moves { force, .. }) => force <= 10.0,
            Some(Answer::Slack) => true,
            _ => false,
        };
        assert!(within, "{position:?}");
    }
}

/// The picture too: one ring, on the line of the limit, and the peak in the words for those who cannot
/// see it.
#[test]
fn the_chart_shows_the_spike_and_the_stall() {
    let mut tool = lever(12, &SPIKE);
    tool.hand.limit = Some(HandLimit::Force(600.0));
    let report = stroke_report(&tool, &solved(&tool), &[], &Source::default(), tool.units);
    let svg = force_curves(&report, &ChartOptions::default()).expect("a chart");
    let after = |mark: &str, key: &str| -> f64 {
        let (_, rest) = svg.split_once(mark).expect("that mark");
        let (_, rest) = rest.split_once(key).expect("that key");
        let end = rest.find(['"', ' ']).expect("an end");
        rest[..end].parse().expect("a number")
    };
    assert_eq!(svg.matches("class=\"stall\"").count(), 1);
    // The limit is a level line: `M x y L …`.
    let (_, path) = svg.split_once("class=\"limit\" d=\"M").expect("a limit");
    let level = path
        .split(' ')
        .nth(1)
        .expect("y")
        .parse()
        .expect("a number");
    near(after("class=\"stall\"", "cy=\""), level, 0.11);
    assert!(
        svg.contains("grip 120 mm, stalls at 4.00 mm: 0 to 10.0 N, peak 991 N."),
        "{}",
        &svg[..2000]
    );
}

/// Two spikes in one step, the lower one first: it stalls at the first that the hand cannot do, and the
/// peak is the second. 300 N at gap 4.4 needs 75 √(1 − (4.4/30)²) = 74.19 N, 500 N at 4.2 123.77 N.
#[test]
fn of_two_spikes_in_one_step_each_has_its_part() {
    let two = [
        [8.0, 0.0],
        [4.41, 0.0],
        [4.4, 300.0],
        [4.39, 0.0],
        [4.21, 0.0],
        [4.2, 500.0],
        [4.19, 0.0],
    ];
    let mut tool = lever(3, &two);
    let [force, gap] = peak(&tool);
    near(force, needs(500.0, 4.2), 1e-4);
    near(gap, 4.2, 1e-7);
    for (limit, from, to) in [(70.0, 4.41, 4.40), (80.0, 4.21, 4.20)] {
        tool.hand.limit = Some(HandLimit::Force(limit));
        let [gap, _] = stall(&tool).expect("a stall");
        assert!(gap < from && gap > to, "{gap}");
        // On the straight line of the way up.
        let top = if limit < 75.0 { 300.0 } else { 500.0 };
        near(needs(top * (from - gap) / 0.01, gap), limit, 1e-5);
    }
    tool.hand.limit = Some(HandLimit::Force(124.0));
    assert_eq!(stall(&tool), None);
}

/// Work that falls with the gap, 100 g: the hand needs 25 g √(1 − (g/30)²), which rises with g up to
/// 30/√2. Work that rises by 100 N/mm from gap 9 on: 25 (9 − g) √(1 − (g/30)²), which falls with g from
/// where 2 g² − 9 g − 900 = 0, g = −19.1. So each is greatest at an end of the stroke.
#[test]
fn a_peak_at_an_end_is_that_end() {
    let [force, gap] = peak(&lever(12, &[[10.0, 1000.0], [0.0, 0.0]]));
    near(gap, 9.0, 1e-12);
    near(force, needs(900.0, 9.0), 1e-9);
    let [force, gap] = peak(&lever(12, &[[9.0, 0.0], [0.0, 900.0]]));
    near(gap, 0.0, 1e-12);
    near(force, 225.0, 1e-9);
}

/// A smooth peak: with the anvil 100 mm lower, the lever goes from g = 15 on to −15, and the work falls by
/// 1 N/mm from 1000 N at g = 15. The hand needs (985 + g) cos φ / 4 with g = 30 sin φ, greatest where
/// 30 cos² φ = (985 + 30 sin φ) sin φ: s = sin φ solves 60 s² + 985 s − 30 = 0,
/// s = (−985 + √(985² + 7200)) / 120 = 0.0304006.
#[test]
fn a_smooth_peak_is_found_between_the_positions() {
    let s = (-985.0 + (985.0_f64.powi(2) + 7200.0).sqrt()) / 120.0;
    for steps in [3, 4, 7] {
        let mut tool = lever(steps, &[[115.5, 1000.5], [85.0, 970.0]]);
        tool.jaws[0].closed = -100.0;
        tool.stroke.open = Target::Gap(115.0, JawId::FIRST);
        tool.stroke.shut = Target::Gap(85.0, JawId::FIRST);
        let [force, gap] = peak(&tool);
        near(gap - 100.0, 30.0 * s, 1e-4);
        near(
            force,
            0.25 * (985.0 + 30.0 * s) * (1.0 - s * s).sqrt(),
            1e-9,
        );
    }
}

/// The other handle is level, on the base. Between the grip and the point across from it, both 120 mm from
/// the pin, the span is u = 240 sin(φ/2). The limit is 20 N, with a dip to 8 N at the span 16, 0.2 mm wide.
/// A work of 40 N needs 10 cos φ = 10 (1 − 2 u² / 240²). On the way down into the dip
/// 20 − 120 (16.1 − u) = 10 (1 − u² / 28800), so u² / 2880 + 120 u − 1922 = 0.
#[test]
fn a_dip_of_the_limit_between_two_positions_stalls() {
    let mut tool = lever(12, &[[8.0, 40.0], [0.0, 40.0]]);
    tool.hand.against = Some(HandLine {
        part: PartId::FIRST,
        points: [[0.0, 0.0], [-140.0, 0.0]].map(Place::At).to_vec(),
        smooth: false,
    });
    tool.hand.limit = Some(HandLimit::Table(vec![
        [0.0, 20.0],
        [15.9, 20.0],
        [16.0, 8.0],
        [16.1, 20.0],
        [80.0, 20.0],
    ]));
    let [gap, limit] = stall(&tool).expect("a stall");
    let span = (-120.0 + (120.0_f64.powi(2) + 4.0 * 1922.0 / 2880.0).sqrt()) * 1440.0;
    let angle = 2.0 * (span / 240.0).asin();
    near(gap, 30.0 * angle.sin(), 1e-9);
    near(limit, 10.0 * angle.cos(), 1e-7);
    let said = text(&tool);
    assert!(
        said.contains(
            "peak hand force 10.0 N at gap 0.00 mm, where the limit is 20.0 N; \
             STALLS: the 9.91 N limit is reached at gap 4.00 mm."
        ),
        "{said}"
    );
}

/// However few the steps, peak and stall are the same: a tool with friction and springs.
#[test]
fn the_steps_of_the_stroke_change_nothing() {
    let text_of = |name: &str| std::fs::read_to_string(format!("demo-data/{name}"));
    let beside = |name: &str| text_of(name).map_err(|e| e.to_string());
    let file = text_of("eyelet-toggle.toml").expect("a file");
    let mut tool = read_tool(&file, &beside).expect("a good file").tool;
    tool.stroke.steps = 90;
    let fine = solved(&tool);
    tool.stroke.steps = 8;
    let coarse = solved(&tool);
    assert_eq!(coarse.peaks.len(), 3);
    for (a, b) in fine.peaks.iter().zip(&coarse.peaks) {
        let (a, b) = (a.force.expect("a peak"), b.force.expect("a peak"));
        near(a, b, 1e-7 * a);
    }
    for (a, b) in fine.stalls.iter().zip(&coarse.stalls) {
        assert_eq!(a.is_some(), b.is_some());
        if let (Some(a), Some(b)) = (a, b) {
            near(a.place.gap, b.place.gap, 1e-9);
        }
    }
}
