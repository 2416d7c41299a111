//! Arguments, files, terminal, exit code: the only part that sees the world.

mod args;
mod check;
mod compare;
mod draw;
mod editors;
mod files;
mod keys;
mod load;
mod loads;
mod locate;
mod measure;
mod new;
mod outputs;
mod position;
mod progress;
mod report;
mod stroke;
mod tolerance;
mod tune;
mod watch;

use crate::output::{coloured, json_text};
use args::{Cli, Command};
use clap::Parser;
use clap::error::ErrorKind;
use serde::Serialize;
use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;

/// How a run ended. The numbers are the exit codes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Outcome {
    /// Done, and all demands met.
    Done = 0,
    /// A demand is not met.
    NotMet = 1,
    /// The input or the call is wrong.
    BadInput = 2,
    /// The linkage cannot do what is asked.
    Cannot = 3,
}

/// Why a command stopped: what to say, and how the run ends.
#[derive(Debug)]
struct Stop {
    outcome: Outcome,
    text: String,
}

impl Stop {
    fn input(text: impl Into<String>) -> Self {
        Self {
            outcome: Outcome::BadInput,
            text: text.into(),
        }
    }

    /// A mistake of the program itself, which no input should be able to cause.
    fn bug(error: impl std::fmt::Display) -> Self {
        Self {
            outcome: Outcome::Cannot,
            text: format!("error: {error}"),
        }
    }
}

/// What the terminal can show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Terminal {
    /// Results may be coloured.
    pub colour: bool,
    /// Messages may be coloured.
    pub messages: bool,
    /// Columns for results.
    pub width: usize,
}

/// The two streams, and what they can show.
struct Streams<'a> {
    out: &'a mut dyn Write,
    err: &'a mut dyn Write,
    /// Messages may be coloured.
    styled: bool,
    /// Results may be coloured.
    colour: bool,
    /// Columns for results.
    width: usize,
    /// Nobody reads the results any more.
    gone: bool,
}

impl Streams<'_> {
    /// Writes results. A reader that has gone away (`| head`) is no error: the run just ends.
    fn print(&mut self, text: &str) -> Result<(), Stop> {
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
    fn answer<T: Serialize>(
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
            Ok(self.painted(words(self.width)))
        }
    }

    /// Text meant for people, coloured where that is wanted.
    fn painted(&self, text: String) -> String {
        if self.colour { coloured(&text) } else { text }
    }

    /// Writes a message; there is nowhere to report that this failed.
    fn tell(&mut self, text: &str) {
        let _ = writeln!(self.err, "{}", text.trim_end());
    }
}

/// Runs the program with these arguments (the first is its own name), results to `out`, all else
/// to `err`.
pub fn run<I, T>(args: I, out: &mut dyn Write, err: &mut dyn Write, terminal: Terminal) -> ExitCode
where
    I: IntoIterator<Item = T>,
    T: Into<OsString> + Clone,
{
    let styled = terminal.messages;
    let mut streams = Streams {
        out,
        err,
        styled,
        colour: terminal.colour,
        width: terminal.width,
        gone: false,
    };
    let cli = match Cli::try_parse_from(args) {
        Ok(cli) => cli,
        Err(error) => {
            let text = if styled {
                error.render().ansi().to_string()
            } else {
                error.render().to_string()
            };
            if matches!(
                error.kind(),
                ErrorKind::DisplayHelp | ErrorKind::DisplayVersion
            ) {
                return match streams.print(&text) {
                    Ok(()) => ExitCode::SUCCESS,
                    Err(stop) => {
                        streams.tell(&stop.text);
                        ExitCode::from(stop.outcome as u8)
                    }
                };
            }
            streams.tell(&text);
            return ExitCode::from(Outcome::BadInput as u8);
        }
    };
    let ended = match &cli.command {
        Command::New(args) => new::run(args, &mut streams),
        Command::Check(args) => check::run(args, &mut streams),
        Command::Stroke(args) => stroke::run(args, &mut streams),
        Command::Compare(args) => compare::run(args, &mut streams),
        Command::Tolerance(args) => tolerance::run(args, &mut streams),
        Command::Tune(args) => tune::run(args, &mut streams),
        Command::Report(args) => report::run(args, &mut streams),
        Command::Loads(args) => loads::run(args, &mut streams),
        Command::Draw(args) => draw::run(args, &mut streams),
        Command::Measure(args) => measure::run(args, &mut streams),
        Command::Keys(args) => keys::run(args, &mut streams),
        Command::Schema => editors::schema(&mut streams),
        Command::Completions(args) => editors::completions(args, &mut streams),
        Command::Man => editors::man(&mut streams),
    };
    match ended {
        Ok(outcome) => ExitCode::from(outcome as u8),
        Err(stop) => {
            streams.tell(&stop.text);
            ExitCode::from(stop.outcome as u8)
        }
    }
}
