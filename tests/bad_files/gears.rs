//! Tooth sectors that cannot be, each with what to do.

use super::{judge, problems};
use crate::gears::{PAIR, press};
use jawforce::input::code;

/// What to change, to what, the code, what stands in the line that is shown, part of the help.
type Spoiled = (
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    &'static str,
);

#[rustfmt::skip]
const PAIRS: &[Spoiled] = &[
    // Pitch circles and centres.
    ("pins = { lower-heel = [0, -12] }\nmarks = { witness = [0, 0] }", "pins = { lower-heel = [0, -12] }\nmarks = { witness = [0, 1] }",
        code::GEARS, "meet =", "have module 1.714 mm: the witness marks then stand 12 mm and 12 mm"),
    ("teeth = [14, 14]", "teeth = [14, 16]", code::GEARS, "teeth =", "stand 11.2 mm and 12.8 mm"),
    ("teeth = [14, 14]", "teeth = [14, 14]\ninternal = true", code::GEARS, "teeth =", "the numbers of `teeth`"),
    ("pins = { upper-heel = [0, 12] }\nmarks = { witness = [0, 0],", "pins = { upper-heel = [0, 12] }\nmarks = { witness = [0, 12],",
        code::GEARS, "meet =", "on the pitch circle"),
    // What turns about what.
    ("meet = [\"upper.witness\", \"lower.witness\"]", "meet = [\"lower.witness\", \"upper.witness\"]",
        code::GEARS, "meet =", "in the order of `parts`"),
    ("meet = [\"upper.witness\",", "meet = [\"witness\",", code::UNKNOWN_POINT, "meet =", "upper.witness"),
    ("about = [\"upper-heel\", \"lower-heel\"]", "about = [\"upper-heel\", \"witness\"]", code::GEARS, "about =", "under `pins`"),
    ("about = [\"upper-heel\", \"lower-heel\"]", "about = [\"upper-heel\", \"lower-heal\"]", code::UNKNOWN_POINT, "about =", "did you mean `lower-heel`?"),
    ("parts = [\"upper\", \"lower\"]", "parts = [\"upper\", \"upper\"]", code::GEARS, "parts =", "the two parts that have the teeth"),
    ("parts = [\"upper\", \"lower\"]", "parts = [\"upper\"]", code::TYPE, "parts =", "one for each part"),
    // Numbers.
    ("teeth = [14, 14]", "teeth = [14, 3]", code::GEARS, "teeth =", "0 for a rack"),
    ("teeth = [14, 14]", "teeth = [0, 14]", code::GEARS, "teeth =", "second of the two"),
    ("teeth = [14, 14]", "teeth = [14, -14]", code::GEARS, "teeth =", "full circle"),
    ("teeth = [14, 14]", "teeth = [14.5, 14]", code::TYPE, "teeth =", "digits only"),
    ("teeth = [14, 14]", "teeth = [14, 0]", code::GEARS, "about =", "[[slots]] with `keyed = true`"),
    ("angle = 20", "angle = 0", code::SIZE, "angle =", ""),
    ("angle = 20", "angle = -20", code::SIZE, "angle =", ""),
    ("angle = 20", "angle = 45", code::GEARS, "angle =", "20 degrees is usual"),
    ("angle = 20", "angle = nan", code::NOT_FINITE, "angle =", "finite"),
    ("angle = 20\n[hand]", "[hand]", code::MISSING, "[[gears]]", "angle = 20"),
    ("angle = 20\n[hand]", "angle = 20\nface = 0\n[hand]", code::SIZE, "face =", ""),
    ("angle = 20\n[hand]", "angle = 20\nface = 1e300\n[hand]", code::SIZE, "face =", ""),
    ("angle = 20\n[hand]", "angle = 20\nbacklash = -0.1\n[hand]", code::SIZE, "backlash =", ""),
    ("angle = 20\n[hand]", "angle = 20\nfriction = 2\n[hand]", code::FRICTION, "friction =", ""),
    ("angle = 20\n[hand]", "angle = 20\nmaterial = \"plate\"\n[hand]", code::UNKNOWN_MATERIAL, "material =", "[materials.plate]"),
    ("angle = 20\n[hand]", "angle = 20\nname = \"my gears\"\n[hand]", code::NAME, "name = \"my", "letters"),
    ("angle = 20\n[hand]", "angle = 20\nmodule = 2\n[hand]", code::UNKNOWN_KEY, "module =", "keys of [[gears]]"),
    // What is cut.
    ("angle = 20\n[hand]", "angle = 20\nsector = [\"70 deg\", \"50 deg\"]\n[hand]", code::GEARS, "sector =", "two or more must be cut"),
    ("angle = 20\n[hand]", "angle = 20\nsector = [\"70 deg\", \"370 deg\"]\n[hand]", code::GEARS, "sector =", "of the circle"),
    ("angle = 20\n[hand]", "angle = 20\nsector = \"70 deg\"\n[hand]", code::TYPE, "sector =", "in brackets"),
];

#[rustfmt::skip]
const RACKS: &[Spoiled] = &[
    ("teeth = [18, 0]", "teeth = [0, 18]", code::GEARS, "teeth =", "second of the two"),
    ("w = [36, 0], nose", "w = [38, 0], nose", code::GEARS, "meet =", "have module 4 mm"),
    ("about = [\"axle\", \"guide\"]", "about = [\"axle\", \"nose\"]", code::GEARS, "about =", "guide"),
    ("teeth = [18, 0]", "teeth = [18, 0]\ninternal = true", code::TOGETHER, "internal =", "take `internal` out"),
    ("teeth = [18, 0]", "teeth = [18, 0]\nsector = [\"70 deg\", 20]", code::GEARS, "sector =", "two or more must be cut"),
    ("teeth = [18, 0]", "teeth = [18, 0]\nsector = [\"70 deg\", \"40 deg\"]", code::UNIT_KIND, "sector =", ""),
];

#[test]
fn gears_that_cannot_be() {
    let rack = press("").text().to_owned();
    let mut wrong = Vec::new();
    for (good, cases) in [(PAIR, PAIRS), (&rack, RACKS)] {
        assert_eq!(problems(good), []);
        for (from, to, code, at, help) in cases {
            assert_eq!(good.matches(from).count(), 1, "{from}");
            let text = good.replace(from, to);
            let line = text.lines().position(|line| line.starts_with(at));
            wrong.extend(judge(&text, code, line.expect(at) + 1, help).err());
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Both pins on one part that is not in mesh: without such a part their distance is anything.
#[test]
fn one_part_must_carry_both_pins() {
    let text = PAIR
        .replace(
            "lower-heel = [0, -12] }\nmarks = { anvil",
            "other = [5, -12] }\nmarks = { anvil",
        )
        .replace(
            "[[gears]]",
            "[parts.more]\npins = { lower-heel = [0, -12], other = [5, -12] }\n[[gears]]",
        );
    let line = text.lines().position(|line| line.starts_with("about ="));
    judge(
        &text,
        code::GEARS,
        line.expect("about") + 1,
        "give both to one part",
    )
    .expect("so");
    let twice = PAIR.replace("[hand]", "name = \"mesh\"\n[[gears]]\nname = \"mesh\"\nparts = [\"upper\", \"lower\"]\n\
        about = [\"upper-heel\", \"lower-heel\"]\nmeet = [\"upper.witness\", \"lower.witness\"]\nteeth = [14, 14]\n\
        angle = 20\n[hand]");
    let line = twice.lines().collect::<Vec<_>>();
    let line = line.iter().rposition(|line| *line == "name = \"mesh\"");
    judge(
        &twice,
        code::NAME_TWICE,
        line.expect("a name") + 1,
        "give each a name of its own",
    )
    .expect("so");
}
