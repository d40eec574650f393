//! Trying things out beside the saved boat.

use axum::extract::State;
use boat::Edit;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use utoipa::ToSchema;

use super::boat::{BoatView, Of, view};
use crate::app::{App, aside};
use crate::desk::{Desk, Look, Who};
use crate::error::{Answer, ApiError, Body, Refusal};
use crate::json::Json;
use crate::views::sheet::{Step, path};

/// Most edits at once.
const MOST: usize = 200;

/// Edits to make, all or none.
#[derive(Debug, Deserialize, ToSchema)]
pub struct EditsAsked {
    /// In order.
    #[schema(max_items = 200)]
    pub edits: Vec<EditAsked>,
    /// The `version` this page last saw: an edit of a key that another page changed since is
    /// refused. Without it nothing is compared.
    pub version: Option<u64>,
    /// Names the page, so that its own edits do not count as another's.
    #[schema(max_length = 64)]
    pub client: Option<String>,
    /// Edits of one drag share a name here and are one step back.
    #[schema(max_length = 64)]
    pub gesture: Option<String>,
}

/// One edit.
#[derive(Debug, Clone, Serialize, Deserialize, ToSchema)]
pub struct EditAsked {
    /// The way to the value: `["part", "Battery", "mass"]`; to a table of a list for `remove`;
    /// to the list itself for `add`.
    #[schema(max_items = 12)]
    pub path: Vec<Step>,
    /// What to do; `set` unless given.
    #[serde(default)]
    pub action: EditKind,
    /// For `set`: `"38 mm"`, a number, true or false, or a list of texts.
    pub value: Option<serde_json::Value>,
    /// For `add`: the new table's name.
    pub name: Option<String>,
}

/// What an edit does.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum EditKind {
    /// Writes a value.
    #[default]
    Set,
    /// Takes a value or a table of a list away.
    Remove,
    /// Adds a table to a list.
    Add,
}

impl From<&Edit> for EditAsked {
    fn from(edit: &Edit) -> Self {
        let (action, value, name) = match edit {
            Edit::Set { value, .. } => (EditKind::Set, serde_json::to_value(value).ok(), None),
            Edit::Remove { .. } => (EditKind::Remove, None, None),
            Edit::Add { name, .. } => (EditKind::Add, None, Some(name.clone())),
        };
        Self {
            path: crate::views::sheet::steps(edit.path()),
            action,
            value,
            name,
        }
    }
}

impl EditAsked {
    fn checked(&self) -> Answer<Edit> {
        let way = path(&self.path);
        match self.action {
            EditKind::Remove => Ok(Edit::Remove { path: way }),
            EditKind::Set => {
                let value = self.value.as_ref().and_then(boat::merge::new_value);
                let value = value.ok_or_else(|| {
                    let hint =
                        "send a text such as \"38 mm\", a number, true, false or a list of texts";
                    ApiError::bad("the edit has no value that can be written", hint)
                })?;
                Ok(Edit::Set { path: way, value })
            }
            EditKind::Add => {
                let name = self.name.clone().filter(|n| !n.trim().is_empty());
                let name = name.ok_or_else(|| {
                    ApiError::bad("the new table has no name", "send it as `name`")
                })?;
                Ok(Edit::Add { path: way, name })
            }
        }
    }
}

/// Makes edits beside the saved boat: one step back each, or one for a whole drag.
#[utoipa::path(put, path = "/api/whatif", tag = "what-if", request_body = EditsAsked,
    responses((status = 200, body = BoatView), (status = "4XX", body = Refusal)))]
pub async fn edit(
    State(app): State<Arc<App>>,
    Body(asked): Body<EditsAsked>,
) -> Answer<Json<BoatView>> {
    if asked.edits.len() > MOST {
        return Err(ApiError::bad(
            format!("over {MOST} edits at once"),
            "send fewer",
        ));
    }
    on_desk(app, move |desk| {
        let edits: Vec<Edit> = asked
            .edits
            .iter()
            .map(EditAsked::checked)
            .collect::<Answer<_>>()?;
        let who = Who {
            client: asked.client.unwrap_or_default(),
            seen: asked.version,
            gesture: asked.gesture,
        };
        desk.edit(&edits, &who)
    })
    .await
}

/// Back to the saved boat, as a step that can be undone.
#[utoipa::path(delete, path = "/api/whatif", tag = "what-if",
    responses((status = 200, body = BoatView), (status = "4XX", body = Refusal)))]
pub async fn discard(State(app): State<Arc<App>>) -> Answer<Json<BoatView>> {
    on_desk(app, Desk::discard).await
}

/// One step back.
#[utoipa::path(post, path = "/api/whatif/undo", tag = "what-if",
    responses((status = 200, body = BoatView), (status = "4XX", body = Refusal)))]
pub async fn undo(State(app): State<Arc<App>>) -> Answer<Json<BoatView>> {
    on_desk(app, Desk::undo).await
}

/// One step forward again.
#[utoipa::path(post, path = "/api/whatif/redo", tag = "what-if",
    responses((status = 200, body = BoatView), (status = "4XX", body = Refusal)))]
pub async fn redo(State(app): State<Arc<App>>) -> Answer<Json<BoatView>> {
    on_desk(app, Desk::redo).await
}

async fn on_desk(
    app: Arc<App>,
    act: impl FnOnce(&Desk) -> Answer<Look> + Send + 'static,
) -> Answer<Json<BoatView>> {
    let desk = app.desk()?;
    aside(move || Ok(Json(view(&act(&desk)?, Of::Whatif)))).await
}
