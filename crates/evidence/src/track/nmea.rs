//! NMEA 0183 sentences as receivers log them.
//!
//! RMC gives time, place, speed and course; GGA place and dilution; VTG speed where RMC is missing.
//! Sentences of one time make one fix. A wrong checksum drops the sentence and is counted; a
//! sentence without one is taken. Talkers (GP, GN, GL ...) are not told apart.
//!
//! Checks: `checks/nmea_sentences.csv` (published sentences with what they mean).

use super::{Fix, Tally, Track, TrackError, on_earth};
use std::io::BufRead;

const KNOT_M_S: f64 = 1852.0 / 3600.0;
const DAY_S: f64 = 86_400.0;
/// Longer lines are no sentences; the standard allows 82 characters.
const LONGEST_LINE: usize = 512;

/// The exclusive or of the characters between `$` and `*`.
pub fn checksum(body: &str) -> u8 {
    body.bytes().fold(0, |sum, b| sum ^ b)
}

/// What one sentence says.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sentence {
    /// Time of day UTC, s.
    pub day_time_s: Option<f64>,
    /// Start of the day, s since 1970.
    pub day_unix_s: Option<f64>,
    /// Latitude and longitude, degrees.
    pub place_deg: Option<(f64, f64)>,
    /// Speed over ground, m/s.
    pub speed_m_s: Option<f64>,
    /// Course over ground, degrees.
    pub course_deg: Option<f64>,
    /// Horizontal dilution.
    pub dilution: Option<f64>,
}

/// Why a line is passed over.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SentenceError {
    /// No `$`.
    #[error("line that is no sentence")]
    NoSentence,
    /// Checksum differs.
    #[error("sentence with a wrong checksum")]
    Checksum,
    /// The receiver says it has no fix.
    #[error("sentence without a fix")]
    NoFix,
    /// A kind not used here.
    #[error("{0} sentence (not needed)")]
    Kind(String),
    /// A field that cannot be read.
    #[error("sentence with a damaged field")]
    Damaged,
}

/// Reads one line.
///
/// # Errors
/// [`SentenceError`].
pub fn sentence(line: &str) -> Result<Sentence, SentenceError> {
    let start = line.find('$').ok_or(SentenceError::NoSentence)?;
    let line = line[start + 1..].trim_end();
    let body = match line.rsplit_once('*') {
        Some((body, sum)) => {
            let right = u8::from_str_radix(sum.trim(), 16).is_ok_and(|s| s == checksum(body));
            right.then_some(body).ok_or(SentenceError::Checksum)?
        }
        None => line,
    };
    let fields: Vec<&str> = body.split(',').map(str::trim).collect();
    let kind = fields[0].get(2..).unwrap_or(fields[0]);
    let field = |i: usize| fields.get(i).copied().unwrap_or("");
    match kind {
        "RMC" => rmc(&field),
        "GGA" => gga(&field),
        "VTG" => Ok(Sentence {
            speed_m_s: number(field(5)).map(|v| v * KNOT_M_S),
            course_deg: number(field(1)),
            ..Sentence::default()
        }),
        other => Err(SentenceError::Kind(other.chars().take(8).collect())),
    }
}

fn rmc<'a>(field: &impl Fn(usize) -> &'a str) -> Result<Sentence, SentenceError> {
    if field(2) != "A" {
        return Err(SentenceError::NoFix);
    }
    Ok(Sentence {
        day_time_s: Some(clock(field(1)).ok_or(SentenceError::Damaged)?),
        day_unix_s: date(field(9)),
        place_deg: Some(place(&|i| field(i + 3)).ok_or(SentenceError::Damaged)?),
        speed_m_s: number(field(7)).map(|v| v * KNOT_M_S),
        course_deg: number(field(8)),
        dilution: None,
    })
}

fn gga<'a>(field: &impl Fn(usize) -> &'a str) -> Result<Sentence, SentenceError> {
    if matches!(field(6), "" | "0") {
        return Err(SentenceError::NoFix);
    }
    Ok(Sentence {
        day_time_s: Some(clock(field(1)).ok_or(SentenceError::Damaged)?),
        place_deg: Some(place(&|i| field(i + 2)).ok_or(SentenceError::Damaged)?),
        dilution: number(field(8)),
        ..Sentence::default()
    })
}

fn number(text: &str) -> Option<f64> {
    text.parse()
        .ok()
        .filter(|n: &f64| n.is_finite() && *n >= 0.0)
}

/// `hhmmss.sss` in seconds.
fn clock(text: &str) -> Option<f64> {
    let (h, m) = (
        text.get(..2)?.parse::<u32>().ok()?,
        text.get(2..4)?.parse::<u32>().ok()?,
    );
    let s = number(text.get(4..)?)?;
    (h < 24 && m < 60 && s < 61.0).then(|| f64::from(60 * (60 * h + m)) + s)
}

/// `ddmmyy` as seconds since 1970; years 80 to 99 are of the last century.
fn date(text: &str) -> Option<f64> {
    let two = |i: usize| text.get(i..i + 2)?.parse::<i16>().ok();
    let (day, month, year) = (two(0)?, two(2)?, two(4)?);
    let year = if year >= 80 { 1900 + year } else { 2000 + year };
    let date = jiff::civil::Date::new(year, month.try_into().ok()?, day.try_into().ok()?).ok()?;
    let epoch = jiff::civil::date(1970, 1, 1);
    let days = date.since((jiff::Unit::Day, epoch)).ok()?.get_days();
    Some(f64::from(days) * DAY_S)
}

/// `ddmm.mmm,N,dddmm.mmm,E` in degrees.
fn place<'a>(field: &impl Fn(usize) -> &'a str) -> Option<(f64, f64)> {
    let angle = |text: &str, hemisphere: &str, digits: usize, negative: &str| {
        let whole: f64 = text.get(..digits)?.parse().ok()?;
        let minutes = number(text.get(digits..)?).filter(|m| *m < 60.0)?;
        let degrees = whole + minutes / 60.0;
        Some(if hemisphere == negative {
            -degrees
        } else {
            degrees
        })
    };
    let latitude = angle(field(0), field(1), 2, "S")?;
    let longitude = angle(field(2), field(3), 3, "W")?;
    on_earth(latitude, longitude).then_some((latitude, longitude))
}

/// Reads a log.
///
/// # Errors
/// [`TrackError`].
pub fn read(mut file: impl BufRead) -> Result<Track, TrackError> {
    let mut joiner = Joiner::default();
    let mut tally = Tally::default();
    let mut line_bytes = Vec::new();
    let (mut line, mut sentences) = (0, 0);
    loop {
        line_bytes.clear();
        if read_line(&mut file, &mut line_bytes)? == 0 {
            break;
        }
        line += 1;
        let text = String::from_utf8_lossy(&line_bytes);
        if text.trim().is_empty() || text.starts_with('#') {
            continue;
        }
        match sentence(&text) {
            Ok(s) => {
                sentences += 1;
                joiner.take(&s);
            }
            Err(e) => {
                sentences +=
                    usize::from(matches!(e, SentenceError::NoFix | SentenceError::Kind(_)));
                tally.add(e.to_string(), Some(line));
            }
        }
    }
    if sentences == 0 {
        return Err(TrackError::NotThis {
            format: "NMEA 0183",
        });
    }
    joiner.finish(tally)
}

/// One line, of which at most [`LONGEST_LINE`] bytes are kept; returns the bytes passed.
fn read_line(file: &mut impl BufRead, kept: &mut Vec<u8>) -> std::io::Result<usize> {
    let mut passed = 0;
    loop {
        let (used, done) = {
            let available = file.fill_buf()?;
            let end = available.iter().position(|b| *b == b'\n');
            let used = end.map_or(available.len(), |i| i + 1);
            let room = LONGEST_LINE.saturating_sub(kept.len()).min(used);
            kept.extend_from_slice(&available[..room]);
            (used, end.is_some() || available.is_empty())
        };
        file.consume(used);
        passed += used;
        if done {
            return Ok(passed);
        }
    }
}

/// Joins sentences of one time into fixes.
#[derive(Default)]
struct Joiner {
    now: Sentence,
    day_unix_s: Option<f64>,
    midnights: f64,
    last_day_time_s: f64,
    fixes: Vec<(f64, Sentence)>,
}

impl Joiner {
    fn take(&mut self, s: &Sentence) {
        let new_time = s
            .day_time_s
            .is_some_and(|t| self.now.day_time_s.is_some_and(|n| n != t));
        if new_time {
            self.close();
        }
        let n = &mut self.now;
        n.day_time_s = n.day_time_s.or(s.day_time_s);
        n.place_deg = n.place_deg.or(s.place_deg);
        n.speed_m_s = n.speed_m_s.or(s.speed_m_s);
        n.course_deg = n.course_deg.or(s.course_deg);
        n.dilution = n.dilution.or(s.dilution);
        self.day_unix_s = self.day_unix_s.or(s.day_unix_s);
    }

    fn close(&mut self) {
        let s = std::mem::take(&mut self.now);
        let (Some(t), Some(_)) = (s.day_time_s, s.place_deg) else {
            return;
        };
        if t < self.last_day_time_s - 0.5 * DAY_S {
            self.midnights += 1.0;
        }
        self.last_day_time_s = t;
        self.fixes.push((t + self.midnights * DAY_S, s));
    }

    fn finish(mut self, tally: Tally) -> Result<Track, TrackError> {
        self.close();
        let start = self.fixes.first().ok_or(TrackError::NoFix)?.0;
        let fix = |(t, s): &(f64, Sentence)| {
            let (latitude, longitude) = s.place_deg.unwrap_or_default();
            Fix {
                time_s: t - start,
                latitude_rad: latitude.to_radians(),
                longitude_rad: longitude.to_radians(),
                speed_m_s: s.speed_m_s,
                course_rad: s.course_deg.map(f64::to_radians),
                dilution: s.dilution,
                segment: 0,
            }
        };
        Ok(Track {
            start_unix_s: self.day_unix_s.map(|d| d + start),
            fixes: self.fixes.iter().map(fix).collect(),
            skipped: tally.done(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Table;

    fn log(name: &str) -> Result<Track, TrackError> {
        let path = format!("{}/../../checks/tracks/{name}", env!("CARGO_MANIFEST_DIR"));
        read(std::fs::read(path).unwrap().as_slice())
    }

    #[test]
    fn published_sentences_have_their_published_checksums() {
        let t = Table::read(include_str!("../../../../checks/nmea_sentences.csv"));
        for r in 0..t.len() {
            let body = t.text(r, "sentence_body");
            let computed = t.text(r, "checksum_computed_hex");
            assert_eq!(format!("{:02X}", checksum(body)), computed, "{body}");
            let published = format!("${body}*{}", t.text(r, "checksum_published_hex"));
            let wrong = t.text(r, "checksum_published_hex") != computed;
            let refused = sentence(&published) == Err(SentenceError::Checksum);
            assert_eq!(refused, wrong, "{body}");
        }
    }

    #[test]
    fn published_sentences_mean_what_was_published() {
        let s = sentence("$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A")
            .unwrap();
        // 22.4 kn = 11.524 m/s; 48.117300 N 11.516667 E; 12:35:19; 1994-03-23 is day 8847.
        assert!((s.speed_m_s.unwrap() - 11.524).abs() < 5e-4);
        let (lat, lon) = s.place_deg.unwrap();
        assert!((lat - 48.1173).abs() < 5e-7 && (lon - 11.516_667).abs() < 5e-7);
        assert_eq!(s.day_time_s, Some(45_319.0));
        assert_eq!(s.day_unix_s, Some(8847.0 * DAY_S));
        let g =
            sentence("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47").unwrap();
        assert_eq!(g.dilution, Some(0.9));
        let v = sentence("$GPVTG,054.7,T,034.4,M,005.5,N,010.2,K*48").unwrap();
        assert!((v.speed_m_s.unwrap() - 10.2 / 3.6).abs() < 0.01);
        // Padded fields and a wrong checksum: refused with it, read without.
        let padded = "$GPRMC,170047.00,A,4121.23302,N,00201.31654,W,2.703, ,200417, , ,A";
        let s = sentence(padded).unwrap();
        assert!(s.place_deg.unwrap().1 < 0.0 && s.course_deg.is_none());
    }

    #[test]
    fn a_recorded_log_moves_as_fast_as_it_says() {
        let t = log("receiver_moving.nmea").unwrap();
        assert!(
            t.fixes.len() > 40 && t.start_unix_s.is_some(),
            "{}",
            t.fixes.len()
        );
        let plane = crate::track::plane::Plane::at(&t.fixes[0]);
        let mut off = Vec::new();
        for pair in t
            .fixes
            .windows(2)
            .filter(|p| p[1].time_s - p[0].time_s == 1.0)
        {
            // Receivers smooth places and speeds differently: compare where the speed is steady.
            let speeds = [0, 1].map(|i| pair[i].speed_m_s.unwrap());
            if (speeds[1] / speeds[0] - 1.0).abs() > 0.01 {
                continue;
            }
            let (a, b) = (plane.place(&pair[0]), plane.place(&pair[1]));
            let moved = (b.0 - a.0).hypot(b.1 - a.1);
            let said = 0.5 * (speeds[0] + speeds[1]);
            off.push(moved / said - 1.0);
        }
        let middle = crate::measured::median(&off).unwrap();
        assert!(middle.abs() < 0.01, "{middle}");
    }

    #[test]
    fn a_log_without_a_fix_says_so() {
        assert!(matches!(
            log("receiver_no_fix.nmea"),
            Err(TrackError::NoFix)
        ));
        assert!(matches!(
            read(&b"a\nb\n"[..]),
            Err(TrackError::NotThis { .. })
        ));
    }

    #[test]
    fn midnight_is_passed() {
        let text = "$GPRMC,235959.5,A,5100.0,N,00000.0,E,1,0,310526,,\n\
                    $GPRMC,000000.5,A,5100.0,N,00000.0,E,1,0,010626,,\n";
        let t = read(text.as_bytes()).unwrap();
        assert_eq!(t.fixes[1].time_s, 1.0);
    }
}
