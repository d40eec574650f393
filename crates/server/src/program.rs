//! Questions put to a child process: it can be stopped at any moment, and what it uses is given back.

use std::path::Path;
use std::sync::Arc;
use workshop::child::{self, Line, Listen, Request};

use crate::app::App;
use crate::error::{Answer, ApiError};
use crate::jobs::Job;

/// Puts a question of the boat in `folder` to the program, for a job: it is told how far it is and may stop it.
///
/// # Errors
/// [`ApiError`] as the program refuses, or when it was stopped before there was an answer.
pub fn put(
    app: &App,
    folder: &Path,
    request: &Request,
    job: &Arc<Job>,
) -> Answer<workshop::Answer> {
    let mut told = Told {
        job,
        doing: "working".to_owned(),
    };
    child::put(&app.config.program, folder, request, &mut told).map_err(ApiError::from)
}

struct Told<'a> {
    job: &'a Arc<Job>,
    doing: String,
}

impl Listen for Told<'_> {
    fn line(&mut self, line: &Line) {
        match line {
            Line::Step(doing) => {
                self.doing.clone_from(doing);
                self.job.step(doing, None);
            }
            Line::Part(part) => self.job.step(&self.doing, Some(*part)),
            Line::Remark(refusal) => self.job.remark(&refusal.message),
            Line::Answer(_) | Line::Refused(_) => {}
        }
    }

    fn wanted(&self) -> bool {
        self.job.wanted()
    }
}
