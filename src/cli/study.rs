//! Made tools as every command samples them, and why there are none.

use super::Stop;
use super::loaded::Loaded;
use super::locate::stop;
use super::outputs::failed;
use crate::tolerance::{Sampling, StudyError};

/// A run of as many samples as are `typed`, or of `usual` ones, or fewer where those take long.
pub(super) fn samples(typed: Option<u64>, usual: usize) -> Sampling {
    Sampling {
        samples: typed.map_or(usual, |n| usize::try_from(n).unwrap_or(usize::MAX)),
        fewer: typed.is_none(),
        ..Sampling::default()
    }
}

/// Why demands at all their grips are too many to be read off samples.
pub(super) fn too_many(measures: usize) -> String {
    format!(
        "{measures} measures (demands at all their grips) would take minutes to read off samples; ask for fewer \
         demands, grips or joints at a time"
    )
}

/// Why there is no study, as the end of a run.
pub(super) fn unstudied(error: StudyError, loaded: &Loaded) -> Stop {
    let name = &loaded.text.name;
    let cannot = |text: String| Stop::cannot(format!("error: {name}: {text}"));
    match error {
        StudyError::NoTolerances => failed(format!(
            "{name}: the file has no [tolerances]; write e.g.\n  [tolerances]\n  class = \"ISO 2768-m\"   # or one \
             figure for all lengths: class = \"0.1 mm\"\n  \"strut.length\" = 0.05"
        )),
        StudyError::NothingVaries => failed(format!(
            "{name}: [tolerances] gives no dimension any room; state a class or a value"
        )),
        StudyError::Mount(error) => stop(error.into(), loaded),
        StudyError::Motion(error) => stop(error.into(), loaded),
        StudyError::Failure(failure) => stop(failure, loaded),
        StudyError::Position { measure, error } => cannot(format!(
            "`{measure}`: {}",
            error.text(loaded.tool(), loaded.units)
        )),
        StudyError::Threads(text) => failed(text),
        StudyError::TooManyMeasures(count) => failed(format!("{name}: {}", too_many(count))),
        StudyError::TooManySamples { most } => failed(format!(
            "{name}: so many samples do not fit in memory; ask for at most --samples {most}"
        )),
    }
}
