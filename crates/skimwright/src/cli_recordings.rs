//! What can be said of recordings, outings and builds.

use boat::{Kind, Quantity, parse_quantity};
use clap::{Args, Subcommand};
use laws::constants::HALF_WIDTH_95 as HALF_WIDTH;
use std::path::PathBuf;

/// A quantity on the command line; what had to be taken for what is meant is shown.
pub fn quantity(kind: Kind, text: &str) -> Result<Quantity, String> {
    let read = parse_quantity(kind, text).map_err(|e| format!("{}; {}", e.message, e.help))?;
    if read.taken {
        crate::output::warn(&format!(
            "`{text}` is read as {}\n",
            boat::show_quantity(kind, &read)
        ));
    }
    Ok(read)
}

fn length(text: &str) -> Result<Quantity, String> {
    quantity(Kind::Length, text)
}

fn temperature(text: &str) -> Result<Quantity, String> {
    quantity(Kind::Temperature, text)
}

fn time(text: &str) -> Result<Quantity, String> {
    quantity(Kind::Time, text)
}

fn shaft_speed(text: &str) -> Result<Quantity, String> {
    quantity(Kind::ShaftSpeed, text)
}

/// With its standard uncertainty; `unknown` where no tolerance was written.
pub fn measured(q: Quantity, unknown: f64) -> evidence::Measured {
    let sigma = q.spread.map_or(unknown, |s| s / HALF_WIDTH);
    evidence::Measured::new(q.value, sigma)
}

/// How an analysis is given.
#[derive(Debug, Args)]
pub struct Shown {
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
    /// Also write an HTML page with plots
    #[arg(short, long, value_name = "PAGE")]
    pub output: Option<PathBuf>,
    /// Replace the page when it is there
    #[arg(long)]
    pub force: bool,
}

/// Rpm and speed from sound
///
/// Finds the tones of the propeller and motor through noise and wind, rpm against time, and where
/// the boat goes by the microphone its speed, closest distance and true rpm together. Reads WAV,
/// FLAC, OGG, MP3, AAC and the sound of MP4 and MOV films. Says "no tone" rather than guess.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright hear pass.wav --blades 2
  skimwright hear run.mp4 --boat tern --air-temperature '16 degC' -o run.html
  skimwright hear pass.wav --blades 2 --closest '8 m ± 1 m'")]
pub struct Hear {
    /// The recording
    pub file: PathBuf,
    /// Boat folder, for blades, poles and gear
    #[arg(long)]
    pub boat: Option<PathBuf>,
    /// Blades of the propeller
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=12))]
    pub blades: Option<u32>,
    /// Magnet poles of the motor
    #[arg(long, value_parser = clap::value_parser!(u32).range(2..=64))]
    pub poles: Option<u32>,
    /// Motor turns for one of the propeller
    #[arg(long)]
    pub gear: Option<f64>,
    /// Temperature of the air, for the speed of sound
    #[arg(long, value_parser = temperature)]
    pub air_temperature: Option<Quantity>,
    /// Closest distance from the microphone, if it was measured
    #[arg(long, value_parser = length)]
    pub closest: Option<Quantity>,
    /// Lowest rpm of the shaft that can be
    #[arg(long, value_parser = shaft_speed, requires = "highest_rpm")]
    pub lowest_rpm: Option<Quantity>,
    /// Highest rpm of the shaft that can be
    #[arg(long, value_parser = shaft_speed, requires = "lowest_rpm")]
    pub highest_rpm: Option<Quantity>,
    /// The boat does not move: on the bench, or held
    #[arg(long)]
    pub still: bool,
    /// Hear one channel, counted from 0, instead of the mean of all
    #[arg(long)]
    pub channel: Option<usize>,
    /// Listen from this moment
    #[arg(long, value_parser = time)]
    pub from: Option<Quantity>,
    /// Listen up to this moment
    #[arg(long, value_parser = time)]
    pub to: Option<Quantity>,
    #[command(flatten)]
    pub shown: Shown,
}

/// Speeds, turns and laps from a receiver's track
///
/// Reads GPX, NMEA 0183 and any logger's table. Best speed held for 1, 2, 3 and 10 s, mean of two
/// opposite runs, the tightest turns with radius and lateral acceleration, laps over a line, distance.
/// Fixes that cannot be are left out, each with its reason.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright track sunday.gpx
  skimwright track sunday.gpx --line 51.2001,-1.3003 51.2003,-1.3003 -o sunday.html")]
pub struct TrackArgs {
    /// The track
    pub file: PathBuf,
    /// Ends of a lap line: degrees north, degrees east
    #[arg(long, num_args = 2, value_name = "LAT,LON", allow_hyphen_values = true, value_parser = place)]
    pub line: Option<Vec<(f64, f64)>>,
    /// Crossings closer together are one
    #[arg(long, value_parser = time)]
    pub shortest_lap: Option<Quantity>,
    #[command(flatten)]
    pub shown: Shown,
}

fn place(text: &str) -> Result<(f64, f64), String> {
    let wrong = || "write degrees north and east with a comma: 51.2001,-1.3003".to_owned();
    let (north, east) = text.split_once(',').ok_or_else(wrong)?;
    let number = |t: &str| t.trim().parse::<f64>().map_err(|_| wrong());
    let (north, east) = (number(north)?, number(east)?);
    if north.abs() > 90.0 || east.abs() > 180.0 {
        return Err(format!(
            "{text} is no place on Earth: degrees north, then east"
        ));
    }
    Ok((north, east))
}

/// Servo pulses from a logic analyser, an oscilloscope or a sound card
///
/// Width, frame period, jitter, lost frames, failsafe, and how slow the edges are, with a verdict.
/// Reads lists of changes and samples of any length.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright pulses rudder.csv
  skimwright pulses scope.csv --level-column 2 -o scope.html
  skimwright pulses samples.csv --sample-rate 1000000")]
pub struct PulsesArgs {
    /// The capture: a table, or a WAV or FLAC recording of a sound card
    pub file: PathBuf,
    /// Column of the level, counted from 0
    #[arg(long)]
    pub level_column: Option<usize>,
    /// Samples a second, for a table without times
    #[arg(long)]
    pub sample_rate: Option<f64>,
    /// What one unit of the time column is, if its heading does not say
    #[arg(long, value_parser = time)]
    pub time_unit: Option<Quantity>,
    #[command(flatten)]
    pub shown: Shown,
}

/// A controller's or motion log
///
/// Proposes what each column holds, by its name and unit; nothing is used in an outing before it is
/// confirmed, and a confirmed reading is remembered for the same logger in the boat folder's
/// `loggers.json`. Columns are held against each other: wrong pole counts and units are told.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright log esc.csv --boat tern               what its columns seem to be
  skimwright log esc.csv --boat tern --confirm     remember that
  skimwright log esc.csv --column 'Temp 1=motor_temperature[degF]' --column 'A4=' --confirm")]
pub struct LogArgs {
    /// The log
    pub file: PathBuf,
    /// Boat folder, for motor constant, poles and cells, and to remember the logger; the one the log
    /// lies in unless given
    #[arg(long)]
    pub boat: Option<PathBuf>,
    /// Remember this reading of the columns for the same logger
    #[arg(long)]
    pub confirm: bool,
    /// Read a column as you say; nothing after = leaves it alone
    #[arg(long, value_name = "HEADING=QUANTITY[UNIT]")]
    pub column: Vec<String>,
    /// Shaft rpm at full throttle known from elsewhere, such as sound
    #[arg(long, value_parser = shaft_speed)]
    pub shaft_rpm: Option<Quantity>,
    #[command(flatten)]
    pub shown: Shown,
}

/// Speed from marks on the frames of a film
///
/// The marks are a TOML or JSON file: docs/recordings.md shows one. The scale is the boat's length,
/// posts a known distance apart, or four known points on the water. Frame times come from the film.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright marks run-1.toml
  skimwright marks run-1.toml --video run-1.mp4")]
pub struct MarksArgs {
    /// The marks
    pub file: PathBuf,
    /// The film; the one the marks name, beside them, unless given
    #[arg(long)]
    pub video: Option<PathBuf>,
    #[command(flatten)]
    pub shown: Shown,
}

/// Several recordings on one clock
///
/// By launches, throttle cuts and passes that more than one of them saw, or by the time of day. Shows
/// each offset with its uncertainty, and which event fits worst.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright together pass.wav sunday.gpx esc.csv --boat tern")]
pub struct Together {
    /// Two recordings or more
    #[arg(required = true, num_args = 2..)]
    pub files: Vec<PathBuf>,
    /// Boat folder, for blades, poles and gear
    #[arg(long)]
    pub boat: Option<PathBuf>,
    /// Ends of a line that counts as a pass on a track: degrees north, degrees east
    #[arg(long, num_args = 2, value_name = "LAT,LON", allow_hyphen_values = true, value_parser = place)]
    pub line: Option<Vec<(f64, f64)>>,
    #[command(flatten)]
    pub shown: Shown,
}

/// Outings of a boat: notes and recordings of one day
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright outing tern new
  skimwright outing tern measure 2026-05-17
  skimwright outing tern list")]
pub struct OutingArgs {
    /// Boat folder
    pub boat: PathBuf,
    #[command(subcommand)]
    pub what: OutingWhat,
}

#[derive(Debug, Subcommand)]
pub enum OutingWhat {
    /// Start outings/DATE with an outing.toml to fill in; never touches one that is there
    New {
        /// The day as YYYY-MM-DD, with -2 or a word behind it for more than one; today unless given
        #[arg(long)]
        date: Option<String>,
        /// Where
        #[arg(long, default_value = "")]
        place: String,
        /// Print what was made as JSON
        #[arg(long)]
        json: bool,
    },
    /// Measure the recordings of an outing and write its measured.json; recordings are never altered
    Measure {
        /// The outing, as its folder is named
        date: String,
        #[command(flatten)]
        shown: Shown,
    },
    /// List the outings
    List {
        /// Print one JSON object instead of text
        #[arg(long)]
        json: bool,
    },
}

/// Freeze the boat as it is now into builds/, with why
///
/// Copies boat.toml and its meshes, and writes what is predicted of them. Nothing in builds/ is ever
/// changed afterwards.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright keep tern --why 'wider pads: it would not plane'")]
pub struct Keep {
    /// Boat folder
    pub boat: PathBuf,
    /// Why this build is worth keeping, or what was changed for it
    #[arg(long)]
    pub why: String,
    /// Print what was made as JSON
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub effort: crate::cli::Effort,
}

/// Builds of a boat: what changed, what was predicted, what was measured
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright builds tern
  skimwright builds tern --json")]
pub struct Builds {
    /// Boat folder
    pub boat: PathBuf,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}
