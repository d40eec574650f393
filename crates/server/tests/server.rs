//! Real requests: who is let in, what is kept, what is refused and why.

use axum::Router;
use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use serde_json::{Value, json};
use server::{App, Config};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, SystemTime};
use tower::ServiceExt as _;

struct Bench {
    home: tempfile::TempDir,
    app: Arc<App>,
    router: Router,
}

const PORT: u16 = 4911;

impl Bench {
    /// A server with a starter boat open.
    fn new() -> Self {
        let home = tempfile::tempdir().expect("a folder");
        let boat = home.path().join("tern");
        fs::create_dir(&boat).expect("a folder");
        let text = boat::template("vee", "Tern").expect("known");
        fs::write(boat.join("boat.toml"), text).expect("written");
        Self::at(home, false)
    }

    fn config(home: &tempfile::TempDir, read_only: bool) -> Config {
        Config {
            port: PORT,
            lan: false,
            read_only,
            boats_folder: home.path().join("mine"),
            state_folder: home.path().join("state"),
            program: PathBuf::from("/nonexistent"),
            boat: Some(home.path().join("tern")),
        }
    }

    fn at(home: tempfile::TempDir, read_only: bool) -> Self {
        let config = Self::config(&home, read_only);
        Self::of(home, config)
    }

    /// Another boat than Tern, read-only.
    fn named(home: tempfile::TempDir, boat: &str) -> Self {
        let config = Config {
            boat: Some(home.path().join(boat)),
            ..Self::config(&home, true)
        };
        Self::of(home, config)
    }

    fn of(home: tempfile::TempDir, config: Config) -> Self {
        let app = Arc::new(App::new(config).expect("randomness"));
        app.open_boat().expect("a boat");
        let router = server::router(app.clone());
        Self { home, app, router }
    }

    fn file(&self) -> PathBuf {
        self.home.path().join("tern/boat.toml")
    }

    fn text(&self) -> String {
        fs::read_to_string(self.file()).expect("a boat file")
    }

    fn request(&self, method: &str, path: &str) -> axum::http::request::Builder {
        Request::builder()
            .method(method)
            .uri(path)
            .header(header::HOST, format!("127.0.0.1:{PORT}"))
            .header(header::CONTENT_TYPE, "application/json")
    }

    async fn send(&self, request: Request<Body>) -> (StatusCode, Value) {
        let response = self
            .router
            .clone()
            .oneshot(request)
            .await
            .expect("an answer");
        let status = response.status();
        let bytes = axum::body::to_bytes(response.into_body(), 64 << 20).await;
        let bytes = bytes.expect("a body");
        (
            status,
            serde_json::from_slice(&bytes).unwrap_or(Value::Null),
        )
    }

    async fn ask(&self, method: &str, path: &str, body: Value) -> (StatusCode, Value) {
        let request = self
            .request(method, path)
            .header("x-skimwright-token", self.app.guard.token())
            .body(Body::from(body.to_string()));
        self.send(request.expect("a request")).await
    }

    async fn get(&self, path: &str) -> Value {
        let (status, answer) = self.ask("GET", path, Value::Null).await;
        assert_eq!(status, StatusCode::OK, "{path}: {answer}");
        answer
    }

    async fn bytes(&self, path: &str) -> Vec<u8> {
        let request = self
            .request("GET", path)
            .header("x-skimwright-token", self.app.guard.token())
            .body(Body::empty());
        let router = self.router.clone();
        let response = router.oneshot(request.expect("a request")).await;
        let response = response.expect("an answer");
        assert_eq!(response.status(), StatusCode::OK, "{path}");
        let bytes = axum::body::to_bytes(response.into_body(), 64 << 20).await;
        bytes.expect("a body").to_vec()
    }

    async fn set(&self, path: Value, value: &str) -> (StatusCode, Value) {
        let edits = json!({"edits": [{"path": path, "value": value}]});
        self.ask("PUT", "/api/whatif", edits).await
    }
}

fn said(answer: &Value) -> &str {
    answer["message"].as_str().unwrap_or_default()
}

#[tokio::test]
async fn without_the_token_nothing_is_told() {
    let bench = Bench::new();
    for path in ["/api/session", "/api/boat", "/api/outings"] {
        let request = bench.request("GET", path).body(Body::empty());
        let (status, answer) = bench.send(request.expect("a request")).await;
        assert_eq!(status, StatusCode::UNAUTHORIZED, "{path}");
        assert!(said(&answer).contains("token"), "{answer}");
    }
    let wrong = bench
        .request("GET", "/api/session")
        .header("x-skimwright-token", "0".repeat(64))
        .body(Body::empty());
    let (status, _) = bench.send(wrong.expect("a request")).await;
    assert_eq!(status, StatusCode::UNAUTHORIZED);
}

#[tokio::test]
async fn another_name_or_another_site_is_refused_even_with_the_token() {
    let bench = Bench::new();
    let token = bench.app.guard.token().to_owned();
    let with = |host: &str, name: &str, value: &str| {
        Request::builder()
            .uri("/api/session")
            .header(header::HOST, host)
            .header(name, value)
            .header("x-skimwright-token", &token)
            .body(Body::empty())
            .expect("a request")
    };
    let own = format!("127.0.0.1:{PORT}");
    let cases = [
        (
            format!("pond.example:{PORT}"),
            "accept",
            "*/*",
            StatusCode::MISDIRECTED_REQUEST,
        ),
        (
            "127.0.0.1:1".to_owned(),
            "accept",
            "*/*",
            StatusCode::MISDIRECTED_REQUEST,
        ),
        (
            format!("192.0.2.7:{PORT}"),
            "accept",
            "*/*",
            StatusCode::MISDIRECTED_REQUEST,
        ),
        (
            own.clone(),
            "origin",
            "http://pond.example",
            StatusCode::FORBIDDEN,
        ),
        (own.clone(), "origin", "null", StatusCode::FORBIDDEN),
        (
            own.clone(),
            "sec-fetch-site",
            "cross-site",
            StatusCode::FORBIDDEN,
        ),
        (own, "origin", "http://127.0.0.1:4911", StatusCode::OK),
    ];
    for (host, name, value, wanted) in cases {
        let (status, answer) = bench.send(with(&host, name, value)).await;
        assert_eq!(status, wanted, "{host} {name} {value}: {answer}");
    }
}

#[tokio::test]
async fn a_change_is_tried_undone_and_saved_with_comments_kept() {
    let bench = Bench::new();
    let before = bench.text();
    let comments = |text: &str| text.matches('#').count();
    let (status, answer) = bench.set(json!(["water", "temperature"]), "21 degC").await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    assert_eq!(answer["changed"].as_array().map(Vec::len), Some(1));
    assert_eq!(bench.text(), before, "the file is untouched until saved");
    bench.ask("POST", "/api/whatif/undo", json!({})).await;
    assert_eq!(bench.get("/api/boat").await["changed"], json!([]));
    bench.ask("POST", "/api/whatif/redo", json!({})).await;
    let revision = bench.get("/api/boat").await["revision"].clone();
    let (status, answer) = bench
        .ask("POST", "/api/save", json!({"revision": revision}))
        .await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    assert!(bench.text().contains("21 degC"));
    assert_eq!(comments(&bench.text()), comments(&before));
    let (status, answer) = bench
        .ask("POST", "/api/save", json!({"revision": revision}))
        .await;
    assert_eq!(status, StatusCode::CONFLICT, "an old revision: {answer}");
}

#[tokio::test]
async fn what_is_tried_out_survives_a_stop_at_any_moment() {
    let bench = Bench::new();
    bench.set(json!(["water", "temperature"]), "21 degC").await;
    bench.set(json!(["water", "temperature"]), "22 degC").await;
    let Bench { home, .. } = bench;
    let again = Bench::at(home, false);
    let boat = again.get("/api/boat").await;
    assert_eq!(boat["changed"][0]["whatif"], "22 degC");
    assert_eq!(boat["undo"].as_array().map(Vec::len), Some(2));
}

#[tokio::test]
async fn an_edit_elsewhere_is_merged_or_asked_about() {
    let bench = Bench::new();
    bench.set(json!(["water", "temperature"]), "21 degC").await;
    let renamed = bench.text().replace("\"Tern\"", "\"Plover\"");
    fs::write(bench.file(), &renamed).expect("written");
    let boat = bench.get("/api/boat").await;
    assert_eq!(boat["outside"]["state"], "merged");
    let text = boat["text"].as_str().expect("text").to_owned();
    assert!(text.contains("Plover") && text.contains("21 degC"));

    let doc = boat::edit(
        &renamed,
        &[boat::Step::Key("water"), boat::Step::Key("temperature")],
        "9 degC",
    );
    fs::write(bench.file(), doc.expect("edited")).expect("written");
    let boat = bench.get("/api/boat").await;
    assert_eq!(boat["outside"]["state"], "clash", "{}", boat["outside"]);
    let (status, answer) = bench.ask("POST", "/api/save", json!({})).await;
    assert_eq!(status, StatusCode::CONFLICT, "{answer}");
    assert!(bench.text().contains("9 degC"), "theirs is not overwritten");
    bench
        .ask("POST", "/api/boat/choice", json!({"keep": "mine"}))
        .await;
    let (status, answer) = bench.ask("POST", "/api/save", json!({})).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    assert!(bench.text().contains("21 degC") && bench.text().contains("Plover"));
}

#[tokio::test]
async fn a_torn_file_is_told_by_its_line_and_a_remark_in_it_is_nobodys_business() {
    let bench = Bench::new();
    let whole = bench.text();
    let torn = whole.replacen("\"Tern\"", "\"Tern", 1);
    let line = 1 + whole
        .lines()
        .take_while(|l| !l.contains("\"Tern\""))
        .count();
    fs::write(bench.file(), torn).expect("written");
    let boat = bench.get("/api/boat").await;
    assert_eq!(boat["outside"]["state"], "gone");
    let message = boat["outside"]["message"].as_str().expect("text");
    assert!(message.contains(&format!("line {line}")), "{message}");
    assert!(boat["text"].as_str().expect("text").contains("\"Tern\""));
    let again = bench.get("/api/boat").await;
    assert_eq!(again["version"], boat["version"], "looked at, not changed");
    fs::write(bench.file(), "").expect("emptied");
    let boat = bench.get("/api/boat").await;
    assert_eq!(boat["outside"]["state"], "gone", "an empty file is no boat");
    assert!(boat["text"].as_str().expect("text").contains("\"Tern\""));
    // As an editor writes: emptied first, filled a moment later. What stands between is never taken up.
    let (file, filled) = (bench.file(), format!("{whole}\n# a remark\n"));
    fs::write(&file, &filled[..filled.len() / 3]).expect("begun");
    let editor = std::thread::spawn(move || {
        std::thread::sleep(std::time::Duration::from_millis(10));
        fs::write(file, filled).expect("written");
    });
    let boat = bench.get("/api/boat").await;
    editor.join().expect("written");
    assert_eq!(boat["outside"]["state"], "calm");
}

#[tokio::test]
async fn two_pages_on_one_boat_lose_nothing() {
    let bench = Bench::new();
    let version = bench.get("/api/boat").await["version"].clone();
    let edit = |client: &str, key: [&str; 2], value: &str| {
        json!({"client": client, "version": version,
            "edits": [{"path": key, "value": value}]})
    };
    let water = ["water", "temperature"];
    let (status, _) = bench
        .ask("PUT", "/api/whatif", edit("a", water, "20 degC"))
        .await;
    assert_eq!(status, StatusCode::OK);
    let air = edit("b", ["air", "temperature"], "25 degC");
    let (status, answer) = bench.ask("PUT", "/api/whatif", air).await;
    assert_eq!(status, StatusCode::OK, "another key: {answer}");
    let (status, answer) = bench
        .ask("PUT", "/api/whatif", edit("b", water, "8 degC"))
        .await;
    assert_eq!(status, StatusCode::CONFLICT, "{answer}");
    assert!(said(&answer).contains("another page"), "{answer}");
    let text = bench.get("/api/boat").await["text"].to_string();
    assert!(text.contains("20 degC") && text.contains("25 degC"));
}

#[tokio::test]
async fn a_deleted_folder_is_explained_and_the_what_if_kept() {
    let bench = Bench::new();
    bench.set(json!(["water", "temperature"]), "21 degC").await;
    let text = bench.text();
    fs::remove_dir_all(bench.home.path().join("tern")).expect("removed");
    let boat = bench.get("/api/boat").await;
    assert_eq!(boat["outside"]["state"], "gone");
    assert!(boat["text"].to_string().contains("21 degC"));
    let (status, answer) = bench.ask("POST", "/api/save", json!({})).await;
    assert_eq!(status, StatusCode::CONFLICT, "{answer}");
    assert!(answer["hint"].to_string().contains("kept"), "{answer}");
    let (status, answer) = bench.set(json!(["water", "temperature"]), "23 degC").await;
    assert_eq!(status, StatusCode::OK, "edits go on: {answer}");
    assert!(!bench.home.path().join("tern").exists(), "not made again");
    fs::create_dir(bench.home.path().join("tern")).expect("put back");
    fs::write(bench.file(), text).expect("put back");
    let (status, answer) = bench.ask("POST", "/api/save", json!({})).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    assert!(bench.text().contains("23 degC"));
}

#[tokio::test]
async fn a_value_at_fault_is_shown_in_its_place_and_not_saved() {
    let bench = Bench::new();
    let before = bench.text();
    let (status, answer) = bench.set(json!(["water", "temperature"]), "warm").await;
    assert_eq!(status, StatusCode::OK, "it may be typed: {answer}");
    let problem = &answer["problems"][0];
    assert!(
        problem["line"].as_u64().is_some_and(|line| line > 1),
        "{problem}"
    );
    assert_eq!(problem["path"], "temperature");
    let (status, answer) = bench.ask("POST", "/api/save", json!({})).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{answer}");
    assert_eq!(bench.text(), before);
    let (status, answer) = bench.set(json!(["hull", "colour"]), "red").await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{answer}");
}

#[tokio::test]
async fn names_that_lead_out_of_the_folder_are_refused() {
    let bench = Bench::new();
    for name in [
        "..%2F..%2Fetc",
        "..",
        "a%2Fb",
        "%2Fetc%2Fpasswd",
        ".ssh",
        "c:x",
        "a%00b",
    ] {
        let path = format!("/api/outings/2026-05-17/recordings/{name}");
        let (status, answer) = bench.ask("PUT", &path, Value::Null).await;
        assert!(status.is_client_error(), "{name}: {status} {answer}");
        let path = format!("/api/outings/{name}/recordings/run.wav");
        let (status, answer) = bench.ask("GET", &path, Value::Null).await;
        assert!(status.is_client_error(), "{name}: {status} {answer}");
    }
    for question in [
        json!({"ask": "hear", "with": {"file": "../../etc/passwd"}}),
        json!({"ask": "stint", "with": {"script": {"table": {"file": "/etc/passwd"}}}}),
        json!({"ask": "pieces", "with": {"into": "../etc/passwd"}}),
        json!({"ask": "pieces", "with": {"into": "/tmp/etc/passwd"}}),
    ] {
        let job = json!({"question": question});
        let (status, answer) = bench.ask("POST", "/api/jobs", job).await;
        assert!(status.is_client_error(), "{status} {answer}");
        assert!(said(&answer).contains("etc/passwd is outside"), "{answer}");
    }
    assert_eq!(bench.get("/api/jobs").await, json!([]), "nothing is begun");
}

#[tokio::test]
async fn recordings_come_in_once_and_are_never_replaced() {
    let bench = Bench::new();
    let path = "/api/outings/2026-05-17/recordings/run.wav";
    let (status, answer) = bench.ask("PUT", path, json!("first")).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    let (status, answer) = bench.ask("PUT", path, json!("second")).await;
    assert_eq!(status, StatusCode::CONFLICT, "{answer}");
    let kept = bench.home.path().join("tern/outings/2026-05-17/run.wav");
    assert_eq!(fs::read_to_string(kept).expect("kept"), "\"first\"");
    let all = bench.get("/api/outings").await;
    assert_eq!(all[0]["recordings"][0]["bytes"], 7);
}

#[tokio::test]
async fn bodies_over_the_limit_are_refused() {
    let bench = Bench::new();
    let (status, answer) = bench.set(json!(["name"]), &"x".repeat(2 << 20)).await;
    assert_eq!(status, StatusCode::PAYLOAD_TOO_LARGE, "{answer}");
    assert!(!said(&answer).is_empty());
}

#[tokio::test]
async fn read_only_answers_and_changes_no_file() {
    let bench = Bench::new();
    let before = bench.text();
    let Bench { home, .. } = bench;
    let bench = Bench::at(home, true);
    let (status, _) = bench.set(json!(["water", "temperature"]), "21 degC").await;
    assert_eq!(status, StatusCode::OK, "trying out is free");
    for (method, path) in [
        ("POST", "/api/save"),
        ("POST", "/api/boats"),
        ("PUT", "/api/outings/x/recordings/run.wav"),
        ("PATCH", "/api/outings/x/uploads/run.wav?bytes=1"),
        ("POST", "/api/sizes"),
        ("POST", "/api/builds"),
        ("POST", "/api/outings/2026-05-17/notes"),
        ("POST", "/api/outings/2026-05-17/recordings/esc.csv/columns"),
        ("POST", "/api/learned"),
        ("DELETE", "/api/learned"),
    ] {
        let (status, answer) = bench.ask(method, path, json!({})).await;
        assert_eq!(status, StatusCode::FORBIDDEN, "{path}: {answer}");
    }
    let measure = json!({"ask": "measure", "with": {"outing": "2026-05-17"}});
    let pieces = json!({"ask": "pieces", "with": {"list_only": false}});
    for question in [measure, pieces] {
        let job = json!({"question": question});
        let (status, answer) = bench.ask("POST", "/api/jobs", job).await;
        assert_eq!(status, StatusCode::FORBIDDEN, "{answer}");
    }
    assert_eq!(bench.text(), before);
}

/// A disk that takes nothing: the boat file's folder cannot be written, as when it is full.
#[tokio::test]
async fn a_save_that_cannot_be_written_is_explained_and_nothing_lost() {
    let bench = Bench::new();
    bench.set(json!(["water", "temperature"]), "21 degC").await;
    // A folder in the file's place refuses every write, for any user.
    fs::remove_file(bench.file()).expect("removed");
    fs::create_dir(bench.file()).expect("made");
    let (status, answer) = bench.ask("POST", "/api/save", json!({})).await;
    assert_eq!(status, StatusCode::CONFLICT, "{answer}");
    assert!(!said(&answer).is_empty());
    let boat = bench.get("/api/boat").await;
    assert!(boat["text"].to_string().contains("21 degC"));
}

#[tokio::test]
async fn a_starter_boat_is_made_and_a_mesh_at_fault_leaves_nothing_behind() {
    let bench = Bench::new();
    let asked = json!({"name": "Wren", "hull": "three-point"});
    let (status, answer) = bench.ask("POST", "/api/boats", asked).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    assert!(bench.home.path().join("mine/wren/boat.toml").is_file());
    let form = "--x\r\ncontent-disposition: form-data; name=\"file\"; filename=\"bad.stl\"\r\n\r\nnot a mesh\r\n--x--\r\n";
    let request = Request::builder()
        .method("POST")
        .uri("/api/boats/mesh")
        .header(header::HOST, format!("127.0.0.1:{PORT}"))
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=x")
        .header("x-skimwright-token", bench.app.guard.token())
        .body(Body::from(form))
        .expect("a request");
    let (status, answer) = bench.send(request).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{answer}");
    assert!(!bench.home.path().join("mine/bad").exists());
}

#[tokio::test]
async fn findings_rail_and_shape_are_answered() {
    let bench = Bench::new();
    let study = bench.get("/api/study?depth=quick").await;
    assert!(study["findings"].as_array().is_some_and(|f| f.len() > 5));
    let poses = bench.get("/api/poses?depth=quick").await;
    let speeds = poses["speeds_km_h"].as_array().map_or(0, Vec::len);
    assert!(speeds > 20, "{speeds}");
    for stave in poses["staves"].as_array().expect("staves") {
        assert_eq!(stave["values"].as_array().map(Vec::len), Some(speeds));
    }
    for pose in poses["running"].as_array().expect("poses") {
        let number = |key: &str| pose[key].as_f64().expect("a number").to_radians();
        let (trim, heel) = (number("trim_deg"), number("heel_deg"));
        let up = [trim.sin(), trim.cos() * heel.sin(), trim.cos() * heel.cos()];
        let forces = pose["forces"].as_array().into_iter().flatten();
        let along = |f: &Value| -> f64 {
            let part = |axis: usize| up[axis] * f["force_n"][axis].as_f64().unwrap_or(f64::NAN);
            (0..3).map(part).sum()
        };
        let left: f64 = forces.map(along).sum();
        let weight = study["mass"]["value"].as_f64().expect("mass") * 1e-3 * 9.80665;
        // Solved to 1e-4 of the weight; each force is sent to 1e-4 N.
        assert!(left.abs() < 1e-3 * weight, "steady: {left} of {weight}");
    }
    let form = bench.get("/api/form").await;
    assert!(
        form["waterlines_m"]
            .as_array()
            .is_some_and(|l| !l.is_empty())
    );
}

/// Over a socket, as a browser comes: the address opens, the token is exchanged for a cookie.
#[tokio::test]
async fn the_quick_answer_leaves_out_what_takes_long_and_the_full_one_has_it() {
    let bench = Bench::new();
    let about = |study: &Value, what: &str| {
        let all = study["findings"].as_array().expect("a list");
        all.iter()
            .any(|f| f["id"].as_str().is_some_and(|id| id.contains(what)))
    };
    let quick = bench.get("/api/study?of=saved&depth=quick").await;
    let full = bench.get("/api/study?of=saved&depth=full").await;
    assert_eq!(
        (&quick["full"], &full["full"]),
        (&json!(false), &json!(true))
    );
    assert!(about(&quick, "top-speed") && about(&full, "top-speed"));
    assert!(!about(&quick, "flight-margin") && about(&full, "flight-margin"));
}

#[tokio::test]
async fn lines_over_the_rail_come_by_kind_and_reach_top_speed() {
    let bench = Bench::new();
    let poses = bench.get("/api/poses?of=saved&depth=quick").await;
    let top = poses["top_km_h"].as_f64().expect("a top speed");
    for (kind, stave, unit) in [
        ("stability", "stability", "1/s"),
        ("flight", "flight", "°"),
        ("heat", "heat", "°C"),
        ("turning", "turning", "m"),
    ] {
        let answer = bench
            .get(&format!("/api/staves?of=saved&what={kind}"))
            .await;
        assert_eq!(answer["revision"], poses["revision"]);
        let lines = answer["lines"].as_array().expect("a list");
        assert!(
            lines
                .iter()
                .any(|l| l["stave"] == stave && l["unit"] == unit),
            "{kind}"
        );
        for line in lines {
            let speeds: Vec<f64> =
                serde_json::from_value(line["speeds_km_h"].clone()).expect("speeds");
            let values = line["values"].as_array().expect("a list");
            assert_eq!(speeds.len(), values.len());
            assert!(speeds.windows(2).all(|s| s[0] < s[1]), "{line}");
            assert!(values.iter().any(Value::is_number), "{line}");
            let last = *speeds.last().expect("a speed");
            assert!(
                last <= top + 1e-6 && (kind == "turning" || last > top - 1e-6),
                "{line}"
            );
        }
    }
    let (status, answer) = bench.ask("GET", "/api/staves?what=luck", Value::Null).await;
    assert_eq!(status, StatusCode::BAD_REQUEST, "{answer}");
}

#[tokio::test]
async fn a_page_can_tell_that_the_boat_was_changed_elsewhere() {
    let bench = Bench::new();
    let changes = || async { bench.get("/api/session").await["changes"].as_u64() };
    let before = changes().await;
    assert_eq!(changes().await, before);
    let text = bench.text().replace("Tern", "Arctic tern");
    fs::write(bench.file(), text).expect("written");
    assert!(changes().await > before);
}

#[tokio::test]
async fn a_browser_comes_in_by_the_printed_address() {
    use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
    let bench = Bench::new();
    let mut config = bench.app.config.clone();
    config.port = 0;
    let app = Arc::new(App::new(config).expect("randomness"));
    let (send, port) = tokio::sync::oneshot::channel();
    let serving = app.clone();
    tokio::spawn(async move {
        let ready = |a: std::net::SocketAddr| {
            let _ = send.send(a);
        };
        server::serve(serving, ready, std::future::pending()).await
    });
    let address = port.await.expect("listening");
    assert!(address.ip().is_loopback());
    let talk = async |text: String| {
        let mut socket = tokio::net::TcpStream::connect(address).await.expect("open");
        socket.write_all(text.as_bytes()).await.expect("sent");
        let mut answer = String::new();
        socket.read_to_string(&mut answer).await.expect("answered");
        answer
    };
    let end = "Connection: close\r\n\r\n";
    let page = talk(format!("GET / HTTP/1.1\r\nHost: {address}\r\n{end}")).await;
    assert!(page.starts_with("HTTP/1.1 200"), "{page}");
    assert!(page.contains("content-security-policy"));
    let elsewhere = talk(format!("GET / HTTP/1.1\r\nHost: pond.example\r\n{end}")).await;
    assert!(elsewhere.starts_with("HTTP/1.1 421"), "{elsewhere}");
    let body = json!({"token": app.guard.token()}).to_string();
    let session = talk(format!(
        "POST /api/session HTTP/1.1\r\nHost: {address}\r\nContent-Type: application/json\r\nContent-Length: {}\r\n{end}{body}",
        body.len()
    ))
    .await;
    let cookie = session.lines().find_map(|l| l.strip_prefix("set-cookie: "));
    let cookie = cookie.expect("a cookie");
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"));
    let pair = cookie.split(';').next().expect("a pair");
    let again = talk(format!(
        "GET /api/session HTTP/1.1\r\nHost: {address}\r\nCookie: {pair}\r\n{end}"
    ))
    .await;
    assert!(again.starts_with("HTTP/1.1 200"), "{again}");
    assert!(Path::new(&bench.file()).exists());
}

/// The recordings of the practice boat, in an outing of the open one.
fn outing(bench: &Bench) -> PathBuf {
    let from =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/practice/outings/2026-05-17");
    let to = bench.home.path().join("tern/outings/2026-05-17");
    fs::create_dir_all(&to).expect("a folder");
    for file in [
        "bank.wav",
        "controller.csv",
        "track.gpx",
        "rudder.csv",
        "outing.toml",
    ] {
        fs::copy(from.join(file), to.join(file)).expect("copied");
    }
    to
}

const OF: &str = "/api/outings/2026-05-17/recordings";

#[tokio::test]
async fn an_outing_is_begun_with_a_file_to_fill_in_and_noted_key_by_key() {
    let bench = Bench::new();
    let (status, answer) = bench
        .ask("POST", "/api/outings", json!({"id": "2026-05-17"}))
        .await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    let note = |key: &str, value: &str| json!({"notes": [{"key": key, "value": value}]});
    let path = "/api/outings/2026-05-17/notes";
    let (status, answer) = bench.ask("POST", path, note("wind", "2 m/s")).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    assert_eq!(answer["notes"]["wind"], "2 m/s");
    assert!(
        answer["text"]
            .to_string()
            .contains("# The water in your words")
    );
    let before = answer["text"].clone();
    let (status, answer) = bench.ask("POST", path, note("wind", "brisk")).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{answer}");
    let (status, answer) = bench.ask("POST", path, note("colour", "red")).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{answer}");
    assert!(answer["hint"].to_string().contains("air_temperature"));
    assert_eq!(bench.get("/api/outings").await[0]["text"], before);
    let again = json!({"id": "2026-05-17", "text": "place = \"the other pond\"\n"});
    let (status, answer) = bench.ask("POST", "/api/outings", again).await;
    assert_eq!(status, StatusCode::CONFLICT, "{answer}");
    assert_eq!(bench.get("/api/outings").await[0]["text"], before);
    for id in ["someday", "2026-02-30", "2026-05-17-", "2026-05-17-a/b"] {
        let (status, answer) = bench.ask("POST", "/api/outings", json!({"id": id})).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{id}: {answer}");
    }
    let wrong = json!({"id": "2026-05-18", "text": "wind = 2"});
    let (status, answer) = bench.ask("POST", "/api/outings", wrong).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{answer}");
    assert_eq!(answer["problems"][0]["line"], 1);
    assert!(!bench.home.path().join("tern/outings/2026-05-18").exists());
}

#[tokio::test]
async fn recordings_are_known_for_what_they_are() {
    let bench = Bench::new();
    outing(&bench);
    let all = bench.get("/api/outings").await;
    let kinds: Vec<_> = all[0]["recordings"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|r| (r["name"].as_str().unwrap(), r["kind"].as_str().unwrap()))
        .collect();
    let wanted = [
        ("bank.wav", "sound"),
        ("controller.csv", "log"),
        ("rudder.csv", "pulses"),
        ("track.gpx", "track"),
    ];
    assert_eq!(kinds, wanted);
}

#[tokio::test]
async fn a_sound_is_drawn_and_what_is_none_is_explained() {
    let bench = Bench::new();
    outing(&bench);
    let bytes = bench
        .bytes(&format!(
            "{OF}/bank.wav/picture?high=2000&rows=100&columns=300"
        ))
        .await;
    let number = |i: usize| f64::from_le_bytes(bytes[8 * i..8 * i + 8].try_into().unwrap());
    let count = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()) as usize;
    let (columns, rows) = (count(32), count(36));
    assert_eq!((rows, bytes.len()), (100, 40 + columns * rows));
    assert!((300..=600).contains(&columns), "{columns}");
    assert!(
        (number(1) * columns as f64 - 12.0).abs() < 0.3,
        "12 s of sound"
    );
    // The invented boat's blade tone at the pass: 2 blades at 33 700 rpm are 1123 Hz.
    let at_pass = (5.26 / number(1)) as usize;
    let column = &bytes[40 + at_pass * rows..][..rows];
    let bright = (0..rows).max_by_key(|r| column[*r]).unwrap();
    assert!(
        (bright as f64 * number(3) - 1123.0).abs() < 80.0,
        "{bright}"
    );
    for (path, status) in [
        ("track.gpx/picture", StatusCode::UNPROCESSABLE_ENTITY),
        ("bank.wav/picture?columns=0", StatusCode::BAD_REQUEST),
        ("bank.wav/picture?from=9&to=3", StatusCode::BAD_REQUEST),
        ("bank.wav/picture?high=nan", StatusCode::BAD_REQUEST),
        ("gone.wav/picture", StatusCode::NOT_FOUND),
        ("bank.wav/frames", StatusCode::UNPROCESSABLE_ENTITY),
        ("bank.wav/courses", StatusCode::UNPROCESSABLE_ENTITY),
        ("outing.toml/courses", StatusCode::UNPROCESSABLE_ENTITY),
        ("..%2Fboat.toml/courses", StatusCode::UNPROCESSABLE_ENTITY),
    ] {
        let (got, answer) = bench.ask("GET", &format!("{OF}/{path}"), Value::Null).await;
        assert_eq!(got, status, "{path}: {answer}");
        assert!(!said(&answer).is_empty(), "{path}");
    }
}

#[tokio::test]
async fn a_log_and_a_track_give_every_reading() {
    let bench = Bench::new();
    outing(&bench);
    for (file, rows, names) in [
        (
            "controller.csv",
            680,
            vec![
                "shaft",
                "current",
                "voltage",
                "motor temperature",
                "throttle",
            ],
        ),
        ("track.gpx", 339, vec!["east", "north", "speed"]),
    ] {
        let bytes = bench.bytes(&format!("{OF}/{file}/courses")).await;
        let length = u32::from_le_bytes(bytes[..4].try_into().unwrap()) as usize;
        let head: Value = serde_json::from_slice(&bytes[4..4 + length]).expect("JSON");
        assert_eq!(head["count"], rows, "{file}");
        let told: Vec<_> = head["courses"]
            .as_array()
            .unwrap()
            .iter()
            .map(|c| &c["name"])
            .collect();
        assert_eq!(told, names);
        assert_eq!(bytes.len(), 4 + length + rows * (8 + 4 * names.len()));
        assert_eq!(
            head["confirmed"],
            file == "track.gpx",
            "nobody has agreed to the log"
        );
    }
}

#[tokio::test]
async fn marks_are_written_where_they_can_be_read_again() {
    let bench = Bench::new();
    let folder = outing(&bench);
    let path = "/api/outings/2026-05-17/marks/run.mp4.marks.json";
    let marks = json!({"boat_length": "560 mm ± 3 mm", "mark": [
        {"time_s": 3.0, "bow": [310, 412], "stern": [210, 413]}]});
    let (status, answer) = bench.ask("PUT", path, marks).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    assert_eq!(answer["kind"], "marks");
    let before = fs::read(folder.join("run.mp4.marks.json")).expect("kept");
    let (status, answer) = bench
        .ask("PUT", path, json!({"mark": [{"bow": [1]}]}))
        .await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{answer}");
    assert_eq!(
        fs::read(folder.join("run.mp4.marks.json")).expect("kept"),
        before
    );
    let elsewhere = "/api/outings/2026-05-17/marks/outing.toml";
    let (status, _) = bench.ask("PUT", elsewhere, json!({})).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn symptoms_and_quantities_are_listed() {
    let bench = Bench::new();
    let all = bench.get("/api/symptoms").await;
    let ids: Vec<_> = all
        .as_array()
        .unwrap()
        .iter()
        .map(|s| s["id"].as_str().unwrap())
        .collect();
    assert!(ids.contains(&"porpoising"), "{ids:?}");
    let all = bench.get("/api/quantities").await;
    assert!(
        all.as_array()
            .unwrap()
            .contains(&json!("motor_temperature"))
    );
}

#[tokio::test]
async fn what_was_learned_is_set_aside_and_not_lost() {
    let bench = Bench::new();
    let (status, _) = bench.ask("DELETE", "/api/learned", Value::Null).await;
    assert_eq!(status, StatusCode::NOT_FOUND);
    let learned = bench.home.path().join("tern/learned.toml");
    for n in 1..3 {
        fs::write(&learned, format!("# {n}")).expect("written");
        let (status, answer) = bench.ask("DELETE", "/api/learned", Value::Null).await;
        assert_eq!(status, StatusCode::OK, "{answer}");
        let aside = learned.with_file_name(format!("learned-before-{n}.toml"));
        assert_eq!(fs::read_to_string(aside).expect("kept"), format!("# {n}"));
    }
    assert!(!learned.exists());
}

#[tokio::test]
async fn a_demonstration_boat_takes_its_outings_along_when_it_is_saved() {
    let bench = Bench::new();
    let (status, answer) = bench.ask("POST", "/api/demos/practice", Value::Null).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    let path = "/api/outings/2026-05-17/recordings/run.wav";
    let (status, answer) = bench.ask("PUT", path, json!("sound")).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    bench.set(json!(["water", "temperature"]), "21 degC").await;
    let (status, answer) = bench.ask("POST", "/api/save", json!({})).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    let folder = PathBuf::from(answer["folder"].as_str().expect("a folder"));
    assert!(folder.starts_with(bench.home.path().join("mine")));
    let kept = folder.join("outings/2026-05-17/run.wav");
    assert_eq!(fs::read_to_string(kept).expect("kept"), "\"sound\"");
}

#[tokio::test]
async fn read_only_keeps_what_is_tried_out_with_the_builders_own_state() {
    let Bench { home, .. } = Bench::new();
    let bench = Bench::at(home, true);
    let warm = json!(["water", "temperature"]);
    let (status, _) = bench.set(warm, "21 degC").await;
    assert_eq!(status, StatusCode::OK);
    let boat = bench.home.path().join("tern");
    let names = fs::read_dir(boat).expect("a folder").count();
    assert_eq!(names, 1, "boat.toml alone");
    let Bench { home, .. } = bench;
    let again = Bench::at(home, true);
    let boat = again.get("/api/boat").await;
    assert_eq!(boat["changed"][0]["whatif"], "21 degC", "{boat}");
}

#[tokio::test]
async fn a_whatif_that_cannot_be_read_is_set_aside_and_said_to_be() {
    for odd in ["not JSON", "{\"saved\": 3}"] {
        let Bench { home, .. } = Bench::new();
        let beside = home.path().join("tern/.skimwright");
        fs::create_dir_all(&beside).expect("made");
        fs::write(beside.join("whatif.json"), odd).expect("written");
        let bench = Bench::at(home, false);
        let remarks = bench.get("/api/session").await["remarks"].to_string();
        assert!(remarks.contains("it was set aside as"), "{remarks}");
        let kept = fs::read_to_string(beside.join("whatif.unreadable"));
        assert_eq!(kept.expect("kept"), odd);
        let (status, _) = bench.set(json!(["name"]), "Heron").await;
        assert_eq!(status, StatusCode::OK);
        // A page opened at a later start is told too; another one that cannot be read does not take its place.
        fs::write(beside.join("whatif.json"), "[").expect("written");
        let remarks = bench.get("/api/session").await["remarks"].to_string();
        assert!(remarks.contains("whatif.2.unreadable"), "{remarks}");
        let Bench { home, .. } = bench;
        let again = Bench::at(home, false);
        let remarks = again.get("/api/session").await["remarks"].to_string();
        for kept in ["whatif.unreadable", "whatif.2.unreadable"] {
            assert!(remarks.contains(kept), "{remarks}");
        }
    }
}

#[tokio::test]
async fn values_of_thousands_of_commas_are_a_mistake_like_any_other() {
    let bench = Bench::new();
    let (status, _) = bench
        .set(json!(["water", "temperature"]), &"1,".repeat(30_000))
        .await;
    assert_eq!(status, StatusCode::OK);
    let Bench { home, .. } = bench;
    let boat = Bench::at(home, false).get("/api/boat").await;
    let text = boat["problems"][0]["text"].as_str().unwrap_or_default();
    assert!(text.contains("longer than 200 characters"), "{text}");
}

#[tokio::test]
async fn the_later_whatif_is_taken_up_whatever_the_time_of_its_file() {
    let Bench { home, .. } = Bench::new();
    // Read-only, so that it is kept with the builder's own state; then written to the boat folder.
    let bench = Bench::at(home, true);
    bench.set(json!(["name"]), "Heron").await;
    let kept = fs::read_dir(bench.home.path().join("state")).expect("made");
    let elsewhere = kept.flatten().next().expect("kept").path();
    let earlier = fs::read(&elsewhere).expect("kept");
    let Bench { home, .. } = bench;
    let bench = Bench::at(home, false);
    bench.set(json!(["name"]), "Grebe").await;
    assert!(!elsewhere.exists(), "the earlier one is of no more use");
    fs::write(&elsewhere, earlier).expect("written");
    let ahead = SystemTime::now() + Duration::from_secs(86_400);
    let file = fs::File::options().append(true).open(elsewhere);
    file.expect("open").set_modified(ahead).expect("set");
    let Bench { home, .. } = bench;
    let boat = Bench::at(home, false).get("/api/boat").await;
    assert_eq!(boat["changed"][0]["whatif"], "Grebe", "{boat}");
}

/// A boat with a what-if that lies with the builder's own state.
async fn tried_read_only() -> Bench {
    let Bench { home, .. } = Bench::new();
    let bench = Bench::at(home, true);
    bench.set(json!(["name"]), "Heron").await;
    bench
}

fn undo(boat: &Value) -> Vec<&str> {
    let steps = boat["undo"].as_array().into_iter().flatten();
    steps.filter_map(Value::as_str).collect()
}

#[tokio::test]
async fn a_boat_that_was_renamed_or_copied_keeps_its_whatif() {
    // Renamed, and changed by an editor since.
    let Bench { home, .. } = tried_read_only().await;
    let (old, new) = (home.path().join("tern"), home.path().join("plover"));
    fs::rename(&old, &new).expect("renamed");
    let text = fs::read_to_string(new.join("boat.toml")).expect("read");
    fs::write(new.join("boat.toml"), format!("{text}# measured\n")).expect("written");
    fs::create_dir(&old).expect("made");
    fs::write(old.join("boat.toml"), text.replace("Tern", "Dunlin")).expect("written");
    let bench = Bench::named(home, "plover");
    let boat = bench.get("/api/boat").await;
    assert_eq!(boat["changed"][0]["whatif"], "Heron", "{boat}");
    assert!(boat["text"].to_string().contains("# measured"));
    // Another boat in its old place is not mixed with it, and its builder can look at it.
    let Bench { home, .. } = bench;
    let bench = Bench::named(home, "tern");
    let boat = bench.get("/api/boat").await;
    assert_eq!(boat["changed"], json!([]), "{boat}");
    assert_eq!(undo(&boat), ["tried out elsewhere"]);
    let remarks = bench.get("/api/session").await["remarks"].to_string();
    assert!(remarks.contains("undo shows it"), "{remarks}");
    bench.ask("POST", "/api/whatif/undo", json!({})).await;
    assert!(
        bench.get("/api/boat").await["text"]
            .to_string()
            .contains("Heron")
    );
}

#[tokio::test]
async fn a_boat_on_another_disk_keeps_its_whatif_and_a_second_copy_is_another_boat() {
    let Bench { home, .. } = tried_read_only().await;
    let (old, new) = (home.path().join("tern"), home.path().join("copy"));
    fs::create_dir(&new).expect("made");
    fs::copy(old.join("boat.toml"), new.join("boat.toml")).expect("copied");
    let bench = Bench::named(home, "copy");
    let boat = bench.get("/api/boat").await;
    assert_eq!(boat["changed"], json!([]), "both are there: {boat}");
    let Bench { home, .. } = bench;
    fs::remove_dir_all(&old).expect("removed");
    let boat = Bench::named(home, "copy").get("/api/boat").await;
    assert_eq!(boat["changed"][0]["whatif"], "Heron", "moved: {boat}");
}

#[tokio::test]
async fn of_two_whatifs_none_is_lost() {
    let Bench { home, .. } = tried_read_only().await;
    let state = home.path().join("state");
    let kept: Vec<_> = fs::read_dir(&state).expect("made").flatten().collect();
    let (name, bytes) = (kept[0].path(), fs::read(kept[0].path()).expect("kept"));
    fs::remove_file(&name).expect("removed");
    let bench = Bench::at(home, false);
    bench.set(json!(["name"]), "Grebe").await;
    bench.set(json!(["water", "temperature"]), "21 degC").await;
    fs::write(&name, bytes).expect("written");
    let Bench { home, .. } = bench;
    let bench = Bench::at(home, false);
    let boat = bench.get("/api/boat").await;
    assert_eq!(
        boat["changed"][0]["whatif"], "Grebe",
        "the later one: {boat}"
    );
    assert_eq!(undo(&boat)[0], "tried out elsewhere");
    bench.ask("POST", "/api/whatif/undo", json!({})).await;
    assert!(
        bench.get("/api/boat").await["text"]
            .to_string()
            .contains("Heron")
    );
    bench.ask("POST", "/api/whatif/redo", json!({})).await;
    assert!(
        bench.get("/api/boat").await["text"]
            .to_string()
            .contains("Grebe")
    );
    assert!(!name.exists(), "it is among the steps now");
}

#[tokio::test]
async fn recordings_are_never_pages() {
    let bench = Bench::new();
    for name in ["evil.html", "evil.svg", "evil.xhtml", "evil.js", "evil"] {
        let path = format!("/api/outings/2026-05-17/recordings/{name}");
        let (status, answer) = bench.ask("PUT", &path, json!("x")).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{name}: {answer}");
    }
    let folder = bench.home.path().join("tern/outings/2026-05-17");
    fs::create_dir_all(&folder).expect("made");
    let bytes = "application/octet-stream";
    for (name, kind) in [
        ("evil.html", bytes),
        ("evil.svg", bytes),
        ("evil.js", bytes),
        ("log.csv", bytes),
        ("run.wav", "audio/wav"),
        ("film.mp4", "video/mp4"),
    ] {
        fs::write(folder.join(name), "<script>1</script>").expect("written");
        let path = format!("/api/outings/2026-05-17/recordings/{name}");
        let request = bench
            .request("GET", &path)
            .header("x-skimwright-token", bench.app.guard.token())
            .body(Body::empty());
        let router = bench.router.clone();
        let answer = router.oneshot(request.expect("a request")).await;
        let headers = answer.expect("an answer").headers().clone();
        assert_eq!(headers[header::CONTENT_TYPE], kind, "{name}");
        assert_eq!(headers[header::CONTENT_DISPOSITION], "attachment");
        assert_eq!(headers[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
        let policy = headers[header::CONTENT_SECURITY_POLICY].to_str();
        assert!(policy.expect("text").starts_with("sandbox;"), "{name}");
    }
}

#[cfg(unix)]
#[tokio::test]
async fn links_and_pipes_in_a_strangers_folder_lead_nowhere() {
    use std::os::unix::fs::symlink;
    let Bench { home, .. } = Bench::new();
    let (boat, outside) = (home.path().join("tern"), home.path().join("outside"));
    fs::create_dir_all(outside.join("2026-05-17")).expect("made");
    fs::write(outside.join("2026-05-17/outing.toml"), "place = \"secret\"").expect("written");
    fs::write(outside.join("secret.csv"), "t,secret\n0,1\n1,2\n").expect("written");
    symlink(&outside, boat.join(".skimwright")).expect("a link");
    symlink(&outside, boat.join("builds")).expect("a link");
    symlink(&outside, boat.join("outings")).expect("a link");
    let bench = Bench::at(home, false);
    bench.set(json!(["name"]), "Heron").await;
    assert_eq!(bench.get("/api/outings").await, json!([]));
    let run = "/api/outings/2026-05-17/recordings/run.wav";
    for (method, path, body) in [
        ("PUT", run, json!("x")),
        ("POST", "/api/outings", json!({"id": "2026-05-18"})),
        (
            "POST",
            "/api/outings/2026-05-17/notes",
            json!({"notes": [{"key": "place", "value": "x"}]}),
        ),
        (
            "PUT",
            "/api/outings/2026-05-17/marks/a.marks.json",
            json!({}),
        ),
        ("GET", "/api/builds", Value::Null),
    ] {
        let (status, answer) = bench.ask(method, path, body).await;
        assert!(status.is_client_error(), "{path}: {answer}");
        assert!(
            said(&answer).contains("outside the boat folder"),
            "{answer}"
        );
    }
    assert_eq!(
        fs::read_dir(&outside).expect("there").count(),
        2,
        "nothing landed there"
    );
    assert_eq!(
        fs::read_dir(outside.join("2026-05-17"))
            .expect("there")
            .count(),
        1
    );
    // Single links and pipes in a folder of the boat's own.
    fs::remove_file(boat.join("outings")).expect("removed");
    let day = boat.join("outings/2026-05-17");
    fs::create_dir_all(&day).expect("made");
    symlink(outside.join("secret.csv"), day.join("log.csv")).expect("a link");
    symlink(
        outside.join("2026-05-17/outing.toml"),
        day.join("outing.toml"),
    )
    .expect("a link");
    let pipe = std::process::Command::new("mkfifo")
        .arg(day.join("measured.json"))
        .status();
    assert!(pipe.expect("mkfifo").success());
    let all = bench.get("/api/outings").await;
    assert_eq!(all[0]["text"], "", "{all}");
    let path = "/api/outings/2026-05-17/recordings/log.csv";
    for path in [path.to_owned(), format!("{path}/courses")] {
        let (status, answer) = bench.ask("GET", &path, Value::Null).await;
        assert!(status.is_client_error(), "{path}: {status} {answer}");
    }
    // A boat file that is a link shows nothing of what it leads to.
    fs::remove_file(boat.join("boat.toml")).expect("removed");
    symlink(outside.join("secret.csv"), boat.join("boat.toml")).expect("a link");
    let Bench { home, app, .. } = bench;
    assert!(app.open_boat().is_err());
    drop(home);
}

#[tokio::test]
async fn work_that_a_request_waits_for_counts_as_a_job() {
    let bench = Bench::new();
    let taken: Vec<_> = (0..8)
        .map(|_| bench.app.jobs.room().expect("room"))
        .collect();
    let build = json!({"why": "wider pads"});
    let (status, answer) = bench.ask("POST", "/api/builds", build).await;
    assert_eq!(status, StatusCode::TOO_MANY_REQUESTS, "{answer}");
    let learn = json!({"outing": "2026-05-17"});
    let (status, answer) = bench.ask("POST", "/api/learned", learn).await;
    assert_eq!(status, StatusCode::TOO_MANY_REQUESTS, "{answer}");
    drop(taken);
    assert!(bench.app.jobs.room().is_ok());
}

#[tokio::test]
async fn the_port_of_the_host_is_written_as_browsers_write_it() {
    let bench = Bench::new();
    for (host, wanted) in [
        ("127.0.0.1:4911", StatusCode::OK),
        ("127.0.0.1:+4911", StatusCode::MISDIRECTED_REQUEST),
        ("127.0.0.1:04911", StatusCode::MISDIRECTED_REQUEST),
    ] {
        let request = Request::builder()
            .uri("/api/session")
            .header(header::HOST, host)
            .header("x-skimwright-token", bench.app.guard.token())
            .body(Body::empty());
        let (status, answer) = bench.send(request.expect("a request")).await;
        assert_eq!(status, wanted, "{host}: {answer}");
    }
}

#[tokio::test]
async fn names_of_devices_are_no_names_of_recordings() {
    let bench = Bench::new();
    for name in ["CON.wav", "nul.wav", "com1.csv"] {
        let path = format!("/api/outings/2026-05-17/recordings/{name}");
        let (status, answer) = bench.ask("PUT", &path, json!("x")).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{name}: {answer}");
    }
    let named = json!({"name": "CON", "hull": "vee"});
    let (status, answer) = bench.ask("POST", "/api/boats", named).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    let folder = answer["folder"].as_str().unwrap_or_default();
    assert!(folder.ends_with("boat"), "{folder}");
}

#[cfg(unix)]
#[tokio::test]
async fn saving_keeps_the_mode_and_the_link_of_the_boat_file() {
    use std::os::unix::fs::{PermissionsExt as _, symlink};
    let bench = Bench::new();
    let real = bench.file().with_file_name("tern-2026.toml");
    fs::rename(bench.file(), &real).expect("renamed");
    symlink("tern-2026.toml", bench.file()).expect("a link");
    fs::set_permissions(&real, fs::Permissions::from_mode(0o600)).expect("set");
    bench.set(json!(["name"]), "Heron").await;
    let (status, answer) = bench.ask("POST", "/api/save", json!({})).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    assert!(bench.file().symlink_metadata().expect("there").is_symlink());
    let mode = fs::metadata(&real).expect("there").permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
    assert!(fs::read_to_string(real).expect("read").contains("Heron"));
}

#[tokio::test]
async fn notes_and_saves_wait_for_whoever_writes() {
    let bench = Bench::new();
    let folder = bench.home.path().join("tern");
    bench.set(json!(["name"]), "Heron").await;
    let writer = workshop::writing::one_writer(&folder).expect("nobody else");
    let later = std::thread::spawn(move || {
        std::thread::sleep(Duration::from_millis(300));
        drop(writer);
    });
    let began = std::time::Instant::now();
    let (status, answer) = bench.ask("POST", "/api/save", json!({})).await;
    assert_eq!(status, StatusCode::OK, "{answer}");
    assert!(began.elapsed() >= Duration::from_millis(250), "it waited");
    later.join().expect("it ended");
}

#[cfg(unix)]
#[tokio::test]
async fn two_programs_on_one_boat_take_up_what_the_other_tried_out() {
    let one = Bench::new();
    let home = tempfile::tempdir().expect("a folder");
    std::os::unix::fs::symlink(one.home.path().join("tern"), home.path().join("tern"))
        .expect("a link");
    let other = Bench::at(home, false);
    for degrees in 20..25 {
        let (warm, name) = (format!("{degrees} degC"), format!("Heron {degrees}"));
        one.set(json!(["water", "temperature"]), &warm).await;
        other.set(json!(["name"]), &name).await;
        for bench in [&one, &other] {
            let text = bench.get("/api/boat").await["text"].to_string();
            assert!(text.contains(&warm) && text.contains(&name), "{text}");
        }
    }
}

/// How much of a file of seven bytes is here, and what the header says.
async fn coming(bench: &Bench, stamp: &str) -> (StatusCode, Value, Option<String>) {
    let request = bench
        .request("GET", &format!("{COMING}?bytes=7&stamp={stamp}"))
        .header("x-skimwright-token", bench.app.guard.token())
        .body(Body::empty());
    let router = bench.router.clone();
    let response = router.oneshot(request.expect("a request")).await;
    let response = response.expect("an answer");
    let offset = response.headers().get("upload-offset");
    let offset = offset.and_then(|v| v.to_str().ok()).map(str::to_owned);
    let status = response.status();
    let bytes = axum::body::to_bytes(response.into_body(), 1 << 20).await;
    let said = serde_json::from_slice(&bytes.expect("a body")).unwrap_or(Value::Null);
    (status, said, offset)
}

/// A piece of it, from an offset on.
async fn piece(bench: &Bench, query: &str, offset: u64, body: Body) -> (StatusCode, Value) {
    let request = bench
        .request("PATCH", &format!("{COMING}?{query}"))
        .header(header::CONTENT_TYPE, "application/partial-upload")
        .header("upload-offset", offset)
        .header("x-skimwright-token", bench.app.guard.token())
        .body(body);
    bench.send(request.expect("a request")).await
}

const COMING: &str = "/api/outings/2026-05-17/uploads/run.wav";
const SEVEN: &str = "bytes=7&stamp=1";

/// Two bytes, then the connection is gone.
fn broken() -> Body {
    let parts = [
        Ok("de"),
        Err(std::io::Error::other("the connection is gone")),
    ];
    Body::from_stream(tokio_stream::iter(parts))
}

fn day(bench: &Bench) -> PathBuf {
    bench.home.path().join("tern/outings/2026-05-17")
}

fn names(folder: &Path) -> Vec<String> {
    let all = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut names: Vec<String> = all
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[tokio::test]
async fn a_recording_that_broke_off_goes_on_from_what_is_here() {
    let bench = Bench::new();
    let (status, said, offset) = coming(&bench, "1").await;
    assert_eq!((status, offset.as_deref()), (StatusCode::OK, Some("0")));
    assert_eq!(said["complete"], false);
    assert!(!day(&bench).exists(), "asking makes no folder");

    let (status, said) = piece(&bench, SEVEN, 0, Body::from("abc")).await;
    assert_eq!(status, StatusCode::OK, "{said}");
    assert_eq!(
        (&said["offset"], &said["complete"]),
        (&json!(3), &json!(false))
    );
    assert_eq!(
        bench.get("/api/outings").await[0]["recordings"],
        json!([]),
        "not one yet"
    );

    let (status, _) = piece(&bench, SEVEN, 3, broken()).await;
    assert_eq!(status, StatusCode::BAD_REQUEST);
    let (_, _, offset) = coming(&bench, "1").await;
    assert_eq!(offset.as_deref(), Some("5"), "what came is kept");

    // Who thinks that less, or more, is here is told so, and nothing is written twice.
    for wrong in [3, 6] {
        let (status, said) = piece(&bench, SEVEN, wrong, Body::from("xx")).await;
        assert_eq!(status, StatusCode::CONFLICT, "{said}");
    }
    let (status, said) = piece(&bench, SEVEN, 5, Body::from("fg")).await;
    assert_eq!(status, StatusCode::OK, "{said}");
    assert_eq!(said["complete"], true);
    assert_eq!(said["recording"]["bytes"], 7);
    let kept = fs::read_to_string(day(&bench).join("run.wav")).expect("kept");
    assert_eq!(kept, "abcdefg");
    assert_eq!(names(&day(&bench)), ["run.wav"], "nothing else is left");

    // A sender that did not hear of the end is told it; another file of that name is refused.
    let (_, said, offset) = coming(&bench, "1").await;
    assert_eq!(
        (said["complete"].as_bool(), offset.as_deref()),
        (Some(true), Some("7"))
    );
    let (status, _, _) = coming(&bench, "2").await;
    assert_eq!(status, StatusCode::CONFLICT);
}

#[tokio::test]
async fn two_files_of_one_name_on_their_way_are_not_mixed() {
    let bench = Bench::new();
    piece(&bench, "bytes=7&stamp=1", 0, Body::from("abc")).await;
    let (_, _, offset) = coming(&bench, "2").await;
    assert_eq!(offset.as_deref(), Some("0"));
    let (status, _) = piece(&bench, "bytes=7&stamp=2", 0, Body::from("ABCDEFG")).await;
    assert_eq!(status, StatusCode::OK);
    let kept = fs::read_to_string(day(&bench).join("run.wav")).expect("kept");
    assert_eq!(kept, "ABCDEFG");
    let (status, _) = piece(&bench, "bytes=7&stamp=1", 3, Body::from("defg")).await;
    assert_eq!(
        status,
        StatusCode::CONFLICT,
        "a recording is never replaced"
    );
}

#[tokio::test]
async fn what_comes_in_piece_by_piece_has_the_same_limits() {
    let bench = Bench::new();
    let (status, said) = piece(&bench, "bytes=3&stamp=1", 0, Body::from("abcd")).await;
    assert_eq!(
        status,
        StatusCode::UNPROCESSABLE_ENTITY,
        "more than was told: {said}"
    );
    let large = format!("bytes={}&stamp=1", 13u64 << 30);
    let (status, said) = piece(&bench, &large, 0, Body::from("a")).await;
    assert_eq!(status, StatusCode::PAYLOAD_TOO_LARGE, "{said}");
    for name in ["page.html", "outing.toml", "..%2Frun.wav"] {
        let path = format!("/api/outings/2026-05-17/uploads/{name}?bytes=1");
        let request = bench
            .request("PATCH", &path)
            .header("upload-offset", 0)
            .header("x-skimwright-token", bench.app.guard.token())
            .body(Body::from("a"));
        let (status, said) = bench.send(request.expect("a request")).await;
        assert!(status.is_client_error(), "{name}: {said}");
    }
    let (status, _) = bench
        .ask("PATCH", &format!("{COMING}?bytes=1"), Value::Null)
        .await;
    assert_eq!(status, StatusCode::BAD_REQUEST, "without an offset");
    assert!(!names(&day(&bench)).contains(&"run.wav".to_owned()));

    // What was left a day ago goes when another begins; what is younger stays.
    let old = day(&bench).join(".skimwright-coming-old");
    let young = day(&bench).join(".skimwright-coming-young");
    for (path, hours) in [(&old, 25), (&young, 2)] {
        fs::write(path, "x").expect("written");
        let at = SystemTime::now() - Duration::from_secs(3600 * hours);
        let file = fs::File::options().write(true).open(path).expect("there");
        file.set_modified(at).expect("set");
    }
    piece(&bench, SEVEN, 0, Body::from("abc")).await;
    assert!(!old.exists() && young.exists());
}

/// A boat folder from somebody else may have a link where a recording would come in.
#[cfg(unix)]
#[tokio::test]
async fn a_recording_comes_in_through_no_link() {
    let bench = Bench::new();
    piece(&bench, SEVEN, 0, Body::from("abc")).await;
    let coming = names(&day(&bench))
        .into_iter()
        .find(|n| n.contains("coming"));
    let place = day(&bench).join(coming.expect("on its way"));
    let outside = bench.home.path().join("outside");
    fs::write(&outside, "abc").expect("written");
    fs::remove_file(&place).expect("removed");
    std::os::unix::fs::symlink(&outside, &place).expect("linked");
    let (status, _) = piece(&bench, SEVEN, 3, Body::from("defg")).await;
    assert!(status.is_client_error(), "{status}");
    assert_eq!(fs::read_to_string(&outside).expect("there"), "abc");
}

#[tokio::test]
async fn strength_is_told_along_the_hull_and_what_to_measure_first() {
    let bench = Bench::new();
    let strength = bench.get("/api/strength?of=saved").await;
    assert_eq!(strength["open"], Value::Null);
    let list = |key: &str| strength[key].as_array().cloned().unwrap_or_default();
    let stations = list("stations");
    assert!(stations.len() > 10, "{}", stations.len());
    let x = |s: &Value| s["x_m"].as_f64().expect("a place");
    assert!(
        stations.windows(2).all(|s| x(&s[0]) < x(&s[1])),
        "stern first"
    );
    let holds: Vec<f64> = (list("margins").iter())
        .map(|m| m["holds"]["value"].as_f64().expect("a number"))
        .collect();
    assert!(
        holds.len() > 3 && holds.is_sorted(),
        "worst first: {holds:?}"
    );
    // The worst of the hull's own is the worst of its stations.
    let worst = list("margins")
        .into_iter()
        .find(|m| m["of"] == "hull")
        .expect("a hull");
    let least = stations
        .iter()
        .map(|s| s["margin"].as_f64().expect("a number"));
    let least = least.fold(f64::INFINITY, f64::min);
    let of = worst["holds"]["value"].as_f64().expect("a number");
    assert!((least / of - 1.0).abs() < 1e-3, "{least} and {of}");

    let worth = bench.get("/api/worth?of=saved").await;
    let study = bench.get("/api/study?of=saved").await;
    let assumed: Vec<&Value> = (study["assumptions"].as_array().expect("a list").iter())
        .map(|a| &a["what"])
        .collect();
    let first = worth["first"].as_array().expect("a list");
    assert!(!first.is_empty() && first.len() <= 3);
    for one in first {
        assert!(
            assumed.contains(&&one["what"]),
            "{one} is none that nobody gave"
        );
        assert!(
            one["share"]
                .as_f64()
                .is_some_and(|s| (0.25..=1.0).contains(&s)),
            "{one}"
        );
    }
}

/// A form with a mesh, as the page sends it.
fn form_with(fields: &[(&str, &str)], file: &str, bytes: &[u8]) -> Vec<u8> {
    let mut body = Vec::new();
    for (name, value) in fields {
        let part =
            format!("--x\r\ncontent-disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n");
        body.extend(part.as_bytes());
    }
    let head = format!(
        "--x\r\ncontent-disposition: form-data; name=\"file\"; filename=\"{file}\"\r\n\r\n"
    );
    body.extend(head.as_bytes());
    body.extend(bytes);
    body.extend(b"\r\n--x--\r\n");
    body
}

async fn send_mesh(bench: &Bench, path: &str, body: Vec<u8>) -> (StatusCode, Value) {
    let request = Request::builder()
        .method("POST")
        .uri(path)
        .header(header::HOST, format!("127.0.0.1:{PORT}"))
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=x")
        .header("x-skimwright-token", bench.app.guard.token())
        .body(Body::from(body));
    bench.send(request.expect("a request")).await
}

#[tokio::test]
async fn a_mesh_is_looked_at_and_turned_before_a_boat_is_made_of_it() {
    let bench = Bench::new();
    let stl = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/tadpole/tadpole.stl");
    let stl = fs::read(stl).expect("an example");
    let look = async |fields: &[(&str, &str)]| {
        let body = form_with(fields, "mine.stl", &stl);
        let (status, look) = send_mesh(&bench, "/api/meshes/look", body).await;
        assert_eq!(status, StatusCode::OK, "{look}");
        look
    };
    let found = look(&[]).await;
    let [forward, up] = ["forward", "up"].map(|k| found[k].as_str().expect("an axis").to_owned());
    assert!(!bench.home.path().join("mine").exists(), "nothing is kept");
    // Said as it was found, it is the same; bow for stern, the long way round is the other.
    assert_eq!(
        look(&[("forward", &forward), ("up", &up)]).await["sections"],
        found["sections"]
    );
    let other = if let Some(axis) = forward.strip_prefix('+') {
        format!("-{axis}")
    } else {
        forward.replace('-', "+")
    };
    let turned = look(&[("forward", &other), ("up", &up)]).await;
    assert_eq!(turned["forward"], json!(other));
    assert_ne!(turned["sections"], found["sections"]);
    assert!(
        (turned["length_m"].as_f64().expect("m") - found["length_m"].as_f64().expect("m")).abs()
            < 1e-6
    );
    // In inches it is 25.4 times as long.
    let inch = look(&[("unit", "in")]).await;
    let times = inch["length_m"].as_f64().expect("m") / found["length_m"].as_f64().expect("m");
    assert!((times - 25.4).abs() < 0.01, "{times}");

    let fields = [
        ("name", "Mine"),
        ("hull", "three-point"),
        ("all_up_kg", "1.1"),
        ("cells", "4"),
    ];
    let body = form_with(&fields, "mine.stl", &stl);
    let (status, said) = send_mesh(&bench, "/api/boats/mesh", body).await;
    assert_eq!(status, StatusCode::OK, "{said}");
    let study = bench.get("/api/study?depth=quick").await;
    let mass = study["mass"]["value"].as_f64().expect("g");
    assert!(
        (mass - 1100.0).abs() < 60.0,
        "asked for 1100 g, and is {mass} g"
    );
    let text = bench.get("/api/boat").await["text"].to_string();
    assert!(
        text.contains("assumed = true") && text.contains("4S"),
        "{text}"
    );
    let bad = form_with(&[("all_up_kg", "heavy")], "mine.stl", &stl);
    let (status, _) = send_mesh(&bench, "/api/boats/mesh", bad).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(
        names(&bench.home.path().join("mine")),
        ["mine"],
        "one boat was made"
    );
}
