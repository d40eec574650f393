//! Any bytes as an OBJ file: read, repaired, made into a form.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    form::fuzzing::obj(data);
});
