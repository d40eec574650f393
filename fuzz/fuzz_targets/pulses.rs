//! Any bytes: A pulse capture, summed up.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    evidence::fuzzing::pulses(data);
});
