//! Ratios of the general kernel to a four-bar written out in closed form, in one run.
//!
//! Machines are noisy, so the two are timed turn by turn and the ratio of their medians is what
//! counts. `cargo bench` prints them.

#[path = "../tests/models/mod.rs"]
#[allow(dead_code, unreachable_pub)]
mod models;

use jawforce::mechanism::Linkage;
use jawforce::model::{Direction, Tool};
use jawforce::motion::{Solver, Stroke, survey};
use jawforce::statics::{Answers, Ask, Burden, Forces, Springs, closing_senses, contacts};
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

/// Nanoseconds per position of one pass of `f`.
fn pass(f: &mut dyn FnMut()) -> f64 {
    let start = Instant::now();
    f();
    start.elapsed().as_secs_f64() * 1e9 / (STEPS + 1) as f64
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn tool(friction: bool) -> Tool {
    let mut tool = BAR.tool(0.5 * (OPEN + SHUT), OPEN, SHUT);
    if friction {
        for data in &mut tool.joint_data {
            data.diameter = Some(6.0);
            data.friction = 0.12;
        }
    }
    tool
}

fn main() {
    let closed = &mut || {
        for k in 0..=STEPS {
            let crank = OPEN + (SHUT - OPEN) * k as f64 / STEPS as f64;
            black_box(BAR.solve(black_box(crank), 1.0));
        }
    };
    let (plain, rubbing) = (tool(false), tool(true));
    let linkages = [&plain, &rubbing].map(|t| Arc::new(Linkage::new(t).expect("a four-bar")));
    let surveys = [0, 1].map(|k| Arc::new(survey(&linkages[k], &plain.stroke).expect("a stroke")));
    let mut passes: Vec<Box<dyn FnMut()>> = Vec::new();
    for (k, tool) in [&plain, &rubbing].into_iter().enumerate() {
        let (linkage, survey) = (&linkages[k], &surveys[k]);
        let mut solver = Solver::new(Arc::clone(linkage));
        let sides = closing_senses(&mut solver, survey);
        let stroke = Stroke::new(Arc::clone(survey), &mut solver).expect("a stroke");
        let burden = Burden {
            springs: Springs::new(tool, linkage, &solver.pose),
            contacts: contacts(tool, linkage),
            direction: Direction::Closing,
        };
        let mut forces = Forces::new(linkage, &burden);
        let ask = Ask {
            hand_force: 100.0,
            sides,
            burden,
            only: None,
            answers: Answers::All,
        };
        passes.push(Box::new(move || {
            let mut walk = stroke.walk();
            for k in 0..=STEPS {
                let stance = stroke
                    .position(&mut solver, &mut walk, k, STEPS)
                    .expect("a position");
                forces.stand(&solver, stance, &ask);
                forces.solve(&solver, &ask, None);
                black_box(&forces);
            }
        }));
    }
    let mut times = vec![Vec::new(); 3];
    for _ in 0..ROUNDS {
        times[0].push(pass(closed));
        for (k, kernel) in passes.iter_mut().enumerate() {
            times[k + 1].push(pass(kernel.as_mut()));
        }
    }
    let [yardstick, plain, rubbing] = [0, 1, 2].map(|k| median(times[k].clone()));
    println!("four-bar, {STEPS} steps, one grip: position, ratio and every pin force");
    println!("closed form              {yardstick:8.0} ns per position");
    println!(
        "general kernel           {plain:8.0} ns per position: {:.2} x the closed form",
        plain / yardstick
    );
    println!(
        "with friction in 4 pins  {rubbing:8.0} ns per position: {:.2} x the frictionless kernel",
        rubbing / plain
    );
}
