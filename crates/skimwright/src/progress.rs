//! What is being done, for a person waiting at a terminal, or for the page that started the program.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::time::Duration;

use workshop::{Remark, Watch};

use crate::failure::draw;
use crate::output;

/// Shown only to a terminal, and only when the work takes more than a second.
pub struct Progress {
    bar: ProgressBar,
    /// Hundredths told to the page, where it asked to be told.
    told: Option<AtomicU32>,
    /// True once nobody wants to wait any longer.
    stop: Arc<AtomicBool>,
}

const PATIENCE: Duration = Duration::from_secs(1);
/// Set by the page's server: steps and parts done are then lines of standard error.
const ASKED: &str = "SKIMWRIGHT_PROGRESS";

impl Progress {
    /// Nothing is drawn yet.
    pub fn new() -> Self {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template("{spinner} {msg}{prefix} ({elapsed})") {
            bar.set_style(style);
        }
        if output::person_at_stderr() {
            show_after(PATIENCE, &bar);
        }
        Self {
            bar,
            told: std::env::var_os(ASKED).map(|_| AtomicU32::new(0)),
            stop: Arc::default(),
        }
    }

    /// Ctrl-C stops the work and keeps what was done; a second one ends the program. Where no handler can be set,
    /// Ctrl-C ends the program at once, as ever.
    pub fn until_interrupted(self) -> Self {
        let asked = self.stop.clone();
        let _ = ctrlc::set_handler(move || {
            if asked.swap(true, Ordering::Relaxed) {
                std::process::exit(130);
            }
        });
        self
    }

    /// Says what is being done now.
    pub fn step(&self, what: &'static str) {
        if self.told.is_some() {
            output::warn(&format!("doing: {what}\n"));
        }
        self.bar.set_message(what);
        self.bar.set_prefix("");
    }

    /// Says which part of it is done, 0 to 1; from any thread.
    pub fn part(&self, done: f64) {
        let hundredths = (done * 100.0) as u32;
        if let Some(told) = &self.told
            && told.swap(hundredths, Ordering::Relaxed) != hundredths
        {
            output::warn(&format!("part: {done:.2}\n"));
        }
        self.bar.set_position(u64::from(hundredths));
        self.bar.set_prefix(format!(", {hundredths} %"));
    }
}

/// Draws it from then on, unless the work is done: one long step shows as well as many short ones.
fn show_after(patience: Duration, bar: &ProgressBar) {
    let bar = bar.downgrade();
    std::thread::spawn(move || {
        std::thread::sleep(patience);
        if let Some(bar) = bar.upgrade().filter(|bar| !bar.is_finished()) {
            bar.set_draw_target(ProgressDrawTarget::stderr());
            bar.enable_steady_tick(Duration::from_millis(120));
        }
    });
}

impl Watch for Progress {
    fn step(&self, what: &'static str) {
        Self::step(self, what);
    }

    fn part(&self, done: f64) {
        Self::part(self, done);
    }

    fn wanted(&self) -> bool {
        !self.stop.load(Ordering::Relaxed)
    }

    fn remark(&self, remark: &Remark) {
        match remark {
            Remark::Text(odd) => draw(odd),
            Remark::Plain(words) => output::warn(&format!("{words}\n")),
            Remark::Without { what, fault } => {
                output::warn(&format!("{what}\n"));
                draw(fault);
            }
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
