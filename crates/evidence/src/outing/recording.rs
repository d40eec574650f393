//! Any recording of an outing: what it is, and everything that can be measured on it.

use super::analysis::Analysis;
use super::hear::{self, hear};
use super::log::{self, log};
use super::marks::{MarksError, MarksFile, marks};
use super::measured::RecordingKind;
use super::pulses::pulses;
use super::track::{self, FollowError, follow};
use crate::columns::{Mapping, Quantity, propose};
use crate::pulses::capture::{CaptureError, CaptureHints, read_sound, read_table};
use crate::sound::decode::{Channel, Sound, SoundError};
use crate::table::{Table, TableError};
use crate::track::TrackError;
use crate::video::mp4::{Mp4Error, TrackKind, track_times};
use std::io::{BufReader, Read, Seek};

/// Bytes of a table looked at to tell what it holds.
const LOOKED_AT: u64 = 64 << 10;
/// Larger tracks are no boat's: a day at 25 fixes a second is 200 MB.
const LARGEST_TRACK: u64 = 512 << 20;

/// What is known beside a recording; everything has a stated default.
#[derive(Debug, Clone, Default)]
pub struct Settings {
    /// For sound.
    pub hear: hear::Options,
    /// Which channel to hear.
    pub channel: Channel,
    /// For tracks.
    pub track: track::Options,
    /// For logs.
    pub log: log::Options,
    /// For pulses.
    pub pulses: CaptureHints,
    /// Readings of logs the builder has agreed to.
    pub mappings: Vec<Mapping>,
}

/// Why a recording could not be measured.
#[derive(Debug, thiserror::Error)]
pub enum Trouble {
    /// A sound.
    #[error(transparent)]
    Sound(#[from] SoundError),
    /// A track.
    #[error(transparent)]
    Follow(#[from] FollowError),
    /// A track.
    #[error(transparent)]
    Track(#[from] TrackError),
    /// A log.
    #[error(transparent)]
    Table(#[from] TableError),
    /// A capture.
    #[error(transparent)]
    Capture(#[from] CaptureError),
    /// Marks.
    #[error(transparent)]
    Marks(#[from] MarksError),
    /// A film.
    #[error(transparent)]
    Film(#[from] Mp4Error),
    /// A film without pictures.
    #[error("the film has no pictures")]
    NoPictures,
    /// Too large.
    #[error("the track is larger than {} MB", LARGEST_TRACK >> 20)]
    TooLarge,
    /// A log whose columns nobody has agreed to.
    #[error(
        "its columns are proposed, not agreed: look at them with `skimwright log FILE` and confirm with --confirm"
    )]
    NotConfirmed,
    /// It cannot be read.
    #[error("it cannot be read: {0}")]
    Read(#[from] std::io::Error),
}

const SOUNDS: [&str; 10] = [
    "wav", "flac", "ogg", "oga", "mp3", "m4a", "aac", "mp4", "mov", "mkv",
];
const TRACKS: [&str; 4] = ["gpx", "nmea", "nma", "ubx"];
const MARKS: [&str; 2] = ["json", "toml"];
const TABLES: [&str; 4] = ["csv", "txt", "log", "tsv"];

/// Whether a file with this extension, in lower case, may be a recording that is read here.
pub fn is_known(extension: &str) -> bool {
    let kinds: [&[&str]; 4] = [&SOUNDS, &TRACKS, &MARKS, &TABLES];
    kinds.iter().any(|kind| kind.contains(&extension))
}

/// What a file is, by its extension and, for tables, by what its columns are called.
///
/// # Errors
/// When it cannot be read.
pub fn kind_of<R: Read + Seek>(name: &str, file: &mut R) -> std::io::Result<RecordingKind> {
    let extension = name
        .rsplit_once('.')
        .map_or("", |e| e.1)
        .to_ascii_lowercase();
    Ok(match extension.as_str() {
        e if SOUNDS.contains(&e) => RecordingKind::Sound,
        e if TRACKS.contains(&e) => RecordingKind::Track,
        e if MARKS.contains(&e) => RecordingKind::Marks,
        e if TABLES.contains(&e) => {
            let mut head = Vec::new();
            file.by_ref().take(LOOKED_AT).read_to_end(&mut head)?;
            file.rewind()?;
            kind_of_table(&head)
        }
        _ => RecordingKind::Other,
    })
}

fn kind_of_table(head: &[u8]) -> RecordingKind {
    let text = String::from_utf8_lossy(head);
    if text.lines().any(|l| l.starts_with("$G") && l.contains('*'))
        || text.trim_start().starts_with("<?xml")
    {
        return RecordingKind::Track;
    }
    // The last line looked at may be cut.
    let whole = text.rfind('\n').map_or(&*text, |at| &text[..at]);
    let Ok(table) = Table::parse(whole) else {
        return RecordingKind::Pulses;
    };
    let mapping = propose(&table);
    let has = |q| mapping.columns.iter().any(|c| c.quantity == q);
    if has(Quantity::Latitude) && has(Quantity::Longitude) {
        return RecordingKind::Track;
    }
    // A scope's `Time, Voltage` is no log: it has steps far below any logger's.
    let quick = mapping.values(&table, Quantity::Time).is_some_and(|t| {
        let steps: Vec<f64> = t.windows(2).map(|w| w[1] - w[0]).collect();
        crate::measured::median(&steps).is_some_and(|s| s < 2e-4)
    });
    let others = mapping
        .columns
        .iter()
        .filter(|c| c.quantity != Quantity::Time)
        .count();
    if others > 0 && !(quick && others <= 2) {
        RecordingKind::Log
    } else {
        RecordingKind::Pulses
    }
}

/// A sound opened and measured.
///
/// # Errors
/// [`SoundError`].
pub fn measure_sound<R: Read + Seek + Send + Sync + 'static>(
    name: &str,
    file: R,
    settings: &Settings,
) -> Result<(Analysis, crate::sound::listen::Heard), SoundError> {
    let extension = name.rsplit_once('.').map(|e| e.1);
    let mut sound = Sound::open(file, extension, settings.channel)?;
    hear(name, &mut sound, &settings.hear)
}

/// A track read and measured.
///
/// # Errors
/// [`Trouble`].
pub fn measure_track(
    name: &str,
    file: impl Read,
    settings: &Settings,
) -> Result<(Analysis, track::Followed), Trouble> {
    let mut bytes = Vec::new();
    file.take(LARGEST_TRACK + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > LARGEST_TRACK {
        return Err(Trouble::TooLarge);
    }
    let t = track::read(&bytes, settings.track.mapping.as_ref())?;
    Ok(follow(name, &t, &settings.track)?)
}

/// Pulses of a table or a sound card's recording, read and measured.
///
/// # Errors
/// [`Trouble`].
pub fn measure_pulses<R: Read + Seek + Send + Sync + 'static>(
    name: &str,
    file: R,
    settings: &Settings,
) -> Result<(Analysis, Option<crate::pulses::report::Report>), Trouble> {
    let extension = name
        .rsplit_once('.')
        .map_or("", |e| e.1)
        .to_ascii_lowercase();
    let capture = match extension.as_str() {
        "wav" | "flac" | "ogg" | "mp3" | "m4a" => {
            let mut sound = Sound::open(file, Some(&extension), settings.channel)?;
            read_sound(&mut sound)?
        }
        _ => read_table(BufReader::with_capacity(1 << 18, file), &settings.pulses)?,
    };
    Ok(pulses(name, &capture))
}

/// The reading of a log: what the builder agreed to for this logger, else a proposal.
pub fn mapping_for(table: &Table, settings: &Settings) -> Mapping {
    let proposed = propose(table);
    let known = settings
        .mappings
        .iter()
        .find(|m| m.fingerprint == proposed.fingerprint);
    known.cloned().unwrap_or(proposed)
}

/// Times at which a film's frames are shown, s.
///
/// # Errors
/// [`Trouble::Film`], or [`Trouble::NoPictures`].
pub fn frame_times<R: Read + Seek>(film: &mut R) -> Result<Vec<f64>, Trouble> {
    let tracks = track_times(film)?;
    let pictures = tracks.into_iter().find(|t| t.kind == TrackKind::Video);
    pictures.map(|t| t.shown_s).ok_or(Trouble::NoPictures)
}

/// Anything but marks, measured. A log is measured only once its reading is agreed to.
///
/// # Errors
/// [`Trouble`].
pub fn measure<R: Read + Seek + Send + Sync + 'static>(
    name: &str,
    kind: RecordingKind,
    file: R,
    settings: &Settings,
) -> Result<Analysis, Trouble> {
    match kind {
        RecordingKind::Sound => Ok(measure_sound(name, file, settings)?.0),
        RecordingKind::Track => Ok(measure_track(name, file, settings)?.0),
        RecordingKind::Pulses => Ok(measure_pulses(name, file, settings)?.0),
        RecordingKind::Log => {
            let table = Table::read(file)?;
            let mapping = mapping_for(&table, settings);
            if !mapping.confirmed {
                return Err(Trouble::NotConfirmed);
            }
            Ok(log(name, &table, &mapping, &settings.log).0)
        }
        RecordingKind::Marks | RecordingKind::Other => Ok(Analysis::of(name, kind)),
    }
}

/// Marks measured, with the film's frame times where there is one.
///
/// # Errors
/// [`Trouble`].
pub fn measure_marks(
    name: &str,
    given: &MarksFile,
    frames_s: Option<&[f64]>,
) -> Result<Analysis, Trouble> {
    Ok(marks(name, given, frames_s)?)
}
