//! Has the linker leave out the names of functions, a fifth of the program: cargo forgets `strip` for packages whose
//! `opt-level` is named in the profile (cargo 1.95).

use std::env;

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    let is = |name: &str, value: &str| env::var(name).is_ok_and(|said| said == value);
    if is("CARGO_CFG_TARGET_OS", "linux") && is("PROFILE", "release") {
        println!("cargo::rustc-link-arg-bins=-Wl,--strip-all");
    }
}
