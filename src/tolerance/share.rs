//! The yield: the share of the made tools that meet every demand.

use super::error::StudyError;
use super::sample::Sampling;
use crate::analysis::Analysis;

/// Made tools behind a yield, and behind the first lines of an answer: enough to tell a good tool from a
/// bad one (one standard deviation is some two parts in a hundred at most), few enough to be drawn at
/// every run.
pub const LOOK: usize = 512;

impl Analysis {
    /// Samples made tools where something is asked of their yield, so that it can be read. Each caller
    /// samples the same tools, whatever the number of `threads` (`None`: as many as the machine offers).
    ///
    /// # Errors
    /// [`StudyError`]: no tools can be sampled. The yield then has no value.
    pub fn sample_yield(&self, threads: Option<usize>) -> Result<(), StudyError> {
        if self.made().is_some() {
            return Ok(());
        }
        let sampling = Sampling {
            samples: LOOK,
            threads,
            ..Sampling::default()
        };
        if let Some(made) = self.tolerance(&sampling)?.made() {
            self.set_made(made.met as f64 / made.samples as f64);
        }
        Ok(())
    }
}
