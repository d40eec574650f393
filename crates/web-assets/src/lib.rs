//! The page as built by `npm run build` in `web/`, embedded in the program.
//!
//! Read from disk in debug builds and embedded in release builds. Building the program never builds
//! the page: without `web/dist` there is a plain page that says how.

use std::borrow::Cow;

#[derive(rust_embed::RustEmbed)]
#[folder = "../../web/dist"]
#[allow_missing = true]
struct Dist;

#[derive(rust_embed::RustEmbed)]
#[folder = "../../examples"]
#[include = "*/boat.toml"]
#[include = "*.stl"]
struct Demos;

/// Names of the demonstration boats, in order.
pub fn demos() -> Vec<String> {
    let files = Demos::iter().filter_map(|f| f.strip_suffix("/boat.toml").map(str::to_owned));
    let mut names: Vec<String> = files.collect();
    names.sort();
    names
}

/// Every file of a demonstration boat: name inside its folder, and bytes.
pub fn demo(name: &str) -> Vec<(String, Cow<'static, [u8]>)> {
    let inside = |file: &str| {
        let rest = file.strip_prefix(name)?.strip_prefix('/')?;
        (!rest.contains('/')).then(|| rest.to_owned())
    };
    Demos::iter()
        .filter_map(|file| Some((inside(&file)?, Demos::get(&file)?.data)))
        .collect()
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
            let files: Vec<String> = demo(&name).into_iter().map(|(file, _)| file).collect();
            assert!(files.contains(&"boat.toml".to_owned()), "{name}");
            assert!(files.iter().any(|f| f.ends_with(".stl")), "{name}");
        }
    }

    #[test]
    fn bytes_are_named_in_hexadecimal() {
        assert_eq!(hex(&[0, 10, 255]), "000aff");
    }
}
