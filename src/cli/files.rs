//! Reading and writing files: nothing lost, nothing half-written.

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
    let name = path.display().to_string();
    let bytes = if name == "-" {
        let mut bytes = Vec::new();
        let input = std::io::stdin();
        input
            .lock()
            .take(LARGEST + 1)
            .read_to_end(&mut bytes)
            .map_err(|e| format!("standard input: {e}"))?;
        bytes
    } else {
        let about = std::fs::metadata(path).map_err(|e| format!("{name}: {}", reason(&e)))?;
        if about.is_dir() {
            return Err(format!("{name}: this is a folder; name a tool file in it"));
        }
        let file = std::fs::File::open(path).map_err(|e| format!("{name}: {}", reason(&e)))?;
        let mut bytes = Vec::new();
        file.take(LARGEST + 1)
            .read_to_end(&mut bytes)
            .map_err(|e| format!("{name}: {}", reason(&e)))?;
        bytes
    };
    if bytes.len() as u64 > LARGEST {
        return Err(format!("{name}: larger than 1 MB; this is no tool file"));
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

/// Reads a file that a tool file names, relative to that file's folder.
///
/// # Errors
/// Why it cannot be read.
pub(super) fn read_beside(folder: &Path, name: &str) -> Result<String, String> {
    read(&folder.join(name)).map(|t| t.text)
}

/// A file that will be written at the end, made sure of at the start so that a bad path fails
/// before any work.
#[derive(Debug)]
pub(super) struct Target {
    path: PathBuf,
    temporary: tempfile::NamedTempFile,
}

impl Target {
    /// Prepares to write `path`.
    ///
    /// # Errors
    /// When it is one of the `inputs`, a folder, or its folder cannot be written.
    pub(super) fn prepare(path: &Path, inputs: &[PathBuf]) -> Result<Self, String> {
        let name = path.display();
        let real = |p: &Path| std::fs::canonicalize(p).ok();
        if inputs
            .iter()
            .any(|input| input == path || (real(input).is_some() && real(input) == real(path)))
        {
            return Err(format!(
                "{name}: this is the tool file itself; name another output file"
            ));
        }
        if path.is_dir() {
            return Err(format!("{name}: this is a folder; name a file in it"));
        }
        let folder = match path.parent() {
            Some(parent) if parent != Path::new("") => parent,
            _ => Path::new("."),
        };
        if path.exists() && std::fs::metadata(path).is_ok_and(|m| m.permissions().readonly()) {
            return Err(format!("{name}: cannot be written: the file is read-only"));
        }
        let temporary = tempfile::Builder::new()
            .prefix(".jawforce-")
            .tempfile_in(folder)
            .map_err(|e| format!("{name}: cannot be written: {}", reason(&e)))?;
        Ok(Self {
            path: path.to_path_buf(),
            temporary,
        })
    }

    /// Writes the whole file beside its place, then renames it into place.
    ///
    /// # Errors
    /// Why it cannot be written; an existing file is then as it was.
    pub(super) fn write(mut self, text: &str) -> Result<(), String> {
        let name = self.path.display().to_string();
        let fail = |e: &std::io::Error| format!("{name}: cannot be written: {}", reason(e));
        self.temporary
            .write_all(text.as_bytes())
            .map_err(|e| fail(&e))?;
        self.temporary.as_file().sync_all().map_err(|e| fail(&e))?;
        keep_mode(&self.temporary, &self.path).map_err(|e| fail(&e))?;
        self.temporary
            .persist(&self.path)
            .map_err(|e| fail(&e.error))?;
        Ok(())
    }
}

/// A temporary file is private; the result gets the rights of the file it replaces, or those of
/// any new file.
#[cfg(unix)]
fn keep_mode(file: &tempfile::NamedTempFile, path: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    let mode = std::fs::metadata(path).map_or(0o644, |m| m.permissions().mode());
    file.as_file()
        .set_permissions(std::fs::Permissions::from_mode(mode))
}

#[cfg(not(unix))]
fn keep_mode(_: &tempfile::NamedTempFile, _: &Path) -> std::io::Result<()> {
    Ok(())
}

/// An operating-system error in plain words.
fn reason(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "no such file or folder".to_owned(),
        std::io::ErrorKind::PermissionDenied => "permission denied".to_owned(),
        _ => error.to_string(),
    }
}
