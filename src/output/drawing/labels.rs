//! Labels of a drawing: each near its point, none on another, off the lines where that is possible,
//! with a leader line where it has to stand away.

use super::ink::{Ink, Line, Shape, V, Words, dot, length, minus, plus, times, unit};
use crate::output::svg::labels::text_width;
use crate::output::svg::pen::{GREY, INK};

/// Height above and below the base line that a line of text may take, in shares of its size.
pub(super) const RISE: f64 = 0.95;
const DROP: f64 = 0.27;
/// Least distance of two labels, mm.
const APART: f64 = 0.6;
/// Distances from the point that are tried, mm, before the label's own clearance.
const RINGS: [f64; 17] = [
    0.0, 1.0, 2.0, 3.0, 4.5, 6.0, 8.0, 10.0, 12.5, 15.0, 18.0, 21.0, 25.0, 30.0, 36.0, 44.0, 54.0,
];
const DIRECTIONS: usize = 24;
/// A label this much farther from its point than it might be gets a leader line, mm.
const LEADER: f64 = 3.5;
/// How far the white rim of a label reaches, and a little more, mm.
const RIM: f64 = 0.5;
/// How much a millimetre is worth by which a label makes the drawing wider: it is better above or below.
pub(super) const WIDER: f64 = 0.4;
/// The same where the drawing has little room.
pub(super) const TIGHT: f64 = 1.2;
/// How much a leader line is in the way of later labels.
const LED: f64 = 6.0;
/// A label is nearer to its own point than to others by this at least, or has a leader line, mm.
const NEARER: f64 = 2.0;
/// How much a place is worth that is nearer to another point of the kind.
const MISLEADS: f64 = 15.0;
/// A place of the label's own with more than this in the way is not taken.
const CROWDED: f64 = 15.0;

/// Radius of the circle round a number, mm.
pub(super) const BALLOON: f64 = 2.4;

const RING: Line = Line {
    colour: INK,
    width: 0.25,
    dash: "",
};

/// A label to be placed.
#[derive(Debug, Clone)]
pub(super) struct Label {
    pub text: String,
    /// The point that it names.
    pub at: V,
    /// Distance that it keeps from the point at least, mm.
    pub clear: f64,
    pub size: f64,
    pub bold: bool,
    pub italic: bool,
    /// Placed before all others.
    pub first: bool,
    /// A number in a circle, with a dot on what it names where it stands away.
    pub balloon: bool,
    pub colour: &'static str,
    /// Where it had best stand.
    pub towards: Option<V>,
    /// Places that its middle may take, the best first: it then needs no leader line.
    pub spots: Vec<V>,
    /// Points of others of its kind: nearer to one of these than to its own it would be read as theirs.
    pub rivals: Vec<V>,
}

impl Label {
    /// Whether it would be read as the name of another point.
    fn misleads(&self, Room(low, high): Room) -> bool {
        let off = |p: V| {
            let near = [0, 1].map(|k: usize| p[k].clamp(low[k], high[k]));
            length(minus(p, near))
        };
        self.rivals
            .iter()
            .any(|&rival| off(rival) < off(self.at) + NEARER)
    }
}

/// A rectangle on the paper: upper left and lower right corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Room(pub V, pub V);

impl Room {
    fn around(centre: V, size: V) -> Self {
        Self(
            [centre[0] - 0.5 * size[0], centre[1] - 0.5 * size[1]],
            [centre[0] + 0.5 * size[0], centre[1] + 0.5 * size[1]],
        )
    }

    /// Where a line of text stands that begins, is centred or ends at a point of its base line.
    pub(super) fn of(words: &Words) -> Self {
        let wide = text_width(&words.text, words.size, words.bold);
        let left = match words.anchor {
            "start" => words.at[0],
            "end" => words.at[0] - wide,
            _ => words.at[0] - 0.5 * wide,
        };
        Self(
            [left, words.at[1] - RISE * words.size],
            [left + wide, words.at[1] + DROP * words.size],
        )
    }

    pub(super) fn overlaps(&self, other: &Self, apart: f64) -> bool {
        (0..2).all(|k| self.0[k] < other.1[k] + apart && other.0[k] < self.1[k] + apart)
    }

    pub(super) fn holds(&self, p: V, margin: f64) -> bool {
        (0..2).all(|k| p[k] > self.0[k] - margin && p[k] < self.1[k] + margin)
    }
}

/// Places labels on the ink in the order given, the most important first; where they stand. `wide`: what a millimetre
/// costs by which the drawing becomes wider, [`WIDER`] or [`TIGHT`].
pub(super) fn place(ink: &mut Ink, labels: Vec<Label>, wide: f64) -> Vec<Room> {
    let mut taken: Vec<Room> = Vec::new();
    for label in labels.into_iter().filter(|l| !l.text.is_empty()) {
        let size = match label.balloon {
            true => [2.0 * BALLOON; 2],
            false => [
                text_width(&label.text, label.size, label.bold),
                (RISE + DROP) * label.size,
            ],
        };
        if let Some(room) = spot(ink, &label, size, &taken) {
            set(ink, &label, room, false);
            taken.push(room);
            continue;
        }
        let mut best: Option<(f64, Room)> = None;
        'rings: for ring in RINGS {
            for k in 0..DIRECTIONS {
                let angle = std::f64::consts::TAU * k as f64 / DIRECTIONS as f64;
                let out = [angle.cos(), angle.sin()];
                let room = beside(&label, out, ring, size);
                if taken.iter().any(|t| t.overlaps(&room, APART)) {
                    continue;
                }
                let liked = label.towards.map_or(0.0, |t| 1.0 - dot(unit(t), out));
                let crossed = crossed(&label, room, &taken);
                let theirs = if label.misleads(room) { MISLEADS } else { 0.0 };
                let place = 1.1 * ring
                    + 12.0 * crossed as f64
                    + 1.2 * liked
                    + wide * wider(ink, room)
                    + theirs;
                // What is in the way takes long to count, and makes no place better.
                if best.is_some_and(|(least, _)| place >= least) {
                    continue;
                }
                let cost = place + 0.8 * crowd(ink, room);
                if best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, room));
                }
            }
            // Nothing farther out can be better than what is found.
            if best.is_some_and(|(least, _)| least < 1.1 * ring) {
                break 'rings;
            }
        }
        // All is full as far as we look: below everything there is room.
        let room = best.map_or_else(
            || {
                let low = taken.iter().fold(ink.bounds[1][1], |y, t| y.max(t.1[1]));
                Room::around([label.at[0], low + APART + size[1]], size)
            },
            |(_, room)| room,
        );
        set(ink, &label, room, true);
        taken.push(room);
    }
    taken
}

/// How much wider the drawing becomes with a label: a long one beside the outermost arrow would take the
/// room of the tool on a page.
fn wider(ink: &Ink, Room(low, high): Room) -> f64 {
    let [left, right] = ink.bounds.map(|corner| corner[0]);
    (left - low[0]).max(0.0) + (high[0] - right).max(0.0)
}

/// How much is in the way of a label.
fn crowd(ink: &Ink, room: Room) -> f64 {
    ink.crowd.within([room.0, room.1], RIM).sum()
}

/// The best of the label's own places, if one is free of labels and not too crowded.
fn spot(ink: &Ink, label: &Label, size: V, taken: &[Room]) -> Option<Room> {
    let rooms = label.spots.iter().map(|&at| Room::around(at, size));
    let free = rooms.filter(|room| !taken.iter().any(|t| t.overlaps(room, APART)));
    let mut best: Option<(f64, Room)> = None;
    for (k, room) in free.enumerate() {
        let later = 0.02 * k as f64;
        // None of those that follow can be better.
        if best.is_some_and(|(least, _)| least <= later) {
            break;
        }
        let cost = 0.8 * crowd(ink, room) + later;
        if best.is_none_or(|(least, _)| cost < least) {
            best = Some((cost, room));
        }
    }
    let (cost, room) = best?;
    (cost < CROWDED).then_some(room)
}

/// The label's place in a direction from its point: its nearest corner or edge `clear` + `ring` away.
fn beside(label: &Label, out: V, ring: f64, size: V) -> Room {
    // The name of a part stands on its place.
    if label.italic || label.balloon {
        return Room::around(plus(label.at, times(ring, out)), size);
    }
    // Half the label's extent towards the point, less where the direction is slanted, so that the
    // label goes round the point and not round a circle.
    let steep = out[0].abs().max(out[1].abs());
    let half = [
        0.5 * size[0] * (out[0] / steep).clamp(-1.0, 1.0),
        0.5 * size[1] * (out[1] / steep).clamp(-1.0, 1.0),
    ];
    let centre = plus(plus(label.at, times(label.clear + ring, out)), half);
    Room::around(centre, size)
}

/// How many labels the leader line to a place would cross.
fn crossed(label: &Label, room: Room, taken: &[Room]) -> usize {
    let Room(low, high) = room;
    let near = [0, 1].map(|k: usize| label.at[k].clamp(low[k], high[k]));
    let way = minus(near, label.at);
    if length(way) <= label.clear + LEADER {
        return 0;
    }
    let over =
        |t: &&Room| (1..20).any(|k| t.holds(plus(label.at, times(f64::from(k) / 20.0, way)), 0.2));
    taken.iter().filter(over).count()
}

fn set(ink: &mut Ink, label: &Label, room: Room, leader: bool) {
    let Room(low, high) = room;
    if leader {
        let near = [
            label.at[0].clamp(low[0], high[0]),
            label.at[1].clamp(low[1], high[1]),
        ];
        let way = minus(near, label.at);
        if length(way) > label.clear + LEADER || label.misleads(room) {
            let from = plus(label.at, times(0.6 * label.clear, unit(way)));
            let thin = Line {
                colour: GREY,
                width: 0.18,
                dash: "",
            };
            ink.line(&[from, near], thin, LED);
            if label.balloon {
                ink.circle(label.at, 0.5, INK, thin, None);
            }
        }
    }
    ink.reach(low, 0.5);
    ink.reach(high, 0.5);
    let middle = [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])];
    let at = if label.balloon {
        ink.circle(middle, BALLOON, "#ffffff", RING, None);
        plus(middle, [0.0, 0.36 * label.size])
    } else {
        [middle[0], low[1] + RISE * label.size]
    };
    let words = Words {
        at,
        text: label.text.clone(),
        size: label.size,
        bold: label.bold,
        italic: label.italic,
        colour: label.colour,
        anchor: "middle",
        rim: !label.balloon,
    };
    ink.shapes.push(Shape::Text(words));
}
