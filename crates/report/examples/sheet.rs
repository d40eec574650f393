//! Writes the report of a boat file or of a starter hull:
//! `cargo run -p report --example sheet -- (BOAT.TOML | TYPE) OUT.html`

use std::error::Error;
use std::path::Path;

use boat::HullSource;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [which, out] = arguments.as_slice() else {
        return Err("usage: sheet (BOAT.TOML | TYPE) OUT.html".into());
    };
    let (text, folder) = match boat::template(which, "Demo") {
        Some(text) => (text, Path::new(".")),
        None => {
            let path = Path::new(which);
            let folder = path.parent().unwrap_or(Path::new("."));
            (std::fs::read_to_string(path)?, folder)
        }
    };
    let (boat, _) = boat::load(&text, "boat.toml")?;
    let form = shape(&boat, folder)?;
    let effort = study::Effort::default();
    let study = study::study(boat, form, effort, &|step| eprintln!("{step}"))?;
    let findings = advice::findings(&study);
    let page = report::html(&report::Subject::of(&study, &findings));
    std::fs::write(out, page)?;
    Ok(())
}

fn shape(boat: &boat::Boat, folder: &Path) -> Result<form::Form, Box<dyn Error>> {
    let files = match &boat.hull.source {
        HullSource::Starter(starter) => {
            return Ok(form::Form::from_mesh(form::starter::build(starter)?));
        }
        HullSource::Mesh(files) => files,
    };
    let read: Vec<(&str, Vec<u8>)> = files
        .iter()
        .map(|f| Ok((f.path.as_str(), std::fs::read(folder.join(&f.path))?)))
        .collect::<Result<_, std::io::Error>>()?;
    let bytes: Vec<(&str, &[u8])> = read.iter().map(|(n, b)| (*n, b.as_slice())).collect();
    Ok(form::assemble(&bytes, files)?)
}
