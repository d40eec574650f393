//! What the build script makes of Node and of what it says.

#[allow(dead_code)]
#[path = "../build/node.rs"]
mod node;

use node::{WANTED, telling, version};

#[test]
fn versions_are_compared_as_numbers() {
    for new in ["v20.19.0", "v20.100.1", "v100.0.0"] {
        assert!(version(new) >= version(WANTED), "{new}");
    }
    for old in ["v20.9.0", "v18.20.4", "", "node", "v8"] {
        assert!(version(old) < version(WANTED), "{old}");
    }
}

#[test]
fn one_line_of_what_npm_said_is_told() {
    let said = "npm warn old lock\n\nnpm error code ENOTFOUND\nnpm error a log is kept\n";
    assert_eq!(telling(said), "npm error code ENOTFOUND");
    assert_eq!(telling("first\nlast\n\n"), "last");
    assert_eq!(
        telling("\u{1b}[31mError:\u{1b}[0m no\r\n"),
        "[31mError:[0m no"
    );
    assert_eq!(telling(""), "it said nothing");
}
