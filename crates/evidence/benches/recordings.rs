//! What a builder waits for: hearing a recording, reading a pulse capture.

#![allow(missing_docs)]

use divan::Bencher;
use divan::counter::BytesCount;
use evidence::outing::recording::{Settings, measure_sound, measure_track};
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

/// A minute of stereo at 48 kHz with one pass, from file to fly-by; promised in under 1 s.
#[divan::bench(sample_count = 3)]
fn fly_by_of_a_stereo_minute(bencher: Bencher) {
    let rate = 48_000;
    let boat = common::Boat {
        speed_m_s: 20.0,
        closest_m: 6.0,
        shaft_hz: 400.0,
        pass_s: 30.0,
    };
    let clean: Vec<f64> = (0..60 * rate)
        .map(|i| 0.3 * boat.heard(f64::from(i) / f64::from(rate)))
        .collect();
    let sound = common::in_noise(&clean, 6.0, &mut common::Noise::new(2));
    let wav = common::stereo_wav(&sound, rate as u32).into_inner();
    bencher.bench(|| {
        let file = Cursor::new(wav.clone());
        let (analysis, heard) = measure_sound("pass.wav", file, &Settings::default()).unwrap();
        assert!(heard.passes.iter().any(|p| p.pass.is_ok()));
        analysis.quantities.len()
    });
}

/// A day of fixes each second as GPX, from file to speeds, turns and distance; promised in under 1 s.
#[divan::bench(sample_count = 3)]
fn a_track_of_24_hours(bencher: Bencher) {
    let mut text = String::from("<gpx version=\"1.0\"><trk><trkseg>\n");
    for i in 0..86_400u32 {
        let a = f64::from(i) * 0.1;
        let (lat, lon) = (51.0 + 2e-4 * a.sin(), 3e-4 * a.cos());
        let (h, m, s) = (i / 3600, i / 60 % 60, i % 60);
        writeln!(text, "<trkpt lat=\"{lat:.7}\" lon=\"{lon:.7}\"><time>2026-05-17T{h:02}:{m:02}:{s:02}Z</time><speed>2.2</speed></trkpt>").unwrap();
    }
    text += "</trkseg></trk></gpx>";
    bencher.counter(BytesCount::of_str(&text)).bench(|| {
        let measured = measure_track("day.gpx", text.as_bytes(), &Settings::default());
        measured.unwrap().0.quantities.len()
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
