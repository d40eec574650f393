//! `pieces` where it cannot: told what is wrong and what would be right, nothing half-written and nothing written over.

mod folder;

use folder::{Folder, PROGRAM, Said, said, sound_hull};
use std::fs;
use std::process::Command;

/// A boat with a sound hull and more in its file.
fn boat(more: &str) -> Folder {
    let folder = Folder::with_boat(&format!("{}{more}", folder::MESH_BOAT));
    folder.write("hull.stl", &sound_hull());
    folder
}

fn refused(more: &str, wanted: &[&str]) {
    let folder = boat(more);
    let before = folder.content();
    folder.run(&["pieces", "@"]).is_refusal(wanted);
    assert_eq!(before, folder.content());
}

/// The sound hull at a quarter of its size: binary STL, twelve numbers a triangle.
fn small_hull() -> Vec<u8> {
    let mut bytes = sound_hull();
    for triangle in bytes[84..].chunks_exact_mut(50) {
        for number in triangle[12..48].chunks_exact_mut(4) {
            let value = f32::from_le_bytes([number[0], number[1], number[2], number[3]]);
            number.copy_from_slice(&(0.25 * value).to_le_bytes());
        }
    }
    bytes
}

/// The bow half mirrored: port and starboard cross, and what lies ahead of them is inside out.
fn twisted_hull() -> Vec<u8> {
    let mut bytes = sound_hull();
    for triangle in bytes[84..].chunks_exact_mut(50) {
        for corner in triangle[12..48].chunks_exact_mut(12) {
            let number = |k: usize| f32::from_le_bytes(std::array::from_fn(|i| corner[4 * k + i]));
            if number(0) > 300.0 {
                let mirrored = -number(1);
                corner[4..8].copy_from_slice(&mirrored.to_le_bytes());
            }
        }
    }
    bytes
}

#[test]
fn a_mesh_that_cannot_be_cut_cleanly() {
    let folder = boat("");
    folder.write("hull.stl", &twisted_hull());
    let before = folder.content();
    folder.run(&["pieces", "@"]).is_refusal(&[
        "the hull's mesh cannot be cut cleanly",
        "passes through itself or is inside out",
        "`skimwright hull` lists what the reader found",
    ]);
    assert_eq!(before, folder.content());
}

#[test]
fn a_bed_smaller_than_a_part() {
    refused(
        "[printer]\nbed = [\"30 mm\", \"30 mm\", \"30 mm\"]\n",
        &[
            "no cut makes it fit a bed of",
            "give the printer's room as `bed`",
        ],
    );
}

#[test]
fn walls_thicker_than_the_hull() {
    refused(
        "[hull.print]\nmaterial = \"PETG\"\nwall = \"60 mm\"\n",
        &["boat.toml:6:8", "`wall` of 60 mm is not plausible"],
    );
    // A quarter of the size, it is 22 mm deep.
    let folder = boat("unit = \"mm\"\n[hull.print]\nmaterial = \"PETG\"\nwall = \"15 mm\"\n");
    folder.write("hull.stl", &small_hull());
    folder.run(&["pieces", "@"]).is_refusal(&[
        "walls of 15.0 mm fill the hull",
        "check `wall` under [hull.print] and the mesh's unit",
    ]);
}

#[test]
fn an_unknown_material() {
    refused(
        "[hull.print]\nmaterial = \"wood\"\nwall = \"1.2 mm\"\n",
        &[
            "boat.toml:5:12",
            "the density of `wood` is not known",
            "add `density",
        ],
    );
}

#[test]
fn a_cut_that_misses_and_a_piece_there_is_not() {
    refused("[[cut]]\nat = \"2 m\"\n", &["misses the hull"]);
    refused(
        "[[piece]]\nname = \"hull 9\"\nmass = \"80 g\"\n",
        &["there is no piece called `hull 9`", "hull 1"],
    );
}

#[test]
fn a_folder_that_is_there() {
    let folder = boat("");
    fs::create_dir(folder.path().join("pieces")).expect("a folder");
    fs::write(folder.path().join("pieces/mine.3mf"), "mine").expect("a file");
    let before = folder.content();
    folder
        .run(&["pieces", "@"])
        .is_refusal(&["is there already", "nothing was changed"]);
    assert_eq!(before, folder.content());
    let kept = fs::read_to_string(folder.path().join("pieces/mine.3mf")).expect("still there");
    assert_eq!(kept, "mine");
    assert_eq!(folder.run(&["pieces", "@", "--list"]).code, 0);
}

/// The system refuses to write more than so much, as it does on a full disk.
#[cfg(unix)]
fn with_room_for(folder: &Folder, kilobytes: u32) -> Said {
    let limit = format!(
        "trap '' XFSZ; ulimit -f {}; exec \"$0\" \"$@\"",
        2 * kilobytes
    );
    let output = Command::new("sh")
        .args(["-c", &limit, PROGRAM, "pieces"])
        .arg(folder.path())
        .output();
    said(&output.expect("a shell"))
}

#[cfg(unix)]
#[test]
fn a_full_disk() {
    let folder = boat("");
    let before = folder.content();
    with_room_for(&folder, 1).is_refusal(&["cannot write"]);
    assert_eq!(before, folder.content());
    assert_eq!(with_room_for(&folder, 10_000).code, 0);
    assert!(folder.path().join("pieces/whole.3mf").exists());
}

/// The boat file with so many of the pieces weighed, all at most.
fn weighed(folder: &Folder, count: usize) -> String {
    let listed = folder.run(&["pieces", "@", "--list", "--json"]);
    let answer: serde_json::Value = serde_json::from_str(&listed.out).expect("JSON");
    let mut text = folder::MESH_BOAT.to_owned();
    for piece in answer["pieces"]
        .as_array()
        .expect("a list")
        .iter()
        .take(count)
    {
        let name = piece["name"].as_str().expect("a name");
        text += &format!("[[piece]]\nname = \"{name}\"\nmass = \"80 g\"\n");
    }
    text
}

/// Three or so of 80 g are the shell everywhere; one of another name is told.
#[test]
fn weighed_pieces_are_the_hull_s_mass() {
    let folder = boat("");
    let text = weighed(&folder, usize::MAX);
    let all = 80.0 * text.matches("[[piece]]").count() as f64;
    folder.write("boat.toml", text.as_bytes());
    let said = folder.run(&["check", "@", "--variations", "0", "--json"]);
    let answer: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
    let grams = answer["mass"]["value"].as_f64().expect("a mass");
    let coating = grams - all;
    // All of the print is on the scale; what is still predicted is its paint.
    assert!((0.0..60.0).contains(&coating), "{grams} g, {all} g");
    let wrong = text.replace("name = \"hull", "name = \"keel");
    folder.write("boat.toml", wrong.as_bytes());
    let said = folder.run(&["check", "@", "--variations", "0"]);
    assert!(
        said.err.contains("pieces that were weighed"),
        "{}",
        said.err
    );
}

#[test]
fn with_one_piece_weighed_the_others_are_still_written() {
    let folder = boat("");
    folder.write("boat.toml", weighed(&folder, 1).as_bytes());
    let told = folder.run(&["pieces", "@"]);
    assert_eq!(told.code, 0, "{}", told.err);
    assert!(
        told.out.contains("weighed") && told.out.contains("wrote"),
        "{}",
        told.out
    );
    assert!(folder.path().join("pieces/whole.3mf").exists());
    // And not twice.
    folder.run(&["pieces", "@"]).is_refusal(&["pieces"]);
}

#[test]
fn a_hull_already_printed_is_only_listed() {
    let folder = boat("");
    folder.write("boat.toml", weighed(&folder, usize::MAX).as_bytes());
    let before = folder.content();
    let told = folder.run(&["pieces", "@"]);
    assert_eq!(told.code, 0, "{}", told.err);
    assert!(told.out.contains("nothing was written"), "{}", told.out);
    assert_eq!(before, folder.content());
}
