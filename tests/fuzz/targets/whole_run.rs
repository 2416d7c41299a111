//! Any bytes as a tool file, and as `stroke` goes on with it: solved, reported, in every format.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    if let Ok(text) = std::str::from_utf8(bytes)
        && let Some(tool) = jawforce_fuzz::read(text)
    {
        jawforce_fuzz::stroke(&tool);
    }
});
