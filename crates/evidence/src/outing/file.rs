//! `outing.toml`: what the builder says of an outing.

use super::given::{
    DegreesCelsius, Given, Metres, MetresPerSecond, Seconds, ShaftSpeed, from_toml,
};
use super::measured::RecordingKind;
use super::track::GroundLine;
use boat::{BoatFileError, Problem, Severity};
use serde::Deserialize;

/// An outing as written.
#[derive(Debug, Clone, PartialEq, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct OutingFile {
    /// Where.
    pub place: String,
    /// The water, in the builder's words: calm, ripple, chop, weed.
    pub water: String,
    /// Its temperature.
    pub water_temperature: Option<Given<DegreesCelsius>>,
    /// The air's; it sets the speed of sound.
    pub air_temperature: Option<Given<DegreesCelsius>>,
    /// Wind.
    pub wind: Option<Given<MetresPerSecond>>,
    /// Which build was run, as its folder in `builds/` is named; the boat as it is now unless given.
    pub build: Option<String>,
    /// The recordings are made up.
    pub invented: bool,
    /// What happened, in the builder's words.
    pub what_happened: String,
    /// A lap line on the ground.
    pub lap_line: Option<LapLine>,
    /// What is known of single recordings.
    pub recording: Vec<RecordingEntry>,
}

/// A line between two places.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LapLine {
    /// Degrees north, degrees east.
    pub from_deg: (f64, f64),
    /// Degrees north, degrees east.
    pub to_deg: (f64, f64),
    /// Crossings closer together are one.
    pub shortest_lap: Option<Given<Seconds>>,
}

impl LapLine {
    /// For a track.
    pub fn line(&self) -> GroundLine {
        GroundLine {
            from_deg: self.from_deg,
            to_deg: self.to_deg,
        }
    }
}

/// What is known of one recording.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordingEntry {
    /// File name within the outing's folder.
    pub file: String,
    /// What it is; told from the file unless given.
    pub kind: Option<RecordingKind>,
    /// Leave it alone.
    #[serde(default)]
    pub skip: bool,
    /// Sound: the boat does not move.
    #[serde(default)]
    pub still: bool,
    /// Sound: closest distance of the passes from the microphone.
    pub closest: Option<Given<Metres>>,
    /// Sound: lowest rpm of the shaft that can be.
    pub lowest_rpm: Option<Given<ShaftSpeed>>,
    /// Sound: highest rpm of the shaft that can be.
    pub highest_rpm: Option<Given<ShaftSpeed>>,
    /// Sound: one channel, from 0, instead of the mean of all.
    pub channel: Option<usize>,
    /// Sound: first moment listened to.
    pub from: Option<Given<Seconds>>,
    /// Sound: last moment listened to.
    pub to: Option<Given<Seconds>>,
    /// Pulses: column of the level, from 0.
    pub level_column: Option<usize>,
    /// Pulses: samples a second, for a table without times.
    pub sample_rate: Option<f64>,
}

impl OutingFile {
    /// Reads `outing.toml`.
    ///
    /// # Errors
    /// [`BoatFileError`] with the place of what is wrong.
    pub fn read(text: &str, file_name: &str) -> Result<Self, BoatFileError> {
        let file: Self = from_toml(text, file_name)?;
        let problems: Vec<Problem> = file
            .recording
            .iter()
            .filter(|r| !is_plain_name(&r.file))
            .map(|r| outside(text, &r.file))
            .collect();
        if problems.is_empty() {
            Ok(file)
        } else {
            Err(BoatFileError::new(file_name, text, problems))
        }
    }

    /// What is said of one recording.
    pub fn entry(&self, file: &str) -> Option<&RecordingEntry> {
        self.recording.iter().find(|r| r.file == file)
    }
}

/// A name within the folder: no path leads out of it.
pub fn is_plain_name(name: &str) -> bool {
    !name.is_empty() && name != "." && name != ".." && !name.contains(['/', '\\', '\0'])
}

fn outside(text: &str, name: &str) -> Problem {
    let start = text.find(&format!("\"{name}\"")).unwrap_or(0);
    Problem {
        message: format!("the recording `{name}` is not in the outing's folder"),
        help: Some("copy it there and write its name alone".to_owned()),
        span: start..start,
        severity: Severity::Error,
    }
}

/// A new outing's file, every key explained, to be filled in.
pub fn template(place: &str, build: Option<&str>) -> String {
    let place = toml::Value::String(place.to_owned());
    let build = match build {
        Some(b) => format!("build = {}", toml::Value::String(b.to_owned())),
        None => "# build = \"2-wider-pads\"".to_owned(),
    };
    format!(
        r#"# One outing. Put the recordings beside this file; they are never altered.

place = {place}
# The water in your words: calm, ripple, chop, weed.
water = ""
# water_temperature = "14 degC"
# Sets the speed of sound, and with it the speed by sound: 6 degC are 1 %.
# air_temperature = "16 degC"
# wind = "2 m/s"

# Which build was run, as its folder in builds/ is named; the boat as it is now unless given.
{build}

# What happened, in your own words.
what_happened = """
"""

# A line across the course, for laps: degrees north and east of its ends.
# [lap_line]
# from_deg = [51.0000, -1.0000]
# to_deg = [51.0002, -1.0000]

# What is known of a recording. Only `file` is needed; see docs/recordings.md.
# [[recording]]
# file = "pass.wav"
# closest = "8 m ± 1 m"
"#
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_template_reads_back_as_an_empty_outing() {
        let text = template("the \"mill\" pond", Some("2-wider-pads"));
        let read = OutingFile::read(&text, "outing.toml").unwrap();
        assert_eq!(read.place, "the \"mill\" pond");
        assert_eq!(read.build.as_deref(), Some("2-wider-pads"));
        assert!(!read.invented && read.recording.is_empty());
    }

    #[test]
    fn a_recording_elsewhere_is_refused_in_its_place() {
        let text = "[[recording]]\nfile = \"../secret.wav\"\n";
        let bad = OutingFile::read(text, "outing.toml").unwrap_err();
        assert_eq!(
            boat::line_and_column(text, bad.problems[0].span.start),
            (2, 8)
        );
    }
}
