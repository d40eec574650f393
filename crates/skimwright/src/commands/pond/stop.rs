//! Ctrl-C stops the counting and keeps what was counted; a second one ends the program.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// True from the first Ctrl-C on. Where no handler can be set, Ctrl-C ends the program at once, as ever.
pub fn on_interrupt() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    let asked = stop.clone();
    let _ = ctrlc::set_handler(move || {
        if asked.swap(true, Ordering::Relaxed) {
            std::process::exit(130);
        }
    });
    stop
}
