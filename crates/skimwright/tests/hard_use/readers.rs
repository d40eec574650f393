//! Every reader on damaged files. None may panic, none may take long, none may take much memory.

use crate::mutate::mutated;
use crate::table::{long, of, tell};
use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, LazyLock};
use std::time::{Duration, Instant};

/// No file of these sizes may take longer to be read, by the clock of this thread: a machine that others use makes
/// anything slow. What waits without working is ended at six times that by any clock.
const LONGEST: Duration = Duration::from_secs(10);
/// Resident memory that none may need, bytes.
const MOST_BYTES: u64 = 1 << 30;
/// Damaged files that were read are damaged further; of so many.
const CORPUS: usize = 64;

fn repository(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .join(name)
}

fn bytes(name: &str) -> Vec<u8> {
    fs::read(repository(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// The beginning of a file, to a whole line.
fn lines(name: &str, most: usize) -> Vec<u8> {
    let mut all = bytes(name);
    all.truncate(most);
    let end = all
        .iter()
        .rposition(|b| *b == b'\n')
        .map_or(all.len(), |i| i + 1);
    all.truncate(end);
    all
}

fn start(name: &str, most: usize) -> Vec<u8> {
    let mut all = bytes(name);
    all.truncate(most);
    all
}

/// The damaged file that is read now, for one that never ends.
struct Watch(Arc<AtomicU64>);

impl Watch {
    fn over(what: &'static str) -> Self {
        let now = Arc::new(AtomicU64::new(0));
        let seen = Arc::downgrade(&now);
        std::thread::spawn(move || {
            let (mut last, mut since) = (0, Instant::now());
            while let Some(now) = seen.upgrade() {
                let now = now.load(Ordering::Relaxed);
                if now != last {
                    (last, since) = (now, Instant::now());
                }
                if since.elapsed() > 6 * LONGEST {
                    eprintln!(
                        "{what}, damaged file {now}: not read after {:?}",
                        since.elapsed()
                    );
                    std::process::abort();
                }
                std::thread::sleep(Duration::from_millis(200));
            }
        });
        Self(now)
    }
}

/// What this thread has worked; by the wall's clock where the system does not tell.
fn worked() -> Duration {
    static BEGAN: LazyLock<Instant> = LazyLock::new(Instant::now);
    let told = fs::read_to_string("/proc/thread-self/schedstat").ok();
    let worked = told.and_then(|t| t.split(' ').next()?.parse().ok());
    worked.map_or_else(|| BEGAN.elapsed(), Duration::from_nanos)
}

fn hammer(what: &'static str, mut seeds: Vec<Vec<u8>>, read: impl Fn(&[u8]) -> bool) {
    let whole = seeds.len();
    let longest = 2 * seeds.iter().map(Vec::len).max().unwrap_or(0);
    assert!(
        seeds.iter().any(|seed| read(seed)),
        "{what}: no sound file is read"
    );
    let count = of(200, 100_000);
    let (watch, began) = (Watch::over(what), Instant::now());
    let (mut good, mut worst) = (0u64, (Duration::ZERO, 0));
    let mut bad = Vec::new();
    for number in 1..=count {
        watch.0.store(number, Ordering::Relaxed);
        let file = mutated(&seeds, number);
        let before = worked();
        let outcome = catch_unwind(AssertUnwindSafe(|| read(&file)));
        let took = worked() - before;
        if took > worst.0 {
            worst = (took, number);
        }
        if outcome.is_err() || took > LONGEST {
            bad.push(kept(what, number, &file));
        } else if outcome.is_ok_and(|read| read) {
            good += 1;
            let place = whole + (good as usize) % CORPUS;
            if file.len() > longest {
                continue;
            }
            match place < seeds.len() {
                true => seeds[place] = file,
                false => seeds.push(file),
            }
        }
    }
    let rate = count as f64 / began.elapsed().as_secs_f64();
    assert!(bad.is_empty(), "{what}: panics or hangs on {bad:?}");
    let memory = resident_peak();
    assert!(memory < MOST_BYTES, "{what}: {} MB", memory >> 20);
    println!(
        "{what}: the slowest, {}, took {:.0} ms",
        worst.1,
        worst.0.as_secs_f64() * 1e3
    );
    let share = 100.0 * good as f64 / count as f64;
    tell(
        what,
        count,
        &format!("{share:.0} % still read; {} a second", two_digits(rate)),
    );
}

/// Writes a file that fails where it can be looked at, and made a test.
fn kept(what: &str, number: u64, file: &[u8]) -> PathBuf {
    let folder = repository("target/hard-use");
    let name = format!("{}-{number}", what.replace([' ', '.', ','], "-"));
    fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join(name);
    fs::write(&path, file).expect("written");
    path
}

fn two_digits(number: f64) -> f64 {
    let step = 10f64.powf(number.log10().floor() - 1.0);
    (number / step).round() * step
}

/// The most memory this process ever had resident; 0 where the system does not tell.
pub fn resident_peak() -> u64 {
    crate::soak::status(std::process::id(), "VmHWM:").unwrap_or(0)
}

const PRACTICE: &str = "examples/practice/outings/2026-05-17";

fn practice(name: &str, most: usize) -> Vec<u8> {
    lines(&format!("{PRACTICE}/{name}"), most)
}

#[test]
fn boat_files() {
    let templates = boat::STARTER_TYPES.iter();
    let mut seeds: Vec<Vec<u8>> = templates
        .map(|hull| boat::template(hull, "Tern").expect("known").into_bytes())
        .collect();
    seeds.push(bytes("examples/practice/boat.toml"));
    hammer("boat.toml", seeds, boat::fuzzing::fuzz_boat_file);
}

#[test]
fn notes_and_marks() {
    let template = evidence::outing::file::template("pond", Some("001")).into_bytes();
    let seeds = vec![practice("outing.toml", 1 << 16), template];
    hammer("outing.toml", seeds, evidence::fuzzing::outing);
    let json = br#"{"boat_length": "560 mm", "mark": [{"time_s": 3.0, "bow": [310, 412], "stern": [210, 413]}, {"time_s": 3.2, "bow": [360, 412], "stern": [260, 413]}]}"#;
    let seeds = vec![practice("marks.toml", 1 << 16), json.to_vec()];
    hammer("marks", seeds, evidence::fuzzing::marks);
    let seeds = vec![bytes(&format!("{PRACTICE}/measured.json"))];
    hammer("measured.json", seeds, evidence::fuzzing::measured);
}

#[test]
fn what_was_learned_and_agreed() {
    let seeds = vec![bytes("crates/skimwright/tests/hard_use/learned.toml")];
    hammer("learned.toml", seeds, |bytes| {
        let text = String::from_utf8_lossy(bytes);
        learn::keep::Kept::read(&text, "learned.toml").is_ok()
    });
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("loggers.json");
    hammer(
        "loggers.json",
        vec![bytes("examples/practice/loggers.json")],
        |bytes| {
            fs::write(&file, bytes).expect("written");
            workshop::fuzzing::loggers(folder.path())
        },
    );
    let parts = b"[[pack]]\nname = \"a\"\nseries = 3\ncapacity = \"2.2 Ah\"\ncell_resistance = \"4 mohm\"\n\n[[motor]]\nname = \"b\"\nkv = \"2600 rpm/V\"\nresistance = \"20 mohm\"\nno_load_current = \"1.5 A\"\nmax_current = \"60 A\"\nmass = \"120 g\"\n\n[[propeller]]\nname = \"c\"\ndiameter = \"36 mm\"\npitch_ratio = 1.4\n";
    let text = boat::template("vee", "Tern").expect("known");
    let (boat, _) = boat::load(&text, "boat.toml").expect("a boat");
    hammer("lists of parts", vec![parts.to_vec()], |bytes| {
        workshop::fuzzing::parts(bytes, &boat)
    });
}

#[test]
fn what_was_tried_out() {
    let home = tempfile::tempdir().expect("a folder");
    let text = boat::template("vee", "Tern").expect("known");
    let folder = home.path().join("tern");
    fs::create_dir_all(folder.join(".skimwright")).expect("made");
    fs::write(folder.join("boat.toml"), &text).expect("written");
    let sound = serde_json::json!({"count": 3, "folder": folder, "saved": text,
        "draft": text.replace("Tern", "Heron"), "redo": [],
        "undo": [{"label": "name", "text": text.replace("Tern", "Grebe")}]});
    let file = folder.join(".skimwright/whatif.json");
    hammer(
        "whatif.json",
        vec![sound.to_string().into_bytes()],
        |bytes| {
            fs::write(&file, bytes).expect("written");
            let app = server::App::new(server::Config {
                port: 0,
                lan: false,
                read_only: false,
                boats_folder: home.path().to_owned(),
                state_folder: home.path().join("state"),
                program: PathBuf::new(),
                boat: Some(folder.clone()),
            });
            let app = app.expect("randomness");
            app.open_boat()
                .expect("whatever was tried out, the boat opens");
            let desk = app.desk().expect("open");
            desk.look();
            let read = desk.remarks().is_empty();
            if !read {
                // What was set aside is kept, but not a hundred thousand of it.
                fs::remove_dir_all(folder.join(".skimwright")).expect("removed");
                fs::create_dir(folder.join(".skimwright")).expect("made");
            }
            read
        },
    );
}

/// A box, open or closed, 600 mm long.
fn hull(closed: bool) -> form::Mesh {
    let corner = |i: usize| {
        let side = |bit: usize| (i >> bit & 1) as f64;
        nalgebra::Vector3::new(0.6 * side(0), 0.2 * side(1) - 0.1, 0.1 * side(2))
    };
    let sides: [[u32; 4]; 6] = [
        [0, 2, 3, 1],
        [0, 1, 5, 4],
        [2, 6, 7, 3],
        [0, 4, 6, 2],
        [1, 3, 7, 5],
        [4, 5, 7, 6],
    ];
    let used = if closed { 6 } else { 5 };
    let triangles = sides[..used]
        .iter()
        .flat_map(|[a, b, c, d]| [[*a, *b, *c], [*a, *c, *d]]);
    form::Mesh {
        vertices: (0..8).map(corner).collect(),
        triangles: triangles.collect(),
    }
}

/// The same as text, mm.
fn text_stl(mesh: &form::Mesh) -> Vec<u8> {
    let facet = |corners: [nalgebra::Vector3<f64>; 3]| {
        let vertex = |v: nalgebra::Vector3<f64>| {
            format!("vertex {} {} {}\n", 1e3 * v.x, 1e3 * v.y, 1e3 * v.z)
        };
        let three: String = corners.into_iter().map(vertex).collect();
        format!("facet normal 0 0 0\nouter loop\n{three}endloop\nendfacet\n")
    };
    let all: String = mesh.faces().map(facet).collect();
    format!("solid hull\n{all}endsolid hull\n").into_bytes()
}

fn text_obj(mesh: &form::Mesh) -> Vec<u8> {
    let vertex =
        |v: &nalgebra::Vector3<f64>| format!("v {} {} {}\n", 1e3 * v.x, 1e3 * v.y, 1e3 * v.z);
    let face = |t: &[u32; 3]| format!("f {} {} {}\n", t[0] + 1, t[1] + 1, t[2] + 1);
    let vertices: String = mesh.vertices.iter().map(vertex).collect();
    let faces: String = mesh.triangles.iter().map(face).collect();
    format!("o hull\n{vertices}{faces}").into_bytes()
}

#[test]
fn stl_meshes() {
    let (solid, cup) = (hull(true), hull(false));
    let stl = |mesh: &form::Mesh| form::write::stl(mesh).expect("small");
    hammer(
        "STL",
        vec![stl(&solid), stl(&cup), text_stl(&solid)],
        form::fuzzing::stl,
    );
}

#[test]
fn obj_meshes() {
    hammer(
        "OBJ",
        vec![text_obj(&hull(true)), text_obj(&hull(false))],
        form::fuzzing::obj,
    );
}

#[test]
fn threemf_meshes() {
    let package = form::write::threemf(&hull(true), "hull").expect("small");
    hammer(
        "3MF",
        vec![unpacked(&package), package],
        form::fuzzing::threemf,
    );
}

/// A package whose files are stored as they are, so that damage reaches them.
fn unpacked(package: &[u8]) -> Vec<u8> {
    use std::io::{Cursor, Read as _, Write as _};
    let mut from = zip::ZipArchive::new(Cursor::new(package)).expect("a package");
    let mut to = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let stored =
        zip::write::SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
    for i in 0..from.len() {
        let mut file = from.by_index(i).expect("a file");
        let mut content = Vec::new();
        file.read_to_end(&mut content).expect("read");
        to.start_file(file.name().to_owned(), stored)
            .expect("begun");
        to.write_all(&content).expect("written");
    }
    to.finish().expect("whole").into_inner()
}

#[test]
fn logs_and_hands() {
    let track = b"time,lat,lon,speed\n0,51,0,1\n1,51.0001,0,2\n2,51.0002,0,3\n3,51.0003,0,2\n";
    let seeds = vec![practice("controller.csv", 3000), track.to_vec()];
    hammer("logs and tracks as tables", seeds, evidence::fuzzing::table);
    hammer(
        "pulse captures",
        vec![practice("rudder.csv", 3000)],
        evidence::fuzzing::pulses,
    );
    let hands = b"time [s],throttle [%],rudder [deg]\n0,0,0\n1,100,0\n4,100,12\n6,40,0\n".to_vec();
    hammer("hands", vec![hands.clone()], workshop::fuzzing::hands);
    hammer(
        "throttle of a stint",
        vec![hands, practice("controller.csv", 3000)],
        workshop::fuzzing::throttle,
    );
}

#[test]
fn tracks() {
    let gpx = [
        "plain",
        "with_accuracy",
        "empty_elevation",
        "walk_with_extensions",
    ];
    let mut seeds: Vec<_> = gpx
        .iter()
        .map(|n| start(&format!("checks/tracks/{n}.gpx"), 1 << 13))
        .collect();
    seeds.push(practice("track.gpx", 1 << 13));
    hammer("GPX", seeds, evidence::fuzzing::gpx_track);
    let nmea = ["receiver_moving", "receiver_no_fix"];
    let seeds = nmea
        .iter()
        .map(|n| lines(&format!("checks/tracks/{n}.nmea"), 3000))
        .collect();
    hammer("NMEA", seeds, evidence::fuzzing::nmea_track);
}

#[test]
fn sounds() {
    for (what, file) in [
        ("WAV", "examples/practice/outings/2026-05-17/bank.wav"),
        ("FLAC", "checks/recordings/still.flac"),
        ("OGG Vorbis", "checks/recordings/pass.ogg"),
        ("MP3", "checks/recordings/pass.mp3"),
    ] {
        hammer(what, vec![start(file, 1 << 14)], evidence::fuzzing::sound);
    }
    let film = bytes("checks/recordings/pass.mp4");
    hammer(
        "sound of films (AAC in MP4)",
        vec![film],
        evidence::fuzzing::sound,
    );
}

#[test]
fn sounds_listened_to() {
    let seeds = vec![start(
        "examples/practice/outings/2026-05-17/bank.wav",
        1 << 14,
    )];
    let count = of(8, 400);
    let began = Instant::now();
    let read = (1..=count).filter(|number| evidence::fuzzing::listened(&mutated(&seeds, *number)));
    let share = 100.0 * read.count() as f64 / count as f64;
    let rate = two_digits(count as f64 / began.elapsed().as_secs_f64());
    tell(
        "sounds listened to",
        count,
        &format!("{share:.0} % still heard; {rate} a second"),
    );
}

#[test]
fn films() {
    hammer(
        "films",
        vec![index_alone(), film_of_frames()],
        evidence::fuzzing::film,
    );
}

fn boxed(name: &[u8; 4], body: &[u8]) -> Vec<u8> {
    let mut all = (body.len() as u32 + 8).to_be_bytes().to_vec();
    all.extend(name);
    all.extend(body);
    all
}

/// A film of the repository without its pictures: damage hits the index, which is what is read.
fn index_alone() -> Vec<u8> {
    let film = bytes("checks/recordings/pass.mp4");
    let (mut at, mut kept) = (0, Vec::new());
    while at + 8 <= film.len() {
        let size = u32::from_be_bytes(film[at..at + 4].try_into().expect("four")) as usize;
        let end = (at + size.max(8)).min(film.len());
        match &film[at + 4..at + 8] == b"mdat" {
            true => kept.extend(boxed(b"mdat", &[0; 4096])),
            false => kept.extend(&film[at..end]),
        }
        at = end;
    }
    kept
}

/// Frames of two lengths, shifted and cut.
fn film_of_frames() -> Vec<u8> {
    let words = |w: &[u32]| -> Vec<u8> { w.iter().flat_map(|w| w.to_be_bytes()).collect() };
    let stts = boxed(b"stts", &words(&[0, 2, 30, 20, 20, 40]));
    let ctts = boxed(b"ctts", &words(&[0, 2, 25, 40, 25, 0]));
    let stbl = boxed(b"stbl", &[stts, ctts].concat());
    let mdhd = boxed(b"mdhd", &words(&[0, 0, 0, 600, 1400]));
    let hdlr = boxed(b"hdlr", &[&words(&[0, 0])[..], b"vide"].concat());
    let mdia = boxed(b"mdia", &[mdhd, hdlr, boxed(b"minf", &stbl)].concat());
    let elst = boxed(
        b"elst",
        &words(&[0, 2, 500, u32::MAX, 65536, 200, 20, 65536]),
    );
    let trak = boxed(b"trak", &[boxed(b"edts", &elst), mdia].concat());
    let mvhd = boxed(b"mvhd", &words(&[0, 0, 0, 1000, 0]));
    let moov = boxed(b"moov", &[mvhd, trak].concat());
    [boxed(b"ftyp", b"isom"), boxed(b"mdat", &[0; 500]), moov].concat()
}

#[test]
fn questions() {
    let asks = [
        r#"{"boat": {"path": "tern", "draft": null}, "ask": "check", "with": {"effort": {"variations": 4, "seed": 1}}}"#,
        r#"{"boat": {"path": "tern"}, "ask": "hear", "with": {"file": "outings/2026-05-17/run.wav"}}"#,
        r#"{"boat": null, "ask": "stint", "with": {"script": {"table": {"text": "time [s],throttle [%]\n0,0\n1,100\n"}}}}"#,
        r#"{"ask": "measure", "with": {"outing": "2026-05-17"}}"#,
    ];
    let seeds = asks.iter().map(|ask| ask.as_bytes().to_vec()).collect();
    hammer(
        "questions to a child, JSON",
        seeds,
        workshop::fuzzing::request,
    );
    assert!(!long() || resident_peak() < MOST_BYTES);
}
