//! The tables of the whole file, in the order in which one writes them.

use super::Omitted::{Nothing, Wrong};
use super::gears::GEARS;
use super::grasp::{HAND, JAW, STOP, STROKE};
use super::job::{ADJUSTER, AIM, DEMAND, JOINTS, MATERIAL, SECTION, TIES, TOLERANCES, TUNE};
use super::kind::Kind;
use super::life::{LIFE, TRIAL};
use super::people::{JOB, OPERATORS};
use super::plate::OUTLINE;
use super::ratchet::RATCHET;
use super::shop::{BENCH, ROOM, STOCK};
use super::springs::SPRING;
use super::tool::{CAM, PART, SKETCH, SLOT, TOOL};
use super::work::WORK;
use super::{Table, key, table};

/// The whole file.
pub(in crate::input) static ROOT: Table = table(&[
    key(
        "tool",
        Kind::Table(&TOOL),
        Wrong,
        "",
        "The tool as a whole.",
    ),
    key(
        "parts",
        Kind::Each("NAME", &PART, 2),
        Wrong,
        "",
        "Rigid parts, each in its own axes from its own datum: x right, y up, angles \
         counter-clockwise. Parts that name the same pin are joined there.",
    ),
    key(
        "sketch",
        Kind::Table(&SKETCH),
        Nothing,
        "",
        "Rough places of pins and marks with the tool in any one position, in the fixed part's \
         axes: they tell which way the parts go together. Not needed where all parts are drawn in place.",
    ),
    key(
        "slots",
        Kind::Tables(&SLOT, 0),
        Nothing,
        "",
        "Sliding joints: a point of one part rides in a slot of another, straight or an arc.",
    ),
    key(
        "cams",
        Kind::Tables(&CAM, 0),
        Nothing,
        "",
        "Cams: an eccentric disc on one part pushes a roller or a flat of another, and cannot pull it.",
    ),
    key(
        "gears",
        Kind::Tables(&GEARS, 0),
        Nothing,
        "",
        "Tooth sectors in mesh, outside or in a ring, and racks with their pinions.",
    ),
    key(
        "hand",
        Kind::Table(&HAND),
        Wrong,
        "",
        "Where the hand holds the tool, and how it pushes.",
    ),
    key(
        "jaw",
        Kind::Tables(&JAW, 1),
        Wrong,
        "",
        "Jaws, each a pair of points between which the tool works; the first is meant where none \
         is named, and closes all the way on the stroke.",
    ),
    key(
        "stroke",
        Kind::Table(&STROKE),
        Wrong,
        "",
        "The stroke to be solved, from open to shut.",
    ),
    key(
        "stops",
        Kind::Tables(&STOP, 0),
        Nothing,
        "",
        "Stops: two faces that meet and end the stroke, one pair for each end at most.",
    ),
    key(
        "work",
        Kind::Either(&[Kind::Table(&WORK), Kind::Tables(&WORK, 0)]),
        Nothing,
        "",
        "What the job needs at a jaw; at several, one at a time, each in a [[work]] of its own.",
    ),
    key(
        "job",
        Kind::Table(&JOB),
        Nothing,
        "",
        "How often the tool is used, and by whom: repeated use is then judged beside the single squeeze.",
    ),
    key(
        "operators",
        Kind::Tables(&OPERATORS, 0),
        Nothing,
        "",
        "The people who use the tool, group by group: `people` tells the share of each that is able.",
    ),
    key(
        "joints",
        Kind::Table(&JOINTS),
        Nothing,
        "",
        "Data of every pin joint.",
    ),
    key(
        "springs",
        Kind::Tables(&SPRING, 0),
        Nothing,
        "",
        "Springs between two points, or about a pin.",
    ),
    key(
        "life",
        Kind::Table(&LIFE),
        Nothing,
        "",
        "How often the tool has to do its job, and what fatigue is held against.",
    ),
    key(
        "trial",
        Kind::Table(&TRIAL),
        Nothing,
        "",
        "Readings of the tool on the bench, laid on the prediction by `trial` and in a report.",
    ),
    key(
        "materials",
        Kind::Each("NAME", &MATERIAL, 0),
        Nothing,
        "",
        "Materials by name, for strength.",
    ),
    key(
        "sections",
        Kind::Each("PART", &SECTION, 0),
        Nothing,
        "",
        "Cross-sections, each for the part of that name, for strength.",
    ),
    key(
        "outlines",
        Kind::Each("PART", &OUTLINE, 0),
        Nothing,
        "",
        "Borders and holes of plates, each for the part of that name, in its own axes.",
    ),
    key(
        "room",
        Kind::Table(&ROOM),
        Nothing,
        "",
        "What is asked of the room between plates.",
    ),
    key(
        "stock",
        Kind::Table(&STOCK),
        Nothing,
        "",
        "The sheets that plates are cut from, for the parts list.",
    ),
    key(
        "bench",
        Kind::Table(&BENCH),
        Nothing,
        "",
        "Where a tool on a bench stands (palm = false): the fixed part is then judged like any other.",
    ),
    key(
        "demand",
        Kind::Tables(&DEMAND, 0),
        Nothing,
        "",
        "What the tool must do, in numbers.",
    ),
    key(
        "ties",
        Kind::Table(&TIES),
        Nothing,
        "",
        "Numbers that follow others, whatever changes those.",
    ),
    key(
        "tolerances",
        Kind::Table(&TOLERANCES),
        Nothing,
        "",
        "How exactly dimensions are made: \u{b1} values.",
    ),
    key(
        "tune",
        Kind::Tables(&TUNE, 0),
        Nothing,
        "",
        "Dimensions that `tune` may change, each with its range.",
    ),
    key(
        "adjusters",
        Kind::Tables(&ADJUSTER, 0),
        Nothing,
        "",
        "What the setter turns: eccentric pins, screws, shims; `setup` shows what each does.",
    ),
    key(
        "ratchet",
        Kind::Table(&RATCHET),
        Nothing,
        "",
        "Teeth and a pawl that let the tool close and not open: one full stroke or nothing.",
    ),
    key(
        "aim",
        Kind::Table(&AIM),
        Nothing,
        "",
        "What `tune` is to reach; the demands are kept as limits.",
    ),
]);
