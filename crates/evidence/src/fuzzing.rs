//! Entry points for fuzzing: every reader on any bytes. Each must return, whatever it is given,
//! and says whether it could be read.

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

/// Samples of a sound that are decoded.
const SAMPLES: usize = 1 << 15;

/// A sound of any format, decoded from its beginning.
pub fn sound(bytes: &[u8]) -> bool {
    let Ok(mut sound) = Sound::open(Cursor::new(bytes.to_vec()), None, Channel::Mean) else {
        return false;
    };
    let mut samples = 0;
    while samples < SAMPLES {
        match sound.next_block() {
            Ok([]) => return true,
            Ok(block) => samples += block.len(),
            Err(_) => return false,
        }
    }
    true
}

/// The first second of a sound of any format, listened to: a whole analysis, and so a thousand times slower.
pub fn listened(bytes: &[u8]) -> bool {
    let Ok(mut sound) = Sound::open(Cursor::new(bytes.to_vec()), None, Channel::Mean) else {
        return false;
    };
    let how = Listen {
        to_s: 1.0,
        ..Listen::default()
    };
    listen(&mut sound, &how).is_ok()
}

/// The index of a film.
pub fn film(bytes: &[u8]) -> bool {
    crate::video::mp4::track_times(&mut Cursor::new(bytes)).is_ok()
}

/// A GPX file, measured.
pub fn gpx_track(bytes: &[u8]) -> bool {
    gpx::read(bytes).is_ok_and(|track| measure(&track))
}

/// An NMEA log, measured.
pub fn nmea_track(bytes: &[u8]) -> bool {
    nmea::read(bytes).is_ok_and(|track| measure(&track))
}

/// A table, as a log and as a track.
pub fn table(bytes: &[u8]) -> bool {
    let Ok(table) = Table::read(bytes) else {
        return false;
    };
    let mapping = propose(&table);
    let _ = doubts(&table, &mapping, &KnownDrive::default());
    if let Ok(track) = from_table(&table, &mapping) {
        measure(&track);
    }
    true
}

/// A pulse capture, summed up.
pub fn pulses(bytes: &[u8]) -> bool {
    let capture = read_table(bytes, &CaptureHints::default());
    capture.map(|capture| report(&capture)).is_ok()
}

/// An outing's file.
pub fn outing(bytes: &[u8]) -> bool {
    let text = String::from_utf8_lossy(bytes);
    crate::outing::OutingFile::read(&text, "outing.toml").is_ok()
}

/// Marks on the frames of a film, in TOML or JSON.
pub fn marks(bytes: &[u8]) -> bool {
    let text = String::from_utf8_lossy(bytes);
    let Ok(given) = crate::outing::marks::read(&text, "marks") else {
        return false;
    };
    let frames: Vec<f64> = (0..200).map(|i| f64::from(i) / 30.0).collect();
    crate::outing::marks::marks("marks", &given, Some(&frames)).is_ok()
}

/// What analyses made of an outing.
pub fn measured(bytes: &[u8]) -> bool {
    let text = String::from_utf8_lossy(bytes);
    crate::outing::given::from_json::<crate::outing::Outing>(&text, "measured.json").is_ok()
}

/// Any recording by its name, told apart and measured as an outing does it.
pub fn recording(name: &str, bytes: &[u8]) -> bool {
    use crate::outing::recording::{Settings, kind_of, measure};
    let mut file = Cursor::new(bytes.to_vec());
    let kind = kind_of(name, &mut file);
    kind.is_ok_and(|kind| measure(name, kind, file, &Settings::default()).is_ok())
}

fn measure(track: &Track) -> bool {
    let Ok(cleaned) = clean(track, &Limits::default()) else {
        return false;
    };
    let path = Path::of(&cleaned.spots);
    let speeds = Speeds::of(&cleaned, &path);
    let _ = (speeds.best_held(1.0), speeds.two_way(&path, 1.0));
    let _ = (path.distance_m(0.0, 1e9), crate::track::turns::turns(&path));
    true
}
