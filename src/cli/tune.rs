//! `tune`: which dimensions to choose; a new tool file with them.

use super::args::TuneArgs;
use super::files::{Target, keep};
use super::load::load;
use super::outputs::failed;
use super::progress::Progress;
use super::stroke::judged_stroke;
use super::verdict::ending;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::input::{Written, read_tool, rewrite, states};
use crate::model::dimension::{self, DimensionSlot};
use crate::model::{Adjuster, Stated, Tie, Tool};
use crate::output::tune_text;
use crate::report::tune_report;
use crate::tune::TuneError;
use crate::tuning::usually_judged;
use crate::units::Quantity;

pub(super) fn run(args: &TuneArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    // In this order, since --force does not help against writing over the tool file itself.
    let target = Target::prepare(&args.output, &loaded.inputs).map_err(failed)?;
    keep(&args.output, args.force).map_err(failed)?;
    let points = usually_judged(loaded.tool().tunes.len());
    let progress = Progress::new(points, "points", args.tool.quiet);
    let tuned = loaded.analysis.tune(&|| progress.step()).map_err(|e| match e {
        TuneError::Nothing(what) => failed(format!(
            "{}: there is nothing to tune: the file has no {what}; state the ranges in [[tune]] (`dimension`, \
             `from`, `to`) and the goal in [aim] (`measure`, `at`, `want`)",
            loaded.text.name
        )),
        TuneError::Aim(e) => failed(format!("{}: [aim]: {e}", loaded.text.name)),
        TuneError::NoStep(step) => failed(format!(
            "{}: within the ranges of [[tune]] there is nothing that calipers can read, in steps of {} {}, \
             and that can be solved; make them wider",
            loaded.text.name,
            loaded.tool().units.show(step, Quantity::Length),
            loaded.tool().units.symbol(Quantity::Length)
        )),
        TuneError::TooMuch => failed(format!(
            "{}: the search would take minutes; tune fewer dimensions at a time, or ask for fewer demands or \
             grips",
            loaded.text.name
        )),
        TuneError::NoPoint => Stop::cannot(format!(
                "error: {}: no point of the ranges in [[tune]] can be solved; move them",
                loaded.text.name
            )),
    })?;
    drop(progress);
    let found: Vec<(DimensionSlot, &str, f64)> = (tuned.dimensions.iter())
        .filter_map(|(a, _, after)| Some((dimension::find(loaded.tool(), a)?, a.as_str(), *after)))
        .collect();
    let mut new = loaded.tool().clone();
    new.set_numbers(found.iter().map(|(slot, _, after)| (*slot, *after)));
    let set: Vec<Written> = (found.iter())
        .map(|(slot, address, after)| ((*address).to_owned(), *after, slot.quantity()))
        .chain(turned(&new, &found))
        .chain(tied(&new, &loaded.text.text))
        .collect();
    let text = rewrite(&loaded.text.text, loaded.tool().units, &set).map_err(failed)?;
    // The new file must say what was found, or it is not written.
    let beside =
        |name: &str| super::files::read_curve(&loaded.text.folder.join(name)).map(|t| t.text);
    let again = read_tool(&text, &beside)
        .map_err(|_| failed("the new file would not be a good tool file".to_owned()))?;
    for (address, found, _) in &set {
        let near = 1e-5 * found.abs().max(1.0);
        if dimension::get(&again.tool, address).is_none_or(|v| (v - found).abs() > near) {
            return Err(failed(format!(
                "`{address}` would not be what was found in the new file"
            )));
        }
    }
    let mut report = tune_report(loaded.tool(), &tuned, loaded.units);
    let stroke = judged_stroke(&loaded.with_tool(new), Direction::Closing)?;
    let drawn = ending(&stroke);
    report.verdict = stroke.verdict;
    let printed = streams.answer(args.json, args.tool.quiet, &report, |width| {
        tune_text(&report, width)
    })?;
    let staged = target.stage(text).map_err(failed)?;
    streams.print(&printed)?;
    staged.commit().map_err(failed)?;
    if !args.tool.quiet {
        let name = args.output.display();
        streams.tell(&match tuned.met {
            true => format!("wrote {name}; now: jawforce stroke {name}"),
            false => format!("wrote {name}, which does not meet every demand"),
        });
    }
    Ok(match tuned.met {
        true => drawn,
        false => drawn.max(Exit::NotMet),
    })
}

/// The numbers that adjusters among those that were found have moved.
fn turned(new: &Tool, found: &[(DimensionSlot, &str, f64)]) -> Vec<Written> {
    let adjusters = found.iter().filter_map(|(slot, ..)| match slot {
        DimensionSlot::Stated(Stated::Setting { adjuster, .. }) => new.adjusters.get(*adjuster),
        _ => None,
    });
    let moved = adjusters.flat_map(Adjuster::moved);
    let all = dimension::all_addresses(new);
    let address = |slot| all.iter().find(|(_, known)| *known == slot);
    let written = |slot: DimensionSlot| {
        let (address, _) = address(slot)?;
        Some((address.clone(), slot.get(new)?, slot.quantity()))
    };
    moved.filter_map(written).collect()
}

/// What follows the numbers that were found, as far as it stands in the file as a number too.
fn tied(new: &Tool, text: &str) -> Vec<Written> {
    let stated = new.ties.iter().filter(|tie| states(text, &tie.address));
    let value = |tie: &Tie| Some((tie.address.clone(), tie.slot.get(new)?, tie.slot.quantity()));
    stated.filter_map(value).collect()
}
