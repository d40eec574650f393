//! Entry points for fuzz targets; any bytes are fine.

/// Reads, draws and edits whatever `data` says; whether it was a boat. Must not panic.
pub fn fuzz_boat_file(data: &[u8]) -> bool {
    let text = String::from_utf8_lossy(data);
    for kind in crate::Kind::ALL {
        drop(crate::parse_quantity(*kind, &text));
    }
    drop(crate::edit(&text, &[crate::Step::Key("name")], "fuzz"));
    match crate::load(&text, "fuzz.toml") {
        Ok((mut boat, _)) => {
            boat.visit_measures(&mut |_, measure| {
                assert!(measure.value.is_finite() && measure.spread >= 0.0);
            });
            true
        }
        Err(error) => {
            for problem in &error.problems {
                assert!(text.get(problem.span.clone()).is_some(), "{problem:?}");
            }
            let handler = miette::NarratableReportHandler::new();
            let mut out = String::new();
            handler
                .render_report(&mut out, &error)
                .expect("rendering into a string");
            false
        }
    }
}
