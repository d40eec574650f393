//! Sections of `docs/accuracy.md` that the tests write, so that it cannot drift from the code.

use std::fs;
use std::path::Path;

/// Holds a section to `text`, or writes it when `UPDATE_DOCS` is set.
pub fn keep_current(section: &str, text: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/accuracy.md");
    let page = fs::read_to_string(&path).expect("docs/accuracy.md");
    let crate_name = env!("CARGO_PKG_NAME");
    let begin = format!("<!-- {section}: begin, written by the tests of {crate_name} -->\n");
    let end = format!("<!-- {section}: end -->");
    let from = page.find(&begin).expect("the section's first mark") + begin.len();
    let to = from + page[from..].find(&end).expect("the section's last mark");
    if page[from..to] == *text {
        return;
    }
    assert!(
        std::env::var_os("UPDATE_DOCS").is_some(),
        "docs/accuracy.md is stale in `{section}`; run with UPDATE_DOCS=1 to write:\n{text}"
    );
    fs::write(&path, format!("{}{text}{}", &page[..from], &page[to..])).expect("written");
}
