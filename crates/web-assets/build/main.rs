//! Packs what is embedded: the page, which is built here where it is missing, and the demonstration boats.

mod node;
mod packing;
mod page;

use packing::{Packing, below};
use std::path::{Path, PathBuf};
use std::{env, fs};

const EXAMPLES: &str = "../../examples";

fn main() {
    let out = PathBuf::from(env::var_os("OUT_DIR").expect("cargo names it"));
    let mut packing = Packing::new(&out.join("packed"));
    let page = page::folder(&out);
    let files = page.as_deref().map(below).unwrap_or_default();
    packing.list("PAGE", page.as_deref().unwrap_or(Path::new("")), &files);

    println!("cargo::rerun-if-changed={EXAMPLES}");
    let mut files = below(Path::new(EXAMPLES));
    files.retain(|file| is_of_a_boat(file));
    packing.list("DEMOS", Path::new(EXAMPLES), &files);
    fs::write(out.join("embedded.rs"), packing.text()).expect("its own folder");
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
