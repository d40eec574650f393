//! Tells cargo what is embedded, without which a page built after the program is not taken in, and lists the
//! demonstration boats.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

const PAGE: &str = "../../web/dist";
const EXAMPLES: &str = "../../examples";

fn main() {
    // A folder that is missing would count as changed at every build; where none can be made, that is what happens.
    let _ = fs::create_dir_all(PAGE);
    println!("cargo::rerun-if-changed={PAGE}");
    println!("cargo::rerun-if-changed={EXAMPLES}");
    let mut files = Vec::new();
    below(Path::new(EXAMPLES), &mut files);
    files.sort();
    let mut list = "&[\n".to_owned();
    for file in files.iter().filter(|file| is_of_a_boat(file)) {
        let inside = file.strip_prefix(EXAMPLES).unwrap_or(file);
        let name = inside.to_string_lossy().replace('\\', "/");
        let _ = writeln!(
            list,
            "({name:?}, include_bytes!(concat!(env!(\"CARGO_MANIFEST_DIR\"), \"/{EXAMPLES}/\", {name:?}))),"
        );
    }
    list.push(']');
    let out = PathBuf::from(env::var_os("OUT_DIR").expect("cargo names it"));
    fs::write(out.join("demos.rs"), list).expect("its own folder");
}

/// Boat files, hulls, and what the practice boat recorded.
fn is_of_a_boat(file: &Path) -> bool {
    let named = |name: &str| file.file_name().is_some_and(|n| n == name);
    let outing = file.starts_with(format!("{EXAMPLES}/practice/outings"));
    named("boat.toml")
        || named("loggers.json")
        || outing
        || file.extension().is_some_and(|e| e == "stl")
}

fn below(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        match entry.path() {
            path if path.is_dir() => below(&path, files),
            path => files.push(path),
        }
    }
}
