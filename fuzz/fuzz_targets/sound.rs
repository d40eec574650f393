//! Any bytes: A sound of any format, decoded from its beginning.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    evidence::fuzzing::sound(data);
});
