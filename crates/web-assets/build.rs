//! Tells cargo what is embedded: without this a page built after the program is not taken in.

const PAGE: &str = "../../web/dist";

fn main() {
    // A folder that is missing would count as changed at every build; where none can be made, that is what happens.
    let _ = std::fs::create_dir_all(PAGE);
    println!("cargo::rerun-if-changed={PAGE}");
    println!("cargo::rerun-if-changed=../../examples");
}
