//! Ratios of the general kernel to a four-bar written out in closed form, in one run.
//!
//! Machines are noisy, so all are timed turn by turn and the ratio of their medians is what
//! counts. `cargo bench` prints them.

#[path = "../tests/models/mod.rs"]
#[allow(dead_code, unreachable_pub)]
mod models;

use jawforce::input::read_tool;
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

/// Tools of one contact each, beside the linkage that does the same or nearly so: a lever about `heel` that is
/// squeezed, and what it drives.
const CONTACTS: [(&str, &str); 5] = [
    ("slider and crank", CRANK),
    ("geared pair", PAIR),
    ("eccentric, on a lever", ROCKER),
    ("eccentric, on a plunger", PRESS),
    ("rack and pinion", RACK),
];

/// What all of them share.
const COMMON: &str = r#"
tool = { name = "One contact", units = "mm-N" }
hand = { part = "lever", line = [[0, 0], [-120, 0]], grips = [100], force = 100, palm = false }
"#;

const CRANK: &str = r#"
sketch = { knee = [10, -6], wrist = [0, -45], foot = [0, -50] }
stroke = { open = { handle = -60 }, shut = { handle = -30 } }
jaw = [{ on = "plunger.foot", against = "frame.anvil", axis = 90 }]
slots = [{ part = "plunger", point = "wrist", on = "frame", through = [0, 0], angle = 90, keyed = true }]
[parts]
frame = { fixed = true, pins = { heel = [0, 0] }, marks = { anvil = [0, -60] } }
lever = { pins = { heel = [0, 0], knee = [12, 0] } }
rod = { pins = { knee = [0, 0], wrist = [40, 0] } }
plunger = { pins = { wrist = [0, 0] }, marks = { foot = [0, -5] } }
"#;

const PAIR: &str = r#"
stroke = { open = { handle = 188 }, shut = { handle = 175 } }
jaw = [{ on = "lever.nose", against = "lower.anvil", axis = 90 }]
[parts]
plate = { fixed = true, pins = { heel = [0, 0], lower-heel = [0, -24] } }
lever = { pins = { heel = [0, 0] }, marks = { witness = [0, -12], nose = [40, -6] } }
lower = { pins = { lower-heel = [0, -24] }, marks = { witness = [0, -12], anvil = [40, -18] } }
[[gears]]
parts = ["lever", "lower"]
about = ["heel", "lower-heel"]
meet = ["lever.witness", "lower.witness"]
teeth = [14, 14]
angle = 20
"#;

const ROCKER: &str = r#"
stroke = { open = { handle = 205 }, shut = { handle = 180 } }
jaw = [{ on = "arm.nose", against = "frame.anvil", axis = 90 }]
[parts]
frame = { fixed = true, pins = { heel = [0, 0], post = [60, -30] }, marks = { anvil = [-30, -60] } }
lever = { pins = { heel = [0, 0] } }
arm = { pins = { post = [60, -30] }, marks = { roll = [2, -33], nose = [-30, -40] } }
[[cams]]
part = "lever"
face = { centre = [6, -4], radius = 24 }
pushes = "arm.roll"
roller = { diameter = 10, pin = 4 }
"#;

const PRESS: &str = r#"
sketch = { roll = [0, -32], foot = [0, -52] }
stroke = { open = { handle = 180 }, shut = { handle = 155 } }
jaw = [{ on = "plunger.foot", against = "frame.anvil", axis = 90 }]
slots = [{ part = "plunger", point = "roll", on = "frame", through = [0, 0], angle = 90, keyed = true }]
[parts]
frame = { fixed = true, pins = { heel = [0, 0] }, marks = { anvil = [0, -60] } }
lever = { pins = { heel = [0, 0] } }
plunger = { marks = { roll = [0, 0], foot = [0, -20] } }
[[cams]]
part = "lever"
face = { centre = [8, -5], radius = 24 }
pushes = "plunger.roll"
roller = { diameter = 10, pin = 4 }
"#;

const RACK: &str = r#"
sketch = { rack = [18, 0], foot = [18, -40] }
stroke = { open = { handle = 180 }, shut = { handle = 150 } }
jaw = [{ on = "plunger.foot", against = "frame.anvil", axis = 90 }]
slots = [{ part = "plunger", point = "rack", on = "frame", through = [18, 0], angle = 90, keyed = true }]
[parts]
frame = { fixed = true, pins = { heel = [0, 0] }, marks = { anvil = [18, -80] } }
lever = { pins = { heel = [0, 0] }, marks = { witness = [18, 0] } }
plunger = { marks = { rack = [0, 0], foot = [0, -40] } }
[[gears]]
parts = ["lever", "plunger"]
about = ["heel", "rack"]
meet = ["lever.witness", "plunger.rack"]
teeth = [18, 0]
angle = 20
"#;

fn read(text: &str) -> Tool {
    let text = format!("{COMMON}{text}");
    let read = read_tool(&text, &|name| Err(format!("{name} is not there")));
    read.unwrap_or_else(|problems| panic!("{problems}")).tool
}

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
    let contacts = passes.len();
    passes.extend(CONTACTS.map(|(_, text)| pass(&read(text), false)));
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
    println!("one contact each, the whole tool");
    for (k, (what, _)) in CONTACTS.iter().enumerate() {
        line(what, medians[contacts + k]);
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
