//! A machine of a textbook as a tool file, drawn in place in the published position.
//!
//! The published position is the open end of a short stroke, so that it is met exactly.

use jawforce::analysis::{Direction, Solved, loads_at, solve};
use jawforce::input::{read_tool, render_all};
use jawforce::model::{At as Position, GripId, JointId, PartId, Tool};
use jawforce::statics::{Answer, ForceKind, Mounted, Rig};
use jawforce::units::Quantity;

/// A named point.
pub type At<'a> = (&'a str, [f64; 2]);

/// The text of a tool file, as it grows.
#[derive(Debug, Clone)]
pub struct Drawing {
    text: String,
}

impl Drawing {
    /// An empty drawing, `units` being `mm-N` or `in-lbf`.
    pub fn new(units: &str) -> Self {
        Self {
            text: format!("[tool]\nname = \"published\"\nunits = \"{units}\"\n"),
        }
    }

    /// The fixed part.
    pub fn fixed(self, name: &str, pins: &[At<'_>], marks: &[At<'_>]) -> Self {
        self.part(name, pins, marks).add("fixed = true")
    }

    /// A part, drawn in place.
    pub fn part(self, name: &str, pins: &[At<'_>], marks: &[At<'_>]) -> Self {
        let table = |points: &[At<'_>]| {
            let items = points
                .iter()
                .map(|(name, [x, y])| format!("{name} = [{x}, {y}]"));
            items.collect::<Vec<_>>().join(", ")
        };
        self.add(&format!(
            "[parts.{name}]\npins = {{ {} }}\nmarks = {{ {} }}",
            table(pins),
            table(marks)
        ))
    }

    /// A slot on `on` along `angle` (degrees) through `through`, in which `rider` (`part.point`)
    /// rides; keyed if the rider may not turn.
    pub fn slot(self, rider: &str, on: &str, through: [f64; 2], angle: f64, keyed: bool) -> Self {
        let (part, point) = rider.split_once('.').expect("part.point");
        let [x, y] = through;
        self.add(&format!(
            "[[slots]]\npart = \"{part}\"\npoint = \"{point}\"\non = \"{on}\"\n\
             through = [{x}, {y}]\nangle = {angle}\nkeyed = {keyed}"
        ))
    }

    /// An arc slot on `on` of that centre line, in which `rider` (`part.point`) rides.
    pub fn arc_slot(self, rider: &str, on: &str, centre: [f64; 2], radius: f64) -> Self {
        let (part, point) = rider.split_once('.').expect("part.point");
        let [x, y] = centre;
        self.add(&format!(
            "[[slots]]\npart = \"{part}\"\npoint = \"{point}\"\non = \"{on}\"\n\
             centre = [{x}, {y}]\nradius = {radius}"
        ))
    }

    /// A handle from `from` to `to`, held at its end `to`; `push` in the words of a tool file.
    pub fn hand(self, part: &str, from: [f64; 2], to: [f64; 2], push: &str, force: f64) -> Self {
        let grip = (to[0] - from[0]).hypot(to[1] - from[1]);
        self.add(&format!(
            "[hand]\npart = \"{part}\"\nline = [[{}, {}], [{}, {}]]\ngrips = [{grip}]\n\
             push = {push}\nforce = {force}",
            from[0], from[1], to[0], to[1]
        ))
    }

    /// A jaw; the work pushes `on` along `axis` (degrees).
    pub fn jaw(self, name: &str, on: &str, against: &str, axis: f64) -> Self {
        self.add(&format!(
            "[[jaw]]\nname = \"{name}\"\non = \"{on}\"\nagainst = \"{against}\"\naxis = {axis}"
        ))
    }

    /// The stroke, from `open` (the position to be read) to `shut`, in `gap` or `handle`.
    pub fn stroke(self, of: &str, open: f64, shut: f64) -> Self {
        self.add(&format!(
            "[stroke]\nopen = {{ {of} = {open} }}\nshut = {{ {of} = {shut} }}\nsteps = 2"
        ))
    }

    /// A constant force that the job needs over all gaps that matter here.
    pub fn work(self, force: f64) -> Self {
        self.add(&format!(
            "[work]\nneed = [[1000, {force}], [-1000, {force}]]"
        ))
    }

    /// Any other lines.
    pub fn add(mut self, lines: &str) -> Self {
        self.text.push_str(lines);
        self.text.push('\n');
        self
    }

    /// The text as it stands.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Reads and solves it, closing.
    pub fn solve(&self) -> Reading {
        self.solve_to(Direction::Closing)
    }

    /// Reads and solves it.
    pub fn solve_to(&self, direction: Direction) -> Reading {
        let tool = self.tool();
        let solved = solve(&tool, direction)
            .unwrap_or_else(|failure| panic!("{}\n{}", failure.text(&tool), self.text));
        Reading { tool, solved }
    }

    /// Reads it.
    pub fn tool(&self) -> Tool {
        let none = |path: &str| Err(format!("no file {path}"));
        read_tool(&self.text, &none)
            .unwrap_or_else(|found| {
                panic!("{}", render_all(&found, "tool.toml", &self.text, false))
            })
            .tool
    }
}

/// The answer at the open end, at the only grip, in the file's units.
#[derive(Debug)]
pub struct Reading {
    pub tool: Tool,
    pub solved: Solved,
}

impl Reading {
    fn force(&self, value: f64) -> f64 {
        self.tool.units.show(value, Quantity::Force)
    }

    /// Jaw force per hand force, without friction.
    pub fn ratio(&self, jaw: usize) -> f64 {
        self.solved.positions[0].grips[0].ratio[jaw].expect("a ratio")
    }

    /// The first jaw's answer to the hand force.
    pub fn answer(&self) -> Answer {
        self.solved.positions[0].grips[0].answer[0].expect("an answer")
    }

    /// Jaw force at the hand force: with friction, and without.
    pub fn jaw_force(&self) -> [f64; 2] {
        self.both(self.answer())
    }

    /// Hand force for the work: with friction, and without.
    pub fn hand_force(&self) -> [f64; 2] {
        let needed = self.solved.positions[0].grips[0].needed;
        self.both(needed.expect("an answer"))
    }

    fn both(&self, answer: Answer) -> [f64; 2] {
        match answer {
            Answer::Moves { force, without } => [self.force(force), self.force(without)],
            other => panic!("{other:?}"),
        }
    }

    /// Force on the later part at the joint of that label, at the hand force.
    pub fn pin(&self, label: &str) -> [f64; 2] {
        let joint =
            JointId::ids(self.tool.joints.len()).find(|&j| self.tool.joint_label(j) == label);
        let joint = joint.expect("a joint of that name");
        self.solved.positions[0].grips[0].pins[joint.index()]
            .expect("a pin force")
            .map(|v| self.force(v))
    }

    /// Size of that force.
    pub fn pin_load(&self, label: &str) -> f64 {
        let [x, y] = self.pin(label);
        x.hypot(y)
    }

    /// Size of the force in one of the slots, at the hand force.
    pub fn slot_load(&self, slot: usize) -> f64 {
        let rider = self.tool.slots[slot].rider.part;
        self.joint_load(rider, self.tool.joints.len() + slot)
    }

    /// The same of a cam.
    pub fn cam_load(&self, cam: usize) -> f64 {
        let before = self.tool.joints.len() + self.tool.slots.len();
        self.joint_load(self.tool.cams[cam].part, before + cam)
    }

    fn joint_load(&self, part: PartId, joint: usize) -> f64 {
        let mounted = Mounted::new(&self.tool).expect("a tool that mounts");
        let mut rig = Rig::new(&self.tool, &mounted, Direction::Closing).expect("a stroke");
        let hand = self.tool.hand.force;
        let case = loads_at(&mut rig, Position::Open, GripId::FIRST, hand).expect("forces");
        let joint = ForceKind::Joint(JointId::new(joint));
        let on = case.sheet.on(part).iter().find(|f| f.what == joint);
        self.force(on.expect("a force").force.length())
    }

    /// Axial force of a two-pin link, tension positive.
    pub fn axial(&self, part: &str) -> f64 {
        let part = self.tool.part_index(part).expect("a part of that name");
        let link = self.solved.links.parts().position(|p| p == part);
        let axial = &self.solved.positions[0].grips[0].axial;
        self.force(axial[link.expect("a two-pin link")].expect("an axial force"))
    }

    /// Where a point stands, in mm.
    pub fn point(&self, part: &str, point: &str) -> [f64; 2] {
        let part = self.tool.part_index(part).expect("a part of that name");
        let point = self.tool.parts[part].point_index(point);
        self.solved.positions[0].points[part.index()][point.expect("a point of that name")]
    }
}

/// Compares with a tolerance that is relative to the expected value.
#[track_caller]
pub fn close(what: &str, ours: f64, expected: f64, tolerance: f64) {
    println!("{what}: {ours:.6} expected {expected:.6} tol {tolerance:e}");
    let off = (ours - expected).abs();
    assert!(
        off <= tolerance * expected.abs(),
        "{what}: {ours} is not {expected} within {tolerance:e}"
    );
}
