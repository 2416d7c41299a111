//! What could not be checked, and why.

use crate::model::Tool;

/// Something that was left out of the checks. Pins are indices of joints, parts of parts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Note {
    /// These pins have no diameter.
    NoDiameter(Vec<usize>),
    /// These pins have no material.
    NoPinMaterial(Vec<usize>),
    /// These parts have no section.
    NoSection(Vec<usize>),
    /// The bending of these pins needs the thickness of both parts.
    NoPlates(Vec<usize>),
    /// Two single plates cannot load these pins in double shear.
    SinglePlates(Vec<usize>),
    /// These pins join three parts or more: each joint is checked by itself.
    Shared(Vec<usize>),
    /// Materials (indices) without an ultimate strength.
    NoUltimate(Vec<usize>),
    /// Materials (indices) without Young's modulus.
    NoModulus(Vec<usize>),
    /// These parts have no edge distance.
    NoEdge(Vec<usize>),
    /// These parts have a hole as large as the part is deep.
    NoMaterialLeft(Vec<usize>),
    /// These parts have a hole that reaches the end.
    HoleAtEnd(Vec<usize>),
    /// Buckling is for two-pin links, and these are none.
    NoBuckling(Vec<usize>),
    /// These parts are taken as beams through the points that carry forces.
    Beams(Vec<usize>),
    /// Something acts on these parts beside their hand line, farther off than they are deep.
    Arms(Vec<usize>),
    /// The forces on these parts do not add up: something outside the file holds them.
    Unbalanced(Vec<usize>),
    /// These pins or parts had a force that is not a number.
    NotANumber(Vec<usize>, Vec<usize>),
    /// A redundant bar shares the load of these pins, so that nothing is known of them and of
    /// these parts.
    Indeterminate(Vec<usize>, Vec<usize>),
    /// Positions of the stroke at a toggle, and load cases elsewhere, that have no forces.
    NoForces {
        /// Positions at which the first jaw stands still.
        toggles: usize,
        /// Load cases (a position and a grip) in which friction locks the tool or the springs
        /// hold the hand.
        refused: usize,
    },
    /// There was no load case to check.
    NoCase,
}

impl Note {
    /// The note in words.
    #[must_use]
    pub fn text(&self, tool: &Tool) -> String {
        let pins = |list: &[usize]| names("pin", list.iter().map(|&j| tool.joint_label(j)));
        let part = |&p: &usize| tool.parts.get(p).map(|part| part.name.clone());
        let parts = |list: &[usize]| names("part", list.iter().filter_map(part));
        let material = |&m: &usize| tool.materials.get(m).map(|m| m.name.clone());
        let materials = |list: &[usize]| names("material", list.iter().filter_map(material));
        let both = |pin: &[usize], part: &[usize]| match (pin, part) {
            (pin, []) => pins(pin),
            ([], part) => parts(part),
            (pin, part) => format!("{} and {}", pins(pin), parts(part)),
        };
        match self {
            Self::NoDiameter(list) => format!(
                "no strength of {}, no bearing there: `diameter` is not given in [joints]",
                pins(list)
            ),
            Self::NoPinMaterial(list) => format!(
                "no shear and bending of {}: `material` is not given in [joints]",
                pins(list)
            ),
            Self::NoSection(list) => {
                format!("no strength of {}: no table in [sections]", parts(list))
            }
            Self::NoPlates(list) => format!(
                "no bending of {}: it needs the thickness of both parts, in [sections]",
                pins(list)
            ),
            Self::SinglePlates(list) => format!(
                "no bending of {}: double shear is taken, but both parts are one plate; a fork has `plates = 2`, a lap `shear = \"single\"`",
                pins(list)
            ),
            Self::Shared(list) => format!(
                "{}: three parts or more share the pin; each joint is checked with its own force, and the order of the plates is not looked at",
                pins(list)
            ),
            Self::NoUltimate(list) => format!(
                "tear-out is held against 0.577 yield: `ultimate` is not given for {}",
                materials(list)
            ),
            Self::NoModulus(list) => {
                format!(
                    "no buckling: `modulus` is not given for {}",
                    materials(list)
                )
            }
            Self::NoEdge(list) => {
                format!(
                    "no tear-out of {}: `edge` is not given in [sections]",
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
                "{}: taken as a straight beam through the points that carry forces; a bent part's corners and throat are not looked at",
                parts(list)
            ),
            Self::Arms(list) => format!(
                "{}: what acts beside the hand line, farther off than the handle is deep, is taken as carried by the head, at the line's first point",
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
                "no strength of {}: a redundant bar shares the load there, and statics alone cannot tell how",
                both(pin, part)
            ),
            Self::NoForces { toggles, refused } => {
                let mut list = Vec::new();
                if *toggles > 0 {
                    list.push(format!(
                        "{toggles} position{} at a toggle, where only the tool's give limits the forces",
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

/// Why parts have no bending line, and give nothing: "not judged: frame, its forces do not add up".
fn do_not_add_up(named: &str, count: usize) -> String {
    let whose = if count == 1 { "its" } else { "their" };
    format!("not judged: {named}, {whose} forces do not add up")
}

/// "pin knee", "pins knee, heel".
fn names(what: &str, list: impl Iterator<Item = String>) -> String {
    let list: Vec<String> = list.collect();
    let plural = if list.len() == 1 { "" } else { "s" };
    format!("{what}{plural} {}", list.join(", "))
}
