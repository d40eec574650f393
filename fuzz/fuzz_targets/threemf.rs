//! Any bytes as a 3MF file: unpacked, read, made into a form.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    form::fuzzing::threemf(data);
});
