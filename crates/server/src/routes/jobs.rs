//! Long work: started, watched, stopped.

use axum::Json;
use axum::extract::{Path, State};
use axum::response::sse::{Event, KeepAlive, Sse};
use serde::Deserialize;
use std::convert::Infallible;
use std::sync::Arc;
use tokio_stream::Stream;
use tokio_stream::wrappers::ReceiverStream;
use utoipa::ToSchema;

use super::boat::Of;
use super::study::still_wanted;
use crate::app::App;
use crate::error::{Answer, ApiError, Body, Refusal};
use crate::jobs::{Job, JobView, Stage};
use crate::studies::Depth;

/// Work to start.
#[derive(Debug, Deserialize, ToSchema)]
pub struct JobAsked {
    /// What to work out.
    pub kind: JobKind,
    /// `saved` or `whatif` (unless given).
    #[serde(default)]
    pub of: Of,
}

/// What can be worked out at length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum JobKind {
    /// The full study: when done, GET /api/study and /api/poses have spreads and adjustments.
    Study,
}

/// Starts a job.
#[utoipa::path(post, path = "/api/jobs", tag = "jobs", request_body = JobAsked,
    responses((status = 200, body = JobView), (status = "4XX", body = Refusal)))]
pub async fn start(
    State(app): State<Arc<App>>,
    Body(asked): Body<JobAsked>,
) -> Answer<Json<JobView>> {
    let desk = app.desk()?;
    let text = asked.of.text(&desk.look()).to_owned();
    let on = app.clone();
    let JobKind::Study = asked.kind;
    let view = app.jobs.start("study", move |job: &Job| {
        let wanted = || job.wanted() && still_wanted(&on, &desk, &text);
        let step = |doing: &'static str| job.step(doing, None);
        on.studies
            .study(&desk.folder, &text, Depth::Full, &step, &wanted)?;
        Ok(serde_json::json!({"revision": crate::revision::revision(&text)}))
    })?;
    Ok(Json(view))
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

/// Stops a job; what it had is dropped.
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

fn number(id: &str) -> Answer<u64> {
    id.parse()
        .map_err(|_| ApiError::bad(format!("{id:?} is not a job number"), ""))
}
