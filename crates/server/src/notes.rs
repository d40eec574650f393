//! The notes of an outing: read for the page, and written key by key with the builder's comments kept.

use boat::{NewValue, Step, edit, remove};
use evidence::outing::OutingFile;
use serde::Deserialize;
use utoipa::ToSchema;

use crate::error::{Answer, ApiError};

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

/// What a key holds, where there is such a key.
fn key(of_recording: bool, name: &str) -> Answer<Is> {
    let all = if of_recording { RECORDING } else { OUTING };
    let found = all.iter().find(|(known, _)| *known == name);
    found.map(|(_, is)| *is).ok_or_else(|| {
        let known: Vec<&str> = all.iter().map(|(known, _)| *known).collect();
        ApiError::unusable(
            format!("there is no note {name:?}"),
            format!("there are: {}", known.join(", ")),
        )
    })
}

/// One key of an outing's notes.
#[derive(Debug, Clone, Deserialize, ToSchema)]
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

/// A file's keys and values.
pub fn as_json(text: &str) -> Option<serde_json::Value> {
    toml::from_str(text).ok()
}

/// `text` with one note written.
///
/// # Errors
/// [`ApiError`] when there is no such key or the value is of another kind.
pub fn write(text: &str, note: &Note) -> Answer<String> {
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
    edit(&text, &path, value).map_err(|e| ApiError::unusable(e.to_string(), "edit it by hand"))
}

fn value_of(key: &str, is: Is, value: &str) -> Answer<NewValue> {
    let wrong = |wanted: &str| {
        ApiError::unusable(
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
fn with_entry(text: &str, file: &str) -> Answer<(String, Option<usize>)> {
    let read = OutingFile::read(text, "outing.toml")?;
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
