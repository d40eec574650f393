//! Recordings that come in over a connection that breaks: what has come stays, and the rest follows.
//!
//! As the draft of the IETF for resumable uploads has it (draft-ietf-httpbis-resumable-upload): `HEAD` tells the
//! `Upload-Offset`, `PATCH` with that offset appends, and `Upload-Complete: ?1` says that nothing is missing.

use axum::body::Body as RawBody;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode};
use axum::response::{IntoResponse as _, Response};
use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;
use tokio::io::AsyncWriteExt as _;
use tokio_stream::StreamExt as _;
use utoipa::{IntoParams, ToSchema};
use workshop::beneath::beneath;
use workshop::writing::{COMING, flush_folder, is_stale};

use super::outings::{
    MAX_RECORDING_BYTES, RecordingView, admitted, outing, recording_view, too_large,
};
use crate::app::{App, aside};
use crate::error::{Answer, ApiError, Query, Refusal};
use crate::json::Json;

const OFFSET: HeaderName = HeaderName::from_static("upload-offset");
const COMPLETE: HeaderName = HeaderName::from_static("upload-complete");

/// Which file of that name: one of another size or time is another.
#[derive(Debug, Clone, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub struct FileAsked {
    /// All of it.
    pub bytes: u64,
    /// When it was last changed, as the sender knows it: tells it from another of that name and size.
    #[serde(default)]
    #[param(max_length = 40)]
    pub stamp: String,
}

/// How far a recording has come.
#[derive(Debug, Serialize, ToSchema)]
pub struct ComingView {
    /// Bytes that are here.
    pub offset: u64,
    /// Whether that is all.
    pub complete: bool,
    /// Once it is.
    pub recording: Option<RecordingView>,
}

impl ComingView {
    fn sent(self) -> Response {
        let complete = HeaderValue::from_static(if self.complete { "?1" } else { "?0" });
        let headers = [
            (OFFSET, HeaderValue::from(self.offset)),
            (COMPLETE, complete),
        ];
        (headers, Json(self)).into_response()
    }
}

/// How much of a recording is here: where to go on. Whoever was sending it before writes no more.
#[utoipa::path(get, path = "/api/outings/{id}/uploads/{name}", tag = "outings",
    params(("id" = String, Path, max_length = 40), ("name" = String, Path, max_length = 120), FileAsked),
    responses((status = 200, body = ComingView), (status = "4XX", body = Refusal)))]
pub async fn come(
    State(app): State<Arc<App>>,
    Path((id, name)): Path<(String, String)>,
    Query(file): Query<FileAsked>,
) -> Answer<Response> {
    let desk = app.desk()?;
    let name = super::demos::plain_name(&name)?;
    let nothing = ComingView {
        offset: 0,
        complete: false,
        recording: None,
    };
    let Ok(folder) = outing(&desk, &id, false) else {
        // Asking makes no folder.
        return Ok(nothing.sent());
    };
    let part = part(&folder, &name, &file)?;
    if app.uploads.is_whole(&part) && folder.join(&name).is_file() {
        let done = (folder, id, name);
        return whole(done, file.bytes).await;
    }
    admitted(&desk, &id, &name)?;
    let turn = app.uploads.turn(&part);
    let mut now = turn.lock().await;
    *now += 1;
    let coming = ComingView {
        offset: length(&part)?,
        ..nothing
    };
    Ok(coming.sent())
}

/// Appends to what is here, from `Upload-Offset` on. What came before a connection broke is kept; the last piece makes
/// it a recording.
#[utoipa::path(patch, path = "/api/outings/{id}/uploads/{name}", tag = "outings",
    params(("id" = String, Path, max_length = 40), ("name" = String, Path, max_length = 120), FileAsked,
        ("upload-offset" = u64, Header, description = "Bytes that are here already, as the request before told.")),
    request_body(content = String, content_type = "application/partial-upload"),
    responses((status = 200, body = ComingView), (status = "4XX", body = Refusal)))]
pub async fn go_on(
    State(app): State<Arc<App>>,
    Path((id, name)): Path<(String, String)>,
    Query(file): Query<FileAsked>,
    headers: HeaderMap,
    body: RawBody,
) -> Answer<Response> {
    let desk = app.desk()?;
    let (folder, name) = admitted(&desk, &id, &name)?;
    if file.bytes > MAX_RECORDING_BYTES {
        return Err(too_large());
    }
    let from = headers
        .get(OFFSET)
        .and_then(|v| v.to_str().ok()?.parse().ok());
    let from: u64 = from.ok_or_else(|| {
        ApiError::bad("no Upload-Offset came with the request", "ask for it first")
    })?;
    let part = part(&folder, &name, &file)?;
    if from == 0 {
        clear(&folder);
    }
    // Beside the connection: where that breaks, what came is still written to its end.
    let coming = Coming {
        app,
        part,
        total: file.bytes,
    };
    let path = folder.join(&name);
    let to = path.clone();
    let here = tokio::spawn(async move { coming.take(from, body, &to).await });
    let here = here.await.unwrap_or_else(|_| Err(ApiError::bug()))?;
    if here == file.bytes {
        return whole((folder, id, name), here).await;
    }
    let coming = ComingView {
        offset: here,
        complete: false,
        recording: None,
    };
    Ok(coming.sent())
}

async fn whole((folder, id, name): (PathBuf, String, String), bytes: u64) -> Answer<Response> {
    aside(move || {
        let view = ComingView {
            offset: bytes,
            complete: true,
            recording: Some(recording_view(&folder, &id, name, bytes)),
        };
        Ok(view.sent())
    })
    .await
}

/// Where it is kept until it is whole: the same place for the same file.
fn part(folder: &FilePath, name: &str, file: &FileAsked) -> Answer<PathBuf> {
    let of = format!("{name}\n{}\n{}", file.bytes, file.stamp);
    let known: String = Sha256::digest(of)
        .iter()
        .take(8)
        .map(|b| format!("{b:02x}"))
        .collect();
    let part = beneath(folder, format!("{COMING}{known}"))?;
    // A folder from somebody else may hold anything under that name.
    match part.symlink_metadata() {
        Ok(about) if !about.is_file() => Err(ApiError::conflict(
            format!("something else stands where {name} would come in"),
            "look into the outing's folder for names that begin with .skimwright",
        )),
        _ => Ok(part),
    }
}

fn length(part: &FilePath) -> Answer<u64> {
    match part.metadata() {
        Ok(about) => Ok(about.len()),
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => Ok(0),
        Err(e) => Err(workshop::Fault::system("read", part, &e).into()),
    }
}

/// What was begun and not gone on with for a day.
fn clear(folder: &FilePath) {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in entries.filter(is_stale) {
        let _ = std::fs::remove_file(entry.path());
    }
}

fn elsewhere() -> ApiError {
    ApiError::conflict(
        "it is being sent by another connection",
        "ask how much is here, and go on from there",
    )
}

struct Coming {
    app: Arc<App>,
    part: PathBuf,
    total: u64,
}

impl Coming {
    /// Bytes that are here then.
    async fn take(&self, from: u64, body: RawBody, to: &FilePath) -> Answer<u64> {
        let turn = self.app.uploads.turn(&self.part);
        let refused = |e: std::io::Error| ApiError::from(workshop::Fault::system("keep", to, &e));
        let (mine, mut file) = {
            let mut now = turn.lock().await;
            let here = length(&self.part)?;
            if here != from {
                return Err(ApiError::conflict(
                    format!("{here} bytes of it are here, not {from}"),
                    "ask how much is here, and go on from there",
                ));
            }
            *now += 1;
            let mut how = tokio::fs::OpenOptions::new();
            let file = how.create(true).append(true).open(&self.part).await;
            (*now, file.map_err(refused)?)
        };
        let mut here = from;
        let mut parts = body.into_data_stream();
        while let Some(part) = parts.next().await {
            let part = part.map_err(|e| {
                ApiError::bad(
                    format!("the recording broke off: {e}"),
                    "go on from what is here",
                )
            })?;
            if here + part.len() as u64 > self.total {
                return Err(ApiError::new(
                    StatusCode::UNPROCESSABLE_ENTITY,
                    format!("more came than the {} bytes that were told", self.total),
                    "send it anew",
                ));
            }
            let now = turn.lock().await;
            if *now != mine {
                return Err(elsewhere());
            }
            file.write_all(&part).await.map_err(refused)?;
            // Out of this program's hands before anybody asks how much is here.
            file.flush().await.map_err(refused)?;
            here += part.len() as u64;
        }
        if here == self.total {
            let now = turn.lock().await;
            if *now != mine {
                return Err(elsewhere());
            }
            file.sync_all().await.map_err(refused)?;
            drop(file);
            self.name(to)?;
        }
        Ok(here)
    }

    /// All of it is here: its own name, never over a recording.
    fn name(&self, to: &FilePath) -> Answer<()> {
        let refused = |e: std::io::Error| ApiError::from(workshop::Fault::system("keep", to, &e));
        let beside = tempfile::TempPath::try_from_path(&self.part).map_err(refused)?;
        beside.persist_noclobber(to).map_err(|e| refused(e.error))?;
        if let Some(folder) = to.parent() {
            flush_folder(folder);
        }
        self.app.uploads.finish(&self.part);
        Ok(())
    }
}
