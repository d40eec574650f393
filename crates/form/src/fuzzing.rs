//! Entry points for fuzzing: whatever the bytes, these return whether they were a hull.

use crate::assemble;

/// Any bytes as an STL file.
pub fn stl(data: &[u8]) -> bool {
    run("fuzz.stl", data)
}

/// Any bytes as a 3MF file.
pub fn threemf(data: &[u8]) -> bool {
    run("fuzz.3mf", data)
}

/// Any bytes as an OBJ file.
pub fn obj(data: &[u8]) -> bool {
    run("fuzz.obj", data)
}

fn run(name: &str, data: &[u8]) -> bool {
    match assemble(&[(name, data)], &[]) {
        Ok(form) => {
            let vertices = &form.envelope.vertices;
            assert!(vertices.iter().all(|v| v.iter().all(|x| x.is_finite())));
            true
        }
        Err(error) => {
            assert!(!error.to_string().is_empty());
            false
        }
    }
}
