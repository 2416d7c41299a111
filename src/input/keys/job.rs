//! The tables that say what is asked of the tool: work, joint data, springs, strength, demands,
//! tolerances, tuning.

use super::Omitted::{Means, Nothing, Sometimes, Takes, Wrong};
use super::grasp::{A_JAW, AT_STOP, GAP, HANDLE, ONE_PLACE, SPAN};
use super::kind::Kind;
use super::tool::{FRICTION, LENGTH};
use super::{Key, Table, key, table};
use crate::units::Quantity;

pub(super) const STRESS: Kind = Kind::Quantity(Quantity::Stress);
pub(super) const A_MATERIAL: Kind = Kind::Name("name of a material");
const DIMENSION: Kind = Kind::Text("address of a dimension");

const JOINT_KEYS: &[Key] = &[
    key(
        "diameter",
        LENGTH,
        Sometimes("for friction and for strength"),
        "6",
        "Pin diameter.",
    ),
    key(
        "friction",
        FRICTION,
        Takes("0"),
        "0.12",
        "Coefficient of friction: a moment of radius (d/2) sin(atan friction) times the pin's load.",
    ),
    key(
        "clearance",
        LENGTH,
        Takes("0"),
        "0.05",
        "Hole minus pin, on the diameter.",
    ),
    key(
        "shear",
        Kind::Words(&["single", "double"]),
        Takes("\"double\""),
        "\"single\"",
        "Shear planes of the pin.",
    ),
    key(
        "material",
        A_MATERIAL,
        Means("no strength of the pin is checked"),
        "\"pin\"",
        "Material of the pin.",
    ),
];

pub(in crate::input) static ONE_JOINT: Table = table(JOINT_KEYS);

pub(in crate::input) static JOINTS: Table = Table {
    named: Some(&key(
        "PIN",
        Kind::Table(&ONE_JOINT),
        Nothing,
        "{ diameter = 5 }",
        "What differs at one pin: any of the keys above, in a table [joints.PIN].",
    )),
    ..table(JOINT_KEYS)
};

pub(in crate::input) static MATERIAL: Table = table(&[
    key("yield", STRESS, Wrong, "355", "Yield strength."),
    key(
        "ultimate",
        STRESS,
        Nothing,
        "510",
        "Ultimate tensile strength.",
    ),
    key(
        "modulus",
        STRESS,
        Means("no buckling is checked, no compliance found"),
        "\"205 GPa\"",
        "Young's modulus.",
    ),
    key(
        "density",
        Kind::Quantity(Quantity::Density),
        Means("plates of it are not weighed"),
        "7850",
        "Mass per volume.",
    ),
    key(
        "price",
        Kind::Above(0.0),
        Means("plates of it have no price"),
        "2.4",
        "Price per kg, in a file of inches per lb, in whatever money.",
    ),
    key(
        "surface",
        Kind::Words(&[
            "ground",
            "machined",
            "cold-drawn",
            "hot-rolled",
            "forged",
            "laser",
        ]),
        Means("its life is not checked"),
        "\"machined\"",
        "How its surface was made, for [life]; edges cut by laser count as hot-rolled.",
    ),
]);

pub(in crate::input) static SECTION: Table = table(&[
    key(
        "width",
        Kind::Either(&[
            LENGTH,
            Kind::Rows([("distance", Quantity::Length), ("depth", Quantity::Length)]),
        ]),
        Sometimes(
            "without an outline in [outlines]; without it the strength of the part is not checked",
        ),
        "12",
        "Depth in the plane, across the pins; for a handle also its depth at distances along the \
         hand line.",
    ),
    key("thickness", LENGTH, Wrong, "3", "Of one plate."),
    key(
        "plates",
        Kind::Whole(1, 100),
        Takes("1"),
        "2",
        "Plates of the part side by side.",
    ),
    key(
        "layers",
        Kind::List(&Kind::Whole(1, 99), 1),
        Means("in drawings large parts lie below small ones"),
        "[2]",
        "Which sheets of the stack its plates are, counted from the near side; one for each plate.",
    ),
    key(
        "edge",
        LENGTH,
        Means("no tear-out is checked"),
        "6",
        "Hole centre to the end of the link.",
    ),
    key(
        "material",
        A_MATERIAL,
        Wrong,
        "\"plate\"",
        "Material of the part.",
    ),
]);

pub(in crate::input) static AT: Table = Table {
    one_of: ONE_PLACE,
    ..table(&[GAP, HANDLE, SPAN, AT_STOP])
};

const A_POSITION: Kind = Kind::Either(&[
    Kind::Words(&["open", "shut", "peak", "least"]),
    Kind::Table(&AT),
]);
const MEASURE: Key = key(
    "measure",
    Kind::Measure,
    Wrong,
    "\"jaw_force\"",
    "What is read off the stroke; see `jawforce measure --help`.",
);
const WHICH_JAW: Key = key(
    "jaw",
    A_JAW,
    Means("the first jaw"),
    "\"nose\"",
    "Jaw that is meant, by its gap in `at` too; under the work there. The same as a name behind the \
     measure: gap.nose.",
);
const POSITION: Key = key(
    "at",
    A_POSITION,
    Sometimes("for a measure that is read at one position"),
    "{ gap = 0.4 }",
    "Where it is read; peak and least: of that very measure over the stroke.",
);

pub(in crate::input) static DEMAND: Table = table(&[
    MEASURE,
    WHICH_JAW,
    POSITION,
    key(
        "grip",
        LENGTH,
        Means("every grip"),
        "130",
        "Grip at which it must hold: a distance along the hand line.",
    ),
    key(
        "min",
        Kind::OfMeasure,
        Sometimes("`min`, `max` or both"),
        "1900",
        "Lowest value that is good enough.",
    ),
    key(
        "max",
        Kind::OfMeasure,
        Sometimes("`min`, `max` or both"),
        "2500",
        "Highest value that is good enough.",
    ),
]);

pub(super) static TOLERANCES: Table = Table {
    named: Some(&key(
        "\"ADDRESS\"",
        Kind::Dotted(&Kind::OfAddress, 6),
        Means("lengths of parts as `class` says, others have none"),
        "0.05",
        "\u{b1} value of one number: \"strut.length\", \"lever.knee.x\", \"joints.friction\", \"springs.1.rate\".",
    )),
    ..table(&[key(
        "class",
        Kind::Either(&[
            Kind::Words(&["ISO 2768-f", "ISO 2768-m", "ISO 2768-c", "ISO 2768-v"]),
            LENGTH,
        ]),
        Nothing,
        "\"ISO 2768-m\"",
        "For every length of a part that is not named: a class of ISO 2768-1, by size, or one \u{b1} value.",
    )])
};

pub(super) static TIES: Table = Table {
    named: Some(&key(
        "\"ADDRESS\"",
        Kind::Dotted(&Kind::Text("sum of multiples"), 6),
        Nothing,
        "\"-left.pin.x\"",
        "What a number follows: sums, differences and multiples of other addresses and of numbers with units, such \
         as \"frame.post.y - 3\" or \"0.5 * strut.length + 2 mm\". Where the file states the number too, it must \
         be the same but for rounding (0.01 mm, 0.001 in).",
    )),
    ..table(&[])
};

pub(in crate::input) static TUNE: Table = table(&[
    key(
        "dimension",
        DIMENSION,
        Wrong,
        "\"strut.length\"",
        "Its address: part.length, part.point.x or part.point.y; or of any other number that the file \
         states, such as joints.friction, joints.PIN.friction, springs.1.rate, slots.1.angle, hand.thickness, \
         hand.line.2.x, jaw.NAME.closed, sections.PART.width, stroke.shut.gap, work.scale.",
    ),
    key(
        "from",
        Kind::OfAddress,
        Wrong,
        "25",
        "Lowest value it may have.",
    ),
    key(
        "to",
        Kind::OfAddress,
        Wrong,
        "29",
        "Highest value it may have.",
    ),
]);

const SETTING: Kind = Kind::Either(&[
    Kind::Quantity(Quantity::Angle),
    Kind::Quantity(Quantity::Length),
]);

pub(in crate::input) static ADJUSTER: Table = table(&[
    key("name", Kind::Name("name"), Wrong, "\"set-up\"", "Its name."),
    key(
        "pin",
        Kind::Name("name of a pin"),
        Sometimes("or `dimension`"),
        "\"post\"",
        "The eccentric pin.",
    ),
    key(
        "on",
        Kind::Name("name of a part"),
        Sometimes("with `pin`"),
        "\"frame\"",
        "The part in whose hole it turns.",
    ),
    key(
        "throw",
        LENGTH,
        Sometimes("with `pin`"),
        "0.4",
        "How far it stands off the centre of the hole.",
    ),
    key(
        "dimension",
        DIMENSION,
        Sometimes("or `pin`"),
        "\"frame.anvil.y\"",
        "Address of the length that a screw or shims change.",
    ),
    key(
        "pitch",
        LENGTH,
        Nothing,
        "0.5",
        "What a turn of the screw adds to the dimension.",
    ),
    key(
        "from",
        SETTING,
        Wrong,
        "-1",
        "Least setting: direction of the pin from the centre of the hole in the axes of `on`, or what is \
         added to the dimension.",
    ),
    key("to", SETTING, Wrong, "1", "Greatest setting."),
    key(
        "now",
        SETTING,
        Takes("0"),
        "0",
        "The setting with which the tool is drawn.",
    ),
    key(
        "notches",
        Kind::Whole(2, 200),
        Nothing,
        "13",
        "How many notches there are from `from` to `to`; none: it is set anywhere between.",
    ),
]);

pub(in crate::input) static AIM: Table = table(&[
    MEASURE,
    WHICH_JAW,
    POSITION,
    key(
        "grip",
        LENGTH,
        Means("the first grip"),
        "130",
        "Grip at which it is read: a distance along the hand line.",
    ),
    key(
        "want",
        Kind::Either(&[Kind::Words(&["least", "most"]), Kind::OfMeasure]),
        Wrong,
        "\"least\"",
        "least, most, or a value to hit.",
    ),
]);
