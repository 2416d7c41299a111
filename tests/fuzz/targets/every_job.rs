//! Bytes as changes of good tool files, and every job of the program on what comes out: single
//! bytes changed at random rarely get past the reader, numbers and lines changed often do.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let text = jawforce_fuzz::spoilt(bytes);
    if std::env::var_os("SHOW").is_some() {
        eprintln!("{text}");
    }
    if let Some(tool) = jawforce_fuzz::read(&text) {
        jawforce_fuzz::every_job(&tool, bytes.first().is_some_and(|b| b % 16 == 0));
    }
});
