//! The colours of states in text, beside word and sign: never the only signal.

use advice::Standing;
use anstyle::{AnsiColor, Style};

/// Of a state.
pub fn of(standing: Standing) -> Style {
    let colour = match standing {
        Standing::Stop => AnsiColor::Red,
        Standing::Watch => AnsiColor::Yellow,
        Standing::Unsure => AnsiColor::Magenta,
        Standing::Good => AnsiColor::Cyan,
    };
    Style::new().fg_color(Some(colour.into())).bold()
}

/// Everything that these put into a text.
pub fn written() -> Vec<String> {
    let each = Standing::ALL.into_iter().map(of);
    each.flat_map(|style| [format!("{style}"), format!("{style:#}")])
        .collect()
}
