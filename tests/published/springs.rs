//! Springs that a plunger in its guide presses straight on: force and stored energy.

use super::{Drawing, close};
use jawforce::measure::{Measure, Reader};
use jawforce::model::{Direction, GripId};
use jawforce::statics::{Mounted, Rig};

/// A plunger 100 mm off a wall, pressed towards it; a spring of this rate between the two, `free`
/// long. Nothing else resists. The stroke goes from one gap to the other.
fn plunger(rate: &str, free: f64, [open, shut]: [f64; 2]) -> Drawing {
    Drawing::new("mm-N")
        .fixed("base", &[], &[("wall", [0.0; 2])])
        .part("plunger", &[], &[("nose", [100.0, 0.0])])
        .slot("plunger.nose", "base", [0.0; 2], 0.0, true)
        .hand("plunger", [120.0, 0.0], [140.0, 0.0], "180", 100.0)
        .jaw("nose", "plunger.nose", "base.wall", 0.0)
        .stroke("gap", open, shut)
        .work(0.0)
        .add(&format!(
            "[[springs]]\nfrom = \"plunger.nose\"\nto = \"base.wall\"\nrate = \"{rate}\"\nfree = {free}"
        ))
}

/// OpenStax, *College Physics*, sec. 16.1, example 16.1: a suspension of 6.53 × 10⁴ N/m that
/// settles 1.20 cm carries 784 N (80.0 kg).
#[test]
fn a_suspension_carries_what_its_rate_says() {
    let [force, _] = plunger("65.3 N/mm", 112.0, [100.0, 99.0])
        .solve()
        .hand_force();
    close("16.1 force", force, 784.0, 1e-3);
    close("16.1 force recomputed", force, 783.6, 1e-9);
}

/// The same, example 16.2: a spring of 50.0 N/m pressed together by 0.150 m stores 0.563 J, which
/// the hand has to bring.
#[test]
fn a_spring_stores_the_work_of_the_hand() {
    let tool = plunger("0.05 N/mm", 200.0, [200.0, 50.0]).tool();
    let mounted = Mounted::new(&tool).expect("a tool");
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).expect("a stroke");
    let reading = Reader::new(&mut rig).over_stroke(&Measure::HandWork, GripId::FIRST);
    let Ok(Ok(work)) = reading else {
        panic!("{reading:?}");
    };
    // N mm to J.
    close("16.2 energy", work / 1000.0, 0.563, 1e-3);
    close("16.2 energy recomputed", work / 1000.0, 0.5625, 1e-9);
}
