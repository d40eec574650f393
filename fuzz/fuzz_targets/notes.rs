//! Any bytes: An outing's file and marks.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| evidence::fuzzing::notes(data));
