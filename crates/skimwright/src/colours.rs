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

/// Everything that these put into a text, longest first.
pub fn written() -> Vec<String> {
    let each = Standing::ALL.into_iter().map(of);
    let mut all: Vec<String> = each
        .flat_map(|style| [format!("{style}"), format!("{style:#}")])
        .flat_map(|codes| {
            // One style may be written as several codes: each is known by itself.
            let parts: Vec<String> = codes.split_inclusive('m').map(str::to_owned).collect();
            parts
        })
        .collect();
    all.sort_by_key(|code| std::cmp::Reverse(code.len()));
    all.dedup();
    all
}
