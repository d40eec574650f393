//! Questions the command line answers already, put to it as a process of its own: it can be stopped
//! at any moment, and what it uses is given back. Its answers are described in `docs/json.md`.

use std::io::{BufRead as _, Read as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

use crate::app::App;
use crate::desk::Desk;
use crate::error::{Answer, ApiError};
use crate::jobs::Job;
use crate::routes::boat::Of;

/// Longer answers are cut off.
const MAX_ANSWER_BYTES: u64 = 256 << 20;
/// How often a running process is looked at.
const LOOK: Duration = Duration::from_millis(25);

/// Runs `skimwright` with `arguments` in `folder` and gives back its JSON.
///
/// # Errors
/// [`ApiError`] with what it said on standard error, or when it was stopped.
pub fn run(
    app: &App,
    folder: &Path,
    arguments: &[String],
    wanted: &dyn Fn() -> bool,
) -> Answer<serde_json::Value> {
    run_telling(app, folder, arguments, wanted, None)
}

/// The same for a job, which is told how far it is and may stop it.
///
/// # Errors
/// As [`run`].
pub fn run_for(
    app: &App,
    folder: &Path,
    arguments: &[String],
    job: &Arc<Job>,
) -> Answer<serde_json::Value> {
    run_telling(app, folder, arguments, &|| job.wanted(), Some(job.clone()))
}

fn run_telling(
    app: &App,
    folder: &Path,
    arguments: &[String],
    wanted: &dyn Fn() -> bool,
    job: Option<Arc<Job>>,
) -> Answer<serde_json::Value> {
    let mut child = Command::new(&app.config.program)
        .args(arguments)
        .current_dir(folder)
        .env("NO_COLOR", "1")
        .env("SKIMWRIGHT_PROGRESS", "1")
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(|e| ApiError::conflict(format!("the program cannot be started again: {e}"), ""))?;
    let answer = gather(child.stdout.take());
    let said = listen(child.stderr.take(), job);
    let status = loop {
        if !wanted() {
            let _ = child.kill();
            let _ = child.wait();
            return Err(crate::studies::given_up());
        }
        match child.try_wait() {
            Ok(Some(status)) => break status,
            Ok(None) => std::thread::sleep(LOOK),
            Err(_) => return Err(ApiError::bug()),
        }
    };
    let answer = answer.join().unwrap_or_default();
    let said = said.join().unwrap_or_default();
    if !matches!(status.code(), Some(0 | 1)) {
        return Err(refused(&said));
    }
    serde_json::from_slice(&answer).map_err(|_| ApiError::bug())
}

fn gather<R: std::io::Read + Send + 'static>(from: Option<R>) -> std::thread::JoinHandle<Vec<u8>> {
    std::thread::spawn(move || {
        let mut bytes = Vec::new();
        if let Some(from) = from {
            let _ = from.take(MAX_ANSWER_BYTES).read_to_end(&mut bytes);
        }
        bytes
    })
}

/// What it says on standard error, less the lines on how far it is, which go to the job.
fn listen<R: std::io::Read + Send + 'static>(
    from: Option<R>,
    job: Option<Arc<Job>>,
) -> std::thread::JoinHandle<String> {
    std::thread::spawn(move || {
        let mut said = String::new();
        let Some(from) = from else { return said };
        let mut lines = std::io::BufReader::new(from.take(MAX_ANSWER_BYTES));
        let mut line = Vec::new();
        let mut doing = "working".to_owned();
        let tell = |doing: &str, part| {
            if let Some(job) = &job {
                job.step(doing, part);
            }
        };
        while lines.read_until(b'\n', &mut line).is_ok_and(|n| n > 0) {
            let text = String::from_utf8_lossy(&line).into_owned();
            line.clear();
            if let Some(what) = text.strip_prefix("doing: ") {
                doing = what.trim().to_owned();
                tell(&doing, None);
            } else if let Some(part) = text.strip_prefix("part: ") {
                tell(&doing, part.trim().parse().ok());
            } else {
                said.push_str(&text);
            }
        }
        said
    })
}

/// What was said, with the last `help:` line as the hint.
fn refused(said: &str) -> ApiError {
    let plain: Vec<&str> = said
        .lines()
        .map(str::trim)
        .filter(|l| !l.is_empty())
        .collect();
    let (hints, lines): (Vec<&str>, Vec<&str>) =
        plain.into_iter().partition(|l| l.starts_with("help:"));
    let hint = hints
        .last()
        .map_or("", |l| l.trim_start_matches("help:").trim());
    let message = lines.join("\n");
    if message.is_empty() {
        return ApiError::bug();
    }
    ApiError::unusable(message.trim_start_matches("x ").to_owned(), hint)
}

/// The boat folder itself, or a scratch copy of it with what is tried out.
///
/// # Errors
/// [`ApiError`] when the copy cannot be made.
pub fn with_folder<T>(
    app: &App,
    desk: &Desk,
    of: Of,
    act: impl FnOnce(&Path) -> Answer<T>,
) -> Answer<T> {
    let look = desk.look();
    if of == Of::Saved || look.draft == look.saved {
        return act(&desk.folder);
    }
    let home = &app.config.state_folder;
    let refused = |e: std::io::Error| workshop::Fault::system("make a copy in", home, &e);
    std::fs::create_dir_all(home).map_err(refused)?;
    let scratch = tempfile::tempdir_in(home).map_err(refused)?;
    let (boat, _) = boat::load(&look.draft, "boat.toml")?;
    let mut names = vec![workshop::folder::LEARNED.to_owned()];
    if let boat::HullSource::Mesh(files) = &boat.hull.source {
        names.extend(files.iter().map(|f| f.path.clone()));
    }
    for name in names {
        let (from, to) = (desk.folder.join(&name), scratch.path().join(&name));
        if from.is_file() {
            let inside = workshop::folder::inside(&desk.folder, &name)?;
            if let Some(parent) = to.parent() {
                std::fs::create_dir_all(parent).map_err(refused)?;
            }
            std::fs::copy(inside, to).map_err(refused)?;
        }
    }
    std::fs::write(scratch.path().join("boat.toml"), &look.draft).map_err(refused)?;
    act(scratch.path())
}
