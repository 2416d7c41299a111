//! Cam faces that cannot be, each with what to do.

use super::{judge, problems};
use crate::cams::PRESS;
use jawforce::input::code;

const DISC: &str = "face = { centre = [12, 0], radius = 20 }";

/// What stands for the disc, what for its flat, the code, what stands in the line that is shown, part of the help.
type Spoiled = (
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    &'static str,
);

#[rustfmt::skip]
const FACES: &[Spoiled] = &[
    ("face = { points = [[32, 0], [12, 20]] }", "flat = 0", code::CAM, "face =", "give more places"),
    ("face = { points = [[32, 0], [32, 0], [12, 20]] }", "flat = 0", code::CAM, "face =", "each place once"),
    ("face = { points = [[32, 0], [12, 20], [32, 20], [12, 0]] }", "flat = 0", code::CAM, "face =", "where it turns sharply"),
    ("face = { points = 3 }", "flat = 0", code::TYPE, "face =", ""),
    ("face = { points = [[32, 0], [26, nan], [12, 20]] }", "flat = 0", code::NOT_FINITE, "face =", ""),
    ("face = { points = [[32, 0], [26, 1e300], [12, 20]] }", "flat = 0", code::SIZE, "face =", ""),
    ("face = { centre = [12, 0], radius = 20, points = [[32, 0], [26, 14], [12, 20]] }", "flat = 0", code::TOGETHER, "face =", "take out `points`"),
    ("face = {}", "flat = 0", code::MISSING, "face =", "a disc: face ="),
    ("face = { centre = [12, 0] }", "flat = 0", code::MISSING, "face =", "radius"),
    ("face = { centre = [12, 0], radius = 20 }\nwidth = 6", "roller = { diameter = 8, pin = 4 }", code::TOGETHER, "width =", "a `width` of its own"),
    ("face = { radius = 20 }", "flat = 0", code::MISSING, "face =", "centre"),
    ("face = { centre = [12, 0], radius = 0 }", "flat = 0", code::SIZE, "face =", ""),
    // Clockwise: the solid is on the side of the roller.
    ("face = { points = [[-8, 0], [-2, 14], [12, 20], [26, 14], [32, 0]] }", "roller = { diameter = 8, pin = 4 }",
        code::CAM, "[[cams]]", "turn the order round"),
    ("face = { points = [[32, 20], [12, 20], [-8, 20]] }", "flat = 0", code::CAM, "[[cams]]", "clear of the flat"),
];

#[test]
fn faces_that_cannot_be() {
    assert!(problems(PRESS).is_empty());
    let good = "face = { points = [[32, 0], [26, 14], [12, 20], [-2, 14], [-8, 0]] }";
    for follower in ["flat = 0", "roller = { diameter = 8, pin = 4 }"] {
        let text = PRESS.replace(DISC, good).replace("flat = 0", follower);
        assert!(
            problems(&text).is_empty(),
            "{:?}",
            problems(&text)[0].message
        );
    }
    let mut wrong = Vec::new();
    for &(face, follower, code, at, help) in FACES {
        let text = PRESS.replace(DISC, face).replace("flat = 0", follower);
        let line = text.lines().position(|line| line.starts_with(at));
        wrong.extend(judge(&text, code, line.expect(at) + 1, help).err());
    }
    let most: Vec<String> = (0..201)
        .map(|k| {
            let (sin, cos) = (f64::from(k) * 0.01).sin_cos();
            format!("[{}, {}]", 12.0 + 20.0 * cos, 20.0 * sin)
        })
        .collect();
    let text = PRESS.replace(
        DISC,
        &format!("face = {{ points = [{}] }}", most.join(", ")),
    );
    let line = text.lines().position(|line| line.starts_with("face"));
    wrong.extend(judge(&text, code::CAM, line.expect("a face") + 1, "well chosen").err());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Slots, cams and gears share the names that measures of their forces use.
#[test]
fn two_contacts_of_one_name() {
    let named = PRESS.replace("[[slots]]", "[[slots]]\nname = \"guide\"");
    assert!(problems(&named).is_empty());
    let text = PRESS.replace("[[slots]]", "[[slots]]\nname = \"press\"");
    let line = text.lines().position(|line| line == "[[cams]]");
    let line = line.expect("a cam") + 2;
    judge(&text, code::NAME_TWICE, line, "give each a name of its own").expect("so");
}
