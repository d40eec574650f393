//! What the boat will do: findings, shape, the rail, the report.

use axum::body::Bytes;
use axum::extract::State;
use axum::http::{HeaderValue, header};
use axum::response::{Html, IntoResponse, Response};
use serde::Deserialize;
use std::sync::Arc;
use utoipa::{IntoParams, ToSchema};

use super::boat::{Of, OfAsked};
use crate::app::{App, aside};
use crate::desk::Desk;
use crate::error::{Answer, Query, Refusal};
use crate::json::Json;
use crate::studies::{Depth, Studied};
use crate::views::staves::{self, StaveKind};
use crate::views::{form, mesh, poses, strength, study as answers, worth};

/// Which text, and how hard to look.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub struct StudyAsked {
    /// `saved` or `whatif` (unless given).
    #[serde(default)]
    pub of: Of,
    /// `best` (unless given): the full answer if it is there already, else a quick one.
    #[serde(default)]
    pub depth: DepthAsked,
}

/// How hard to look.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum DepthAsked {
    /// What is there already, else quick.
    #[default]
    Best,
    /// Mass, rest and one pass of the speed curve: no heat, turns, spread or adjustments.
    Quick,
    /// All of it: a second or more.
    Full,
}

/// Findings, mass, balance and assumptions.
#[utoipa::path(get, path = "/api/study", tag = "answers", params(StudyAsked),
    responses((status = 200, body = answers::StudyView), (status = "4XX", body = Refusal)))]
pub async fn study(
    State(app): State<Arc<App>>,
    Query(asked): Query<StudyAsked>,
) -> Answer<Json<answers::StudyView>> {
    with_study(app, asked, |studied, text, full| {
        Ok(Json(answers::view(studied, text, full)))
    })
    .await
}

/// The boat at every speed of the rail, and the staves over it.
#[utoipa::path(get, path = "/api/poses", tag = "answers", params(StudyAsked),
    responses((status = 200, body = poses::PosesView), (status = "4XX", body = Refusal)))]
pub async fn poses(
    State(app): State<Arc<App>>,
    Query(asked): Query<StudyAsked>,
) -> Answer<Json<poses::PosesView>> {
    with_study(app, asked, |studied, text, full| {
        Ok(Json(poses::view(studied, text, full)))
    })
    .await
}

/// Which text, and which lines.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub struct StavesAsked {
    /// `saved` or `whatif` (unless given).
    #[serde(default)]
    pub of: Of,
    /// `stability` (unless given), `flight`, `heat` or `turning`.
    #[serde(default)]
    pub what: StaveKind,
}

/// More lines over the rail, each kind asked for by itself because each takes a while.
#[utoipa::path(get, path = "/api/staves", tag = "answers", params(StavesAsked),
    responses((status = 200, body = staves::StavesView), (status = "4XX", body = Refusal)))]
pub async fn staves(
    State(app): State<Arc<App>>,
    Query(asked): Query<StavesAsked>,
) -> Answer<Json<staves::StavesView>> {
    let desk = app.desk()?;
    aside(move || {
        let look = desk.look();
        let text = asked.of.text(&look).to_owned();
        let wanted = || still_wanted(&app, &desk, &text);
        let lines = app
            .studies
            .staves(&desk.folder, &text, asked.what, &wanted)?;
        Ok(Json(staves::StavesView {
            revision: crate::revision::revision(&text),
            lines: lines.to_vec(),
        }))
    })
    .await
}

/// The shape with what is fitted.
#[utoipa::path(get, path = "/api/form", tag = "answers", params(OfAsked),
    responses((status = 200, body = form::FormView), (status = "4XX", body = Refusal)))]
pub async fn form(
    State(app): State<Arc<App>>,
    Query(asked): Query<OfAsked>,
) -> Answer<Json<form::FormView>> {
    let asked = StudyAsked {
        of: asked.of,
        depth: DepthAsked::Best,
    };
    with_study(app, asked, |studied, text, _| {
        Ok(Json(form::view(studied, text)))
    })
    .await
}

/// The mesh as bytes: `SKM1`, vertices and triangles as u32, then positions and normals as f32 and
/// corners as u32, little-endian, boat axes, m.
#[utoipa::path(get, path = "/api/form/mesh", tag = "answers", params(OfAsked),
    responses((status = 200, content_type = "application/octet-stream"),
        (status = "4XX", body = Refusal)))]
pub async fn mesh(State(app): State<Arc<App>>, Query(asked): Query<OfAsked>) -> Answer<Response> {
    let desk = app.desk()?;
    aside(move || {
        let look = desk.look();
        let ready = app.studies.ready(&desk.folder, asked.of.text(&look))?;
        let bytes = Bytes::from(mesh::bytes(&ready.form.envelope));
        let kind = HeaderValue::from_static("application/octet-stream");
        Ok(([(header::CONTENT_TYPE, kind)], bytes).into_response())
    })
    .await
}

/// A report of which boat file, in which units.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub struct ReportAsked {
    /// `saved` or `whatif` (unless given).
    #[serde(default)]
    pub of: Of,
    /// `metric` or `inch`; as the boat file says unless given.
    pub units: Option<boat::Units>,
}

/// Whether it holds, along its length: a full answer, which takes a second or more.
#[utoipa::path(get, path = "/api/strength", tag = "answers", params(OfAsked),
    responses((status = 200, body = strength::StrengthView), (status = "4XX", body = Refusal)))]
pub async fn strength(
    State(app): State<Arc<App>>,
    Query(asked): Query<OfAsked>,
) -> Answer<Json<strength::StrengthView>> {
    with_study(app, full(asked), |studied, text, _| {
        Ok(Json(strength::view(studied, text)))
    })
    .await
}

/// Which of the numbers nobody gave move the answers most: a full answer, and a while on top of it.
#[utoipa::path(get, path = "/api/worth", tag = "answers", params(OfAsked),
    responses((status = 200, body = worth::WorthView), (status = "4XX", body = Refusal)))]
pub async fn worth(
    State(app): State<Arc<App>>,
    Query(asked): Query<OfAsked>,
) -> Answer<Json<worth::WorthView>> {
    with_study(app, full(asked), |studied, text, _| {
        Ok(Json(worth::view(studied, text)))
    })
    .await
}

const fn full(asked: OfAsked) -> StudyAsked {
    StudyAsked {
        of: asked.of,
        depth: DepthAsked::Full,
    }
}

/// The report: one self-contained page with drawings, to print.
#[utoipa::path(get, path = "/api/report", tag = "answers", params(ReportAsked),
    responses((status = 200, body = String, content_type = "text/html"),
        (status = "4XX", body = Refusal)))]
pub async fn report(
    State(app): State<Arc<App>>,
    Query(asked): Query<ReportAsked>,
) -> Answer<Html<String>> {
    let units = asked.units;
    let asked = full(OfAsked { of: asked.of });
    with_study(app, asked, move |studied, _, _| {
        let subject = report::Subject::of(&studied.study, &studied.findings).shown_in(units);
        Ok(Html(report::html(&subject)))
    })
    .await
}

async fn with_study<T: Send + 'static>(
    app: Arc<App>,
    asked: StudyAsked,
    answer: impl FnOnce(&Studied, &str, bool) -> Answer<T> + Send + 'static,
) -> Answer<T> {
    let desk = app.desk()?;
    aside(move || {
        let look = desk.look();
        let text = asked.of.text(&look).to_owned();
        let wanted = || still_wanted(&app, &desk, &text);
        let (folder, studies) = (&desk.folder, &app.studies);
        let studied = match asked.depth {
            DepthAsked::Best => studies.best(folder, &text, &wanted),
            DepthAsked::Quick => studies.study(folder, &text, Depth::Quick, &|_| {}, &wanted),
            DepthAsked::Full => studies.study(folder, &text, Depth::Full, &|_| {}, &wanted),
        }?;
        let full = !studied.study.spread.draws.is_empty() || !studied.study.trials.is_empty();
        answer(&studied, &text, full)
    })
    .await
}

/// Whether a text is still on the desk, saved or tried out.
pub fn still_wanted(app: &App, desk: &Arc<Desk>, text: &str) -> bool {
    let same = app.try_desk().is_some_and(|now| Arc::ptr_eq(&now, desk));
    let look = desk.look();
    same && (look.draft == text || look.saved == text)
}
