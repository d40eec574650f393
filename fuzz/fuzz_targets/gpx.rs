//! Any bytes: A GPX file, measured.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    evidence::fuzzing::gpx_track(data);
});
