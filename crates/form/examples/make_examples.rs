//! Makes the hull meshes of the demonstration boats: `cargo run -p form --example make_examples`.
//!
//! Writes a binary STL in millimetres into each folder of `examples/`. The same dimensions give
//! the same bytes.

#[path = "../tests/dims/mod.rs"]
mod dims;

use std::error::Error;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    for (folder, starter) in dims::demonstration() {
        let mesh = form::starter::build(&starter)?;
        let name = folder.rsplit('/').next().unwrap_or(folder);
        let folder = examples.join(folder);
        std::fs::create_dir_all(&folder)?;
        let bytes = form::write::stl(&mesh)?;
        println!(
            "{name}.stl: {} triangles, {:.0} cm3, {} bytes",
            mesh.triangles.len(),
            mesh.signed_volume_m3() * 1e6,
            bytes.len()
        );
        std::fs::write(folder.join(format!("{name}.stl")), bytes)?;
    }
    Ok(())
}
