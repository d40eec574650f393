//! The page: as it was built in `web/`, or else built here.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};
use std::{env, process::Command};

use crate::node;

const WEB: &str = "../../web";
const DIST: &str = "../../web/dist";
const VITE: &str = "node_modules/vite/bin/vite.js";
/// `no` leaves it out where nobody has built it in `web/`.
const SWITCH: &str = "SKIMWRIGHT_PAGE";
/// What it is made of, in `web/`.
const SOURCES: [&str; 6] = [
    "src",
    "public",
    "index.html",
    "package-lock.json",
    "tsconfig.json",
    "vite.config.ts",
];

/// Where the built page is, if there is one.
pub fn folder(out: &Path) -> Option<PathBuf> {
    println!("cargo::rerun-if-env-changed={SWITCH}");
    watch_for_one_built_later();
    if Path::new(DIST).join("index.html").exists() {
        return Some(DIST.into());
    }
    if env::var_os(SWITCH).is_some_and(|said| said == "no") {
        return None;
    }
    for source in SOURCES {
        println!("cargo::rerun-if-changed={WEB}/{source}");
    }
    // Not into `web/dist`: what is newer than this build would be taken for a change by the next.
    let page = out.join("page");
    match build(&page) {
        Ok(()) => Some(page),
        Err(why) => {
            println!(
                "cargo::warning=the page is left out, everything else works: {why}. To have it, run \
                 `npm ci && npm run build` in web/ with Node {} or later, and build again",
                node::WANTED
            );
            None
        }
    }
}

/// A folder that is missing would count as changed at every build, and one that is made now at the next.
fn watch_for_one_built_later() {
    let dist = Path::new(DIST);
    if !dist.exists() && fs::create_dir_all(dist).is_ok() {
        let long_ago = SystemTime::UNIX_EPOCH + Duration::from_secs(86_400);
        let _ = open_folder(dist).and_then(|folder| folder.set_modified(long_ago));
    }
    println!("cargo::rerun-if-changed={DIST}");
}

#[cfg(not(windows))]
fn open_folder(folder: &Path) -> io::Result<File> {
    OpenOptions::new().read(true).open(folder)
}

#[cfg(windows)]
fn open_folder(folder: &Path) -> io::Result<File> {
    use std::os::windows::fs::OpenOptionsExt as _;
    // Without this flag (FILE_FLAG_BACKUP_SEMANTICS) Windows opens no folder.
    OpenOptions::new()
        .write(true)
        .custom_flags(0x0200_0000)
        .open(folder)
}

fn build(into: &Path) -> Result<(), String> {
    node::is_there()?;
    if !is_installed() {
        let mut npm = Command::new(if cfg!(windows) { "npm.cmd" } else { "npm" });
        npm.args(["ci", "--include=dev", "--ignore-scripts", "--no-audit"])
            .args(["--no-fund", "--no-update-notifier", "--fetch-retries=1"]);
        node::run(npm.current_dir(WEB), "npm ci")?;
    }
    let mut vite = Command::new("node");
    vite.args([VITE, "build", "--logLevel", "warn", "--emptyOutDir"])
        .arg("--outDir")
        .arg(into)
        .env("NODE_ENV", "production");
    node::run(vite.current_dir(WEB), "vite build")
}

/// Whether npm has put there what the lock names.
fn is_installed() -> bool {
    let changed = |file: &str| fs::metadata(Path::new(WEB).join(file))?.modified();
    let lock = changed("package-lock.json");
    let installed = changed("node_modules/.package-lock.json");
    changed(VITE).is_ok() && matches!((lock, installed), (Ok(lock), Ok(at)) if at >= lock)
}
