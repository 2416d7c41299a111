//! Whether the outlines are borders of plates: said at the line of the piece or hole that is wrong.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::Reader;
use super::size::short;
use super::spelling;
use crate::geometry::Vec2;
use crate::model::{Border, Drilled, Joint, PartId, PointRef, Tool};
use crate::outline::{Fault, LEAST, MOST_DISCS};
use crate::plates::{self, HoleOf, Why, marks_outside, shape};
use crate::units::{Quantity, UnitSystem};
use std::ops::Range;

impl Reader<'_> {
    /// Draws every outline, and says what is wrong with it.
    pub(super) fn outlines_close(&mut self, tool: &Tool) {
        for outline in &tool.outlines {
            let said = Said {
                tool,
                part: outline.part,
                units: self.units,
            };
            for (k, row) in outline.holes.iter().enumerate() {
                if let Drilled::Pin {
                    point,
                    clearance: Some(_),
                    ..
                } = *row
                    && !said.has_diameter(point)
                {
                    let span = self.outline_span(&said, &format!(".holes.{}", k + 1));
                    let message = format!("pin `{}` has no diameter", said.point(point));
                    let problem = Diagnostic::error(code::TOGETHER, span, message);
                    self.report(
                        problem.help("give it in [joints], or the `diameter` of the hole here"),
                    );
                }
            }
            match shape(tool, outline.part) {
                // What is wrong with the outline that is mirrored is said once, where it is given.
                Some(Err(flaw)) if flaw.part != outline.part => {}
                Some(Err(flaw)) => self.flaw(&said, &flaw.why),
                Some(Ok(shape)) => {
                    let outside = marks_outside(tool, outline.part, &shape);
                    self.marks_outside(&said, &outside);
                }
                None => {}
            }
        }
    }

    fn marks_outside(&mut self, said: &Said<'_>, outside: &[usize]) {
        let names: Vec<&str> = outside.iter().map(|&k| said.point(k)).collect();
        let Some(first) = names.first() else { return };
        let message = match names.len() {
            1 => format!("mark `{first}` lies outside its part's outline"),
            _ => format!(
                "marks {} lie outside their part's outline",
                spelling::list(&names)
            ),
        };
        let span = self.point_span(said, first);
        let outline = self.outline_span(said, "");
        self.report(
            Diagnostic::advice(code::MARK_OUTSIDE, span, message)
                .also(outline, "the outline")
                .help(
                    "right where it stands off the plate on purpose; else take the border round it",
                ),
        );
    }

    /// Where a pin or mark stands in the file.
    fn point_span(&self, said: &Said<'_>, point: &str) -> Range<usize> {
        let place = format!("parts.{}.{point}", said.name());
        self.spans.get(&place).cloned().unwrap_or(0..0)
    }

    /// Where something of an outline stands in the file, or what it is in.
    fn outline_span(&self, said: &Said<'_>, what: &str) -> Range<usize> {
        let mut place = format!("outlines.{}{what}", said.name());
        loop {
            if let Some(span) = self.spans.get(&place) {
                return span.clone();
            }
            match place.rfind('.') {
                Some(dot) => place.truncate(dot),
                None => return 0..0,
            }
        }
    }

    fn flaw(&mut self, said: &Said<'_>, why: &Why) {
        if *why == Why::NoImage && !said.original_exists() {
            return; // said where it was read
        }
        let (what, message, help) = said.of(why);
        let span = self.outline_span(said, &what);
        let mut problem = Diagnostic::error(code::OUTLINE, span.clone(), message).help(help);
        if let Why::PinOutside(point) = why {
            let pin = self.point_span(said, said.point(*point));
            problem = problem.also(pin, "the pin");
        }
        if let Why::Border(Fault::Crosses { entries, .. }) = why {
            let other = self.outline_span(said, &said.leg(entries[0]));
            if other != span {
                problem = problem.also(other, "the other piece");
            }
        }
        self.report(problem);
    }
}

/// What is wrong with the outlines of a tool with other numbers, and what to do: the first of it.
pub(super) fn first_flaw(tool: &Tool) -> Option<(String, String)> {
    tool.outlines.iter().find_map(|outline| {
        let flaw = shape(tool, outline.part)?.err()?;
        let said = Said {
            tool,
            part: flaw.part,
            units: tool.units,
        };
        let (_, message, help) = said.of(&flaw.why);
        let message = format!("the outline of `{}` is none then: {message}", said.name());
        Some((message, help))
    })
}

/// Flaws of an outline in words.
struct Said<'t> {
    tool: &'t Tool,
    part: PartId,
    units: UnitSystem,
}

/// Where it stands below the outline's table, what is wrong, what to do.
type Words = (String, String, String);

impl Said<'_> {
    fn name(&self) -> &str {
        self.tool.part(self.part).map_or("", |part| &part.name)
    }

    fn point(&self, point: usize) -> &str {
        let part = self.tool.part(self.part);
        let point = part.and_then(|part| part.points.get(point));
        point.map_or("", |point| point.name.as_str())
    }

    /// Whether there is an outline that this one mirrors.
    fn original_exists(&self) -> bool {
        match plates::outline(self.tool, self.part).map(|outline| &outline.border) {
            Some(Border::Mirror { of, .. }) => plates::outline(self.tool, *of).is_some(),
            _ => false,
        }
    }

    /// Whether a joint at this point of the part states a diameter, or a roller there that of its pin.
    fn has_diameter(&self, point: usize) -> bool {
        let here = PointRef {
            part: self.part,
            point,
        };
        let mut joints = self.tool.joints.iter().zip(&self.tool.joint_data);
        let mut rollers = self.tool.all_joints().filter_map(Joint::roller);
        joints.any(|(joint, data)| data.diameter.is_some() && joint.ends().contains(&here))
            || rollers.any(|(at, _)| at == here)
    }

    fn length(&self, mm: f64) -> String {
        let shown = short(self.units.show(mm, Quantity::Length));
        format!("{shown} {}", self.units.symbol(Quantity::Length))
    }

    fn place(&self, at: Vec2) -> String {
        let [x, y] = at.xy().map(|v| short(self.units.show(v, Quantity::Length)));
        format!("({x}, {y})")
    }

    /// How many legs the path has.
    fn legs(&self) -> usize {
        match plates::outline(self.tool, self.part).map(|outline| &outline.border) {
            Some(Border::Path { legs, .. }) => legs.len(),
            _ => 0,
        }
    }

    /// Where a piece stands; that which closes the path by itself stands nowhere.
    fn leg(&self, entry: usize) -> String {
        match entry < self.legs() {
            true => format!(".path.{}", entry + 1),
            false => ".path".to_owned(),
        }
    }

    /// A piece in words.
    fn piece(&self, entry: usize) -> String {
        match entry < self.legs() {
            true => format!("piece {}", entry + 1),
            false => "the straight piece that closes the path".to_owned(),
        }
    }

    /// A hole in words, and where it stands.
    fn hole(&self, owners: &[HoleOf], hole: usize) -> (String, String) {
        match owners.get(hole) {
            Some(HoleOf::Row(row)) => (format!("hole {}", row + 1), format!(".holes.{}", row + 1)),
            Some(HoleOf::Pin(point)) => {
                let name = self.point(*point);
                (format!("the hole of pin `{name}`"), String::new())
            }
            Some(HoleOf::Mirrored(row)) => (
                format!("hole {} of the outline that is mirrored", row + 1),
                ".mirror".to_owned(),
            ),
            None => ("a hole".to_owned(), String::new()),
        }
    }

    fn of(&self, why: &Why) -> Words {
        let words = |place: &str, message: &str, help: &str| {
            (place.to_owned(), message.to_owned(), help.to_owned())
        };
        match why {
            Why::Border(fault) => self.border(*fault),
            Why::Holes(fault, owners) => self.holes(*fault, owners),
            Why::PinOutside(point) => (
                String::new(),
                format!("pin `{}` lies outside the outline", self.point(*point)),
                "the plate holds the pin: take the border round it".to_owned(),
            ),
            Why::NoImage => words(
                ".mirror",
                "this outline is the mirror image of itself",
                "give one of the two by `round` or `path`",
            ),
        }
    }

    fn border(&self, fault: Fault) -> Words {
        let words = |place: &str, message: &str, help: &str| {
            (place.to_owned(), message.to_owned(), help.to_owned())
        };
        match fault {
            Fault::OutOfRange { entry } => (
                self.leg(entry),
                "a place of this outline is too far away".to_owned(),
                "places are in the part's own axes, from its datum".to_owned(),
            ),
            Fault::TooFew => words(
                ".path",
                "the path has fewer than two pieces",
                "take it round the plate, counter-clockwise, back to its start",
            ),
            Fault::Short { entry, length } => (
                self.leg(entry),
                format!("{} is {} long", self.piece(entry), self.length(length)),
                "take the place out that is given twice".to_owned(),
            ),
            Fault::ArcTooShort {
                entry,
                radius,
                least,
            } => (
                self.leg(entry),
                format!(
                    "an arc of radius {} does not reach from start to end of {}",
                    self.length(radius.abs()),
                    self.piece(entry)
                ),
                format!("the least radius that reaches is {}", self.length(least)),
            ),
            Fault::RoundNotStraight { entry } => (
                self.leg(entry),
                format!(
                    "`round` at the end of {}, and the corner there is not between two straight pieces",
                    self.piece(entry)
                ),
                "take `round` out, or draw that arc as a piece of its own".to_owned(),
            ),
            Fault::RoundTooLarge {
                entry,
                radius,
                largest,
            } => (
                self.leg(entry),
                format!(
                    "the sides are too short to round the end of {} with {}",
                    self.piece(entry),
                    self.length(radius)
                ),
                format!("the largest radius that fits is {}", self.length(largest)),
            ),
            Fault::Crosses {
                entries: [a, b],
                at,
            } => {
                let message = if a == b {
                    format!("{} crosses itself at {}", self.piece(a), self.place(at))
                } else {
                    let (a, b) = (self.piece(a), self.piece(b));
                    format!("{a} and {b} cross or touch at {}", self.place(at))
                };
                let help = "a border runs round the plate once and never meets itself";
                (self.leg(b), message, help.to_owned())
            }
            Fault::Clockwise => words(
                ".path",
                "the path runs clockwise",
                "give its places in the other order: counter-clockwise, the material on the left",
            ),
            Fault::TooIntricate => words(
                ".path",
                "the outline has too many pieces side by side",
                "leave out places that do not matter",
            ),
            Fault::Throat { radius } => (
                ".throat".to_owned(),
                format!("no fillets of {} fit here", self.length(radius)),
                "give a smaller `throat`".to_owned(),
            ),
            Fault::DiscSize { disc } => (
                format!(".round.{}", disc + 1),
                "a disc without a radius".to_owned(),
                "give a positive radius".to_owned(),
            ),
            Fault::TooManyDiscs { count } => (
                ".round".to_owned(),
                format!(
                    "{count} discs are more than the {} that are taken",
                    MOST_DISCS
                ),
                "draw the outline by `path`".to_owned(),
            ),
            Fault::BeltWithoutDisc { belt } => (
                format!(".belts.{}", belt + 1),
                format!("belt {} goes round nothing", belt + 1),
                "name one disc or more in it".to_owned(),
            ),
            Fault::BeltsApart { belt } => (
                format!(".belts.{}", belt + 1),
                format!("belt {} does not touch the others", belt + 1),
                "a plate is of one piece: belts that name a common disc touch".to_owned(),
            ),
            Fault::MirrorWithoutLine => words(
                ".mirror",
                "the two places of `about` are the same",
                "give two places on the line to mirror about: [[0, 0], [1, 0]] for the x axis",
            ),
            Fault::HoleSize { .. }
            | Fault::HoleOutside { .. }
            | Fault::HoleOverEdge { .. }
            | Fault::HolesOverlap { .. } => self.holes(fault, &[]),
        }
    }

    fn holes(&self, fault: Fault, owners: &[HoleOf]) -> Words {
        let hole = |hole| self.hole(owners, hole);
        match fault {
            Fault::HoleSize { hole: k } => {
                let (name, place) = hole(k);
                let help = format!("at least {} is taken", self.length(LEAST));
                (place, format!("{name} is too small, or too large"), help)
            }
            Fault::HoleOutside { hole: k } => {
                let (name, place) = hole(k);
                let message = format!("{name} lies outside the plate");
                (
                    place,
                    message,
                    "move it, or take the border round it".to_owned(),
                )
            }
            Fault::HoleOverEdge { hole: k, at, .. } => {
                let (name, place) = hole(k);
                (
                    place,
                    format!("{name} runs over the edge at {}", self.place(at)),
                    "leave a wall between hole and edge, as wide as the plate is thick at least (common practice)"
                        .to_owned(),
                )
            }
            Fault::HolesOverlap { holes: [a, b], at } => {
                let ((first, _), (second, place)) = (hole(a), hole(b));
                (
                    place,
                    format!("{second} runs into {first} at {}", self.place(at)),
                    "move one of them, or make it smaller".to_owned(),
                )
            }
            other => self.border(other),
        }
    }
}
