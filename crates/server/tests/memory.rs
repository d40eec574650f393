//! What is kept from one question to the next takes what it says it takes, and no more than it may.

use peak_alloc::PeakAlloc;
use server::studies::{Depth, Studies};
use std::fs;
use std::path::Path;

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// The text of a boat of its own for each number.
fn text(hull: &str, number: usize) -> String {
    let text = boat::template(hull, "Tern").expect("a starter hull");
    text.replacen("Tern", &format!("Tern {number}"), 1)
}

fn studied(studies: &Studies, folder: &Path, text: &str, depth: Depth) {
    let done = studies.study(folder, text, depth, &|_| (), &|| true);
    assert!(done.is_ok());
}

/// One test, so that nothing else takes memory meanwhile.
#[test]
fn studies_take_what_they_are_weighed_at_and_no_more_than_they_may() {
    let home = tempfile::tempdir().expect("a folder");
    let practice = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/practice");
    let own = fs::read_to_string(practice.join("boat.toml")).expect("a boat file");
    // Threads and tables that are made once.
    let warm = text("vee", 0);
    studied(&Studies::default(), home.path(), &warm, Depth::Quick);
    for (what, folder, text, depth) in [
        ("vee, quick", home.path(), text("vee", 1), Depth::Quick),
        ("practice", practice.as_path(), own, Depth::Full),
    ] {
        let studies = Studies::default();
        let before = MEMORY.current_usage();
        studied(&studies, folder, &text, depth);
        let taken = (MEMORY.current_usage() - before) as f64;
        let said = studies.bytes() as f64;
        println!("{what}: {:.0} kB, said {:.0} kB", taken / 1e3, said / 1e3);
        let share = said / taken;
        assert!(
            (0.7..1.3).contains(&share),
            "{what}: {taken} B, said {said} B"
        );
    }
    let may = 3 << 20;
    let studies = Studies::within(may, may);
    let before = MEMORY.current_usage();
    for number in 0..12 {
        studied(&studies, home.path(), &text("vee", number), Depth::Quick);
        assert!(
            studies.bytes() <= 2 * may,
            "{number}: {} B",
            studies.bytes()
        );
    }
    let taken = MEMORY.current_usage() - before;
    assert!(taken <= 3 * may, "{taken} B");
    assert!(
        studies.bytes() > may / 2,
        "they are kept while there is room"
    );
}
