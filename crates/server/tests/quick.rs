//! A quick answer tells no state that the full one takes back.

use axum::body::Body;
use axum::http::{Request, header};
use serde_json::Value;
use server::{App, Config};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tower::ServiceExt as _;

const PORT: u16 = 4912;
const BOATS: [&str; 5] = [
    "practice",
    "tadpole",
    "longshank",
    "millrace",
    "twin-thistle",
];

async fn study(folder: &Path, state: &Path, depth: &str) -> Value {
    let app = App::new(Config {
        port: PORT,
        lan: false,
        read_only: true,
        boats_folder: state.to_owned(),
        state_folder: state.to_owned(),
        program: PathBuf::from("/nonexistent"),
        boat: Some(folder.to_owned()),
    });
    let app = Arc::new(app.expect("randomness"));
    app.open_boat().expect("a boat");
    let request = Request::get(format!("/api/study?of=saved&depth={depth}"))
        .header(header::HOST, format!("127.0.0.1:{PORT}"))
        .header("x-skimwright-token", app.guard.token())
        .body(Body::empty());
    let answer = server::router(app).oneshot(request.expect("a request"));
    let body = answer.await.expect("an answer").into_body();
    let bytes = axum::body::to_bytes(body, 64 << 20).await.expect("a body");
    serde_json::from_slice(&bytes).expect("JSON")
}

fn findings(study: &Value) -> Vec<(String, String, String)> {
    let word = |f: &Value, key: &str| f[key].as_str().unwrap_or_default().to_owned();
    let all = study["findings"].as_array().expect("findings");
    let each = all.iter().map(|f| {
        let number = f["number"]["shown"].as_str().unwrap_or_default();
        (
            word(f, "id"),
            word(f, "standing"),
            format!("{number}; {}", word(f, "sentence")),
        )
    });
    each.collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn no_state_is_taken_back() {
    let state = tempfile::tempdir().expect("a folder");
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut taken_back = Vec::new();
    let mut told = 0;
    for boat in BOATS {
        let folder = examples.join(boat);
        let quick = findings(&study(&folder, state.path(), "quick").await);
        let full = findings(&study(&folder, state.path(), "full").await);
        for (id, standing, says) in quick.iter().filter(|(_, s, _)| s != "pending") {
            told += 1;
            let kept = full.iter().any(|(i, s, _)| i == id && s == standing);
            if !kept {
                let then: Vec<_> = full.iter().filter(|(i, ..)| i == id).collect();
                taken_back.push(format!("{boat}: {id} {standing} ({says}) -> {then:?}"));
            }
        }
    }
    assert!(
        taken_back.is_empty(),
        "{} of {told}:\n{}",
        taken_back.len(),
        taken_back.join("\n")
    );
    assert!(
        told > 5 * BOATS.len(),
        "a quick answer that tells nothing: {told}"
    );
}
