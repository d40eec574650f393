//! Any bytes: The index of a film.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    evidence::fuzzing::film(data);
});
