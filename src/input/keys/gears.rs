//! The table of tooth sectors.

use super::Omitted::{Means, Nothing, Sometimes, Takes, Wrong};
use super::kind::Kind;
use super::tool::{A_PART, ANGLE, FRICTION, LENGTH};
use super::{Table, key, table};

pub(in crate::input) static GEARS: Table = table(&[
    key(
        "name",
        Kind::Name("name"),
        Means("gears.1, gears.2, in the order of the file"),
        "\"mesh\"",
        "What the pair is called.",
    ),
    key(
        "parts",
        Kind::List(&A_PART, 2),
        Wrong,
        "[\"upper\", \"lower\"]",
        "The two parts that have the teeth; a rack is the second.",
    ),
    key(
        "about",
        Kind::List(&Kind::Name("name of a pin"), 2),
        Wrong,
        "[\"upper-heel\", \"lower-heel\"]",
        "The pin that each turns about; one other part must have both. Of a rack the point that rides in \
         its keyed slot.",
    ),
    key(
        "meet",
        Kind::List(&Kind::PartPoint, 2),
        Wrong,
        "[\"upper.witness\", \"lower.witness\"]",
        "Witness marks on the pitch circles, or a rack's pitch line, which meet between the two pins.",
    ),
    key(
        "teeth",
        Kind::List(&Kind::Whole(0, 1000), 2),
        Wrong,
        "[14, 14]",
        "Teeth in the full circle, though only a sector may be cut; 0 for a rack.",
    ),
    key(
        "internal",
        Kind::Flag,
        Means("what the distance of the pins tells"),
        "true",
        "true: the one with more teeth has them inside a ring.",
    ),
    key(
        "sector",
        Kind::List(&ANGLE, 2),
        Nothing,
        "[\"70 deg\", \"70 deg\"]",
        "How much is cut, middle at the witness mark; of a rack a length.",
    ),
    key("angle", ANGLE, Wrong, "20", "Pressure angle of the teeth."),
    key(
        "face",
        LENGTH,
        Sometimes("for the bending of the teeth"),
        "6",
        "Width of the teeth.",
    ),
    key(
        "backlash",
        LENGTH,
        Nothing,
        "0.1",
        "Play of the teeth at the pitch circle.",
    ),
    key(
        "friction",
        FRICTION,
        Takes("0"),
        "0.1",
        "Coefficient of friction between the teeth.",
    ),
    key(
        "material",
        Kind::Name("name of a material"),
        Sometimes("for the bending of the teeth"),
        "\"plate\"",
        "What the teeth are made of; the weaker, where they differ.",
    ),
]);
