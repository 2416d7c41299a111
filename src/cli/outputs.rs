//! Where the results of a command go: one to standard output, others into files; all of them or none.

use super::files::{Staged, Target, shown};
use super::{Stop, Streams};
use std::fmt::Display;
use std::path::{Path, PathBuf};

/// The files that a command was asked for.
pub(super) struct Outputs {
    asked: Vec<(&'static str, Place)>,
}

enum Place {
    /// Not asked for.
    Nowhere,
    /// `-`: standard output.
    Printed,
    File(Target),
}

impl Outputs {
    /// Makes sure of every file before any work is done. `files`: options and what was typed;
    /// `json`: the command prints JSON; `inputs`: files that must not be written over.
    pub(super) fn prepare(
        files: &[(&'static str, &Option<PathBuf>)],
        json: bool,
        inputs: &[PathBuf],
    ) -> Result<Self, Stop> {
        let typed = |path: &Option<PathBuf>| path.as_deref() == Some(Path::new("-"));
        let mut printed: Vec<String> = json.then(|| "--json".to_owned()).into_iter().collect();
        printed
            .extend((files.iter().filter(|f| typed(f.1))).map(|(option, _)| format!("{option} -")));
        if let [first, second, ..] = printed.as_slice() {
            return Err(Stop::input(format!(
                "error: {first} and {second} both write to standard output; give one of them a file"
            )));
        }
        let mut asked: Vec<(&'static str, Place)> = Vec::new();
        for (option, path) in files {
            let place = match path {
                None => Place::Nowhere,
                Some(_) if typed(path) => Place::Printed,
                Some(path) => {
                    let target = Target::prepare(path, inputs).map_err(failed)?;
                    if path.extension().is_some_and(|end| end == "toml") && path.exists() {
                        return Err(failed(format!(
                            "{}: this is a tool file, and {option} would write over it; name another",
                            shown(path)
                        )));
                    }
                    let same = asked.iter().find(
                        |(_, other)| matches!(other, Place::File(file) if file.same_place(&target)),
                    );
                    if let Some((other, _)) = same {
                        return Err(Stop::input(format!(
                            "error: {other} and {option} name the same file"
                        )));
                    }
                    Place::File(target)
                }
            };
            asked.push((option, place));
        }
        Ok(Self { asked })
    }

    /// The text of an output, if it was asked for.
    pub(super) fn text<E: Display>(
        &self,
        option: &str,
        make: impl FnOnce() -> Result<String, E>,
    ) -> Result<Option<String>, Stop> {
        let mut asked = self.asked.iter();
        match asked.find(|(own, _)| *own == option) {
            None | Some((_, Place::Nowhere)) => Ok(None),
            Some(_) => make().map(Some).map_err(Stop::bug),
        }
    }

    /// Writes the texts, in the order of the options, and prints what is left to print. All bytes
    /// are on the disk before the first file appears under its name: a full disk leaves either
    /// every output or none.
    pub(super) fn finish(
        self,
        streams: &mut Streams,
        texts: impl IntoIterator<Item = Option<String>>,
        print: impl FnOnce(&Streams) -> Result<String, Stop>,
    ) -> Result<(), Stop> {
        let mut printed = None;
        let mut staged = Vec::new();
        for ((_, place), text) in self.asked.into_iter().zip(texts) {
            match (place, text) {
                (Place::Printed, text) => printed = text,
                (Place::File(target), Some(text)) => {
                    staged.push(target.stage(text).map_err(failed)?);
                }
                _ => {}
            }
        }
        let printed = match printed {
            Some(text) => text,
            None => print(streams)?,
        };
        streams.print(&printed)?;
        staged
            .into_iter()
            .try_for_each(Staged::commit)
            .map_err(failed)
    }
}

/// A file that cannot be written.
pub(super) fn failed(text: String) -> Stop {
    Stop::input(format!("error: {text}"))
}
