//! Recordings made outside the project, through real codecs, against the truth they were made with.

#![allow(missing_docs)]

use evidence::Measured;
use evidence::sound::decode::{Channel, Sound};
use evidence::sound::listen::{Heard, Listen, listen};
use evidence::sound::shaft::Drive;
use evidence::video::mp4::{TrackKind, track_times};
use std::io::Cursor;

fn bytes(name: &str) -> Cursor<Vec<u8>> {
    let path = format!(
        "{}/../../checks/recordings/{name}",
        env!("CARGO_MANIFEST_DIR")
    );
    Cursor::new(std::fs::read(path).unwrap())
}

fn hear(name: &str) -> Heard {
    let extension = name.rsplit('.').next();
    let mut sound = Sound::open(bytes(name), extension, Channel::Mean).unwrap();
    let how = Listen {
        drive: Drive {
            blades: Some(2),
            ..Drive::default()
        },
        sound_speed_m_s: Measured::new(343.0, 0.0),
        ..Listen::default()
    };
    listen(&mut sound, &how).unwrap()
}

#[test]
fn every_recording_gives_back_its_truth() {
    let table = include_str!("../../../checks/evidence_recordings.csv");
    let rows = table.lines().filter(|l| !l.starts_with('#')).skip(1);
    for row in rows {
        let cells: Vec<&str> = row.split(',').collect();
        let number = |i: usize| -> f64 { cells[i].parse().unwrap() };
        let (name, speed, closest, at, rpm) =
            (cells[0], number(1), number(2), number(3), number(4));
        let heard = hear(name);
        if rpm == 0.0 {
            assert!(heard.tones.is_empty(), "{name} {:?}", heard.tones);
        } else if speed == 0.0 {
            let course = heard.rotations[0].rpm();
            assert!(
                course
                    .iter()
                    .all(|(_, r)| (r.value / rpm - 1.0).abs() < 0.003),
                "{name}"
            );
            assert!(heard.passes.is_empty());
        } else {
            let of = &heard.passes[0];
            let pass = of.pass.as_ref().unwrap_or_else(|e| panic!("{name}: {e}"));
            let off = pass.speed_m_s.value / speed - 1.0;
            assert!(off.abs() < 0.02, "{name} {pass:?}");
            assert!(
                (of.rpm.unwrap().value / rpm - 1.0).abs() < 0.003,
                "{name} {of:?}"
            );
            // A tenth: the time of passing and the distance hang together.
            assert!(
                (pass.closest_m.unwrap().value / closest - 1.0).abs() < 0.1,
                "{name} {pass:?}"
            );
            assert!((pass.time_s.value - at).abs() < 0.04, "{name} {pass:?}");
        }
    }
}

#[test]
fn a_film_tells_its_priming_and_its_uneven_frames() {
    let tracks = track_times(&mut bytes("pass.mp4")).unwrap();
    let sound = tracks.iter().find(|t| t.kind == TrackKind::Audio).unwrap();
    // One AAC frame at 24 kHz.
    assert!((sound.cut_s - 1024.0 / 24_000.0).abs() < 1e-9);
    let heard = Sound::open(bytes("pass.mp4"), None, Channel::Mean).unwrap();
    assert!((heard.info().start_s + sound.cut_s).abs() < 1e-12 && !heard.info().delay_assumed);
    let frames = &tracks
        .iter()
        .find(|t| t.kind == TrackKind::Video)
        .unwrap()
        .shown_s;
    // 90 at 30 a second, 60 at 20: frame 149 at 3 + 59/20 s, to the film's tick of 1/30 s.
    assert_eq!(frames.len(), 150);
    assert!((frames[60] - 2.0).abs() < 1e-9);
    assert!((frames[149] - 5.95).abs() < 1.0 / 30.0);
}
