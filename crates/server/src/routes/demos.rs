//! Ways to have a boat on the desk: demonstration boats, starter hulls, a mesh of one's own.

use axum::extract::{DefaultBodyLimit, Multipart, Path, State};
use serde::{Deserialize, Serialize};
use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;
use utoipa::ToSchema;
use workshop::child::Request;
use workshop::new_boat::{Known, NewAsk};
use workshop::size::SizeAsk;
use workshop::size::mesh::{ReadAs, of_bytes};
use workshop::{Ask, Quiet};

use super::jobs::number;
use super::session::{SessionView, view};
use crate::app::{App, aside};
use crate::desk::Desk;
use crate::error::{Answer, ApiError, Body, Refusal};
use crate::jobs::{Job, JobView};
use crate::json::Json;
use crate::program;
use crate::views::form::{SectionView, cross};
use crate::views::study::NoticeView;

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
    /// `three-point`, `outrigger`, `vee` or `catamaran`; as its shape tells it unless given.
    hull: Option<String>,
    /// `mm`, `cm`, `m` or `in`; by its size unless given.
    unit: Option<String>,
    /// Axis of the file that points to the bow: `+x`; by its shape unless given.
    forward: Option<String>,
    /// Axis of the file that points up; by its shape unless given.
    up: Option<String>,
    /// Hull and everything on it, kg; common practice unless given.
    all_up_kg: Option<f64>,
    /// Cells in series of each pack.
    cells: Option<u32>,
    /// Top speed wished for, m/s.
    speed_m_s: Option<f64>,
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
    let mut files = web_assets::demo(id).into_iter();
    let file = files.find(|(name, _)| *name == "boat.toml");
    let text = file.map_or_else(String::new, |(_, bytes)| {
        String::from_utf8_lossy(&bytes).into_owned()
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
fn fresh(folder: &std::path::Path, files: Vec<web_assets::File>) -> Answer<()> {
    let refused = |e: std::io::Error| ApiError::from(workshop::Fault::system("make", folder, &e));
    std::fs::create_dir_all(folder).map_err(refused)?;
    for (name, bytes) in files {
        let path = folder.join(name);
        let same = std::fs::read(&path).is_ok_and(|old| old == bytes);
        if !same {
            workshop::folder::write_whole(&path, &bytes)?;
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
        started(&app, &asked.name, &text)
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

/// Starts a boat from a mesh of one's own, fitted out by common practice and marked so.
#[utoipa::path(post, path = "/api/boats/mesh", tag = "start",
    request_body(content = MeshSent, content_type = "multipart/form-data"),
    responses((status = 200, body = SessionView), (status = "4XX", body = Refusal)))]
pub async fn boat_from_mesh(
    State(app): State<Arc<App>>,
    sent: Multipart,
) -> Answer<Json<SessionView>> {
    let came = Came::of(sent).await?;
    aside(move || {
        let stem = came
            .file
            .rsplit_once('.')
            .map_or(&*came.file, |(stem, _)| stem);
        let name = came.name.as_deref().filter(|n| !n.trim().is_empty());
        let name = name.unwrap_or(stem).to_owned();
        let _one = app.opening.lock();
        let dir = free_folder(&app.config.boats_folder, &name)?;
        // Kept where it does no harm until the boat folder is made whole.
        let beside = tempfile::tempdir()
            .map_err(|e| workshop::Fault::system("make", FilePath::new("a folder"), &e))?;
        let mesh = beside.path().join(&came.file);
        workshop::folder::write_whole(&mesh, &came.bytes)?;
        let ask = NewAsk {
            dir: dir.clone(),
            hull: came.hull,
            name: Some(name),
            mesh: Some(mesh),
            read_as: came.read_as,
            known: came.known,
        };
        workshop::ask(&ask, None, &Quiet)?;
        opened(&app, &dir)
    })
    .await
}

/// Opens a boat folder that was just made.
fn opened(app: &Arc<App>, folder: &FilePath) -> Answer<Json<SessionView>> {
    let desk = Desk::open(folder, &app.config, None)?;
    app.put(Arc::new(desk));
    Ok(Json(view(app)))
}

/// A mesh as it would be read; nothing is kept.
#[derive(Debug, Serialize, ToSchema)]
pub struct MeshLook {
    /// The axis of the file that points to the bow, as found or as said: `+x`.
    pub forward: String,
    /// The axis of the file that points up.
    pub up: String,
    /// What hull it is by its running surfaces; nothing where that cannot be told.
    pub hull: Option<String>,
    /// m.
    pub length_m: f64,
    /// m.
    pub beam_m: f64,
    /// m.
    pub height_m: f64,
    /// Names of the running surfaces that were found.
    pub surfaces: Vec<String>,
    /// What was found in it and guessed of it.
    pub notices: Vec<NoticeView>,
    /// Cross-sections, stern first.
    pub sections: Vec<SectionView>,
}

/// How a mesh would be read: to look at and to turn before a boat is made of it.
#[utoipa::path(post, path = "/api/meshes/look", tag = "start",
    request_body(content = MeshSent, content_type = "multipart/form-data"),
    responses((status = 200, body = MeshLook), (status = "4XX", body = Refusal)))]
pub async fn look_at_mesh(sent: Multipart) -> Answer<Json<MeshLook>> {
    let came = Came::of(sent).await?;
    aside(move || {
        let own = of_bytes(came.file, came.bytes, &came.read_as)?;
        let form = &own.form;
        let (low, high) = form.envelope.bounds().unwrap_or_default();
        let seen = match study::hull_type::HullType::seen(form) {
            study::hull_type::HullType::Other => None,
            known => Some(known.name().to_owned()),
        };
        let [forward, up] = own.axes.map(|axis| axis.word().to_owned());
        Ok(Json(MeshLook {
            forward,
            up,
            hull: seen,
            length_m: high.x - low.x,
            beam_m: high.y - low.y,
            height_m: high.z - low.z,
            surfaces: form.surfaces.iter().map(|s| s.name.clone()).collect(),
            notices: form.notices.iter().map(NoticeView::of).collect(),
            sections: cross(form, low.x, high.x),
        }))
    })
    .await
}

/// What came of a form with a mesh.
#[derive(Default)]
struct Came {
    name: Option<String>,
    hull: Option<String>,
    read_as: ReadAs,
    known: Known,
    file: String,
    bytes: Vec<u8>,
}

impl Came {
    async fn of(mut sent: Multipart) -> Answer<Self> {
        let (mut came, mut mesh) = (Self::default(), None);
        while let Some(field) = sent.next_field().await.map_err(broken)? {
            let of = field.name().unwrap_or_default().to_owned();
            if of == "file" {
                let file = field.file_name().unwrap_or("hull.stl").to_owned();
                mesh = Some((file, field.bytes().await.map_err(broken)?));
                continue;
            }
            let said = field.text().await.map_err(broken)?;
            let said = Some(said).filter(|said| !said.is_empty());
            match of.as_str() {
                "name" => came.name = said,
                "hull" => came.hull = said,
                "unit" => came.read_as.unit = said,
                "forward" => came.read_as.forward = said,
                "up" => came.read_as.up = said,
                "all_up_kg" => came.known.all_up_kg = numeral(&of, said)?,
                "cells" => came.known.cells = numeral(&of, said)?,
                "speed_m_s" => came.known.speed_m_s = numeral(&of, said)?,
                _ => {}
            }
        }
        let (file, bytes) = mesh.ok_or_else(|| {
            ApiError::bad(
                "no mesh came with the request",
                "send it as the field `file`",
            )
        })?;
        came.file = plain_name(&file)?;
        came.bytes = bytes.to_vec();
        Ok(came)
    }
}

fn numeral<N: std::str::FromStr>(of: &str, said: Option<String>) -> Answer<Option<N>> {
    let read = |said: String| {
        let none = || ApiError::unusable(format!("{said:?} is no number for {of}"), "");
        said.parse().map_err(|_| none())
    };
    said.map(read).transpose()
}

/// Meshes may be larger than other bodies.
pub fn mesh_limit() -> DefaultBodyLimit {
    DefaultBodyLimit::max(MAX_MESH_BYTES)
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
fn started(app: &Arc<App>, name: &str, text: &str) -> Answer<Json<SessionView>> {
    let _one = app.opening.lock();
    let folder = free_folder(&app.config.boats_folder, name)?;
    let refused = |e: std::io::Error| ApiError::from(workshop::Fault::system("make", &folder, &e));
    std::fs::create_dir_all(&folder).map_err(refused)?;
    workshop::folder::write_whole(&folder.join("boat.toml"), text.as_bytes())?;
    opened(app, &folder)
}

/// A hull to size.
#[derive(Debug, Deserialize, ToSchema)]
pub struct SizeAsked {
    /// The builder's name for it; the folder is named after it.
    #[schema(min_length = 1, max_length = 60)]
    pub name: String,
    /// `three-point`, `outrigger`, `vee` or `catamaran`.
    #[schema(max_length = 40)]
    pub hull: String,
    /// Everything but the printed hull, kg.
    pub carry_kg: f64,
    /// Cells in series of each pack.
    pub cells: u32,
    /// Top speed wished for, m/s.
    pub speed_m_s: f64,
}

/// Sizes a hull for a load and a speed, and writes it as a new boat folder beside the others: a job, whose result is a
/// `SizeAnswer`.
#[utoipa::path(post, path = "/api/sizes", tag = "start", request_body = SizeAsked,
    responses((status = 200, body = JobView), (status = "4XX", body = Refusal)))]
pub async fn size(
    State(app): State<Arc<App>>,
    Body(asked): Body<SizeAsked>,
) -> Answer<Json<JobView>> {
    let home = app.config.boats_folder.clone();
    std::fs::create_dir_all(&home).map_err(|e| workshop::Fault::system("make", &home, &e))?;
    let request = Request {
        boat: None,
        ask: Ask::Size(SizeAsk {
            dir: free_folder(&home, &asked.name)?,
            hull: Some(asked.hull),
            carry_kg: asked.carry_kg,
            cells: asked.cells,
            speed_m_s: asked.speed_m_s,
            length_m: None,
            fit: None,
            name: Some(asked.name),
            effort: workshop::check::Effort::default(),
        }),
    };
    let on = app.clone();
    let view = app.jobs.start("size", move |job: &Arc<Job>| {
        job.step("working", None);
        program::put(&on, &home, &request, job)
    })?;
    Ok(Json(view))
}

/// Opens the boat that a finished size made.
#[utoipa::path(post, path = "/api/sizes/{id}", tag = "start", params(("id" = u64, Path)),
    responses((status = 200, body = SessionView), (status = "4XX", body = Refusal)))]
pub async fn open_size(
    State(app): State<Arc<App>>,
    Path(id): Path<String>,
) -> Answer<Json<SessionView>> {
    let job = app.jobs.get(number(&id)?)?.now();
    aside(move || match job.result.as_deref() {
        Some(workshop::Answer::Size(made)) => {
            let _one = app.opening.lock();
            opened(&app, FilePath::new(&made.made))
        }
        _ => Err(ApiError::missing(
            format!("job {} made no boat", job.id),
            "size one first, and wait until it is done",
        )),
    })
    .await
}

/// `tern`, or `tern-2` when there is one.
///
/// # Errors
/// [`ApiError`] when a hundred are taken.
pub fn free_folder(home: &std::path::Path, name: &str) -> Answer<PathBuf> {
    let lower = name.trim().to_lowercase();
    let letter = workshop::folder::names_a_folder;
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
