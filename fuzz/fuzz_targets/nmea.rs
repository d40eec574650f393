//! Any bytes: An NMEA log, measured.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    evidence::fuzzing::nmea_track(data);
});
