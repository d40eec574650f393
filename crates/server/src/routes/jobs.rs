//! Long work: started, watched, stopped.

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::sse::{Event, KeepAlive, Sse};
use serde::Deserialize;
use std::convert::Infallible;
use std::sync::Arc;
use tokio_stream::Stream;
use tokio_stream::wrappers::ReceiverStream;
use utoipa::ToSchema;
use workshop::child::Request;
use workshop::{Ask, BoatAt};

use super::boat::Of;
use crate::app::App;
use crate::desk::Desk;
use crate::error::{Answer, ApiError, Body, Refusal};
use crate::jobs::{Job, JobView, Stage};
use crate::json::Json;
use crate::program;

/// Work to start.
#[derive(Debug, Deserialize, ToSchema)]
pub struct JobAsked {
    /// Of which text: `saved` or `whatif` (unless given). Outings, builds and meshes are the folder's for both.
    #[serde(default)]
    pub of: Of,
    /// What to work out. Files it names are of the boat folder: `outings/2026-05-17/run-1.wav`.
    pub question: Ask,
}

/// Starts a job.
#[utoipa::path(post, path = "/api/jobs", tag = "jobs", request_body = JobAsked,
    responses((status = 200, body = JobView), (status = "4XX", body = Refusal)))]
pub async fn start(
    State(app): State<Arc<App>>,
    Body(asked): Body<JobAsked>,
) -> Answer<Json<JobView>> {
    let desk = app.desk()?;
    may_ask(&app, &desk, &asked.question)?;
    let request = Request {
        boat: Some(boat_at(&desk, asked.of)),
        ask: asked.question,
    };
    let on = app.clone();
    let view = app.jobs.start(&kind(&request.ask), move |job: &Arc<Job>| {
        job.step("working", None);
        program::put(&on, &desk.folder, &request, job)
    })?;
    Ok(Json(view))
}

/// The boat on the desk, as saved or as tried out.
pub fn boat_at(desk: &Desk, of: Of) -> BoatAt {
    let look = desk.look();
    let tries = of == Of::Whatif && look.draft != look.saved;
    BoatAt {
        path: desk.folder.clone(),
        draft: tries.then_some(look.draft),
    }
}

/// Nothing outside of the boat folder is read or written, and nothing is written that was opened read-only.
fn may_ask(app: &App, desk: &Desk, ask: &Ask) -> Answer<()> {
    if app.config.read_only && ask.writes() {
        return Err(ApiError::new(
            StatusCode::FORBIDDEN,
            "the boat was opened read-only, and this writes into its folder",
            "start `skimwright open` without --read-only",
        ));
    }
    for file in ask.files() {
        workshop::beneath::beneath(&desk.folder, file)?;
    }
    Ok(())
}

/// As the question is tagged: `pond`.
fn kind(ask: &Ask) -> String {
    let sent = serde_json::to_value(ask).unwrap_or_default();
    sent["ask"].as_str().unwrap_or_default().to_owned()
}

/// Jobs going on and lately ended.
#[utoipa::path(get, path = "/api/jobs", tag = "jobs",
    responses((status = 200, body = Vec<JobView>), (status = "4XX", body = Refusal)))]
pub async fn list(State(app): State<Arc<App>>) -> Json<Vec<JobView>> {
    Json(app.jobs.list())
}

/// One job.
#[utoipa::path(get, path = "/api/jobs/{id}", tag = "jobs", params(("id" = u64, Path)),
    responses((status = 200, body = JobView), (status = "4XX", body = Refusal)))]
pub async fn job(State(app): State<Arc<App>>, Path(id): Path<String>) -> Answer<Json<JobView>> {
    Ok(Json(app.jobs.get(number(&id)?)?.now()))
}

/// Stops a job. What it has counted so far is its result, where that means something: a job that is stopped comes to
/// its end within two seconds.
#[utoipa::path(delete, path = "/api/jobs/{id}", tag = "jobs", params(("id" = u64, Path)),
    responses((status = 200, body = JobView), (status = "4XX", body = Refusal)))]
pub async fn stop(State(app): State<Arc<App>>, Path(id): Path<String>) -> Answer<Json<JobView>> {
    let job = app.jobs.get(number(&id)?)?;
    job.stop();
    Ok(Json(job.now()))
}

/// Progress as server-sent events: each is a `JobView`; the last has a stage that is not `running`.
#[utoipa::path(get, path = "/api/jobs/{id}/events", tag = "jobs", params(("id" = u64, Path)),
    responses((status = 200, body = JobView, content_type = "text/event-stream"),
        (status = "4XX", body = Refusal)))]
pub async fn events(
    State(app): State<Arc<App>>,
    Path(id): Path<String>,
) -> Answer<Sse<impl Stream<Item = Result<Event, Infallible>>>> {
    let job = app.jobs.get(number(&id)?)?;
    let mut watch = job.watch();
    let (send, receive) = tokio::sync::mpsc::channel(16);
    tokio::spawn(async move {
        loop {
            let view = watch.borrow_and_update().clone();
            let ended = view.stage != Stage::Running;
            let text = serde_json::to_string(&view).unwrap_or_default();
            let sent = send.send(Ok(Event::default().data(text))).await;
            if ended || sent.is_err() || watch.changed().await.is_err() {
                break;
            }
        }
    });
    Ok(Sse::new(ReceiverStream::new(receive)).keep_alive(KeepAlive::default()))
}

/// A job by its number in a path.
pub fn number(id: &str) -> Answer<u64> {
    id.parse()
        .map_err(|_| ApiError::bad(format!("{id:?} is not a job number"), ""))
}
