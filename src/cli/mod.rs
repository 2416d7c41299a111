//! Arguments, files, terminal, exit code: the only part that sees the world.

mod answers;
mod args;
mod check;
mod compare;
mod draw;
mod editors;
mod files;
mod freeze;
mod keys;
mod load;
mod loaded;
mod loads;
mod locate;
mod measure;
mod motion;
mod near;
mod new;
mod outputs;
mod over;
mod parts;
mod pending;
mod people;
mod points;
mod position;
mod problems;
mod progress;
mod report;
mod setup;
mod springs;
mod stop;
mod streams;
mod stroke;
mod study;
mod tolerance;
mod trial;
mod tune;
mod verdict;
mod watch;

use args::Command;
use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;
use stop::{Exit, Stop};
use streams::Streams;
pub use streams::Terminal;

/// Runs the program with these arguments (the first is its own name), results to `out`, all else
/// to `err`.
pub fn run<I, T>(args: I, out: &mut dyn Write, err: &mut dyn Write, terminal: Terminal) -> ExitCode
where
    I: IntoIterator<Item = T>,
    T: Into<OsString> + Clone,
{
    let mut streams = Streams::new(out, err, terminal);
    let args: Vec<OsString> = args.into_iter().map(Into::into).collect();
    let cli = match near::parse(&args) {
        Ok(cli) => cli,
        Err(error) => return ExitCode::from(streams.parsed(&error) as u8),
    };
    let ended = match &cli.command {
        Command::New(args) => new::run(args, &mut streams),
        Command::Check(args) => check::run(args, &mut streams),
        Command::Stroke(args) => stroke::run(args, &mut streams),
        Command::Compare(args) => compare::run(args, &mut streams),
        Command::Tolerance(args) => tolerance::run(args, &mut streams),
        Command::Tune(args) => tune::run(args, &mut streams),
        Command::Freeze(args) => freeze::run(args, &mut streams),
        Command::Report(args) => report::run(args, &mut streams),
        Command::Loads(args) => loads::run(args, &mut streams),
        Command::Parts(args) => parts::run(args, &mut streams),
        Command::Draw(args) => draw::run(args, &mut streams),
        Command::Points(args) => points::run(args, &mut streams),
        Command::Measure(args) => measure::run(args, &mut streams),
        Command::Trial(args) => trial::run(args, &mut streams),
        Command::Setup(args) => setup::run(args, &mut streams),
        Command::Springs(args) => springs::run(args, &mut streams),
        Command::People(args) => people::run(args, &mut streams),
        Command::Keys(args) => keys::run(args, &mut streams),
        Command::Schema => editors::schema(&mut streams),
        Command::Completions(args) => editors::completions(args, &mut streams),
        Command::Man(args) => editors::man(args, &mut streams),
    };
    let outcome = ended.unwrap_or_else(|stop| match cli.command.json() {
        true => streams.stopped_with_data(&stop),
        false => streams.stopped(&stop),
    });
    ExitCode::from(outcome as u8)
}
