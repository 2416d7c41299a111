//! What could not be checked for strength, and why.

use crate::model::{JointId, PartId, Tool};
use crate::strength::Note;

impl Note {
    /// The note in words.
    #[must_use]
    pub fn text(&self, tool: &Tool) -> String {
        let pins = |list: &[JointId]| names("pin", list.iter().map(|&j| tool.joint_label(j)));
        let part = |&p: &PartId| tool.part(p).map(|part| part.name.clone());
        let parts = |list: &[PartId]| names("part", list.iter().filter_map(part));
        let material = |&m: &usize| tool.materials.get(m).map(|m| m.name.clone());
        let materials = |list: &[usize]| names("material", list.iter().filter_map(material));
        let both = |pin: &[JointId], part: &[PartId]| match (pin, part) {
            (pin, []) => pins(pin),
            ([], part) => parts(part),
            (pin, part) => format!("{} and {}", pins(pin), parts(part)),
        };
        match self {
            Self::NoDiameter(list) => format!(
                "strength of {} and bearing there not checked: `diameter` is not given in [joints]",
                pins(list)
            ),
            Self::NoPinMaterial(list) => format!(
                "shear and bending of {} not checked: `material` is not given in [joints]",
                pins(list)
            ),
            Self::NoRoller(list) => format!(
                "pressure of {} not checked: it needs the roller's `width`, and a `material` with `modulus`",
                names("roller", list.iter().map(|&j| tool.contact_label(j)))
            ),
            Self::RollerPins(list) => format!(
                "shear and bending of {} not checked: a file has neither material nor plates for the pin of a roller",
                names("roller pin of", list.iter().map(|&j| tool.contact_label(j)))
            ),
            Self::SlotPins(list) => format!(
                "{} not checked, nor its hole and the walls: a file has no size for a pin that slides in a slot",
                names("pin in slot", list.iter().map(|&j| tool.contact_label(j)))
            ),
            Self::NoFlat(list) => format!(
                "pressure of {} not checked: it needs `width` in [[cams]], and a `material` with `modulus`",
                names("flat on cam", list.iter().map(|&j| tool.contact_label(j)))
            ),
            Self::NoTeeth(list) => format!(
                "bending of {} not checked: it needs `face` and `material` in [[gears]]",
                names(
                    "teeth of",
                    list.iter()
                        .filter_map(|&k| Some(tool.gears.get(k)?.label(k)))
                )
            ),
            Self::NoForm(list) => format!(
                "bending of teeth of {} not checked: the form factors known here are of outside teeth at 20 degrees, 10 or more in the circle",
                parts(list)
            ),
            Self::NoSection(list) => {
                format!(
                    "strength of {} not checked: no table in [sections]",
                    parts(list)
                )
            }
            Self::NoPlates(list) => format!(
                "pin bending not checked for {}: give both parts a thickness in [sections]",
                pins(list)
            ),
            Self::SinglePlates(list) => format!(
                "pin bending not checked for {}: double shear is assumed, but both parts are one plate; a fork has `plates = 2`, a lap `shear = \"single\"`",
                pins(list)
            ),
            Self::Shared(list) => format!(
                "{}: three parts or more share the pin; each joint is checked with its own force; the order of the plates is ignored",
                pins(list)
            ),
            Self::NoUltimate(list) => format!(
                "tear-out is checked against 0.577 yield: `ultimate` is not given for {}",
                materials(list)
            ),
            Self::NoModulus(list) => {
                format!(
                    "buckling not checked: `modulus` is not given for {}",
                    materials(list)
                )
            }
            Self::NoEdge(list) => {
                format!(
                    "tear-out of {} not checked: `edge` is not given in [sections]",
                    parts(list)
                )
            }
            Self::NoMaterialLeft(list) => {
                format!("{}: a hole leaves nothing of the width", parts(list))
            }
            Self::HoleAtEnd(list) => format!("{}: a hole reaches the end at `edge`", parts(list)),
            Self::NoBuckling(list) => format!(
                "buckling is only calculated for two-pin links, not for {}",
                parts(list)
            ),
            Self::Beams(list) => format!(
                "{}: taken as a straight beam through the points that carry forces; a bent part's corners and throat are not checked",
                parts(list)
            ),
            Self::Windows(list) => format!(
                "{}: cuts through an opening between belts not checked: both sides of it share the load, and statics alone cannot tell how",
                parts(list)
            ),
            Self::Arms(list) => format!(
                "{}: what acts beside the hand line, farther off than the handle is deep, is assumed to be carried by the head, at the line's first point",
                parts(list)
            ),
            Self::Unbalanced(list) => {
                let named = list.iter().filter_map(part).collect::<Vec<_>>().join(", ");
                do_not_add_up(&named, list.len())
            }
            Self::NotANumber(pin, part) => format!(
                "{}: a force is not a number; left out there",
                both(pin, part)
            ),
            Self::Indeterminate(pin, part) => format!(
                "strength of {} not checked: a redundant bar shares the load there, and statics alone cannot tell how",
                both(pin, part)
            ),
            Self::NoForces { toggles, refused } => {
                let mut list = Vec::new();
                if *toggles > 0 {
                    list.push(format!(
                        "{toggles} position{} at a toggle, where only the tool's compliance limits the forces",
                        if *toggles == 1 { "" } else { "s" }
                    ));
                }
                if *refused > 0 {
                    list.push(format!(
                        "{refused} load case{} in which friction locks the tool or the hand does not overcome the springs",
                        if *refused == 1 { "" } else { "s" }
                    ));
                }
                format!("not checked: {}", list.join("; "))
            }
            Self::NoCase => "nothing was checked: there is no position with forces".to_owned(),
        }
    }
}

/// Why parts have no bending line, and are rigid: "not checked: frame, its forces do not add up".
fn do_not_add_up(named: &str, count: usize) -> String {
    let whose = if count == 1 { "its" } else { "their" };
    format!("not checked: {named}, {whose} forces do not add up")
}

/// "pin knee", "pins knee, heel".
fn names(what: &str, list: impl Iterator<Item = String>) -> String {
    let list: Vec<String> = list.collect();
    let plural = if list.len() == 1 { "" } else { "s" };
    format!("{what}{plural} {}", list.join(", "))
}
