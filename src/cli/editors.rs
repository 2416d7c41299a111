//! `schema`, `completions` and `man`: help for editors and shells.

use super::args::{Cli, CompletionsArgs};
use super::{Exit, Stop, Streams};
use crate::output::json_text;
use clap::CommandFactory;

/// JSON Schema (draft 7, which TOML editors read best) of the tool file.
pub(super) fn schema(streams: &mut Streams) -> Result<Exit, Stop> {
    let text = json_text(&crate::input::keys::schema()).map_err(Stop::bug)?;
    streams.print(&text)?;
    Ok(Exit::Done)
}

/// Completions for a shell.
pub(super) fn completions(args: &CompletionsArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    // Into memory first: a reader that has gone away is no error.
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "jawforce", &mut text);
    streams.print(&String::from_utf8_lossy(&text))?;
    Ok(Exit::Done)
}

/// The manual page, in roff.
pub(super) fn man(streams: &mut Streams) -> Result<Exit, Stop> {
    let mut text = Vec::new();
    let page = clap_mangen::Man::new(Cli::command());
    page.render(&mut text)
        .map_err(|e| Stop::input(format!("error: the manual page cannot be written: {e}")))?;
    streams.print(&String::from_utf8_lossy(&text))?;
    Ok(Exit::Done)
}
