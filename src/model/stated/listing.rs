//! All stated numbers of a tool, by their addresses.

use super::{
    CamNumber, EndNumber, GearNumber, HandNumber, JawNumber, JobNumber, JointNumber, LifeNumber,
    MaterialNumber, OutlineNumber, RatchetNumber, RoomNumber, SectionNumber, SlotNumber,
    SpringNumber, Stated, WorkNumber, WoundNumber,
};
use crate::jobs::Size;
use crate::model::{CamFace, Depth, HandLine, Jaw, JawId, JointId, StopId, Tool};
use crate::units::Quantity;

/// All such numbers of a tool by their addresses, in the order of the file's tables.
pub(in crate::model) fn addressed(tool: &Tool) -> Vec<(String, Stated)> {
    let mut all = Listing {
        tool,
        all: Vec::new(),
    };
    all.joints();
    all.slots();
    all.cams();
    all.gears();
    all.ratchet();
    all.springs();
    all.hand();
    all.rest();
    all.outlines();
    let job = [
        ("strokes", JobNumber::Strokes),
        ("held", JobNumber::Held),
        ("hours", JobNumber::Hours),
        ("wrist", JobNumber::Wrist),
        ("share", JobNumber::Share),
    ];
    for k in 0..tool.operators.len() {
        let table = format!("operators.{}", k + 1);
        all.take(&table, [("count", Stated::Operators(k))]);
    }
    let life = [
        ("strokes", LifeNumber::Strokes),
        ("reliability", LifeNumber::Reliability),
    ];
    all.take("life", life.map(|(word, n)| (word, Stated::Life(n))));
    all.take("job", job.map(|(word, n)| (word, Stated::Job(n))));
    all.all
}

struct Listing<'t> {
    tool: &'t Tool,
    all: Vec<(String, Stated)>,
}

impl Listing<'_> {
    /// Takes those that the tool has.
    fn take(&mut self, table: &str, numbers: impl IntoIterator<Item = (&'static str, Stated)>) {
        for (word, number) in numbers {
            if number.get(self.tool).is_some() {
                self.all.push((format!("{table}.{word}"), number));
            }
        }
    }

    fn joints(&mut self) {
        let words = ["diameter", "friction", "clearance"];
        let numbers = || words.into_iter().zip(JointNumber::ALL);
        self.take(
            "joints",
            numbers().map(|(word, n)| (word, Stated::Joints(n))),
        );
        let mut before: Vec<&str> = Vec::new();
        let tool = self.tool;
        for (joint, pin) in JointId::each(&tool.joints) {
            let table = format!("joints.{}", pin.pin);
            if !before.contains(&pin.pin.as_str()) {
                self.take(
                    &table,
                    numbers().map(|(word, n)| (word, Stated::Pin(joint, n))),
                );
                before.push(&pin.pin);
            }
            let label = tool.joint_label(joint);
            if label != pin.pin {
                let table = format!("joints.{label}");
                self.take(
                    &table,
                    numbers().map(|(word, n)| (word, Stated::Joint(joint, n))),
                );
            }
        }
    }

    fn slots(&mut self) {
        for k in 0..self.tool.slots.len() {
            let words = [
                ("through.x", SlotNumber::ThroughX),
                ("through.y", SlotNumber::ThroughY),
                ("angle", SlotNumber::Angle),
                ("centre.x", SlotNumber::CentreX),
                ("centre.y", SlotNumber::CentreY),
                ("radius", SlotNumber::Radius),
                ("turn", SlotNumber::Turn),
                ("friction", SlotNumber::Friction),
                ("width", SlotNumber::Width),
                ("roller.diameter", SlotNumber::RollerDiameter),
                ("roller.pin", SlotNumber::RollerPin),
                ("roller.width", SlotNumber::RollerWidth),
            ];
            let table = format!("slots.{}", k + 1);
            self.take(&table, words.map(|(word, n)| (word, Stated::Slot(k, n))));
        }
    }

    fn cams(&mut self) {
        let tool = self.tool;
        for (k, cam) in tool.cams.iter().enumerate() {
            let words = [
                ("face.centre.x", CamNumber::CentreX),
                ("face.centre.y", CamNumber::CentreY),
                ("face.radius", CamNumber::Radius),
                ("roller.diameter", CamNumber::RollerDiameter),
                ("roller.pin", CamNumber::RollerPin),
                ("roller.width", CamNumber::RollerWidth),
                ("flat", CamNumber::Flat),
                ("width", CamNumber::Width),
                ("friction", CamNumber::Friction),
            ];
            let numbers = words.map(|(word, n)| (word, Stated::Cam(k, n)));
            self.take(&format!("cams.{}", k + 1), numbers);
            if let Some(name) = &cam.name {
                self.take(&format!("cams.{name}"), numbers);
            }
            let CamFace::Curve(points) = &cam.face else {
                continue;
            };
            let number = (k + 1).to_string();
            for table in std::iter::once(&number).chain(&cam.name) {
                for (place, axis) in (0..points.len()).flat_map(|p| [(p, 0), (p, 1)]) {
                    let path = format!(
                        "cams.{table}.face.points.{}.{}",
                        place + 1,
                        ["x", "y"][axis]
                    );
                    let number = Stated::Cam(k, CamNumber::Point(place, axis));
                    self.all.push((path, number));
                }
            }
        }
    }

    fn gears(&mut self) {
        let words = [
            ("angle", GearNumber::Angle),
            ("face", GearNumber::Face),
            ("backlash", GearNumber::Backlash),
            ("friction", GearNumber::Friction),
        ];
        let tool = self.tool;
        for (k, gears) in tool.gears.iter().enumerate() {
            let numbers = words.map(|(word, n)| (word, Stated::Gears(k, n)));
            self.take(&format!("gears.{}", k + 1), numbers);
            if let Some(name) = &gears.name {
                self.take(&format!("gears.{name}"), numbers);
            }
        }
    }

    fn ratchet(&mut self) {
        let words = [
            ("pawl.pin.x", RatchetNumber::Pin(0)),
            ("pawl.pin.y", RatchetNumber::Pin(1)),
            ("pawl.length", RatchetNumber::Length),
            ("pawl.spring", RatchetNumber::Spring),
            ("radius", RatchetNumber::Radius),
            ("pitch", RatchetNumber::Pitch),
            ("over-travel", RatchetNumber::OverTravel),
            ("height", RatchetNumber::Height),
            ("face", RatchetNumber::Face),
            ("flank", RatchetNumber::Flank),
            ("friction", RatchetNumber::Friction),
        ];
        self.take("ratchet", words.map(|(word, n)| (word, Stated::Ratchet(n))));
    }

    fn springs(&mut self) {
        let tool = self.tool;
        for (k, spring) in tool.springs.iter().enumerate() {
            let words = [
                ("rate", SpringNumber::Rate),
                ("rate", SpringNumber::TurnRate),
                ("free", SpringNumber::Free),
                ("free", SpringNumber::Slack),
                ("preload", SpringNumber::Preload),
                ("preload", SpringNumber::Push),
                ("preload", SpringNumber::Pull),
                ("preload", SpringNumber::Torque),
            ];
            let numbers = || {
                let all = words.into_iter().chain(WoundNumber::ALL);
                all.map(|(word, n)| (word, Stated::Spring(k, n)))
            };
            self.take(&format!("springs.{}", k + 1), numbers());
            if let Some(name) = &spring.name {
                self.take(&format!("springs.{name}"), numbers());
            }
        }
    }

    fn hand(&mut self) {
        let words = [
            ("force", HandNumber::Force),
            ("limit", HandNumber::Limit),
            ("thickness", HandNumber::Thickness),
            ("push", HandNumber::Push),
            ("handle.length", HandNumber::HandleLength),
            ("handle.width", HandNumber::HandleWidth),
            ("handle.depth", HandNumber::HandleDepth),
            ("glove", HandNumber::Glove),
        ];
        self.take("hand", words.map(|(word, n)| (word, Stated::Hand(n))));
        let hand = &self.tool.hand;
        let count = |line: Option<&HandLine>| line.map_or(0, |line| line.points.len());
        let lines = [
            ("hand.line", false, count(Some(&hand.handle))),
            ("hand.against.line", true, count(hand.against.as_ref())),
        ];
        for (table, against, count) in lines {
            for place in 0..count {
                let line = |axis| Stated::Line {
                    against,
                    place,
                    axis,
                };
                self.take(
                    &format!("{table}.{}", place + 1),
                    [("x", line(0)), ("y", line(1))],
                );
            }
        }
        for k in 0..hand.grips.len() {
            self.all
                .push((format!("hand.grips.{}", k + 1), Stated::Grip(k)));
        }
    }

    fn rest(&mut self) {
        let tool = self.tool;
        for (jaw, of) in JawId::each(&tool.jaws) {
            let words = [("axis", JawNumber::Axis), ("closed", JawNumber::Closed)];
            self.take(
                &format!("jaw.{}", of.name),
                words.map(|(word, n)| (word, Stated::Jaw(jaw, n))),
            );
        }
        for (stop, of) in StopId::each(&tool.stops) {
            let words = [("axis", JawNumber::Axis), ("closed", JawNumber::Closed)];
            self.take(
                &format!("stops.{}", of.name),
                words.map(|(word, n)| (word, Stated::Stop(stop, n))),
            );
            let table = format!("stops.{}", of.name);
            self.take(&table, [("rate", Stated::StopRate(stop))]);
        }
        for (adjuster, of) in tool.adjusters.iter().enumerate() {
            let turns = of.quantity() == Quantity::Angle;
            self.take(
                &format!("adjusters.{}", of.name),
                [("now", Stated::Setting { adjuster, turns })],
            );
        }
        for (table, shut) in [("stroke.open", false), ("stroke.shut", true)] {
            let words = [
                ("gap", EndNumber::Gap),
                ("span", EndNumber::Span),
                ("handle", EndNumber::Handle),
            ];
            self.take(table, words.map(|(word, n)| (word, Stated::End(shut, n))));
        }
        let numbers = |jaw| {
            let of = move |number| Stated::Work(jaw, number);
            let others = [
                ("scale", WorkNumber::Scale),
                ("rigid", WorkNumber::Rigid),
                ("starts", WorkNumber::Starts),
                ("return", WorkNumber::Return),
                ("stiffness", WorkNumber::Stiffness),
            ];
            let sizes = Size::ALL.map(|(word, size)| (word, WorkNumber::Of(size)));
            let all = others.into_iter().chain(sizes);
            all.map(move |(word, number)| (word, of(number)))
        };
        // The only one, or that of the file's first jaw, needs no name.
        let working: Vec<(JawId, &Jaw)> = (JawId::each(&tool.jaws))
            .filter(|(_, jaw)| jaw.work.is_some())
            .collect();
        let usual = match working.as_slice() {
            [(only, _)] => *only,
            _ => tool.stroke.lead,
        };
        self.take("work", numbers(usual));
        for (jaw, of) in working {
            self.take(&format!("work.{}", of.name), numbers(jaw));
        }
        let words = [
            ("room", "finger", RoomNumber::Finger),
            ("room", "apart", RoomNumber::Apart),
            ("stock", "margin", RoomNumber::Margin),
            ("bench", "at.x", RoomNumber::Base(0)),
            ("bench", "at.y", RoomNumber::Base(1)),
            ("bench", "up", RoomNumber::Up),
        ];
        for (table, word, number) in words {
            self.take(table, [(word, Stated::Room(number))]);
        }
        for (k, section) in tool.sections.iter().enumerate() {
            let Some(part) = tool.part(section.part) else {
                continue;
            };
            let table = format!("sections.{}", part.name);
            let words = [
                ("width", SectionNumber::Width),
                ("thickness", SectionNumber::Thickness),
                ("edge", SectionNumber::Edge),
            ];
            self.take(&table, words.map(|(word, n)| (word, Stated::Section(k, n))));
            if let Depth::Stations(rows) = &section.width {
                self.all.extend((0..rows.len()).map(|row| {
                    let number = Stated::Section(k, SectionNumber::WidthAt(row));
                    (format!("{table}.width.{}", row + 1), number)
                }));
            }
        }
        for (k, material) in tool.materials.iter().enumerate() {
            let words = [
                ("yield", MaterialNumber::Yield),
                ("ultimate", MaterialNumber::Ultimate),
                ("modulus", MaterialNumber::Modulus),
                ("density", MaterialNumber::Density),
                ("price", MaterialNumber::Price),
            ];
            let table = format!("materials.{}", material.name);
            self.take(
                &table,
                words.map(|(word, n)| (word, Stated::Material(k, n))),
            );
        }
    }

    fn outlines(&mut self) {
        let tool = self.tool;
        for (k, outline) in tool.outlines.iter().enumerate() {
            let Some(part) = tool.part(outline.part) else {
                continue;
            };
            for (path, number) in OutlineNumber::all(outline, part) {
                let number = Stated::Outline(k, number);
                if number.get(tool).is_some() {
                    self.all
                        .push((format!("outlines.{}.{path}", part.name), number));
                }
            }
        }
    }
}
