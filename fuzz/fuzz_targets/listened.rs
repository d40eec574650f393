//! Any bytes: A second of sound of any format, listened to. A whole analysis, and slow.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    evidence::fuzzing::listened(data);
});
