//! Who is asking, and what is open.

use axum::extract::{Extension, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};
use std::net::{IpAddr, Ipv4Addr};
use std::sync::Arc;
use utoipa::ToSchema;

use crate::app::App;
use crate::error::{Answer, ApiError, Body, Refusal};
use crate::guard;
use crate::json::Json;
use crate::listen::Peer;

/// What is open, and how.
#[derive(Debug, Serialize, ToSchema)]
pub struct SessionView {
    /// Of the program.
    pub version: String,
    /// Whether nothing may be saved.
    pub read_only: bool,
    /// Whether it listens on the local network.
    pub lan: bool,
    /// The boat's name; nothing when none is open.
    pub boat: Option<String>,
    /// What its boat file wants everything shown in; nothing when none is open.
    pub units: Option<boat::Units>,
    /// Its folder.
    pub folder: Option<String>,
    /// The demonstration boat it is a scratch copy of.
    pub demo: Option<String>,
    /// What should be known of what was tried out before: what could not be read, or was found twice.
    pub remarks: Vec<String>,
    /// Counts every change of the boat, here and outside: a page that saw another asks again.
    pub changes: u64,
    /// Largest mesh that is taken in, bytes.
    pub most_mesh_bytes: u64,
    /// Where new boats are made.
    pub boats_folder: String,
}

/// The token from the address, or the code somebody read out.
#[derive(Debug, Deserialize, ToSchema)]
pub struct SessionAsked {
    /// From the address that was opened.
    #[schema(max_length = 128)]
    pub token: Option<String>,
    /// From the terminal.
    #[schema(max_length = 32)]
    pub code: Option<String>,
}

/// What is open, and how.
#[utoipa::path(get, path = "/api/session", tag = "session",
    responses((status = 200, body = SessionView), (status = "4XX", body = Refusal)))]
pub async fn session(State(app): State<Arc<App>>) -> Json<SessionView> {
    Json(view(&app))
}

/// Gives the cookie for the token or the code.
#[utoipa::path(post, path = "/api/session", tag = "session", request_body = SessionAsked,
    responses((status = 200, body = SessionView), (status = "4XX", body = Refusal)))]
pub async fn open_session(
    State(app): State<Arc<App>>,
    peer: Option<Extension<Peer>>,
    Body(asked): Body<SessionAsked>,
) -> Answer<Response> {
    // A request that came over no connection is this program's own.
    let from = peer.map_or(IpAddr::V4(Ipv4Addr::LOCALHOST), |Extension(Peer(from))| {
        from
    });
    match (&asked.token, &asked.code) {
        (Some(token), _) if app.guard.knows(token) => {}
        (_, Some(code)) => app.guard.try_code(code, from)?,
        _ => {
            return Err(ApiError::new(
                axum::http::StatusCode::UNAUTHORIZED,
                "that is not the token of this start of the server",
                "open the address that `skimwright open` printed",
            ));
        }
    }
    let cookie = [(header::SET_COOKIE, guard::cookie(&app))];
    Ok((cookie, Json(view(&app))).into_response())
}

/// As it is now.
pub fn view(app: &App) -> SessionView {
    let desk = app.try_desk();
    let declared = |d: &crate::desk::Desk| boat::load(&d.look().draft, "boat.toml").ok();
    let boat = desk
        .as_ref()
        .and_then(|d| declared(d))
        .map(|(boat, _)| boat);
    let name = |d: &Arc<crate::desk::Desk>| {
        let folder = || d.folder.file_name()?.to_str().map(str::to_owned);
        let given = boat.as_ref().map(|boat| boat.name.clone());
        given.or_else(folder).unwrap_or_default()
    };
    SessionView {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        read_only: app.config.read_only,
        lan: app.config.lan,
        boat: desk.as_ref().map(name),
        units: boat.as_ref().map(|boat| boat.units),
        folder: desk.as_ref().map(|d| d.folder.display().to_string()),
        demo: desk.as_ref().and_then(|d| d.demo.clone()),
        remarks: desk.as_ref().map(|d| d.remarks()).unwrap_or_default(),
        changes: desk.as_ref().map_or(0, |d| d.look().version),
        most_mesh_bytes: super::demos::MAX_MESH_BYTES as u64,
        boats_folder: app.config.boats_folder.display().to_string(),
    }
}
