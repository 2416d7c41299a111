//! Names of measures: from a text to a measure of a tool, and back.

use super::cam::ContactName;
use super::measure::{MEASURES, Measure, Suffix};
use super::{JawId, JointId, StopId, Tool};

/// What the names of measures may refer to: the labels of a tool's pin joints, and the names of its jaws,
/// stops, slots and cams.
#[derive(Debug, Clone, Copy)]
pub struct Named<'a> {
    /// Labels of pin joints.
    pub joints: &'a [String],
    /// Names of jaws.
    pub jaws: &'a [String],
    /// Names of stops.
    pub stops: &'a [String],
    /// Slots and cams.
    pub contacts: &'a [ContactName],
}

impl Measure {
    /// Its name in the file of a tool.
    #[must_use]
    pub fn name(&self, tool: &Tool) -> String {
        let word = self.kind().word;
        match self {
            Self::PinLoad(joint) => format!("{word}.{}", tool.joint_label(*joint)),
            Self::Safety(Some(of)) | Self::Clearance(Some(of)) | Self::Stress(of) => {
                format!("{word}.{of}")
            }
            Self::Contact(joint) | Self::PressureAngle(joint) => {
                format!("{word}.{}", tool.contact_label(*joint))
            }
            Self::StopLoad(stop) => {
                let stop = tool.stop(*stop).map_or("", |stop| stop.name.as_str());
                format!("{word}.{stop}")
            }
            _ => word.to_owned(),
        }
    }

    /// Its name in the file of a tool, of this jaw or under the work there: the first jaw of the file is
    /// not named.
    #[must_use]
    pub fn name_of(&self, tool: &Tool, jaw: JawId) -> String {
        let name = self.name(tool);
        match tool.jaw(jaw) {
            Some(named) if jaw != tool.stroke.lead => {
                let between = match self.kind().suffix {
                    Suffix::Jaw => ".",
                    _ => ", jaw ",
                };
                format!("{name}{between}{}", named.name)
            }
            _ => name,
        }
    }

    /// The measure of that name, and the jaw if it names one, for a tool whose joints, jaws and stops have these
    /// labels; `None` for a name that is none, or whose joint, jaw or stop there is not.
    #[must_use]
    pub fn named(name: &str, names: Named) -> Option<(Self, Option<JawId>)> {
        let Named {
            joints,
            jaws,
            stops,
            contacts,
        } = names;
        if let Some(whole) = MEASURES.into_iter().find(|m| m.kind().word == name)
            && whole.kind().suffix == Suffix::None
        {
            return Some((whole, None));
        }
        let (word, suffix) = match name.split_once('.') {
            Some((word, suffix)) => (word, Some(suffix)),
            None => (name, None),
        };
        match (Self::of_word(word)?, suffix) {
            (Self::PinLoad(_), Some(label)) => {
                let joint = joints.iter().position(|known| known == label)?;
                Some((Self::PinLoad(JointId::new(joint)), None))
            }
            (Self::StopLoad(_), Some(name)) => {
                let stop = stops.iter().position(|known| known == name)?;
                Some((Self::StopLoad(StopId::new(stop)), None))
            }
            (Self::Contact(_), Some(name)) => {
                let of = contacts.iter().find(|of| of.name == name)?;
                Some((Self::Contact(of.joint), None))
            }
            (Self::PressureAngle(_), Some(name)) => {
                let of = contacts.iter().find(|of| of.cam && of.name == name)?;
                Some((Self::PressureAngle(of.joint), None))
            }
            (
                Self::PinLoad(_) | Self::StopLoad(_) | Self::Contact(_) | Self::PressureAngle(_),
                None,
            ) => None,
            (Self::Safety(_), of) => Some((Self::Safety(of.map(str::to_owned)), None)),
            (Self::Clearance(_), of) => Some((Self::Clearance(of.map(str::to_owned)), None)),
            (Self::Stress(_), of) => Some((Self::Stress(of?.to_owned()), None)),
            (other, None) => Some((other, None)),
            (other, Some(name)) if other.kind().suffix == Suffix::Jaw => {
                let jaw = jaws.iter().position(|known| known == name)?;
                Some((other, Some(JawId::new(jaw))))
            }
            (_, Some(_)) => None,
        }
    }

    /// A measure with this word, whatever it refers to.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        MEASURES.into_iter().find(|m| m.kind().word == word)
    }

    /// A measure of this name, whatever follows its word.
    #[must_use]
    pub fn of_name(name: &str) -> Option<Self> {
        Self::of_word(name).or_else(|| Self::of_word(name.split('.').next()?))
    }
}
