//! The two streams of a run. What a terminal can show is decided here and nowhere else.

use super::files::{self, Text};
use super::stop::{Exit, Stop};
use crate::input::{Diagnostic, render_all};
use crate::output::{json_text, unstyled};
use serde::Serialize;
use std::io::Write;

/// What the terminal can show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Terminal {
    /// Results may be coloured.
    pub colour: bool,
    /// Messages may be coloured.
    pub messages: bool,
    /// Results go to a terminal, where a person reads them.
    pub people: bool,
    /// Columns for results.
    pub width: usize,
}

/// Where results and messages go.
pub(super) struct Streams<'a> {
    out: &'a mut dyn Write,
    err: &'a mut dyn Write,
    terminal: Terminal,
    /// Nobody reads the results any more.
    pub(super) gone: bool,
}

impl<'a> Streams<'a> {
    pub(super) fn new(out: &'a mut dyn Write, err: &'a mut dyn Write, terminal: Terminal) -> Self {
        Self {
            out,
            err,
            terminal,
            gone: false,
        }
    }

    /// Whether results go to a terminal; else another program reads them.
    pub(super) fn is_read_by_people(&self) -> bool {
        self.terminal.people
    }

    /// Columns for results.
    pub(super) fn width(&self) -> usize {
        self.terminal.width
    }

    /// Writes results. A reader that has gone away (`| head`) is no error: the run just ends.
    pub(super) fn print(&mut self, text: &str) -> Result<(), Stop> {
        let written = self
            .out
            .write_all(text.as_bytes())
            .and_then(|()| self.out.flush());
        match written {
            Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => Err(Stop::input(format!(
                "error: standard output cannot be written: {}",
                files::reason(&e)
            ))),
            Err(_) => {
                self.gone = true;
                Ok(())
            }
            Ok(()) => Ok(()),
        }
    }

    /// What a command prints of a report: JSON, nothing, or `words` for people in so many columns.
    pub(super) fn answer<T: Serialize>(
        &self,
        json: bool,
        quiet: bool,
        report: &T,
        words: impl FnOnce(usize) -> String,
    ) -> Result<String, Stop> {
        if json {
            json_text(report).map_err(Stop::bug)
        } else if quiet {
            Ok(String::new())
        } else {
            Ok(self.readable(words(self.width())))
        }
    }

    /// Results for people, their colours taken out where they are not wanted.
    pub(super) fn readable(&self, text: String) -> String {
        if self.terminal.colour {
            text
        } else {
            unstyled(&text)
        }
    }

    /// Writes a message; there is nowhere to report that this failed.
    pub(super) fn tell(&mut self, text: &str) {
        let _ = writeln!(self.err, "{}", text.trim_end());
    }

    /// Writes what is worth saying about a file, at its places.
    pub(super) fn advise(&mut self, advice: &[Diagnostic], file: &Text) {
        if !advice.is_empty() {
            let text = render_all(advice, &file.name, &file.text, self.terminal.messages);
            self.tell(&text);
        }
    }

    /// Says why a command stopped; how the run ends.
    pub(super) fn stopped(&mut self, stop: &Stop) -> Exit {
        self.tell(&stop.text(self.terminal.messages));
        stop.outcome
    }

    /// The same for one who asked for JSON, which there is whatever happens.
    pub(super) fn stopped_with_data(&mut self, stop: &Stop) -> Exit {
        if let Ok(text) = json_text(&stop.data()) {
            let _ = self.print(&text);
        }
        self.stopped(stop)
    }

    /// Results or a message of the argument parser.
    pub(super) fn parsed(&mut self, error: &clap::Error) -> Exit {
        let styled = |colour: bool| {
            let text = error.render();
            if colour {
                text.ansi().to_string()
            } else {
                text.to_string()
            }
        };
        if error.use_stderr() {
            let text = styled(self.terminal.messages);
            self.tell(&text);
            return Exit::BadInput;
        }
        match self.print(&styled(self.terminal.colour)) {
            Ok(()) => Exit::Done,
            Err(stop) => self.stopped(&stop),
        }
    }
}
