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
    let etag = asset.etag();
    let known = request.headers().get(header::IF_NONE_MATCH);
    let mut headers = vec![
        (header::CONTENT_TYPE, asset.media_type()),
        (header::CACHE_CONTROL, "no-cache".to_owned()),
        (header::VARY, "accept-encoding".to_owned()),
    ];
    let mut response = if known.is_some_and(|k| k.as_bytes() == etag.as_bytes()) {
        StatusCode::NOT_MODIFIED.into_response()
    } else if takes_gzip(request) {
        headers.push((header::CONTENT_ENCODING, "gzip".to_owned()));
        asset.gzip().into_response()
    } else {
        asset.bytes().into_response()
    };
    headers.push((header::ETAG, etag));
    for (name, value) in headers {
        if let Ok(value) = HeaderValue::from_str(&value) {
            response.headers_mut().insert(name, value);
        }
    }
    response
}

/// Whether gzip is among what is accepted, and not with a weight of nothing (RFC 9110, 12.5.3).
fn takes_gzip(request: &Request) -> bool {
    let accepted = request.headers().get_all(header::ACCEPT_ENCODING);
    let accepted = accepted.iter().filter_map(|value| value.to_str().ok());
    accepted
        .flat_map(|value| value.split(','))
        .any(|coding| match coding.split_once(';') {
            None => coding.trim().eq_ignore_ascii_case("gzip"),
            Some((name, weight)) => {
                let weight = weight.trim().trim_start_matches(['q', 'Q', '=']);
                name.trim().eq_ignore_ascii_case("gzip")
                    && weight.parse::<f64>().is_ok_and(|q| q > 0.0)
            }
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn takes(accepted: &str) -> bool {
        let request = Request::builder().header(header::ACCEPT_ENCODING, accepted);
        takes_gzip(&request.body(axum::body::Body::empty()).expect("a request"))
    }

    #[test]
    fn gzip_is_sent_to_those_who_take_it() {
        assert!(takes("gzip, deflate, br"));
        assert!(takes("br;q=1.0, GZip;q=0.8"));
        assert!(!takes("gzip;q=0, br"));
        assert!(!takes("identity"));
        assert!(!takes(""));
    }
}
