//! The linkage in groups, one for each part, so that a page can move them: as it stands open, true in shape,
//! without names and forces, on paper that has room for the whole stroke.

use super::ink::{Ink, Shape, Step, V, across, length, minus, plus, times};
use super::outline::zigzag;
use super::tool::{Plate, pen, stacked};
use super::write::hatching;
use crate::output::error::OutputError;
use crate::output::finite::check_finite;
use crate::output::svg::pen::INK;
use crate::output::svg::writer::{Sheet, Svg, WIDE_FONTS, Way};
use crate::output::text::clean;
use crate::report::{DrawingReport, DrawnCam, DrawnPart, DrawnPosition, MotionReport};

/// The room of the picture, mm of paper.
const ROOM: V = [130.0, 96.0];
/// Round the picture, mm of paper.
const MARGIN: f64 = 2.0;
/// Half of what the face of a jaw, or of a stop, is long on paper, mm.
const FACE: f64 = 3.0;

/// A picture of groups.
pub(in crate::output) struct Moving {
    pub(in crate::output) svg: String,
    /// For each position, for each moving part: `[x, y, angle]`, mm of paper and deg, as SVG moves and turns.
    pub(in crate::output) moved: Vec<Vec<V3>>,
}

type V3 = [f64; 3];

/// What stands on one part; `None`: on the fixed one.
struct Layer {
    part: Option<usize>,
    ink: Ink,
}

/// A spring between two parts: its ends on paper as the tool stands open.
struct Spring {
    parts: [Option<usize>; 2],
    ends: [V; 2],
}

/// The picture of a drawing that shows the tool open and shut.
///
/// # Errors
/// When a number is not finite, or there is nothing to draw.
pub(in crate::output) fn moving(
    drawing: &DrawingReport,
    motion: &MotionReport,
    prefix: &str,
) -> Result<Moving, OutputError> {
    check_finite(motion)?;
    let (Some(open), Some(shut)) = (drawing.positions.first(), drawing.positions.last()) else {
        return Err(OutputError::NothingToDraw);
    };
    let groups = |scale| Groups::of(open, shut, motion, scale);
    let [low, high] = groups(1.0).bounds(motion, 1.0);
    let size = minus(high, low).map(|side| side.max(1.0));
    let scale = (ROOM[0] / size[0]).min(ROOM[1] / size[1]);
    let drawn = groups(scale);
    let [low, high] = drawn.bounds(motion, scale).map(|v| v.map(f64::round));
    let corner = minus(low, [MARGIN; 2]);
    let name = clean(&drawing.tool);
    let mut svg = Svg::new(&Sheet {
        size: plus(minus(high, low), [2.0 * MARGIN; 2]),
        unit: "mm",
        fonts: WIDE_FONTS,
        id: prefix,
        title: &format!("{name}: the linkage at one position of its stroke"),
        about: "It stands at the position of the slider; open, until the slider is moved.",
    });
    hatching(&mut svg, prefix);
    svg.paper();
    let [x, y] = corner.map(|v| number(-v));
    let whole = svg
        .element("g")
        .with("transform", &format!("translate({x} {y})"));
    whole.holding(|svg| drawn.write(prefix, svg));
    // Up is minus y on paper.
    let on_paper = |[x, y, angle]: &V3| [x * scale, -y * scale, -angle];
    Ok(Moving {
        svg: svg.finish(),
        moved: (motion.moved.iter())
            .map(|parts| parts.iter().map(on_paper).collect())
            .collect(),
    })
}

/// A number of a transform.
fn number(value: f64) -> String {
    crate::output::text::trimmed((value * 100.0).round() / 100.0)
}

/// Where a point of a moving part stands, on paper.
fn moved(p: V, [x, y, angle]: V3) -> V {
    let (sin, cos) = angle.to_radians().sin_cos();
    [cos * p[0] - sin * p[1] + x, sin * p[0] + cos * p[1] + y]
}

struct Groups<'a> {
    motion: &'a MotionReport,
    scale: f64,
    layers: Vec<Layer>,
    springs: Vec<Spring>,
}

impl<'a> Groups<'a> {
    fn of(
        open: &DrawnPosition,
        shut: &DrawnPosition,
        motion: &'a MotionReport,
        scale: f64,
    ) -> Self {
        let mut groups = Self {
            motion,
            scale,
            layers: Vec::new(),
            springs: Vec::new(),
        };
        let [back, fixed, front] = stacked(open);
        for part in &back {
            groups.body(part, open);
        }
        for part in &fixed {
            groups.body(part, open);
        }
        for part in &back {
            groups.on(Some(&part.name), |plate| plate.hidden(part));
        }
        for part in &front {
            groups.body(part, open);
        }
        for slot in &open.slots {
            groups.on(Some(&slot.part), |plate| plate.roller(slot));
            groups.on(Some(&slot.on), |plate| plate.slot_centre(slot));
        }
        for (cam, there) in open.cams.iter().zip(&shut.cams) {
            groups.cam(cam, there);
        }
        groups.teeth(open);
        for handle in &open.handles {
            groups.on(Some(&handle.part), |plate| plate.centre_line(handle));
        }
        groups.faces(open, shut);
        groups.coils(open);
        for pin in &open.pins {
            let on = motion.pins.iter().find(|(name, _)| *name == pin.name);
            groups.on(on.map(|(_, part)| part.as_str()), |plate| {
                plate.hole(pin);
            });
        }
        groups
    }

    /// The number of a part; `None` for the fixed one.
    fn index(&self, part: Option<&str>) -> Option<usize> {
        let part = part?;
        self.motion.parts.iter().position(|name| name == part)
    }

    /// Adds what is drawn to the group of a part.
    fn on(&mut self, part: Option<&str>, draw: impl FnOnce(&mut Plate)) {
        let part = self.index(part);
        let mut plate = Plate::new(self.scale);
        draw(&mut plate);
        let mut ink = plate.ink;
        match self.layers.last_mut() {
            Some(last) if last.part == part => last.ink.shapes.append(&mut ink.shapes),
            _ => self.layers.push(Layer { part, ink }),
        }
    }

    /// A part with its handle, what rides in a slot of another below it, its own slots above.
    fn body(&mut self, part: &DrawnPart, open: &DrawnPosition) {
        self.on(Some(&part.name), |plate| {
            let rides = open.slots.iter().filter(|slot| slot.part == part.name);
            rides.for_each(|slot| plate.guide(slot));
            plate.part(part, &open.handles);
            let own = open.slots.iter().filter(|slot| slot.on == part.name);
            own.for_each(|slot| plate.walls(slot));
        });
    }

    /// How a part of this name has moved at the last row, on paper.
    fn at_last(&self, part: &str) -> V3 {
        let found = self.index(Some(part)).and_then(|k| {
            let [x, y, angle] = *self.motion.moved.last()?.get(k)?;
            Some([x * self.scale, -y * self.scale, -angle])
        });
        found.unwrap_or_default()
    }

    /// A point on paper at shut, back to where it is on that part as the tool stands open.
    fn back(&self, part: &str, p: V) -> V {
        let [x, y, angle] = self.at_last(part);
        moved(minus(p, [x, y]), [0.0, 0.0, -angle])
    }

    /// The faces of jaws and stops: each on its part, and such that they lie on each other at shut.
    fn faces(&mut self, open: &DrawnPosition, shut: &DrawnPosition) {
        let jaws = open.jaws.iter().filter_map(|jaw| {
            let there = shut.jaws.iter().find(|other| other.name == jaw.name)?;
            let axis = there.axis.or(jaw.axis)?;
            let on = self.motion.jaws.iter().find(|c| c.name == jaw.name)?;
            Some((on.parts.clone(), [jaw.on, jaw.against], axis))
        });
        let stops = open.stops.iter().filter_map(|stop| {
            let there = shut.stops.iter().find(|other| other.name == stop.name)?;
            let on = self.motion.stops.iter().find(|c| c.name == stop.name)?;
            Some((on.parts.clone(), stop.faces, there.axis))
        });
        let all: Vec<([String; 2], [V; 2], V)> = jaws.chain(stops).collect();
        for (parts, points, axis) in all {
            for (part, point) in parts.iter().zip(points) {
                let [_, _, angle] = self.at_last(part);
                let along = moved(Plate::towards(axis), [0.0, 0.0, -angle]);
                self.on(Some(part), |plate| {
                    let (at, half) = (plate.at(point), times(FACE, across(along)));
                    let face = pen(INK, 0.7, "");
                    plate
                        .ink
                        .line(&[minus(at, half), plus(at, half)], face, 0.0);
                });
            }
        }
    }

    /// The face of a cam on its part, and the roller or the flat on the one that it pushes: the flat as far as
    /// the contact goes along it.
    fn cam(&mut self, cam: &DrawnCam, there: &DrawnCam) {
        let motion = self.motion;
        let Some(on) = motion.cams.iter().find(|c| c.name == cam.cam) else {
            return;
        };
        let [own, pushed] = &on.parts;
        self.on(Some(own), |plate| plate.cam_face(cam));
        if cam.roller.is_some() {
            self.on(Some(pushed), |plate| plate.cam_roller(cam));
            return;
        }
        let last = self.back(pushed, Plate::new(self.scale).at(there.touches));
        self.on(Some(pushed), |plate| plate.cam_flat(cam, last));
    }

    fn teeth(&mut self, open: &DrawnPosition) {
        for rim in open.gears.iter().flat_map(|gears| &gears.sides) {
            self.on(Some(&rim.part), |plate| plate.rim(rim));
        }
        let motion = self.motion;
        if let (Some(ratchet), Some(on)) = (&open.ratchet, &motion.ratchet) {
            let [teeth, pawl] = &on.parts;
            self.on(Some(teeth), |plate| plate.teeth(ratchet));
            self.on(Some(pawl), |plate| plate.pawl(ratchet));
        }
    }

    /// Springs between points stretch; those about a pin stand on the first of their parts.
    fn coils(&mut self, open: &DrawnPosition) {
        for spring in &open.springs {
            let [a, b] = spring.ends;
            if length(minus(a, b)) < 1e-6 {
                self.on(Some(&spring.parts[0]), |plate| {
                    plate.spring(spring.ends, &open.pins);
                });
                continue;
            }
            let parts = [0, 1].map(|k| self.index(Some(&spring.parts[k])));
            let ends = spring.ends.map(|p| Plate::new(self.scale).at(p));
            self.springs.push(Spring { parts, ends });
        }
    }

    /// Upper left and lower right corner of all that is drawn at any position, on paper.
    fn bounds(&self, motion: &MotionReport, scale: f64) -> [V; 2] {
        let mut all = Ink::new();
        for layer in &self.layers {
            let points: Vec<(V, f64)> = layer.ink.shapes.iter().flat_map(reached).collect();
            let Some(part) = layer.part else {
                points.iter().for_each(|(p, margin)| all.reach(*p, *margin));
                continue;
            };
            for [x, y, angle] in motion.moved.iter().filter_map(|parts| parts.get(part)) {
                let by = [x * scale, -y * scale, -angle];
                points
                    .iter()
                    .for_each(|(p, margin)| all.reach(moved(*p, by), *margin));
            }
        }
        all.bounds
            .map(|corner| corner.map(|v| if v.is_finite() { v } else { 0.0 }))
    }

    fn write(&self, prefix: &str, svg: &mut Svg) {
        for layer in &self.layers {
            let name = layer.part.map(|part| part.to_string());
            let group = svg.element("g").maybe("data-part", name.as_deref());
            group.holding(|svg| layer.ink.write(prefix, svg));
        }
        for spring in &self.springs {
            spring.write(svg);
        }
    }
}

impl Spring {
    /// A zigzag of which the page makes one between the ends as they stand: `data-coil` has its corners, each
    /// as the share of the length and mm of paper to the side.
    fn write(&self, svg: &mut Svg) {
        let [a, b] = self.ends;
        let long = length(minus(b, a));
        let half = (0.12 * long).clamp(1.2, 3.0);
        let teeth = ((long / 3.2).round() as usize).clamp(4, 14);
        let coil = zigzag([0.0, 0.0], [long, 0.0], teeth, half);
        let corners = coil.iter().map(|p| {
            let share = (p[0] / long.max(1e-9) * 1e4).round() / 1e4;
            format!("{share},{}", number(p[1]))
        });
        let part = |k: usize| self.parts[k].map_or_else(String::new, |part| part.to_string());
        let mut way = Way::default();
        way.piece(zigzag(a, b, teeth, half));
        let ends = [a[0], a[1], b[0], b[1]].map(number).join(",");
        let path = svg.element("path").way(&way).with("fill", "none");
        let path = path.with("stroke", INK).number("stroke-width", 0.35);
        let path = path.with("stroke-linejoin", "round");
        let path = path.with("data-parts", &format!("{},{}", part(0), part(1)));
        let path = path.with("data-ends", &ends);
        path.with("data-coil", &corners.collect::<Vec<_>>().join(" "))
            .end();
    }
}

/// Points of a shape, each with the room round it, that together reach as far as the shape does.
fn reached(shape: &Shape) -> Vec<(V, f64)> {
    let walked = |from: V, steps: &[Step], margin: f64| {
        let mut last = from;
        let mut out = vec![(from, margin)];
        for step in steps {
            let (to, bulge) = match *step {
                Step::To(to) => (to, 0.0),
                Step::Round { radius, to, .. } => {
                    let half = 0.5 * length(minus(to, last));
                    (to, radius - (radius * radius - half * half).max(0.0).sqrt())
                }
            };
            out.push((to, margin + bulge));
            last = to;
        }
        out
    };
    match shape {
        Shape::Path {
            from, steps, line, ..
        } => walked(*from, steps, line.map_or(0.0, |l| 0.5 * l.width)),
        Shape::Region { borders, line, .. } => {
            let margin = line.map_or(0.0, |l| 0.5 * l.width);
            let all = borders.iter();
            all.flat_map(|(from, steps)| walked(*from, steps, margin))
                .collect()
        }
        Shape::Hatched { points, width } => points.iter().map(|p| (*p, 0.5 * width)).collect(),
        Shape::Circle {
            at, radius, line, ..
        } => vec![(*at, radius + 0.5 * line.width)],
        Shape::Text(words) => vec![(words.at, 0.0)],
    }
}
