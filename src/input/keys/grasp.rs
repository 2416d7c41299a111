//! The tables that say how the tool is used: hand, jaws, stroke.

use super::Omitted::{Means, Nothing, Sometimes, Takes, Wrong};
use super::kind::Kind;
use super::people::HANDLE_SIZE;
use super::tool::{A_PART, ANGLE, LENGTH, SPOT};
use super::{Key, Table, key, table};
use crate::units::Quantity;

pub(super) const FORCE: Kind = Kind::Quantity(Quantity::Force);
pub(super) const A_JAW: Kind = Kind::Name("name of a jaw");
const LINE: Kind = Kind::List(&SPOT, 2);

pub(in crate::input) static HAND: Table = table(&[
    key(
        "part",
        A_PART,
        Wrong,
        "\"lever\"",
        "The handle that the fingers close.",
    ),
    key(
        "line",
        LINE,
        Wrong,
        "[[-14, 4], [-90, 14], [-185, 10]]",
        "Centre line of the handle in the part's axes, from the pivot's end outwards. The handle \
         angle is that of its chord.",
    ),
    key(
        "smooth",
        Kind::Flag,
        Takes("false"),
        "true",
        "true: a smooth curve through the points (natural cubic spline), not straight pieces.",
    ),
    key(
        "against",
        Kind::Table(&AGAINST),
        Nothing,
        "{ part = \"frame\", line = [[-14, -60], [-90, -70]] }",
        "The other handle.",
    ),
    key(
        "grips",
        Kind::List(&LENGTH, 1),
        Wrong,
        "[70, 100, 130]",
        "Where the tool may be held: distances along the line from its first point.",
    ),
    key(
        "push",
        Kind::Either(&[Kind::Words(&["across", "square"]), ANGLE]),
        Means("\"across\" where there is a second handle, else \"square\""),
        "\"square\"",
        "across: towards the point at the same distance along the other handle, which gets the \
         opposite force; square: at right angles to the line, in the sense that closes the tool; or \
         a fixed direction in the fixed part's axes.",
    ),
    key(
        "palm",
        Kind::Either(&[A_PART, Kind::Flag]),
        Means("the part of `against` where there is one, else the fixed part"),
        "\"frame\"",
        "For a push that is not across: the part that lies in the palm and takes the opposite force, \
         where the push's line meets its hand line, else at its nearest place with the couple that \
         this takes. false: the tool is mounted on a bench, which holds the fixed part.",
    ),
    key(
        "force",
        FORCE,
        Takes("\"100 N\""),
        "150",
        "Hand force that the curves are drawn for.",
    ),
    key(
        "limit",
        Kind::Either(&[
            FORCE,
            Kind::Rows([("span", Quantity::Length), ("force", Quantity::Force)]),
            Kind::Text("name of a published set"),
        ]),
        Nothing,
        "220",
        "The most the operator may be asked for. Published sets are such as norm-grip-w-60-64-p5; \
         the beginning of a name is answered with a list.",
    ),
    key(
        "thickness",
        LENGTH,
        Takes("0"),
        "12",
        "Of each handle: added to the distance of the two centre lines, it gives the grip span.",
    ),
    key(
        "handle",
        Kind::Table(&HANDLE_SIZE),
        Nothing,
        "{ length = 115, width = 25, depth = 20 }",
        "Size of the handle that the fingers close: `people` holds it against the widest hand.",
    ),
    key(
        "glove",
        LENGTH,
        Takes("0"),
        "2",
        "Thickness of a glove's material: it makes the hand wider on both sides.",
    ),
]);

pub(in crate::input) static AGAINST: Table = table(&[
    key(
        "part",
        A_PART,
        Wrong,
        "\"frame\"",
        "The part that is the other handle.",
    ),
    key(
        "line",
        LINE,
        Wrong,
        "[[-14, -60], [-90, -70], [-185, -64]]",
        "Its centre line in that part's axes, from the pivot's end outwards.",
    ),
    key(
        "smooth",
        Kind::Flag,
        Means("as the first handle"),
        "true",
        "As for the first handle.",
    ),
]);

pub(in crate::input) static JAW: Table = table(&[
    key(
        "name",
        Kind::Name("name"),
        Sometimes("where there are several"),
        "\"nose\"",
        "Name of the jaw; a single one may be without.",
    ),
    key(
        "on",
        Kind::PartPoint,
        Wrong,
        "\"ram.nose\"",
        "The point that moves.",
    ),
    key(
        "against",
        Kind::PartPoint,
        Wrong,
        "\"frame.anvil\"",
        "The point that it meets, on another part.",
    ),
    key(
        "axis",
        ANGLE,
        Means("along the line between the two points"),
        "90",
        "Opening direction, in the axes of the part of `against`.",
    ),
    key(
        "closed",
        LENGTH,
        Takes("0"),
        "0.5",
        "Distance of the points along the axis at which the gap counts as zero: there the dies meet, and \
         the stroke ends for the forces. Dies that pass each other, and jaws that spread, count it \
         from where they stop; against the axis it is below zero.",
    ),
]);

pub(in crate::input) static STOP: Table = table(&[
    key(
        "name",
        Kind::Name("name"),
        Wrong,
        "\"handle-stop\"",
        "Name of the stop.",
    ),
    key(
        "on",
        Kind::PartPoint,
        Wrong,
        "\"lever.lug\"",
        "A point of the one face.",
    ),
    key(
        "against",
        Kind::PartPoint,
        Wrong,
        "\"frame.pad\"",
        "The point that it meets, on another part.",
    ),
    key(
        "axis",
        ANGLE,
        Means("along the line between the two points: a round lug, with `closed`"),
        "90",
        "Direction in which `on` leaves `against`, in the axes of the part of `against`.",
    ),
    key(
        "closed",
        LENGTH,
        Takes("0"),
        "0.5",
        "Distance of the points along the axis at which the faces meet.",
    ),
    key(
        "rate",
        Kind::Quantity(Quantity::Rate),
        Means("lug and pad are rigid"),
        "\"40 kN/mm\"",
        "How lug and pad give: with what the tool gives, it tells how much of a hard squeeze goes on into the jaw.",
    ),
    key(
        "ends",
        Kind::Words(&["shut", "open"]),
        Wrong,
        "\"shut\"",
        "Which end of the stroke it is for. The stroke ends where it is met, if that is before `shut`.",
    ),
]);

pub(in crate::input) static STROKE: Table = table(&[
    key(
        "open",
        Kind::Table(&TARGET),
        Wrong,
        "{ gap = 9 }",
        "Where it begins.",
    ),
    key(
        "shut",
        Kind::Table(&TARGET),
        Wrong,
        "{ gap = 0 }",
        "Where it ends.",
    ),
    key(
        "steps",
        Kind::Whole(2, 100_000),
        Takes("60"),
        "90",
        "Intervals of the stroke, equal in handle angle.",
    ),
]);

const ONE: super::Omitted = Sometimes("exactly one of `gap`, `span`, `handle`, `stop`");

pub(super) const GAP: Key = key("gap", LENGTH, ONE, "0.4", "Gap of the jaw.");
pub(super) const SPAN: Key = key(
    "span",
    LENGTH,
    ONE,
    "70",
    "Grip span: distance of the facing points of the two centre lines, plus the thickness.",
);
pub(super) const HANDLE: Key = key(
    "handle",
    ANGLE,
    ONE,
    "12",
    "Handle angle, from the fixed part's x axis, or from that of the other handle's part where it moves.",
);
pub(super) const AT_STOP: Key = key(
    "stop",
    Kind::Name("name of a stop"),
    ONE,
    "\"handle-stop\"",
    "Where the faces of that stop meet.",
);
pub(super) const ONE_PLACE: &[&str] = &["gap", "span", "handle", "stop"];

pub(in crate::input) static TARGET: Table = Table {
    one_of: ONE_PLACE,
    only_with: &[("grip", "span"), ("jaw", "gap")],
    ..table(&[
        GAP,
        SPAN,
        HANDLE,
        AT_STOP,
        key(
            "jaw",
            A_JAW,
            Means("the first jaw"),
            "\"nose\"",
            "Jaw whose gap is meant.",
        ),
        key(
            "grip",
            LENGTH,
            Means("the first grip"),
            "100",
            "Grip at which the span is meant.",
        ),
    ])
};
