//! Bytes as changes of good tool files with outlines, gears, cams, slots, stops and springs of wire, and all that looks
//! at plates and contacts on what comes out.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let text = jawforce_fuzz::spoilt_shapes(bytes);
    if std::env::var_os("SHOW").is_some() {
        eprintln!("{text}");
    }
    if let Some(tool) = jawforce_fuzz::read(&text) {
        jawforce_fuzz::shapes(&tool);
    }
});
