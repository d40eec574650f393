//! Recordings: opening them, what is known of the boat that made them, and what is measured on each kind.

pub mod hear;
pub mod log;
pub mod marks;
pub mod pulses;
pub mod together;
pub mod track;

use boat::Boat;
use evidence::Measured;
use evidence::columns::Mapping;
use evidence::logs::doubts::KnownDrive;
use evidence::outing::file::{OutingFile, RecordingEntry};
use evidence::outing::recording::{Settings, kind_of, measure};
use evidence::outing::{Analysis, RecordingKind};
use evidence::sound::decode::Channel;
use serde::{Deserialize, Serialize};
use std::fs;
use std::path::{Path, PathBuf};

use crate::bench::{Bench, BoatAt};
use crate::beneath::{beneath, open, read_within};
use crate::fault::{Fault, as_argument, shown};
use crate::folder;
use crate::outing::{NOTES, boat_that_ran};

/// Doubt in the air's temperature where a thermometer's reading has no tolerance, K.
const AIR_SIGMA_K: f64 = 1.0;
/// Humidity and the air's mixture, m/s (0.6 m/s is a degree's worth).
const HUMIDITY_SIGMA_M_S: f64 = 0.6;
const ZERO_C_IN_K: f64 = 273.15;
const SEA_LEVEL_PA: f64 = 101_325.0;
/// Larger files of notes are no notes.
const MAX_TEXT_BYTES: u64 = 4 << 20;
/// Radians a second to turns a minute.
pub(crate) const RPM: f64 = 30.0 / std::f64::consts::PI;
/// What a builder has agreed to of loggers, in the boat folder.
const LOGGERS: &str = "loggers.json";

/// A small text.
///
/// # Errors
/// [`Fault`] when it cannot be read or is no page or two.
pub fn text(path: &Path) -> Result<String, Fault> {
    let bytes = read_within(path, |size| {
        if size <= MAX_TEXT_BYTES {
            return Ok(());
        }
        let what = format!("{} is over 4 MB", shown(path));
        Err(Fault::new(
            what,
            "marks and notes are a page or two of text",
        ))
    })?;
    String::from_utf8(bytes).map_err(|_| {
        let other = other_than(path, RecordingKind::Marks);
        let save = || "save it as UTF-8 from the editor".to_owned();
        Fault::of_file(
            path,
            &"this is no text in UTF-8",
            &other.unwrap_or_else(save),
        )
    })
}

/// The file's own name.
pub fn file_name(path: &Path) -> String {
    let name = path.file_name().unwrap_or(path.as_os_str());
    name.to_string_lossy().into_owned()
}

/// A fault of a recording that was taken for one of `kind`; where it is one of another, the command for that is named.
pub(crate) fn fault(path: &Path, kind: RecordingKind, why: &dyn std::fmt::Display) -> Fault {
    Fault::of_file(path, why, &other_than(path, kind).unwrap_or_default())
}

/// What a file is that was taken for a recording of `kind`, and the command for that.
fn other_than(path: &Path, kind: RecordingKind) -> Option<String> {
    if let Some(mesh) = folder::if_mesh(path) {
        return Some(mesh);
    }
    let is = kind_of(&file_name(path), &mut open(path).ok()?).ok()?;
    let (what, command) = asked_by(is).filter(|_| is != kind)?;
    Some(format!(
        "this is {what}: `skimwright {command} {}`",
        as_argument(path)
    ))
}

/// What a recording is, and which command measures it.
fn asked_by(kind: RecordingKind) -> Option<(&'static str, &'static str)> {
    Some(match kind {
        RecordingKind::Sound => ("a sound or a film", "hear"),
        RecordingKind::Track => ("a track", "track"),
        RecordingKind::Pulses => ("a capture of pulses", "pulses"),
        RecordingKind::Log => ("a logger's table", "log"),
        RecordingKind::Marks => ("a file of marks", "marks"),
        _ => return None,
    })
}

/// The folder of the boat that is asked.
fn home(bench: &Bench) -> Option<PathBuf> {
    let at = bench.boat_if_any()?;
    let folder = match at.path.is_dir() {
        true => Some(at.path.as_path()),
        false => at.path.parent(),
    };
    folder.map(Path::to_owned)
}

/// That, else the nearest folder above the recording with a boat file.
pub(crate) fn home_of(bench: &Bench, recording: &Path) -> Option<PathBuf> {
    if let Some(home) = home(bench) {
        return Some(home);
    }
    let whole = fs::canonicalize(recording).ok()?;
    let above = whole.ancestors().skip(1).take(4);
    above
        .map(Path::to_owned)
        .find(|f| f.join("boat.toml").is_file())
}

/// What a boat file declares, without its mesh: recordings need no shape.
pub(crate) fn boat_alone(folder: &Path) -> Result<Boat, Fault> {
    folder::declared(&BoatAt::saved(folder))
}

/// What is known of a boat for its recordings.
pub fn settings_of(boat: Option<&Boat>, mappings: Vec<Mapping>) -> Settings {
    let mut s = Settings {
        mappings,
        ..Settings::default()
    };
    let Some(drive) = boat.and_then(|b| b.drives.first()) else {
        return s;
    };
    let gear = drive.gear_ratio.value;
    let pairs = drive.motor.poles.map(|p| p / 2);
    s.hear.listen.drive.blades = Some(drive.propeller.blades);
    s.hear.listen.drive.pole_pairs = pairs.and_then(|p| on_shaft(p, gear));
    s.log.gear = Some(gear);
    s.log.known = KnownDrive {
        kv_rpm_per_volt: Some(drive.motor.kv_rad_s_v.value * RPM),
        pole_pairs: pairs,
        shaft_rpm: None,
        cells: Some(drive.battery.series),
    };
    s
}

/// How a recording is measured: with what the boat asked tells and, for one that lies in an outing, with what its notes
/// say of it. Measured alone or with its outing it gives the same.
pub(crate) fn settings_at(bench: &Bench, recording: &Path) -> Result<Settings, Fault> {
    settings_with(bench, recording, home(bench))
}

/// The same with the boat found above the recording, unless one is asked.
pub(crate) fn settings_near(bench: &Bench, recording: &Path) -> Result<Settings, Fault> {
    settings_with(bench, recording, home_of(bench, recording))
}

fn settings_with(
    bench: &Bench,
    recording: &Path,
    home: Option<PathBuf>,
) -> Result<Settings, Fault> {
    let Some(home) = home else {
        return Ok(settings_of(None, Vec::new()));
    };
    let notes = recording.with_file_name(NOTES);
    if notes.is_file() {
        beneath(recording.parent().unwrap_or(Path::new("")), NOTES)?;
        let notes = OutingFile::read(&text(&notes)?, &shown(&notes))?;
        let ran = boat_that_ran(&home, notes.build.as_deref())?;
        let common = with_notes(settings_of(Some(&ran), mappings(Some(&home))?), &notes)?;
        return Ok(with_entry(&common, notes.entry(&file_name(recording))));
    }
    let boat = match bench.boat_if_any() {
        Some(at) => folder::declared(at)?,
        None => boat_alone(&home)?,
    };
    Ok(settings_of(Some(&boat), mappings(Some(&home))?))
}

/// With what an outing's notes say of the day.
pub(crate) fn with_notes(mut s: Settings, notes: &OutingFile) -> Result<Settings, Fault> {
    if let Some(air) = notes.air_temperature {
        s.hear.listen.sound_speed_m_s = sound_speed(air.0)?;
    }
    s.track.line = notes.lap_line.map(|l| l.line());
    let shortest = notes.lap_line.and_then(|l| l.shortest_lap);
    s.track.shortest_lap_s = shortest.map(|t| t.value());
    Ok(s)
}

/// With what they say of one recording.
pub(crate) fn with_entry(common: &Settings, entry: Option<&RecordingEntry>) -> Settings {
    let mut s = common.clone();
    let Some(e) = entry else { return s };
    let listen = &mut s.hear.listen;
    if let (Some(low), Some(high)) = (e.lowest_rpm, e.highest_rpm) {
        listen.drive.rpm_range = Some((low.value() * RPM, high.value() * RPM));
    }
    listen.closest_m = e.closest.map(|d| paced(d.0));
    listen.from_s = e.from.map_or(listen.from_s, |t| t.value());
    listen.to_s = e.to.map_or(listen.to_s, |t| t.value());
    s.hear.still = e.still;
    s.channel = e.channel.map_or(Channel::Mean, Channel::Only);
    s.pulses.level_column = e.level_column;
    s.pulses.rate_hz = e.sample_rate.filter(|r| *r > 0.0);
    s
}

/// Paced out unless a tolerance says better: a tenth.
pub(crate) fn paced(distance_m: Measured) -> Measured {
    match distance_m.sigma > 0.0 {
        true => distance_m,
        false => Measured::new(distance_m.value, 0.1 * distance_m.value),
    }
}

/// Electrical turns for one of the propeller, where they are a whole number.
pub(crate) fn on_shaft(pole_pairs: u32, gear: f64) -> Option<u32> {
    let turns = f64::from(pole_pairs) * gear;
    ((turns - turns.round()).abs() < 1e-6 && turns >= 1.0).then_some(turns.round() as u32)
}

/// Speed of sound at a temperature and its doubt.
pub(crate) fn sound_speed(air_c: Measured) -> Result<Measured, Fault> {
    let at = |c: f64| {
        laws::air::air(c + ZERO_C_IN_K, SEA_LEVEL_PA)
            .map(|a| a.sound_speed_m_s)
            .map_err(|e| {
                let what = format!("air temperature: {e}");
                Fault::new(what, "give the air's temperature in degC")
            })
    };
    let (value, slope) = (at(air_c.value)?, at(air_c.value + 1.0)? - at(air_c.value)?);
    let sigma = if air_c.sigma > 0.0 {
        air_c.sigma
    } else {
        AIR_SIGMA_K
    };
    Ok(Measured::new(
        value,
        (slope * sigma).hypot(HUMIDITY_SIGMA_M_S),
    ))
}

/// Readings of logs this boat's builder has agreed to.
///
/// # Errors
/// [`Fault`] with what is wrong in `loggers.json` and where.
pub fn mappings(home: Option<&Path>) -> Result<Vec<Mapping>, Fault> {
    let Some(home) = home.filter(|home| home.join(LOGGERS).is_file()) else {
        return Ok(Vec::new());
    };
    let file = beneath(home, LOGGERS)?;
    let all: Loggers = evidence::outing::given::from_json(&text(&file)?, &shown(&file))?;
    Ok(all.loggers)
}

/// `loggers.json`.
#[derive(Serialize, Deserialize)]
struct Loggers {
    /// 1.
    format: u32,
    /// One for each logger.
    loggers: Vec<Mapping>,
}

/// Any recording, measured by what it is.
///
/// # Errors
/// [`Fault`] when it cannot be read as that.
pub fn any(
    path: &Path,
    kind: Option<RecordingKind>,
    settings: &Settings,
) -> Result<Analysis, Fault> {
    let mut file = open(path)?;
    let name = file_name(path);
    let kind = match kind {
        Some(kind) => kind,
        None => kind_of(&name, &mut file).map_err(|e| Fault::system("read", path, &e))?,
    };
    match kind {
        RecordingKind::Marks => marks::marked(path, None),
        RecordingKind::Other => Err(Fault::new(
            format!("{} is no recording this program reads", shown(path)),
            "sound: WAV, FLAC, OGG, MP3, MP4, MOV; track: GPX, NMEA, CSV; logs and pulses: CSV; marks: TOML, JSON",
        )),
        kind => measure(&name, kind, file, settings).map_err(|e| fault(path, kind, &e)),
    }
}
