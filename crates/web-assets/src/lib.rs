//! The page as built by `npm run build` in `web/`, embedded in the program.
//!
//! Read from disk in debug builds and embedded in release builds. Building the program never builds
//! the page: without `web/dist` there is a plain page that says how.

use std::borrow::Cow;

#[derive(rust_embed::RustEmbed)]
#[folder = "../../web/dist"]
#[allow_missing = true]
struct Dist;

/// Every file of every demonstration boat.
static DEMOS: &[(&str, &[u8])] = include!(concat!(env!("OUT_DIR"), "/demos.rs"));

/// Names of the demonstration boats, in order.
pub fn demos() -> Vec<String> {
    let files = DEMOS.iter();
    let files = files.filter_map(|(f, _)| f.strip_suffix("/boat.toml").map(str::to_owned));
    let mut names: Vec<String> = files.collect();
    names.sort();
    names
}

/// Every file of a demonstration boat: name inside its folder, and bytes; its outings with it.
pub fn demo_with_outings(name: &str) -> Vec<(&'static str, &'static [u8])> {
    let inside = |file: &'static str| file.strip_prefix(name)?.strip_prefix('/');
    DEMOS
        .iter()
        .filter_map(|(file, bytes)| Some((inside(file)?, *bytes)))
        .collect()
}

/// The files of a demonstration boat itself: boat file and hull.
pub fn demo(name: &str) -> Vec<(&'static str, &'static [u8])> {
    let mut files = demo_with_outings(name);
    files.retain(|(file, _)| {
        *file == "boat.toml" || (file.ends_with(".stl") && !file.contains('/'))
    });
    files
}

/// What a demonstration boat is: the comment at the top of its boat file.
pub fn demo_says(name: &str) -> String {
    let file = demo(name)
        .into_iter()
        .find(|(file, _)| *file == "boat.toml");
    let text = file.map_or_else(String::new, |(_, bytes)| {
        String::from_utf8_lossy(bytes).into_owned()
    });
    let lines = text.lines().take_while(|line| line.starts_with('#'));
    let plain: Vec<&str> = lines.map(|l| l.trim_start_matches('#').trim()).collect();
    plain.join(" ").trim().to_owned()
}

/// One file of the page.
pub struct Asset {
    /// Its bytes.
    pub bytes: Cow<'static, [u8]>,
    /// Its media type.
    pub media_type: String,
    /// Hash of its bytes, quoted as an ETag.
    pub etag: String,
}

/// The file at `path`, e.g. `index.html`.
pub fn get(path: &str) -> Option<Asset> {
    let file = Dist::get(path)?;
    let hash = file.metadata.sha256_hash();
    Some(Asset {
        etag: format!("\"{}\"", hex(&hash[..16])),
        media_type: file.metadata.mimetype().to_owned(),
        bytes: file.data,
    })
}

/// Whether the page has been built.
pub fn is_built() -> bool {
    Dist::get("index.html").is_some()
}

/// What to show instead of the page when it has not been built.
pub const MISSING: &str = include_str!("missing.html");

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

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
    fn bytes_are_named_in_hexadecimal() {
        assert_eq!(hex(&[0, 10, 255]), "000aff");
    }
}
