//! A boat folder from a mesh or from a wish.

mod folder;

use folder::Folder;
use serde_json::Value;
use std::path::Path;

fn mesh(name: &str) -> String {
    let meshes = Path::new(env!("CARGO_MANIFEST_DIR")).join("../form/tests/meshes");
    meshes.join(name).display().to_string()
}

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

#[test]
fn nothing_on_a_bare_mesh_is_called_good() {
    let folder = Folder::new();
    let hull = mesh("vee.stl");
    let made = folder.run(&["new", "@/own", "--mesh", &hull, "--json"]);
    assert_eq!(made.code, 0, "{}", made.err);
    let answer = json(&made.out);
    assert_eq!(answer["hull_type"], "vee");
    assert_eq!(answer["give_first"].as_array().expect("a list").len(), 5);
    let own = std::fs::read(&hull).expect("the mesh");
    let copied = std::fs::read(folder.path().join("own/vee.stl")).expect("its copy");
    assert_eq!(own, copied);

    let checked = folder.run(&["check", "@/own", "--variations", "0", "--json"]);
    let answer = json(&checked.out);
    assert_eq!(answer["give_first"].as_array().expect("a list").len(), 5);
    for finding in answer["findings"].as_array().expect("a list") {
        let of_shape = ["mesh", "pad-angle", "pad-width", "surface-angle"];
        let id = finding["id"].as_str().expect("a name");
        let good = finding["standing"] == "good";
        assert!(!good || of_shape.contains(&id), "{id} is good");
    }
    let text = folder.run(&["check", "@/own", "--variations", "0"]).out;
    let first = text.lines().nth(1).expect("a second line");
    assert!(first.contains("Give first"), "{first}");

    // Given numbers are the builder's: with the line gone nothing is said of them.
    let file = folder.path().join("own/boat.toml");
    let said = std::fs::read_to_string(&file).expect("the boat file");
    std::fs::write(&file, said.replace("assumed = true\n", "")).expect("written");
    let checked = folder.run(&["check", "@/own", "--variations", "0", "--json"]);
    let answer = json(&checked.out);
    assert_eq!(answer["give_first"].as_array().map(Vec::len), Some(0));
    let all = answer["findings"].as_array().expect("a list");
    assert!(all.iter().any(|f| f["standing"] == "good"));
}

#[test]
fn wishes_that_are_none_are_refused_and_nothing_is_written() {
    let folder = Folder::new();
    let own = mesh("vee.stl");
    folder.write("notes.txt", b"mine");
    folder.write("garbage.stl", b"solid of nothing");
    let wish = ["--carry", "1kg", "--cells", "3S", "--speed", "50km/h"];
    let with = |first: &[&'static str], last: [&'static str; 6]| -> Vec<String> {
        first.iter().chain(&last).map(|s| (*s).to_owned()).collect()
    };
    let cases: Vec<(Vec<String>, &str)> = vec![
        (with(&["size", "@", "--hull", "vee"], wish), "is not empty"),
        (
            with(&["size", "@/x", "--hull", "submarine"], wish),
            "submarine",
        ),
        (with(&["size", "@/x"], wish), "--hull"),
        (
            with(&["size", "@/x", "--fit", "@/none.stl"], wish),
            "none.stl",
        ),
        (
            with(&["size", "@/x", "--fit", "@/garbage.stl"], wish),
            "garbage.stl",
        ),
        (
            with(
                &["size", "@/x", "--hull", "vee"],
                ["--carry", "0g", "--cells", "3S", "--speed", "50km/h"],
            ),
            "a load of",
        ),
        (
            with(
                &["size", "@/x", "--hull", "vee"],
                ["--carry", "1", "--cells", "3S", "--speed", "50km/h"],
            ),
            "--carry",
        ),
        (
            with(
                &["size", "@/x", "--hull", "vee"],
                ["--carry", "1kg", "--cells", "40S", "--speed", "50km/h"],
            ),
            "40 cells",
        ),
        (
            with(
                &["size", "@/x", "--hull", "vee"],
                ["--carry", "1kg", "--cells", "3S", "--speed", "900km/h"],
            ),
            "a top speed of",
        ),
        (
            vec![
                "new".into(),
                "@/x".into(),
                "--mesh".into(),
                "@/garbage.stl".into(),
            ],
            "garbage.stl",
        ),
        (
            vec!["new".into(), "@".into(), "--mesh".into(), own],
            "is not empty",
        ),
    ];
    let before = folder.content();
    for (arguments, wanted) in cases {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        folder.run(&arguments).is_refusal(&[wanted]);
        assert_eq!(before, folder.content(), "{arguments:?} wrote something");
    }
}

#[test]
fn a_sized_boat_tells_why_it_is_so_large_in_its_report() {
    let folder = Folder::new();
    let wish = ["--carry", "1.2kg", "--cells", "3S", "--speed", "45km/h"];
    let mut ask = vec!["size", "@/own", "--hull", "vee", "--length", "600mm"];
    ask.extend(wish);
    let made = folder.run(&ask);
    assert!(made.code <= 1, "{}", made.err);
    let report = ["report", "@/own", "--variations", "0", "-o", "@/own.html"];
    let told = folder.run(&report);
    assert!(told.code <= 1, "{}", told.err);
    let page = std::fs::read_to_string(folder.path().join("own.html")).expect("a report");
    let (_, section) = page.split_once("Why this size").expect("the section");
    assert!(section.contains("sized to carry 1200 g"), "what was asked");
    assert!(section.contains("id=\"sizes-title\""), "the picture");
    assert!(
        section.contains("600 mm (this)"),
        "the length that was chosen"
    );

    // What is no longer such a file is said, and the report is made without.
    std::fs::write(folder.path().join("own/sized.json"), "{").expect("written");
    let told = folder.run(&["report", "@/own", "--variations", "0", "-o", "@/two.html"]);
    assert!(
        told.code <= 1 && told.err.contains("sized.json"),
        "{}",
        told.err
    );
    let page = std::fs::read_to_string(folder.path().join("two.html")).expect("a report");
    assert!(!page.contains("Why this size"));
}
