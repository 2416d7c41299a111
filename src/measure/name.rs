//! Measures by name, for a tool.

use crate::model::{JawId, Joint, JointId, MEASURES, Measure, Named, Suffix, Tool, contact_names};

/// Why a measure cannot be read off a tool.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MeasureError {
    /// There is no such measure; the words of those that there are.
    Unknown {
        /// The name.
        name: String,
        /// The words of all measures.
        known: Vec<&'static str>,
    },
    /// There is no such pin.
    NoPin {
        /// Its label.
        label: String,
        /// Those of the tool.
        pins: Vec<String>,
    },
    /// There is no such jaw.
    NoJaw {
        /// The name that was given.
        name: String,
        /// Those of the tool.
        jaws: Vec<String>,
    },
    /// There is no such stop, or none is named.
    NoStop {
        /// The name that was given.
        name: String,
        /// Those of the tool.
        stops: Vec<String>,
    },
    /// There is no such slot, cam or pair of gears, or none is named.
    NoContact {
        /// The name that was given.
        name: String,
        /// Those of the tool.
        contacts: Vec<String>,
    },
    /// It needs the name of a pin behind it: its word, and the pins of the tool.
    WhichPin(&'static str, Vec<String>),
    /// Nothing follows its word.
    NothingFollows {
        /// The name.
        name: String,
        /// Its word.
        word: &'static str,
    },
    /// It is what the work needs, and that jaw has no work.
    NoWork,
    /// It is what the work needs over what the hand can give, and one of them is not given.
    NoShare,
    /// It is what comes of the made tools, and nothing says how exact they are.
    NoTolerances,
    /// It needs a second handle.
    NoSecondHandle,
    /// It is about repeated use, and the tool has no job.
    NoJob(&'static str),
}

/// The measure of that name for `tool`, and which jaw it is about: the one in view where none is named.
///
/// # Errors
/// A name that is not in the vocabulary, or that names a pin or jaw the tool has not; and measures that need a
/// table the tool has not.
pub fn named(tool: &Tool, name: &str) -> Result<(Measure, JawId), MeasureError> {
    let pins: Vec<String> = JointId::ids(tool.joints.len())
        .map(|joint| tool.joint_label(joint))
        .collect();
    let jaws: Vec<String> = tool.jaws.iter().map(|jaw| jaw.name.clone()).collect();
    let stops: Vec<String> = tool.stops.iter().map(|stop| stop.name.clone()).collect();
    let contacts = contact_names(tool.joints.len(), &tool.slots, &tool.cams, &tool.gears);
    let names = Named {
        joints: &pins,
        jaws: &jaws,
        stops: &stops,
        contacts: &contacts,
    };
    let Some((measure, jaw)) = Measure::named(name, names) else {
        return Err(unknown(name, names));
    };
    let jaw = jaw.unwrap_or(JawId::FIRST);
    readable(tool, &measure, jaw)?;
    Ok((measure, jaw))
}

/// Whether a tool has the tables that a measure of a jaw needs.
///
/// # Errors
/// Which it has not.
pub fn readable(tool: &Tool, measure: &Measure, jaw: JawId) -> Result<(), MeasureError> {
    let no_work = tool.jaw(jaw).is_none_or(|jaw| jaw.work.is_none());
    match measure {
        Measure::HandForce | Measure::Height if no_work => Err(MeasureError::NoWork),
        Measure::HandShare if no_work || tool.hand.limit.is_none() => Err(MeasureError::NoShare),
        Measure::Effort
        | Measure::AcceptableForce
        | Measure::HandActivity
        | Measure::StrainIndex
            if tool.job.is_none() =>
        {
            Err(MeasureError::NoJob(measure.kind().word))
        }
        Measure::Effort | Measure::StrainIndex if no_work => Err(MeasureError::NoWork),
        Measure::StopLoad(stop) if tool.stop(*stop).is_none() => Err(MeasureError::NoStop {
            name: String::new(),
            stops: tool.stops.iter().map(|stop| stop.name.clone()).collect(),
        }),
        Measure::Contact(of) | Measure::PressureAngle(of)
            if !tool.joint(*of).is_some_and(|joint| match joint {
                Joint::Cam(..) => true,
                Joint::Slot(..) | Joint::Gears(..) => matches!(measure, Measure::Contact(_)),
                Joint::Pin(..) => false,
            }) =>
        {
            Err(MeasureError::NoContact {
                name: String::new(),
                contacts: Vec::new(),
            })
        }
        Measure::Yield if !tool.tolerances.stated() => Err(MeasureError::NoTolerances),
        Measure::Span if tool.hand.against.is_none() => Err(MeasureError::NoSecondHandle),
        _ => Ok(()),
    }
}

fn unknown(name: &str, names: Named) -> MeasureError {
    let (_, suffix) = match name.split_once('.') {
        Some((word, suffix)) => (word, Some(suffix)),
        None => (name, None),
    };
    let Some(kind) = Measure::of_name(name).map(|measure| measure.kind()) else {
        return MeasureError::Unknown {
            name: name.to_owned(),
            known: MEASURES.iter().map(|measure| measure.kind().word).collect(),
        };
    };
    match (kind.suffix, suffix) {
        (Suffix::Joint, Some(label)) => MeasureError::NoPin {
            label: label.to_owned(),
            pins: names.joints.to_vec(),
        },
        (Suffix::Jaw, Some(jaw)) => MeasureError::NoJaw {
            name: jaw.to_owned(),
            jaws: names.jaws.to_vec(),
        },
        (Suffix::Stop, name) => MeasureError::NoStop {
            name: name.unwrap_or_default().to_owned(),
            stops: names.stops.to_vec(),
        },
        (suffix @ (Suffix::Contact | Suffix::Cam), name) => MeasureError::NoContact {
            name: name.unwrap_or_default().to_owned(),
            contacts: (names.contacts.iter())
                .filter(|of| of.cam || suffix == Suffix::Contact)
                .map(|of| of.name.clone())
                .collect(),
        },
        (Suffix::Joint, None) => MeasureError::WhichPin(kind.word, names.joints.to_vec()),
        _ => MeasureError::NothingFollows {
            name: name.to_owned(),
            word: kind.word,
        },
    }
}
