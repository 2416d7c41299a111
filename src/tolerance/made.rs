//! What comes of the tools that are made within their tolerances.

use super::fate::Fate;
use super::study::{Finding, Study};
use super::subject::Subject;
use super::unread::Unread;

/// How many made tools do all that is demanded, and why the others do not.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// Sampled tools.
    pub samples: usize,
    /// Those that meet every demand that is read off samples.
    pub met: usize,
    /// What most of the others miss.
    pub cause: Option<Cause>,
    /// Demands that are not read off samples: nothing is known of them.
    pub left_out: Vec<Subject>,
}

/// A demand that sampled tools miss.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    /// Which.
    pub subject: Subject,
    /// How many miss it.
    pub tools: usize,
    /// Why, where most of these have no value there at all.
    pub fate: Option<Fate>,
}

impl Study {
    /// What comes of the made tools; `None` where nothing is demanded of them.
    #[must_use]
    pub fn made(&self) -> Option<Made> {
        let met = self.all_met?;
        let samples = self.sampling.samples;
        let missed = |finding: &Finding| samples - finding.met.unwrap_or(samples);
        // Of several that as many tools miss, the one that the file names first.
        let worst = self.findings.iter().rev().max_by_key(|f| missed(f));
        let cause = worst.filter(|f| missed(f) > 0).map(|finding| {
            let fates = Fate::ALL.into_iter().zip(finding.failed);
            let most = fates.max_by_key(|(_, tools)| *tools);
            Cause {
                subject: finding.subject.clone(),
                tools: missed(finding),
                fate: most
                    .filter(|(_, tools)| 2 * tools > missed(finding))
                    .map(|(fate, _)| fate),
            }
        });
        let demanded = |unread: &&Unread| unread.subject.bound.is_some();
        Some(Made {
            samples,
            met,
            cause,
            left_out: (self.unread.iter().filter(demanded))
                .map(|unread| unread.subject.clone())
                .collect(),
        })
    }
}
