//! Any bytes as a boat file: read, drawn with its problems, edited.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    boat::fuzzing::fuzz_boat_file(data);
});
