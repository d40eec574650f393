//! What can be asked, a file a subject.

pub mod boat;
pub mod demos;
pub mod jobs;
pub mod outings;
pub mod recordings;
pub mod session;
pub mod study;
pub mod uploads;
pub mod whatif;

use axum::http::Method;
use utoipa::OpenApi;
use utoipa_axum::router::UtoipaMethodRouterExt as _;
use utoipa_axum::routes;

use crate::Api;
use crate::error::ApiError;
use crate::views::staves::StaveKind;

#[derive(OpenApi)]
#[openapi(
    info(
        title = "skimwright",
        description = "The local API behind the page: one boat folder, read, tried out and saved. \
        Every path needs the token of this start, in the cookie set by POST /api/session or in \
        the header x-skimwright-token.",
        license(name = "MIT OR Apache-2.0")
    ),
    components(schemas(boat::Of, study::DepthAsked, StaveKind))
)]
struct Document;

/// Every route with its description.
pub fn all() -> Api {
    Api::with_openapi(Document::openapi())
        .routes(routes!(session::session, session::open_session))
        .routes(routes!(demos::demos))
        .routes(routes!(demos::open_demo))
        .routes(routes!(demos::starters))
        .routes(routes!(demos::new_boat))
        .routes(routes!(demos::boat_from_mesh).layer(demos::mesh_limit()))
        .routes(routes!(demos::look_at_mesh).layer(demos::mesh_limit()))
        .routes(routes!(demos::size))
        .routes(routes!(demos::open_size))
        .routes(routes!(boat::boat))
        .routes(routes!(boat::keys))
        .routes(routes!(boat::save))
        .routes(routes!(boat::settle))
        .routes(routes!(whatif::edit, whatif::discard))
        .routes(routes!(whatif::undo))
        .routes(routes!(whatif::redo))
        .routes(routes!(study::study))
        .routes(routes!(study::form))
        .routes(routes!(study::mesh))
        .routes(routes!(study::poses))
        .routes(routes!(study::staves))
        .routes(routes!(study::strength))
        .routes(routes!(study::worth))
        .routes(routes!(study::report))
        .routes(routes!(jobs::start, jobs::list))
        .routes(routes!(jobs::job, jobs::stop))
        .routes(routes!(jobs::events))
        .routes(routes!(outings::outings, outings::begin))
        .routes(routes!(outings::recording, outings::take_in).layer(outings::no_limit()))
        .routes(routes!(uploads::come, uploads::go_on).layer(outings::no_limit()))
        .routes(routes!(outings::note))
        .routes(routes!(outings::marks))
        .routes(routes!(recordings::sound_picture))
        .routes(routes!(recordings::frames))
        .routes(routes!(recordings::courses))
        .routes(routes!(recordings::agree))
        .routes(routes!(recordings::quantities))
        .routes(routes!(outings::learn, outings::unlearn))
        .routes(routes!(outings::symptoms))
        .routes(routes!(outings::builds, outings::keep))
}

/// A path asked the wrong way.
pub async fn no_such_method(method: Method, uri: axum::http::Uri) -> ApiError {
    ApiError::new(
        axum::http::StatusCode::METHOD_NOT_ALLOWED,
        format!("{} cannot be asked with {method}", uri.path()),
        "docs/openapi.json lists what there is",
    )
}
