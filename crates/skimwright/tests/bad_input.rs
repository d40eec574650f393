//! Input at fault: refused with its file and place, status 2, and nothing written.

mod folder;

use folder::{Folder, MESH_BOAT, example, run, sound_hull};
use std::fs::{self, File};
use std::io::{Cursor, Write as _};
use zip::write::SimpleFileOptions;

#[test]
fn an_empty_mesh() {
    Folder::with_hull(b"").refused(&["hull.stl", "the file is empty"]);
}

#[test]
fn a_mesh_cut_short() {
    let whole = sound_hull();
    let half = &whole[..whole.len() / 2];
    Folder::with_hull(half).refused(&["hull.stl", "announces", "cut short"]);
}

#[test]
fn a_mesh_with_a_lying_count() {
    let mut bytes = sound_hull();
    bytes[80..84].copy_from_slice(&u32::MAX.to_le_bytes());
    Folder::with_hull(&bytes).refused(&["hull.stl", "announces 4294967295 triangles"]);
}

#[test]
fn garbage_for_a_mesh() {
    let garbage: Vec<u8> = (0..5000u32).map(|i| (i * i * 31 % 251) as u8).collect();
    Folder::with_hull(&garbage).refused(&["hull.stl"]);
}

#[test]
fn a_coordinate_that_is_not_a_number() {
    let mut bytes = sound_hull();
    bytes[96..100].copy_from_slice(&f32::NAN.to_le_bytes());
    Folder::with_hull(&bytes).refused(&["hull.stl", "triangle 1", "not a finite number"]);
}

#[test]
fn a_mesh_of_two_gigabytes_is_refused_unread() {
    let folder = Folder::with_boat(MESH_BOAT);
    let file = File::create(folder.path().join("hull.stl")).expect("a file");
    file.set_len(2 << 30).expect("a sparse file");
    let start = std::time::Instant::now();
    folder.refused(&["hull.stl", "2147483648 bytes is over the limit"]);
    assert!(start.elapsed().as_secs() < 20, "it was read");
}

fn zipped(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default().compression_method(zip::CompressionMethod::Deflated);
    for (name, bytes) in parts {
        archive.start_file(*name, options).expect("a part");
        archive.write_all(bytes).expect("its content");
    }
    archive.finish().expect("an archive").into_inner()
}

fn threemf(parts: &[(&str, &[u8])]) -> Folder {
    let folder = Folder::with_boat(&MESH_BOAT.replace("hull.stl", "hull.3mf"));
    folder.write("hull.3mf", &zipped(parts));
    folder
}

#[test]
fn a_3mf_that_reaches_outside_itself() {
    let folder = threemf(&[
        ("../../outside.model", b"x"),
        ("3D/3dmodel.model", b"<model/>"),
    ]);
    folder.refused(&["hull.3mf", "outside.model"]);
}

#[test]
fn a_3mf_that_unpacks_without_end() {
    let zeros = vec![b' '; 64 << 20];
    let parts: Vec<(String, &[u8])> = (0..24)
        .map(|i| (format!("3D/{i}.model"), zeros.as_slice()))
        .collect();
    let parts: Vec<(&str, &[u8])> = parts.iter().map(|(n, b)| (n.as_str(), *b)).collect();
    threemf(&parts).refused(&["hull.3mf"]);
}

#[test]
fn a_hull_without_a_running_surface() {
    // A tetrahedron standing on its point: nothing of it faces down that is not steep.
    let point = |x: f64, y: f64, z: f64| nalgebra::Vector3::new(x, y, z);
    let mesh = form::Mesh {
        vertices: vec![
            point(0.3, 0.0, 0.0),
            point(0.0, -0.05, 0.6),
            point(0.6, 0.0, 0.6),
            point(0.0, 0.05, 0.6),
        ],
        triangles: vec![[0, 1, 2], [0, 2, 3], [0, 3, 1], [1, 3, 2]],
    };
    let text = fs::read_to_string(folder::example("millrace/boat.toml")).expect("a boat");
    // Nor has it a bottom for a strake.
    let (before, rest) = text.split_once("[[hull.running]]").expect("a strake");
    let (_, after) = rest.split_once("\n\n").expect("more");
    let folder = Folder::with_boat(&format!("{before}{after}"));
    let bytes = form::write::stl(&mesh).expect("a mesh");
    folder.write("millrace.stl", &bytes);
    folder.refused(&[
        "boat.toml",
        "no running surface was found",
        "skimwright hull",
    ]);
}

#[test]
fn a_mesh_outside_the_folder() {
    let file = MESH_BOAT.replace("hull.stl", "../hull.stl");
    Folder::with_boat(&file).refused(&["boat.toml:3", "../hull.stl"]);
    let absolute = MESH_BOAT.replace("hull.stl", "/etc/passwd");
    Folder::with_boat(&absolute).refused(&["boat.toml:3", "/etc/passwd"]);
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder() {
    let elsewhere = Folder::new();
    elsewhere.write("hull.stl", &sound_hull());
    let folder = Folder::with_boat(MESH_BOAT);
    let target = elsewhere.path().join("hull.stl");
    std::os::unix::fs::symlink(target, folder.path().join("hull.stl")).expect("a link");
    folder.refused(&["hull.stl", "outside the boat folder"]);
}

#[test]
fn a_folder_where_a_mesh_should_be() {
    let folder = Folder::with_boat(MESH_BOAT);
    fs::create_dir(folder.path().join("hull.stl")).expect("a folder");
    folder.refused(&["hull.stl", "is not a file"]);
}

#[test]
fn a_mesh_that_is_not_there() {
    Folder::with_boat(MESH_BOAT).refused(&["hull.stl", "check the spelling"]);
}

#[test]
fn a_folder_without_a_boat() {
    Folder::new().refused(&["has no boat.toml"]);
}

#[test]
fn a_boat_that_is_not_there() {
    let said = folder::run(&["check", "no/such/boat"]);
    said.is_refusal(&["no/such/boat", "check the spelling"]);
}

#[test]
fn a_folder_that_cannot_be_read() {
    // Modes do not stop a privileged user; a folder standing where the file should be does.
    let folder = Folder::new();
    fs::create_dir(folder.path().join("boat.toml")).expect("a folder");
    folder.refused(&["boat.toml", "is not a file"]);
    let through = Folder::with_boat("name = 1");
    let said = through.run(&["check", "@/boat.toml/deeper"]);
    said.is_refusal(&["boat.toml/deeper"]);
}

#[test]
fn a_boat_file_that_is_not_text() {
    let folder = Folder::new();
    folder.write("boat.toml", b"name = \"Test\"\n\xff\xfe\n");
    folder.refused(&["boat.toml:2", "not UTF-8"]);
}

#[test]
fn a_boat_file_without_end() {
    let folder = Folder::new();
    let file = File::create(folder.path().join("boat.toml")).expect("a file");
    file.set_len(1 << 32).expect("a sparse file");
    folder.refused(&["boat.toml", "over the limit of 4 MB"]);
}

#[test]
fn every_mistake_is_told_at_once_with_its_place() {
    let text = "name = \"Test\"\ncolour = \"red\"\n[hull]\nfile = \"hull.stl\"\n\n[[part]]\nname = \"Pack\"\nmass = \"175\"\nat = [\"1 mm\", \"2 kg\", \"3 mm\"]\n";
    Folder::with_boat(text).refused(&["boat.toml:2:1", "colour", "boat.toml:8:", "boat.toml:9:"]);
}

#[test]
fn sizes_below_nothing() {
    let folder = Folder::starter("three-point", "beam = \"225 mm\"", "beam = \"-225 mm\"");
    folder.refused(&["boat.toml:", "beam", "-225 mm"]);
}

#[test]
fn starter_dimensions_that_contradict_each_other() {
    let folder = Folder::starter("three-point", "gap = \"128 mm\"", "gap = \"224 mm\"");
    folder.refused(&["boat.toml:", "gap"]);
}

#[test]
fn a_boat_without_mass() {
    let folder = Folder::with_boat(&format!("{MESH_BOAT}[hull.weighed]\nmass = \"0 g\"\n"));
    folder.write("hull.stl", &sound_hull());
    folder.refused(&["boat.toml", "mass"]);
}

#[test]
fn a_surface_nobody_has() {
    let text = boat::template("three-point", "Test").expect("a template");
    let text = format!("{text}\n[[hull.running]]\nsurface = \"keel pad\"\nangle = \"2 deg\"\n");
    Folder::with_boat(&text).refused(&["boat.toml:", "keel pad", "left pad"]);
}

#[test]
fn a_boat_heavier_than_its_hull_can_float() {
    Folder::starter("three-point", "mass = \"175 g\"", "mass = \"9 kg\"")
        .refused(&["boat.toml: it sinks", "`Battery`, 9000 g"]);
}

#[test]
fn outputs_that_cannot_be_written() {
    let folder = Folder::plain("vee");
    let before = folder.content();
    let nowhere = folder.run(&["report", "@", "--output", "@/no/such/folder/r.html"]);
    nowhere.is_refusal(&["no/such/folder/r.html"]);
    let onto_a_folder = folder.run(&["hull", "@", "--stl", "@"]);
    onto_a_folder.is_refusal(&["it is a folder"]);
    assert_eq!(before, folder.content());
}

#[test]
fn new_never_touches_what_is_there() {
    let folder = Folder::with_boat("name = \"Mine\"\n");
    let before = folder.content();
    let said = folder.run(&["new", "@", "--hull", "vee"]);
    said.is_refusal(&["is not empty", "nothing was changed"]);
    let inside_a_file = folder.run(&["new", "@/boat.toml/x", "--hull", "vee"]);
    inside_a_file.is_refusal(&["boat.toml/x"]);
    assert_eq!(before, folder.content());
}

#[test]
fn command_lines_that_make_no_sense() {
    for line in [
        vec!["launch"],
        vec!["new", "x", "--hull", "submarine"],
        vec!["check"],
        vec!["check", "x", "--variations", "-1"],
    ] {
        let said = folder::run(&line);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{line:?}");
        assert!(!said.err.is_empty());
    }
}

#[test]
fn nothing_a_file_says_is_a_command_to_the_terminal() {
    let odd = "\u{9b}31m\u{9d}0;x\u{9c}";
    let key = format!("name = \"Test\"\n\"{odd}\" = 1\n[hull]\nfile = \"hull.stl\"\n");
    let folder = Folder::with_boat(&key);
    folder.write(
        "log.csv",
        format!("time [s],{odd} [V]\n0,1\n1,2\n2,3\n").as_bytes(),
    );
    let clean = |text: &str| !text.contains(|c: char| c.is_control() && c != '\n' && c != '\t');
    let said = folder.run(&["check", "@"]);
    assert!(said.err.contains("unknown key"), "{}", said.err);
    assert!(clean(&said.err), "{:?}", said.err);
    for arguments in [&["log", "@/log.csv"][..], &["log", "@/log.csv", "--json"]] {
        let said = folder.run(arguments);
        assert!(
            clean(&said.out) && clean(&said.err),
            "{:?}{:?}",
            said.out,
            said.err
        );
    }
}

#[test]
fn something_else_in_place_of_a_boat_is_told_as_what_it_is() {
    let mesh = example("millrace/millrace.stl");
    run(&["check", &mesh])
        .is_refusal(&["is a mesh, not a boat folder", "skimwright new NAME --mesh"]);
    run(&["check", &example("")]).is_refusal(&["no boat folder", "one lies in it", "longshank"]);
    let sound = example("practice/outings/2026-05-17/bank.wav");
    run(&["check", &sound]).is_refusal(&["is a recording", "skimwright hear"]);
    run(&["track", &sound]).is_refusal(&["this is a sound", "skimwright hear"]);
    run(&["marks", &sound]).is_refusal(&["this is a sound", "skimwright hear"]);
    run(&["hear", &example("practice/outings/2026-05-17/track.gpx")])
        .is_refusal(&["not a sound", "skimwright track"]);
    for command in ["hear", "track", "log", "marks"] {
        run(&[command, &mesh]).is_refusal(&["this is a mesh", "skimwright new NAME --mesh"]);
    }
    let folder = Folder::new();
    folder.write("hull of mine.stl", b"solid x\nendsolid x\n");
    folder
        .run(&["check", "@"])
        .is_refusal(&["no boat folder", "--mesh '", "hull of mine.stl'"]);
}

#[test]
fn a_3mf_that_is_no_archive_is_told_without_the_words_of_its_library() {
    let folder = Folder::with_boat(&MESH_BOAT.replace("hull.stl", "hull.3mf"));
    folder.write("hull.3mf", b"PK\x03\x04 cut short");
    let said = folder.run(&["check", "@"]);
    said.is_refusal(&["hull.3mf", "damaged or cut short"]);
    assert!(
        !said.err.contains("EOCD") && !said.err.contains("central directory"),
        "{}",
        said.err
    );
}
