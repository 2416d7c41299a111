//! Running again whenever a file changes.

use super::{Exit, Stop, Streams};
use std::path::PathBuf;
use std::time::{Duration, SystemTime};

/// How often the files are looked at.
const PAUSE: Duration = Duration::from_millis(250);

/// Does the work `once`, and again each time one of the files it read has changed, until it is
/// stopped or nobody reads the results any more. Mistakes in a file are told, and waited on.
pub(super) fn watch(
    streams: &mut Streams,
    mut once: impl FnMut(&mut Streams, &mut Vec<PathBuf>) -> Result<Exit, Stop>,
) -> Exit {
    let mut files = Vec::new();
    loop {
        let seen = marks(&files);
        let outcome = match once(streams, &mut files) {
            Ok(outcome) => outcome,
            Err(stop) => streams.stopped(&stop),
        };
        if streams.gone {
            return outcome;
        }
        streams.tell("waiting for the file to change; Ctrl-C ends");
        // What changed while the work went on counts too, where it was known what to look at.
        let before = if seen.len() == files.len() {
            seen
        } else {
            marks(&files)
        };
        while marks(&files) == before {
            std::thread::sleep(PAUSE);
        }
        // An editor may still be writing.
        std::thread::sleep(PAUSE / 2);
    }
}

/// When each file was written last, and its size; `None` while it is away.
fn marks(files: &[PathBuf]) -> Vec<Option<(SystemTime, u64)>> {
    let mark = |path: &PathBuf| {
        let about = std::fs::metadata(path).ok()?;
        Some((about.modified().ok()?, about.len()))
    };
    files.iter().map(mark).collect()
}
