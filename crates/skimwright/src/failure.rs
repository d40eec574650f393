//! What is shown when the input is at fault.

use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, ThemeCharacters, ThemeStyles};
use std::fmt;
use std::process::ExitCode;

pub use workshop::shown;

use crate::output;

/// Exit status for input at fault.
const AT_FAULT: u8 = 2;

/// Why a command could not be carried out.
#[derive(Debug)]
pub enum Failure {
    /// The reader went away: nothing to say and nobody to say it to.
    NobodyListens,
    /// With everything the builder needs to put it right.
    AtFault(Box<dyn Diagnostic + Send + Sync>),
}

/// A plain fault with a hint.
#[derive(Debug)]
pub struct Fault {
    what: String,
    hint: Option<String>,
}

impl Failure {
    /// A fault without a place in a text.
    pub fn new(what: impl Into<String>, hint: impl Into<String>) -> Self {
        let hint = Some(hint.into()).filter(|h| !h.is_empty());
        Self::AtFault(Box::new(Fault {
            what: what.into(),
            hint,
        }))
    }

    /// Draws it on standard error.
    pub fn show(&self) -> ExitCode {
        let Self::AtFault(diagnostic) = self else {
            return ExitCode::SUCCESS;
        };
        draw(diagnostic.as_ref());
        ExitCode::from(AT_FAULT)
    }
}

/// Draws it on standard error.
pub fn draw(diagnostic: &dyn Diagnostic) {
    output::draw(|coloured| {
        let mut text = String::new();
        match handler(coloured).render_report(&mut text, diagnostic) {
            Ok(()) => text,
            Err(_) => format!("{diagnostic}\n"),
        }
    });
}

/// Line drawing stays plain so that it can be pasted anywhere.
fn handler(coloured: bool) -> GraphicalReportHandler {
    let styles = match coloured {
        true => ThemeStyles::ansi(),
        false => ThemeStyles::none(),
    };
    let theme = GraphicalTheme {
        characters: ThemeCharacters::ascii(),
        styles,
    };
    GraphicalReportHandler::new_themed(theme)
        .with_links(false)
        .with_width(100)
}

impl<D: Diagnostic + Send + Sync + 'static> From<D> for Failure {
    fn from(diagnostic: D) -> Self {
        Self::AtFault(Box::new(diagnostic))
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.what)
    }
}

impl std::error::Error for Fault {}

impl Diagnostic for Fault {
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.hint
            .as_ref()
            .map(|hint| Box::new(hint) as Box<dyn fmt::Display>)
    }
}
