//! Any bytes as a tool file: a tool, or problems that can be shown at their places.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    if let Ok(text) = std::str::from_utf8(bytes) {
        let _ = jawforce_fuzz::read(text);
    }
});
