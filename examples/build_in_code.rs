//! A four-bar built without a tool file, drawn in place with the jaws shut; compares two grips.
//!
//! `cargo run --example build_in_code`

use jawforce::analysis::{Direction, solve};
use jawforce::model::{Hand, Jaw, JawId, Part, PartId, PointRef, Stroke, Target, Tool};

fn main() -> Result<(), String> {
    // Lengths in mm; parts that name the same pin are joined there; the first part is fixed.
    let (heel, post, knee, wrist) = ([0.0, 0.0], [-20.0, -50.0], [-2.0, -24.0], [0.0, -48.0]);
    let parts = vec![
        Part::new(
            "frame",
            &[("heel", heel), ("post", post)],
            &[("anvil", [20.0, -55.0])],
        ),
        Part::new("lever", &[("heel", heel), ("knee", knee)], &[]),
        Part::new("strut", &[("knee", knee), ("wrist", wrist)], &[]),
        Part::new(
            "ram",
            &[("post", post), ("wrist", wrist)],
            &[("nose", [20.0, -55.0])],
        ),
    ];
    // Points are counted with the pins first: nose and anvil are the third of their parts.
    let (frame, lever, ram) = (PartId::FIRST, PartId::new(1), PartId::new(3));
    let third = |part| PointRef { part, point: 2 };
    let jaw = Jaw {
        name: "nose".to_owned(),
        on: third(ram),
        against: third(frame),
        axis: Some(90_f64.to_radians()),
        closed: 0.0,
        work: None,
    };
    let stroke = Stroke {
        open: Target::Gap(8.0, JawId::FIRST),
        shut: Target::Gap(0.0, JawId::FIRST),
        steps: 16,
        lead: JawId::FIRST,
    };
    let mut hand = Hand::new(lever, &[[-12.0, 0.0], [-130.0, 0.0]], &[60.0, 90.0]);
    hand.force = 150.0;
    let tool = Tool::new("Setter in code", parts, hand, jaw, stroke);

    let solved = solve(&tool, Direction::Closing).map_err(|failure| failure.text(&tool))?;
    println!("  gap mm  ratio at 60  ratio at 90  gain");
    for position in &solved.positions {
        // A ratio is `None` at a toggle, where the jaw stands still.
        if let (Some(near), Some(far)) = (position.grips[0].ratio[0], position.grips[1].ratio[0]) {
            println!(
                "{:8.2} {near:12.2} {far:12.2} {:5.2}",
                position.gap[0],
                far / near
            );
        }
    }
    Ok(())
}
