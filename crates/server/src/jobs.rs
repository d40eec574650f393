//! Long work: started, watched, stopped.

use serde::{Serialize, Serializer};
use std::collections::HashMap;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard};
use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};
use utoipa::ToSchema;

use crate::cache::Cache;
use crate::error::{Answer, ApiError, Refusal};

/// Bytes of results of finished jobs kept.
const RESULT_BYTES: usize = 64 << 20;
/// A finished job without its result.
const JOB_BYTES: usize = 64 << 10;
/// Jobs going on at once.
const MOST: usize = 8;

/// How a job stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum Stage {
    /// At work.
    Running,
    /// Its result is there.
    Done,
    /// It could not be done; `refusal` says why.
    Failed,
    /// Somebody stopped it.
    Stopped,
}

/// A job as the page sees it.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct JobView {
    /// Names it.
    pub id: u64,
    /// What it works out.
    pub kind: String,
    /// How it stands.
    pub stage: Stage,
    /// What is being done now, in words.
    pub doing: String,
    /// Part done, 0 to 1; nothing where it cannot be told.
    pub part: Option<f64>,
    /// Why it failed.
    pub refusal: Option<Refusal>,
    /// What should be known beside the result.
    pub remarks: Vec<String>,
    /// What came of it; of one that was stopped, what it had counted so far.
    #[schema(value_type = Option<workshop::Answer>)]
    #[serde(serialize_with = "shared")]
    pub result: Option<Arc<workshop::Answer>>,
}

fn shared<S: Serializer>(
    result: &Option<Arc<workshop::Answer>>,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    result.as_deref().serialize(serializer)
}

/// One job.
pub struct Job {
    view: watch::Sender<JobView>,
    stopped: AtomicBool,
}

/// All of them.
#[derive(Default)]
pub struct Jobs {
    next: AtomicU64,
    all: Arc<All>,
    room: Room,
}

struct All {
    running: Mutex<HashMap<u64, Arc<Job>>>,
    finished: Cache<u64, Arc<Job>>,
}

impl Default for All {
    fn default() -> Self {
        Self {
            running: Mutex::default(),
            finished: Cache::new(RESULT_BYTES),
        }
    }
}

impl All {
    fn running(&self) -> MutexGuard<'_, HashMap<u64, Arc<Job>>> {
        self.running.lock().unwrap_or_else(|e| e.into_inner())
    }

    /// A job that ended, kept as long as there is room.
    fn finish(&self, id: u64, job: Arc<Job>) {
        let bytes = job.now().result.map_or(0, |result| written(&result));
        self.finished.get_or(id, JOB_BYTES + bytes, || job);
        self.running().remove(&id);
    }
}

/// Bytes of an answer as it is sent, which is about what it takes in memory: numbers take less there, lists more.
fn written(answer: &workshop::Answer) -> usize {
    struct Counted(usize);
    impl std::io::Write for Counted {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.0 += bytes.len();
            Ok(bytes.len())
        }

        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let mut counted = Counted(0);
    let _ = serde_json::to_writer(&mut counted, answer);
    counted.0
}

/// Room for long work, as a job or as a request that waits for it.
struct Room(Arc<Semaphore>);

impl Default for Room {
    fn default() -> Self {
        Self(Arc::new(Semaphore::new(MOST)))
    }
}

impl Job {
    /// Says what is being done.
    pub fn step(&self, doing: &str, part: Option<f64>) {
        self.view.send_modify(|view| {
            view.doing = doing.to_owned();
            view.part = part;
        });
    }

    /// Whether the result is still wanted.
    pub fn wanted(&self) -> bool {
        !self.stopped.load(Ordering::Relaxed)
    }

    /// As it is now.
    pub fn now(&self) -> JobView {
        self.view.borrow().clone()
    }

    /// Hears of every change.
    pub fn watch(&self) -> watch::Receiver<JobView> {
        self.view.subscribe()
    }

    /// Something that should be known beside the result.
    pub fn remark(&self, what: &str) {
        self.view
            .send_modify(|view| view.remarks.push(what.to_owned()));
    }

    /// Asks it to stop at the next chance.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
        self.view.send_modify(|view| {
            if view.stage == Stage::Running {
                view.doing = "stopping".to_owned();
            }
        });
    }

    fn end(&self, outcome: Answer<workshop::Answer>) {
        let stopped = !self.wanted();
        self.view.send_modify(|view| match outcome {
            Ok(result) => {
                view.stage = match stopped {
                    true => Stage::Stopped,
                    false => Stage::Done,
                };
                view.part = Some(1.0);
                view.result = Some(Arc::new(result));
            }
            Err(_) if stopped => view.stage = Stage::Stopped,
            Err(error) => {
                view.stage = Stage::Failed;
                view.refusal = Some(error.refusal().clone());
            }
        });
    }
}

impl Jobs {
    /// Starts `work` aside.
    ///
    /// # Errors
    /// [`ApiError`] when too many are going on.
    pub fn start(
        &self,
        kind: &str,
        work: impl FnOnce(&Arc<Job>) -> Answer<workshop::Answer> + Send + 'static,
    ) -> Answer<JobView> {
        let room = self.room()?;
        let id = self.next.fetch_add(1, Ordering::Relaxed) + 1;
        let view = JobView {
            id,
            kind: kind.to_owned(),
            stage: Stage::Running,
            doing: "starting".into(),
            part: None,
            refusal: None,
            remarks: Vec::new(),
            result: None,
        };
        let job = Arc::new(Job {
            view: watch::Sender::new(view.clone()),
            stopped: AtomicBool::new(false),
        });
        self.all.running().insert(id, job.clone());
        let all = self.all.clone();
        tokio::task::spawn_blocking(move || {
            let done = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| work(&job)));
            job.end(done.unwrap_or_else(|_| Err(ApiError::bug())));
            all.finish(id, job);
            drop(room);
        });
        Ok(view)
    }

    /// Room for long work, held until it is dropped.
    ///
    /// # Errors
    /// [`ApiError`] when too much is going on.
    pub fn room(&self) -> Answer<OwnedSemaphorePermit> {
        self.room.0.clone().try_acquire_owned().map_err(|_| {
            ApiError::new(
                axum::http::StatusCode::TOO_MANY_REQUESTS,
                format!("{MOST} jobs are going on already"),
                "stop one, or wait for it",
            )
        })
    }

    /// All that are kept, by number.
    pub fn list(&self) -> Vec<JobView> {
        let running: Vec<_> = self.all.running().values().cloned().collect();
        let jobs = running.into_iter().chain(self.all.finished.all());
        let mut views: Vec<JobView> = jobs.map(|job| job.now()).collect();
        views.sort_by_key(|view| view.id);
        // One that ended just now may be among both.
        views.dedup_by_key(|view| view.id);
        views
    }

    /// Stops every job, for the end.
    pub fn stop_all(&self) {
        self.all.running().values().for_each(|job| job.stop());
    }

    /// The job of that number.
    ///
    /// # Errors
    /// [`ApiError`] when there is none.
    pub fn get(&self, id: u64) -> Answer<Arc<Job>> {
        let running = self.all.running().get(&id).cloned();
        let job = running.or_else(|| self.all.finished.get(&id));
        job.ok_or_else(|| {
            ApiError::missing(
                format!("there is no job {id}"),
                "it may have ended long ago",
            )
        })
    }
}
