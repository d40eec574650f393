//! Builds side by side: what changed, what was predicted, what was measured.

use evidence::outing::{QuantityKind, Statistic, Value as Quantity};
use report::measured::shown as shown_value;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use super::Outcome;
use super::keep::mesh_paths;
use super::outing::{folder_of, outings, read_measured};
use super::recording::{boat_alone, text};
use crate::cli_recordings::Builds;
use crate::failure::{Failure, shown};
use crate::output;

/// Why a build was kept, in its folder.
pub const WHY: &str = "build.json";
/// What was predicted of it.
pub const PREDICTED: &str = "predicted.json";

/// A frozen build.
pub struct Frozen {
    /// Folder name.
    pub name: String,
    /// From 1.
    pub number: u32,
    /// Where it lies.
    pub folder: PathBuf,
}

/// Frozen builds by number.
pub fn frozen(boat: &Path) -> Result<Vec<Frozen>, Failure> {
    let home = boat.join("builds");
    if !home.is_dir() {
        return Ok(Vec::new());
    }
    let entries = fs::read_dir(&home).map_err(|e| Failure::system("read the folder", &home, &e))?;
    let mut all: Vec<Frozen> = entries
        .filter_map(Result::ok)
        .filter_map(|e| {
            let name = e.file_name().to_string_lossy().into_owned();
            let number = name.split('-').next()?.parse().ok()?;
            let folder = e.path();
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
pub fn same_boat(a: &Path, b: &Path) -> bool {
    let same = |x: &Path, y: &Path| match (fs::read(x), fs::read(y)) {
        (Ok(x), Ok(y)) => x == y,
        _ => false,
    };
    let Ok(boat) = boat_alone(a) else {
        return false;
    };
    let meshes = mesh_paths(a, &boat).into_iter().zip(mesh_paths(b, &boat));
    same(&a.join("boat.toml"), &b.join("boat.toml"))
        && meshes.into_iter().all(|(x, y)| same(&x, &y))
}

pub fn run(given: &Builds) -> Result<Outcome, Failure> {
    let boat = folder_of(&given.boat)?;
    let all = frozen(&boat)?;
    let mut rows = Vec::new();
    let mut before: Option<&Path> = None;
    for b in &all {
        rows.push(row(&boat, &b.name, &b.folder, before)?);
        before = Some(&b.folder);
    }
    if all.last().is_none_or(|b| !same_boat(&boat, &b.folder)) {
        rows.push(row(&boat, "", &boat, before)?);
    }
    if given.json {
        output::print_json(&json!({ "builds": rows }))?;
    } else {
        output::print(&rows.iter().map(as_text).collect::<String>())?;
    }
    Ok(Outcome::Good)
}

/// One build as JSON; the boat as it is now has no name.
fn row(boat: &Path, name: &str, folder: &Path, before: Option<&Path>) -> Result<Value, Failure> {
    let note = read_json(&folder.join(WHY))?;
    let predicted = read_json(&folder.join(PREDICTED))?;
    let changed = match before {
        Some(before) => changes(before, folder)?,
        None => Vec::new(),
    };
    let now = name.is_empty();
    Ok(json!({
        "name": if now { Value::Null } else { name.into() },
        "date": note["date"],
        "why": note["why"],
        "changed": changed,
        "predicted": numbers(&predicted),
        "measured": measured(boat, (!now).then_some(name))?,
    }))
}

fn read_json(path: &Path) -> Result<Value, Failure> {
    if !path.is_file() {
        return Ok(Value::Null);
    }
    Ok(evidence::outing::given::from_json(
        &text(path)?,
        &shown(path),
    )?)
}

/// Number of each finding that has one.
fn numbers(predicted: &Value) -> Value {
    let findings = predicted["findings"].as_array().into_iter().flatten();
    let with = findings.filter(|f| f["number"].is_object());
    with.map(|f| json!({"id": f["id"], "standing": f["standing"], "number": f["number"]}))
        .collect()
}

/// Keys of the boat file that differ, with both values as written, and meshes that do.
fn changes(before: &Path, after: &Path) -> Result<Vec<Value>, Failure> {
    let (a, b) = (keys(before)?, keys(after)?);
    let mut found = Vec::new();
    for key in a.keys().chain(b.keys().filter(|k| !a.contains_key(*k))) {
        if a.get(key) != b.get(key) {
            found.push(json!({"key": key, "before": a.get(key), "after": b.get(key)}));
        }
    }
    let boat = boat_alone(after)?;
    for (old, new) in mesh_paths(before, &boat)
        .into_iter()
        .zip(mesh_paths(after, &boat))
    {
        let (x, y) = (fs::read(&old).ok(), fs::read(&new).ok());
        if x.is_some() && x != y {
            let name = new
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            found.push(json!({"key": format!("mesh {name}"), "before": "another shape", "after": "this shape"}));
        }
    }
    Ok(found)
}

/// Every value of a boat file by its path; entries of a list go by their names.
fn keys(folder: &Path) -> Result<BTreeMap<String, String>, Failure> {
    let file = folder.join("boat.toml");
    let table: toml::Table = evidence::outing::given::from_toml(&text(&file)?, &shown(&file))?;
    let mut out = BTreeMap::new();
    flatten("", &toml::Value::Table(table), &mut out);
    Ok(out)
}

fn flatten(path: &str, value: &toml::Value, out: &mut BTreeMap<String, String>) {
    let under = |key: &str| {
        if path.is_empty() {
            key.to_owned()
        } else {
            format!("{path}.{key}")
        }
    };
    match value {
        toml::Value::Table(t) => t.iter().for_each(|(k, v)| flatten(&under(k), v, out)),
        toml::Value::Array(all) if all.iter().all(toml::Value::is_table) && !all.is_empty() => {
            for (i, v) in all.iter().enumerate() {
                let name = v
                    .get("name")
                    .or_else(|| v.get("surface"))
                    .and_then(toml::Value::as_str);
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
fn measured(boat: &Path, build: Option<&str>) -> Result<Vec<Value>, Failure> {
    let mut best: BTreeMap<String, (String, Quantity)> = BTreeMap::new();
    for (date, folder) in outings(boat)? {
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
    let told = best.into_values().map(|(date, q)| {
        json!({
            "outing": date,
            "quantity": q,
            "says": format!("{} {}, {}", report::measured::name(&q), shown_value(q.kind, q.value, q.sigma), q.from.method),
        })
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

fn as_text(row: &Value) -> String {
    let mut text = String::new();
    let name = row["name"].as_str().unwrap_or("the boat as it is now");
    let _ = write!(text, "{name}");
    if let Some(date) = row["date"].as_str() {
        let _ = write!(text, " ({date})");
    }
    if let Some(why) = row["why"].as_str() {
        let _ = write!(text, ": {why}");
    }
    text.push('\n');
    for c in row["changed"].as_array().into_iter().flatten() {
        let side = |k: &str| c[k].as_str().unwrap_or("nothing").to_owned();
        let key = c["key"].as_str().unwrap_or_default();
        let _ = writeln!(
            text,
            "  changed    {key}: {} -> {}",
            side("before"),
            side("after")
        );
    }
    for p in row["predicted"].as_array().into_iter().flatten() {
        let n = &p["number"];
        let spread = n["spread"].as_f64().unwrap_or(0.0);
        let spread = if spread > 0.0 {
            format!(" ± {spread:.3}")
        } else {
            String::new()
        };
        let _ = writeln!(
            text,
            "  predicted  {}: {}{spread} {}",
            p["id"].as_str().unwrap_or_default(),
            n["value"],
            n["unit"].as_str().unwrap_or_default()
        );
    }
    for m in row["measured"].as_array().into_iter().flatten() {
        let _ = writeln!(
            text,
            "  measured   {} ({})",
            m["says"].as_str().unwrap_or_default(),
            m["outing"].as_str().unwrap_or_default()
        );
    }
    text
}
