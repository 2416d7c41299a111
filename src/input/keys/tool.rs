//! The tables that say what the tool is: parts, sketch, slots.

use super::Omitted::{Means, Nothing, Sometimes, Takes, Wrong};
use super::kind::Kind;
use super::{Table, key, table};
use crate::units::Quantity;

pub(super) const LENGTH: Kind = Kind::Quantity(Quantity::Length);
pub(super) const ANGLE: Kind = Kind::Quantity(Quantity::Angle);
pub(super) const FRICTION: Kind = Kind::Number(0.0, 2.0);
pub(super) const NOTE: Kind = Kind::Text("text");
const A_MATERIAL: Kind = Kind::Name("name of a material");
pub(super) const A_PART: Kind = Kind::Name("name of a part");
pub(super) const A_POINT: Kind = Kind::Name("name of a pin or mark");
/// Where a point of a part is given, or named.
pub(super) const SPOT: Kind = Kind::Either(&[Kind::Place, A_POINT]);
const POINTS: Kind = Kind::Either(&[
    Kind::Named(&Kind::Place),
    Kind::List(&Kind::Name("name"), 1),
]);

pub(in crate::input) static TOOL: Table = table(&[
    key(
        "name",
        NOTE,
        Takes("\"tool\""),
        "\"Eyelet setter\"",
        "Name for titles.",
    ),
    key(
        "units",
        Kind::Words(&["mm-N", "in-lbf"]),
        Wrong,
        "\"mm-N\"",
        "What bare numbers mean: mm, N, degrees, MPa, or in, lbf, degrees, psi.",
    ),
    key(
        "note",
        NOTE,
        Nothing,
        "\"sets 5 mm brass eyelets\"",
        "Free text.",
    ),
]);

pub(in crate::input) static PART: Table = table(&[
    key(
        "fixed",
        Kind::Flag,
        Takes("false"),
        "true",
        "true for exactly one part: its axes are the tool's axes.",
    ),
    key(
        "pins",
        POINTS,
        Nothing,
        "{ heel = [0, 0], knee = [15, 0] }",
        "Holes, each shared with another part that has a pin of the same name (where three or more \
         do, the first carries the pin): places in the part's own axes, or names alone, whose \
         places come from [sketch].",
    ),
    key(
        "marks",
        POINTS,
        Nothing,
        "{ nose = [55, -5] }",
        "Any other point worth a name, given as pins are.",
    ),
    key(
        "length",
        LENGTH,
        Nothing,
        "27",
        "Distance of the two pins of a link (pins = [\"knee\", \"wrist\"]); its datum is the first \
         pin, x towards the second.",
    ),
]);

pub(super) static SKETCH: Table = Table {
    named: Some(&key(
        "POINT",
        Kind::Dotted(&Kind::Place, 1),
        Nothing,
        "[14, -6]",
        "Where a pin or mark of that name is, roughly; \"part.mark\" where several parts have such a \
         mark. In pixels, y down, with `scale`.",
    )),
    ..table(&[
        key(
            "scale",
            Kind::Table(&SCALE),
            Nothing,
            "{ from = [212, 540], to = [212, 871], length = 50 }",
            "The sketch is in pixels of a picture: a distance in it that is known.",
        ),
        key(
            "origin",
            A_POINT,
            Sometimes("with `scale`"),
            "\"heel\"",
            "The sketched point whose place on the fixed part is known; may stand in `scale` too.",
        ),
    ])
};

pub(in crate::input) static SCALE: Table = table(&[
    key(
        "from",
        Kind::Pixel,
        Wrong,
        "[212, 540]",
        "One end of the known distance.",
    ),
    key("to", Kind::Pixel, Wrong, "[212, 871]", "Its other end."),
    key("length", LENGTH, Wrong, "50", "The distance between them."),
    key(
        "origin",
        A_POINT,
        Nothing,
        "\"heel\"",
        "As `origin` of [sketch].",
    ),
]);

pub(in crate::input) static SLOT: Table = table(&[
    key(
        "name",
        Kind::Name("name"),
        Means("measures count the slots from 1"),
        "\"ramp\"",
        "Name of the slot, for measures such as contact.ramp.",
    ),
    key(
        "part",
        A_PART,
        Wrong,
        "\"plunger\"",
        "The part whose point rides in the slot.",
    ),
    key(
        "point",
        A_POINT,
        Wrong,
        "\"foot\"",
        "The point that rides, a pin or mark of that part.",
    ),
    key(
        "on",
        A_PART,
        Wrong,
        "\"frame\"",
        "The part that has the slot.",
    ),
    key(
        "through",
        SPOT,
        Sometimes("`through` or `centre`"),
        "[20, 0]",
        "A point of `on` that the slot's straight centre line passes.",
    ),
    key(
        "angle",
        ANGLE,
        Sometimes("with `through`"),
        "90",
        "Of the slot's centre line, in the axes of `on`.",
    ),
    key(
        "centre",
        SPOT,
        Sometimes("`through` or `centre`"),
        "[12, -40]",
        "Of an arc slot: the centre of its centre line, a point of `on`.",
    ),
    key(
        "radius",
        LENGTH,
        Sometimes("with `centre`"),
        "30",
        "Of an arc slot's centre line.",
    ),
    key(
        "keyed",
        Kind::Flag,
        Takes("false"),
        "true",
        "true: the part may not turn in the slot, as a plunger in its guide.",
    ),
    key(
        "turn",
        ANGLE,
        Takes("0"),
        "15",
        "Angle of a keyed part's axes against those of `on`.",
    ),
    key(
        "friction",
        FRICTION,
        Takes("0"),
        "0.1",
        "Coefficient of friction along the slot; of a roller, on its pin.",
    ),
    key(
        "width",
        LENGTH,
        Nothing,
        "12",
        "Guide length of a keyed slider, for the edge loads of its moment.",
    ),
    key(
        "roller",
        Kind::Table(&ROLLER),
        Means("the point slides"),
        "{ diameter = 10, pin = 4 }",
        "A roller about the point, which rolls along the walls.",
    ),
    key(
        "material",
        A_MATERIAL,
        Means("the pressure of the roller is not checked"),
        "\"plate\"",
        "Of the roller and the walls, for the pressure between them; it needs `modulus`, and the roller a `width`.",
    ),
]);

pub(in crate::input) static ROLLER: Table = table(&[
    key("diameter", LENGTH, Wrong, "10", "Of the roller's rim."),
    key(
        "pin",
        LENGTH,
        Wrong,
        "4",
        "Diameter of the pin that it turns on, and of its hole in the part.",
    ),
    key("width", LENGTH, Nothing, "6", "Of its rim."),
]);

pub(in crate::input) static CAM: Table = table(&[
    key(
        "name",
        Kind::Name("name"),
        Means("its address counts the cams from 1"),
        "\"press\"",
        "Name of the cam, for addresses and measures such as contact.press.",
    ),
    key(
        "part",
        A_PART,
        Wrong,
        "\"lever\"",
        "The part that has the cam's face.",
    ),
    key(
        "face",
        Kind::Table(&FACE),
        Wrong,
        "{ centre = [3, -2], radius = 14 }",
        "The face: an eccentric disc, or a smooth curve through points.",
    ),
    key(
        "pushes",
        Kind::PartPoint,
        Wrong,
        "\"plunger.roller\"",
        "What it pushes: the centre of the roller, or a point on the flat.",
    ),
    key(
        "roller",
        Kind::Table(&ROLLER),
        Sometimes("`roller` or `flat`"),
        "{ diameter = 10, pin = 4 }",
        "The roller that it pushes on.",
    ),
    key(
        "flat",
        ANGLE,
        Sometimes("`roller` or `flat`"),
        "90",
        "Direction of the flat that it pushes on, in the axes of the part pushed; its side is as sketched.",
    ),
    key(
        "friction",
        FRICTION,
        Takes("0"),
        "0.1",
        "Coefficient of friction on the flat; of a roller, on its pin. It acts at the rim: a slot through the centre of a \
         disc, in its place, would leave most of it out.",
    ),
    key(
        "material",
        A_MATERIAL,
        Means("the pressure of roller or flat is not checked"),
        "\"plate\"",
        "Of the face and what it pushes, for the pressure between them; it needs `modulus`, and a `width`.",
    ),
    key(
        "width",
        LENGTH,
        Sometimes("for the pressure on a flat"),
        "6",
        "Length of the line on which the face touches a flat; a roller has a width of its own.",
    ),
]);

pub(in crate::input) static FACE: Table = table(&[
    key(
        "centre",
        SPOT,
        Sometimes("for a disc"),
        "[3, -2]",
        "Centre of the disc, a point of `part`.",
    ),
    key(
        "radius",
        LENGTH,
        Sometimes("for a disc"),
        "14",
        "Of the disc.",
    ),
    key(
        "points",
        Kind::List(&Kind::Place, 3),
        Sometimes("for a curve"),
        "[[20, 0], [18, 9], [12, 16], [3, 19]]",
        "Three places or more that a smooth curve (a natural cubic spline) goes through, in an order that has the \
         solid of `part` on its left: counter-clockwise round a cam.",
    ),
]);
