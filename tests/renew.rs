//! Rewriting what the repository shows of the program's output: only on purpose, `UPDATE=1`.

use std::io::Write;
use std::path::Path;

/// Whether to rewrite instead of comparing.
pub fn wanted() -> bool {
    std::env::var("UPDATE").is_ok_and(|v| v == "1")
}

/// Replaces a file in one go: other tests read it at the same time.
pub fn write(path: &Path, text: &str) {
    let mut file = tempfile::NamedTempFile::new_in(path.parent().unwrap()).unwrap();
    file.write_all(text.as_bytes()).unwrap();
    if let Ok(about) = std::fs::metadata(path) {
        file.as_file().set_permissions(about.permissions()).unwrap();
    }
    file.persist(path).unwrap();
}
