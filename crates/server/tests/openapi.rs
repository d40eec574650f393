//! The committed API document against the handlers.

use std::path::Path;

#[test]
fn the_committed_document_is_what_the_handlers_say() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/openapi.json");
    let now = server::openapi();
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(&file, &now).expect("docs can be written");
    }
    let committed = std::fs::read_to_string(&file).expect("docs/openapi.json");
    assert!(
        committed == now,
        "docs/openapi.json is out of date: run with UPDATE_DOCS=1"
    );
}
