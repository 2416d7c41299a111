//! From scenes to the report of `draw`: places in mm, numbers in the units asked for.

use super::drawing::{
    DrawingReport, DrawnArc, DrawnGrip, DrawnHandle, DrawnJaw, DrawnPart, DrawnPin, DrawnPoint,
    DrawnPose, DrawnPosition, DrawnSlot, DrawnSpring, DrawnStop, DrawnStress,
};
use super::drawn_borders::borders;
use super::drawn_cams::drawn as drawn_cam;
use super::drawn_gears::drawn as drawn_gears;
use super::drawn_ratchet::drawn_ratchet;
use super::show::{Shown, Source, direction_word, position_text};
use super::stroke::UnitNames;
use crate::analysis::Direction;
use crate::geometry::{Frame, Vec2};
use crate::model::{
    Depth, HandLine, Jaw, Joint, Look, PartId, PointKind, PointRef, Spring, SpringEnds, Stop, Tool,
    WayLine,
};
use crate::numeric::curve::Curve;
use crate::outline::Shape;
use crate::plates;
use crate::scene::{Scene, Scenes, place};
use crate::strength::edge_stresses;
use crate::units::{Quantity, UnitSystem};

/// What must be said on every drawing.
const CAUTION: &str = "Forces are calculated: prove the tool with a test piece and a load cell, behind a guard, before use.";

/// Pieces that a smooth hand line is drawn with.
const PIECES: usize = 32;

/// The report of some positions: the whole tool, or the free body of one part (index).
#[must_use]
pub fn drawing_report(
    tool: &Tool,
    scenes: &Scenes,
    part: Option<PartId>,
    direction: Direction,
    source: &Source,
    units: UnitSystem,
) -> DrawingReport {
    let shape = |part| plates::shape(tool, part)?.ok();
    let draw = Draw {
        build: Shown { tool, units },
        scenes,
        part,
        shapes: PartId::ids(tool.parts.len()).map(shape).collect(),
    };
    let grip = tool.grip(scenes.grip).unwrap_or(0.0);
    DrawingReport {
        format: 1,
        tool: tool.name.clone(),
        note: tool.note.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        units: UnitNames::of(units),
        moment_unit: units.symbol(Quantity::Torque),
        stress_unit: units.symbol(Quantity::Stress),
        grip: units.show(grip, Quantity::Length),
        hand_force: units.show(tool.hand.force, Quantity::Force),
        direction: direction_word(direction),
        part: part.map(|p| draw.build.part(p)),
        positions: scenes.scenes.iter().map(|s| draw.position(s)).collect(),
        cautions: vec![draw.to_scale(), CAUTION.to_owned()],
    }
}

struct Draw<'a> {
    build: Shown<'a>,
    scenes: &'a Scenes,
    part: Option<PartId>,
    /// The plates of each part that has an outline.
    shapes: Vec<Option<Shape>>,
}

impl Draw<'_> {
    /// What of the drawing is to scale.
    fn to_scale(&self) -> String {
        let measure = "Measure the scale bar after printing. Pin centres, hand lines";
        let seen = |part: &PartId| self.part.is_none_or(|only| only == *part);
        let drawn: Vec<PartId> = PartId::each(&self.shapes)
            .filter(|(_, shape)| shape.is_none())
            .map(|(part, _)| part)
            .filter(seen)
            .collect();
        let all = self.shapes.len();
        if drawn.is_empty() {
            return format!("{measure}, jaw points and outlines are to scale.");
        }
        if drawn.len() == all || self.part.is_some() {
            return format!(
                "{measure} and jaw points are to scale; outlines round them are schematic."
            );
        }
        let names: Vec<String> = drawn.iter().map(|&part| self.build.part(part)).collect();
        format!(
            "{measure}, jaw points and the outlines given in the file are to scale; those of {} are schematic.",
            names.join(", ")
        )
    }

    fn position(&self, scene: &Scene) -> DrawnPosition {
        let tool = self.build.tool;
        let show = |value: f64, quantity: Quantity| self.build.show(value, quantity);
        let hand = std::iter::once(&tool.hand.handle).chain(&tool.hand.against);
        let sheet =
            (self.part.zip(scene.loads.as_ref())).map(|(p, case)| self.build.sheet(case, p));
        let unit = self.build.units.factor(Quantity::Length);
        let with = |(k, s): (usize, &Spring)| self.spring(k, s, &scene.frames);
        DrawnPosition {
            at: position_text(self.build.tool, scene.at, self.build.units),
            handle: show(scene.handle, Quantity::Angle),
            travel: show(scene.travel, Quantity::Angle),
            span: scene.span.map(|s| show(s, Quantity::Length)),
            parts: self
                .build
                .fixed_first()
                .filter_map(|p| self.drawn(p, &scene.frames))
                .collect(),
            pins: self.pins(&scene.frames),
            handles: hand
                .filter_map(|line| self.handle(line, &scene.frames))
                .collect(),
            jaws: (tool.jaws.iter().zip(&scene.gaps))
                .filter_map(|(jaw, &gap)| self.jaw(jaw, gap, &scene.frames))
                .collect(),
            stops: (tool.stops.iter())
                .filter_map(|stop| self.stop(stop, &scene.frames))
                .collect(),
            ratchet: drawn_ratchet(tool, &self.scenes.teeth, &scene.frames),
            gears: (tool.gears.iter().enumerate())
                .filter_map(|(k, gears)| drawn_gears(tool, k, gears, &scene.frames))
                .collect(),
            slots: (tool.all_joints().zip(&self.scenes.reaches))
                .filter_map(|(joint, &reach)| self.slot(joint, reach, &scene.frames))
                .collect(),
            cams: (tool.cams.iter().enumerate())
                .filter_map(|(k, cam)| drawn_cam(tool, k, cam, &scene.frames))
                .collect(),
            springs: tool.springs.iter().enumerate().filter_map(with).collect(),
            forces: scene
                .loads
                .as_ref()
                .map_or_else(Vec::new, |c| self.build.forces(c, self.part)),
            no_forces: scene.loads.is_none().then(|| {
                if scene.ended {
                    return (match tool.stops.is_empty() {
                        true => "no forces here: the dies of a jaw meet before it",
                        false => "no forces here: the dies of a jaw or a stop meet before it",
                    })
                    .to_owned();
                }
                "no forces here: the jaw stands still (toggle), friction locks the tool, or springs hold the hand"
                    .to_owned()
            }),
            stresses: self.stresses(scene),
            touches: match self.part {
                Some(_) => Vec::new(),
                None => self.build.touches(scene),
            },
            earlier: scene.earlier.iter().map(|f| self.pose(f)).collect(),
            about: sheet.as_ref().map(|s| [s.about.1 * unit, s.about.2 * unit]),
            sheet,
        }
    }

    fn stresses(&self, scene: &Scene) -> Vec<DrawnStress> {
        let (Some(part), Some(case)) = (self.part, &scene.loads) else {
            return Vec::new();
        };
        let Some(frame) = scene.frames.get(part.index()) else {
            return Vec::new();
        };
        let edges = edge_stresses(self.build.tool, part, &case.sheet);
        let drawn = edges.into_iter().map(|edge| DrawnStress {
            at: frame.place(edge.at).xy(),
            out: frame.direction(edge.out).xy(),
            stress: self.build.show(edge.stress, Quantity::Stress),
        });
        drawn.collect()
    }

    /// What moves.
    fn pose(&self, frames: &[Frame]) -> DrawnPose {
        let tool = self.build.tool;
        let parts = self.build.fixed_first().filter(|&p| p != tool.fixed);
        let hand = std::iter::once(&tool.hand.handle).chain(&tool.hand.against);
        let moving = hand.filter(|line| line.part != tool.fixed);
        DrawnPose {
            parts: parts.filter_map(|p| self.drawn(p, frames)).collect(),
            handles: moving
                .filter_map(|line| self.handle(line, frames))
                .collect(),
        }
    }

    fn drawn(&self, part: PartId, frames: &[Frame]) -> Option<DrawnPart> {
        let tool = self.build.tool;
        let this = tool.part(part)?;
        let frame = frames.get(part.index())?;
        let hand = std::iter::once(&tool.hand.handle).chain(&tool.hand.against);
        let roots = hand.filter(|line| line.part == part).filter_map(|line| {
            Some(
                frame
                    .place(place(tool, part, *line.points.first()?)?.into())
                    .xy(),
            )
        });
        Some(DrawnPart {
            name: this.name.clone(),
            fixed: part == tool.fixed,
            points: (this.points.iter())
                .map(|p| DrawnPoint {
                    name: p.name.clone(),
                    pin: p.kind == PointKind::Pin,
                    at: frame.place(p.at.into()).xy(),
                })
                .collect(),
            roots: roots.collect(),
            round: self.round(part),
            borders: self
                .shapes
                .get(part.index())
                .map_or_else(Vec::new, |shape| {
                    let shape = shape.as_ref();
                    shape.map_or_else(Vec::new, |shape| borders(shape, frame))
                }),
            layer: (tool.sections.iter().find(|s| s.part == part))
                .and_then(|section| section.layers.iter().min().copied()),
        })
    }

    /// Half the width of a part's outline, mm.
    fn round(&self, part: PartId) -> f64 {
        let tool = self.build.tool;
        let Some(this) = tool.part(part) else {
            return 0.0;
        };
        let link = this.points.len() == 2 && this.points.iter().all(|p| p.kind == PointKind::Pin);
        let section = tool.sections.iter().find(|s| s.part == part);
        if let (true, Some(section)) = (link, section)
            && let Depth::Uniform(width) = section.width
        {
            return 0.5 * width;
        }
        let pins = tool.joints.iter().zip(&tool.joint_data);
        let greatest = pins
            .filter(|(joint, _)| joint.touches(part))
            .filter_map(|(_, data)| data.diameter)
            .fold(0.0, f64::max);
        if greatest > 0.0 {
            greatest
        } else {
            0.025 * self.extent()
        }
    }

    /// Greatest distance of two points of one part, mm: a length of the order of the tool.
    fn extent(&self) -> f64 {
        let mut most = 0.0_f64;
        for part in &self.build.tool.parts {
            for (k, a) in part.points.iter().enumerate() {
                for b in part.points.iter().skip(k + 1) {
                    most = most.max((a.at[0] - b.at[0]).hypot(a.at[1] - b.at[1]));
                }
            }
        }
        most
    }

    fn pins(&self, frames: &[Frame]) -> Vec<DrawnPin> {
        let tool = self.build.tool;
        let mut pins: Vec<DrawnPin> = Vec::new();
        for joint in tool.all_joints() {
            let Some(Look::Hole {
                name,
                of,
                at,
                diameter,
            }) = joint.look(tool)
            else {
                continue;
            };
            if pins.iter().any(|p| p.name == name) {
                continue;
            }
            if let (Some(at), Some(frame)) = (at, frames.get(of.index())) {
                pins.push(DrawnPin {
                    name: name.to_owned(),
                    at: frame.place(at.into()).xy(),
                    diameter,
                });
            }
        }
        pins
    }

    fn handle(&self, line: &HandLine, frames: &[Frame]) -> Option<DrawnHandle> {
        let tool = self.build.tool;
        let points: Option<Vec<[f64; 2]>> = (line.points.iter())
            .map(|&p| place(tool, line.part, p))
            .collect();
        let points = points?;
        let frame = frames.get(line.part.index())?;
        let curve = Curve::through(&points, line.smooth)?;
        let drawn: Vec<[f64; 2]> = if line.smooth {
            (0..=PIECES)
                .map(|k| curve.point(curve.length() * k as f64 / PIECES as f64))
                .collect()
        } else {
            points
        };
        let grip = |(k, &distance): (usize, &f64)| DrawnGrip {
            distance: self.build.show(distance, Quantity::Length),
            at: frame.place(curve.point(distance).into()).xy(),
            along: frame.direction(curve.tangent(distance).into()).xy(),
            held: k == self.scenes.grip.index(),
        };
        Some(DrawnHandle {
            part: self.build.part(line.part),
            line: drawn
                .into_iter()
                .map(|p| frame.place(p.into()).xy())
                .collect(),
            thickness: tool.hand.thickness,
            grips: tool.hand.grips.iter().enumerate().map(grip).collect(),
        })
    }

    fn at(&self, point: PointRef, frames: &[Frame]) -> Option<[f64; 2]> {
        let local = self.build.tool.part(point.part)?;
        let local = local.points.get(point.point)?.at;
        Some(frames.get(point.part.index())?.place(local.into()).xy())
    }

    /// Part and name of a point.
    fn named(&self, point: PointRef) -> [String; 2] {
        let part = self.build.tool.part(point.part);
        let own = part.and_then(|part| part.points.get(point.point));
        [
            part.map_or_else(String::new, |part| part.name.clone()),
            own.map_or_else(String::new, |own| own.name.clone()),
        ]
    }

    fn jaw(&self, jaw: &Jaw, gap: f64, frames: &[Frame]) -> Option<DrawnJaw> {
        let (on, against) = (self.at(jaw.on, frames)?, self.at(jaw.against, frames)?);
        let axis = self.axis([on, against], (jaw.axis, jaw.against), frames);
        Some(DrawnJaw {
            name: jaw.name.clone(),
            on,
            against,
            ends: [jaw.on, jaw.against].map(|point| self.named(point)),
            axis,
            closed: jaw.closed,
            gap: self.build.show(gap, Quantity::Length),
        })
    }

    /// Direction from the second of two points to the first: that of a stated axis, else along the line
    /// between them, which has none where they are one.
    fn axis(
        &self,
        [on, against]: [[f64; 2]; 2],
        (stated, of): (Option<f64>, PointRef),
        frames: &[Frame],
    ) -> Option<[f64; 2]> {
        match stated {
            Some(angle) => {
                let frame = frames.get(of.part.index())?;
                Some(frame.direction(Vec2::unit(angle)).xy())
            }
            None => {
                let d = [on[0] - against[0], on[1] - against[1]];
                let length = d[0].hypot(d[1]);
                (length > 1e-6 * self.extent()).then(|| [d[0] / length, d[1] / length])
            }
        }
    }

    /// The faces stand where their points do, half of what they are thick on either side.
    fn stop(&self, stop: &Stop, frames: &[Frame]) -> Option<DrawnStop> {
        let points = [self.at(stop.on, frames)?, self.at(stop.against, frames)?];
        let axis = self.axis(points, (stop.axis, stop.against), frames)?;
        let [on, against] = points;
        let apart = (on[0] - against[0]) * axis[0] + (on[1] - against[1]) * axis[1] - stop.closed;
        let thick = 0.5 * stop.closed;
        let face = |at: [f64; 2], side: f64| {
            [
                at[0] + side * thick * axis[0],
                at[1] + side * thick * axis[1],
            ]
        };
        Some(DrawnStop {
            name: stop.name.clone(),
            faces: [face(on, -1.0), face(against, 1.0)],
            ends: [stop.on, stop.against].map(|point| self.named(point)),
            axis,
            apart: self.build.show(apart, Quantity::Length),
        })
    }

    fn slot(&self, joint: Joint<'_>, reach: [f64; 2], frames: &[Frame]) -> Option<DrawnSlot> {
        let tool = self.build.tool;
        let Some(Look::Way(way)) = joint.look(tool) else {
            return None;
        };
        let frame = frames.get(way.on.index())?;
        let at = self.at(way.rider, frames)?;
        let (along, ends, arc) = match way.line {
            WayLine::Straight { through, along } => {
                let (through, along) = (frame.place(through.into()), frame.direction(along.into()));
                (along, reach.map(|d| (through + along * d).xy()), None)
            }
            WayLine::Arc { centre, radius } => {
                let centre = frame.place(centre.into());
                let spoke = Vec2::from(at) - centre;
                let reach = reach.map(|angle| frame.turn.angle() + angle);
                let end = |angle: f64| (centre + Vec2::unit(angle) * radius).xy();
                let arc = DrawnArc {
                    centre: centre.xy(),
                    radius,
                    from_to: reach.map(f64::to_degrees),
                };
                let along = Vec2::new(-spoke[1], spoke[0]) * (1.0 / radius);
                (along, reach.map(end), Some(arc))
            }
        };
        let rider = tool.part(way.rider.part)?;
        let name = &rider.points.get(way.rider.point)?.name;
        let pin = (tool.joints.iter().zip(&tool.joint_data))
            .find(|(joint, _)| joint.pin == *name)
            .and_then(|(_, data)| data.diameter);
        let round = self.round(way.rider.part);
        Some(DrawnSlot {
            part: rider.name.clone(),
            on: self.build.part(way.on),
            rider: at,
            along: along.xy(),
            reach: ends,
            arc,
            roller: way.roller,
            keyed: way.keyed,
            guide: way.guide,
            half: match way.roller.or(pin) {
                _ if way.keyed => round,
                Some(diameter) => 0.5 * diameter,
                None => 0.5 * round,
            },
        })
    }

    fn spring(&self, index: usize, spring: &Spring, frames: &[Frame]) -> Option<DrawnSpring> {
        let (parts, ends) = match spring.ends {
            SpringEnds::Points(from, to) => (
                [from.part, to.part],
                [self.at(from, frames)?, self.at(to, frames)?],
            ),
            SpringEnds::Pin { first, second } => {
                let joints = &self.build.tool.joints;
                let about = joints
                    .iter()
                    .find(|j| j.touches(first) && j.touches(second))
                    .or_else(|| joints.iter().find(|j| j.touches(second)))?;
                let at = self.at(
                    PointRef {
                        part: about.carrier,
                        point: about.carrier_point,
                    },
                    frames,
                )?;
                ([first, second], [at, at])
            }
        };
        Some(DrawnSpring {
            spring: index + 1,
            parts: parts.map(|p| self.build.part(p)),
            ends,
        })
    }
}
