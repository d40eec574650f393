//! What a client is told when something cannot be done. The one place where an error becomes an
//! HTTP status.

use axum::extract::rejection::{JsonRejection, QueryRejection};
use axum::extract::{FromRequest, FromRequestParts, Request};
use axum::http::StatusCode;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use boat::BoatFileError;
use serde::Serialize;
use utoipa::ToSchema;
use workshop::{Fault, FaultKind};

use crate::json::Json;

pub use workshop::fault::{Place as Problem, places as problems};

/// Why a request was refused.
#[derive(Debug, Clone, PartialEq, Serialize, ToSchema)]
pub struct Refusal {
    /// What is wrong, in a sentence.
    pub message: String,
    /// What would put it right; may be empty.
    pub hint: String,
    /// Each fault of the boat file with its place.
    pub problems: Vec<Problem>,
}

/// A refusal with its status.
#[derive(Debug, Clone)]
pub struct ApiError {
    status: StatusCode,
    body: Box<Refusal>,
}

/// What every handler gives back.
pub type Answer<T> = Result<T, ApiError>;

impl ApiError {
    /// With any status.
    pub fn new(status: StatusCode, message: impl Into<String>, hint: impl Into<String>) -> Self {
        let body = Box::new(Refusal {
            message: message.into(),
            hint: hint.into(),
            problems: Vec::new(),
        });
        Self { status, body }
    }

    /// The request itself makes no sense.
    pub fn bad(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::new(StatusCode::BAD_REQUEST, message, hint)
    }

    /// The request is understood, and the boat or file in it cannot be used.
    pub fn unusable(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, message, hint)
    }

    /// It would take somebody else's work away.
    pub fn conflict(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::new(StatusCode::CONFLICT, message, hint)
    }

    /// There is no such thing.
    pub fn missing(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::new(StatusCode::NOT_FOUND, message, hint)
    }

    /// A fault of our own.
    pub fn bug() -> Self {
        Self::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            "the program failed while working this out; the boat is untouched",
            "please report what you did last",
        )
    }

    /// With one more hint.
    pub fn add_hint(&mut self, hint: &str) {
        if !self.body.hint.is_empty() {
            self.body.hint.push_str("; ");
        }
        self.body.hint.push_str(hint);
    }

    /// Its status.
    pub fn status(&self) -> StatusCode {
        self.status
    }

    /// What it says.
    pub fn message(&self) -> &str {
        &self.body.message
    }

    /// Its body.
    pub fn refusal(&self) -> &Refusal {
        &self.body
    }
}

impl From<BoatFileError> for ApiError {
    fn from(error: BoatFileError) -> Self {
        Fault::from(error).into()
    }
}

impl From<Fault> for ApiError {
    fn from(error: Fault) -> Self {
        error.refusal().into()
    }
}

impl From<workshop::Refusal> for ApiError {
    fn from(said: workshop::Refusal) -> Self {
        let status = match said.kind {
            FaultKind::Unusable => StatusCode::UNPROCESSABLE_ENTITY,
            FaultKind::Missing => StatusCode::NOT_FOUND,
            FaultKind::Forbidden => StatusCode::FORBIDDEN,
            FaultKind::System | FaultKind::Stopped => StatusCode::CONFLICT,
            FaultKind::Bug => StatusCode::INTERNAL_SERVER_ERROR,
        };
        let mut out = Self::new(status, said.message, said.hint);
        out.body.problems = said.problems;
        out
    }
}

impl From<boat::EditError> for ApiError {
    fn from(error: boat::EditError) -> Self {
        Self::unusable(error.to_string(), "nothing was changed")
    }
}

impl IntoResponse for ApiError {
    fn into_response(self) -> Response {
        (self.status, Json(self.body)).into_response()
    }
}

/// A JSON body; a refusal of it is explained like any other.
pub struct Body<T>(pub T);

impl<S: Send + Sync, T: serde::de::DeserializeOwned> FromRequest<S> for Body<T> {
    type Rejection = ApiError;

    async fn from_request(request: Request, state: &S) -> Result<Self, ApiError> {
        let read = axum::Json::<T>::from_request(request, state).await;
        read.map(|axum::Json(body)| Self(body))
            .map_err(|rejection| {
                let hint = match rejection {
                    JsonRejection::MissingJsonContentType(_) => "send it as application/json",
                    _ => "docs/openapi.json describes what is expected",
                };
                ApiError::new(rejection.status(), rejection.body_text(), hint)
            })
    }
}

/// The query of a request.
pub struct Query<T>(pub T);

impl<S: Send + Sync, T: serde::de::DeserializeOwned> FromRequestParts<S> for Query<T> {
    type Rejection = ApiError;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, ApiError> {
        let read = axum::extract::Query::<T>::from_request_parts(parts, state).await;
        read.map(|query| Self(query.0))
            .map_err(|rejection: QueryRejection| {
                ApiError::bad(
                    rejection.body_text(),
                    "docs/openapi.json describes what is expected",
                )
            })
    }
}
