//! Any bytes: A table, as a log and as a track.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    evidence::fuzzing::table(data);
});
