//! What a recording looks like: a sound as a picture, a log's and a track's readings, a film's frames.
//! What is measured on it comes from the jobs.

use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse as _, Response};
use evidence::columns::Quantity;
use evidence::outing::log::{self, readings};
use evidence::outing::recording::{Settings, frame_times, mapping_for, measure_track};
use evidence::sound::decode::{Channel, Sound};
use evidence::sound::picture::{Frame, Picture, picture};
use evidence::table::Table;
use serde::{Deserialize, Serialize};
use std::fs::File;
use std::path::PathBuf;
use std::sync::Arc;
use utoipa::{IntoParams, ToSchema};

use super::demos::plain_name;
use super::outings::outing;
use crate::app::{App, aside};
use crate::desk::Desk;
use crate::error::{Answer, ApiError, Body, Query, Refusal};
use crate::json::Json;
use workshop::recordings::log::{ColumnRead, LogAnswer, LogAsk};
use workshop::{BoatAt, Quiet};

/// Most columns and rows of a sound's picture.
const MOST_COLUMNS: usize = 2000;
const MOST_ROWS: usize = 512;
/// Longest part of a sound that is drawn in one go, s.
const LONGEST_S: f64 = 4.0 * 3600.0;
/// Larger tables are no log.
const LARGEST_LOG: u64 = 512 << 20;
/// Most readings sent of each course; more are thinned to the extremes of each stretch.
const MOST_READINGS: usize = 1 << 20;

/// A recording of an outing that is there.
fn place(desk: &Desk, id: &str, name: &str) -> Answer<(String, PathBuf)> {
    let name = plain_name(name)?;
    let folder = outing(desk, id, false)?;
    if !folder.join(&name).is_file() {
        return Err(ApiError::missing(
            format!("there is no recording {name}"),
            "",
        ));
    }
    let path = workshop::beneath::inside(&folder, &name)?;
    Ok((name, path))
}

fn open(path: &std::path::Path) -> Answer<File> {
    Ok(workshop::beneath::open(path)?)
}

/// A recording that cannot be read as what was asked for.
fn fault(name: &str, why: &dyn std::fmt::Display) -> ApiError {
    ApiError::unusable(format!("{name}: {why}"), "")
}

/// Which part of a sound to draw, and how finely.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub struct PictureAsked {
    /// First moment, s; the beginning unless given.
    pub from: Option<f64>,
    /// Last moment, s; the end unless given.
    pub to: Option<f64>,
    /// Bottom, Hz; 0 unless given.
    pub low: Option<f64>,
    /// Top, Hz; 4000 unless given.
    pub high: Option<f64>,
    /// Stretches of time, at most 2000; 600 unless given. Up to twice as many come.
    pub columns: Option<usize>,
    /// Bands of frequency, at most 512; 200 unless given.
    pub rows: Option<usize>,
}

/// A sound as a picture: tones against time. Little-endian: four 64-bit floats (beginning of the first
/// column in s, width of a column in s, bottom of the lowest row in Hz, height of a row in Hz), two
/// 32-bit counts (columns, rows), then a byte a place, column after column, the lowest row first: 0 to
/// 255 for 0 to 36 dB over the bands around.
#[utoipa::path(get, path = "/api/outings/{id}/recordings/{name}/picture", tag = "outings",
    params(("id" = String, Path, max_length = 40), ("name" = String, Path, max_length = 120), PictureAsked),
    responses((status = 200, content_type = "application/octet-stream"),
        (status = "4XX", body = Refusal)))]
pub async fn sound_picture(
    State(app): State<Arc<App>>,
    Path((id, name)): Path<(String, String)>,
    Query(asked): Query<PictureAsked>,
) -> Answer<Response> {
    let desk = app.desk()?;
    let frame = frame(&asked)?;
    aside(move || {
        let (name, path) = place(&desk, &id, &name)?;
        let extension = name.rsplit_once('.').map(|e| e.1);
        let drawn = Sound::open(open(&path)?, extension, Channel::Mean)
            .and_then(|mut sound| picture(&mut sound, &frame))
            .map_err(|e| fault(&name, &e))?;
        Ok(octets(picture_bytes(&drawn)))
    })
    .await
}

fn frame(asked: &PictureAsked) -> Answer<Frame> {
    let from_s = asked.from.unwrap_or(f64::NEG_INFINITY);
    let frame = Frame {
        from_s,
        to_s: asked
            .to
            .unwrap_or(f64::INFINITY)
            .min(from_s.max(0.0) + LONGEST_S),
        low_hz: asked.low.unwrap_or(0.0),
        high_hz: asked.high.unwrap_or(4000.0),
        columns: asked.columns.unwrap_or(600),
        rows: asked.rows.unwrap_or(200),
    };
    let whole = |n: usize, most: usize| (1..=most).contains(&n);
    let rising = frame.from_s < frame.to_s && frame.low_hz >= 0.0 && frame.low_hz < frame.high_hz;
    if rising && whole(frame.columns, MOST_COLUMNS) && whole(frame.rows, MOST_ROWS) {
        return Ok(frame);
    }
    Err(ApiError::bad(
        "that part of the sound cannot be drawn",
        format!(
            "from before to, low below high, 1 to {MOST_COLUMNS} columns, 1 to {MOST_ROWS} rows"
        ),
    ))
}

fn picture_bytes(p: &Picture) -> Vec<u8> {
    let mut out = Vec::with_capacity(40 + p.levels.len());
    for number in [p.from_s, p.column_s, p.low_hz, p.row_hz] {
        out.extend(number.to_le_bytes());
    }
    for count in [p.levels.len() / p.rows, p.rows] {
        out.extend((count as u32).to_le_bytes());
    }
    out.extend(&p.levels);
    out
}

fn octets(bytes: Vec<u8>) -> Response {
    ([(header::CONTENT_TYPE, "application/octet-stream")], bytes).into_response()
}

/// Frames of a film.
#[derive(Debug, Serialize, ToSchema)]
pub struct FramesView {
    /// When each frame is shown, s on the film's clock, from the film's own table.
    pub shown_s: Vec<f64>,
}

/// When the frames of an MP4 or MOV film are shown.
#[utoipa::path(get, path = "/api/outings/{id}/recordings/{name}/frames", tag = "outings",
    params(("id" = String, Path, max_length = 40), ("name" = String, Path, max_length = 120)),
    responses((status = 200, body = FramesView), (status = "4XX", body = Refusal)))]
pub async fn frames(
    State(app): State<Arc<App>>,
    Path((id, name)): Path<(String, String)>,
) -> Answer<Json<FramesView>> {
    let desk = app.desk()?;
    aside(move || {
        let (name, path) = place(&desk, &id, &name)?;
        let mut file = std::io::BufReader::new(open(&path)?);
        let shown_s = frame_times(&mut file).map_err(|e| fault(&name, &e))?;
        Ok(Json(FramesView { shown_s }))
    })
    .await
}

/// Heading of a log's or track's readings.
#[derive(Debug, Serialize)]
struct Heading {
    /// How many times.
    count: usize,
    /// Start, s since 1970 UTC, or null.
    start_unix_s: Option<f64>,
    /// Whether the builder agreed to the reading of the columns.
    confirmed: bool,
    /// Whether readings were thinned to the extremes of each stretch.
    thinned: bool,
    courses: Vec<CourseHeading>,
}

#[derive(Debug, Serialize)]
struct CourseHeading {
    name: String,
    unit: String,
}

/// Every reading of a log or a track. Little-endian: a 32-bit length, as many bytes of JSON
/// (`count`, `start_unix_s`, `confirmed`, `thinned`, and `courses` with `name` and `unit`; padded with
/// spaces so that numbers begin at a multiple of 8), `count` times as 64-bit floats, then for each course
/// `count` values as 32-bit floats, NaN where there is none. A track's courses are `east`, `north`, `speed`.
#[utoipa::path(get, path = "/api/outings/{id}/recordings/{name}/courses", tag = "outings",
    params(("id" = String, Path, max_length = 40), ("name" = String, Path, max_length = 120)),
    responses((status = 200, content_type = "application/octet-stream"),
        (status = "4XX", body = Refusal)))]
pub async fn courses(
    State(app): State<Arc<App>>,
    Path((id, name)): Path<(String, String)>,
) -> Answer<Response> {
    let desk = app.desk()?;
    aside(move || {
        let (name, path) = place(&desk, &id, &name)?;
        let head = evidence::outing::recording::kind_of(&name, &mut open(&path)?);
        let is_track = head.is_ok_and(|kind| kind == evidence::outing::RecordingKind::Track);
        let all = if is_track {
            way(&name, &path)?
        } else {
            logged(&desk, &name, &path)?
        };
        Ok(octets(course_bytes(all)))
    })
    .await
}

/// Readings before they are sent.
struct Sent {
    time_s: Vec<f64>,
    start_unix_s: Option<f64>,
    confirmed: bool,
    courses: Vec<(String, String, Vec<f64>)>,
}

fn logged(desk: &Desk, name: &str, path: &std::path::Path) -> Answer<Sent> {
    let file = open(path)?;
    if file.metadata().is_ok_and(|m| m.len() > LARGEST_LOG) {
        return Err(fault(name, &"larger than 512 MB: cut it to the run"));
    }
    let table = Table::read(file).map_err(|e| fault(name, &e))?;
    let settings = Settings {
        mappings: workshop::recordings::mappings(Some(&desk.folder))?,
        ..Settings::default()
    };
    let mapping = mapping_for(&table, &settings);
    let read = readings(&table, &mapping, &known(desk))
        .ok_or_else(|| fault(name, &"no column of it is time"))?;
    let unit = |u| serde_json::to_value(u).ok()?.as_str().map(str::to_owned);
    let courses = read.courses.into_iter();
    Ok(Sent {
        courses: courses
            .map(|(n, u, v)| (n.to_owned(), unit(u).unwrap_or_default(), v))
            .collect(),
        time_s: read.time_s,
        start_unix_s: read.start_unix_s,
        confirmed: mapping.confirmed,
    })
}

/// What turns a controller's rpm into the propeller's.
fn known(desk: &Desk) -> log::Options {
    let boat = ::boat::load(&desk.look().saved, "boat.toml").ok();
    let drive = boat.and_then(|(boat, _)| boat.drives.into_iter().next());
    let mut ask = log::Options::default();
    if let Some(drive) = drive {
        ask.gear = Some(drive.gear_ratio.value);
        ask.known.pole_pairs = drive.motor.poles.map(|p| p / 2);
    }
    ask
}

fn way(name: &str, path: &std::path::Path) -> Answer<Sent> {
    let (analysis, followed) =
        measure_track(name, open(path)?, &Settings::default()).map_err(|e| fault(name, &e))?;
    let points = &followed.path.points;
    let speeds: Vec<(f64, f64)> = followed.speeds.points.iter().map(|p| (p.0, p.1)).collect();
    let speed = points.iter().map(|p| between(&speeds, p.time_s));
    let course =
        |name: &str, unit: &str, values: Vec<f64>| (name.to_owned(), unit.to_owned(), values);
    Ok(Sent {
        start_unix_s: analysis.start_unix_s,
        confirmed: true,
        courses: vec![
            course("east", "m", points.iter().map(|p| p.east_m).collect()),
            course("north", "m", points.iter().map(|p| p.north_m).collect()),
            course("speed", "m/s", speed.collect()),
        ],
        time_s: points.iter().map(|p| p.time_s).collect(),
    })
}

/// Between the two nearest of rising times; NaN outside of them.
fn between(course: &[(f64, f64)], time_s: f64) -> f64 {
    let after = course.partition_point(|p| p.0 < time_s);
    match (
        after.checked_sub(1).and_then(|i| course.get(i)),
        course.get(after),
    ) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (time_s - a.0) / (b.0 - a.0),
        (None, Some(b)) if b.0 == time_s => b.1,
        _ => f64::NAN,
    }
}

fn course_bytes(all: Sent) -> Vec<u8> {
    let step = all.time_s.len().div_ceil(MOST_READINGS / 2).max(1);
    let thinned = all.time_s.len() > MOST_READINGS;
    // Each stretch gives two times, and to each course its lowest and highest.
    let times: Vec<f64> = if thinned {
        let stretches = all.time_s.chunks(step);
        stretches.flat_map(|c| [c[0], c[c.len() - 1]]).collect()
    } else {
        all.time_s
    };
    let heading = Heading {
        count: times.len(),
        start_unix_s: all.start_unix_s,
        confirmed: all.confirmed,
        thinned,
        courses: all
            .courses
            .iter()
            .map(|(name, unit, _)| CourseHeading {
                name: name.clone(),
                unit: unit.clone(),
            })
            .collect(),
    };
    let mut json = serde_json::to_vec(&heading).unwrap_or_default();
    json.resize((json.len() + 4).next_multiple_of(8) - 4, b' ');
    let mut out = (json.len() as u32).to_le_bytes().to_vec();
    out.extend(json);
    times.iter().for_each(|t| out.extend(t.to_le_bytes()));
    for (_, _, values) in &all.courses {
        let mut put = |v: f64| out.extend((v as f32).to_le_bytes());
        if thinned {
            for part in values.chunks(step) {
                let finite = || part.iter().copied().filter(|v| v.is_finite());
                put(finite().reduce(f64::min).unwrap_or(f64::NAN));
                put(finite().reduce(f64::max).unwrap_or(f64::NAN));
            }
        } else {
            values.iter().for_each(|v| put(*v));
        }
    }
    out
}

/// The reading of a log's columns that the builder agrees to.
#[derive(Debug, Deserialize, ToSchema)]
pub struct ColumnsAsked {
    /// Columns that are read otherwise than proposed.
    #[serde(default)]
    #[schema(max_items = 200)]
    pub columns: Vec<ColumnRead>,
}

/// Remembers how this logger's columns are read, and gives the log measured so.
#[utoipa::path(post, path = "/api/outings/{id}/recordings/{name}/columns", tag = "outings",
    request_body = ColumnsAsked,
    params(("id" = String, Path, max_length = 40), ("name" = String, Path, max_length = 120)),
    responses((status = 200, body = LogAnswer), (status = "4XX", body = Refusal)))]
pub async fn agree(
    State(app): State<Arc<App>>,
    Path((id, name)): Path<(String, String)>,
    Body(asked): Body<ColumnsAsked>,
) -> Answer<Json<LogAnswer>> {
    let desk = app.desk()?;
    aside(move || {
        let (_, file) = place(&desk, &id, &name)?;
        let question = LogAsk {
            file,
            columns: asked.columns,
            confirm: true,
            ..LogAsk::default()
        };
        let boat = BoatAt::saved(&desk.folder);
        Ok(Json(workshop::ask(&question, Some(&boat), &Quiet)?))
    })
    .await
}

/// What a log's column can hold.
#[utoipa::path(get, path = "/api/quantities", tag = "outings",
    responses((status = 200, body = Vec<Quantity>), (status = "4XX", body = Refusal)))]
pub async fn quantities() -> Json<Vec<Quantity>> {
    Json(Quantity::ALL.to_vec())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thinned_readings_keep_every_peak() {
        let count = MOST_READINGS + 10;
        let mut values = vec![1.0; count];
        values[777_777] = 9.0;
        let sent = Sent {
            time_s: (0..count).map(|i| i as f64).collect(),
            start_unix_s: None,
            confirmed: true,
            courses: vec![("current".into(), "A".into(), values)],
        };
        let bytes = course_bytes(sent);
        let length = u32::from_le_bytes(bytes[..4].try_into().unwrap()) as usize;
        assert_eq!((length + 4) % 8, 0);
        let head: serde_json::Value = serde_json::from_slice(&bytes[4..4 + length]).unwrap();
        let kept = head["count"].as_u64().unwrap() as usize;
        assert!(kept <= MOST_READINGS && head["thinned"] == true);
        assert_eq!(bytes.len(), 4 + length + kept * 12);
        let values = bytes[4 + length + kept * 8..].chunks_exact(4);
        let most = values.map(|b| f32::from_le_bytes(b.try_into().unwrap()));
        assert_eq!(most.fold(0.0, f32::max), 9.0);
    }

    #[test]
    fn a_speed_between_two_is_between_them() {
        let course = [(1.0, 10.0), (3.0, 20.0)];
        assert_eq!(between(&course, 2.0), 15.0);
        assert_eq!(between(&course, 1.0), 10.0);
        assert!(between(&course, 0.5).is_nan() && between(&course, 3.5).is_nan());
    }
}
