//! The local server behind the page: one boat folder, read, tried out and saved.
//!
//! [`serve`] listens; [`openapi`] describes what it answers, generated from the handlers. The
//! module [`guard`] says who may ask.

pub mod app;
mod cache;
pub mod desk;
pub mod error;
mod forces;
pub mod guard;
pub mod jobs;
mod json;
mod listen;
mod page;
mod program;
mod revision;
mod routes;
mod sidecar;
pub mod studies;
mod uploads;
mod views;

pub use app::{App, Config};

use axum::Router;
use axum::extract::DefaultBodyLimit;
use std::future::Future;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::time::Duration;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{DefaultPredicate, NotForContentType, Predicate as _};
use utoipa_axum::router::OpenApiRouter;

/// Bodies larger than this are refused, except where recordings and meshes come in.
const MAX_BODY_BYTES: usize = 1 << 20;
/// A connection on which nothing is asked for so long is closed.
const IDLE: Duration = Duration::from_secs(60);

/// What the API answers, as an OpenAPI document.
pub fn openapi() -> String {
    let (_, api) = routes::all().split_for_parts();
    let mut text = api.to_pretty_json().unwrap_or_default();
    text.push('\n');
    text
}

/// Everything the server answers.
pub fn router(app: Arc<App>) -> Router {
    let (api, _) = routes::all().split_for_parts();
    let compress = DefaultPredicate::new().and(NotForContentType::const_new("text/event-stream"));
    api.fallback(page::page)
        .method_not_allowed_fallback(routes::no_such_method)
        .layer(DefaultBodyLimit::max(MAX_BODY_BYTES))
        .layer(CatchPanicLayer::custom(
            |_: Box<dyn std::any::Any + Send>| {
                use axum::response::IntoResponse as _;
                error::ApiError::bug().into_response()
            },
        ))
        .layer(axum::middleware::from_fn_with_state(
            app.clone(),
            guard::guard,
        ))
        .layer(CompressionLayer::new().compress_when(compress))
        .with_state(app)
}

type Api = OpenApiRouter<Arc<App>>;

/// Listens until `until` is over. `ready` is told the address once it is known.
///
/// # Errors
/// When the port is taken or the system refuses.
pub async fn serve(
    app: Arc<App>,
    ready: impl FnOnce(SocketAddr),
    until: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    let here: IpAddr = if app.config.lan {
        Ipv4Addr::UNSPECIFIED.into()
    } else {
        Ipv4Addr::LOCALHOST.into()
    };
    let listener = tokio::net::TcpListener::bind((here, app.config.port)).await?;
    let address = listener.local_addr()?;
    app.set_port(address.port());
    ready(address);
    let jobs = app.clone();
    let stop = async move {
        until.await;
        jobs.jobs.stop_all();
    };
    listen::listen(listener, router(app), IDLE, stop).await;
    Ok(())
}
