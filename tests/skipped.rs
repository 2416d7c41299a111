//! Tests that cannot look here say so, on a line of their own that no test runner holds back: `.ci/run` counts them.

use std::io::Write;
use std::process::{Command, Stdio};

/// Says that the test that calls it cannot look, and why.
pub fn skipped(reason: &str) {
    let thread = std::thread::current();
    let name = thread.name().unwrap_or("a test");
    // Not `eprintln!`, which is kept from whom a test passes for.
    let _ = writeln!(std::io::stderr(), "SKIPPED {name}: {reason}");
}

/// A browser to open pages with: `JAWFORCE_BROWSER`, which must then work, or `chromium` of the path.
pub fn browser() -> Option<String> {
    let named = std::env::var("JAWFORCE_BROWSER")
        .ok()
        .filter(|name| !name.is_empty());
    let name = named.clone().unwrap_or("chromium".to_owned());
    let mut asked = Command::new(&name);
    asked
        .arg("--version")
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    if asked.status().is_ok_and(|status| status.success()) {
        return Some(name);
    }
    assert!(
        named.is_none(),
        "JAWFORCE_BROWSER names {name}, which does not start"
    );
    skipped("there is no chromium to open pages with; JAWFORCE_BROWSER may name a browser");
    None
}
