//! The tables that say what plates look like.

use super::Omitted::{Means, Nothing, Sometimes, Takes, Wrong};
use super::kind::Kind;
use super::tool::{A_PART, A_POINT, LENGTH, SPOT};
use super::{Table, key, table};

const SPOTS: Kind = Kind::List(&SPOT, 1);

pub(in crate::input) static OUTLINE: Table = Table {
    one_of: &["round", "path", "mirror"],
    only_with: &[("belts", "round"), ("throat", "round"), ("start", "path")],
    ..table(&[
        key(
            "round",
            Kind::Named(&LENGTH),
            Sometimes("`round`, `path` or `mirror`"),
            "{ post = 9, wrist = 9, nose = 6 }",
            "Discs: a radius about each pin or mark named, joined by `belts`.",
        ),
        key(
            "belts",
            Kind::List(&Kind::List(&A_POINT, 1), 1),
            Means("one belt round all"),
            "[[\"post\", \"wrist\"], [\"wrist\", \"nose\"]]",
            "Which discs each belt goes round.",
        ),
        key(
            "throat",
            LENGTH,
            Means("the corners stay sharp"),
            "5",
            "Radius of the fillet where belts meet in a hollow corner.",
        ),
        key(
            "start",
            SPOT,
            Sometimes("with `path`"),
            "[-14, -8]",
            "Where the path starts.",
        ),
        key(
            "path",
            Kind::Tables(&LEG, 1),
            Sometimes("`round`, `path` or `mirror`"),
            "[{ to = [118, -8] }, { arc = 10, to = [128, 2] }, { to = [-14, 8], round = 4 }]",
            "From place to place, counter-clockwise; a straight piece closes it where it does not end at its start.",
        ),
        key(
            "mirror",
            Kind::Table(&MIRROR),
            Sometimes("`round`, `path` or `mirror`"),
            "{ of = \"lower-jaw\", about = [[0, 0], [1, 0]] }",
            "The outline of another part, mirrored, with its `holes` but for those of pins, which are this part's own.",
        ),
        key(
            "holes",
            Kind::Tables(&HOLE, 0),
            Nothing,
            "[{ at = [20, 0], diameter = 4 }, { pin = \"heel\", clearance = 0.03 }]",
            "Holes beside those that pins with a diameter have by themselves, and what is different about those.",
        ),
    ])
};

pub(in crate::input) static LEG: Table = table(&[
    key("to", SPOT, Wrong, "[118, -8]", "Where it ends."),
    key(
        "arc",
        LENGTH,
        Means("a straight piece"),
        "10",
        "By the shorter arc of this radius: positive turns left, negative right.",
    ),
    key(
        "through",
        SPOT,
        Nothing,
        "[124, -5]",
        "By the arc through this place.",
    ),
    key(
        "smooth",
        SPOTS,
        Nothing,
        "[[86, 10], [72, 14], [50, 12]]",
        "By one smooth run through these places, curved as a smooth hand line.",
    ),
    key(
        "tangent",
        Kind::Flag,
        Takes("false"),
        "true",
        "A smooth run leaves and meets its neighbours without a corner.",
    ),
    key(
        "round",
        LENGTH,
        Means("the corner stays sharp"),
        "4",
        "Radius of the corner at its end, between two straight pieces; of the last piece: of the corner at \
         the start.",
    ),
]);

pub(in crate::input) static MIRROR: Table = table(&[
    key(
        "of",
        A_PART,
        Wrong,
        "\"lower-jaw\"",
        "The part whose outline it is.",
    ),
    key(
        "about",
        Kind::List(&SPOT, 2),
        Wrong,
        "[[0, 0], [1, 0]]",
        "Two places on the line to mirror about, in this part's axes as in the other's.",
    ),
]);

pub(in crate::input) static HOLE: Table = Table {
    one_of: &["at", "pin", "slot"],
    ..table(&[
        key(
            "at",
            SPOT,
            Sometimes("`at`, `pin` or `slot`"),
            "[20, 0]",
            "Middle of a round hole.",
        ),
        key(
            "pin",
            A_POINT,
            Sometimes("`at`, `pin` or `slot`"),
            "\"heel\"",
            "The hole of this pin.",
        ),
        key(
            "slot",
            Kind::List(&SPOT, 2),
            Sometimes("`at`, `pin` or `slot`"),
            "[[40, 0], [55, 0]]",
            "Middles of the ends of a slot.",
        ),
        key(
            "diameter",
            LENGTH,
            Sometimes("with `at`"),
            "4",
            "Of the hole; with `pin` in place of pin and clearance, 0 for a pin that is fast in the plate.",
        ),
        key(
            "clearance",
            LENGTH,
            Means("as of the joint"),
            "0.03",
            "Hole minus pin, with `pin`.",
        ),
        key(
            "width",
            LENGTH,
            Sometimes("with `slot`"),
            "8",
            "Of the slot.",
        ),
    ])
};
