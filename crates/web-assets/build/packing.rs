//! Files packed for the program, the same bytes once.

use flate2::{Compression, write::GzEncoder};
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;
use std::hash::{DefaultHasher, Hasher};
use std::io::Write as _;
use std::path::{Path, PathBuf};

/// Packs into a folder, and writes the Rust text that embeds what was packed.
pub struct Packing {
    folder: PathBuf,
    packed: BTreeSet<String>,
    text: String,
}

impl Packing {
    /// Into `folder`, made anew.
    pub fn new(folder: &Path) -> Self {
        let _ = fs::remove_dir_all(folder);
        fs::create_dir_all(folder).expect("cargo's own folder");
        Self {
            folder: folder.to_owned(),
            packed: BTreeSet::new(),
            text: String::new(),
        }
    }

    /// A list called `name` of `files`, each known by its way from `home`.
    pub fn list(&mut self, name: &str, home: &Path, files: &[PathBuf]) {
        let mut list = format!("static {name}: &[Packed] = &[\n");
        for file in files {
            let hash = self.pack(file);
            let inside = file.strip_prefix(home).unwrap_or(file);
            let inside = inside.to_string_lossy().replace('\\', "/");
            let _ = writeln!(
                list,
                "Packed {{ name: {inside:?}, gzip: P{hash}, hash: \"{hash}\" }},"
            );
        }
        self.text.push_str(&list);
        self.text.push_str("];\n");
    }

    /// What was listed.
    pub fn text(&self) -> &str {
        &self.text
    }

    fn pack(&mut self, file: &Path) -> String {
        let bytes = fs::read(file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
        let mut hasher = DefaultHasher::new();
        hasher.write(&bytes);
        let hash = format!("{:016X}", hasher.finish());
        if self.packed.insert(hash.clone()) {
            let made = fs::File::create(self.folder.join(&hash)).expect("its own folder");
            let mut gzip = GzEncoder::new(made, Compression::best());
            gzip.write_all(&bytes).expect("room on the disk");
            gzip.finish().expect("room on the disk");
            let _ = writeln!(
                self.text,
                "static P{hash}: &[u8] = include_bytes!(concat!(env!(\"OUT_DIR\"), \"/packed/{hash}\"));"
            );
        }
        hash
    }
}

/// Every file in a folder and in those inside it, in order.
pub fn below(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        match entry.path() {
            path if path.is_dir() => files.extend(below(&path)),
            path => files.push(path),
        }
    }
    files.sort();
    files
}
