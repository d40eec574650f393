//! What a builder waits for: hearing a recording, reading a pulse capture.

#![allow(missing_docs)]

use divan::Bencher;
use divan::counter::BytesCount;
use evidence::pulses::capture::{CaptureHints, read_table};
use evidence::sound::decode::{Channel, Sound};
use evidence::sound::listen::{Listen, listen};
use std::fmt::Write as _;
use std::io::Cursor;

#[path = "../tests/common/mod.rs"]
mod common;

fn main() {
    divan::main();
}

/// A minute of sound at 48 kHz.
#[divan::bench(sample_count = 3)]
fn listen_to_a_minute(bencher: Bencher) {
    let mut noise = common::Noise::new(1);
    let sound: Vec<f64> = (0..60 * 48_000)
        .map(|i| 0.1 * (f64::from(i) * 0.08).sin() + 0.05 * noise.normal())
        .collect();
    let wav = common::wav(&sound, 48_000).into_inner();
    bencher.bench(|| {
        let mut s = Sound::open(Cursor::new(wav.clone()), Some("wav"), Channel::Mean).unwrap();
        listen(&mut s, &Listen::default()).unwrap().tones.len()
    });
}

/// A table of samples of 50 MB; promised in under 2 s.
#[divan::bench(sample_count = 3)]
fn pulses_of_50_megabytes(bencher: Bencher) {
    let mut text = String::from("Time [s],Channel 0 [V]\n");
    let mut i = 0u32;
    while text.len() < 50_000_000 {
        let t = f64::from(i) * 1e-6;
        let v = if t % 0.02 < 0.0015 { 3.28 } else { 0.02 };
        writeln!(text, "{t:.6},{v:.3}").unwrap();
        i += 1;
    }
    bencher.counter(BytesCount::of_str(&text)).bench(|| {
        read_table(text.as_bytes(), &CaptureHints::default())
            .unwrap()
            .pulses
            .len()
    });
}
