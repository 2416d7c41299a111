//! A call that the argument parser refuses: the option that was meant, and nothing that drives a terminal.

use super::args::Cli;
use crate::input::meant;
use clap::error::{ContextKind, ContextValue};
use clap::{CommandFactory, Parser};
use std::ffi::OsString;

/// The call as parsed, or why not: with the option that was meant, and control characters of the call shown as
/// spaces.
pub(super) fn parse(args: &[OsString]) -> Result<Cli, clap::Error> {
    let mut error = match Cli::try_parse_from(args) {
        Ok(cli) => return Ok(cli),
        Err(error) => error,
    };
    // What a message repeats must not drive a terminal: the same call without such characters fails alike.
    let shown: Vec<OsString> = args.iter().map(harmless).collect();
    if shown != args
        && let Err(same) = Cli::try_parse_from(&shown)
    {
        error = same;
    }
    if let (Some(ContextValue::String(wrong)), None) = (
        error.get(ContextKind::InvalidArg),
        error.get(ContextKind::SuggestedArg),
    ) && let Some(option) = option_meant(&shown, wrong)
    {
        error.remove(ContextKind::Suggested);
        error.insert(ContextKind::SuggestedArg, ContextValue::String(option));
    }
    Err(error)
}

fn harmless(arg: &OsString) -> OsString {
    match arg.to_str() {
        Some(text) if !text.chars().any(char::is_control) => arg.clone(),
        _ => {
            let text = arg.to_string_lossy();
            let plain = |c: char| if c.is_control() { ' ' } else { c };
            OsString::from(text.chars().map(plain).collect::<String>())
        }
    }
}

/// The option of the command that is called that is nearest to what was typed.
fn option_meant(args: &[OsString], wrong: &str) -> Option<String> {
    let wrong = wrong.strip_prefix("--")?;
    let whole = Cli::command();
    let named = |arg: &OsString| whole.find_subcommand(arg.to_str()?);
    let command = args.iter().skip(1).find_map(named)?;
    let options: Vec<&str> = command
        .get_arguments()
        .filter_map(|arg| arg.get_long())
        .collect();
    meant(wrong, &options).map(|option| format!("--{option}"))
}
