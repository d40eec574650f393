//! Any bytes: An outing's file, marks, and what analyses made of it.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    evidence::fuzzing::outing(data);
    evidence::fuzzing::marks(data);
    evidence::fuzzing::measured(data);
});
