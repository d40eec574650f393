//! Where the boat was, and when: satellite receivers' logs, cleaned and asked for speeds.

pub mod clean;
pub mod gpx;
pub mod laps;
pub mod nmea;
pub mod path;
pub mod plane;
pub mod speeds;
pub mod turns;

mod csv_log;

pub use csv_log::from_table;

/// A receiver's fix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fix {
    /// s after the track's start.
    pub time_s: f64,
    /// North positive.
    pub latitude_rad: f64,
    /// East positive.
    pub longitude_rad: f64,
    /// Speed as the receiver gave it.
    pub speed_m_s: Option<f64>,
    /// Course over ground, from north through east, as the receiver gave it.
    pub course_rad: Option<f64>,
    /// Horizontal dilution of precision.
    pub dilution: Option<f64>,
    /// Counts up at every break in the track.
    pub segment: u32,
}

/// Something in a log that was passed over, and how often.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skipped {
    /// What it was.
    pub what: String,
    /// How often.
    pub count: usize,
    /// Line of the first, from 1, where lines mean something.
    pub first_line: Option<u64>,
}

/// A receiver's log, as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Track {
    /// Start, s since 1970 UTC; `None` when the log has times of day only.
    pub start_unix_s: Option<f64>,
    /// Fixes in the order of the log.
    pub fixes: Vec<Fix>,
    /// What was passed over.
    pub skipped: Vec<Skipped>,
}

/// Why a log gives no track.
#[derive(Debug, thiserror::Error)]
pub enum TrackError {
    /// It is not of the format.
    #[error("not a {format} file")]
    NotThis {
        /// The format expected.
        format: &'static str,
    },
    /// It has no fixes with a time.
    #[error("the log has no fixes with a time ({points} points without one); export it with times")]
    NoTimes {
        /// Points without a time.
        points: usize,
    },
    /// It has no fixes.
    #[error("the receiver had no fix anywhere in this log")]
    NoFix,
    /// Fewer fixes than needed.
    #[error("{fixes} usable fixes, but at least {needed} are needed")]
    TooFew {
        /// Fixes there are.
        fixes: usize,
        /// Fixes needed.
        needed: usize,
    },
    /// A column is missing.
    #[error("no column for {what}; name it in the mapping")]
    NoColumn {
        /// What it would hold.
        what: &'static str,
    },
    /// It cannot be read.
    #[error("the log cannot be read")]
    Read(#[from] std::io::Error),
}

/// Counts things passed over.
#[derive(Default)]
pub(crate) struct Tally(Vec<Skipped>);

impl Tally {
    pub(crate) fn add(&mut self, what: impl Into<String>, line: Option<u64>) {
        let what = what.into();
        if let Some(s) = self.0.iter_mut().find(|s| s.what == what) {
            s.count += 1;
        } else if self.0.len() < 100 {
            // A hostile file could name a new thing in every line.
            self.0.push(Skipped {
                what,
                count: 1,
                first_line: line,
            });
        }
    }

    pub(crate) fn done(self) -> Vec<Skipped> {
        self.0
    }
}

/// True for a place on Earth.
pub(crate) fn on_earth(latitude_deg: f64, longitude_deg: f64) -> bool {
    (-90.0..=90.0).contains(&latitude_deg) && (-180.0..=180.0).contains(&longitude_deg)
}
