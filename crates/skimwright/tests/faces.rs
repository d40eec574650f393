//! One boat, one answer: every face and every question says the same number for the same quantity.

mod folder;

use axum::body::{Body, to_bytes};
use axum::http::Request;
use folder::{Folder, example, run};
use serde_json::{Value, json};
use server::{App, Config};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use study::quantity::Quantity;
use study::{Effort, Study, study_with};
use tower::ServiceExt as _;
use workshop::bench::BoatAt;

const STARTERS: [&str; 4] = ["three-point", "outrigger", "vee", "catamaran"];
/// As deep as `check` looks, but for the spread: that is no face's number.
const EFFORT: Effort = Effort {
    points: 48,
    draws: 0,
    further: 0,
    seed: 1,
    trials: false,
    deep: true,
};

/// Where `check` and the page tell a row of `docs/quantities.md`: a finding's number in the quantity's first unit.
const TOLD: [(Quantity, &str); 13] = [
    (Quantity::RestTrim, "level"),
    (Quantity::RestHeel, "heel"),
    (Quantity::Freeboard, "freeboard"),
    (Quantity::HumpMargin, "hump"),
    (Quantity::PlaningSpeed, "planes"),
    (Quantity::TopSpeed, "top-speed"),
    (Quantity::TopCurrent, "controller"),
    (Quantity::Slip, "slip"),
    (Quantity::PorpoisingMargin, "porpoising"),
    (Quantity::RunTime, "run-time"),
    (Quantity::Hottest, "heat"),
    (Quantity::FlightMargin, "flight-margin"),
    (Quantity::TightestTurn, "tightest-turn"),
];

/// One boat and what every face says of it.
struct Faces {
    name: String,
    study: Study,
    check: Value,
    page: Value,
    poses: Value,
    report: String,
}

fn asked(arguments: &[&str]) -> Value {
    let said = run(arguments);
    assert!(said.code < 2, "{arguments:?}: {}", said.err);
    serde_json::from_str(&said.out).expect("JSON")
}

/// What the page's server answers.
struct Page {
    app: Arc<App>,
    runtime: tokio::runtime::Runtime,
    _state: tempfile::TempDir,
}

impl Page {
    fn of(boat: &Path) -> Self {
        let state = tempfile::tempdir().expect("a folder");
        let app = App::new(Config {
            port: 4911,
            lan: false,
            read_only: false,
            boats_folder: state.path().join("mine"),
            state_folder: state.path().join("state"),
            program: PathBuf::from(folder::PROGRAM),
            boat: Some(boat.to_owned()),
        });
        let app = Arc::new(app.expect("randomness"));
        app.open_boat().expect("a boat");
        Self {
            app,
            runtime: tokio::runtime::Runtime::new().expect("threads"),
            _state: state,
        }
    }

    fn get(&self, path: &str) -> String {
        let request = Request::builder()
            .uri(path)
            .header("host", "127.0.0.1:4911")
            .header("x-skimwright-token", self.app.guard.token())
            .body(Body::empty())
            .expect("a request");
        let router = server::router(self.app.clone());
        let answer = self.runtime.block_on(router.oneshot(request));
        let answer = answer.expect("an answer");
        assert!(answer.status().is_success(), "{path}: {}", answer.status());
        let bytes = self.runtime.block_on(to_bytes(answer.into_body(), 1 << 26));
        String::from_utf8(bytes.expect("a body").to_vec()).expect("text")
    }

    fn json(&self, path: &str) -> Value {
        serde_json::from_str(&self.get(path)).expect("JSON")
    }
}

impl Faces {
    fn of(name: &str, boat: &Path) -> Self {
        let at = boat.to_str().expect("a plain path");
        let loaded = workshop::folder::load(&BoatAt::saved(boat));
        let source = loaded
            .and_then(|l| l.source())
            .unwrap_or_else(|f| panic!("{name}: {f}"));
        let study = study_with(source.subject(), Some(&source), EFFORT, &|_| {});
        let page = Page::of(boat);
        Self {
            name: name.to_owned(),
            study: study.expect("a study"),
            check: asked(&["check", at, "--json", "--variations", "0"]),
            page: page.json("/api/study?depth=full"),
            poses: page.json("/api/poses?depth=full"),
            report: page.get("/api/report"),
        }
    }

    /// The one function's answer in the unit it is shown in.
    fn number(&self, quantity: Quantity) -> Option<f64> {
        let unit = quantity.kind().units().first().expect("a unit");
        Some((self.study.number(quantity)?.0 - unit.offset) / unit.factor)
    }

    fn same(&self, what: &str, one: f64, other: f64) {
        // Of two drives a check tells the one that is done first and a stint the first: they differ by a hair.
        let drives = self.study.boat.drives.len();
        let within = if drives > 1 { 1e-3 } else { 2e-5 };
        assert!(
            (one - other).abs() <= within * one.abs().max(1e-3),
            "{}: {what} is {one} here and {other} there",
            self.name
        );
    }

    /// Every row that `check` and the page have a finding for.
    fn rows(&self) -> usize {
        let mut told = 0;
        for (quantity, id) in TOLD {
            let (Some(number), Some(check)) = (self.number(quantity), value(&self.check, id))
            else {
                continue;
            };
            let number = match quantity {
                // A ratio, in times.
                Quantity::HumpMargin => 1.0 + 0.01 * number,
                Quantity::TightestTurn => 1e-3 * number,
                _ => number,
            };
            told += 1;
            self.same(
                &format!("check's {id}"),
                number,
                in_minutes(&self.check, id, check),
            );
            let page = value(&self.page, id).unwrap_or_else(|| panic!("{}: {id}", self.name));
            self.same(
                &format!("the page's {id}"),
                number,
                in_minutes(&self.page, id, page),
            );
        }
        let of = |face: &Value, path: &str| face.pointer(path).and_then(Value::as_f64);
        for (quantity, path) in [
            (Quantity::Mass, "/mass/value"),
            (Quantity::BalanceX, "/balance/x/value"),
        ] {
            let number = self.number(quantity).expect("every boat has one");
            for (face, all) in [("check", &self.check), ("the page", &self.page)] {
                let shown = of(all, path).unwrap_or_else(|| panic!("{face} has no {path}"));
                self.same(&format!("{face}'s {path}"), number, shown);
                told += 1;
            }
        }
        for (quantity, path) in [
            (Quantity::TopSpeed, "/top_km_h"),
            (Quantity::PlaningSpeed, "/planing_km_h"),
            (Quantity::RestTrim, "/rest/trim_deg"),
            (Quantity::RestHeel, "/rest/heel_deg"),
        ] {
            if let (Some(number), Some(shown)) = (self.number(quantity), of(&self.poses, path)) {
                self.same(&format!("the rail's {path}"), number, shown);
                told += 1;
            }
        }
        told
    }

    /// Power's questions.
    fn questions(&self, at: &str) {
        let Some(top) = self.number(Quantity::TopSpeed) else {
            return;
        };
        let stint = asked(&["stint", at, "--json", "--what-if", "air"]);
        let outfit = asked(&["outfit", at, "--json", "--rows", "1"]);
        let own = &outfit["present"];
        self.same("stint's top speed", top, in_unit(&stint["top_speed"]));
        self.same("outfit's top speed", top, in_unit(&own["top_speed"]));
        for (quantity, shown) in [
            (Quantity::TopCurrent, &own["straight_current"]),
            (Quantity::HumpCurrent, &own["hump_current"]),
            (Quantity::HumpCurrent, &stint["hump_current"]),
            (Quantity::TopShaftSpeed, &own["shaft_speed"]),
            (Quantity::RunTime, &own["run_time"]),
            (Quantity::RunTime, &stint["summary"]["time_on_pack"]),
            (Quantity::Hottest, &stint["summary"]["nearest"]["hottest"]),
        ] {
            if let Some(number) = self.number(quantity).filter(|_| !shown.is_null()) {
                self.same(
                    &format!("{quantity:?} in outfit or stint"),
                    number,
                    in_unit(shown),
                );
            }
        }
    }

    /// What is read: the header's text is the same everywhere, and the report prints what `check` says.
    fn words(&self, at: &str) {
        let next = asked(&[
            "next",
            at,
            "--json",
            "--variations",
            "0",
            "--with",
            "headwind=0 m/s",
        ]);
        assert_eq!(
            next["verdict"]["items"], self.check["verdict"]["items"],
            "{}",
            self.name
        );
        let items = |face: &Value| face["verdict"]["items"].as_array().expect("items").clone();
        for (ours, theirs) in items(&self.check).iter().zip(items(&self.page)) {
            assert_eq!(ours["id"], theirs["id"], "{}", self.name);
            assert_eq!(ours["beside"], theirs["beside"], "{}", self.name);
        }
        // With their spreads: the page and the report draw as many likely boats as `check` does.
        let spread = asked(&["check", at, "--json"]);
        for (ours, theirs) in items(&spread).iter().zip(items(&self.page)) {
            assert_eq!(ours["text"], theirs["text"], "{}", self.name);
        }
        for item in items(&self.page) {
            let text = item["text"].as_str().expect("a text");
            assert!(
                self.report.contains(text),
                "{}: the report lacks `{text}`",
                self.name
            );
        }
    }

    /// Where a run in time at full throttle on flat water goes on, it goes on at the speed that is told.
    fn on_the_pond(&self, at: &str) -> bool {
        let Some(top) = self.number(Quantity::TopSpeed) else {
            return false;
        };
        let run = asked(&[
            "pond",
            at,
            "--json",
            "--condition",
            "straight",
            "--throttle",
            "100%",
            "--water",
            "flat",
            "--seconds",
            // A hop takes some seconds to grow.
            "10",
        ]);
        if !run["stopped"].is_null() {
            return false;
        }
        let speeds = run["trace"]["speed_km_h"].as_array().expect("a trace");
        let late: Vec<f64> = speeds
            .iter()
            .rev()
            .take(50)
            .filter_map(Value::as_f64)
            .collect();
        let mean = late.iter().sum::<f64>() / late.len() as f64;
        assert!(
            (mean / top - 1.0).abs() < 0.015,
            "{}: {mean:.1} km/h in time, {top:.1} told",
            self.name
        );
        true
    }

    /// What learning predicts for a run at full throttle of which nothing else was noted.
    fn learning(&self, boat: &Path) {
        let rows = [
            (Quantity::TopSpeed, "speed", "m/s"),
            (Quantity::TopShaftSpeed, "shaft_speed", "rad/s"),
            (Quantity::TopCurrent, "current", "A"),
        ];
        let si = |quantity: Quantity| Some(self.study.number(quantity)?.0);
        let Some(told) = rows
            .map(|(q, ..)| si(q))
            .into_iter()
            .collect::<Option<Vec<_>>>()
        else {
            return;
        };
        let copy = Folder::new();
        for file in std::fs::read_dir(boat).expect("a folder") {
            let path = file.expect("an entry").path();
            if path.is_file() {
                let name = path.file_name().and_then(|n| n.to_str()).expect("a name");
                copy.write(name, &std::fs::read(&path).expect("a file"));
            }
        }
        let measured = rows.iter().zip(&told).map(|((_, kind, unit), value)| {
            json!({"kind": kind, "value": value, "sigma": 0.01 * value, "unit": unit,
                "statistic": "steady", "from": {"recording": "log.csv", "method": "log, full power"},
                "condition": {"motion": "straight", "throttle": 1.0}})
        });
        let outing = json!({"format": 1, "date": "2026-05-17", "invented": true, "recordings": [],
            "events": [], "clocks": [], "quantities": measured.collect::<Vec<_>>()});
        let day = copy.path().join("outings/2026-05-17");
        std::fs::create_dir_all(&day).expect("a folder");
        std::fs::write(day.join("measured.json"), outing.to_string()).expect("a file");
        let said = copy.run(&["learn", "@", "--json"]);
        assert!(said.code < 2, "{}: {}", self.name, said.err);
        let answer: Value = serde_json::from_str(&said.out).expect("JSON");
        let rows = answer["rows"].as_array().expect("rows");
        assert_eq!(rows.len(), told.len(), "{}", self.name);
        for row in rows {
            let (predicted, measured) = (in_unit(&row["predicted"]), in_unit(&row["measured"]));
            assert!(
                (predicted / measured - 1.0).abs() < 2e-3,
                "{}: learning predicts {predicted}, check tells {measured}: {row}",
                self.name
            );
        }
    }

    fn agree(&self, boat: &Path) -> bool {
        let at = boat.to_str().expect("a plain path");
        let rows = self.rows();
        assert!(rows >= 14, "{}: {rows} rows", self.name);
        self.questions(at);
        self.words(at);
        self.learning(boat);
        self.on_the_pond(at)
    }
}

/// A finding's number, in its unit.
fn value(face: &Value, id: &str) -> Option<f64> {
    let all = face["findings"].as_array().expect("findings");
    all.iter().find(|f| f["id"] == id)?["number"]["value"].as_f64()
}

/// Times are shown in minutes from two minutes on: in seconds here.
fn in_minutes(face: &Value, id: &str, value: f64) -> f64 {
    let all = face["findings"].as_array().expect("findings");
    let unit = all
        .iter()
        .find(|f| f["id"] == id)
        .map(|f| &f["number"]["unit"]);
    if unit.is_some_and(|u| u == "min") {
        60.0 * value
    } else {
        value
    }
}

fn in_unit(number: &Value) -> f64 {
    let value = number["value"].as_f64().expect("a number");
    if number["unit"] == "min" {
        60.0 * value
    } else {
        value
    }
}

fn demonstration(name: &str) -> bool {
    let boat = PathBuf::from(example(name));
    Faces::of(name, &boat).agree(&boat)
}

#[test]
fn three_points_and_the_outrigger_say_one_thing_in_every_face() {
    for name in ["practice", "tadpole", "longshank"] {
        assert!(demonstration(name), "{name} goes over at full throttle");
    }
}

#[test]
fn the_vee_and_the_catamaran_say_one_thing_in_every_face() {
    assert!(demonstration("millrace"), "it goes over at full throttle");
    // Let go at its steady top speed it goes over: its check says that it does from rest.
    demonstration("twin-thistle");
}

#[test]
fn starters_say_one_thing_in_every_face() {
    for hull in STARTERS {
        let boat = Folder::plain(hull);
        Faces::of(hull, boat.path()).agree(boat.path());
    }
}

/// A boat that does not stay at its steady top speed says in every face what it hops at.
#[test]
fn a_boat_that_hops_says_one_thing_in_every_face() {
    let text = std::fs::read_to_string(example("practice") + "/boat.toml").expect("a boat");
    let hull = std::fs::read_dir(example("practice")).expect("a folder");
    let boat = Folder::with_boat(&text.replacen("diameter = \"34 mm\"", "diameter = \"37 mm\"", 1));
    for file in hull.filter_map(|e| Some(e.ok()?.path())) {
        if file.is_file() && !file.ends_with("boat.toml") {
            let name = file.file_name().and_then(|n| n.to_str()).expect("a name");
            boat.write(name, &std::fs::read(&file).expect("a file"));
        }
    }
    let faces = Faces::of("practice with 37 mm", boat.path());
    assert!(faces.agree(boat.path()), "it goes over");
    let items = faces.check["verdict"]["items"].as_array().expect("items");
    let top = items.iter().find(|i| i["id"] == "top-speed").expect("told");
    let beside = top["beside"].as_str().expect("told");
    assert!(
        beside.contains("hopping") && !beside.contains("from rest"),
        "{beside}"
    );
}
