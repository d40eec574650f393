//! Hostile requests: byte by byte to a live server, and damaged bodies to every handler that takes one.

use crate::folder::Folder;
use crate::live::Live;
use crate::mutate::mutated;
use crate::table::{of, tell};
use axum::body::Body;
use axum::http::Request;
use server::{App, Config};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};
use tower::ServiceExt as _;

/// Longer no single request may hold the server.
const LONGEST: Duration = Duration::from_secs(10);

/// Whole requests; `{host}` and `{token}` are put in. Each must be refused, or the connection closed.
fn hostile() -> Vec<(&'static str, String)> {
    let get = |path: &str| {
        format!(
            "GET {path} HTTP/1.1\r\nHost: {{host}}\r\nX-Skimwright-Token: {{token}}\r\nConnection: close\r\n\r\n"
        )
    };
    let sent = |method: &str, path: &str, body: &str| {
        format!(
            "{method} {path} HTTP/1.1\r\nHost: {{host}}\r\nX-Skimwright-Token: {{token}}\r\nContent-Type: application/json\r\nConnection: close\r\nContent-Length: {}\r\n\r\n{body}",
            body.len()
        )
    };
    let headed =
        |lines: &str| format!("GET /api/session HTTP/1.1\r\n{lines}Connection: close\r\n\r\n");
    let good = "Host: {host}\r\nX-Skimwright-Token: {token}\r\n";
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    let edits =
        |path: &str, value: &str| format!(r#"{{"edits": [{{"path": {path}, "value": {value}}}]}}"#);
    let job =
        |ask: &str, with: &str| format!(r#"{{"question": {{"ask": "{ask}", "with": {with}}}}}"#);
    let run = "/api/outings/2026-05-17/recordings";
    vec![
        ("no token", headed("Host: {host}\r\n")),
        ("a wrong token", headed("Host: {host}\r\nX-Skimwright-Token: 0\r\n")),
        ("two tokens, the first wrong", headed("Host: {host}\r\nX-Skimwright-Token: 0\r\nX-Skimwright-Token: {token}\r\n")),
        ("no host", headed("X-Skimwright-Token: {token}\r\n")),
        ("another host", headed("Host: pond.example\r\nX-Skimwright-Token: {token}\r\n")),
        ("a host with a signed port", headed("Host: 127.0.0.1:+1\r\nX-Skimwright-Token: {token}\r\n")),
        ("a host that is empty", headed("Host: \r\nX-Skimwright-Token: {token}\r\n")),
        ("another site", headed(&format!("{good}Origin: http://pond.example\r\n"))),
        ("no site at all", headed(&format!("{good}Origin: null\r\n"))),
        ("a cross-site fetch", headed(&format!("{good}Sec-Fetch-Site: cross-site\r\n"))),
        ("no HTTP", "hello\r\n\r\n".into()),
        ("bytes that are no text", "\u{0}\u{1}\u{2}\r\n\r\n".into()),
        ("a future version", format!("GET /api/session HTTP/9.9\r\n{good}\r\n")),
        ("a method nobody knows", format!("BREW /api/session HTTP/1.1\r\n{good}Connection: close\r\n\r\n")),
        ("a header without end", format!("GET /api/session HTTP/1.1\r\n{good}X: {}", "a".repeat(1 << 20))),
        ("ten thousand headers", headed(&format!("{good}{}", "X: a\r\n".repeat(10_000)))),
        ("a path of a megabyte", get(&format!("/{}", "a".repeat(1 << 20)))),
        ("a length that lies", format!("POST /api/save HTTP/1.1\r\n{good}Content-Type: application/json\r\nContent-Length: 99999\r\n\r\n{{")),
        ("a length below nothing", format!("POST /api/save HTTP/1.1\r\n{good}Content-Length: -1\r\n\r\n")),
        ("two lengths", format!("POST /api/save HTTP/1.1\r\n{good}Content-Length: 2\r\nContent-Length: 5\r\n\r\n{{}}")),
        ("a length and chunks", format!("POST /api/save HTTP/1.1\r\n{good}Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n")),
        ("a chunk without end", format!("POST /api/save HTTP/1.1\r\n{good}Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\nffffffffffffffff\r\n{{")),
        ("no such path", get("/api/nothing")),
        ("a path that climbs", get("/api/../../etc/passwd")),
        ("a path that climbs, encoded", get("/%2e%2e/%2e%2e/etc/passwd")),
        ("a path asked the wrong way", sent("DELETE", "/api/boat", "")),
        ("an outing that climbs", get("/api/outings/..%2F..%2F/recordings/run.wav")),
        ("a recording that climbs", get(&format!("{run}/..%2F..%2Fboat.toml"))),
        ("a recording of another root", get(&format!("{run}/%2Fetc%2Fpasswd"))),
        ("a name with a zero", sent("PUT", &format!("{run}/a%00.wav"), "x")),
        ("a name with a line end", sent("PUT", &format!("{run}/a%0A.wav"), "x")),
        ("a name that turns text round", sent("PUT", &format!("{run}/%E2%80%AEvaw.exe"), "x")),
        ("a device's name", sent("PUT", &format!("{run}/CON.wav"), "x")),
        ("a page for a recording", sent("PUT", &format!("{run}/a.html"), "<script>1</script>")),
        ("a drawing for a recording", sent("PUT", &format!("{run}/a.svg"), "<svg/>")),
        ("a program for a recording", sent("PUT", &format!("{run}/a.js"), "1")),
        ("the boat file for a recording", sent("PUT", &format!("{run}/boat.toml/x"), "1")),
        ("no JSON", sent("PUT", "/api/whatif", "edits")),
        ("JSON without end", sent("PUT", "/api/whatif", "{\"edits\": [")),
        ("JSON a hundred thousand deep", sent("PUT", "/api/whatif", &deep)),
        ("a deep value", sent("PUT", "/api/whatif", &edits("[\"name\"]", &deep[..200_000]))),
        ("a body of two megabytes", sent("PUT", "/api/whatif", &" ".repeat(2 << 20))),
        ("JSON of another kind", "PUT /api/whatif HTTP/1.1\r\nHost: {host}\r\nX-Skimwright-Token: {token}\r\nContent-Type: text/plain\r\nConnection: close\r\nContent-Length: 2\r\n\r\n{}".into()),
        ("a key nobody knows", sent("PUT", "/api/whatif", &edits("[\"colour\"]", "\"red\""))),
        ("a way of no length", sent("PUT", "/api/whatif", &edits("[]", "1"))),
        ("a way of a thousand steps", sent("PUT", "/api/whatif", &edits(&format!("[{}\"a\"]", "\"a\",".repeat(1000)), "1"))),
        ("a value of a table", sent("PUT", "/api/whatif", &edits("[\"name\"]", "{\"a\": {\"b\": 1}}"))),
        ("a question nobody knows", sent("POST", "/api/jobs", &job("launch", "{}"))),
        ("a question of another file", sent("POST", "/api/jobs", &job("hear", r#"{"file": "/etc/passwd"}"#))),
        ("a question that climbs", sent("POST", "/api/jobs", &job("hear", r#"{"file": "../../etc/passwd"}"#))),
        ("a table of another root", sent("POST", "/api/jobs", &job("stint", r#"{"script": {"table": {"file": "/etc/passwd"}}}"#))),
        ("pieces put elsewhere", sent("POST", "/api/jobs", &job("pieces", r#"{"into": "/tmp/x"}"#))),
        ("effort without end", sent("POST", "/api/jobs", &job("check", r#"{"effort": {"variations": 1e300}}"#))),
        ("effort below nothing", sent("POST", "/api/jobs", &job("check", r#"{"effort": {"variations": -1}}"#))),
        ("a job that never was", get("/api/jobs/18446744073709551615")),
        ("a job without number", get("/api/jobs/first")),
        ("a picture without columns", get(&format!("{run}/run.wav/picture?columns=0"))),
        ("a picture without bounds", get(&format!("{run}/run.wav/picture?high=inf&columns=99999999"))),
        ("no kind of line", get("/api/staves?what=luck")),
        ("an old revision", sent("POST", "/api/save", r#"{"revision": "0000000000000000"}"#)),
        ("a choice where there is none", sent("POST", "/api/boat/choice", r#"{"keep": "mine"}"#)),
        ("an outing of no day", sent("POST", "/api/outings", r#"{"id": "2026-02-30"}"#)),
        ("an outing that climbs out", sent("POST", "/api/outings", r#"{"id": "2026-05-17-/../../x"}"#)),
        ("an outing of nonsense", sent("POST", "/api/outings", r#"{"id": "2026-05-18", "text": "wind = 2"}"#)),
        ("notes of no outing", sent("POST", "/api/outings/2031-01-01/notes", r#"{"notes": [{"key": "wind", "value": "calm"}]}"#)),
        ("marks in place of notes", sent("PUT", "/api/outings/2026-05-17/marks/outing.toml", "{}")),
        ("a demonstration that climbs", sent("POST", "/api/demos/..~..~etc", "")),
        ("a hull nobody has", sent("POST", "/api/boats", r#"{"name": "x", "hull": "submarine"}"#)),
        ("a code where none is taken", sent("POST", "/api/session", r#"{"code": "12345678"}"#)),
    ]
}

#[test]
fn each_is_refused_and_the_next_is_answered() {
    let boat = Folder::plain("vee");
    let state = tempfile::tempdir().expect("a folder");
    let before = boat.content();
    let mut server = Live::start(boat.path(), state.path());
    let all = hostile();
    for (what, request) in &all {
        let request = request
            .replace("{host}", &server.host)
            .replace("{token}", &server.token);
        let began = Instant::now();
        let answer = server.send(request.as_bytes());
        assert!(began.elapsed() < LONGEST, "{what}: {:?}", began.elapsed());
        if let Some((status, body)) = answer {
            // A path that is none of the API's is the page's.
            let page = status == 200 && body.to_lowercase().starts_with("<!doctype html>");
            let refused = (400..500).contains(&status) || status == 505;
            assert!(refused || page, "{what}: {status} {body}");
            assert!(!body.contains("root:"), "{what}: {body}");
        }
        assert!(server.runs(), "{what}: the server is gone");
    }
    server.get("/api/session");
    assert_eq!(boat.content(), before, "something was written");
    tell("hostile requests", all.len() as u64, "all refused");
}

/// What takes a body, with one that is right.
const BODIES: [(&str, &str, &str); 9] = [
    (
        "PUT",
        "/api/whatif",
        r#"{"edits": [{"path": ["part", "Battery", "mass"], "value": "181 g"}, {"path": ["water", "temperature"], "value": "11 degC"}], "client": "a", "gesture": "b"}"#,
    ),
    (
        "PUT",
        "/api/whatif",
        r#"{"edits": [{"path": ["part"], "action": "add", "name": "Ballast"}, {"path": ["part", "Battery"], "action": "remove"}], "version": 1}"#,
    ),
    ("POST", "/api/save", r#"{"revision": "0123456789abcdef"}"#),
    ("POST", "/api/boat/choice", r#"{"keep": "theirs"}"#),
    (
        "POST",
        "/api/session",
        r#"{"token": "0123", "code": "12345678"}"#,
    ),
    (
        "POST",
        "/api/outings/2026-05-17/notes",
        r#"{"notes": [{"key": "wind", "value": "2 m/s"}, {"key": "place", "value": "pond"}]}"#,
    ),
    (
        "PUT",
        "/api/outings/2026-05-17/marks/run.mp4.marks.json",
        r#"{"boat_length": "560 mm", "mark": [{"time_s": 3.0, "bow": [310, 412], "stern": [210, 413]}]}"#,
    ),
    (
        "POST",
        "/api/outings/2026-05-17/recordings/esc.csv/columns",
        r#"{"columns": [{"name": "current", "quantity": "current", "unit": "A"}]}"#,
    ),
    (
        "POST",
        "/api/outings",
        r#"{"id": "2026-05-17", "text": "place = \"pond\"\n"}"#,
    ),
];

#[test]
fn damaged_bodies_are_answered() {
    let boat = Folder::plain("vee");
    let state = tempfile::tempdir().expect("a folder");
    let day = boat.path().join("outings/2026-05-17");
    std::fs::create_dir_all(&day).expect("made");
    std::fs::write(day.join("outing.toml"), "place = \"pond\"\n").expect("written");
    std::fs::write(day.join("esc.csv"), "time [s],current [A]\n0,1\n1,2\n").expect("written");
    let app = App::new(Config {
        port: 4911,
        lan: false,
        read_only: false,
        boats_folder: state.path().join("mine"),
        state_folder: state.path().join("state"),
        program: PathBuf::from("/nonexistent"),
        boat: Some(boat.path().to_owned()),
    });
    let app = Arc::new(app.expect("randomness"));
    app.open_boat().expect("a boat");
    let router = server::router(app.clone());
    let runtime = tokio::runtime::Runtime::new().expect("threads");
    let count = of(200, 100_000);
    let began = Instant::now();
    let mut well = 0u64;
    for number in 1..=count {
        let (method, path, body) = BODIES[number as usize % BODIES.len()];
        let body = mutated(&[body.as_bytes().to_vec()], number);
        let request = Request::builder()
            .method(method)
            .uri(path)
            .header("host", "127.0.0.1:4911")
            .header("content-type", "application/json")
            .header("x-skimwright-token", app.guard.token())
            .body(Body::from(body.clone()))
            .expect("a request");
        let at = Instant::now();
        let answer = runtime
            .block_on(router.clone().oneshot(request))
            .expect("an answer");
        let (status, said) = (answer.status(), String::from_utf8_lossy(&body).into_owned());
        assert!(
            !status.is_server_error(),
            "{number} {path}: {status} of {said}"
        );
        assert!(
            at.elapsed() < LONGEST,
            "{number} {path}: {:?} for {said}",
            at.elapsed()
        );
        well += u64::from(status.is_success());
        // What was tried out shall not grow with the run.
        if number % 500 == 0 {
            app.desk().expect("open").discard().expect("discarded");
        }
    }
    let rate = count as f64 / began.elapsed().as_secs_f64();
    let share = 100.0 * well as f64 / count as f64;
    let came = format!("{share:.0} % still accepted; {rate:.0} a second");
    tell("JSON of the API", count, &came);
}
