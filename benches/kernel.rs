//! Ratios of the general kernel to a four-bar written out in closed form, in one run.
//!
//! Machines are noisy, so all are timed turn by turn and the ratio of their medians is what
//! counts. `cargo bench` prints them.

#[path = "../tests/models/mod.rs"]
#[allow(dead_code, unreachable_pub)]
mod models;

use jawforce::mechanism::Linkage;
use jawforce::model::{Direction, Tool};
use jawforce::motion::{Solver, Stroke, survey};
use jawforce::statics::{Answers, Ask, Burden, Forces, Springs, closing_senses, contacts};
use models::chain::chain;
use models::four_bar::FourBar;
use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

const STEPS: usize = 360;
const ROUNDS: usize = 301;

const BAR: FourBar = FourBar {
    a: 24.0,
    b: 26.0,
    c: 40.0,
    d: 52.0,
    e: 55.0,
    grip: 100.0,
    axis: 2.2,
    side: 1.0,
};
const OPEN: f64 = 1.0;
const SHUT: f64 = 0.5;
/// Numbers of four-bars in the chains.
const CHAINS: [usize; 4] = [1, 8, 14, 28];

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn seconds(f: &mut dyn FnMut()) -> f64 {
    let start = Instant::now();
    f();
    start.elapsed().as_secs_f64()
}

fn four_bar(friction: bool) -> Tool {
    let mut tool = BAR.tool(0.5 * (OPEN + SHUT), OPEN, SHUT);
    if friction {
        for data in &mut tool.joint_data {
            data.diameter = Some(6.0);
            data.friction = 0.12;
        }
    }
    tool
}

/// One pass over the stroke of a tool: position, ratio and every pin force. `whole`: by one whole
/// matrix.
fn pass(tool: &Tool, whole: bool) -> Box<dyn FnMut()> {
    let mut linkage = Linkage::new(tool).expect("a linkage");
    if whole {
        (linkage.sparse, linkage.closed) = (None, None);
    }
    let linkage = Arc::new(linkage);
    let survey = Arc::new(survey(&linkage, &tool.stroke).expect("a stroke"));
    let mut solver = Solver::new(Arc::clone(&linkage));
    let sides = closing_senses(&mut solver, &survey);
    let stroke = Stroke::new(survey, &mut solver).expect("a stroke");
    let burden = Burden {
        springs: Springs::new(tool, &linkage, &solver.pose),
        contacts: contacts(tool, &linkage),
        direction: Direction::Closing,
        held: None,
        pawl: None,
    };
    let mut forces = Forces::new(&linkage, &burden);
    let ask = Ask {
        hand_force: 100.0,
        sides,
        burden,
        only: None,
        answers: Answers::All,
    };
    Box::new(move || {
        let mut walk = stroke.walk();
        for k in 0..=STEPS {
            let stance = stroke
                .position(&mut solver, &mut walk, k, STEPS)
                .expect("a position");
            forces.stand(&solver, stance, &ask);
            forces.solve(&solver, &ask, None);
            black_box(&forces);
        }
    })
}

fn main() {
    let closed = Box::new(|| {
        for k in 0..=STEPS {
            let crank = OPEN + (SHUT - OPEN) * k as f64 / STEPS as f64;
            black_box(BAR.solve(black_box(crank), 1.0));
        }
    });
    let mut passes: Vec<Box<dyn FnMut()>> = vec![
        closed,
        pass(&four_bar(false), false),
        pass(&four_bar(true), false),
        pass(&four_bar(false), true),
    ];
    let first = passes.len();
    passes.extend(CHAINS.map(|count| pass(&chain(count), false)));
    let mut times = vec![Vec::new(); passes.len()];
    for _ in 0..ROUNDS {
        for (times, pass) in times.iter_mut().zip(&mut passes) {
            times.push(seconds(pass.as_mut()) * 1e9 / (STEPS + 1) as f64);
        }
    }
    let medians: Vec<f64> = times.into_iter().map(median).collect();
    let [yardstick, plain, rubbing, whole] = [0, 1, 2, 3].map(|k| medians[k]);
    println!("four-bar, {STEPS} steps, one grip: position, ratio and every pin force");
    println!("closed form              {yardstick:8.0} ns per position");
    let line = |what: &str, time: f64| {
        let times = time / yardstick;
        println!("{what:24} {time:8.0} ns per position: {times:.2} x the closed form");
    };
    line("general kernel", plain);
    line("by one whole matrix", whole);
    println!(
        "with friction in 4 pins  {rubbing:8.0} ns per position: {:.2} x the frictionless kernel",
        rubbing / plain
    );
    println!("chains of four-bars, per four-bar");
    for (k, count) in CHAINS.into_iter().enumerate() {
        line(
            &format!("chain of {count}"),
            medians[first + k] / count as f64,
        );
    }
    println!("following the whole motion");
    for count in CHAINS {
        let tool = chain(count);
        let linkage = Arc::new(Linkage::new(&tool).expect("a linkage"));
        let mut follow = || {
            black_box(survey(&linkage, &tool.stroke).expect("a stroke"));
        };
        let time = median((0..9).map(|_| seconds(&mut follow)).collect());
        println!("chain of {count:<15} {:8.1} ms", time * 1e3);
    }
}
