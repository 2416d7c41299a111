//! Reading and writing files: nothing lost, nothing half-written.

use super::pending::{self, LEFT};
use crate::input::MOST_ROWS;
use sha2::{Digest, Sha256};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

/// Largest tool file that is read: a megabyte is some twenty thousand lines.
const LARGEST: u64 = 1 << 20;

/// A tool file as read.
#[derive(Debug, Clone)]
pub(super) struct Text {
    /// As it was named.
    pub name: String,
    /// Its bytes as text.
    pub text: String,
    /// Its folder, for files that it names.
    pub folder: PathBuf,
    /// SHA-256 of the bytes, hexadecimal.
    pub sha256: String,
}

/// Reads a tool file; `-` is standard input.
///
/// # Errors
/// What is wrong and what to do, ready to print.
pub(super) fn read(path: &Path) -> Result<Text, String> {
    read_up_to(LARGEST, "a tool file is some kilobytes of text", path)
}

/// The same for a file with a curve, which may have more rows than anyone types.
///
/// # Errors
/// What is wrong and what to do, ready to print.
pub(super) fn read_curve(path: &Path) -> Result<Text, String> {
    let usual = format!("a curve has at most {MOST_ROWS} rows: leave out what says nothing new");
    read_up_to(8 * LARGEST, &usual, path)
}

/// The bytes of a picture, one more than it may have at most.
///
/// # Errors
/// Why they cannot be read, ready to print.
pub(super) fn read_picture(path: &Path) -> Result<Vec<u8>, String> {
    let name = shown(path);
    let fails = |e: std::io::Error| format!("{name}: {}", reason(&e));
    let about = std::fs::metadata(path).map_err(fails)?;
    if about.is_dir() {
        return Err(format!("{name}: this is a folder; name a picture in it"));
    }
    if !about.is_file() {
        // Opening a pipe waits for a writer.
        return Err(format!(
            "{name}: this is no plain file; save the picture, and name its file"
        ));
    }
    let mut bytes = Vec::new();
    let file = std::fs::File::open(path).map_err(fails)?;
    file.take(crate::output::LARGEST_PICTURE as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(fails)?;
    Ok(bytes)
}

fn read_up_to(largest: u64, usual: &str, path: &Path) -> Result<Text, String> {
    let stdin = path == Path::new("-");
    let name = if stdin {
        "standard input".to_owned()
    } else {
        shown(path)
    };
    let bytes = if stdin {
        let mut bytes = Vec::new();
        let input = std::io::stdin();
        input
            .lock()
            .take(largest + 1)
            .read_to_end(&mut bytes)
            .map_err(|e| format!("standard input: {}", reason(&e)))?;
        bytes
    } else {
        let about = std::fs::metadata(path).map_err(|e| format!("{name}: {}", reason(&e)))?;
        if about.is_dir() {
            return Err(format!("{name}: this is a folder; name a tool file in it"));
        }
        let file = std::fs::File::open(path).map_err(|e| format!("{name}: {}", reason(&e)))?;
        let mut bytes = Vec::new();
        file.take(largest + 1)
            .read_to_end(&mut bytes)
            .map_err(|e| format!("{name}: {}", reason(&e)))?;
        bytes
    };
    if bytes.len() as u64 > largest {
        return Err(format!("{name}: larger than {} MB; {usual}", largest >> 20));
    }
    let sha256 = Sha256::digest(&bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect();
    let text = String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        let line = e
            .as_bytes()
            .get(..at)
            .map_or(1, |b| b.iter().filter(|&&c| c == b'\n').count() + 1);
        format!("{name}:{line}: the text is not UTF-8; save the file as UTF-8 text")
    })?;
    // A byte-order mark is no part of the text.
    let text = text
        .strip_prefix('\u{feff}')
        .map(str::to_owned)
        .unwrap_or(text);
    let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
    Ok(Text {
        name,
        text,
        folder,
        sha256,
    })
}

/// A path as messages and results show it: nothing in it drives a terminal.
pub(super) fn shown(path: &Path) -> String {
    let plain = |c: char| if c.is_control() { ' ' } else { c };
    path.display().to_string().chars().map(plain).collect()
}

/// A file that will be written at the end, made sure of at the start so that a bad path fails
/// before any work.
#[derive(Debug)]
pub(super) struct Target {
    /// As it was named.
    name: String,
    /// Where the bytes go: what a symbolic link points at, not the link.
    path: PathBuf,
    /// Not a plain file (a pipe, a terminal, `/dev/null`): written straight into.
    direct: bool,
}

/// Refuses to write over a file that is there, unless that is asked for by `force`.
///
/// # Errors
/// What is there, and what to do.
pub(super) fn keep(path: &Path, force: bool) -> Result<(), String> {
    if force || !path.exists() || path.is_dir() {
        return Ok(());
    }
    Err(format!(
        "{}: there is a file of that name already; name another, or say --force",
        shown(path)
    ))
}

/// An output whose bytes are all on the disk, beside their place.
#[derive(Debug)]
pub(super) struct Staged {
    target: Target,
    temporary: Option<tempfile::NamedTempFile>,
    text: String,
}

impl Target {
    /// Prepares to write `path`.
    ///
    /// # Errors
    /// When it is one of the `inputs`, a folder, or its folder cannot be written.
    pub(super) fn prepare(path: &Path, inputs: &[PathBuf]) -> Result<Self, String> {
        let name = shown(path);
        if is_standard_input(path) && inputs.iter().any(|input| input == Path::new("-")) {
            return Err(format!(
                "{name}: this is what standard input reads; name another output file"
            ));
        }
        if let Some(input) = inputs.iter().find(|input| same(input, path)) {
            return Err(format!(
                "{name}: this is `{}`, which is read; name another output file",
                shown(input)
            ));
        }
        if path == Path::new("-") {
            return Err("-: this result is not printed; name a file".to_owned());
        }
        if path.is_dir() {
            return Err(format!("{name}: this is a folder; name a file in it"));
        }
        if path.file_name().is_none() {
            return Err(format!("{name}: this is no name for a file"));
        }
        if matches!(folder(path).try_exists(), Ok(false)) {
            return Err(format!(
                "{name}: there is no folder `{}`; make it first, or name another",
                shown(folder(path))
            ));
        }
        let real = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
        let about = std::fs::metadata(&real).ok();
        let target = Self {
            name,
            path: real,
            direct: about.as_ref().is_some_and(|about| !about.is_file()),
        };
        if let Err(e) = std::fs::symlink_metadata(path)
            && e.kind() != std::io::ErrorKind::NotFound
        {
            return Err(target.fails(&reason(&e)));
        }
        if about.is_some_and(|about| about.permissions().readonly()) {
            return Err(target.fails("the file is read-only"));
        }
        if !target.direct {
            // Tried now, and taken away again: nothing is left behind if the run is stopped.
            let tried = target.temporary()?;
            let place = tried.path().to_path_buf();
            drop(tried);
            pending::settled(&place);
            clear_away(folder(&target.path));
        }
        Ok(target)
    }

    /// Whether both are written to the same place.
    pub(super) fn same_place(&self, other: &Self) -> bool {
        !self.direct && same(&self.path, &other.path)
    }

    /// Puts all bytes on the disk beside the place where they belong.
    ///
    /// # Errors
    /// Why they cannot be written; an existing file is then as it was.
    pub(super) fn stage(self, text: String) -> Result<Staged, String> {
        let temporary = if self.direct {
            None
        } else {
            let mut file = self.temporary()?;
            file.write_all(text.as_bytes())
                .and_then(|()| file.as_file().sync_all())
                .and_then(|()| keep_mode(&file, &self.path))
                .map_err(|e| self.fails(&reason(&e)))?;
            Some(file)
        };
        Ok(Staged {
            target: self,
            temporary,
            text,
        })
    }

    /// Stages and puts in place.
    ///
    /// # Errors
    /// As [`Self::stage`].
    pub(super) fn write(self, text: String) -> Result<(), String> {
        self.stage(text)?.commit()
    }

    fn temporary(&self) -> Result<tempfile::NamedTempFile, String> {
        pending::new_in(folder(&self.path)).map_err(|e| self.fails(&reason(&e)))
    }

    fn fails(&self, why: &str) -> String {
        format!("{}: cannot be written: {why}", self.name)
    }
}

impl Staged {
    /// Renames the file into its place, which is one step: a reader sees the old one or the new.
    ///
    /// # Errors
    /// Why that cannot be done; an existing file is then as it was.
    pub(super) fn commit(self) -> Result<(), String> {
        let target = self.target;
        match self.temporary {
            Some(file) => {
                let place = file.path().to_path_buf();
                let moved = file.persist(&target.path).map(drop);
                let moved = moved.map_err(|e| target.fails(&reason(&e.error)));
                pending::settled(&place);
                moved
            }
            None => std::fs::OpenOptions::new()
                .write(true)
                .open(&target.path)
                .and_then(|mut file| file.write_all(self.text.as_bytes()))
                .or_else(|e| match e.kind() {
                    std::io::ErrorKind::BrokenPipe => Ok(()), // its reader has seen enough
                    _ => Err(target.fails(&reason(&e))),
                }),
        }
    }
}

/// The folder of a path.
fn folder(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if parent != Path::new("") => parent,
        _ => Path::new("."),
    }
}

/// Whether two paths are the same file, or would be if they were there.
fn same(a: &Path, b: &Path) -> bool {
    let real = |path: &Path| {
        std::fs::canonicalize(path).ok().or_else(|| {
            let folder = std::fs::canonicalize(folder(path)).ok()?;
            Some(folder.join(path.file_name()?))
        })
    };
    a == b || real(a).is_some_and(|a| Some(a) == real(b))
}

/// What is older than this was left by a run that was killed.
const OLD: std::time::Duration = std::time::Duration::from_secs(3600);

/// Takes away what killed runs have left in a folder.
fn clear_away(folder: &Path) {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in entries {
        let ours = entry
            .file_name()
            .to_str()
            .is_some_and(|name| name.starts_with(LEFT));
        let age = || entry.metadata().ok()?.modified().ok()?.elapsed().ok();
        let plain = || entry.file_type().is_ok_and(|kind| kind.is_file());
        if ours && plain() && age().is_some_and(|age| age > OLD) {
            // Where that cannot be done it stays: it is in nobody's way.
            let _ = std::fs::remove_file(entry.path());
        }
    }
}

/// The result has the rights of the file it replaces (without the special bits), or those of any new file.
#[cfg(unix)]
fn keep_mode(file: &tempfile::NamedTempFile, path: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    match std::fs::metadata(path) {
        Ok(about) => {
            let mode = about.permissions().mode() & 0o777;
            let rights = std::fs::Permissions::from_mode(mode);
            file.as_file().set_permissions(rights)
        }
        Err(_) => Ok(()),
    }
}

/// Whether standard input reads this file.
#[cfg(unix)]
fn is_standard_input(path: &Path) -> bool {
    use std::os::fd::AsFd;
    use std::os::unix::fs::MetadataExt;
    let owned = std::io::stdin().as_fd().try_clone_to_owned();
    let about = owned.and_then(|fd| std::fs::File::from(fd).metadata());
    let (Ok(input), Ok(output)) = (about, std::fs::metadata(path)) else {
        return false;
    };
    output.is_file() && (input.dev(), input.ino()) == (output.dev(), output.ino())
}

#[cfg(not(unix))]
fn is_standard_input(_: &Path) -> bool {
    false
}

#[cfg(not(unix))]
fn keep_mode(_: &tempfile::NamedTempFile, _: &Path) -> std::io::Result<()> {
    Ok(())
}

/// An operating-system error in plain words.
pub(super) fn reason(error: &std::io::Error) -> String {
    use std::io::ErrorKind;
    match error.kind() {
        ErrorKind::NotFound => "no such file or folder",
        ErrorKind::PermissionDenied => "permission denied",
        ErrorKind::NotADirectory => "a part of the path is a file, not a folder",
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only",
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "the disk quota is used up",
        ErrorKind::InvalidFilename => "the file name is too long",
        _ => return error.to_string(),
    }
    .to_owned()
}
