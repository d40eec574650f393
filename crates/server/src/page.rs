//! The page's own files, and a refusal for everything else.

use axum::extract::{Request, State};
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use std::sync::Arc;

use crate::app::App;
use crate::error::ApiError;
use crate::guard;

/// A file of the page; the page itself for a place inside it.
pub async fn page(State(app): State<Arc<App>>, request: Request) -> Response {
    let path = request.uri().path().trim_start_matches('/');
    if path == "api" || path.starts_with("api/") {
        let what = format!("there is no {} here", request.uri().path());
        return ApiError::missing(what, "docs/openapi.json lists what there is").into_response();
    }
    if let Some(token) = query_token(&request)
        && app.guard.knows(token)
    {
        let cookie = guard::cookie(&app);
        let to = [(header::SET_COOKIE, cookie), (header::LOCATION, "/".into())];
        return (StatusCode::SEE_OTHER, to).into_response();
    }
    if !web_assets::is_built() {
        return Html(web_assets::MISSING).into_response();
    }
    let wanted = if path.is_empty() { "index.html" } else { path };
    let is_file = wanted.rsplit('/').next().is_some_and(|n| n.contains('.'));
    let found = web_assets::get(wanted)
        .or_else(|| (!is_file).then(|| web_assets::get("index.html")).flatten());
    match found {
        Some(asset) => sent(asset, &request),
        None => ApiError::missing(format!("the page has no file {wanted}"), "").into_response(),
    }
}

fn query_token(request: &Request) -> Option<&str> {
    let pairs = request.uri().query()?.split('&');
    pairs.filter_map(|p| p.strip_prefix("token=")).next()
}

fn sent(asset: web_assets::Asset, request: &Request) -> Response {
    let known = request.headers().get(header::IF_NONE_MATCH);
    let fresh = known.is_some_and(|k| k.as_bytes() == asset.etag.as_bytes());
    let mut response = if fresh {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        asset.bytes.into_owned().into_response()
    };
    let headers = response.headers_mut();
    for (name, value) in [
        (header::ETAG, asset.etag),
        (header::CONTENT_TYPE, asset.media_type),
        (header::CACHE_CONTROL, "no-cache".to_owned()),
    ] {
        if let Ok(value) = HeaderValue::from_str(&value) {
            headers.insert(name, value);
        }
    }
    response
}
