//! Ways to have a boat on the desk: demonstration boats, starter hulls, a mesh of one's own.

use axum::Json;
use axum::extract::{DefaultBodyLimit, Multipart, Path, State};
use serde::{Deserialize, Serialize};
use std::path::PathBuf;
use std::sync::Arc;
use utoipa::ToSchema;

use super::session::{SessionView, view};
use crate::app::{App, aside};
use crate::desk::Desk;
use crate::error::{Answer, ApiError, Body, Refusal};

/// Meshes larger than this are refused while they come in.
pub const MAX_MESH_BYTES: usize = 256 << 20;

/// A demonstration boat.
#[derive(Debug, Serialize, ToSchema)]
pub struct DemoView {
    /// Names it.
    pub id: String,
    /// The boat's name.
    pub name: String,
    /// What its builder says of it, from the top of its file.
    pub says: String,
    /// Whether it has a fault on purpose.
    pub fault: bool,
}

/// A starter hull.
#[derive(Debug, Serialize, ToSchema)]
pub struct StarterView {
    /// As `[hull.starter] type` names it.
    pub hull: String,
    /// In a sentence.
    pub says: String,
}

/// A boat to start.
#[derive(Debug, Deserialize, ToSchema)]
pub struct NewBoat {
    /// The builder's name for it; the folder is named after it.
    #[schema(min_length = 1, max_length = 60)]
    pub name: String,
    /// A starter hull: see GET /api/starters.
    #[schema(max_length = 40)]
    pub hull: String,
}

/// A mesh to start a boat from.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct MeshSent {
    /// The builder's name for the boat; the file's name unless given.
    name: Option<String>,
    /// Hull type whose parts to start with; three-point unless given.
    hull: Option<String>,
    /// STL, 3MF or OBJ.
    #[schema(format = Binary, value_type = String)]
    file: Vec<u8>,
}

/// The demonstration boats.
#[utoipa::path(get, path = "/api/demos", tag = "start",
    responses((status = 200, body = Vec<DemoView>), (status = "4XX", body = Refusal)))]
pub async fn demos() -> Json<Vec<DemoView>> {
    Json(web_assets::demos().iter().map(|id| demo(id)).collect())
}

fn demo(id: &str) -> DemoView {
    let files = web_assets::demo(id);
    let file = files.iter().find(|(name, _)| *name == "boat.toml");
    let text = file.map_or_else(String::new, |(_, bytes)| {
        String::from_utf8_lossy(bytes).into_owned()
    });
    let boat = boat::load(&text, "boat.toml");
    DemoView {
        id: id.to_owned(),
        name: boat.map_or_else(|_| id.to_owned(), |(boat, _)| boat.name),
        says: web_assets::demo_says(id),
        fault: id.starts_with("faults/"),
    }
}

/// Opens a scratch copy of a demonstration boat; saving copies it to the builder's own folder. The
/// `/` of a name in a folder is written `~`: `faults~tadpole-pack-aft`.
#[utoipa::path(post, path = "/api/demos/{name}", tag = "start",
    params(("name" = String, Path, max_length = 80)),
    responses((status = 200, body = SessionView), (status = "4XX", body = Refusal)))]
pub async fn open_demo(
    State(app): State<Arc<App>>,
    Path(name): Path<String>,
) -> Answer<Json<SessionView>> {
    aside(move || {
        let id = name.replace('~', "/");
        if !web_assets::demos().contains(&id) {
            return Err(ApiError::missing(
                format!("there is no demonstration boat {id}"),
                format!("there are: {}", web_assets::demos().join(", ")),
            ));
        }
        let _one = app.opening.lock();
        let folder = app
            .config
            .state_folder
            .join("demos")
            .join(id.replace('/', "-"));
        fresh(&folder, web_assets::demo(&id))?;
        let desk = Desk::open(&folder, &app.config, Some(id))?;
        app.put(Arc::new(desk));
        Ok(Json(view(&app)))
    })
    .await
}

/// The scratch copy as it was left, or made anew.
fn fresh(folder: &std::path::Path, files: Vec<(&'static str, &'static [u8])>) -> Answer<()> {
    let refused = |e: std::io::Error| ApiError::from(workshop::Fault::system("make", folder, &e));
    std::fs::create_dir_all(folder).map_err(refused)?;
    for (name, bytes) in files {
        let path = folder.join(name);
        let same = std::fs::read(&path).is_ok_and(|old| old == bytes);
        if !same {
            workshop::folder::write_whole(&path, bytes)?;
        }
    }
    Ok(())
}

/// The starter hulls.
#[utoipa::path(get, path = "/api/starters", tag = "start",
    responses((status = 200, body = Vec<StarterView>), (status = "4XX", body = Refusal)))]
pub async fn starters() -> Json<Vec<StarterView>> {
    let says = |hull: &str| match hull {
        "three-point" => "Two sponsons ahead, propeller and transom behind.",
        "outrigger" => "A narrow tub with sponsons on booms.",
        "vee" => "A vee-bottomed single hull.",
        "catamaran" => "Two slender hulls with a tunnel between.",
        _ => "",
    };
    let each = boat::STARTER_TYPES.iter().map(|hull| StarterView {
        hull: (*hull).to_owned(),
        says: says(hull).to_owned(),
    });
    Json(each.collect())
}

/// Starts a boat folder from a starter hull and opens it.
#[utoipa::path(post, path = "/api/boats", tag = "start", request_body = NewBoat,
    responses((status = 200, body = SessionView), (status = "4XX", body = Refusal)))]
pub async fn new_boat(
    State(app): State<Arc<App>>,
    Body(asked): Body<NewBoat>,
) -> Answer<Json<SessionView>> {
    aside(move || {
        let text = template(&asked.hull, &asked.name)?;
        started(&app, &asked.name, &text, None)
    })
    .await
}

fn template(hull: &str, name: &str) -> Answer<String> {
    let text = boat::template(hull, name).ok_or_else(|| {
        ApiError::unusable(
            format!("there is no starter hull of type {hull}"),
            format!("there are: {}", boat::STARTER_TYPES.join(", ")),
        )
    })?;
    boat::load(&text, "boat.toml")?;
    Ok(text)
}

/// Starts a boat from a mesh of one's own, with the parts of a starter boat to be changed.
#[utoipa::path(post, path = "/api/boats/mesh", tag = "start",
    request_body(content = MeshSent, content_type = "multipart/form-data"),
    responses((status = 200, body = SessionView), (status = "4XX", body = Refusal)))]
pub async fn boat_from_mesh(
    State(app): State<Arc<App>>,
    mut sent: Multipart,
) -> Answer<Json<SessionView>> {
    let (mut name, mut hull, mut mesh) = (None, None, None);
    while let Some(field) = sent.next_field().await.map_err(broken)? {
        match field.name().unwrap_or_default() {
            "name" => name = Some(field.text().await.map_err(broken)?),
            "hull" => hull = Some(field.text().await.map_err(broken)?),
            "file" => {
                let file = field.file_name().unwrap_or("hull.stl").to_owned();
                mesh = Some((file, field.bytes().await.map_err(broken)?));
            }
            _ => {}
        }
    }
    let (file, bytes) = mesh.ok_or_else(|| {
        ApiError::bad(
            "no mesh came with the request",
            "send it as the field `file`",
        )
    })?;
    aside(move || {
        let file = plain_name(&file)?;
        let stem = file.rsplit_once('.').map_or(&*file, |(stem, _)| stem);
        let name = name.filter(|n| !n.trim().is_empty());
        let name = name.unwrap_or_else(|| stem.to_owned());
        let text = template(hull.as_deref().unwrap_or("three-point"), &name)?;
        let text = boat::remove(
            &text,
            &[boat::Step::Key("hull"), boat::Step::Key("starter")],
        )?;
        let at = [boat::Step::Key("hull"), boat::Step::Key("file")];
        let text = boat::edit(&text, &at, file.as_str())?;
        // Read before anything is made, so that a mesh that cannot be used leaves nothing behind.
        form::assemble(&[(&file, &bytes)], &[mesh_file(&file)])
            .map_err(|error| ApiError::unusable(error.to_string(), "nothing was made"))?;
        started(&app, &name, &text, Some((file, bytes.to_vec())))
    })
    .await
}

/// Meshes may be larger than other bodies.
pub fn mesh_limit() -> DefaultBodyLimit {
    DefaultBodyLimit::max(MAX_MESH_BYTES)
}

fn mesh_file(path: &str) -> boat::MeshFile {
    boat::MeshFile {
        path: path.to_owned(),
        unit_m: None,
        forward: None,
        up: None,
    }
}

fn broken(error: axum::extract::multipart::MultipartError) -> ApiError {
    if error.status() == axum::http::StatusCode::PAYLOAD_TOO_LARGE {
        let most = MAX_MESH_BYTES >> 20;
        return ApiError::new(
            error.status(),
            format!("the mesh is larger than {most} MB"),
            "a hull needs no more than a few hundred thousand triangles: reduce them where it was drawn; nothing was made",
        );
    }
    ApiError::new(error.status(), error.body_text(), "send the file again")
}

/// A file name without any folder in it.
///
/// # Errors
/// [`ApiError`] for one that leads elsewhere or is hidden.
pub fn plain_name(given: &str) -> Answer<String> {
    let odd = |c: char| c.is_control() || "/\\:*?\"<>|~".contains(c);
    let fine = !given.is_empty() && given.len() <= 120 && !given.starts_with('.');
    if !fine || given.contains(odd) || workshop::beneath::is_reserved(given) {
        return Err(ApiError::unusable(
            format!("{given:?} is not a plain file name"),
            "rename it: letters, digits, spaces, - and _",
        ));
    }
    Ok(given.to_owned())
}

/// Makes a folder named after the boat, writes into it, and opens it.
fn started(
    app: &Arc<App>,
    name: &str,
    text: &str,
    mesh: Option<(String, Vec<u8>)>,
) -> Answer<Json<SessionView>> {
    let _one = app.opening.lock();
    let folder = free_folder(&app.config.boats_folder, name)?;
    let refused = |e: std::io::Error| ApiError::from(workshop::Fault::system("make", &folder, &e));
    std::fs::create_dir_all(&folder).map_err(refused)?;
    if let Some((file, bytes)) = mesh {
        workshop::folder::write_whole(&folder.join(file), &bytes)?;
    }
    workshop::folder::write_whole(&folder.join("boat.toml"), text.as_bytes())?;
    let desk = Desk::open(&folder, &app.config, None)?;
    app.put(Arc::new(desk));
    Ok(Json(view(app)))
}

/// `tern`, or `tern-2` when there is one.
///
/// # Errors
/// [`ApiError`] when a hundred are taken.
pub fn free_folder(home: &std::path::Path, name: &str) -> Answer<PathBuf> {
    // An accent may stand as a character of its own.
    let letter = |c: char| c.is_alphanumeric() || ('\u{300}'..='\u{36f}').contains(&c);
    let lower = name.trim().to_lowercase();
    let plain = lower.chars().map(|c| if letter(c) { c } else { '-' });
    let plain: String = plain.take(60).collect();
    let plain = plain.trim_matches('-');
    let plain = match plain {
        "" => "boat",
        name if workshop::beneath::is_reserved(name) => "boat",
        name => name,
    };
    let numbered = (2..100).map(|n| home.join(format!("{plain}-{n}")));
    std::iter::once(home.join(plain))
        .chain(numbered)
        .find(|path| !path.exists())
        .ok_or_else(|| {
            ApiError::conflict(
                format!("there are many boats called {plain}"),
                "take another name",
            )
        })
}
