//! Days on the pond: recordings come in and are never altered.

use axum::body::Body as RawBody;
use axum::extract::{DefaultBodyLimit, Path, Request, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse as _, Response};
use evidence::outing::OutingFile;
use evidence::outing::file::template;
use evidence::outing::recording::kind_of;
use serde::{Deserialize, Serialize};
use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;
use tokio::io::AsyncWriteExt as _;
use tokio_stream::StreamExt as _;
use tower::ServiceExt as _;
use tower_http::services::ServeFile;
use utoipa::ToSchema;

use super::demos::plain_name;
use crate::app::{App, aside};
use crate::desk::Desk;
use crate::error::{Answer, ApiError, Body, Problem, Refusal, problems};
use crate::json::Json;
use workshop::beneath::beneath;
use workshop::builds::{BuildsAnswer, BuildsAsk, KeepAnswer, KeepAsk};
use workshop::folder::read_text;
use workshop::learn::{LearnAnswer, LearnAsk};
use workshop::notes::{Note, Noted};
use workshop::{BoatAt, Quiet};

/// Largest recording taken in.
pub const MAX_RECORDING_BYTES: u64 = 12 << 30;
/// Files of an outing that are no recordings.
const OWN: [&str; 2] = ["outing.toml", "measured.json"];
/// Extensions of files with pictures.
const FILMS: [&str; 5] = ["mp4", "mov", "m4v", "mkv", "webm"];
/// Largest file of marks.
const MAX_MARKS_BYTES: usize = 1 << 20;

/// A day on the pond.
#[derive(Debug, Serialize, ToSchema)]
pub struct OutingView {
    /// Names it; usually a date.
    pub id: String,
    /// `outing.toml` as written.
    pub text: String,
    /// The same, key by key; null where it cannot be read.
    pub notes: Option<Noted>,
    /// What is wrong with it.
    pub problems: Vec<Problem>,
    /// What the analyses made of it; null before they were asked, and where it cannot be read.
    #[schema(value_type = Option<evidence::outing::Outing>)]
    pub measured: Option<evidence::outing::Outing>,
    /// Everything else in the folder.
    pub recordings: Vec<RecordingView>,
}

/// A recording.
#[derive(Debug, Serialize, ToSchema)]
pub struct RecordingView {
    /// Its name.
    pub name: String,
    /// Its size.
    pub bytes: u64,
    /// To name it in a job: `outings/2026-05-17/run-1.wav`.
    pub file: String,
    /// What it is: `sound`, `marks`, `track`, `log`, `pulses` or `other`.
    pub kind: String,
    /// Whether it has pictures.
    pub film: bool,
}

/// An outing to begin.
#[derive(Debug, Deserialize, ToSchema)]
pub struct OutingAsked {
    /// `2026-05-17`, or that with `-2`.
    #[schema(min_length = 1, max_length = 40)]
    pub id: String,
    /// Text of its `outing.toml`; one to fill in unless given.
    #[serde(default)]
    #[schema(max_length = 65536)]
    pub text: String,
}

/// The outings of this boat.
#[utoipa::path(get, path = "/api/outings", tag = "outings",
    responses((status = 200, body = Vec<OutingView>), (status = "4XX", body = Refusal)))]
pub async fn outings(State(app): State<Arc<App>>) -> Answer<Json<Vec<OutingView>>> {
    let desk = app.desk()?;
    aside(move || Ok(Json(list(&desk)))).await
}

fn list(desk: &Desk) -> Vec<OutingView> {
    let home = beneath(&desk.folder, "outings").map(std::fs::read_dir);
    let names = home.into_iter().flatten().flatten().flatten();
    let own = |name: &std::ffi::OsStr| {
        let folder = FilePath::new("outings").join(name);
        beneath(&desk.folder, folder).is_ok_and(|folder| folder.is_dir())
    };
    let folders = names.filter(|e| own(&e.file_name()));
    let mut all: Vec<OutingView> = folders
        .filter_map(|e| view(&e.path(), e.file_name().to_str()?))
        .collect();
    all.sort_by(|a, b| b.id.cmp(&a.id));
    all
}

fn view(folder: &std::path::Path, id: &str) -> Option<OutingView> {
    let notes = beneath(folder, "outing.toml");
    let text = notes
        .and_then(|notes| read_text(&notes))
        .unwrap_or_default();
    let files = std::fs::read_dir(folder).ok()?.flatten();
    let mut recordings: Vec<RecordingView> = files
        .filter(|e| e.path().is_file())
        .filter_map(|e| {
            let name = e.file_name().to_str()?.to_owned();
            Some(recording_view(folder, id, name, e.metadata().ok()?.len()))
        })
        .filter(|r| !OWN.contains(&r.name.as_str()) && !r.name.starts_with('.'))
        .collect();
    recordings.sort_by(|a, b| a.name.cmp(&b.name));
    let read = OutingFile::read(&text, "outing.toml");
    Some(OutingView {
        id: id.to_owned(),
        notes: read.is_ok().then(|| Noted::read(&text)).flatten(),
        problems: read.map_or_else(|e| problems(&text, &e.problems), |_| Vec::new()),
        text,
        measured: workshop::outing::read_measured(folder).ok().flatten(),
        recordings,
    })
}

pub fn recording_view(
    folder: &std::path::Path,
    id: &str,
    name: String,
    bytes: u64,
) -> RecordingView {
    let open = beneath(folder, &name).and_then(|place| workshop::beneath::open(&place));
    let kind = open
        .ok()
        .and_then(|mut file| kind_of(&name, &mut file).ok());
    let kind = kind.and_then(|k| serde_json::to_value(k).ok());
    let kind = kind.as_ref().and_then(serde_json::Value::as_str);
    let extension = name.rsplit_once('.').map_or("", |e| e.1);
    RecordingView {
        bytes,
        file: format!("outings/{id}/{name}"),
        kind: kind.unwrap_or("other").to_owned(),
        film: FILMS.contains(&extension.to_ascii_lowercase().as_str()),
        name,
    }
}

/// Begins an outing; one that is there already stays as it is.
#[utoipa::path(post, path = "/api/outings", tag = "outings", request_body = OutingAsked,
    responses((status = 200, body = OutingView), (status = "4XX", body = Refusal)))]
pub async fn begin(
    State(app): State<Arc<App>>,
    Body(asked): Body<OutingAsked>,
) -> Answer<Json<OutingView>> {
    let desk = app.desk()?;
    aside(move || {
        let id = plain_name(&asked.id)?;
        workshop::outing::check_date(&id)?;
        let mut text = asked.text;
        if !text.is_empty() {
            OutingFile::read(&text, "outing.toml")?;
        }
        let folder = outing(&desk, &id, true)?;
        let _one = workshop::writing::one_writer(&folder)?;
        let there = folder.join("outing.toml");
        if text.is_empty() && !there.exists() {
            text = template("", None);
        }
        // What somebody else wrote meanwhile is not lost to one who never saw it.
        let other = || std::fs::read(&there).is_ok_and(|now| now != text.as_bytes());
        if !text.is_empty() && other() {
            return Err(ApiError::conflict(
                format!("the outing of {id} is there already"),
                "add to it by its notes, or edit its outing.toml",
            ));
        }
        if !text.is_empty() {
            workshop::folder::write_whole(&there, text.as_bytes())?;
        }
        view(&folder, &id).map(Json).ok_or_else(ApiError::bug)
    })
    .await
}

/// What to write into an outing's notes.
#[derive(Debug, Deserialize, ToSchema)]
pub struct NotesAsked {
    /// One after the other; all or none are written.
    #[schema(min_items = 1, max_items = 50)]
    pub notes: Vec<Note>,
}

/// Writes single keys of `outing.toml`, comments and order kept.
#[utoipa::path(post, path = "/api/outings/{id}/notes", tag = "outings", request_body = NotesAsked,
    params(("id" = String, Path, max_length = 40)),
    responses((status = 200, body = OutingView), (status = "4XX", body = Refusal)))]
pub async fn note(
    State(app): State<Arc<App>>,
    Path(id): Path<String>,
    Body(asked): Body<NotesAsked>,
) -> Answer<Json<OutingView>> {
    let desk = app.desk()?;
    aside(move || {
        let folder = outing(&desk, &id, false)?;
        workshop::notes::note(&folder, &asked.notes)?;
        view(&folder, &id).map(Json).ok_or_else(ApiError::bug)
    })
    .await
}

/// The folder of an outing.
pub fn outing(desk: &Desk, id: &str, make: bool) -> Answer<PathBuf> {
    let folder = beneath(&desk.folder, FilePath::new("outings").join(plain_name(id)?))?;
    if make {
        // The boat folder itself is not made again when it was deleted.
        if !desk.folder.is_dir() {
            return Err(ApiError::conflict(
                "the boat folder is gone",
                "put it back first",
            ));
        }
        let refused = |e: std::io::Error| workshop::Fault::system("make", &folder, &e);
        std::fs::create_dir_all(&folder).map_err(refused)?;
    } else if !folder.is_dir() {
        return Err(ApiError::missing(format!("there is no outing {id}"), ""));
    }
    Ok(folder)
}

/// Takes a recording in, streamed to disk; one that is there already is never replaced.
#[utoipa::path(put, path = "/api/outings/{id}/recordings/{name}", tag = "outings",
    params(("id" = String, Path, max_length = 40), ("name" = String, Path, max_length = 120)),
    request_body(content = String, content_type = "application/octet-stream"),
    responses((status = 200, body = RecordingView), (status = "4XX", body = Refusal)))]
pub async fn take_in(
    State(app): State<Arc<App>>,
    Path((id, name)): Path<(String, String)>,
    body: RawBody,
) -> Answer<Json<RecordingView>> {
    let desk = app.desk()?;
    let (folder, name) = admitted(&desk, &id, &name)?;
    let path = folder.join(&name);
    let bytes = stream(&folder, &path, body).await?;
    aside(move || Ok(Json(recording_view(&folder, &id, name, bytes)))).await
}

/// Where a recording of that name may come in: of a kind that is read here, and not over one that is there.
pub fn admitted(desk: &Desk, id: &str, name: &str) -> Answer<(PathBuf, String)> {
    let name = plain_name(name)?;
    if OWN.contains(&name.as_str()) {
        return Err(ApiError::conflict(
            format!("{name} is the outing's own file"),
            "rename the recording",
        ));
    }
    if !is_known(&name) {
        return Err(ApiError::unusable(
            format!("{name} is no recording this program reads"),
            "sound: WAV, FLAC, OGG, MP3, M4A, AAC; film: MP4, MOV, M4V, MKV, WEBM; track: GPX, NMEA, UBX; logs and pulses: CSV, TXT, LOG, TSV; marks: TOML, JSON",
        ));
    }
    let folder = outing(desk, id, true)?;
    if folder.join(&name).exists() {
        return Err(ApiError::conflict(
            format!("{name} is there already, and recordings are never replaced"),
            "rename it, or use the one that is there",
        ));
    }
    Ok((folder, name))
}

fn is_known(name: &str) -> bool {
    let extension = name
        .rsplit_once('.')
        .map_or("", |e| e.1)
        .to_ascii_lowercase();
    FILMS.contains(&extension.as_str()) || evidence::outing::recording::is_known(&extension)
}

/// Writes beside, and renames when all of it came: a broken upload leaves nothing behind.
async fn stream(folder: &std::path::Path, path: &std::path::Path, body: RawBody) -> Answer<u64> {
    let refused = |e: std::io::Error| ApiError::from(workshop::Fault::system("keep", path, &e));
    let mut beside = tempfile::Builder::new();
    beside.prefix(workshop::writing::UNFINISHED);
    let beside = beside.tempfile_in(folder).map_err(refused)?;
    let mut file = tokio::fs::File::create(beside.path())
        .await
        .map_err(refused)?;
    let mut bytes = 0u64;
    let mut parts = body.into_data_stream();
    while let Some(part) = parts.next().await {
        let part = part
            .map_err(|e| ApiError::bad(format!("the recording broke off: {e}"), "send it again"))?;
        bytes += part.len() as u64;
        if bytes > MAX_RECORDING_BYTES {
            return Err(too_large());
        }
        file.write_all(&part).await.map_err(refused)?;
    }
    file.sync_all().await.map_err(refused)?;
    beside
        .persist_noclobber(path)
        .map_err(|e| refused(e.error))?;
    workshop::writing::flush_folder(folder);
    Ok(bytes)
}

/// Over what is taken in.
pub fn too_large() -> ApiError {
    ApiError::new(
        axum::http::StatusCode::PAYLOAD_TOO_LARGE,
        "the recording is over 12 GB",
        "cut it to the run",
    )
}

/// Recordings have a limit of their own.
pub fn no_limit() -> DefaultBodyLimit {
    DefaultBodyLimit::disable()
}

/// A recording as it is; parts of it by Range, to step through a video.
#[utoipa::path(get, path = "/api/outings/{id}/recordings/{name}", tag = "outings",
    params(("id" = String, Path, max_length = 40), ("name" = String, Path, max_length = 120)),
    responses((status = 200, content_type = "application/octet-stream"),
        (status = "4XX", body = Refusal)))]
pub async fn recording(
    State(app): State<Arc<App>>,
    Path((id, name)): Path<(String, String)>,
    request: Request,
) -> Answer<Response> {
    let desk = app.desk()?;
    let name = plain_name(&name)?;
    let folder = outing(&desk, &id, false)?;
    if !folder.join(&name).is_file() {
        return Err(ApiError::missing(
            format!("there is no recording {name}"),
            "",
        ));
    }
    let path = workshop::beneath::inside(&folder, &name)?;
    match ServeFile::new(path).oneshot(request).await {
        Ok(response) => Ok(as_file(response.into_response())),
        Err(never) => match never {},
    }
}

/// A recording may come from anybody, so it is never a page of this site: sound and film keep their type for the player,
/// everything else is bytes, and what is opened by itself is saved, and runs nothing.
fn as_file(mut response: Response) -> Response {
    let headers = response.headers_mut();
    let kind = headers.get(header::CONTENT_TYPE).map(HeaderValue::as_bytes);
    if !kind.is_some_and(|kind| kind.starts_with(b"audio/") || kind.starts_with(b"video/")) {
        let bytes = HeaderValue::from_static("application/octet-stream");
        headers.insert(header::CONTENT_TYPE, bytes);
    }
    let save = HeaderValue::from_static("attachment");
    headers.insert(header::CONTENT_DISPOSITION, save);
    let nothing = HeaderValue::from_static("sandbox; default-src 'none'");
    headers.insert(header::CONTENT_SECURITY_POLICY, nothing);
    response
}

/// Writes marks set in the page beside a film: `NAME` ends in `.marks.json` or `.marks.toml`.
/// Marks are notes, and are replaced; docs/recordings.md shows how they are written.
#[utoipa::path(put, path = "/api/outings/{id}/marks/{name}", tag = "outings",
    params(("id" = String, Path, max_length = 40), ("name" = String, Path, max_length = 120)),
    request_body(content = String, content_type = "text/plain"),
    responses((status = 200, body = RecordingView), (status = "4XX", body = Refusal)))]
pub async fn marks(
    State(app): State<Arc<App>>,
    Path((id, name)): Path<(String, String)>,
    text: axum::body::Bytes,
) -> Answer<Json<RecordingView>> {
    let desk = app.desk()?;
    aside(move || {
        let name = plain_name(&name)?;
        if !(name.ends_with(".marks.json") || name.ends_with(".marks.toml")) {
            return Err(ApiError::unusable(
                format!("{name} is no name for marks"),
                "end it in `.marks.json` or `.marks.toml`",
            ));
        }
        let text = std::str::from_utf8(&text).ok();
        let Some(text) = text.filter(|t| t.len() <= MAX_MARKS_BYTES) else {
            return Err(ApiError::unusable("marks are text of at most 1 MB", ""));
        };
        evidence::outing::marks::read(text, &name)?;
        let folder = outing(&desk, &id, false)?;
        workshop::folder::write_whole(&folder.join(&name), text.as_bytes())?;
        let bytes = text.len() as u64;
        Ok(Json(recording_view(&folder, &id, name, bytes)))
    })
    .await
}

/// A build to freeze.
#[derive(Debug, Deserialize, ToSchema)]
pub struct BuildAsked {
    /// Why it changed, in the builder's words.
    #[schema(min_length = 1, max_length = 500)]
    pub why: String,
}

/// Frozen builds side by side: what changed, what was predicted, what happened.
#[utoipa::path(get, path = "/api/builds", tag = "builds",
    responses((status = 200, body = BuildsAnswer), (status = "4XX", body = Refusal)))]
pub async fn builds(State(app): State<Arc<App>>) -> Answer<Json<BuildsAnswer>> {
    let desk = app.desk()?;
    aside(move || {
        let boat = BoatAt::saved(&desk.folder);
        Ok(Json(workshop::ask(
            &BuildsAsk::default(),
            Some(&boat),
            &Quiet,
        )?))
    })
    .await
}

/// What to learn from.
#[derive(Debug, Deserialize, ToSchema)]
pub struct LearnAsked {
    /// The outing.
    #[schema(min_length = 1, max_length = 40)]
    pub outing: String,
}

/// Keeps what an outing taught: writes `learned.toml`, which every prediction then carries.
#[utoipa::path(post, path = "/api/learned", tag = "outings", request_body = LearnAsked,
    responses((status = 200, body = LearnAnswer), (status = "4XX", body = Refusal)))]
pub async fn learn(
    State(app): State<Arc<App>>,
    Body(asked): Body<LearnAsked>,
) -> Answer<Json<LearnAnswer>> {
    let desk = app.desk()?;
    let id = plain_name(&asked.outing)?;
    let room = app.jobs.room()?;
    aside(move || {
        let _room = room;
        let question = LearnAsk {
            outing: vec![id],
            keep: true,
        };
        let boat = BoatAt::saved(&desk.folder);
        Ok(Json(workshop::ask(&question, Some(&boat), &Quiet)?))
    })
    .await
}

/// Predicts without what was learned: `learned.toml` is set aside, not deleted.
#[utoipa::path(delete, path = "/api/learned", tag = "outings",
    responses((status = 200, body = Aside), (status = "4XX", body = Refusal)))]
pub async fn unlearn(State(app): State<Arc<App>>) -> Answer<Json<Aside>> {
    let desk = app.desk()?;
    aside(move || {
        let file = desk.folder.join(workshop::folder::LEARNED);
        if !file.is_file() {
            return Err(ApiError::missing("nothing is learned for this boat", ""));
        }
        let name = |n: u32| format!("learned-before-{n}.toml");
        let free = (1..).map(name).find(|n| !desk.folder.join(n).exists());
        let aside = free.ok_or_else(ApiError::bug)?;
        std::fs::rename(&file, desk.folder.join(&aside))
            .map_err(|e| workshop::Fault::system("set aside", &file, &e))?;
        Ok(Json(Aside { file: aside }))
    })
    .await
}

/// Where what was learned went.
#[derive(Debug, Serialize, ToSchema)]
pub struct Aside {
    /// In the boat folder.
    pub file: String,
}

/// A symptom known here.
#[derive(Debug, Serialize, ToSchema)]
pub struct SymptomView {
    /// Names it.
    pub id: &'static str,
    /// In the builder's words; a job `why` takes it.
    pub name: &'static str,
}

/// Symptoms whose causes are known here.
#[utoipa::path(get, path = "/api/symptoms", tag = "outings",
    responses((status = 200, body = Vec<SymptomView>), (status = "4XX", body = Refusal)))]
pub async fn symptoms() -> Json<Vec<SymptomView>> {
    let view = |s: &learn::why::table::Symptom| SymptomView {
        id: s.id,
        name: s.name,
    };
    Json(learn::why::table::SYMPTOMS.iter().map(view).collect())
}

/// Freezes the saved boat as a build.
#[utoipa::path(post, path = "/api/builds", tag = "builds", request_body = BuildAsked,
    responses((status = 200, body = KeepAnswer), (status = "4XX", body = Refusal)))]
pub async fn keep(
    State(app): State<Arc<App>>,
    Body(asked): Body<BuildAsked>,
) -> Answer<Json<KeepAnswer>> {
    let desk = app.desk()?;
    let room = app.jobs.room()?;
    aside(move || {
        let _room = room;
        let question = KeepAsk {
            why: asked.why,
            ..KeepAsk::default()
        };
        let boat = BoatAt::saved(&desk.folder);
        Ok(Json(workshop::ask(&question, Some(&boat), &Quiet)?))
    })
    .await
}
