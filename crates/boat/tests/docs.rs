//! The committed schema and manual are those of the code. `UPDATE_DOCS=1` writes them anew.

use std::path::PathBuf;

const MARK: &str = "<!-- made from the key lists by tests/docs.rs; do not edit below -->\n\n";

fn docs(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../docs")
        .join(name)
}

fn read(name: &str) -> String {
    std::fs::read_to_string(docs(name))
        .unwrap_or_default()
        .replace("\r\n", "\n")
}

fn current(name: &str, wanted: &str) {
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(docs(name), wanted).expect("docs/ can be written");
    }
    assert!(
        read(name) == wanted,
        "docs/{name} is stale: run the tests with UPDATE_DOCS=1"
    );
}

#[test]
fn schema_is_current() {
    let schema = serde_json::to_string_pretty(&boat::json_schema()).expect("plain JSON");
    current("boat.schema.json", &format!("{schema}\n"));
}

#[test]
fn manual_is_current() {
    let manual = read("boat-file.md");
    let (by_hand, _) = manual.split_once(MARK).expect("the mark is in the manual");
    current(
        "boat-file.md",
        &format!("{by_hand}{MARK}{}", boat::manual()),
    );
}

#[test]
fn example_in_the_manual_loads() {
    let manual = read("boat-file.md");
    let (_, from) = manual.split_once("```toml\n").expect("an example");
    let (example, _) = from.split_once("```").expect("its end");
    let (boat, problems) = boat::load(example, "boat.toml").expect("a good example");
    assert_eq!(problems, []);
    assert_eq!(boat.parts.len(), 2);
    assert!(boat.drives[0].motor.resistance_ohm.is_assumed());
}
