//! The `jawforce` program: hands its arguments to the library.
#![forbid(unsafe_code)]

use std::io::IsTerminal;
use std::process::ExitCode;

fn main() -> ExitCode {
    // anstream knows NO_COLOR and its kin; what it would strip is not written in the first place.
    let styled = std::io::stderr().is_terminal()
        && anstream::AutoStream::choice(&std::io::stderr()) != anstream::ColorChoice::Never;
    let mut out = std::io::stdout().lock();
    let mut err = std::io::stderr().lock();
    jawforce::cli::run(std::env::args_os(), &mut out, &mut err, styled)
}
