//! Where the peaks of samples stand: seen on the first few, so that the others are read there only.

use super::fate::Fate;
use super::sample::{Sampling, Variable, sample};
use super::sweep::Pilot;
use super::worker::{Play, Setup, Worker};
use std::sync::Mutex;

/// Samples that are read over their whole stroke before the others.
const PILOT: usize = 128;
/// From so many samples on that is worth while; fewer are all read over their whole stroke.
pub const READ_IN_PART: usize = 512;

/// Where the peaks of the first few samples stand, all of their stroke being read. `None` for so few
/// samples that all are read like that.
///
/// # Errors
/// When the threads cannot be had.
pub(super) fn pilot(
    setup: &Setup,
    variables: &[Variable],
    sampling: &Sampling,
) -> Result<Option<Pilot>, String> {
    let (sweeps, targets) = (setup.sweeps.len(), setup.targets.len());
    if sampling.samples < READ_IN_PART || sweeps == 0 {
        return Ok(None);
    }
    let seen = Mutex::new(Pilot::new(sweeps, targets));
    let first = Sampling {
        samples: PILOT,
        ..*sampling
    };
    let outputs = vec![Err(Fate::NoValue); targets];
    let start = || {
        let mut worker = Worker::new(setup).roughly();
        worker.seen = Some(Pilot::new(sweeps, targets));
        worker
    };
    sample(
        &first,
        variables,
        &outputs,
        start,
        |worker, deviations, out| {
            worker.evaluate(deviations, Play::All, out);
            if let (Some(own), Ok(mut seen)) = (&worker.seen, seen.lock()) {
                seen.take(own);
            }
        },
    )?;
    Ok(seen.into_inner().ok())
}
