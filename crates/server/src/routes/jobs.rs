//! Long work: started, watched, stopped.

use axum::Json;
use axum::extract::{Path, State};
use axum::response::sse::{Event, KeepAlive, Sse};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::convert::Infallible;
use std::io::Write as _;
use std::sync::Arc;
use tokio_stream::Stream;
use tokio_stream::wrappers::ReceiverStream;
use utoipa::ToSchema;

use super::boat::Of;
use super::study::still_wanted;
use crate::app::App;
use crate::error::{Answer, ApiError, Body, Refusal};
use crate::jobs::{Job, JobView, Stage};
use crate::program::{self, with_folder};
use crate::said;
use crate::studies::Depth;

/// Work to start.
#[derive(Debug, Deserialize, ToSchema)]
pub struct JobAsked {
    /// What to work out.
    pub kind: JobKind,
    /// `saved` or `whatif` (unless given).
    #[serde(default)]
    pub of: Of,
    /// The recording, for kinds that hear or read one: `outings/2026-05-17/run-1.wav`.
    #[schema(max_length = 240)]
    pub file: Option<String>,
    /// Symptoms in the builder's words, for `why`.
    #[serde(default)]
    #[schema(max_items = 20)]
    pub words: Vec<String>,
    /// What the command of the same name takes after `--`; `"true"` for one without a value. The `script` of
    /// `pond` is the table itself.
    #[serde(default)]
    pub options: BTreeMap<String, String>,
}

/// What can be worked out at length. All but `study` give what the command of that name prints with
/// `--json`: see docs/json.md.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
#[allow(missing_docs)]
pub enum JobKind {
    /// The full study: when done, GET /api/study and /api/poses have spreads and adjustments.
    Study,
    /// A run in time on the water.
    Pond,
    /// Heat and charge over a run.
    Stint,
    /// Cells, motors and propellers compared.
    Outfit,
    /// Measured beside predicted.
    Learn,
    /// From symptoms to causes.
    Why,
    /// Sound.
    Hear,
    /// A track.
    Track,
    /// Servo pulses.
    Pulses,
    /// A controller or motion log.
    Log,
    /// Marks on a video.
    Marks,
    /// Every recording of an outing: writes its `measured.json`. The outing is `options.outing`.
    Measure,
}

impl JobKind {
    /// The command's name, what it takes, and whether it takes a recording.
    fn command(self) -> (&'static str, &'static [&'static str], bool) {
        match self {
            Self::Study => ("study", &[], false),
            Self::Pond => (
                "pond",
                &[
                    "condition",
                    "water",
                    "wind",
                    "throttle",
                    "rudder",
                    "start",
                    "seconds",
                    "seed",
                    "runs",
                    "odds",
                ],
                false,
            ),
            Self::Stint => ("stint", &["script", "what-if", "soak", "drive"], false),
            Self::Outfit => ("outfit", &["wish", "rows"], false),
            Self::Learn => ("learn", &["outing"], false),
            Self::Why => ("why", &["outing", "variations", "seed"], false),
            Self::Hear => (
                "hear",
                &[
                    "blades",
                    "poles",
                    "gear",
                    "air-temperature",
                    "closest",
                    "lowest-rpm",
                    "highest-rpm",
                    "still",
                    "channel",
                    "from",
                    "to",
                ],
                true,
            ),
            Self::Track => ("track", &["shortest-lap"], true),
            Self::Pulses => (
                "pulses",
                &["level-column", "sample-rate", "time-unit"],
                true,
            ),
            Self::Log => ("log", &["column", "shaft-rpm"], true),
            Self::Marks => ("marks", &[], true),
            Self::Measure => ("measure", &["outing"], false),
        }
    }
}

/// Starts a job.
#[utoipa::path(post, path = "/api/jobs", tag = "jobs", request_body = JobAsked,
    responses((status = 200, body = JobView), (status = "4XX", body = Refusal)))]
pub async fn start(
    State(app): State<Arc<App>>,
    Body(asked): Body<JobAsked>,
) -> Answer<Json<JobView>> {
    let desk = app.desk()?;
    let (name, ..) = asked.kind.command();
    let on = app.clone();
    if asked.kind != JobKind::Study {
        let arguments = arguments(&asked, app.config.read_only)?;
        let view = app.jobs.start(name, move |job: &Arc<Job>| {
            job.step("working", None);
            with_folder(&on, &desk, asked.of, |folder| {
                let mut arguments = arguments;
                if let Some(file) = &asked.file {
                    let real = workshop::folder::inside(&desk.folder, file)?;
                    arguments.insert(1, real.display().to_string());
                    let said = said::options(&desk.folder, file, asked.kind, &asked.options)?;
                    arguments.splice(2..2, said);
                }
                let script = script(&on, &asked)?;
                if let Some(file) = &script {
                    arguments.push(format!("--script={}", file.path().display()));
                }
                program::run_for(&on, folder, &arguments, job)
            })
        })?;
        return Ok(Json(view));
    }
    let text = asked.of.text(&desk.look()).to_owned();
    let view = app.jobs.start(name, move |job: &Arc<Job>| {
        let wanted = || job.wanted() && still_wanted(&on, &desk, &text);
        let step = |doing: &'static str| job.step(doing, None);
        on.studies
            .study(&desk.folder, &text, Depth::Full, &step, &wanted)?;
        Ok(serde_json::json!({"revision": crate::revision::revision(&text)}))
    })?;
    Ok(Json(view))
}

/// The hands of a pond run, sent as the text of their table, in a file for as long as it runs.
fn script(app: &App, asked: &JobAsked) -> Answer<Option<tempfile::NamedTempFile>> {
    let text = asked.options.get("script");
    let Some(text) = text.filter(|_| asked.kind == JobKind::Pond) else {
        return Ok(None);
    };
    let home = &app.config.state_folder;
    let write = || {
        std::fs::create_dir_all(home)?;
        let mut file = tempfile::Builder::new().suffix(".csv").tempfile_in(home)?;
        file.write_all(text.as_bytes())?;
        Ok(file)
    };
    let refused = |e: std::io::Error| workshop::Fault::system("write into", home, &e);
    Ok(Some(write().map_err(refused)?))
}

/// Only what the command takes, each as one word, so that nothing is read as something else.
fn arguments(asked: &JobAsked, read_only: bool) -> Answer<Vec<String>> {
    let (name, known, recording) = asked.kind.command();
    if asked.kind == JobKind::Measure {
        if read_only {
            return Err(ApiError::new(
                axum::http::StatusCode::FORBIDDEN,
                "the boat was opened read-only, and this writes measured.json",
                "start `skimwright open` without --read-only",
            ));
        }
        let outing = asked.options.get("outing").map_or("", String::as_str);
        let outing = super::demos::plain_name(outing)?;
        let words = ["outing", ".", "measure", "--json", "--", &outing];
        return Ok(words.map(str::to_owned).to_vec());
    }
    let mut out = vec![name.to_owned()];
    if recording != asked.file.is_some() {
        let what = if recording {
            "needs a recording as"
        } else {
            "takes no"
        };
        return Err(ApiError::bad(format!("{name} {what} `file`"), ""));
    }
    if !recording {
        out.push(".".to_owned());
    }
    // What the boat is tells blades, poles and gear.
    if matches!(asked.kind, JobKind::Hear | JobKind::Log) {
        out.push("--boat=.".to_owned());
    }
    for (key, value) in &asked.options {
        if asked.kind == JobKind::Pond && key == "script" {
            continue;
        }
        if !known.contains(&key.as_str()) || value.contains('\0') {
            let hint = format!("it takes: {}", known.join(", "));
            return Err(ApiError::bad(format!("{name} does not take `{key}`"), hint));
        }
        out.push(match value.as_str() {
            "true" => format!("--{key}"),
            value => format!("--{key}={value}"),
        });
    }
    out.push("--json".to_owned());
    if asked.kind == JobKind::Why {
        if asked.words.iter().any(|w| w.contains('\0')) {
            return Err(ApiError::bad("a symptom has a control character in it", ""));
        }
        out.push("--".to_owned());
        out.extend(asked.words.iter().cloned());
    }
    Ok(out)
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
