//! Any bytes: A sound of any format, listened to.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| evidence::fuzzing::sound(data));
