//! The yield: the share of the made tools that meet every demand.

use super::error::StudyError;
use super::sample::Sampling;
use super::study::Study;
use crate::analysis::Analysis;

/// Made tools behind a yield, and behind the first lines of an answer: enough to tell a good tool from a
/// bad one (one standard deviation is some two parts in a hundred at most), few enough to be drawn at
/// every run.
pub const LOOK: usize = 512;

impl Analysis {
    /// The study behind the first lines of an answer. It keeps the yield, which is read from the same tools,
    /// whoever samples them and on however many threads.
    ///
    /// # Errors
    /// [`StudyError`]: no tools can be sampled. The yield then has no value.
    pub fn look(&self) -> Result<Study, StudyError> {
        let sampling = Sampling {
            samples: LOOK,
            ..Sampling::default()
        };
        let study = self.tolerance(&sampling)?;
        if let Some(made) = study.made() {
            self.set_made(made.met as f64 / made.samples as f64);
        }
        Ok(study)
    }

    /// Has the yield sampled, so that it can be read, where that is not done yet.
    ///
    /// # Errors
    /// As [`Analysis::look`].
    pub fn sample_yield(&self) -> Result<(), StudyError> {
        match self.made() {
            Some(_) => Ok(()),
            None => self.look().map(|_| ()),
        }
    }
}
