//! A bar for long work, on a terminal only.

use std::io::{IsTerminal, Write};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// Work shorter than this shows nothing; then the bar moves this often.
const PAUSE: Duration = Duration::from_millis(200);
const BAR: usize = 30;

/// Counts pieces of work and draws how far it is.
pub(super) struct Progress {
    total: usize,
    what: &'static str,
    done: AtomicUsize,
    /// When the bar was last drawn, and whether it ever was; `None`: never draws.
    drawn: Option<Mutex<(Instant, bool)>>,
}

impl Progress {
    /// Draws where standard error is a terminal, unless it is to be quiet.
    pub(super) fn new(total: usize, what: &'static str, quiet: bool) -> Self {
        let terminal = std::io::stderr().is_terminal() && !quiet;
        Self {
            total,
            what,
            done: AtomicUsize::new(0),
            drawn: terminal.then(|| Mutex::new((Instant::now(), false))),
        }
    }

    /// One more piece is done; called from any thread.
    pub(super) fn step(&self) {
        let now = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        // A thread that finds the bar being drawn goes on with its work.
        if let Some(Ok(mut drawn)) = self.drawn.as_ref().map(Mutex::try_lock)
            && drawn.0.elapsed() >= PAUSE
        {
            *drawn = (Instant::now(), true);
            let line = line(now, self.total, self.what);
            let _ = write!(std::io::stderr().lock(), "\r{line}");
        }
    }
}

impl Drop for Progress {
    /// Takes the bar away again: what follows is the result.
    fn drop(&mut self) {
        if let Some(Ok(drawn)) = self.drawn.as_ref().map(Mutex::try_lock)
            && drawn.1
        {
            let blank = " ".repeat(line(self.total, self.total, self.what).len());
            let _ = write!(std::io::stderr().lock(), "\r{blank}\r");
        }
    }
}

fn line(now: usize, total: usize, what: &str) -> String {
    let full = (BAR * now).checked_div(total).unwrap_or(BAR).min(BAR);
    format!(
        "[{}{}] {now} of {total} {what}",
        "#".repeat(full),
        ".".repeat(BAR - full)
    )
}

#[cfg(test)]
mod tests {
    use super::line;

    #[test]
    fn the_bar_fills_up() {
        assert_eq!(
            line(100, 200, "variants"),
            format!("[{}{}] 100 of 200 variants", "#".repeat(15), ".".repeat(15))
        );
        assert!(line(200, 200, "x").starts_with(&format!("[{}]", "#".repeat(30))));
        assert!(line(0, 0, "x").contains("0 of 0"));
    }
}
