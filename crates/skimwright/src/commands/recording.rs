//! What the recording commands share: opening files, what is known of the boat, giving an answer.

use boat::Boat;
use evidence::Measured;
use evidence::clock::EventKind;
use evidence::columns::Mapping;
use evidence::logs::doubts::KnownDrive;
use evidence::outing::recording::{Settings, frame_times, kind_of, measure, measure_marks};
use evidence::outing::{Analysis, RecordingKind, marks};
use report::measured::{name, shown as shown_value, when, with_spread};
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::fs::{self, File};
use std::io::{BufReader, Read as _};
use std::path::{Path, PathBuf};

use crate::boat_folder::{self, write_whole};
use crate::cli_recordings::Shown;
use crate::failure::{Failure, shown};
use crate::output;

/// Doubt in the air's temperature where a thermometer's reading has no tolerance, K.
const AIR_SIGMA_K: f64 = 1.0;
/// Humidity and the air's mixture, m/s (0.6 m/s is a degree's worth).
const HUMIDITY_SIGMA_M_S: f64 = 0.6;
const ZERO_C_IN_K: f64 = 273.15;
const SEA_LEVEL_PA: f64 = 101_325.0;
/// Larger files of notes are no notes.
const MAX_TEXT_BYTES: u64 = 4 << 20;

/// A file that can be read, whatever its size.
pub fn open(path: &Path) -> Result<File, Failure> {
    let about = fs::metadata(path).map_err(|e| Failure::system("open", path, &e))?;
    if !about.is_file() {
        return Err(Failure::new(
            format!("{} is not a file", shown(path)),
            "name a recording",
        ));
    }
    File::open(path).map_err(|e| Failure::system("open", path, &e))
}

/// A small text.
pub fn text(path: &Path) -> Result<String, Failure> {
    let mut text = String::new();
    let file = open(path)?;
    if file.metadata().is_ok_and(|m| m.len() > MAX_TEXT_BYTES) {
        let what = format!("{} is over 4 MB", shown(path));
        return Err(Failure::new(
            what,
            "marks and notes are a page or two of text",
        ));
    }
    BufReader::new(file)
        .read_to_string(&mut text)
        .map_err(|e| Failure::system("read", path, &e))?;
    Ok(text)
}

/// The file's own name.
pub fn file_name(path: &Path) -> String {
    let name = path.file_name().unwrap_or(path.as_os_str());
    name.to_string_lossy().into_owned()
}

/// A fault of a recording.
pub fn fault(path: &Path, why: &dyn std::fmt::Display) -> Failure {
    Failure::new(format!("{}: {why}", shown(path)), "")
}

/// The boat a recording belongs to: the one named, or the nearest folder above with a boat.toml.
pub fn boat_folder_of(named: Option<&Path>, recording: &Path) -> Option<PathBuf> {
    if let Some(named) = named {
        let folder = if named.is_dir() {
            Some(named)
        } else {
            named.parent()
        };
        return folder.map(Path::to_owned);
    }
    let whole = fs::canonicalize(recording).ok()?;
    let above = whole.ancestors().skip(1).take(4);
    above
        .map(Path::to_owned)
        .find(|f| f.join("boat.toml").is_file())
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
        kv_rpm_per_volt: Some(drive.motor.kv_rad_s_v.value * 30.0 / std::f64::consts::PI),
        pole_pairs: pairs,
        shaft_rpm: None,
        cells: Some(drive.battery.series),
    };
    s
}

/// Electrical turns for one of the propeller, where they are a whole number.
pub fn on_shaft(pole_pairs: u32, gear: f64) -> Option<u32> {
    let turns = f64::from(pole_pairs) * gear;
    ((turns - turns.round()).abs() < 1e-6 && turns >= 1.0).then_some(turns.round() as u32)
}

/// Speed of sound at a temperature and its doubt.
pub fn sound_speed(air_c: Measured) -> Result<Measured, Failure> {
    let at = |c: f64| {
        laws::air::air(c + ZERO_C_IN_K, SEA_LEVEL_PA)
            .map(|a| a.sound_speed_m_s)
            .map_err(|e| {
                Failure::new(
                    format!("air temperature: {e}"),
                    "give the air's temperature in degC",
                )
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

/// A boat file alone, without its mesh: recordings need no shape.
pub fn boat_alone(folder: &Path) -> Result<Boat, Failure> {
    boat_folder::declared(folder)
}

/// Readings of logs this boat's builder has agreed to.
pub fn mappings(folder: Option<&Path>) -> Result<Vec<Mapping>, Failure> {
    let Some(file) = folder
        .map(|f| f.join("loggers.json"))
        .filter(|f| f.is_file())
    else {
        return Ok(Vec::new());
    };
    let all: Loggers = evidence::outing::given::from_json(&text(&file)?, &shown(&file))?;
    Ok(all.loggers)
}

/// `loggers.json`.
#[derive(serde::Serialize, serde::Deserialize)]
pub struct Loggers {
    /// 1.
    pub format: u32,
    /// One for each logger.
    pub loggers: Vec<Mapping>,
}

/// Any recording, measured by what it is.
pub fn any(
    path: &Path,
    kind: Option<RecordingKind>,
    settings: &Settings,
) -> Result<Analysis, Failure> {
    let mut file = open(path)?;
    let name = file_name(path);
    let kind = match kind {
        Some(kind) => kind,
        None => kind_of(&name, &mut file).map_err(|e| Failure::system("read", path, &e))?,
    };
    match kind {
        RecordingKind::Marks => marked(path, None),
        RecordingKind::Other => Err(Failure::new(
            format!("{} is no recording this program reads", shown(path)),
            "sound: WAV, FLAC, OGG, MP3, MP4, MOV; track: GPX, NMEA, CSV; logs and pulses: CSV; marks: TOML, JSON",
        )),
        kind => measure(&name, kind, file, settings).map_err(|e| fault(path, &e)),
    }
}

/// Marks with the film they name.
pub fn marked(path: &Path, film: Option<&Path>) -> Result<Analysis, Failure> {
    let text = text(path)?;
    let given = marks::read(&text, &shown(path))?;
    let named = given.film.as_ref().map(|f| path.with_file_name(f));
    let frames = match film.map(Path::to_owned).or(named) {
        Some(film) => {
            let mut file = BufReader::new(open(&film)?);
            Some(frame_times(&mut file).map_err(|e| fault(&film, &e))?)
        }
        None => None,
    };
    measure_marks(&file_name(path), &given, frames.as_deref()).map_err(|e| fault(path, &e))
}

/// Gives the answer of one or several recordings, with text before and after; `more` joins the JSON
/// object.
pub fn give(
    all: &[Analysis],
    how: &Shown,
    around: (&str, &str),
    more: Value,
) -> Result<(), Failure> {
    if let Some(page) = &how.output {
        let title = all
            .iter()
            .map(|a| a.file.as_str())
            .collect::<Vec<_>>()
            .join(", ");
        write_whole(page, report::recordings(&title, all).as_bytes())?;
    }
    if how.json {
        let mut answer = match all {
            [one] => json!(one),
            _ => json!({ "recordings": all }),
        };
        if let (Some(into), Value::Object(more)) = (answer.as_object_mut(), more) {
            into.extend(more);
        }
        if let Some(page) = &how.output {
            answer["page"] = page.display().to_string().into();
        }
        return output::print_json(&answer);
    }
    let mut text = around.0.to_owned();
    for a in all {
        text.push_str(&as_text(a));
    }
    text.push_str(around.1);
    if let Some(page) = &how.output {
        let _ = writeln!(text, "page: {}", shown(page));
    }
    output::print(&text)
}

/// What was measured, as a builder reads it.
pub fn as_text(a: &Analysis) -> String {
    let mut text = format!("{}: {}", a.file, kind_words(a.kind));
    if let Some((from, to)) = a.span_s {
        let _ = write!(text, ", {:.1} s", to - from);
    }
    text.push('\n');
    for words in &a.says {
        let _ = writeln!(text, "  {words}");
    }
    let rows: Vec<[String; 3]> = a
        .quantities
        .iter()
        .map(|q| {
            let mut how = format!("{}; {}", when(q), q.from.method);
            if let Some(remark) = &q.remark {
                let _ = write!(how, "; {remark}");
            }
            [name(q), shown_value(q.kind, q.value, q.sigma), how]
        })
        .collect();
    let width = |i: usize| rows.iter().map(|r| r[i].chars().count()).max().unwrap_or(0);
    let (first, second) = (width(0), width(1));
    for [what, value, how] in &rows {
        let _ = writeln!(text, "  {what:<first$}  {value:<second$}  {how}");
    }
    if !a.events.is_empty() {
        let told: Vec<String> = a
            .events
            .iter()
            .map(|e| {
                let at = with_spread(
                    e.time_s.value,
                    report::measured::HALF_WIDTH * e.time_s.sigma,
                    "s",
                );
                format!("{} {} at {at}", event_words(e.kind), e.number)
            })
            .collect();
        let _ = writeln!(text, "  events: {}", told.join(", "));
    }
    for remark in &a.remarks {
        let _ = writeln!(text, "  - {remark}");
    }
    text
}

pub fn event_words(kind: EventKind) -> &'static str {
    match kind {
        EventKind::Launch => "launch",
        EventKind::ThrottleCut => "throttle cut",
        EventKind::Pass => "pass",
        EventKind::Marked => "mark",
    }
}

pub fn kind_words(kind: RecordingKind) -> &'static str {
    match kind {
        RecordingKind::Sound => "sound",
        RecordingKind::Marks => "marked frames",
        RecordingKind::Track => "track",
        RecordingKind::Log => "log",
        RecordingKind::Pulses => "servo pulses",
        RecordingKind::Other => "other",
    }
}
