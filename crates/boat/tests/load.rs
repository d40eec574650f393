//! Boat files read from text: complete, minimal and broken ones.

use boat::{BoatFileError, HullSource, Problem, Severity, load};

fn good(text: &str) -> (boat::Boat, Vec<Problem>) {
    load(text, "boat.toml").unwrap_or_else(|error| panic!("{}", rendered(&error)))
}

fn rendered(error: &BoatFileError) -> String {
    let handler = miette::GraphicalReportHandler::new_themed(miette::GraphicalTheme::none());
    let mut out = String::new();
    handler
        .with_width(100)
        .render_report(&mut out, error)
        .expect("rendering into a string");
    out
}

#[test]
fn templates_load_without_problems() {
    for starter in boat::STARTER_TYPES {
        let text = boat::template(starter, "Night \"Heron\" 2").expect("a known type");
        let (boat, problems) = good(&text);
        assert_eq!(problems, [], "{starter}");
        assert_eq!(boat.name, "Night \"Heron\" 2");
        assert!(matches!(boat.hull.source, HullSource::Starter(_)));
    }
}

#[test]
fn name_and_mesh_are_enough_and_gaps_are_said() {
    let (boat, problems) = good("name = \"Tern\"\n[hull]\nfile = \"tern.stl\"\n");
    assert!(
        problems
            .iter()
            .all(|problem| problem.severity == Severity::Warning)
    );
    assert_eq!(problems.len(), 5);
    assert!(boat.drives.is_empty());
    assert!(boat.hull.print.wall_m.is_assumed());
}
