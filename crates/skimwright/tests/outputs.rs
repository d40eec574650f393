//! Nothing the builder put in is replaced by something that comes out.

mod folder;

use folder::{Folder, MESH_BOAT, example, sound_hull};
use std::fs;

/// A demonstration boat with its mesh, its outing and a build, in a folder of its own.
fn practice() -> Folder {
    let folder = Folder::new();
    for (name, to) in [
        ("practice/boat.toml", "boat.toml"),
        ("practice/practice.stl", "practice.stl"),
    ] {
        folder.write(
            to,
            &fs::read(example(name)).expect("the demonstration boat"),
        );
    }
    for (dir, file) in [
        ("outings/2026-05-17", "bank.wav"),
        ("builds/1-first", "boat.toml"),
    ] {
        let home = folder.path().join(dir);
        fs::create_dir_all(&home).expect("a folder");
        fs::write(home.join(file), "put in by the builder").expect("written");
    }
    folder
}

#[test]
fn no_output_replaces_what_was_put_in() {
    let folder = practice();
    let inputs = [
        "boat.toml",
        "practice.stl",
        "outings/2026-05-17/bank.wav",
        "builds/1-first/boat.toml",
    ];
    let read = || inputs.map(|name| fs::read(folder.path().join(name)).expect("still there"));
    let before = read();
    for name in inputs {
        let to = format!("@/{name}");
        for command in [
            vec!["report", "@", "-o", &to],
            vec!["report", "@", "--force", "-o", &to],
            vec!["hull", "@", "--force", "--stl", &to],
            vec!["hull", "@", "--force", "--3mf", &to],
            vec!["pond", "@", "--force", "-o", &to],
        ] {
            let said = folder.run(&command);
            said.is_refusal(&["nothing was written", name]);
        }
    }
    assert!(before == read(), "something was replaced");
}

#[test]
fn another_file_is_replaced_only_when_told_to() {
    let folder = Folder::with_boat(MESH_BOAT);
    folder.write("hull.stl", &sound_hull());
    folder.write("mine.stl", b"mine");
    let to = ["hull", "@", "--stl", "@/mine.stl"];
    folder
        .run(&to)
        .is_refusal(&["mine.stl", "is there already", "--force"]);
    let mine = || fs::read(folder.path().join("mine.stl")).expect("there");
    assert_eq!(mine(), b"mine");
    let forced = folder.run(&["hull", "@", "--force", "--stl", "@/mine.stl"]);
    assert_eq!(forced.code, 0, "{}", forced.err);
    assert_ne!(mine(), b"mine");
}

#[test]
fn a_report_replaces_its_own_page_and_no_other() {
    let folder = Folder::plain("vee");
    let report = ["report", "@", "--variations", "0"];
    for _ in 0..2 {
        let said = folder.run(&report);
        assert!(said.code < 2, "{}", said.err);
    }
    folder.write("report.html", b"<p>my own notes</p>");
    folder
        .run(&report)
        .is_refusal(&["report.html", "is there already"]);
}
