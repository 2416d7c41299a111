//! `[[springs]]`.

use super::Omitted::{Means, Sometimes, Takes};
use super::grasp::FORCE;
use super::kind::Kind;
use super::tool::LENGTH;
use super::{Table, key, table};
use crate::units::Quantity;

pub(in crate::input) static SPRING: Table = table(&[
    key(
        "name",
        Kind::Name("name"),
        Means("its address counts the springs from 1"),
        "\"return\"",
        "Name of the spring, for addresses such as springs.return.rate.",
    ),
    key(
        "from",
        Kind::PartPoint,
        Sometimes("without `pin`"),
        "\"lever.tail\"",
        "One end of a spring between two points.",
    ),
    key(
        "to",
        Kind::PartPoint,
        Sometimes("without `pin`"),
        "\"frame.tail\"",
        "Its other end.",
    ),
    key(
        "pin",
        Kind::Name("name of a pin"),
        Sometimes("without `from` and `to`"),
        "\"heel\"",
        "The pin that a turning spring acts about.",
    ),
    key(
        "rate",
        Kind::Either(&[
            Kind::Quantity(Quantity::Rate),
            Kind::Quantity(Quantity::TurnRate),
        ]),
        Sometimes("without `wire`"),
        "1.8",
        "Force per length, or torque per angle about a pin.",
    ),
    key(
        "free",
        Kind::Either(&[LENGTH, Kind::Quantity(Quantity::Angle)]),
        Sometimes("`free` or `preload`"),
        "42",
        "Free length; about a pin, the angle at which it is slack, of the second part against the \
         first, in the order of the file.",
    ),
    key(
        "preload",
        Kind::Either(&[FORCE, Kind::Quantity(Quantity::Torque)]),
        Sometimes("`free` or `preload`"),
        "20",
        "Force or torque at the open end of the stroke: it pushes apart, or pulls together with \
         acts = \"pull\"; about a pin, it turns the second part counter-clockwise. It sets the spring on \
         the nominal tool: a tool made within its tolerances has the same bought spring, with the free \
         length (or angle) found there.",
    ),
    key(
        "acts",
        Kind::Words(&["both", "push", "pull"]),
        Means("both; of a spring of wire as its ends are"),
        "\"push\"",
        "push: only when compressed; pull: only when stretched.",
    ),
    key(
        "wire",
        LENGTH,
        Sometimes("without `rate`"),
        "1.2",
        "Diameter of the wire of a spring as it is bought, in place of its rate, which follows.",
    ),
    key(
        "coil",
        LENGTH,
        Sometimes("`coil` or `outside` with `wire`"),
        "10",
        "Mean diameter of its coils.",
    ),
    key(
        "outside",
        LENGTH,
        Sometimes("`coil` or `outside` with `wire`"),
        "11.2",
        "Outside diameter of its coils.",
    ),
    key(
        "turns",
        Kind::Above(0.0),
        Sometimes("with `wire`"),
        "9",
        "Active coils; about a pin, those of the body without the legs.",
    ),
    key(
        "made-of",
        Kind::Words(&["music wire", "hard-drawn", "oil-tempered", "stainless 302"]),
        Sometimes("with `wire`"),
        "\"music wire\"",
        "Kind of wire, which gives moduli and strength (ASTM A228, A227, A229, A313).",
    ),
    key(
        "ends",
        Kind::Words(&["plain", "squared", "ground", "hooks"]),
        Sometimes("with `wire`, between two points"),
        "\"ground\"",
        "Ends as cut, closed, or closed and ground: it pushes; full loops: it pulls, without initial tension.",
    ),
    key(
        "seats",
        Kind::Words(&["flat", "one turns", "both turn"]),
        Takes("\"flat\""),
        "\"one turns\"",
        "How the ends of a spring that pushes are held, against buckling.",
    ),
    key(
        "guide",
        Kind::Table(&GUIDE),
        Means("nothing keeps it straight"),
        "{ bore = 12 }",
        "What a spring between two points runs in, or on.",
    ),
    key(
        "legs",
        Kind::List(&LENGTH, 2),
        Means("no legs that bend"),
        "[20, 20]",
        "Lengths of the two legs of a spring about a pin.",
    ),
    key(
        "mandrel",
        LENGTH,
        Means("its clearance is not checked"),
        "11.5",
        "Diameter of what a spring about a pin sits on.",
    ),
    key(
        "cycles",
        Kind::Above(0.0),
        Means("a steady load only is checked"),
        "200000",
        "How often the spring is loaded and let go.",
    ),
    key(
        "modulus",
        Kind::Quantity(Quantity::Stress),
        Means("that of the kind of wire"),
        "\"79.3 GPa\"",
        "Shear modulus of the wire; about a pin, modulus of elasticity.",
    ),
    key(
        "ultimate",
        Kind::Quantity(Quantity::Stress),
        Means("that of the standard for this diameter"),
        "2000",
        "Tensile strength of the wire, from the maker.",
    ),
]);

pub(in crate::input) static GUIDE: Table = table(&[
    key(
        "bore",
        LENGTH,
        Sometimes("`bore` or `pin`"),
        "12",
        "Diameter of the bore that the spring runs in.",
    ),
    key(
        "pin",
        LENGTH,
        Sometimes("`bore` or `pin`"),
        "8",
        "Diameter of the pin that it runs on.",
    ),
]);
