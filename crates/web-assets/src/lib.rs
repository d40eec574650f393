//! The page and the demonstration boats, packed into the program.
//!
//! The page is the one built by `npm run build` in `web/`, or else built by this crate's own build script where Node
//! is: `build/page.rs`. Where there is none, there is a plain page that says how to have it.

use flate2::read::GzDecoder;
use std::io::Read as _;

include!(concat!(env!("OUT_DIR"), "/embedded.rs"));

/// A file as it is kept: small.
struct Packed {
    name: &'static str,
    gzip: &'static [u8],
    hash: &'static str,
}

impl Packed {
    fn bytes(&self) -> Vec<u8> {
        let mut bytes = Vec::new();
        GzDecoder::new(self.gzip)
            .read_to_end(&mut bytes)
            .expect("packed by the build script");
        bytes
    }
}

/// Names of the demonstration boats, in order.
pub fn demos() -> Vec<String> {
    let files = DEMOS.iter();
    let files = files.filter_map(|f| f.name.strip_suffix("/boat.toml").map(str::to_owned));
    let mut names: Vec<String> = files.collect();
    names.sort();
    names
}

/// A file's name inside its folder, and its bytes.
pub type File = (&'static str, Vec<u8>);

/// Every file of a demonstration boat, its outings with it.
pub fn demo_with_outings(name: &str) -> Vec<File> {
    of(name, |_| true)
}

/// The files of a demonstration boat itself: boat file and hull.
pub fn demo(name: &str) -> Vec<File> {
    of(name, |file| {
        file == "boat.toml" || (file.ends_with(".stl") && !file.contains('/'))
    })
}

/// What a demonstration boat is: the comment at the top of its boat file.
pub fn demo_says(name: &str) -> String {
    let file = of(name, |file| file == "boat.toml").pop();
    let text = file.map_or_else(String::new, |(_, bytes)| {
        String::from_utf8_lossy(&bytes).into_owned()
    });
    let lines = text.lines().take_while(|line| line.starts_with('#'));
    let plain: Vec<&str> = lines.map(|l| l.trim_start_matches('#').trim()).collect();
    plain.join(" ").trim().to_owned()
}

fn of(name: &str, wanted: impl Fn(&str) -> bool) -> Vec<File> {
    let inside = |file: &'static str| file.strip_prefix(name)?.strip_prefix('/');
    DEMOS
        .iter()
        .filter_map(|file| Some((inside(file.name).filter(|f| wanted(f))?, file.bytes())))
        .collect()
}

/// One file of the page.
pub struct Asset(&'static Packed);

impl Asset {
    /// Its bytes.
    pub fn bytes(&self) -> Vec<u8> {
        self.0.bytes()
    }

    /// Its bytes as most browsers take them: gzip (RFC 1952).
    pub fn gzip(&self) -> &'static [u8] {
        self.0.gzip
    }

    /// Its media type.
    pub fn media_type(&self) -> String {
        let guessed = mime_guess::from_path(self.0.name).first_or_octet_stream();
        guessed.to_string()
    }

    /// Hash of its bytes as an ETag, the same however they are sent and so a weak one (RFC 9110, 8.8.1).
    pub fn etag(&self) -> String {
        format!("W/\"{}\"", self.0.hash)
    }
}

/// The file at `path`, e.g. `index.html`.
pub fn get(path: &str) -> Option<Asset> {
    PAGE.iter().find(|file| file.name == path).map(Asset)
}

/// Whether the page is there.
pub fn is_built() -> bool {
    get("index.html").is_some()
}

/// What to show instead of the page when it has not been built.
pub const MISSING: &str = include_str!("missing.html");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_missing_page_says_how_to_build_it() {
        assert!(MISSING.contains("npm ci"));
        assert!(MISSING.contains("npm run build"));
    }

    #[test]
    fn no_file_outside_the_page_is_served() {
        assert!(get("../package.json").is_none());
        assert!(get("/etc/passwd").is_none());
    }

    #[test]
    fn each_demonstration_boat_has_its_file_and_its_hull() {
        assert!(demos().contains(&"tadpole".to_owned()));
        for name in demos() {
            let files: Vec<&str> = demo(&name).into_iter().map(|(file, _)| file).collect();
            assert!(files.contains(&"boat.toml"), "{name}");
            assert!(files.iter().any(|f| f.ends_with(".stl")), "{name}");
            assert_eq!(files.len(), 2, "{name}: {files:?}");
            assert!(demo_says(&name).len() > 30, "{name}");
        }
    }

    #[test]
    fn the_practice_boat_has_been_out() {
        let files = demo_with_outings("practice");
        assert!(files.iter().any(|(f, _)| f.ends_with("/outing.toml")));
        assert!(files.iter().any(|(f, _)| f.ends_with("/bank.wav")));
    }

    #[test]
    fn files_come_out_as_they_went_in() {
        let home = std::path::Path::new("../../examples/practice");
        for (name, bytes) in demo_with_outings("practice") {
            let there = std::fs::read(home.join(name)).expect(name);
            assert_eq!(bytes, there, "{name}");
        }
    }

    #[test]
    fn the_page_starts_with_a_document_and_its_scripts_are_there() {
        let Some(start) = get("index.html") else {
            return;
        };
        assert_eq!(start.media_type(), "text/html");
        let text = String::from_utf8(start.bytes()).expect("text");
        let names = text.split('"').filter_map(|word| word.strip_prefix('/'));
        let files: Vec<&str> = names.filter(|name| name.ends_with(".js")).collect();
        assert!(!files.is_empty(), "{text}");
        for name in files {
            let file = get(name).expect(name);
            assert!(file.gzip().len() < file.bytes().len(), "{name}");
        }
    }
}
