//! Who may talk to the server: nobody but the page it opened.
//!
//! - The Host header must name the address served, so that a name that was pointed at this machine
//!   does not reach it.
//! - A request that a browser made for another site is refused by its Origin or Sec-Fetch-Site.
//! - Everything under `/api` needs the token of this start, in a cookie that only this site sends
//!   or in a header.
//! - On the local network the token is given for a code that somebody at the computer reads out,
//!   with few tries for each address: who guesses keeps nobody else out.

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};
use subtle::ConstantTimeEq as _;

use crate::app::App;
use crate::error::ApiError;
use axum::http::StatusCode;

/// Header that may carry the token instead of the cookie.
pub const TOKEN_HEADER: &str = "x-skimwright-token";
/// Wrong codes in a row before a wait.
const TRIES: u32 = 5;
/// Addresses of which wrong codes are counted; where there are more, no further one is heard.
const ADDRESSES: usize = 1024;
/// That wait, doubled with each further wrong code.
const WAIT: Duration = Duration::from_secs(30);

/// Secrets of one start.
pub struct Guard {
    token: String,
    code: Option<String>,
    wrong: Mutex<HashMap<IpAddr, Wrong>>,
}

#[derive(Default)]
struct Wrong {
    count: u32,
    until: Option<Instant>,
}

impl Guard {
    /// A fresh token and, for the local network, a code to type.
    ///
    /// # Errors
    /// When the system has no randomness to give.
    pub fn new(lan: bool) -> Result<Self, getrandom::Error> {
        let mut bytes = [0u8; 32];
        getrandom::fill(&mut bytes)?;
        let token = bytes.iter().map(|b| format!("{b:02x}")).collect();
        let mut number = [0u8; 8];
        getrandom::fill(&mut number)?;
        let code = format!("{:08}", u64::from_le_bytes(number) % 100_000_000);
        Ok(Self {
            token,
            code: lan.then_some(code),
            wrong: Mutex::default(),
        })
    }

    /// The token.
    pub fn token(&self) -> &str {
        &self.token
    }

    /// The code to type, when on the local network.
    pub fn code(&self) -> Option<&str> {
        self.code.as_deref()
    }

    /// Whether `given` is the token.
    pub fn knows(&self, given: &str) -> bool {
        same(given, &self.token)
    }

    /// Whether `given` is the code; after a few wrong ones from an address it is not heard for a while.
    ///
    /// # Errors
    /// [`ApiError`] saying how long to wait, or that it was wrong.
    pub fn try_code(&self, given: &str, from: IpAddr) -> Result<(), ApiError> {
        let Some(code) = &self.code else {
            return Err(ApiError::new(
                StatusCode::FORBIDDEN,
                "this server takes no code: it listens on its own computer only",
                "start it with `skimwright open --lan` to use it from a phone",
            ));
        };
        let mut all = self.wrong.lock().unwrap_or_else(|e| e.into_inner());
        let full = all.len() >= ADDRESSES && !all.contains_key(&from);
        let waits = all.get(&from).and_then(|wrong| wrong.until);
        let left = waits.and_then(|until| until.checked_duration_since(Instant::now()));
        if let Some(left) = left.or(full.then_some(WAIT)) {
            return Err(ApiError::new(
                StatusCode::TOO_MANY_REQUESTS,
                format!(
                    "too many wrong codes; wait {} s",
                    left.as_secs().saturating_add(1)
                ),
                "the code stands in the terminal that runs skimwright",
            ));
        }
        let plain: String = given.chars().filter(char::is_ascii_digit).collect();
        if same(&plain, code) {
            all.remove(&from);
            return Ok(());
        }
        let wrong = all.entry(from).or_default();
        wrong.count += 1;
        if wrong.count >= TRIES {
            let doubled = WAIT.saturating_mul(1 << (wrong.count - TRIES).min(6));
            wrong.until = Some(Instant::now() + doubled);
        }
        Err(ApiError::new(
            StatusCode::FORBIDDEN,
            "that is not the code",
            "the code stands in the terminal that runs skimwright",
        ))
    }
}

/// Takes as long for a near miss as for a wild guess.
fn same(a: &str, b: &str) -> bool {
    a.as_bytes().ct_eq(b.as_bytes()).into()
}

/// Lets through only what the page itself asks.
pub async fn guard(State(app): State<Arc<App>>, request: Request, next: Next) -> Response {
    if let Err(refused) = check(&app, &request) {
        return dressed(refused.into_response());
    }
    dressed(next.run(request).await)
}

fn check(app: &App, request: &Request) -> Result<(), ApiError> {
    let headers = request.headers();
    let host = host_of(request)?;
    if !is_ours(app, &host) {
        return Err(ApiError::new(
            StatusCode::MISDIRECTED_REQUEST,
            format!("this server does not answer to the name {host}"),
            "use the address that `skimwright open` printed",
        ));
    }
    let elsewhere = ApiError::new(
        StatusCode::FORBIDDEN,
        "another site asked this of your boat, and was refused",
        "use the page that `skimwright open` opened",
    );
    if let Some(origin) = headers.get(header::ORIGIN) {
        let wanted = format!("http://{host}");
        if origin.as_bytes() != wanted.as_bytes() {
            return Err(elsewhere);
        }
    }
    let site = headers.get("sec-fetch-site").map(HeaderValue::as_bytes);
    let navigates = request.method() == Method::GET && !is_api(request);
    if !navigates && matches!(site, Some(b"cross-site" | b"same-site")) {
        return Err(elsewhere);
    }
    if is_api(request) && !opens_session(request) && !has_token(app, headers) {
        return Err(ApiError::new(
            StatusCode::UNAUTHORIZED,
            "this page has no token of this start of the server",
            "open the address that `skimwright open` printed",
        ));
    }
    if app.config.read_only && is_api(request) && changes_files(request) {
        return Err(ApiError::new(
            StatusCode::FORBIDDEN,
            "the boat was opened read-only",
            "start `skimwright open` without --read-only to change it",
        ));
    }
    Ok(())
}

fn is_api(request: &Request) -> bool {
    request.uri().path().starts_with("/api")
}

fn opens_session(request: &Request) -> bool {
    request.method() == Method::POST && request.uri().path() == "/api/session"
}

/// Trying things out changes no file; everything else that is not a question does.
fn changes_files(request: &Request) -> bool {
    let free = [
        "/api/session",
        "/api/whatif",
        "/api/jobs",
        "/api/why",
        "/api/demos",
    ];
    let asks = matches!(*request.method(), Method::GET | Method::HEAD);
    let path = request.uri().path();
    !asks && !free.iter().any(|start| path.starts_with(start))
}

fn host_of(request: &Request) -> Result<String, ApiError> {
    let named = request.headers().get(header::HOST);
    let host = named
        .and_then(|value| value.to_str().ok())
        .map(str::to_owned)
        .or_else(|| request.uri().authority().map(ToString::to_string));
    host.ok_or_else(|| ApiError::bad("the request has no Host header", ""))
}

/// A name of this computer's own, or on the local network any address: an address, unlike a name,
/// cannot be pointed somewhere else.
fn is_ours(app: &App, host: &str) -> bool {
    let Some((name, port)) = host.rsplit_once(':') else {
        return false;
    };
    // As it is written by every browser: `parse` would take `+4810` too.
    if port != app.port().to_string() {
        return false;
    }
    let bare = name.trim_start_matches('[').trim_end_matches(']');
    match bare.parse::<IpAddr>() {
        Ok(address) => address.is_loopback() || app.config.lan,
        Err(_) => name.eq_ignore_ascii_case("localhost"),
    }
}

/// The cookie's name has the port in it: browsers share cookies between ports.
pub fn cookie_name(app: &App) -> String {
    format!("skimwright_{}", app.port())
}

/// The cookie that carries the token.
pub fn cookie(app: &App) -> String {
    format!(
        "{}={}; Path=/; HttpOnly; SameSite=Strict",
        cookie_name(app),
        app.guard.token()
    )
}

fn has_token(app: &App, headers: &HeaderMap) -> bool {
    let by_header = headers.get(TOKEN_HEADER).and_then(|v| v.to_str().ok());
    if let Some(given) = by_header {
        return app.guard.knows(given);
    }
    let name = cookie_name(app);
    let cookies = headers.get_all(header::COOKIE).iter();
    let mut pairs = cookies
        .filter_map(|line| line.to_str().ok())
        .flat_map(|line| line.split(';'))
        .filter_map(|pair| pair.trim().split_once('='));
    pairs.any(|(key, value)| key == name && app.guard.knows(value))
}

/// What every answer carries: nothing from elsewhere may run in the page, and nobody may frame it.
fn dressed(mut response: Response) -> Response {
    const POLICY: &str = "default-src 'self'; img-src 'self' data: blob:; media-src 'self' blob:; \
        style-src 'self' 'unsafe-inline'; worker-src 'self' blob:; connect-src 'self'; object-src 'none'; \
        base-uri 'none'; form-action 'self'; frame-ancestors 'none'";
    let headers = response.headers_mut();
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::X_FRAME_OPTIONS, "DENY"),
    ] {
        headers
            .entry(name)
            .or_insert(HeaderValue::from_static(value));
    }
    let own = HeaderValue::from_static("same-origin");
    headers.insert("cross-origin-opener-policy", own.clone());
    headers.insert("cross-origin-resource-policy", own);
    headers
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    const GUESSER: IpAddr = IpAddr::V4(std::net::Ipv4Addr::new(192, 168, 1, 66));
    const PHONE: IpAddr = IpAddr::V4(std::net::Ipv4Addr::new(192, 168, 1, 20));

    #[test]
    fn wrong_codes_are_counted_and_then_nobody_is_heard() {
        let guard = Guard::new(true).expect("randomness");
        let code = guard.code().expect("asked for").to_owned();
        for _ in 0..TRIES {
            let refused = guard.try_code("x", GUESSER).expect_err("wrong");
            assert_eq!(refused.status(), StatusCode::FORBIDDEN);
        }
        let refused = guard.try_code(&code, GUESSER).expect_err("too late");
        assert_eq!(refused.status(), StatusCode::TOO_MANY_REQUESTS);
        assert!(guard.try_code(&code, PHONE).is_ok(), "another is heard");
    }

    #[test]
    fn the_code_may_be_typed_with_spaces() {
        let guard = Guard::new(true).expect("randomness");
        let code = guard.code().expect("asked for");
        let spaced = format!("{} {}", &code[..4], &code[4..]);
        assert!(guard.try_code(&spaced, PHONE).is_ok());
        assert!(Guard::new(false).expect("randomness").code().is_none());
    }
}
