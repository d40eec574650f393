//! Damaged, hostile and senseless files: each is refused with its name and place, or read with
//! a notice. Nothing panics.

mod shapes;

use std::io::{Cursor, Write};

use form::read::{MAX_FILE_BYTES, ReadError, check_size, read};
use form::{Mesh, assemble, fuzzing, write};
use shapes::{block, boat as hull, text_stl, v};

fn refused(name: &str, bytes: &[u8]) -> String {
    read(name, bytes).unwrap_err().to_string()
}

fn sound() -> Vec<u8> {
    write::stl(&hull(0.6, 0.2, 0.09, 8)).unwrap()
}

#[test]
fn empty_and_unknown() {
    assert!(matches!(assemble(&[], &[]), Err(ReadError::NoFiles)));
    assert_eq!(refused("a.stl", b""), "a.stl: the file is empty");
    assert!(refused("a.step", b"ISO-10303-21;").contains("not recognised"));
}

#[test]
fn too_large_is_refused_by_size_alone() {
    assert!(check_size("a.stl", MAX_FILE_BYTES).is_ok());
    let error = check_size("a.stl", 2 << 30).unwrap_err();
    assert!(error.to_string().contains("2147483648 bytes"));
}

#[test]
fn cut_short() {
    let whole = sound();
    for keep in [1, 50, 83, 84, 85, 134, whole.len() - 1] {
        let text = refused("cut.stl", &whole[..keep]);
        assert!(text.starts_with("cut.stl: header"), "{keep}: {text}");
    }
}

#[test]
fn lying_count() {
    let mut more = sound();
    more[80..84].copy_from_slice(&u32::MAX.to_le_bytes());
    assert!(refused("l.stl", &more).contains("announces 4294967295"));
    let mut fewer = sound();
    fewer[80..84].copy_from_slice(&3u32.to_le_bytes());
    assert!(refused("l.stl", &fewer).contains("announces 3"));
}

#[test]
fn coordinates_that_are_not_numbers() {
    for bad in [f32::NAN, f32::INFINITY] {
        let mut bytes = sound();
        let third = 84 + 2 * 50 + 12;
        bytes[third..third + 4].copy_from_slice(&bad.to_le_bytes());
        let text = refused("n.stl", &bytes);
        assert!(text.contains("triangle 3"), "{text}");
    }
    let far = b"v 0 0 0\nv 1e30 0 0\nv 0 1 0\nf 1 2 3\n";
    assert!(refused("f.obj", far).contains("beyond 1e9"));
}

#[test]
fn a_binary_header_may_begin_with_solid() {
    let mut bytes = sound();
    bytes[..9].copy_from_slice(b"solid cad");
    assert_eq!(
        read("s.stl", &bytes).unwrap(),
        read("s.stl", &sound()).unwrap()
    );
}

#[test]
fn text_stl_faults_name_the_triangle() {
    let whole = String::from_utf8(text_stl(&block(v(0., 0., 0.), v(1., 1., 1.)), 1.0)).unwrap();
    let broken = whole.replacen("endloop", "end", 3);
    assert!(refused("t.stl", broken.as_bytes()).contains("triangle 1"));
    let cut = &whole[..whole.len() / 2];
    assert!(refused("t.stl", cut.as_bytes()).starts_with("t.stl: triangle"));
    let nameless = whole.replace("solid test", "solid").replace('\n', "\r\n");
    assert_eq!(read("t.stl", nameless.as_bytes()).unwrap().objects.len(), 1);
    let twice = format!("{whole}{whole}");
    assert_eq!(read("t.stl", twice.as_bytes()).unwrap().objects.len(), 2);
}

#[test]
fn obj_faults_name_the_line() {
    assert!(refused("o.obj", b"v 0 0\n").contains("line 1"));
    assert!(refused("o.obj", b"v 0 0 0\nf 1 2 3\n").contains("line 2: face names vertex 2"));
    assert!(refused("o.obj", b"# nothing\n").contains("no triangles"));
    assert!(refused("o.obj", b"\xff\xfe\n").contains("line 1: not text"));
}

fn archive(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, content) in parts {
        let options = zip::write::SimpleFileOptions::default();
        zip.start_file(*name, options).unwrap();
        zip.write_all(content).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

#[test]
fn archives_that_climb_out_or_swell() {
    let climbing = archive(&[("../../evil.model", b"x")]);
    assert!(refused("z.3mf", &climbing).contains("leaves the archive"));
    let bomb = archive(&[("3D/3dmodel.model", &vec![b' '; 8 << 20])]);
    assert!(refused("z.3mf", &bomb).contains("times its size"));
    assert!(refused("z.3mf", &archive(&[])).contains("z.3mf"));
    assert!(refused("z.3mf", b"PK\x03\x04 not really").contains("3MF package"));
}

/// A 3MF package around a model text.
fn package(model: &str) -> Vec<u8> {
    let types = r#"<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>"#;
    let rels = r#"<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="r1" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>"#;
    archive(&[
        ("[Content_Types].xml", types.as_bytes()),
        ("_rels/.rels", rels.as_bytes()),
        ("3D/3dmodel.model", model.as_bytes()),
    ])
}

fn model(unit: &str, objects: &str, items: &str) -> Vec<u8> {
    package(&format!(
        r#"<?xml version="1.0"?><model unit="{unit}" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources>{objects}</resources><build>{items}</build></model>"#
    ))
}

const TETRAHEDRON: &str = r#"<object id="1" type="model"><mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="24" y="0" z="0"/><vertex x="0" y="6" z="0"/><vertex x="0" y="0" z="3"/></vertices><triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/><triangle v1="0" v2="3" v3="2"/></triangles></mesh></object>"#;

/// Units and transforms of the core specification: a component moved by 10 along x inside an
/// item turned a quarter about z (row vectors: x becomes y, y becomes -x).
#[test]
fn threemf_transforms_and_units() {
    let assembly = format!(
        r#"{TETRAHEDRON}<object id="2" type="model"><components><component objectid="1" transform="1 0 0 0 1 0 0 0 1 10 0 0"/></components></object>"#
    );
    let item = r#"<item objectid="2" transform="0 1 0 -1 0 0 0 0 1 0 0 5"/>"#;
    let file = read("t.3mf", &model("inch", &assembly, item)).unwrap();
    assert_eq!(file.unit_m, Some(0.0254));
    let mesh: &Mesh = &file.objects[0].mesh;
    assert!(
        (mesh.vertices[1] - v(0.0, 34.0, 5.0)).norm() < 1e-12,
        "{:?}",
        mesh.vertices
    );
    assert!((mesh.vertices[2] - v(-6.0, 10.0, 5.0)).norm() < 1e-12);
    assert!((mesh.signed_volume_m3() - 72.0).abs() < 1e-9);
}

#[test]
fn threemf_faults() {
    let item = r#"<item objectid="1"/>"#;
    let lost = TETRAHEDRON.replace(r#"v3="3""#, r#"v3="9""#);
    assert!(refused("m.3mf", &model("millimeter", &lost, item)).contains("names vertex 9"));
    let missing = r#"<item objectid="7"/>"#;
    assert!(refused("m.3mf", &model("millimeter", TETRAHEDRON, missing)).contains("object 7"));
    let itself = r#"<object id="1" type="model"><components><component objectid="1"/></components></object>"#;
    assert!(refused("m.3mf", &model("millimeter", itself, item)).contains("within themselves"));
    for (good, bad) in [(r#"x="24""#, r#"x="nan""#), (r#"x="24""#, r#"x="wide""#)] {
        let text = refused(
            "m.3mf",
            &model("millimeter", &TETRAHEDRON.replace(good, bad), item),
        );
        assert!(text.starts_with("m.3mf"), "{text}");
    }
    let half = model("millimeter", TETRAHEDRON, item);
    for keep in (0..half.len()).step_by(7) {
        fuzzing::threemf(&half[..keep]);
    }
    assert!(read("m.3mf", &package("<model><resources><object id=")).is_err());
}

#[test]
fn flat_meshes_are_no_hull() {
    let flat = b"v 0 0 0\nv 500 0 0\nv 0 100 0\nf 1 2 3\nf 3 2 1\n";
    let error = assemble(&[("f.obj", flat)], &[]).unwrap_err();
    assert!(error.to_string().contains("f.obj"), "{error}");
}

/// Thousands of loose triangles: no hull, and no flood of messages.
#[test]
fn loose_triangles() {
    let mut mesh = Mesh::default();
    for n in 0..3000 {
        let at = v(
            f64::from(n % 60) * 0.01,
            f64::from(n / 60) * 0.004,
            f64::from(n % 7) * 0.01,
        );
        let first = mesh.vertices.len() as u32;
        let (a, b) = (v(0.003, 0.0, 0.001), v(0.0, 0.002, 0.0));
        mesh.vertices.extend([at, at + a, at + b]);
        mesh.triangles.push([first, first + 1, first + 2]);
    }
    let bytes = write::stl(&mesh).unwrap();
    match assemble(&[("loose.stl", &bytes)], &[]) {
        Ok(form) => assert!(form.notices.len() < 40 && form.has_serious_notice()),
        Err(error) => assert!(error.to_string().contains("encloses")),
    }
}
