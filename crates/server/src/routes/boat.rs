//! The boat file: as saved and as tried out, key by key.

use axum::extract::State;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use utoipa::{IntoParams, ToSchema};

use crate::app::{App, aside};
use crate::desk::{Desk, Look, Outside};
use crate::error::{Answer, Body, Problem, Query, Refusal, problems};
use crate::json::Json;
use crate::revision::revision;
use crate::views::sheet::{self, Step, TableView};

/// Which of the two texts.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum Of {
    /// As on disk.
    Saved,
    /// With what is tried out.
    #[default]
    Whatif,
}

impl Of {
    /// That text.
    pub fn text(self, look: &Look) -> &str {
        match self {
            Self::Saved => &look.saved,
            Self::Whatif => &look.draft,
        }
    }
}

/// Which of the two texts.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub struct OfAsked {
    /// `saved` or `whatif` (unless given).
    #[serde(default)]
    pub of: Of,
}

/// The boat file and what is tried out.
#[derive(Debug, Serialize, ToSchema)]
pub struct BoatView {
    /// Which text `text` and `tables` are of.
    pub text: String,
    /// Of the saved text; send it back with a save.
    pub revision: String,
    /// Of the text tried out; the same as `revision` when nothing is.
    pub whatif_revision: String,
    /// Counts every change here; send it back with edits.
    pub version: u64,
    /// Every table and key.
    pub tables: Vec<TableView>,
    /// What is wrong with the text, or should be known about it.
    pub problems: Vec<Problem>,
    /// What is tried out, key by key.
    pub changed: Vec<ChangedView>,
    /// Names of steps back, last first.
    pub undo: Vec<String>,
    /// Names of steps forward, next first.
    pub redo: Vec<String>,
    /// What happened to the file outside of the page.
    pub outside: OutsideView,
}

/// A key that is tried out.
#[derive(Debug, Serialize, ToSchema)]
pub struct ChangedView {
    /// The way to it.
    pub path: Vec<Step>,
    /// In words.
    pub what: String,
    /// As saved; null where it is new.
    pub saved: Option<serde_json::Value>,
    /// As tried out; null where it is taken away.
    pub whatif: Option<serde_json::Value>,
}

/// What happened to the file outside of the page.
#[derive(Debug, Serialize, ToSchema)]
pub struct OutsideView {
    /// `calm`, `merged`, `clash` or `gone`.
    pub state: String,
    /// In a sentence; empty when calm.
    pub message: String,
    /// Keys that were merged.
    pub merged: Vec<String>,
    /// Keys somebody must choose between: POST /api/boat/choice.
    pub clashes: Vec<ClashView>,
}

/// A key changed here and outside.
#[derive(Debug, Serialize, ToSchema)]
pub struct ClashView {
    /// The way to it.
    pub path: Vec<Step>,
    /// In words.
    pub what: String,
    /// As tried out here.
    pub mine: Option<serde_json::Value>,
    /// As in the file now.
    pub theirs: Option<serde_json::Value>,
}

/// What to save.
#[derive(Debug, Default, Deserialize, ToSchema)]
pub struct SaveAsked {
    /// The `revision` this page was showing; refused when the file has moved on since.
    #[schema(max_length = 64)]
    pub revision: Option<String>,
}

/// What came of saving.
#[derive(Debug, Serialize, ToSchema)]
pub struct SavedView {
    /// The boat as saved.
    pub boat: BoatView,
    /// Where it was saved: a demonstration boat moves to a folder of the builder's.
    pub folder: String,
}

/// Which side to keep where both changed the same key.
#[derive(Debug, Deserialize, ToSchema)]
pub struct ChoiceAsked {
    /// `mine` keeps what is tried out, `theirs` what the file has now.
    pub keep: Side,
}

/// A side of a clash.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// What is tried out here.
    Mine,
    /// What the file has now.
    Theirs,
}

/// The boat file, every key it has or could have, and what is tried out.
#[utoipa::path(get, path = "/api/boat", tag = "boat", params(OfAsked),
    responses((status = 200, body = BoatView), (status = "4XX", body = Refusal)))]
pub async fn boat(
    State(app): State<Arc<App>>,
    Query(asked): Query<OfAsked>,
) -> Answer<Json<BoatView>> {
    let desk = app.desk()?;
    aside(move || Ok(Json(view(&desk.look(), asked.of)))).await
}

/// Every key a boat file could have, as a JSON Schema.
#[utoipa::path(get, path = "/api/keys", tag = "boat",
    responses((status = 200, body = serde_json::Value), (status = "4XX", body = Refusal)))]
pub async fn keys() -> Json<serde_json::Value> {
    Json(::boat::json_schema())
}

/// Writes what is tried out to the boat file, comments and order kept.
#[utoipa::path(post, path = "/api/save", tag = "boat", request_body = SaveAsked,
    responses((status = 200, body = SavedView), (status = "4XX", body = Refusal)))]
pub async fn save(
    State(app): State<Arc<App>>,
    Body(asked): Body<SaveAsked>,
) -> Answer<Json<SavedView>> {
    let desk = app.desk()?;
    aside(move || {
        let desk = own(&app, desk)?;
        let look = desk.save(asked.revision.as_deref())?;
        Ok(Json(SavedView {
            boat: view(&look, Of::Whatif),
            folder: desk.folder.display().to_string(),
        }))
    })
    .await
}

/// A demonstration boat becomes the builder's own when it is saved.
fn own(app: &Arc<App>, desk: Arc<Desk>) -> Answer<Arc<Desk>> {
    if desk.demo.is_none() {
        return Ok(desk);
    }
    let _one = app.opening.lock();
    let look = desk.look();
    ::boat::load(&look.draft, "boat.toml")?;
    let name = desk.folder.file_name().and_then(|n| n.to_str());
    let to = super::demos::free_folder(&app.config.boats_folder, name.unwrap_or("boat"))?;
    copy(&desk.folder, &to)?;
    let mine = Desk::open(&to, &app.config, None)?;
    mine.adopt(&look)?;
    desk.discard()?;
    let mine = Arc::new(mine);
    app.put(mine.clone());
    Ok(mine)
}

fn copy(from: &std::path::Path, to: &std::path::Path) -> Answer<()> {
    copy_files(from, to)?;
    // Days on the water and earlier builds belong to the boat.
    for inside in ["outings", "builds"] {
        let entries = std::fs::read_dir(from.join(inside)).into_iter().flatten();
        for folder in entries.flatten().map(|e| e.path()).filter(|p| p.is_dir()) {
            if let Some(name) = folder.file_name() {
                copy_files(&folder, &to.join(inside).join(name))?;
            }
        }
    }
    Ok(())
}

fn copy_files(from: &std::path::Path, to: &std::path::Path) -> Answer<()> {
    let refused = |e: std::io::Error| workshop::Fault::system("copy the boat to", to, &e);
    std::fs::create_dir_all(to).map_err(refused)?;
    for entry in std::fs::read_dir(from).map_err(refused)? {
        let path = entry.map_err(refused)?.path();
        if let (true, Some(name)) = (path.is_file(), path.file_name()) {
            std::fs::copy(&path, to.join(name)).map_err(refused)?;
        }
    }
    Ok(())
}

/// Chooses where the page and the file changed the same key.
#[utoipa::path(post, path = "/api/boat/choice", tag = "boat", request_body = ChoiceAsked,
    responses((status = 200, body = BoatView), (status = "4XX", body = Refusal)))]
pub async fn settle(
    State(app): State<Arc<App>>,
    Body(asked): Body<ChoiceAsked>,
) -> Answer<Json<BoatView>> {
    let desk = app.desk()?;
    aside(move || {
        let look = desk.settle(asked.keep == Side::Mine)?;
        Ok(Json(view(&look, Of::Whatif)))
    })
    .await
}

/// What the page sees of a desk.
pub fn view(look: &Look, of: Of) -> BoatView {
    let text = of.text(look);
    let found = match ::boat::load(text, "boat.toml") {
        Ok((_, warnings)) => warnings,
        Err(error) => error.problems,
    };
    BoatView {
        revision: revision(&look.saved),
        whatif_revision: revision(&look.draft),
        version: look.version,
        tables: sheet::view(text),
        problems: problems(text, &found),
        changed: changed(look),
        undo: look.undo.clone(),
        redo: look.redo.clone(),
        outside: outside(&look.outside),
        text: text.to_owned(),
    }
}

fn changed(look: &Look) -> Vec<ChangedView> {
    // Nothing is tried out: a large file need not be compared with itself.
    if look.saved == look.draft {
        return Vec::new();
    }
    let all = ::boat::merge::differences(&look.saved, &look.draft).unwrap_or_default();
    all.into_iter()
        .map(|d| ChangedView {
            path: sheet::steps(&d.path),
            what: ::boat::merge::spell(&d.path),
            saved: d.before,
            whatif: d.after,
        })
        .collect()
}

fn outside(outside: &Outside) -> OutsideView {
    let mut out = OutsideView {
        state: "calm".into(),
        message: String::new(),
        merged: Vec::new(),
        clashes: Vec::new(),
    };
    match outside {
        Outside::Calm => {}
        Outside::Merged { keys } => {
            out.state = "merged".into();
            out.message = "boat.toml was changed outside; both changes are here".into();
            out.merged.clone_from(keys);
        }
        Outside::Clashes { clashes, .. } => {
            out.state = "clash".into();
            out.message = "boat.toml was changed outside where you are trying something out".into();
            let each = clashes.iter().map(|c| ClashView {
                path: sheet::steps(&c.path),
                what: ::boat::merge::spell(&c.path),
                mine: c.mine.clone(),
                theirs: c.theirs.clone(),
            });
            out.clashes = each.collect();
        }
        Outside::Gone { why } => {
            out.state = "gone".into();
            out.message.clone_from(why);
        }
    }
    out
}
