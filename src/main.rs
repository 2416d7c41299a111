//! The `jawforce` program: hands its arguments to the library.
#![forbid(unsafe_code)]

use jawforce::cli::Terminal;
use std::io::IsTerminal;
use std::process::ExitCode;

fn main() -> ExitCode {
    let (stdout, stderr) = (std::io::stdout(), std::io::stderr());
    // anstream knows NO_COLOR and its kin; what it would strip is not written in the first place.
    let terminal = Terminal {
        colour: stdout.is_terminal()
            && anstream::AutoStream::choice(&stdout) != anstream::ColorChoice::Never,
        messages: stderr.is_terminal()
            && anstream::AutoStream::choice(&stderr) != anstream::ColorChoice::Never,
        people: stdout.is_terminal(),
        width: terminal_size::terminal_size_of(&stdout)
            .map_or(80, |(width, _)| usize::from(width.0).clamp(40, 160)),
    };
    let (mut out, mut err) = (stdout.lock(), stderr.lock());
    jawforce::cli::run(std::env::args_os(), &mut out, &mut err, terminal)
}
