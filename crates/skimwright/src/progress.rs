//! What is being done, for a person waiting at a terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::time::{Duration, Instant};

use crate::output;

/// Shown only to a terminal, and only when the work takes more than a second.
pub struct Progress {
    bar: ProgressBar,
    started: Instant,
}

const PATIENCE: Duration = Duration::from_secs(1);

impl Progress {
    /// Nothing is drawn yet.
    pub fn new() -> Self {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template("{spinner} {msg} ({elapsed})") {
            bar.set_style(style);
        }
        Self {
            bar,
            started: Instant::now(),
        }
    }

    /// Says what is being done now.
    pub fn step(&self, what: &'static str) {
        self.bar.set_message(what);
        if output::person_at_stderr() && self.started.elapsed() > PATIENCE {
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
            self.bar.enable_steady_tick(Duration::from_millis(120));
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
