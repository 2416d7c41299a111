//! `schema`, `completions` and `man`: help for editors and shells.

use super::args::{Cli, CompletionsArgs, ManArgs};
use super::files::{Target, reason, shown};
use super::outputs::failed;
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

/// The manual page of the program or of a command, in roff; or all of them as files.
pub(super) fn man(args: &ManArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let mut program = Cli::command();
    program.build();
    if let Some(folder) = &args.output {
        std::fs::create_dir_all(folder).map_err(|e| {
            failed(format!(
                "{}: this folder cannot be made: {}",
                shown(folder),
                reason(&e)
            ))
        })?;
        let mut targets = Vec::new();
        for command in std::iter::once(&program).chain(program.get_subcommands()) {
            let path = folder.join(format!("{}.1", page_name(command, &program)));
            targets.push((
                Target::prepare(&path, &[]).map_err(failed)?,
                page(command, &program)?,
            ));
        }
        for (target, text) in targets {
            target.write(text).map_err(failed)?;
        }
        return Ok(Exit::Done);
    }
    let command = match &args.command {
        None => &program,
        Some(name) => program.find_subcommand(name).ok_or_else(|| {
            Stop::input(format!(
                "error: there is no command `{name}`; `jawforce --help` lists them"
            ))
        })?,
    };
    streams.print(&page(command, &program)?)?;
    Ok(Exit::Done)
}

/// What a page is called: `jawforce`, `jawforce-stroke`.
fn page_name(command: &clap::Command, program: &clap::Command) -> String {
    match command.get_name() == program.get_name() {
        true => program.get_name().to_owned(),
        false => format!("{}-{}", program.get_name(), command.get_name()),
    }
}

fn page(command: &clap::Command, program: &clap::Command) -> Result<String, Stop> {
    let mut text = Vec::new();
    let page = clap_mangen::Man::new(command.clone()).title(page_name(command, program));
    page.render(&mut text)
        .map_err(|e| Stop::input(format!("error: the manual page cannot be written: {e}")))?;
    Ok(String::from_utf8_lossy(&text).into_owned())
}
