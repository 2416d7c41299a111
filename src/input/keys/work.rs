//! `[work]`: what the job asks of a jaw, measured or estimated.

use super::Omitted::{Means, Nothing, Sometimes, Takes};
use super::grasp::A_JAW;
use super::job::{A_MATERIAL, STRESS};
use super::kind::Kind;
use super::tool::{FRICTION, LENGTH, NOTE};
use super::{Table, key, table};
use crate::input::jobs::JOBS;
use crate::units::Quantity;

pub(in crate::input) static WORK: Table = table(&[
    key(
        "jaw",
        A_JAW,
        Means("the first jaw"),
        "\"nose\"",
        "Jaw at which the job is done; further jobs, each at a jaw of its own, in several [[work]].",
    ),
    key(
        "need",
        Kind::Either(&[
            Kind::Rows([("gap", Quantity::Length), ("force", Quantity::Force)]),
            Kind::Text("path of a CSV file"),
        ]),
        Sometimes("without `job`"),
        "[[3.0, 0], [1.2, 600], [0.0, 2600]]",
        "Force needed over the gap: straight lines between the rows, nothing before the widest gap, \
         the last force beyond the narrowest. A gap may stand twice, where the force jumps; at the jump \
         itself the greater force counts.",
    ),
    key(
        "note",
        NOTE,
        Nothing,
        "\"measured on an arbor press\"",
        "Free text: where the curve comes from.",
    ),
    key(
        "rigid",
        LENGTH,
        Nothing,
        "2.5",
        "Thickness of a workpiece that does not give: `loads` then tells how hard the tool's own \
         compliance lets it be pressed.",
    ),
    key(
        "scale",
        Kind::Above(0.0),
        Takes("1"),
        "1.2",
        "Factor of all forces of `need`, for work that is harder or easier than was measured.",
    ),
    key(
        "return",
        LENGTH,
        Nothing,
        "0.04",
        "What the piece springs back when the jaws let go: the height of the finished work is told, its distance between the \
         faces of the jaws.",
    ),
    key(
        "stiffness",
        Kind::Quantity(Quantity::Rate),
        Nothing,
        "\"30 kN/mm\"",
        "In place of `return`: force per length with which it springs back from under the last force.",
    ),
    key(
        "wanted",
        LENGTH,
        Nothing,
        "1.25",
        "Height of the finished piece that is wanted, between the faces of the jaws after it sprang back.",
    ),
    key(
        "within",
        LENGTH,
        Nothing,
        "0.05",
        "What that height may be off by, either way: a demand on `height`, where the file has none for that jaw.",
    ),
    key(
        "job",
        Kind::Words(JOBS),
        Sometimes("without `need`"),
        "\"pierce\"",
        "The work is estimated from size and strength, until it is measured. Needed: pierce: hole, thickness, shear; \
         shear strip: width, thickness, shear; cut wire: diameter, tensile; bend: width, thickness, opening, tensile, \
         starts; upset rivet: diameter, from, to, flow. Others have no formula to rely on: measure them.",
    ),
    key(
        "hole",
        LENGTH,
        Nothing,
        "6",
        "Of pierce: diameter of the hole.",
    ),
    key("thickness", LENGTH, Nothing, "1.0", "Of the sheet."),
    key(
        "width",
        LENGTH,
        Nothing,
        "12",
        "Of shear strip and bend: length of the cut or bend.",
    ),
    key(
        "diameter",
        LENGTH,
        Nothing,
        "1.6",
        "Of the wire, or of the rivet's shank.",
    ),
    key(
        "opening",
        LENGTH,
        Nothing,
        "8",
        "Of bend: width of the V, or from edge to edge of punch and die.",
    ),
    key(
        "into",
        Kind::Words(&["V", "edge"]),
        Means("a V"),
        "\"edge\"",
        "Of bend: pressed into a V, or wiped round an edge.",
    ),
    key(
        "from",
        LENGTH,
        Nothing,
        "5",
        "Of upset rivet: length that stands out before.",
    ),
    key(
        "to",
        LENGTH,
        Nothing,
        "2.5",
        "Of upset rivet: length that is left.",
    ),
    key(
        "shear",
        STRESS,
        Means("0.8 of the ultimate strength of `material`"),
        "280",
        "Shear strength of the work.",
    ),
    key(
        "tensile",
        STRESS,
        Means("the ultimate strength of `material`"),
        "420",
        "Tensile strength of the work.",
    ),
    key(
        "flow",
        STRESS,
        Means("the middle of yield and ultimate strength of `material`"),
        "300",
        "Flow stress of the rivet.",
    ),
    key(
        "material",
        A_MATERIAL,
        Nothing,
        "\"plate\"",
        "What the work is made of: one of [materials].",
    ),
    key(
        "penetration",
        Kind::Above(0.0),
        Means("0.35; of a wire 0.5"),
        "0.4",
        "Share of the thickness at which it breaks, at most 1.",
    ),
    key(
        "rise",
        LENGTH,
        Means("parallel blades"),
        "0.5",
        "Of shear strip: by how much one end of a slanted blade leads.",
    ),
    key(
        "friction",
        FRICTION,
        Means("0.15"),
        "0.2",
        "Of upset rivet: of shank and dies.",
    ),
    key(
        "starts",
        LENGTH,
        Means(
            "the thickness, so that the edges meet at a gap of 0; of a rivet what it is upset by",
        ),
        "1.2",
        "Gap at which the work is touched.",
    ),
    key(
        "spread",
        Kind::Above(0.0),
        Means("0.2"),
        "0.3",
        "Share that the estimated forces may be off by, either way: a tolerance of work.scale where none is stated.",
    ),
]);
