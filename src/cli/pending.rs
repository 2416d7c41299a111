//! Files that are not in their place yet. A signal that ends the run (SIGINT, SIGTERM) takes them away first.
//!
//! A name is on the list before the file is made, under one lock for both: there is no moment at which a signal could
//! miss it. What cannot be caught (SIGKILL, a power cut) may leave one; the next write to that folder looks for it.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What files that are not in their place yet are called.
pub(super) const LEFT: &str = ".jawforce-";

static PENDING: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

fn pending() -> MutexGuard<'static, Vec<PathBuf>> {
    // A list of names cannot be half-changed.
    PENDING.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A new file in a folder, with the rights of any new file less what the user's mask takes away.
///
/// # Errors
/// Why it cannot be made.
pub(super) fn new_in(folder: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    catch_signals();
    let mut builder = tempfile::Builder::new();
    builder.prefix(LEFT).make_in(folder, |path| {
        let mut list = pending();
        let file = made(path)?;
        list.push(path.to_path_buf());
        Ok(file)
    })
}

fn made(path: &Path) -> std::io::Result<File> {
    let mut options = File::options();
    options.read(true).write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o666);
    options.open(path)
}

/// A file is in its place, or gone: its name is nobody's business any more.
pub(super) fn settled(path: &Path) {
    pending().retain(|known| known != path);
}

/// From the first file on a thread waits for the signals. The run then ends as it would have without.
#[cfg(unix)]
fn catch_signals() {
    use signal_hook::consts::{SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;
    static ONCE: std::sync::Once = std::sync::Once::new();
    ONCE.call_once(|| {
        // Where signals cannot be caught the run ends as ever, and may leave a file.
        let Ok(mut signals) = Signals::new([SIGINT, SIGTERM]) else {
            return;
        };
        std::thread::spawn(move || {
            for signal in signals.forever() {
                // Kept to the end: no file is made after those that are taken away here.
                let list = pending();
                for path in list.iter() {
                    let _ = std::fs::remove_file(path);
                }
                let _ = emulate_default_handler(signal);
            }
        });
    });
}

#[cfg(not(unix))]
fn catch_signals() {}
