//! Entry points for fuzzing: every reader on any bytes. Each must return, whatever it is given.

use crate::columns::propose;
use crate::logs::doubts::{KnownDrive, doubts};
use crate::pulses::capture::{CaptureHints, read_table};
use crate::pulses::report::report;
use crate::sound::decode::{Channel, Sound};
use crate::sound::listen::{Listen, listen};
use crate::table::Table;
use crate::track::clean::{Limits, clean};
use crate::track::path::Path;
use crate::track::speeds::Speeds;
use crate::track::{Track, from_table, gpx, nmea};
use std::io::Cursor;

/// A sound of any format, listened to.
pub fn sound(bytes: &[u8]) {
    if let Ok(mut s) = Sound::open(Cursor::new(bytes.to_vec()), None, Channel::Mean) {
        let how = Listen {
            to_s: 5.0,
            ..Listen::default()
        };
        let _ = listen(&mut s, &how);
    }
}

/// The index of a film.
pub fn film(bytes: &[u8]) {
    let _ = crate::video::mp4::track_times(&mut Cursor::new(bytes));
}

/// A GPX file, measured.
pub fn gpx_track(bytes: &[u8]) {
    if let Ok(t) = gpx::read(bytes) {
        measure(&t);
    }
}

/// An NMEA log, measured.
pub fn nmea_track(bytes: &[u8]) {
    if let Ok(t) = nmea::read(bytes) {
        measure(&t);
    }
}

/// A table, as a log and as a track.
pub fn table(bytes: &[u8]) {
    if let Ok(t) = Table::read(bytes) {
        let mapping = propose(&t);
        let _ = doubts(&t, &mapping, &KnownDrive::default());
        if let Ok(track) = from_table(&t, &mapping) {
            measure(&track);
        }
    }
}

/// A pulse capture, summed up.
pub fn pulses(bytes: &[u8]) {
    if let Ok(c) = read_table(bytes, &CaptureHints::default()) {
        let _ = report(&c);
    }
}

/// The builder's notes: an outing's file, marks in TOML and JSON.
pub fn notes(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let _ = crate::outing::OutingFile::read(&text, "outing.toml");
    if let Ok(given) = crate::outing::marks::read(&text, "marks") {
        let frames: Vec<f64> = (0..200).map(|i| f64::from(i) / 30.0).collect();
        let _ = crate::outing::marks::marks("marks", &given, Some(&frames));
    }
}

/// Any recording by its name, told apart and measured as an outing does it.
pub fn recording(name: &str, bytes: &[u8]) {
    use crate::outing::recording::{Settings, kind_of, measure};
    let mut file = Cursor::new(bytes.to_vec());
    if let Ok(kind) = kind_of(name, &mut file) {
        let _ = measure(name, kind, file, &Settings::default());
    }
}

fn measure(track: &Track) {
    if let Ok(cleaned) = clean(track, &Limits::default()) {
        let path = Path::of(&cleaned.spots);
        let speeds = Speeds::of(&cleaned, &path);
        let _ = (speeds.best_held(1.0), speeds.two_way(&path, 1.0));
        let _ = (path.distance_m(0.0, 1e9), crate::track::turns::turns(&path));
    }
}
