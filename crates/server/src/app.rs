//! What one start of the server holds.

use std::path::PathBuf;
use std::sync::atomic::{AtomicU16, Ordering};
use std::sync::{Arc, Mutex, RwLock};

use crate::desk::Desk;
use crate::error::{Answer, ApiError};
use crate::guard::Guard;
use crate::jobs::Jobs;
use crate::studies::Studies;
use crate::uploads::Uploads;

/// How it was asked to run.
#[derive(Debug, Clone)]
pub struct Config {
    /// Port on the loopback address; 0 takes a free one.
    pub port: u16,
    /// Listen on the local network too.
    pub lan: bool,
    /// Change no file.
    pub read_only: bool,
    /// Where new boats are made.
    pub boats_folder: PathBuf,
    /// Where what-ifs are kept for folders that cannot be written.
    pub state_folder: PathBuf,
    /// The program itself, to put questions to as a process.
    pub program: PathBuf,
    /// The boat to open.
    pub boat: Option<PathBuf>,
}

/// One start of the server.
pub struct App {
    /// How it was asked to run.
    pub config: Config,
    /// Who may talk to it.
    pub guard: Guard,
    /// Studies worked out so far.
    pub studies: Studies,
    /// Work going on.
    pub jobs: Jobs,
    /// Recordings on their way in.
    pub uploads: Uploads,
    port: AtomicU16,
    desk: RwLock<Option<Arc<Desk>>>,
    /// Opening a boat is one at a time.
    pub opening: Mutex<()>,
}

impl App {
    /// Nothing open yet.
    ///
    /// # Errors
    /// When the system has no randomness to give.
    pub fn new(config: Config) -> Result<Self, getrandom::Error> {
        Ok(Self {
            guard: Guard::new(config.lan)?,
            studies: Studies::default(),
            jobs: Jobs::default(),
            uploads: Uploads::default(),
            port: AtomicU16::new(config.port),
            desk: RwLock::default(),
            opening: Mutex::default(),
            config,
        })
    }

    /// Opens the boat it was asked to.
    ///
    /// # Errors
    /// [`ApiError`] when there is no such boat.
    pub fn open_boat(&self) -> Answer<()> {
        if let Some(path) = &self.config.boat {
            let desk = Desk::open(path, &self.config, None)?;
            self.put(Arc::new(desk));
        }
        Ok(())
    }

    /// The port served.
    pub fn port(&self) -> u16 {
        self.port.load(Ordering::Relaxed)
    }

    /// Once it is known.
    pub fn set_port(&self, port: u16) {
        self.port.store(port, Ordering::Relaxed);
    }

    /// The boat on the desk.
    ///
    /// # Errors
    /// [`ApiError`] when none is open.
    pub fn desk(&self) -> Answer<Arc<Desk>> {
        self.try_desk().ok_or_else(|| {
            ApiError::missing(
                "no boat is open",
                "open a demonstration boat, start from a starter hull or drop a mesh",
            )
        })
    }

    /// The boat on the desk, if any.
    pub fn try_desk(&self) -> Option<Arc<Desk>> {
        self.desk.read().unwrap_or_else(|e| e.into_inner()).clone()
    }

    /// Puts another boat on the desk.
    pub fn put(&self, desk: Arc<Desk>) {
        *self.desk.write().unwrap_or_else(|e| e.into_inner()) = Some(desk);
    }
}

/// Runs `work` where it holds up nobody.
///
/// # Errors
/// Its own; [`ApiError::bug`] when it panicked.
pub async fn aside<T: Send + 'static>(
    work: impl FnOnce() -> Answer<T> + Send + 'static,
) -> Answer<T> {
    tokio::task::spawn_blocking(work)
        .await
        .unwrap_or_else(|_| Err(ApiError::bug()))
}
