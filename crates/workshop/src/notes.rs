//! The notes of an outing, written key by key with the builder's comments kept.

use boat::{NewValue, Step, edit, remove};
use evidence::outing::file::{OutingFile, template};
use serde::{Deserialize, Serialize};
use std::path::Path;
use utoipa::ToSchema;

use crate::beneath::beneath;
use crate::fault::Fault;
use crate::folder::read_text;
use crate::outing::NOTES;
use crate::writing::{one_writer, write_over};

/// What a key holds.
#[derive(Debug, Clone, Copy)]
enum Is {
    Text,
    Flag,
    Count,
    Number,
}

/// Keys of the outing itself.
const OUTING: &[(&str, Is)] = &[
    ("place", Is::Text),
    ("water", Is::Text),
    ("water_temperature", Is::Text),
    ("air_temperature", Is::Text),
    ("wind", Is::Text),
    ("build", Is::Text),
    ("what_happened", Is::Text),
];

/// Keys of a recording.
const RECORDING: &[(&str, Is)] = &[
    ("kind", Is::Text),
    ("skip", Is::Flag),
    ("still", Is::Flag),
    ("closest", Is::Text),
    ("lowest_rpm", Is::Text),
    ("highest_rpm", Is::Text),
    ("channel", Is::Count),
    ("from", Is::Text),
    ("to", Is::Text),
    ("level_column", Is::Count),
    ("sample_rate", Is::Number),
];

/// One key of an outing's notes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Note {
    /// The recording it is about; the outing itself unless given.
    #[schema(max_length = 120)]
    pub recording: Option<String>,
    /// As in `outing.toml`: `place`, `air_temperature`; of a recording `closest`, `still`.
    #[schema(max_length = 40)]
    pub key: String,
    /// As written in the file, without quotes; nothing takes the key away.
    #[schema(max_length = 20000)]
    pub value: Option<String>,
}

/// The notes of an outing as they are written, for showing.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct Noted {
    /// Where.
    pub place: Option<String>,
    /// In the builder's words.
    pub water: Option<String>,
    /// With its unit.
    pub water_temperature: Option<String>,
    /// With its unit.
    pub air_temperature: Option<String>,
    /// In the builder's words.
    pub wind: Option<String>,
    /// Which build ran; nothing for the boat as it is.
    pub build: Option<String>,
    /// In the builder's words.
    pub what_happened: Option<String>,
    /// What is said of single recordings.
    pub recording: Vec<NotedRecording>,
}

/// What is said of a recording.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct NotedRecording {
    /// Its name.
    pub file: String,
    /// What it is, where its file does not tell.
    pub kind: Option<String>,
    /// Whether it is left out of what the outing measures.
    pub skip: bool,
    /// Whether the boat did not move.
    pub still: bool,
    /// Distance of the pass, with its unit.
    pub closest: Option<String>,
    /// With its unit.
    pub lowest_rpm: Option<String>,
    /// With its unit.
    pub highest_rpm: Option<String>,
    /// From 0.
    pub channel: Option<usize>,
    /// First moment, with its unit.
    pub from: Option<String>,
    /// Last one, with its unit.
    pub to: Option<String>,
    /// From 0.
    pub level_column: Option<usize>,
    /// Hz.
    pub sample_rate: Option<f64>,
}

impl Noted {
    /// Of an `outing.toml`; nothing where it cannot be read.
    pub fn read(text: &str) -> Option<Self> {
        toml::from_str(text).ok()
    }
}

/// What a key holds, where there is such a key.
fn key(of_recording: bool, name: &str) -> Result<Is, Fault> {
    let all = if of_recording { RECORDING } else { OUTING };
    let found = all.iter().find(|(known, _)| *known == name);
    found.map(|(_, is)| *is).ok_or_else(|| {
        let known: Vec<&str> = all.iter().map(|(known, _)| *known).collect();
        Fault::new(
            format!("there is no note {name:?}"),
            format!("there are: {}", known.join(", ")),
        )
    })
}

/// Writes notes into the `outing.toml` of an outing's folder, all or none.
///
/// # Errors
/// [`Fault`] when one of them cannot be, or the file cannot be read or written; nothing is written then.
pub fn note(folder: &Path, notes: &[Note]) -> Result<(), Fault> {
    // Reading, changing and writing are one step: of two at once neither is lost.
    let _one = one_writer(folder)?;
    let file = beneath(folder, NOTES)?;
    let before = file.is_file().then(|| read_text(&file)).transpose()?;
    let mut text = before.clone().unwrap_or_else(|| template("", None));
    for one in notes {
        text = write(&text, one)?;
    }
    OutingFile::read(&text, NOTES)?;
    write_over(&file, before.as_deref().map(str::as_bytes), text.as_bytes())
}

/// `text` with one note written.
fn write(text: &str, note: &Note) -> Result<String, Fault> {
    let is = key(note.recording.is_some(), &note.key)?;
    let (text, home) = match &note.recording {
        None => (text.to_owned(), None),
        Some(file) => with_entry(text, file)?,
    };
    let mut path: Vec<Step<'_>> = Vec::new();
    if let Some(index) = home {
        path.extend([Step::Key("recording"), Step::Nth(index)]);
    }
    path.push(Step::Key(&note.key));
    let Some(value) = &note.value else {
        // Nothing to take away is as good as taken away.
        return Ok(remove(&text, &path).unwrap_or(text));
    };
    let value = value_of(&note.key, is, value)?;
    edit(&text, &path, value).map_err(|e| Fault::new(e.to_string(), "edit it by hand"))
}

fn value_of(key: &str, is: Is, value: &str) -> Result<NewValue, Fault> {
    let wrong = |wanted: &str| {
        Fault::new(
            format!("{value:?} cannot be the {key}"),
            format!("give {wanted}"),
        )
    };
    Ok(match is {
        Is::Text => NewValue::Text(value.to_owned()),
        Is::Flag => NewValue::Flag(value.parse().map_err(|_| wrong("true or false"))?),
        Is::Count => NewValue::Count(value.parse().map_err(|_| wrong("a whole number"))?),
        Is::Number => NewValue::Number(value.parse().map_err(|_| wrong("a number"))?),
    })
}

/// The text with an entry for a recording, and its place among them.
fn with_entry(text: &str, file: &str) -> Result<(String, Option<usize>), Fault> {
    let read = OutingFile::read(text, NOTES)?;
    if let Some(at) = read.recording.iter().position(|r| r.file == file) {
        return Ok((text.to_owned(), Some(at)));
    }
    let name = toml::Value::String(file.to_owned());
    let gap = if text.ends_with('\n') { "" } else { "\n" };
    let text = format!("{text}{gap}\n[[recording]]\nfile = {name}\n");
    Ok((text, Some(read.recording.len())))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn note(recording: Option<&str>, key: &str, value: Option<&str>) -> Note {
        Note {
            recording: recording.map(str::to_owned),
            key: key.to_owned(),
            value: value.map(str::to_owned),
        }
    }

    #[test]
    fn notes_are_written_beside_the_comments() {
        let text = evidence::outing::file::template("", None);
        let text = write(&text, &note(None, "place", Some("Quillmere"))).unwrap();
        let text = write(
            &text,
            &note(None, "air_temperature", Some("16 degC ± 2 degC")),
        )
        .unwrap();
        let text = write(
            &text,
            &note(Some("bank.wav"), "closest", Some("7 m ± 0.5 m")),
        )
        .unwrap();
        let text = write(&text, &note(Some("bank.wav"), "still", Some("true"))).unwrap();
        let text = write(&text, &note(Some("b.csv"), "level_column", Some("2"))).unwrap();
        let read = OutingFile::read(&text, "outing.toml").unwrap();
        assert_eq!(read.place, "Quillmere");
        assert!(read.air_temperature.is_some());
        let bank = read.entry("bank.wav").unwrap();
        assert!(bank.still && bank.closest.is_some());
        assert_eq!(read.entry("b.csv").unwrap().level_column, Some(2));
        assert!(text.contains("# The water in your words"));
        let text = write(&text, &note(Some("bank.wav"), "closest", None)).unwrap();
        let read = OutingFile::read(&text, "outing.toml").unwrap();
        assert!(read.entry("bank.wav").unwrap().closest.is_none());
    }

    #[test]
    fn of_two_that_write_at_once_none_is_lost() {
        let folder = tempfile::tempdir().expect("a folder");
        std::thread::scope(|all| {
            for n in 0..16 {
                let folder = folder.path();
                all.spawn(move || {
                    let name = format!("r{n}.wav");
                    super::note(folder, &[note(Some(&name), "still", Some("true"))])
                        .expect("written");
                });
            }
        });
        let text = std::fs::read_to_string(folder.path().join(NOTES)).expect("notes");
        let read = OutingFile::read(&text, NOTES).expect("sound notes");
        assert_eq!(read.recording.iter().filter(|r| r.still).count(), 16);
    }

    #[test]
    fn what_is_no_key_or_no_number_is_refused() {
        for (recording, key, value) in [
            (None, "closest", "7 m"),
            (Some("a.wav"), "place", "x"),
            (Some("a.wav"), "channel", "left"),
            (None, "colour", "red"),
        ] {
            assert!(
                write("", &note(recording, key, Some(value))).is_err(),
                "{key}"
            );
        }
    }
}
