//! Any bytes as an STL file: read, repaired, made into a form.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    form::fuzzing::stl(data);
});
