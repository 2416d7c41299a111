//! `parts`: the parts list, and a sheet to cut each plate from.

use super::args::PartsArgs;
use super::files::{Staged, Target};
use super::load::load;
use super::outputs::failed;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::model::{At, GripId};
use crate::output::{cut_sheet, parts_csv, parts_text};
use crate::report::{PartsReport, parts_report};
use crate::scene::scenes;
use std::path::Path;

pub(super) fn run(args: &PartsArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    let mut report = parts_report(loaded.tool(), &loaded.source(), loaded.units);
    if !loaded.tool().slots.is_empty() && !report.parts.is_empty() {
        // How far riders go takes the motion; a list of parts does without where that cannot be.
        let rig = loaded.rig(Direction::Closing).ok();
        let seen = rig.and_then(|mut rig| scenes(&mut rig, &[At::Open], GripId::FIRST).ok());
        if let Some(seen) = seen {
            report.add_slots(loaded.tool(), &seen, loaded.units);
        }
    }
    let staged = match &args.output {
        None => Vec::new(),
        Some(folder) => staged(&report, folder, &loaded.inputs, args.force)?,
    };
    let written = staged.len();
    let mut printed = streams.answer(args.json, args.tool.quiet, &report, |width| {
        parts_text(&report, width)
    })?;
    for file in staged {
        file.commit().map_err(failed)?;
    }
    if let (Some(folder), false, false) = (&args.output, args.json, args.tool.quiet) {
        printed.push_str(&format!(
            "{written} files written to {}: full size, in mm; lines to cut in black, middles of holes in red\n",
            clean(folder)
        ));
    }
    streams.print(&printed)?;
    Ok(Exit::Done)
}

/// A path without what could drive a terminal.
fn clean(path: &Path) -> String {
    let text = path.display().to_string();
    text.chars().filter(|c| !c.is_control()).collect()
}

/// All files, on the disk beside their places.
fn staged(
    report: &PartsReport,
    folder: &Path,
    inputs: &[std::path::PathBuf],
    force: bool,
) -> Result<Vec<Staged>, Stop> {
    if report.blanks.is_empty() {
        return Err(Stop::input(
            "error: no part has an outline, so there is nothing to cut; give borders in [outlines.PART]",
        ));
    }
    let mut texts = Vec::new();
    for blank in &report.blanks {
        let text = cut_sheet(blank).map_err(Stop::bug)?;
        texts.push((format!("{}.svg", blank.part), text));
    }
    texts.push((
        "parts.csv".to_owned(),
        parts_csv(report).map_err(Stop::bug)?,
    ));
    std::fs::create_dir_all(folder).map_err(|error| {
        failed(format!(
            "{}: this folder cannot be made: {error}",
            folder.display()
        ))
    })?;
    let mut staged = Vec::new();
    for (name, text) in texts {
        let path = folder.join(name);
        super::files::keep(&path, force).map_err(failed)?;
        let target = Target::prepare(&path, inputs).map_err(failed)?;
        staged.push(target.stage(text).map_err(failed)?);
    }
    Ok(staged)
}
