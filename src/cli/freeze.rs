//! `freeze`: what the sketch gave, written down as numbers; a new tool file with them.

use super::args::{FreezeArgs, ToolArgs};
use super::files::{self, Target, keep};
use super::load::load;
use super::outputs::failed;
use super::{Exit, Stop, Streams};
use crate::input::{freeze, read_tool};
use crate::units::Quantity;

pub(super) fn run(args: &FreezeArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let as_written = ToolArgs {
        quiet: args.quiet,
        ..ToolArgs::default()
    };
    let loaded = load(&args.file, &as_written)?;
    // In this order, since --force does not help against writing over the tool file itself.
    let target = Target::prepare(&args.output, &loaded.inputs).map_err(failed)?;
    keep(&args.output, args.force).map_err(failed)?;
    let frozen = freeze(&loaded.text.text, loaded.tool(), args.exact)
        .map_err(|why| failed(format!("{}: nothing to freeze: {why}", loaded.text.name)))?;
    // The new file must be a good one, or it is not written.
    let beside = |name: &str| files::read_curve(&loaded.text.folder.join(name)).map(|t| t.text);
    read_tool(&frozen.text, &beside).map_err(|problems| {
        let first = problems
            .iter()
            .next()
            .map_or(String::new(), |p| format!(": {}", p.message));
        failed(format!(
            "the new file would not be a good tool file{first}; try --exact"
        ))
    })?;
    let staged = target.stage(frozen.text).map_err(failed)?;
    staged.commit().map_err(failed)?;
    if !args.quiet {
        let units = loaded.tool().units;
        let to = match args.exact {
            true => "with all digits".to_owned(),
            false => {
                let step = units.caliper_step();
                format!(
                    "to {} {}",
                    units.show(step, Quantity::Length),
                    units.symbol(Quantity::Length)
                )
            }
        };
        let name = args.output.display();
        streams.tell(&format!(
            "wrote {name}: {} and {} in place of what the sketch gave, {to}",
            counted(frozen.places, "place"),
            counted(frozen.lengths, "length"),
        ));
    }
    Ok(Exit::Done)
}

fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}
