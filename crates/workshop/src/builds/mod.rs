//! Builds: the boat frozen with a reason, and builds side by side: what changed, what was predicted, what was measured.

use advice::{Number, Standing, findings};
use boat::Boat;
use evidence::outing::{QuantityKind, Statistic, Value as Quantity};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use utoipa::ToSchema;

use crate::bench::Bench;
use crate::beneath::{beneath, inside, read_at_most};
use crate::check::{CheckAnswer, Effort, studied};
use crate::fault::{Fault, shown};
use crate::folder::{boat_file, names_a_folder, write_whole};
use crate::outing::{outings, read_measured};
use crate::output::meshes_of;
use crate::question::Question;
use crate::recordings::{boat_alone, text};
use crate::watch::Remark;
use crate::writing::{UNFINISHED, clear_unfinished, flush_folder, one_writer};

mod beside;

pub use beside::{Cell, Row};

/// Why a build was kept, in its folder.
const WHY: &str = "build.json";
/// What was predicted of it.
const PREDICTED: &str = "predicted.json";
/// Longest name made of the reason, characters.
const LONGEST: usize = 32;
/// Larger files are neither boat files nor meshes.
const LARGEST_FILE: u64 = form::read::MAX_FILE_BYTES;

/// Freezes the saved boat as a build: its file, its meshes, what is predicted of them, and why.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct KeepAsk {
    /// Why it is kept, or what was changed for it.
    #[schema(max_length = 500)]
    pub why: String,
    /// How hard to look at what is predicted.
    pub effort: Effort,
}

/// A build that was frozen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct KeepAnswer {
    /// Where it lies.
    pub kept: String,
    /// Its folder's name.
    pub name: String,
    /// From 1.
    pub number: u32,
    /// As asked.
    pub why: String,
}

/// Sets builds side by side.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(default)]
pub struct BuildsAsk {
    /// Predict the boat as it is now too, so hard.
    pub now: Option<Effort>,
}

/// Builds side by side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BuildsAnswer {
    /// In order; last the boat as it is now, where it is none of them.
    pub builds: Vec<Build>,
    /// What differs between them or was measured.
    pub rows: Vec<Row>,
}

/// One build.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Build {
    /// Its folder's name; nothing for the boat as it is now.
    pub name: Option<String>,
    /// When it was kept.
    pub date: Option<String>,
    /// Why.
    pub why: Option<String>,
    /// From the one before.
    pub changed: Vec<Changed>,
    /// Numbers of its findings.
    pub predicted: Vec<Predicted>,
    /// The best that outings with it measured.
    pub measured: Vec<MeasuredBest>,
}

/// A key of the boat file that changed, or a mesh.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Changed {
    /// The way to it.
    pub key: String,
    /// As written in the one before; nothing where it was not there.
    pub before: Option<String>,
    /// As written now; nothing where it is gone.
    pub after: Option<String>,
}

/// A number that was predicted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Predicted {
    /// Of the finding.
    pub id: String,
    /// How it stood.
    pub standing: Standing,
    /// What it was.
    pub number: Number,
}

/// The best of a quantity that was measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MeasuredBest {
    /// On which outing.
    pub outing: String,
    /// What.
    pub quantity: Quantity,
    /// In words.
    pub says: String,
}

/// A frozen build.
pub(crate) struct Frozen {
    /// Folder name.
    pub name: String,
    /// From 1.
    pub number: u32,
    /// Where it lies.
    pub folder: PathBuf,
}

/// Frozen builds by number.
pub(crate) fn frozen(boat: &Path) -> Result<Vec<Frozen>, Fault> {
    let home = beneath(boat, "builds")?;
    if !home.is_dir() {
        return Ok(Vec::new());
    }
    let entries = fs::read_dir(&home).map_err(|e| Fault::system("read the folder", &home, &e))?;
    let mut all: Vec<Frozen> = entries
        .filter_map(Result::ok)
        .filter_map(|e| {
            let name = e.file_name().to_string_lossy().into_owned();
            let number = name.split('-').next()?.parse().ok()?;
            let folder = beneath(&home, &name).ok()?;
            folder.join("boat.toml").is_file().then_some(Frozen {
                name,
                number,
                folder,
            })
        })
        .collect();
    all.sort_by(|a, b| (a.number, &a.name).cmp(&(b.number, &b.name)));
    Ok(all)
}

/// Whether two folders hold the same boat file and meshes, to the byte.
pub(crate) fn same_boat(a: &Path, b: &Path) -> bool {
    let Ok(boat) = boat_alone(a) else {
        return false;
    };
    let mut meshes = mesh_paths(a, &boat).into_iter().zip(mesh_paths(b, &boat));
    same(&a.join("boat.toml"), &b.join("boat.toml")) && meshes.all(|(x, y)| same(&x, &y))
}

fn same(a: &Path, b: &Path) -> bool {
    let read = |path| read_at_most(path, LARGEST_FILE);
    matches!((read(a), read(b)), (Ok(a), Ok(b)) if a == b)
}

impl Question for KeepAsk {
    type Answer = KeepAnswer;

    fn answer(&self, bench: &Bench) -> Result<KeepAnswer, Fault> {
        let why = self.why.trim();
        if why.is_empty() {
            return Err(Fault::new(
                "a build is kept with a reason",
                "say in --why what was changed and why",
            ));
        }
        let loaded = bench.load()?;
        let folder = loaded.folder.clone();
        if let Some(left) = clear_unfinished(&folder)? {
            bench.watch().remark(&Remark::Plain(left));
        }
        refuse_same(&folder, &frozen(&folder)?)?;
        // What is studied is what is frozen, whatever happens to the files meanwhile.
        let mut files = vec![("boat.toml".to_owned(), loaded.text.clone().into_bytes())];
        for mesh in meshes_of(&loaded.declared) {
            let bytes = read_at_most(&inside(&folder, &mesh)?, LARGEST_FILE)?;
            files.push((mesh, bytes));
        }
        let study = studied(loaded, self.effort, bench)?;
        let predicted = CheckAnswer::of(&study, &findings(&study));
        // From here on nobody else keeps: of two at once each has a number of its own.
        let _one = one_writer(&folder)?;
        let before = frozen(&folder)?;
        refuse_same(&folder, &before)?;
        let number = before.last().map_or(1, |b| b.number + 1);
        let name = format!("{number}-{}", slug(why));
        let home = beneath(&folder, "builds")?;
        fs::create_dir_all(&home).map_err(|e| Fault::system("make", &home, &e))?;
        // Made whole under another name first, so that a build is all there or not there.
        let beside = tempfile::Builder::new()
            .prefix(&format!("{UNFINISHED}keeping-"))
            .tempdir_in(&home)
            .map_err(|e| Fault::system("write in", &home, &e))?;
        fill(beside.path(), &files)?;
        let today = jiff::ZonedDateTime::now().date().to_string();
        let note = json!({"format": 1, "number": number, "date": today, "why": why});
        write_json(&beside.path().join(WHY), &note)?;
        write_json(&beside.path().join(PREDICTED), &json!(predicted))?;
        let target = home.join(&name);
        if target.exists() {
            return Err(Fault::new(
                format!("{} is there already; nothing was changed", shown(&target)),
                "",
            ));
        }
        let made = beside.keep();
        fs::rename(&made, &target).map_err(|e| Fault::system("write", &target, &e))?;
        open_to_read(&target);
        flush_folder(&home);
        Ok(KeepAnswer {
            kept: target.display().to_string(),
            name,
            number,
            why: why.to_owned(),
        })
    }

    fn writes(&self) -> bool {
        true
    }
}

/// A build that is the last one again is none.
fn refuse_same(folder: &Path, before: &[Frozen]) -> Result<(), Fault> {
    let Some(same) = before.last().filter(|b| same_boat(folder, &b.folder)) else {
        return Ok(());
    };
    Err(Fault::new(
        format!("nothing changed since {}; nothing was kept", same.name),
        "its boat.toml and meshes are the same to the byte",
    ))
}

/// A temporary folder is closed to others; a build need not be.
fn open_to_read(folder: &Path) {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let _ = fs::set_permissions(folder, fs::Permissions::from_mode(0o755));
    }
    #[cfg(not(unix))]
    let _ = folder;
}

fn fill(into: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Fault> {
    for (name, bytes) in files {
        let to = into.join(name);
        if let Some(parent) = to.parent() {
            fs::create_dir_all(parent).map_err(|e| Fault::system("make", parent, &e))?;
        }
        write_whole(&to, bytes)?;
    }
    Ok(())
}

fn write_json(path: &Path, value: &Value) -> Result<(), Fault> {
    write_whole(path, format!("{value:#}\n").as_bytes())
}

/// The mesh files' places in a folder.
fn mesh_paths(folder: &Path, boat: &Boat) -> Vec<PathBuf> {
    meshes_of(boat).iter().map(|m| folder.join(m)).collect()
}

/// A short folder name of a reason.
fn slug(why: &str) -> String {
    let mut out = String::new();
    let lower = why.to_lowercase();
    let words = lower.split(|c: char| !names_a_folder(c));
    for word in words.filter(|w| !w.is_empty()) {
        if !out.is_empty() && out.len() + 1 + word.len() > LONGEST {
            break;
        }
        if !out.is_empty() {
            out.push('-');
        }
        out.push_str(&word[..word.floor_char_boundary(LONGEST)]);
    }
    if out.is_empty() {
        "build".to_owned()
    } else {
        out
    }
}

impl Question for BuildsAsk {
    type Answer = BuildsAnswer;

    fn answer(&self, bench: &Bench) -> Result<BuildsAnswer, Fault> {
        let home = bench.home()?;
        let all = frozen(&home)?;
        let mut builds = Vec::new();
        let mut before: Option<&Path> = None;
        for b in &all {
            builds.push(build(&home, Some(&b.name), &b.folder, before)?);
            before = Some(&b.folder);
        }
        if all.last().is_none_or(|b| !same_boat(&home, &b.folder)) {
            let mut now = build(&home, None, &home, before)?;
            if let Some(effort) = self.now {
                let study = studied(bench.load()?, effort, bench)?;
                now.predicted = numbers(&json!(CheckAnswer::of(&study, &findings(&study))));
            }
            builds.push(now);
        }
        Ok(BuildsAnswer {
            rows: beside::rows(&builds),
            builds,
        })
    }
}

fn build(
    home: &Path,
    name: Option<&str>,
    folder: &Path,
    before: Option<&Path>,
) -> Result<Build, Fault> {
    let note = read_json(&beneath(folder, WHY)?)?;
    let predicted = read_json(&beneath(folder, PREDICTED)?)?;
    let word = |key: &str| note[key].as_str().map(str::to_owned);
    Ok(Build {
        name: name.map(str::to_owned),
        date: word("date"),
        why: word("why"),
        changed: match before {
            Some(before) => changes(before, folder)?,
            None => Vec::new(),
        },
        predicted: numbers(&predicted),
        measured: measured(home, name)?,
    })
}

fn read_json(path: &Path) -> Result<Value, Fault> {
    if !path.is_file() {
        return Ok(Value::Null);
    }
    Ok(evidence::outing::given::from_json(
        &text(path)?,
        &shown(path),
    )?)
}

/// Number of each finding that has one; what an earlier version wrote otherwise is passed over.
fn numbers(predicted: &Value) -> Vec<Predicted> {
    let findings = predicted["findings"].as_array().into_iter().flatten();
    let one = |f: &Value| {
        Some(Predicted {
            id: f["id"].as_str()?.to_owned(),
            standing: serde_json::from_value(f["standing"].clone()).ok()?,
            number: serde_json::from_value(f["number"].clone()).ok()?,
        })
    };
    findings.filter_map(one).collect()
}

/// Keys of the boat file that differ, with both values as written, and meshes that do.
fn changes(before: &Path, after: &Path) -> Result<Vec<Changed>, Fault> {
    let (a, b) = (keys(before)?, keys(after)?);
    let mut found = Vec::new();
    for key in a.keys().chain(b.keys().filter(|k| !a.contains_key(*k))) {
        if a.get(key) != b.get(key) {
            found.push(Changed {
                key: key.clone(),
                before: a.get(key).cloned(),
                after: b.get(key).cloned(),
            });
        }
    }
    let boat = boat_alone(after)?;
    let meshes = mesh_paths(before, &boat)
        .into_iter()
        .zip(mesh_paths(after, &boat));
    for (_, new) in meshes.filter(|(old, new)| old.is_file() && !same(old, new)) {
        let name = new.file_name().unwrap_or_default().to_string_lossy();
        found.push(Changed {
            key: format!("mesh {name}"),
            before: Some("another shape".to_owned()),
            after: Some("this shape".to_owned()),
        });
    }
    Ok(found)
}

/// Every value of a boat file by its path; entries of a list go by their names.
fn keys(folder: &Path) -> Result<BTreeMap<String, String>, Fault> {
    let file = boat_file(folder)?;
    let table: toml::Table = evidence::outing::given::from_toml(&text(&file)?, &shown(&file))?;
    let mut out = BTreeMap::new();
    flatten("", &toml::Value::Table(table), &mut out);
    Ok(out)
}

fn flatten(path: &str, value: &toml::Value, out: &mut BTreeMap<String, String>) {
    let under = |key: &str| match path.is_empty() {
        true => key.to_owned(),
        false => format!("{path}.{key}"),
    };
    match value {
        toml::Value::Table(t) => t.iter().for_each(|(k, v)| flatten(&under(k), v, out)),
        toml::Value::Array(all) if all.iter().all(toml::Value::is_table) && !all.is_empty() => {
            for (i, v) in all.iter().enumerate() {
                let name = v.get("name").or_else(|| v.get("surface"));
                let name = name.and_then(toml::Value::as_str);
                let label = name.map_or_else(|| (i + 1).to_string(), |n| format!("\"{n}\""));
                flatten(&format!("{path} {label}"), v, out);
            }
        }
        toml::Value::String(s) => {
            out.insert(path.to_owned(), s.clone());
        }
        other => {
            out.insert(path.to_owned(), other.to_string());
        }
    }
}

/// The best of what outings with a build measured.
fn measured(home: &Path, build: Option<&str>) -> Result<Vec<MeasuredBest>, Fault> {
    let mut best: BTreeMap<String, (String, Quantity)> = BTreeMap::new();
    for (date, folder) in outings(home)? {
        let Some(outing) = read_measured(&folder)?.filter(|o| o.build.as_deref() == build) else {
            continue;
        };
        for q in outing.quantities.into_iter().filter(worth_comparing) {
            let key = json!([q.kind, q.statistic, q.from.method, q.from.which]).to_string();
            let better = best.get(&key).is_none_or(|(_, b)| better(&q, b));
            if better {
                best.insert(key, (date.clone(), q));
            }
        }
    }
    let told = best.into_values().map(|(outing, quantity)| MeasuredBest {
        says: format!(
            "{} {}, {}",
            report::measured::name(&quantity),
            report::measured::shown(quantity.kind, quantity.value, quantity.sigma),
            quantity.from.method
        ),
        outing,
        quantity,
    });
    Ok(told.collect())
}

/// What builds are compared by.
fn worth_comparing(q: &Quantity) -> bool {
    use QuantityKind as Q;
    matches!(
        q.kind,
        Q::Speed
            | Q::ShaftSpeed
            | Q::Current
            | Q::MotorTemperature
            | Q::ControllerTemperature
            | Q::TurnRadius
            | Q::HopFrequency
            | Q::LandingAcceleration
    ) && !matches!(q.statistic, Statistic::Least)
}

/// Tighter for turns, larger for the rest.
fn better(a: &Quantity, b: &Quantity) -> bool {
    if a.kind == QuantityKind::TurnRadius {
        a.value < b.value
    } else {
        a.value > b.value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reasons_become_short_names() {
        assert_eq!(
            slug("Wider pads: it would not plane!"),
            "wider-pads-it-would-not-plane"
        );
        assert_eq!(slug("Größere Kufen"), "größere-kufen");
        assert_eq!(slug("…"), "build");
        assert!(slug(&"x".repeat(200)).len() <= LONGEST);
        assert!(slug(&"ß".repeat(200)).len() <= LONGEST);
    }
}
