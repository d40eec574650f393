//! Boat folders made for a test, and the program run on them.

#![allow(dead_code)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

/// The program under test.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_skimwright");

/// A folder that goes away with the test.
pub struct Folder {
    dir: TempDir,
}

/// What the program said.
pub struct Said {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// The least a boat with a mesh declares.
pub const MESH_BOAT: &str = "name = \"Test\"\n[hull]\nfile = \"hull.stl\"\n";

impl Folder {
    pub fn new() -> Self {
        let dir = tempfile::tempdir().expect("a temporary folder");
        Self { dir }
    }

    /// With this boat file.
    pub fn with_boat(text: &str) -> Self {
        let folder = Self::new();
        folder.write("boat.toml", text.as_bytes());
        folder
    }

    /// With [`MESH_BOAT`] and these bytes as its hull.
    pub fn with_hull(bytes: &[u8]) -> Self {
        let folder = Self::with_boat(MESH_BOAT);
        folder.write("hull.stl", bytes);
        folder
    }

    /// From the template of a starter hull.
    pub fn plain(hull: &str) -> Self {
        Self::starter(hull, "Test", "Test")
    }

    /// From the template of a starter hull, with one text replaced by another.
    pub fn starter(hull: &str, from: &str, to: &str) -> Self {
        let text = boat::template(hull, "Test").expect("a starter hull");
        assert!(text.contains(from), "the template has no {from}");
        Self::with_boat(&text.replacen(from, to, 1))
    }

    pub fn path(&self) -> &Path {
        self.dir.path()
    }

    pub fn write(&self, name: &str, bytes: &[u8]) {
        fs::write(self.path().join(name), bytes).expect("a file in a temporary folder");
    }

    /// Every file with its content, so that nothing can change unseen.
    pub fn content(&self) -> Vec<(PathBuf, Vec<u8>)> {
        let entries = fs::read_dir(self.path()).expect("a readable folder");
        let mut all: Vec<(PathBuf, Vec<u8>)> = entries
            .map(|entry| entry.expect("an entry").path())
            .map(|path| {
                let small = fs::metadata(&path).is_ok_and(|m| m.is_file() && m.len() < 1 << 24);
                let bytes = small.then(|| fs::read(&path).expect("a readable file"));
                (path, bytes.unwrap_or_default())
            })
            .collect();
        all.sort();
        all
    }

    /// Runs the program with the folder put in place of `@`.
    pub fn run(&self, arguments: &[&str]) -> Said {
        let here = self.path().to_str().expect("a plain path");
        let put: Vec<String> = arguments.iter().map(|a| a.replace('@', here)).collect();
        let put: Vec<&str> = put.iter().map(String::as_str).collect();
        run(&put)
    }

    /// Checks the boat and expects it to be refused: status 2, nothing on standard output, nothing
    /// written, no panic, and each of `wanted` in the message.
    pub fn refused(&self, wanted: &[&str]) {
        for command in ["check", "report", "hull"] {
            let before = self.content();
            let said = self.run(&[command, "@"]);
            if command == "hull" && said.code == 0 {
                // It asks less of a boat than the others.
                continue;
            }
            said.is_refusal(wanted);
            assert_eq!(before, self.content(), "{command} wrote something");
        }
    }
}

impl Said {
    pub fn is_refusal(&self, wanted: &[&str]) {
        assert_eq!(self.code, 2, "{}{}", self.out, self.err);
        assert_eq!(self.out, "");
        assert!(!self.err.contains("panicked"), "{}", self.err);
        // Where lines break hangs on how long the folder's name is; the bar leads on a broken line.
        let words = self.err.split_whitespace().filter(|w| *w != "|");
        let flat = words.collect::<Vec<_>>().join(" ");
        for word in wanted {
            assert!(flat.contains(word), "no `{word}` in:\n{}", self.err);
        }
    }
}

pub fn run(arguments: &[&str]) -> Said {
    let output = Command::new(PROGRAM).args(arguments).output();
    let output = output.expect("it runs");
    said(&output)
}

pub fn said(output: &Output) -> Said {
    Said {
        code: output.status.code().expect("it ended by itself"),
        out: String::from_utf8(output.stdout.clone()).expect("text"),
        err: String::from_utf8(output.stderr.clone()).expect("text"),
    }
}

/// A demonstration boat of the repository.
pub fn example(name: &str) -> String {
    format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"))
}

/// The hull of a demonstration boat.
pub fn sound_hull() -> Vec<u8> {
    fs::read(example("millrace/millrace.stl")).expect("the demonstration hull")
}
